use super::*;
use crate::linkage::tests::arrangements::{mm, rocker_on_swingarm};

const SIZE: [f64; 2] = [4000.0, 3000.0];

/// A pinhole camera: yaw and pitch to the plane, roll, distance (m), focal length in pixels, bend at the corner.
struct Pinhole {
    yaw: f64,
    pitch: f64,
    roll: f64,
    distance: f64,
    bend: f64,
}

impl Pinhole {
    fn sees(&self, [x, z]: [f64; 2]) -> [f64; 2] {
        const FOCAL: f64 = 4500.0;
        let turned = |[a, b]: [f64; 2], angle: f64| {
            let (sin, cos) = angle.sin_cos();
            [a * cos - b * sin, a * sin + b * cos]
        };
        // Across, up, towards the camera; the middle of the bike before the lens.
        let (across, up, near) = (x / 1e3 + 0.3, z / 1e3, 0.0);
        let [across, near] = turned([across, near], self.yaw);
        let [up, near] = turned([up, near], self.pitch);
        let [across, up] = turned([across, up], self.roll);
        let depth = self.distance - near;
        let (u, v) = (FOCAL * across / depth, -FOCAL * up / depth);
        let half = 0.5 * SIZE[0].hypot(SIZE[1]);
        let stretch = 1.0 + self.bend * (u * u + v * v) / (half * half);
        [0.5 * SIZE[0] + u * stretch, 0.5 * SIZE[1] + v * stretch]
    }
}

const TILTED: Pinhole = Pinhole { yaw: 0.21, pitch: -0.09, roll: 0.03, distance: 2.6, bend: 0.0 };
const OTHER: Pinhole = Pinhole { yaw: -0.15, pitch: 0.12, roll: -0.05, distance: 3.1, bend: 0.015 };

const KNOWN: [(&str, [f64; 2]); 5] = [
    ("swingarm_pivot", [0.0, 0.0]),
    ("axle", [-575.0, -165.0]),
    ("shock_frame", [-100.0, 329.0]),
    ("peg", [60.0, -210.0]),
    ("rack", [-560.0, 300.0]),
];

/// Every point of the drawing and the known ones, as a camera sees them.
fn picture(camera: &Pinhole, size: Option<[f64; 2]>) -> Picture {
    let drawn = rocker_on_swingarm().points;
    let others = drawn.iter().filter(|(name, _)| KNOWN.iter().all(|(known, _)| known != name));
    let all = KNOWN.iter().copied().chain(others.map(|(name, at)| (*name, *at)));
    Picture { pixels: all.map(|(name, at)| (name.to_owned(), camera.sees(at))).collect(), size }
}

fn parts(pictures: Vec<Picture>) -> SurveyParts {
    SurveyParts {
        known: KNOWN.iter().map(|(name, at)| ((*name).to_owned(), at.map(mm))).collect(),
        known_uncertainty: mm(1.0),
        pixel_uncertainty: 1.5,
        pictures,
    }
}

/// Pixels without an error: what is left is rounding and the last step.
const ROUNDING: f64 = 1e-9;

#[test]
fn any_camera_gives_the_drawing_back() {
    for pictures in [
        vec![picture(&TILTED, None)],
        vec![picture(&OTHER, Some(SIZE))],
        vec![picture(&TILTED, None), picture(&OTHER, Some(SIZE))],
    ] {
        // The prior says that lenses do not bend: as weak beside exact pixels as these are sure.
        let read = SurveyParts { pixel_uncertainty: 1e-3, known_uncertainty: mm(0.0), ..parts(pictures) };
        let bends = read.pictures.iter().any(|picture| picture.size.is_some());
        let survey = Survey::new(&read).unwrap();
        let found = survey.points();
        for (name, at) in rocker_on_swingarm().points {
            let (_, place) = found.iter().find(|(found, _)| found == name).unwrap();
            let off = [0, 1].map(|axis| (place[axis] - mm(at[axis])).si().abs());
            // The pull of the prior on a bend of half its uncertainty, a thousandth of a pixel against it.
            let allowed = if bends { 2e-6 } else { ROUNDING };
            assert!(off.iter().all(|off| *off < allowed), "{name}: {off:?}");
        }
        assert!(survey.misfit().unwrap() < 1.0);
        for (picture, bend) in read.pictures.iter().zip(survey.distortion()) {
            // Pulled as the points are.
            assert!(
                picture.size.is_none() == bend.is_none() && bend.is_none_or(|bend| (bend - 0.015).abs() < 1e-5),
                "{bend:?}"
            );
        }
    }
}

