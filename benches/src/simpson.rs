//! Probabilities of jointly normal quantities by nested Simpson's rules with fixed nodes: what one writes first.

/// `Φ(x)`.
fn cdf(x: f64) -> f64 {
    0.5 * libm::erfc(-x * core::f64::consts::FRAC_1_SQRT_2)
}

fn density(x: f64) -> f64 {
    (-0.5 * x * x).exp() / core::f64::consts::TAU.sqrt()
}

/// `∫ φ(u)·rest(u) du` over an interval, at most six standard deviations either way.
fn over((low, high): (f64, f64), panels: usize, rest: impl Fn(f64) -> f64) -> f64 {
    let (low, high) = (low.max(-6.0), high.min(6.0));
    let width = (high - low) / panels as f64;
    let weight = |k: usize| match k {
        0 => 1.0,
        _ if k == panels => 1.0,
        _ if k % 2 == 1 => 4.0,
        _ => 2.0,
    };
    let at = |k: usize| low + width * k as f64;
    (0..=panels).map(|k| weight(k) * density(at(k)) * rest(at(k))).sum::<f64>() * width / 3.0
}

fn given((low, high): (f64, f64), correlation: f64, u: f64) -> (f64, f64) {
    let left = (1.0 - correlation * correlation).sqrt();
    ((low - correlation * u) / left, (high - correlation * u) / left)
}

/// Two standard normal quantities in their intervals.
#[must_use]
pub fn two(correlation: f64, x: (f64, f64), y: (f64, f64), panels: usize) -> f64 {
    over(x, panels, |u| {
        let y = given(y, correlation, u);
        cdf(y.1) - cdf(y.0)
    })
}

/// Three standard normal quantities in their intervals; correlations of first and second, first and third, second and third.
#[must_use]
pub fn three([xy, xz, yz]: [f64; 3], [x, y, z]: [(f64, f64); 3], panels: [usize; 2]) -> f64 {
    let partial = (yz - xy * xz) / ((1.0 - xy * xy) * (1.0 - xz * xz)).sqrt();
    over(x, panels[0], |u| two(partial, given(y, xy, u), given(z, xz, u), panels[1]))
}
