//! Few readings after many: against all of them at once, and against what was found before.

use super::*;
use crate::bike::BikeParts;
use crate::demo::PATROL;
use crate::infer::{Finding, Fit};
use crate::record::{Reading, Settled};
use crate::units::{Length, Quantity, Uncertain};

/// Rear readings of the demo bike on a day, of those that are asked for.
fn read(date: &str, is_read: impl Fn(&Reading) -> bool, longer: f64) -> Vec<Reading> {
    let demo = Bike::from_toml(PATROL).unwrap();
    let rear = demo.readings_of(End::Rear).filter(|reading| is_read(reading)).cloned();
    let moved = |reading: Reading| {
        let longer = if reading.load == Load::None { 0.0 } else { longer };
        Reading { date: Some(date.to_owned()), distance: reading.distance + Length::from_si(longer), ..reading }
    };
    rear.map(moved).collect()
}

fn with(readings: Vec<Reading>) -> Bike {
    let demo = Bike::from_toml(PATROL).unwrap();
    Bike::new(BikeParts { readings, ..demo.parts().clone() }).unwrap()
}

fn is_of(load: &'static str) -> impl Fn(&Reading) -> bool {
    move |reading| reading.load == Load::None || reading.load == Load::parse(load).unwrap()
}

fn fit(bike: &Bike) -> Fit {
    bike.fit_end(End::Rear).unwrap()
}

/// How far two numbers are apart in standard uncertainties of the first, and the ratio of the latter.
fn apart<Q: Quantity>(one: Uncertain<Q>, other: Uncertain<Q>) -> (f64, f64) {
    let scale = one.standard_uncertainty.si();
    ((one.value.si() - other.value.si()).abs() / scale, other.standard_uncertainty.si() / scale)
}

#[test]
fn read_one_after_the_other_is_read_at_once() {
    // A linear step about where the first readings put the end, against one search over all of them.
    const SAME: f64 = 0.03;
    // The zero that both days have to themselves is known to a hair, so that it does not matter.
    let exact = |readings: Vec<Reading>| -> Vec<Reading> {
        let hair = |reading: Reading| match reading.load {
            Load::None => Reading { uncertainty: Some(Length::from_si(1e-5)), ..reading },
            _ => reading,
        };
        let mut extended = 0;
        let all = readings.into_iter().map(hair);
        all.filter(|reading| {
            extended += usize::from(reading.load == Load::None);
            reading.load != Load::None || extended == 1
        })
        .collect()
    };
    let (bike, rider) = ("bike", "bike + rider");
    let first = exact(read("2026-05-31", is_of(bike), 0.0));
    let then = exact(read("2026-06-30", is_of(rider), 0.0));
    let one_by_one = Study::plain(&with([first.clone(), then].concat()), End::Rear).unwrap();
    let all = exact(read("2026-05-31", |_| true, 0.0));
    let at_once = Study::plain(&with(all), End::Rear).unwrap();
    assert!(one_by_one.source().is_some() && at_once.source().is_none());
    let (found, wanted) = (one_by_one.fit(), at_once.fit());
    for (off, ratio) in [
        apart(wanted.rate, found.rate),
        apart(wanted.preload, found.preload),
        apart(wanted.friction, found.friction),
        apart(wanted.loads[0].sag, found.loads[0].sag),
        apart(wanted.loads[1].sag, found.loads[1].sag),
    ] {
        assert!(off < SAME && (ratio - 1.0).abs() < SAME, "{off} {ratio}");
    }
    // What the first readings disagree among themselves by is in the first fit, what the others add in the second.
    let both = one_by_one.source().unwrap().fit().chi_square.value + found.chi_square.value;
    assert!((both / wanted.chi_square.value - 1.0).abs() < SAME, "{both} {:?}", wanted.chi_square);
}

