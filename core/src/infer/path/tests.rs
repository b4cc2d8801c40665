//! The way against the mechanism that it stands for, and where it settles.

use super::*;

const FULL: f64 = 0.3;

fn deviation(of: fn(f64) -> [f64; 3], by: f64) -> Deviation {
    Deviation::over(FULL, |z| of(z).map(|part| by * part))
}

/// Two unknowns of the stroke, the tape and what pushes beside the springs, in other shares of each.
fn path() -> Path {
    let square: fn(f64) -> [f64; 3] = |z| [z * z, 2.0 * z, 2.0];
    let cube: fn(f64) -> [f64; 3] = |z| [z.powi(3), 3.0 * z * z, 6.0 * z];
    let one = |way, tape, push| Unknown { origin: Origin::Measured, way: Some(way), tape, push: Some(push) };
    let unknowns = vec![
        one(deviation(square, 0.05), 0.03, deviation(cube, 900.0)),
        one(deviation(cube, -0.2), -0.05, deviation(square, 400.0)),
    ];
    Path::stated(Some(deviation(square, 0.02)), 0.04, unknowns).unwrap()
}

/// The mechanism is linear in every unknown alone, so central differences of any width are exact.
#[test]
fn derivatives_are_those_of_the_mechanism_along_the_stroke_and_beside_it() {
    const ROUNDING: f64 = 1e-12;
    let stated = Kinematics { stroke: 0.05, ratio: 0.4, ratio_slope: 0.5, tape: 0.13, tape_slope: 1.1, push: [0.0; 3] };
    let (path, at, travel) = (path(), [0.7, -1.2], 0.17);
    let there = path.moved_to(at.to_vec());
    for along in [false, true] {
        let here = there.apply(travel, stated, along);
        let found = there.derivatives(travel, &here, along);
        assert_eq!(found.len(), 2);
        for (k, by) in found.iter().enumerate() {
            let [less, more] = [-0.5, 0.5].map(|step| {
                let mut at = at.to_vec();
                at[k] += step;
                let moved = path.moved_to(at);
                let kinematics = moved.apply(travel, stated, along);
                Kinematics { push: moved.push(here.stroke), ..kinematics }
            });
            let parts = |one: &Kinematics| [one.stroke, one.ratio, one.ratio_slope, one.tape, one.tape_slope];
            let differences = parts(&more).into_iter().zip(parts(&less)).map(|(more, less)| more - less);
            for (found, exact) in parts(by).into_iter().zip(differences) {
                assert!((found - exact).abs() < ROUNDING, "{k} {along}: {by:?}, {exact}");
            }
            for (j, found) in by.push.into_iter().enumerate() {
                let exact = more.push[j] - less.push[j];
                assert!((found - exact).abs() < ROUNDING * exact.abs().max(1.0), "{k} {j}: {found} {exact}");
            }
        }
    }
}

/// Where every round is told to go, and how many there were.
fn rounds(to: impl Fn(usize) -> [f64; 2]) -> (usize, Vec<f64>) {
    let (mut count, mut last) = (0, vec![0.0; 2]);
    let settled = path().settled(|path| {
        assert_eq!(path.at(), last, "every round starts where the last one ended");
        last = to(count).to_vec();
        count += 1;
        Ok::<_, ()>(last.clone())
    });
    assert_eq!(settled.unwrap().at(), last);
    (count, last)
}

#[test]
fn the_way_is_moved_until_all_of_it_stands() {
    assert_eq!(rounds(|_| [0.0; 2]).0, 1);
    // The first round goes there, the second finds that it stands; one unknown is enough, either way.
    for there in [[0.7, 0.0], [0.0, -1.2], [-STANDS, STANDS]] {
        assert_eq!(rounds(|_| there), (2, there.to_vec()));
    }
    let hardly = STANDS * (1.0 - f64::EPSILON);
    assert_eq!(rounds(|_| [hardly, -hardly]), (1, vec![hardly, -hardly]));
    let halving = rounds(|round| [1.0 - 0.1_f64.powi(round as i32 + 1), 0.0]);
    assert_eq!(halving.0, 3, "moved by 0.9, 0.09 and 0.009");
    assert_eq!(rounds(|round| [round as f64 + 1.0, 0.0]).0, MOST_ROUNDS);
    assert_eq!(path().settled(|_| Err("no fit")), Err("no fit"));
}
