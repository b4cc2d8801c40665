//! The rear end: a linkage with a shock in it.
//!
//! `F_w = F(s(z))·MR(z)`. The shock's length and stroke set both ends of travel, so the linkage is made for its shock.
//! The linkage is known by its drawing, by a measured table of travel against shock length, or by no more than where it begins
//! and ends ([`Outline`]); neither of the last two says where the axle is.
//!
//! The final drive, where stated, belongs to the end; springs and travel do not feel it. A clone shares the linkage.

mod felt;
mod outline;

pub use outline::Outline;

use std::sync::Arc;

use super::{FinalDrive, PivotUncertainty};
use crate::error::{Result, WheelError};
use crate::linkage::{AssumedLinkage, AssumedParts, Linkage, MeasuredLinkage, Mechanism};
use crate::shock::Shock;
use crate::units::{Length, Quantity, Temperature, brief};

/// A linkage and its shock as the rear wheel feels them.
#[derive(Debug, Clone, PartialEq)]
pub struct RearEnd {
    way: KnownFrom,
    shock: Shock,
    drive: Option<FinalDrive>,
    /// The body of the linkage with the caliper of the rear brake.
    caliper: Option<String>,
    pub(super) pivots: Option<PivotUncertainty>,
    /// A table that was taken beside the drawing.
    pub(super) table: Option<Arc<MeasuredLinkage>>,
    /// What a data sheet says of it.
    outline: Outline,
}

/// How the way from wheel to shock is known.
#[derive(Debug, Clone, PartialEq)]
enum KnownFrom {
    Drawn(Arc<Linkage>),
    Measured(Arc<MeasuredLinkage>),
    Assumed(AssumedLinkage),
}

impl RearEnd {
    fn of(way: KnownFrom, shock: Shock) -> Self {
        Self { way, shock, drive: None, caliper: None, pivots: None, table: None, outline: Outline::default() }
    }

    /// Puts a shock between two points of a mechanism.
    ///
    /// # Errors
    /// As [`Linkage::new`].
    pub fn new(mechanism: Mechanism, wheel: &str, joins: (&str, &str), shock: Shock) -> Result<Self> {
        let linkage = Linkage::new(mechanism, wheel, joins, shock.known_length()?, shock.full_stroke())?;
        Ok(Self::of(KnownFrom::Drawn(Arc::new(linkage)), shock))
    }

    /// A linkage and the shock that it was made for.
    ///
    /// # Errors
    /// [`WheelError::OtherShock`] when the lengths or strokes differ.
    pub fn from_parts(linkage: Linkage, shock: Shock) -> Result<Self> {
        made_for([linkage.shock_length(), linkage.full_stroke()], &shock)?;
        Ok(Self::of(KnownFrom::Drawn(Arc::new(linkage)), shock))
    }

    /// A measured linkage and the shock that it was made for.
    ///
    /// # Errors
    /// [`WheelError::OtherShock`] when the lengths or strokes differ.
    pub fn from_table(table: MeasuredLinkage, shock: Shock) -> Result<Self> {
        made_for([table.shock_length(), table.full_stroke()], &shock)?;
        Ok(Self::of(KnownFrom::Measured(Arc::new(table)), shock))
    }

    /// The end with its final drive.
    #[must_use]
    pub fn with_final_drive(self, drive: FinalDrive) -> Self {
        Self { drive: Some(drive), ..self }
    }

    /// The end with this final drive, or with none stated.
    #[cfg(feature = "serde")]
    pub(crate) fn driven_by(self, drive: Option<FinalDrive>) -> Self {
        Self { drive, ..self }
    }

    /// What drives the wheel, where stated.
    #[must_use]
    pub fn final_drive(&self) -> Option<&FinalDrive> {
        self.drive.as_ref()
    }

