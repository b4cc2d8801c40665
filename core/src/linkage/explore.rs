//! How far the mechanism can be followed: from the drawn position step by step along the driver coordinate, until the
//! shock has the wanted length, or something stands in the way.
//!
//! Dead points, flat positions, a wheel that turns back and a motion ratio that crosses zero are found between steps from
//! the signs of the quantity and of its derivative, then located by bracketed Newton. Two events of the same kind within
//! one step of [`STEP`] that leave no trace in sign or slope at its ends would be missed.

use super::bound_recipe::{BoundRecipe, Openness};
use super::operand::Operand;
use super::real::{norm, sub};
use super::step::{State, distance};

/// Movement of the fastest point per step, in metres. Mechanisms are smooth over dozens of times this length.
pub(super) const STEP: f64 = 4e-3;
/// Steps shorter than this, in metres, end the search for a dead point: its location is then known to far less.
const SHORTEST_STEP: f64 = 1e-6;
/// Wheel travel kept from a dead point, in metres: up to here results keep at least ten digits.
pub(crate) const MARGIN: f64 = 1e-4;
/// A dip in the sine of the angle between two bodies to below this is a passage through flat: a mechanism that missed
/// flat by this little would flip within its bearing play.
const FLAT: f64 = 1e-4;
/// A group that moves this share of a step away from its prediction has jumped to another branch, or is about to.
const JUMP: f64 = 0.1;
/// Movement in metres that rounding alone may cause.
const JITTER: f64 = 1e-10;
/// Roots are refined until they move less than this, in metres; rounding at bike size is 1e-16.
const ROUNDING: f64 = 1e-16;
/// Most iterations of bracketed Newton; bisection alone needs 60.
const MOST_ITERATIONS: usize = 100;
/// No mechanism on a bike moves further than 5 m; a crank that spins on without end stops here.
const MOST_STEPS: usize = 2500;

/// The mechanism at one driver coordinate.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Probe {
    pub(crate) coordinate: f64,
    pub(crate) slots: Vec<State<f64>>,
    pub(crate) wheel: State<f64>,
    /// Shock length and its derivatives by the driver coordinate.
    pub(crate) length: [f64; 3],
}

impl Probe {
    pub(crate) fn height(&self) -> f64 {
        self.wheel.p[1]
    }

    fn rise(&self) -> [f64; 2] {
        [self.wheel.v[1], self.wheel.a[1]]
    }

    /// `ds/dz` here.
    pub(crate) fn motion_ratio(&self) -> f64 {
        -self.length[1] / self.wheel.v[1]
    }

    pub(super) fn speed(&self) -> f64 {
        self.slots.iter().map(|state| norm(state.v)).fold(0.0, f64::max)
    }
}

/// What stands in the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Obstacle {
    DeadPoint,
    BranchPoint,
    WheelTurnsBack,
    MotionRatioZero,
}

/// An obstacle, the bodies it concerns, its wheel height and the last height that can be used.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Blocked {
    pub(crate) obstacle: Obstacle,
    pub(crate) bodies: Vec<usize>,
    pub(crate) height: f64,
    pub(crate) usable: Probe,
}

/// Follows one mechanism.
pub(crate) struct Explorer<'a> {
    pub(crate) bound: &'a BoundRecipe<f64>,
    pub(crate) wheel: Operand<f64>,
    pub(crate) shock: [Operand<f64>; 2],
    /// Bodies that carry the wheel, and the shock.
    pub(crate) carriers: [Vec<usize>; 2],
}

struct Event {
    obstacle: Obstacle,
    bodies: Vec<usize>,
    at: Probe,
}

