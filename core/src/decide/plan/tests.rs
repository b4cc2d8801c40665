//! Plans of the shipped bike with readings taken away, and what is foreseen against what then happens.

use super::*;
use crate::bike::BikeParts;
use crate::demo::PATROL;
use crate::record::{Direction, OnSale, Range, SagTarget};
use crate::units::{Length, SpringRate, UnitSystem};

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

/// The demo with the readings of the rear taken once.
fn read_once() -> Bike {
    let demo = demo();
    let mut seen = Vec::new();
    let once = demo.readings().iter().filter(|reading| {
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
    let bike = read_once().correct(&[("rear.linkage.point_uncertainty", "2 mm")]).unwrap();
    let plan = bike.plan_end(End::Rear).unwrap();
    assert!((1..=MOST_STEPS).contains(&plan.steps.len()), "{plan:?}");
    assert!(plan.steps.windows(2).all(|pair| pair[0].task.turn() <= pair[1].task.turn()));
    let left: Vec<f64> = plan.steps.iter().map(|step| step.remaining.si()).collect();
    assert!(left.windows(2).all(|pair| pair[1] < pair[0]) && left[0] < 1.0, "{left:?}");
    for step in &plan.steps {
        let [now, then] = step.wanted_rate.unwrap();
        assert!(then < now);
    }
    assert!(plan.then.lands >= plan.now.lands, "a reading that is heeded does no harm: {plan:?}");
    let most: f64 = plan.steps.iter().map(|step| step.effort.si()).sum();
    assert!(plan.effort.si() <= most && plan.effort.si() > 0.0);
}

#[test]
fn nothing_to_narrow_nothing_foreseen() {
    let study = demo().study(End::Rear).unwrap();
    let now = study.adviser().unwrap().foresee(&study.solved.posterior.covariance).unwrap();
    let best = study.advise().unwrap().choices[0].probability;
    // The same number by the same integral; the draws move nothing.
    assert!((now.lands.si() - best.si()).abs() < 1e-6, "{now:?} {best:?}");
    assert!(now.clear.si() == 0.0 || now.clear.si() == 1.0);
}

#[test]
fn the_average_of_what_may_come_is_what_is_known_now() {
    // Total probability: what a spring's chance is on average over what readings may say is its chance now, so that with one
    // spring on the list, and nothing to choose, the plan adds nothing, and with more springs something.
    let wanted = |from: f64, to: f64| {
        let (from, to) = (Length::from_si(from), Length::from_si(to));
        let range = Range::new(from, to).unwrap();
        Some(SagTarget::new(range.middle(), range, Direction::Vertical).unwrap())
    };
    let foreseen = |on_sale: OnSale| {
        let mut parts = read_once().parts().clone();
        parts.targets.rear.free_sag = wanted(11e-3, 17e-3);
        parts.on_sale = on_sale;
        let adviser = Bike::new(parts).unwrap().study(End::Rear).unwrap().adviser().unwrap();
        let covariance = &adviser.solved().posterior.covariance;
        (adviser.foresee(covariance).unwrap(), adviser.foresee(&(covariance * 0.1)).unwrap())
    };
    let (now, then) = foreseen(OnSale::default());
    assert!(now.lands.si() > 0.3 && now.lands.si() < 0.98, "{now:?}");
    assert!((now.lands.si() - then.lands.si()).abs() < 1e-12, "{now:?} {then:?}");
    let rates = [50e3, 51e3, 53e3, 54e3].map(SpringRate::from_si).to_vec();
    let (now, then) = foreseen(OnSale::new(Vec::new(), rates));
    assert!(then.lands.si() > now.lands.si() + 1e-3, "{now:?} {then:?}");
}

#[test]
fn a_table_of_shock_lengths_is_asked_for_where_the_pivots_are_the_trouble() {
    let asked = |uncertainty: &str| {
        let bike = demo().correct(&[("rear.linkage.point_uncertainty", uncertainty)]).unwrap();
        let adviser = bike.study(End::Rear).unwrap().adviser().unwrap();
        let tasks = adviser.solved().tasks(adviser.tools().unwrap());
        let covariance = &adviser.solved().posterior.covariance;
        let table = tasks.iter().find(|(task, _)| matches!(task, Task::ShockTable { .. })).unwrap();
        let wanted = adviser.deciding_now().unwrap().wanted.unwrap();
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

#[test]
fn a_clear_decision_is_said_to_be_clear() {
    let plan = demo().plan_end(End::Rear).unwrap();
    assert_eq!(plan.worth, Worth::Clear, "{plan:?}");
    let text = plan.text(UnitSystem::Metric);
    assert!(text.len() == 1 && text[0].starts_with("Nothing more needs measuring"), "{text:?}");
    let [now, then] = [plan.now, plan.then].map(|foresight| crate::infer::finding::percent(foresight.lands.si()));
    assert_eq!(now == then, text[0].ends_with(&format!("would stay at {now}.")), "{text:?}");
}
