//! An element of your own among the library's: any [`AxialElement`] of another crate, in a fork leg or a shock.
//!
//! `dE/ds = F`, `dF/ds = k`
//!
//! **Method.** Before an element is taken, force and energy are held against the integrals of rate and force over every
//! piece between its kinks (five-point Gauss–Legendre; Abramowitz & Stegun, table 25.4). So a slip of unit, a sign, a
//! forgotten half or an unlisted kink is an error with its place, and not a wrong sag. Beyond the ends of its stroke the
//! element goes on in a straight line, so that an iteration may pass through.
//!
//! **Where it fails.** An element that answers otherwise the second time it is asked. An answer that it then refuses
//! counts as not a number, which no result takes.

use core::fmt::Write as _;
use std::sync::Arc;

use super::{Axial, AxialElement, AxialState};
use crate::error::{Result, SpringError};
use crate::units::{Length, Quantity, brief, check, show};

/// How far an element without an end is looked at, in metres: beyond any spring's compression.
const FARTHEST_SI: f64 = 1.0;
/// Panels over a piece between two kinks.
const PANELS: usize = 32;
/// Disagreement over one panel, as a share of the greatest value, that is a fault: quadrature of anything smooth stays a
/// thousand times below it, and a kink that is not listed above it.
const DISAGREES: f64 = 1e-5;
/// Step of the difference of rates that gives their slope, as a share of the reach: what is left of it, some millionths of
/// the slope, is seen in no sensitivity.
const STEP: f64 = 1e-5;
/// Nodes and weights of the five-point rule on −1 to 1.
const NODES: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_08),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.906_179_845_938_664, 0.236_926_885_056_189_08),
];

/// An element of your own, checked. It counts beside springs, gas and stops; what the fit varies (the main spring's rate
/// and preload) does not touch it. It has no text form: a bike with it cannot be written into a bike file.
///
/// Two are equal when they share one element.
#[derive(Debug, Clone)]
pub struct OwnElement {
    element: Arc<dyn AxialElement>,
    reach: f64,
    kinks: Vec<f64>,
}

impl PartialEq for OwnElement {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.element, &other.element)
    }
}

impl OwnElement {
    /// Takes an element over strokes from 0 to its [`full_stroke`](AxialElement::full_stroke), or to 1 m.
    ///
    /// # Errors
    /// [`SpringError::OwnElement`] where it refuses a stroke of its range, is not finite, or its force and energy are not the
    /// integrals of its rate and force.
    pub fn new(element: impl AxialElement + 'static) -> Result<Self> {
        Self::shared(Arc::new(element))
    }

