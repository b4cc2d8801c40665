//! What masses put on the wheels and on the springs.
//!
//! `W_sprung,end = (Σ m_i,end − m_unsprung,end)·g`

use crate::error::MassError;
use crate::record::{End, Ends, Load};
use crate::units::{Force, Mass, Quantity, Uncertain, brief};

use super::{Masses, Weighing};

impl Masses {
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
                unsprung: brief(*self.unsprung.at(end)),
                scale: brief(scale.value),
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
}
