//! Front ends on links, as on paper.
//!
//! - **A single arm** of radius `a` about a fixed pivot, its angle `θ` above level, a strut from an eye at `b`, `β` ahead of the arm,
//!   to a point of the frame at `h`, `τ`: the law of cosines gives its length `L`, and with `φ = τ − θ − β`
//!   `MR = b·h·sin φ/(L·a·cos θ)`, `dMR/dz = MR·(b·h·sin φ/L² − cot φ + tan θ)/(a·cos θ)`. The axle runs on a circle, so that the
//!   offset from an axis in the frame is `d + a·(cos(θ − ε) − cos(θ₀ − ε))`; a caliper on the arm turns about the pivot.
//! - **Parallel equal links** carry their coupler round without turning it: every point of it runs on a circle of the links'
//!   length, and an axis in it keeps its rake.
//! - **Unequal links**: Freudenstein's equation for the coupler's angle, `K₁·cos θ₃ + K₄·cos θ₂ + K₅ = cos(θ₂ − θ₃)`, in its
//!   half-angle form (Norton, *Design of Machinery*, ch. 4, from memory).
//! - **Kennedy's rule** for what a caliper on the coupler turns about (as for the rear brake).

use wheelrate::Bike;
use wheelrate::bike::settling::{RearReaction, Running, SettledBike};
use wheelrate::bike::steering::Steering;
use wheelrate::linkage::{BrakeStance, Linkage, Mechanism};
use wheelrate::shock::{Shock, ShockParts};
use wheelrate::spring::Preloaded;
use wheelrate::units::{Acceleration, Angle, Length, Quantity, Share, SpringRate};
use wheelrate::wheel::{FrontEnd, Wheel as _};

use crate::outside::{Tolerance, agree};

const CLOSED: Tolerance = Tolerance::absolute(1e-10, "closed form on both sides, lengths below a metre");
const SLOPE: Tolerance = Tolerance::absolute(1e-7, "second derivatives per metre of an arm of a tenth of one");
const CROSSING: Tolerance = Tolerance::absolute(1e-9, "lines that cross within metres, by points known to 1e-15 m");

const RAKE: f64 = 0.47;
const RADIUS: f64 = 0.34;
const OFFSET: f64 = 0.05;

fn m(value: f64) -> Length {
    Length::from_si(value)
}

fn end(
    points: &[(&str, [f64; 2])],
    bodies: &[(&str, &[&str])],
    strut: (&str, &str),
    stroke: f64,
    count: u8,
) -> FrontEnd {
    let at = |name: &str| points.iter().find(|(point, _)| *point == name).unwrap().1;
    let (top, eye) = (at(strut.0), at(strut.1));
    // Drawn at full extension.
    let length = m((top[0] - eye[0]).hypot(top[1] - eye[1]));
    let mechanism = Mechanism::new(
        points.iter().map(|(name, at)| (*name, at.map(m))),
        bodies.iter().map(|(name, points)| (*name, points.to_vec())),
    );
    let linkage = Linkage::new(mechanism.unwrap(), "axle", strut, length, m(stroke)).unwrap();
    let spring = Preloaded::linear(SpringRate::from_si(11e3), m(0.012)).unwrap();
    let mut parts = ShockParts::new();
    parts.spring = Some(spring);
    FrontEnd::linked(linkage, Shock::new(length, m(stroke), parts, count).unwrap(), Angle::from_si(RAKE)).unwrap()
}

fn steering(end: &FrontEnd, travel: f64) -> Steering {
    Steering::at(end, m(travel), m(OFFSET), m(RADIUS)).unwrap()
}

fn brake() -> BrakeStance {
    BrakeStance { wheel_radius: m(RADIUS), cg_height: m(0.84), wheelbase: m(1.48) }
}

