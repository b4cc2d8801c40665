//! Small motion of the settled bike, exactly: bounce, pitch and, with tyres, the wheels.
//!
//! Coordinates `q`: rise `h` of the frame, pitch `θ` nose down, travels `z_f`, `z_r`; the way forward `x` moves freely.
//! Every mass follows from them, the unsprung masses along the paths of their axles, so fore and aft as well:
//!
//! `M = Σ m·(∂r/∂q)ᵀ·(∂r/∂q) + I·(∂θ/∂q)ᵀ·(∂θ/∂q)`, with `x` taken out by the momentum along it,
//! `K = ∂²/∂q² [E_f(z_f) + E_r(z_r) + g·Σ m·y] − Σ N·∂²y_A/∂q²`
//!
//! plus `k_t·(∂y_A/∂q)ᵀ·(∂y_A/∂q)` for each tyre; a rigid one holds its `y_A` instead, and the motion is taken in what is
//! left of `q` (null space of `∂y_A/∂q`). All derivatives are exact.
//!
//! The second derivatives of the energies are those of a fast movement about the rest: the gas has no time to lose heat.
//!
//! Assumes free-rolling wheels on level ground, whose own spin and the swingarm's turning are left out (a few per cent of
//! the pitch inertia), no friction, and neither end on a stop.
//!
//! Reference: Goldstein, *Classical Mechanics*, ch. 6; the second-order terms of constraints as in Nocedal & Wright,
//! *Numerical Optimization*, 12.5.

use core::f64::consts::TAU;

use nalgebra::{DMatrix, DVector, Matrix4, Matrix5, Vector4, Vector5};

use super::plane::{Contact, FRONT, Lump, Plane, Pose, REAR};
use crate::bike::ride::{Mode, ModeKind, modes};
use crate::error::BikeError;
use crate::units::{Frequency, Length, Quantity};
use crate::wheel::EndKernel;

/// Places of the coordinates; the way forward comes last in the mass matrix.
const RISE: usize = 0;
const PITCH: usize = 1;
const TRAVEL: [usize; 2] = [2, 3];
const FORWARD: usize = 4;

/// Share of the motion's energy beyond which a mode is a wheel's.
const HOP_SHARE: f64 = 0.5;
/// A mode whose centre is farther off, in metres, does not pitch: rounding made the rest.
const FAR_SI: f64 = 1e9;

/// First derivatives of a place, forward and up, and second derivatives of its height.
struct Moving {
    forward: Vector5<f64>,
    up: Vector5<f64>,
    bend: Matrix4<f64>,
}

/// A point of the frame at `[x, z]`, turned to the ground; an axle also moves by its travel.
fn moving(pose: &Pose, at: [f64; 2], axle: Option<usize>) -> Moving {
    let [x, z] = pose.turn(at);
    let mut forward = Vector5::zeros();
    let mut up = Vector5::zeros();
    let mut bend = Matrix4::zeros();
    forward[FORWARD] = 1.0;
    up[RISE] = 1.0;
    // d/dθ of (x·cos θ + z·sin θ, z·cos θ − x·sin θ) is (z′, −x′) of the turned vector.
    forward[PITCH] = z;
    up[PITCH] = -x;
    bend[(PITCH, PITCH)] = -z;
    if let Some(end) = axle {
        let path = &pose.axles[end];
        let along = TRAVEL[end];
        let [dx, dz] = pose.turn([path.slope, 1.0]);
        forward[along] = dx;
        up[along] = dz;
        bend[(PITCH, along)] = -dx;
        bend[(along, PITCH)] = -dx;
        bend[(along, along)] = -path.curvature * pose.sin;
    }
    Moving { forward, up, bend }
}

/// The small motion in the coordinates that are free: matrices, and what of the bike moves in them. Two ends, front first.
#[derive(Debug, Clone)]
pub(crate) struct SmallMotion {
    pub(crate) mass: DMatrix<f64>,
    pub(crate) stiffness: DMatrix<f64>,
    /// Rise of the sprung centre of gravity, and pitch nose down.
    pub(crate) rise: DVector<f64>,
    pub(crate) pitch: DVector<f64>,
    /// Travel of each end, and rise of each axle.
    pub(crate) travel: [DVector<f64>; 2],
    pub(crate) axle: [DVector<f64>; 2],
    pub(crate) unsprung: [f64; 2],
    /// Horizontal distance of each axle from the sprung centre of gravity.
    pub(crate) arm: [f64; 2],
    /// Travel at rest.
    pub(crate) rest: [f64; 2],
}

