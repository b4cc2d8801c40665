//! Quantities that uom lacks or confuses, as newtypes: force per length is a radiant exposure to uom, and a spring rate,
//! a wheel rate and a surface tension would all be the same type.

use core::fmt;
use core::ops::{Add, Div, Mul};

use super::{Force, Kind, Length, Quantity, Velocity, check, kind};
use crate::error::UnitError;

macro_rules! newtype {
    ($(#[$doc:meta])* $name:ident, $kind:ident, $check:ident, $field:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl Quantity for $name {
            const KIND: &'static Kind = &kind::$kind;
            fn from_si(value: f64) -> Self {
                Self(value)
            }
            fn si(self) -> f64 {
                self.0
            }
            fn checked(self) -> Result<Self, UnitError> {
                check::$check($field, self)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.display().fmt(formatter)
            }
        }

        impl core::str::FromStr for $name {
            type Err = UnitError;
            fn from_str(text: &str) -> Result<Self, UnitError> {
                super::parse(text)
            }
        }

        #[cfg(feature = "serde")]
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                super::text_serde::serialize(self, serializer)
            }
        }

        #[cfg(feature = "serde")]
        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                super::text_serde::deserialize(deserializer)
            }
        }
    };
}

newtype!(
    /// Rate of a spring along its own axis, `k = dF/ds`. Never negative.
    SpringRate, SPRING_RATE, not_negative, "spring rate"
);
newtype!(
    /// Rate at the wheel, `k_w = dF_w/dz`, the geometric term included. May be negative on a falling-rate linkage.
    WheelRate, WHEEL_RATE, finite, "wheel rate"
);
newtype!(
    /// Damping rate, force per velocity.
    DampingRate, DAMPING_RATE, not_negative, "damping rate"
);
newtype!(
    /// Motion ratio `MR = ds/dz`: shock stroke per wheel travel. Its inverse is the [`LeverageRatio`].
    MotionRatio, MOTION_RATIO, positive, "motion ratio"
);
newtype!(
    /// Leverage ratio `dz/ds`: wheel travel per shock stroke. Its inverse is the [`MotionRatio`].
    LeverageRatio, LEVERAGE_RATIO, positive, "leverage ratio"
);
newtype!(
    /// Slope of the motion ratio over wheel travel, `dMR/dz`. Positive on a rising-rate linkage.
    MotionRatioSlope, MOTION_RATIO_SLOPE, finite, "motion ratio slope"
);
newtype!(
    /// Pressure above the surrounding air.
    GaugePressure, GAUGE_PRESSURE, finite, "gauge pressure"
);
newtype!(
    /// Pressure above vacuum. Never negative.
    AbsolutePressure, ABSOLUTE_PRESSURE, not_negative, "absolute pressure"
);
newtype!(
    /// Stress or elastic modulus.
    Stress, STRESS, finite, "stress"
);
newtype!(
    /// Share of a whole, e.g. sag as a share of the travel.
    Share, SHARE, finite, "share"
);

/// `k_w = k·MR² + F·dMR/dz` in SI numbers.
#[inline]
pub(crate) fn wheel_rate_si(rate: f64, force: f64, ratio: f64, slope: f64) -> f64 {
    rate * ratio * ratio + force * slope
}

impl SpringRate {
    /// The rate at the wheel: `k_w = k·MR² + F·dMR/dz`, with the spring force `F` at that travel.
    ///
    /// Virtual work; Milliken & Milliken, *Race Car Vehicle Dynamics*, installation ratio; Cossalter, *Motorcycle Dynamics*,
    /// ch. 5. Loops that iterate in plain SI numbers call `wheel_rate_si`.
    #[must_use]
    pub fn at_wheel(self, ratio: MotionRatio, force: Force, slope: MotionRatioSlope) -> WheelRate {
        WheelRate(wheel_rate_si(self.0, force.si(), ratio.0, slope.0))
    }

    /// Two springs side by side on the same stroke: `k = k₁ + k₂`.
    #[must_use]
    pub fn parallel(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }

    /// Two springs stacked end to end: `1/k = 1/k₁ + 1/k₂`. Zero when either rate is zero.
    #[must_use]
    pub fn series(self, other: Self) -> Self {
        let sum = self.0 + other.0;
        Self(if sum > 0.0 { self.0 / sum * other.0 } else { 0.0 })
    }
}

impl WheelRate {
    /// The spring rate that gives this wheel rate: `k = (k_w − F·dMR/dz)/MR²`, the inverse of [`SpringRate::at_wheel`].
    ///
    /// # Errors
    /// [`UnitError::Sign`] when the geometric term alone exceeds the wheel rate: no spring gives it.
    pub fn at_spring(self, ratio: MotionRatio, force: Force, slope: MotionRatioSlope) -> Result<SpringRate, UnitError> {
        check::not_negative("spring rate", SpringRate((self.0 - force.si() * slope.0) / (ratio.0 * ratio.0)))
    }
}

impl MotionRatio {
    /// The same ratio, wheel per shock.
    #[must_use]
    pub fn leverage_ratio(self) -> LeverageRatio {
        LeverageRatio(1.0 / self.0)
    }

    /// Force at the wheel of a force at the shock: `F_w = F·MR` (virtual work).
    #[must_use]
    pub fn force_at_wheel(self, shock_force: Force) -> Force {
        shock_force * self.0
    }
}

