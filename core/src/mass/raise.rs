//! Height of the centre of gravity by raising one axle.
//!
//! With the other axle as pivot, level and pitched by `θ`, moments about the pivot axle give the centre of gravity's
//! height above that axle:
//!
//! `y = (x·cos θ − R·run/W) / sin θ`,
//!
//! where `x` is its distance from the pivot axle when level, `R` the load at the raised axle, `W` the total and `run` the
//! horizontal distance of the axles. The pitch follows from the lift: `sin α = (Δr + H)/L_c`, `θ = α − α₀`, with the axle
//! centres `L_c` apart and the radii differing by `Δr`.
//!
//! Assumes both wheels free to roll, suspension locked at its level stance, tyres that do not deflect further. The height
//! is a small difference of large moments: its uncertainty falls as `1/sin θ`, so lift high.
//!
//! Reference: ISO 10392 (the method); the formula for unequal radii is plain statics.

use crate::error::MassError;
use crate::record::{End, Ends};
use crate::units::{Length, Mass, Quantity, Uncertain, brief, check};

/// One raise: what the scales and the tape showed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleRaise {
    /// Scale readings with the bike level.
    pub level: Ends<Mass>,
    /// Which axle was raised.
    pub raised: End,
    /// Scale reading at the other wheel, still on the ground, after the raise.
    pub grounded: Mass,
    /// How far the axle was raised.
    pub lift: Length,
    /// Wheelbase with the bike level.
    pub wheelbase: Length,
    /// Loaded radius of the front wheel.
    pub front_radius: Length,
    /// Loaded radius of the rear wheel.
    pub rear_radius: Length,
    /// Standard uncertainty of each of the three scale readings.
    pub scale_uncertainty: Mass,
    /// Standard uncertainty of the lift, wheelbase and radii, each.
    pub tape_uncertainty: Length,
}

/// Moves one input by an SI amount.
type Shift = fn(&mut AxleRaise, f64);

impl AxleRaise {
    /// Height of the centre of gravity above the ground, bike level, with its standard uncertainty: the three scale
    /// readings, the lift, the wheelbase and both radii varied one at a time by their own (JCGM 100:2008, 5.1.3 note 2).
    ///
    /// # Errors
    /// [`MassError`] when a value is impossible, the lift reaches over the wheelbase, or the raised axle would carry
    /// nothing.
    pub fn cg_height(&self) -> Result<Uncertain<Length>, MassError> {
        self.check()?;
        let (scale, tape) = (self.scale_uncertainty, self.tape_uncertainty);
        let vary: [(Shift, f64); 7] = [
            (|raise, by| raise.level.front += Mass::from_si(by), scale.si()),
            (|raise, by| raise.level.rear += Mass::from_si(by), scale.si()),
            (|raise, by| raise.grounded += Mass::from_si(by), scale.si()),
            (|raise, by| raise.lift += Length::from_si(by), tape.si()),
            (|raise, by| raise.wheelbase += Length::from_si(by), tape.si()),
            (|raise, by| raise.front_radius += Length::from_si(by), tape.si()),
            (|raise, by| raise.rear_radius += Length::from_si(by), tape.si()),
        ];
        let variance: f64 = vary
            .iter()
            .map(|(shift, by)| {
                let (mut more, mut less) = (*self, *self);
                shift(&mut more, *by);
                shift(&mut less, -by);
                ((more.height_si() - less.height_si()) / 2.0).powi(2)
            })
            .sum();
        Ok(Uncertain::new(Length::from_si(self.height_si()), Length::from_si(variance.sqrt()))?)
    }

    fn check(&self) -> Result<(), MassError> {
        check::positive("level.front", self.level.front)?;
        check::positive("level.rear", self.level.rear)?;
        check::positive("grounded", self.grounded)?;
        check::positive("lift", self.lift)?;
        check::positive("wheelbase", self.wheelbase)?;
        check::positive("front_radius", self.front_radius)?;
        check::positive("rear_radius", self.rear_radius)?;
        check::not_negative("scale_uncertainty", self.scale_uncertainty)?;
        check::not_negative("tape_uncertainty", self.tape_uncertainty)?;
        let reach = self.wheelbase - (self.rear_radius - self.front_radius).abs() - self.tape_uncertainty * 4.0;
        if self.lift >= reach {
            let wanted = format!("less than {}, or the bike would stand on end", brief(reach));
            return Err(MassError::Raise { field: "lift", found: brief(self.lift), wanted });
        }
        let total = self.level.front + self.level.rear;
        if self.grounded >= total {
            let wanted = format!("less than the {} of both level readings", brief(total));
            return Err(MassError::Raise { field: "grounded", found: brief(self.grounded), wanted });
        }
        Ok(())
    }

    /// The formula of the module head.
    fn height_si(&self) -> f64 {
        let (pivot_radius, raised_radius, raised_level) = match self.raised {
            End::Rear => (self.front_radius.si(), self.rear_radius.si(), self.level.rear.si()),
            End::Front => (self.rear_radius.si(), self.front_radius.si(), self.level.front.si()),
        };
        let total = self.level.front.si() + self.level.rear.si();
        let step = raised_radius - pivot_radius;
        let centres = self.wheelbase.si().hypot(step);
        let alpha = ((step + self.lift.si()) / centres).asin();
        let pitch = alpha - (step / centres).asin();
        let from_pivot = self.wheelbase.si() * raised_level / total;
        let run = centres * alpha.cos();
        let raised_share = (total - self.grounded.si()) / total;
        pivot_radius + (from_pivot * pitch.cos() - raised_share * run) / pitch.sin()
    }
}
