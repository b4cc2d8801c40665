//! The whole bike in time: both ends on one body that rises and pitches, landing and braking.
//!
//! ```text
//! m·h″ = Σ (F_i − Q_i) − m·g − L                      body, at its centre of gravity
//! I·θ″ = −a·(F_f − Q_f) + b·(F_r − Q_r) + X·H          nose down
//! m_u·w_i″ = T_i − F_i + Q_i − m_u·g                   wheels, z_f = w_f − (h − a·θ), z_r = w_r − (h + b·θ)
//! Q_f = −X_f·(H/p)·anti-dive,  Q_r = X_r·(H/p)·anti-rise    what the brakes push along the travel
//! m_l·r″ = L − m_l·g,  L = max(0, k_l·c + d_l·c′), c = h − r   a rider on legs
//! ```
//!
//! **Method.** Each end is that of [`MovingEnd`], springs, gas, damper, friction, stops and tyre as they are; body and legs tie them
//! together, and the same integrator follows all of it. Peaks are found on its continuous output, and the account of energies says
//! how well it holds. Where the pitch inertia is `m·a·b` the ends do not know each other, and each is its own [`MovingEnd`].
//!
//! **Assumptions.** Pitch is small, and wheels move straight up and down in the frame; how far the bike has come does not count.
//! A brake pushes with a share of the deceleration, up to what the tyre's grip on its load allows, and a wheel in the air does not
//! brake. Anti-dive, anti-rise and the height of the centre of gravity are those at rest. A rider on legs stands over the centre of
//! gravity, and his legs are a spring and a damper that cannot pull.
//!
//! References: Gillespie, *Fundamentals of Vehicle Dynamics*, ch. 3 and 5; Cossalter, *Motorcycle Dynamics*, ch. 5 and 6.

use differential_equations::ode::ODE;

use super::motion::{
    BODY, BODY_SPEED, BY_DAMPER, BY_FRICTION, BY_GROUND, FRICTION, Model, STATE, State, WHEEL, WHEEL_SPEED,
};
use crate::units::kind::STANDARD_GRAVITY_SI as GRAVITY;

/// Rise, pitch, rider and their speeds; six numbers of each end; what legs took and brakes put in.
pub(super) const WHOLE: usize = 20;
pub(super) type Whole = [f64; WHOLE];
pub(super) const RISE: usize = 0;
pub(super) const RISE_SPEED: usize = 1;
pub(super) const PITCH: usize = 2;
pub(super) const PITCH_SPEED: usize = 3;
pub(super) const RIDER: usize = 4;
pub(super) const RIDER_SPEED: usize = 5;
const FIRST: [usize; 2] = [6, 12];
pub(super) const BY_LEGS: usize = 18;
pub(super) const BY_BRAKES: usize = 19;
/// Where of an end's own state its numbers come from, in order.
const KEPT: [usize; 6] = [WHEEL, WHEEL_SPEED, FRICTION, BY_DAMPER, BY_FRICTION, BY_GROUND];

/// A rider's legs.
#[derive(Debug, Clone, Copy)]
pub(super) struct LegsSi {
    pub(super) mass: f64,
    pub(super) rate: f64,
    pub(super) damping: f64,
}

/// How a bike is braked: deceleration wanted, the share of the front, the time over which it builds up, grip.
#[derive(Debug, Clone, Copy)]
pub(super) struct BrakingSi {
    pub(super) deceleration: f64,
    pub(super) front: f64,
    pub(super) build_up: f64,
    pub(super) grip: f64,
    /// `H/p·anti` of each end, and what each brake pushes along its travel per force.
    pub(super) along: [f64; 2],
}

/// The whole bike.
#[derive(Debug)]
pub(super) struct Both<'a> {
    pub(super) ends: [Model<'a>; 2],
    pub(super) sprung: f64,
    pub(super) total: f64,
    pub(super) inertia: f64,
    pub(super) arm: [f64; 2],
    pub(super) height: f64,
    pub(super) legs: Option<LegsSi>,
    pub(super) braking: Option<BrakingSi>,
}

/// What acts besides the ends.
struct Acting {
    legs: f64,
    brakes: [f64; 2],
}

