//! One element along its own axis: force, rate and energy as functions of stroke.
//!
//! `F(s)`, `k(s) = dF/ds`, `E(s)` with `dE/ds = F`.
//!
//! Conventions, for every spring, chamber, stop, fork and shock of the library:
//! - Stroke `s` is the shortening from full extension, zero or more.
//! - Force is positive when it pushes the end open.
//! - Energy is what the springs have stored, preload included; gas counts from full extension. Differences of energy
//!   are what is meant: the zero has no meaning of its own.
//! - Exactly at a kink the softer side's rate holds. One exception: a spring that just touches at zero compression
//!   counts with its rate, because at stroke 0 with zero preload there is no other side.

mod fast;
mod own;

pub(crate) use fast::Fast;
pub use fast::FastState;
pub use own::OwnElement;
pub(crate) use own::disagreement;

use core::fmt::Debug;
use core::ops::{Add, AddAssign, Mul};

use crate::error::{Result, SpringError};
use crate::units::{Energy, Force, Length, Quantity, SpringRate, brief, wheel_rate_si};

/// Force, rate and energy at one stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct AxialState {
    /// Axial force, positive when it pushes the end open.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub force: Force,
    /// Slope of the force over the stroke.
    pub rate: SpringRate,
    /// Energy stored.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub energy: Energy,
}

impl AxialState {
    /// No force, rate or energy.
    #[must_use]
    pub fn none() -> Self {
        Axial::default().typed()
    }
}

/// Force, rate and energy over many strokes, as arrays of one length.
#[derive(Debug, Clone, PartialEq, Default)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct AxialCurve {
    /// Strokes asked for.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub stroke: Vec<Length>,
    /// Axial force at each.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub force: Vec<Force>,
    /// Rate at each.
    pub rate: Vec<SpringRate>,
    /// Energy at each.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub energy: Vec<Energy>,
}

/// Anything that makes a force along its own axis.
///
/// Open to other crates. A law of your own goes into a fork leg or a shock as [`OwnElement`], or as a spring with preload
/// and rate that the fit varies as [`OwnSpring`](crate::spring::OwnSpring); either is checked when it is taken.
pub trait AxialElement: Debug + Send + Sync {
    /// Force, rate and energy at a stroke.
    ///
    /// # Errors
    /// [`SpringError::OutOfStroke`] outside 0 to [`full_stroke`](Self::full_stroke).
    fn at(&self, stroke: Length) -> Result<AxialState>;

    /// The far end of the stroke; `None` for an element that has no end of its own, such as a coil of unknown solid
    /// length.
    fn full_stroke(&self) -> Option<Length>;

    /// Strokes strictly inside the range at which the rate jumps, in rising order.
    fn kinks(&self) -> Vec<Length>;

    /// What it is, in words and numbers, for a reader.
    fn describe(&self) -> String;

    /// Force, rate and energy at a stroke reached fast, in a tenth of a second or two, from where the element had settled.
    /// Gas answers with its fast exponent from the pressure that it had at rest; whatever holds no gas is as it is slowly.
    /// The energy is that of the rest and the work done since.
    ///
    /// # Errors
    /// As [`at`](Self::at), for either stroke.
    fn fast_at(&self, rest: Length, stroke: Length) -> Result<AxialState> {
        self.at(rest)?;
        self.at(stroke)
    }

    /// Force, rate and energy over many strokes.
    ///
    /// # Errors
    /// As [`at`](Self::at), for the first stroke that fails.
    fn curve(&self, strokes: &[Length]) -> Result<AxialCurve> {
        curve_of(strokes, |stroke| self.at(stroke))
    }

    /// Force, rate and energy over many strokes, all reached fast from one rest.
    ///
    /// # Errors
    /// As [`fast_at`](Self::fast_at), for the first stroke that fails.
    fn fast_curve(&self, rest: Length, strokes: &[Length]) -> Result<AxialCurve> {
        curve_of(strokes, |stroke| self.fast_at(rest, stroke))
    }
}

