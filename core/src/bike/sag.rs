//! Sag along the direction of a reading, and vertical travel.
//!
//! | read | sag at travel `z` | `d sag/dz` |
//! |---|---|---|
//! | vertical | `z` | 1 |
//! | along the fork | `z/cos ε` | `1/cos ε` |
//! | to a mark at `m` | `|r(0) − m| − |r(z) − m|` | `−(r − m)·r′/|r − m|` |
//!
//! with the axle's path `r(z)` in the frame axes, `r′ = (dx/dz, 1)`. Sag counts from full extension of the end. The
//! reading is a distance between the axle and the frame, so the tape turns with the frame and the conversion does not
//! depend on how the bike stands.

use super::Bike;
use crate::error::{BikeError, Result, WheelError};
use crate::record::{Direction, End};
use crate::solve::{Close, Slope, root};
use crate::units::{Length, Quantity, brief, show};
use crate::wheel::{EndKernel, Wheel};

/// Places along the travel at which a mark is looked at when it is taken: 2 mm apart on 300 mm.
const PLACES: usize = 150;
/// A travel this close, in metres, is found.
const CLOSE: f64 = 1e-11;
/// A sag beyond an end by less than this, in metres, is that end up to rounding.
const ROUNDING: f64 = 1e-9;

/// One end's sag along one direction as a function of vertical travel, both ways.
#[derive(Debug, Clone, Copy)]
pub struct SagConversion<'a> {
    end: &'a dyn Wheel,
    along: Along,
}

/// A direction, in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Along {
    /// Sag is travel times a constant.
    Straight { per_travel: f64, along_fork: bool },
    /// To a mark, at this distance when extended.
    Mark { at: [f64; 2], extended: f64 },
}

impl<'a> SagConversion<'a> {
    /// Sag along a direction at one end of a bike.
    ///
    /// # Errors
    /// [`BikeError::Missing`] without the end; [`WheelError::NoAxle`] for a mark at the front of a bike whose front axle
    /// is not placed; [`BikeError::Mark`] for a mark that the axle does not approach all the way.
    pub fn of(bike: &'a Bike, end: End, direction: Direction) -> Result<Self> {
        let kernel = bike.end(end)?;
        let along = match (direction, end) {
            (Direction::Vertical, _) => Along::Straight { per_travel: 1.0, along_fork: false },
            (Direction::AlongFork, End::Front) => {
                let fork = bike.front()?.fork().map_err(|_| not_along_fork("where the front end is a linkage"))?;
                Along::Straight { per_travel: fork.motion_ratio().si(), along_fork: true }
            }
            (Direction::AlongFork, End::Rear) => return Err(not_along_fork("at the rear")),
            (Direction::ToMark { x, z }, _) => {
                let at = [x.si(), z.si()];
                let axle = kernel.axle_point(0.0).ok_or(WheelError::NoAxle)?;
                Along::Mark { at, extended: distance(axle.at, at) }
            }
        };
        let conversion = Self { end: kernel, along };
        conversion.check_mark()?;
        Ok(conversion)
    }
}