/// Mass and stiffness matrix about a rest, and the way of each axle up.
struct Linear {
    mass: Matrix4<f64>,
    stiffness: Matrix4<f64>,
    axles: [Vector4<f64>; 2],
}

impl Plane<'_> {
    fn linear(
        &self,
        pose: &Pose,
        travel: [f64; 2],
        contact: &Contact,
        lump: &Lump,
        inertia: f64,
        gravity: f64,
    ) -> Linear {
        let body = moving(pose, lump.at, None);
        let axles = [FRONT, REAR].map(|end| moving(pose, pose.axles[end].at, Some(end)));
        let mut mass = Matrix5::zeros();
        let mut stiffness = body.bend * (lump.mass * gravity);
        mass[(PITCH, PITCH)] += inertia;
        let parts = [(lump.mass, &body), (self.unsprung[FRONT], &axles[FRONT]), (self.unsprung[REAR], &axles[REAR])];
        for (kilograms, part) in parts {
            mass += (part.forward * part.forward.transpose() + part.up * part.up.transpose()) * kilograms;
        }
        for end in [FRONT, REAR] {
            let along = TRAVEL[end];
            stiffness[(along, along)] += self.ends[end].fast_wheel_rate(travel[end]);
            stiffness += axles[end].bend * (self.unsprung[end] * gravity - contact.normal[end]);
        }
        let along = mass.fixed_view::<4, 1>(0, FORWARD).into_owned();
        let moved = mass.fixed_view::<4, 4>(0, 0) - along * along.transpose() / mass[(FORWARD, FORWARD)];
        let axles = axles.map(|axle| axle.up.fixed_rows::<4>(0).into_owned());
        Linear { mass: moved, stiffness, axles }
    }

    /// The small motion about a rest on level ground.
    pub(super) fn small_motion(
        &self,
        pose: &Pose,
        travel: [f64; 2],
        contact: &Contact,
        lump: &Lump,
        inertia: f64,
        gravity: f64,
    ) -> SmallMotion {
        let linear = self.linear(pose, travel, contact, lump, inertia, gravity);
        let mut stiffness = linear.stiffness;
        // Every rigid tyre takes its travel for a function of rise and pitch.
        let mut free = vec![linear_free(&linear, self, RISE), linear_free(&linear, self, PITCH)];
        for end in [FRONT, REAR] {
            if self.softness[end] > 0.0 {
                stiffness += linear.axles[end] * linear.axles[end].transpose() / self.softness[end];
                free.push(Vector4::ith(TRAVEL[end], 1.0));
            }
        }
        let basis =
            DMatrix::from_columns(&free.iter().map(|v| DVector::from_column_slice(v.as_slice())).collect::<Vec<_>>());
        let reduce = |matrix: &Matrix4<f64>| {
            let full = DMatrix::from_column_slice(4, 4, matrix.as_slice());
            basis.transpose() * full * &basis
        };
        let row = |way: Vector4<f64>| basis.transpose() * DVector::from_column_slice(way.as_slice());
        let [ahead, _] = pose.place(lump.at);
        SmallMotion {
            mass: reduce(&linear.mass),
            stiffness: reduce(&stiffness),
            rise: row(moving(pose, lump.at, None).up.fixed_rows::<4>(0).into_owned()),
            pitch: row(Vector4::ith(PITCH, 1.0)),
            travel: [FRONT, REAR].map(|end| row(Vector4::ith(TRAVEL[end], 1.0))),
            axle: [FRONT, REAR].map(|end| row(linear.axles[end])),
            unsprung: self.unsprung,
            arm: [pose.wheelbase - ahead, ahead],
            rest: travel,
        }
    }
}

impl SmallMotion {
    /// Modes in rising frequency.
    pub(crate) fn modes(&self) -> Result<Vec<Mode>, BikeError> {
        let found = modes(self.mass.clone(), &self.stiffness).ok_or(BikeError::NoModes)?;
        found.into_iter().map(|(square, shape)| self.mode(square, &shape)).collect()
    }

