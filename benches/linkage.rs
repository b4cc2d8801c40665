//! The general linkage engine against the same mechanism written by hand, per position; ratios are of one run.

use std::hint::black_box;
use std::time::Instant;

use criterion::{BenchmarkId, Criterion, Throughput};
use wheelrate::linkage::{Linkage, LinkageCurve, LinkageFamily, Mechanism};
use wheelrate::sweep;
use wheelrate::units::{Length, Quantity};
use wheelrate_benches::six_point::SixPoint;

const POINTS: [(&str, [f64; 2]); 7] = [
    ("pivot", [0.0, 0.0]),
    ("axle", [-0.575, -0.165]),
    ("rocker", [-0.253, -0.072]),
    ("link_frame", [-0.066, -0.098]),
    ("link_rocker", [-0.215, -0.184]),
    ("shock_rocker", [-0.204, -0.128]),
    ("shock_frame", [-0.1, 0.329]),
];
const SHOCK_LENGTH: f64 = 0.4687;
const STROKE: f64 = 0.118;
const COUNTS: [usize; 3] = [1, 1_000, 100_000];

fn mechanism(points: [(&str, [f64; 2]); 7]) -> Option<Mechanism> {
    Mechanism::new(
        points.map(|(name, at)| (name, at.map(Length::from_si))),
        [
            ("frame", vec!["pivot", "link_frame", "shock_frame"]),
            ("swingarm", vec!["pivot", "axle", "rocker"]),
            ("rocker", vec!["rocker", "link_rocker", "shock_rocker"]),
            ("link", vec!["link_frame", "link_rocker"]),
        ],
    )
    .ok()
}

fn linkage(mechanism: Mechanism) -> Option<Linkage> {
    let (length, stroke) = (Length::from_si(SHOCK_LENGTH), Length::from_si(STROKE));
    Linkage::new(mechanism, "axle", ("shock_frame", "shock_rocker"), length, stroke).ok()
}

fn peer(linkage: &Linkage, points: [(&str, [f64; 2]); 7]) -> SixPoint {
    let [pivot, axle, rocker, link_frame, link_rocker, shock_rocker, shock_frame] = points.map(|(_, at)| at);
    let datum = axle[1] - linkage.drawn_travel().si();
    SixPoint {
        pivot,
        axle,
        rocker,
        link_frame,
        link_rocker,
        shock_rocker,
        shock_frame,
        shock_length: SHOCK_LENGTH,
        datum,
    }
}

/// Seconds of the fastest of several runs.
fn fastest(mut run: impl FnMut()) -> f64 {
    const RUNS: usize = 25;
    (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min)
}

fn benches(criterion: &mut Criterion, linkage: &Linkage, mechanism: &Mechanism) {
    let compiled = peer(linkage, POINTS).compile();
    let mut group = criterion.benchmark_group("six-point linkage");
    for count in COUNTS {
        let travels = linkage.travels(count);
        let plain: Vec<f64> = travels.iter().map(|travel| travel.si()).collect();
        let mut columns: [Vec<f64>; 5] = core::array::from_fn(|_| vec![0.0; count]);
        group.throughput(Throughput::Elements(count as u64));
        group.bench_function(BenchmarkId::new("engine", count), |bencher| {
            bencher.iter(|| linkage.curve(black_box(&travels)));
        });
        group.bench_function(BenchmarkId::new("by hand, vectorised", count), |bencher| {
            bencher.iter(|| compiled.over(black_box(&plain), black_box(&mut columns)));
        });
        group.bench_function(BenchmarkId::new("by hand, one by one", count), |bencher| {
            bencher.iter(|| compiled.one_by_one(black_box(&plain), black_box(&mut columns)));
        });
    }
    group.finish();
    criterion.bench_function("one point", |bencher| {
        let travel = Length::from_si(0.1);
        bencher.iter(|| linkage.at(black_box(travel)));
    });
    criterion.bench_function("make a linkage", |bencher| {
        bencher.iter(|| self::linkage(black_box(mechanism.clone())));
    });
}

#[expect(clippy::print_stdout, reason = "a bench prints its result")]
fn ratios(linkage: &Linkage) {
    let compiled = peer(linkage, POINTS).compile();
    for count in [1_000, 100_000] {
        let travels = linkage.travels(count);
        let plain: Vec<f64> = travels.iter().map(|travel| travel.si()).collect();
        let mut columns: [Vec<f64>; 5] = core::array::from_fn(|_| vec![0.0; count]);
        let repeat = 100_000 / count;
        let per_position = |seconds: f64| 1e9 * seconds / (count * repeat) as f64;
        let engine =
            per_position(fastest(|| (0..repeat).for_each(|_| drop(black_box(linkage.curve(black_box(&travels)))))));
        let mut curve = LinkageCurve::default();
        let again = per_position(fastest(|| {
            (0..repeat).for_each(|_| drop(black_box(linkage.curve_into(black_box(&travels), &mut curve))));
        }));
        let by_hand = per_position(fastest(|| {
            (0..repeat).for_each(|_| compiled.over(black_box(&plain), black_box(&mut columns)))
        }));
        let scalar = per_position(fastest(|| {
            (0..repeat).for_each(|_| compiled.one_by_one(black_box(&plain), black_box(&mut columns)))
        }));
        println!(
            "{count:>7} positions, ns each: engine with new arrays {engine:.1}, in used memory {again:.1}, by hand vectorised {by_hand:.1} (ratio {:.2}), \
             by hand one by one {scalar:.1} (ratio {:.2})",
            again / by_hand,
            again / scalar,
        );
    }
}

/// One position each of many linkages, all different, on all cores.
#[expect(clippy::print_stdout, reason = "a bench prints its result")]
fn many() {
    const DESIGNS: u32 = 10_000;
    let moved = |step: u32| {
        let mut points = POINTS;
        points[3].1[1] += 1e-6 * f64::from(step);
        points
    };
    let designs: Vec<u32> = (0..DESIGNS).collect();
    let make = |&step: &u32| mechanism(moved(step)).and_then(linkage);
    let linkages: Vec<Linkage> = sweep::each(&designs, make).into_iter().flatten().collect();
    let peers: Vec<_> =
        linkages.iter().zip(&designs).map(|(linkage, &step)| peer(linkage, moved(step)).compile()).collect();
    let travel = Length::from_si(0.12);
    let each = |seconds: f64| 1e9 * seconds / f64::from(DESIGNS);
    let making = each(fastest(|| drop(black_box(sweep::each(&designs, make)))));
    let engine = each(fastest(|| drop(black_box(sweep::points(black_box(&linkages), travel)))));
    let family = LinkageFamily::new(&linkages);
    let packed = each(fastest(|| drop(black_box(family.at(black_box(travel))))));
    let by_hand = each(fastest(|| {
        for peer in black_box(&peers) {
            black_box(peer.at(travel.si()));
        }
    }));
    println!(
        "{DESIGNS} linkages, one position each, ns: making and checking them {making:.0}, loose {engine:.1} (ratio {:.2}), \
         packed once {packed:.1} (ratio {:.2}), by hand on one core {by_hand:.1}",
        engine / by_hand,
        packed / by_hand,
    );
}

fn main() {
    let Some(mechanism) = mechanism(POINTS) else { return };
    let Some(made) = linkage(mechanism.clone()) else { return };
    let mut criterion = Criterion::default().configure_from_args();
    benches(&mut criterion, &made, &mechanism);
    criterion.final_summary();
    ratios(&made);
    many();
}
