//! One fork leg: what is in it. Any part may be missing.

use crate::axial::OwnElement;
use crate::damper::Damper;
use crate::error::Result;
use crate::error::inside;
use crate::friction::SealFriction;
use crate::gas::{AirSpring, Conditions, Exponents, ForkAir, ForkAirParts, SealedGas};
use crate::record::Usual;
use crate::spring::{Preloaded, Stop};
use crate::strut::{Strut, strut_parts};
use crate::units::{Length, Share, Temperature, show};

/// A fork leg: main spring, air, bump stop, top-out spring, damper, friction, elements of your own; each where there is one.
/// Elements of your own have no text form; a leg that holds one cannot be serialised.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ForkLeg {
    spring: Option<Preloaded>,
    air: Option<ForkAir>,
    air_spring: Option<AirSpring>,
    bump_stop: Option<Stop>,
    top_out: Option<Stop>,
    friction: Option<SealFriction>,
    damper: Option<Damper>,
    own: Vec<OwnElement>,
    /// How far the push of air that nobody stated may be off, as a share of it.
    assumed_air: Option<Share>,
}

impl ForkLeg {
    /// An empty leg.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    strut_parts!();

    /// With this air.
    #[must_use]
    pub fn with_air(self, air: ForkAir) -> Self {
        Self { air: Some(air), assumed_air: None, ..self }
    }

    /// Its main spring.
    #[must_use]
    pub fn spring(&self) -> Option<&Preloaded> {
        self.spring.as_ref()
    }

    /// Its air.
    #[must_use]
    pub fn air(&self) -> Option<&ForkAir> {
        self.air.as_ref()
    }

    /// Its air, where it was stated.
    #[must_use]
    pub fn stated_air(&self) -> Option<&ForkAir> {
        self.air.as_ref().filter(|_| self.assumed_air.is_none())
    }

    /// How far the push of air that is assumed may be off, as a share of it; `None` where the air is stated, or none is
    /// assumed.
    #[must_use]
    pub fn assumed_air(&self) -> Option<Share> {
        self.assumed_air
    }

    /// The same leg at what is usual, where nobody stated it: preload, and with it the air.
    pub(super) fn assuming(&self, usual: &Usual, full_stroke: Length) -> Result<Self> {
        let spring = self.spring.clone().map(|spring| spring.assuming(usual.preload_front, full_stroke)).transpose()?;
        let leg = Self { spring, air: self.stated_air().copied(), assumed_air: None, ..self.clone() };
        let unknown = leg.spring.as_ref().is_some_and(|spring| spring.assumed_preload().is_some());
        if !unknown || leg.air.is_some() || leg.air_spring.is_some() {
            return Ok(leg);
        }
        let Usual { sealing_diameter, bore, oil_level, .. } = *usual;
        let air = ForkAir::new(ForkAirParts { sealing_diameter, bore, oil_level })?;
        Ok(Self { air: Some(air), assumed_air: Some(usual.fork_air), ..leg })
    }

    /// Its air spring.
    #[must_use]
    pub fn air_spring(&self) -> Option<&AirSpring> {
        self.air_spring.as_ref()
    }

    /// Its bump stop.
    #[must_use]
    pub fn bump_stop(&self) -> Option<&Stop> {
        self.bump_stop.as_ref()
    }

    /// Its top-out spring.
    #[must_use]
    pub fn top_out(&self) -> Option<&Stop> {
        self.top_out.as_ref()
    }

    /// Its friction.
    #[must_use]
    pub fn friction(&self) -> Option<&SealFriction> {
        self.friction.as_ref()
    }

    /// Its damper.
    #[must_use]
    pub fn damper(&self) -> Option<&Damper> {
        self.damper.as_ref()
    }

    /// Elements of your own in it.
    #[must_use]
    pub fn elements(&self) -> &[OwnElement] {
        &self.own
    }

    pub(super) fn with_exponents(&self, exponents: Exponents) -> Self {
        let air = self.air.map(|air| air.with_exponents(exponents));
        let air_spring = self.air_spring.map(|spring| spring.with_exponents(exponents));
        Self { air, air_spring, ..self.clone() }
    }

    pub(super) fn running_in(&self, conditions: Conditions) -> Self {
        let air = self.air.map(|air| air.running_in(conditions));
        let air_spring = self.air_spring.map(|spring| spring.running_in(conditions));
        Self { air, air_spring, ..self.clone() }
    }

    pub(super) fn warmed_to(&self, temperature: Temperature) -> Result<Self> {
        let air = self.air.map(|air| air.warmed_to(temperature)).transpose()?;
        let air_spring = self.air_spring.map(|spring| spring.warmed_to(temperature)).transpose()?;
        Ok(Self { air, air_spring, ..self.clone() })
    }

    pub(crate) fn strut(&self, part: &str, full_stroke: Length) -> Result<Strut> {
        let air = self.air.map(|air| air.sealed_of(&inside(part, "air"), full_stroke)).transpose()?;
        let mut gas: Vec<SealedGas> = air.into_iter().collect();
        if let Some(spring) = &self.air_spring {
            gas.extend(spring.sealed_of(&inside(part, "air_spring"), full_stroke)?);
        }
        let [bump_stop, top_out] = [&self.bump_stop, &self.top_out].map(Clone::clone);
        Strut::new(part, full_stroke, self.spring.clone(), gas, bump_stop, top_out, self.own.clone())
    }

    pub(super) fn describe(&self) -> String {
        let parts = [
            self.spring.as_ref().map(crate::axial::AxialElement::describe),
            self.air.as_ref().map(ForkAir::describe),
            self.air_spring.as_ref().map(AirSpring::describe),
            self.bump_stop.as_ref().map(|stop| stop.describe("bump stop", "last")),
            self.top_out.as_ref().map(|stop| stop.describe("top-out spring", "first")),
            self.damper.as_ref().map(Damper::describe),
            self.friction.map(|friction| format!("friction {}", show(friction.force(), "N", 0))),
        ];
        let own = self.own.iter().map(|element| element.element().describe());
        let present: Vec<String> = parts.into_iter().flatten().chain(own).collect();
        if present.is_empty() { "empty".to_owned() } else { present.join("; ") }
    }
}
