//! A mechanism with its shock in place: motion as a function of wheel travel.
//!
//! Derivatives by travel follow from those by the driver coordinate `u` through the wheel height `z(u)`:
//! `dL/dz = L'/z'`, `d²L/dz² = (L'' − dL/dz·z'')/z'²`, exactly. Where the wheel is on the driven arm, `u = z`.

use super::TRAVEL_ROUNDING;
use super::bound_recipe::{BoundRecipe, Drive};
use super::explore::Probe;
use super::operand::Operand;
use super::real::Real;
use super::step::{State, distance};

/// Corrections of a crank's coordinate before giving up on Newton and halving brackets only.
const MOST_ITERATIONS: usize = 60;
/// A wheel height off by less than this share of the largest coordinate that it is summed from is rounding: four units in
/// the last place, as the height comes from two points by two products and three sums.
const ROUNDING: f64 = 4.0 * f64::EPSILON;
/// Moving points of the mechanisms met in practice; their states then stay off the heap.
pub(super) const FEW: usize = 8;

/// Everything at one travel, in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Kernel<T> {
    pub(crate) stroke: T,
    pub(crate) motion_ratio: T,
    pub(crate) slope: T,
    pub(crate) axle: [T; 2],
    /// `dx/dz` of the axle, and `d²x/dz²`.
    pub(crate) axle_slope: T,
    pub(crate) axle_curvature: T,
}

/// Where implicit unknowns are along the travel: starts for Newton. One row per probe of the exploration.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Knots {
    heights: Vec<f64>,
    /// Crank coordinate and its derivative by height.
    crank: Vec<[f64; 2]>,
    /// Positions and derivatives by height of the points of groups, all of one knot in a row.
    groups: Vec<Vec<[[f64; 2]; 2]>>,
}

/// A bound recipe, what is read from it, and its travel.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LinkageMotion {
    pub(crate) bound: BoundRecipe<f64>,
    pub(crate) wheel: Operand<f64>,
    pub(crate) shock: [Operand<f64>; 2],
    pub(crate) knots: Knots,
    /// Shock length and wheel height at full extension, and the full travel.
    pub(crate) extended: f64,
    pub(crate) datum: f64,
    pub(crate) full_travel: f64,
}

/// Wheel and shock from the states by the driver coordinate to derivatives by travel.
#[inline(always)]
pub(crate) fn by_travel<T: Real>(wheel: &State<T>, length: [T; 3], extended: T) -> Kernel<T> {
    let inverse = T::of(1.0) / wheel.v[1];
    let ratio = length[1] * inverse;
    let axle_slope = wheel.v[0] * inverse;
    let squared = inverse * inverse;
    Kernel {
        stroke: extended - length[0],
        motion_ratio: -ratio,
        slope: -((length[2] - ratio * wheel.a[1]) * squared),
        axle: wheel.p,
        axle_slope,
        axle_curvature: (wheel.a[0] - axle_slope * wheel.a[1]) * squared,
    }
}

/// Is a travel inside a range that ends here?
#[inline(always)]
pub(super) fn has(full_travel: f64, travel: f64) -> bool {
    (-TRAVEL_ROUNDING <= travel) & (travel <= full_travel + TRAVEL_ROUNDING)
}

/// A crank on its way to the coordinate that gives the wheel a height.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turn {
    low: f64,
    high: f64,
    pub(super) coordinate: f64,
    pub(super) settled: bool,
}

impl Turn {
    /// One step of Newton, halving the bracket where that leads outside; nothing more once settled.
    #[inline(always)]
    pub(super) fn correct(&mut self, excess: f64, rise: f64, rounding: f64) {
        if self.settled {
            return;
        }
        if (excess > 0.0) == (rise > 0.0) {
            self.high = self.high.min(self.coordinate);
        } else {
            self.low = self.low.max(self.coordinate);
        }
        let newton = self.coordinate - excess / rise;
        let inside = (self.low..=self.high).contains(&newton);
        let next = if inside { newton } else { 0.5 * (self.low + self.high) };
        self.settled = excess.abs() <= rounding || next == self.coordinate;
        if !self.settled {
            self.coordinate = next;
        }
    }
}

impl LinkageMotion {
    /// Is a travel inside the range?
    pub(super) fn has(&self, travel: f64) -> bool {
        has(self.full_travel, travel)
    }

    /// Everything at one travel.
    pub(crate) fn at(&self, travel: f64) -> Kernel<f64> {
        match self.bound.drawn.len() {
            count @ ..=FEW => self.at_in(travel, &mut [State::fixed([0.0; 2]); FEW][..count]),
            _ => self.at_in(travel, &mut self.bound.drawn_slots()),
        }
    }

    /// The driver coordinate at one travel, and the motion of all points.
    pub(crate) fn settled(&self, travel: f64) -> (f64, Vec<State<f64>>) {
        let mut slots = self.bound.drawn_slots();
        let coordinate = self.settle(travel, &mut slots);
        (coordinate, slots)
    }

