//! The shock: spring, gas and stops between two eyes; one, or two alike side by side.
//!
//! `F(s) = N·[F_spring(s + p) + F_gas(s) + F_stops(s)]` for `N` shocks, over the stroke `s` of each.

use crate::axial::{Axial, AxialElement, AxialState, Fast, OwnElement, stroke_within, tidy_kinks};
use crate::damper::Damper;
use crate::error::{Result, SpringError, WheelError};
use crate::friction::SealFriction;
use crate::gas::{AirSpring, Conditions, Exponents, Reservoir, SealedGas};
use crate::record::Usual;
use crate::spring::{MainSpring, Preloaded, Spring, Stop};
use crate::strut::{Strut, asked_along_the_stroke, strut_parts};
use crate::units::{GaugePressure, Length, Quantity, Share, SpringRate, Temperature, Volume, brief, check, show};

/// What is in a shock. Any part may be missing. Elements of your own have no text form; parts that hold one cannot be
/// serialised.
#[derive(Debug, Clone, PartialEq, Default)]
#[non_exhaustive]
pub struct ShockParts {
    /// Main spring.
    pub spring: Option<Preloaded>,
    /// Gas on the rod.
    pub reservoir: Option<Reservoir>,
    /// Air spring in place of, or beside, the main spring.
    pub air_spring: Option<AirSpring>,
    /// Bump stop.
    pub bump_stop: Option<Stop>,
    /// Top-out spring.
    pub top_out: Option<Stop>,
    /// Friction of the seals of one shock.
    pub friction: Option<SealFriction>,
    /// Damper of one shock.
    pub damper: Option<Damper>,
    /// Elements of your own, in each shock.
    pub own: Vec<OwnElement>,
    /// How far the push of gas that nobody stated may be off, as a share of it.
    pub(crate) assumed_gas: Option<Share>,
}

impl ShockParts {
    /// An empty shock.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    strut_parts!();

    /// With this gas on the rod.
    #[must_use]
    pub fn with_reservoir(self, reservoir: Reservoir) -> Self {
        Self { reservoir: Some(reservoir), assumed_gas: None, ..self }
    }

    /// Gas on the rod, where it was stated.
    #[must_use]
    pub fn stated_reservoir(&self) -> Option<&Reservoir> {
        self.reservoir.as_ref().filter(|_| self.assumed_gas.is_none())
    }

    /// How far the push of gas that is assumed may be off, as a share of it; `None` where the gas is stated, or none is assumed.
    #[must_use]
    pub fn assumed_gas(&self) -> Option<Share> {
        self.assumed_gas
    }

    /// The same parts at what is usual, where nobody stated it: preload, and with it the gas.
    fn assuming(&self, usual: &Usual, full_stroke: Length) -> Result<Self> {
        let spring = self.spring.clone().map(|spring| spring.assuming(usual.preload_rear, full_stroke)).transpose()?;
        let parts = Self { spring, reservoir: self.stated_reservoir().copied(), assumed_gas: None, ..self.clone() };
        let unknown = parts.spring.as_ref().is_some_and(|spring| spring.assumed_preload().is_some());
        if !unknown || parts.reservoir.is_some() || parts.air_spring.is_some() {
            return Ok(parts);
        }
        let (reservoir, share) = usual_gas(usual, full_stroke)?;
        Ok(Self { reservoir: Some(reservoir), assumed_gas: Some(share), ..parts })
    }
}

/// Gas with the usual push: on a rod of 14 mm, in a volume that the rod takes a tenth of.
fn usual_gas(usual: &Usual, full_stroke: Length) -> Result<(Reservoir, Share)> {
    const ROD: f64 = 0.014;
    const TENTH: f64 = 10.0;
    let area = core::f64::consts::FRAC_PI_4 * ROD * ROD;
    let push = usual.gas_push;
    let pressure = GaugePressure::from_si(push.value.si() / area);
    let volume = Volume::from_si(TENTH * area * full_stroke.si());
    let gas = Reservoir::new(pressure, volume, Length::from_si(ROD))?;
    Ok((gas, Share::from_si(push.standard_uncertainty.si() / push.value.si())))
}

/// A shock, or two alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Shock {
    length: Option<Length>,
    full_stroke: Length,
    /// Is the stroke not stated, and follows from the lever?
    assumed_stroke: bool,
    count: u8,
    parts: ShockParts,
    strut: Strut,
}

impl Shock {
    /// A shock with this length between the eyes at full extension and this full stroke; `count` is 1, or 2 for twin shocks,
    /// of which the parts describe one.
    ///
    /// # Errors
    /// When the length is not from 50 mm to 1 m, the full stroke not from 5 mm to 400 mm or not less than the length, the
    /// count neither 1 nor 2, the spring ends or the gas is gone before full stroke, or a stop acts over more than the
    /// stroke.
    pub fn new(length: Length, full_stroke: Length, parts: ShockParts, count: u8) -> Result<Self> {
        Self::of_length(Some(length), full_stroke, parts, count)
    }

