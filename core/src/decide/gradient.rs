//! Predicted numbers with their derivatives over everything that is uncertain: the unknowns of the fit, and what a new spring
//! and its setting add. Covariances follow to first order, `cov(p, q) = ∇pᵀ·C·∇q` (JCGM 100:2008, 5.2).

use nalgebra::DMatrix;

use crate::infer::solved::{Solved, covariance_along, zeros};
use crate::units::{Quantity, Uncertain};

/// Which unknown the rate factor of a spring is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum RateKnowledge {
    /// The fitted spring: the factor of the fit.
    Fitted,
    /// A spring out of the box: relative standard uncertainty of its label.
    Label(f64),
}

/// Derivatives over the unknowns of the fit, the new spring's label, the setting of the rider sag by tape, the preload that
/// a new spring is set to by its collar, and the fast exponents of the gas; all have unit variance.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Gradient {
    pub(crate) fit: Vec<f64>,
    pub(crate) label: f64,
    pub(crate) setting: f64,
    pub(crate) collar: f64,
    pub(crate) gas: f64,
}

impl Gradient {
    pub(crate) fn zeros(count: usize) -> Self {
        Self { fit: zeros(count), label: 0.0, setting: 0.0, collar: 0.0, gas: 0.0 }
    }

    pub(crate) fn add(&mut self, factor: f64, other: &Self) {
        self.fit.iter_mut().zip(&other.fit).for_each(|(to, from)| *to += factor * from);
        self.label += factor * other.label;
        self.setting += factor * other.setting;
        self.collar += factor * other.collar;
        self.gas += factor * other.gas;
    }

    /// What the unknowns of the way from wheel to shock do, from their place on.
    pub(crate) fn add_path(&mut self, first: usize, changes: impl Iterator<Item = f64>) {
        self.fit.iter_mut().skip(first).zip(changes).for_each(|(to, by)| *to += by);
    }

    pub(crate) fn minus(&self, other: &Self) -> Self {
        let mut difference = self.clone();
        difference.add(-1.0, other);
        difference
    }

    /// Covariance of two numbers with these derivatives, the unknowns of the fit with this one.
    pub(crate) fn covariance(&self, other: &Self, of_fit: &DMatrix<f64>) -> f64 {
        covariance_along(of_fit, &self.fit, &other.fit)
            + self.label * other.label
            + self.setting * other.setting
            + self.collar * other.collar
            + self.gas * other.gas
    }

    pub(crate) fn deviation(&self, of_fit: &DMatrix<f64>) -> f64 {
        self.covariance(self, of_fit).max(0.0).sqrt()
    }

    pub(crate) fn scaled(&self, factor: f64) -> Self {
        Self {
            fit: self.fit.iter().map(|slope| factor * slope).collect(),
            label: factor * self.label,
            setting: factor * self.setting,
            collar: factor * self.collar,
            gas: factor * self.gas,
        }
    }
}

/// A predicted number.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Predicted {
    pub(crate) value: f64,
    pub(crate) gradient: Gradient,
}

impl Solved {
    pub(crate) fn covariance_of(&self, left: &Gradient, right: &Gradient) -> f64 {
        left.covariance(right, &self.posterior.covariance)
    }

    pub(crate) fn deviation_of(&self, gradient: &Gradient) -> f64 {
        gradient.deviation(&self.posterior.covariance)
    }

    pub(crate) fn predicted<Q: Quantity>(&self, predicted: &Predicted) -> Uncertain<Q> {
        Uncertain {
            value: Q::from_si(predicted.value),
            standard_uncertainty: Q::from_si(self.deviation_of(&predicted.gradient)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn covariance_is_what_two_numbers_share() {
        let left = Gradient { fit: vec![1.0, 2.0], label: 3.0, setting: 5.0, collar: 7.0, gas: 11.0 };
        let right = Gradient { fit: vec![4.0, -1.0], label: 0.5, setting: -2.0, collar: 3.0, gas: 0.1 };
        let of_fit = DMatrix::from_row_slice(2, 2, &[2.0, 0.5, 0.5, 1.0]);
        // C·(4, −1) = (7.5, 1): 7.5 + 2 of the fit, 1.5 − 10 + 21 + 1.1 beside it.
        assert!((left.covariance(&right, &of_fit) - 23.1).abs() < 1e-12);
        assert!((right.covariance(&left, &of_fit) - 23.1).abs() < 1e-12);
        let apart = left.minus(&right);
        let of = |one: &Gradient, other: &Gradient| one.covariance(other, &of_fit);
        let expected = of(&left, &left) - 2.0 * of(&left, &right) + of(&right, &right);
        assert!((of(&apart, &apart) - expected).abs() < 1e-12);
    }
}
