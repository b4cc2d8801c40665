//! The front end: a telescopic fork at its rake, or any linkage with a shock in it.
//!
//! A leading or trailing link, a girder, a double link are mechanisms like those of a rear end and go through the same code: a
//! shock, or two alike, between two points, `F_w = F(s(z))·MR(z)`. What a front end has beside that is its **steering axis**. It
//! lies in the frame where links turn on a rigid steered fork, or where a girder hangs on links between two yokes; it lies in
//! the upright where a double link carries an upright that is steered at its own joints. With the axle at `A(z)` and the upright
//! turned nose up by `φ(z)` against the frame, both since full extension,
//!
//! | axis in | rake | offset of the axle ahead of the axis |
//! |---|---|---|
//! | the frame | `ε` | `d + (A(z) − A(0))·(cos ε, sin ε)` |
//! | a body with the axle on it | `ε + φ(z)` | `d` |
//!
//! with the rake `ε` and the offset `d` of full extension. A telescopic fork moves its axle along the axis: both stay.
//!
//! Assumes the wheel straight ahead: what turns with the handlebar and carries the links is part of the body `frame`.
//!
//! References: Cossalter, *Motorcycle Dynamics*, ch. 1, 5; Foale, *Motorcycle Handling and Chassis Design*, ch. 7.

mod felt;
mod linked;
mod telescopic;

use super::{PivotUncertainty, RearEnd, Wheel};
use crate::error::{Result, WheelError};
use crate::fork::Fork;
use crate::linkage::{FRAME, Linkage};
use crate::record::Usual;
use crate::shock::Shock;
use crate::spring::Preloaded;
use crate::units::{Angle, Length, Quantity, Temperature};
pub(crate) use linked::CaliperSpin;
use linked::Linked;
use telescopic::Telescopic;

/// A fork, or a linkage and its shock, as the front wheel feels it.
#[derive(Debug, Clone, PartialEq)]
pub struct FrontEnd {
    way: Way,
}

#[derive(Debug, Clone, PartialEq)]
enum Way {
    Telescopic(Box<Telescopic>),
    Linked(Box<Linked>),
}

/// The steering axis at one travel, the frame in its reference attitude.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct SteeringAxis {
    /// Its angle from the vertical, top leaning back.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub rake: Angle,
    /// Distance of the axle ahead of it, square to it.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub fork_offset: Length,
}

impl FrontEnd {
    /// The end that a fork makes.
    #[must_use]
    pub fn new(fork: Fork) -> Self {
        Telescopic::new(fork).into()
    }

    /// The end that a linkage makes with the shock it was made for, or with two of them alike; the rake of its steering axis at
    /// full extension. The axis lies in the frame, unless [said otherwise](Self::with_steering_body).
    ///
    /// ```
    /// use wheelrate::linkage::{Linkage, Mechanism};
    /// use wheelrate::shock::{Shock, ShockParts};
    /// use wheelrate::spring::Preloaded;
    /// use wheelrate::units::{Quantity, parse};
    /// use wheelrate::wheel::{FrontEnd, Wheel};
    /// // A leading link, 120 mm long and level, with a strut straight up from its axle on either side.
    /// let at = |x: &str, z: &str| -> Result<_, wheelrate::error::UnitError> { Ok([parse(x)?, parse(z)?]) };
    /// let mechanism = Mechanism::new(
    ///     [("pivot", at("700 mm", "0 mm")?), ("axle", at("820 mm", "0 mm")?), ("top", at("820 mm", "350 mm")?)],
    ///     [("frame", vec!["pivot", "top"]), ("link", vec!["pivot", "axle"])],
    /// )?;
    /// let (length, stroke) = (parse("380 mm")?, parse("80 mm")?);
    /// let linkage = Linkage::new(mechanism, "axle", ("axle", "top"), length, stroke)?;
    /// let mut parts = ShockParts::new();
    /// parts.spring = Some(Preloaded::linear("12 N/mm".parse()?, parse("5 mm")?)?);
    /// let shock = Shock::new(length, stroke, parts, 2)?;
    /// let end = FrontEnd::linked(linkage, shock, parse("27 deg")?)?;
    /// // The struts are square to the link where it lies level: one to one.
    /// let level = end.linkage()?.drawn_travel();
    /// assert!((end.at(level)?.motion_ratio.si() - 1.0).abs() < 1e-9);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`WheelError::OtherShock`] when the lengths or strokes differ; a rake beyond 60° either way.
    pub fn linked(linkage: Linkage, shock: Shock, rake: Angle) -> Result<Self> {
        Self::of_sprung(RearEnd::from_parts(linkage, shock)?, rake)
    }

    /// The same of an end whose linkage is drawn.
    pub(crate) fn of_sprung(sprung: RearEnd, rake: Angle) -> Result<Self> {
        Ok(Linked::new(sprung, rake)?.into())
    }

