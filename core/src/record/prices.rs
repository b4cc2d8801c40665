//! What each action costs, in chance: how much likelier both sags have to land for it to be worth doing.

use crate::error::UnitError;
use crate::units::{Quantity, Share, check};

/// Prices of actions, as chance that both sags land. A person sets them: whoever has the spring on the shelf says less.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Prices {
    /// Turning the collar.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub collar: Share,
    /// Buying and fitting another spring.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub spring: Share,
    /// An evening of measuring.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub measuring: Share,
}

impl Prices {
    /// The prices, where each is one.
    ///
    /// # Errors
    /// [`UnitError`] when one is not from 0 to 100 %.
    pub fn checked(self) -> Result<Self, UnitError> {
        for (field, price) in [("collar", self.collar), ("spring", self.spring), ("measuring", self.measuring)] {
            check::plausible(field, price, Share::from_si(0.0), Share::from_si(1.0))?;
        }
        Ok(self)
    }

    /// The difference below which two actions are as good: the smallest price that is any, and 5 points at most.
    #[must_use]
    pub fn tie(&self) -> Share {
        /// Where all is dear or free: what a chance is sure to.
        const MOST: f64 = 0.05;
        let prices = [self.collar, self.spring, self.measuring].map(|price| price.si());
        Share::from_si(prices.into_iter().filter(|price| *price > 0.0).fold(MOST, f64::min))
    }
}

impl Default for Prices {
    /// 2 points for the collar, 10 for another spring, 5 for an evening of measuring (common practice, no source).
    fn default() -> Self {
        Self { collar: Share::from_si(0.02), spring: Share::from_si(0.10), measuring: Share::from_si(0.05) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tie_is_below_the_smallest_price_that_is_any() {
        let prices = |collar: f64, spring: f64, measuring: f64| {
            let [collar, spring, measuring] = [collar, spring, measuring].map(Share::from_si);
            Prices { collar, spring, measuring }.checked()
        };
        assert_eq!(Prices::default().tie().si(), 0.02);
        assert_eq!(prices(0.0, 0.2, 0.05).unwrap().tie().si(), 0.05);
        assert_eq!(prices(0.0, 0.0, 0.0).unwrap().tie().si(), 0.05);
        assert_eq!(prices(0.9, 0.9, 0.9).unwrap().tie().si(), 0.05);
        let error = prices(0.02, 10.0, 0.05).unwrap_err().to_string();
        assert!(error.contains("spring"), "{error}");
    }
}
