//! Long work, stopped from another thread.

use std::time::{Duration, Instant};

use wheelrate::Bike;
use wheelrate::demo::PATROL;
use wheelrate::record::End;
use wheelrate::sweep::{Scheme, Sweep, SweepAxis};
use wheelrate::work::{Halt, Stopped};

/// Work that would take minutes even in release code, and has to end soon after it is stopped.
fn stopped_soon<R: core::fmt::Debug + PartialEq>(what: &str, work: impl FnOnce() -> R) {
    /// A round of the slowest of these takes some ms without optimisation; ten of them and a busy machine.
    const SOON: Duration = Duration::from_secs(20);
    let halt = Halt::new();
    let elsewhere = halt.clone();
    let stopper = std::thread::spawn(move || {
        // Once it has begun: some of it is done.
        while elsewhere.progress().is_none_or(|progress| progress.done < 3) {
            std::thread::sleep(Duration::from_millis(1));
        }
        elsewhere.stop();
        Instant::now()
    });
    assert_eq!(halt.during(work), Err(Stopped), "{what}");
    let took = stopper.join().unwrap().elapsed();
    assert!(took < SOON, "{what} went on for {took:?}");
    let progress = halt.progress().unwrap();
    assert!(progress.done < progress.total, "{what}: {progress:?}");
}

#[test]
fn draws_garages_and_designs_are_stopped() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let study = bike.study(End::Rear).unwrap();
    stopped_soon("draws", || study.monte_carlo(5_000_000, 1).map(|found| found.draws));
    stopped_soon("garages", || study.rehearse(10_000_000, 1).map(|found| found.garages));
    let axis = SweepAxis::between("rear.shock.spring.preload", "6 mm", "16 mm").unwrap();
    let scheme = Scheme::named("latin_hypercube", Some(5_000_000), 1).unwrap();
    let sweep = Sweep::new(&bike, vec![axis], scheme, &["rear.rider_sag"]).unwrap();
    stopped_soon("designs", || sweep.chunk(0..sweep.len()).designs);
}
