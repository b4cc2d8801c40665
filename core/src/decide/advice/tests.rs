//! Verdicts on the demo bike, its targets, catalogue and readings changed.

use super::*;
use crate::bike::BikeParts;
use crate::decide::Reach;
use crate::record::{Measuring, OnSale, Settled, Targets};
use crate::units::UnitSystem;

fn demo() -> Bike {
    Bike::from_toml(crate::demo::PATROL).unwrap()
}

fn mm(length: f64) -> Length {
    Length::from_si(length * 1e-3)
}

/// The rear of the demo bike wanted at other sags.
fn wanted(rider: [f64; 2], free: Option<[f64; 2]>) -> Bike {
    let demo = demo();
    let target = |[from, to]: [f64; 2]| {
        let range = Range::new(mm(from), mm(to)).unwrap();
        SagTarget { value: range.middle(), range, direction: Direction::Vertical }
    };
    let targets = Targets { rider_sag: Some(target(rider)), free_sag: free.map(target) };
    let targets = demo.parts().targets.with(End::Rear, targets);
    Bike::new(BikeParts { targets, discipline: None, ..demo.parts().clone() }).unwrap()
}

fn advise(bike: &Bike) -> EndAdvice {
    bike.advise_end(End::Rear).unwrap()
}

fn spoken(advice: &EndAdvice) -> String {
    let units = UnitSystem::Metric;
    format!("{}\n{}", advice.headline(units), advice.reasons(units).join("\n"))
}

#[test]
fn keep_what_is_right() {
    let advice = advise(&wanted([105.0, 116.0], Some([18.0, 30.0])));
    assert_eq!(advice.verdict, Verdict::Keep, "{:?}", advice.today);
    assert!(spoken(&advice).starts_with("Keep the 52 N/mm spring and its preload: as they are, both sags land with "));
}

#[test]
fn set_the_preload_when_that_is_all() {
    let advice = advise(&wanted([97.0, 107.0], Some([8.0, 22.0])));
    assert!(matches!(advice.verdict, Verdict::ChangePreload { by } if by.si() > 2e-3), "{:?}", advice.verdict);
    assert!(spoken(&advice).contains("2.5 turns more"), "{}", spoken(&advice));
}

#[test]
fn without_a_list_none_is_spoken_of() {
    let advice = advise(&Bike::new(BikeParts { on_sale: OnSale::default(), ..demo().parts().clone() }).unwrap());
    assert!(matches!(advice.verdict, Verdict::NoneSuits { stiffer: Some(true), .. }), "{:?}", advice.verdict);
    assert!(spoken(&advice).starts_with("Today's spring is not likely to give both sags, and no other is stated"));
}

#[test]
fn too_much_free_sag_means_too_stiff() {
    let advice = advise(&wanted([97.0, 107.0], Some([3.0, 9.0])));
    assert!(matches!(
        advice.verdict,
        Verdict::ChangeSpring { stiffer: false, .. } | Verdict::NoneSuits { stiffer: Some(false), .. }
    ));
    assert!(spoken(&advice).contains("too much free sag means the spring is too stiff"), "{}", spoken(&advice));
    assert!(advice.wanted.unwrap().rate.value < advice.fit.springs[0].value);
}

#[test]
fn without_a_free_sag_target_no_spring_is_judged() {
    let advice = advise(&wanted([98.0, 106.0], None));
    assert!(matches!(advice.verdict, Verdict::ChangePreload { .. }), "{:?}", advice.verdict);
    assert!(advice.wanted.is_none());
    assert!(spoken(&advice).contains("state one to have the rate judged"), "{}", spoken(&advice));
}

#[test]
fn nothing_on_sale_that_suits() {
    let demo = demo();
    let on_sale = OnSale::new(Vec::new(), vec![SpringRate::from_si(50e3), SpringRate::from_si(54e3)]);
    let advice = advise(&Bike::new(BikeParts { on_sale, ..demo.parts().clone() }).unwrap());
    assert_eq!(advice.verdict, Verdict::NoneSuits { nearest: Some(SpringRate::from_si(54e3)), stiffer: Some(true) });
    assert!(spoken(&advice).contains("Look for a stiffer one. The nearest that can be set is 54 N/mm."));
}