impl Explorer<'_> {
    /// The drawn position.
    pub(crate) fn drawn(&self) -> Option<Probe> {
        self.finish(self.bound.drawn_coordinate(), self.bound.drawn_slots())
    }

    /// The mechanism at a coordinate near a known one.
    pub(crate) fn probe(&self, near: &Probe, coordinate: f64) -> Option<Probe> {
        let mut slots = near.slots.clone();
        self.bound.groups().for_each(|group| group.predict(&mut slots, coordinate - near.coordinate));
        let predicted: Vec<_> =
            self.bound.groups().map(|group| slots[group.first..][..group.points].to_vec()).collect();
        let probe = self.finish(coordinate, slots)?;
        let allowed = JUMP * near.speed() * (coordinate - near.coordinate).abs() + JITTER;
        let stayed = self.bound.groups().zip(&predicted).all(|(group, predicted)| {
            let solved = &probe.slots[group.first..][..group.points];
            solved.iter().zip(predicted).all(|(solved, predicted)| norm(sub(solved.p, predicted.p)) <= allowed)
        });
        stayed.then_some(probe)
    }

    fn finish(&self, coordinate: f64, mut slots: Vec<State<f64>>) -> Option<Probe> {
        let solved = self.bound.run(coordinate, &mut slots);
        let finite =
            slots.iter().all(|state| [state.p, state.v, state.a].iter().flatten().all(|part| part.is_finite()));
        let wheel = self.wheel.state(&slots);
        let length = distance(&self.shock[0].state(&slots), &self.shock[1].state(&slots));
        (solved && finite && length.iter().all(|part| part.is_finite())).then_some(Probe {
            coordinate,
            slots,
            wheel,
            length,
        })
    }

    /// Follows the wheel up or down until the shock length has passed the target by at least [`MARGIN`] of wheel travel.
    pub(crate) fn follow(&self, start: &Probe, upwards: bool, target: f64) -> Result<Vec<Probe>, Blocked> {
        let direction = if upwards { 1.0 } else { -1.0 } * start.rise()[0].signum();
        let passed = |probe: &Probe| if upwards { probe.length[0] <= target } else { probe.length[0] >= target };
        let mut path = vec![start.clone()];
        let mut movement = STEP;
        // Height at which the target was passed first.
        let mut first_passed = passed(start).then(|| start.height());
        while let Some(here) = path.last().filter(|_| path.len() <= MOST_STEPS) {
            if first_passed.is_some_and(|first| (here.height() - first).abs() >= MARGIN) {
                return Ok(path);
            }
            let next = self.probe(here, here.coordinate + direction * movement / here.speed());
            let event = match &next {
                Some(next) => self.between(here, next),
                None => Ok(None),
            };
            match (next, event) {
                (Some(next), Ok(None)) => {
                    first_passed = first_passed.or_else(|| passed(&next).then(|| next.height()));
                    path.push(next);
                    movement = STEP.min(2.0 * movement);
                }
                (_, Ok(Some(event))) => return self.stop(path, event, passed),
                // Out of reach, here or somewhere inside the step.
                (None, Ok(None)) | (_, Err(())) if movement > SHORTEST_STEP => movement *= 0.5,
                _ => {
                    let at = here.clone();
                    let event = Event { obstacle: Obstacle::DeadPoint, bodies: self.flattest(&at), at };
                    return self.stop(path, event, passed);
                }
            }
        }
        let at = path.last().unwrap_or(start).clone();
        let event = Event { obstacle: Obstacle::WheelTurnsBack, bodies: self.carriers[0].clone(), at };
        self.stop(path, event, passed)
    }

    /// The bodies nearest to their dead point.
    fn flattest(&self, probe: &Probe) -> Vec<usize> {
        let parts = self.bound.openness(&probe.slots).zip(self.bound.parts());
        parts
            .min_by(|(a, _), (b, _)| a.value.abs().total_cmp(&b.value.abs()))
            .map(|(_, bodies)| bodies)
            .unwrap_or_default()
    }

    /// A dead point right behind a probe.
    pub(crate) fn dead_end(&self, usable: Probe) -> Blocked {
        let (bodies, height) = (self.flattest(&usable), usable.height());
        Blocked { obstacle: Obstacle::DeadPoint, bodies, height, usable }
    }

    /// Ends a path [`MARGIN`] before an event; that is a success when the shock has passed its target by then.
    fn stop(&self, mut path: Vec<Probe>, event: Event, passed: impl Fn(&Probe) -> bool) -> Result<Vec<Probe>, Blocked> {
        let gap = |probe: &Probe| (event.at.height() - probe.height()).abs() - MARGIN;
        let mut after = event.at.clone();
        while path.len() > 1 && path.last().is_some_and(|last| gap(last) < 0.0) {
            if let Some(last) = path.pop() {
                after = last;
            }
        }
        let Some(last) = path.last().cloned() else { return Ok(path) };
        let sign = (last.height() - event.at.height()).signum();
        let (Ok(usable) | Err(usable)) = self.root(&last, &after, |probe| [gap(probe), sign * probe.rise()[0]]);
        path.push(usable.clone());
        if passed(&usable) {
            Ok(path)
        } else {
            Err(Blocked { obstacle: event.obstacle, bodies: event.bodies, height: event.at.height(), usable })
        }
    }

    /// The first event between two neighbours. `Err` when part of the step is out of reach.
    fn between(&self, here: &Probe, next: &Probe) -> Result<Option<Event>, ()> {
        let mut events = Vec::new();
        let mut note = |obstacle, bodies: Vec<usize>, at: Probe| events.push(Event { obstacle, bodies, at });
        let bodies = |part: usize| self.bound.parts().into_iter().nth(part).unwrap_or_default();
        if here.rise()[0] * next.rise()[0] <= 0.0 {
            let at = self.root(here, next, Probe::rise).map_err(|_| ())?;
            note(Obstacle::WheelTurnsBack, self.carriers[0].clone(), at);
        }
        if here.length[1] * next.length[1] <= 0.0 {
            let at = self.root(here, next, |probe| [probe.length[1], probe.length[2]]).map_err(|_| ())?;
            note(Obstacle::MotionRatioZero, self.carriers[1].clone(), at);
        }
        let (before, after) = (self.bound.openness(&here.slots), self.bound.openness(&next.slots));
        let step = next.coordinate - here.coordinate;
        for (index, (a, b)) in before.zip(after).enumerate() {
            let part = |probe: &Probe| self.bound.openness(&probe.slots).nth(index);
            if a.value * b.value <= 0.0 {
                let at =
                    self.root(here, next, |probe| [part(probe).map_or(f64::NAN, |p| p.value), 0.0]).map_err(|_| ())?;
                note(Obstacle::DeadPoint, bodies(index), at);
            } else if closing(&a, step).is_some_and(|c| c) && closing(&b, step).is_some_and(|c| !c) {
                let slope = |probe: &Probe| [part(probe).and_then(|p| p.slope).unwrap_or(f64::NAN), 0.0];
                let lowest = self.root(here, next, slope);
                let (Ok(at) | Err(at)) = lowest.clone();
                if part(&at).is_none_or(|p| p.value.abs() < FLAT) {
                    note(Obstacle::BranchPoint, bodies(index), at);
                } else if lowest.is_err() {
                    return Err(());
                }
            }
        }
        let distance = |event: &Event| (event.at.coordinate - here.coordinate).abs();
        Ok(events.into_iter().min_by(|a, b| distance(a).total_cmp(&distance(b))))
    }

    /// Root of a function (value, derivative by the coordinate) between two probes: Newton kept inside the bracket.
    /// `Err` with the last position found when part of the bracket is out of reach.
    pub(crate) fn root(&self, from: &Probe, to: &Probe, function: impl Fn(&Probe) -> [f64; 2]) -> Result<Probe, Probe> {
        let (mut low, mut high) = (from.clone(), to.coordinate);
        let [start, _] = function(from);
        if start == 0.0 {
            return Ok(low);
        }
        let mut here = low.clone();
        for _ in 0..MOST_ITERATIONS {
            let [value, slope] = function(&here);
            if value == 0.0 {
                return Ok(here);
            }
            if (value > 0.0) == (start > 0.0) {
                low = here.clone();
            } else {
                high = here.coordinate;
            }
            let newton = here.coordinate - value / slope;
            let inside = (newton - low.coordinate) * (newton - high) < 0.0;
            let trial = if inside { newton } else { 0.5 * (low.coordinate + high) };
            let moved = (trial - here.coordinate).abs() * here.speed();
            here = self.probe(&low, trial).ok_or(here)?;
            if moved < ROUNDING || trial == low.coordinate || trial == high {
                break;
            }
        }
        Ok(here)
    }
}

/// Does a part close along the step? `None` when its slope is not known.
fn closing(openness: &Openness, step: f64) -> Option<bool> {
    openness.slope.map(|slope| openness.value * slope * step < 0.0)
}