/// A leading link (`ahead` 1) or a trailing one (−1), and an eye off the line from pivot to axle.
fn single_arm(ahead: f64) -> (FrontEnd, [f64; 2]) {
    let (arm, start) = (0.14, -0.5_f64);
    let pivot = [0.8, -0.1];
    let axle = [pivot[0] + ahead * arm * start.cos(), pivot[1] + arm * start.sin()];
    let (eye, top) = ([pivot[0] + ahead * 0.09, pivot[1] - 0.02], [pivot[0] + ahead * 0.06, 0.25]);
    let points = [("pivot", pivot), ("axle", axle), ("eye", eye), ("top", top)];
    let bodies: [(&str, &[&str]); 2] = [("frame", &["pivot", "top"]), ("link", &["pivot", "axle", "eye"])];
    (end(&points, &bodies, ("top", "eye"), 0.075, 2), pivot)
}

#[test]
fn a_single_arm_in_closed_form() {
    for ahead in [1.0, -1.0] {
        let (front, pivot) = single_arm(ahead);
        let front = front.with_caliper("link".to_owned()).unwrap();
        // Seen from the side on which the link leads, which mirrors a trailing one.
        let polar = |at: [f64; 2]| {
            let [x, z] = [ahead * (at[0] - pivot[0]), at[1] - pivot[1]];
            (x.hypot(z), z.atan2(x))
        };
        let ((b, eye), (h, tau)) =
            (polar([pivot[0] + ahead * 0.09, pivot[1] - 0.02]), polar([pivot[0] + ahead * 0.06, 0.25]));
        let (a, start) = (0.14, -0.5_f64);
        let beta = eye - start;
        let full = front.full_travel().si();
        for travel in [0.0, 0.3, 0.6, 0.95].map(|share| share * full) {
            let theta = (start.sin() + travel / a).asin();
            let phi = tau - theta - beta;
            let length = (b * b + h * h - 2.0 * b * h * phi.cos()).sqrt();
            let ratio = b * h * phi.sin() / (length * a * theta.cos());
            let slope =
                ratio * (b * h * phi.sin() / (length * length) - 1.0 / phi.tan() + theta.tan()) / (a * theta.cos());
            let at = front.at(m(travel)).unwrap();
            agree!(at.motion_ratio.si(), ratio, CLOSED, "motion ratio of a strut on a single arm");
            agree!(at.motion_ratio_slope.si(), slope, SLOPE, "its slope (1/m)");
            let stroke = front.shock().unwrap().length().unwrap().si() - length;
            let force = 2.0 * 11e3 * (stroke + 0.012);
            agree!(at.wheel_force.si(), force * ratio, Tolerance::relative(1e-9, "closed form on both sides"));
            let rate = 2.0 * 11e3 * ratio * ratio + force * slope;
            agree!(at.wheel_rate.si(), rate, Tolerance::relative(1e-9, "closed form on both sides"));

            // The axle on its circle, and the steering axis in the frame.
            let across = |theta: f64| a * (ahead * theta.cos() * RAKE.cos() + theta.sin() * RAKE.sin());
            let offset = OFFSET + across(theta) - across(start);
            let found = steering(&front, travel);
            agree!(found.rake.si(), RAKE, CLOSED, "rake of an axis in the frame (rad)");
            agree!(found.fork_offset.si(), offset, CLOSED, "offset of an axle on a link (m)");
            let trail = (RADIUS * RAKE.sin() - offset) / RAKE.cos();
            agree!(found.trail().unwrap().si(), trail, CLOSED, "trail over the travel of a link (m)");

            // Braked, the contact turns about the pivot: forward on a leading link, back on a trailing one.
            let forward = ahead * (RADIUS - a * theta.sin()) / (a * theta.cos());
            let braked = front.linkage().unwrap().anti_rise("link", &brake(), &[m(travel)]).unwrap()[0];
            agree!(-braked.brake_angle.si().tan(), forward, CLOSED, "way of the braked contact, forward per travel");
        }
    }
}

