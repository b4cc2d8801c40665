//! A study against the same question asked another way.

use super::*;
use crate::demo::PATROL;
use crate::infer::kept::Kept;
use crate::infer::{Finding, FittedLoad};
use crate::units::{Share, Uncertain};

fn bike(change: impl Fn(String) -> String) -> Bike {
    Bike::from_toml(&change(PATROL.to_owned())).unwrap()
}

fn demo() -> Bike {
    bike(|text| text)
}

/// The demo bike with pivots that are known to two millimetres, so that the way to the shock is an unknown too.
fn pivots() -> Bike {
    demo().correct(&[("rear.linkage.point_uncertainty", "2 mm")]).unwrap()
}

fn close<Q: Quantity>(one: Uncertain<Q>, other: Uncertain<Q>, share: f64) -> bool {
    let scale = one.standard_uncertainty.si();
    (one.value.si() - other.value.si()).abs() < share * scale
        && (other.standard_uncertainty.si() / scale - 1.0).abs() < share
}

#[test]
fn a_load_asked_about_later_is_one_asked_about_at_once() {
    // Equal up to where two searches stop: a ten-thousandth of a standard deviation each.
    const SAME: f64 = 1e-3;
    let stretcher = [Load::parse("bike + rider + stretcher").unwrap()];
    for (bike, end) in [(demo(), End::Front), (demo(), End::Rear), (pivots(), End::Rear)] {
        let later = bike.study(end).unwrap().with_loads(&stretcher).unwrap();
        let at_once = Study::new(&bike, end, &stretcher).unwrap();
        let (later, at_once) = (later.fit(), at_once.fit());
        assert!(close(later.rate, at_once.rate, SAME) && close(later.preload, at_once.preload, SAME));
        assert_eq!(later.loads.len(), at_once.loads.len());
        for one in &at_once.loads {
            let other = later.loads.iter().find(|other| other.load == one.load).unwrap();
            assert!(close(one.sag, other.sag, SAME) && close(one.fitted, other.fitted, SAME), "{one:?} {other:?}");
        }
    }
    let study = demo().study(End::Rear).unwrap();
    let unknown = study.with_loads(&[Load::parse("bike + passenger").unwrap()]).unwrap_err().to_string();
    assert!(unknown.contains("`passenger`"), "{unknown}");
    assert_eq!(study.with_loads(&[Load::bike_alone()]).unwrap(), study, "known already");
}

#[test]
fn carried_into_the_same_bike_it_is_the_same() {
    for bike in [demo(), pivots()] {
        let study = bike.study(End::Rear).unwrap();
        let (read, carried) = (study.fit(), study.carried(&bike).unwrap().fit());
        // Only rounding: a linear map and back.
        const ROUNDING: f64 = 1e-9;
        assert!(close(read.rate, carried.rate, ROUNDING) && close(read.preload, carried.preload, ROUNDING));
        assert!(close(read.friction, carried.friction, ROUNDING));
        let pairs: Vec<(&FittedLoad, &FittedLoad)> = read.loads.iter().zip(&carried.loads).collect();
        assert!(pairs.len() == 2 && pairs.iter().all(|(one, other)| close(one.sag, other.sag, ROUNDING)), "{pairs:?}");
        let [Finding::Carried { kept }] = carried.findings[..] else { panic!("{:?}", carried.findings) };
        let all = Share::from_si(1.0);
        assert_eq!(kept, Kept { springs: all, friction: all, masses: true, way: true });
        assert!(carried.readings.is_empty() && carried.chi_square.degrees == 0);
    }
}

#[test]
fn what_a_change_touches_is_drawn_anew() {
    let study = pivots().study(End::Rear).unwrap();
    let carried = |key: &str, value: &str| study.carried(&pivots().correct(&[(key, value)]).unwrap()).unwrap();
    let label = |fit: &Fit| fit.rate.standard_uncertainty.si() / fit.rate.value.si();
    let before = study.fit();

    let other = carried("rear.shock.spring.rate", "56 N/mm").fit();
    let prior = pivots().assumed().prior(End::Rear);
    assert!((label(&other) / prior.rate_standard_uncertainty().si() - 1.0).abs() < 1e-9);
    assert!((other.rate.value.si() - 56e3).abs() < 1e-6);
    assert!((other.preload.standard_uncertainty.si() / prior.preload_uncertainty.si() - 1.0).abs() < 1e-9);
    assert!(close(before.friction, other.friction, 1e-9) && close(before.loads[1].fitted, other.loads[1].fitted, 1e-9));

    // A collar turned: five millimetres more, what it was off by stays, and the spring.
    let turned = carried("rear.shock.spring.preload", "19 mm").fit();
    assert!((turned.preload.value.si() - before.preload.value.si() - 5e-3).abs() < 1e-12);
    assert!(close(before.rate, turned.rate, 1e-9));

    let heavier = carried("masses.rider.rear", "70 kg").fit();
    assert!(close(before.rate, heavier.rate, 1e-9));

    let longer = carried("rear.linkage.points.link_frame", "[\"-66 mm\", \"-93 mm\"]");
    assert!(!Kept::between(&pivots(), longer.bike(), End::Rear).way);
    assert!(close(before.rate, longer.fit().rate, 1e-9));
    assert!(longer.fit().loads[1].sag.value.si() != before.loads[1].sag.value.si());
}

