//! The whole bike at rest: stances, settling, modes and changes, on a bike whose ends are tabulated and on one that is new; and
//! the curve of the rear end against the mechanism alone.

use std::hint::black_box;

use criterion::Criterion;
use wheelrate::Bike;
use wheelrate::bike::{Adjustment, BikeParts};
use wheelrate::demo::PATROL;
use wheelrate::linkage::LinkageCurve;
use wheelrate::units::{Length, Quantity};
use wheelrate::wheel::Wheel;

/// Places of a curve.
const PLACES: usize = 1_001;

fn main() {
    let (Ok(bike), mut criterion) = (Bike::from_toml(PATROL), Criterion::default().configure_from_args()) else {
        return;
    };
    let rider = &bike.parts().rider_load.clone();
    let mut whole = criterion.benchmark_group("whole bike");
    whole.bench_function("settle", |bench| bench.iter(|| black_box(&bike).whole().settle(rider)));
    whole.bench_function("stances", |bench| bench.iter(|| black_box(&bike).whole().stances()));
    whole.bench_function("modes", |bench| bench.iter(|| black_box(&bike).whole().modes(rider)));
    let change = Adjustment { fork_raised: Some(Length::from_si(0.005)), ..Adjustment::default() };
    whole.bench_function("effect of a change", |bench| {
        bench.iter(|| black_box(&bike).whole().effect_of(&change, rider));
    });
    let parts: &BikeParts = bike.parts();
    whole.bench_function("a new bike", |bench| bench.iter(|| Bike::new(black_box(parts).clone())));
    whole.bench_function("a new bike, settled", |bench| {
        bench.iter(|| Bike::new(black_box(parts).clone()).and_then(|bike| bike.whole().settle(rider)));
    });
    whole.finish();
    let Ok(rear) = bike.rear() else { return };
    let travels = rear.travels(PLACES);
    let mut curves = criterion.benchmark_group("a curve of 1,001");
    curves.bench_function("rear end", |bench| bench.iter(|| black_box(rear).curve(&travels)));
    curves.bench_function("one by one", |bench| {
        bench.iter(|| travels.iter().map(|&travel| black_box(rear).at(travel)).collect::<Result<Vec<_>, _>>());
    });
    if let Ok(linkage) = rear.linkage() {
        let mut curve = LinkageCurve::default();
        curves
            .bench_function("its linkage", |bench| bench.iter(|| black_box(linkage).curve_into(&travels, &mut curve)));
    }
    curves.finish();
    criterion.final_summary();
}
