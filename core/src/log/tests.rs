//! Sets of readings, and the walk that finds the bike they were taken on.

use crate::Bike;
use crate::bike::BikeParts;
use crate::demo::PATROL;
use crate::log::{walk, when};
use crate::record::{Change, End, Reading};
use crate::units::Quantity;

/// The demo's bike with all its readings of one day.
fn dated(date: &str) -> Bike {
    let bike = Bike::from_toml(PATROL).unwrap();
    let readings = bike.parts().readings.iter().cloned();
    let readings = readings.map(|reading| Reading { date: Some(date.to_owned()), ..reading }).collect();
    Bike::new(BikeParts { readings, ..bike.parts().clone() }).unwrap()
}

const STIFFER: [(&str, &str); 2] = [("rear.shock.spring.rate", "56 N/mm"), ("rear.shock.spring.preload", "10 mm")];

#[test]
fn sets_are_split_by_day_and_by_what_touches_the_end() {
    let first = dated("2026-05-31 18:00");
    let rear = |date: &str| {
        let readings = first.readings_of(End::Rear).cloned();
        readings.map(|reading| Reading { date: Some(date.to_owned()), ..reading }).collect::<Vec<_>>()
    };
    let bike = first.with_logged_change("2026-05-31 19:00", &STIFFER, None).unwrap();
    let bike = bike.with(|parts| parts.readings.extend(rear("2026-05-31 20:00"))).unwrap();
    let bike = bike.with_logged_change("2026-06-05", &[("front.fork.leg[0].spring.preload", "7 mm")], None).unwrap();
    let bike = bike.with(|parts| parts.readings.extend(rear("2026-06-05"))).unwrap();
    let log = bike.log().unwrap();
    let sets = log.sets(End::Rear);
    let reported: Vec<(&str, usize)> = sets.iter().map(|set| (set.date.as_deref().unwrap(), set.changes)).collect();
    assert_eq!(reported, [("2026-05-31", 0), ("2026-05-31", 1), ("2026-06-05", 1)]);
    assert_eq!(sets[0].readings, (5..15).collect::<Vec<_>>());
    assert_eq!(log.sets(End::Front).len(), 1);
    assert_eq!(log.newest(End::Rear), sets.last());
    assert_eq!(log.newest(End::Front), None, "nothing read at the front since its change");
    // The newest set is what counts, and its readings keep their places.
    let fit = bike.fit_end(End::Rear).unwrap();
    assert_eq!(fit.readings.iter().map(|check| check.reading).collect::<Vec<_>>(), sets[2].readings);
    assert!(bike.fit_end(End::Front).unwrap().readings.is_empty());
    let first_again = sets[0].bike();
    assert_eq!(first_again.fit_end(End::Rear).unwrap().rate, first.fit_end(End::Rear).unwrap().rate);
    let spring = first_again.rear().unwrap().shock().parts().spring.clone().unwrap();
    assert!((spring.preload().si() - 0.014).abs() < 1e-12);
}

#[test]
fn what_is_wrong_in_two_changes_is_reported_of_both() {
    let change = |date: &str, path: &str| {
        format!("\n[[change]]\ndate = {date}\nadded = [\"{path}\", \"{path}\", \"reading[0]\"]\n")
    };
    let text =
        dated("2026-05-31").to_toml() + &change("2026-06-14", "rear.shock.spring") + &change("2026-06-20", "bike");
    let faults = crate::file::check(&text);
    let reported: Vec<String> = faults.iter().map(|fault| fault.key_path.to_string()).collect();
    assert_eq!(reported, ["change 1.added", "change 2.added"], "{faults:?}");
    assert!(faults[0].message.starts_with("found `rear.shock.spring` twice"), "{faults:?}");
}