#[test]
fn a_collar_turned_and_one_sag_read_keep_what_was_found() {
    let full = with(read("2026-05-31", |_| true, 0.0));
    let turned = full.with_logged_change("2026-06-14", &[("rear.shock.spring.preload", "17 mm")], None).unwrap();
    let unread = fit(&turned);
    let offset = |fit: &Fit, stated: f64| fit.preload.value.si() - stated;
    assert!((offset(&unread, 17e-3) - offset(&fit(&full), 14e-3)).abs() < 1e-12, "an offset stays");
    // The rider sag read where it was expected, and 4 mm deeper.
    let rider = Load::parse("bike + rider").unwrap();
    let today = |bike: &Bike| bike.advise_end(End::Rear).unwrap().today.rider_sag;
    let longer = (today(&full).value - today(&turned).value).si();
    let checked = |off: f64| {
        let rows = read("2026-06-20", is_of("bike + rider"), longer - off);
        turned.with(|parts| parts.readings.extend(rows.clone())).unwrap()
    };
    let (as_expected, deeper) = (checked(0.0), checked(4e-3));
    let found = fit(&as_expected);
    let [Finding::ReadOn { kept }] = found.findings[..] else { panic!("{:?}", found.findings) };
    assert_eq!(kept, Kept::all());
    // Knowing more is no worse: neither spring nor sag; and it is not the label that speaks.
    let sag = |fit: &Fit| fit.loads.iter().find(|load| load.load == rider).unwrap().sag;
    let (off, ratio) = apart(unread.rate, found.rate);
    assert!(off < 0.3 && ratio < 1.001, "{off} {ratio}");
    assert!(apart(unread.preload, found.preload).1 < 1.001 && apart(sag(&unread), sag(&found)).1 < 0.95);
    let alone = with(
        as_expected.parts().readings.iter().filter(|one| one.date.as_deref() == Some("2026-06-20")).cloned().collect(),
    );
    let alone = alone.correct(&[("rear.shock.spring.preload", "17 mm")]).unwrap();
    assert!(apart(fit(&alone).rate, found.rate).1 < 0.9, "{:?} {:?}", fit(&alone).rate, found.rate);
    // What is read moves what is expected, but not all the way: the tape errs too.
    let moved = (today(&deeper).value - today(&as_expected).value).si();
    assert!((1e-3..3.9e-3).contains(&moved), "{moved}");
    let said = found.findings[0].text(crate::units::UnitSystem::Metric);
    assert!(said.contains("fewer than two loads") && said.contains("go on from the readings before"), "{said}");
}

#[test]
fn a_spring_that_was_out_is_drawn_anew_though_one_sag_is_read() {
    let full = with(read("2026-05-31", |_| true, 0.0));
    let other = full.with_logged_change("2026-06-14", &[("rear.shock.spring.rate", "56 N/mm")], None).unwrap();
    let rows = read("2026-06-20", is_of("bike + rider"), 0.0);
    let found = fit(&other.with(|parts| parts.readings.extend(rows.clone())).unwrap());
    let Some(Finding::ReadOn { kept }) = found.findings.first() else { panic!("{:?}", found.findings) };
    assert_eq!((kept.springs.si(), kept.friction.si(), kept.masses), (0.0, 1.0, true));
    let label = |fit: &Fit| fit.rate.standard_uncertainty.si() / fit.rate.value.si();
    assert!(label(&found) > 1.2 * label(&fit(&full)), "the label of the new spring speaks: {:?}", found.rate);
    // The friction that the many readings found is still known.
    assert!(apart(fit(&full).friction, found.friction).1 < 1.1, "{:?}", found.friction);
}

#[test]
fn what_was_read_before_and_cannot_be_solved_is_as_if_it_had_not_been() {
    let mut nonsense = read("2026-05-31", |_| true, 0.0);
    for reading in &mut nonsense {
        if reading.load == Load::parse("bike + rider").unwrap() {
            // Longer than with the wheel off the ground.
            reading.distance += Length::from_si(130e-3);
        }
    }
    let few = read("2026-06-30", is_of("bike + rider"), 0.0);
    let alone = with(few.clone()).study(End::Rear).unwrap();
    let both = with([nonsense.clone(), few].concat());
    assert!(with(nonsense).study(End::Rear).is_err());
    let found = both.study(End::Rear).unwrap();
    assert_eq!((found.source().is_none(), found.fit().rate), (true, alone.fit().rate));
    assert!(both.readings_of(End::Rear).any(|reading| reading.settled == Some(Settled::Low)));
}

/// Read in full, the collar turned, one sag read, the collar turned again: history, advice and the page say the same.
#[test]
fn history_and_advice_go_on_from_the_same_readings() {
    let full = with(read("2026-05-31", |_| true, 0.0));
    let preload = |bike: &Bike, date: &str, to: &str| {
        bike.with_logged_change(date, &[("rear.shock.spring.preload", to)], None).unwrap()
    };
    let rows = read("2026-06-20", is_of("bike + rider"), 8e-3);
    let read_once = preload(&full, "2026-06-14", "17 mm").with(|parts| parts.readings.extend(rows.clone())).unwrap();
    let history = read_once.history_end(End::Rear).unwrap();
    let today = read_once.advise_end(End::Rear).unwrap();
    let last = history.sets.last().unwrap();
    assert_eq!((last.rate, last.preload, last.friction), (today.fit.rate, today.fit.preload, today.fit.friction));
    let again = preload(&read_once, "2026-06-28", "15 mm");
    let (history, today) = (again.history_end(End::Rear).unwrap(), again.advise_end(End::Rear).unwrap().today);
    let targets = &history.predictions.last().unwrap().targets;
    let predicted: Vec<_> = targets.iter().map(|target| target.predicted.unwrap()).collect();
    assert_eq!(predicted, [today.rider_sag, today.free_sag]);
    // And so does a bike that many others are carried from.
    for bike in [&read_once, &again] {
        let carrier = crate::infer::study::Carrier::new(bike, End::Rear).unwrap();
        assert_eq!(
            crate::infer::study::Carrier::into(&carrier, bike).unwrap().fit().rate,
            bike.fit_end(End::Rear).unwrap().rate
        );
    }
}