fn curve_of(strokes: &[Length], state_at: impl Fn(Length) -> Result<AxialState>) -> Result<AxialCurve> {
    let mut curve = AxialCurve::default();
    for &stroke in strokes {
        let state = state_at(stroke)?;
        curve.stroke.push(stroke);
        curve.force.push(state.force);
        curve.rate.push(state.rate);
        curve.energy.push(state.energy);
    }
    Ok(curve)
}

/// The kernel's state, in SI units.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Axial {
    pub(crate) force: f64,
    pub(crate) rate: f64,
    /// `dk/ds`; where it jumps, that of one side.
    pub(crate) slope: f64,
    pub(crate) energy: f64,
}

impl Axial {
    #[inline]
    pub(crate) fn typed(self) -> AxialState {
        AxialState {
            force: Force::from_si(self.force),
            rate: SpringRate::from_si(self.rate),
            energy: Energy::from_si(self.energy),
        }
    }

    /// Force and rate across a motion ratio: `F·MR` and `k·MR² + F·dMR/dz`.
    #[inline]
    pub(crate) fn at_wheel(&self, ratio: f64, slope: f64) -> (f64, f64) {
        (self.force * ratio, wheel_rate_si(self.rate, self.force, ratio, slope))
    }

    /// First-order changes of [`at_wheel`](Self::at_wheel) with changes of stroke, motion ratio and its slope.
    pub(crate) fn change_at_wheel(&self, [ratio, slope]: [f64; 2], by: [f64; 3]) -> [f64; 2] {
        let [by_stroke, by_ratio, by_slope] = by;
        [
            self.rate * ratio * by_stroke + self.force * by_ratio,
            (self.slope * ratio * ratio + self.rate * slope) * by_stroke
                + 2.0 * self.rate * ratio * by_ratio
                + self.force * by_slope,
        ]
    }
}

impl Add for Axial {
    type Output = Self;
    #[inline]
    fn add(self, other: Self) -> Self {
        Self {
            force: self.force + other.force,
            rate: self.rate + other.rate,
            slope: self.slope + other.slope,
            energy: self.energy + other.energy,
        }
    }
}

impl AddAssign for Axial {
    #[inline]
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Mul<f64> for Axial {
    type Output = Self;
    #[inline]
    fn mul(self, factor: f64) -> Self {
        Self {
            force: self.force * factor,
            rate: self.rate * factor,
            slope: self.slope * factor,
            energy: self.energy * factor,
        }
    }
}

impl core::iter::Sum for Axial {
    #[inline]
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::default(), Add::add)
    }
}

/// A stroke this far beyond an end, as a share of the full stroke, is the end itself after a conversion of units or a
/// projection (a few hundred roundings of 1.1e-16).
pub(crate) const END_ROUNDING: f64 = 1e-13;

/// The stroke in SI, checked against 0 and the far end.
pub(crate) fn stroke_within(part: &str, stroke: Length, full: Option<f64>) -> Result<f64> {
    let s = crate::units::check::finite("stroke", stroke)?.si();
    let slack = END_ROUNDING * full.unwrap_or(0.0);
    if s < -slack || full.is_some_and(|full| s > full + slack) {
        return Err(SpringError::OutOfStroke {
            part: part.to_owned(),
            found: brief(stroke),
            full: full.map_or_else(|| "any".to_owned(), |full| brief(Length::from_si(full))),
        }
        .into());
    }
    Ok(s)
}

/// Kinks inside `0 < s < full`, sorted, without repeats.
pub(crate) fn tidy_kinks(mut kinks: Vec<f64>, full: f64) -> Vec<Length> {
    kinks.retain(|&s| s > 0.0 && s < full);
    kinks.sort_by(f64::total_cmp);
    kinks.dedup_by(|a, b| (*a - *b).abs() <= END_ROUNDING * full);
    kinks.into_iter().map(Length::from_si).collect()
}

/// Checks that hold for every element, for the tests of each.
#[cfg(test)]
pub(crate) mod testing {
    use super::*;

