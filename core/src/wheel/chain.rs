//! The chain over travel: how much of it the wheel's path takes up, how much it hangs through, and how it turns the wheel.
//!
//! `growth(z) = L(z) − L(0)`, `L` the length of the loop around both sprockets, both runs straight. Where it is longest the chain is
//! tightest, and has to have slack there; what is left over elsewhere is what the chain hangs through. A run `ℓ` long that has
//! `e` to spare can be moved at its middle, up and down together, by
//!
//! `P = √(e·(2ℓ + e))`,
//!
//! two straight halves either way. With the upper run taut and the engine held, the wheel turns forward by
//! `Δψ = Δ(upper)/r` against the frame as it travels; with the wheel rolling, so much is what the engine feels of a bump.
//!
//! Assumes a chain that is a thin line (a real one is a polygon on its sprockets), sprockets that are round and centred, and a lower
//! run that nothing leads; a tensioner takes up what is left over. A worn chain is tight in places: look for the tightest.

use super::{FinalDrive, RearEnd, Sprockets};
use crate::error::{BikeError, Result};
use crate::linkage::{ChainPath, Circle, apart};
use crate::units::{Angle, Length, Quantity, check};

/// Travels looked at for the longest loop, before the best of them is refined.
const LOOKED_AT: usize = 61;
/// Thirds of a bracket left out until it is shorter than any travel that can be read: `(2/3)^60` of 15 mm is below 1 pm.
const THIRDS: usize = 60;
/// Most play that a chain is set to, in metres: more and it jumps.
const MOST_PLAY: f64 = 0.1;

/// The chain at one travel.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct ChainPoint {
    /// Wheel travel from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// How much longer the loop is than at full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub growth: Length,
    /// Length to spare.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub slack: Length,
    /// Movement of the middle of the lower run, up and down together.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub play: Length,
    /// How far the wheel has turned forward against the frame since full extension, engine held and upper run taut.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub wheel_turn: Angle,
}

/// The chain over travel.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct ChainRun {
    /// The chain at each travel.
    pub points: Vec<ChainPoint>,
    /// Where it is tightest.
    pub tightest: ChainPoint,
    /// Play to set at full extension, so that the play asked for is left where the chain is tightest.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub extended_play: Length,
}

impl ChainRun {
    /// Travel at which the chain is tightest.
    #[must_use]
    pub fn tightest_travel(&self) -> Length {
        self.tightest.travel
    }

    /// Growth of the chain from full extension to where it is tightest.
    #[must_use]
    pub fn tightest_growth(&self) -> Length {
        self.tightest.growth
    }
}

impl RearEnd {
    /// The chain over travel, with this much play of the lower run where it is tightest.
    ///
    /// # Errors
    /// [`BikeError::ShaftDrive`], [`BikeError::Missing`] without a chain; [`crate::error::WheelError::NotDrawn`];
    /// [`LinkageError`](crate::error::LinkageError) for a travel out of range and sprockets that touch;
    /// [`UnitError`](crate::error::UnitError) for a play below zero or above 100 mm.
    pub fn chain(&self, travels: &[Length], play_at_tightest: Length) -> Result<ChainRun> {
        let sprockets = match self.final_drive() {
            Some(FinalDrive::Chain(sprockets)) => sprockets,
            Some(FinalDrive::Shaft) => return Err(BikeError::ShaftDrive.into()),
            None => {
                let (part, purpose) = ("rear.chain".to_owned(), "the chain runs between its sprockets".to_owned());
                return Err(BikeError::Missing { part, purpose }.into());
            }
        };
        let play = check::plausible("play", play_at_tightest, Length::from_si(0.0), Length::from_si(MOST_PLAY))?.si();
        let linkage = self.linkage()?;
        travels.iter().try_for_each(|&travel| linkage.check_travel(travel))?;
        let path = |travel: f64| path(self, sprockets, travel);
        let tightest = tightest(&path, linkage.full_travel().si())?;
        let (longest, extended) = (path(tightest)?, path(0.0)?);
        // e from P of the same run.
        let spare = longest.lower.hypot(play) - longest.lower;
        let [_, rear_radius] = sprockets.radii();
        let at = |travel: f64| -> Result<ChainPoint> {
            let here = path(travel)?;
            let slack = longest.length - here.length + spare;
            Ok(ChainPoint {
                travel: Length::from_si(travel),
                growth: Length::from_si(here.length - extended.length),
                slack: Length::from_si(slack),
                play: Length::from_si((slack * (2.0 * here.lower + slack)).max(0.0).sqrt()),
                wheel_turn: Angle::from_si((here.upper - extended.upper) / rear_radius.si()),
            })
        };
        Ok(ChainRun {
            points: travels.iter().map(|travel| at(travel.si())).collect::<Result<_>>()?,
            tightest: at(tightest)?,
            extended_play: at(0.0)?.play,
        })
    }
}

