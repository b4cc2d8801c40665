//! The rear end: a linkage with a shock in it.
//!
//! `F_w = F(s(z))·MR(z)`. The shock's length and stroke set both ends of travel, so the linkage is made for its shock.
//! The linkage is known by its drawing or by a measured table of travel against shock length; a table says nothing of
//! where the axle is.
//!
//! The final drive, where stated, belongs to the end; springs and travel do not feel it. A clone shares the linkage.

use std::sync::Arc;

use super::{
    AxlePoint, EndKernel, FinalDrive, Motion, PivotUncertainty, Settling, Tunable, Wheel, WheelState, axle_at, settle,
    state_at,
};
use crate::axial::{Axial, AxialElement};
use crate::error::{Result, WheelError};
use crate::linkage::{Linkage, MeasuredLinkage, Mechanism};
use crate::shock::Shock;
use crate::spring::MainSpring;
use crate::units::{Force, Length, Quantity, SpringRate, to_text};

/// A linkage and its shock as the rear wheel feels them.
#[derive(Debug, Clone, PartialEq)]
pub struct RearEnd {
    way: Way,
    shock: Shock,
    drive: Option<FinalDrive>,
    pub(super) pivots: Option<PivotUncertainty>,
    /// A table that was taken beside the drawing.
    pub(super) table: Option<Arc<MeasuredLinkage>>,
}

/// How the way from wheel to shock is known.
#[derive(Debug, Clone, PartialEq)]
enum Way {
    Drawn(Arc<Linkage>),
    Measured(Arc<MeasuredLinkage>),
}

impl RearEnd {
    /// Puts a shock between two points of a mechanism.
    ///
    /// # Errors
    /// As [`Linkage::new`].
    pub fn new(mechanism: Mechanism, wheel: &str, joins: (&str, &str), shock: Shock) -> Result<Self> {
        let linkage = Linkage::new(mechanism, wheel, joins, shock.length(), shock.full_stroke())?;
        Ok(Self { way: Way::Drawn(Arc::new(linkage)), shock, drive: None, pivots: None, table: None })
    }

    /// A linkage and the shock that it was made for.
    ///
    /// # Errors
    /// [`WheelError::OtherShock`] when the lengths or strokes differ.
    pub fn from_parts(linkage: Linkage, shock: Shock) -> Result<Self> {
        made_for([linkage.shock_length(), linkage.full_stroke()], &shock)?;
        Ok(Self { way: Way::Drawn(Arc::new(linkage)), shock, drive: None, pivots: None, table: None })
    }

    /// A measured linkage and the shock that it was made for.
    ///
    /// # Errors
    /// [`WheelError::OtherShock`] when the lengths or strokes differ.
    pub fn from_table(table: MeasuredLinkage, shock: Shock) -> Result<Self> {
        made_for([table.shock_length(), table.full_stroke()], &shock)?;
        Ok(Self { way: Way::Measured(Arc::new(table)), shock, drive: None, pivots: None, table: None })
    }

    /// The end with its final drive.
    #[must_use]
    pub fn with_final_drive(self, drive: FinalDrive) -> Self {
        Self { drive: Some(drive), ..self }
    }

    /// What drives the wheel, where stated.
    #[must_use]
    pub fn final_drive(&self) -> Option<&FinalDrive> {
        self.drive.as_ref()
    }

    /// The same linkage with another shock; a longer or shorter one moves the travel.
    ///
    /// # Errors
    /// As [`Linkage::new`] or [`MeasuredLinkage::new`].
    pub fn with_shock(&self, shock: Shock) -> Result<Self> {
        let (length, stroke) = (shock.length(), shock.full_stroke());
        let way = match &self.way {
            same if [length, stroke] == [self.shock.length(), self.shock.full_stroke()] => same.clone(),
            Way::Drawn(linkage) => {
                let mechanism = linkage.mechanism().clone();
                Way::Drawn(Arc::new(Linkage::new(mechanism, linkage.wheel(), linkage.shock(), length, stroke)?))
            }
            Way::Measured(table) => Way::Measured(Arc::new(table.with_shock(length, stroke)?)),
        };
        let table = match &self.table {
            Some(table) => Some(Arc::new(table.with_shock(length, stroke)?)),
            None => None,
        };
        Ok(Self { way, shock, drive: self.drive, pivots: self.pivots, table })
    }

