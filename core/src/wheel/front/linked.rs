//! A front end on links: linkage and shock as at the rear, and the steering axis.

use crate::error::{LinkageError, Result, WheelError};
use crate::linkage::{FRAME, Linkage};
use crate::units::{Angle, Length, Quantity, check};
use crate::wheel::{RearEnd, SteeringAxis, Wheel};

/// Largest rake taken, either way (rad): as of any steered wheel.
const MOST_RAKE: f64 = core::f64::consts::FRAC_PI_3;

#[derive(Debug, Clone, PartialEq)]
pub(super) struct Linked {
    /// Linkage and shock; the linkage is drawn.
    sprung: RearEnd,
    /// At full extension.
    rake: Angle,
    /// The body that the steering axis lies in, where it is not the frame.
    steering_body: Option<String>,
}

impl Linked {
    pub(super) fn new(sprung: RearEnd, rake: Angle) -> Result<Self> {
        sprung.linkage()?;
        let most = Angle::from_si(MOST_RAKE);
        Ok(Self { sprung, rake: check::plausible("rake", rake, -most, most)?, steering_body: None })
    }

    pub(super) fn with_steering_body(self, body: String) -> Result<Self> {
        let fits = self.sprung.linkage()?.caliper_index(&body);
        fits.map_err(|error| match error {
            LinkageError::Caliper { body, wanted } => LinkageError::SteeringBody { body, wanted },
            other => other,
        })?;
        Ok(Self { steering_body: Some(body).filter(|body| body != FRAME), ..self })
    }

    /// With something changed in linkage or shock; the steering axis stays in its body.
    pub(super) fn changed(&self, change: impl FnOnce(&RearEnd) -> Result<RearEnd>) -> Result<Self> {
        Ok(Self { sprung: change(&self.sprung)?, ..self.clone() })
    }

    pub(super) fn sprung(&self) -> &RearEnd {
        &self.sprung
    }

    pub(super) fn rake(&self) -> Angle {
        self.rake
    }

    pub(super) fn steering_body(&self) -> &str {
        self.steering_body.as_deref().unwrap_or(FRAME)
    }

    /// At a travel inside the range.
    pub(super) fn steering_axis(&self, travel: Length, fork_offset: Length) -> SteeringAxis {
        let still = SteeringAxis { rake: self.rake, fork_offset };
        if let Some((linkage, body)) = self.steering_body.as_deref().and_then(|body| indexed(&self.sprung, body)) {
            return SteeringAxis { rake: self.rake + linkage.body_turned(body, travel), ..still };
        }
        let axle = |travel| self.sprung.axle_at(travel).map(|axle| axle.at.map(Quantity::si));
        let (Some(extended), Some(now)) = (axle(Length::from_si(0.0)), axle(travel)) else { return still };
        let (sin, cos) = self.rake.si().sin_cos();
        let ahead = (now[0] - extended[0]) * cos + (now[1] - extended[1]) * sin;
        SteeringAxis { fork_offset: fork_offset + Length::from_si(ahead), ..still }
    }
}

/// A body of a drawn linkage.
fn indexed<'a>(sprung: &'a RearEnd, body: &str) -> Option<(&'a Linkage, usize)> {
    let linkage = sprung.linkage().ok()?;
    Some((linkage, linkage.caliper_index(body).ok()?))
}

/// How the body with the caliper of the front brake turns.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CaliperSpin<'a> {
    linkage: &'a Linkage,
    body: usize,
}

impl<'a> CaliperSpin<'a> {
    pub(super) fn of(sprung: &'a RearEnd) -> Result<Self> {
        let caliper = sprung.caliper().ok_or(WheelError::NoCaliper)?;
        let (linkage, body) = indexed(sprung, caliper).ok_or(WheelError::NoCaliper)?;
        Ok(Self { linkage, body })
    }

    /// Turn against the frame, nose down, per travel.
    pub(crate) fn at(&self, travel: f64) -> f64 {
        -self.linkage.body_turn(self.body, travel)
    }
}
