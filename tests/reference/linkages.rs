//! Levers and linkages with published or independently recomputed values.

use wheelrate::linkage::{Linkage, Mechanism};
use wheelrate::units::{Force, Length, Quantity, SpringRate};

use crate::outside::{Tolerance, agree};

fn metres(value: f64) -> Length {
    Length::from_si(value)
}

fn arm(axle: [f64; 2], eye: [f64; 2], top: [f64; 2], stroke: f64) -> Linkage {
    let mechanism = Mechanism::new(
        [("pivot", [0.0, 0.0]), ("axle", axle), ("eye", eye), ("top", top)].map(|(name, at)| (name, at.map(metres))),
        [("frame", vec!["pivot", "top"]), ("arm", vec!["pivot", "axle", "eye"])],
    )
    .expect("an arm");
    let length = (eye[0] - top[0]).hypot(eye[1] - top[1]);
    Linkage::new(mechanism, "axle", ("top", "eye"), metres(length + 0.5 * stroke), metres(stroke)).expect("a linkage")
}

/// A sport motorcycle with bell crank and pull rod. Coordinates: BPMinaker/EoM_samples (a general multibody code's
/// example), numbering and values as in Sharp, Evangelou & Limebeer, *Multibody System Dynamics* 12 (2004) 251–283 as far
/// as remembered. Expected values are ours, by loop closure with SciPy, checked by virtual work: 1e-5 mm and 1e-6.
#[test]
fn bell_crank_and_pull_rod() {
    const STROKE_MM: Tolerance = Tolerance::absolute(1e-5, "printed to 1e-5 mm");
    const RATIO: Tolerance = Tolerance::absolute(1e-6, "printed to six decimals");
    const ANGLE_DEGREES: Tolerance = Tolerance::absolute(1e-5, "printed to 1e-5°");
    const DRAWN_RATIO: Tolerance = Tolerance::absolute(1e-8, "recomputed to eight decimals");
    let points = [
        ("swingarm_pivot", [0.549, 0.3608]),
        ("axle", [0.0, 0.297]),
        ("rod_swingarm", [0.3722, 0.2748]),
        ("crank_pivot", [0.539, 0.1878]),
        ("crank_rod", [0.4946, 0.1522]),
        ("crank_shock", [0.4443, 0.1782]),
        ("shock_top", [0.487, 0.4888]),
    ];
    let mechanism = Mechanism::new(
        points.map(|(name, at)| (name, at.map(metres))),
        [
            ("frame", vec!["swingarm_pivot", "crank_pivot", "shock_top"]),
            ("swingarm", vec!["swingarm_pivot", "axle", "rod_swingarm"]),
            ("rod", vec!["rod_swingarm", "crank_rod"]),
            ("crank", vec!["crank_pivot", "crank_rod", "crank_shock"]),
        ],
    )
    .expect("a mechanism");
    let drawn_length = 0.313_521_37;
    let linkage =
        Linkage::new(mechanism, "axle", ("shock_top", "crank_shock"), metres(drawn_length + 0.033), metres(0.095))
            .expect("a linkage");
    let drawn = linkage.drawn_travel();
    let zero = linkage.at(drawn).expect("within the travel").stroke.si();
    assert!((zero - 0.033).abs() < 5e-9, "the drawn shock length is rounded to 1e-8 m");
    let crank = |travel: Length| {
        let pose = linkage.pose(travel).expect("within the travel");
        let at = |name: &str| pose.iter().find(|(point, _)| *point == name).expect("a point").1.map(|part| part.si());
        let (pivot, rod) = (at("crank_pivot"), at("crank_rod"));
        (rod[1] - pivot[1]).atan2(rod[0] - pivot[0]).to_degrees()
    };
    let published = [
        (-60.0, -31.9398, 0.50998, 20.98901),
        (-40.0, -21.58413, 0.525341, 13.84577),
        (-20.0, -10.93307, 0.539656, 6.877),
        (0.0, 0.0, 0.553651, 0.0),
        (20.0, 11.21497, 0.567948, -6.86698),
        (40.0, 22.72419, 0.583192, -13.81379),
        (60.0, 34.55437, 0.600212, -20.95133),
        (80.0, 46.75331, 0.620373, -28.4354),
        (100.0, 59.40859, 0.646569, -36.52101),
    ];
    for (dz, compression, ratio, angle) in published {
        let travel = drawn + metres(dz / 1000.0);
        let point = linkage.at(travel).expect("within the travel");
        agree!(1000.0 * (point.stroke.si() - zero), compression, STROKE_MM, "stroke in mm at {dz} mm");
        agree!(point.motion_ratio.si(), ratio, RATIO, "motion ratio at {dz} mm");
        agree!(crank(travel) - crank(drawn), angle, ANGLE_DEGREES, "turn of the crank in degrees at {dz} mm");
    }
    agree!(linkage.at(drawn).expect("drawn").motion_ratio.si(), 0.553_650_58, DRAWN_RATIO, "motion ratio as drawn");
}

/// A leading-link arm, plain statics (engineering.stackexchange.com, question 53796): 500 N at 0.3 m, spring at 0.2 m,
/// arm 20° from horizontal, spring 10° from the arm's normal; printed 470, 705 and 716 N, to the newton.
#[test]
fn leading_link_arm() {
    let (arm_angle, spring_angle) = (20f64.to_radians(), 10f64.to_radians());
    let along = [arm_angle.cos(), -arm_angle.sin()];
    let [axle, eye] = [0.3, 0.2].map(|radius| along.map(|part| radius * part));
    // The arm's normal points up; the spring leans off it.
    let direction = core::f64::consts::FRAC_PI_2 - arm_angle + spring_angle;
    let top = [eye[0] + 0.3 * direction.cos(), eye[1] + 0.3 * direction.sin()];
    let linkage = arm(axle, eye, top, 0.02);
    let ratio = linkage.at(linkage.drawn_travel()).expect("drawn").leverage_ratio().si();
    agree!(
        500.0 * ratio,
        715.64,
        Tolerance::absolute(5e-3, "recomputed to a hundredth of a newton"),
        "spring force in N"
    );
    agree!(500.0 * ratio, 716.0, Tolerance::absolute(0.6, "printed to the newton"), "spring force in N, as printed");
}

/// Barton & Fieldhouse, *Automotive Chassis Engineering* (2018), eqs 3.28–3.33: `k_w = k_s·(c/b)²` for a lever with the
/// spring at `c` and the wheel at `b`, both at right angles to it, without load.
#[test]
fn wheel_rate_of_a_lever() {
    const ROUNDING: Tolerance = Tolerance::relative(1e-12, "a closed form; roundings of a few products");
    for share in [0.3, 0.55, 0.9] {
        let linkage = arm([-0.5, 0.0], [-0.5 * share, 0.0], [-0.5 * share, 0.3], 0.02);
        let point = linkage.at(linkage.drawn_travel()).expect("drawn");
        let spring = SpringRate::from_si(40_000.0);
        let rate = spring.at_wheel(point.motion_ratio, Force::from_si(0.0), point.motion_ratio_slope);
        agree!(
            rate.si(),
            40_000.0 * share * share,
            ROUNDING,
            "wheel rate in N/m with the spring at {share} of the lever"
        );
    }
}
