//! Springs, gas and stops side by side on one stroke: what a fork leg and a shock have in common.
//!
//! `F(s) = F_spring(s + p) + Σ F_gas(s) + F_bump(s) − F_top_out(s) + Σ F_own(s)`

use crate::axial::{Axial, Fast, OwnElement};
use crate::error::{Result, SpringError, inside};
use crate::gas::SealedGas;
use crate::spring::{Preloaded, Stop};
use crate::units::{Length, Quantity, brief};

/// The parts on one stroke, checked against each other.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Strut {
    stroke: f64,
    spring: Option<Preloaded>,
    gas: Vec<SealedGas>,
    bump_stop: Option<Stop>,
    top_out: Option<Stop>,
    own: Vec<OwnElement>,
}

impl Strut {
    /// Refuses a main spring or an element that ends before the stroke does, and a stop that acts over more than the
    /// stroke. `part` is the address of what they are in, empty for the whole.
    pub(crate) fn new(
        part: &str,
        stroke: Length,
        spring: Option<Preloaded>,
        gas: Vec<SealedGas>,
        bump_stop: Option<Stop>,
        top_out: Option<Stop>,
        own: Vec<OwnElement>,
    ) -> Result<Self> {
        check_stop(part, "bump_stop", stroke, bump_stop.as_ref())?;
        check_stop(part, "top_out", stroke, top_out.as_ref())?;
        if let Some(spring) = &spring {
            spring.check_clearance(&inside(part, "spring"), stroke)?;
        }
        own.iter().try_for_each(|element| element.check_reach(&inside(part, "elements"), stroke))?;
        Ok(Self { stroke: stroke.si(), spring, gas, bump_stop, top_out, own })
    }

    /// The main spring; `x` is the stroke plus a change of preload.
    #[inline]
    pub(crate) fn spring_part(&self, x: f64) -> Axial {
        self.spring.as_ref().map_or_else(Axial::default, |spring| spring.eval(x))
    }

    /// Gas, stops and elements of somebody's own, settled.
    #[inline]
    pub(crate) fn rest_part(&self, s: f64) -> Axial {
        let mut rest = self.gas_part(s);
        if self.bump_stop.is_some() || self.top_out.is_some() {
            rest += self.stops(s);
        }
        for element in &self.own {
            rest += element.eval(s);
        }
        rest
    }

    /// The same at a stroke reached fast from rest at another.
    pub(crate) fn fast_part(&self, rest: f64, s: f64) -> Fast {
        let own = self.own.iter().map(|element| Fast::same(element.eval_fast(rest, s))).sum::<Fast>();
        self.fast_gas(rest, s) + Fast::same(self.stops(s)) + own
    }

    #[inline]
    fn stops(&self, s: f64) -> Axial {
        let bump = self.bump_stop.as_ref().map(|stop| stop.eval_bump(s, self.stroke));
        let top_out = self.top_out.as_ref().map(|stop| stop.eval_top_out(s));
        bump.into_iter().chain(top_out).sum()
    }

    #[inline]
    pub(crate) fn gas_part(&self, s: f64) -> Axial {
        let mut all = Axial::default();
        for gas in &self.gas {
            all += gas.eval(s);
        }
        all
    }

    pub(crate) fn fast_gas(&self, rest: f64, s: f64) -> Fast {
        self.gas.iter().map(|gas| gas.fast(rest, s)).sum()
    }

    /// Strokes at which the rate jumps.
    pub(crate) fn jumps(&self) -> Vec<f64> {
        let spring = self.spring.iter().flat_map(Preloaded::jumps);
        let bump = self.bump_stop.iter().flat_map(|stop| stop.bump_jumps(self.stroke));
        let top_out = self.top_out.iter().flat_map(Stop::top_out_jumps);
        let own = self.own.iter().flat_map(|element| element.jumps().iter().copied());
        let gas = self.gas.iter().filter_map(SealedGas::lifts_at).filter(|lifts| *lifts < self.stroke);
        spring.chain(bump).chain(top_out).chain(own).chain(gas).collect()
    }
}

