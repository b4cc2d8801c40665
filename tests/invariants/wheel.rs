//! What holds for every end of every bike: energy is the integral of the force, rate its derivative; the frame axes may be
//! mirrored and moved; the units of the file do not matter; a heavier load never sags less.

use proptest::prelude::*;
use wheelrate::Bike;
use wheelrate::bike::{BikeParts, SagConversion};
use wheelrate::demo::PATROL;
use wheelrate::linkage::Mechanism;
use wheelrate::record::{Direction, End, Load};
use wheelrate::units::{Angle, Force, GaugePressure, Length, Mass, MotionRatio, Quantity, SpringRate, Volume, parse};
use wheelrate::wheel::{FrontEnd, RearEnd, Settling, Stability, Wheel};

use crate::bikes::{front, linked_front, measured_rear, rear};

/// Travels between which nothing jumps: the ends and every kink.
fn pieces(end: &dyn Wheel) -> Vec<(f64, f64)> {
    let mut at = vec![0.0];
    at.extend(end.kinks().into_iter().map(Quantity::si));
    at.push(end.full_travel().si());
    at.windows(2).map(|pair| (pair[0], pair[1])).collect()
}

fn force(end: &dyn Wheel, travel: f64) -> f64 {
    end.at(Length::from_si(travel)).unwrap().wheel_force.si()
}

/// Simpson's rule over one smooth piece; 256 panels bring the forces of springs and linkages to 1e-10, and the smallest
/// negative chamber, whose pressure falls to half within 6 mm, to 1e-8.
fn integral(end: &dyn Wheel, from: f64, to: f64) -> f64 {
    const PANELS: usize = 256;
    let at = |k: usize| force(end, from + (to - from) * k as f64 / (2 * PANELS) as f64);
    let inner: f64 = (1..2 * PANELS).map(|k| if k % 2 == 1 { 4.0 * at(k) } else { 2.0 * at(k) }).sum();
    (to - from) / (6 * PANELS) as f64 * (at(0) + inner + at(2 * PANELS))
}

fn energy_is_the_integral_of_the_force(end: &dyn Wheel) -> Result<(), TestCaseError> {
    /// Simpson's error on the steepest gas, as a share of the energy; and joules where the energy is near zero.
    const RELATIVE: f64 = 1e-6;
    const ABSOLUTE: f64 = 1e-6;
    let mut sum = 0.0;
    for (from, to) in pieces(end) {
        sum += integral(end, from, to);
        let energy = end.at(Length::from_si(to)).unwrap().energy.si();
        prop_assert!(
            (energy - sum).abs() <= RELATIVE * sum.abs() + ABSOLUTE,
            "at {to} m: {energy} J, integral {sum} J"
        );
    }
    Ok(())
}

fn rate_is_the_derivative_of_the_force(end: &dyn Wheel, share: f64) -> Result<(), TestCaseError> {
    for (from, to) in pieces(end) {
        // Central difference: the step's square times the third derivative stays under 1e-6 of the rate.
        let step = (to - from) * 1e-4;
        let travel = from + step + (to - from - 2.0 * step) * share;
        let slope = (force(end, travel + step) - force(end, travel - step)) / (2.0 * step);
        let rate = end.wheel_rate(Length::from_si(travel)).unwrap().si();
        prop_assert!((rate - slope).abs() <= 1e-5 * rate.abs().max(100.0), "at {travel} m: {rate}, slope {slope}");
    }
    Ok(())
}

/// The first equilibrium from full extension carries the load, nothing before it does, and more load goes further.
fn settles(end: &dyn Wheel, newtons: f64) -> Result<f64, TestCaseError> {
    const PLACES: usize = 400;
    let load = Force::from_si(newtons);
    let full = end.full_travel().si();
    let until = match end.travel_under(load).unwrap() {
        Settling::Settled { state, .. } => {
            prop_assert!((state.wheel_force.si() - newtons).abs() < 1e-4, "{newtons} N: {state:?}");
            state.travel.si()
        }
        Settling::ToppedOut { margin, .. } => {
            prop_assert!((force(end, 0.0) - newtons - margin.si()).abs() < 1e-9 && margin.si() > 0.0);
            return Ok(0.0);
        }
        Settling::Bottomed { margin, .. } => {
            prop_assert!((newtons - force(end, full) - margin.si()).abs() < 1e-9 && margin.si() > 0.0);
            full
        }
    };
    for place in 0..PLACES {
        let travel = until * place as f64 / PLACES as f64;
        prop_assert!(force(end, travel) <= newtons + 1e-6, "{newtons} N is carried at {travel} m, before {until} m");
    }
    Ok(until)
}

