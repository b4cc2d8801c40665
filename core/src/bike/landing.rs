//! One end in time: a landing from a height, and a wheel that meets a step.
//!
//! ```text
//! m_s·s″ = F_w(z) + MR·D(MR·z′) + f − m_s·g          sprung mass over the wheel
//! m_u·w″ = F_t − F_w(z) − MR·D(MR·z′) − f − m_u·g     wheel,   z = w − s
//! F_t    = max(0, k_t·(ground − w))                   the tyre pushes, it does not pull
//! f′     = σ·(z′ − |z′|·f/F_c)                        friction
//! ```
//!
//! **Method.** The explicit Dormand–Prince pair of order 5(4) with error control (crate `differential-equations`); peaks
//! are found on its continuous output. Friction is Dahl's: a force that builds up over a fraction of a millimetre, holds
//! the end at rest anywhere in its band and takes `F_c·|Δz|` out of any longer stroke, so that no switching is needed and
//! nothing creeps. The metal ends of travel are stiff springs; the account of energies says how well the whole
//! integration holds.
//!
//! **Assumptions.** The ends do not know each other (exact where the pitch inertia is `m·a·b`); the wheel moves straight up
//! and down; a tyre of constant rate that touches at one point; gas by its fast exponent, from the pressure it had settled
//! at where the motion begins (hanging, or at rest on the springs); and a rider who sits like a sack of sand. After a second
//! or so the gas has lost the heat of the stroke and the end sinks to its rest, which is not followed. [`LIMITS`] says it in
//! plain words for whoever reads the numbers.
//!
//! References: Hairer, Nørsett & Wanner, *Solving Ordinary Differential Equations I*, II.4–II.6; P. R. Dahl, 'A solid
//! friction model', The Aerospace Corporation TOR-0158(3107-18)-1, 1968; Cossalter, *Motorcycle Dynamics*, ch. 5.

mod bike_motion;
#[cfg(feature = "landing")]
mod both;
#[cfg(feature = "landing")]
mod both_recorded;
mod end_motion;
#[cfg(feature = "landing")]
mod motion;
mod moving_bike;
#[cfg(feature = "landing")]
mod recorded;

pub use bike_motion::{BikeEnergy, BikeMotion, BikeMotionEnd};
pub use end_motion::{Bottoming, EndMotion, EnergyAccount};
pub(in crate::bike) use moving_bike::Tied;
pub use moving_bike::{Braking, Legs, MovingBike, WHOLE_LIMITS};

pub use crate::damper::{Damper, DamperSide, Knee};

use crate::error::{BikeError, Result};
use crate::units::{Force, Length, Mass, Quantity, Time, WheelRate, check};
use crate::wheel::{FrontEnd, RearEnd, Wheel};

/// What these simulations cannot show.
pub const LIMITS: [&str; 7] = [
    "Two straight lines are not a damper: real ones depend on position, temperature, cavitation and how fast the speed changes. Compare springs with it; choose no clicks by it.",
    "Each end is taken alone. A landing on one wheel first pitches the bike, and the other end gets the rest.",
    "The rider is a weight on the frame. Legs that bend take a good part of a hard landing.",
    "The tyre is one straight spring that touches at a point: no tread, no rim, no rolling over the edge.",
    "Gas works with its fast exponent throughout: a number between 1 and 1.4 that nobody measures, and too high once a second has passed.",
    "No number has a ±: what the model leaves out (slope, rider, heat in the damper) is more than what the readings leave open. The difference between two springs in one landing is surer than either number.",
    "What happens once an end is against its metal stop is described by speed and energy only; the force depends on how stiff the metal is.",
];

/// Highest drop and step, and longest time, that are simulated.
const MOST_DROP_SI: f64 = 20.0;
const MOST_STEP_SI: f64 = 1.0;
const MOST_TIME_SI: f64 = 60.0;
/// Shortest time: less is a slip of unit.
const LEAST_TIME_SI: f64 = 1e-3;
/// Range of tyre rates: a balloon tyre at low pressure to solid rubber.
const TYRE_SI: [f64; 2] = [5e3, 5e6];