/// Upper and lower link, as vectors from frame to upright, and the strut from the lower one to the frame.
fn two_links(upper: [f64; 2], lower: [f64; 2]) -> FrontEnd {
    let (top, bottom) = ([0.62, 0.42], [0.66, 0.24]);
    let points = [
        ("top", top),
        ("bottom", bottom),
        ("upper", [top[0] + upper[0], top[1] + upper[1]]),
        ("lower", [bottom[0] + lower[0], bottom[1] + lower[1]]),
        ("axle", [0.9, -0.15]),
        ("eye", [bottom[0] + 0.7 * lower[0], bottom[1] + 0.7 * lower[1]]),
        ("mount", [0.6, 0.6]),
    ];
    let bodies: [(&str, &[&str]); 4] = [
        ("frame", &["top", "bottom", "mount"]),
        ("upper_link", &["top", "upper"]),
        ("lower_link", &["bottom", "lower", "eye"]),
        ("upright", &["upper", "lower", "axle"]),
    ];
    end(&points, &bodies, ("mount", "eye"), 0.07, 1)
}

#[test]
fn parallel_equal_links_turn_nothing() {
    let link = [0.17, -0.05];
    let front = two_links(link, link);
    let (radius, full) = (link[0].hypot(link[1]), front.full_travel().si());
    let centre = [0.9 - link[0], -0.15 - link[1]];
    for travel in [0.2, 0.5, 0.8, 1.0].map(|share| share * full) {
        let [x, z] = front.axle(m(travel)).unwrap().map(|part| part.si());
        agree!(
            (x - centre[0]).hypot(z - centre[1]),
            radius,
            CLOSED,
            "radius of the axle's path on parallel equal links (m)"
        );
        let height = link[1] + travel;
        agree!(x - centre[0], (radius * radius - height * height).sqrt(), CLOSED, "the axle on its circle (m)");
        for body in ["frame", "upright"] {
            let steered = front.clone().with_steering_body(body.to_owned()).unwrap();
            let found = steering(&steered, travel);
            agree!(found.rake.si(), RAKE, CLOSED, "rake on parallel equal links (rad), axis in {body}");
            let moved = if body == "frame" {
                ((radius * radius - height * height).sqrt() - link[0]) * RAKE.cos() + travel * RAKE.sin()
            } else {
                0.0
            };
            agree!(found.fork_offset.si(), OFFSET + moved, CLOSED, "offset (m), axis in {body}");
        }
        // The upright does not turn, so that its contact goes with the axle.
        let forward = -height / (radius * radius - height * height).sqrt();
        let braked = front.linkage().unwrap().anti_rise("upright", &brake(), &[m(travel)]).unwrap()[0];
        agree!(-braked.brake_angle.si().tan(), forward, CLOSED, "way of the braked contact on parallel links");
    }
}