    /// The end with the caliper of its brake on a body of the linkage: one that carries the axle, or `frame` where a rod parallel
    /// to the swingarm keeps the caliper's attitude.
    ///
    /// # Errors
    /// [`WheelError::NotDrawn`] for an end known from a table; [`LinkageError::UnknownBody`](crate::error::LinkageError),
    /// [`LinkageError::Caliper`](crate::error::LinkageError).
    pub fn with_caliper(self, body: String) -> Result<Self> {
        self.linkage()?.caliper_index(&body)?;
        Ok(Self { caliper: Some(body), ..self })
    }

    /// The end with nothing stated of its caliper.
    #[cfg(feature = "serde")]
    pub(crate) fn without_caliper(self) -> Self {
        Self { caliper: None, ..self }
    }

    /// The body with the caliper of the rear brake, where stated.
    #[must_use]
    pub fn caliper(&self) -> Option<&str> {
        self.caliper.as_deref()
    }

    /// The caliper where it was, if this linkage has that body under its axle.
    pub(super) fn with_caliper_of(self, before: &Self) -> Self {
        let fits = |body: &&String| self.linkage().is_ok_and(|linkage| linkage.caliper_index(body).is_ok());
        let caliper = before.caliper.as_ref().filter(fits).cloned();
        Self { caliper, ..self }
    }

    /// The end with its gas at this temperature.
    ///
    /// # Errors
    /// As [`Shock::warmed_to`].
    pub fn warmed_to(&self, temperature: Temperature) -> Result<Self> {
        self.with_shock(self.shock.warmed_to(temperature)?)
    }

    /// The same linkage with another shock; a longer or shorter one moves the travel.
    ///
    /// # Errors
    /// As [`Linkage::new`] or [`MeasuredLinkage::new`].
    pub fn with_shock(&self, shock: Shock) -> Result<Self> {
        let stroke = shock.full_stroke();
        if (shock.length(), stroke) == (self.shock.length(), self.shock.full_stroke()) {
            return Ok(Self { shock, ..self.clone() });
        }
        if let KnownFrom::Assumed(way) = &self.way {
            // A shorter stroke ends the travel where the old one is that far in, to first order.
            let travel = way.full_travel() * (stroke.si() / way.full_stroke().si());
            let way = AssumedLinkage::new(AssumedParts { travel, stroke, ..way.parts() })?;
            return Ok(Self { way: KnownFrom::Assumed(way), shock, ..self.clone() });
        }
        let length = shock.known_length()?;
        let way = match &self.way {
            KnownFrom::Drawn(linkage) => {
                let mechanism = linkage.mechanism().clone();
                KnownFrom::Drawn(Arc::new(Linkage::new(mechanism, linkage.wheel(), linkage.shock(), length, stroke)?))
            }
            KnownFrom::Measured(table) => KnownFrom::Measured(Arc::new(table.with_shock(length, stroke)?)),
            KnownFrom::Assumed(way) => KnownFrom::Assumed(*way),
        };
        let table = match &self.table {
            Some(table) => Some(Arc::new(table.with_shock(length, stroke)?)),
            None => None,
        };
        Ok(Self { way, shock, table, ..self.clone() })
    }

    /// The same shock in another mechanism with the same names; a table taken beside the old one is not of this one.
    ///
    /// # Errors
    /// As [`Linkage::new`]; [`WheelError::NotDrawn`] for an end known from a table.
    pub fn with_mechanism(&self, mechanism: Mechanism) -> Result<Self> {
        let linkage = self.linkage()?;
        let changed = Self::new(mechanism, linkage.wheel(), linkage.shock(), self.shock.clone())?;
        Ok(Self { drive: self.drive, pivots: self.pivots, outline: self.outline, ..changed }.with_caliper_of(self))
    }

