//! Sentences as a reader meets them.

use super::words::Words;
use crate::decide::{Amount, Assumption, AssumptionKind, NextReading, Task};
use crate::record::{End, Load};
use crate::units::{Length, Mass, Quantity, Share, SpringRate, Time, Uncertain, UnitSystem, parse};

fn uncertain<Q: Quantity>(value: f64, of: f64, unit: &str) -> Uncertain<Q> {
    Uncertain::new(Q::of(value, unit).unwrap(), Q::of(of, unit).unwrap()).unwrap()
}

fn assumed(kind: AssumptionKind, value: Option<Amount>, task: Option<Task>) -> Assumption {
    let act =
        task.map(|task| NextReading { effort: task.effort(), task, remaining: Share::from_si(0.4), wanted_rate: None });
    let [of_spring, of_preload] = [0.25, 0.5].map(Share::from_si);
    Assumption { end: End::Rear, kind, value, of_spring, of_preload, act }
}

#[test]
fn an_assumption_says_its_value_what_it_costs_and_what_removes_it() {
    let preload = Some(Amount::Length(uncertain(12.0, 3.0, "mm")));
    let one = assumed(AssumptionKind::Preload, preload, Some(Task::SpringLength));
    assert_eq!(
        one.text(UnitSystem::Metric),
        "preload of today's spring: 12 ± 3 mm (25 % of the uncertainty of the spring, 50 % of that of the preload). \
         Removed by: the spring's length in place and free, about 45 min, which would leave 40 % of the uncertainty of the spring."
    );
    let kind = AssumptionKind::Kind { kind: "trail".to_owned() };
    assert_eq!(
        assumed(kind, None, None).text(UnitSystem::Metric),
        "kind of bike: trail, by its travel (25 % of the uncertainty of the spring, 50 % of that of the preload). Removed by: \
         state `kind` under `[bike]`."
    );
}

#[test]
fn every_act_has_its_words_and_its_time() {
    let rider = Load::parse("bike + rider").unwrap();
    for (task, said) in [
        (Task::Scale { load: rider.clone() }, "weigh front and rear with two scales, about 10 min"),
        (Task::Pairs { load: rider.clone(), pairs: 5 }, "one reading pushed down and one lifted, about 20 min"),
        (Task::ShockTable { steps: 10 }, "a table of wheel travel and shock length, about 65 min"),
        (Task::Unsprung, "the parts under the spring on a scale, about 1.5 h"),
        (Task::Extended { readings: 1 }, "measure it, about 5 min"),
    ] {
        let one = assumed(AssumptionKind::Unsprung, None, Some(task));
        assert_eq!(one.act_text(), said);
    }
    let gas = |value| assumed(AssumptionKind::Gas, value, Some(Task::Gas)).act_text();
    assert_eq!(gas(None), "the oil level, about 45 min");
    assert_eq!(gas(Some(Amount::Share(uncertain(10.0, 5.0, "%")))), "charge and rod of the shock, about 45 min");
    assert_eq!(assumed(AssumptionKind::Label, None, None).act_text(), "state it");
}

/// Where a task says that its outcome is written down, the file has that key.
#[cfg(feature = "serde")]
#[test]
fn the_key_that_a_task_names_is_one_that_the_file_has() {
    for (task, named, key) in [
        (Task::ShockTable { steps: 8 }, "`[rear.measured]`", "rear.measured"),
        (Task::SpringRate, "`[prior]`", "prior.rear.rate_tolerance"),
        (Task::SpringLength, "`[prior]`", "prior.rear.preload_uncertainty"),
        (Task::CapOff, "preload, to be stated", "front.fork.spring.preload"),
        (Task::Direction, "`[measuring.front]`", "measuring.front.direction"),
        (Task::Rake, "`rake`", "front.fork.rake"),
        (Task::Gas, "`air`", "front.fork.leg[0].air.oil_level"),
        (Task::Gas, "`reservoir`", "rear.shock.reservoir.rod_diameter"),
        (Task::Unsprung, "`unsprung`", "masses.unsprung.front"),
    ] {
        let text = task.text(UnitSystem::Metric);
        assert!(text.contains(named), "{text}");
        let address = crate::error::Address::parse(key).unwrap();
        assert!(crate::keys::shape_at(&address).is_some(), "{key}");
    }
    assert!(Task::ShockTable { steps: 8 }.text(UnitSystem::Metric).contains(" in 8 even steps "));
}