impl Both<'_> {
    /// Share of a pitch that raises the body over an end.
    fn lever(&self, end: usize) -> f64 {
        if end == 0 { -self.arm[0] } else { self.arm[1] }
    }

    /// An end as it sees itself.
    pub(super) fn end(&self, end: usize, y: &Whole) -> State {
        let mut own = [0.0; STATE];
        own[BODY] = y[RISE] + self.lever(end) * y[PITCH];
        own[BODY_SPEED] = y[RISE_SPEED] + self.lever(end) * y[PITCH_SPEED];
        for (at, place) in KEPT.into_iter().enumerate() {
            own[place] = y[FIRST[end] + at];
        }
        own
    }

    fn put(&self, end: usize, own: &State, y: &mut Whole) {
        for (at, place) in KEPT.into_iter().enumerate() {
            y[FIRST[end] + at] = own[place];
        }
    }

    /// The state whose ends are these.
    fn of(&self, ends: [State; 2]) -> Whole {
        let mut y = [0.0; WHOLE];
        let [a, b] = self.arm;
        let [front, rear] = &ends;
        for (place, speed) in [(BODY, false), (BODY_SPEED, true)] {
            y[RISE + usize::from(speed)] = (b * front[place] + a * rear[place]) / (a + b);
            y[PITCH + usize::from(speed)] = (rear[place] - front[place]) / (a + b);
        }
        self.put(0, front, &mut y);
        self.put(1, rear, &mut y);
        y[RIDER] = y[RISE];
        y[RIDER_SPEED] = y[RISE_SPEED];
        y
    }

    /// At rest on tyres, springs and legs.
    pub(super) fn resting(&self) -> Whole {
        let mut y = self.of([self.ends[0].resting(), self.ends[1].resting()]);
        if let Some(legs) = self.legs {
            y[RIDER] -= legs.mass * GRAVITY / legs.rate;
        }
        y
    }

    /// Falling freely at a speed, the lower tyre just touching, pitched nose down from where both would.
    pub(super) fn hanging(&self, speed: f64, pitch: f64) -> Whole {
        let mut ends = [0, 1].map(|end| self.ends[end].hanging(speed));
        let lift = if pitch > 0.0 { self.arm[0] * pitch } else { -self.arm[1] * pitch };
        for (end, own) in ends.iter_mut().enumerate() {
            let up = lift + self.lever(end) * pitch;
            own[BODY] += up;
            own[WHEEL] += up;
        }
        self.of(ends)
    }

    fn acting(&self, time: f64, y: &Whole, tyres: [f64; 2]) -> Acting {
        let legs = self.legs.map_or(0.0, |legs| {
            (legs.rate * (y[RISE] - y[RIDER]) + legs.damping * (y[RISE_SPEED] - y[RIDER_SPEED])).max(0.0)
        });
        // A rider in the air is held by nothing.
        let legs = if y[RISE] > y[RIDER] { legs } else { 0.0 };
        let brakes = self.braking.map_or([0.0; 2], |braking| {
            let phase = (time / braking.build_up).min(1.0);
            let now = 0.5 * (1.0 - (core::f64::consts::PI * phase).cos());
            let wanted = self.total * braking.deceleration * now;
            let shares = [braking.front, 1.0 - braking.front];
            [0, 1].map(|end| (wanted * shares[end]).min(braking.grip * tyres[end]))
        });
        Acting { legs, brakes }
    }

    /// Pushes of the brakes along the travels.
    fn pushed(&self, brakes: [f64; 2]) -> [f64; 2] {
        self.braking.map_or([0.0; 2], |braking| [0, 1].map(|end| braking.along[end] * brakes[end]))
    }

    /// Force of an end, and of its tyre.
    pub(super) fn forces(&self, end: usize, time: f64, y: &Whole) -> [f64; 2] {
        self.ends[end].forces(time, &self.end(end, y))
    }

    /// Deceleration of the bike.
    pub(super) fn deceleration(&self, time: f64, y: &Whole) -> f64 {
        let tyres = [0, 1].map(|end| self.forces(end, time, y)[1]);
        self.acting(time, y, tyres).brakes.iter().sum::<f64>() / self.total
    }

    /// Kinetic, spring, metal, tyre, leg and height energy together.
    pub(super) fn energy(&self, time: f64, y: &Whole) -> f64 {
        let body = self.legs.map_or(self.sprung, |legs| self.sprung - legs.mass);
        let ends = [0, 1].map(|end| {
            let mut own = self.end(end, y);
            own[BODY_SPEED] = 0.0;
            let (sprung, travel) = (self.ends[end].sprung(), own[BODY]);
            self.ends[end].energy(time, &own) - GRAVITY * sprung * travel
        });
        let legs = self.legs.map_or(0.0, |legs| {
            let pressed = (y[RISE] - y[RIDER]).max(0.0);
            0.5 * legs.rate * pressed * pressed
                + legs.mass * (0.5 * y[RIDER_SPEED] * y[RIDER_SPEED] + GRAVITY * y[RIDER])
        });
        ends[0]
            + ends[1]
            + legs
            + 0.5 * (body * y[RISE_SPEED] * y[RISE_SPEED] + self.inertia * y[PITCH_SPEED] * y[PITCH_SPEED])
            + GRAVITY * body * y[RISE]
    }

    pub(super) fn grain(&self) -> f64 {
        let ends = self.ends[0].grain().min(self.ends[1].grain());
        self.braking.map_or(ends, |braking| ends.min(braking.build_up / 8.0))
    }

    pub(super) fn scale(&self) -> Whole {
        let ends = [0, 1].map(|end| self.ends[end].scale());
        let [length, speed, work] = [ends[1][BODY], ends[1][BODY_SPEED], ends[1][BY_DAMPER]];
        let arm = self.arm[0] + self.arm[1];
        let mut y = [0.0; WHOLE];
        [y[RISE], y[RISE_SPEED], y[PITCH], y[PITCH_SPEED]] = [length, speed, length / arm, speed / arm];
        [y[RIDER], y[RIDER_SPEED], y[BY_LEGS], y[BY_BRAKES]] = [length, speed, work, work];
        self.put(0, &ends[0], &mut y);
        self.put(1, &ends[1], &mut y);
        y
    }
}