    /// A shock whose length between the eyes nobody knows; a linkage drawn or measured cannot do without it.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn of_unknown_length(full_stroke: Length, parts: ShockParts, count: u8) -> Result<Self> {
        Self::of_length(None, full_stroke, parts, count)
    }

    pub(crate) fn of_length(length: Option<Length>, full_stroke: Length, parts: ShockParts, count: u8) -> Result<Self> {
        if let Some(length) = length {
            check::plausible("length", length, Length::from_si(0.05), Length::from_si(1.0))?;
        }
        check::plausible("full_stroke", full_stroke, Length::from_si(0.005), Length::from_si(0.4))?;
        check::number_within("count", f64::from(count), 1.0, 2.0)?;
        if let Some(length) = length.filter(|length| full_stroke >= *length) {
            return Err(SpringError::Order {
                field: "full_stroke".to_owned(),
                found: brief(full_stroke),
                wanted: "less",
                other: "length".to_owned(),
                than: brief(length),
            }
            .into());
        }
        let mut gas: Vec<SealedGas> =
            parts.reservoir.map(|gas| gas.sealed_of("reservoir", full_stroke)).transpose()?.into_iter().collect();
        if let Some(spring) = &parts.air_spring {
            gas.extend(spring.sealed_of("air_spring", full_stroke)?);
        }
        let [bump_stop, top_out] = [&parts.bump_stop, &parts.top_out].map(Clone::clone);
        let strut = Strut::new("", full_stroke, parts.spring.clone(), gas, bump_stop, top_out, parts.own.clone())?;
        Ok(Self { length, full_stroke, assumed_stroke: false, count, parts, strut })
    }

    /// Length between the eyes at full extension; `None` where nobody knows it.
    #[must_use]
    pub fn length(&self) -> Option<Length> {
        self.length
    }

    /// The same, where it cannot be done without.
    pub(crate) fn known_length(&self) -> Result<Length> {
        self.length.ok_or_else(|| WheelError::NoShockLength.into())
    }

    /// A stroke that nobody stated.
    pub(crate) fn with_assumed_stroke(&self, full_stroke: Length) -> Result<Self> {
        let shock = Self::of_length(self.length, full_stroke, self.parts.clone(), self.count)?;
        Ok(Self { assumed_stroke: true, ..shock })
    }

    /// Does the stroke follow from the lever, because nobody stated it?
    #[must_use]
    pub fn is_stroke_assumed(&self) -> bool {
        self.assumed_stroke
    }

    /// The shock at what is usual, wherever nobody stated it.
    pub(crate) fn assuming(&self, usual: &Usual) -> Result<Self> {
        self.with_parts(self.parts.assuming(usual, self.full_stroke)?)
    }

    /// Stroke from full extension to full compression.
    #[must_use]
    pub fn full_stroke(&self) -> Length {
        self.full_stroke
    }

    /// 1, or 2 for twin shocks.
    #[must_use]
    pub fn count(&self) -> u8 {
        self.count
    }

    /// What is in one shock.
    #[must_use]
    pub fn parts(&self) -> &ShockParts {
        &self.parts
    }

    /// The main springs of all shocks together; `None` when there is none.
    #[must_use]
    pub fn main_spring(&self) -> Option<MainSpring> {
        MainSpring::of(self.parts.spring.iter(), self.count)
    }

    /// The shock with its main spring's rate times a factor, and more (or less) preload.
    ///
    /// # Errors
    /// [`SpringError::NoSpring`], and as [`new`](Self::new).
    pub fn with_spring_change(&self, rate_factor: f64, preload_change: Length) -> Result<Self> {
        self.with_spring(|spring| spring.changed(rate_factor, preload_change))
    }

    /// The shock with a coil spring of this rate (of each, on twin shocks) and preload in place of its main spring. The
    /// new spring's own lengths are not known, so nothing says whether it goes solid.
    ///
    /// # Errors
    /// [`SpringError::NoSpring`], and as [`new`](Self::new).
    pub fn with_spring_rate(&self, rate: SpringRate, preload: Length) -> Result<Self> {
        self.with_spring(|spring| spring.replaced(Spring::linear(rate)?, preload))
    }

    fn with_spring(&self, change: impl Fn(&Preloaded) -> Result<Preloaded>) -> Result<Self> {
        let spring = self.parts.spring.as_ref().ok_or_else(|| SpringError::NoSpring { part: "shock".to_owned() })?;
        self.with_parts(ShockParts { spring: Some(change(spring)?), ..self.parts.clone() })
    }

    fn with_parts(&self, parts: ShockParts) -> Result<Self> {
        let shock = Self::of_length(self.length, self.full_stroke, parts, self.count)?;
        Ok(Self { assumed_stroke: self.assumed_stroke, ..shock })
    }

    /// The shock with these exponents for all its gas.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn with_exponents(&self, exponents: Exponents) -> Result<Self> {
        let reservoir = self.parts.reservoir.map(|gas| gas.with_exponents(exponents));
        let air_spring = self.parts.air_spring.map(|spring| spring.with_exponents(exponents));
        self.with_parts(ShockParts { reservoir, air_spring, ..self.parts.clone() })
    }

    /// The shock with its gas running in these conditions.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn running_in(&self, conditions: Conditions) -> Result<Self> {
        let reservoir = self.parts.reservoir.map(|gas| gas.running_in(conditions));
        let air_spring = self.parts.air_spring.map(|spring| spring.running_in(conditions));
        self.with_parts(ShockParts { reservoir, air_spring, ..self.parts.clone() })
    }

    /// The shock with its gas at this temperature, each in the surroundings that it runs in.
    ///
    /// # Errors
    /// As [`new`](Self::new), and unless it lies from −60 °C to 200 °C.
    pub fn warmed_to(&self, temperature: Temperature) -> Result<Self> {
        let reservoir = self.parts.reservoir.map(|gas| gas.warmed_to(temperature)).transpose()?;
        let air_spring = self.parts.air_spring.map(|spring| spring.warmed_to(temperature)).transpose()?;
        self.with_parts(ShockParts { reservoir, air_spring, ..self.parts.clone() })
    }

    /// Compression that the main spring has left at full stroke; `None` where its end is not known.
    #[must_use]
    pub fn bind_clearance(&self) -> Option<Length> {
        self.parts.spring.as_ref().and_then(|spring| spring.clearance(self.full_stroke))
    }

    /// Friction of all shocks together, along their axis; `None` where none is stated.
    #[must_use]
    pub fn friction(&self) -> Option<SealFriction> {
        (0..self.count).filter_map(|_| self.parts.friction).reduce(SealFriction::beside)
    }

    /// The dampers of all shocks together, along their axis; `None` where none is stated.
    #[must_use]
    pub fn damper(&self) -> Option<Damper> {
        let one = self.parts.damper.as_ref()?;
        (1..self.count).try_fold(one.clone(), |all, _| Some(all.beside(one)))
    }

    pub(crate) fn gas_part(&self, s: f64) -> Axial {
        self.strut.gas_part(s) * f64::from(self.count)
    }

    /// Main springs of all shocks: `G(x)`, `x` the stroke plus a change of preload.
    #[inline]
    pub(crate) fn spring_part(&self, x: f64) -> Axial {
        self.strut.spring_part(x) * f64::from(self.count)
    }

    /// Gas and stops of all shocks: `R(s)`.
    #[inline]
    pub(crate) fn rest_part(&self, s: f64) -> Axial {
        self.strut.rest_part(s) * f64::from(self.count)
    }

    fn fast_gas(&self, rest: f64, s: f64) -> Fast {
        self.strut.fast_gas(rest, s) * f64::from(self.count)
    }

    /// Gas and stops of all shocks at a stroke reached fast from rest at another.
    pub(crate) fn fast_part(&self, rest: f64, s: f64) -> Fast {
        self.strut.fast_part(rest, s) * f64::from(self.count)
    }

    asked_along_the_stroke!("shock");
}

