//! A linkage in numbers that carry the derivative by one dimension, and what that does at a travel.

use super::{Derivatives, Dimension, link};
use crate::error::LinkageError;
use crate::linkage::Linkage;
use crate::linkage::bound_recipe::{BoundRecipe, Drive};
use crate::linkage::dual::Dual;
use crate::linkage::motion::{Kernel, by_travel};
use crate::linkage::operand::Operand;
use crate::linkage::real::Vec2;
use crate::linkage::step::{State, distance};

/// A linkage in numbers that carry the derivative by one dimension.
pub(crate) struct Varied {
    bound: BoundRecipe<Dual>,
    wheel: Operand<Dual>,
    shock: [Operand<Dual>; 2],
    extended: Dual,
    datum: Dual,
    full_travel: f64,
}

impl Varied {
    pub(crate) fn new(linkage: &Linkage, dimension: &Dimension) -> Result<Self, LinkageError> {
        Self::by(linkage, Some(dimension))
    }

    pub(super) fn by(linkage: &Linkage, dimension: Option<&Dimension>) -> Result<Self, LinkageError> {
        let mechanism = &linkage.mechanism;
        let mut coordinates: Vec<Vec2<Dual>> = (0..mechanism.point_count())
            .map(|point| mechanism.coordinates(point).map(|part| Dual::new(part, 0.0)))
            .collect();
        let mut stretched = None;
        let mut longer = 0.0;
        match dimension {
            Some(Dimension::Coordinate { point, axis }) => {
                let index = mechanism.index_of("dimension", point)?;
                coordinates[index][axis.index()].derivative = 1.0;
            }
            Some(Dimension::LinkLength { body }) => stretched = Some((link(mechanism, body)?, Dual::new(0.0, 1.0))),
            Some(Dimension::ShockLength) => longer = 1.0,
            None => (),
        }
        let recipe = linkage.recipe.pruned(&[linkage.wheel, linkage.shock[0], linkage.shock[1]]);
        let bound = BoundRecipe::bind_stretched(&recipe, &coordinates, stretched);
        let operand = |point: usize| {
            let immobile = || LinkageError::Immobile { part: "point", point: mechanism.point_name(point).to_owned() };
            bound.operand(point).ok_or_else(immobile)
        };
        let (wheel, shock) = (operand(linkage.wheel)?, [operand(linkage.shock[0])?, operand(linkage.shock[1])?]);
        let extended = Dual::new(linkage.motion.extended, longer);
        let zero = Dual::new(0.0, 0.0);
        let mut varied = Self { bound, wheel, shock, extended, datum: zero, full_travel: 0.0 };
        varied.datum = varied.height_of(linkage, 0.0, longer);
        // The stroke is the shock's own: its compressed length grows with the extended one.
        let end = varied.height_of(linkage, linkage.motion.full_travel, longer);
        varied.full_travel = (end - varied.datum).derivative;
        Ok(varied)
    }

    /// Runs the bound recipe at the driver coordinate of a travel, with its own derivative.
    pub(super) fn run(&self, linkage: &Linkage, travel: f64, derivative: f64) -> (Dual, Vec<State<Dual>>) {
        let (coordinate, solved) = linkage.motion.settled(travel);
        let coordinate = Dual::new(coordinate, derivative);
        let lift = |part: [f64; 2]| part.map(|part| Dual::new(part, 0.0));
        let mut slots: Vec<State<Dual>> =
            solved.iter().map(|state| State { p: lift(state.p), v: lift(state.v), a: lift(state.a) }).collect();
        self.bound.run(coordinate, &mut slots);
        (coordinate, slots)
    }

    /// Wheel height where the shock has the length that it has at a travel, and which grows as fast as is said.
    fn height_of(&self, linkage: &Linkage, travel: f64, longer: f64) -> Dual {
        let (_, slots) = self.run(linkage, travel, 0.0);
        let [found, rate, _] = distance(&self.shock[0].state(&slots), &self.shock[1].state(&slots));
        let shift = (longer - found.derivative) / rate.value;
        let (_, slots) = self.run(linkage, travel, shift);
        self.wheel.state(&slots).p[1]
    }

    /// Derivatives at a travel.
    pub(crate) fn at(&self, linkage: &Linkage, travel: f64) -> Derivatives {
        let shift = match self.bound.drive {
            Drive::Arm { .. } => self.datum.derivative,
            Drive::Crank { .. } => {
                let (_, slots) = self.run(linkage, travel, 0.0);
                let wheel = self.wheel.state(&slots);
                (self.datum.derivative - wheel.p[1].derivative) / wheel.v[1].value
            }
        };
        let kernel = self.kernel(linkage, travel, shift);
        Derivatives {
            stroke: kernel.stroke.derivative,
            motion_ratio: kernel.motion_ratio.derivative,
            slope: kernel.slope.derivative,
            axle: kernel.axle.map(|part| part.derivative),
            full_travel: self.full_travel,
        }
    }

    /// Everything at a travel, with the derivative that a shift of the driver coordinate adds.
    pub(super) fn kernel(&self, linkage: &Linkage, travel: f64, shift: f64) -> Kernel<Dual> {
        let (_, slots) = self.run(linkage, travel, shift);
        let length = distance(&self.shock[0].state(&slots), &self.shock[1].state(&slots));
        by_travel(&self.wheel.state(&slots), length, self.extended)
    }
}
