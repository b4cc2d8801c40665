//! History in plain sentences, in the reader's units.

use crate::history::{Cause, Drift, EndHistory, Prediction, SetResult, Shift, TargetOutcome};
use crate::infer::finding::percent;
use crate::infer::one_bike::BY_CHANCE;
use crate::record::{Change, SagKind};
use crate::report::direction::along;
use crate::report::words::Words;
use crate::units::{Quantity, Uncertain, UnitSystem};

/// A change as likely as this by chance is worth another look, and no more.
const PERHAPS: f64 = 0.05;

/// Standard uncertainties outside its range within which a sag may as well be inside.
const AT_THE_EDGE: f64 = 2.0;

impl Drift {
    /// What changed, and whether it is more than noise: one sentence for the friction, one for the preload.
    #[must_use]
    pub fn sentences(&self, units: UnitSystem) -> Vec<String> {
        let friction = sentence("Friction", &self.friction, units, |grew| {
            if grew { "Look at seals, bushes and bearings" } else { "Seals and bushes have bedded in, or were cleaned" }
        });
        let preload = self.preload.as_ref().map(|preload| {
            sentence("Preload", preload, units, |grew| {
                if grew {
                    "The adjuster was turned, or is not where it is thought to be"
                } else {
                    "The spring has settled, or the adjuster has turned back"
                }
            })
        });
        core::iter::once(friction).chain(preload).collect()
    }
}

fn sentence<Q: Quantity>(
    what: &str,
    shift: &Shift<Q>,
    units: UnitSystem,
    reason: impl Fn(bool) -> &'static str,
) -> String {
    let words = Words { units };
    let (before, after) = (words.uncertain(shift.before), words.uncertain(shift.after));
    let grew = shift.change.value.si() > 0.0;
    let size = Uncertain { value: Q::from_si(shift.change.value.si().abs()), ..shift.change };
    let moved =
        format!("{what} {} from {before} to {after}, by {}", if grew { "grew" } else { "fell" }, words.uncertain(size));
    match shift.probability {
        p if p < BY_CHANCE => format!("{moved}: more than noise ({} by chance). {}.", odds(p), reason(grew)),
        p if p < PERHAPS => {
            format!("{moved}: perhaps more than noise ({} by chance). Another set of readings would show.", odds(p))
        }
        p => format!("{what}: no change beyond noise ({before}, then {after}; as much in {} by chance).", percent(p)),
    }
}

/// A small probability as odds.
fn odds(probability: f64) -> String {
    const LEAST: f64 = 1e-6;
    if probability < LEAST {
        return "less than 1 in a million".to_owned();
    }
    let one_in = 1.0 / probability;
    let step = 10f64.powf(one_in.log10().floor() - 1.0).max(1.0);
    format!("1 in {}", (one_in / step).round() * step)
}

impl Prediction {
    /// Whether the prediction held; what came otherwise, and what that means for the targets.
    #[must_use]
    pub fn sentences(&self, units: UnitSystem) -> Vec<String> {
        let words = Words { units };
        let mut reported = Vec::new();
        match (self.chi_square, self.cause) {
            (None, _) => reported.push(
                "Nothing is read since: this is what the readings before predict, to hold the next ones against."
                    .to_owned(),
            ),
            (Some(chi), None) => reported.push(format!(
                "The prediction held: over {} sags the readings lie χ² {:.1} from it, as much or more in {} by chance.",
                chi.degrees,
                chi.value,
                percent(chi.probability)
            )),
            (Some(chi), Some(cause)) => reported.push(format!(
                "The prediction did not hold: over {} sags χ² is {:.1}, {} by chance. {}",
                chi.degrees,
                chi.value,
                odds(chi.probability),
                cause.text(words)
            )),
        }
        reported.extend(self.targets.iter().filter_map(|outcome| outcome.text(words)));
        reported
    }
}