#[test]
fn what_is_wrong_today_is_reported_once_and_not_of_every_earlier_day() {
    let log = "[[change]]\ndate = 2026-06-14\nwas = { \"rear.shock.spring.rate\" = \"50 N/mm\" }\n\n\
               [[change]]\ndate = 2026-06-20\nwas = { \"rear.shock.spring.preload\" = \"12 mm\" }\n";
    let text = dated("2026-05-31").to_toml() + "\n" + log;
    assert!(crate::file::check(&text).is_empty());
    let twice = text.replace("load = \"bike + rider + stretcher\"", "load = \"bike + bike\"");
    let faults = crate::file::check(&twice);
    assert_eq!(faults.len(), 1, "{faults:?}");
    let unknown =
        crate::file::check(&text.replace("rear.shock.spring.rate\" = \"50", "rear.shock.spring.rte\" = \"50"));
    assert_eq!(unknown.len(), 1, "{unknown:?}");
    assert!(
        unknown[0].message.starts_with("undoing this change gives an invalid bike: rear.shock.spring.rte: unknown")
    );
}

/// A log of the demo's bike as a person would write it: each change with what stood there before.
fn logged(bike: &Bike, was: impl Iterator<Item = (String, Vec<(&'static str, String)>)>) -> Bike {
    let changes = was.map(|(date, was)| Change {
        date,
        note: None,
        was: was.into_iter().map(|(path, value)| (path.to_owned(), value)).collect(),
        added: Vec::new(),
    });
    Bike::new(BikeParts { changes: changes.collect(), ..bike.parts().clone() }).unwrap()
}

/// The `day`-th day after the turn of the year 2000, months of 28 days.
fn day(day: usize) -> String {
    format!("{}-{:02}-{:02}", 2000 + day / 336, 1 + day / 28 % 12, 1 + day % 28)
}

/// Ten times the stack of a thread is no measure of a log: nothing here calls itself per change.
#[test]
fn a_long_log_needs_no_deep_stack() {
    const CHANGES: usize = 2_000;
    /// Stack of the thread (bytes): a quarter of what threads have by default.
    const STACK: usize = 512 * 1024;
    let work = || {
        let readings = Vec::new();
        let bike = Bike::new(BikeParts { readings, ..Bike::from_toml(PATROL).unwrap().parts().clone() }).unwrap();
        let rate = |k: usize| format!("{} N/mm", 50 + k % 2);
        let bike = logged(&bike, (0..CHANGES).map(|k| (day(k), vec![("rear.shock.spring.rate", rate(k))])));
        assert!(crate::file::check(&bike.to_toml()).is_empty());
        bike.log().unwrap().changes(End::Rear).len()
    };
    let touching = std::thread::Builder::new().stack_size(STACK).spawn(work).unwrap().join().unwrap();
    // 50 and 51 in turn; the first says 50, the last is undone from 52.
    assert_eq!(touching, CHANGES);
}

/// Sets of readings, a turn of the collar before each but the first.
fn read_and_turned(sets: usize) -> String {
    let bike = dated(&day(0));
    let turns = (1..sets).map(|k| {
        let preload = format!("{} mm", 12 + k % 3);
        (format!("{} 12:00", day(2 * k - 1)), vec![("rear.shock.spring.preload", preload)])
    });
    let later = (1..sets).flat_map(|k| {
        let rear = bike.readings_of(End::Rear).cloned();
        rear.map(move |reading| Reading { date: Some(day(2 * k)), ..reading }).collect::<Vec<_>>()
    });
    let parts =
        BikeParts { readings: bike.parts().readings.iter().cloned().chain(later).collect(), ..bike.parts().clone() };
    logged(&Bike::new(parts).unwrap(), turns).to_toml()
}

#[test]
fn a_check_makes_each_earlier_bike_once() {
    const SETS: usize = 120;
    let text = read_and_turned(SETS);
    let made = || walk::MADE.with(core::cell::Cell::get);
    let before = made();
    assert!(crate::file::check(&text).is_empty());
    assert_eq!(made() - before, SETS - 1);
}

/// One set of readings, and so many turns of the collar after it, one a minute.
fn turned(turns: usize) -> Bike {
    const MINUTES: usize = 24 * 60;
    let minute = |turn: usize| format!("{} {:02}:{:02}", day(1 + turn / MINUTES), turn % MINUTES / 60, turn % 60);
    let was = |turn: usize| vec![("rear.shock.spring.preload".to_owned(), format!("{} mm", 12 + turn % 3))];
    let changes = (0..turns).map(|turn| Change { date: minute(turn), note: None, was: was(turn), added: Vec::new() });
    let read = dated(&day(0));
    Bike::new(BikeParts { changes: changes.collect(), ..read.parts().clone() }).unwrap()
}

#[test]
fn ten_thousand_changes_are_checked_in_work_that_grows_as_they_do() {
    /// No call nests per change: a fraction of the least stack of a thread does.
    const STACK: usize = 512 * 1024;
    let work = |turns: usize| {
        let walked = move || {
            let count = || (walk::MADE.with(core::cell::Cell::get), when::LOOKED_AT.with(core::cell::Cell::get));
            let (bike, before) = (turned(turns), count());
            let log = bike.log().unwrap();
            assert_eq!((log.changes(End::Rear).len(), log.sets(End::Rear).len()), (turns, 1));
            let after = count();
            (after.0 - before.0, after.1 - before.1)
        };
        std::thread::Builder::new().stack_size(STACK).spawn(walked).unwrap().join().unwrap()
    };
    assert_eq!(work(10_000), (10_000, 0), "each earlier bike is made once, and no reading is of a day with a change");
    let (few, many) = (read_on_every_day(20), read_on_every_day(80));
    assert_eq!(many.0, 4 * few.0);
    assert!(many.1 <= 4 * few.1 && few.1 > 0, "{few:?} and {many:?} readings looked at");
}

/// Bikes made and readings looked at for so many days, each with a set of readings and a turn of the collar after it.
fn read_on_every_day(days: usize) -> (usize, usize) {
    let bike = dated(&format!("{} 08:00", day(0)));
    let rows =
        |date: String| bike.readings_of(End::Rear).cloned().map(move |row| Reading { date: Some(date.clone()), ..row });
    let readings = (0..days).flat_map(|k| rows(format!("{} 08:00", day(k)))).collect();
    let turn = |k: usize| Change {
        date: format!("{} 12:00", day(k)),
        note: None,
        was: vec![("rear.shock.spring.preload".to_owned(), format!("{} mm", 12 + k % 3))],
        added: Vec::new(),
    };
    let parts = BikeParts { readings, changes: (0..days).map(turn).collect(), ..bike.parts().clone() };
    let count = || (walk::MADE.with(core::cell::Cell::get), when::LOOKED_AT.with(core::cell::Cell::get));
    let before = count();
    assert_eq!(Bike::new(parts).unwrap().log().unwrap().sets(End::Rear).len(), days);
    let after = count();
    (after.0 - before.0, after.1 - before.1)
}

#[test]
fn a_change_on_no_day_is_refused_and_so_are_two_of_one_key_on_one_day() {
    let turned = |date: &str| Change {
        date: date.to_owned(),
        note: None,
        was: vec![("rear.shock.spring.preload".to_owned(), "12 mm".to_owned())],
        added: Vec::new(),
    };
    let refused = |changes| {
        let bike = dated("2026-05-31");
        let parts = BikeParts { changes, ..bike.parts().clone() };
        Bike::new(parts).unwrap().log().unwrap_err().to_string()
    };
    let no_day = refused(vec![turned("in May")]);
    assert!(no_day.contains("date: found `in May`, wanted a day"), "{no_day}");
    let together = refused(vec![turned("2026-06-14"), turned("2026-06-14")]);
    assert!(
        together
            .contains("found `2026-06-14`, which does not say whether the change of `2026-06-14` came before or after"),
        "{together}"
    );
}

#[test]
fn readings_of_one_day_are_one_set_unless_the_end_was_changed_between_them() {
    let morning = dated("2026-05-31 08:00");
    let count = morning.readings_of(End::Rear).count();
    let fitted = |key: &str, value: &str| {
        let bike = morning.with_logged_change("2026-05-31 12:00", &[(key, value)], None).unwrap();
        let again = morning.readings_of(End::Rear).cloned();
        let again: Vec<_> = again.map(|row| Reading { date: Some("2026-05-31 18:00".to_owned()), ..row }).collect();
        let bike = bike.with(|parts| parts.readings.extend(again)).unwrap();
        bike.fit_end(End::Rear).unwrap().readings.len()
    };
    assert_eq!(fitted("front.fork.leg[0].spring.preload", "7 mm"), 2 * count);
    assert_eq!(fitted("rear.shock.spring.preload", "15 mm"), count);
}