#[test]
fn what_scale_and_rotation_put_wrong_is_found() {
    use crate::linkage::Photograph;
    let pixel = |at: usize| TILTED.sees(KNOWN[at].1);
    let photograph = Photograph::new((pixel(0), KNOWN[0].1.map(mm)), (pixel(1), KNOWN[1].1.map(mm))).unwrap();
    let survey = Survey::new(&parts(vec![picture(&TILTED, None)])).unwrap();
    let truth = [-66.0, -98.0];
    let by_scale = photograph.at(TILTED.sees(truth)).unwrap();
    let (_, by_plane) = survey.points().into_iter().find(|(name, _)| name == "link_frame").unwrap();
    let off =
        |at: [Length; 2]| [0, 1].map(|axis| (at[axis] - mm(truth[axis])).si().abs()).into_iter().fold(0.0, f64::max);
    assert!(off(by_scale) > 1e-3 && off(by_plane) < 1e-6, "{} {}", off(by_scale), off(by_plane));
}

#[test]
fn a_second_picture_makes_the_points_surer_and_never_surer_than_the_tape() {
    let one = Survey::new(&parts(vec![picture(&TILTED, None)])).unwrap();
    let two = Survey::new(&parts(vec![picture(&TILTED, None), picture(&TILTED, None)])).unwrap();
    let many = Survey::new(&parts(vec![picture(&TILTED, None); 8])).unwrap();
    let of = |survey: &Survey| survey.uncertainty("link_frame").unwrap()[0].si();
    assert!(of(&two) < of(&one) && of(&many) < of(&two));
    // Five known points read to 1 mm place a point between them no better than 1 mm/√5.
    assert!(of(&many) > 1e-3 / 5.0_f64.sqrt(), "{}", of(&many));
    assert_eq!(one.uncertainty("no such"), None);
}

#[test]
fn what_does_not_hold_the_plane_is_refused() {
    let full = || picture(&TILTED, None);
    let said = |parts: &SurveyParts| Survey::new(parts).unwrap_err().to_string();
    assert!(said(&parts(Vec::new())).contains("no picture"));
    let mut few = full();
    few.pixels.retain(|(name, _)| name != "peg" && name != "rack");
    let message = said(&parts(vec![full(), few]));
    assert!(message.contains("picture 2") && message.contains("3 known points"), "{message}");
    let mut again = full();
    again.pixels.push(again.pixels[0].clone());
    assert!(said(&parts(vec![again])).contains("`swingarm_pivot` twice"));
    let line: Vec<(String, [f64; 2])> = (0..5).map(|at| (format!("hole {at}"), [f64::from(at) * 100.0, 0.0])).collect();
    let flat = SurveyParts {
        known: line.iter().map(|(name, at)| (name.clone(), at.map(mm))).collect(),
        pictures: vec![Picture {
            pixels: line.iter().map(|(n, at)| (n.clone(), TILTED.sees(*at))).collect(),
            size: None,
        }],
        ..parts(Vec::new())
    };
    assert!(said(&flat).contains("hold the plane"), "{}", said(&flat));
    let odd = SurveyParts { pixel_uncertainty: 0.0, ..parts(vec![full()]) };
    assert!(said(&odd).starts_with("pixel_uncertainty: found 0"), "{}", said(&odd));
}

#[test]
fn a_misread_point_shows_and_widens_everything() {
    let mut wrong = parts(vec![picture(&TILTED, None)]);
    let right = Survey::new(&wrong).unwrap();
    wrong.pictures[0].pixels[4].1[0] += 60.0;
    let found = Survey::new(&wrong).unwrap();
    assert!(right.misfit().unwrap() < 0.1 && found.misfit().unwrap() > 3.0, "{:?}", found.misfit());
    assert!(found.coordinate_uncertainty() > 3.0 * right.coordinate_uncertainty());
}

#[test]
fn independent_points_give_the_curve_that_one_uncertainty_gives() {
    /// The same sum in another order.
    const ROUNDING: f64 = 1e-12;
    let linkage = rocker_on_swingarm().linkage().unwrap();
    let names: Vec<String> = linkage.mechanism().points().map(|(name, _)| name.to_owned()).collect();
    let count = 2 * names.len();
    let spread = 0.4e-3;
    let covariance =
        (0..count * count).map(|place| if place % (count + 1) == 0 { spread * spread } else { 0.0 }).collect();
    let survey = Survey { places: vec![0.0; count], covariance, misfit: None, distortion: Vec::new(), names };
    let travels = linkage.travels(5);
    let by_survey = linkage.with_surveyed_pivots(&travels, &survey, mm(0.3)).unwrap();
    let by_one = linkage.with_pivot_uncertainty(&travels, Length::from_si(spread), mm(0.3)).unwrap();
    for (a, b) in by_survey.iter().zip(&by_one) {
        let of = |point: &crate::linkage::UncertainPoint| point.motion_ratio.standard_uncertainty.si();
        assert!((of(a) / of(b) - 1.0).abs() < ROUNDING, "{a:?} {b:?}");
        assert_eq!(a.motion_ratio.value, b.motion_ratio.value);
    }
}