    /// As [`new`](Self::new), of an element that others hold too.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn shared(element: Arc<dyn AxialElement>) -> Result<Self> {
        let most = Length::from_si(FARTHEST_SI);
        let full = element.full_stroke().unwrap_or(most);
        let reach = check::plausible("full_stroke", full, Length::from_si(1e-4), most)?.si();
        let mut kinks: Vec<f64> = element.kinks().into_iter().map(Quantity::si).collect();
        kinks.retain(|kink| *kink > 0.0 && *kink < reach);
        kinks.sort_by(f64::total_cmp);
        let own = Self { element, reach, kinks };
        own.check()?;
        Ok(own)
    }

    /// The element.
    #[must_use]
    pub fn element(&self) -> &dyn AxialElement {
        self.element.as_ref()
    }

    /// Length of its stroke; 1 m for an element without an end.
    #[must_use]
    pub fn reach(&self) -> Length {
        Length::from_si(self.reach)
    }

    fn check(&self) -> Result<()> {
        let refused = core::cell::RefCell::new(None);
        let at = |s: f64| match self.element.at(Length::from_si(s)) {
            Ok(state) => [state.energy.si(), state.force.si(), state.rate.si()],
            Err(error) => {
                refused.borrow_mut().get_or_insert((s, error.to_string()));
                [f64::NAN; 3]
            }
        };
        let Some(disagreement) = disagreement(at, &self.kinks, self.reach) else { return Ok(()) };
        let (place, found) = match refused.into_inner() {
            Some((place, error)) => (place, format!("refuses to answer: {error}")),
            None => (disagreement.at, disagreement.words(["energy", "force", "rate"])),
        };
        Err(SpringError::OwnElement {
            part: self.element.describe(),
            stroke: show(Length::from_si(place), "mm", 2),
            found,
        }
        .into())
    }

    /// The kernel. Beyond either end in a straight line.
    pub(crate) fn eval(&self, s: f64) -> Axial {
        self.extended(s, |inside| self.element.at(inside))
    }

    /// The kernel at a stroke reached fast from rest at another; the slope of the rate is the slow one.
    pub(crate) fn eval_fast(&self, rest: f64, s: f64) -> Axial {
        let rest = Length::from_si(rest.clamp(0.0, self.reach));
        self.extended(s, |inside| self.element.fast_at(rest, inside))
    }

    fn extended(&self, s: f64, at: impl Fn(Length) -> Result<AxialState>) -> Axial {
        let inside = s.clamp(0.0, self.reach);
        let Ok(state) = at(Length::from_si(inside)) else {
            return Axial { force: f64::NAN, rate: f64::NAN, slope: f64::NAN, energy: f64::NAN };
        };
        let (force, rate, beyond) = (state.force.si(), state.rate.si(), s - inside);
        Axial {
            force: force + rate * beyond,
            rate,
            slope: if beyond == 0.0 { self.slope(s) } else { 0.0 },
            energy: state.energy.si() + beyond * (force + 0.5 * rate * beyond),
        }
    }

    /// `dk/ds` by a difference inside the smooth piece that the stroke is in.
    fn slope(&self, s: f64) -> f64 {
        let step = STEP * self.reach;
        let after = self.kinks.partition_point(|kink| *kink < s);
        let from = after.checked_sub(1).and_then(|kink| self.kinks.get(kink)).map_or(0.0, |kink| kink + 1e-3 * step);
        let to = self.kinks.get(after).map_or(self.reach, |kink| kink - 1e-3 * step);
        let (low, high) = ((s - step).max(from), (s + step).min(to));
        let rate = |s: f64| self.element.at(Length::from_si(s)).map_or(f64::NAN, |state| state.rate.si());
        if high > low { (rate(high) - rate(low)) / (high - low) } else { 0.0 }
    }

    /// Strokes at which the rate jumps.
    pub(crate) fn jumps(&self) -> &[f64] {
        &self.kinks
    }

    /// Refuses an element that ends before the stroke does.
    pub(crate) fn check_reach(&self, part: &str, stroke: Length) -> Result<()> {
        if self.reach >= stroke.si() * (1.0 - super::END_ROUNDING) {
            return Ok(());
        }
        Err(SpringError::Order {
            field: format!("{part}: full_stroke of {}", self.element.describe()),
            found: brief(self.reach()),
            wanted: "not less",
            other: "full stroke".to_owned(),
            than: brief(stroke),
        }
        .into())
    }
}

/// Where a chain of functions (each the derivative of the one before it) does not hold together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Disagreement {
    pub(crate) at: f64,
    /// `None`: not finite. Else which function is not the integral of the next, and by how much as a share of its greatest.
    off: Option<(usize, f64)>,
}

impl Disagreement {
    /// In words, the functions by these names.
    pub(crate) fn words(&self, names: [&str; 3]) -> String {
        let mut text = String::new();
        let [first, second, third] = names;
        // Writing to a string cannot fail.
        let _ = match self.off {
            None => write!(text, "{first}, {second} or {third} is not finite"),
            Some((which, share)) => {
                let (one, next) = if which == 0 { (first, second) } else { (second, third) };
                write!(
                    text,
                    "{one} changes by {:.2} % of its greatest value more than the integral of {next}; list the place among the \
                     kinks if {third} jumps there",
                    100.0 * share
                )
            }
        };
        text
    }
}

/// The first panel over which a function is not the integral of the next.
pub(crate) fn disagreement(at: impl Fn(f64) -> [f64; 3], kinks: &[f64], full: f64) -> Option<Disagreement> {
    let ends: Vec<f64> = core::iter::once(0.0).chain(kinks.iter().copied()).chain([full]).collect();
    let panels = ends.windows(2).flat_map(|piece| {
        let [from, to] = [piece[0], piece[1]];
        let edge = move |panel: usize| from + (to - from) * (panel as f64 / PANELS as f64);
        (0..PANELS).map(move |panel| (edge(panel), edge(panel + 1)))
    });
    let panels: Vec<_> = panels.map(|(from, to)| (from, to, at(from), at(to))).collect();
    let mut scale = [f64::MIN_POSITIVE; 2];
    for (from, _, start, end) in &panels {
        if start.iter().chain(end).any(|value| !value.is_finite()) {
            return Some(Disagreement { at: *from, off: None });
        }
        for (which, scale) in scale.iter_mut().enumerate() {
            *scale = scale.max(start[which].abs()).max(end[which].abs()).max(full * start[which + 1].abs());
        }
    }
    for (from, to, start, end) in panels {
        let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
        let inside: Vec<[f64; 3]> = NODES.iter().map(|(node, _)| at(middle + half * node)).collect();
        for (which, scale) in scale.into_iter().enumerate() {
            let weighed = inside.iter().zip(NODES).map(|(values, (_, weight))| weight * values[which + 1]);
            let share = (end[which] - start[which] - half * weighed.sum::<f64>()) / scale;
            if !share.is_finite() {
                return Some(Disagreement { at: middle, off: None });
            }
            if share.abs() > DISAGREES {
                return Some(Disagreement { at: middle, off: Some((which, share)) });
            }
        }
    }
    None
}