#[test]
fn a_rate_is_said_as_it_stands_on_the_label_and_converted() {
    let words = |units, rates: [&str; 2]| {
        let rates = rates.map(|rate| parse::<SpringRate>(rate).unwrap());
        Words { units }.rates(&rates)
    };
    assert_eq!(words(UnitSystem::Metric, ["4.4 N/mm", "4.4 N/mm"]), "4.4 N/mm");
    assert_eq!(words(UnitSystem::Metric, ["4.4 N/mm", "4 N/mm"]), "4.4 + 4 N/mm");
    // 9.80665 · 0.44 = 4.3149 and 9.80665 · 0.41 = 4.0207.
    assert_eq!(words(UnitSystem::Metric, ["0.44 kgf/mm", "0.41 kgf/mm"]), "0.44 + 0.41 kgf/mm (4.31 + 4.02 N/mm)");
    // Labels in two units are not put under one.
    assert_eq!(words(UnitSystem::Metric, ["0.44 kgf/mm", "4 N/mm"]), "4.31 + 4 N/mm");
    assert_eq!(words(UnitSystem::Inch, ["25 lbf/in", "24.5 lbf/in"]), "25 + 24.5 lbf/in");
}

#[test]
fn a_time_is_said_to_five_minutes_and_a_load_to_its_scale() {
    for (minutes, said) in [(1.0, "about 5 min"), (12.0, "about 10 min"), (85.0, "about 85 min"), (90.0, "about 1.5 h")]
    {
        assert_eq!(super::plan::about(Time::from_si(60.0 * minutes)), said);
    }
    let load = Load::bike_alone();
    let ballast = Task::Ballast { load, mass: Mass::from_si(20.0), pairs: 1 }.text(UnitSystem::Metric);
    assert!(ballast.starts_with("Under `bike` with ballast tied to the seat that adds 20 kg"), "{ballast}");
    assert!(ballast.contains(": one reading after pushing down and one after lifting."), "{ballast}");
}

#[cfg(feature = "serde")]
mod history {
    use super::*;
    use crate::history::{Cause, Drift, Prediction, Shift};
    use crate::infer::fit::ChiSquare;
    use crate::record::Direction;
    use crate::units::Force;

    fn shift<Q: Quantity>(before: f64, after: f64, unit: &str, probability: f64) -> Shift<Q> {
        let [before_is, after_is] = [before, after].map(|value| uncertain(value, 1.0, unit));
        let change = uncertain(after - before, 1.0, unit);
        Shift { before: before_is, after: after_is, change, deviations: after - before, probability }
    }

    fn of_preload(before: f64, after: f64, probability: f64) -> String {
        let preload = Some(shift::<Length>(before, after, "mm", probability));
        let drift = Drift { earlier: 0, later: 1, preload, friction: shift::<Force>(50.0, 50.0, "N", 1.0) };
        drift.sentences(UnitSystem::Metric)[1].clone()
    }

    #[test]
    fn a_drift_is_named_with_its_odds_and_its_likely_reason() {
        assert_eq!(
            of_preload(10.0, 16.0, 0.001),
            "Preload grew from 10.0 ± 1.0 mm to 16.0 ± 1.0 mm, by 6.0 ± 1.0 mm: more than noise (1 in 1000 by chance). The \
             adjuster was turned, or is not where it is thought to be."
        );
        let less = of_preload(16.0, 10.0, 0.001);
        assert!(less.starts_with("Preload fell from 16.0 ± 1.0 mm to 10.0 ± 1.0 mm, by 6.0 ± 1.0 mm"), "{less}");
        assert!(less.ends_with("The spring has settled, or the adjuster has turned back."), "{less}");
        let perhaps = of_preload(10.0, 12.0, 0.04);
        assert!(
            perhaps.ends_with("perhaps more than noise (1 in 25 by chance). Another set of readings would show."),
            "{perhaps}"
        );
        let noise = of_preload(10.0, 11.0, 0.4);
        assert_eq!(
            noise,
            "Preload: no change beyond noise (10.0 ± 1.0 mm, then 11.0 ± 1.0 mm; as much in 40 % by chance)."
        );
    }

    #[test]
    fn a_prediction_that_failed_says_which_way_and_what_to_look_at() {
        let said = |cause| {
            let chi_square = Some(ChiSquare { value: 30.0, degrees: 4, probability: 5e-6 });
            let (direction, cause) = (Direction::Vertical, Some(cause));
            let failed = Prediction {
                earlier: 0,
                later: Some(1),
                direction,
                sags: Vec::new(),
                chi_square,
                cause,
                targets: Vec::new(),
            };
            failed.sentences(UnitSystem::Metric).remove(0)
        };
        let head = "The prediction did not hold: over 4 sags χ² is 30.0, 1 in 200000 by chance. ";
        let [few, many] = [10.0, 16.0].map(|value| uncertain::<Length>(value, 1.0, "mm"));
        assert_eq!(
            said(Cause::Preload { expected: few, found: many }),
            format!(
                "{head}There is more preload than stated: it acts as 16.0 ± 1.0 mm, stated 10.0 ± 1.0 mm. Measure the spring in \
                 its place."
            )
        );
        assert!(said(Cause::Preload { expected: many, found: few }).contains("There is less preload than stated"));
        let unknown = "No single cause stands out: take the readings again, the extended one too.";
        assert_eq!(said(Cause::Unknown), format!("{head}{unknown}"));
    }
}
