//! NIST Statistical Reference Datasets, linear regression (Norris, NoInt1, NoInt2), with certified estimates and standard
//! deviations, which are scaled by the residual variance.

use wheelrate::infer::least_squares::{Minimum, NormalEquations, Residuals, Stopping, minimise};

use crate::outside::{Tolerance, agree};

const LINEAR: Tolerance =
    Tolerance::relative(1e-11, "certified to 15 digits; normal equations of condition 1e6 (Norris) leave eleven");
/// A linear problem is solved by its first undamped step.
const UNDAMPED: Stopping = Stopping { step: 1e-9, most_steps: 10, damping: 0.0 };

struct Curve<const P: usize> {
    x: &'static [f64],
    y: &'static [f64],
    model: fn(f64, &[f64; P]) -> (f64, [f64; P]),
}

impl<const P: usize> Residuals<P> for Curve<P> {
    fn accumulate(&mut self, parameters: &[f64; P], equations: &mut NormalEquations<P>) {
        for (&x, &y) in self.x.iter().zip(self.y) {
            let (value, derivatives) = (self.model)(x, parameters);
            equations.add(value - y, &derivatives);
        }
    }
}

fn check<const P: usize>(fit: &Minimum<P>, estimates: [f64; P], deviations: [f64; P], residual: f64) {
    agree!(fit.residual_variance().sqrt(), residual, LINEAR, "residual standard deviation");
    for k in 0..P {
        agree!(fit.parameters[k], estimates[k], LINEAR, "estimate of parameter {k}");
        let deviation = (fit.covariance[k][k] * fit.residual_variance()).sqrt();
        agree!(deviation, deviations[k], LINEAR, "standard deviation of parameter {k}");
    }
}

#[test]
fn norris() {
    let mut curve = Curve {
        x: &[
            0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0,
            447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3,
            229.2, 669.1, 448.9, 0.5,
        ],
        y: &[
            0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3,
            448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6,
            228.9, 668.4, 449.2, 0.2,
        ],
        model: |x, &[b0, b1]| (b0 + b1 * x, [1.0, x]),
    };
    let fit = minimise(&mut curve, [0.0, 0.0], UNDAMPED).unwrap();
    let (estimates, deviations) =
        ([-0.262_323_073_774_029, 1.002_116_818_020_45], [0.232_818_234_301_152, 0.000_429_796_848_199_937]);
    check(&fit, estimates, deviations, 0.884_796_396_144_373);
}

#[test]
fn noint1_and_noint2() {
    let mut first = Curve {
        x: &[60.0, 61.0, 62.0, 63.0, 64.0, 65.0, 66.0, 67.0, 68.0, 69.0, 70.0],
        y: &[130.0, 131.0, 132.0, 133.0, 134.0, 135.0, 136.0, 137.0, 138.0, 139.0, 140.0],
        model: |x, &[b]| (b * x, [x]),
    };
    let fit = minimise(&mut first, [0.0], UNDAMPED).unwrap();
    check(&fit, [2.074_380_165_289_26], [0.016_528_925_619_834_7], 3.567_530_340_063_38);

    let mut second = Curve { x: &[4.0, 5.0, 6.0], y: &[3.0, 4.0, 4.0], model: |x, &[b]| (b * x, [x]) };
    let fit = minimise(&mut second, [0.0], UNDAMPED).unwrap();
    check(&fit, [0.727_272_727_272_727], [0.042_082_731_807_843_2], 0.369_274_472_937_998);
}

#[test]
fn a_parameter_without_effect_is_said_to_be_singular() {
    let mut blind = Curve { x: &[1.0, 2.0, 3.0], y: &[1.0, 2.0, 3.0], model: |x, &[a, _]| (a * x, [x, 0.0]) };
    let error = minimise(&mut blind, [0.5, 0.0], Stopping::default()).unwrap_err();
    assert!(error.to_string().contains("singular"), "{error}");
}
