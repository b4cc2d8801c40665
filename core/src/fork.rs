//! The fork: two legs on one stroke, along the steering axis.
//!
//! `F(u) = F_left(u) + F_right(u)` over the stroke `u` along the fork. The legs may differ: one may have no spring, no
//! air, another oil level.
//!
//! At the wheel, with rake `ε` from the vertical: vertical travel `z = u·cos ε`, so the motion ratio `du/dz = 1/cos ε` is
//! constant, vertical force `F/cos ε`, vertical rate `k/cos² ε` (Cossalter, *Motorcycle Dynamics*, ch. 5). Frictionless
//! sliding, brake off, tubes straight.

mod bushes;
mod leg;
mod level;

pub use bushes::{BushLoads, Bushes, FrontBrake};
pub use leg::ForkLeg;
pub use level::LevelOffset;

use crate::axial::{Axial, AxialElement, AxialState, Fast, stroke_within, tidy_kinks};
use crate::damper::Damper;
use crate::error::{Result, SpringError, UnitError};
use crate::friction::SealFriction;
use crate::gas::{Conditions, Exponents};
use crate::record::Usual;
use crate::spring::{MainSpring, Preloaded};
use crate::strut::{Strut, asked_along_the_stroke};
use crate::units::{Angle, Length, MotionRatio, Quantity, SpringRate, Temperature, Uncertain, check, show};

/// A telescopic fork.
#[derive(Debug, Clone, PartialEq)]
pub struct Fork {
    full_stroke: Length,
    rake: Angle,
    rake_uncertainty: Option<Angle>,
    legs: [ForkLeg; 2],
    struts: [Strut; 2],
    /// Does nobody know the rake? Then it stands at what is usual.
    assumed_rake: bool,
    /// Were both legs described at once?
    alike: bool,
    bushes: Option<Bushes>,
}

impl Fork {
    /// A fork with this full stroke, along its tubes, at this rake from the vertical.
    ///
    /// # Errors
    /// When the full stroke is not from 20 mm to 600 mm, the rake not from 0° to 60°, a spring ends or the air is gone before
    /// full stroke, or a stop acts over more than the stroke.
    pub fn new(full_stroke: Length, rake: Angle, legs: [ForkLeg; 2]) -> Result<Self> {
        check::plausible("full_stroke", full_stroke, Length::from_si(0.02), Length::from_si(0.6))?;
        check::plausible("rake", rake, Angle::from_si(0.0), Angle::from_si(MOST_RAKE.to_radians()))
            .map_err(|error| from_the_horizontal(error, rake))?;
        let struts = [legs[0].strut("leg[0]", full_stroke)?, legs[1].strut("leg[1]", full_stroke)?];
        let (assumed_rake, alike) = (false, false);
        Ok(Self { full_stroke, rake, rake_uncertainty: None, legs, struts, assumed_rake, alike, bushes: None })
    }

    /// A fork whose rake nobody knows, at what is usual: the fit takes its uncertainty, and a file does not hold it.
    ///
    /// # Errors
    /// As [`new`](Self::new) and [`with_rake_uncertainty`](Self::with_rake_uncertainty).
    pub fn of_unknown_rake(full_stroke: Length, usual: Uncertain<Angle>, legs: [ForkLeg; 2]) -> Result<Self> {
        let fork = Self::new(full_stroke, usual.value, legs)?.with_rake_uncertainty(usual.standard_uncertainty)?;
        Ok(Self { assumed_rake: true, ..fork })
    }

    /// The fork, its legs described at once: a file then holds one description for both.
    #[cfg(feature = "serde")]
    pub(crate) fn described_at_once(self) -> Self {
        Self { alike: true, ..self }
    }

    /// Were both legs described at once, and are alike?
    #[must_use]
    pub fn is_described_at_once(&self) -> bool {
        self.alike && self.legs[0] == self.legs[1]
    }

    /// Is the rake assumed, because nobody stated it?
    #[must_use]
    pub fn is_rake_assumed(&self) -> bool {
        self.assumed_rake
    }

    /// The fork at what is usual, wherever nobody stated it.
    pub(crate) fn assuming(&self, usual: &Usual) -> Result<Self> {
        let [first, second] = &self.legs;
        let legs = [first.assuming(usual, self.full_stroke)?, second.assuming(usual, self.full_stroke)?];
        let fork = if self.assumed_rake {
            Self::of_unknown_rake(self.full_stroke, usual.rake, legs)?
        } else {
            Self { rake_uncertainty: self.rake_uncertainty, ..Self::new(self.full_stroke, self.rake, legs)? }
        };
        Ok(Self { alike: self.alike, bushes: self.bushes, ..fork })
    }

