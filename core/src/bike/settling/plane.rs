//! The bike as a plane figure: where its axles put it on the ground, and what its ends carry there. SI numbers only.
//!
//! With the axles at `A_f`, `A_r` in the frame axes, `L` apart, on wheels of loaded radii `R_f`, `R_r`, the frame is pitched
//! nose down by `θ`:
//!
//! `θ = atan2(z_f − z_r, x_f − x_r) − asin((R_f − R_r)/L)`, `wheelbase = √(L² − (R_f − R_r)²)`
//!
//! A vector `(x, z)` of the frame is `(x·cos θ + z·sin θ, z·cos θ − x·sin θ)` on the ground.

use super::tables::EndTables;
use crate::bike::settling::reaction::Reaction;
use crate::error::{BikeError, Result, WheelError};
use crate::units::{Length, Quantity, brief};
use crate::wheel::{AxlePoint, CaliperSpin, Carried, EndTable, Equilibrium, Exact, Rest, Sample, Wheel, rest};

pub(super) const FRONT: usize = 0;
pub(super) const REAR: usize = 1;

/// The same of both ends.
#[inline(always)]
pub(super) fn both<T>(mut of: impl FnMut(usize) -> T) -> [T; 2] {
    [of(FRONT), of(REAR)]
}

/// What of the bike does not depend on its state.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plane<'a> {
    pub(super) ends: [&'a dyn Wheel; 2],
    pub(super) tables: &'a EndTables,
    pub(super) radius: [f64; 2],
    /// Deflection of each tyre per force; zero for a rigid one.
    pub(super) softness: [f64; 2],
    pub(super) unsprung: [f64; 2],
    /// What the front brake turns with, where that is a body of a linkage.
    pub(super) caliper: Option<CaliperSpin<'a>>,
}

/// The sprung mass, its centre of gravity in the frame axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lump {
    pub(super) mass: f64,
    pub(super) at: [f64; 2],
}

/// Gravity and the inertia of steady acceleration per mass, along and square to the ground, and what the wheels give for
/// it along the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Field {
    pub(super) along: f64,
    pub(super) down: f64,
    pub(super) front_share: f64,
    pub(super) reaction: Reaction,
}

impl Field {
    pub(super) fn level(gravity: f64) -> Self {
        Self { along: 0.0, down: -gravity, front_share: 0.0, reaction: Reaction::Frame }
    }
}

/// Forces of the ground on both wheels.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Contact {
    pub(super) normal: [f64; 2],
    pub(super) along: [f64; 2],
}

/// Where the frame is.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub(super) struct Pose {
    pub(super) sin: f64,
    pub(super) cos: f64,
    pub(super) axles: [AxlePoint; 2],
    pub(super) radius: [f64; 2],
    pub(super) wheelbase: f64,
}

impl Pose {
    #[inline]
    fn new(axles: [AxlePoint; 2], radius: [f64; 2]) -> Result<Self, BikeError> {
        let [front, rear] = axles.map(|axle| axle.at);
        let (dx, dz) = (front[0] - rear[0], front[1] - rear[1]);
        let (squared, step) = (dx * dx + dz * dz, radius[FRONT] - radius[REAR]);
        let apart = squared.sqrt();
        if step.abs() >= apart || dx <= 0.0 {
            let [apart, step] = [dx, step].map(|si| brief(Length::from_si(si)));
            return Err(BikeError::Axles { apart, step });
        }
        let wheelbase = ((apart - step) * (apart + step)).sqrt();
        // Of the difference of two angles whose sines and cosines are dz/L, dx/L and step/L, wheelbase/L.
        let sin = (dz * wheelbase - dx * step) / squared;
        let cos = (dx * wheelbase + dz * step) / squared;
        Ok(Self { sin, cos, axles, radius, wheelbase })
    }

    /// Of the frame, nose down.
    pub(super) fn pitch(&self) -> f64 {
        self.sin.atan2(self.cos)
    }

    /// A vector of the frame, on the ground.
    #[inline]
    pub(super) fn turn(&self, [x, z]: [f64; 2]) -> [f64; 2] {
        [x * self.cos + z * self.sin, z * self.cos - x * self.sin]
    }

    /// A point of the frame: its distance ahead of the rear contact and its height.
    #[inline]
    pub(super) fn place(&self, [x, z]: [f64; 2]) -> [f64; 2] {
        let rear = self.axles[REAR].at;
        let [ahead, above] = self.turn([x - rear[0], z - rear[1]]);
        [ahead, above + self.radius[REAR]]
    }

