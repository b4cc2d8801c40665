//! Points surveyed from photographs of a synthetic camera: their intervals hold the truth as often as they say, and so does the motion
//! ratio that follows.

use rand_distr::{Distribution, Normal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;
use wheelrate::Bike;
use wheelrate::demo::PATROL;
use wheelrate::linkage::{Linkage, Picture, Survey, SurveyParts};
use wheelrate::units::{Length, Quantity};

const DRAWS: usize = 400;
/// Of 400 draws with some thousand intervals, correlated within a draw: 95 % within 2.5 points, four standard deviations at 300
/// that count.
const SCATTER: f64 = 0.025;
/// Widened where the readings look worse than was said, and so a little wide.
const WIDE: f64 = 0.02;
const PIXEL: f64 = 2.0;
const TAPE: f64 = 1.0e-3;

/// A pinhole camera: yaw and pitch to the plane, distance (m), bend at the corner.
fn seen([yaw, pitch, distance, bend]: [f64; 4], [x, z]: [f64; 2]) -> [f64; 2] {
    const FOCAL: f64 = 4500.0;
    const HALF: f64 = 2500.0;
    let turned = |a: f64, b: f64, angle: f64| {
        let (sin, cos) = angle.sin_cos();
        (a * cos - b * sin, a * sin + b * cos)
    };
    let (across, near) = turned(x + 0.3, 0.0, yaw);
    let (up, near) = turned(z, near, pitch);
    let (u, v) = (FOCAL * across / (distance - near), -FOCAL * up / (distance - near));
    let stretch = 1.0 + bend * (u * u + v * v) / (HALF * HALF);
    [2000.0 + u * stretch, 1500.0 + v * stretch]
}

#[test]
fn intervals_of_surveyed_points_and_of_their_curve_hold_the_truth() {
    let bike = Bike::from_toml(PATROL).unwrap();
    let linkage = bike.rear().unwrap().linkage().unwrap();
    let truth: Vec<(String, [f64; 2])> =
        linkage.mechanism().points().map(|(name, at)| (name.to_owned(), at.map(|part: Length| part.si()))).collect();
    let extra = [("peg", [0.06, -0.21]), ("rack", [-0.56, 0.3])].map(|(name, at)| (name.to_owned(), at));
    let by_hand: Vec<(String, [f64; 2])> = ["swingarm_pivot", "axle", "shock_frame"]
        .iter()
        .map(|name| truth.iter().find(|(found, _)| found == name).unwrap().clone())
        .chain(extra)
        .collect();
    let others = truth.iter().filter(|(name, _)| by_hand.iter().all(|(known, _)| known != name));
    let all: Vec<(String, [f64; 2])> = by_hand.iter().cloned().chain(others.cloned()).collect();
    let travel = Length::from_si(0.102);
    let right = linkage.at(travel).unwrap().motion_ratio.si();
    let mut random = Xoshiro256PlusPlus::seed_from_u64(1703);
    let normal = Normal::new(0.0, 1.0).unwrap();
    let (mut points, mut ratios, mut intervals) = (0, 0, 0);
    for _ in 0..DRAWS {
        let mut draw = |scale: f64| scale * normal.sample(&mut random);
        let pictures = (0..2)
            .map(|_| {
                let camera = [draw(0.15), draw(0.08), 2.8 + draw(0.1), draw(0.01)];
                let pixels = all.iter().map(|(name, at)| {
                    let [right, down] = seen(camera, *at);
                    (name.clone(), [right + draw(PIXEL), down + draw(PIXEL)])
                });
                Picture { pixels: pixels.collect(), size: Some([4000.0, 3000.0]) }
            })
            .collect();
        let known = by_hand.iter().map(|(name, at)| (name.clone(), at.map(|part| Length::from_si(part + draw(TAPE)))));
        let parts = SurveyParts {
            known: known.collect(),
            known_uncertainty: Length::from_si(TAPE),
            pixel_uncertainty: PIXEL,
            pictures,
        };
        let survey = Survey::new(&parts).unwrap();
        let found = survey.points();
        for (name, at) in &truth {
            let (_, place) = found.iter().find(|(found, _)| found == name).unwrap();
            let spread = survey.uncertainty(name).unwrap();
            for axis in 0..2 {
                intervals += 1;
                points += usize::from((place[axis].si() - at[axis]).abs() < 1.96 * spread[axis].si());
            }
        }
        let mechanism = found
            .iter()
            .filter(|(name, _)| truth.iter().any(|(known, _)| known == name))
            .fold(linkage.mechanism().clone(), |mechanism, (name, at)| mechanism.with_point(name, *at).unwrap());
        let (length, stroke) = (linkage.shock_length(), linkage.full_stroke());
        let surveyed = Linkage::new(mechanism, linkage.wheel(), linkage.shock(), length, stroke).unwrap();
        let ratio = surveyed.with_surveyed_pivots(&[travel], &survey, Length::from_si(0.0)).unwrap()[0].motion_ratio;
        ratios += usize::from((ratio.value.si() - right).abs() < 1.96 * ratio.standard_uncertainty.si());
    }
    for (what, held, of) in [("points", points, intervals), ("motion ratio", ratios, DRAWS)] {
        let share = held as f64 / of as f64;
        println!("{what}: {held} of {of} hold the truth");
        // A single number a draw scatters by a point: √(0.95·0.05/400).
        let scatter = if of == DRAWS { 2.0 * SCATTER } else { SCATTER };
        assert!((0.95 - scatter..=0.95 + WIDE + scatter).contains(&share), "{what}: {share}");
    }
}
