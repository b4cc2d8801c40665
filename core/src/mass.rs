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

mod placing;
mod raise;

pub use placing::Ballast;
pub use raise::AxleRaise;

use std::collections::HashSet;

use crate::error::{MassError, nearest};
use crate::record::{End, Ends, Load, Usual};
use crate::units::kind::STANDARD_GRAVITY_SI;
use crate::units::{Acceleration, Force, Length, Mass, MomentOfInertia, Quantity, Share, Uncertain, check, to_text};

/// Names a mass cannot have: `none` is the load of a wheel off the ground.
const RESERVED: [&str; 1] = [Load::NONE];
/// Most that any one mass can be: heavier is a slip of unit.
const MOST_MASS_SI: f64 = 1500.0;
/// Longest wheelbase of a motorcycle, and the furthest a mass can sit from the front axle.
const MOST_WHEELBASE_SI: f64 = 4.0;
/// Largest standard uncertainty of a mass at a wheel: beyond it nothing is known of a bike's load.
const MOST_UNCERTAINTY_SI: f64 = 50.0;
/// Largest pitch inertia: of the heaviest mass over the longest wheelbase.
const MOST_INERTIA_SI: f64 = 1e4;

/// How one mass is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Weighing {
    /// By two scales, or as the difference they show.
    Scales(Ends<Mass>),
    /// By its total and its position.
    Position {
        /// The whole mass.
        total: Mass,
        /// Horizontal distance behind the front axle, bike level; negative in front of it.
        behind_front_axle: Length,
    },
    /// By its total, and the share of it that the front wheel takes.
    Total {
        /// The whole mass.
        total: Mass,
        /// The share on the front wheel.
        on_front: Uncertain<Share>,
        /// Is the share assumed, because nobody stated it?
        assumed: bool,
    },
}