    /// A fork with the place of its axle at full extension, in the frame axes. A linkage has its own.
    ///
    /// # Errors
    /// When a coordinate is further than 10 m from the origin; [`WheelError::NoFork`].
    pub fn with_axle(self, axle: [Length; 2]) -> Result<Self> {
        Ok(self.into_telescopic("`axle`")?.with_axle(axle)?.into())
    }

    /// Another fork in the same place; in the place of a linkage, a fork whose axle is not placed.
    #[must_use]
    pub fn with_fork(&self, fork: Fork) -> Self {
        match &self.way {
            Way::Telescopic(end) => end.with_fork(fork).into(),
            Way::Linked(_) => Self::new(fork),
        }
    }

    /// The end with its tubes raised in their clamps by this much from where its axle was placed (lowered where negative): the
    /// axle comes up along the steering axis, and the front of the bike down.
    ///
    /// # Errors
    /// For more than 100 mm; [`WheelError::NoFork`].
    pub fn with_raised(self, raised: Length) -> Result<Self> {
        Ok(self.into_telescopic("`raised`")?.with_raised(raised)?.into())
    }

    /// How far the tubes of a fork are raised in their clamps from where the axle was placed.
    #[must_use]
    pub fn raised(&self) -> Length {
        self.telescopic().map_or(Length::from_si(0.0), Telescopic::raised)
    }

    /// The end with the tubes raised in the clamps by this much further (lowered where negative): the axle comes up along the
    /// steering axis, and the front of the bike down.
    ///
    /// # Errors
    /// [`WheelError::NoAxle`] where the axle is not placed, [`WheelError::NoFork`], and for more than 100 mm.
    pub fn raised_in_clamps(&self, by: Length) -> Result<Self> {
        let end = self.telescopic().ok_or(WheelError::NoFork { asked: "raising tubes in their clamps" })?;
        Ok(end.raised_in_clamps(by)?.into())
    }

    /// A linkage whose steering axis lies in this body: `frame`, or one that carries the axle.
    ///
    /// # Errors
    /// [`WheelError::NoLinkage`]; [`LinkageError::UnknownBody`](crate::error::LinkageError),
    /// [`LinkageError::SteeringBody`](crate::error::LinkageError).
    pub fn with_steering_body(self, body: String) -> Result<Self> {
        Ok(self.into_linked()?.with_steering_body(body)?.into())
    }

    /// A linkage with the caliper of the front brake on a body: one that carries the axle, a bracket that floats on it included,
    /// or `frame` where a rod keeps the caliper's attitude.
    ///
    /// # Errors
    /// [`WheelError::NoLinkage`]; [`LinkageError::UnknownBody`](crate::error::LinkageError),
    /// [`LinkageError::Caliper`](crate::error::LinkageError).
    pub fn with_caliper(self, body: String) -> Result<Self> {
        self.sprung_changed(|sprung| sprung.clone().with_caliper(body))
    }

    /// A linkage whose points are known to this uncertainty, which fit and advice then hold.
    ///
    /// # Errors
    /// [`WheelError::NoLinkage`], and for a negative uncertainty.
    pub fn with_pivots_known_to(self, uncertainty: PivotUncertainty) -> Result<Self> {
        self.sprung_changed(|sprung| sprung.clone().with_pivots_known_to(uncertainty))
    }

    /// The same linkage with another shock; a longer or shorter one moves the travel.
    ///
    /// # Errors
    /// [`WheelError::NoLinkage`], and as [`Linkage::new`].
    pub fn with_shock(&self, shock: Shock) -> Result<Self> {
        self.clone().sprung_changed(|sprung| sprung.with_shock(shock))
    }

    /// The end with its gas at this temperature.
    ///
    /// # Errors
    /// As [`Fork::warmed_to`] and [`Shock::warmed_to`].
    pub fn warmed_to(&self, temperature: Temperature) -> Result<Self> {
        match &self.way {
            Way::Telescopic(end) => Ok(end.with_fork(end.fork().warmed_to(temperature)?).into()),
            Way::Linked(end) => Ok(end.changed(|sprung| sprung.warmed_to(temperature))?.into()),
        }
    }

    fn sprung_changed(self, change: impl FnOnce(&RearEnd) -> Result<RearEnd>) -> Result<Self> {
        Ok(self.into_linked()?.changed(change)?.into())
    }

    /// The end at what is usual, wherever nobody stated it.
    pub(crate) fn assuming(&self, usual: &Usual) -> Result<Self> {
        match &self.way {
            Way::Telescopic(end) => Ok(end.with_fork(end.fork().assuming(usual)?).into()),
            Way::Linked(end) => Ok(end.changed(|sprung| sprung.assuming(usual))?.into()),
        }
    }

