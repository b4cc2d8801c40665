//! Whatever is asked of a bike, the answers are of one decision: headline, table, plan, scenarios, history, sheet and data.
//!
//! Held over simulated garages, with and without a log, by [`verdicts`](crate::verdicts), and over any bike that a file can say
//! by [`decisions`](crate::decisions).

use wheelrate::Bike;
use wheelrate::decide::{Act, Decision, Verdict, Way};
use wheelrate::infer::Finding;
use wheelrate::record::{End, SagKind};
use wheelrate::spring::{Preloaded, Spring};
use wheelrate::units::{Quantity, UnitSystem};

/// Whatever is asked of a bike, the answers are of one decision.
pub(crate) fn agree(bike: &Bike, end: End, decision: &Decision) {
    assert_eq!(bike.plan_end(end).unwrap(), decision.plan);
    let scenarios = bike.advise_scenarios_end(end).unwrap();
    assert_eq!(&scenarios.decision, decision);
    for spring in &scenarios.springs {
        assert_eq!(decision.choice(spring.rate), spring.choices.first());
    }
    let best = decision.action().unwrap();
    assert!(decision.actions.iter().all(|action| action.utility.si() <= decision.actions[0].utility.si()));
    let to = match &decision.verdict {
        Verdict::ChangeSpring { to, .. } => Act::Fit { rate: *to },
        Verdict::ChangePreload { by } => Act::Turn { by: *by },
        Verdict::Keep => Act::Leave,
        Verdict::NoneSuits { best, .. } => *best,
        _ => best.act,
    };
    assert_eq!(to, best.act, "the verdict is on the best action");
    let advised = decision.choice_of(best.act).map(|choice| choice.rate);
    assert_eq!(decision.contenders.first().copied(), advised, "the best bet is the first that may be best");
    let is_misread = matches!(decision.verdict, Verdict::MeasureFirst { misread: Some(_), .. });
    let headline = decision.headline(UnitSystem::Metric);
    let percent = |share: f64| if share > 0.99 { "over 99 %".to_owned() } else { format!("{:.0} %", 100.0 * share) };
    if best.probability.si() > 0.01 && !is_misread {
        assert!(headline.contains(&percent(best.probability.si())), "{headline}");
    }
    let sheet = bike.sheet(UnitSystem::Metric).unwrap();
    let part = sheet.ends.iter().find(|part| part.end == end).unwrap();
    let glance = &part.glance;
    // The sheet's table has the springs of the decision in its order, and its verdict.
    assert_eq!((part.verdict, &part.headline), (Some(decision.verdict.name()), &headline));
    let springs = part.springs.as_ref().unwrap();
    let rates: Vec<Option<f64>> = springs.rows.iter().map(|row| row[0].value).collect();
    let labels: Vec<Option<f64>> =
        decision.choices.iter().map(|choice| Some(choice.rate.in_unit("N/mm").unwrap())).collect();
    let same = |(one, other): (&Option<f64>, &Option<f64>)| {
        one.zip(*other).is_some_and(|(one, other)| (one / other - 1.0).abs() < 1e-9)
    };
    assert!(rates.len() == labels.len() && rates.iter().zip(&labels).all(same), "{rates:?} {labels:?}");
    assert_eq!(part.advised.and_then(|row| decision.choices.get(row)), decision.advised());
    as_data(decision);
    // The first screen names the first step of the plan, and says that there is none only where there is none.
    // With nothing read at all it names the first load that was never read.
    let step = decision.plan.steps.first().map(|step| &step.task);
    let lack = decision.lacks.first().filter(|_| decision.fit.findings.contains(&Finding::NoReadings));
    let first = lack.map(|lack| &lack.task).or(step).map(|task| task.text(UnitSystem::Metric));
    assert_eq!(glance.next.is_some(), first.is_some(), "{:?}", glance.next);
    assert!(glance.next.as_ref().zip(first).is_none_or(|(next, first)| next.contains(&first)), "{:?}", glance.next);
    let chance = glance.chance.as_ref().unwrap();
    assert!(best.probability.si() < 0.01 || chance.contains(&percent(best.probability.si())), "{chance}");
    // What is to be done stands in both in the same words, but for what it hangs on.
    let said = |text: &str| text.split(": ").next().unwrap_or_default().trim_end_matches('.').to_owned();
    assert!(headline.starts_with(&said(&glance.decision)), "{headline}\n{}", glance.decision);
}

/// The springs of an end, with their keys.
fn springs(bike: &Bike, end: End) -> Vec<(String, &Preloaded)> {
    let rear =
        || bike.rear().ok()?.shock().parts().spring.as_ref().map(|spring| ("rear.shock.spring".to_owned(), spring));
    if end == End::Rear {
        return rear().into_iter().collect();
    }
    let front = bike.front().unwrap();
    let Ok(fork) = front.fork() else {
        return front.main_springs().map(|spring| ("front.shock.spring".to_owned(), spring)).collect();
    };
    let legs = fork.legs().iter().enumerate();
    legs.filter_map(|(leg, parts)| Some((format!("front.fork.leg[{leg}].spring"), parts.spring()?))).collect()
}