impl SagConversion<'_> {
    /// Sag from full extension at a travel.
    ///
    /// # Errors
    /// [`WheelError::OutOfTravel`].
    pub fn sag(&self, travel: Length) -> Result<Length> {
        let (z, full) = (travel.si(), self.end.full());
        if !(-ROUNDING..=full + ROUNDING).contains(&z) {
            return Err(WheelError::OutOfTravel { found: brief(travel), full: brief(Length::from_si(full)) }.into());
        }
        Ok(Length::from_si(self.sag_and_slope(z).0))
    }

    /// The travel at which the sag from full extension is this.
    ///
    /// # Errors
    /// [`BikeError::Sag`] below zero and above the sag at full travel.
    pub fn travel(&self, sag: Length) -> Result<Length> {
        let full = self.sag_and_slope(self.end.full()).0;
        if !(-ROUNDING..=full + ROUNDING).contains(&sag.si()) {
            return Err(BikeError::Sag { found: brief(sag), full: show(Length::from_si(full), "mm", 1) }.into());
        }
        Ok(Length::from_si(self.travel_at(sag.si().clamp(0.0, full))))
    }

    /// The direction, apart from the end.
    pub(crate) fn along(&self) -> Along {
        self.along
    }

    /// Sag and `d sag/dz` at a travel, in SI.
    pub(crate) fn sag_and_slope(&self, travel: f64) -> (f64, f64) {
        self.along.sag_and_slope(self.end, travel)
    }

    fn travel_at(&self, sag: f64) -> f64 {
        let full = self.end.full();
        if let Along::Straight { per_travel, .. } = self.along {
            return (sag / per_travel).min(full);
        }
        let miss = |z| {
            let (found, slope) = self.sag_and_slope(z);
            (found - sag, slope)
        };
        root(miss, Slope::Rising, [0.0, full], sag, Close::step(CLOSE))
    }

    /// A mark is of use where the distance shrinks all the way.
    fn check_mark(&self) -> Result<()> {
        let full = self.end.full();
        for place in 0..=PLACES {
            let travel = full * (place as f64 / PLACES as f64);
            let (_, slope) = self.sag_and_slope(travel);
            if slope.is_nan() || slope <= 0.0 {
                return Err(BikeError::Mark { travel: show(Length::from_si(travel), "mm", 0) }.into());
            }
        }
        Ok(())
    }
}

impl Along {
    /// Does the tape run along the stroke, and turn with it?
    pub(crate) fn along_fork(self) -> bool {
        matches!(self, Self::Straight { along_fork: true, .. })
    }

    /// Sag and `d sag/dz` at a travel of the end it was made for, in SI.
    pub(crate) fn sag_and_slope(self, end: &dyn Wheel, travel: f64) -> (f64, f64) {
        match self {
            Self::Straight { per_travel, .. } => (travel * per_travel, per_travel),
            Self::Mark { at, extended } => {
                // Only made for an end whose axle is placed.
                let Some(axle) = end.axle_point(travel) else { return (travel, 1.0) };
                let length = distance(axle.at, at);
                let [x, z] = [axle.at[0] - at[0], axle.at[1] - at[1]];
                (extended - length, -(x * axle.slope + z) / length)
            }
        }
    }
}

fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}
/// The rear has no fork to read along.
pub(super) fn not_along_fork(place: &str) -> crate::Error {
    BikeError::Direction {
        field: "direction".to_owned(),
        found: Direction::AlongFork.name().to_owned(),
        wanted: format!("`vertical` or `to mark` {place}"),
    }
    .into()
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::demo::PATROL;
    use crate::units::parse;

    /// The slope against the difference quotient of the sag, on an axle that moves along as it rises: without that part the slope
    /// is off by `x·x′/|r − m|`, some per cent.
    #[test]
    fn the_slope_to_a_mark_is_that_of_the_distance() {
        /// Step of the quotient (m); its error is `h²/6` times the third derivative, below 1e-9, and rounding 1e-16/h.
        const STEP: f64 = 1e-5;
        const CLOSE: f64 = 1e-8;
        let bike = Bike::from_toml(PATROL).unwrap();
        for (end, x, z) in [(End::Rear, "-420 mm", "260 mm"), (End::Front, "760 mm", "520 mm")] {
            let mark = Direction::ToMark { x: parse(x).unwrap(), z: parse(z).unwrap() };
            let conversion = SagConversion::of(&bike, end, mark).unwrap();
            let full = bike.end(end).unwrap().full_travel().si();
            for share in [0.1, 0.5, 0.9] {
                let at = |by: f64| conversion.sag_and_slope(share * full + by);
                let quotient = (at(STEP).0 - at(-STEP).0) / (2.0 * STEP);
                assert!((at(0.0).1 - quotient).abs() < CLOSE, "{end} at {share}: {} against {quotient}", at(0.0).1);
            }
        }
    }
}
