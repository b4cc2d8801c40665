use super::*;
use crate::linkage::tests::arrangements::{Drawing, all, mm, rocker_on_swingarm};

/// The linkage with one dimension changed.
fn changed(drawing: &Drawing, dimension: &Dimension, by: f64) -> Linkage {
    let mut drawing = drawing.clone();
    match dimension {
        Dimension::Coordinate { point, axis } => {
            let index = usize::from(*axis == Axis::Z);
            drawing.points.iter_mut().filter(|(name, _)| name == point).for_each(|(_, at)| at[index] += 1000.0 * by);
        }
        Dimension::ShockLength => drawing.length += 1000.0 * by,
        Dimension::LinkLength { body } => {
            let linkage = drawing.linkage().unwrap();
            let length = linkage.length_of(dimension).unwrap() + Length::from_si(by);
            return linkage.with_link_length(body, length).unwrap();
        }
    }
    drawing.linkage().unwrap()
}

fn numbers(linkage: &Linkage, travel: f64) -> [f64; 6] {
    let kernel = linkage.kernel(travel);
    let [x, z] = kernel.axle;
    [kernel.stroke, kernel.motion_ratio, kernel.slope, x, z, linkage.full_travel().si()]
}

#[test]
fn effects_are_the_differences_of_changed_linkages() {
    /// Step of the central differences, extrapolated once; what truncation and rounding leave.
    const STEP: f64 = 2e-4;
    const DIFFERENCES: f64 = 2e-7;
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        let travel = 0.6 * linkage.full_travel();
        for effect in linkage.effects(travel, Length::from_si(1.0)).unwrap() {
            let central = |step: f64| {
                let ends = [step, -step].map(|by| numbers(&changed(&drawing, &effect.dimension, by), travel.si()));
                core::array::from_fn::<f64, 6, _>(|at| (ends[0][at] - ends[1][at]) / (2.0 * step))
            };
            let (fine, coarse) = (central(STEP), central(2.0 * STEP));
            let exact = [
                effect.stroke.si(),
                effect.motion_ratio.si(),
                effect.motion_ratio_slope.si(),
                effect.axle[0].si(),
                effect.axle[1].si(),
                effect.full_travel.si(),
            ];
            for at in 0..6 {
                let difference = (4.0 * fine[at] - coarse[at]) / 3.0;
                let error = (exact[at] - difference).abs();
                let scale = exact[at].abs().max(1.0);
                assert!(
                    error < DIFFERENCES * scale,
                    "{name}: {} of {}: {} or {difference}",
                    at,
                    effect.dimension,
                    exact[at]
                );
            }
        }
    }
}

#[test]
fn moving_the_whole_drawing_does_nothing() {
    for (name, drawing) in all() {
        let linkage = drawing.linkage().unwrap();
        let effects = linkage.effects(0.4 * linkage.full_travel(), mm(1.0)).unwrap();
        for axis in [Axis::X, Axis::Z] {
            let along =
                effects.iter().filter(|e| matches!(&e.dimension, Dimension::Coordinate { axis: a, .. } if *a == axis));
            let (mut ratio, mut stroke) = (0.0, 0.0);
            along.for_each(|effect| {
                ratio += effect.motion_ratio.si();
                stroke += effect.stroke.si();
            });
            assert!(ratio.abs() < 1e-13 && stroke.abs() < 1e-14, "{name}: {ratio:e} {stroke:e}");
        }
    }
}

#[test]
fn pivot_uncertainty_agrees_with_monte_carlo() {
    /// Draws, and what they leave of a standard deviation: 1/√(2N) is 1.6 %, four times that.
    const DRAWS: u64 = 2_000;
    const SCATTER: f64 = 0.065;
    let drawing = rocker_on_swingarm();
    let linkage = drawing.linkage().unwrap();
    let travels = [mm(20.0), mm(150.0), mm(280.0)];
    let (pivot, length) = (0.4, 0.3);
    let stated = linkage.with_pivot_uncertainty(&travels, mm(pivot), mm(length)).unwrap();
    let mut state = 0x2545_F491_4F6C_DD1D_u64;
    let mut normal = || {
        (0..12)
            .map(|_| {
                state ^= state << 13;
                state ^= state >> 7;
                state ^= state << 17;
                (state >> 11) as f64 / (1u64 << 53) as f64
            })
            .sum::<f64>()
            - 6.0
    };
    let mut sums = [[[0.0; 2]; 3]; 3];
    for _ in 0..DRAWS {
        let mut drawn = drawing.clone();
        drawn.points.iter_mut().for_each(|(_, at)| at.iter_mut().for_each(|part| *part += pivot * normal()));
        drawn.length += length * normal();
        let drawn = drawn.linkage().unwrap();
        for (sums, travel) in sums.iter_mut().zip(travels) {
            let [stroke, ratio, slope, ..] = numbers(&drawn, travel.si());
            for (sum, value) in sums.iter_mut().zip([stroke, ratio, slope]) {
                sum[0] += value;
                sum[1] += value * value;
            }
        }
    }
    for (point, sums) in stated.iter().zip(sums) {
        let spread = sums.map(|[sum, squares]| {
            let mean = sum / DRAWS as f64;
            (squares / DRAWS as f64 - mean * mean).sqrt()
        });
        let stated = [
            point.stroke.standard_uncertainty.si(),
            point.motion_ratio.standard_uncertainty.si(),
            point.motion_ratio_slope.standard_uncertainty.si(),
        ];
        for (stated, spread) in stated.into_iter().zip(spread) {
            assert!((stated / spread - 1.0).abs() < SCATTER, "stated {stated:e}, drawn {spread:e}");
        }
    }
}

#[test]
fn the_ranking_is_in_order_and_knows_what_does_not_count() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let ranked = linkage.ranking(mm(1.0)).unwrap();
    assert_eq!(ranked.len(), linkage.dimensions().len());
    assert!(ranked.windows(2).all(|pair| pair[0].1.si() >= pair[1].1.si()));
    assert!(ranked[0].1.si() > 0.001, "{:?}", ranked[0]);
}

#[test]
fn a_longer_link_is_longer_and_a_wrong_one_is_refused() {
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let longer = linkage.with_link_length("link", mm(178.0)).unwrap();
    let at = |name: &str| longer.mechanism().point(name).unwrap().map(|part| part.si());
    let ([ax, az], [bx, bz]) = (at("link_frame"), at("link_rocker"));
    assert!(((ax - bx).hypot(az - bz) - 0.178).abs() < 1e-14);
    assert_eq!(at("axle")[1], -0.165);
    assert!(longer.full_travel() != linkage.full_travel());
    let message = linkage.with_link_length("rocker", mm(100.0)).unwrap_err().to_string();
    assert!(message.contains("`rocker`") && message.contains("`link`"), "{message}");
    assert!(matches!(linkage.with_link_length("link", mm(900.0)), Err(LinkageError::LinkTooLong { .. })));
    let fault = linkage.with_link_length("link", mm(-1.0)).unwrap_err().to_string();
    assert!(fault.starts_with("link length: found -1 mm"), "{fault}");
}
