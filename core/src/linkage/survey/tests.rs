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
        assert_eq!(survey.distortion().len(), read.pictures.len());
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
    assert!(said(&flat).contains("hold the plane") && said(&flat).contains("picture 1"), "{}", said(&flat));
    // Of two pictures neither is more at fault than the other.
    let both = SurveyParts { pictures: vec![flat.pictures[0].clone(); 2], ..flat.clone() };
    assert!(said(&both).contains("hold the plane") && !said(&both).contains("picture "), "{}", said(&both));
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

/// Pixels without an error, of four known points at least and of all others, in one picture without a bend.
fn straight() -> SurveyParts {
    parts(vec![picture(&TILTED, None)])
}

#[test]
fn what_is_read_of_a_survey_is_one_covariance() {
    let read = SurveyParts { known_uncertainty: mm(0.8), ..parts(vec![picture(&TILTED, None), picture(&OTHER, None)]) };
    let survey = Survey::new(&read).unwrap();
    let names: Vec<&str> = survey.names().iter().map(String::as_str).collect();
    assert_eq!(names[..KNOWN.len()], KNOWN.map(|(name, _)| name));
    let points = survey.points();
    assert_eq!(points.iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>(), names);
    let count = 2 * names.len();
    let covariance = survey.covariance();
    assert_eq!(covariance.len(), count * count);
    let mut squares = 0.0;
    for (place, name) in names.iter().enumerate() {
        for (axis, part) in survey.uncertainty(name).unwrap().into_iter().enumerate() {
            let row = 2 * place + axis;
            let variance = covariance[row * count + row];
            assert!(variance > 0.0 && (part.si().powi(2) / variance - 1.0).abs() < 1e-12, "{name}: {part:?}");
            squares += variance;
            for column in 0..count {
                let (here, there) = (covariance[row * count + column], covariance[column * count + row]);
                let scale = (variance * covariance[column * count + column]).sqrt();
                assert!((here - there).abs() < 1e-9 * scale && here.abs() <= scale * (1.0 + 1e-9), "{name} {column}");
            }
        }
    }
    assert!((survey.coordinate_uncertainty().si().powi(2) / (squares / count as f64) - 1.0).abs() < 1e-12);
    // What a tape knows to 0.8 mm, pictures make no worse.
    assert!(survey.uncertainty("axle").unwrap().into_iter().all(|part| part < mm(0.8) && part > mm(0.2)));
}

/// By brute force: each reading off by its uncertainty in turn, everything solved anew, and the squares of what that moves added up.
#[test]
fn the_covariance_is_what_errors_of_the_readings_do() {
    /// Errors of a twentieth of their uncertainty, both ways: what is not linear in them is left out twice over.
    const SHARE: f64 = 0.05;
    let read = straight();
    let survey = Survey::new(&read).unwrap();
    let places = |parts: &SurveyParts| -> Vec<f64> {
        Survey::new(parts).unwrap().points().iter().flat_map(|(_, at)| at.map(|part| part.si())).collect()
    };
    let mut changed: Vec<[SurveyParts; 2]> = Vec::new();
    for axis in 0..2 {
        for point in 0..read.known.len() {
            changed.push([SHARE, -SHARE].map(|by| {
                let mut read = read.clone();
                read.known[point].1[axis] += read.known_uncertainty * by;
                read
            }));
        }
        for point in 0..read.pictures[0].pixels.len() {
            changed.push([SHARE, -SHARE].map(|by| {
                let mut read = read.clone();
                read.pictures[0].pixels[point].1[axis] += read.pixel_uncertainty * by;
                read
            }));
        }
    }
    let moves: Vec<Vec<f64>> = changed
        .iter()
        .map(|[ahead, back]| {
            places(ahead).iter().zip(places(back)).map(|(ahead, back)| (ahead - back) / (2.0 * SHARE)).collect()
        })
        .collect();
    let count = survey.points().len() * 2;
    for row in 0..count {
        for column in 0..count {
            let summed: f64 = moves.iter().map(|moved| moved[row] * moved[column]).sum();
            let stated = survey.covariance()[row * count + column];
            let scale = (survey.covariance()[row * (count + 1)] * survey.covariance()[column * (count + 1)]).sqrt();
            assert!((summed - stated).abs() < 1e-5 * scale, "{row} {column}: {summed:e} {stated:e}");
        }
    }
}

/// Pixels of a lens that does not bend are explained by the start already.
#[test]
fn without_errors_the_start_is_the_solution() {
    for pictures in [vec![picture(&TILTED, None)], vec![picture(&TILTED, None), picture(&OTHER_STRAIGHT, Some(SIZE))]] {
        let read = parts(pictures);
        let task = Task::new(&read).unwrap();
        let start = task.start(2 * task.names.len() + (H + 1) * task.views.len()).unwrap();
        let (_, off) = task.observed(&start);
        // Rounding, in uncertainties of a pixel and a half among thousands.
        assert!(off.amax() < ROUNDING, "{}", off.amax());
    }
}

const OTHER_STRAIGHT: Pinhole = Pinhole { bend: 0.0, ..OTHER };