/// Whether another spring is another rate and nothing more: the springs of the end are single and alike.
pub(crate) fn is_plain(bike: &Bike, end: End) -> bool {
    let springs = springs(bike, end);
    springs.iter().all(|(_, spring)| matches!(spring.spring(), Spring::Coil(_)) && *spring == springs[0].1)
}

/// History speaks of the same: the collar turned as advised and nothing read since, the sags that were advised.
pub(crate) fn then_as_advised(bike: &Bike, end: End, decision: &Decision) {
    let Some(best) = decision.action() else { return };
    let (Act::Turn { by }, Some(Way::Turned)) = (best.act, best.way) else { return };
    let outcome = decision.fitted().unwrap().outcome.unwrap();
    let to = |spring: &Preloaded| format!("{:.9} mm", 1e3 * (spring.preload() + outcome.preload_change.value).si());
    let keys: Vec<(String, String)> =
        springs(bike, end).into_iter().map(|(key, spring)| (format!("{key}.preload"), to(spring))).collect();
    let turned = bike.what_if(&keys.iter().map(|(key, to)| (key.as_str(), to.as_str())).collect::<Vec<_>>());
    let then = turned.unwrap().advise_end(end).unwrap().today;
    // A tenth of a millimetre: text of the preload, and a posterior carried to first order.
    for (one, other) in [(then.rider_sag, outcome.rider_sag), (then.free_sag, outcome.free_sag)] {
        assert!((one.value - other.value).si().abs() < 1e-4, "by {by:?}: {one:?} {other:?}");
        let ratio = (one.standard_uncertainty / other.standard_uncertainty).value;
        assert!(ratio.ln().abs() < 0.1, "{one:?} {other:?}");
    }
}

/// The decision as data says what it says as an object.
fn as_data(decision: &Decision) {
    let data = serde_json::to_value(decision).unwrap();
    assert_eq!(data["verdict"]["verdict"], decision.verdict.name().replace(' ', "_"));
    let (actions, choices) = (data["actions"].as_array().unwrap(), data["choices"].as_array().unwrap());
    assert_eq!((actions.len(), choices.len()), (decision.actions.len(), decision.choices.len()));
    for (row, action) in actions.iter().zip(&decision.actions) {
        assert_eq!(*row, serde_json::to_value(action).unwrap());
    }
    assert_eq!(data["plan"], serde_json::to_value(&decision.plan).unwrap());
    assert_eq!(data["contenders"], serde_json::to_value(&decision.contenders).unwrap());
}

/// The same of a bike with a log: its readings dated, what was advised done, and nothing read since. History then predicts what
/// advice takes for today, and all answers are of one decision again. A file that is written and read says the same.
pub(crate) fn agree_in_time(bike: &Bike, end: End, decision: &Decision) {
    let dated = |parts: &mut wheelrate::bike::BikeParts| {
        parts.readings.iter_mut().for_each(|reading| reading.date = Some("2026-05-31".to_owned()));
    };
    let read = bike.with(dated).unwrap();
    assert_eq!(read.advise_end(end).unwrap().actions, decision.actions, "a date changes nothing");
    let best = decision.action().and_then(|action| decision.choice_of(action.act));
    let Some((choice, outcome)) = best.and_then(|choice| Some((choice, choice.outcome?))) else { return };
    let rate = format!("{:.9} N/mm", choice.rate.in_unit("N/mm").unwrap());
    let preload = format!("{:.9} mm", 1e3 * outcome.preload.value.si());
    let parts = springs(bike, end).into_iter().map(|(key, _)| key);
    let keys = parts.flat_map(|part| [(format!("{part}.rate"), &rate), (format!("{part}.preload"), &preload)]);
    let keys: Vec<(String, &String)> = keys.collect();
    let values: Vec<(&str, &str)> = keys.iter().map(|(key, value)| (key.as_str(), value.as_str())).collect();
    let done = read.with_logged_change("2026-06-14", &values, None).unwrap();
    let after = done.advise_end(end).unwrap();
    agree(&done, end, &after);
    let history = done.history_end(end).unwrap();
    if let Some(prediction) = history.predictions.last() {
        for target in &prediction.targets {
            let today = match target.sag {
                SagKind::Rider => after.today.rider_sag,
                SagKind::Free => after.today.free_sag,
            };
            assert_eq!(target.predicted, Some(today));
        }
    }
    let again = Bike::from_toml(&done.to_toml()).unwrap().advise_end(end).unwrap();
    assert_eq!((again.verdict.name(), again.actions.len()), (after.verdict.name(), after.actions.len()));
    for (one, other) in again.actions.iter().zip(&after.actions) {
        // Numbers of a file are written to the last digit but one.
        assert!((one.utility.si() - other.utility.si()).abs() < 1e-6, "{one:?} {other:?}");
    }
}
