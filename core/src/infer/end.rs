//! An end of a bike as the fit sees it: its kernel, the tape that was run along it, and what is likely of it before anything
//! is read.

use std::sync::Arc;

use crate::Result;
use crate::axial::FastState;
use crate::bike::{Along, Bike};
use crate::infer::model::{Kinematics, SprungEnd};
use crate::infer::path::Path;
use crate::record::{Direction, End, Measuring};
use crate::units::{Length, Quantity};
use crate::wheel::{EndKernel, Wheel};

/// Half of the friction band that is taken for likely before a reading (m of wheel travel), and its standard deviation:
/// bands of 0 to 25 mm are met, under 15 mm is healthy (common practice, no source).
const HALF_BAND: f64 = 4e-3;
/// Share of the travel at which the prior friction force is taken from the wheel rate: about where a bike rides.
pub(crate) const USUAL_SAG: f64 = 1.0 / 3.0;

/// The kernel of an end with a tape run along one direction. A clone shares the kernel.
#[derive(Debug, Clone)]
pub(crate) struct EndModel {
    pub(crate) kernel: Arc<dyn Wheel>,
    tape: Along,
    /// The way from wheel to shock where it is not taken as exact.
    pub(crate) path: Option<Arc<Path>>,
}

impl EndModel {
    /// The same end on another way from wheel to shock.
    pub(crate) fn on(&self, path: Option<Arc<Path>>) -> Self {
        Self { path, ..self.clone() }
    }

    /// The same mechanism and tape with other springs.
    pub(crate) fn with_kernel(&self, kernel: Arc<dyn Wheel>) -> Self {
        Self { kernel, ..self.clone() }
    }

    /// The mechanism as stated, at a travel inside it.
    fn stated(&self, travel: f64) -> Kinematics {
        let motion = self.kernel.motion(travel);
        let (tape, tape_slope) = self.tape.sag_and_slope(self.kernel.as_ref(), travel);
        Kinematics { stroke: motion.stroke, ratio: motion.ratio, ratio_slope: motion.slope, tape, tape_slope }
    }
}

impl SprungEnd for EndModel {
    fn full_travel(&self) -> f64 {
        let full = self.kernel.full();
        self.path.as_ref().map_or(full, |path| full + path.full_travel_change(full, self.kernel.motion(full).ratio))
    }

    fn kinematics(&self, travel: f64) -> Option<Kinematics> {
        let found = match &self.path {
            None => self.stated(travel),
            Some(path) => {
                // Past the end of the stated travel, where the moved one goes on, as a parabola.
                let inside = travel.min(self.kernel.full());
                let (stated, beyond) = (self.stated(inside), travel - inside);
                let onward = Kinematics {
                    stroke: stated.stroke + beyond * (stated.ratio + 0.5 * beyond * stated.ratio_slope),
                    ratio: stated.ratio + beyond * stated.ratio_slope,
                    tape: stated.tape + beyond * stated.tape_slope,
                    ..stated
                };
                path.apply(travel, onward, self.tape.along_fork())
            }
        };
        (found.ratio.is_finite() && found.tape_slope > 0.0).then_some(found)
    }

    fn path(&self, travel: f64) -> Vec<Kinematics> {
        self.path.as_ref().map_or_else(Vec::new, |path| path.derivatives(travel, self.tape.along_fork()))
    }

    fn path_at(&self) -> &[f64] {
        self.path.as_ref().map_or(&[], |path| path.at())
    }

    fn spring(&self, stroke: f64) -> (f64, f64) {
        let state = self.kernel.spring_part(stroke);
        (state.force, state.rate)
    }

    fn rest(&self, stroke: f64) -> (f64, f64) {
        let state = self.kernel.rest_part(stroke);
        (state.force, state.rate)
    }

    fn fast(&self, rest: f64, stroke: f64) -> FastState {
        self.kernel.fast_rest(Length::from_si(rest), Length::from_si(stroke))
    }

    fn energies(&self, stroke: f64, preload: f64) -> (f64, f64) {
        (self.kernel.spring_part(stroke + preload).energy, self.kernel.rest_part(stroke).energy)
    }
}

impl Bike {
    /// One end with a tape along a direction, its way from wheel to shock as stated.
    pub(crate) fn end_model(&self, end: End, direction: Direction) -> Result<EndModel> {
        let tape = self.sag_conversion(end, direction)?.along();
        Ok(EndModel { kernel: self.shared_end(end)?, tape, path: None })
    }

    /// How an end is read; vertically where that is not stated, and nothing was read.
    pub(crate) fn measuring_or_vertical(&self, end: End) -> Measuring {
        let usual = Measuring { direction: Direction::Vertical, uncertainty: Measuring::default_uncertainty() };
        self.measuring(end).unwrap_or(usual)
    }

    /// What is likely of the friction at the wheel (N): mean and standard deviation.
    pub(crate) fn friction_prior(&self, end: End, model: &EndModel) -> Result<(f64, f64)> {
        let travel = USUAL_SAG * model.kernel.full();
        let motion = model.kernel.motion(travel);
        let (_, rate) = model.kernel.force_and_rate(travel);
        let usual = HALF_BAND * rate.abs();
        let stated = self.end(end)?.friction();
        Ok((stated.map_or(usual, |friction| friction.force().si() * motion.ratio), usual))
    }

    /// The way from wheel to shock as stated; `None` where it is taken as exact.
    pub(crate) fn stated_path(&self, end: End) -> Result<Option<Path>> {
        Ok(Path::stated(match (self.own_end(end), end) {
            (Some(_), _) => return Ok(None),
            (None, End::Front) => self.front()?.deviations(),
            (None, End::Rear) => self.rear()?.deviations()?,
        }))
    }
}