#[test]
fn observations_have_their_derivatives() {
    /// Numbers near one over uncertainties of thousandths: differences both ways, extrapolated once.
    const STEP: f64 = 1e-4;
    const DIFFERENCES: f64 = 1e-8;
    let read = parts(vec![picture(&TILTED, None), picture(&OTHER, Some(SIZE))]);
    let task = Task::new(&read).unwrap();
    let points = 2 * task.names.len();
    let mut at = task.start(points + (H + 1) * task.views.len()).unwrap();
    // Beside the solution, and the second lens bent.
    at.iter_mut().enumerate().for_each(|(place, part)| *part += 0.01 * (place as f64).sin());
    let bends = [points + H, points + 2 * H + 1];
    at[bends[0]] = 0.0;
    at[bends[1]] = 0.04;
    let (jacobian, _) = task.observed(&at);
    for column in 0..at.len() {
        let central = |step: f64| {
            let moved = |by: f64| {
                let mut at = at.clone();
                at[column] += by;
                task.observed(&at).1
            };
            (moved(step) - moved(-step)) / (2.0 * step)
        };
        let difference = (4.0 * central(STEP) - central(2.0 * STEP)) / 3.0;
        let found = jacobian.column(column);
        let scale = found.amax();
        for row in 0..jacobian.nrows() {
            // A lens that does not bend is left out of its pixels, and held straight by an observation of its own.
            if column == bends[0] && difference[row].abs() < scale * 0.1 {
                assert_eq!(found[row], 0.0);
                continue;
            }
            assert!((found[row] - difference[row]).abs() < DIFFERENCES * scale, "{row} {column}: {}", found[row]);
        }
    }
}

/// Eight unknowns of a picture take four known points; each further one leaves two readings to see errors by.
#[test]
fn what_is_left_over_shows_errors_and_widens_by_them() {
    let mut four = straight();
    four.known.truncate(4);
    assert_eq!(Survey::new(&four).unwrap().misfit(), None);
    let right = Survey::new(&straight()).unwrap();
    let mut wrong = straight();
    wrong.pictures[0].pixels[4].1[0] += 15.0;
    let found = Survey::new(&wrong).unwrap();
    let misfit = found.misfit().unwrap();
    // What the solution leaves of every reading, over its uncertainty, on two degrees of freedom.
    let task = Task::new(&wrong).unwrap();
    let mut at = task.start(2 * task.names.len() + H + 1).unwrap();
    for _ in 0..8 {
        let (jacobian, off) = task.observed(&at);
        at -= jacobian.svd(true, true).solve(&off, 0.0).unwrap();
    }
    let squares = task.observed(&at).1.norm_squared();
    assert!((misfit.powi(2) / (squares / 2.0) - 1.0).abs() < 1e-9 && misfit > 1.0, "{misfit} {squares}");
    // The picture is as well placed as before, but for the hundredth by which it has moved.
    let widened = found.coordinate_uncertainty().si() / right.coordinate_uncertainty().si();
    assert!((widened / misfit - 1.0).abs() < 0.02, "{widened} {misfit}");
}

/// At the wheel as in the linkage: independent points give what one uncertainty gives, with the shock's length and without it.
#[cfg(feature = "serde")]
#[test]
fn independent_points_give_the_wheel_that_one_uncertainty_gives() {
    use crate::wheel::UncertainWheel;
    /// The same sum in another order.
    const ROUNDING: f64 = 1e-12;
    let end = crate::Bike::from_toml(crate::demo::PATROL).unwrap().rear().unwrap().clone();
    let names: Vec<String> = end.linkage().unwrap().mechanism().points().map(|(name, _)| name.to_owned()).collect();
    let count = 2 * names.len();
    let of = |spread: f64, shock: f64| {
        let diagonal = |place: usize| if place.is_multiple_of(count + 1) { spread * spread } else { 0.0 };
        let covariance = (0..count * count).map(diagonal).collect();
        let names = names.clone();
        let survey = Survey { places: vec![0.0; count], covariance, misfit: None, distortion: Vec::new(), names };
        let travels = [mm(0.0), mm(120.0), mm(280.0)];
        let spreads = |found: Vec<UncertainWheel>| -> Vec<f64> {
            let of = |at: &UncertainWheel| {
                [at.wheel_force.standard_uncertainty.si(), at.wheel_rate.standard_uncertainty.si()]
            };
            found.iter().flat_map(of).collect()
        };
        let by_survey = end.with_surveyed_pivots(&travels, &survey, mm(shock)).unwrap();
        let by_one = end.with_pivot_uncertainty(&travels, Length::from_si(spread), mm(shock)).unwrap();
        (spreads(by_survey), spreads(by_one))
    };
    for (spread, shock) in [(0.4e-3, 0.3), (0.4e-3, 0.0), (0.0, 0.7)] {
        let (by_survey, by_one) = of(spread, shock);
        for (survey, one) in by_survey.into_iter().zip(by_one) {
            assert!(one > 0.0 && (survey / one - 1.0).abs() < ROUNDING, "{survey} {one}");
        }
    }
}