impl Cause {
    fn text(&self, words: Words) -> String {
        match self {
            Self::Rate { expected, found } => format!(
                "The spring is {} than expected: it acts as {}, expected {}. Read the label again.",
                if found.value > expected.value { "stiffer" } else { "softer" },
                words.uncertain(*found),
                words.uncertain(*expected)
            ),
            Self::Preload { expected, found } => format!(
                "There is {} preload than stated: it acts as {}, stated {}. Measure the spring in its place.",
                if found.value > expected.value { "more" } else { "less" },
                words.uncertain(*found),
                words.uncertain(*expected)
            ),
            Self::Friction { expected, found } => format!(
                "There is {} friction than before: {} at the wheel, before {}. Look at what was taken apart.",
                if found.value > expected.value { "more" } else { "less" },
                words.uncertain(*found),
                words.uncertain(*expected)
            ),
            Self::Unknown => "No single cause stands out: take the readings again, the extended one too.".to_owned(),
        }
    }
}

impl TargetOutcome {
    fn text(&self, words: Words) -> Option<String> {
        let what = match self.sag {
            SagKind::Rider => "Rider sag",
            SagKind::Free => "Free sag",
        };
        let Some(after) = self.after else {
            let predicted = words.uncertain(self.predicted?);
            return Some(format!(
                "{what}: wanted {} {}, predicted {predicted}.",
                words.range(&self.wanted),
                along(self.direction)
            ));
        };
        let before = self.before.map(|before| format!(", before {}", words.uncertain(before))).unwrap_or_default();
        let outside = (self.wanted.from - after.value).max(after.value - self.wanted.to);
        let verdict = if self.met()? {
            "landed"
        } else if outside.si() < AT_THE_EDGE * after.standard_uncertainty.si() {
            "is at the edge"
        } else {
            "did not land"
        };
        let predicted = self.predicted.map(|sag| format!(", predicted {}", words.uncertain(sag))).unwrap_or_default();
        Some(format!(
            "{what} {verdict}: wanted {} {}, came {}{predicted}{before}.",
            words.range(&self.wanted),
            along(self.direction),
            words.uncertain(after)
        ))
    }
}

impl Change {
    /// What was done, in one line: the note, or the keys with what stood there before.
    #[must_use]
    pub fn text(&self) -> String {
        let was = self.was.iter().map(|(path, value)| format!("`{path}` was {value}"));
        let added = self.added.iter().map(|path| format!("`{path}` is new"));
        let keys = was.chain(added).collect::<Vec<_>>().join(", ");
        match &self.note {
            Some(note) if keys.is_empty() => format!("{}: {note}", self.date),
            Some(note) => format!("{}: {note} ({keys})", self.date),
            None => format!("{}: {keys}", self.date),
        }
    }
}

impl EndHistory {
    /// Which readings everything else said of the end is from.
    #[must_use]
    pub fn basis(&self) -> String {
        let readings = |set: &SetResult| match set.date {
            Some(_) => format!("From the readings of {}", self.day(set)),
            None => "From readings without a date".to_owned(),
        };
        match (self.sets.split_last(), self.changes.last()) {
            (Some((last, earlier)), _) if last.changes == self.changes.len() => match earlier.len() {
                0 => format!("{}.", readings(last)),
                1 => format!("{}; one earlier set stands in the history.", readings(last)),
                count => format!("{}; {count} earlier sets stand in the history.", readings(last)),
            },
            (Some((last, _)), Some(change)) => {
                let since = if change.is_supposed() {
                    "This change was not made".to_owned()
                } else {
                    format!("Nothing is read since the change of {}", change.date)
                };
                let read = match last.date {
                    Some(_) => format!("the readings of {}", self.day(last)),
                    None => "readings without a date".to_owned(),
                };
                format!("{since}: what {read} found is carried over, as far as the change leaves it alone.")
            }
            _ => "No readings.".to_owned(),
        }
    }

    /// The day of a set, with its time where another set is of the same day.
    pub(crate) fn day<'a>(&self, set: &'a SetResult) -> &'a str {
        let of = |set: &'a SetResult| set.date.as_deref().and_then(|date| Some((date, date.get(..10)?)));
        let Some((date, day)) = of(set) else { return "no date" };
        let same_day = self.sets.iter().filter(|other| other.date.as_deref().is_some_and(|date| date.starts_with(day)));
        if same_day.count() > 1 { date } else { day }
    }

    /// Is there more to show than one set of readings?
    #[must_use]
    pub fn is_shown(&self) -> bool {
        self.sets.len() > 1 || !self.changes.is_empty()
    }
}
