//! An end of a bike as the fit sees it: its kernel, the tape that was run along it, and what is likely of it before anything
//! is read.

use std::sync::Arc;

use crate::Result;
use crate::axial::FastState;
use crate::bike::{Along, Bike, SagConversion};
use crate::infer::model::{Kinematics, SprungEnd};
use crate::infer::path::{Path, Unknown};
use crate::record::{Direction, End, Measuring};
use crate::units::{Energy, Force, Length, Quantity, SpringRate};
use crate::wheel::{EndKernel, Origin, Wheel};

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
    /// The mechanism at full extension, where every fit looks.
    extended: Kinematics,
    /// The way from wheel to shock where it is not taken as exact.
    pub(crate) path: Option<Arc<Path>>,
}

impl EndModel {
    /// The same end on another way from wheel to shock.
    pub(crate) fn on(&self, path: Option<Arc<Path>>) -> Self {
        Self { path, ..self.clone() }
    }

    /// The same mechanism and tape with other springs; what was read off those that were in there is not of these.
    pub(crate) fn with_kernel(&self, kernel: Arc<dyn Wheel>) -> Self {
        Self { kernel, path: self.path.clone().map(Path::with_other_springs), ..self.clone() }
    }

    /// Energy, force and rate beside the springs that come to what is stated.
    fn push(&self, stroke: f64) -> [f64; 3] {
        self.path.as_ref().map_or([0.0; 3], |path| path.push(stroke))
    }

    /// The mechanism as stated, at a travel inside it.
    fn stated(&self, travel: f64) -> Kinematics {
        if travel == 0.0 { self.extended } else { stated(self.kernel.as_ref(), &self.tape, travel) }
    }
}

fn stated(kernel: &dyn Wheel, tape: &Along, travel: f64) -> Kinematics {
    let motion = kernel.motion(travel);
    let (tape, tape_slope) = tape.sag_and_slope(kernel, travel);
    Kinematics {
        stroke: motion.stroke,
        ratio: motion.ratio,
        ratio_slope: motion.slope,
        tape,
        tape_slope,
        push: [0.0; 3],
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
        let at = |path: &Arc<Path>| Some(path.derivatives(travel, &self.kinematics(travel)?, self.tape.along_fork()));
        self.path.as_ref().and_then(at).unwrap_or_default()
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
        let [_, force, rate] = self.push(stroke);
        (state.force + force, state.rate + rate)
    }

    fn fast(&self, rest: f64, stroke: f64) -> FastState {
        let mut fast = self.kernel.fast_rest(Length::from_si(rest), Length::from_si(stroke));
        let [energy, force, rate] = self.push(stroke);
        fast.state.energy += Energy::from_si(energy);
        fast.state.force += Force::from_si(force);
        fast.state.rate = SpringRate::from_si(fast.state.rate.si() + rate);
        fast
    }

    fn energies(&self, stroke: f64, preload: f64) -> (f64, f64) {
        let rest = self.kernel.rest_part(stroke).energy + self.push(stroke)[0];
        (self.kernel.spring_part(stroke + preload).energy, rest)
    }
}

impl Bike {
    /// One end with a tape along a direction, its way from wheel to shock as stated.
    pub(crate) fn end_model(&self, end: End, direction: Direction) -> Result<EndModel> {
        let tape = SagConversion::of(self, end, direction)?.along();
        let kernel = self.shared_end(end)?;
        let extended = stated(kernel.as_ref(), &tape, 0.0);
        Ok(EndModel { kernel, tape, extended, path: None })
    }

    /// How an end is read; vertically where that is not stated, and nothing was read.
    pub(crate) fn measuring_or_vertical(&self, end: End) -> Measuring {
        let usual = Measuring { direction: Direction::Vertical, uncertainty: Measuring::default_uncertainty() };
        self.assumed().measuring(end).unwrap_or(usual)
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

    /// The way from tape and wheel to the springs as stated, or as it is assumed; `None` where it is taken as exact.
    pub(crate) fn stated_path(&self, end: End) -> Result<Option<Path>> {
        let (spread, push, measured) = match (self.own_end(end), end) {
            (Some(_), _) => return Ok(None),
            (None, End::Front) => {
                let front = self.front()?;
                (front.deviations()?, front.assumed_push(), front.measured_pushes())
            }
            (None, End::Rear) => {
                let rear = self.rear()?;
                (rear.deviations()?, rear.assumed_push(), rear.measured_pushes())
            }
        };
        let way = |(origin, way)| Unknown { origin, way: Some(way), tape: 0.0, push: None };
        let mut unknowns: Vec<Unknown> = spread.independent.into_iter().map(way).collect();
        unknowns.extend(push.map(|push| Unknown { origin: Origin::Gas, way: None, tape: 0.0, push: Some(push) }));
        let mut short = 0.0;
        if self.assumed().direction(end) {
            // Along the fork with this chance, else vertical: shorter by `1 − cos ε`.
            let along = self.assumed().usual().along_fork.si().clamp(0.0, 1.0);
            let less = 1.0 - self.front()?.rake().si().cos();
            short = (1.0 - along) * less;
            let tape = (along * (1.0 - along)).sqrt() * less;
            unknowns.push(Unknown { origin: Origin::Direction, way: None, tape, push: None });
        }
        // Those of the springs stand last: they go when the springs do.
        let pushed = |(origin, push)| Unknown { origin, way: None, tape: 0.0, push: Some(push) };
        unknowns.extend(measured.into_iter().map(pushed));
        Ok(Path::stated(spread.mean, short, unknowns))
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::demo::PATROL;
    use crate::wheel::PivotUncertainty;

    #[test]
    fn the_way_of_uncertain_pivots_goes_on_smoothly_past_its_stated_end() {
        /// Central differences of strokes of a tenth of a metre: rounding over the step, and the step's square.
        const STEP: f64 = 1e-5;
        let bike = Bike::from_toml(PATROL).unwrap();
        let known = PivotUncertainty { coordinate: Length::from_si(2e-3), shock_length: Length::from_si(1e-3) };
        let rear = bike.rear().unwrap().clone().with_pivots_known_to(known).unwrap();
        let bike = bike.with(|parts| parts.rear = Some(rear)).unwrap();
        let end = bike.study(End::Rear).unwrap().solved.evidence.end.clone();
        assert!(!end.path_at().is_empty());
        let full = end.full_travel();
        for travel in [0.3 * full, full - 2e-3, full + 2e-3, full + 9e-3] {
            let [before, here, after] = [-STEP, 0.0, STEP].map(|by| end.kinematics(travel + by).unwrap());
            let slope = |of: fn(&Kinematics) -> f64| (of(&after) - of(&before)) / (2.0 * STEP);
            approx::assert_relative_eq!(here.ratio, slope(|at| at.stroke), max_relative = 1e-6);
            approx::assert_relative_eq!(here.ratio_slope, slope(|at| at.ratio), max_relative = 1e-4);
            approx::assert_relative_eq!(here.tape_slope, slope(|at| at.tape), max_relative = 1e-6);
        }
    }
}
