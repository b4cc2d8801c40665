//! NIST Statistical Reference Datasets: all 27 nonlinear regression sets, from both starts, against certified estimates,
//! standard deviations and residual standard deviation.
//!
//! Source: NIST/ITL StRD, nonlinear regression (data and certified values in `nist_strd/`, by way of the lmfit 1.3.4 source
//! package). The certified deviations are scaled by the residual variance.

use nalgebra::Complex;
use wheelrate::infer::least_squares::{NormalEquations, Residuals, Stopping, minimise};

use crate::outside::{Tolerance, agree};

type C = Complex<f64>;

/// Rounding of a residual beside the response, a few units in the last place.
const ROUNDING: f64 = 1e-15;
/// Imaginary step of a derivative: its square is nothing beside the value, so the derivative is exact to rounding.
const STEP: f64 = 1e-30;
/// Of an estimate, in its standard deviations, beside the certified eleven digits: the sum of squares is flat to rounding
/// about 1e-8 of a standard deviation from its minimum; normal equations of the worst conditioned sets lose two digits more.
const ESTIMATE: f64 = 1e-6;
const DIGITS: f64 = 2e-10;
/// Of a standard deviation, relative: sets whose normal equations have a condition of 1e12 and more keep four digits.
const DEVIATION: f64 = 1e-4;
/// Far starts creep along a curved valley before they converge.
const PATIENT: Stopping = Stopping { step: 1e-9, most_steps: 20_000, damping: 1e-3 };

struct Set<const P: usize> {
    starts: [[f64; P]; 2],
    certified: [[f64; 2]; P],
    residual: f64,
    rows: Vec<Vec<f64>>,
    model: fn(&[f64], &[C; P]) -> C,
    response: fn(f64) -> f64,
}

impl<const P: usize> Set<P> {
    fn new(text: &str, model: fn(&[f64], &[C; P]) -> C) -> Self {
        let mut rows: Vec<Vec<f64>> = text
            .lines()
            .filter(|line| !line.starts_with('#'))
            .map(|line| line.split_whitespace().map(|word| word.parse().unwrap()).collect())
            .collect();
        let data = rows.split_off(P + 1);
        let starts = [0, 1].map(|start| core::array::from_fn(|k| rows[k][start]));
        let certified = core::array::from_fn(|k| [rows[k][2], rows[k][3]]);
        Self { starts, certified, residual: rows[P][0], rows: data, model, response: |y| y }
    }

    /// What residuals are divided by: their certified deviation, or so many roundings that a step of 1e-9 of it is none.
    /// That is for Lanczos1 to 3, whose residuals are the rounding of their data.
    fn scale(&self) -> f64 {
        self.residual.max(1e10 * self.rounding())
    }

    fn rounding(&self) -> f64 {
        ROUNDING * self.rows.iter().map(|row| (self.response)(row[0]).abs()).fold(0.0, f64::max)
    }

    fn check(mut self) {
        let deviations = Tolerance::relative(
            DEVIATION + self.rounding() / self.residual,
            "normal equations of condition 1e12 and more keep four digits; data exact to rounding keep less",
        );
        for start in self.starts {
            let fit = minimise(&mut self, start, PATIENT).unwrap();
            let residual = fit.residual_variance().sqrt();
            agree!(residual * self.scale(), self.residual, deviations, "residual standard deviation from {start:?}");
            for (k, [value, deviation]) in self.certified.into_iter().enumerate() {
                let estimates = Tolerance::absolute(
                    ESTIMATE * deviation + DIGITS * value.abs(),
                    "1e-6 standard deviations, where the sum of squares is flat to rounding, and eleven certified digits",
                );
                agree!(fit.parameters[k], value, estimates, "b{} from {start:?}", k + 1);
                let found = fit.covariance[k][k].sqrt() * residual;
                agree!(found, deviation, deviations, "standard deviation of b{} from {start:?}", k + 1);
            }
        }
    }
}

impl<const P: usize> Residuals<P> for Set<P> {
    fn accumulate(&mut self, parameters: &[f64; P], equations: &mut NormalEquations<P>) {
        let scale = self.scale();
        for row in &self.rows {
            let at = |nudged: usize| {
                let b = core::array::from_fn(|k| C::new(parameters[k], if k == nudged { STEP } else { 0.0 }));
                (self.model)(&row[1..], &b)
            };
            let residual = at(P).re - (self.response)(row[0]);
            equations.add(residual / scale, &core::array::from_fn(|k| at(k).im / STEP / scale));
        }
    }
}

macro_rules! sets {
    ($($name:ident: $model:expr;)+) => {
        $(#[test]
        fn $name() {
            Set::new(include_str!(concat!("nist_strd/", stringify!($name), ".txt")), $model).check();
        })+
    };
}

fn peak(x: f64, height: C, centre: C, width: C) -> C {
    height * (-((x - centre) / width).powi(2)).exp()
}