    /// The fork.
    ///
    /// # Errors
    /// [`WheelError::NoFork`] where the end is a linkage.
    pub fn fork(&self) -> Result<&Fork> {
        Ok(self.telescopic().ok_or(WheelError::NoFork { asked: "what is asked" })?.fork())
    }

    /// The linkage.
    ///
    /// # Errors
    /// [`WheelError::NoLinkage`] where the end is a fork.
    pub fn linkage(&self) -> Result<&Linkage> {
        self.sprung().ok_or(WheelError::NoLinkage)?.linkage()
    }

    /// The shock in the linkage.
    ///
    /// # Errors
    /// [`WheelError::NoLinkage`] where the end is a fork.
    pub fn shock(&self) -> Result<&Shock> {
        Ok(self.sprung().ok_or(WheelError::NoLinkage)?.shock())
    }

    /// The body of a linkage with the caliper of the front brake, where stated.
    #[must_use]
    pub fn caliper(&self) -> Option<&str> {
        self.sprung()?.caliper()
    }

    /// How well the points of a linkage are known, where stated.
    #[must_use]
    pub fn pivot_uncertainty(&self) -> Option<&PivotUncertainty> {
        self.sprung()?.pivot_uncertainty()
    }

    /// Is the wheel on links, and not on a fork?
    #[must_use]
    pub fn is_linked(&self) -> bool {
        self.sprung().is_some()
    }

    /// Rake of the steering axis at full extension.
    #[must_use]
    pub fn rake(&self) -> Angle {
        match &self.way {
            Way::Telescopic(end) => end.fork().rake(),
            Way::Linked(end) => end.rake(),
        }
    }

    /// The body that the steering axis lies in.
    #[must_use]
    pub fn steering_body(&self) -> &str {
        match &self.way {
            Way::Telescopic(_) => FRAME,
            Way::Linked(end) => end.steering_body(),
        }
    }

    /// The steering axis at a travel, with the offset of the axle at full extension.
    ///
    /// # Errors
    /// [`WheelError::OutOfTravel`].
    pub fn steering_axis(&self, travel: Length, fork_offset: Length) -> Result<SteeringAxis> {
        let travel = Length::from_si(super::within(self, travel)?);
        Ok(match &self.way {
            Way::Telescopic(end) => SteeringAxis { rake: end.fork().rake(), fork_offset },
            Way::Linked(end) => end.steering_axis(travel, fork_offset),
        })
    }

    /// The axle at full extension, where it is known; tubes in their clamps as they were when it was placed.
    #[must_use]
    pub fn extended_axle(&self) -> Option<[Length; 2]> {
        match &self.way {
            Way::Telescopic(end) => end.axle(),
            Way::Linked(end) => end.sprung().axle_at(Length::from_si(0.0)).map(|axle| axle.at),
        }
    }

    /// The main springs, one for each of which a person would buy one: of the legs that have one, or that of the shock.
    pub fn main_springs(&self) -> impl Iterator<Item = &Preloaded> {
        let (fork, sprung) = (self.telescopic().map(Telescopic::fork), self.sprung());
        let legs = fork.into_iter().flat_map(|fork| fork.legs().iter().filter_map(|leg| leg.spring()));
        legs.chain(sprung.and_then(|sprung| sprung.shock().parts().spring.as_ref()))
    }

    /// Turn of the body with the caliper against the frame; `None` of a fork, whose sliders do not turn.
    ///
    /// # Errors
    /// [`WheelError::NoCaliper`] for a linkage of which nobody said where it is.
    pub(crate) fn caliper_spin(&self) -> Result<Option<CaliperSpin<'_>>> {
        self.sprung().map(CaliperSpin::of).transpose()
    }

    /// Linkage and shock, where the end has them.
    pub(crate) fn sprung(&self) -> Option<&RearEnd> {
        match &self.way {
            Way::Telescopic(_) => None,
            Way::Linked(end) => Some(end.sprung()),
        }
    }

    fn telescopic(&self) -> Option<&Telescopic> {
        match &self.way {
            Way::Telescopic(end) => Some(end),
            Way::Linked(_) => None,
        }
    }

    fn into_telescopic(self, asked: &'static str) -> Result<Telescopic> {
        match self.way {
            Way::Telescopic(end) => Ok(*end),
            Way::Linked(_) => Err(WheelError::NoFork { asked }.into()),
        }
    }

    fn into_linked(self) -> Result<Linked> {
        match self.way {
            Way::Telescopic(_) => Err(WheelError::NoLinkage.into()),
            Way::Linked(end) => Ok(*end),
        }
    }
}

impl From<Telescopic> for FrontEnd {
    fn from(end: Telescopic) -> Self {
        Self { way: Way::Telescopic(Box::new(end)) }
    }
}

impl From<Linked> for FrontEnd {
    fn from(end: Linked) -> Self {
        Self { way: Way::Linked(Box::new(end)) }
    }
}
