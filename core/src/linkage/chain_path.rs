//! Where a chain lies: straight between pitch circles, on the outside of the sprockets, over or under an idler.
//!
//! A circle of radius `r` at distance `D` from the next one of radius `q`, the chain on top of both: the run is
//! `ℓ = √(D² − (r − q)²)` long and turned from the line of centres by `asin((r − q)/D)`; the loop of two circles is
//! `L = 2ℓ + r·(π + 2·asin((r − q)/D)) + q·(π − 2·asin((r − q)/D))` (the open belt of textbooks, e.g. Shigley's *Mechanical
//! Engineering Design*, on flexible elements, from memory). A circle that the chain passes under counts with its radius below
//! zero, in the same equations.
//!
//! Assumes a chain that is a thin line along the pitch circles; a real one is a polygon on its sprockets, which moves a run up and
//! down by some tenths of a millimetre as it turns. An idler counts where it moves the straight run, and nowhere else.

use super::real::{Vec2, add, cross, norm, scale, sub};
use crate::error::UnitError;
use crate::units::{Length, Quantity, check};

/// Plausible pitch radius of a sprocket, in metres: from eight teeth of the smallest chain to a dinner plate.
pub(super) const SPROCKET_RADIUS: [f64; 2] = [0.01, 0.3];
/// Furthest coordinate of an idler, in metres.
const FAR: f64 = 10.0;

/// On which side of an idler the chain passes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Passes {
    /// Over it, as over the top of a sprocket.
    Over,
    /// Under it, as under a roller that holds the chain down.
    Under,
}

/// A wheel in the frame that the upper run is led over or under.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Idler {
    /// Its centre, in the drawing.
    pub centre: [Length; 2],
    /// Its pitch radius, or that of the roller with half the chain on it.
    pub radius: Length,
    /// Where the chain passes.
    pub passes: Passes,
}

/// A pitch circle, in SI units; the chain passes under one whose radius is below zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Circle {
    pub(crate) at: Vec2<f64>,
    pub(crate) radius: f64,
}

/// A straight run, from the circle behind to the one ahead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Run {
    /// Where it leaves the circle behind.
    pub(crate) from: Vec2<f64>,
    /// Its direction, of length one.
    pub(crate) along: Vec2<f64>,
    pub(crate) length: f64,
}

impl Run {
    /// Above both circles, from the one behind to the one ahead; they have to lie further apart than their radii.
    pub(crate) fn over(behind: Circle, ahead: Circle) -> Self {
        let between = sub(ahead.at, behind.at);
        let distance = norm(between);
        let unit = scale(1.0 / distance, between);
        let sine = (behind.radius - ahead.radius) / distance;
        let cosine = ((1.0 - sine) * (1.0 + sine)).sqrt();
        let up = add(scale(sine, unit), scale(cosine, [-unit[1], unit[0]]));
        Self { from: add(behind.at, scale(behind.radius, up)), along: [up[1], -up[0]], length: distance * cosine }
    }

    /// Rise, forward (rad).
    pub(crate) fn angle(&self) -> f64 {
        self.along[1].atan2(self.along[0])
    }
}

impl Idler {
    /// Refuses an idler that cannot be.
    pub(crate) fn checked(&self) -> Result<(), UnitError> {
        let within = |field: &str, length: Length, [low, high]: [f64; 2]| {
            check::plausible(field, length, Length::from_si(low), Length::from_si(high)).map(drop)
        };
        within("centre[0]", self.centre[0], [-FAR, FAR])?;
        within("centre[1]", self.centre[1], [-FAR, FAR])?;
        within("radius", self.radius, SPROCKET_RADIUS)
    }

    pub(crate) fn circle(&self) -> Circle {
        let radius = match self.passes {
            Passes::Over => self.radius.si(),
            Passes::Under => -self.radius.si(),
        };
        Circle { at: self.centre.map(|part| part.si()), radius }
    }
}

/// The upper run from the rear sprocket: to the idler where that moves the chain, else to the front sprocket; and the run from the
/// idler on.
pub(crate) fn upper_runs(rear: Circle, front: Circle, idler: Option<Circle>) -> (Run, Option<Run>) {
    let straight = Run::over(rear, front);
    match idler {
        // The idler's tangent point lies on the chain's other side.
        Some(idler)
            if idler.radius.signum() * (cross(straight.along, sub(idler.at, straight.from)) + idler.radius) > 0.0 =>
        {
            (Run::over(rear, idler), Some(Run::over(idler, front)))
        }
        _ => (straight, None),
    }
}

/// The whole chain at one position of the rear sprocket.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ChainPath {
    /// Length of the loop.
    pub(crate) length: f64,
    /// Length of the lower run, straight.
    pub(crate) lower: f64,
    /// Length from a mark on the front sprocket along the upper run to a fixed direction on the rear one: that run taut and the
    /// front sprocket still, the rear one turns forward by its growth over its radius.
    pub(crate) upper: f64,
}

