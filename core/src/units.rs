//! The whole unit vocabulary: uom quantities, our newtypes over them, exact factors, text in and out.
//!
//! | what | type | text |
//! |---|---|---|
//! | length, force, mass, energy, … | uom's SI `f64` quantities, re-exported here | `"105 mm"`, `"1.1 kN"`, `"64 kg"` |
//! | rate of a spring | [`SpringRate`] | `"52 N/mm"`, `"0.47 kgf/mm"`, `"26 lbf/in"` |
//! | rate at the wheel | [`WheelRate`] | as above |
//! | shock stroke per wheel travel | [`MotionRatio`] | `"0.42 shock/wheel"` |
//! | wheel travel per shock stroke | [`LeverageRatio`] | `"2.38 wheel/shock"` |
//! | pressure | [`GaugePressure`], [`AbsolutePressure`] | `"10 bar"` |
//!
//! All of them are made, read and printed alike, through [`Quantity`]:
//!
//! | to | write |
//! |---|---|
//! | make one, checked | `Length::of(102.0, "mm")?`, `parse::<Length>("102 mm")?` |
//! | read its number | `length.in_unit("mm")?` |
//! | show it to a reader | `length.display()`: five digits; `{:.1}` for decimals; of a rate `{rate}` alone |
//! | write it down | [`to_text`]: every bit; serde goes through the same text ([`text_serde`]) |
//!
//! A text always carries its unit. A spring rate becomes a wheel rate only through a motion ratio:
//! [`SpringRate::at_wheel`]. With uom's own units (`Length::new::<millimeter>(102.0)`), take them from [`uom`] here, so that
//! both are of one version.
//!
//! What must not compile, does not (each of these fails for the one reason it names):
//!
//! ```compile_fail,E0308
//! # use wheelrate::units::{SpringRate, WheelRate};
//! fn sag(_rate: WheelRate) {}
//! fn misuse(spring: SpringRate) {
//!     sag(spring); // a spring rate is not a wheel rate
//! }
//! ```
//! ```compile_fail,E0308
//! # use wheelrate::units::{LeverageRatio, MotionRatio};
//! fn misuse(leverage: LeverageRatio) -> MotionRatio {
//!     leverage // the inverse is wanted: leverage.motion_ratio()
//! }
//! ```
//! ```compile_fail,E0308
//! # use wheelrate::units::{AbsolutePressure, GaugePressure};
//! fn misuse(gauge: GaugePressure) -> AbsolutePressure {
//!     gauge // the surroundings are missing: gauge.absolute(ambient)
//! }
//! ```
//! ```compile_fail,E0277
//! # use wheelrate::units::{SpringRate, WheelRate};
//! fn misuse(spring: SpringRate, wheel: WheelRate) {
//!     let _ = spring + wheel; // rates of two different things
//! }
//! ```
//! ```compile_fail,E0308
//! # use wheelrate::units::Length;
//! fn misuse() -> Length {
//!     105.0 // of what?
//! }
//! ```
//!
//! and the way that does:
//!
//! ```
//! use wheelrate::units::{Force, MotionRatio, MotionRatioSlope, Quantity, SpringRate, parse};
//!
//! let spring = SpringRate::of(52.0, "N/mm")?;
//! let ratio = MotionRatio::of(0.42, "shock/wheel")?;
//! let wheel = spring.at_wheel(ratio, parse::<Force>("2.6 kN")?, MotionRatioSlope::of(0.4, "1/m")?);
//! assert!((wheel.in_unit("N/mm")? - (52.0 * 0.42 * 0.42 + 2600.0 * 0.0004)).abs() < 1e-12);
//! # Ok::<(), wheelrate::error::UnitError>(())
//! ```

pub mod check;
mod heard;
pub mod kind;
mod newtypes;
mod system;
mod text;
#[cfg(feature = "serde")]
pub mod text_serde;
mod uncertain;

pub use heard::heard;
pub use kind::Kind;
pub(crate) use newtypes::wheel_rate_si;
pub use newtypes::{
    AbsolutePressure, DampingRate, GaugePressure, LeverageRatio, MotionRatio, MotionRatioSlope, Share, SpringRate,
    Stress, WheelRate,
};
pub use system::UnitSystem;
pub use text::{Shown, exact_text, parse, parse_si, parse_unit, show, to_text};
pub(crate) use text::{as_written, brief};
pub use uncertain::{Uncertain, show_uncertain};

/// The crate whose quantities these are, in the version they come from: `wheelrate::units::uom::si::length::millimeter`.
pub use uom;
pub use uom::si::f64::{
    Acceleration, Angle, Area, Energy, Force, Frequency, Length, Mass, MassDensity, MomentOfInertia, ReciprocalLength,
    ThermodynamicTemperature as Temperature, Time, Velocity, Volume,
};

use crate::error::UnitError;

/// A quantity of one kind: what the text, the checks and the bindings need to know of it.
///
/// `si` and `from_si` are the one door between typed quantities and the SI `f64` kernels; both compile to nothing.
pub trait Quantity: Copy + core::fmt::Debug + 'static {
    /// Name and units of the kind.
    const KIND: &'static Kind;
    /// From a value in SI units, unchecked: the kernels' way in. [`of`](Self::of) and [`parse`] check.
    fn from_si(value: f64) -> Self;
    /// The value in SI units.
    fn si(self) -> f64;

    /// The quantity, refused where the kind cannot have the value: NaN and infinity, a rate below zero.
    ///
    /// # Errors
    /// [`UnitError`].
    fn checked(self) -> Result<Self, UnitError> {
        check::finite(Self::KIND.name, self)
    }

    /// A checked quantity from a number and the spelling of its unit: `Length::of(102.0, "mm")`.
    ///
    /// # Errors
    /// [`UnitError`] when the unit is not one of the kind's, or the value is not finite or has an impossible sign.
    fn of(number: f64, unit: &str) -> Result<Self, UnitError> {
        text::from_number(number, unit)
    }

    /// The number in the unit with this spelling.
    ///
    /// # Errors
    /// [`UnitError`] when the unit is not one of the kind's.
    fn in_unit(self, unit: &str) -> Result<f64, UnitError> {
        text::number_in(self, unit)
    }

    /// For a reader: five significant digits, or the decimals asked for.
    fn display(self) -> Shown<Self> {
        Shown(self)
    }
}

macro_rules! uom_quantity {
    ($($name:ident, $kind:ident);+ $(;)?) => {
        $(impl Quantity for $name {
            const KIND: &'static Kind = &kind::$kind;
            fn from_si(value: f64) -> Self {
                Self { dimension: core::marker::PhantomData, units: core::marker::PhantomData, value }
            }
            fn si(self) -> f64 {
                self.value
            }
        })+
    };
}

uom_quantity! {
    Length, LENGTH;
    Area, AREA;
    Volume, VOLUME;
    Mass, MASS;
    Force, FORCE;
    Energy, ENERGY;
    Angle, ANGLE;
    Temperature, TEMPERATURE;
    Frequency, FREQUENCY;
    Time, TIME;
    Velocity, VELOCITY;
    Acceleration, ACCELERATION;
    MassDensity, DENSITY;
    MomentOfInertia, MOMENT_OF_INERTIA;
}

/// Standard gravity, 9.806 65 m/s² (exact; CGPM 1901).
#[must_use]
pub fn standard_gravity() -> Acceleration {
    Acceleration::from_si(kind::STANDARD_GRAVITY_SI)
}
