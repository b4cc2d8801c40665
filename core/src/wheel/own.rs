//! An end of your own in a bike: any [`Wheel`] of another crate.
//!
//! **Method.** When it is taken, the motion ratio is held against the stroke, its slope against the ratio, and force and
//! energy of springs and rest against their rates, over the whole travel, as for an
//! [`OwnElement`](crate::axial::OwnElement). Other springs go in without a word from the end: a coil per main spring on the
//! same axis, or the same springs with their rates and preload changed.
//!
//! **What stays closed.** Rake, trail and everything of the whole bike on its wheels ([`Chassis`](crate::bike::settling))
//! want a fork and a linkage; a reading along the fork wants a fork; uncertain pivots want a linkage. An end of your own is
//! taken as exact. It has no text form: a bike with it cannot be written into a bike file.

use std::sync::Arc;

use super::{AxleAt, PathAt, StrokeAt, Tunable, Wheel};
use crate::axial::{AxialState, FastState, disagreement};
use crate::damper::Damper;
use crate::error::{Result, SpringError, WheelError};
use crate::friction::SealFriction;
use crate::spring::{Adjuster, MainSpring, Preloaded, Spring};
use crate::units::{Length, Quantity, SpringRate, check, show};

/// Travels of anything on two wheels, in metres.
const TRAVEL_SI: [f64; 2] = [5e-3, 0.6];
/// A stroke this small at full extension, in metres, is rounding.
const EXTENDED: f64 = 1e-9;
/// Places along the travel at which the motion ratio has to be above zero.
const PLACES: usize = 200;

/// An end of your own, checked. Two are equal when they share one [`Wheel`] and hold equal springs.
#[derive(Debug, Clone)]
pub struct OwnEnd {
    end: Arc<dyn Wheel>,
    springs: Springs,
}

/// The main springs that are in.
#[derive(Debug, Clone, PartialEq)]
enum Springs {
    /// The end's own, their rates times a factor, with more preload.
    Own { factor: f64, more: Length },
    /// As many coils alike.
    Coils { each: Preloaded, count: usize },
}

impl PartialEq for OwnEnd {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.end, &other.end) && self.springs == other.springs
    }
}

impl OwnEnd {
    /// Takes an end. Only the functions that a [`Wheel`] has to give are asked, and those on kinks, axle, friction,
    /// clearance and adjuster; the rest is computed as for the ends of the library.
    ///
    /// # Errors
    /// [`WheelError::OwnEnd`] where it does not hold together, with the place; a travel not from 5 mm to 600 mm.
    pub fn new(end: impl Wheel + 'static) -> Result<Self> {
        Self::shared(Arc::new(end))
    }

    /// As [`new`](Self::new), of an end that others hold too.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn shared(end: Arc<dyn Wheel>) -> Result<Self> {
        let [least, most] = TRAVEL_SI.map(Length::from_si);
        check::plausible("full_travel", end.full_travel(), least, most)?;
        let own = Self { end, springs: Springs::Own { factor: 1.0, more: Length::from_si(0.0) } };
        match own.fault() {
            None => Ok(own),
            Some((at, found)) => {
                let (end, at) = (format!("{:?}", own.end), show(Length::from_si(at), "mm", 2));
                Err(WheelError::OwnEnd { end, at, found }.into())
            }
        }
    }

    /// The end as it was made.
    #[must_use]
    pub fn wheel(&self) -> &dyn Wheel {
        self.end.as_ref()
    }

    fn fault(&self) -> Option<(f64, String)> {
        let full = self.end.full_travel().si();
        let way = |travel: f64| {
            let at = self.end.stroke_at(Length::from_si(travel));
            [at.stroke.si(), at.motion_ratio.si(), at.motion_ratio_slope.si()]
        };
        if let Some(off) = disagreement(way, &[], full) {
            return Some((off.at, off.words(["stroke", "motion ratio", "slope of the motion ratio"])));
        }
        let [extended, ..] = way(0.0);
        if extended.abs() > EXTENDED {
            return Some((0.0, "the stroke at full extension is not zero".to_owned()));
        }
        let turned =
            (0..=PLACES).map(|place| full * (place as f64 / PLACES as f64)).find(|&travel| way(travel)[1] <= 0.0);
        if let Some(travel) = turned {
            return Some((travel, "the motion ratio is not above zero".to_owned()));
        }
        let [stroke, ..] = way(full);
        let mut kinks: Vec<f64> = self.end.stroke_kinks().into_iter().map(Quantity::si).collect();
        kinks.retain(|kink| *kink > 0.0 && *kink < stroke);
        kinks.sort_by(f64::total_cmp);
        let of = |state: AxialState| [state.energy.si(), state.force.si(), state.rate.si()];
        let springs = disagreement(|s| of(self.end.springs(Length::from_si(s))), &kinks, stroke);
        let rest = disagreement(|s| of(self.end.rest(Length::from_si(s))), &kinks, stroke);
        let parts = [(springs, "energy, force and rate of the springs"), (rest, "energy, force and rate of the rest")];
        parts.into_iter().find_map(|(off, what)| {
            off.map(|off| (off.at, format!("{what}: {}", off.words(["energy", "force", "rate"]))))
        })
    }

    fn with(&self, springs: Springs) -> Self {
        Self { end: Arc::clone(&self.end), springs }
    }

    fn no_spring() -> crate::Error {
        SpringError::NoSpring { part: "end".to_owned() }.into()
    }
}

