//! The usual arrangements, built from lengths that a tape measure and a level give instead of coordinates.
//!
//! An arrangement only names points and bodies and says from which two points each further point is measured; it knows no
//! kinematics. The swingarm pivot is the origin; the axle follows from the swingarm's length and how far it stands below
//! or above the pivot with the bike level; every other point from its centre distances to two points known by then.
//!
//! A point on the line of those two, or near it, is known well along the line and badly across: distances `r₁`, `r₂` read
//! to `e` leave `√(2·e·r₁·r₂/d)` across a line of length `d`, 12 mm for 0.5 mm on a rocker pivot halfway along a
//! swingarm. It is taken as read; measure from another point where that is too much.

use super::Mechanism;
use crate::error::LinkageError;
use crate::units::{Length, Quantity, check};

/// Sine of the angle between two tapes below which the point they meet in is not known unless it lies along the line of
/// the two points they start from: an error of 1 mm along them moves it by 50 mm.
const GRAZING: f64 = 0.02;
/// Tapes to a point on the line may fail to meet by this, in metres: what a tape is read to.
const TAPE_READING: f64 = 5e-4;

/// Which of the two places with the same centre distances is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "lowercase"))]
pub enum Side {
    /// The higher one.
    Above,
    /// The lower one.
    Below,
    /// The one further forward.
    Ahead,
    /// The one further back.
    Behind,
}

/// Centre distances from two points, and on which side of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Centres {
    /// Distance from the first point.
    pub first: Length,
    /// Distance from the second point.
    pub second: Length,
    /// Which of the two places.
    pub side: Side,
}

/// The arm about the first frame pivot, with the bike level and the wheel where everything is measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arm {
    /// Pivot to end (the axle, or the lower end of the wheel carrier).
    pub length: Length,
    /// How far the end stands above the pivot; below zero when it is lower.
    pub rise: Length,
}

/// How a shock is driven.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Arrangement {
    /// Shock straight to the swingarm.
    DirectShock,
    /// Two equal shocks side by side on the swingarm: one mechanism, two springs.
    TwinShocks,
    /// Rocker on the frame, pulled or pushed by a link from the swingarm.
    RockerOnFrame,
    /// Rocker on the swingarm, held by a link from the frame.
    RockerOnSwingarm,
    /// Shock between the swingarm and a rocker on the frame: both ends move.
    BothEndsMoving,
    /// Axle on a carrier between two arms.
    FloatingAxle,
    /// Two rockers on the frame in series.
    TwoRockers,
}

/// Points from two others: name, first, second.
type Placed = [&'static str; 3];
/// Bodies with their points.
type Bodies = &'static [(&'static str, &'static [&'static str])];

