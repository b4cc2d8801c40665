//! Bounce and pitch of the sprung mass on both ends, with the wheels on their tyres where those are known.
//!
//! Coordinates: rise `y` of the centre of gravity, pitch `θ` nose down, rise of each wheel. The front of the sprung mass
//! rises by `y − a·θ`, its rear by `y + b·θ`. A point `s` ahead of the centre of gravity stands still where `y = s·θ`: the
//! centre of the mode.

use core::f64::consts::TAU;

use nalgebra::{DMatrix, DVector};

use super::{modes, positive, series};
use crate::error::BikeError;
use crate::record::{End, Ends};
use crate::units::{Frequency, Length, Mass, MomentOfInertia, Quantity, Share, WheelRate};

/// One end of a [`HalfBike`].
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct HalfBikeEnd {
    /// Horizontal distance of the axle from the sprung centre of gravity.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub distance: Length,
    /// Wheel rate.
    pub rate: WheelRate,
    /// Vertical rate of the tyre; rigid when not given.
    #[cfg_attr(feature = "serde", serde(default))]
    pub tyre: Option<WheelRate>,
    /// Unsprung mass; with a tyre it gives the end a wheel hop mode, without one it stands on the ground.
    #[cfg_attr(feature = "serde", serde(default, with = "crate::units::text_serde::option"))]
    pub unsprung: Option<Mass>,
}

/// The sprung mass between its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct HalfBike {
    /// Sprung mass, rider and luggage included.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub sprung: Mass,
    /// Pitch inertia of the sprung mass about its centre of gravity, `m·k²`.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub pitch_inertia: MomentOfInertia,
    /// Both ends.
    pub ends: Ends<HalfBikeEnd>,
}

/// What moves in a mode.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
pub enum ModeKind {
    /// Both ends rise together: the centre lies outside the wheelbase.
    Bounce,
    /// One end rises as the other sinks: the centre lies between the wheels.
    Pitch,
    /// Most of the motion's energy is in the front wheel.
    FrontHop,
    /// Most of the motion's energy is in the rear wheel.
    RearHop,
}

impl ModeKind {
    /// Of a sprung mass whose front and rear rise by this: a mode about an axle pitches.
    pub(crate) fn of_body(front: f64, rear: f64) -> Self {
        if front * rear > 0.0 { Self::Bounce } else { Self::Pitch }
    }
}

/// One mode of a [`HalfBike`].
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
#[non_exhaustive]
pub struct Mode {
    /// What moves.
    pub kind: ModeKind,
    /// Undamped natural frequency.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub frequency: Frequency,
    /// Distance ahead of the sprung centre of gravity of the point of the sprung mass that stands still; nothing when it
    /// moves without pitching.
    #[cfg_attr(feature = "serde", serde(default, with = "crate::units::text_serde::option"))]
    pub center_ahead: Option<Length>,
}

/// A mode whose centre is farther off than this, in metres, does not pitch: rounding made the rest.
const FAR_CENTER_SI: f64 = 1e9;
/// Share of the motion's energy beyond which a mode is a wheel's.
const HOP_SHARE: f64 = 0.5;

impl HalfBike {
    /// `I/(m·a·b)`: at one, the ends do not know each other and each bounces on its own.
    ///
    /// # Errors
    /// [`BikeError::Unit`] when a mass or a distance is not above zero.
    pub fn dynamic_index(&self) -> Result<Share, BikeError> {
        let inertia = positive("pitch_inertia", self.pitch_inertia)?;
        let arms =
            positive("front.distance", self.ends.front.distance)? * positive("rear.distance", self.ends.rear.distance)?;
        Ok(Share::from_si(inertia / (positive("sprung", self.sprung)? * arms)))
    }

