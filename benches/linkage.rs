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

/// Few positions, which do not fill a block, into used memory.
#[expect(clippy::print_stdout, reason = "a bench prints its result")]
fn few(linkage: &Linkage) {
    const REPEAT: usize = 2_000;
    for count in [1, 2, 4, 8, 16, 31] {
        let travels = linkage.travels(count);
        let mut curve = LinkageCurve::default();
        let all = fastest(|| {
            (0..REPEAT).for_each(|_| drop(black_box(linkage.curve_into(black_box(&travels), &mut curve))));
        });
        let each = fastest(|| {
            (0..REPEAT).for_each(|_| travels.iter().for_each(|&travel| drop(black_box(linkage.at(black_box(travel))))));
        });
        let [all, each] = [all, each].map(|seconds| 1e9 * seconds / REPEAT as f64);
        println!("{count:>7} positions, ns for all: {all:.0}, one by one {each:.0} (ratio {:.2})", all / each);
    }
}

/// A swingarm, and rockers on the frame in a row, each drawn by a link from the one before.
fn chain(bodies: usize) -> Option<Mechanism> {
    let at = |x: f64, z: f64| [x, z].map(Length::from_si);
    let mut points = vec![
        ("pivot".to_owned(), at(0.0, 0.0)),
        ("axle".to_owned(), at(-0.575, -0.165)),
        ("tip 0".to_owned(), at(-0.1, 0.1)),
    ];
    let mut frame = vec!["pivot".to_owned()];
    let mut carried = vec![("swingarm".to_owned(), ["pivot", "axle", "tip 0"].map(str::to_owned).to_vec())];
    for (rocker, x) in (1..=(bodies - 2) / 2).map(|rocker| (rocker, 0.15 * rocker as f64)) {
        let [before, tip, pivot] = [format!("tip {}", rocker - 1), format!("tip {rocker}"), format!("pivot {rocker}")];
        points.extend([(pivot.clone(), at(x, 0.0)), (tip.clone(), at(x - 0.1, 0.1))]);
        frame.push(pivot.clone());
        carried.push((format!("link {rocker}"), vec![before, tip.clone()]));
        carried.push((format!("rocker {rocker}"), vec![pivot, tip]));
    }
    carried.push(("frame".to_owned(), frame));
    Mechanism::new(points, carried).ok()
}

/// What it costs to make and check a mechanism of many bodies.
#[expect(clippy::print_stdout, reason = "a bench prints its result")]
fn chains() {
    for bodies in [4, 8, 16, 32] {
        let made = 1e6 * fastest(|| drop(black_box(chain(black_box(bodies)))));
        println!("a chain of {bodies:>2} bodies, making and checking it: {made:.1} us");
    }
}

/// One position each of many linkages, all different, on all cores.
#[expect(clippy::print_stdout, reason = "a bench prints its result")]
fn many(designs: u32) {
    let moved = |step: u32| {
        let mut points = POINTS;
        points[3].1[1] += 1e-7 * f64::from(step);
        points
    };
    let all: Vec<u32> = (0..designs).collect();
    let make = |&step: &u32| mechanism(moved(step)).and_then(linkage);
    let linkages: Vec<Linkage> = sweep::each(&all, make).into_iter().flatten().collect();
    let peers: Vec<_> =
        linkages.iter().zip(&all).map(|(linkage, &step)| peer(linkage, moved(step)).compile()).collect();
    let travel = Length::from_si(0.12);
    let each = |seconds: f64| 1e9 * seconds / f64::from(designs);
    let making = each(fastest(|| drop(black_box(sweep::each(&all, make)))));
    let engine = each(fastest(|| drop(black_box(sweep::together(black_box(&linkages), travel)))));
    let family = LinkageFamily::new(&linkages);
    let packed = each(fastest(|| drop(black_box(family.at(black_box(travel))))));
    let by_hand = each(fastest(|| {
        for peer in black_box(&peers) {
            black_box(peer.at(travel.si()));
        }
    }));
    println!(
        "{designs} linkages, one position each, ns: making and checking them {making:.0}, loose {engine:.1} (ratio {:.2}), \
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
    few(&made);
    chains();
    for designs in [5_000, 100_000] {
        many(designs);
    }
}
