//! The equations of motion of one end, as first-order differential equations.

use core::f64::consts::PI;

use differential_equations::ode::ODE;

use super::{Damper, GroundHeight, MovingParts};
use crate::units::Quantity;
use crate::units::kind::STANDARD_GRAVITY_SI as GRAVITY;
use crate::wheel::{EndKernel, Rest, Wheel, rest_under};

/// Rate of the metal ends of travel in N/m, as soft as lets them give one millimetre under 5 kN: an estimate, no source.
/// Travel and energy hardly depend on it, the force against the metal does, and is not reported.
const METAL_SI: f64 = 5e6;
/// Distance over which friction builds up, in metres: bushes and seals give about this much before they slide (an
/// estimate, no source). A tenth or the double of it moves a peak by less than itself.
const STICTION_SI: f64 = 2e-4;

/// Positions and speeds of sprung mass and wheel, the force of friction, and what has been taken out or put in since the
/// start by damper, friction and ground. Heights are above where the tyre just touches flat ground with the end fully
/// extended.
pub(super) const STATE: usize = 8;
pub(super) type State = [f64; STATE];
pub(super) const BODY: usize = 0;
pub(super) const BODY_SPEED: usize = 1;
pub(super) const WHEEL: usize = 2;
pub(super) const WHEEL_SPEED: usize = 3;
pub(super) const FRICTION: usize = 4;
pub(super) const BY_DAMPER: usize = 5;
pub(super) const BY_FRICTION: usize = 6;
pub(super) const BY_GROUND: usize = 7;

/// Height of the ground over time.
#[derive(Debug, Clone, Copy)]
pub(super) enum Ground<'a> {
    Flat,
    Step { height: f64, rise: f64 },
    Given(&'a dyn GroundHeight),
}

impl Ground<'_> {
    /// Height and its speed.
    fn at(&self, time: f64) -> [f64; 2] {
        match *self {
            Self::Flat => [0.0, 0.0],
            Self::Step { height, rise } if time < rise => {
                let phase = PI * time / rise;
                [0.5 * height * (1.0 - phase.cos()), 0.5 * height * phase.sin() * PI / rise]
            }
            Self::Step { height, .. } => [height, 0.0],
            Self::Given(ground) => ground.at(time),
        }
    }

    /// The longest step in time that does not jump over it.
    fn grain(&self) -> f64 {
        /// Steps over the rise.
        const STEPS: f64 = 8.0;
        match self {
            Self::Flat => f64::INFINITY,
            Self::Step { rise, .. } => rise / STEPS,
            Self::Given(ground) => ground.grain(),
        }
    }
}

/// Spring force and energy at a travel that may lie in the metal.
struct SpringForce {
    force: f64,
    ratio: f64,
}

/// One end in motion.
#[derive(Debug)]
pub(super) struct Model<'a> {
    kernel: &'a dyn Wheel,
    sprung: f64,
    unsprung: f64,
    tyre: f64,
    friction: f64,
    damper: Damper,
    ground: Ground<'a>,
    /// Stroke at which the gas had settled.
    settled: f64,
}

impl<'a> Model<'a> {
    pub(super) fn new(kernel: &'a dyn Wheel, parts: &MovingParts, ground: Ground<'a>) -> Self {
        Self {
            kernel,
            sprung: parts.sprung.si(),
            unsprung: parts.unsprung.si(),
            tyre: parts.tyre.si(),
            friction: parts.friction.si(),
            damper: parts.damper.clone(),
            ground,
            settled: 0.0,
        }
    }

    /// The same end, its gas having settled at a travel of its own.
    pub(super) fn settled_at(self, travel: impl Fn(&Self) -> f64) -> Self {
        let travel = travel(&self).clamp(0.0, self.full());
        Self { settled: self.kernel.motion(travel).stroke, ..self }
    }

    /// The longest step in time that jumps over nothing, whatever the duration: a wheel that comes down again stays in
    /// touch for half a swing on its tyre or longer, and the error of a step across all of that would not show it.
    pub(super) fn grain(&self) -> f64 {
        /// Steps over half a swing.
        const STEPS: f64 = 8.0;
        (PI * (self.unsprung / self.tyre).sqrt() / STEPS).min(self.ground.grain())
    }

    /// How fast the tyre is pressed in.
    pub(super) fn tyre_closing(&self, time: f64, y: &State) -> f64 {
        self.ground.at(time)[1] - y[WHEEL_SPEED]
    }

    pub(super) fn full(&self) -> f64 {
        self.kernel.full()
    }

    /// Sprung mass over the wheel.
    pub(super) fn sprung(&self) -> f64 {
        self.sprung
    }

    /// Unsprung mass.
    pub(super) fn unsprung(&self) -> f64 {
        self.unsprung
    }

