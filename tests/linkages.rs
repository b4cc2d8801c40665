//! Any linkage: drawings of every arrangement, and a strategy that moves their points about, shared by the test targets.
//! Invented geometry, in millimetres.

use proptest::prelude::*;
use wheelrate::error::LinkageError;
use wheelrate::linkage::{Linkage, Mechanism};
use wheelrate::units::{Length, Quantity};

/// How far a point is moved each way, in millimetres: enough to reach dead points and turning wheels from every drawing,
/// and so little that most mechanisms still work.
const MOVED: f64 = 40.0;
/// Kept from the last shock length that can be reached, in metres: that length comes with the rounding of one root.
const KEPT: f64 = 1e-9;
/// Longest and shortest stroke that a shock is asked for, in metres.
const STROKE: [f64; 2] = [1e-3, 1.0];

/// Points in mm with their names, bodies, wheel and shock.
#[derive(Debug, Clone)]
pub struct Drawing {
    pub name: &'static str,
    pub points: Vec<(&'static str, [f64; 2])>,
    pub bodies: &'static [(&'static str, &'static [&'static str])],
    pub shock: (&'static str, &'static str),
}

fn mm(value: f64) -> Length {
    Length::from_si(value / 1000.0)
}

impl Drawing {
    pub fn mechanism(&self) -> Option<Mechanism> {
        let points = self.points.iter().map(|&(name, at)| (name, at.map(mm)));
        Mechanism::new(points, self.bodies.iter().map(|&(name, on)| (name, on.iter().copied()))).ok()
    }

    /// Length of the shock as drawn.
    pub fn drawn_length(&self) -> Length {
        let at = |wanted: &str| self.points.iter().find(|(name, _)| *name == wanted).map_or([0.0; 2], |(_, at)| *at);
        let [a, b] = [at(self.shock.0), at(self.shock.1)];
        mm((a[0] - b[0]).hypot(a[1] - b[1]))
    }

    /// With a shock of this length and stroke.
    pub fn linkage(&self, length: Length, stroke: Length) -> Option<Result<Linkage, LinkageError>> {
        Some(Linkage::new(self.mechanism()?, "axle", self.shock, length, stroke))
    }

    /// With a shock this much longer than drawn, or as long as the mechanism lets it be, and all the stroke that the
    /// mechanism has.
    pub fn with_all_its_stroke(&self, longer: Length) -> Option<Linkage> {
        let [shortest, longest] = STROKE.map(Length::from_si);
        let mut length = self.drawn_length() + longer;
        let mut stroke = longest.min(length * 0.9);
        // One end, then the other.
        for _ in 0..2 {
            match self.linkage(length, stroke)? {
                Ok(linkage) => return Some(linkage),
                Err(LinkageError::ShockLength { end: "extended", nearest, .. }) => {
                    length = nearest - Length::from_si(KEPT);
                    stroke = longest.min(length * 0.9);
                }
                Err(LinkageError::ShockLength { nearest, .. }) => {
                    stroke = length - nearest - Length::from_si(KEPT);
                }
                Err(_) => return None,
            }
            if stroke < shortest {
                return None;
            }
        }
        self.linkage(length, stroke)?.ok()
    }
}

/// A mechanism of any arrangement, its points moved about.
pub fn drawing() -> impl Strategy<Value = Drawing> {
    let moved = proptest::collection::vec([-MOVED..MOVED, -MOVED..MOVED], 10);
    (0..all().len(), moved).prop_map(|(at, moved)| {
        let mut drawing = all().swap_remove(at);
        for ((_, at), by) in drawing.points.iter_mut().zip(moved) {
            *at = [at[0] + by[0], at[1] + by[1]];
        }
        drawing
    })
}

/// A drawing that moves, and how much longer than drawn its shock is: long enough, and the travel goes from dead point to
/// dead point.
pub fn moving() -> impl Strategy<Value = (Drawing, Length)> {
    (drawing(), (0.0..200.0_f64).prop_map(mm))
        .prop_filter("a mechanism that moves", |(drawing, longer)| drawing.with_all_its_stroke(*longer).is_some())
}

