//! Coordinates from a photograph: scale and rotation from two points whose positions are known.
//!
//! `w = α·conj(p) + β` with complex `α`, `β`: pixels count downwards, the drawing upwards. Assumes a picture taken square on
//! and from far away: off the axis by an angle φ, lengths along that direction shrink by cos φ, and parts nearer to the lens
//! by their depth over its distance look larger. Two points cannot show either error; a third known point can
//! ([`Photograph::at`] of it), and four take the first of them out ([`Survey`](super::Survey)).

use super::real::{Vec2, add, dot, scale, sub, turn};
use crate::error::LinkageError;
use crate::units::{Length, Quantity, check};

/// Fewest pixels between the two known points: a pixel's error then turns and scales the drawing by 2 %.
const FEWEST_PIXELS: f64 = 50.0;

/// A photograph with its scale and rotation.
///
/// ```
/// use wheelrate::linkage::Photograph;
/// use wheelrate::units::parse;
/// let pivot = ([2140.0, 1210.0], [parse("0 mm")?, parse("0 mm")?]);
/// let axle = ([990.0, 1540.0], [parse("-575 mm")?, parse("-165 mm")?]);
/// let photograph = Photograph::new(pivot, axle)?;
/// let link = photograph.at([2008.0, 1406.0])?;
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Photograph {
    alpha: Vec2<f64>,
    beta: Vec2<f64>,
}

impl Photograph {
    /// From two points: pixel (right, down) and position (forward, up).
    ///
    /// # Errors
    /// [`LinkageError::Photograph`] when the points are too close in the picture or in one place in the drawing, or a number
    /// is not finite.
    pub fn new(first: ([f64; 2], [Length; 2]), second: ([f64; 2], [Length; 2])) -> Result<Self, LinkageError> {
        let position = |at: [Length; 2]| -> Result<Vec2<f64>, LinkageError> {
            Ok([check::finite("x of a known point", at[0])?.si(), check::finite("z of a known point", at[1])?.si()])
        };
        let (p, q) = (upwards(first.0), upwards(second.0));
        let (a, b) = (position(first.1)?, position(second.1)?);
        let (pixels, drawn) = (sub(q, p), sub(b, a));
        let (squared, length) = (dot(pixels, pixels), dot(drawn, drawn));
        if !(squared >= FEWEST_PIXELS * FEWEST_PIXELS && squared.is_finite() && length > 0.0) {
            return Err(LinkageError::Photograph { pixels: squared.sqrt(), fewest: FEWEST_PIXELS });
        }
        let alpha = scale(1.0 / squared, turn(drawn, [pixels[0], -pixels[1]]));
        Ok(Self { alpha, beta: sub(a, turn(alpha, p)) })
    }

    /// The position of a pixel (right, down).
    ///
    /// # Errors
    /// [`LinkageError::Unit`] for a pixel that is not finite.
    pub fn at(&self, pixel: [f64; 2]) -> Result<[Length; 2], LinkageError> {
        let [x, z] = add(turn(self.alpha, upwards(pixel)), self.beta).map(Length::from_si);
        Ok([check::finite("pixel", x)?, check::finite("pixel", z)?])
    }

    /// Length that one pixel stands for.
    #[must_use]
    pub fn pixel(&self) -> Length {
        Length::from_si(dot(self.alpha, self.alpha).sqrt())
    }
}

fn upwards(pixel: [f64; 2]) -> Vec2<f64> {
    [pixel[0], -pixel[1]]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linkage::tests::arrangements::{mm, rocker_on_swingarm};

    #[test]
    fn a_drawing_photographed_at_an_angle_is_found_again() {
        let (turned, pixels_per_mm) = (0.07_f64, 2.3);
        let shot = |[x, z]: [f64; 2]| {
            let (s, c) = turned.sin_cos();
            [1500.0 + pixels_per_mm * (c * x - s * z), 900.0 - pixels_per_mm * (s * x + c * z)]
        };
        let points = rocker_on_swingarm().points;
        let known = |at: usize| (shot(points[at].1), points[at].1.map(mm));
        let photograph = Photograph::new(known(0), known(1)).unwrap();
        for (name, at) in points {
            let found = photograph.at(shot(at)).unwrap();
            assert!((found[0] - mm(at[0])).si().abs() < 1e-12 && (found[1] - mm(at[1])).si().abs() < 1e-12, "{name}");
        }
        assert!((photograph.pixel().si() - 1e-3 / pixels_per_mm).abs() < 1e-15);
    }

    #[test]
    fn points_too_close_are_refused() {
        let error = Photograph::new(([10., 10.], [mm(0.), mm(0.)]), ([20., 10.], [mm(5.), mm(0.)])).unwrap_err();
        assert!(error.to_string().contains("10.0 pixels"), "{error}");
        let apart = |first, second| match Photograph::new(first, second).unwrap_err() {
            LinkageError::Photograph { pixels, fewest } => (pixels, fewest),
            other => panic!("{other}"),
        };
        let (pixels, fewest) = apart(([10., 10.], [mm(1.), mm(0.)]), ([f64::NAN, 10.], [mm(5.), mm(0.)]));
        assert!(pixels.is_nan() && fewest == FEWEST_PIXELS);
        // One place in the drawing.
        assert_eq!(apart(([0., 0.], [mm(1.), mm(0.)]), ([100., 0.], [mm(1.), mm(0.)])), (100.0, FEWEST_PIXELS));
    }
}
