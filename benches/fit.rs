//! A fit of one end, as stated and with all doubts: from readings to rate, preload and friction with covariance, residuals and
//! findings; advice; the sheet; Monte Carlo; and 100,000 simulated garages. `benches/python/fit.py` has the ratio to SciPy.

use std::hint::black_box;

use criterion::Criterion;
use wheelrate::Bike;
use wheelrate::demo::PATROL;
use wheelrate::record::End;
use wheelrate::units::UnitSystem;

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let Ok(bike) = Bike::from_toml(PATROL) else { return };
    for end in End::BOTH {
        criterion.bench_function(&format!("fit as stated/{end}"), |bench| {
            bench.iter(|| wheelrate::infer::Study::plain(black_box(&bike), end).map(|study| study.fit()));
        });
        criterion
            .bench_function(&format!("fit with doubts/{end}"), |bench| bench.iter(|| black_box(&bike).fit_end(end)));
        criterion.bench_function(&format!("advise/{end}"), |bench| bench.iter(|| black_box(&bike).advise_end(end)));
    }
    criterion.bench_function("sheet", |bench| bench.iter(|| black_box(&bike).sheet(UnitSystem::Metric)));
    criterion.bench_function("monte carlo, 10,000 draws/rear", |bench| {
        bench.iter(|| black_box(&bike).study(End::Rear).and_then(|study| study.monte_carlo(10_000, 1)));
    });
    let mut garages = criterion.benchmark_group("100,000 garages");
    garages.sample_size(10);
    for end in End::BOTH {
        garages.bench_function(end.name(), |bench| {
            bench.iter(|| black_box(&bike).study(end).and_then(|study| study.rehearse(100_000, 1)))
        });
    }
    garages.finish();
    criterion.final_summary();
}