    /// A drawn end with coordinates of its points moved and another shock in it, everything else kept; `None` for an end that
    /// is known from a table, or corrected by one.
    ///
    /// # Errors
    /// As [`Mechanism::new`] and [`Linkage::new`].
    #[cfg(feature = "serde")]
    pub(crate) fn redrawn(&self, coordinates: &[(usize, usize, f64)], shock: Shock) -> Option<Result<Self>> {
        let KnownFrom::Drawn(linkage) = &self.way else { return None };
        if self.table.is_some() {
            return None;
        }
        let make = || {
            let mechanism = linkage.mechanism().moved(coordinates)?;
            let changed = Self::new(mechanism, linkage.wheel(), linkage.shock(), shock)?;
            let (drive, pivots, outline) = (self.drive, self.pivots, self.outline);
            Ok(Self { drive, caliper: self.caliper.clone(), pivots, outline, ..changed })
        };
        Some(make())
    }

    /// The end with the ride-height adjuster of its shock out by this much (in where negative): the shock is longer from
    /// eye to eye by that, with the stroke it had, and the rear of the bike higher.
    ///
    /// # Errors
    /// As [`Linkage::new`], where the linkage cannot take that length.
    pub fn with_longer_shock(&self, by: Length) -> Result<Self> {
        let (length, stroke) = (self.shock.known_length()? + by, self.shock.full_stroke());
        self.with_shock(Shock::new(length, stroke, self.shock.parts().clone(), self.shock.count())?)
    }

    /// The point of the frame that the body with the wheel turns about; `None` where it turns about none, as the wheel
    /// carrier of a four-bar swingarm does.
    #[must_use]
    pub fn swingarm_pivot(&self) -> Option<[Length; 2]> {
        let linkage = self.linkage().ok()?;
        let mechanism = linkage.mechanism();
        let wheel = mechanism.index_of("wheel", linkage.wheel()).ok()?;
        let carriers = mechanism.carriers(wheel);
        let mut pivots = mechanism.on_body(mechanism.frame()).iter();
        let pivot = pivots.find(|&&point| carriers.iter().any(|&body| mechanism.on_body(body).contains(&point)))?;
        Some(mechanism.coordinates(*pivot).map(Length::from_si))
    }

    /// The linkage as drawn.
    ///
    /// # Errors
    /// [`WheelError::NotDrawn`] for an end known from a table.
    pub fn linkage(&self) -> Result<&Linkage> {
        match &self.way {
            KnownFrom::Drawn(linkage) => Ok(linkage),
            KnownFrom::Measured(_) | KnownFrom::Assumed(_) => Err(WheelError::NotDrawn.into()),
        }
    }

    /// The measured table, where the end is known from one.
    #[must_use]
    pub fn measured(&self) -> Option<&MeasuredLinkage> {
        match &self.way {
            KnownFrom::Drawn(_) | KnownFrom::Assumed(_) => None,
            KnownFrom::Measured(table) => Some(table),
        }
    }

    /// The shock.
    #[must_use]
    pub fn shock(&self) -> &Shock {
        &self.shock
    }

    /// Is the way from wheel to shock the same, and as well known?
    pub(crate) fn has_the_way_of(&self, other: &Self) -> bool {
        self.way == other.way && self.pivots == other.pivots && self.table == other.table
    }
}

/// Lengths within this of each other (m) are the same length written down and read back in another unit.
const LENGTH_ROUNDING: f64 = 1e-9;

/// Refuses a shock of other length or stroke.
pub(super) fn made_for(wanted: [Length; 2], shock: &Shock) -> Result<()> {
    let found = [shock.known_length()?, shock.full_stroke()];
    if wanted.iter().zip(&found).all(|(wanted, found)| (*wanted - *found).si().abs() <= LENGTH_ROUNDING) {
        return Ok(());
    }
    let text = |[length, stroke]: [Length; 2]| format!("length {}, stroke {}", brief(length), brief(stroke));
    Err(WheelError::OtherShock { found: text(found), wanted: text(wanted) }.into())
}

#[cfg(all(test, feature = "serde"))]
mod tests;
