//! Deviations of known shape, and a table beside a drawing it was made from.

use super::*;

#[test]
fn between_nodes_a_deviation_is_a_quintic() {
    let whole = |z: f64| {
        let value = 1.0 + z - 2.0 * z.powi(2) + 0.5 * z.powi(3) + z.powi(4) - 3.0 * z.powi(5);
        let first = 1.0 - 4.0 * z + 1.5 * z.powi(2) + 4.0 * z.powi(3) - 15.0 * z.powi(4);
        [value, first, -4.0 + 3.0 * z + 12.0 * z.powi(2) - 60.0 * z.powi(3)]
    };
    let step = 0.3 / (NODES - 1) as f64;
    let deviation = Deviation { step, nodes: (0..NODES).map(|node| whole(step * node as f64)).collect() };
    for z in [0.0, 0.0031, 0.1, 0.2999, 0.3] {
        // Rounding of the second differences over a step of 7.5 mm: 1e-16/h².
        for (found, exact) in deviation.at(z).into_iter().zip(whole(z)) {
            assert!((found - exact).abs() < 1e-10, "{z}: {found} {exact}");
        }
    }
}

#[test]
fn beyond_the_travel_a_deviation_is_a_parabola() {
    let full = 0.3;
    let deviation = Deviation::over(full, |z| [2e-3 + 0.1 * z - 0.4 * z * z, 0.1 - 0.8 * z, -0.8]);
    for z in [-0.02, 0.1, 0.3, 0.33] {
        let exact = [2e-3 + 0.1 * z - 0.4 * z * z, 0.1 - 0.8 * z, -0.8];
        for (found, exact) in deviation.at(z).into_iter().zip(exact) {
            assert!((found - exact).abs() < 1e-12, "{z}: {found} {exact}");
        }
    }
}

#[test]
fn principal_components_hold_the_variance_of_all() {
    // Three independent deviations, two of them of one shape: 3² + 4² = 5².
    let (full, shapes) = (0.3, [(3.0, 1.0), (4.0, 1.0), (2.0, -1.0)]);
    let nodes = |(size, way): (f64, f64)| -> Vec<[f64; 3]> {
        let at = |node: usize| full * node as f64 / (NODES - 1) as f64;
        let bent = |z: f64| if way > 0.0 { [z, 1.0, 0.0] } else { [z * (z - full), 2.0 * z - full, 2.0] };
        (0..NODES).map(|node| bent(at(node)).map(|number| 1e-3 * size * number)).collect()
    };
    let found = Deviation::principal(shapes.into_iter().map(nodes).collect(), &[0.4; NODES], full);
    assert_eq!(found.len(), 2, "one for each shape");
    for z in [0.0, 0.07, 0.15, 0.3] {
        for number in 0..3 {
            let variance: f64 = found.iter().map(|one| one.at(z)[number].powi(2)).sum();
            let all: f64 = shapes
                .into_iter()
                .map(|shape| Deviation { step: full / (NODES - 1) as f64, nodes: nodes(shape) }.at(z)[number].powi(2))
                .sum();
            assert!((variance - all).abs() < 1e-9 * (1e-6 + all), "{z}: {variance} and {all}");
        }
    }
}

/// What a wheel feels of a motion ratio, and of a slope over a quarter of the travel, relative to the ratio.
#[test]
fn what_nobody_could_see_is_left_out() {
    let full = 0.3;
    let kept = |slope: f64| {
        let all = [[0.0, 1.0, 0.0], [0.0, 0.0, slope]].map(|node| vec![node; NODES]).to_vec();
        Deviation::principal(all, &[0.4; NODES], full).len()
    };
    // 0.25·0.3 of it is 1 % more than the limit, and 1 % less.
    let limit = SEEN / (0.25 * full);
    assert_eq!([kept(1.01 * limit), kept(0.99 * limit)], [2, 1]);
    // A ratio counts by what it is a share of.
    let halved: Vec<f64> = (0..NODES).map(|node| if node < NODES / 2 { 0.4 } else { 0.8 }).collect();
    let of = |from: usize, to: usize| -> Vec<[f64; 3]> {
        (0..NODES).map(|node| [0.0, if (from..to).contains(&node) { 1.0 } else { 0.0 }, 0.0]).collect()
    };
    // As many nodes of twice the ratio are felt half as much: the first of both is the one of the smaller ratio.
    let found = Deviation::principal(vec![of(20, 40), of(0, 20)], &halved, full);
    assert_eq!(found.len(), 2);
    assert!(found[0].nodes[3][1].abs() > 0.99 && found[1].nodes[30][1].abs() > 0.99);
}

/// Lengths read off the drawing itself, but for an error that no pivot explains: up and down in turn.
#[cfg(feature = "serde")]
fn informed_by(off: f64) -> Result<RearEnd> {
    use crate::linkage::MeasuredParts;
    use crate::wheel::PivotUncertainty;
    let bike = crate::Bike::from_toml(crate::demo::PATROL).unwrap();
    let rear = bike.rear().unwrap().clone();
    let (length, stroke, full) = (rear.shock().length().unwrap(), rear.shock().full_stroke(), rear.full_travel().si());
    let readings: Vec<(Length, Length)> = (-1..=24)
        .map(|place| {
            let z = full * f64::from(place) / 23.0;
            let at = rear.motion(z.clamp(0.0, full));
            let stroke = at.stroke + at.ratio * (z - z.clamp(0.0, full));
            let error = if place % 2 == 0 { off } else { -off };
            (Length::from_si(0.05 + z), Length::from_si(length.si() - stroke + error))
        })
        .collect();
    let zero = Length::from_si(0.0);
    let parts = MeasuredParts {
        travel_uncertainty: zero,
        length_uncertainty: Length::from_si(0.5e-3),
        shock_length: length,
        stroke,
    };
    let known = PivotUncertainty { coordinate: Length::from_si(1e-3), shock_length: zero };
    rear.with_pivots_known_to(known).unwrap().with_table(MeasuredLinkage::new(&readings, parts).unwrap())
}

#[test]
#[cfg(feature = "serde")]
fn a_table_off_its_drawing_is_refused_from_twice_its_uncertainty_on() {
    // Errors in turn are nearly at right angles to whatever is smooth: what is left of them is all but the whole.
    assert!(informed_by(1.9 * 0.5e-3).is_ok());
    let refused = informed_by(2.1 * 0.5e-3).unwrap_err().to_string();
    assert!(refused.contains("2.1") || refused.contains("2.0"), "{refused}");
}

#[test]
#[cfg(feature = "serde")]
fn a_table_of_the_drawing_itself_moves_nothing_and_narrows() {
    let with = informed_by(0.0).unwrap();
    let mut alone = with.clone();
    alone.table = None;
    let (with, without) = (with.deviations().unwrap(), alone.deviations().unwrap());
    let mean = with.mean.clone().unwrap();
    let variance = |spread: &[(Origin, Deviation)], z: f64, number: usize| -> f64 {
        spread.iter().map(|(_, one)| one.at(z)[number].powi(2)).sum()
    };
    for z in [0.0, 0.05, 0.1, 0.2, 0.28] {
        // The smoothing spline puts the zero of the travels some hundredths of a millimetre off; that is nothing known.
        assert!(mean.at(z)[1].abs() < 1e-3, "{z}: {:?}", mean.at(z));
        let [left, all] = [&with, &without].map(|one| variance(&one.independent, z, 1));
        assert!(left < 0.5 * all, "{z}: {left} {all}");
    }
}
