//! The front end as its wheel feels it.

use super::{FrontEnd, Way};
use crate::axial::{AxialState, FastState};
use crate::damper::Damper;
use crate::error::Result;
use crate::friction::SealFriction;
use crate::spring::{Adjuster, MainSpring};
use crate::units::{Length, SpringRate};
use crate::wheel::{AxleAt, PathAt, StrokeAt, Tunable, Wheel};

/// What is asked of whichever end it is.
macro_rules! either {
    ($front:ident, $end:ident => $answer:expr) => {
        match &$front.way {
            Way::Telescopic($end) => $answer,
            Way::Linked(linked) => {
                let $end = linked.sprung();
                $answer
            }
        }
    };
}

impl Wheel for FrontEnd {
    fn full_travel(&self) -> Length {
        either!(self, end => end.full_travel())
    }

    fn stroke_at(&self, travel: Length) -> StrokeAt {
        either!(self, end => end.stroke_at(travel))
    }

    fn springs(&self, stroke: Length) -> AxialState {
        either!(self, end => end.springs(stroke))
    }

    fn rest(&self, stroke: Length) -> AxialState {
        either!(self, end => end.rest(stroke))
    }

    fn fast_rest(&self, settled: Length, stroke: Length) -> FastState {
        either!(self, end => end.fast_rest(settled, stroke))
    }

    fn main_spring(&self) -> Option<MainSpring> {
        either!(self, end => end.main_spring())
    }

    fn stroke_kinks(&self) -> Vec<Length> {
        either!(self, end => end.stroke_kinks())
    }

    fn kinks(&self) -> Vec<Length> {
        either!(self, end => end.kinks())
    }

    fn axle_at(&self, travel: Length) -> Option<AxleAt> {
        either!(self, end => end.axle_at(travel))
    }

    fn path_at(&self, travel: Length) -> PathAt {
        either!(self, end => end.path_at(travel))
    }

    fn paths_at(&self, travels: &[Length]) -> Vec<PathAt> {
        either!(self, end => end.paths_at(travels))
    }

    fn friction(&self) -> Option<SealFriction> {
        either!(self, end => end.friction())
    }

    fn damper(&self) -> Option<Damper> {
        either!(self, end => end.damper())
    }

    fn bind_clearance(&self) -> Option<Length> {
        either!(self, end => end.bind_clearance())
    }

    fn adjuster(&self) -> Option<Adjuster> {
        either!(self, end => end.adjuster())
    }
}

impl Tunable for FrontEnd {
    fn with_spring_change(&self, rate_factor: f64, preload_change: Length) -> Result<Self> {
        match &self.way {
            Way::Telescopic(end) => Ok(end.with_spring_change(rate_factor, preload_change)?.into()),
            Way::Linked(end) => Ok(end.changed(|end| end.with_spring_change(rate_factor, preload_change))?.into()),
        }
    }

    fn with_spring_rate(&self, rate: SpringRate, preload: Length) -> Result<Self> {
        match &self.way {
            Way::Telescopic(end) => Ok(end.with_spring_rate(rate, preload)?.into()),
            Way::Linked(end) => Ok(end.changed(|end| end.with_spring_rate(rate, preload))?.into()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fork::{Fork, ForkLeg};
    use crate::spring::{Preloaded, Stop};
    use crate::units::{Angle, Quantity};

    #[test]
    fn a_stop_makes_a_kink_in_the_stroke_and_one_in_the_travel() {
        let mm = |length: f64| Length::from_si(length / 1000.0);
        let stop = Stop::linear(SpringRate::from_si(5e4), mm(20.0)).unwrap();
        let spring = Preloaded::linear(SpringRate::from_si(5e3), mm(10.0)).unwrap();
        let legs = [(); 2].map(|()| ForkLeg::new().with_spring(spring.clone()).with_bump_stop(stop.clone()));
        let front = FrontEnd::new(Fork::new(mm(290.0), Angle::from_si(0.4), legs).unwrap());
        let inside = |all: Vec<Length>, full: f64| -> Vec<f64> {
            let mut all: Vec<f64> = all.into_iter().map(Quantity::si).filter(|at| *at > 0.0 && *at < full).collect();
            all.dedup_by(|one, other| (*one - *other).abs() < 1e-9);
            all
        };
        let [stroke] = inside(front.stroke_kinks(), 0.29)[..] else { panic!("{:?}", front.stroke_kinks()) };
        let [travel] = inside(front.kinks(), front.full_travel().si())[..] else { panic!("{:?}", front.kinks()) };
        // Rounding of a difference, and of a product with the cosine.
        assert!((stroke - 0.27).abs() < 1e-12 && (travel - 0.27 * 0.4f64.cos()).abs() < 1e-10, "{stroke} {travel}");
    }
}