#[test]
fn a_sag_carried_over_a_turned_collar_is_surer_than_one_from_labels() {
    let study = demo().study(End::Rear).unwrap();
    let turned = demo().correct(&[("rear.shock.spring.preload", "18 mm")]).unwrap();
    let mut parts = turned.parts().clone();
    parts.readings.clear();
    let labels = Bike::new(parts).unwrap().study(End::Rear).unwrap().fit();
    let carried = study.carried(&turned).unwrap().fit();
    let spread = |fit: &Fit| fit.loads[1].sag.standard_uncertainty.si();
    assert!(spread(&carried) < 0.5 * spread(&labels), "{} {}", spread(&carried), spread(&labels));
}

/// One stiffer spring in one of two legs: half of the rate is that of a spring that was read, to the share of its label.
#[test]
fn a_spring_in_one_leg_is_half_of_the_springs() {
    let study = demo().study(End::Front).unwrap();
    let before = study.fit();
    let one_leg = bike(|text| text.replacen("rate = \"4.4 N/mm\", preload", "rate = \"4.8 N/mm\", preload", 1));
    let carried = study.carried(&one_leg).unwrap();
    let fit = carried.fit();
    let Some(kept) = carried.solved.carried else { panic!("carried") };
    let share = 4.4 / (4.4 + 4.8);
    assert!((kept.springs.si() - share).abs() < 1e-12 && kept.friction.si() == 1.0, "{kept:?}");
    // Sums by hand, in N/m: the old leg as found, the new one as labelled.
    let [label, old] = [4.8e3, 0.5 * before.rate.value.si()];
    let spread = demo().assumed().prior(End::Front).rate_standard_uncertainty().si() * label;
    let both = spread.hypot(0.5 * before.rate.standard_uncertainty.si());
    assert!((fit.rate.value.si() / (old + label) - 1.0).abs() < 1e-9, "{:?}", fit.rate);
    // The factor is carried to first order, and the new label's spread is that about the sum.
    assert!((fit.rate.standard_uncertainty.si() / both - 1.0).abs() < 1e-2, "{:?} {both}", fit.rate);
}

/// Friction that is stated anew for one leg: that leg's part comes from what is stated, the other's from the readings.
#[test]
fn friction_of_one_leg_is_half_of_the_friction() {
    let stated = |left: &str, right: &str| {
        let legs = [left, right].map(|force| format!("friction = \"{force}\"\nspring = {{ rate = \"4.4 N/mm\""));
        bike(|text| {
            let [first, second] = legs.clone();
            text.replacen("spring = { rate = \"4.4 N/mm\"", "\u{0}", 1)
                .replacen("spring = { rate = \"4.4 N/mm\"", &second, 1)
                .replacen('\u{0}', &first, 1)
        })
    };
    let study = stated("20 N", "20 N").study(End::Front).unwrap();
    let carried = study.carried(&stated("20 N", "5 N")).unwrap();
    let Some(kept) = carried.solved.carried else { panic!("carried") };
    assert!((kept.friction.si() - 0.5).abs() < 1e-12, "{kept:?}");
    let (before, after) = (study.fit().friction, carried.fit().friction);
    // At the wheel a force along the fork counts by 1/cos 26.5°.
    let new = 5.0 / 26.5f64.to_radians().cos();
    assert!((after.value.si() - (0.5 * before.value.si() + new)).abs() < 1e-9, "{before:?} {after:?}");
    assert!(after.standard_uncertainty > before.standard_uncertainty);
}

/// The rider weighed anew, the bike as it was: what the readings said of the bike's load stays, and is in the new sum too.
#[test]
fn a_load_is_carried_by_the_masses_that_stayed() {
    let study = demo().study(End::Rear).unwrap();
    let heavier = bike(|text| text.replace("rear = \"66 kg\"", "rear = \"76 kg\""));
    let (before, after) = (study.fit(), study.carried(&heavier).unwrap().fit());
    let [alone, rider] = &after.loads[..] else { panic!("{:?}", after.loads) };
    assert!(close(before.loads[0].fitted, alone.fitted, 1e-9), "{alone:?}");
    // By hand: ten kilograms more; the bike's own error is in both loads, and what the rider is off by on the scale
    // (half a kilogram) and on the day (one in a hundred) is independent of it.
    let newton = |kilogram: f64| 9.80665 * kilogram;
    assert!((rider.stated.value.si() - before.loads[1].stated.value.si() - newton(10.0)).abs() < 1e-9);
    let moved = |load: &FittedLoad| load.fitted.value.si() - load.stated.value.si();
    assert!((moved(rider) - moved(&before.loads[0])).abs() < 1e-9, "{rider:?} {:?}", before.loads);
    let spread = before.loads[0].fitted.standard_uncertainty.si().hypot(newton(0.5)).hypot(newton(0.76));
    assert!((rider.fitted.standard_uncertainty.si() / spread - 1.0).abs() < 1e-9, "{rider:?} {spread}");
}