/// Refuses a stop that acts over more than the whole stroke.
fn check_stop(part: &str, key: &str, stroke: Length, stop: Option<&Stop>) -> Result<()> {
    match stop.map(Stop::acts_over) {
        Some(acts_over) if acts_over > stroke => Err(SpringError::Order {
            field: inside(&inside(part, key), "acts_over"),
            found: brief(acts_over),
            wanted: "not more",
            other: "full stroke".to_owned(),
            than: brief(stroke),
        }
        .into()),
        _ => Ok(()),
    }
}

/// What is put into a fork leg and into a shock alike.
macro_rules! strut_parts {
    () => {
        /// With this main spring.
        #[must_use]
        pub fn with_spring(self, spring: Preloaded) -> Self {
            Self { spring: Some(spring), ..self }
        }

        /// With this air spring.
        #[must_use]
        pub fn with_air_spring(self, spring: AirSpring) -> Self {
            Self { air_spring: Some(spring), ..self }
        }

        /// With this bump stop.
        #[must_use]
        pub fn with_bump_stop(self, stop: Stop) -> Self {
            Self { bump_stop: Some(stop), ..self }
        }

        /// With this top-out spring.
        #[must_use]
        pub fn with_top_out(self, stop: Stop) -> Self {
            Self { top_out: Some(stop), ..self }
        }

        /// With this damper.
        #[must_use]
        pub fn with_damper(self, damper: Damper) -> Self {
            Self { damper: Some(damper), ..self }
        }

        /// With this friction.
        #[must_use]
        pub fn with_friction(self, friction: SealFriction) -> Self {
            Self { friction: Some(friction), ..self }
        }

        /// With this element of your own, beside those it has.
        #[must_use]
        pub fn with_element(mut self, element: OwnElement) -> Self {
            self.own.push(element);
            self
        }
    };
}
pub(crate) use strut_parts;

/// What a fork and a shock are asked alike, from what is in each: `spring_part`, `gas_part`, `rest_part`, `fast_gas` and
/// `fast_part` along `full_stroke`.
macro_rules! asked_along_the_stroke {
    ($part:literal) => {
        /// The main springs alone at a stroke, all together.
        ///
        /// # Errors
        /// [`SpringError::OutOfStroke`](crate::error::SpringError::OutOfStroke).
        pub fn springs_at(&self, stroke: Length) -> Result<AxialState> {
            Ok(self.spring_part(self.within(stroke)?).typed())
        }

        /// The gas alone at a stroke.
        ///
        /// # Errors
        /// [`SpringError::OutOfStroke`](crate::error::SpringError::OutOfStroke).
        pub fn gas_at(&self, stroke: Length) -> Result<AxialState> {
            Ok(self.gas_part(self.within(stroke)?).typed())
        }

        /// The gas alone at a stroke reached fast from rest at another.
        ///
        /// # Errors
        /// [`SpringError::OutOfStroke`](crate::error::SpringError::OutOfStroke), for either stroke.
        pub fn fast_gas_at(&self, rest: Length, stroke: Length) -> Result<AxialState> {
            let (rest, s) = (self.within(rest)?, self.within(stroke)?);
            Ok(self.fast_gas(rest, s).state.typed())
        }

        /// The rate of a small fast movement about a stroke at which the bike has come to rest: there the gas answers with
        /// `fast/slow` times its slow rate.
        ///
        /// # Errors
        /// [`SpringError::OutOfStroke`](crate::error::SpringError::OutOfStroke).
        pub fn fast_rate_at(&self, stroke: Length) -> Result<SpringRate> {
            Ok(self.fast_at(stroke, stroke)?.rate)
        }

        fn within(&self, stroke: Length) -> Result<f64> {
            stroke_within($part, stroke, Some(self.full_stroke.si()))
        }

        /// The kernel: everything, settled.
        pub(crate) fn eval(&self, s: f64) -> Axial {
            self.spring_part(s) + self.rest_part(s)
        }
    };
}
pub(crate) use asked_along_the_stroke;
