//! The usual arrangements, and one that needs Newton. Invented geometry, in millimetres.

use super::*;

pub(crate) fn mm(value: f64) -> Length {
    Length::from_si(value / 1000.0)
}

/// A drawing: points in mm, bodies, wheel, shock, shock length and stroke in mm.
#[derive(Debug, Clone)]
pub(crate) struct Drawing {
    pub(crate) points: Vec<(&'static str, [f64; 2])>,
    pub(crate) bodies: Vec<(&'static str, Vec<&'static str>)>,
    pub(crate) wheel: &'static str,
    pub(crate) shock: (&'static str, &'static str),
    pub(crate) length: f64,
    pub(crate) stroke: f64,
}

impl Drawing {
    pub(crate) fn mechanism(&self) -> Result<Mechanism, LinkageError> {
        Mechanism::new(self.points.iter().map(|&(name, at)| (name, at.map(mm))), self.bodies.clone())
    }

    pub(crate) fn linkage(&self) -> Result<Linkage, LinkageError> {
        Linkage::new(self.mechanism()?, self.wheel, self.shock, mm(self.length), mm(self.stroke))
    }

    pub(crate) fn linkage_with_stroke(&self, stroke: f64) -> Linkage {
        Self { stroke, ..self.clone() }.linkage().unwrap()
    }

    pub(crate) fn mapped(&self, map: impl Fn([f64; 2]) -> [f64; 2]) -> Self {
        let mut mapped = self.clone();
        mapped.points.iter_mut().for_each(|(_, at)| *at = map(*at));
        mapped
    }

