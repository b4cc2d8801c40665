//! The rear end: a linkage with a shock in it.
//!
//! `F_w = F(s(z))·MR(z)`. The shock's length and stroke set both ends of travel, so the linkage is made for its shock.
//! The linkage is known by its drawing, by a measured table of travel against shock length, or by no more than where it begins
//! and ends ([`Outline`]); neither of the last two says where the axle is.
//!
//! The final drive, where stated, belongs to the end; springs and travel do not feel it. A clone shares the linkage.

use std::sync::Arc;

use uom::si::reciprocal_length::reciprocal_meter;

use super::{AxleAt, FinalDrive, PathAt, PivotUncertainty, StrokeAt, Tunable, Wheel};
use crate::axial::{Axial, AxialElement, AxialState, FastState};
use crate::error::{Result, WheelError};
use crate::friction::SealFriction;
use crate::linkage::{AssumedLinkage, AssumedParts, Kernel, Linkage, MeasuredLinkage, Mechanism};
use crate::record::Usual;
use crate::shock::Shock;
use crate::spring::{Adjuster, MainSpring};
use crate::units::{
    Length, LeverageRatio, MotionRatio, MotionRatioSlope, Quantity, ReciprocalLength, Share, SpringRate, Uncertain,
    check, to_text,
};

/// A linkage and its shock as the rear wheel feels them.
#[derive(Debug, Clone, PartialEq)]
pub struct RearEnd {
    way: KnownFrom,
    shock: Shock,
    drive: Option<FinalDrive>,
    pub(super) pivots: Option<PivotUncertainty>,
    /// A table that was taken beside the drawing.
    pub(super) table: Option<Arc<MeasuredLinkage>>,
    /// What a data sheet says of it.
    outline: Outline,
}

/// What a person knows of a rear end without a drawing or a table: any two of travel, stroke of the shock and lever say where
/// it begins and ends.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Outline {
    /// Vertical wheel travel.
    pub travel: Option<Length>,
    /// Wheel travel per stroke of the shock, on average over the travel.
    pub lever: Option<Uncertain<LeverageRatio>>,
    /// By how much the motion ratio rises over the travel, `MR_end/MR_start − 1`.
    pub progression: Option<Uncertain<Share>>,
}

/// How the way from wheel to shock is known.
#[derive(Debug, Clone, PartialEq)]
enum KnownFrom {
    Drawn(Arc<Linkage>),
    Measured(Arc<MeasuredLinkage>),
    Assumed(AssumedLinkage),
}

impl RearEnd {
    /// An end of which nobody knows more than travel, stroke and lever: what is open about the way from wheel to shock is a
    /// prior, at what is usual where nothing is stated. Of a shock whose stroke nobody knows, the stroke follows from travel and
    /// lever.
    ///
    /// # Errors
    /// [`WheelError::NoOutline`] where less than two of them are known; [`WheelError::Lever`] where all three are, and
    /// contradict each other; as [`AssumedLinkage::new`].
    pub fn from_outline(outline: Outline, shock: Shock, usual: &Usual) -> Result<Self> {
        let (way, shock) = outlined(&outline, &shock, usual)?;
        Ok(Self { outline, ..Self::of(KnownFrom::Assumed(way), shock) })
    }

    fn of(way: KnownFrom, shock: Shock) -> Self {
        Self { way, shock, drive: None, pivots: None, table: None, outline: Outline::default() }
    }

    /// What a data sheet says of the end, where it was stated.
    #[must_use]
    pub fn outline(&self) -> &Outline {
        &self.outline
    }

    /// The end with what a data sheet says of it; of an end that is drawn or measured it is only kept.
    #[cfg(feature = "serde")]
    pub(crate) fn outlined(self, outline: Outline) -> Self {
        Self { outline, ..self }
    }

    /// The linkage that is assumed, where nothing says more than its ends.
    #[must_use]
    pub fn assumed(&self) -> Option<&AssumedLinkage> {
        match &self.way {
            KnownFrom::Assumed(way) => Some(way),
            _ => None,
        }
    }

