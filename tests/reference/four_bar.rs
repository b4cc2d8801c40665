//! Four-bar linkages from textbooks: positions and angular speeds, read out of the general engine through a shock.
//!
//! The engine knows no angles. A shock from a far point of the frame to a point of the body in question gives one
//! velocity component of that point, and so the body's angular speed. The linkage is drawn five degrees before the
//! position asked for, so that the engine has to find that position.

use wheelrate::linkage::{Linkage, Mechanism};
use wheelrate::units::{Length, Quantity};

use crate::outside::{Tolerance, agree};

/// Angle in degrees between the drawn position and the one asked for.
const DRAWN_BEFORE: f64 = 5.0;

struct FourBar {
    crank: f64,
    coupler: f64,
    rocker: f64,
    ground: f64,
    /// +1: open (the coupler's far pivot above), −1: crossed.
    branch: f64,
}

/// Angles of coupler and rocker in degrees, and their speeds per speed of the crank.
struct Motion {
    coupler_angle: f64,
    rocker_angle: f64,
    coupler_speed: f64,
    rocker_speed: f64,
}

type Point = [f64; 2];

fn sub(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1]]
}

fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

fn normal(a: Point) -> Point {
    [-a[1], a[0]]
}

fn degrees(from: Point, to: Point) -> f64 {
    let d = sub(to, from);
    d[1].atan2(d[0]).to_degrees()
}

impl FourBar {
    /// Crank tip and far pivot for a crank angle in degrees, by the law of cosines.
    fn drawn(&self, angle: f64) -> [Point; 2] {
        let angle = angle.to_radians();
        let tip = [self.crank * angle.cos(), self.crank * angle.sin()];
        let diagonal = sub([self.ground, 0.0], tip);
        let length = dot(diagonal, diagonal).sqrt();
        let cosine = (self.coupler.powi(2) + length.powi(2) - self.rocker.powi(2)) / (2.0 * self.coupler * length);
        let direction = diagonal[1].atan2(diagonal[0]) + self.branch * cosine.acos();
        [tip, [tip[0] + self.coupler * direction.cos(), tip[1] + self.coupler * direction.sin()]]
    }

    fn at(&self, angle: f64) -> Motion {
        let [pivot, far] = [[0.0, 0.0], [self.ground, 0.0]];
        let speed = |point: &str| {
            let linkage = self.with_shock_on(point, angle);
            let [crank_tip, _] = self.drawn(angle);
            let travel = linkage.drawn_travel().si() + (crank_tip[1] - self.drawn(angle - DRAWN_BEFORE)[0][1]) / 1000.0;
            let travel = Length::from_si(travel);
            let pose = linkage.pose(travel).expect("within the travel");
            let place = |name: &str| -> Point {
                let found = pose.iter().find(|(point, _)| *point == name).expect("a point of the mechanism");
                found.1.map(|part| 1000.0 * part.si())
            };
            let (tip, pivot_of_both, eye, anchor) = (place("tip"), place("joint"), place(point), place("anchor"));
            let ratio = linkage.at(travel).expect("within the travel").motion_ratio.si();
            let along = sub(eye, anchor);
            let along = along.map(|part| part / dot(along, along).sqrt());
            // The eye's velocity along the shock for unit speed of the crank.
            let closing = -ratio * normal(tip)[1];
            let (carried, arm) = match point {
                "joint" => (0.0, sub(pivot_of_both, far)),
                _ => (dot(along, normal(tip)), sub(eye, tip)),
            };
            ((closing - carried) / dot(along, normal(arm)), [tip, pivot_of_both])
        };
        let (coupler_speed, [tip, joint]) = speed("middle");
        let (rocker_speed, _) = speed("joint");
        assert!((degrees(pivot, tip) - angle).abs() < 1e-10);
        Motion { coupler_angle: degrees(tip, joint), rocker_angle: degrees(far, joint), coupler_speed, rocker_speed }
    }

    fn with_shock_on(&self, point: &str, angle: f64) -> Linkage {
        let [tip, joint] = self.drawn(angle - DRAWN_BEFORE);
        let middle = [0.5 * (tip[0] + joint[0]), 0.5 * (tip[1] + joint[1])];
        let anchor = [-2.0 * self.ground, 0.3 * self.ground];
        let points = [
            ("pivot", [0.0, 0.0]),
            ("far", [self.ground, 0.0]),
            ("anchor", anchor),
            ("tip", tip),
            ("joint", joint),
            ("middle", middle),
        ];
        let mechanism = Mechanism::new(
            points.map(|(name, at)| (name, at.map(|part| Length::from_si(part / 1000.0)))),
            [
                ("frame", vec!["pivot", "far", "anchor"]),
                ("crank", vec!["pivot", "tip"]),
                ("coupler", vec!["tip", "middle", "joint"]),
                ("rocker", vec!["joint", "far"]),
            ],
        )
        .expect("a four-bar");
        let eye = if point == "joint" { joint } else { middle };
        let length = dot(sub(eye, anchor), sub(eye, anchor)).sqrt() / 1000.0;
        let stroke = Length::from_si(0.15 * self.crank / 1000.0);
        Linkage::new(mechanism, "tip", ("anchor", point), Length::from_si(length), stroke).expect("a linkage")
    }
}