    pub(crate) fn moved(&self, point: &str, to: [f64; 2]) -> Self {
        let mut moved = self.clone();
        moved.points.iter_mut().filter(|(name, _)| *name == point).for_each(|(_, at)| *at = to);
        moved
    }
}

pub(crate) fn direct_shock() -> Drawing {
    Drawing {
        points: vec![("pivot", [0., 0.]), ("axle", [-575., -165.]), ("eye", [-250., -40.]), ("top", [-100., 329.])],
        bodies: vec![("frame", vec!["pivot", "top"]), ("swingarm", vec!["pivot", "axle", "eye"])],
        wheel: "axle",
        shock: ("top", "eye"),
        length: 400.0,
        stroke: 100.0,
    }
}

pub(crate) fn twin_shocks() -> Drawing {
    Drawing {
        points: vec![("pivot", [0., 0.]), ("axle", [-520., -60.]), ("eye", [-490., -20.]), ("top", [-340., 290.])],
        bodies: vec![("frame", vec!["pivot", "top"]), ("swingarm", vec!["pivot", "axle", "eye"])],
        wheel: "axle",
        shock: ("top", "eye"),
        length: 350.0,
        stroke: 95.0,
    }
}

pub(crate) fn rocker_on_frame() -> Drawing {
    Drawing {
        points: vec![
            ("pivot", [0., 0.]),
            ("axle", [-560., -120.]),
            ("arm_link", [-180., -50.]),
            ("rocker_pivot", [-40., 120.]),
            ("rocker_link", [-150., 110.]),
            ("rocker_shock", [-60., 190.]),
            ("top", [160., 250.]),
        ],
        bodies: vec![
            ("frame", vec!["pivot", "rocker_pivot", "top"]),
            ("swingarm", vec!["pivot", "axle", "arm_link"]),
            ("link", vec!["arm_link", "rocker_link"]),
            ("rocker", vec!["rocker_pivot", "rocker_link", "rocker_shock"]),
        ],
        wheel: "axle",
        shock: ("top", "rocker_shock"),
        length: 232.0,
        stroke: 50.0,
    }
}

pub(crate) fn rocker_on_swingarm() -> Drawing {
    Drawing {
        points: vec![
            ("swingarm_pivot", [0., 0.]),
            ("axle", [-575., -165.]),
            ("rocker_pivot", [-253., -72.]),
            ("link_frame", [-66., -98.]),
            ("link_rocker", [-215., -184.]),
            ("shock_rocker", [-204., -128.]),
            ("shock_frame", [-100., 329.]),
        ],
        bodies: vec![
            ("frame", vec!["swingarm_pivot", "link_frame", "shock_frame"]),
            ("swingarm", vec!["swingarm_pivot", "axle", "rocker_pivot"]),
            ("rocker", vec!["rocker_pivot", "link_rocker", "shock_rocker"]),
            ("link", vec!["link_frame", "link_rocker"]),
        ],
        wheel: "axle",
        shock: ("shock_frame", "shock_rocker"),
        length: 468.7,
        stroke: 118.0,
    }
}

pub(crate) fn both_ends_moving() -> Drawing {
    Drawing {
        points: vec![
            ("pivot", [0., 0.]),
            ("axle", [-560., -110.]),
            ("arm_link", [-190., 30.]),
            ("arm_shock", [-130., -70.]),
            ("rocker_pivot", [20., 190.]),
            ("rocker_link", [-110., 200.]),
            ("rocker_shock", [90., 110.]),
        ],
        bodies: vec![
            ("frame", vec!["pivot", "rocker_pivot"]),
            ("swingarm", vec!["pivot", "axle", "arm_link", "arm_shock"]),
            ("link", vec!["arm_link", "rocker_link"]),
            ("rocker", vec!["rocker_pivot", "rocker_link", "rocker_shock"]),
        ],
        wheel: "axle",
        shock: ("rocker_shock", "arm_shock"),
        length: 284.0,
        stroke: 60.0,
    }
}

pub(crate) fn floating_axle() -> Drawing {
    Drawing {
        points: vec![
            ("lower_pivot", [0., 0.]),
            ("lower_end", [-430., -70.]),
            ("axle", [-470., -20.]),
            ("upper_end", [-420., 150.]),
            ("upper_pivot", [-60., 190.]),
            ("eye", [-250., -20.]),
            ("top", [-60., 330.]),
        ],
        bodies: vec![
            ("frame", vec!["lower_pivot", "upper_pivot", "top"]),
            ("lower_arm", vec!["lower_pivot", "lower_end", "eye"]),
            ("carrier", vec!["lower_end", "axle", "upper_end"]),
            ("upper_arm", vec!["upper_end", "upper_pivot"]),
        ],
        wheel: "axle",
        shock: ("top", "eye"),
        length: 400.0,
        stroke: 90.0,
    }
}

pub(crate) fn two_rockers() -> Drawing {
    Drawing {
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
        bodies: vec![
            ("frame", vec!["pivot", "first_pivot", "second_pivot", "shock_frame"]),
            ("swingarm", vec!["pivot", "axle", "arm_link"]),
            ("link", vec!["arm_link", "first_in"]),
            ("first_rocker", vec!["first_pivot", "first_in", "first_out"]),
            ("second_link", vec!["first_out", "second_in"]),
            ("second_rocker", vec!["second_pivot", "second_in", "second_out"]),
        ],
        wheel: "axle",
        shock: ("shock_frame", "second_out"),
        length: 240.0,
        stroke: 40.0,
    }
}

/// A plate that three links hold, two of them on the swingarm: a six-bar chain of Stephenson's kind whose frame is in no
/// four-bar loop. No pair of bodies can be solved on its own.
pub(crate) fn plate_on_three_links() -> Drawing {
    Drawing {
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
        bodies: vec![
            ("frame", vec!["pivot", "link_frame", "top"]),
            ("swingarm", vec!["pivot", "axle", "arm_front", "arm_rear"]),
            ("front_link", vec!["arm_front", "plate_front"]),
            ("rear_link", vec!["arm_rear", "plate_rear"]),
            ("plate", vec!["plate_front", "plate_rear", "plate_link", "eye"]),
            ("pull_link", vec!["plate_link", "link_frame"]),
        ],
        wheel: "axle",
        shock: ("top", "eye"),
        length: 360.0,
        stroke: 80.0,
    }
}

/// All of them, by name.
pub(crate) fn all() -> Vec<(&'static str, Drawing)> {
    vec![
        ("direct shock", direct_shock()),
        ("twin shocks", twin_shocks()),
        ("rocker on the frame", rocker_on_frame()),
        ("rocker on the swingarm", rocker_on_swingarm()),
        ("both shock ends moving", both_ends_moving()),
        ("axle on a floating coupler", floating_axle()),
        ("two rockers in series", two_rockers()),
        ("plate on three links", plate_on_three_links()),
    ]
}

/// A swingarm, and rockers on the frame in a row, each drawn by a link from the one before: as many bodies as wanted, the frame with
/// them, an even number of four or more; the shock hangs on the last rocker. Drawn with `bend` between links and rockers.
pub(crate) fn chain(bodies: usize, bend: f64) -> Result<Mechanism, LinkageError> {
    let at = |x: f64, z: f64| [mm(x), mm(z)];
    let (mut points, mut carried) = (Vec::new(), Vec::new());
    let mut frame = vec!["pivot".to_owned(), "top".to_owned()];
    points.extend([("pivot".to_owned(), at(0.0, 0.0)), ("axle".to_owned(), at(-575.0, -165.0))]);
    points.push(("tip 0".to_owned(), at(-100.0, 100.0)));
    carried.push(("swingarm".to_owned(), ["pivot", "axle", "tip 0"].map(str::to_owned).to_vec()));
    let rockers = (bodies - 2) / 2;
    for rocker in 1..=rockers {
        let x = 150.0 * rocker as f64;
        let [before, tip, pivot] = [format!("tip {}", rocker - 1), format!("tip {rocker}"), format!("pivot {rocker}")];
        points.extend([(pivot.clone(), at(x, 0.0)), (tip.clone(), at(x - 100.0, 100.0 * bend))]);
        frame.push(pivot.clone());
        carried.push((format!("link {rocker}"), vec![before, tip.clone()]));
        carried.push((format!("rocker {rocker}"), vec![pivot, tip]));
    }
    points.push(("top".to_owned(), at(150.0 * rockers as f64, 450.0)));
    carried.push((FRAME.to_owned(), frame));
    Mechanism::new(points, carried)
}

/// A shock as long as it is drawn on the last rocker of a [`chain`].
pub(crate) fn chained(bodies: usize) -> Linkage {
    let mechanism = chain(bodies, 1.0).unwrap();
    let tip = format!("tip {}", (bodies - 2) / 2);
    let [[x, z], [top_x, top_z]] = [tip.as_str(), "top"].map(|point| mechanism.point(point).unwrap());
    let length = Length::from_si((x - top_x).si().hypot((z - top_z).si()));
    Linkage::new(mechanism, "axle", ("top", &tip), length, mm(10.0)).unwrap()
}
