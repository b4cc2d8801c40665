//! `make fuzz`: every body for so many seconds, counted, as rows of JSON.

use std::io::Write as _;
use std::time::{Duration, Instant};

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

use crate::bodies::{BODIES, Body};
use crate::choices::{Choices, hex};

/// An execution that works longer hangs: in release code none comes near.
const HANGS: Duration = Duration::from_secs(1);

/// How long this thread has worked, where the system says so: on a machine that does other things as well, a clock says little.
fn worked() -> Option<Duration> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    text.split_whitespace().next()?.parse().ok().map(Duration::from_nanos)
}

/// How long an execution works that took long, by doing it once more.
fn works(body: Body, bytes: &[u8], took: Duration) -> Duration {
    let before = worked();
    body(&mut Choices::new(bytes));
    before.zip(worked()).map_or(took, |(before, after)| after - before)
}

/// `WHEELRATE_FUZZ` says for how many seconds each body runs, `WHEELRATE_FUZZ_SEED` where the draws begin, `WHEELRATE_FUZZ_ROWS` where
/// the counts go; without the first nothing is done here.
#[test]
fn for_long() {
    let variable = |name: &str| std::env::var(name).ok();
    let Some(seconds) = variable("WHEELRATE_FUZZ").and_then(|text| text.parse::<f64>().ok()) else { return };
    let only = variable("WHEELRATE_FUZZ_BODY");
    let seed = variable("WHEELRATE_FUZZ_SEED").and_then(|text| text.parse().ok()).unwrap_or(20_261_125);
    let mut found = Vec::new();
    for (name, body) in BODIES.iter().filter(|(name, _)| only.as_deref().is_none_or(|only| only == *name)) {
        let mut random = Xoshiro256PlusPlus::seed_from_u64(seed);
        let (start, mut executions, mut longest) = (Instant::now(), 0_u64, Duration::ZERO);
        while start.elapsed().as_secs_f64() < seconds {
            let bytes: Vec<u8> = (0..6).flat_map(|_| random.next_u64().to_le_bytes()).collect();
            let began = Instant::now();
            let outcome = std::panic::catch_unwind(|| body(&mut Choices::new(&bytes)));
            let mut took = began.elapsed();
            executions += 1;
            if outcome.is_err() {
                found.push(format!("{name}: a panic on {}", hex(&bytes)));
            } else if took > longest {
                took = works(*body, &bytes, took);
                if took > HANGS && !cfg!(debug_assertions) {
                    found.push(format!("{name}: {took:?} on {}", hex(&bytes)));
                }
            }
            longest = longest.max(took);
            if found.len() > 20 {
                break;
            }
        }
        let seconds = start.elapsed().as_secs_f64();
        let row = format!(
            "{{\"target\": \"{name}\", \"executions\": {executions}, \"seconds\": {seconds:.0}, \"longest\": {:.3}}}",
            longest.as_secs_f64()
        );
        println!("{row}");
        if let Some(path) = variable("WHEELRATE_FUZZ_ROWS") {
            let mut rows = std::fs::OpenOptions::new().create(true).append(true).open(path).unwrap();
            writeln!(rows, "{row}").unwrap();
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}