fn holds_for(end: &dyn Wheel, share: f64, newtons: f64) -> Result<(), TestCaseError> {
    energy_is_the_integral_of_the_force(end)?;
    rate_is_the_derivative_of_the_force(end, share)?;
    let (light, heavy) = (settles(end, newtons)?, settles(end, newtons * 1.1 + 1.0)?);
    prop_assert!(heavy >= light, "{heavy} m under the heavier load, {light} m under the lighter");
    curves_are_their_points(end, share)
}

/// Arrays are solved in blocks, and say what is said of one travel at a time.
fn curves_are_their_points(end: &dyn Wheel, share: f64) -> Result<(), TestCaseError> {
    /// The kernels agree to the bit; the compiler may order a sum otherwise.
    const RELATIVE: f64 = 1e-12;
    let rest = end.full_travel() * share;
    for count in [3, 75] {
        let travels = end.travels(count);
        let (curve, fast) = (end.curve(&travels).unwrap(), end.fast_curve(rest, &travels).unwrap());
        for (row, &travel) in travels.iter().enumerate() {
            for (curve, state) in [(&curve, end.at(travel).unwrap()), (&fast, end.fast_at(rest, travel).unwrap())] {
                let pairs = [
                    (curve.stroke[row].si(), state.stroke.si()),
                    (curve.motion_ratio[row].si(), state.motion_ratio.si()),
                    (curve.motion_ratio_slope[row].si(), state.motion_ratio_slope.si()),
                    (curve.axial_force[row].si(), state.axial_force.si()),
                    (curve.wheel_force[row].si(), state.wheel_force.si()),
                    (curve.wheel_rate[row].si(), state.wheel_rate.si()),
                    (curve.energy[row].si(), state.energy.si()),
                ];
                for (many, one) in pairs {
                    prop_assert!((many - one).abs() <= RELATIVE * one.abs().max(1e-3), "{many} or {one} at {travel:?}");
                }
            }
        }
    }
    Ok(())
}

/// Everything asked of an end along its travel.
fn answers(end: &dyn Wheel) -> Vec<f64> {
    let curve = end.curve(&end.travels(41)).unwrap();
    let si = |values: Vec<f64>| values;
    [
        si(curve.travel.iter().map(|q| q.si()).collect()),
        si(curve.stroke.iter().map(|q| q.si()).collect()),
        si(curve.motion_ratio.iter().map(|q: &MotionRatio| q.si()).collect()),
        si(curve.wheel_force.iter().map(|q| q.si()).collect()),
        si(curve.wheel_rate.iter().map(|q| q.si()).collect()),
        si(curve.energy.iter().map(|q| q.si()).collect()),
    ]
    .concat()
}

#[track_caller]
fn same(a: &[f64], b: &[f64], relative: f64) {
    assert_eq!(a.len(), b.len());
    for (x, y) in a.iter().zip(b) {
        assert!((x - y).abs() <= relative * x.abs().max(y.abs()).max(1.0), "{x} and {y}");
    }
}

/// The rear end with its drawing changed.
fn redrawn(end: &RearEnd, change: impl Fn([f64; 2]) -> [f64; 2]) -> RearEnd {
    let mechanism = end.linkage().unwrap().mechanism();
    let points =
        mechanism.points().map(|(name, at)| (name.to_owned(), change(at.map(Quantity::si)).map(Length::from_si)));
    let points: Vec<_> = points.collect();
    end.with_mechanism(Mechanism::new(points, mechanism.bodies()).unwrap()).unwrap()
}

