//! How a bike stands: rake, trail, wheelbase, where every point of the frame is.

use super::plane::{FRONT, Pose, REAR};
use crate::bike::steering::Steering;
use crate::error::Result;
use crate::record::Ends;
use crate::units::{Angle, Force, Length, Quantity};
use crate::wheel::{Equilibrium, Exact, Rest, Settling, SteeringAxis, WheelState};

/// A bike on both wheels at some travels.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Stance {
    /// Vertical travel of each end in the frame axes.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub travel: Ends<Length>,
    /// Stroke along the fork; of the shock where the front end is a linkage.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub fork_stroke: Length,
    /// Stroke of the rear shock.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub shock_stroke: Length,
    /// Pitch of the frame against its axes, nose down.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub pitch: Angle,
    /// Rake of the steering axis from the vertical.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub rake: Angle,
    /// Trail along the ground.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub trail: Length,
    /// Trail square to the steering axis.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub normal_trail: Length,
    /// Distance of the contacts.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub wheelbase: Length,
    /// Angle of the line from swingarm pivot to axle below the horizontal; nothing where no such pivot is.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub swingarm_angle: Option<Angle>,
    /// Height of each axle above the ground.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub axle_height: Ends<Length>,
    pose: Pose,
}

impl Stance {
    /// How it stands with its ends where they are.
    pub(super) fn of(
        SteeringAxis { rake, fork_offset, .. }: SteeringAxis,
        swingarm_pivot: Option<[Length; 2]>,
        exact: &[Exact; 2],
        pose: Pose,
    ) -> Result<Self> {
        let pitch = Angle::from_si(pose.pitch());
        let radius = Ends { front: pose.radius[FRONT], rear: pose.radius[REAR] }.map(Length::from_si);
        let steering = Steering { rake, fork_offset, radius: radius.front }.pitched(pitch)?;
        let [front, rear] = exact;
        let swingarm_angle = swingarm_pivot.map(|pivot| {
            let axle = pose.axles[REAR].at;
            let [back, down] = pose.turn([pivot[0].si() - axle[0], pivot[1].si() - axle[1]]);
            Angle::from_si(down.atan2(back))
        });
        Ok(Self {
            travel: Ends { front: front.sample.travel, rear: rear.sample.travel }.map(Length::from_si),
            fork_stroke: Length::from_si(front.stroke()),
            shock_stroke: Length::from_si(rear.stroke()),
            pitch,
            rake: steering.rake,
            trail: steering.trail()?,
            normal_trail: steering.normal_trail()?,
            wheelbase: Length::from_si(pose.wheelbase),
            swingarm_angle,
            axle_height: radius,
            pose,
        })
    }

    /// Where a point of the frame is: its distance ahead of the rear contact and its height above the ground. The seat,
    /// the lowest point of the frame, the steering head, the centre of gravity: the difference between two stances is how
    /// far it went.
    #[must_use]
    pub fn place(&self, point: [Length; 2]) -> [Length; 2] {
        self.pose.place(point.map(Quantity::si)).map(Length::from_si)
    }

    /// The point of the frame, in its axes, that is at this distance ahead of the rear contact and this height.
    #[must_use]
    pub fn point_at(&self, place: [Length; 2]) -> [Length; 2] {
        self.pose.point_at(place.map(Quantity::si)).map(Length::from_si)
    }
}

/// A bike come to rest.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct SettledBike {
    /// How it stands.
    pub stance: Stance,
    /// How each end came to rest, with the others that it has under the same loads and attitude. The margin on a stop is
    /// a force at the wheel in the frame's own vertical.
    pub ends: Ends<Settling>,
    /// Force of the ground on each wheel, square to the ground.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub load: Ends<Force>,
    /// Force of the ground on each wheel, along the ground, forward.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub along: Ends<Force>,
}

pub(super) fn settling((rest, others): (Rest, Vec<Equilibrium>), state: WheelState) -> Settling {
    match rest {
        Rest::ToppedOut(margin) => Settling::ToppedOut { margin: Force::from_si(margin), others },
        Rest::At(_) => Settling::Settled { state, others },
        Rest::Bottomed(margin) => Settling::Bottomed { margin: Force::from_si(margin), others },
    }
}