    /// Stroke along the tubes from full extension to full compression.
    #[must_use]
    pub fn full_stroke(&self) -> Length {
        self.full_stroke
    }

    /// Rake: angle of the steering axis from the vertical.
    #[must_use]
    pub fn rake(&self) -> Angle {
        self.rake
    }

    /// The fork with its rake known to this standard uncertainty. The fit, the advice and the sheet then hold it; without
    /// it the rake is taken as exact.
    ///
    /// # Errors
    /// Unless it is above 0° and at most 10°.
    pub fn with_rake_uncertainty(mut self, uncertainty: Angle) -> Result<Self> {
        check::positive("rake_uncertainty", uncertainty)?;
        let most = Angle::from_si(10f64.to_radians());
        self.rake_uncertainty = Some(check::plausible("rake_uncertainty", uncertainty, Angle::from_si(1e-9), most)?);
        Ok(self)
    }

    /// Standard uncertainty of the rake, where stated.
    #[must_use]
    pub fn rake_uncertainty(&self) -> Option<Angle> {
        self.rake_uncertainty
    }

    /// The fork with its bushes where these are: what they rub with under side load can then be asked.
    ///
    /// # Errors
    /// When the stroke would carry the lower bush past an axle in line with the tubes.
    pub fn with_bushes(self, bushes: Bushes) -> Result<Self> {
        bushes.check_stroke(self.full_stroke)?;
        Ok(Self { bushes: Some(bushes), ..self })
    }

    /// Its bushes, where stated.
    #[must_use]
    pub fn bushes(&self) -> Option<&Bushes> {
        self.bushes.as_ref()
    }

