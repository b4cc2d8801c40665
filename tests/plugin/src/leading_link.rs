//! A leading-link front end: an arm that turns about a pivot behind the axle, two springs between the arm and the frame.
//!
//! With the pivot as origin, the axle at `(x, y)` on a circle of radius `L` and the springs' foot at the share `p` of the
//! way to it, the springs are as long as `l² = T² + p²·L² − 2·p·(T_x·x + T_y·y)` for their top at `T`, so that
//!
//! `MR = −dl/dz = p·(T_x·x′ + T_y)/l`, `dMR/dz = (p·T_x·x″ + MR²)/l`, `x′ = −y/x`, `x″ = −L²/x³`.

use wheelrate::axial::{AxialElement, AxialState};
use wheelrate::error::UnitError;
use wheelrate::spring::{MainSpring, Preloaded};
use wheelrate::units::{Length, MotionRatio, MotionRatioSlope, Quantity, ReciprocalLength, parse, uom};
use wheelrate::wheel::{AxleAt, StrokeAt, Wheel};

/// The front end, two springs alike side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct LeadingLink {
    pivot: [f64; 2],
    /// Axle from the pivot at full extension.
    axle: [f64; 2],
    /// Top of the springs from the pivot.
    top: [f64; 2],
    /// Where on the arm the springs stand.
    foot: f64,
    travel: Length,
    spring: Preloaded,
}

impl LeadingLink {
    /// The front end of the patrol bike, with these springs.
    ///
    /// # Errors
    /// None; the lengths are read as anybody's would be.
    pub fn patrol(spring: Preloaded) -> Result<Self, UnitError> {
        let travel = parse("200 mm")?;
        Ok(Self { pivot: [0.65, -0.06], axle: [0.24, -0.12], top: [0.1, 0.42], foot: 0.8, travel, spring })
    }

    fn circle(&self, travel: f64) -> [f64; 2] {
        let [x, y] = self.axle;
        let up = y + travel;
        [(x * x + y * y - up * up).sqrt(), up]
    }

    fn length(&self, [x, y]: [f64; 2]) -> f64 {
        let [top_x, top_y] = self.top;
        (top_x - self.foot * x).hypot(top_y - self.foot * y)
    }
}

impl Wheel for LeadingLink {
    fn full_travel(&self) -> Length {
        self.travel
    }

    fn stroke_at(&self, travel: Length) -> StrokeAt {
        let [x, y] = self.circle(travel.si());
        let ([top_x, top_y], length) = (self.top, self.length([x, y]));
        let ratio = self.foot * (top_x * (-y / x) + top_y) / length;
        let bend = -(x * x + y * y) / x.powi(3);
        StrokeAt {
            stroke: Length::from_si(self.length(self.axle) - length),
            motion_ratio: MotionRatio::from_si(ratio),
            motion_ratio_slope: MotionRatioSlope::from_si((self.foot * top_x * bend + ratio * ratio) / length),
        }
    }

    fn springs(&self, stroke: Length) -> AxialState {
        // Loose below its touch; a coil whose lengths are not known takes any stroke.
        let one = self.spring.at(stroke.max(-self.spring.preload())).unwrap_or_else(|_| AxialState::none());
        AxialState { force: one.force * 2.0, rate: one.rate * 2.0, energy: one.energy * 2.0 }
    }

    fn rest(&self, _stroke: Length) -> AxialState {
        AxialState::none()
    }

    fn main_spring(&self) -> Option<MainSpring> {
        MainSpring::of_each([&self.spring, &self.spring])
    }

    fn axle_at(&self, travel: Length) -> Option<AxleAt> {
        let [x, y] = self.circle(travel.si());
        let at = [self.pivot[0] + x, self.pivot[1] + y].map(Length::from_si);
        let curvature = -(x * x + y * y) / x.powi(3);
        let curvature = ReciprocalLength::new::<uom::si::reciprocal_length::reciprocal_meter>(curvature);
        Some(AxleAt { at, slope: -y / x, curvature })
    }
}
