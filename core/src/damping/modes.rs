//! The modes of the settled bike with its dampers.

use core::f64::consts::TAU;

use nalgebra::{Complex, DMatrix, DVector, Schur};

use super::end::own_damper;
use crate::bike::WholeBike;
use crate::bike::ride::ModeKind;
use crate::bike::settling::SmallMotion;
use crate::damper::Damper;
use crate::error::{BikeError, Result};
use crate::record::{End, Load};
use crate::units::{Frequency, Quantity, Share, Velocity, check};
use crate::wheel::EndKernel;

/// A mode with the dampers in it.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct DampedMode {
    /// What moves most.
    pub kind: ModeKind,
    /// Frequency `|λ|/2π`: near that of the same mode without dampers.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub frequency: Frequency,
    /// Frequency at which it swings out; nothing beyond critical damping.
    #[cfg_attr(feature = "serde", serde(default, with = "crate::units::text_serde::option"))]
    pub damped_frequency: Option<Frequency>,
    /// Share of critical damping.
    pub damping_ratio: Share,
}

/// Share of the motion's energy beyond which a mode is a wheel's.
const HOP_SHARE: f64 = 0.5;
/// A root is real where its imaginary part is below this share of it: rounding of the eigenvalues made the rest.
const REAL: f64 = 1e-9;

/// The modes of a settled bike under a load with the dampers of its file, in rising frequency. The dampers answer as to motions of
/// this amplitude of speed at each wheel; at no speed by the mean of their slopes from rest.
///
/// # Errors
/// [`BikeError::Missing`] for a damper, and as [`WholeBike::modes`].
pub fn damped_modes(whole: &WholeBike<'_>, load: &Load, speed: Velocity) -> Result<Vec<DampedMode>> {
    let speed = check::not_negative("speed", speed).map_err(BikeError::from)?.si();
    let (front, rear) = (own_damper(whole.bike(), End::Front)?, own_damper(whole.bike(), End::Rear)?);
    let motion = at_rest(whole, load)?;
    let of = |end: End, damper: &Damper| {
        let kernel = whole.bike().end(end)?;
        let ratio = kernel.motion(motion.rest[end as usize]).ratio;
        Ok::<_, crate::Error>(ratio * ratio * damper.harmonic(ratio * speed))
    };
    Ok(modes(&motion, [of(End::Front, &front)?, of(End::Rear, &rear)?])?)
}

/// The small motion of a bike about its rest under a load.
pub(crate) fn at_rest(whole: &WholeBike<'_>, load: &Load) -> Result<SmallMotion> {
    whole.chassis()?.small_motion(&whole.sprung(load)?, whole.pitch_inertia(load)?)
}

/// The damping matrix of two damping rates at the wheels.
pub(crate) fn damping(motion: &SmallMotion, rates: [f64; 2]) -> DMatrix<f64> {
    let of = |end: usize| &motion.travel[end] * motion.travel[end].transpose() * rates[end];
    of(0) + of(1)
}

fn modes(motion: &SmallMotion, rates: [f64; 2]) -> Result<Vec<DampedMode>, BikeError> {
    // Says it where springs do not hold the bike.
    motion.modes()?;
    let damping = damping(motion, rates);
    let inverse = motion.mass.clone().try_inverse().ok_or(BikeError::NoModes)?;
    let many = motion.mass.nrows();
    let mut state = DMatrix::zeros(2 * many, 2 * many);
    state.view_mut((0, many), (many, many)).fill_with_identity();
    state.view_mut((many, 0), (many, many)).copy_from(&(-&inverse * &motion.stiffness));
    state.view_mut((many, many), (many, many)).copy_from(&(-&inverse * &damping));
    let roots = roots(state).ok_or(BikeError::NoModes)?;
    let (mut pairs, mut real) = (Vec::new(), Vec::new());
    for root in roots.iter() {
        if root.im > REAL * root.norm() {
            pairs.push((*root, root.conj()));
        } else if root.im.abs() <= REAL * root.norm() {
            real.push(Complex::new(root.re, 0.0));
        }
    }
    real.sort_by(|one, other| one.norm().total_cmp(&other.norm()));
    pairs.extend(real.chunks_exact(2).map(|pair| (pair[0], pair[1])));
    let mut found = pairs
        .into_iter()
        .map(|(one, other)| {
            let natural = (one * other).re.sqrt();
            let shape = shape(motion, &damping, one).ok_or(BikeError::NoModes)?;
            Ok(DampedMode {
                kind: kind(motion, &shape),
                frequency: Frequency::from_si(natural / TAU),
                damped_frequency: (one.im > 0.0).then(|| Frequency::from_si(one.im / TAU)),
                damping_ratio: Share::from_si(-0.5 * (one + other).re / natural),
            })
        })
        .collect::<Result<Vec<_>, BikeError>>()?;
    found.sort_by(|one, other| one.frequency.si().total_cmp(&other.frequency.si()));
    Ok(found)
}

/// The roots of a state; `None` where it holds a number that is none, on which the iterations would go on for ever, or where they
/// do not end.
fn roots(state: DMatrix<f64>) -> Option<DVector<Complex<f64>>> {
    /// A root takes two or three iterations; a bike has eight at most.
    const MOST: usize = 1000;
    if !state.iter().all(|number| number.is_finite()) {
        return None;
    }
    Some(Schur::try_new(state, f64::EPSILON, MOST)?.complex_eigenvalues())
}

/// The shape that a root holds still: the vector that `λ²·M + λ·C + K` takes to nothing.
fn shape(motion: &SmallMotion, damping: &DMatrix<f64>, root: Complex<f64>) -> Option<DVector<Complex<f64>>> {
    let complex = |matrix: &DMatrix<f64>| matrix.map(|number| Complex::new(number, 0.0));
    let pencil = complex(&motion.mass) * (root * root) + complex(damping) * root + complex(&motion.stiffness);
    let rows = pencil.svd(false, true).v_t?;
    // The singular values come in falling order: the last row goes with the least.
    Some(rows.row(rows.nrows() - 1).adjoint())
}

fn kind(motion: &SmallMotion, shape: &DVector<Complex<f64>>) -> ModeKind {
    let along = |way: &DVector<f64>| way.iter().zip(shape.iter()).map(|(way, part)| part * *way).sum::<Complex<f64>>();
    let energy = (shape.adjoint() * motion.mass.map(|number| Complex::new(number, 0.0)) * shape)[(0, 0)].re;
    let hops = |end: usize| motion.unsprung[end] * along(&motion.axle[end]).norm_sqr() > HOP_SHARE * energy;
    let (rise, pitch) = (along(&motion.rise), along(&motion.pitch));
    let [front, rear] = [rise - pitch * motion.arm[0], rise + pitch * motion.arm[1]];
    match (hops(0), hops(1)) {
        (true, _) => ModeKind::FrontHop,
        (_, true) => ModeKind::RearHop,
        _ if (front * rear.conj()).re > 0.0 => ModeKind::Bounce,
        _ => ModeKind::Pitch,
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