impl ODE<f64, Whole> for Both<'_> {
    fn diff(&self, time: f64, y: &Whole, dydt: &mut Whole) {
        let own = [0, 1].map(|end| self.end(end, y));
        let tyres = [0, 1].map(|end| self.ends[end].forces(time, &own[end])[1]);
        let Acting { legs, brakes } = self.acting(time, y, tyres);
        let pushed = self.pushed(brakes);
        let moment = (brakes[0] + brakes[1]) * self.height;
        let (mut up, mut down) = (-legs, moment);
        dydt[BY_BRAKES] = moment * y[PITCH_SPEED];
        for end in [0, 1] {
            let mut change = [0.0; STATE];
            self.ends[end].diff(time, &own[end], &mut change);
            let carried = (change[BODY_SPEED] + GRAVITY) * self.ends[end].sprung() - pushed[end];
            up += carried;
            down += self.lever(end) * carried;
            change[WHEEL_SPEED] += pushed[end] / self.ends[end].unsprung();
            dydt[BY_BRAKES] += pushed[end] * (own[end][WHEEL_SPEED] - own[end][BODY_SPEED]);
            self.put(end, &change, dydt);
        }
        let body = self.legs.map_or(self.sprung, |legs| self.sprung - legs.mass);
        dydt[RISE] = y[RISE_SPEED];
        dydt[RISE_SPEED] = up / body - GRAVITY;
        dydt[PITCH] = y[PITCH_SPEED];
        dydt[PITCH_SPEED] = down / self.inertia;
        dydt[RIDER] = y[RIDER_SPEED];
        // Without legs the rider is part of the body.
        dydt[RIDER_SPEED] = self.legs.map_or(dydt[RISE_SPEED], |of| legs / of.mass - GRAVITY);
        dydt[BY_LEGS] = self
            .legs
            .map_or(0.0, |of| (legs - of.rate * (y[RISE] - y[RIDER]).max(0.0)) * (y[RISE_SPEED] - y[RIDER_SPEED]));
    }
}
