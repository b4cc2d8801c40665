//! Rectangles of two and boxes of three normal quantities: speed, with the ratio to nested Simpson's rules of 200 and of
//! 100 by 50 panels, and the error of either against many more panels.

// What a bench prints is its result.
#![allow(clippy::print_stdout)]

use std::hint::black_box;
use std::time::Instant;

use criterion::Criterion;
use wheelrate::infer::probability::{joint_probability, joint_probability_of_three};
use wheelrate_benches::simpson;

const STANDARD: (f64, f64) = (0.0, 1.0);
/// A rider sag within its tolerance, a free sag in its range, a collar that still turns back.
const WITHIN: [(f64, f64); 3] = [(-1.4, 1.1), (-0.6, 2.3), (-1.9, f64::INFINITY)];
const LOOSE: [f64; 3] = [0.62, -0.35, 0.28];
const TIGHT: [f64; 3] = [0.97, -0.9, -0.93];

/// Seconds of the fastest of several runs.
fn fastest(run: impl Fn() -> f64) -> f64 {
    const RUNS: usize = 50;
    const CALLS: usize = 200;
    let once = || {
        let start = Instant::now();
        (0..CALLS).for_each(|_| {
            black_box(run());
        });
        start.elapsed().as_secs_f64() / CALLS as f64
    };
    (0..RUNS).map(|_| once()).fold(f64::INFINITY, f64::min)
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    for (name, correlations) in [("loose", LOOSE), ("tight", TIGHT)] {
        let correlation = correlations[0];
        let two = || joint_probability(STANDARD, STANDARD, black_box(correlation), WITHIN[0], WITHIN[1]);
        let three = || joint_probability_of_three([STANDARD; 3], black_box(correlations), WITHIN);
        criterion.bench_function(&format!("normal rectangle of two/{name}"), |bench| bench.iter(two));
        criterion.bench_function(&format!("normal box of three/{name}"), |bench| bench.iter(three));

        let simpson_two = |panels| simpson::two(black_box(correlation), WITHIN[0], WITHIN[1], panels);
        let simpson_three = |panels| simpson::three(black_box(correlations), WITHIN, panels);
        for (what, ours, peer, of_ours, of_peer, exact) in [
            ("two", fastest(two), fastest(|| simpson_two(200)), two(), simpson_two(200), simpson_two(20_000)),
            (
                "three",
                fastest(three),
                fastest(|| simpson_three([100, 50])),
                three(),
                simpson_three([100, 50]),
                simpson_three([4_000, 4_000]),
            ),
        ] {
            println!(
                "{what}, {name}: {:.2} µs, Simpson {:.2} µs, ratio {:.3}; off by {:.0e}, Simpson by {:.0e}",
                1e6 * ours,
                1e6 * peer,
                ours / peer,
                (of_ours - exact).abs(),
                (of_peer - exact).abs()
            );
        }
    }
    criterion.final_summary();
}
