//! Weighted nonlinear least squares, `min_θ Σ r_i(θ)²`, for a few parameters and exact derivatives.
//!
//! Method: Levenberg–Marquardt on the normal equations, damping scaled by the largest diagonal met so far (Marquardt 1963;
//! Moré 1978: a parameter that a step left without effect comes back), damping updated by the gain ratio (Nielsen 1999;
//! Madsen, Nielsen & Tingleff, *Methods for Non-Linear Least Squares Problems*, 2004, algorithm 3.16). A residual is divided
//! by its standard uncertainty before it comes here, so the covariance of the estimates is `(JᵀJ)⁻¹` (JCGM 100:2008, 5.2
//! with H.3); where the uncertainty of the residuals is unknown, multiply by [`Minimum::residual_variance`]. It finds the
//! certified values of all 27 nonlinear sets of the NIST StRD from both starts.
//!
//! Fails where the normal equations are singular: a parameter that no residual depends on. Forming `JᵀJ` squares the
//! condition of `J`; with parameters in units of their prior standard deviation that costs no figure that matters.
//! Nothing is allocated: the number of parameters `P` is part of the type.

use nalgebra::{Cholesky, Const, SMatrix, SVector};

use crate::error::SetupError;

/// Sum of squares with its gradient and Gauss–Newton Hessian, filled residual by residual.
#[derive(Debug, Clone, PartialEq)]
pub struct NormalEquations<const P: usize> {
    hessian: SMatrix<f64, P, P>,
    gradient: SVector<f64, P>,
    cost: f64,
    count: usize,
}

impl<const P: usize> NormalEquations<P> {
    pub(crate) fn zeros() -> Self {
        Self { hessian: SMatrix::zeros(), gradient: SVector::zeros(), cost: 0.0, count: 0 }
    }

    /// Adds one residual (already divided by its standard uncertainty) with its derivatives.
    #[inline]
    pub fn add(&mut self, residual: f64, derivatives: &[f64; P]) {
        self.cost += residual * residual;
        self.count += 1;
        for (column, &right) in derivatives.iter().enumerate() {
            if right == 0.0 {
                continue;
            }
            self.gradient[column] += right * residual;
            for (row, &left) in derivatives.iter().enumerate().skip(column) {
                self.hessian[(row, column)] += left * right;
            }
        }
    }

    /// Adds the residuals of repeats that share one prediction: how far it is off their weighted mean, the sum of their
    /// weights, and the weighted sum of squares about their mean.
    #[inline]
    pub(crate) fn add_weighted(&mut self, off: f64, weight: f64, scatter: f64, derivatives: &[f64; P]) {
        let root = weight.sqrt();
        self.add(off * root, &derivatives.map(|derivative| derivative * root));
        self.cost += scatter;
    }

    /// Adds a residual that is one parameter's own, `θ_k − centre`, in units of its standard deviation: a prior.
    #[inline]
    pub(crate) fn add_prior(&mut self, parameter: usize, residual: f64) {
        self.cost += residual * residual;
        self.count += 1;
        self.gradient[parameter] += residual;
        self.hessian[(parameter, parameter)] += 1.0;
    }

    /// Adds curvature that a residual has of its own, `r·∇²r = weight·v·vᵀ`: beyond Gauss–Newton, where it is positive.
    #[inline]
    pub(crate) fn add_curvature(&mut self, weight: f64, direction: &[f64; P]) {
        for (column, &right) in direction.iter().enumerate() {
            for (row, &left) in direction.iter().enumerate().skip(column) {
                self.hessian[(row, column)] += weight * left * right;
            }
        }
    }
}

/// A sum of squared residuals with exact derivatives.
pub trait Residuals<const P: usize> {
    /// Adds every residual at `parameters`, with its derivatives, to the normal equations.
    fn accumulate(&mut self, parameters: &[f64; P], equations: &mut NormalEquations<P>);
}

/// When to stop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stopping {
    /// A step shorter than this, in standard deviations of the estimates, ends the search.
    pub step: f64,
    /// Steps tried before giving up.
    pub most_steps: usize,
    /// First damping, relative to the diagonal of `JᵀJ`: small where the start is good, 0 for a linear problem.
    pub damping: f64,
}

impl Default for Stopping {
    /// Steps down to 1e-9 standard deviations: far below what any reader of a result can see, well above rounding.
    fn default() -> Self {
        Self { step: 1e-9, most_steps: 500, damping: 1e-3 }
    }
}

/// A minimum with the covariance of the estimates.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Minimum<const P: usize> {
    /// Estimates.
    pub parameters: [f64; P],
    /// `(JᵀJ)⁻¹`, row by row (symmetric).
    pub covariance: [[f64; P]; P],
    /// Sum of squared residuals.
    pub cost: f64,
    /// Residuals summed, priors included.
    pub residuals: usize,
    /// Steps tried.
    pub steps: usize,
}

impl<const P: usize> Minimum<P> {
    /// Variance of a residual about the fit, `Σr²/(n − P)`; zero when there are no more residuals than parameters.
    #[must_use]
    pub fn residual_variance(&self) -> f64 {
        if self.residuals > P { self.cost / (self.residuals - P) as f64 } else { 0.0 }
    }

