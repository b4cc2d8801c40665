//! Bushes against the balance of forces and moments about any point, which the formulas were solved from but do not hold.

use super::*;
use crate::axial::AxialElement;
use crate::fork::{Fork, ForkLeg};
use crate::spring::Preloaded;
use crate::units::{Angle, SpringRate, parse};
use proptest::prelude::*;

/// Forces of kN and moments of hundreds of N·m are sums of a few terms: rounding.
const ROUNDING: f64 = 1e-9;

fn mm(length: f64) -> Length {
    Length::from_si(length * 1e-3)
}

fn fork(rake: f64) -> Fork {
    let leg = ForkLeg::new().with_spring(Preloaded::linear(SpringRate::from_si(4500.0), mm(10.0)).unwrap());
    Fork::new(mm(250.0), Angle::from_si(rake.to_radians()), [leg.clone(), leg]).unwrap()
}

fn bushes(coefficient: f64) -> Bushes {
    Bushes::new(mm(180.0), mm(400.0)).unwrap().with_coefficient(coefficient).unwrap()
}

fn braked(share: f64) -> FrontBrake {
    FrontBrake { share: Share::from_si(share), radius: mm(340.0), unsprung: Force::from_si(140.0) }
}

#[test]
fn nothing_rubs_without_a_coefficient_or_a_side_load() {
    let found = fork(26.0).with_bushes(bushes(0.0)).unwrap().bush_loads(mm(100.0), &braked(0.7)).unwrap();
    assert_eq!((found.friction.value.si(), found.friction_at_wheel.value.si()), (0.0, 0.0));
    assert!(found.load_in == found.load_out && found.load_in == found.load && found.upper[0].si() != 0.0);
    let upright = fork(0.0).with_bushes(bushes(0.1)).unwrap().bush_loads(mm(100.0), &FrontBrake::default()).unwrap();
    assert!(upright.friction.value.si() == 0.0 && upright.upper[0].si() == 0.0);
}

/// Two bushes by hand: 900 N at 30° push the axle forward by 450 N; 0.3 m of lever on 0.3 m of overlap.
#[test]
fn a_lever_as_long_as_the_overlap_doubles_the_lower_bush() {
    let rake = 30f64.to_radians();
    let found =
        bushes(0.05).loads(mm(100.0), Force::from_si(900.0 * rake.cos()), rake, &FrontBrake::default()).unwrap();
    let near = |found: Force, wanted: f64| (found.si() - wanted).abs() < ROUNDING;
    // 0.3 m from the lower bush to the axle, 0.28 m of overlap.
    let upper = 450.0 * 0.3 / 0.28;
    assert!(near(found.upper[0], 0.5 * upper) && near(found.lower[1], -0.5 * (450.0 + upper)), "{found:?}");
    assert!(near(found.friction.value, 0.05 * (450.0 + 2.0 * upper)));
    assert!(near(found.friction.standard_uncertainty, 0.025 * (450.0 + 2.0 * upper)));
}

#[test]
fn bushes_that_bind_say_at_which_coefficient_they_would_slide() {
    let short = Bushes::new(mm(20.0), mm(600.0)).unwrap().with_coefficient(0.2).unwrap();
    let error = fork(30.0).with_bushes(short).unwrap().bush_loads(mm(0.0), &FrontBrake::default()).unwrap_err();
    // cos 30°/(sin 30°·(1 + 2·600/20)) = 0.0284.
    assert!(error.to_string().contains("below 0.028 they slide"), "{error}");
    let fork = fork(26.0);
    assert_eq!(fork.bush_loads(mm(0.0), &FrontBrake::default()).unwrap_err(), SpringError::NoBushes.into());
    let short = fork.with_bushes(Bushes::new(mm(180.0), mm(240.0)).unwrap()).unwrap_err().to_string();
    assert!(short.contains("bushes.to_axle: found 240 mm, wanted more than the full stroke of 250 mm"), "{short}");
    let none = Bushes::new(mm(0.0), mm(240.0)).unwrap_err().to_string();
    assert!(none.starts_with("overlap"), "{none}");
}

#[test]
fn bushes_stay_with_a_fork_that_is_changed() {
    let fork = fork(26.0).with_bushes(bushes(0.05)).unwrap();
    assert_eq!(fork.with_spring_change(1.1, mm(2.0)).unwrap().bushes(), fork.bushes());
    let text = serde_json::to_string(&fork).unwrap();
    assert_eq!(serde_json::from_str::<Fork>(&text).unwrap(), fork);
    assert!(parse::<Length>("180 mm").unwrap() == fork.bushes().unwrap().overlap());
}