    fn spring(&self, travel: f64) -> SpringForce {
        let inside = travel.clamp(0.0, self.full());
        let motion = self.kernel.motion(inside);
        let axial = self.kernel.fast_axial(self.settled, motion.stroke);
        SpringForce { force: axial.force * motion.ratio + METAL_SI * (travel - inside), ratio: motion.ratio }
    }

    /// Force of springs, damper and friction together, and of the tyre.
    pub(super) fn forces(&self, time: f64, y: &State) -> [f64; 2] {
        let (travel, speed) = (y[WHEEL] - y[BODY], y[WHEEL_SPEED] - y[BODY_SPEED]);
        let spring = self.spring(travel);
        let damping = spring.ratio * self.damper.eval(spring.ratio * speed);
        [spring.force + damping + y[FRICTION], (self.tyre * (self.ground.at(time)[0] - y[WHEEL])).max(0.0)]
    }

    /// Kinetic, spring, metal, tyre and height energy together.
    pub(super) fn energy(&self, time: f64, y: &State) -> f64 {
        let travel = y[WHEEL] - y[BODY];
        let inside = travel.clamp(0.0, self.full());
        let beyond = travel - inside;
        let motion = self.kernel.motion(inside);
        let axial = self.kernel.fast_axial(self.settled, motion.stroke);
        let springs = axial.energy + axial.force * motion.ratio * beyond + 0.5 * METAL_SI * beyond * beyond;
        let tyre = self.forces(time, y)[1];
        0.5 * (self.sprung * y[BODY_SPEED] * y[BODY_SPEED] + self.unsprung * y[WHEEL_SPEED] * y[WHEEL_SPEED])
            + springs
            + 0.5 * tyre * tyre / self.tyre
            + GRAVITY * (self.sprung * y[BODY] + self.unsprung * y[WHEEL])
    }

    /// What the metal end of full travel holds.
    pub(super) fn in_metal(&self, y: &State) -> f64 {
        let beyond = (y[WHEEL] - y[BODY] - self.full()).max(0.0);
        0.5 * METAL_SI * beyond * beyond
    }

    /// Travel at which the springs carry this load, on the metal where they cannot.
    fn travel_under(&self, load: f64) -> f64 {
        match rest_under(self.kernel, load) {
            Rest::At(travel) => travel,
            Rest::ToppedOut(margin) => -margin / METAL_SI,
            Rest::Bottomed(margin) => self.full() + margin / METAL_SI,
        }
    }

    /// Travel at rest under the sprung mass, friction left out.
    pub(super) fn rest(&self) -> f64 {
        self.travel_under(self.sprung * GRAVITY)
    }

    /// Travel at which the wheel hangs.
    pub(super) fn hangs(&self) -> f64 {
        self.travel_under(0.0)
    }

    /// Falling freely at this speed, the tyre just touching.
    pub(super) fn hanging(&self, speed: f64) -> State {
        let mut y = [0.0; STATE];
        y[BODY] = -self.hangs();
        y[BODY_SPEED] = speed;
        y[WHEEL_SPEED] = speed;
        y
    }

    /// At rest on the tyre and on the springs.
    pub(super) fn resting(&self) -> State {
        let mut y = [0.0; STATE];
        y[WHEEL] = -(self.sprung + self.unsprung) * GRAVITY / self.tyre;
        y[BODY] = y[WHEEL] - self.rest();
        y
    }

    /// How large each part of the state gets, for its share of the error allowed.
    pub(super) fn scale(&self) -> State {
        let weight = (self.sprung + self.unsprung) * GRAVITY;
        let work = weight * self.full();
        let speed = (GRAVITY * self.full()).sqrt();
        [self.full(), speed, self.full(), speed, weight, work, work, work]
    }
}

impl ODE<f64, State> for Model<'_> {
    fn diff(&self, time: f64, y: &State, dydt: &mut State) {
        let (travel, speed) = (y[WHEEL] - y[BODY], y[WHEEL_SPEED] - y[BODY_SPEED]);
        let spring = self.spring(travel);
        let damping = spring.ratio * self.damper.eval(spring.ratio * speed);
        let force = spring.force + damping + y[FRICTION];
        let [ground, ground_speed] = self.ground.at(time);
        let tyre = (self.tyre * (ground - y[WHEEL])).max(0.0);
        dydt[BODY] = y[BODY_SPEED];
        dydt[BODY_SPEED] = force / self.sprung - GRAVITY;
        dydt[WHEEL] = y[WHEEL_SPEED];
        dydt[WHEEL_SPEED] = (tyre - force) / self.unsprung - GRAVITY;
        dydt[FRICTION] = (self.friction * speed - speed.abs() * y[FRICTION]) / STICTION_SI;
        dydt[BY_DAMPER] = damping * speed;
        dydt[BY_FRICTION] = y[FRICTION] * speed;
        dydt[BY_GROUND] = tyre * ground_speed;
    }
}