    /// The modes in rising frequency: two of the sprung mass, and one for each end with both a tyre rate and an unsprung
    /// mass. A tyre without unsprung mass is in series with the spring.
    ///
    /// # Errors
    /// [`BikeError::Unit`] when a mass or a rate is not above zero.
    pub fn modes(&self) -> Result<Vec<Mode>, BikeError> {
        let sprung = positive("sprung", self.sprung)?;
        let inertia = positive("pitch_inertia", self.pitch_inertia)?;
        let mut masses = vec![sprung, inertia];
        let mut hops = Vec::new();
        let mut springs = Vec::new();
        for end in End::BOTH {
            let of = self.ends.at(end);
            let arm = positive(&format!("{end}.distance"), of.distance)?;
            let lever = if end == End::Front { -arm } else { arm };
            let rate = positive(&format!("{end}.rate"), of.rate)?;
            let tyre = of.tyre.map(|tyre| positive(&format!("{end}.tyre"), tyre)).transpose()?;
            let unsprung = of.unsprung.map(|unsprung| positive(&format!("{end}.unsprung"), unsprung)).transpose()?;
            match (tyre, unsprung) {
                (Some(tyre), Some(unsprung)) => {
                    let wheel = masses.len();
                    masses.push(unsprung);
                    hops.push((wheel, end));
                    springs.push((rate, vec![(0, 1.0), (1, lever), (wheel, -1.0)]));
                    springs.push((tyre, vec![(wheel, 1.0)]));
                }
                (Some(tyre), None) => springs.push((series(rate, tyre), vec![(0, 1.0), (1, lever)])),
                (None, _) => springs.push((rate, vec![(0, 1.0), (1, lever)])),
            }
        }
        let mut stiffness = DMatrix::zeros(masses.len(), masses.len());
        for (rate, reach) in &springs {
            for &(row, up) in reach {
                for &(column, by) in reach {
                    stiffness[(row, column)] += rate * up * by;
                }
            }
        }
        let found = modes(DMatrix::from_diagonal(&DVector::from_vec(masses.clone())), &stiffness);
        let name = |(square, shape): (f64, DVector<f64>)| {
            let hop = hops.iter().find(|&&(wheel, _)| masses[wheel] * shape[wheel] * shape[wheel] > HOP_SHARE);
            self.mode(square, &shape, hop.map(|&(_, end)| end))
        };
        Ok(found.ok_or(BikeError::NoModes)?.into_iter().map(name).collect())
    }