proptest! {
    /// Every leg is in balance, about the ground below the axle as about the upper bush, and the fork moves where what pushes it
    /// beats springs and friction, found with reactions of its own load.
    #[test]
    fn forces_and_moments_balance(rake in 0.0..40.0_f64, share in 0.0..1.2_f64, offset in -60.0..60.0_f64, calipers in 1_u32..=2,
        stroke in 0.0..250.0_f64, coefficient in 0.0..0.04_f64) {
        let bushes = bushes(coefficient).with_axle_offset(mm(offset)).unwrap().with_calipers(calipers).unwrap();
        let (fork, braking) = (fork(rake).with_bushes(bushes).unwrap(), braked(share));
        let found = fork.bush_loads(mm(stroke), &braking).unwrap();
        let springs = fork.at(mm(stroke)).unwrap().force.si();
        let (sin, cos) = rake.to_radians().sin_cos();
        let upper = 0.58;
        let lower = 0.4 - stroke * 1e-3;
        // In axes along and square to the fork, from the axle.
        let axis = -offset * 1e-3;
        for place in 0..2 {
            let (load, back) = (0.5 * found.load.si(), 0.5 * share * found.load.si());
            let torque = if place < calipers as usize {
                share * (found.load.si() + 140.0) * 0.34 / f64::from(calipers)
            } else {
                0.0
            };
            // Each force as (along, square), and where it acts.
            let forces = [
                ([load * cos + back * sin, load * sin - back * cos], [0.0, 0.0]),
                ([-0.5 * springs, 0.0], [0.0, axis]),
                ([0.0, found.upper[place].si()], [upper, axis]),
                ([0.0, found.lower[place].si()], [lower, axis]),
            ];
            for about in [[0.0, 0.0], [-0.3, 0.1], [upper, axis]] {
                // Turning the fork's foot backward is negative, as the caliper does.
                let moments: f64 = forces.iter().map(|([along, square], at)| {
                    (at[1] - about[1]) * along - (at[0] - about[0]) * square
                }).sum();
                prop_assert!((moments - torque).abs() < ROUNDING, "moment of {} N·m", moments - torque);
            }
            for part in 0..2 {
                prop_assert!(forces.iter().map(|(force, _)| force[part]).sum::<f64>().abs() < ROUNDING);
            }
        }
        for (way, load) in [(1.0, found.load_in.si()), (-1.0, found.load_out.si())] {
            let axial = load * (cos + share * sin);
            let again = bushes.loads(mm(stroke), Force::from_si(axial), rake.to_radians(), &braking).unwrap();
            prop_assert!((axial - way * again.friction.value.si() - springs).abs() < ROUNDING);
        }
    }

    /// A longer overlap holds the same moment with less force.
    #[test]
    fn the_longer_the_overlap_the_less_it_rubs(rake in 5.0..40.0_f64, stroke in 0.0..240.0_f64) {
        let at = |overlap: f64, stroke: f64| {
            let bushes = Bushes::new(mm(overlap), mm(400.0)).unwrap().with_coefficient(0.02).unwrap();
            let rest = FrontBrake::default();
            bushes.loads(mm(stroke), Force::from_si(1000.0), rake.to_radians(), &rest).unwrap().friction.value.si()
        };
        prop_assert!(at(180.0, stroke) > at(190.0, stroke));
        prop_assert!(at(180.0, stroke) > at(180.0, stroke + 5.0), "deeper in, the overlap grows and the lever shrinks");
    }

    /// The side load mirrored, the reactions are mirrored, and the friction is the same.
    #[test]
    fn a_mirrored_fork_rubs_alike(rake in 0.0..40.0_f64, offset in 0.0..60.0_f64, stroke in 0.0..250.0_f64) {
        let of = |rake: f64, offset: f64| {
            let bushes = bushes(0.05).with_axle_offset(mm(offset)).unwrap();
            bushes.loads(mm(stroke), Force::from_si(1000.0), rake.to_radians(), &FrontBrake::default()).unwrap()
        };
        let (one, other) = (of(rake, offset), of(-rake, -offset));
        prop_assert!((one.upper[0] + other.upper[0]).si().abs() < ROUNDING);
        prop_assert!((one.friction.value - other.friction.value).si().abs() < ROUNDING);
        prop_assert!((one.load_in - other.load_in).si().abs() < ROUNDING);
    }
}
