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