impl Wheel for OwnEnd {
    fn full_travel(&self) -> Length {
        self.end.full_travel()
    }

    fn stroke_at(&self, travel: Length) -> StrokeAt {
        self.end.stroke_at(travel)
    }

    fn springs(&self, stroke: Length) -> AxialState {
        match &self.springs {
            Springs::Own { factor, more } => {
                let state = self.end.springs(stroke + *more);
                AxialState { force: state.force * *factor, rate: state.rate * *factor, energy: state.energy * *factor }
            }
            Springs::Coils { each, count } => (each.eval(stroke.si()) * *count as f64).typed(),
        }
    }

    fn rest(&self, stroke: Length) -> AxialState {
        self.end.rest(stroke)
    }

    fn fast_rest(&self, settled: Length, stroke: Length) -> FastState {
        self.end.fast_rest(settled, stroke)
    }

    fn main_spring(&self) -> Option<MainSpring> {
        let mut main = self.end.main_spring()?;
        match &self.springs {
            Springs::Own { factor, more } => {
                main.rate = main.rate * *factor;
                main.preload += *more;
                main.each
                    .iter_mut()
                    .for_each(|(rate, preload)| (*rate, *preload) = (*rate * *factor, *preload + *more));
                Some(main)
            }
            Springs::Coils { each, count } => MainSpring::of(core::iter::repeat_n(each, *count), 1),
        }
    }

    /// Those of the end, and where its springs' would be with the preload changed.
    fn stroke_kinks(&self) -> Vec<Length> {
        let mut kinks = self.end.stroke_kinks();
        match &self.springs {
            Springs::Own { more, .. } if more.si() != 0.0 => {
                let moved: Vec<Length> = kinks.iter().map(|kink| *kink - *more).collect();
                kinks.extend(moved);
            }
            Springs::Own { .. } => {}
            Springs::Coils { each, .. } => kinks.extend(each.jumps().into_iter().map(Length::from_si)),
        }
        kinks
    }

    fn axle_at(&self, travel: Length) -> Option<AxleAt> {
        self.end.axle_at(travel)
    }

    fn path_at(&self, travel: Length) -> PathAt {
        self.end.path_at(travel)
    }

    fn paths_at(&self, travels: &[Length]) -> Vec<PathAt> {
        self.end.paths_at(travels)
    }

    fn friction(&self) -> Option<SealFriction> {
        self.end.friction()
    }

    fn damper(&self) -> Option<Damper> {
        self.end.damper()
    }

    fn bind_clearance(&self) -> Option<Length> {
        match &self.springs {
            Springs::Own { more, .. } => self.end.bind_clearance().map(|left| left - *more),
            Springs::Coils { .. } => None,
        }
    }

    fn adjuster(&self) -> Option<Adjuster> {
        self.end.adjuster()
    }
}

impl Tunable for OwnEnd {
    fn with_spring_change(&self, rate_factor: f64, preload_change: Length) -> Result<Self> {
        self.end.main_spring().ok_or_else(Self::no_spring)?;
        check::number_within("rate factor", rate_factor, 0.01, 100.0)?;
        check::finite("preload change", preload_change)?;
        Ok(self.with(match &self.springs {
            Springs::Own { factor, more } => {
                Springs::Own { factor: factor * rate_factor, more: *more + preload_change }
            }
            Springs::Coils { each, count } => {
                Springs::Coils { each: each.changed(rate_factor, preload_change)?, count: *count }
            }
        }))
    }

    fn with_spring_rate(&self, rate: SpringRate, preload: Length) -> Result<Self> {
        let main = self.end.main_spring().ok_or_else(Self::no_spring)?;
        let each = Preloaded::new(Spring::linear(rate)?, preload)?;
        Ok(self.with(Springs::Coils { each, count: main.each.len() }))
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for OwnEnd {
    fn serialize<S: serde::Serializer>(&self, _: S) -> core::result::Result<S::Ok, S::Error> {
        Err(serde::ser::Error::custom(SpringError::NoText { part: "the end".to_owned() }))
    }
}

#[cfg(test)]
mod tests;
