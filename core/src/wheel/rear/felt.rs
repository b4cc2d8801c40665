//! The rear end as its wheel feels it.

use uom::si::reciprocal_length::reciprocal_meter;

use super::{KnownFrom, RearEnd};
use crate::axial::{Axial, AxialElement, AxialState, FastState};
use crate::damper::Damper;
use crate::error::Result;
use crate::friction::SealFriction;
use crate::linkage::Kernel;
use crate::spring::{Adjuster, MainSpring};
use crate::units::{Length, MotionRatio, MotionRatioSlope, Quantity, ReciprocalLength, SpringRate};
use crate::wheel::{AxleAt, PathAt, StrokeAt, Tunable, Wheel};

impl RearEnd {
    /// The shock's kernel, with the slope of its rate.
    pub(in crate::wheel) fn axial_with_slope(&self, stroke: f64) -> Axial {
        self.shock.eval(stroke)
    }
}

fn way_to_shock([stroke, ratio, slope]: [f64; 3]) -> StrokeAt {
    StrokeAt {
        stroke: Length::from_si(stroke),
        motion_ratio: MotionRatio::from_si(ratio),
        motion_ratio_slope: MotionRatioSlope::from_si(slope),
    }
}

fn path_of(kernel: &Kernel<f64>) -> PathAt {
    let axle = AxleAt {
        at: kernel.axle.map(Length::from_si),
        slope: kernel.axle_slope,
        curvature: ReciprocalLength::new::<reciprocal_meter>(kernel.axle_curvature),
    };
    PathAt { stroke: way_to_shock([kernel.stroke, kernel.motion_ratio, kernel.slope]), axle: Some(axle) }
}

impl Wheel for RearEnd {
    felt_along_the_axis!(shock);

    fn full_travel(&self) -> Length {
        match &self.way {
            KnownFrom::Drawn(linkage) => linkage.full_travel(),
            KnownFrom::Measured(table) => table.full_travel(),
            KnownFrom::Assumed(way) => way.full_travel(),
        }
    }

    fn stroke_at(&self, travel: Length) -> StrokeAt {
        self.path_at(travel).stroke
    }

    fn axle_at(&self, travel: Length) -> Option<AxleAt> {
        self.path_at(travel).axle
    }

    fn path_at(&self, travel: Length) -> PathAt {
        match &self.way {
            KnownFrom::Drawn(linkage) => path_of(&linkage.kernel(travel.si())),
            KnownFrom::Measured(table) => PathAt { stroke: way_to_shock(table.kernel(travel.si())), axle: None },
            KnownFrom::Assumed(way) => PathAt { stroke: way_to_shock(way.kernel(travel.si())), axle: None },
        }
    }

    fn paths_at(&self, travels: &[Length]) -> Vec<PathAt> {
        match &self.way {
            KnownFrom::Drawn(linkage) => linkage.kernels(travels).iter().map(path_of).collect(),
            KnownFrom::Measured(_) | KnownFrom::Assumed(_) => {
                travels.iter().map(|&travel| self.path_at(travel)).collect()
            }
        }
    }

    fn adjuster(&self) -> Option<Adjuster> {
        self.shock.parts().spring.as_ref()?.adjuster().copied()
    }
}

impl Tunable for RearEnd {
    fn with_spring_change(&self, rate_factor: f64, preload_change: Length) -> Result<Self> {
        self.with_shock(self.shock.with_spring_change(rate_factor, preload_change)?)
    }

    fn with_spring_rate(&self, rate: SpringRate, preload: Length) -> Result<Self> {
        self.with_shock(self.shock.with_spring_rate(rate, preload)?)
    }
}
