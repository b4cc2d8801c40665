//! Gas: the chamber itself, and what fills it in a fork leg and in a shock.
//!
//! `p·Vⁿ = const`, absolute pressures; `F = (p − p_surroundings)·A`.
//!
//! Assumptions: a fixed amount of ideal gas, and two processes ([`Exponents`]): a slow one from where it was sealed to where
//! it settles, in which the gas keeps its temperature (`n = 1`), and a fast one from there, towards 1.4 for air and nitrogen.
//! Every sealed part is sealed at a temperature and a pressure of its surroundings, and may run in others ([`Conditions`]).
//!
//! The ideal gas against the reference equations of state of air and nitrogen (CoolProp 8.0.0, −10 °C to 60 °C):
//!
//! | what | ideal gas is off by |
//! |---|---|
//! | pressure after a slow compression to a tenth of the volume, from 1 bar | 0.7 % at most |
//! | pressure after a fast one to a sixth, `n = 1.4`, started at 20 °C or below | 0.7 % at most |
//! | the same, started at 60 °C | **1.6 %** (air), 0.9 % (nitrogen): too high, as heat capacity grows |
//! | closed volume warmed from 20 °C to 60 °C, 10 bar | 0.3 % |
//! | `p·V` against `R·T` to 30 bar, 20 °C or above | 0.9 % at most |
//! | the same at −10 °C and 30 bar | **1.9 %** (air), **1.5 %** (nitrogen): `p·V` is below `R·T` |
//! | the same at 50 bar, 20 °C | **1.2 %** (air), 0.6 % (nitrogen) |
//! | the same at 100 bar, 60 °C | **1.1 %** (air), **2.1 %** (nitrogen) |

/// What every gas has that was filled in and sealed: `pressure`, `exponents`, `sealed` and `running` of whatever holds it.
macro_rules! sealed_in_place {
    () => {
        /// The same gas with these exponents.
        #[must_use]
        pub fn with_exponents(self, exponents: Exponents) -> Self {
            Self { exponents, ..self }
        }

        /// The same gas sealed in these conditions.
        #[must_use]
        pub fn sealed_in(self, sealed: Conditions) -> Self {
            Self { sealed, ..self }
        }

        /// The same gas running in these conditions; as sealed until they are stated.
        #[must_use]
        pub fn running_in(self, running: Conditions) -> Self {
            Self { running: Some(running), ..self }
        }

        /// The same gas at this temperature, in the surroundings that it runs in.
        ///
        /// # Errors
        /// Unless it lies from −60 °C to 200 °C.
        pub fn warmed_to(self, temperature: Temperature) -> Result<Self> {
            Ok(self.running_in(self.around().with_temperature(temperature)?))
        }

        /// Gauge pressure at full extension when sealed.
        #[must_use]
        pub fn pressure(&self) -> GaugePressure {
            self.pressure
        }

        /// Polytropic exponents.
        #[must_use]
        pub fn exponents(&self) -> Exponents {
            self.exponents
        }

        /// Surroundings when it was sealed.
        #[must_use]
        pub fn sealed(&self) -> Conditions {
            self.sealed
        }

        /// Surroundings now, where stated.
        #[must_use]
        pub fn running(&self) -> Option<Conditions> {
            self.running
        }

        /// Surroundings now.
        fn around(&self) -> Conditions {
            self.running.unwrap_or(self.sealed)
        }
    };
}

mod air_spring;
mod chamber;
mod conditions;
mod exponents;
mod fork_air;
mod reservoir;
mod sealed;
mod warming;

pub use air_spring::{AirSpring, Filling, NegativeChamber, SecondChamber, Spacers};
pub use chamber::{Chamber, ChamberParts};
pub use conditions::Conditions;
pub use exponents::Exponents;
pub(crate) use fork_air::MOST_LEVEL;
pub use fork_air::{ForkAir, ForkAirParts};
pub use reservoir::Reservoir;
pub(crate) use sealed::SealedGas;
pub use warming::Warming;

use crate::error::{GasError, Result};
use crate::units::{AbsolutePressure, GaugePressure, Quantity, brief};

/// Absolute pressure of a chamber at full extension while it runs: `p = (p_gauge + p_sealed)·T_running/T_sealed`, the
/// volume being the one it was sealed with.
pub(crate) fn charge(
    part: &str,
    gauge: GaugePressure,
    sealed: &Conditions,
    running: &Conditions,
) -> Result<AbsolutePressure> {
    let absolute = gauge.si() + sealed.surroundings().si();
    if absolute <= 0.0 {
        return Err(GasError::BelowVacuum {
            part: part.to_owned(),
            gauge: brief(gauge),
            surroundings: brief(sealed.surroundings()),
        }
        .into());
    }
    Ok(AbsolutePressure::from_si(absolute * running.temperature().si() / sealed.temperature().si()))
}