    /// Five-point Gauss–Legendre on one smooth piece (Abramowitz & Stegun, table 25.4).
    const NODES: [(f64, f64); 3] = [
        (0.0, 0.568_888_888_888_888_9),
        (0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
        (0.906_179_845_938_664, 0.236_926_885_056_189_08),
    ];

    fn integral(f: &dyn Fn(f64) -> f64, from: f64, to: f64) -> f64 {
        let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
        NODES
            .iter()
            .map(|&(x, w)| if x == 0.0 { w * f(middle) } else { w * (f(middle + half * x) + f(middle - half * x)) })
            .sum::<f64>()
            * half
    }

    /// The kernel's slope is the derivative of its rate at these strokes, away from kinks.
    pub(crate) fn assert_slope(eval: impl Fn(f64) -> Axial, strokes: impl IntoIterator<Item = f64>) {
        /// Step of the central difference in metres, and what rounding and truncation leave, as a share of the rate
        /// over the step and of the slope.
        const STEP: f64 = 1e-5;
        const ROUNDING: f64 = 1e-13;
        const TRUNCATION: f64 = 1e-6;
        for s in strokes {
            let [more, less] = [s + STEP, s - STEP].map(&eval);
            let (difference, state) = ((more.rate - less.rate) / (2.0 * STEP), eval(s));
            let allowed = ROUNDING * state.rate.abs() / STEP + TRUNCATION * state.slope.abs();
            assert!((state.slope - difference).abs() <= allowed, "slope at {s}: {} or {difference}", state.slope);
        }
    }

    /// Energy is the integral of the force, rate its derivative between kinks, force and energy continuous at kinks.
    pub(crate) fn assert_consistent(element: &dyn AxialElement, full: f64) {
        assert_consistent_within(element, full, 1e-9, 1e-6);
    }

    /// As above, with the tolerances of energy (as a share of the largest value met) and rate stated: where the slope
    /// of the rate jumps inside a panel, quadrature and difference lose digits.
    pub(crate) fn assert_consistent_within(element: &dyn AxialElement, full: f64, energy: f64, rate: f64) {
        /// Panels between two kinks: the steepest gas tested converges to the tolerance with these.
        const PANELS: usize = 64;
        /// Step of the central difference, as a share of the stroke: its rounding is 1e-9 of force per stroke.
        const STEP: f64 = 1e-7;
        let at = |s: f64| {
            let state = element.at(Length::from_si(s)).unwrap();
            (state.force.si(), state.rate.si(), state.energy.si())
        };
        let mut ends = vec![0.0];
        ends.extend(element.kinks().into_iter().map(Quantity::si).filter(|kink| *kink < full));
        ends.push(full);
        let scale = ends.iter().map(|&s| at(s).2.abs().max(at(s).0.abs() * full)).fold(f64::MIN_POSITIVE, f64::max);
        let rate_scale = scale / (full * full);
        for piece in ends.windows(2) {
            let (from, to) = (piece[0], piece[1]);
            let step = (to - from) / PANELS as f64;
            let work: f64 =
                (0..PANELS).map(|i| integral(&|s| at(s).0, from + step * i as f64, from + step * (i + 1) as f64)).sum();
            assert!(
                (at(to).2 - at(from).2 - work).abs() <= energy * scale,
                "energy {from} to {to}: {work} {:?} {:?}",
                at(from),
                at(to)
            );
            for i in 0..PANELS {
                let middle = from + step * (i as f64 + 0.5);
                let h = (STEP * full).min(0.25 * step);
                let slope = (at(middle + h).0 - at(middle - h).0) / (2.0 * h);
                assert!(
                    (slope - at(middle).1).abs() <= rate * (at(middle).1.abs() + rate_scale),
                    "rate at {middle}: {slope} {:?}",
                    at(middle)
                );
            }
        }
        let tiny = 1e-9 * full;
        for &kink in &ends[1..ends.len() - 1] {
            let (left, here, right) = (at(kink - tiny), at(kink), at(kink + tiny));
            let jump = 2.0 * tiny * (left.1.abs() + right.1.abs()) + energy * scale / full;
            assert!((left.0 - here.0).abs() <= jump && (right.0 - here.0).abs() <= jump, "force jumps at {kink}");
            let one_side = |side: f64| (here.1 - side).abs() <= rate * (here.1 + rate_scale);
            assert!(one_side(left.1) || one_side(right.1), "rate at {kink}: {left:?} {here:?} {right:?}");
        }
    }
}