/// Per unit: values drawn, not computed.
const GRAPHICAL: Tolerance =
    Tolerance::absolute(0.01, "the book's values are graphical, to 1 %; where it draws larger, 0.5 %");
const CLOSED_FORM: Tolerance = Tolerance::absolute(1e-6, "ours by closed form, to six decimals");

/// R. L. Norton, *Design of Machinery*, Examples 4-1 and 6-7 (values from memory, recomputed to the digits here; the
/// crossed speeds are ours): links 40, 120, 80, ground 100, crank at 40° and 25 rad/s.
#[test]
fn norton() {
    const HALF_OF_LAST_DIGIT: Tolerance = Tolerance::absolute(5e-4, "half of the last printed digit");
    const RECOMPUTED: Tolerance = Tolerance::absolute(5e-6, "recomputed to five decimals");
    let open = FourBar { crank: 40.0, coupler: 120.0, rocker: 80.0, ground: 100.0, branch: 1.0 };
    let motion = open.at(40.0);
    agree!(motion.coupler_angle, 20.298, HALF_OF_LAST_DIGIT);
    agree!(motion.rocker_angle, 57.325, HALF_OF_LAST_DIGIT);
    agree!(25.0 * motion.coupler_speed, -4.121, HALF_OF_LAST_DIGIT);
    agree!(25.0 * motion.rocker_speed, 6.998, HALF_OF_LAST_DIGIT);
    agree!(motion.coupler_angle, 20.297_88, RECOMPUTED);
    agree!(25.0 * motion.rocker_speed, 6.997_99, RECOMPUTED);
    let crossed = FourBar { branch: -1.0, ..open };
    let motion = crossed.at(40.0);
    agree!(motion.coupler_angle, -60.98, HALF_OF_LAST_DIGIT.times(10.0));
    // In print −98.01; exact −98.005.
    agree!(motion.rocker_angle, -98.004_96, RECOMPUTED);
    agree!(25.0 * motion.coupler_speed, -9.258_773, RECOMPUTED);
    agree!(25.0 * motion.rocker_speed, -20.377_672, RECOMPUTED);
}

/// Khurmi & Gupta, *Theory of Machines*, Example 7.1: links 40, 150, 80, ground 150, crank at 60° and 120 rev/min.
/// The book's values are graphical (1 %); the exact ones are ours, by closed form.
#[test]
fn khurmi_7_1() {
    let bars = FourBar { crank: 40.0, coupler: 150.0, rocker: 80.0, ground: 150.0, branch: 1.0 };
    let speed = 120.0 * core::f64::consts::TAU / 60.0;
    let motion = bars.at(60.0);
    agree!(speed * motion.rocker_speed, 4.8, GRAPHICAL.times(4.8));
    agree!(speed * motion.rocker_speed * 0.08, 0.385, GRAPHICAL.times(0.385));
    agree!(speed * motion.rocker_speed, 4.784_571, CLOSED_FORM);
    agree!(speed * motion.coupler_speed, -1.308_625, CLOSED_FORM);
    agree!(motion.coupler_angle, 17.153_963, CLOSED_FORM);
    agree!(motion.rocker_angle, 80.410_279, CLOSED_FORM);
}

/// Khurmi & Gupta, *Theory of Machines*, Example 6.1 (ground and angle from memory): links 300, 360, 360, ground 600,
/// crank at 60° and 100 rev/min. The book's value is graphical (0.5 %).
#[test]
#[expect(clippy::approx_constant, reason = "the printed value, which only happens to look like 2π")]
fn khurmi_6_1() {
    let bars = FourBar { crank: 300.0, coupler: 360.0, rocker: 360.0, ground: 600.0, branch: 1.0 };
    let speed = 100.0 * core::f64::consts::TAU / 60.0;
    let motion = bars.at(60.0);
    agree!((speed * motion.coupler_speed).abs(), 6.283, GRAPHICAL.times(0.5 * 6.283));
    agree!((speed * motion.coupler_speed).abs(), 6.303_389, CLOSED_FORM);
}