    fn at_in(&self, travel: f64, slots: &mut [State<f64>]) -> Kernel<f64> {
        self.settle(travel, slots);
        let length = distance(&self.shock[0].state(slots), &self.shock[1].state(slots));
        by_travel(&self.wheel.state(slots), length, self.extended)
    }

    /// Fills the slots (as many as moving points) for a travel, and returns the driver coordinate.
    fn settle(&self, travel: f64, slots: &mut [State<f64>]) -> f64 {
        let height = self.datum + travel;
        let near = self.knots.near(height);
        self.guess(&near, height, slots);
        match self.bound.drive {
            Drive::Arm { .. } => {
                self.bound.run(height, slots);
                height
            }
            Drive::Crank { .. } => self.turn_crank(self.turn(&near, height), height, slots),
        }
    }

    /// A crank where the knots say that the height is, kept between the neighbouring ones.
    pub(super) fn turn(&self, near: &Near, height: f64) -> Turn {
        let (low, high) = self.knots.crank_bracket(near);
        Turn { low, high, coordinate: self.knots.crank_at(near, height), settled: false }
    }

    /// What a wheel height may be off by, in metres.
    pub(super) fn rounding(&self) -> f64 {
        ROUNDING * self.bound.size
    }

    fn turn_crank(&self, mut turn: Turn, height: f64, slots: &mut [State<f64>]) -> f64 {
        let mut run = turn.coordinate;
        for _ in 0..MOST_ITERATIONS {
            run = turn.coordinate;
            self.bound.run(run, slots);
            let wheel = self.wheel.state(slots);
            turn.correct(wheel.p[1] - height, wheel.v[1], self.rounding());
            if turn.settled {
                break;
            }
        }
        run
    }

    /// Puts the points of groups near their solution.
    fn guess(&self, near: &Near, height: f64, slots: &mut [State<f64>]) {
        let mut points = 0;
        for group in self.bound.groups() {
            for point in 0..group.points {
                slots[group.first + point].p = self.knots.group_at(near, height, points);
                points += 1;
            }
        }
    }
}

/// A knot interval, and how far into it.
pub(super) struct Near {
    lower: usize,
}

impl Knots {
    /// From probes in rising order of height; `points` are the places of group points in the probes' slots.
    pub(crate) fn new(probes: &[&Probe], crank: bool, points: &[usize]) -> Self {
        if !crank && points.is_empty() {
            return Self::default();
        }
        Self {
            heights: probes.iter().map(|probe| probe.height()).collect(),
            crank: probes.iter().filter(|_| crank).map(|probe| [probe.coordinate, 1.0 / probe.wheel.v[1]]).collect(),
            groups: probes
                .iter()
                .map(|probe| {
                    let rise = probe.wheel.v[1];
                    let state = |&slot: &usize| {
                        let state = &probe.slots[slot];
                        [state.p, [state.v[0] / rise, state.v[1] / rise]]
                    };
                    points.iter().map(state).collect()
                })
                .collect(),
        }
    }

    pub(super) fn near(&self, height: f64) -> Near {
        let upper = self.heights.partition_point(|&knot| knot <= height);
        Near { lower: upper.saturating_sub(1).min(self.heights.len().saturating_sub(2)) }
    }

    fn crank_bracket(&self, near: &Near) -> (f64, f64) {
        let (a, b) = (self.crank[near.lower][0], self.crank[near.lower + 1][0]);
        (a.min(b), a.max(b))
    }

    fn crank_at(&self, near: &Near, height: f64) -> f64 {
        let (low, high) = self.crank_bracket(near);
        let guess = self.hermite(near, height, self.crank[near.lower], self.crank[near.lower + 1]);
        guess.clamp(low, high)
    }

    pub(super) fn group_at(&self, near: &Near, height: f64, point: usize) -> [f64; 2] {
        let (a, b) = (self.groups[near.lower][point], self.groups[near.lower + 1][point]);
        [0, 1].map(|axis| self.hermite(near, height, [a[0][axis], a[1][axis]], [b[0][axis], b[1][axis]]))
    }