/// Where the chain lies at a travel.
fn path(end: &RearEnd, sprockets: &Sprockets, travel: f64) -> Result<ChainPath> {
    let axle = end.linkage()?.kernel(travel).axle;
    let [front, rear] = sprockets.radii();
    let idler = sprockets.idler();
    let others = [(sprockets.front_centre(), front)].into_iter().chain(idler.map(|idler| (idler.centre, idler.radius)));
    apart(Length::from_si(travel), axle, rear, others)?;
    let front = Circle { at: sprockets.front_centre().map(|part| part.si()), radius: front.si() };
    Ok(ChainPath::of(Circle { at: axle, radius: rear.si() }, front, idler.map(|idler| idler.circle())))
}

/// The travel with the longest loop: the longest of many, refined between its neighbours, where the length has one top.
fn tightest(path: &dyn Fn(f64) -> Result<ChainPath>, full: f64) -> Result<f64> {
    let step = full / (LOOKED_AT - 1) as f64;
    let length = |travel: f64| Ok::<f64, crate::error::Error>(path(travel)?.length);
    let mut best = (0.0, length(0.0)?);
    for place in 1..LOOKED_AT {
        let travel = step * place as f64;
        let found = length(travel)?;
        if found > best.1 {
            best = (travel, found);
        }
    }
    let (mut low, mut high) = ((best.0 - step).max(0.0), (best.0 + step).min(full));
    for _ in 0..THIRDS {
        let third = (high - low) / 3.0;
        let (left, right) = (low + third, high - third);
        if length(left)? < length(right)? {
            low = left;
        } else {
            high = right;
        }
    }
    // A top at an end of travel is that end.
    Ok(if length(best.0)? >= length(0.5 * (low + high))? { best.0 } else { 0.5 * (low + high) })
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::bike::Bike;
    use crate::demo::PATROL;
    use crate::linkage::{Idler, Passes};
    use crate::wheel::Wheel;

    fn mm(length: f64) -> Length {
        Length::from_si(length * 1e-3)
    }

    fn demo() -> RearEnd {
        Bike::from_toml(PATROL).unwrap().rear().unwrap().clone()
    }

    fn with(sprockets: Sprockets) -> RearEnd {
        demo().with_final_drive(FinalDrive::Chain(sprockets))
    }

    #[test]
    fn equal_sprockets_with_the_front_one_on_the_pivot_feel_nothing() {
        /// Sums of lengths of metres.
        const ROUNDING: f64 = 1e-13;
        let end = with(Sprockets::new([mm(0.0); 2], [20, 20], mm(15.875)).unwrap());
        let found = end.chain(&end.travels(13), mm(25.0)).unwrap();
        for point in found.points {
            assert!(point.growth.si().abs() < ROUNDING && point.wheel_turn.si().abs() < ROUNDING, "{point:?}");
            assert!((point.play.si() - 0.025).abs() < 1e-9, "{point:?}");
        }
    }

    #[test]
    fn the_chain_is_tightest_where_axle_pivot_and_sprocket_are_in_line() {
        /// A top is flat: a part in 1e16 of its height is 1e-8 of its width.
        const FLAT: f64 = 1e-6;
        // With equal sprockets the loop is twice the distance of their centres.
        let end = with(Sprockets::new([mm(80.0), mm(0.0)], [20, 20], mm(15.875)).unwrap());
        let found = end.chain(&end.travels(7), mm(10.0)).unwrap().tightest;
        let axle = end.linkage().unwrap().kernel(found.travel.si()).axle;
        assert!(axle[1].abs() < FLAT, "{axle:?}");
        assert!((found.play.si() - 0.010).abs() < 1e-12 && found.slack.si() > 0.0);
    }

    #[test]
    fn play_at_full_extension_leaves_what_was_asked_for() {
        let end = demo();
        let [loose, taut] = [20.0, 0.0].map(|play| end.chain(&end.travels(25), mm(play)).unwrap());
        assert_eq!(loose.tightest.travel, taut.tightest.travel);
        assert!((loose.tightest.play.si() - 0.020).abs() < 1e-12 && taut.tightest.play.si() == 0.0);
        assert_eq!(loose.extended_play, loose.points[0].play);
        assert!(loose.extended_play > loose.tightest.play && taut.extended_play < loose.extended_play);
        for (a, b) in loose.points.iter().zip(&taut.points) {
            assert!(a.slack > b.slack && b.slack.si() >= 0.0 && a.growth == b.growth && a.wheel_turn == b.wheel_turn);
        }
    }

    /// The turn that settling lets the chain's torque work through, from differences over travel.
    #[test]
    fn the_wheel_turns_as_a_taut_run_asks() {
        const DIFFERENCE: f64 = 1e-7;
        let end = demo();
        let Some(FinalDrive::Chain(sprockets)) = end.final_drive() else { unreachable!() };
        let [front, rear] = sprockets.radii().map(|radius| radius.si());
        let (travel, step) = (0.110, 1e-5);
        let found = end.chain(&[-step, step].map(|by| Length::from_si(travel + by)), mm(0.0)).unwrap().points;
        let turned = (found[1].wheel_turn - found[0].wheel_turn).si() / (2.0 * step);
        let kernel = end.linkage().unwrap().kernel(travel);
        let [dx, dz] = [0.088 - kernel.axle[0], 0.004 - kernel.axle[1]];
        let tilt = dz.atan2(dx) - ((rear - front) / dx.hypot(dz)).asin();
        // The run keeps its length where the wheel gives what the axle's way along it takes.
        let wanted = -(kernel.axle_slope * tilt.cos() + tilt.sin()) / rear;
        assert!((turned - wanted).abs() < DIFFERENCE, "{turned} {wanted}");
    }

    #[test]
    fn an_idler_at_the_pivot_takes_the_growth_out_of_the_upper_run() {
        let plain = Sprockets::new([mm(88.0), mm(4.0)], [13, 49], mm(15.875)).unwrap();
        let radius = plain.radii()[1];
        let led = plain.with_idler(Idler { centre: [mm(0.0); 2], radius, passes: Passes::Over }).unwrap();
        let (bare, led) = (with(plain), with(led));
        let turn = |end: &RearEnd| {
            let run = end.chain(&end.travels(9), mm(0.0)).unwrap();
            run.points.iter().map(|point| point.wheel_turn.si().abs()).fold(0.0, f64::max)
        };
        assert!(turn(&led) < 1e-12 && turn(&bare) > 1e-2, "{} {}", turn(&led), turn(&bare));
    }

    #[test]
    fn what_is_missing_or_wrong_is_said() {
        let end = demo();
        let shaft = demo().with_final_drive(FinalDrive::Shaft).chain(&[], mm(0.0)).unwrap_err().to_string();
        assert!(shaft.contains("shaft"), "{shaft}");
        let far = end.chain(&[mm(900.0)], mm(0.0)).unwrap_err().to_string();
        assert!(far.contains("900"), "{far}");
        let loose = end.chain(&[], mm(500.0)).unwrap_err().to_string();
        assert!(loose.starts_with("play: found 500 mm"), "{loose}");
        let idler = Idler { centre: [mm(-500.0), mm(-100.0)], radius: mm(30.0), passes: Passes::Over };
        let Some(FinalDrive::Chain(sprockets)) = end.final_drive() else { unreachable!() };
        let inside = with(sprockets.with_idler(idler).unwrap()).chain(&[], mm(0.0)).unwrap_err().to_string();
        assert!(inside.contains("idler"), "{inside}");
    }

    /// A parabola with its top anywhere, also beyond either end, on both sides of places that are looked at.
    #[test]
    fn the_longest_loop_is_found_between_the_places_that_are_looked_at() {
        /// A quadratic is flat about its top to the root of a rounding.
        const FLAT: f64 = 1e-7;
        let full = 0.3;
        for top in [-0.05, 0.0, 0.0123, 0.1, 0.151_617, 0.2999, 0.3, 0.4] {
            let at = |travel: f64| Ok(ChainPath { length: 2.0 - (travel - top).powi(2), lower: 0.0, upper: 0.0 });
            let found = tightest(&at, full).unwrap();
            assert!((found - top.clamp(0.0, full)).abs() < FLAT, "{top}: {found}");
        }
    }
}