    /// The point of the frame at a place.
    pub(super) fn point_at(&self, [ahead, height]: [f64; 2]) -> [f64; 2] {
        let (x, z) = (ahead, height - self.radius[REAR]);
        let rear = self.axles[REAR].at;
        [rear[0] + x * self.cos - z * self.sin, rear[1] + z * self.cos + x * self.sin]
    }
}

impl Plane<'_> {
    /// An end over its travel.
    #[inline]
    pub(super) fn table(&self, end: usize) -> &EndTable {
        self.tables.of(end, self.ends[end])
    }

    /// An end at a travel, by its kernels.
    pub(super) fn exact(&self, end: usize, travel: f64) -> Exact {
        Exact::of(self.ends[end], travel)
    }

    /// The bike standing on both wheels with its axles where they are, the tyres carrying these loads.
    #[inline]
    pub(super) fn pose_on(&self, axles: [Option<AxlePoint>; 2], normal: [f64; 2]) -> Result<Pose> {
        let [Some(front), Some(rear)] = axles else { return Err(WheelError::NoAxle.into()) };
        let radius = both(|end| self.radius[end] - self.softness[end] * normal[end]);
        Ok(Pose::new([front, rear], radius)?)
    }

    /// Moments about the rear contact, and shares along the ground.
    #[inline]
    pub(super) fn contact(&self, pose: &Pose, lump: &Lump, field: &Field) -> Contact {
        let [ahead, height] = pose.place(lump.at);
        let parts = [
            (lump.mass, ahead, height),
            (self.unsprung[FRONT], pose.wheelbase, pose.radius[FRONT]),
            (self.unsprung[REAR], 0.0, pose.radius[REAR]),
        ];
        let total: f64 = parts.iter().map(|(mass, ..)| mass).sum();
        let moment: f64 = parts.iter().map(|(mass, x, z)| mass * (z * field.along - x * field.down)).sum();
        let front = moment / pose.wheelbase;
        let along = -total * field.along;
        Contact {
            normal: [front, -total * field.down - front],
            along: [along * field.front_share, along * (1.0 - field.front_share)],
        }
    }

    /// Force of an end over what it has to carry where it is, and the slope of that, in an attitude and under forces that
    /// are held.
    ///
    /// `F_w − [(N + m·a_z)·dz/dz_A + m·a_x·dx/dz_A + X·(dx/dz_A − R·dψ/dz_A)]`: virtual work of the ground, of gravity and
    /// of inertia on the moving end, frame held.
    #[inline]
    pub(super) fn balance(&self, end: usize, at: &Sample, pose: &Pose, contact: &Contact, field: &Field) -> (f64, f64) {
        let Sample { force, rate, axle: Some(axle), .. } = *at else { return (f64::NAN, f64::NAN) };
        let carried = self.carried(end, pose, contact, field);
        let (over, slope) = carried.balance(force, rate, axle.slope, axle.curvature);
        let spin = match (end, &self.caliper) {
            (REAR, _) => field.reaction.spin(&axle),
            (_, Some(caliper)) if contact.along[end] != 0.0 => caliper.at(at.travel),
            _ => 0.0,
        };
        (over + contact.along[end] * pose.radius[end] * spin, slope)
    }

    /// Where an end rests in an attitude and under forces that are held, and where else it might: proved over all cells of its
    /// table, searched for by a balance at any place.
    pub(super) fn rest_of(
        &self,
        end: usize,
        near: f64,
        (pose, contact, field): (&Pose, &Contact, &Field),
        balance: impl Fn(f64) -> (f64, f64),
    ) -> (Rest, Vec<Equilibrium>) {
        let table = self.table(end);
        if contact.along[end] == 0.0 {
            rest(&table.carrying(self.carried(end, pose, contact, field)), Some(near), balance)
        } else {
            rest(&table.balances(|at| self.balance(end, at, pose, contact, field)), Some(near), balance)
        }
    }

    /// The first node of the end's table at which that is not below zero; see [`EndTable::first_carrying`].
    pub(super) fn first_over(&self, end: usize, pose: &Pose, contact: &Contact, field: &Field) -> Option<usize> {
        if contact.along[end] == 0.0 {
            self.table(end).first_carrying(self.carried(end, pose, contact, field))
        } else {
            self.table(end).first_over(|at| self.balance(end, at, pose, contact, field))
        }
    }

    #[inline]
    fn carried(&self, end: usize, pose: &Pose, contact: &Contact, field: &Field) -> Carried {
        Carried {
            up: contact.normal[end] + self.unsprung[end] * field.down,
            forward: contact.along[end] + self.unsprung[end] * field.along,
            sin: pose.sin,
            cos: pose.cos,
        }
    }
}
