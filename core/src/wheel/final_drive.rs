//! What drives the rear wheel: a chain between two sprockets, or a shaft.

use crate::error::Result;
use crate::linkage::{Idler, pitch_radius};
use crate::units::{Length, Quantity, check};

/// Chain pitches, in metres: from a cycle's derailleur chain to well above the strongest of a motorcycle.
const PITCH: [f64; 2] = [0.006, 0.04];
/// Teeth of a sprocket: below, a chain does not run round; above, the sprocket is larger than the wheel.
const TEETH: [f64; 2] = [6.0, 120.0];
/// Furthest coordinate of the sprocket, in metres.
const FAR: f64 = 10.0;

/// How the engine drives the rear wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FinalDrive {
    /// By a chain.
    Chain(Sprockets),
    /// By a shaft.
    Shaft,
}

/// Both sprockets of a chain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sprockets {
    front_centre: [Length; 2],
    teeth: [u32; 2],
    pitch: Length,
    radii: [Length; 2],
    idler: Option<Idler>,
}

impl Sprockets {
    /// The centre of the front sprocket in the frame axes, the teeth of both, front first, and the pitch of the chain.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a pitch outside 6 mm to 40 mm, fewer than 6 teeth or more than 120, and
    /// a centre further than 10 m away.
    pub fn new(front_centre: [Length; 2], teeth: [u32; 2], pitch: Length) -> Result<Self> {
        for (axis, coordinate) in front_centre.into_iter().enumerate() {
            check::plausible(
                &format!("front_centre[{axis}]"),
                coordinate,
                Length::from_si(-FAR),
                Length::from_si(FAR),
            )?;
        }
        let [least, most] = TEETH;
        for (field, found) in ["front_teeth", "rear_teeth"].into_iter().zip(teeth) {
            check::number_within(field, f64::from(found), least, most)?;
        }
        check::plausible("pitch", pitch, Length::from_si(PITCH[0]), Length::from_si(PITCH[1]))?;
        let [front, rear] = teeth;
        let radii = [pitch_radius(front, pitch)?, pitch_radius(rear, pitch)?];
        Ok(Self { front_centre, teeth, pitch, radii, idler: None })
    }

    /// The chain led over or under a wheel in the frame, on its way from the rear sprocket to the front one.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a centre further than 10 m away and a radius outside 10 mm to 300 mm.
    pub fn with_idler(self, idler: Idler) -> Result<Self> {
        idler.checked()?;
        Ok(Self { idler: Some(idler), ..self })
    }

    /// What leads the upper run, where something does.
    #[must_use]
    pub fn idler(&self) -> Option<Idler> {
        self.idler
    }

    /// Centre of the front sprocket in the frame axes.
    #[must_use]
    pub fn front_centre(&self) -> [Length; 2] {
        self.front_centre
    }

    /// Teeth, front first.
    #[must_use]
    pub fn teeth(&self) -> [u32; 2] {
        self.teeth
    }

    /// Pitch of the chain.
    #[must_use]
    pub fn pitch(&self) -> Length {
        self.pitch
    }

    /// Pitch radii, front first.
    #[must_use]
    pub fn radii(&self) -> [Length; 2] {
        self.radii
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(length: f64) -> Length {
        Length::from_si(length / 1000.0)
    }

    #[test]
    fn teeth_and_pitch_give_the_radii() {
        let sprockets = Sprockets::new([mm(85.0), mm(-12.0)], [13, 49], mm(15.875)).unwrap();
        let by_hand = [13.0, 49.0].map(|teeth: f64| 15.875e-3 / (2.0 * (core::f64::consts::PI / teeth).sin()));
        assert_eq!(sprockets.radii().map(Quantity::si), by_hand);
    }

    #[test]
    fn a_fault_names_its_field() {
        let fault =
            |teeth, pitch: f64, x: f64| Sprockets::new([mm(x), mm(0.0)], teeth, mm(pitch)).unwrap_err().to_string();
        assert!(fault([3, 49], 15.875, 85.0).starts_with("front_teeth: found 3, wanted a number from 6 to 120"));
        assert!(fault([13, 490], 15.875, 85.0).starts_with("rear_teeth: found 490"));
        assert!(fault([13, 49], 15875.0, 85.0).starts_with("pitch: found 15875 mm"));
        assert!(fault([13, 49], 15.875, f64::NAN).starts_with("front_centre"));
    }
}