impl ChainPath {
    pub(crate) fn of(rear: Circle, front: Circle, idler: Option<Circle>) -> Self {
        let (leaving, beyond) = upper_runs(rear, front, idler);
        // Below both, the same run as above them in a mirror.
        let mirror = |circle: Circle| Circle { at: [circle.at[0], -circle.at[1]], ..circle };
        let lower = Run::over(mirror(rear), mirror(front));
        let (at_rear, at_front, below) =
            (leaving.angle(), beyond.map_or(leaving.angle(), |run| run.angle()), -lower.angle());
        let on_idler = idler.filter(|_| beyond.is_some()).map_or(0.0, |idler| idler.radius * (at_rear - at_front));
        let straight = leaving.length + beyond.map_or(0.0, |run| run.length) + on_idler;
        let half = core::f64::consts::PI;
        Self {
            length: straight
                + lower.length
                + front.radius * (half + at_front - below)
                + rear.radius * (half + below - at_rear),
            lower: lower.length,
            upper: straight + front.radius * at_front - rear.radius * at_rear,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const REAR: Circle = Circle { at: [-0.58, -0.16], radius: 0.12 };
    const FRONT: Circle = Circle { at: [0.085, 0.01], radius: 0.033 };
    /// Arithmetic on lengths of metres.
    const ROUNDING: f64 = 1e-13;

    /// The loop walked point by point: straight runs as they are, wraps as polygons of many corners.
    fn walked(idler: Option<Circle>) -> f64 {
        const CORNERS: usize = 200_000;
        let (leaving, beyond) = upper_runs(REAR, FRONT, idler);
        let mirror = |circle: Circle| Circle { at: [circle.at[0], -circle.at[1]], ..circle };
        let lower = Run::over(mirror(REAR), mirror(FRONT));
        let below = -lower.angle();
        let arc = |radius: f64, turned: f64| {
            let step = turned.abs() / CORNERS as f64;
            2.0 * radius.abs() * (0.5 * step).sin() * CORNERS as f64
        };
        let first = beyond.map_or(leaving.angle(), |run| run.angle());
        let whole = 2.0 * core::f64::consts::PI;
        leaving.length
            + lower.length
            + beyond.map_or(0.0, |run| run.length)
            + idler.filter(|_| beyond.is_some()).map_or(0.0, |idler| arc(idler.radius, leaving.angle() - first))
            + arc(FRONT.radius, (first - below + 0.5 * whole).rem_euclid(whole))
            + arc(REAR.radius, (below - leaving.angle() + 0.5 * whole).rem_euclid(whole))
    }

    #[test]
    fn a_run_touches_both_circles_from_its_own_side() {
        for radius in [0.033, -0.02] {
            let ahead = Circle { radius, ..FRONT };
            let run = Run::over(REAR, ahead);
            for circle in [REAR, ahead] {
                let beside = cross(run.along, sub(circle.at, run.from));
                assert!((beside + circle.radius).abs() < ROUNDING, "{beside} {circle:?}");
            }
            let end = add(run.from, scale(run.length, run.along));
            assert!((norm(sub(end, ahead.at)) - radius.abs()).abs() < ROUNDING);
        }
    }

    #[test]
    fn the_loop_is_as_long_as_a_walk_around_it() {
        /// Corners 16 µrad apart leave out 1e-11 of each arc.
        const POLYGON: f64 = 1e-10;
        let over = Circle { at: [-0.02, 0.13], radius: 0.03 };
        let under = Circle { at: [-0.2, 0.015], radius: -0.025 };
        let idle = Circle { at: [-0.2, -0.5], radius: 0.025 };
        for idler in [None, Some(over), Some(under), Some(idle)] {
            let path = ChainPath::of(REAR, FRONT, idler);
            assert!((path.length - walked(idler)).abs() < POLYGON, "{idler:?}: {path:?} {}", walked(idler));
        }
        let plain = ChainPath::of(REAR, FRONT, None);
        assert_eq!(ChainPath::of(REAR, FRONT, Some(idle)), plain);
        assert!(ChainPath::of(REAR, FRONT, Some(over)).length > plain.length);
        assert!(ChainPath::of(REAR, FRONT, Some(under)).length > plain.length);
    }

    #[test]
    fn an_idler_that_just_touches_the_run_does_not_count() {
        // Numbers of a few bits: the run is level at 0.125 exactly, and so is the top of the idler, or the bottom of one beneath it.
        let sprocket = |x: f64| Circle { at: [x, 0.0], radius: 0.125 };
        let (rear, front) = (sprocket(-0.5), sprocket(0.25));
        for (z, radius) in [(0.0625, 0.0625), (0.1875, -0.0625)] {
            let idler = |lifted: f64| Circle { at: [-0.125, z + lifted], radius };
            assert_eq!(upper_runs(rear, front, Some(idler(0.0))), (Run::over(rear, front), None));
            let (pressed, clear) = (0.01 * radius.signum(), -0.01 * radius.signum());
            assert!(upper_runs(rear, front, Some(idler(pressed))).1.is_some());
            assert_eq!(upper_runs(rear, front, Some(idler(clear))), (Run::over(rear, front), None));
        }
    }

    #[test]
    fn an_idler_that_cannot_be_is_refused_by_name() {
        let mm = |value: f64| Length::from_si(value / 1e3);
        let good = Idler { centre: [mm(-20.0), mm(130.0)], radius: mm(30.0), passes: Passes::Over };
        assert_eq!(good.checked(), Ok(()));
        let far = |x: f64, z: f64| Idler { centre: [mm(x), mm(z)], ..good };
        for (idler, field) in [
            (far(-10_001.0, 0.0), "centre[0]"),
            (far(f64::NAN, 0.0), "centre[0]"),
            (far(0.0, 10_001.0), "centre[1]"),
            (Idler { radius: mm(9.9), ..good }, "radius"),
            (Idler { radius: mm(301.0), ..good }, "radius"),
        ] {
            let refused = idler.checked().unwrap_err().to_string();
            assert!(refused.contains(field), "{refused}");
        }
        for edge in [far(-10_000.0, 10_000.0), Idler { radius: mm(10.0), ..good }, Idler { radius: mm(300.0), ..good }]
        {
            assert_eq!(edge.checked(), Ok(()));
        }
    }
}
