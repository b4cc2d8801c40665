//! The fork: two legs on one stroke, along the steering axis.
//!
//! `F(u) = F_left(u) + F_right(u)` over the stroke `u` along the fork. The legs may differ: one may have no spring, no
//! air, another oil level.
//!
//! At the wheel, with rake `ε` from the vertical: vertical travel `z = u·cos ε`, so the motion ratio `du/dz = 1/cos ε` is
//! constant, vertical force `F/cos ε`, vertical rate `k/cos² ε` (Cossalter, *Motorcycle Dynamics*, ch. 5). Frictionless
//! sliding, brake off, tubes straight.

mod leg;
mod level;

pub use leg::ForkLeg;
pub use level::LevelOffset;

use crate::axial::{Axial, AxialElement, AxialState, Fast, stroke_within, tidy_kinks};
use crate::error::{Result, SpringError, UnitError};
use crate::friction::SealFriction;
use crate::gas::{Conditions, Exponents};
use crate::record::Usual;
use crate::spring::{MainSpring, Preloaded};
use crate::strut::Strut;
use crate::units::{Angle, Length, MotionRatio, Quantity, SpringRate, Uncertain, check, show};

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
        Ok(Self { full_stroke, rake, rake_uncertainty: None, legs, struts, assumed_rake, alike })
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
        Ok(Self { alike: self.alike, ..fork })
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
        let Self { rake_uncertainty, assumed_rake, alike, .. } = *self;
        Ok(Self { rake_uncertainty, assumed_rake, alike, ..changed })
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

    /// The springs alone at a stroke: main springs of both legs.
    ///
    /// # Errors
    /// [`SpringError::OutOfStroke`].
    pub fn springs_at(&self, stroke: Length) -> Result<AxialState> {
        Ok(self.spring_part(self.within(stroke)?).typed())
    }

    /// The gas alone at a stroke.
    ///
    /// # Errors
    /// [`SpringError::OutOfStroke`].
    pub fn gas_at(&self, stroke: Length) -> Result<AxialState> {
        Ok(self.gas_part(self.within(stroke)?).typed())
    }

    pub(crate) fn gas_part(&self, s: f64) -> Axial {
        self.struts.iter().map(|strut| strut.gas_part(s)).sum()
    }

    /// The gas alone at a stroke reached fast from rest at another.
    ///
    /// # Errors
    /// [`SpringError::OutOfStroke`], for either stroke.
    pub fn fast_gas_at(&self, rest: Length, stroke: Length) -> Result<AxialState> {
        let (rest, s) = (self.within(rest)?, self.within(stroke)?);
        Ok(self.fast_gas(rest, s).state.typed())
    }

    /// The rate of a small fast movement about a stroke at which the bike has come to rest: there the gas answers with
    /// `fast/slow` times its slow rate.
    ///
    /// # Errors
    /// [`SpringError::OutOfStroke`].
    pub fn fast_rate_at(&self, stroke: Length) -> Result<SpringRate> {
        Ok(self.fast_at(stroke, stroke)?.rate)
    }

    fn within(&self, stroke: Length) -> Result<f64> {
        stroke_within("fork", stroke, Some(self.full_stroke.si()))
    }

    /// Main springs of both legs: `G(x)`, `x` the stroke plus a common change of preload.
    pub(crate) fn spring_part(&self, x: f64) -> Axial {
        self.struts.iter().map(|strut| strut.spring_part(x)).sum()
    }

    /// Gas and stops of both legs: `R(s)`.
    pub(crate) fn rest_part(&self, s: f64) -> Axial {
        self.struts.iter().map(|strut| strut.rest_part(s)).sum()
    }

    fn fast_gas(&self, rest: f64, s: f64) -> Fast {
        self.struts.iter().map(|strut| strut.fast_gas(rest, s)).sum()
    }

    /// Gas and stops of both legs at a stroke reached fast from rest at another.
    pub(crate) fn fast_part(&self, rest: f64, s: f64) -> Fast {
        self.struts.iter().map(|strut| strut.fast_part(rest, s)).sum()
    }

    /// The kernel: everything, settled.
    pub(crate) fn eval(&self, s: f64) -> Axial {
        self.spring_part(s) + self.rest_part(s)
    }
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
mod tests {
    use super::*;
    use crate::axial::testing::assert_consistent;
    use crate::gas::ForkAir;
    use crate::spring::Stop;
    use crate::units::{Force, parse};
    use proptest::prelude::*;