    fn mode(&self, square: f64, shape: &DVector<f64>) -> Result<Mode, BikeError> {
        if square <= 0.0 {
            return Err(BikeError::Unstable);
        }
        let (rise, pitch) = (self.rise.dot(shape), self.pitch.dot(shape));
        // The mode has unit modal mass, so this is the share of the energy that the wheel's own rise has.
        let hops = |end: usize| self.unsprung[end] * self.axle[end].dot(shape).powi(2) > HOP_SHARE;
        let (front, rear) = (rise - self.arm[FRONT] * pitch, rise + self.arm[REAR] * pitch);
        let kind = match (hops(FRONT), hops(REAR)) {
            (true, _) => ModeKind::FrontHop,
            (_, true) => ModeKind::RearHop,
            _ => ModeKind::of_body(front, rear),
        };
        let center = rise / pitch;
        Ok(Mode {
            kind,
            frequency: Frequency::from_si(square.sqrt() / TAU),
            center_ahead: (center.abs() < FAR_SI).then(|| Length::from_si(center)),
        })
    }
}

/// One of rise and pitch, with the travels that keep the axles on rigid tyres at their height.
fn linear_free(linear: &Linear, plane: &Plane<'_>, coordinate: usize) -> Vector4<f64> {
    let mut way = Vector4::ith(coordinate, 1.0);
    for end in [FRONT, REAR] {
        if plane.softness[end] == 0.0 {
            way[TRAVEL[end]] = -linear.axles[end][coordinate] / linear.axles[end][TRAVEL[end]];
        }
    }
    way
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rise, pitch and both axles, each a coordinate of its own.
    fn motion() -> SmallMotion {
        let unit = |at: usize| DVector::from_fn(4, |row, _| if row == at { 1.0 } else { 0.0 });
        SmallMotion {
            mass: DMatrix::identity(4, 4),
            stiffness: DMatrix::identity(4, 4),
            rise: unit(0),
            pitch: unit(1),
            travel: [unit(2), unit(3)],
            axle: [unit(2), unit(3)],
            unsprung: [14.0, 18.0],
            arm: [0.8, 0.6],
            rest: [0.05, 0.1],
        }
    }

    fn mode(shape: [f64; 4]) -> Mode {
        motion().mode((TAU * 2.5).powi(2), &DVector::from_column_slice(&shape)).unwrap()
    }

    #[test]
    fn a_mode_is_named_by_what_its_ends_and_wheels_do() {
        let body = [
            // The front rises by the rise less 0.8 m of pitch, the rear by it and 0.6 m of pitch.
            ([0.05, 0.05], ModeKind::Bounce),
            ([0.05, 0.07], ModeKind::Pitch),
            ([0.05, -0.08], ModeKind::Bounce),
            ([0.05, -0.09], ModeKind::Pitch),
            ([-0.05, 0.08], ModeKind::Bounce),
            ([0.0, 0.05], ModeKind::Pitch),
        ];
        for ([rise, pitch], kind) in body {
            let found = mode([rise, pitch, 0.05, -0.05]);
            assert_eq!(found.kind, kind, "{rise} {pitch}");
            assert!((found.frequency.si() - 2.5).abs() < 1e-12);
            assert!((found.center_ahead.unwrap().si() - rise / pitch).abs() < 1e-12);
        }
        assert_eq!(mode([0.05, 0.0, 0.0, 0.0]).center_ahead, None);
        // Half of the energy is 0.189 of 14 kg, 0.167 of 18 kg.
        for sign in [1.0, -1.0] {
            assert_eq!(mode([0.05, 0.05, 0.19 * sign, 0.0]).kind, ModeKind::FrontHop);
            assert_eq!(mode([0.05, 0.05, 0.188 * sign, 0.0]).kind, ModeKind::Bounce);
            assert_eq!(mode([0.05, 0.05, 0.0, 0.168 * sign]).kind, ModeKind::RearHop);
            assert_eq!(mode([0.05, 0.05, 0.0, 0.166 * sign]).kind, ModeKind::Bounce);
        }
    }

    #[test]
    fn a_mode_that_does_not_come_back_is_no_rest() {
        for square in [0.0, -1.0] {
            assert_eq!(motion().mode(square, &DVector::zeros(4)), Err(BikeError::Unstable));
        }
    }
}