    /// The same shock in another mechanism with the same names; a table taken beside the old one is not of this one.
    ///
    /// # Errors
    /// As [`Linkage::new`]; [`WheelError::NotDrawn`] for an end known from a table.
    pub fn with_mechanism(&self, mechanism: Mechanism) -> Result<Self> {
        let linkage = self.linkage()?;
        let changed = Self::new(mechanism, linkage.wheel(), linkage.shock(), self.shock.clone())?;
        Ok(Self { drive: self.drive, pivots: self.pivots, ..changed })
    }

    /// The end with the ride-height adjuster of its shock out by this much (in where negative): the shock is longer from
    /// eye to eye by that, with the stroke it had, and the rear of the bike higher.
    ///
    /// # Errors
    /// As [`Linkage::new`], where the linkage cannot take that length.
    pub fn with_longer_shock(&self, by: Length) -> Result<Self> {
        let (length, stroke) = (self.shock.length() + by, self.shock.full_stroke());
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
            Way::Drawn(linkage) => Ok(linkage),
            Way::Measured(_) => Err(WheelError::NotDrawn.into()),
        }
    }

    /// The measured table, where the end is known from one.
    #[must_use]
    pub fn measured(&self) -> Option<&MeasuredLinkage> {
        match &self.way {
            Way::Drawn(_) => None,
            Way::Measured(table) => Some(table),
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

/// Refuses a shock of other length or stroke.
pub(super) fn made_for(wanted: [Length; 2], shock: &Shock) -> Result<()> {
    let found = [shock.length(), shock.full_stroke()];
    if wanted == found {
        return Ok(());
    }
    let text = |[length, stroke]: [Length; 2]| format!("length {}, stroke {}", to_text(length), to_text(stroke));
    Err(WheelError::OtherShock { found: text(found), wanted: text(wanted) }.into())
}

impl EndKernel for RearEnd {
    fn full(&self) -> f64 {
        self.full_travel().si()
    }

    fn motion(&self, travel: f64) -> Motion {
        match &self.way {
            Way::Drawn(linkage) => {
                let kernel = linkage.kernel(travel);
                Motion { stroke: kernel.stroke, ratio: kernel.motion_ratio, slope: kernel.slope }
            }
            Way::Measured(table) => {
                let [stroke, ratio, slope] = table.kernel(travel);
                Motion { stroke, ratio, slope }
            }
        }
    }

    fn axle_point(&self, travel: f64) -> Option<AxlePoint> {
        let kernel = self.linkage().ok()?.kernel(travel);
        Some(AxlePoint { at: kernel.axle, slope: kernel.axle_slope, curvature: kernel.axle_curvature })
    }

    fn spring_part(&self, x: f64) -> Axial {
        self.shock.spring_part(x)
    }

    fn rest_part(&self, stroke: f64) -> Axial {
        self.shock.rest_part(stroke)
    }

    fn jumps(&self) -> Vec<f64> {
        let strokes = self.shock.kinks().into_iter().map(Quantity::si);
        strokes.map(|stroke| settle::travel_at_stroke(self, stroke)).collect()
    }
}

impl Wheel for RearEnd {
    fn full_travel(&self) -> Length {
        match &self.way {
            Way::Drawn(linkage) => linkage.full_travel(),
            Way::Measured(table) => table.full_travel(),
        }
    }

    fn at(&self, travel: Length) -> Result<WheelState> {
        state_at(self, travel)
    }

    fn kinks(&self) -> Vec<Length> {
        self.jumps().into_iter().map(Length::from_si).collect()
    }

    fn travel_under(&self, load: Force) -> Result<Settling> {
        settle::settle(self, load)
    }

    fn axle(&self, travel: Length) -> Result<[Length; 2]> {
        axle_at(self, travel)
    }

    fn main_spring(&self) -> Option<MainSpring> {
        self.shock.main_spring()
    }
}

impl Tunable for RearEnd {
    fn with_spring_change(&self, rate_factor: f64, preload_change: Length) -> Result<Self> {
        self.with_shock(self.shock.with_spring_change(rate_factor, preload_change)?)
    }

    fn with_spring_rate(&self, rate: SpringRate, preload: Length) -> Result<Self> {
        self.with_shock(self.shock.with_spring_rate(rate, preload)?)
    }
}