    /// The end at what is usual, wherever nobody stated it.
    pub(crate) fn assuming(&self, usual: &Usual) -> Result<Self> {
        let shock = self.shock.assuming(usual)?;
        match &self.way {
            KnownFrom::Assumed(_) => {
                let (way, shock) = outlined(&self.outline, &shock, usual)?;
                Ok(Self { way: KnownFrom::Assumed(way), shock, ..self.clone() })
            }
            _ => self.with_shock(shock),
        }
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
        Ok(Self { drive: self.drive, pivots: self.pivots, outline: self.outline, ..changed })
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
            Ok(Self { drive: self.drive, pivots: self.pivots, ..changed })
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

/// A stated lever this far off travel over stroke, in its standard uncertainties and as a share, is of another bike.
const LEVER_OFF: (f64, f64) = (4.0, 0.1);

/// The linkage that an outline leaves, and its shock with a stroke.
fn outlined(outline: &Outline, shock: &Shock, usual: &Usual) -> Result<(AssumedLinkage, Shock)> {
    let Outline { travel, lever, progression } = *outline;
    let stroke = Some(shock.full_stroke()).filter(|_| !shock.is_stroke_assumed());
    let of_lever = |lever: Uncertain<LeverageRatio>| {
        let value = check::positive("lever", lever.value)?.si();
        Ok::<_, crate::Error>((value, Share::from_si(lever.standard_uncertainty.si() / value)))
    };
    let lever = lever.map(of_lever).transpose()?;
    let (travel, stroke, ratio) = match (travel, stroke, lever) {
        (Some(travel), Some(stroke), None) => (travel, stroke, usual.ratio),
        (Some(travel), Some(stroke), Some((lever, known))) => {
            let off = (travel.si() / stroke.si() / lever - 1.0).abs();
            if off > (LEVER_OFF.0 * known.si()).max(LEVER_OFF.1) {
                let (found, follows) = (format!("{lever:.2} wheel/shock"), format!("{:.2}", travel.si() / stroke.si()));
                return Err(WheelError::Lever { found, follows }.into());
            }
            (travel, stroke, usual.ratio)
        }
        (Some(travel), None, Some((lever, known))) => (travel, travel / lever, known),
        (None, Some(stroke), Some((lever, known))) => (stroke * lever, stroke, known),
        _ => return Err(WheelError::NoOutline.into()),
    };
    let (progression, bend) = (progression.unwrap_or(usual.progression), usual.bend);
    let way = AssumedLinkage::new(AssumedParts { travel, stroke, ratio, progression, bend })?;
    let shock = if shock.is_stroke_assumed() { shock.with_assumed_stroke(stroke)? } else { shock.clone() };
    Ok((way, shock))
}

/// Lengths within this of each other (m) are the same length written down and read back in another unit.
const LENGTH_ROUNDING: f64 = 1e-9;

/// Refuses a shock of other length or stroke.
pub(super) fn made_for(wanted: [Length; 2], shock: &Shock) -> Result<()> {
    let found = [shock.known_length()?, shock.full_stroke()];
    if wanted.iter().zip(&found).all(|(wanted, found)| (*wanted - *found).si().abs() <= LENGTH_ROUNDING) {
        return Ok(());
    }
    let text = |[length, stroke]: [Length; 2]| format!("length {}, stroke {}", to_text(length), to_text(stroke));
    Err(WheelError::OtherShock { found: text(found), wanted: text(wanted) }.into())
}

impl RearEnd {
    /// The shock's kernel, with the slope of its rate.
    pub(super) fn axial_with_slope(&self, stroke: f64) -> Axial {
        self.shock.eval(stroke)
    }
}

fn way_to_shock([stroke, ratio, slope]: [f64; 3]) -> StrokeAt {
    StrokeAt {
        stroke: Length::from_si(stroke),
        motion_ratio: MotionRatio::from_si(ratio),
        motion_ratio_slope: MotionRatioSlope::from_si(slope),
    }
}

fn path_of(kernel: &Kernel<f64>) -> PathAt {
    let axle = AxleAt {
        at: kernel.axle.map(Length::from_si),
        slope: kernel.axle_slope,
        curvature: ReciprocalLength::new::<reciprocal_meter>(kernel.axle_curvature),
    };
    PathAt { stroke: way_to_shock([kernel.stroke, kernel.motion_ratio, kernel.slope]), axle: Some(axle) }
}

impl Wheel for RearEnd {
    fn full_travel(&self) -> Length {
        match &self.way {
            KnownFrom::Drawn(linkage) => linkage.full_travel(),
            KnownFrom::Measured(table) => table.full_travel(),
            KnownFrom::Assumed(way) => way.full_travel(),
        }
    }

    fn stroke_at(&self, travel: Length) -> StrokeAt {
        self.path_at(travel).stroke
    }

    fn springs(&self, stroke: Length) -> AxialState {
        self.shock.spring_part(stroke.si()).typed()
    }

    fn rest(&self, stroke: Length) -> AxialState {
        self.shock.rest_part(stroke.si()).typed()
    }

    fn fast_rest(&self, settled: Length, stroke: Length) -> FastState {
        self.shock.fast_part(settled.si(), stroke.si()).typed()
    }

    fn main_spring(&self) -> Option<MainSpring> {
        self.shock.main_spring()
    }

    fn stroke_kinks(&self) -> Vec<Length> {
        self.shock.kinks()
    }

    fn axle_at(&self, travel: Length) -> Option<AxleAt> {
        self.path_at(travel).axle
    }

    fn path_at(&self, travel: Length) -> PathAt {
        match &self.way {
            KnownFrom::Drawn(linkage) => path_of(&linkage.kernel(travel.si())),
            KnownFrom::Measured(table) => PathAt { stroke: way_to_shock(table.kernel(travel.si())), axle: None },
            KnownFrom::Assumed(way) => PathAt { stroke: way_to_shock(way.kernel(travel.si())), axle: None },
        }
    }

    fn paths_at(&self, travels: &[Length]) -> Vec<PathAt> {
        match &self.way {
            KnownFrom::Drawn(linkage) => linkage.kernels(travels).iter().map(path_of).collect(),
            KnownFrom::Measured(_) | KnownFrom::Assumed(_) => {
                travels.iter().map(|&travel| self.path_at(travel)).collect()
            }
        }
    }

    fn friction(&self) -> Option<SealFriction> {
        self.shock.friction()
    }

    fn bind_clearance(&self) -> Option<Length> {
        self.shock.bind_clearance()
    }

    fn adjuster(&self) -> Option<Adjuster> {
        self.shock.parts().spring.as_ref()?.adjuster().copied()
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