/// One drawing of every arrangement.
pub fn all() -> Vec<Drawing> {
    vec![
        Drawing {
            name: "direct shock",
            points: vec![("pivot", [0., 0.]), ("axle", [-575., -165.]), ("eye", [-250., -40.]), ("top", [-100., 329.])],
            bodies: &[("frame", &["pivot", "top"]), ("swingarm", &["pivot", "axle", "eye"])],
            shock: ("top", "eye"),
        },
        Drawing {
            name: "twin shocks",
            points: vec![("pivot", [0., 0.]), ("axle", [-520., -60.]), ("eye", [-490., -20.]), ("top", [-340., 290.])],
            bodies: &[("frame", &["pivot", "top"]), ("swingarm", &["pivot", "axle", "eye"])],
            shock: ("top", "eye"),
        },
        Drawing {
            name: "rocker on the frame",
            points: vec![
                ("pivot", [0., 0.]),
                ("axle", [-560., -120.]),
                ("arm_link", [-180., -50.]),
                ("rocker_pivot", [-40., 120.]),
                ("rocker_link", [-150., 110.]),
                ("rocker_shock", [-60., 190.]),
                ("top", [160., 250.]),
            ],
            bodies: &[
                ("frame", &["pivot", "rocker_pivot", "top"]),
                ("swingarm", &["pivot", "axle", "arm_link"]),
                ("link", &["arm_link", "rocker_link"]),
                ("rocker", &["rocker_pivot", "rocker_link", "rocker_shock"]),
            ],
            shock: ("top", "rocker_shock"),
        },
        Drawing {
            name: "rocker on the swingarm",
            points: vec![
                ("pivot", [0., 0.]),
                ("axle", [-575., -165.]),
                ("rocker_pivot", [-253., -72.]),
                ("link_frame", [-66., -98.]),
                ("link_rocker", [-215., -184.]),
                ("rocker_shock", [-204., -128.]),
                ("top", [-100., 329.]),
            ],
            bodies: &[
                ("frame", &["pivot", "link_frame", "top"]),
                ("swingarm", &["pivot", "axle", "rocker_pivot"]),
                ("rocker", &["rocker_pivot", "link_rocker", "rocker_shock"]),
                ("link", &["link_frame", "link_rocker"]),
            ],
            shock: ("top", "rocker_shock"),
        },
        Drawing {
            name: "both shock ends moving",
            points: vec![
                ("pivot", [0., 0.]),
                ("axle", [-560., -110.]),
                ("arm_link", [-190., 30.]),
                ("arm_shock", [-130., -70.]),
                ("rocker_pivot", [20., 190.]),
                ("rocker_link", [-110., 200.]),
                ("rocker_shock", [90., 110.]),
            ],
            bodies: &[
                ("frame", &["pivot", "rocker_pivot"]),
                ("swingarm", &["pivot", "axle", "arm_link", "arm_shock"]),
                ("link", &["arm_link", "rocker_link"]),
                ("rocker", &["rocker_pivot", "rocker_link", "rocker_shock"]),
            ],
            shock: ("rocker_shock", "arm_shock"),
        },
        Drawing {
            name: "two rockers in series",
            points: vec![
                ("pivot", [0., 0.]),
                ("axle", [-560., -120.]),
                ("arm_link", [-180., -50.]),
                ("first_pivot", [-40., 120.]),
                ("first_in", [-150., 110.]),
                ("first_out", [-70., 210.]),
                ("second_pivot", [130., 190.]),
                ("second_in", [110., 280.]),
                ("second_out", [190., 130.]),
                ("shock_frame", [-20., 20.]),
            ],
            bodies: &[
                ("frame", &["pivot", "first_pivot", "second_pivot", "shock_frame"]),
                ("swingarm", &["pivot", "axle", "arm_link"]),
                ("link", &["arm_link", "first_in"]),
                ("first_rocker", &["first_pivot", "first_in", "first_out"]),
                ("second_link", &["first_out", "second_in"]),
                ("second_rocker", &["second_pivot", "second_in", "second_out"]),
            ],
            shock: ("shock_frame", "second_out"),
        },
        on_the_coupler("axle on the coupler, shock on the lower arm", LOWER_ARM),
        on_the_coupler("axle on the coupler, shock on the upper arm", UPPER_ARM),
        on_the_coupler("axle on the coupler, shock on the coupler", COUPLER),
        on_three_links("plate on three links, axle on the swingarm", AXLE_ON_SWINGARM),
        on_three_links("plate on three links, axle on the plate", AXLE_ON_PLATE),
    ]
}

