//! Gas that warms, or cools, over a ride.
//!
//! `T(t) = T_e + (T₀ − T_e)·exp(−t/τ)`, `u(T) = |T₀ − T_e|·exp(−t/τ)·(t/τ²)·u(τ)`
//!
//! From the temperature at the start towards the one at which damper, road and wind are in balance, with a time constant that its
//! user states: a thermometer on the tube says both, at a rest after a few minutes and after many.
//!
//! Assumes one body of even temperature in constant surroundings (lumped capacity), heated by as much all along. It fails for the first
//! seconds, in which the oil is hotter than the gas, and where the pace changes. Textbook: Incropera & DeWitt, *Fundamentals of Heat
//! and Mass Transfer*, sec. 5.1.

use crate::error::Result;
use crate::units::{Quantity, Temperature, Time, check};

/// Longest time constant and longest ride (s): a day.
const LONGEST: f64 = 86_400.0;

/// A warming, or cooling.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Warming {
    start: Temperature,
    end: Temperature,
    time_constant: Time,
    uncertainty: Time,
}

impl Warming {
    /// From one temperature towards another, with this time constant.
    ///
    /// ```
    /// use wheelrate::gas::Warming;
    /// use wheelrate::units::{Quantity, parse};
    /// let warming = Warming::new(parse("10 degC")?, parse("50 degC")?, parse("600 s")?)?;
    /// // After one time constant 1 − 1/e of the way is done: 63.2 %.
    /// assert!((warming.at(parse("600 s")?)?.in_unit("degC")? - 35.28).abs() < 0.01);
    /// # Ok::<(), wheelrate::Error>(())
    /// ```
    ///
    /// # Errors
    /// When a temperature is not from −60 °C to 200 °C, or the time constant not from 1 s to a day.
    pub fn new(start: Temperature, end: Temperature, time_constant: Time) -> Result<Self> {
        let (low, high) = (Temperature::from_si(213.15), Temperature::from_si(473.15));
        check::plausible("start", start, low, high)?;
        check::plausible("end", end, low, high)?;
        check::plausible("time_constant", time_constant, Time::from_si(1.0), Time::from_si(LONGEST))?;
        Ok(Self { start, end, time_constant, uncertainty: Time::from_si(0.0) })
    }

    /// With the time constant known to this standard uncertainty; exact unless stated.
    ///
    /// # Errors
    /// When it is below zero, or more than half of the time constant: the change is then no straight line over it.
    pub fn with_time_constant_uncertainty(self, uncertainty: Time) -> Result<Self> {
        let most = self.time_constant * 0.5;
        check::plausible("time_constant_uncertainty", uncertainty, Time::from_si(0.0), most)?;
        Ok(Self { uncertainty, ..self })
    }

    /// Temperature at the start.
    #[must_use]
    pub fn start(&self) -> Temperature {
        self.start
    }

    /// Temperature at some time.
    ///
    /// # Errors
    /// Unless the time lies from 0 to a day.
    pub fn at(&self, time: Time) -> Result<Temperature> {
        check::plausible("time", time, Time::from_si(0.0), Time::from_si(LONGEST))?;
        let (start, end) = (self.start.si(), self.end.si());
        Ok(Temperature::from_si(end + (start - end) * (-time.si() / self.time_constant.si()).exp()))
    }

    /// The difference of temperature that one standard uncertainty of the time constant makes at some time, in kelvin.
    pub(crate) fn spread_at(&self, time: Time) -> f64 {
        let (t, tau) = (time.si(), self.time_constant.si());
        (self.start.si() - self.end.si()).abs() * (-t / tau).exp() * t / (tau * tau) * self.uncertainty.si()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::parse;
    use proptest::prelude::*;

    #[test]
    fn what_cannot_be_is_refused() {
        let warming =
            |end: &str, tau: &str| Warming::new(parse("10 degC").unwrap(), parse(end).unwrap(), parse(tau).unwrap());
        assert!(warming("400 degC", "600 s").unwrap_err().to_string().starts_with("end"));
        assert!(warming("50 degC", "0 s").unwrap_err().to_string().starts_with("time_constant"));
        let error = warming("50 degC", "600 s").unwrap().with_time_constant_uncertainty(parse("400 s").unwrap());
        assert!(error.unwrap_err().to_string().starts_with("time_constant_uncertainty"));
        assert!(warming("50 degC", "600 s").unwrap().at(parse("-1 s").unwrap()).is_err());
    }

    proptest! {
        /// The law is `dT/dt = (T_e − T)/τ`, and what τ is uncertain by is the slope over it: central differences.
        #[test]
        fn follows_its_differential_equation(start in 250.0..330.0_f64, end in 250.0..380.0_f64, tau in 60.0..3000.0_f64, share in 0.01..4.0_f64) {
            /// A ten-thousandth of τ: truncation 1e-9 of the slope, rounding 1e-13 K over the step.
            const LEFT: f64 = 1e-6;
            let [from, to] = [start, end].map(Temperature::from_si);
            let of = |tau: f64, t: f64| Warming::new(from, to, Time::from_si(tau)).unwrap().at(Time::from_si(t)).unwrap().si();
            let (t, step) = (share * tau, 1e-4 * tau);
            let slope = (of(tau, t + step) - of(tau, t - step)) / (2.0 * step);
            prop_assert!((slope - (end - of(tau, t)) / tau).abs() * tau <= LEFT * (1.0 + (end - start).abs()));
            let over_tau = (of(tau + step, t) - of(tau - step, t)) / (2.0 * step);
            let known = Warming::new(from, to, Time::from_si(tau)).unwrap();
            let known = known.with_time_constant_uncertainty(Time::from_si(0.2 * tau)).unwrap();
            prop_assert!((known.spread_at(Time::from_si(t)) - over_tau.abs() * 0.2 * tau).abs() <= LEFT * (1.0 + (end - start).abs()));
        }
    }
}
