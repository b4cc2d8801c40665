//! A spring by a law of your own.
//!
//! `F(x) = a·law(x)` over its compression `x`, with the rate factor `a` that the fit varies; preload is where the spring is
//! put ([`Preloaded`](super::Preloaded)). Its derivatives over both follow: `∂F/∂a = law(x)`, `∂F/∂p = a·law′(x)`.

use crate::axial::{Axial, AxialElement, OwnElement};
use crate::error::{Result, SpringError};
use crate::units::{Length, Quantity, show};

use super::by_force::{ByForce, solve_rising_beyond};

/// Force at zero compression, as a share of the greatest, that is rounding.
const LOOSE: f64 = 1e-9;
/// Places at which the rate is looked at.
const PLACES: usize = 400;
/// The compression, in metres, from which on a force is looked for.
const SHORT: f64 = 1e-6;

/// A spring by a law of your own: an [`AxialElement`] whose stroke is the spring's compression. It has no text form.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnSpring {
    law: OwnElement,
    factor: f64,
}

impl OwnSpring {
    /// Takes a law of force over compression.
    ///
    /// # Errors
    /// As [`OwnElement::new`]; and [`SpringError::OwnElement`] unless the force starts at zero and rises all the way.
    pub fn new(law: impl AxialElement + 'static) -> Result<Self> {
        let spring = Self { law: OwnElement::new(law)?, factor: 1.0 };
        let reach = spring.law.reach().si();
        let (start, most) = (spring.law.eval(0.0).force, spring.law.eval(reach).force);
        if start.abs() > LOOSE * most.abs() {
            return Err(spring.fault(0.0, "the force of a spring starts at zero; preload is stated beside it"));
        }
        let places = (1..=PLACES).map(|place| reach * (place as f64 / PLACES as f64));
        let jumps = spring.law.jumps().iter().copied();
        match places.chain(jumps).find(|&x| spring.law.eval(x).rate <= 0.0) {
            Some(x) => Err(spring.fault(x, "the rate is not above zero; the force of a spring rises all the way")),
            None => Ok(spring),
        }
    }

    fn fault(&self, at: f64, found: &str) -> crate::Error {
        let (part, stroke) = (self.law.element().describe(), show(Length::from_si(at), "mm", 2));
        SpringError::OwnElement { part, stroke, found: found.to_owned() }.into()
    }

    /// The law.
    #[must_use]
    pub fn law(&self) -> &dyn AxialElement {
        self.law.element()
    }

    /// What its force is multiplied by; 1 as made.
    #[must_use]
    pub fn rate_factor(&self) -> f64 {
        self.factor
    }

    pub(super) fn scaled(&self, factor: f64) -> Self {
        Self { factor: self.factor * factor, ..self.clone() }
    }

    pub(super) fn eval(&self, x: f64) -> Axial {
        self.law.eval(x) * self.factor
    }

    pub(super) fn by_force(&self, force: f64) -> ByForce {
        let view = |x: f64| {
            let state = self.eval(x);
            (state.force, state.rate)
        };
        let x = solve_rising_beyond(view, force, (0.0, view(0.0).0), SHORT);
        ByForce::of(x, self.eval(x))
    }

    pub(super) fn end(&self) -> Option<f64> {
        self.law.element().full_stroke().map(Quantity::si)
    }

    pub(super) fn jumps(&self) -> Vec<f64> {
        self.law.jumps().to_vec()
    }

    pub(super) fn describe(&self) -> String {
        let law = self.law.element().describe();
        if self.factor == 1.0 { law } else { format!("{law}, its force × {:.4}", self.factor) }
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for OwnSpring {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> core::result::Result<S::Ok, S::Error> {
        self.law.serialize(serializer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spring::{Preloaded, Spring, Table};
    use crate::units::{Force, SpringRate};

    fn table() -> Table {
        let rows = [(0.01, 60.0), (0.022, 190.0), (0.04, 480.0)];
        Table::new(rows.map(|(x, force)| (Length::from_si(x), Force::from_si(force))).to_vec()).unwrap()
    }

    #[test]
    fn a_table_as_a_law_of_ones_own_is_that_table() {
        let (own, table) = (OwnSpring::new(Spring::from(table())).unwrap(), table());
        assert_eq!((own.end(), own.rate_factor()), (Some(0.04), 1.0));
        assert_eq!(own.describe(), own.law().describe());
        for x in [0.004, 0.015, 0.022, 0.033] {
            let state = table.eval(x);
            assert!((own.eval(x).force / state.force - 1.0).abs() < 1e-12);
            // Where its force is asked for, a bracketed search comes back to the place within rounding.
            assert!((own.by_force(state.force).compression / x - 1.0).abs() < 1e-9, "{x}");
        }
        let endless = OwnSpring::new(Spring::linear(SpringRate::from_si(4e3)).unwrap()).unwrap();
        assert_eq!(endless.end(), None);
        assert!((endless.by_force(400.0).compression - 0.1).abs() < 1e-12, "4 N/mm");
    }

    #[test]
    fn factors_multiply() {
        let own = OwnSpring::new(Spring::from(table())).unwrap();
        let scaled = own.scaled(1.2).scaled(1.5);
        assert!((scaled.rate_factor() - 1.8).abs() < 1e-15 && scaled.end() == own.end());
        for x in [0.01, 0.03] {
            assert!((scaled.eval(x).force - 1.8 * own.eval(x).force).abs() < 1e-9);
            assert!((scaled.by_force(1.8 * own.eval(x).force).compression - x).abs() < 1e-9);
        }
        assert!(scaled.describe().ends_with("its force × 1.8000"), "{}", scaled.describe());
    }

    #[test]
    fn a_law_that_is_no_spring_is_refused() {
        let placed = |preload: f64| Preloaded::linear(SpringRate::from_si(4e3), Length::from_si(preload)).unwrap();
        let said = |preload: f64| OwnSpring::new(placed(preload)).unwrap_err().to_string();
        assert!(said(0.005).contains("starts at zero"), "{}", said(0.005));
        assert!(said(-0.02).contains("rises all the way"), "{}", said(-0.02));
    }
}