impl Weighing {
    /// A mass of which nobody knows more than its total; how it is shared between the wheels is assumed.
    #[must_use]
    pub fn total(total: Mass) -> Self {
        let any = Share::from_si(0.5);
        Self::Total { total, on_front: Uncertain { value: any, standard_uncertainty: any }, assumed: true }
    }
}

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

    /// Standard uncertainty of what one mass puts on a wheel: stated for it, or that of a scale reading; of a mass known by its
    /// total, that of the total shared out and of the share.
    pub(crate) fn uncertainty_at(&self, end: End, name: &str) -> Mass {
        let read = self.uncertainty(name).unwrap_or(self.scale_uncertainty);
        let weighing = self.named.iter().find(|(known, _)| known == name).map(|(_, weighing)| weighing);
        let Some(Weighing::Total { total, on_front, .. }) = weighing else { return read };
        let stated = if name == Load::BIKE { *total * self.bike_weight.si() } else { Mass::from_si(0.0) };
        let share = match end {
            End::Front => on_front.value.si(),
            End::Rear => 1.0 - on_front.value.si(),
        };
        let of_total = share * read.si().hypot(stated.si());
        Mass::from_si(of_total.hypot(total.si() * on_front.standard_uncertainty.si()))
    }

    /// Standard uncertainty of the unsprung mass at a wheel: assumed, or that of a scale reading.
    pub(crate) fn unsprung_uncertainty(&self, end: End) -> Mass {
        self.assumed_unsprung.map_or(self.scale_uncertainty, |assumed| *assumed.at(end))
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

    /// What one named mass puts on each wheel: `m_rear = m·x/L`, `m_front = m − m_rear` where only its position is known.
    ///
    /// # Errors
    /// [`MassError::UnknownMass`].
    pub fn share(&self, name: &str) -> Result<Ends<Mass>, MassError> {
        let weighing = self.named.iter().find(|(known, _)| known == name).map(|(_, weighing)| weighing);
        let weighing = weighing.ok_or_else(|| self.unknown(name))?;
        match (weighing, self.wheelbase) {
            (Weighing::Scales(shares), _) => Ok(*shares),
            (Weighing::Position { total, behind_front_axle }, Some(wheelbase)) => {
                let rear = *total * (behind_front_axle.si() / wheelbase.si());
                Ok(Ends { front: *total - rear, rear })
            }
            (Weighing::Total { total, on_front, .. }, _) => {
                let front = *total * on_front.value.si();
                Ok(Ends { front, rear: *total - front })
            }
            (Weighing::Position { .. }, None) => Err(MassError::NoWheelbase { name: name.to_owned() }),
        }
    }

    /// What a load shows on the scale under one wheel: `Σ m_i,end`.
    ///
    /// # Errors
    /// [`MassError::UnknownMass`], [`MassError::Twice`], [`MassError::Empty`].
    pub fn wheel_mass(&self, end: End, load: &Load) -> Result<Uncertain<Mass>, MassError> {
        let names = load.names();
        if names.is_empty() && *load != Load::None {
            return Err(MassError::Empty);
        }
        let mut sum = Mass::from_si(0.0);
        for (at, name) in names.iter().enumerate() {
            if names[..at].contains(name) {
                return Err(MassError::Twice { load: load.to_string(), name: name.clone() });
            }
            sum += *self.share(name)?.at(end);
        }
        let squares = names.iter().map(|name| self.uncertainty_at(end, name).si().powi(2));
        Ok(Uncertain::new(sum, Mass::from_si(squares.sum::<f64>().sqrt()))?)
    }

    /// The sprung mass at one end: what the scale shows less the unsprung mass, `Σ m_i,end − m_unsprung,end`. Zero
    /// under no load, where the wheel hangs.
    ///
    /// # Errors
    /// As [`wheel_mass`](Self::wheel_mass), and [`MassError::NegativeSprung`].
    pub fn sprung_mass(&self, end: End, load: &Load) -> Result<Uncertain<Mass>, MassError> {
        let scale = self.wheel_mass(end, load)?;
        if *load == Load::None {
            return Ok(scale);
        }
        if !load.names().iter().any(|name| name == Load::BIKE) {
            return Err(MassError::WithoutBike { load: load.to_string() });
        }
        let sprung = scale.value - *self.unsprung.at(end);
        if sprung.si() < 0.0 {
            return Err(MassError::NegativeSprung {
                end,
                load: load.to_string(),
                unsprung: to_text(*self.unsprung.at(end)),
                scale: to_text(scale.value),
            });
        }
        let uncertainty = scale.standard_uncertainty.si().hypot(self.unsprung_uncertainty(end).si());
        Ok(Uncertain::new(sprung, Mass::from_si(uncertainty))?)
    }

    /// The vertical load that the spring of one end carries at the wheel: `W = m_sprung·g`.
    ///
    /// # Errors
    /// As [`sprung_mass`](Self::sprung_mass).
    pub fn sprung_load(&self, end: End, load: &Load) -> Result<Uncertain<Force>, MassError> {
        let mass = self.sprung_mass(end, load)?;
        Ok(Uncertain::new(mass.value * self.gravity, mass.standard_uncertainty * self.gravity)?)
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

fn check_name(name: &str, used: bool) -> Result<(), MassError> {
    let bad = |reason| Err(MassError::BadName { name: name.to_owned(), reason });
    if name.trim() != name || name.is_empty() || name.contains('+') {
        return bad("a name is not empty, has no `+` and no space at its ends");
    }
    if RESERVED.contains(&name) {
        return bad("the word has a meaning of its own in a load");
    }
    if used {
        return bad("it is used twice");
    }
    Ok(())
}

fn check_weighing(name: &str, weighing: &Weighing, wheelbase: Option<Length>) -> Result<(), MassError> {
    let most = Mass::from_si(MOST_MASS_SI);
    match *weighing {
        Weighing::Scales(shares) => {
            for end in End::BOTH {
                check::plausible(&format!("{name}.{end}"), *shares.at(end), -most, most)?;
            }
            check::positive(&format!("{name}: front + rear"), shares.front + shares.rear)?;
        }
        Weighing::Position { total, behind_front_axle } => {
            check::positive(&format!("{name}.total"), total)?;
            check::plausible(&format!("{name}.total"), total, Mass::from_si(1e-3), most)?;
            let reach = Length::from_si(MOST_WHEELBASE_SI);
            check::plausible(&format!("{name}.behind_front_axle"), behind_front_axle, -reach, reach)?;
            if wheelbase.is_none() {
                return Err(MassError::NoWheelbase { name: name.to_owned() });
            }
        }
        Weighing::Total { total, on_front, .. } => {
            check::positive(&format!("{name}.total"), total)?;
            check::plausible(&format!("{name}.total"), total, Mass::from_si(1e-3), most)?;
            let field = format!("{name}.on_front");
            check::plausible(&field, on_front.value, Share::from_si(-0.5), Share::from_si(1.5))?;
            check::plausible(&field, on_front.standard_uncertainty, Share::from_si(0.0), Share::from_si(0.5))?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests;
