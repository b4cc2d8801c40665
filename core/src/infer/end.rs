//! An end of a bike as the fit sees it, and the calls on [`Bike`] that fit it.

use crate::Result;
use crate::bike::{Bike, SagConversion};
use crate::error::SetupError;
use crate::infer::fit::{Fit, Solved};
use crate::infer::model::{Kinematics, SprungEnd};
use crate::infer::monte_carlo::MonteCarlo;
use crate::infer::path::Path;
use crate::infer::posterior::Priors;
use crate::infer::readings::Gathered;
use crate::record::{Direction, End, Load, Measuring};
use crate::units::Quantity;
use crate::wheel::EndKernel;

/// Half of the friction band that is taken for likely before a reading (m of wheel travel), and its standard deviation:
/// bands of 0 to 25 mm are met, under 15 mm is healthy (common practice, no source).
const HALF_BAND: f64 = 4e-3;
/// Share of the travel at which the prior friction force is taken from the wheel rate: about where a bike rides.
const USUAL_SAG: f64 = 1.0 / 3.0;

/// The kernel of an end with a tape run along one direction.
#[derive(Debug, Clone, Copy)]
pub(crate) struct EndModel<'a> {
    pub(crate) kernel: &'a dyn EndKernel,
    pub(crate) tape: SagConversion<'a>,
    /// The way from wheel to shock where it is not taken as exact.
    pub(crate) path: Option<&'a Path>,
}

impl EndModel<'_> {
    /// The mechanism as stated, at a travel inside it.
    fn stated(&self, travel: f64) -> Kinematics {
        let motion = self.kernel.motion(travel);
        let (tape, tape_slope) = self.tape.sag_and_slope(travel);
        Kinematics { stroke: motion.stroke, ratio: motion.ratio, ratio_slope: motion.slope, tape, tape_slope }
    }
}

impl SprungEnd for EndModel<'_> {
    fn full_travel(&self) -> f64 {
        let full = self.kernel.full();
        self.path.map_or(full, |path| full + path.full_travel_change(full, self.kernel.motion(full).ratio))
    }

    fn kinematics(&self, travel: f64) -> Option<Kinematics> {
        let found = match self.path {
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
        self.path.map_or_else(Vec::new, |path| path.derivatives(travel, self.tape.along_fork()))
    }

    fn path_at(&self) -> &[f64] {
        self.path.map_or(&[], Path::at)
    }

    fn spring(&self, stroke: f64) -> (f64, f64) {
        let state = self.kernel.spring_part(stroke);
        (state.force, state.rate)
    }

    fn rest(&self, stroke: f64) -> (f64, f64) {
        let state = self.kernel.rest_part(stroke);
        (state.force, state.rate)
    }

    fn energies(&self, stroke: f64, preload: f64) -> (f64, f64) {
        (self.kernel.spring_part(stroke + preload).energy, self.kernel.rest_part(stroke).energy)
    }
}