impl LeverageRatio {
    /// The same ratio, shock per wheel.
    #[must_use]
    pub fn motion_ratio(self) -> MotionRatio {
        MotionRatio(1.0 / self.0)
    }
}

impl GaugePressure {
    /// The same pressure above vacuum, in surroundings of the given pressure.
    ///
    /// # Errors
    /// [`UnitError::Sign`] when the sum is below zero.
    pub fn absolute(self, surroundings: AbsolutePressure) -> Result<AbsolutePressure, UnitError> {
        check::not_negative("absolute pressure", AbsolutePressure(self.0 + surroundings.0))
    }
}

impl AbsolutePressure {
    /// The same pressure above the given surroundings.
    #[must_use]
    pub fn gauge(self, surroundings: Self) -> GaugePressure {
        GaugePressure(self.0 - surroundings.0)
    }
}

macro_rules! product {
    ($left:ident * $right:ident = $result:ident) => {
        impl Mul<$right> for $left {
            type Output = $result;
            fn mul(self, right: $right) -> $result {
                $result::from_si(self.si() * right.si())
            }
        }
        impl Mul<$left> for $right {
            type Output = $result;
            fn mul(self, right: $left) -> $result {
                right * self
            }
        }
        impl Div<$left> for $result {
            type Output = $right;
            fn div(self, right: $left) -> $right {
                $right::from_si(self.si() / right.si())
            }
        }
    };
}

product!(SpringRate * Length = Force);
product!(WheelRate * Length = Force);
product!(DampingRate * Velocity = Force);

impl Add for SpringRate {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.parallel(other)
    }
}

impl Add for WheelRate {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

macro_rules! scale {
    ($($name:ident),+) => {
        $(impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        })+
    };
}

scale!(SpringRate, WheelRate, DampingRate, GaugePressure, AbsolutePressure, Stress, Share);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn springs_side_by_side_add_rates_and_end_to_end_add_lengths() {
        let (one, other) = (SpringRate::of(60.0, "N/mm").unwrap(), SpringRate::of(30.0, "N/mm").unwrap());
        assert!((one.parallel(other).in_unit("N/mm").unwrap() - 90.0).abs() < 1e-12);
        assert!((one.series(other).in_unit("N/mm").unwrap() - 20.0).abs() < 1e-12);
        assert!(one.series(SpringRate::from_si(0.0)).si().abs() < 1e-300);
    }

    #[test]
    fn a_sum_of_springs_is_springs_side_by_side_and_a_sum_of_wheel_rates_their_sum() {
        let (one, other) = (SpringRate::of(60.0, "N/mm").unwrap(), SpringRate::of(30.0, "N/mm").unwrap());
        assert_eq!(one + other, one.parallel(other));
        // 2^53 > 9e15: whole numbers of N/m add without rounding.
        assert_eq!(WheelRate::from_si(8000.0) + WheelRate::from_si(-500.0), WheelRate::from_si(7500.0));
    }

    #[test]
    fn a_force_is_rate_times_way_in_either_order_and_gives_the_way_back() {
        // Powers of two, which multiply and divide without rounding.
        let (way, speed) = (Length::from_si(0.125), Velocity::from_si(0.5));
        let (spring, wheel, damping) =
            (SpringRate::from_si(65536.0), WheelRate::from_si(8192.0), DampingRate::from_si(2048.0));
        for (one_way, other_way, newtons) in [
            (spring * way, way * spring, 8192.0),
            (wheel * way, way * wheel, 1024.0),
            (damping * speed, speed * damping, 1024.0),
        ] {
            assert_eq!((one_way.si(), other_way.si()), (newtons, newtons));
        }
        assert_eq!(((spring * way) / spring, (wheel * way) / wheel), (way, way));
        assert_eq!((damping * speed) / damping, speed);
    }

    #[test]
    fn the_spring_that_gives_a_wheel_rate_gives_it() {
        let ratio = MotionRatio::of(0.4, "shock/wheel").unwrap();
        let (force, slope) = (Force::from_si(2500.0), MotionRatioSlope::of(0.3, "1/m").unwrap());
        let wheel = SpringRate::from_si(60e3).at_wheel(ratio, force, slope);
        assert!((wheel.si() - (60e3 * 0.16 + 2500.0 * 0.3)).abs() < 1e-9);
        assert!((wheel.at_spring(ratio, force, slope).unwrap().si() - 60e3).abs() < 1e-9);
        assert!(WheelRate::from_si(100.0).at_spring(ratio, force, slope).is_err(), "the linkage alone gives more");
        assert!((ratio.leverage_ratio().si() - 2.5).abs() < 1e-15);
        assert!((ratio.leverage_ratio().motion_ratio().si() - 0.4).abs() < 1e-15);
        assert!((ratio.force_at_wheel(force).si() - 1000.0).abs() < 1e-12);
    }

    #[test]
    fn gauge_and_absolute_pressure_are_the_surroundings_apart() {
        let (gauge, surroundings) =
            (GaugePressure::of(10.0, "bar").unwrap(), AbsolutePressure::of(0.9, "bar").unwrap());
        let absolute = gauge.absolute(surroundings).unwrap();
        assert!((absolute.in_unit("bar").unwrap() - 10.9).abs() < 1e-12);
        assert!((absolute.gauge(surroundings).in_unit("bar").unwrap() - 10.0).abs() < 1e-12);
        assert!(GaugePressure::of(-1.0, "bar").unwrap().absolute(surroundings).is_err());
    }
}