#[test]
fn readings_that_cannot_tell_ask_for_more() {
    // A free sag range whose edge lies where today's spring would come out.
    let demo = demo();
    let coarse = Measuring::new(Direction::Vertical, mm(3.0)).unwrap();
    let bike = wanted([98.0, 106.0], Some([15.5, 30.0]));
    let measuring = demo.parts().measuring.with(End::Rear, Some(coarse));
    let advice = advise(&Bike::new(BikeParts { measuring, ..bike.parts().clone() }).unwrap());
    let Verdict::CannotTell { between, misread: None } = &advice.verdict else { panic!("{:?}", advice.verdict) };
    assert!(between.len() > 1 && between[0] == SpringRate::from_si(52e3), "{between:?}");
    assert!(spoken(&advice).contains("cannot tell"));
    assert!(
        !advice.next.is_empty()
            && advice.next[0].text(UnitSystem::Metric).contains("of the uncertainty of this advice")
    );
}

#[test]
fn a_misread_value_comes_first() {
    let demo = demo();
    let mut parts = demo.parts().clone();
    let place =
        parts.readings.iter().position(|reading| reading.settled == Some(Settled::Low) && reading.end == End::Rear);
    let place = place.unwrap();
    parts.readings[place].distance += mm(20.0);
    let advice = advise(&Bike::new(parts).unwrap());
    assert!(
        matches!(advice.verdict, Verdict::CannotTell { misread: Some(found), .. } if found == place),
        "{:?}",
        advice.fit.findings
    );
    assert!(matches!(advice.next[0].task, Task::Repeat { reading, .. } if reading == place));
}

#[test]
fn probabilities_rank_and_preloads_are_checked() {
    let advice = advise(&demo());
    assert!(advice.choices.windows(2).all(|pair| pair[0].probability.si() >= pair[1].probability.si()));
    let at = |rate: f64| advice.choice(SpringRate::from_si(rate * 1e3)).unwrap();
    let preload = |rate: f64| at(rate).outcome.unwrap().preload.value;
    let free = |rate: f64| at(rate).outcome.unwrap().free_sag.value;
    assert!(preload(50.0) > preload(52.0) && preload(52.0) > preload(60.0));
    assert!(free(50.0) < free(52.0) && free(52.0) < free(60.0));
    assert!(at(52.0).is_fitted && at(52.0).damping_factor == 1.0);
    let ratio = 60e3 / advice.fit.rate.value.si();
    assert!((at(60.0).damping_factor - ratio.sqrt()).abs() < 1e-12);
    // 14 mm stated and 6.4 mm left at full travel: 20 mm more would bind.
    assert!(at(52.0).outcome.unwrap().bind_clearance.unwrap().si() > 0.0);
    let soft = advise(&wanted([50.0, 60.0], Some([1.0, 9.0])));
    assert!(matches!(soft.fitted().unwrap().reach, Reach::Binds(_) | Reach::AboveMost(_)), "{:?}", soft.fitted());
}

#[test]
fn a_target_in_another_direction_is_converted() {
    let demo = demo();
    let front = demo.advise_end(End::Front).unwrap();
    let cosine = demo.front().unwrap().fork().rake().si().cos();
    let vertical = |target: SagTarget| SagTarget {
        value: target.value * cosine,
        range: Range { from: target.range.from * cosine, to: target.range.to * cosine },
        direction: Direction::Vertical,
    };
    let Targets { rider_sag, free_sag } = *demo.targets(End::Front);
    let targets = Targets { rider_sag: rider_sag.map(vertical), free_sag };
    let parts = BikeParts { targets: demo.parts().targets.with(End::Front, targets), ..demo.parts().clone() };
    let same = Bike::new(parts).unwrap().advise_end(End::Front).unwrap();
    assert_eq!(same.direction, Direction::Vertical);
    for (along, vertical) in front.choices.iter().zip(&same.choices) {
        let (along, vertical) = (along.outcome.unwrap(), vertical.outcome.unwrap());
        assert!((along.preload.value - vertical.preload.value).si().abs() < 1e-9);
        assert!((along.free_sag.value * cosine - vertical.free_sag.value).si().abs() < 1e-9);
    }
}

#[test]
fn without_readings_the_label_speaks() {
    let parts = demo().parts().clone();
    let bike = Bike::new(BikeParts { readings: Vec::new(), ..parts }).unwrap();
    let text = spoken(&advise(&bike));
    assert!(text.contains("the label and its tolerance put today's at"), "{text}");
    assert!(spoken(&advise(&demo())).contains("the readings put today's at"));
}