    fn mode(&self, square: f64, shape: &DVector<f64>, hop: Option<End>) -> Mode {
        let (y, theta) = (shape[0], shape[1]);
        let (front, rear) = (y - self.ends.front.distance.si() * theta, y + self.ends.rear.distance.si() * theta);
        let center = y / theta;
        Mode {
            kind: match hop {
                Some(End::Front) => ModeKind::FrontHop,
                Some(End::Rear) => ModeKind::RearHop,
                None => ModeKind::of_body(front, rear),
            },
            frequency: Frequency::from_si(square.sqrt() / TAU),
            center_ahead: (center.abs() < FAR_CENTER_SI).then(|| Length::from_si(center)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Eigenvalues of a matrix of this size to a few dozen roundings.
    const ROUNDING: f64 = 1e-12;

    fn end(distance: f64, rate: f64) -> HalfBikeEnd {
        HalfBikeEnd { distance: Length::from_si(distance), rate: WheelRate::from_si(rate), tyre: None, unsprung: None }
    }

    fn bike(front: HalfBikeEnd, rear: HalfBikeEnd, inertia: f64) -> HalfBike {
        let (sprung, pitch_inertia) = (Mass::from_si(190.0), MomentOfInertia::from_si(inertia));
        HalfBike { sprung, pitch_inertia, ends: Ends { front, rear } }
    }

    #[test]
    fn at_dynamic_index_one_each_end_moves_alone() {
        let (a, b, front, rear) = (0.75, 0.7, 6500.0, 8300.0);
        let bike = bike(end(a, front), end(b, rear), 190.0 * a * b);
        assert!((bike.dynamic_index().unwrap().si() - 1.0).abs() < ROUNDING);
        let modes = bike.modes().unwrap();
        // Mass over an end by moments; the centre of its mode is the other axle.
        for (mode, rate, mass, center) in
            [(modes[0], front, 190.0 * b / (a + b), -b), (modes[1], rear, 190.0 * a / (a + b), a)]
        {
            let alone = (rate / mass).sqrt() / TAU;
            assert!((mode.frequency.si() / alone - 1.0).abs() < ROUNDING, "{mode:?} {alone}");
            assert!((mode.center_ahead.unwrap().si() - center).abs() < 1e3 * ROUNDING, "{mode:?}");
        }
    }

    #[test]
    fn a_bike_alike_at_both_ends_bounces_without_pitching() {
        let modes = bike(end(0.7, 8000.0), end(0.7, 8000.0), 60.0).modes().unwrap();
        assert_eq!((modes[0].kind, modes[0].center_ahead), (ModeKind::Bounce, None));
        assert_eq!(modes[1].kind, ModeKind::Pitch);
        assert!(modes[1].center_ahead.unwrap().si().abs() < ROUNDING);
        let bounce = (16_000.0_f64 / 190.0).sqrt() / TAU;
        assert!((modes[0].frequency.si() / bounce - 1.0).abs() < ROUNDING);
    }

    #[test]
    fn a_mirrored_bike_has_mirrored_modes() {
        let (front, rear) = (end(0.8, 6500.0), end(0.65, 9000.0));
        let ahead = bike(front, rear, 70.0).modes().unwrap();
        let behind = bike(rear, front, 70.0).modes().unwrap();
        for (ahead, behind) in ahead.iter().zip(&behind) {
            assert!((ahead.frequency.si() / behind.frequency.si() - 1.0).abs() < ROUNDING);
            assert!((ahead.center_ahead.unwrap() + behind.center_ahead.unwrap()).si().abs() < 1e3 * ROUNDING);
        }
    }

    #[test]
    fn tyres_lower_the_ride_and_bring_hops() {
        let tyre = |of: HalfBikeEnd, unsprung: Option<f64>| HalfBikeEnd {
            tyre: Some(WheelRate::from_si(160e3)),
            unsprung: unsprung.map(Mass::from_si),
            ..of
        };
        let (front, rear) = (end(0.75, 6500.0), end(0.7, 8300.0));
        let rigid = bike(front, rear, 60.0).modes().unwrap();
        let in_series = bike(tyre(front, None), tyre(rear, None), 60.0).modes().unwrap();
        let one = bike(tyre(front, None), tyre(rear, Some(17.5)), 60.0).modes().unwrap();
        let full = bike(tyre(front, Some(14.2)), tyre(rear, Some(17.5)), 60.0).modes().unwrap();
        let kinds = |modes: &[Mode]| modes.iter().map(|mode| mode.kind).collect::<Vec<_>>();
        assert_eq!(kinds(&one)[2..], [ModeKind::RearHop]);
        assert_eq!(kinds(&full)[2..], [ModeKind::RearHop, ModeKind::FrontHop]);
        for at in 0..2 {
            assert!(in_series[at].frequency < rigid[at].frequency, "a tyre is one more spring in series");
            // A mass on the middle of a chain of springs lowers the lowest modes (Rayleigh), slightly here.
            assert!(full[at].frequency < in_series[at].frequency);
            assert!(full[at].frequency > in_series[at].frequency * 0.98);
        }
    }

    #[test]
    fn a_body_bounces_where_both_its_ends_go_the_same_way() {
        for (front, rear) in [(0.3, 0.1), (-0.3, -0.1)] {
            assert_eq!(ModeKind::of_body(front, rear), ModeKind::Bounce);
        }
        for (front, rear) in [(0.3, -0.1), (-0.3, 0.1), (0.3, 0.0), (0.0, 0.1)] {
            assert_eq!(ModeKind::of_body(front, rear), ModeKind::Pitch, "{front} {rear}");
        }
    }

    #[test]
    fn wheels_that_go_along_with_the_body_do_not_hop() {
        // Heavy wheels on soft tyres: in pitch the one goes up and the other down, each with a few hundredths of the energy.
        let soft = |distance: f64, rate: f64, unsprung: f64| HalfBikeEnd {
            tyre: Some(WheelRate::from_si(20e3)),
            unsprung: Some(Mass::from_si(unsprung)),
            ..end(distance, rate)
        };
        for inertia in [30.0, 60.0, 90.0] {
            let modes = bike(soft(0.75, 7000.0, 30.0), soft(0.65, 8000.0, 50.0), inertia).modes().unwrap();
            let kinds: Vec<ModeKind> = modes.iter().map(|mode| mode.kind).collect();
            assert!(kinds[..2].contains(&ModeKind::Bounce) && kinds[..2].contains(&ModeKind::Pitch), "{kinds:?}");
            assert_eq!(kinds[2..], [ModeKind::RearHop, ModeKind::FrontHop], "{inertia}");
        }
    }

    #[test]
    fn faults_name_the_end() {
        let error = bike(end(0.7, 8000.0), end(0.7, -10.0), 60.0).modes().unwrap_err().to_string();
        assert!(error.starts_with("rear.rate: found"), "{error}");
    }
}
