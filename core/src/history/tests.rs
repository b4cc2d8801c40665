//! The history of the demo bike read twice: against arithmetic that can be done by hand.

use super::*;
use crate::bike::BikeParts;
use crate::demo::PATROL;
use crate::record::{Reading, SagKind};
use crate::units::{Quantity, UnitSystem};
use crate::wheel::{Tunable, Wheel};

fn dated(bike: &Bike, date: &str, shift: impl Fn(&Reading) -> f64) -> Vec<Reading> {
    let readings = bike.readings_of(End::Rear).cloned();
    let moved = readings.map(|reading| Reading {
        date: Some(date.to_owned()),
        distance: reading.distance + Length::from_si(shift(&reading)),
        ..reading
    });
    moved.collect()
}

/// How far each reading comes out longer than in the demo's file.
type Moved<'a> = &'a dyn Fn(&Reading) -> f64;

/// The demo's rear, read on some days, each time with some of its readings moved.
fn read_on(days: &[(&str, Moved<'_>)]) -> Bike {
    let demo = Bike::from_toml(PATROL).unwrap();
    let readings = days.iter().flat_map(|(date, shift)| dated(&demo, date, shift)).collect();
    Bike::new(BikeParts { readings, ..demo.parts().clone() }).unwrap()
}

/// The end sticks more: low reads lower, high higher, by this much.
fn stickier(by: f64) -> impl Fn(&Reading) -> f64 {
    use crate::record::Settled;
    move |reading| match reading.settled {
        Some(Settled::Low) => -by,
        Some(Settled::High) => by,
        Some(Settled::Middle) | None => 0.0,
    }
}

#[test]
fn the_same_readings_twice_are_no_drift() {
    let bike = read_on(&[("2026-05-31", &|_| 0.0), ("2026-06-30", &|_| 0.0)]);
    let history = bike.history_end(End::Rear).unwrap();
    assert_eq!((history.sets.len(), history.drifts.len(), history.predictions.len()), (2, 1, 0));
    let drift = &history.drifts[0];
    let preload = drift.preload.unwrap();
    // Equal information on both sides moves nothing.
    assert!(preload.change.value.si().abs() < 1e-9 && drift.friction.change.value.si().abs() < 1e-6, "{drift:?}");
    // Loads and label are shared: the change is surer than the two apart.
    let apart = preload.before.standard_uncertainty.si().hypot(preload.after.standard_uncertainty.si());
    assert!(preload.change.standard_uncertainty.si() < 0.9 * apart);
    for sentence in drift.sentences(UnitSystem::Metric) {
        assert!(sentence.contains("no change beyond noise"), "{sentence}");
    }
    assert_eq!(history.basis(), "From the readings of 2026-06-30; one earlier set stands in the history.");
}

#[test]
fn more_friction_and_less_preload_are_kept_apart() {
    let stuck = read_on(&[("2026-05-31", &|_| 0.0), ("2026-06-30", &stickier(6e-3))]);
    let drift = &stuck.history_end(End::Rear).unwrap().drifts[0];
    // 6 mm more each way on a wheel rate of about 7 N/mm: the force by hand.
    assert!((drift.friction.change.value.si() - 42.0).abs() < 8.0, "{:?}", drift.friction);
    assert!(drift.friction.deviations > 4.0 && drift.preload.unwrap().deviations.abs() < 2.0, "{drift:?}");
    let sentences = drift.sentences(UnitSystem::Metric);
    assert!(sentences[0].starts_with("Friction grew") && sentences[0].contains("seals"), "{sentences:?}");
    // Loaded readings 8 mm closer: about 3 mm of preload at a motion ratio of 0.37.
    let settled = read_on(&[
        ("2026-05-31", &|_| 0.0),
        ("2026-06-30", &|reading| if reading.load == Load::None { 0.0 } else { -8e-3 }),
    ]);
    let drift = &settled.history_end(End::Rear).unwrap().drifts[0];
    let preload = drift.preload.unwrap();
    assert!((preload.change.value.si() + 3e-3).abs() < 1e-3, "{preload:?}");
    assert!(preload.deviations < -3.0 && drift.friction.deviations.abs() < 2.0, "{drift:?}");
    assert!(drift.sentences(UnitSystem::Metric)[1].contains("The spring has settled"));
}

#[test]
fn three_sets_are_compared_first_to_last_too() {
    let bike = read_on(&[("2026-05-01", &|_| 0.0), ("2026-06-01", &stickier(2e-3)), ("2026-07-01", &stickier(4e-3))]);
    let drifts = bike.history_end(End::Rear).unwrap().drifts;
    let pairs: Vec<(usize, usize)> = drifts.iter().map(|drift| (drift.earlier, drift.later)).collect();
    assert_eq!(pairs, [(0, 1), (1, 2), (0, 2)]);
    let [one, two, whole] = [0, 1, 2].map(|k| drifts[k].friction.change.value.si());
    assert!((one + two - whole).abs() < 1e-9);
}

#[test]
fn an_unread_change_is_predicted_and_then_held_against() {
    let first = read_on(&[("2026-05-31", &|_| 0.0)]);
    let changes = [("rear.shock.spring.rate", "56 N/mm"), ("rear.shock.spring.preload", "10 mm")];
    let unread = first.with_logged_change("2026-06-14", &changes, Some("stiffer spring")).unwrap();
    let history = unread.history_end(End::Rear).unwrap();
    let [prediction] = history.predictions.as_slice() else { panic!("{:?}", history.predictions) };
    assert_eq!((prediction.later, prediction.held(), prediction.sags.len()), (None, None, 4));
    assert!(history.basis().contains("Nothing is read since the change of 2026-06-14"));
    // What is predicted is what the bike with that spring does, at the fitted loads and friction.
    let rows: Vec<Reading> = first
        .readings_of(End::Rear)
        .cloned()
        .map(|reading| {
            let sag = prediction.sags.iter().find(|sag| sag.load == reading.load && sag.settled == reading.settled);
            let distance = Length::from_si(0.655) - sag.map_or(Length::from_si(0.0), |sag| sag.predicted.value);
            Reading { date: Some("2026-06-20".to_owned()), distance, ..reading }
        })
        .collect();
    let read = unread.with(|parts| parts.readings.extend(rows.clone())).unwrap();
    let held = read.history_end(End::Rear).unwrap();
    let [check] = held.predictions.as_slice() else { panic!("{:?}", held.predictions) };
    assert_eq!((check.earlier, check.later, check.held(), check.cause), (0, Some(1), Some(true), None));
    assert!(check.chi_square.unwrap().value < 1e-6 && check.chi_square.unwrap().degrees == 4);
    assert!(check.sentences(UnitSystem::Metric)[0].contains("held"));
    let [rider, free] = check.targets.as_slice() else { panic!("{:?}", check.targets) };
    assert_eq!((rider.sag, free.sag), (SagKind::Rider, SagKind::Free));
    assert!(
        rider.before.unwrap().value.si() > rider.after.unwrap().value.si(),
        "a stiffer spring sags less: {rider:?}"
    );
    // A spring a third stiffer than its label: the rate is named, and its direction.
    let stiff = first.with_logged_change("2026-06-14", &[("rear.shock.spring.rate", "75 N/mm")], None).unwrap();
    let ahead = stiff.history_end(End::Rear).unwrap().predictions.remove(0);
    let rows = rows.into_iter().map(|reading| {
        let sag = ahead.sags.iter().find(|sag| sag.load == reading.load && sag.settled == reading.settled);
        let distance = Length::from_si(0.655) - sag.map_or(Length::from_si(0.0), |sag| sag.predicted.value);
        Reading { distance, ..reading }
    });
    let wrong = first.with_logged_change("2026-06-14", &[("rear.shock.spring.rate", "56 N/mm")], None).unwrap();
    let wrong = wrong.with(|parts| parts.readings.extend(rows)).unwrap().history_end(End::Rear).unwrap();
    let Some(Cause::Rate { expected, found }) = wrong.predictions[0].cause else { panic!("{:?}", wrong.predictions) };
    assert!(found.value > expected.value * 1.1, "{expected:?} {found:?}");
    assert!(wrong.predictions[0].sentences(UnitSystem::Metric)[0].contains("stiffer"));
}

#[test]
fn the_history_stands_on_the_sheet_where_there_is_one() {
    let single = Bike::from_toml(PATROL).unwrap();
    let sheet = single.sheet(UnitSystem::Metric).unwrap();
    assert!(sheet.ends.iter().all(|end| end.history.is_none()));
    assert_eq!(single.history().unwrap().to_text(UnitSystem::Metric, 100), "");
    let bike = read_on(&[("2026-05-31", &|_| 0.0), ("2026-06-30", &stickier(6e-3))]);
    let bike = bike.with_logged_change("2026-07-04", &[("rear.shock.spring.preload", "12 mm")], None).unwrap();
    let sheet = bike.sheet(UnitSystem::Inch).unwrap();
    let page = sheet.ends.last().unwrap().history.as_ref().unwrap();
    assert_eq!((page.sets.rows.len(), page.checks.len(), page.points.len()), (2, 1, 3));
    assert!(page.points.windows(2).all(|pair| pair[0].at < pair[1].at));
    assert!(sheet.to_text(100).contains("Readings in time") && sheet.to_text(100).contains("was 14 mm"));
    let findings = &sheet.ends.last().unwrap().findings;
    let carried =
        "Nothing is read at this end since it was changed: what rate and preload are off their labels by, the friction";
    assert!(findings.iter().any(|finding| finding.text.starts_with(carried)), "{findings:?}");
}

#[test]
fn two_sets_of_one_day_are_separated_by_their_times() {
    let bike =
        read_on(&[("2026-05-31", &|_| 0.0), ("2026-06-14 09:00", &|_| 0.0), ("2026-06-14 18:00", &stickier(6e-3))]);
    let bike = bike.with_logged_change("2026-06-14 12:00", &[("rear.shock.spring.preload", "14.5 mm")], None).unwrap();
    let history = bike.history_end(End::Rear).unwrap();
    let page = history.page(UnitSystem::Metric);
    assert!(
        page.basis
            .starts_with("From the readings of 2026-06-14 18:00; 2 earlier sets stand in the history. What changed")
    );
    assert_eq!(page.checks[0].title, "Predicted on 2026-06-14 09:00, read on 2026-06-14 18:00");
    let days: Vec<&str> = page.drifts.iter().filter_map(|drift| drift.split_once(": ")).map(|(days, _)| days).collect();
    assert!(days.contains(&"2026-05-31 to 2026-06-14 09:00"), "{days:?}");
    assert!(days.contains(&"2026-06-14 09:00 to 2026-06-14 18:00"), "{days:?}");
}

/// The collar turned exactly as advised: what history predicts is what the advice promised, since the offset that the fit
/// found stays with a spring that was not taken out.
#[test]
fn history_predicts_what_advice_promised_of_a_turned_collar() {
    // Advice works the sags out about a setting within a millimetre and a half of preload of the one it ends at, and in a
    // straight line from there; a tape shows millimetres.
    const SAME: f64 = 1e-4;
    let first = read_on(&[("2026-05-31", &|_| 0.0)]);
    let advice = first.advise_end(End::Rear).unwrap();
    let kept = advice.fitted().unwrap().outcome.unwrap();
    let offset = advice.fit.preload.value.si() - 14e-3;
    assert!(offset.abs() > 1e-4, "the fit found an offset that can be forgotten: {offset}");
    let preload = format!("{:?} mm", kept.preload.value.si() * 1e3);
    let turned = first.with_logged_change("2026-06-14", &[("rear.shock.spring.preload", &preload)], None).unwrap();
    let history = turned.history_end(End::Rear).unwrap();
    let [rider, free] = history.predictions[0].targets.as_slice() else { panic!("{:?}", history.predictions) };
    assert_eq!((rider.after, rider.met()), (None, None));
    let (rider, free) = (rider.predicted.unwrap(), free.predicted.unwrap());
    assert!((rider.value - kept.rider_sag.value).si().abs() < SAME, "{rider:?} {:?}", kept.rider_sag);
    assert!((free.value - kept.free_sag.value).si().abs() < SAME, "{free:?} {:?}", kept.free_sag);
    // And so do fit and advice of today, which rest on the same.
    let today = turned.advise_end(End::Rear).unwrap();
    assert_eq!((today.today.rider_sag, today.today.free_sag), (rider, free));
    assert!((today.fit.preload.value.si() - (kept.preload.value.si() + offset)).abs() < 1e-12);
}

/// Only what is stated of friction was changed: the band predicted follows it.
#[test]
fn a_change_of_friction_alone_moves_the_predicted_band() {
    let first = read_on(&[("2026-05-31", &|_| 0.0)]);
    let band = |bike: &Bike| {
        let sags = bike.history_end(End::Rear).unwrap().predictions[0].sags.clone();
        (sags[0].predicted.value - sags[1].predicted.value).si()
    };
    let turned = first.with_logged_change("2026-06-14", &[("rear.shock.spring.preload", "14.5 mm")], None).unwrap();
    let seals = first.with_logged_change("2026-06-14", &[("rear.shock.friction", "10 N")], None).unwrap();
    // 10 N along the shock is 10·MR at the wheel, with MR about 0.37 and a wheel rate of about 7 N/mm: a millimetre of band.
    assert!(band(&turned) > 8e-3, "{}", band(&turned));
    assert!((band(&seals) - 1.1e-3).abs() < 0.3e-3, "{}", band(&seals));
}

#[test]
fn a_supposed_change_is_carried_kept_in_a_file_and_never_read_on() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let found = bike.fit_end(End::Rear).unwrap();
    let heavier = bike.what_if(&[("masses.rider.rear", "76 kg")]).unwrap();
    let fit = heavier.fit_end(End::Rear).unwrap();
    assert!((fit.rate.value / found.rate.value - 1.0).abs() < 1e-12 && fit.readings.is_empty());
    assert_eq!(heavier.fit_end(End::Front).unwrap(), bike.fit_end(End::Front).unwrap(), "nothing was changed there");
    assert!(
        heavier.advise_end(End::Rear).unwrap().today.rider_sag.value
            > bike.advise_end(End::Rear).unwrap().today.rider_sag.value
    );
    let again = Bike::from_json(&heavier.to_json()).unwrap();
    assert_eq!(
        (again.fit_end(End::Rear).unwrap(), Bike::from_toml(&heavier.to_toml()).unwrap()),
        (fit, heavier.clone())
    );
    assert_eq!(heavier.at("2099-12-31").unwrap(), bike, "it was never made");
    // Two suppositions are one step, and taking one back gives the numbers as they were.
    let back = heavier.what_if(&[("masses.rider.rear", "66 kg")]).unwrap();
    assert_eq!(back.fit_end(End::Rear).unwrap(), found);
    let basis = heavier.history_end(End::Rear).unwrap().basis();
    assert!(basis.starts_with("This change was not made: what readings without a date found"), "{basis}");
    let sheet = heavier.sheet(UnitSystem::Metric).unwrap().to_text(100);
    assert!(sheet.contains("This change was not made"), "{sheet}");
    // A correction is no change: it fits what was read on the bike as it now stands.
    let mended = bike.correct(&[("masses.rider.rear", "76 kg")]).unwrap();
    assert!(mended.fit_end(End::Rear).unwrap().rate.value > found.rate.value * 1.02);
}

/// Readings long past that no machine can give: what is read since still speaks, at both ends, and the sheet says what is
/// missing.
#[test]
fn old_readings_that_cannot_be_solved_silence_neither_the_sheet_nor_the_other_end() {
    // Longer than with the wheel off the ground.
    let nonsense = |reading: &Reading| if reading.load == Load::parse("bike + rider").unwrap() { 130e-3 } else { 0.0 };
    let rear = read_on(&[("2026-05-31", &nonsense), ("2026-06-30", &|_| 0.0)]);
    let front: Vec<Reading> = Bike::from_toml(PATROL).unwrap().readings_of(End::Front).cloned().collect();
    let dated = front.into_iter().map(|reading| Reading { date: Some("2026-06-30".to_owned()), ..reading });
    let bike = rear.with(|parts| parts.readings.extend(dated)).unwrap();
    let why = bike.history_end(End::Rear).unwrap_err().to_string();
    let history = bike.history().unwrap();
    assert_eq!(history.ends.iter().map(|one| one.end).collect::<Vec<_>>(), [End::Front]);
    assert_eq!(history.without, [(End::Rear, why.clone())]);
    let (found, alone) =
        (bike.advise_end(End::Rear).unwrap(), Bike::from_toml(PATROL).unwrap().advise_end(End::Rear).unwrap());
    assert_eq!((found.choices, found.actions, found.verdict), (alone.choices, alone.actions, alone.verdict));
    let sheet = bike.sheet(UnitSystem::Metric).unwrap();
    assert!(sheet.ends.len() == 2 && sheet.ends.iter().all(|part| part.springs.is_some()));
    let findings = &sheet.ends[1].findings;
    assert!(findings.iter().any(|one| one.text == format!("No history of this end: {why}.")), "{findings:?}");
    // Where no end has one, that is an error.
    assert_eq!(rear.history().unwrap_err().to_string(), why);
}

/// A link was changed and nothing is read since: advice, history and plan speak of the changed bike with the spring that was
/// found, and not of its label.
#[test]
fn a_changed_link_is_predicted_from_the_last_fit_by_advice_and_history_alike() {
    let first = read_on(&[("2026-05-31", &|_| 0.0)]);
    let key = "rear.linkage.points.link_frame";
    let longer = first.with_logged_change("2026-06-14", &[(key, "[\"-66 mm\", \"-93 mm\"]")], None).unwrap();
    let (before, advice) = (first.fit_end(End::Rear).unwrap(), longer.advise_end(End::Rear).unwrap());
    let close = |one: f64, other: f64| (one / other - 1.0).abs() < 1e-9;
    assert!(close(advice.fit.rate.value.si(), before.rate.value.si()), "{:?} {:?}", advice.fit.rate, before.rate);
    assert!(close(advice.fit.preload.value.si(), before.preload.value.si()));
    let history = longer.history_end(End::Rear).unwrap();
    let [rider, free] = history.predictions[0].targets.as_slice() else { panic!("{:?}", history.predictions) };
    let today = advice.today;
    assert_eq!((rider.predicted, free.predicted), (Some(today.rider_sag), Some(today.free_sag)));
    assert_eq!(advice.plan, longer.plan_end(End::Rear).unwrap());
    // By hand: the sag at which the changed end, with that spring, carries the load that was found.
    let rear = longer.rear().unwrap();
    let found = rear.with_spring_rate(before.rate.value, before.preload.value).unwrap();
    let load = before.loads.iter().find(|load| load.load == longer.parts().rider_load).unwrap().fitted.value;
    let crate::wheel::Settling::Settled { state, .. } = found.travel_under(load).unwrap() else { panic!("it settles") };
    assert!((state.travel - today.rider_sag.value).si().abs() < 1e-6, "{:?} {:?}", state.travel, today.rider_sag);
}

/// The sags that a history predicts, as readings of a later day.
fn as_predicted(first: &Bike, changed: &Bike, date: &str) -> Vec<Reading> {
    let ahead = changed.history_end(End::Rear).unwrap().predictions.remove(0);
    let row = |reading: &Reading| {
        let sag = ahead.sags.iter().find(|sag| sag.load == reading.load && sag.settled == reading.settled);
        let distance = Length::from_si(0.655) - sag.map_or(Length::from_si(0.0), |sag| sag.predicted.value);
        Reading { date: Some(date.to_owned()), distance, ..reading.clone() }
    };
    first.readings_of(End::Rear).map(row).collect()
}

#[test]
fn a_collar_that_was_not_turned_as_stated_is_named_with_the_preload_it_acts_as() {
    let first = read_on(&[("2026-05-31", &|_| 0.0)]);
    let turned = |preload: &str| {
        first.with_logged_change("2026-06-14", &[("rear.shock.spring.preload", preload)], None).unwrap()
    };
    let rows = as_predicted(&first, &turned("16 mm"), "2026-06-20");
    let stated = turned("20 mm").with(|parts| parts.readings.extend(rows)).unwrap();
    let prediction = stated.history_end(End::Rear).unwrap().predictions.remove(0);
    let Some(Cause::Preload { expected, found }) = prediction.cause else { panic!("{prediction:?}") };
    // Expected is the statement with what was found before the change; its label holds back what is found.
    let before = first.fit_end(End::Rear).unwrap().preload.value.si() - 0.014;
    assert!((expected.value.si() - before - 0.020).abs() < 1e-6, "{expected:?} {before}");
    assert!((before + 0.016..expected.value.si()).contains(&found.value.si()), "{found:?} {before}");
    let off = (found.value.si() - before - 0.016) / found.standard_uncertainty.si();
    assert!(off < 3.0, "{off} standard uncertainties");
    assert!(prediction.sentences(UnitSystem::Metric)[0].contains("There is less preload than stated"));
}

/// Fourteen times what a preload is known to: the set after doubts its readings sooner than the collar, and does not bear out what
/// would explain them.
#[test]
fn what_the_set_after_does_not_bear_out_is_not_named() {
    let first = read_on(&[("2026-05-31", &|_| 0.0)]);
    let turned = |preload: &str| {
        first.with_logged_change("2026-06-14", &[("rear.shock.spring.preload", preload)], None).unwrap()
    };
    let mut named = 0;
    for by in [4.0, 5.0, 8.0, 10.0, 12.0] {
        let rows = as_predicted(&first, &turned(&format!("{} mm", 20.0 - by)), "2026-06-20");
        let stated = turned("20 mm").with(|parts| parts.readings.extend(rows)).unwrap();
        let prediction = stated.history_end(End::Rear).unwrap().predictions.remove(0);
        match prediction.cause.as_ref().unwrap() {
            Cause::Preload { expected, found } => {
                named += 1;
                assert!(found.value < expected.value, "{by}: {expected:?} {found:?}");
            }
            cause => assert_eq!(*cause, Cause::Unknown, "{by}"),
        }
    }
    assert!((1..5).contains(&named), "{named}");
}

#[test]
fn what_is_not_known_of_the_pivots_is_in_what_is_predicted() {
    let predicted = |known: Option<&str>| {
        let first = read_on(&[("2026-05-31", &|_| 0.0)]);
        let first =
            known.map_or(first.clone(), |known| first.correct(&[("rear.linkage.point_uncertainty", known)]).unwrap());
        let key = "rear.linkage.points.link_frame";
        let moved = first.with_logged_change("2026-06-14", &[(key, "[\"-66 mm\", \"-93 mm\"]")], None).unwrap();
        moved.history_end(End::Rear).unwrap().predictions.remove(0).sags
    };
    let (exact, nearly, poor) = (predicted(None), predicted(Some("0.001 mm")), predicted(Some("2 mm")));
    for ((exact, nearly), poor) in exact.iter().zip(&nearly).zip(&poor) {
        // A thousandth of a millimetre is next to nothing.
        assert!((exact.predicted.value - nearly.predicted.value).si().abs() < 1e-5, "{exact:?} {nearly:?}");
        assert!(
            poor.predicted.standard_uncertainty > nearly.predicted.standard_uncertainty * 1.05,
            "{nearly:?} {poor:?}"
        );
    }
}
