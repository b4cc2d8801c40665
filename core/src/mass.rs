//! Masses: what the scales show under each wheel, and what of it the springs carry.
//!
//! `W_sprung,end = (Σ m_i,end − m_unsprung,end) · g`
//!
//! Assumes the bike level on both scales and the masses at rest. A mass known by its position is shared between the wheels
//! by moments, `m_rear = m·x/L` with `x` behind the front axle: a mass behind the rear axle takes load off the front, so
//! its front share is negative. Standard gravity unless stated.
//!
//! Every scale reading carries the same standard uncertainty and is independent of the others (JCGM 100:2008, 5.1.2); a mass
//! that was not weighed may carry its own, for what it puts on each wheel.
//! That is pessimistic by up to √2 for a rider whose share is itself the difference of two readings.
//!
//! References: ISO 10392 for centre of gravity by weighing; any statics text for moments.

mod loads;
mod placing;
mod raise;
mod weighing;

pub use placing::Ballast;
pub use raise::AxleRaise;
pub use weighing::Weighing;
use weighing::{check_name, check_weighing};

use std::collections::HashSet;

use crate::error::{MassError, nearest};
use crate::record::{End, Ends, Load, Usual};
use crate::units::kind::STANDARD_GRAVITY_SI;
use crate::units::{Acceleration, Length, Mass, MomentOfInertia, Quantity, Share, check};

/// Most that any one mass can be: heavier is a slip of unit.
const MOST_MASS_SI: f64 = 1500.0;
/// Longest wheelbase of a motorcycle, and the furthest a mass can sit from the front axle.
const MOST_WHEELBASE_SI: f64 = 4.0;
/// Largest standard uncertainty of a mass at a wheel: beyond it nothing is known of a bike's load.
const MOST_UNCERTAINTY_SI: f64 = 50.0;
/// Largest pitch inertia: of the heaviest mass over the longest wheelbase.
const MOST_INERTIA_SI: f64 = 1e4;

/// The masses of a bike and of all that may ride on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Masses {
    named: Vec<(String, Weighing)>,
    heights: Vec<Option<Length>>,
    inertias: Vec<Option<MomentOfInertia>>,
    uncertainties: Vec<Option<Mass>>,
    unsprung: Ends<Mass>,
    wheelbase: Option<Length>,
    scale_uncertainty: Mass,
    gravity: Acceleration,
    /// Standard uncertainties of unsprung masses that nobody stated.
    assumed_unsprung: Option<Ends<Mass>>,
    /// How far the total of a bike that was not put on two scales may be off, as a share of it.
    bike_weight: Share,
}

impl Masses {
    /// Standard uncertainty of one scale reading when none is stated: 0.5 kg (common practice, no source).
    #[must_use]
    pub fn default_scale_uncertainty() -> Mass {
        Mass::from_si(0.5)
    }

    /// Standard gravity, 9.80665 m/s² (CGPM 1901).
    #[must_use]
    pub fn standard_gravity() -> Acceleration {
        Acceleration::from_si(STANDARD_GRAVITY_SI)
    }

    /// Named masses, one of them [`Load::BIKE`], and the unsprung part of the bike. The wheelbase is needed by masses that are
    /// known by position.
    ///
    /// # Errors
    /// [`MassError`] for impossible magnitudes, a name used twice, no `bike`, or an unsprung mass above what the bike
    /// shows on the scale.
    pub fn new(
        named: Vec<(String, Weighing)>,
        unsprung: Ends<Mass>,
        wheelbase: Option<Length>,
    ) -> Result<Self, MassError> {
        for end in End::BOTH {
            let field = format!("unsprung.{end}");
            check::not_negative(&field, *unsprung.at(end))?;
            check::plausible(&field, *unsprung.at(end), Mass::from_si(0.0), Mass::from_si(MOST_MASS_SI))?;
        }
        if let Some(wheelbase) = wheelbase {
            check::plausible("wheelbase", wheelbase, Length::from_si(0.3), Length::from_si(MOST_WHEELBASE_SI))?;
        }
        let mut names = HashSet::new();
        for (name, weighing) in &named {
            check_name(name, !names.insert(name))?;
            check_weighing(name, weighing, wheelbase)?;
        }
        let masses = Self {
            heights: vec![None; named.len()],
            inertias: vec![None; named.len()],
            uncertainties: vec![None; named.len()],
            named,
            unsprung,
            wheelbase,
            scale_uncertainty: Self::default_scale_uncertainty(),
            gravity: Self::standard_gravity(),
            assumed_unsprung: None,
            bike_weight: Share::from_si(0.0),
        };
        if masses.named.iter().all(|(name, _)| name != Load::BIKE) {
            return Err(MassError::NoBike);
        }
        // What is usual of any bike, until it is put into one of a kind.
        masses.assuming(Usual::any())
    }