    /// Cubic through two values with their derivatives.
    fn hermite(&self, near: &Near, height: f64, a: [f64; 2], b: [f64; 2]) -> f64 {
        let (from, to) = (self.heights[near.lower], self.heights[near.lower + 1]);
        let width = to - from;
        let t = (height - from) / width;
        let rise = b[0] - a[0];
        let (bend_a, bend_b) = (a[1] * width - rise, rise - b[1] * width);
        a[0] + t * rise + t * (1.0 - t) * ((1.0 - t) * bend_a + t * bend_b)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linkage::tests::arrangements::plate_on_three_links;

    /// Arithmetic on numbers near one.
    const ROUNDING: f64 = 1e-15;

    /// Two cubics, the first of which never turns back, and their derivatives.
    fn cubics(h: f64) -> [[f64; 2]; 2] {
        let [first, second] = [[0.3, 1.2, -0.7, 2.0], [-0.1, -0.4, 1.5, -0.6]]
            .map(|[a, b, c, d]| [a + h * (b + h * (c + h * d)), b + h * (2.0 * c + 3.0 * h * d)]);
        [first, second]
    }

    #[test]
    fn cubics_between_knots_are_found_again() {
        let heights = vec![-0.1, 0.05, 0.2, 0.3];
        let crank = heights.iter().map(|&h| cubics(h)[0]).collect();
        let point = |h: f64| {
            let [[x, dx], [z, dz]] = cubics(h);
            [[x, z], [dx, dz]]
        };
        let groups = heights.iter().map(|&h| vec![[[9.0; 2]; 2], point(h)]).collect();
        let knots = Knots { heights, crank, groups };
        for (height, lower) in [(-0.1, 0), (-0.02, 0), (0.05, 1), (0.11, 1), (0.19, 1), (0.2, 2), (0.27, 2), (0.3, 2)] {
            let near = knots.near(height);
            assert_eq!(near.lower, lower, "{height}");
            let [[x, _], [z, _]] = cubics(height);
            assert!((knots.crank_at(&near, height) - x).abs() < ROUNDING, "{height}");
            let at = knots.group_at(&near, height, 1);
            assert!((at[0] - x).abs() < ROUNDING && (at[1] - z).abs() < ROUNDING, "{height}: {at:?}");
        }
        // Beyond the ends: a crank stays in its bracket, a group goes on.
        for (height, lower, end) in [(-0.12, 0, -0.1), (0.33, 2, 0.3)] {
            let near = knots.near(height);
            assert_eq!(near.lower, lower);
            assert_eq!(knots.crank_at(&near, height), cubics(end)[0][0]);
            assert!((knots.group_at(&near, height, 1)[1] - cubics(height)[1][0]).abs() < ROUNDING, "{height}");
        }
    }

    /// Knots are millimetres apart, and cubics between them miss by the fourth power of that.
    #[test]
    fn a_group_is_guessed_where_it_is() {
        const MISSED: f64 = 1e-8;
        let linkage = plate_on_three_links().linkage().unwrap();
        let motion = &linkage.motion;
        let group = motion.bound.groups().next().unwrap();
        for share in [0.0, 0.17, 0.5, 0.83, 1.0] {
            let travel = share * motion.full_travel;
            let height = motion.datum + travel;
            let mut guessed = motion.bound.drawn_slots();
            motion.guess(&motion.knots.near(height), height, &mut guessed);
            let (coordinate, solved) = motion.settled(travel);
            assert_eq!(coordinate, height);
            for slot in group.first..group.first + group.points {
                let off = [0, 1].map(|axis| (guessed[slot].p[axis] - solved[slot].p[axis]).abs());
                assert!(off.iter().all(|off| *off < MISSED), "{share}: {slot} {off:?}");
            }
        }
    }

    #[test]
    fn a_crank_turns_by_newton_inside_its_bracket() {
        // x² − 2 rises through its root, 2 − x² falls through it.
        for sign in [1.0, -1.0] {
            let mut turn = Turn { low: 0.0, high: 2.0, coordinate: 1e-3, settled: false };
            let correct = |turn: &mut Turn, rounding: f64| {
                let x = turn.coordinate;
                turn.correct(sign * (x * x - 2.0), sign * 2.0 * x, rounding);
            };
            // Newton leads far outside: half way instead, from where it is.
            correct(&mut turn, 0.0);
            assert_eq!((turn.low, turn.high, turn.coordinate), (1e-3, 2.0, 0.5 * 2.001));
            // From below the root Newton leads beyond it.
            correct(&mut turn, 0.0);
            assert!((turn.coordinate - 0.5 * (1.0005 + 2.0 / 1.0005)).abs() < 1e-15);
            assert_eq!((turn.low, turn.high), (1.0005, 2.0));
            // Beyond the root the bracket shrinks from the other end.
            let beyond = turn.coordinate;
            correct(&mut turn, 0.0);
            assert_eq!((turn.low, turn.high), (1.0005, beyond));
            for _ in 0..8 {
                correct(&mut turn, 1e-15);
                assert!((turn.low..=turn.high).contains(&2f64.sqrt()));
            }
            assert!(turn.settled && (turn.coordinate - 2f64.sqrt()).abs() < 1e-15);
            let before = turn.coordinate;
            turn.correct(1.0, 1.0, 0.0);
            assert_eq!(turn.coordinate, before);
        }
        // Off by just what rounding may do is settled, and by more is not.
        let turned = |rounding: f64| {
            let mut turn = Turn { low: 0.0, high: 2.0, coordinate: 1.0, settled: false };
            turn.correct(0.25, 1.0, rounding);
            (turn.settled, turn.coordinate)
        };
        assert_eq!((turned(0.25), turned(0.24)), ((true, 1.0), (false, 0.75)));
    }

    #[test]
    fn a_travel_is_there_to_a_rounding_at_both_ends() {
        let full = 0.3;
        for (travel, is_there) in [
            (0.0, true),
            (full, true),
            (-TRAVEL_ROUNDING, true),
            (full + TRAVEL_ROUNDING, true),
            (-2.0 * TRAVEL_ROUNDING, false),
            (full + 2.0 * TRAVEL_ROUNDING, false),
            (f64::NAN, false),
        ] {
            assert_eq!(has(full, travel), is_there, "{travel:e}");
        }
    }
}
