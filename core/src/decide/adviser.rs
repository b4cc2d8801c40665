//! What a decision on one end is worked out from: the end solved, what is wanted of it along the direction in which it is
//! read, its collar and its list of springs.

use std::sync::Arc;

use crate::Result;
use crate::bike::{Agreement, Bike, SagConversion};
use crate::decide::chances::Aim;
use crate::decide::next_reading::Tools;
use crate::decide::predict::Wish;
use crate::decide::search::Settable;
use crate::error::SetupError;
use crate::infer::Study;
use crate::infer::end::EndModel;
use crate::infer::model::{Kinematics, SprungEnd};
use crate::infer::solved::{Derived, Solved};
use crate::record::{Direction, End, Load, Prices, Range, SagKind, SagTarget, Targets};
use crate::spring::{Adjuster, Coil, PRELOADS};
use crate::units::{Length, Quantity, SpringRate, as_written};
use crate::wheel::Wheel;

/// Rates within this of each other are the same spring: the last digit of a label.
const SAME_RATE: f64 = 2e-3;
/// A collar stops at quarter turns; without a stated pitch, at half millimetres (common practice, no source).
const STOPS_A_TURN: f64 = 4.0;
const STEP_WITHOUT_PITCH: f64 = 0.5e-3;
/// A sag set by tape is off by one extended reading and the mean of two loaded ones, low and high: `√(1 + ½)` of one reading.
const PROTOCOL: f64 = 1.224_744_871_391_589;

/// What is wanted of an end, along the direction in which it is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Wanted {
    pub(crate) rider_sag: SagTarget,
    pub(crate) free_sag: Option<Range>,
}

impl Wanted {
    pub(crate) fn aim(&self) -> Aim {
        let bounds = |range: &Range| (range.from.si(), range.to.si());
        let mut rider = bounds(&self.rider_sag.range);
        let mut free = self.free_sag.as_ref().map_or((f64::NEG_INFINITY, f64::INFINITY), bounds);
        // Topped out is no sag: a range from zero on holds it.
        for range in [&mut rider, &mut free] {
            if range.0 <= 0.0 {
                range.0 = f64::NEG_INFINITY;
            }
        }
        Aim { rider, free, value: self.rider_sag.value.si() }
    }
}

/// All that a decision on one end is worked out from.
#[derive(Debug, Clone)]
pub(crate) struct Adviser {
    /// The study with the loads of all scenarios.
    pub(crate) study: Study,
    /// The solution as the study was asked, which its fit is of.
    pub(crate) own: Arc<Solved>,
    /// The end as it is, with its tape along the direction in which it is read.
    pub(crate) model: EndModel,
    pub(crate) wanted: Wanted,
    pub(crate) direction: Direction,
    pub(crate) prices: Prices,
}

impl Study {
    /// Everything that a decision needs, put together. The loads of all scenarios are among it, so that decision and
    /// scenarios speak of one posterior.
    ///
    /// # Errors
    /// [`SetupError::Missing`] without a rider sag target.
    pub(crate) fn adviser(&self) -> Result<Adviser> {
        let (bike, end) = (&self.bike, self.end());
        let target = bike.targets(end).rider_sag.ok_or_else(|| bike.no_rider_sag(end))?;
        bike.masses()?.sprung_load(end, &bike.parts().rider_load)?;
        // Where nothing is read, nor said how it would be, as it is wanted.
        let unsaid = bike.parts().measuring.at(end).is_none() && bike.readings_of(end).next().is_none();
        let direction = if unsaid { target.direction } else { self.measuring().direction };
        let loads = bike.parts().scenarios.iter().map(|scenario| scenario.load.clone());
        let more: Vec<Load> = loads.filter(|load| self.solved.gathered.place(load).is_none()).collect();
        let study = if more.is_empty() { self.clone() } else { self.with_loads(&more)? };
        Ok(Adviser {
            own: self.solved.clone(),
            model: study.model_along(direction)?,
            wanted: bike.wanted_along(end, bike.targets(end), &target, direction)?,
            direction,
            prices: bike.parts().prices,
            study,
        })
    }
}