#[test]
fn unequal_links_turn_the_upright_as_freudenstein_says() {
    let (upper, lower) = ([0.15, -0.01], [0.19, -0.06]);
    let front = two_links(upper, lower).with_steering_body("upright".to_owned()).unwrap();
    let linkage = front.linkage().unwrap();
    // Ground from the lower to the upper pivot; angles from that line.
    let ground = [0.62 - 0.66, 0.42 - 0.24];
    let tilt = f64::atan2(ground[1], ground[0]);
    let upright = [0.62 + upper[0] - 0.66 - lower[0], 0.42 + upper[1] - 0.24 - lower[1]];
    let [a, b, c, d] = [lower, upright, upper, ground].map(|bar| bar[0].hypot(bar[1]));
    let coupler = |crank: f64| {
        let (k1, k4) = (d / a, d / b);
        let k5 = (c * c - d * d - a * a - b * b) / (2.0 * a * b);
        let cos = crank.cos();
        let (p, q, r) = (cos - k1 + k4 * cos + k5, -2.0 * crank.sin(), k1 + (k4 - 1.0) * cos + k5);
        [-1.0, 1.0].map(|sign| 2.0 * ((-q + sign * (q * q - 4.0 * p * r).sqrt()) / (2.0 * p)).atan())
    };
    let crank = |at: [f64; 2]| (at[1] - 0.24).atan2(at[0] - 0.66) - tilt;
    let place = |name: &str, travel: f64| {
        let pose = linkage.pose(m(travel)).unwrap();
        pose.iter().find(|(point, _)| *point == name).unwrap().1.map(|part| part.si())
    };
    let drawn = upright[1].atan2(upright[0]) - tilt;
    let turned = |from: f64, to: f64| (to - from).sin().atan2((to - from).cos());
    // Of open and crossed, that which is drawn.
    let branch = coupler(crank(place("lower", 0.0))).map(|angle| turned(drawn, angle).abs());
    let branch = usize::from(branch[1] < branch[0]);
    for travel in [0.2, 0.5, 0.8, 1.0].map(|share| share * front.full_travel().si()) {
        let angle = coupler(crank(place("lower", travel)))[branch];
        let found = steering(&front, travel);
        agree!(found.rake.si() - RAKE, turned(drawn, angle), CROSSING, "turn of the upright (rad)");
        assert!((found.rake.si() - RAKE).abs() > 1e-3, "the links turn it");
        agree!(found.fork_offset.si(), OFFSET, CLOSED, "offset of an axle that is one piece with its axis (m)");

        // A caliper on the upright: the contact turns about the crossing of the links.
        let along = |name: &str, at: [f64; 2]| {
            let [x, z] = place(name, travel);
            [x - at[0], z - at[1]]
        };
        let (u, v) = (along("upper", [0.62, 0.42]), along("lower", [0.66, 0.24]));
        let cross = |u: [f64; 2], v: [f64; 2]| u[0] * v[1] - u[1] * v[0];
        let t = cross([0.66 - 0.62, 0.24 - 0.42], v) / cross(u, v);
        let centre = [0.62 + t * u[0], 0.42 + t * u[1]];
        let [x, z] = place("axle", travel);
        let braked = linkage.anti_rise("upright", &brake(), &[m(travel)]).unwrap()[0].brake_angle.si().tan();
        agree!(
            braked,
            (centre[1] - (z - RADIUS)) / (centre[0] - x),
            CROSSING,
            "rise of the brake line, by Kennedy's rule"
        );
    }
}

/// R. L. Norton, *Design of Machinery*, Examples 4-1 and 6-7 (values from memory): links 40, 120, 80, ground 100, in mm; at a crank
/// of 40° the coupler stands at 20.298° and turns by −4.121 for 25 of the crank. Here the coupler is the upright, drawn at 50°.
#[test]
fn an_upright_on_the_four_bar_of_norton() {
    const HALF_OF_LAST_DIGIT: Tolerance = Tolerance::absolute(5e-4, "half of the last printed digit");
    const DRAWN: f64 = 50.0;
    let [a, b, c, d] = [0.04, 0.12, 0.08, 0.1];
    let way = |length: f64, angle: f64| {
        let turned = (angle + 90.0).to_radians();
        [length * turned.cos(), length * turned.sin()]
    };
    let plus = |one: [f64; 2], other: [f64; 2]| [one[0] + other[0], one[1] + other[1]];
    // Drawn where both ends of the coupler are at their distances: Freudenstein's equation, open.
    let (sin, cos) = DRAWN.to_radians().sin_cos();
    let (k1, k4, k5) = (d / a, d / b, (c * c - d * d - a * a - b * b) / (2.0 * a * b));
    let (p, q, r) = (cos - k1 + k4 * cos + k5, -2.0 * sin, k1 + (k4 - 1.0) * cos + k5);
    let drawn = (2.0 * ((-q - (q * q - 4.0 * p * r).sqrt()) / (2.0 * p)).atan()).to_degrees();
    let ground = [0.66, 0.24];
    let near = plus(ground, way(a, DRAWN));
    let far = plus(near, way(b, drawn));
    let points = [
        ("near_pivot", ground),
        ("far_pivot", plus(ground, way(d, 0.0))),
        ("near", near),
        ("far", far),
        ("axle", plus(far, [0.1, -0.2])),
        ("eye", [0.5 * (near[0] + far[0]), 0.5 * (near[1] + far[1])]),
        ("mount", [0.6, 0.7]),
    ];
    let bodies: [(&str, &[&str]); 4] = [
        ("frame", &["near_pivot", "far_pivot", "mount"]),
        ("crank", &["near_pivot", "near"]),
        ("rocker", &["far_pivot", "far"]),
        ("upright", &["near", "far", "axle", "eye"]),
    ];
    let front = end(&points, &bodies, ("mount", "eye"), 0.008, 1).with_steering_body("upright".to_owned()).unwrap();
    let crank = |travel: f64| {
        let pose = front.linkage().unwrap().pose(m(travel)).unwrap();
        let [x, z] = pose.iter().find(|(point, _)| *point == "near").unwrap().1.map(|part| part.si());
        (z - ground[1]).atan2(x - ground[0]).to_degrees() - 90.0
    };
    // The crank goes down as the wheel goes up.
    let travel_at = |angle: f64| {
        let (mut low, mut high) = (0.0, front.full_travel().si());
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if crank(middle) > angle { low = middle } else { high = middle }
        }
        low
    };
    let rake = |angle: f64| steering(&front, travel_at(angle)).rake.si().to_degrees();
    agree!(rake(40.0) - RAKE.to_degrees() + drawn, 20.298, HALF_OF_LAST_DIGIT, "angle of the upright (deg)");
    let ratio = (rake(40.1) - rake(39.9)) / 0.2;
    agree!(25.0 * ratio, -4.121, HALF_OF_LAST_DIGIT, "turn of the upright for 25 of the crank");
}

