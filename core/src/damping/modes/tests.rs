use super::*;
use crate::Bike;
use crate::damping::EndDamping;
use crate::demo::PATROL;
use crate::record::Ends;
use crate::units::DampingRate;

fn still() -> Velocity {
    Velocity::from_si(0.0)
}

/// A bike whose ends do not know each other: the pitch inertia is `m·a·b`, the axles move straight up and down.
fn apart(damping: [f64; 2]) -> (SmallMotion, [f64; 2], [f64; 2], [f64; 2]) {
    let (mass, arm, rate) = (190.0, [0.75, 0.7], [9000.0, 8300.0]);
    let diagonal = DMatrix::from_diagonal(&DVector::from_vec(vec![mass, mass * arm[0] * arm[1]]));
    // On rigid tyres a travel is a fall of the frame there.
    let travel = [DVector::from_vec(vec![-1.0, arm[0]]), DVector::from_vec(vec![-1.0, -arm[1]])];
    let stiffness = (0..2).map(|end| &travel[end] * travel[end].transpose() * rate[end]).sum();
    let motion = SmallMotion {
        mass: diagonal,
        stiffness,
        rise: DVector::from_vec(vec![1.0, 0.0]),
        pitch: DVector::from_vec(vec![0.0, 1.0]),
        travel,
        axle: [DVector::zeros(2), DVector::zeros(2)],
        unsprung: [0.0; 2],
        arm,
        rest: [0.1; 2],
    };
    let over = [mass * arm[1] / (arm[0] + arm[1]), mass * arm[0] / (arm[0] + arm[1])];
    (motion, over, rate, damping)
}

#[test]
fn ends_that_do_not_know_each_other_have_the_damping_ratio_of_one_mass_on_one_spring() {
    for damping in [[300.0, 500.0], [0.0, 900.0], [700.0, 6000.0]] {
        let (motion, mass, rate, damping) = apart(damping);
        let found = modes(&motion, damping).unwrap();
        let mut expected = [0, 1].map(|end| {
            let natural = (rate[end] / mass[end]).sqrt();
            (natural, damping[end] / (2.0 * (rate[end] * mass[end]).sqrt()))
        });
        expected.sort_by(|one, other| one.0.total_cmp(&other.0));
        for (mode, (natural, ratio)) in found.iter().zip(expected) {
            // Eigenvalues of a four by four matrix, a few dozen roundings; pairs near one point lose half the digits.
            assert!((mode.frequency.si() * TAU / natural - 1.0).abs() < 1e-9, "{mode:?} {natural}");
            assert!((mode.damping_ratio.si() - ratio).abs() < 1e-9, "{mode:?} {ratio}");
            assert_eq!(mode.damped_frequency.is_none(), ratio > 1.0);
        }
    }
}

#[test]
fn without_dampers_the_modes_are_those_of_the_bike() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let motion = at_rest(&bike.whole(), &bike.parts().rider_load).unwrap();
    let plain = bike.whole().modes(&bike.parts().rider_load).unwrap();
    let found = modes(&motion, [0.0; 2]).unwrap();
    assert_eq!(found.len(), plain.len());
    for (damped, plain) in found.iter().zip(&plain) {
        assert_eq!(damped.kind, plain.kind);
        assert!((damped.frequency.si() / plain.frequency.si() - 1.0).abs() < 1e-9, "{damped:?} {plain:?}");
        assert!(damped.damping_ratio.si().abs() < 1e-9);
    }
}

#[test]
fn the_demo_is_damped_as_its_ends_are() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let found = damped_modes(&bike.whole(), &bike.parts().rider_load, still()).unwrap();
    let ends = Ends { front: End::Front, rear: End::Rear }.map(|end| {
        let end = EndDamping::of(&bike, end, &bike.parts().rider_load).unwrap();
        end.at(end.rest(), still()).unwrap().damping_ratio.si()
    });
    let range = [ends.front.min(ends.rear), ends.front.max(ends.rear)];
    for kind in [ModeKind::Bounce, ModeKind::Pitch] {
        let mode = found.iter().find(|mode| mode.kind == kind).unwrap();
        // Heave and pitch share the dampers of both ends; the wheels and the axles' paths take them a little outside.
        let ratio = mode.damping_ratio.si();
        assert!(range[0] * 0.7 < ratio && ratio < range[1] * 1.3, "{kind:?}: {ratio} of {range:?}");
    }
}

#[test]
fn a_stiffer_spring_lowers_the_damping_ratio_by_its_root() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let rear = |bike: &Bike| {
        let end = EndDamping::of(bike, End::Rear, &bike.parts().rider_load).unwrap();
        // At one travel, so that the way to the shock is the same.
        let at = end.at(Quantity::from_si(0.1), still()).unwrap();
        (at.wheel_rate.si(), at.damping_ratio.si(), at.compression)
    };
    let stiffer = bike.what_if(&[("rear.shock.spring.rate", "60 N/mm")]).unwrap();
    let ((rate, ratio, damping), (rate_after, ratio_after, damping_after)) = (rear(&bike), rear(&stiffer));
    assert!((ratio_after / ratio - (rate / rate_after).sqrt()).abs() < 1e-12);
    assert_eq!(damping, damping_after);
    assert!(damping > DampingRate::from_si(0.0));
    let faster = EndDamping::of(&bike, End::Rear, &bike.parts().rider_load).unwrap();
    let fast = faster.at(faster.rest(), Velocity::from_si(2.0)).unwrap();
    assert!(
        fast.damping_ratio < faster.at(faster.rest(), still()).unwrap().damping_ratio,
        "the demo's dampers are digressive"
    );
}

#[test]
fn says_which_damper_is_missing() {
    let text = PATROL.replace("[rear.shock.damper]", "[rear.shock.damped]");
    assert!(Bike::from_toml(&text).is_err(), "a slip of the key is a fault");
    let none = PATROL.lines().filter(|line| !line.starts_with("damper = ")).collect::<Vec<_>>().join("\n");
    let bike = Bike::from_toml(&none).unwrap();
    let error = damped_modes(&bike.whole(), &bike.parts().rider_load, still()).unwrap_err().to_string();
    assert!(error.starts_with("`front.fork.damper` is missing"), "{error}");
}

#[test]
fn a_wheel_of_next_to_no_mass_is_an_error_and_no_endless_search() {
    // The least number that a double holds in full, as the mass (kg) of what is unsprung in front.
    let text = PATROL.replace(
        "unsprung = { front = \"14.2 kg\"",
        &format!("unsprung = {{ front = \"{:.330} kg\"", f64::MIN_POSITIVE),
    );
    let bike = Bike::from_toml(&text).unwrap();
    assert!(damped_modes(&bike.whole(), &bike.parts().rider_load, still()).is_err());
    assert!(bike.sheet(crate::units::UnitSystem::Metric).is_ok(), "the rest of the sheet does without");
    assert_eq!(roots(DMatrix::from_element(4, 4, f64::NAN)), None);
}