/// What moves with an end besides its springs.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct MovingParts {
    /// Sprung mass over the wheel.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub sprung: Mass,
    /// Unsprung mass.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub unsprung: Mass,
    /// Vertical rate of the tyre.
    pub tyre: WheelRate,
    /// Sliding friction at the wheel; zero for none.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub friction: Force,
    /// Damper, along its shaft.
    pub damper: Damper,
}

/// An end with everything that moves with it.
///
/// ```
/// use wheelrate::bike::landing::{Damper, MovingEnd, MovingParts};
/// use wheelrate::fork::{Fork, ForkLeg};
/// use wheelrate::spring::Preloaded;
/// use wheelrate::units::{Quantity, Force, parse, to_text};
/// use wheelrate::wheel::FrontEnd;
///
/// let leg = ForkLeg::new().with_spring(Preloaded::linear("4.8 N/mm".parse()?, parse("6 mm")?)?);
/// let front = FrontEnd::new(Fork::new(parse("290 mm")?, parse("26.5 deg")?, [leg.clone(), leg])?);
/// let parts = MovingParts {
///     sprung: parse("77 kg")?,
///     unsprung: parse("14 kg")?,
///     tyre: "160 N/mm".parse()?,
///     friction: parse("60 N")?,
///     damper: Damper::linear("900 N s/m".parse()?)?,
/// };
/// let landing = MovingEnd::front(&front, parts)?.land(parse("300 mm")?, parse("2 s")?)?;
/// assert!(landing.bottoming.is_none());
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct MovingEnd<'a> {
    #[cfg_attr(not(feature = "landing"), expect(dead_code, reason = "nothing moves without the feature"))]
    kernel: &'a dyn Wheel,
    parts: MovingParts,
}

/// Ground of any height over time, in SI units.
#[cfg_attr(not(feature = "landing"), expect(dead_code, reason = "nothing moves without the feature"))]
pub(crate) trait GroundHeight: core::fmt::Debug {
    /// Height, zero at the start, and its speed.
    fn at(&self, time: f64) -> [f64; 2];
    /// The longest step in time that does not jump over it.
    fn grain(&self) -> f64;
}

/// What sets the end in motion; heights in m, times in s.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(not(feature = "landing"), expect(dead_code, reason = "nothing moves without the feature"))]
enum Cause<'a> {
    Fall { height: f64 },
    Step { height: f64, rise: f64 },
    Ground(&'a dyn GroundHeight),
}

impl<'a> MovingEnd<'a> {
    /// The front end.
    ///
    /// # Errors
    /// [`BikeError::Unit`] naming the part that is impossible.
    pub fn front(end: &'a FrontEnd, parts: MovingParts) -> Result<Self> {
        Self::of(end, parts)
    }

    /// The rear end.
    ///
    /// # Errors
    /// [`BikeError::Unit`] naming the part that is impossible.
    pub fn rear(end: &'a RearEnd, parts: MovingParts) -> Result<Self> {
        Self::of(end, parts)
    }

    /// Either end, or one of your own.
    ///
    /// # Errors
    /// [`BikeError::Unit`] naming the part that is impossible.
    pub fn of(kernel: &'a dyn Wheel, parts: MovingParts) -> Result<Self> {
        check::positive("sprung", parts.sprung).map_err(BikeError::from)?;
        check::positive("unsprung", parts.unsprung).map_err(BikeError::from)?;
        let [least, most] = TYRE_SI.map(WheelRate::from_si);
        check::plausible("tyre", parts.tyre, least, most).map_err(BikeError::from)?;
        check::not_negative("friction", parts.friction).map_err(BikeError::from)?;
        Ok(Self { kernel, parts })
    }

    /// What moves with it.
    #[must_use]
    pub fn parts(&self) -> &MovingParts {
        &self.parts
    }