impl Arrangement {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::DirectShock,
        Self::TwinShocks,
        Self::RockerOnFrame,
        Self::RockerOnSwingarm,
        Self::BothEndsMoving,
        Self::FloatingAxle,
        Self::TwoRockers,
    ];

    /// What is to be measured, in this order: a point, and the two points it is measured from. The swingarm pivot and the
    /// arm's end are known from the [`Arm`].
    #[must_use]
    pub fn measures(self) -> &'static [Placed] {
        match self {
            Self::DirectShock | Self::TwinShocks => {
                &[["eye", "swingarm_pivot", "axle"], ["shock_frame", "swingarm_pivot", "eye"]]
            }
            Self::RockerOnFrame => &[
                ["link_swingarm", "swingarm_pivot", "axle"],
                ["rocker_pivot", "swingarm_pivot", "link_swingarm"],
                ["link_rocker", "rocker_pivot", "link_swingarm"],
                ["shock_rocker", "rocker_pivot", "link_rocker"],
                ["shock_frame", "rocker_pivot", "shock_rocker"],
            ],
            Self::RockerOnSwingarm => &[
                ["rocker_pivot", "swingarm_pivot", "axle"],
                ["link_frame", "swingarm_pivot", "rocker_pivot"],
                ["link_rocker", "rocker_pivot", "link_frame"],
                ["shock_rocker", "rocker_pivot", "link_rocker"],
                ["shock_frame", "swingarm_pivot", "shock_rocker"],
            ],
            Self::BothEndsMoving => &[
                ["link_swingarm", "swingarm_pivot", "axle"],
                ["shock_swingarm", "swingarm_pivot", "axle"],
                ["rocker_pivot", "swingarm_pivot", "link_swingarm"],
                ["link_rocker", "rocker_pivot", "link_swingarm"],
                ["shock_rocker", "rocker_pivot", "link_rocker"],
            ],
            Self::FloatingAxle => &[
                ["upper_pivot", "swingarm_pivot", "lower_end"],
                ["upper_end", "upper_pivot", "lower_end"],
                ["axle", "lower_end", "upper_end"],
                ["eye", "swingarm_pivot", "lower_end"],
                ["shock_frame", "swingarm_pivot", "eye"],
            ],
            Self::TwoRockers => &[
                ["link_swingarm", "swingarm_pivot", "axle"],
                ["rocker_pivot", "swingarm_pivot", "link_swingarm"],
                ["link_rocker", "rocker_pivot", "link_swingarm"],
                ["rocker_out", "rocker_pivot", "link_rocker"],
                ["second_pivot", "swingarm_pivot", "rocker_pivot"],
                ["second_in", "second_pivot", "rocker_out"],
                ["shock_rocker", "second_pivot", "second_in"],
                ["shock_frame", "second_pivot", "shock_rocker"],
            ],
        }
    }

    fn bodies(self) -> Bodies {
        match self {
            Self::DirectShock | Self::TwinShocks => {
                &[("frame", &["swingarm_pivot", "shock_frame"]), ("swingarm", &["swingarm_pivot", "axle", "eye"])]
            }
            Self::RockerOnFrame => &[
                ("frame", &["swingarm_pivot", "rocker_pivot", "shock_frame"]),
                ("swingarm", &["swingarm_pivot", "axle", "link_swingarm"]),
                ("link", &["link_swingarm", "link_rocker"]),
                ("rocker", &["rocker_pivot", "link_rocker", "shock_rocker"]),
            ],
            Self::RockerOnSwingarm => &[
                ("frame", &["swingarm_pivot", "link_frame", "shock_frame"]),
                ("swingarm", &["swingarm_pivot", "axle", "rocker_pivot"]),
                ("rocker", &["rocker_pivot", "link_rocker", "shock_rocker"]),
                ("link", &["link_frame", "link_rocker"]),
            ],
            Self::BothEndsMoving => &[
                ("frame", &["swingarm_pivot", "rocker_pivot"]),
                ("swingarm", &["swingarm_pivot", "axle", "link_swingarm", "shock_swingarm"]),
                ("link", &["link_swingarm", "link_rocker"]),
                ("rocker", &["rocker_pivot", "link_rocker", "shock_rocker"]),
            ],
            Self::FloatingAxle => &[
                ("frame", &["swingarm_pivot", "upper_pivot", "shock_frame"]),
                ("lower_arm", &["swingarm_pivot", "lower_end", "eye"]),
                ("carrier", &["lower_end", "upper_end", "axle"]),
                ("upper_arm", &["upper_pivot", "upper_end"]),
            ],
            Self::TwoRockers => &[
                ("frame", &["swingarm_pivot", "rocker_pivot", "second_pivot", "shock_frame"]),
                ("swingarm", &["swingarm_pivot", "axle", "link_swingarm"]),
                ("link", &["link_swingarm", "link_rocker"]),
                ("rocker", &["rocker_pivot", "link_rocker", "rocker_out"]),
                ("second_link", &["rocker_out", "second_in"]),
                ("second_rocker", &["second_pivot", "second_in", "shock_rocker"]),
            ],
        }
    }

    /// Name of the wheel's point.
    #[must_use]
    pub fn wheel(self) -> &'static str {
        "axle"
    }

    /// Names of the points that the shock joins.
    #[must_use]
    pub fn shock(self) -> (&'static str, &'static str) {
        match self {
            Self::DirectShock | Self::TwinShocks | Self::FloatingAxle => ("shock_frame", "eye"),
            Self::BothEndsMoving => ("shock_rocker", "shock_swingarm"),
            Self::RockerOnFrame | Self::RockerOnSwingarm | Self::TwoRockers => ("shock_frame", "shock_rocker"),
        }
    }

    /// The mechanism with these measured lengths, one pair of centre distances per entry of
    /// [`measures`](Self::measures), in that order.
    ///
    /// # Errors
    /// [`LinkageError`]: too few or too many measures, lengths that do not meet or meet grazingly, an arm that rises more
    /// than its length, and all faults of [`Mechanism::new`].
    pub fn mechanism(self, arm: Arm, centres: &[Centres]) -> Result<Mechanism, LinkageError> {
        let measures = self.measures();
        if centres.len() != measures.len() {
            return Err(LinkageError::Measures { found: centres.len(), wanted: measures.len() });
        }
        let end = if self == Self::FloatingAxle { "lower_end" } else { "axle" };
        let mut points: Vec<(&str, [f64; 2])> = vec![("swingarm_pivot", [0.0; 2]), (end, arm.end()?)];
        for (&[name, first, second], centres) in measures.iter().zip(centres) {
            let known = |wanted: &str| points.iter().find(|(name, _)| *name == wanted).map(|(_, at)| *at);
            if let (Some(a), Some(b)) = (known(first), known(second)) {
                points.push((name, centres.meet(name, [(first, a), (second, b)])?));
            }
        }
        let bodies = self.bodies().iter().map(|(name, points)| (*name, points.iter().copied()));
        Mechanism::new(points.into_iter().map(|(name, at)| (name, at.map(Length::from_si))), bodies)
    }
}