#[cfg(feature = "serde")]
impl serde::Serialize for OwnElement {
    fn serialize<S: serde::Serializer>(&self, _: S) -> core::result::Result<S::Ok, S::Error> {
        Err(serde::ser::Error::custom(SpringError::NoText { part: self.element.describe() }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::axial::testing::assert_slope;
    use crate::units::{Energy, Force, SpringRate};

    /// `F = c·x³` from `touches` on, with a slip in one of the three.
    #[derive(Debug, Clone, Copy)]
    struct Cubic {
        touches: f64,
        listed: bool,
        force: f64,
        energy: f64,
    }

    const GOOD: Cubic = Cubic { touches: 0.04, listed: true, force: 1.0, energy: 1.0 };
    const FACTOR: f64 = 3e6;

    impl AxialElement for Cubic {
        fn at(&self, stroke: Length) -> Result<AxialState> {
            let s = super::super::stroke_within("cubic", stroke, Some(0.1))?;
            let x = (s - self.touches).max(0.0);
            Ok(AxialState {
                force: Force::from_si(self.force * FACTOR * x.powi(3)),
                rate: SpringRate::from_si(3.0 * FACTOR * x.powi(2)),
                energy: Energy::from_si(self.energy * 0.25 * FACTOR * x.powi(4)),
            })
        }

        fn full_stroke(&self) -> Option<Length> {
            Some(Length::from_si(0.1))
        }

        fn kinks(&self) -> Vec<Length> {
            if self.listed { vec![Length::from_si(self.touches)] } else { Vec::new() }
        }

        fn describe(&self) -> String {
            "cubic".to_owned()
        }
    }

    #[test]
    fn a_sound_element_is_taken_and_goes_on_straight_beyond_its_ends() {
        let own = OwnElement::new(GOOD).unwrap();
        let end = own.eval(0.1);
        let beyond = own.eval(0.11);
        assert!((beyond.force - (end.force + 0.01 * end.rate)).abs() < 1e-9 * end.force);
        assert_eq!(own.eval(-0.01), Axial::default());
        assert_eq!(own.jumps(), [0.04]);
        assert_slope(|s| own.eval(s), [0.02, 0.06, 0.09]);
        // The softer side holds at the kink, and its slope is of one side.
        assert_eq!(own.eval(0.04).rate, 0.0);
    }

    #[test]
    fn a_slip_is_refused_with_its_place() {
        let fault = |cubic: Cubic| match OwnElement::new(cubic).unwrap_err() {
            crate::Error::Spring(SpringError::OwnElement { part, stroke, found }) => (part, stroke, found),
            other => panic!("{other}"),
        };
        let (part, stroke, found) = fault(Cubic { energy: 2.0, ..GOOD });
        assert_eq!(part, "cubic");
        // Nothing is wrong before it touches at 40 mm.
        let place: f64 = stroke.trim_end_matches(" mm").parse().unwrap();
        assert!((40.0..100.0).contains(&place), "{stroke}");
        assert!(found.starts_with("energy changes by") && found.contains("the integral of force"), "{found}");
        let (.., found) = fault(Cubic { force: -1.0, energy: -1.0, ..GOOD });
        assert!(found.starts_with("force changes by") && found.contains("the integral of rate"), "{found}");
        let (.., found) = fault(Cubic { force: f64::NAN, ..GOOD });
        assert_eq!(found, "energy, force or rate is not finite");
    }

    /// A stop of constant rate, its kink listed or not.
    #[derive(Debug)]
    struct Jump(Vec<Length>);

    impl AxialElement for Jump {
        fn at(&self, stroke: Length) -> Result<AxialState> {
            let x = (stroke.si() - 0.0413).max(0.0);
            Ok(AxialState {
                force: Force::from_si(5e4 * x),
                rate: SpringRate::from_si(if x > 0.0 { 5e4 } else { 0.0 }),
                energy: Energy::from_si(2.5e4 * x * x),
            })
        }

        fn full_stroke(&self) -> Option<Length> {
            Some(Length::from_si(0.1))
        }

        fn kinks(&self) -> Vec<Length> {
            self.0.clone()
        }

        fn describe(&self) -> String {
            "jump".to_owned()
        }
    }

    #[test]
    fn a_jump_of_the_rate_has_to_be_listed() {
        assert_eq!(OwnElement::new(Jump(vec![Length::from_si(0.0413)])).unwrap().jumps(), [0.0413]);
        let message = OwnElement::new(Jump(Vec::new())).unwrap_err().to_string();
        assert!(message.contains("list the place among the kinks if rate jumps there"), "{message}");
    }
}