    fn mm(length: f64) -> Length {
        Length::from_si(length * 1e-3)
    }

    fn spring(rate: f64, preload: f64) -> Preloaded {
        Preloaded::linear(SpringRate::from_si(rate * 1e3), mm(preload)).unwrap()
    }

    fn air(level: f64) -> ForkAir {
        ForkAir::new(mm(47.0), mm(43.0), mm(level)).unwrap()
    }

    fn fork(legs: [ForkLeg; 2]) -> Fork {
        Fork::new(mm(290.0), parse("26.5 deg").unwrap(), legs).unwrap()
    }

    #[test]
    fn legs_act_side_by_side_and_may_differ() {
        let both = fork([
            ForkLeg::new().with_spring(spring(4.8, 6.0)).with_air(air(105.0)),
            ForkLeg::new().with_air(air(140.0)),
        ]);
        let sprung = fork([both.legs()[0].clone(), ForkLeg::new()]);
        let airy = fork([ForkLeg::new(), both.legs()[1].clone()]);
        for s in [0.0, 100.0, 290.0] {
            let sum = sprung.at(mm(s)).unwrap().force + airy.at(mm(s)).unwrap().force;
            let force = both.at(mm(s)).unwrap().force;
            assert!((force - sum).si().abs() < 1e-9, "rounding of a sum of kN");
            let split = both.springs_at(mm(s)).unwrap().force + both.gas_at(mm(s)).unwrap().force;
            assert!((force - split).si().abs() < 1e-9);
        }
        assert_eq!(both.main_spring().unwrap().rate, SpringRate::from_si(4800.0));
        assert_eq!(fork([ForkLeg::new(), ForkLeg::new()]).main_spring(), None);
    }

    #[test]
    fn a_spring_change_is_the_scaled_and_shifted_spring_part() {
        let leg = ForkLeg::new().with_spring(spring(4.8, 6.0)).with_air(air(105.0));
        let before = fork([leg.clone(), leg]);
        let after = before.with_spring_change(1.1, mm(3.0)).unwrap();
        let expected = before.spring_part(0.1 + 0.003) * 1.1 + before.rest_part(0.1);
        let found = after.eval(0.1);
        assert!((found.force - expected.force).abs() < 1e-9 && (found.rate - expected.rate).abs() < 1e-9);
        let replaced = before.with_spring_rate(SpringRate::from_si(5000.0), mm(8.0)).unwrap();
        assert_eq!(replaced.main_spring().unwrap().each, vec![(SpringRate::from_si(5000.0), mm(8.0)); 2]);
        let bare = fork([ForkLeg::new(), ForkLeg::new()]).with_spring_change(1.1, mm(0.0)).unwrap_err();
        assert_eq!(bare, SpringError::NoSpring { part: "fork".to_owned() }.into());
    }

    #[test]
    fn names_the_leg_at_fault() {
        let flooded = ForkLeg::new().with_air(air(20.0).with_steel(parse("70 cm3").unwrap()).unwrap());
        let message =
            Fork::new(mm(290.0), parse("26.5 deg").unwrap(), [ForkLeg::new(), flooded]).unwrap_err().to_string();
        assert!(message.starts_with("leg[1].air.oil_level: "), "{message}");
        let late = ForkLeg::new().with_bump_stop(Stop::linear(parse("40 N/mm").unwrap(), mm(60.0)).unwrap());
        let message = Fork::new(mm(50.0), parse("26.5 deg").unwrap(), [late, ForkLeg::new()]).unwrap_err().to_string();
        assert!(message.starts_with("leg[0].bump_stop.acts_over: "), "{message}");
    }

    #[test]
    fn friction_adds_over_the_legs_and_grows_at_the_wheel() {
        let dry = ForkLeg::new().with_friction(SealFriction::new(Force::from_si(20.0)).unwrap());
        let both = fork([dry.clone(), dry]);
        let friction = both.friction().unwrap();
        assert_eq!(friction.force().si(), 40.0);
        let expected = 40.0 / 26.5f64.to_radians().cos();
        assert!((friction.at_wheel(both.motion_ratio()).si() - expected).abs() < 1e-12 * expected);
        assert_eq!(fork([ForkLeg::new(), ForkLeg::new()]).friction(), None);
    }