impl Arm {
    fn end(&self) -> Result<[f64; 2], LinkageError> {
        let length = check::positive("arm length", self.length)?.si();
        let rise = check::finite("arm rise", self.rise)?.si();
        if rise.abs() >= length {
            return Err(LinkageError::ArmRise { rise: self.rise, length: self.length });
        }
        Ok([-((length - rise) * (length + rise)).sqrt(), rise])
    }
}

impl Centres {
    /// Where the two tapes meet.
    fn meet(&self, point: &str, from: [(&str, [f64; 2]); 2]) -> Result<[f64; 2], LinkageError> {
        let [(first, a), (second, b)] = from;
        let ra = check::positive(&format!("{first} to {point}"), self.first)?.si();
        let rb = check::positive(&format!("{second} to {point}"), self.second)?.si();
        let d = [b[0] - a[0], b[1] - a[1]];
        let apart = d[0].hypot(d[1]);
        let along = (ra * ra - rb * rb + apart * apart) / (2.0 * apart);
        let across = ((ra - along) * (ra + along)).max(0.0).sqrt();
        // Sine of the angle between the tapes: twice the triangle over the product of its sides.
        let grazing = across * apart < GRAZING * ra * rb;
        let on_the_line = across < GRAZING * ra.min(rb) && apart > TAPE_READING;
        let missing = (apart - ra - rb).max((ra - rb).abs() - apart);
        if missing > TAPE_READING || (grazing && !on_the_line) || !across.is_finite() {
            return Err(LinkageError::CentresDoNotMeet {
                point: point.to_owned(),
                from: [first.to_owned(), second.to_owned()],
                apart: Length::from_si(apart),
            });
        }
        let place = |side: f64| {
            let (x, z) = (along / apart, side * across / apart);
            [a[0] + x * d[0] - z * d[1], a[1] + x * d[1] + z * d[0]]
        };
        let (left, right) = (place(1.0), place(-1.0));
        let left_is_meant = match self.side {
            Side::Above => left[1] > right[1],
            Side::Below => left[1] < right[1],
            Side::Ahead => left[0] > right[0],
            Side::Behind => left[0] < right[0],
        };
        Ok(if left_is_meant { left } else { right })
    }
}

#[cfg(test)]
mod tests;