    /// What the bushes take at a stroke, and the friction of it: the load that the springs balance there, braked or not.
    ///
    /// ```
    /// use wheelrate::fork::{Bushes, FrontBrake};
    /// use wheelrate::{Bike, demo::PATROL, units::{Quantity, parse}};
    /// let bike = Bike::from_toml(PATROL)?;
    /// let bushes = Bushes::new(parse("180 mm")?, parse("420 mm")?)?.with_axle_offset(parse("35 mm")?)?;
    /// let fork = bike.front()?.fork()?.clone().with_bushes(bushes)?;
    /// let found = fork.bush_loads(parse("100 mm")?, &FrontBrake::default())?;
    /// assert!((found.friction_at_wheel.value.si() - 113.7).abs() < 1.0, "{found:?}");
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`SpringError::NoBushes`] where none are stated; [`SpringError::Binds`]; a stroke or a braking out of range.
    pub fn bush_loads(&self, stroke: Length, braking: &FrontBrake) -> Result<BushLoads> {
        let bushes = self.bushes.ok_or(SpringError::NoBushes)?;
        bushes.loads(stroke, self.at(stroke)?.force, self.rake.si(), braking)
    }

    /// The legs.
    #[must_use]
    pub fn legs(&self) -> &[ForkLeg; 2] {
        &self.legs
    }

    /// Stroke along the fork per vertical wheel travel, `1/cos ε`.
    #[must_use]
    pub fn motion_ratio(&self) -> MotionRatio {
        MotionRatio::from_si(1.0 / self.rake.si().cos())
    }

    /// The main springs of both legs together; `None` when neither leg has one.
    #[must_use]
    pub fn main_spring(&self) -> Option<MainSpring> {
        MainSpring::of(self.springs(), 1)
    }

    fn springs(&self) -> impl Iterator<Item = &Preloaded> {
        self.legs.iter().filter_map(ForkLeg::spring)
    }

    /// The fork with every main spring's rate times a factor, and more (or less) preload on each.
    ///
    /// # Errors
    /// [`SpringError::NoSpring`], and as [`new`](Self::new).
    pub fn with_spring_change(&self, rate_factor: f64, preload_change: Length) -> Result<Self> {
        self.with_each_spring(|spring| spring.changed(rate_factor, preload_change))
    }

    /// The fork with a coil spring of this rate and preload in each leg that has a main spring. The new springs' own
    /// lengths are not known, so nothing says whether they go solid.
    ///
    /// # Errors
    /// [`SpringError::NoSpring`], and as [`new`](Self::new).
    pub fn with_spring_rate(&self, rate: SpringRate, preload: Length) -> Result<Self> {
        self.with_each_spring(|spring| spring.replaced(crate::spring::Spring::linear(rate)?, preload))
    }

    fn with_each_spring(&self, change: impl Fn(&Preloaded) -> Result<Preloaded>) -> Result<Self> {
        if self.springs().next().is_none() {
            return Err(SpringError::NoSpring { part: "fork".to_owned() }.into());
        }
        self.with_legs(|leg| match leg.spring() {
            Some(spring) => Ok(leg.clone().with_spring(change(spring)?)),
            None => Ok(leg.clone()),
        })
    }

    fn with_legs(&self, change: impl Fn(&ForkLeg) -> Result<ForkLeg>) -> Result<Self> {
        let changed = Self::new(self.full_stroke, self.rake, [change(&self.legs[0])?, change(&self.legs[1])?])?;
        let Self { rake_uncertainty, assumed_rake, alike, bushes, .. } = *self;
        Ok(Self { rake_uncertainty, assumed_rake, alike, bushes, ..changed })
    }

    /// The fork with these exponents for all its gas.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn with_exponents(&self, exponents: Exponents) -> Result<Self> {
        self.with_legs(|leg| Ok(leg.with_exponents(exponents)))
    }

    /// The fork with its gas running in these conditions.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn running_in(&self, conditions: Conditions) -> Result<Self> {
        self.with_legs(|leg| Ok(leg.running_in(conditions)))
    }

    /// The fork with its gas at this temperature, each in the surroundings that it runs in.
    ///
    /// # Errors
    /// As [`new`](Self::new), and unless it lies from −60 °C to 200 °C.
    pub fn warmed_to(&self, temperature: Temperature) -> Result<Self> {
        self.with_legs(|leg| leg.warmed_to(temperature))
    }

    /// Least compression that any main spring has left at full stroke; `None` where no spring's end is known.
    #[must_use]
    pub fn bind_clearance(&self) -> Option<Length> {
        least(self.springs().filter_map(|spring| spring.clearance(self.full_stroke)))
    }

    /// Friction of both legs together, along the fork; `None` where neither leg states one.
    #[must_use]
    pub fn friction(&self) -> Option<SealFriction> {
        self.legs.iter().filter_map(ForkLeg::friction).copied().reduce(SealFriction::beside)
    }

    /// The dampers of both legs together, along the fork; `None` where neither leg has one.
    #[must_use]
    pub fn damper(&self) -> Option<Damper> {
        let [one, two] = [0, 1].map(|leg| self.legs[leg].damper());
        match (one, two) {
            (Some(one), Some(two)) => Some(one.beside(two)),
            (one, two) => one.or(two).cloned(),
        }
    }

    pub(crate) fn gas_part(&self, s: f64) -> Axial {
        self.struts.iter().map(|strut| strut.gas_part(s)).sum()
    }

    /// Main springs of both legs: `G(x)`, `x` the stroke plus a common change of preload.
    #[inline]
    pub(crate) fn spring_part(&self, x: f64) -> Axial {
        let [one, other] = &self.struts;
        one.spring_part(x) + other.spring_part(x)
    }

    /// Gas and stops of both legs: `R(s)`.
    #[inline]
    pub(crate) fn rest_part(&self, s: f64) -> Axial {
        let [one, other] = &self.struts;
        one.rest_part(s) + other.rest_part(s)
    }

    fn fast_gas(&self, rest: f64, s: f64) -> Fast {
        self.struts.iter().map(|strut| strut.fast_gas(rest, s)).sum()
    }

    /// Gas and stops of both legs at a stroke reached fast from rest at another.
    pub(crate) fn fast_part(&self, rest: f64, s: f64) -> Fast {
        self.struts.iter().map(|strut| strut.fast_part(rest, s)).sum()
    }

    asked_along_the_stroke!("fork");
}

impl AxialElement for Fork {
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
        tidy_kinks(self.struts.iter().flat_map(Strut::jumps).collect(), self.full_stroke.si())
    }

    fn describe(&self) -> String {
        let head = format!("fork, stroke {}, rake {}", show(self.full_stroke, "mm", 0), show(self.rake, "deg", 1));
        let legs = self.legs.iter().zip(["leg 1", "leg 2"]).map(|(leg, name)| format!("{name}: {}", leg.describe()));
        core::iter::once(head).chain(legs).collect::<Vec<_>>().join("\n")
    }
}

/// Largest rake taken (deg).
const MOST_RAKE: f64 = 60.0;

/// A rake that would be one if it was measured from the ground up: says so.
fn from_the_horizontal(error: UnitError, rake: Angle) -> UnitError {
    let other = 90.0 - rake.si().to_degrees();
    match error {
        UnitError::Implausible { field, kind, found, low, high, .. } if (10.0..=35.0).contains(&other) => {
            let suggestion = Some(format!("{} deg, from the vertical", (other * 10.0).round() / 10.0));
            UnitError::Implausible { field, kind, found, low, high, suggestion }
        }
        other => other,
    }
}

/// The least of some lengths.
pub(crate) fn least(lengths: impl Iterator<Item = Length>) -> Option<Length> {
    lengths.fold(None, |least, length| match least {
        Some(least) if least <= length => Some(least),
        _ => Some(length),
    })
}

#[cfg(test)]
mod tests;
