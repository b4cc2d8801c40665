//! Small motion over a road: response by frequency, and mean squares over a spectrum.

use core::f64::consts::TAU;

use nalgebra::{Complex, Const, DimMin, SMatrix, SVector};

use super::spectrum::Road;
use super::weighting;
use crate::error::BikeError;

/// A wheel on the road.
#[derive(Debug, Clone, Copy)]
pub(super) struct LinearWheel<const N: usize> {
    /// Travel of its end, and rise of its axle, over the coordinates.
    pub(super) travel: SVector<f64, N>,
    pub(super) axle: SVector<f64, N>,
    pub(super) tyre: f64,
    /// How far behind the first wheel, in metres.
    pub(super) behind: f64,
}

/// The matrices of a small motion, on some wheels.
#[derive(Debug, Clone)]
pub(super) struct Linear<const N: usize> {
    pub(super) mass: SMatrix<f64, N, N>,
    pub(super) damping: SMatrix<f64, N, N>,
    pub(super) stiffness: SMatrix<f64, N, N>,
    pub(super) rise: SVector<f64, N>,
    pub(super) wheels: Vec<LinearWheel<N>>,
}

/// Response to a road of unit height at one frequency.
#[derive(Debug, Clone, Copy)]
pub(super) struct Response<const N: usize> {
    pub(super) coordinates: SVector<Complex<f64>, N>,
}

/// Mean squares of one end.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct EndSquares {
    pub(super) travel: f64,
    pub(super) speed: f64,
    pub(super) tyre_force: f64,
}

/// Mean squares of the whole.
#[derive(Debug, Clone)]
pub(super) struct Squares {
    pub(super) ends: Vec<EndSquares>,
    pub(super) acceleration: f64,
    pub(super) weighted: f64,
}

/// Panels of a decade of frequency: a resonance of a damping ratio of 0.03 is three of them wide.
const PANELS: f64 = 130.0;
/// Points and weights of Gauss and Legendre in a panel.
const NODES: [(f64, f64); 4] = [
    (-0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
    (-0.339_981_043_584_856_26, 0.652_145_154_862_546_1),
    (0.339_981_043_584_856_26, 0.652_145_154_862_546_1),
    (0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
];

impl<const N: usize> LinearWheel<N> {
    /// `e^(−iω·l/v)`: the road under this wheel, of that under the first.
    fn delayed(&self, circular: f64, speed: f64) -> Complex<f64> {
        Complex::new(0.0, -circular * self.behind / speed).exp()
    }
}

impl<const N: usize> Linear<N>
where
    Const<N>: DimMin<Const<N>, Output = Const<N>>,
{
    /// The response at a circular frequency; `None` where an undamped resonance has none.
    pub(super) fn response(&self, circular: f64, speed: f64) -> Option<Response<N>> {
        let stiff = self.stiffness - self.mass * (circular * circular);
        let pencil = stiff.zip_map(&self.damping, |stiff, damping| Complex::new(stiff, circular * damping));
        let mut push = SVector::<Complex<f64>, N>::zeros();
        for wheel in &self.wheels {
            let under = wheel.delayed(circular, speed) * wheel.tyre;
            push += wheel.axle.map(|way| under * way);
        }
        let coordinates = pencil.lu().solve(&push)?;
        coordinates.iter().all(|part| part.re.is_finite() && part.im.is_finite()).then_some(Response { coordinates })
    }

    /// Mean squares over a road at a speed.
    pub(super) fn squares(&self, road: &Road, speed: f64) -> Result<Squares, BikeError> {
        let [low, high] = road.wavenumbers().map(|wavenumber| (wavenumber * speed).ln());
        let panels = (PANELS * (high - low) / core::f64::consts::LN_10).ceil().max(1.0);
        let half = 0.5 * (high - low) / panels;
        let mut found =
            Squares { ends: vec![EndSquares::default(); self.wheels.len()], acceleration: 0.0, weighted: 0.0 };
        for panel in 0..panels as usize {
            let middle = low + half * (2.0 * panel as f64 + 1.0);
            for (at, weight) in NODES {
                let frequency = (middle + half * at).exp();
                let circular = TAU * frequency;
                // df = f·d(ln f), and G_d(f) = G_d(n)/v.
                let power = road.density(frequency / speed) / speed * frequency * half * weight;
                let response = self.response(circular, speed).ok_or(BikeError::NoModes)?;
                for (wheel, squares) in self.wheels.iter().zip(&mut found.ends) {
                    let travel = response.along(&wheel.travel).norm_sqr() * power;
                    squares.travel += travel;
                    squares.speed += circular * circular * travel;
                    let pressed = response.along(&wheel.axle) - wheel.delayed(circular, speed);
                    squares.tyre_force += (pressed * wheel.tyre).norm_sqr() * power;
                }
                let acceleration = response.along(&self.rise).norm_sqr() * circular.powi(4) * power;
                found.acceleration += acceleration;
                found.weighted += acceleration * weighting::squared(frequency);
            }
        }
        Ok(found)
    }
}

impl<const N: usize> Response<N> {
    /// What moves along a way through the coordinates.
    pub(super) fn along(&self, way: &SVector<f64, N>) -> Complex<f64> {
        self.coordinates.iter().zip(way.iter()).map(|(part, way)| part * *way).sum()
    }
}