    /// Variance of a function of the estimates with this gradient, `gᵀ C g` (JCGM 100:2008, 5.2.2).
    #[must_use]
    pub fn variance_of(&self, gradient: &[f64; P]) -> f64 {
        covariance_of(&self.covariance, gradient, gradient)
    }
}

/// Covariance of two functions of the same inputs, `gᵀ C h` (JCGM 100:2008, F.1.2.3).
#[must_use]
pub fn covariance_of<const P: usize>(inputs: &[[f64; P]; P], left: &[f64; P], right: &[f64; P]) -> f64 {
    let row = |row: &[f64; P]| row.iter().zip(right).map(|(c, h)| c * h).sum::<f64>();
    inputs.iter().zip(left).map(|(c, g)| g * row(c)).sum()
}

/// Sums of squares that differ by less than this share may be the same but for the rounding of the residuals, and do not say
/// which of two places is the lower one. A step that short is taken on the word of the gradient, which is good for longer.
const SAME_COST: f64 = 1e-9;
/// Damping taken up when an undamped step fails: slight against any curvature.
const LEAST_DAMPING: f64 = 1e-6;
/// Damping beyond which no step can be found: the diagonal has then swamped every curvature.
const HOPELESS_DAMPING: f64 = 1e20;

/// Finds the minimum nearest to `start`.
///
/// # Errors
/// [`SetupError::Singular`] when a parameter does not show in the residuals; [`SetupError::NotConverged`] when the
/// steps run out or a residual is not finite at the start.
pub fn minimise<const P: usize>(
    problem: &mut impl Residuals<P>,
    start: [f64; P],
    stopping: Stopping,
) -> Result<Minimum<P>, SetupError> {
    let evaluate = |problem: &mut dyn Residuals<P>, at: &SVector<f64, P>| {
        let mut equations = NormalEquations::zeros();
        problem.accumulate(&at.data.0[0], &mut equations);
        equations
    };
    let mut at = SVector::from(start);
    let mut here = evaluate(problem, &at);
    if !here.cost.is_finite() {
        return Err(SetupError::NotConverged { steps: 0, sum_of_squares: here.cost });
    }
    let (mut damping, mut growth, mut short) = (stopping.damping, 2.0, false);
    let mut scale = here.hessian.diagonal();
    for steps in 0..stopping.most_steps {
        let near = stopping.step * stopping.step * here.cost.max(1.0);
        if short {
            // A short step may be one that damping has shortened: the undamped step decides.
            let whole = Cholesky::<f64, Const<P>>::new(here.hessian).ok_or(SetupError::Singular)?;
            if whole.solve(&here.gradient).dot(&here.gradient) <= near {
                let covariance = whole.inverse().data.0;
                let (parameters, cost, residuals) = (at.data.0[0], here.cost, here.count);
                return Ok(Minimum { parameters, covariance, cost, residuals, steps });
            }
        }
        let mut damped = here.hessian;
        for k in 0..P {
            scale[k] = scale[k].max(here.hessian[(k, k)]);
            damped[(k, k)] += damping * scale[k];
        }
        let step = Cholesky::<f64, Const<P>>::new(damped).ok_or(SetupError::Singular)?.solve(&-here.gradient);
        // ‖step‖² in standard deviations of the estimates: δᵀHδ ≤ δᵀ(H + λD)δ = −δᵀg.
        let length_squared = -step.dot(&here.gradient);
        short = length_squared <= near;
        let there_at = at + step;
        let there = evaluate(problem, &there_at);
        let rounding = SAME_COST * here.cost;
        let unseen = length_squared <= rounding && there.cost <= here.cost + rounding;
        if unseen || there.cost <= here.cost {
            let stretch: f64 = (0..P).map(|k| step[k] * step[k] * scale[k]).sum();
            let gain = if unseen { 1.0 } else { (here.cost - there.cost) / (length_squared + damping * stretch) };
            damping *= (1.0 - (2.0 * gain - 1.0).powi(3)).max(1.0 / 3.0);
            growth = 2.0;
            (at, here) = (there_at, there);
        } else {
            damping = damping.max(LEAST_DAMPING) * growth;
            growth *= 2.0;
        }
        if damping > HOPELESS_DAMPING {
            break;
        }
    }
    Err(SetupError::NotConverged { steps: stopping.most_steps, sum_of_squares: here.cost })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_covariance_is_that_of_both_gradients() {
        // gᵀ C h by hand: C h = (4·3 − 1·2, −1·3 + 9·2) = (10, 15); g·(10, 15) = 2·10 + 5·15.
        let inputs = [[4.0, -1.0], [-1.0, 9.0]];
        assert!((covariance_of(&inputs, &[2.0, 5.0], &[3.0, 2.0]) - 95.0).abs() < 1e-12);
        assert!((covariance_of(&inputs, &[3.0, 2.0], &[2.0, 5.0]) - 95.0).abs() < 1e-12);
    }

    #[test]
    fn the_variance_of_residuals_counts_what_is_left_over() {
        let of = |residuals| {
            let (parameters, covariance) = ([0.0; 2], [[1.0, 0.0], [0.0, 1.0]]);
            Minimum { parameters, covariance, cost: 6.0, residuals, steps: 1 }.residual_variance()
        };
        // As many residuals as parameters say nothing of their own size.
        assert_eq!([of(1), of(2), of(3), of(5)], [0.0, 0.0, 6.0, 2.0]);
    }
}