/// Rider sags alone, week after week: answered in little space however many they are, and the more the narrower.
#[test]
fn years_of_one_sag_a_week_are_answered() {
    let weeks = |count: usize| {
        let rows = (0..count).flat_map(|week| {
            let date = format!("{}-{:02}-{:02}", 2000 + week / 336, week / 28 % 12 + 1, week % 28 + 1);
            let one = |reading: &Reading| match reading.load {
                Load::None => reading.distance.si() > 0.638,
                _ => reading.load == Load::parse("bike + rider").unwrap() && reading.settled == Some(Settled::Low),
            };
            // Within a millimetre, and never the same for long.
            read(&date, one, 1e-3 * f64::sin(week as f64))
        });
        with(rows.collect())
    };
    let rate = |count| fit(&weeks(count)).rate;
    let width = |count| rate(count).standard_uncertainty.si();
    let (few, many) = (width(5), width(60));
    assert!(many < 1.01 * few, "{many} {few}");
    let history = weeks(90).history_end(End::Rear).unwrap();
    assert_eq!((history.sets.len(), history.sets.last().unwrap().rate), (90, rate(90)));
    // 4,990 sets on a stack on which a call per set would not fit.
    let bike = weeks(4_990);
    let on_little = std::thread::Builder::new().stack_size(512 << 10).spawn(move || fit(&bike).rate).unwrap();
    assert!(on_little.join().unwrap().standard_uncertainty.si() < 1.01 * few);
}

/// However many weeks were read, a study stands on one before it: of the newest sag, what all the others found, and no more.
#[test]
fn a_study_that_goes_on_from_others_keeps_the_last_of_them_alone() {
    let weekly = |count: u32| {
        let rows = (0..count).flat_map(|week| read(&format!("2026-06-{:02}", 1 + week), is_of("bike + rider"), 0.0));
        with(rows.collect()).study(End::Rear).unwrap()
    };
    assert!(weekly(1).source().is_none());
    for count in 2..=4 {
        let study = weekly(count);
        assert!(study.source().unwrap().source().is_none(), "{count}");
    }
    // With a change between: the study it was carried from stays, and it alone.
    let full = with([read("2026-05-24", is_of("bike + rider"), 0.0), read("2026-05-31", is_of("bike"), 0.0)].concat());
    let turned = full.with_logged_change("2026-06-14", &[("rear.shock.spring.preload", "17 mm")], None).unwrap();
    let rows = read("2026-06-20", is_of("bike + rider"), 0.0);
    let study = turned.with(|parts| parts.readings.extend(rows.clone())).unwrap().study(End::Rear).unwrap();
    let carried = study.source().unwrap();
    assert!(carried.fit().readings.is_empty(), "carried over the change");
    let read = carried.source().unwrap();
    assert!(!read.fit().readings.is_empty() && read.source().is_none());
}

/// A label is doubted once, with the first readings of its springs; another spring has a label of its own.
#[test]
fn a_label_is_weighed_where_its_springs_were_read() {
    let full = with(read("2026-05-31", |_| true, 0.0));
    let study = full.study(End::Rear).unwrap();
    let carried = |key: &str, to: &str| study.carried(&full.correct(&[(key, to)]).unwrap()).unwrap();
    let turned = carried("rear.shock.spring.preload", "17 mm");
    assert!(study.label_weighed() && turned.label_weighed());
    assert!(!carried("rear.shock.spring.rate", "56 N/mm").label_weighed(), "never read");
    let unread = with(Vec::new());
    let by_label = unread.study(End::Rear).unwrap();
    assert!(!by_label.label_weighed());
    let still_unread = by_label.carried(&unread.correct(&[("rear.shock.spring.preload", "17 mm")]).unwrap()).unwrap();
    assert!(!still_unread.label_weighed(), "the same spring, and still never read");
}