impl Bike {
    pub(crate) fn end_model(&self, end: End, direction: Direction) -> Result<EndModel<'_>> {
        Ok(EndModel { kernel: self.end_kernel(end)?, tape: self.sag_conversion(end, direction)?, path: None })
    }

    /// How an end is read; where nothing was read it does not matter how.
    pub(crate) fn measuring_or_vertical(&self, end: End) -> Result<Measuring> {
        // One set without dates needs no sorting into sets.
        let unread =
            if self.is_one_set() { self.readings_of(end).next().is_none() } else { self.newest_set(end).is_none() };
        if unread {
            return Ok(self.measuring(end).unwrap_or(Measuring {
                direction: Direction::Vertical,
                uncertainty: Measuring::default_uncertainty(),
            }));
        }
        self.measuring(end)
    }

    fn friction_prior(&self, end: End, model: &EndModel<'_>) -> Result<(f64, f64)> {
        let travel = USUAL_SAG * model.kernel.full();
        let motion = model.kernel.motion(travel);
        let (_, rate) = model.kernel.force_and_rate(travel);
        let usual = HALF_BAND * rate.abs();
        let stated = match end {
            End::Front => self.front()?.fork().friction(),
            End::Rear => self.rear()?.shock().friction(),
        };
        Ok((stated.map_or(usual, |friction| friction.force().si() * motion.ratio), usual))
    }

    /// Solves one end; the model must be that of the end, its tape along the direction of the readings.
    pub(crate) fn solve_end<'a>(
        &'a self,
        end: End,
        model: &'a EndModel<'a>,
        measuring: &Measuring,
        more: &[Load],
    ) -> Result<Solved<'a>> {
        let masses = self.masses()?;
        let main = self.end(end)?.main_spring().ok_or_else(|| {
            let why = match end {
                End::Front => {
                    ": put a `spring` into `front.fork.leg`; where its rate is not known, a guess with a wide `rate_tolerance` \
                     in `prior.front`"
                }
                End::Rear => {
                    ": put a `spring` into `rear.shock`; where its rate is not known, a guess with a wide `rate_tolerance` in \
                     `prior.rear`"
                }
            };
            SetupError::NoSpring { end, why: why.to_owned() }
        })?;
        let asked = [self.free_load(), self.rider_load().clone()];
        let asked = asked.into_iter().chain(more.iter().cloned());
        let more: Vec<_> = asked.filter(|load| masses.sprung_load(end, load).is_ok()).collect();
        let gathered = self.gather(end, model, measuring, &more)?;
        let prior = self.prior(end);
        let priors = Priors {
            rate: prior.rate_standard_uncertainty().si(),
            preload: prior.preload_uncertainty.si(),
            friction: self.friction_prior(end, model)?,
        };
        let hanging = -masses.unsprung().at(end).si() * masses.gravity().si();
        Ok(Solved::new(end, model, main, priors, hanging, gathered)?)
    }

    /// The newest set of readings, brought together.
    fn gather(&self, end: End, model: &EndModel<'_>, measuring: &Measuring, more: &[Load]) -> Result<Gathered> {
        let masses = self.masses()?;
        if self.is_one_set() {
            return Gathered::new(end, model, self.readings(), measuring, masses, more);
        }
        let (places, readings) = self.newest_readings(end);
        let mut gathered = Gathered::new(end, model, &readings, measuring, masses, more)?;
        gathered.places = gathered.places.iter().filter_map(|&place| places.get(place).copied()).collect();
        Ok(gathered)
    }

    /// The end solved, with loads that are asked about though nothing was read under them.
    pub(crate) fn with_solved<T>(
        &self,
        end: End,
        more: &[Load],
        then: impl FnOnce(&Solved<'_>) -> Result<T>,
    ) -> Result<T> {
        let measuring = self.measuring_or_vertical(end)?;
        let model = self.end_model(end, measuring.direction)?;
        let path = self.likely_path(end, &model, &measuring)?;
        let model = EndModel { path: path.as_ref(), ..model };
        then(&self.solve_end(end, &model, &measuring, more)?)
    }

    /// The way from wheel to shock where readings and labels put it; `None` where it is taken as exact.
    pub(crate) fn likely_path(&self, end: End, stated: &EndModel<'_>, measuring: &Measuring) -> Result<Option<Path>> {
        let settled = |path: Path| {
            path.settled(|path| {
                let model = EndModel { path: Some(path), ..*stated };
                let solved = self.solve_end(end, &model, measuring, &[])?;
                Ok(solved.posterior.unknowns[solved.evidence.unknowns()..].to_vec())
            })
        };
        self.stated_path(end)?.map(settled).transpose()
    }

    /// The way from wheel to shock as stated; `None` where it is taken as exact.
    pub(crate) fn stated_path(&self, end: End) -> Result<Option<Path>> {
        Ok(Path::stated(match end {
            End::Front => self.front()?.deviations(),
            End::Rear => self.rear()?.deviations()?,
        }))
    }

    /// What the readings of one end say of its spring rate, preload and friction. Without readings: what the labels say.
    ///
    /// # Errors
    /// [`SetupError`] when the end has no spring, the extended reading is missing, or readings contradict each other;
    /// [`BikeError::Missing`](crate::error::BikeError::Missing) without masses or without the end.
    pub fn fit_end(&self, end: End) -> Result<Fit> {
        self.with_solved(end, &[], |solved| Ok(solved.fit()))
    }

    /// [`fit_end`](Self::fit_end) of every end that the bike has.
    ///
    /// # Errors
    /// As [`fit_end`](Self::fit_end).
    pub fn fit(&self) -> Result<Vec<Fit>> {
        self.ends().into_iter().map(|end| self.fit_end(end)).collect()
    }

    /// The fit of one end by Monte Carlo (JCGM 101:2008), to check its standard uncertainties where they are large. The
    /// same seed gives the same draws.
    ///
    /// # Errors
    /// As [`fit_end`](Self::fit_end), and [`SetupError::Request`] outside 200 to 5,000,000 draws.
    pub fn monte_carlo(&self, end: End, draws: usize, seed: u64) -> Result<MonteCarlo> {
        self.with_solved(end, &[], |solved| Ok(solved.monte_carlo(draws, seed)?))
    }
}