fn demo() -> Bike {
    Bike::from_toml(PATROL).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn for_every_fork(end in front(), share in 0.0..1.0_f64, newtons in 0.0..4000.0_f64) {
        holds_for(&end, share, newtons)?;
    }

    #[test]
    fn for_every_front_on_links(end in linked_front(), share in 0.0..1.0_f64, newtons in 0.0..4000.0_f64) {
        holds_for(&end, share, newtons)?;
    }

    #[test]
    fn for_every_linkage_and_shock(end in rear(), share in 0.0..1.0_f64, newtons in 0.0..4000.0_f64) {
        holds_for(&end, share, newtons)?;
    }

    #[test]
    fn for_every_measured_table(end in measured_rear(), share in 0.0..1.0_f64, newtons in 0.0..4000.0_f64) {
        holds_for(&end, share, newtons)?;
    }

    #[test]
    fn frame_axes_may_be_mirrored_and_moved(end in rear(), x in -2.0..2.0_f64, z in -2.0..2.0_f64) {
        // Moving the origin by metres costs the last digits of millimetre coordinates, and the ends of travel with them.
        same(&answers(&end), &answers(&redrawn(&end, |[px, pz]| [px + x, pz + z])), 1e-9);
        same(&answers(&end), &answers(&redrawn(&end, |[px, pz]| [-px, pz])), 1e-10);
    }

    #[test]
    fn sag_and_travel_are_inverse(end in rear(), share in 0.0..1.0_f64, mark_x in -0.9..-0.4_f64, mark_z in 0.3..1.2_f64) {
        let bike = Bike::new(BikeParts { rear: Some(end), ..BikeParts::default() }).unwrap();
        let mark = Direction::ToMark { x: Length::from_si(mark_x), z: Length::from_si(mark_z) };
        let to_mark = SagConversion::of(&bike, End::Rear, mark);
        // A mark that the axle does not approach all the way is refused.
        prop_assume!(to_mark.is_ok());
        let to_mark = to_mark.unwrap();
        let travel = Length::from_si(bike.rear().unwrap().full_travel().si() * share);
        let back = to_mark.travel(to_mark.sag(travel).unwrap()).unwrap();
        prop_assert!((back - travel).si().abs() < 1e-10, "{travel:?} there, {back:?} back");
    }
}

/// Every quantity of a file in inches, pounds, pounds-force, psi, radians: another text, the same bike.
fn in_other_units(json: &mut serde_json::Value) {
    use serde_json::Value as Json;
    fn turned<Q: Quantity>(text: &str, unit: &str) -> Option<String> {
        parse::<Q>(text).ok().map(|quantity| format!("{:?} {unit}", quantity.in_unit(unit).unwrap()))
    }
    match json {
        Json::String(text) => {
            let other = turned::<Length>(text, "in")
                .or_else(|| turned::<Mass>(text, "lb"))
                .or_else(|| turned::<Force>(text, "lbf"))
                .or_else(|| turned::<SpringRate>(text, "lbf/in"))
                .or_else(|| turned::<GaugePressure>(text, "psi"))
                .or_else(|| turned::<Volume>(text, "in3"))
                .or_else(|| turned::<Angle>(text, "rad"));
            if let Some(other) = other {
                *text = other;
            }
        }
        Json::Array(items) => items.iter_mut().for_each(in_other_units),
        Json::Object(members) => members.values_mut().for_each(in_other_units),
        _ => {}
    }
}

#[test]
fn units_of_the_file_do_not_matter() {
    let bike = demo();
    let mut json: serde_json::Value = serde_json::from_str(&bike.to_json()).unwrap();
    in_other_units(&mut json);
    let text = json.to_string();
    assert!(text.contains(" lbf/in") && text.contains(" psi") && !text.contains(" mm"), "{text}");
    let other = Bike::from_json(&text).unwrap();
    // A few roundings of 1e-16 in each input.
    const ROUNDING: f64 = 1e-12;
    for end in End::BOTH {
        same(&answers(bike.end(end).unwrap()), &answers(other.end(end).unwrap()), ROUNDING);
        let load = Load::parse("bike + rider").unwrap();
        let [a, b] = [&bike, &other].map(|bike| bike.masses().unwrap().sprung_load(end, &load).unwrap().value);
        assert!(((a / b).value - 1.0).abs() < ROUNDING, "{a:?} or {b:?}");
        let [a, b] = [(&bike, a), (&other, b)].map(|(bike, load)| bike.end(end).unwrap().travel_under(load).unwrap());
        let [a, b] = [a, b].map(|settling| settling.state().unwrap().travel.si());
        assert!((a - b).abs() < ROUNDING, "{a} m and {b} m");
    }
}