impl AxialElement for Shock {
    fn at(&self, stroke: Length) -> Result<AxialState> {
        Ok(self.eval(self.within(stroke)?).typed())
    }

    fn fast_at(&self, rest: Length, stroke: Length) -> Result<AxialState> {
        let (rest, s) = (self.within(rest)?, self.within(stroke)?);
        Ok((self.spring_part(s) + self.fast_part(rest, s).state).typed())
    }

    fn full_stroke(&self) -> Option<Length> {
        Some(self.full_stroke)
    }

    fn kinks(&self) -> Vec<Length> {
        tidy_kinks(self.strut.jumps(), self.full_stroke.si())
    }

    fn describe(&self) -> String {
        let head = format!(
            "{}, {} between the eyes, stroke {}",
            if self.count == 1 { "shock" } else { "two shocks" },
            self.length.map_or("unknown".to_owned(), |length| show(length, "mm", 1)),
            show(self.full_stroke, "mm", 1)
        );
        let parts = [
            Some(head),
            self.parts.spring.as_ref().map(AxialElement::describe),
            self.parts.reservoir.as_ref().map(Reservoir::describe),
            self.parts.air_spring.as_ref().map(AirSpring::describe),
            self.parts.bump_stop.as_ref().map(|stop| stop.describe("bump stop", "last")),
            self.parts.top_out.as_ref().map(|stop| stop.describe("top-out spring", "first")),
            self.parts.damper.as_ref().map(Damper::describe),
            self.parts.friction.map(|friction| format!("friction {}", show(friction.force(), "N", 0))),
        ];
        let own = self.parts.own.iter().map(|element| element.element().describe());
        parts.into_iter().flatten().chain(own).collect::<Vec<_>>().join("\n")
    }
}

#[cfg(test)]
mod tests;