impl Bike {
    /// Targets along a direction; the rider sag as given.
    pub(crate) fn wanted_along(
        &self,
        end: End,
        targets: &Targets,
        rider: &SagTarget,
        direction: Direction,
    ) -> Result<Wanted> {
        let tape = SagConversion::of(self, end, direction)?;
        let along = |target: &SagTarget| -> Result<SagTarget> {
            if target.direction == direction {
                return Ok(*target);
            }
            let stated = SagConversion::of(self, end, target.direction)?;
            let convert = |sag: Length| tape.sag(stated.travel(sag)?);
            let range = Range { from: convert(target.range.from)?, to: convert(target.range.to)? };
            Ok(SagTarget { value: convert(target.value)?, range, direction })
        };
        let free_sag = targets.free_sag.as_ref().map(along).transpose()?;
        Ok(Wanted { rider_sag: along(rider)?, free_sag: free_sag.map(|free| free.range) })
    }

    /// Why no rider sag is wanted at an end, and what would do.
    pub(crate) fn no_rider_sag(&self, end: End) -> SetupError {
        let said = self.practice(end).unwrap_or_default();
        let rider = said.iter().find(|said| said.sag == SagKind::Rider);
        let wanted = match rider.map(|said| said.agreement) {
            Some(Agreement::Disagree) => {
                "the figures of common practice do not overlap on this bike: state your own under `targets`"
            }
            Some(Agreement::BeyondTravel(_)) => {
                "common practice asks for more than this end can travel: state your own under `targets`"
            }
            _ => "say how much the end should sag with the rider on, under `targets`",
        };
        SetupError::Missing { end, what: "rider_sag", wanted }
    }
}

impl Adviser {
    pub(crate) fn solved(&self) -> &Solved {
        &self.study.solved
    }

    pub(crate) fn bike(&self) -> &Bike {
        &self.study.bike
    }

    pub(crate) fn end(&self) -> End {
        self.study.end()
    }

    /// Standard uncertainty of one reading (m).
    pub(crate) fn tape(&self) -> f64 {
        self.study.measuring().uncertainty.si()
    }

    pub(crate) fn place(&self, load: &Load) -> Result<usize> {
        let place = self.solved().gathered.place(load);
        let missing = SetupError::Missing {
            end: self.end(),
            what: "load",
            wanted: "state the masses that rider sag is meant under",
        };
        Ok(place.ok_or(missing)?)
    }

    /// Places of the bike alone and of the load that rider sag is meant under.
    pub(crate) fn places(&self) -> Result<[usize; 2]> {
        Ok([self.place(&Load::bike_alone())?, self.place(&self.bike().parts().rider_load)?])
    }