/// A fork in closed form (Cossalter, *Motorcycle Dynamics*, ch. 5): `z = u·cos ε`, `F/cos ε`, `k/cos² ε`.
#[test]
fn a_fork_is_its_cosine() {
    use wheelrate::axial::AxialElement;
    let bike = demo();
    let front: &FrontEnd = bike.front().unwrap();
    let cosine = front.fork().unwrap().rake().si().cos();
    for stroke in [0.0, 0.05, 0.1, 0.2, 0.29] {
        let axial = front.fork().unwrap().at(Length::from_si(stroke)).unwrap();
        let wheel = front.at(Length::from_si(stroke * cosine)).unwrap();
        assert!((wheel.stroke.si() - stroke).abs() < 1e-15);
        assert!((wheel.wheel_force.si() - axial.force.si() / cosine).abs() < 1e-9);
        assert!((wheel.wheel_rate.si() - axial.rate.si() / cosine / cosine).abs() < 1e-7);
    }
}

/// A falling-rate end has several equilibria: the one from full extension is meant, the others are reported.
#[test]
fn the_first_equilibrium_is_meant_and_the_others_are_reported() {
    let at = |x: f64, z: f64| [x, z].map(|mm| Length::from_si(mm / 1000.0));
    // A shock that swings over: its lever arm about the pivot shrinks as the wheel rises.
    let points =
        [("pivot", at(0.0, 0.0)), ("axle", at(-500.0, -200.0)), ("eye", at(-200.0, 0.0)), ("top", at(-290.0, 160.0))];
    let bodies = [("frame", vec!["pivot", "top"]), ("swingarm", vec!["pivot", "axle", "eye"])];
    let mechanism = Mechanism::new(points, bodies).unwrap();
    let shock = |rate: f64, preload: f64| {
        use wheelrate::shock::{Shock, ShockParts};
        use wheelrate::spring::Preloaded;
        let spring = Preloaded::linear(SpringRate::from_si(rate), Length::from_si(preload)).unwrap();
        let parts = ShockParts::new().with_spring(spring);
        Shock::new(Length::from_si(0.19), Length::from_si(0.055), parts, 1).unwrap()
    };
    let end = RearEnd::new(mechanism, "axle", ("top", "eye"), shock(20e3, 0.1)).unwrap();
    let curve = end.curve(&end.travels(201)).unwrap();
    let most = curve.wheel_force.iter().map(|force| force.si()).fold(0.0, f64::max);
    let last = curve.wheel_force.last().unwrap().si();
    let first = curve.wheel_force.first().unwrap().si();
    assert!(most > 1.02 * last.max(first), "the force rises and falls: {first} N, {most} N, {last} N");
    let load = Force::from_si(0.5 * (most + last.max(first)));
    let Settling::Settled { state, others } = end.travel_under(load).unwrap() else { panic!("settles") };
    assert!(state.wheel_rate.si() > 0.0);
    let kinds: Vec<Stability> = others.iter().map(|other| other.stability).collect();
    assert_eq!(kinds, [Stability::Unstable, Stability::Bottomed]);
    assert!(others[0].travel > state.travel);
    let Settling::Bottomed { margin, .. } = end.travel_under(Force::from_si(1.1 * most)).unwrap() else {
        panic!("bottoms")
    };
    assert!((margin.si() - (1.1 * most - last)).abs() < 1e-9);
}

/// The demo at 102 mm: 8.3 N/mm, an eighth of it geometric, as its description says.
#[test]
fn the_demo_has_the_rate_it_is_known_for() {
    let state = demo().rear().unwrap().at(Length::from_si(0.102)).unwrap();
    assert!((state.wheel_rate.in_unit("N/mm").unwrap() - 8.3).abs() < 0.1, "{}", state.wheel_rate);
    let geometric = state.geometric_rate().si() / state.wheel_rate.si();
    assert!((geometric - 0.125).abs() < 0.02, "{geometric}");
}