    #[test]
    fn hangs_below_full_extension_on_its_top_out_spring() {
        let leg = ForkLeg::new()
            .with_spring(spring(4.8, 6.0))
            .with_top_out(Stop::linear(parse("20 N/mm").unwrap(), mm(25.0)).unwrap());
        let one = fork([leg, ForkLeg::new()]);
        assert!(one.at(mm(0.0)).unwrap().force.si() < 0.0 && one.at(mm(25.0)).unwrap().force.si() > 0.0);
        assert_eq!(one.kinks(), vec![mm(25.0)]);
        assert_consistent(&one, 0.29);
    }

    #[test]
    fn reads_and_writes_text() {
        let text = r#"{"travel": "290 mm", "rake": "26.5 deg", "leg": [
            {"spring": {"rate": "4.8 N/mm", "preload": "6 mm", "free_length": "480 mm", "solid_length": "170 mm"},
             "air": {"sealing_diameter": "47 mm", "bore": "43 mm", "oil_level": "105 mm", "exponent": {"slow": 1.0, "fast": 1.35}, "steel_volume": "40 cm3"},
             "bump_stop": {"rate": "60 N/mm", "acts_over": "25 mm"}, "friction": "18 N"},
            {"top_out": {"rate": "12 N/mm", "acts_over": "30 mm"}}]}"#;
        let fork: Fork = serde_json::from_str(text).unwrap();
        assert_eq!(fork.bind_clearance().map(|clearance| (clearance.si() * 1e6).round()), Some(14e3));
        let again: Fork = serde_json::from_str(&serde_json::to_string(&fork).unwrap()).unwrap();
        assert_eq!(again, fork);
        assert!(serde_json::from_str::<Fork>(&text.replace("290 mm", "290")).unwrap_err().to_string().contains("unit"));
        let fault = serde_json::from_str::<Fork>(&text.replace("friction", "stiction")).unwrap_err().to_string();
        assert!(fault.starts_with("leg[0].stiction: unknown key `stiction`; did you mean `friction`?"), "{fault}");
        assert!(fork.describe().contains("leg 2: top-out spring"), "{}", fork.describe());
    }

    #[test]
    fn a_small_fast_movement_meets_the_gas_stiffer_by_its_exponents() {
        let leg = ForkLeg::new().with_spring(spring(4.8, 6.0)).with_air(air(105.0));
        let fork = fork([leg.clone(), leg]).with_exponents(Exponents::new(1.1, 1.4).unwrap()).unwrap();
        let (slow, fast) = (fork.at(mm(80.0)).unwrap(), fork.fast_rate_at(mm(80.0)).unwrap());
        let gas = fork.gas_at(mm(80.0)).unwrap().rate;
        assert!((fast.si() - slow.rate.si() - (1.4 / 1.1 - 1.0) * gas.si()).abs() < 1e-9 * fast.si());
        // At the rest itself nothing has moved: force and energy are those at rest.
        let there = fork.fast_at(mm(80.0), mm(80.0)).unwrap();
        assert!((there.force - slow.force).si().abs() < 1e-9 && (there.energy - slow.energy).si().abs() < 1e-9);
        assert!(fork.fast_at(mm(291.0), mm(80.0)).is_err() && fork.fast_at(mm(80.0), mm(291.0)).is_err());
    }

    #[test]
    fn without_gas_fast_is_slow() {
        let leg = ForkLeg::new()
            .with_spring(spring(4.8, 6.0))
            .with_bump_stop(Stop::linear(parse("60 N/mm").unwrap(), mm(25.0)).unwrap());
        let dry = fork([leg.clone(), leg]);
        for s in [0.0, 140.0, 285.0] {
            assert_eq!(dry.fast_at(mm(80.0), mm(s)).unwrap(), dry.at(mm(s)).unwrap());
        }
    }

    proptest! {
        #[test]
        fn energy_force_and_rate_agree(rate in 2.0..10.0_f64, preload in -20.0..30.0_f64, level in 60.0..200.0_f64, over in 5.0..60.0_f64) {
            let stop = Stop::linear(SpringRate::from_si(3e4), mm(over)).unwrap();
            let leg = ForkLeg::new().with_spring(spring(rate, preload)).with_air(air(level)).with_bump_stop(stop.clone());
            assert_consistent(&fork([leg, ForkLeg::new().with_top_out(stop)]), 0.29);
        }
    }
}