type Bodies = &'static [(&'static str, &'static [&'static str])];

const LOWER_ARM: Bodies = &[
    ("frame", &["pivot", "upper_frame", "top"]),
    ("lower_arm", &["pivot", "lower_carrier", "eye"]),
    ("carrier", &["lower_carrier", "upper_carrier", "axle"]),
    ("upper_arm", &["upper_frame", "upper_carrier"]),
];
const UPPER_ARM: Bodies = &[
    ("frame", &["pivot", "upper_frame", "top"]),
    ("lower_arm", &["pivot", "lower_carrier"]),
    ("carrier", &["lower_carrier", "upper_carrier", "axle"]),
    ("upper_arm", &["upper_frame", "upper_carrier", "eye"]),
];
const COUPLER: Bodies = &[
    ("frame", &["pivot", "upper_frame", "top"]),
    ("lower_arm", &["pivot", "lower_carrier"]),
    ("carrier", &["lower_carrier", "upper_carrier", "axle", "eye"]),
    ("upper_arm", &["upper_frame", "upper_carrier"]),
];

/// A four-bar that carries the wheel on its coupler: the wheel's height is no coordinate of it, and a crank is turned.
fn on_the_coupler(name: &'static str, bodies: Bodies) -> Drawing {
    let eye = if bodies == COUPLER { [-470., 90.] } else { [-200., 20.] };
    Drawing {
        name,
        points: vec![
            ("pivot", [0., 0.]),
            ("axle", [-600., -80.]),
            ("lower_carrier", [-450., -50.]),
            ("upper_frame", [-80., 160.]),
            ("upper_carrier", [-500., 120.]),
            ("eye", eye),
            ("top", [-70., 400.]),
        ],
        bodies,
        shock: ("top", "eye"),
    }
}

/// The example that found the working memory of a curve too small: a travel on which the crank settles by a rounding too
/// few.
pub fn slow_to_settle() -> Drawing {
    Drawing {
        name: "axle on the coupler, slow to settle",
        points: vec![
            ("pivot", [0., 0.]),
            ("axle", [-670.7, -88.]),
            ("lower_carrier", [-476.5, -30.4]),
            ("upper_frame", [-84.8, 157.4]),
            ("upper_carrier", [-575.1, 95.8]),
            ("eye", [-189.1, 150.8]),
            ("top", [-71.1, 412.1]),
        ],
        bodies: UPPER_ARM,
        shock: ("top", "eye"),
    }
}

const AXLE_ON_SWINGARM: Bodies = &[
    ("frame", &["pivot", "link_frame", "top"]),
    ("swingarm", &["pivot", "axle", "arm_front", "arm_rear"]),
    ("front_link", &["arm_front", "plate_front"]),
    ("rear_link", &["arm_rear", "plate_rear"]),
    ("plate", &["plate_front", "plate_rear", "plate_link", "eye"]),
    ("pull_link", &["plate_link", "link_frame"]),
];
const AXLE_ON_PLATE: Bodies = &[
    ("frame", &["pivot", "link_frame", "top"]),
    ("swingarm", &["pivot", "arm_front", "arm_rear"]),
    ("front_link", &["arm_front", "plate_front"]),
    ("rear_link", &["arm_rear", "plate_rear"]),
    ("plate", &["plate_front", "plate_rear", "plate_link", "eye", "axle"]),
    ("pull_link", &["plate_link", "link_frame"]),
];

/// A plate that three links hold, two of them on the swingarm: no pair of bodies can be solved on its own.
fn on_three_links(name: &'static str, bodies: Bodies) -> Drawing {
    Drawing {
        name,
        points: vec![
            ("pivot", [0., 0.]),
            ("axle", [-560., -130.]),
            ("arm_front", [-140., -30.]),
            ("arm_rear", [-280., -40.]),
            ("plate_front", [-120., -120.]),
            ("plate_rear", [-300., -150.]),
            ("plate_link", [-150., -190.]),
            ("link_frame", [-20., -110.]),
            ("eye", [-220., -90.]),
            ("top", [-140., 260.]),
        ],
        bodies,
        shock: ("top", "eye"),
    }
}
