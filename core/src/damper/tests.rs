use super::*;
use crate::units::{Frequency, Length};

fn speed(si: f64) -> Velocity {
    Velocity::from_si(si)
}

fn side(rate: f64, knee: Option<(f64, f64)>) -> DamperSide {
    let rate = DampingRate::from_si(rate);
    match knee {
        Some((velocity, beyond)) => {
            DamperSide::with_knee(rate, Knee { velocity: speed(velocity), rate: DampingRate::from_si(beyond) }).unwrap()
        }
        None => DamperSide::of_rate(rate).unwrap(),
    }
}

fn knee() -> Damper {
    Damper::new(side(1500.0, Some((0.5, 400.0))), side(3000.0, None))
}

#[test]
fn the_second_slope_begins_where_the_first_ends() {
    let damper = knee();
    let at = |velocity: f64| damper.force(speed(velocity)).unwrap().si();
    assert_eq!([at(0.0), at(0.5), at(1.5), at(-0.2)], [0.0, 750.0, 1150.0, -600.0]);
    let wrong = Knee { velocity: speed(0.0), rate: DampingRate::from_si(400.0) };
    let error = DamperSide::with_knee(DampingRate::from_si(1500.0), wrong).unwrap_err().to_string();
    assert!(error.starts_with("knee.velocity"), "{error}");
}

#[test]
fn a_table_is_the_slopes_that_it_was_read_off() {
    let rows = [(0.5, 750.0), (1.5, 1150.0)].map(|(v, f)| (speed(v), Force::from_si(f)));
    let table = DamperSide::of_table(rows.to_vec()).unwrap();
    let slopes = side(1500.0, Some((0.5, 400.0)));
    for v in [0.0, 0.2, 0.5, 0.9, 1.5, 4.0] {
        assert!((table.eval(v) - slopes.eval(v)).abs() < 1e-9, "at {v} m/s");
    }
    let falls = [(0.5, 750.0), (1.0, 700.0)].map(|(v, f)| (speed(v), Force::from_si(f)));
    let error = DamperSide::of_table(falls.to_vec()).unwrap_err();
    assert!(error.to_string().starts_with("table[1]: found 700 N at 1 m/s"), "{error}");
}

#[test]
fn dampers_side_by_side_add_their_forces() {
    let other = Damper::new(side(200.0, Some((0.2, 100.0))), side(0.0, None));
    let both = knee().beside(&other);
    for v in [-3.0, -0.1, 0.0, 0.1, 0.3, 0.5, 0.7, 9.0] {
        let sum = knee().eval(v) + other.eval(v);
        assert!((both.eval(v) - sum).abs() < 1e-9 * (1.0 + sum.abs()), "at {v} m/s");
    }
    let line = side(1500.0, None);
    let linear = Damper::new(line.clone(), line);
    assert_eq!(linear.beside(&linear).eval(2.0), 6000.0);
}

/// The closed forms against a plain sum over the motion, which knows only the force.
#[test]
fn equivalents_take_the_energy_of_the_motion() {
    const STEPS: usize = 200_000;
    let damper = knee();
    for amplitude in [0.1, 0.5, 0.8, 5.0] {
        let turn = |step: usize| core::f64::consts::TAU * (step as f64 + 0.5) / STEPS as f64;
        let taken: f64 = (0..STEPS)
            .map(|step| {
                let v = amplitude * turn(step).cos();
                damper.eval(v) * v
            })
            .sum::<f64>()
            / STEPS as f64;
        let plain = 2.0 * taken / (amplitude * amplitude);
        let found = damper.equivalent(speed(amplitude)).unwrap().si();
        // The midpoint rule with kinks: second order in the step.
        assert!((found / plain - 1.0).abs() < 1e-8, "{amplitude}: {found} {plain}");
    }
    for rms in [0.05, 0.3, 2.0] {
        let weight = |v: f64| (-0.5 * (v / rms).powi(2)).exp();
        let at = |step: usize| rms * 10.0 * (2.0 * (step as f64 + 0.5) / STEPS as f64 - 1.0);
        let sum = |of: &dyn Fn(f64) -> f64| (0..STEPS).map(|step| weight(at(step)) * of(at(step))).sum::<f64>();
        let whole = sum(&|_| 1.0);
        let plain = sum(&|v| damper.eval(v) * v) / whole / (rms * rms);
        let found = damper.equivalent_in_noise(speed(rms)).unwrap().si();
        assert!((found / plain - 1.0).abs() < 1e-7, "{rms}: {found} {plain}");
        let mean = sum(&|v| damper.eval(v)) / whole;
        assert!(
            (damper.mean_force(speed(rms)).unwrap().si() - mean).abs() < 1e-7 * mean.abs().max(1.0),
            "{rms}: {mean}"
        );
    }
    assert_eq!(damper.equivalent(speed(0.0)).unwrap().si(), 2250.0);
}

#[test]
fn a_table_of_a_quadratic_damper_nears_its_closed_form() {
    // F = 500·v² as a fine table; chords lie above the parabola by a share of the square of a row.
    let rows: Vec<(Velocity, Force)> =
        (1..=2000).map(|row| f64::from(row) * 1e-3).map(|v| (speed(v), Force::from_si(500.0 * v * v))).collect();
    let side = DamperSide::of_table(rows).unwrap();
    let damper = Damper::new(side.clone(), side);
    let (frequency, amplitude) = (Frequency::from_si(2.0), Length::from_si(0.1));
    let v = core::f64::consts::TAU * 2.0 * 0.1;
    let closed = equivalent_of_quadratic(Force::from_si(500.0), speed(1.0), frequency, amplitude).unwrap().si();
    let found = damper.equivalent(speed(v)).unwrap().si();
    assert!((found / closed - 1.0).abs() < 1e-6, "{found} {closed}");
}

/// A step of force at rest is friction; and the slope of a speed next to nothing would be no number.
#[test]
fn a_table_that_rises_as_a_step_is_refused() {
    let table = |first: f64| {
        DamperSide::of_table(vec![(speed(first), Force::from_si(230.0)), (speed(0.15), Force::from_si(520.0))])
    };
    for first in [1e-3, 2.4e-4] {
        let side = table(first).unwrap();
        assert!(side.pieces().iter().all(|piece| piece.rate <= 1e6), "{first}");
    }
    // 230 N in 0.23 mm/s is 1000 N per mm/s.
    for first in [2.2e-4, 1e-9, 2.2e-308, 5e-324] {
        let message = table(first).unwrap_err().to_string();
        assert!(message.contains("1000 N per mm/s") && message.contains("230 N"), "{first}: {message}");
    }
}