    /// What is wanted, asked of a spring.
    pub(crate) fn wish(&self, [bike, rider]: [usize; 2]) -> Result<Wish<'_>> {
        Ok(Wish {
            solved: self.solved(),
            model: &self.model,
            rider,
            on_top: 0.0,
            bike,
            rider_sag: self.wanted.rider_sag.value.si(),
            tape: PROTOCOL * self.tape(),
            step: self.step(&self.adjuster()?.unwrap_or_default()),
            gravity: self.bike().masses()?.gravity().si(),
        })
    }

    /// A sag as it stands today, along the direction of reading.
    pub(crate) fn sag_today(&self, load: usize) -> Result<Derived> {
        let travel = self.solved().travel(load).ok_or(SetupError::Singular)?;
        let full = self.solved().evidence.end.full_travel();
        let inside = travel.value.clamp(0.0, full);
        let at = |travel: f64| self.model.kinematics(travel).ok_or(SetupError::Singular);
        let Kinematics { tape: sag, tape_slope: slope, .. } = at(inside)?;
        let mut gradient: Vec<f64> = travel.gradient.iter().map(|g| g * slope).collect();
        let first_way = self.solved().evidence.unknowns();
        let ways = gradient.iter_mut().skip(first_way);
        ways.zip(self.model.path(inside)).for_each(|(to, by)| *to += by.tape);
        let value = sag + slope * (travel.value - inside);
        let Some(hanging) = self.solved().hanging() else {
            // At full extension the tape shows nothing.
            return Ok(Derived { value, gradient });
        };
        let hung = at(hanging.value)?;
        gradient.iter_mut().zip(&hanging.gradient).for_each(|(to, by)| *to -= hung.tape_slope * by);
        let ways = gradient.iter_mut().skip(first_way);
        ways.zip(self.model.path(hanging.value)).for_each(|(to, by)| *to -= by.tape);
        Ok(Derived { value: value - hung.tape, gradient })
    }

    pub(crate) fn tools(&self) -> Result<Tools> {
        let masses = self.bike().masses()?;
        // A bias of the scale is in what is weighed again, too.
        let scale = masses.scale_uncertainty().si().hypot(self.solved().evidence.doubts.scale_bias);
        Ok(Tools { tape: self.tape(), scale: scale * masses.gravity().si() })
    }

    /// The spring that is in now and every other on sale, and whether it is the one in now.
    pub(crate) fn rates(&self) -> impl Iterator<Item = (SpringRate, bool)> {
        let on_sale = match self.on_sale() {
            [] => self.to_look_for(),
            rates => rates.to_vec(),
        };
        let others = on_sale.into_iter().filter(|&rate| !self.is_fitted(rate)).map(|rate| (rate, false));
        core::iter::once((self.fitted_label(), true)).chain(others)
    }

    /// Rates that are stated as on sale.
    pub(crate) fn on_sale(&self) -> &[SpringRate] {
        match self.end() {
            End::Front => &self.bike().parts().on_sale.front,
            End::Rear => &self.bike().parts().on_sale.rear,
        }
    }

    /// Rates to look for, where nothing is stated as on sale: about that of the label, in the steps of shops, as one round
    /// number of the label's own unit.
    fn to_look_for(&self) -> Vec<SpringRate> {
        /// How far from the label a spring is looked for, as a share of it: no bike wants more than that.
        const FURTHEST: f64 = 0.35;
        /// Rates to either side at most: for a spring far stiffer than is usual the steps widen with it.
        const MOST: f64 = 40.0;
        let usual = self.bike().assumed().usual();
        let step = match self.end() {
            End::Front => usual.step_front,
            End::Rear => usual.step_rear,
        };
        let label = self.fitted_label();
        let unit = as_written(SpringRate::KIND, label.si()).map_or(&SpringRate::KIND.units[0], |(_, unit)| unit);
        let number = unit.from_si(label.si());
        let step = unit.from_si(step.si()).max(FURTHEST * number / MOST);
        let decade = 10f64.powf(step.log10().floor());
        // One significant digit.
        let step = (step / decade).round() * decade;
        let (first, last) = ((1.0 - FURTHEST) * number / step, (1.0 + FURTHEST) * number / step);
        let steps = (first.ceil() as i64)..=(last.floor() as i64);
        // Written as a shop does, so that the last bits are those of its label.
        let rates = steps.filter_map(|k| format!("{:.6} {}", k as f64 * step, unit.symbol).parse::<SpringRate>().ok());
        rates.filter(|rate| Coil::new(*rate).is_ok()).collect()
    }

    /// Label of the spring that is in now, per spring.
    pub(crate) fn fitted_label(&self) -> SpringRate {
        self.solved().main.each.first().map_or(self.solved().main.rate, |(rate, _)| *rate)
    }

    /// Is this rate, in every sprung leg, what is in now?
    pub(crate) fn is_fitted(&self, rate: SpringRate) -> bool {
        self.solved().main.each.iter().all(|(now, _)| (rate.si() / now.si() - 1.0).abs() < SAME_RATE)
    }

    /// The end with springs of another rate, at the preload stated for today.
    pub(crate) fn kernel_with(&self, rate: SpringRate) -> Result<Arc<dyn Wheel>> {
        let preload = self.solved().main.preload;
        self.bike().end_with_spring_rate(self.end(), rate, preload)
    }

    pub(crate) fn adjuster(&self) -> Result<Option<Adjuster>> {
        Ok(self.bike().end(self.end())?.adjuster())
    }

    /// Clearance before coil bind of the spring that is in now, at the preload stated.
    pub(crate) fn clearance_now(&self) -> Result<Option<Length>> {
        Ok(self.bike().end(self.end())?.bind_clearance())
    }

    fn step(&self, adjuster: &Adjuster) -> f64 {
        adjuster.thread_pitch().map_or(STEP_WITHOUT_PITCH, |pitch| pitch.si() / STOPS_A_TURN)
    }

    /// Changes of the stated preload that can be set: in steps from today's setting, or from where the collar just touches
    /// another spring; at zero or more, within the adjuster, for today's spring short of going solid, and no more than any collar
    /// gives.
    pub(crate) fn settable(&self, is_fitted: bool, adjuster: &Adjuster) -> Result<Settable> {
        let stated = self.solved().main.preload.si();
        let least = adjuster.least_preload().map_or(0.0, |least| least.si().max(0.0)) - stated;
        let mut most = adjuster.most_preload().map_or(f64::INFINITY, |most| most.si() - stated);
        if let Some(clearance) = self.clearance_now()?.filter(|_| is_fitted) {
            most = most.min(clearance.si());
        }
        let beyond = PRELOADS[1] - stated;
        let open = most > beyond;
        let origin = if is_fitted { 0.0 } else { -stated };
        Ok(Settable { origin, step: self.step(adjuster), ends: (least, most.min(beyond).max(least)), open })
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests;
