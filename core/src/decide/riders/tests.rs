//! What must hold of riders on any bike; against draws and closed forms the Python tests hold them.

use super::*;
use crate::Bike;
use crate::demo::PATROL;
use crate::record::RiderMasses;
use crate::units::{Mass, parse};

fn rear(riders: Riders) -> EndRiders {
    let bike = Bike::from_toml(PATROL).unwrap().with(|parts| parts.riders = Some(riders)).unwrap();
    bike.study(End::Rear).unwrap().advise_riders().unwrap()
}

fn normal(deviation: &str) -> Riders {
    Riders::normal(parse("92 kg").unwrap(), parse(deviation).unwrap()).unwrap()
}

/// Places of riders lie in the middle of equal stretches, and the best step is sought about one setting.
const GRAIN: f64 = 0.02;

#[test]
fn a_preload_for_each_suits_no_fewer_than_one_for_all_and_a_spread_costs() {
    let (even, spread) = (rear(normal("3 kg")), rear(normal("14 kg")));
    for spring in even.springs.iter().chain(&spread.springs) {
        assert!(spring.own_share() > spring.common_share() - GRAIN, "{spring:?}");
        let common = spring.common.unwrap();
        let outside = common.too_deep.si() + common.too_high.si();
        assert!(common.share.value.si() + outside <= 1.0 + 1e-9, "{common:?}");
    }
    // Where the middle rider is in range, the others are further from it; where not, some of them come into it.
    let most = |found: &EndRiders| found.springs.iter().map(SpringForRiders::common_share).fold(0.0, f64::max);
    assert!(most(&spread) < most(&even), "{:?} {:?}", most(&spread), most(&even));
    let own = spread.fitted().unwrap().own.unwrap();
    assert!(own.heavy > own.light && own.turns.unwrap() > 0.0, "a heavier rider wants more preload: {own:?}");
}

#[test]
fn the_spread_of_rider_weights_is_that_of_mass_posture_and_day() {
    let found = rear(normal("0 kg").with_on_front("32 ± 0 %".parse().unwrap()).unwrap());
    // Nothing but the weight on the day is left, a share of what the rider puts there.
    let relative = found.rider_weight.standard_uncertainty.si() / found.rider_weight.value.si();
    assert!((found.rider_weight.value.si() - 92.0 * 0.68 * 9.80665).abs() < 1e-9);
    assert!(relative > 0.0 && relative < 0.1, "{relative}");
    let each = Riders::each(vec![(Mass::from_si(80.0), 1.0), (Mass::from_si(100.0), 3.0)]).unwrap();
    assert!(matches!(each.masses(), RiderMasses::Each(each) if each.len() == 2));
    let listed = rear(each.with_on_front("32 ± 0 %".parse().unwrap()).unwrap());
    assert!((listed.rider_weight.value.si() - 95.0 * 0.68 * 9.80665).abs() < 1e-9);
}

#[test]
fn riders_come_back_from_their_text() {
    let riders = normal("9 kg").standing_for("guest").with_on_front("32 ± 3 %".parse().unwrap()).unwrap();
    let text = serde_json::to_string(&riders).unwrap();
    assert_eq!(serde_json::from_str::<Riders>(&text).unwrap(), riders, "{text}");
    let refused = Riders::normal(parse("92 kg").unwrap(), parse("60 kg").unwrap()).unwrap_err().to_string();
    assert!(refused.contains("deviation"), "{refused}");
}

#[test]
fn another_spring_is_worth_its_share_less_its_price() {
    let found = rear(normal("9 kg"));
    let price = found.decision.prices.spring.si();
    assert!(price > 0.0);
    for spring in &found.springs {
        let net = spring.net(spring.common_share(), &found.decision.prices);
        let expected = spring.common_share() - if spring.is_fitted { 0.0 } else { price };
        assert!((net - expected).abs() < 1e-15, "{spring:?}");
    }
    let dear = Prices { spring: Share::from_si(1.0), ..found.decision.prices };
    let none = found.springs.iter().find(|spring| !spring.is_fitted).unwrap();
    assert!(none.net(none.common_share(), &dear) <= 0.0);
}

#[test]
fn riders_put_on_a_wheel_what_the_one_that_they_stand_for_does() {
    // Of 96 kg of rider on the scales the rear has 66 kg, of 9 kg of stretcher 8 kg.
    for (named, on_rear) in [("rider", 66.0 / 96.0), ("stretcher", 8.0 / 9.0)] {
        let found = rear(normal("9 kg").standing_for(named));
        let weight = found.rider_weight.value.si();
        assert!((weight / (92.0 * on_rear * 9.80665) - 1.0).abs() < 1e-12, "{named}: {weight}");
    }
}

#[test]
fn weights_on_a_wheel_spread_with_mass_and_with_posture() {
    let variance = |deviation: &str, on_front: &str| {
        let found = rear(normal(deviation).with_on_front(on_front.parse().unwrap()).unwrap());
        found.rider_weight.standard_uncertainty.si().powi(2)
    };
    // The weight on the day is in both, and goes.
    let added = variance("9 kg", "32 ± 3 %") - variance("0 kg", "32 ± 0 %");
    // 68 % of 9 kg, and 3 % of 92 kg.
    let by_hand = 9.80665_f64.powi(2) * (6.12_f64.powi(2) + 2.76_f64.powi(2));
    assert!((added / by_hand - 1.0).abs() < 1e-9, "{added} {by_hand}");
}

#[test]
fn turns_and_preloads_say_the_same_on_the_thread_of_the_collar() {
    /// Pitch of the demo's collar, and the preload that is stated (m).
    const COLLAR: [f64; 2] = [1.5e-3, 14e-3];
    let [pitch, stated] = COLLAR;
    for spring in &rear(normal("12 kg")).springs {
        let own = spring.own.unwrap();
        let way = own.heavy.si() - own.light.si();
        assert!((own.turns.unwrap() * pitch - way).abs() < 1e-12, "{own:?}");
        let common = spring.common.unwrap();
        let (turns, preload) = (common.turns.unwrap(), common.preload);
        // From today's setting on today's spring, from touching on another.
        let from = if spring.is_fitted { stated } else { 0.0 };
        assert_eq!(turns.from_touching, !spring.is_fitted);
        assert!((turns.value * pitch - (preload.value.si() - from)).abs() < 1e-12, "{common:?}");
        assert!((turns.standard_uncertainty * pitch - preload.standard_uncertainty.si()).abs() < 1e-12);
    }
}

#[test]
fn a_spring_is_found_by_its_rate() {
    let found = rear(normal("9 kg"));
    for spring in &found.springs {
        assert_eq!(found.spring(spring.rate), Some(spring));
    }
    assert_eq!(found.spring(SpringRate::from_si(51.5e3)), None);
    let fitted = found.fitted().unwrap();
    assert!(fitted.is_fitted && fitted.rate == SpringRate::from_si(52e3));
}