    /// A landing on both wheels alike from this height of fall, the end hanging at full extension until the tyre touches.
    ///
    /// # Errors
    /// [`BikeError`] for a height or duration out of range, or when the integration fails; [`BikeError::NotBuilt`] where
    /// the crate was built without its feature `landing`.
    pub fn land(&self, height: Length, duration: Time) -> Result<EndMotion> {
        check::not_negative("height", height).map_err(BikeError::from)?;
        check::plausible("height", height, Length::from_si(0.0), Length::from_si(MOST_DROP_SI))
            .map_err(BikeError::from)?;
        self.follow(Cause::Fall { height: height.si() }, checked_time("duration", duration)?)
    }

    /// A step of this height (a hole where negative) under the wheel of a bike at rest on its springs. The ground rises
    /// over the time `rise` as half a cosine: the length of the ramp that the tyre makes of the edge over the speed of
    /// riding.
    ///
    /// # Errors
    /// [`BikeError`] for a height or time out of range, or when the integration fails; [`BikeError::NotBuilt`] where the
    /// crate was built without its feature `landing`.
    pub fn step(&self, height: Length, rise: Time, duration: Time) -> Result<EndMotion> {
        let most = Length::from_si(MOST_STEP_SI);
        check::plausible("height", height, -most, most).map_err(BikeError::from)?;
        let rise = checked_time("rise", rise)?;
        self.follow(Cause::Step { height: height.si(), rise }, checked_time("duration", duration)?)
    }

    /// A bike at rest on its springs whose ground begins to move.
    pub(crate) fn over(&self, ground: &dyn GroundHeight, duration: Time) -> Result<EndMotion> {
        self.follow(Cause::Ground(ground), checked_time("duration", duration)?)
    }

    #[cfg(feature = "landing")]
    fn follow(&self, cause: Cause<'_>, duration: f64) -> Result<EndMotion> {
        use crate::units::kind::STANDARD_GRAVITY_SI;
        use motion::{Ground, Model};
        let resting = |ground| {
            let model = Model::new(self.kernel, &self.parts, ground).settled_at(Model::rest);
            recorded::record(&model, model.resting(), duration)
        };
        match cause {
            Cause::Fall { height } => {
                let model = Model::new(self.kernel, &self.parts, Ground::Flat).settled_at(Model::hangs);
                recorded::record(&model, model.hanging(-(2.0 * STANDARD_GRAVITY_SI * height).sqrt()), duration)
            }
            Cause::Step { height, rise } => resting(Ground::Step { height, rise }),
            Cause::Ground(ground) => resting(Ground::Given(ground)),
        }
    }

    #[cfg(not(feature = "landing"))]
    fn follow(&self, _cause: Cause<'_>, _duration: f64) -> Result<EndMotion> {
        Err(BikeError::NotBuilt { what: "a motion in time", feature: "landing" }.into())
    }
}

fn checked_time(field: &str, time: Time) -> Result<f64, BikeError> {
    Ok(check::plausible(field, time, Time::from_si(LEAST_TIME_SI), Time::from_si(MOST_TIME_SI))?.si())
}

#[cfg(all(test, not(feature = "landing")))]
mod tests {
    use super::*;
    use crate::fork::{Fork, ForkLeg};
    use crate::units::{Angle, DampingRate};

    #[test]
    fn what_was_left_out_of_the_build_is_said() {
        let fork = Fork::new(Length::from_si(0.3), Angle::from_si(0.0), [ForkLeg::new(), ForkLeg::new()]).unwrap();
        let front = FrontEnd::new(fork);
        let parts = MovingParts {
            sprung: Mass::from_si(80.0),
            unsprung: Mass::from_si(14.0),
            tyre: WheelRate::from_si(160e3),
            friction: Force::from_si(0.0),
            damper: Damper::linear(DampingRate::from_si(900.0)).unwrap(),
        };
        let moving = MovingEnd::front(&front, parts).unwrap();
        let refused = moving.land(Length::from_si(0.3), Time::from_si(1.0)).unwrap_err().to_string();
        assert_eq!(refused, "a motion in time is not in this build: build the crate with its feature `landing`");
    }
}
