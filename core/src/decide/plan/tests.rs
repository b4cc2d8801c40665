//! Plans of the shipped bike with readings taken away, and what is foreseen against what then happens.

use super::*;
use crate::bike::BikeParts;
use crate::demo::PATROL;
use crate::units::{Length, UnitSystem};

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

/// The demo with the readings of the rear taken once.
fn read_once() -> Bike {
    let demo = demo();
    let mut seen = Vec::new();
    let once = demo.parts().readings.iter().filter(|reading| {
        let kind = (reading.end, reading.load.clone(), reading.settled);
        let first = !seen.contains(&kind);
        seen.push(kind);
        first
    });
    let readings = once.cloned().collect();
    Bike::new(BikeParts { readings, ..demo.parts().clone() }).unwrap()
}

#[test]
fn steps_narrow_one_after_the_other_in_the_order_of_an_evening() {
    let free = crate::record::Prices { measuring: Share::from_si(0.0), ..crate::record::Prices::default() };
    let bike = read_once()
        .correct(&[("rear.linkage.point_uncertainty", "2 mm")])
        .unwrap()
        .with(|parts| parts.prices = free)
        .unwrap();
    let plan = bike.plan_end(End::Rear).unwrap();
    assert!((1..=MOST_STEPS).contains(&plan.steps.len()), "{plan:?}");
    assert!(plan.steps.windows(2).all(|pair| pair[0].task.turn() <= pair[1].task.turn()));
    let left: Vec<f64> = plan.steps.iter().map(|step| step.remaining.si()).collect();
    assert!(left.windows(2).all(|pair| pair[1] < pair[0]) && left[0] < 1.0, "{left:?}");
    for step in &plan.steps {
        let [now, then] = step.wanted_rate.unwrap();
        assert!(then < now);
    }
    let most: f64 = plan.steps.iter().map(|step| step.effort.si()).sum();
    assert!(plan.effort.si() <= most && plan.effort.si() > 0.0);
}

#[test]
fn a_table_of_shock_lengths_is_asked_for_where_the_pivots_are_the_trouble() {
    let asked = |uncertainty: &str| {
        let bike = demo().correct(&[("rear.linkage.point_uncertainty", uncertainty)]).unwrap();
        let adviser = bike.study(End::Rear).unwrap().adviser().unwrap();
        let tasks = adviser.solved().tasks(adviser.tools().unwrap());
        let covariance = &adviser.solved().posterior.covariance;
        let table = tasks.iter().find(|(task, _)| matches!(task, Task::ShockTable { .. })).unwrap();
        let wish = adviser.wish(adviser.places().unwrap()).unwrap();
        let wanted = adviser.deciding(adviser.called_for(&wish).as_ref(), true).wanted.unwrap();
        spread(&after(covariance, &table.1), &wanted) / spread(covariance, &wanted)
    };
    let (well, badly) = (asked("0.1 mm"), asked("4 mm"));
    assert!(well > 0.99 && badly < 0.8, "{well} {badly}");
    // Taken as exact there is nothing to learn from a table.
    let adviser = demo().study(End::Rear).unwrap().adviser().unwrap();
    let tasks = adviser.solved().tasks(adviser.tools().unwrap());
    assert!(tasks.iter().all(|(task, _)| !matches!(task, Task::ShockTable { .. })));
}

#[test]
fn a_misread_value_comes_first_and_alone() {
    let mut parts = demo().parts().clone();
    let wrong = parts.readings.last_mut().unwrap();
    wrong.distance += Length::from_si(0.05);
    let plan = Bike::new(parts).unwrap().plan_end(End::Rear).unwrap();
    assert_eq!(plan.worth, Worth::RepeatFirst);
    assert!(matches!(plan.steps.as_slice(), [NextReading { task: Task::Repeat { .. }, .. }]));
    assert!(plan.text(UnitSystem::Metric)[0].contains("take it again"));
}

/// The demo with its lone extended reading in front taken twice.
fn extended_twice() -> Bike {
    let demo = demo();
    let is_extended = |one: &&crate::record::Reading| one.end == End::Front && one.load == crate::record::Load::None;
    let extended = demo.parts().readings.iter().find(is_extended).unwrap().clone();
    demo.with(|parts| parts.readings.push(extended)).unwrap()
}

#[test]
fn a_lone_extended_reading_is_asked_for_once_more_and_the_verdict_hangs_on_it() {
    let [lone, twice] = [demo(), extended_twice()].map(|bike| bike.advise_end(End::Front).unwrap());
    assert_eq!(lone.conditions, [crate::infer::Condition::LoneExtended]);
    assert_eq!(lone.verdict.name(), twice.verdict.name(), "the verdict stands");
    assert_eq!(lone.plan.worth, Worth::Check);
    assert!(matches!(lone.plan.steps.as_slice(), [NextReading { task: Task::Extended { readings: 1 }, .. }]));
    let [first, step] = &lone.plan.text(UnitSystem::Metric)[..] else { panic!("{:?}", lone.plan) };
    assert!(first.contains("read it a second time") && step.contains("a second reading, from scratch"), "{step}");
    let (then, now) = (twice.headline(UnitSystem::Metric), lone.headline(UnitSystem::Metric));
    assert!(now.starts_with("If the extended reading is right: keep ") && then.starts_with("Keep "), "{now} {then}");
    // Where an evening is worth it, the second reading is among its steps.
    let free = crate::record::Prices { measuring: Share::from_si(0.0), ..crate::record::Prices::default() };
    let plan = read_once().with(|parts| parts.prices = free).unwrap().plan_end(End::Rear).unwrap();
    let asked = plan.steps.iter().any(|step| matches!(step.task, Task::Extended { readings: 1 }));
    assert!(asked, "{plan:?}");
}