/// Braked so gently that everything is straight, and more than the searches resolve (m/s²).
const GENTLE: f64 = 0.01;

/// The rest of a gently braked bike comes by virtual work on the whole of it, which knows no instant centre.
#[test]
fn a_gently_braked_front_on_a_link_goes_as_its_anti_dive_says() {
    const LEFT_OUT: Tolerance =
        Tolerance::absolute(0.04, "the frame pitches a little, and the load then works along the axle's path too");
    let links = Bike::from_toml(include_str!("../files/links.toml")).unwrap();
    // The rear stiff, and so the frame nearly still.
    let stiff = links.correct(&[("rear.shock.spring.rate", "500 N/mm")]).unwrap();
    for caliper in ["link", "frame"] {
        let bike = stiff.what_if(&[("front.caliper", caliper)]).unwrap();
        let (load, whole) = (bike.parts().rider_load.clone(), bike.whole());
        let (chassis, sprung) = (whole.chassis().unwrap(), whole.sprung(&load).unwrap());
        let settle = |deceleration: f64| {
            let brakes = (Acceleration::from_si(deceleration), Share::from_si(1.0));
            chassis.settle(&sprung, &Running::braking(brakes.0, brakes.1, RearReaction::Frame)).unwrap()
        };
        let (still, braked) = (settle(0.0), settle(GENTLE));
        let travel = |settled: &SettledBike| settled.stance.travel.front;
        let rate = bike.front().unwrap().wheel_rate(travel(&still)).unwrap().si();
        let taken = rate * (travel(&braked) - travel(&still)).si();
        let moved = (braked.load.front - still.load.front).si();
        let found = whole.anti_dive_at_rest(&load).unwrap();
        // What stops the wheel itself goes along the axle's way, not along the contact's.
        let axle = |by: f64| bike.front().unwrap().axle(travel(&still) + m(by)).unwrap()[0].si();
        let slope = (axle(1e-5) - axle(-1e-5)) / 2e-5;
        let wheel = bike.masses().unwrap().unsprung().front.si() * GENTLE * slope;
        // The load that comes on is taken as it is: as the front rises, the mass goes back with the frame.
        let past = (taken - wheel - moved) / braked.along.front.si();
        agree!(
            past,
            found.brake_angle.si().tan(),
            LEFT_OUT,
            "carried past the springs per braking force, caliper on the {caliper}"
        );
    }
}