    /// Masses of a bike whose unsprung parts nobody weighed: they are assumed.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn of_unknown_unsprung(
        named: Vec<(String, Weighing)>,
        wheelbase: Option<Length>,
        usual: &Usual,
    ) -> Result<Self, MassError> {
        let none = Ends { front: Mass::from_si(0.0), rear: Mass::from_si(0.0) };
        Self { assumed_unsprung: Some(none), ..Self::new(named, none, wheelbase)? }.assuming(usual)
    }

    /// The same masses at what is usual, wherever nobody stated it: shares of totals, unsprung masses.
    pub(crate) fn assuming(&self, usual: &Usual) -> Result<Self, MassError> {
        let mut masses = Self { bike_weight: usual.bike_weight, ..self.clone() };
        for (name, weighing) in &mut masses.named {
            if let Weighing::Total { on_front, assumed: true, .. } = weighing {
                *on_front = if name == Load::BIKE { usual.bike_on_front } else { usual.rider_on_front };
            }
        }
        if self.assumed_unsprung.is_some() {
            let bike = masses.share(Load::BIKE)?;
            let bike = bike.front + bike.rear;
            let shares = Ends { front: usual.unsprung_front, rear: usual.unsprung_rear };
            masses.unsprung = shares.map(|share| bike * share.value.si());
            masses.assumed_unsprung = Some(shares.map(|share| bike * share.standard_uncertainty.si()));
        }
        for end in End::BOTH {
            masses.sprung_mass(end, &Load::bike_alone())?;
        }
        Ok(masses)
    }

    /// Standard uncertainties of the unsprung masses, where nobody stated them.
    #[must_use]
    pub fn assumed_unsprung(&self) -> Option<Ends<Mass>> {
        self.assumed_unsprung
    }

    /// The same masses, read on scales of this standard uncertainty.
    ///
    /// # Errors
    /// [`MassError::Unit`] when it is not above zero or over 50 kg.
    pub fn with_scale_uncertainty(mut self, uncertainty: Mass) -> Result<Self, MassError> {
        check::positive("scale_uncertainty", uncertainty)?;
        self.scale_uncertainty = check::plausible(
            "scale_uncertainty",
            uncertainty,
            Mass::from_si(1e-6),
            Mass::from_si(MOST_UNCERTAINTY_SI),
        )?;
        Ok(self)
    }

    /// The same masses, with one of them known to have its centre of gravity at this height above the ground, bike level
    /// on its wheels under all that rides on it. The bike's own is that of the whole bike, wheels included.
    ///
    /// # Errors
    /// [`MassError::UnknownMass`]; [`MassError::Unit`] outside 0 to 4 m.
    pub fn with_height(mut self, name: &str, height: Length) -> Result<Self, MassError> {
        check::plausible(&format!("{name}.height"), height, Length::from_si(0.0), Length::from_si(MOST_WHEELBASE_SI))?;
        let place = self.named.iter().position(|(known, _)| known == name);
        match place.and_then(|place| self.heights.get_mut(place)) {
            Some(known) => *known = Some(height),
            None => return Err(self.unknown(name)),
        }
        Ok(self)
    }

    /// The same masses, with one of them known to have this pitch inertia about its own centre of gravity. The bike's own
    /// is that of the whole bike, wheels included.
    ///
    /// # Errors
    /// [`MassError::UnknownMass`]; [`MassError::Unit`] outside 0 to 10 000 kg m².
    pub fn with_pitch_inertia(mut self, name: &str, inertia: MomentOfInertia) -> Result<Self, MassError> {
        let most = MomentOfInertia::from_si(MOST_INERTIA_SI);
        check::plausible(&format!("{name}.pitch_inertia"), inertia, MomentOfInertia::from_si(0.0), most)?;
        let place = self.named.iter().position(|(known, _)| known == name);
        match place.and_then(|place| self.inertias.get_mut(place)) {
            Some(known) => *known = Some(inertia),
            None => return Err(self.unknown(name)),
        }
        Ok(self)
    }

    /// The same masses, with what one of them puts on each wheel known to this standard uncertainty: a mass that nobody put
    /// on two scales, or one on a better scale.
    ///
    /// # Errors
    /// [`MassError::UnknownMass`]; [`MassError::Unit`] when it is not above zero or over 50 kg.
    pub fn with_uncertainty(mut self, name: &str, uncertainty: Mass) -> Result<Self, MassError> {
        let field = format!("{name}.uncertainty");
        check::positive(&field, uncertainty)?;
        check::plausible(&field, uncertainty, Mass::from_si(1e-6), Mass::from_si(MOST_UNCERTAINTY_SI))?;
        let place = self.named.iter().position(|(known, _)| known == name);
        match place.and_then(|place| self.uncertainties.get_mut(place)) {
            Some(known) => *known = Some(uncertainty),
            None => return Err(self.unknown(name)),
        }
        Ok(self)
    }

    /// The same masses under another gravity.
    ///
    /// # Errors
    /// [`MassError::Unit`] outside 9.7 to 9.9 m/s², the range on Earth's surface (9.76 to 9.83) and of textbooks.
    pub fn with_gravity(mut self, gravity: Acceleration) -> Result<Self, MassError> {
        self.gravity = check::plausible("gravity", gravity, Acceleration::from_si(9.7), Acceleration::from_si(9.9))?;
        Ok(self)
    }

    /// The masses as stated, in the order stated.
    #[must_use]
    pub fn named(&self) -> &[(String, Weighing)] {
        &self.named
    }

    /// Height of one mass's centre of gravity above the ground, where stated.
    #[must_use]
    pub fn height(&self, name: &str) -> Option<Length> {
        self.named.iter().zip(&self.heights).find(|((known, _), _)| known == name).and_then(|(_, height)| *height)
    }

    /// Pitch inertia of one mass about its own centre of gravity, where stated.
    #[must_use]
    pub fn pitch_inertia(&self, name: &str) -> Option<MomentOfInertia> {
        self.named.iter().zip(&self.inertias).find(|((known, _), _)| known == name).and_then(|(_, inertia)| *inertia)
    }

    /// Standard uncertainty of what one mass puts on each wheel, where stated for it.
    #[must_use]
    pub fn uncertainty(&self, name: &str) -> Option<Mass> {
        let all = self.named.iter().zip(&self.uncertainties);
        all.into_iter().find(|((known, _), _)| known == name).and_then(|(_, uncertainty)| *uncertainty)
    }

    /// Height of the centre of gravity of a whole load, `h = Σ m_i·h_i / Σ m_i`.
    ///
    /// # Errors
    /// [`MassError::UnknownMass`], and [`MassError::NoHeight`] for the first mass without a height.
    pub fn load_height(&self, load: &Load) -> Result<Length, MassError> {
        let (mut moment, mut total) = (0.0, 0.0);
        for name in load.names() {
            let share = self.share(name)?;
            let height = self.height(name).ok_or_else(|| MassError::NoHeight { name: name.clone() })?;
            moment += (share.front + share.rear).si() * height.si();
            total += (share.front + share.rear).si();
        }
        let height = Length::from_si(moment / total);
        Ok(check::finite("height of the load", height)?)
    }

    /// The unsprung mass at each end.
    #[must_use]
    pub fn unsprung(&self) -> Ends<Mass> {
        self.unsprung
    }

    /// The wheelbase that positions are measured against.
    #[must_use]
    pub fn wheelbase(&self) -> Option<Length> {
        self.wheelbase
    }

    /// Standard uncertainty of one scale reading.
    #[must_use]
    pub fn scale_uncertainty(&self) -> Mass {
        self.scale_uncertainty
    }

    /// The gravity that turns masses into loads.
    #[must_use]
    pub fn gravity(&self) -> Acceleration {
        self.gravity
    }

    fn unknown(&self, name: &str) -> MassError {
        let known = || self.named.iter().map(|(known, _)| known.as_str());
        MassError::UnknownMass {
            found: name.to_owned(),
            known: nearest::list(known()),
            suggestion: nearest::nearest(name, known()).map(str::to_owned),
        }
    }
}

#[cfg(test)]
mod tests;