#[test]
fn a_clear_decision_is_said_to_be_clear() {
    let plan = extended_twice().plan_end(End::Front).unwrap();
    assert_eq!(plan.worth, Worth::Clear, "{plan:?}");
    assert!(plan.steps.is_empty() && plan.effort.si() == 0.0, "a step whose gain is nil is not offered");
    let text = plan.text(UnitSystem::Metric);
    assert!(text.len() == 1 && text[0].starts_with("Nothing more needs measuring"), "{text:?}");
}

#[test]
fn an_evening_is_offered_for_what_it_gains_over_its_price() {
    for price in [0.0, 0.01, 0.05, 0.5] {
        let prices = crate::record::Prices { measuring: Share::from_si(price), ..crate::record::Prices::default() };
        let decision = read_once().with(|parts| parts.prices = prices).unwrap().advise_end(End::Rear).unwrap();
        let plan = &decision.plan;
        let gain = plan.then.utility.si() - plan.now.utility.si();
        assert_eq!(plan.worth == Worth::Measure, gain > price, "{price}: {plan:?}");
        assert_eq!(plan.steps.is_empty(), !matches!(plan.worth, Worth::Measure | Worth::Check));
        assert_eq!(
            matches!(decision.verdict, crate::decide::Verdict::MeasureFirst { .. }),
            plan.worth == Worth::Measure
        );
        assert!(gain >= 0.0, "choosing anew does no harm: {plan:?}");
    }
}

#[test]
fn the_most_that_knowing_everything_could_gain_is_added_up_by_hand() {
    let share = Share::from_si;
    let mut adviser = demo().study(End::Rear).unwrap().adviser().unwrap();
    adviser.prices = crate::record::Prices { collar: share(0.01), spring: share(0.05), measuring: share(0.02) };
    let action = |act: Act, probability: f64, utility: f64| Action {
        act,
        probability: share(probability),
        way: None,
        utility: share(utility),
    };
    let by = Length::from_si(1e-3);
    let fit = action(Act::Fit { rate: crate::units::SpringRate::from_si(56e3) }, 0.7, 0.65);
    let turned = [action(Act::Turn { by }, 0.3, 0.29), action(Act::Turn { by }, 0.6, 0.59)];
    let left = action(Act::Leave, 0.4, 0.4);
    let close = |actions: &[Action], by_hand: f64| {
        let found = adviser.most_gained(actions);
        assert!((found - by_hand).abs() < 1e-12, "{found} {by_hand}");
    };
    // A spring that lands for sure, 1 − 0.05 − 0.65. Each cheaper one for sure as often as now or twice as often: 0.6·0.04 of
    // the first turn, 1·0.04 of the second, 0.4·0.05 of what is left as it is.
    close(&[fit, turned[0], turned[1], left], 0.3 + 0.024 + 0.04 + 0.02);
    // Nothing is cheaper than to leave it.
    close(&[left, fit, turned[0]], 0.6);
    close(&[turned[1], left, fit], 1.0 - 0.01 - 0.59 + 0.4 * 0.01);
    close(&[], 0.0);
}

#[test]
fn only_a_second_extended_reading_beside_a_lone_one_is_a_check() {
    let adviser = |bike: &Bike| bike.study(End::Front).unwrap().adviser().unwrap();
    let (lone, twice) = (adviser(&demo()), adviser(&extended_twice()));
    assert!(lone.is_check(&Task::Extended { readings: 1 }));
    assert!(!twice.is_check(&Task::Extended { readings: 1 }));
    for task in [Task::Weigh, Task::CapOff, Task::SpringRate] {
        assert!(!lone.is_check(&task) && !twice.is_check(&task), "{task:?}");
    }
}

#[test]
fn an_evening_that_gains_its_price_and_no_more_is_not_offered() {
    let share = Share::from_si;
    let mut adviser = demo().study(End::Front).unwrap().adviser().unwrap();
    // Shares that are sums of powers of two, so that the gain is the price to the bit.
    adviser.prices.measuring = share(0.25);
    let fit = adviser.own.fit();
    let task = Task::SpringRate;
    let effort = task.effort();
    let step = NextReading { task, remaining: share(0.5), wanted_rate: None, effort };
    let worth = |gain: f64| {
        let seen = |utility: f64| Foresight { lands: share(0.99), utility: share(utility), changes: share(0.0) };
        let evening = Evening { steps: vec![step.clone()], check: None, now: seen(0.5), then: Some(seen(0.5 + gain)) };
        adviser.plan(&fit, &evening)
    };
    assert_eq!(worth(0.25).worth, Worth::Clear);
    assert_eq!(worth(0.24).worth, Worth::Clear);
    let plan = worth(0.26);
    assert_eq!((plan.worth, plan.steps.len(), plan.effort), (Worth::Measure, 1, effort));
}