fn gauss(x: &[f64], &[b1, b2, b3, b4, b5, b6, b7, b8]: &[C; 8]) -> C {
    b1 * (-b2 * x[0]).exp() + peak(x[0], b3, b4, b5) + peak(x[0], b6, b7, b8)
}

fn lanczos(x: &[f64], &[b1, b2, b3, b4, b5, b6]: &[C; 6]) -> C {
    b1 * (-b2 * x[0]).exp() + b3 * (-b4 * x[0]).exp() + b5 * (-b6 * x[0]).exp()
}

fn chwirut(x: &[f64], &[b1, b2, b3]: &[C; 3]) -> C {
    (-b1 * x[0]).exp() / (b2 + b3 * x[0])
}

/// `(b1 + b2 x + b3 x² + b4 x³)/(1 + b5 x + b6 x² + b7 x³)`.
fn cubic_over_cubic(x: &[f64], &[b1, b2, b3, b4, b5, b6, b7]: &[C; 7]) -> C {
    let x = x[0];
    (b1 + (b2 + (b3 + b4 * x) * x) * x) / (1.0 + (b5 + (b6 + b7 * x) * x) * x)
}

/// Of a complex step; the library function goes through a logarithm that loses it.
fn arctan(z: C) -> C {
    C::new(z.re.atan(), z.im / (1.0 + z.re * z.re))
}

fn wave(x: f64, period: C, cosine: C, sine: C) -> C {
    let angle = 2.0 * core::f64::consts::PI * x / period;
    cosine * angle.cos() + sine * angle.sin()
}

sets! {
    misra1a: |x: &[f64], &[b1, b2]: &[C; 2]| b1 * (1.0 - (-b2 * x[0]).exp());
    misra1b: |x: &[f64], &[b1, b2]: &[C; 2]| b1 * (1.0 - (1.0 + b2 * x[0] / 2.0).powi(-2));
    misra1c: |x: &[f64], &[b1, b2]: &[C; 2]| b1 * (1.0 - (1.0 + 2.0 * b2 * x[0]).sqrt().inv());
    misra1d: |x: &[f64], &[b1, b2]: &[C; 2]| b1 * b2 * x[0] / (1.0 + b2 * x[0]);
    danwood: |x: &[f64], &[b1, b2]: &[C; 2]| b1 * (b2 * x[0].ln()).exp();
    boxbod: |x: &[f64], &[b1, b2]: &[C; 2]| b1 * (1.0 - (-b2 * x[0]).exp());
    chwirut1: chwirut;
    chwirut2: chwirut;
    lanczos1: lanczos;
    lanczos2: lanczos;
    lanczos3: lanczos;
    gauss1: gauss;
    gauss2: gauss;
    gauss3: gauss;
    kirby2: |x: &[f64], &[b1, b2, b3, b4, b5]: &[C; 5]| {
        (b1 + (b2 + b3 * x[0]) * x[0]) / (1.0 + (b4 + b5 * x[0]) * x[0])
    };
    hahn1: cubic_over_cubic;
    thurber: cubic_over_cubic;
    mgh09: |x: &[f64], &[b1, b2, b3, b4]: &[C; 4]| b1 * (x[0] * x[0] + x[0] * b2) / (x[0] * x[0] + x[0] * b3 + b4);
    mgh10: |x: &[f64], &[b1, b2, b3]: &[C; 3]| b1 * (b2 / (x[0] + b3)).exp();
    mgh17: |x: &[f64], &[b1, b2, b3, b4, b5]: &[C; 5]| b1 + b2 * (-b4 * x[0]).exp() + b3 * (-b5 * x[0]).exp();
    rat42: |x: &[f64], &[b1, b2, b3]: &[C; 3]| b1 / (1.0 + (b2 - b3 * x[0]).exp());
    rat43: |x: &[f64], &[b1, b2, b3, b4]: &[C; 4]| b1 / ((1.0 + (b2 - b3 * x[0]).exp()).ln() / b4).exp();
    eckerle4: |x: &[f64], &[b1, b2, b3]: &[C; 3]| b1 / b2 * (-0.5 * ((x[0] - b3) / b2).powi(2)).exp();
    roszman1: |x: &[f64], &[b1, b2, b3, b4]: &[C; 4]| {
        b1 - b2 * x[0] - arctan(b3 / (x[0] - b4)) / core::f64::consts::PI
    };
    bennett5: |x: &[f64], &[b1, b2, b3]: &[C; 3]| b1 * (-(b2 + x[0]).ln() / b3).exp();
    enso: |x: &[f64], &[b1, b2, b3, b4, b5, b6, b7, b8, b9]: &[C; 9]| {
        b1 + wave(x[0], C::new(12.0, 0.0), b2, b3) + wave(x[0], b4, b5, b6) + wave(x[0], b7, b8, b9)
    };
}

/// The logarithm of the response is modelled.
#[test]
fn nelson() {
    let model = |x: &[f64], &[b1, b2, b3]: &[C; 3]| b1 - b2 * x[0] * (-b3 * x[1]).exp();
    Set { response: f64::ln, ..Set::new(include_str!("nist_strd/nelson.txt"), model) }.check();
}
