//! Instant centres and belts, as on paper.
//!
//! - Kennedy's rule: the coupler of a four-bar turns about the crossing of the lines of its two links, with the ends as they lie
//!   (Norton, *Design of Machinery*, ch. 6; the rule from memory).
//! - The length of an open belt about two pulleys of diameters `d` and `D`, `C` apart (Shigley, *Mechanical Engineering Design*,
//!   on flat belts, from memory): `L = √(4C² − (D − d)²) + (D·θ_D + d·θ_d)/2`, `θ_d = π − 2·asin((D − d)/2C)`, `θ_D = π +
//!   2·asin((D − d)/2C)`.

use wheelrate::linkage::BrakeStance;
use wheelrate::units::{Length, Quantity};
use wheelrate::wheel::{FinalDrive, Sprockets, Wheel as _};
use wheelrate::{Bike, demo};

use crate::outside::{Tolerance, agree};

const CROSSING: Tolerance = Tolerance::absolute(1e-9, "lines that cross within metres, by points known to 1e-15 m");
const BELT: Tolerance = Tolerance::absolute(1e-12, "sums of lengths of a metre");
const NOTHING: Tolerance = Tolerance::absolute(1e-12, "zero but for rounding of a metre of chain");

type Point = [f64; 2];

fn crossing(a: [Point; 2], b: [Point; 2]) -> Point {
    let along = |line: [Point; 2]| [line[1][0] - line[0][0], line[1][1] - line[0][1]];
    let cross = |u: Point, v: Point| u[0] * v[1] - u[1] * v[0];
    let (u, v) = (along(a), along(b));
    let t = cross([b[0][0] - a[0][0], b[0][1] - a[0][1]], v) / cross(u, v);
    [a[0][0] + t * u[0], a[0][1] + t * u[1]]
}

/// The caliper on a bracket that floats on the axle, held to the frame by a rod: the bracket turns about the crossing of swingarm
/// and rod.
#[test]
fn a_floating_bracket_turns_about_the_crossing_of_swingarm_and_rod() {
    let text = demo::PATROL
        .replace("caliper = \"swingarm\"", "caliper = \"bracket\"")
        .replace(
            "shock_frame    = [-100, 329]",
            "shock_frame = [-100, 329]\nrod_frame = [-30, -60]\nrod_bracket = [-560, -245]",
        )
        .replace("\"link_frame\", \"shock_frame\"]", "\"link_frame\", \"shock_frame\", \"rod_frame\"]")
        .replace(
            "[rear.linkage]\n",
            "rod = [\"rod_frame\", \"rod_bracket\"]\nbracket = [\"axle\", \"rod_bracket\"]\n\n[rear.linkage]\n",
        );
    let bike = Bike::from_toml(&text).unwrap();
    let linkage = bike.rear().unwrap().linkage().unwrap();
    for travel in [0.0, 0.1, 0.2].map(Length::from_si) {
        let pose = linkage.pose(travel).unwrap();
        let at = |name: &str| pose.iter().find(|(point, _)| *point == name).unwrap().1.map(|part| part.si());
        let [x, z] = crossing([at("swingarm_pivot"), at("axle")], [at("rod_frame"), at("rod_bracket")]);
        let found = linkage.instant_centre("bracket", travel).unwrap().unwrap().map(|part| part.si());
        agree!(found[0], x, CROSSING, "x of the bracket's instant centre (m)");
        agree!(found[1], z, CROSSING, "z of the bracket's instant centre (m)");
        let radius = 0.335;
        let stance = BrakeStance {
            wheel_radius: Length::from_si(radius),
            cg_height: Length::from_si(0.84),
            wheelbase: Length::from_si(1.48),
        };
        let [axle_x, axle_z] = at("axle");
        let on_paper = (z - (axle_z - radius)) / (x - axle_x) * 1.48 / 0.84;
        let found = linkage.anti_rise("bracket", &stance, &[travel]).unwrap()[0].anti_rise.si();
        agree!(found, on_paper, CROSSING, "anti-rise of a floating caliper, from the crossing");
    }
}

#[test]
fn the_chain_grows_as_an_open_belt_does() {
    let bike = Bike::from_toml(demo::PATROL).unwrap();
    let rear = bike.rear().unwrap();
    let Some(FinalDrive::Chain(sprockets)) = rear.final_drive() else { panic!("a chain") };
    let [small, large] = sprockets.radii().map(|radius| 2.0 * radius.si());
    let belt = |travel: Length| {
        let [x, z] = rear.linkage().unwrap().at(travel).unwrap().axle.map(Quantity::si);
        let apart = (0.088 - x).hypot(0.004 - z);
        let lap = 2.0 * ((large - small) / (2.0 * apart)).asin();
        let pi = core::f64::consts::PI;
        (4.0 * apart * apart - (large - small).powi(2)).sqrt() + 0.5 * (large * (pi + lap) + small * (pi - lap))
    };
    let travels = rear.travels(7);
    let nothing = Length::from_si(0.0);
    for point in rear.chain(&travels, nothing).unwrap().points {
        agree!(point.growth.si(), belt(point.travel) - belt(nothing), BELT, "growth of the chain (m)");
    }
    let on_pivot = Sprockets::new([nothing; 2], [20, 20], Length::from_si(0.015_875)).unwrap();
    let equal = rear.clone().with_final_drive(FinalDrive::Chain(on_pivot));
    for point in equal.chain(&travels, nothing).unwrap().points {
        agree!(point.growth.si(), 0.0, NOTHING, "growth with equal sprockets, the front one on the pivot (m)");
        agree!(
            point.wheel_turn.si(),
            0.0,
            NOTHING,
            "wheel turn with equal sprockets, the front one on the pivot (rad)"
        );
    }
}
