//! On what an answer hangs that the readings cannot decide, as data and as a sentence.

use crate::infer::faults::Fault;
use crate::infer::finding::{Finding, Suspect, chance, percent};
use crate::infer::one_bike::BY_CHANCE;
use crate::infer::residual::{load_of, settled};
use crate::infer::solved::Solved;
use crate::record::{Load, Settled};
use crate::units::{Quantity, Share};

/// A chance of a label that means little from which on an answer hangs on it.
const DOUBTFUL_LABEL: f64 = 0.5;

/// Something that has to be so for the numbers to hold; whatever is decided on them is decided on this condition.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(tag = "condition", rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Condition {
    /// Every sag counts from one extended reading, which nothing checks.
    LoneExtended,
    /// Readings that are grossly off, and hardly count any more; the rest has to be right.
    GrossError {
        /// Places among all readings of the bike, from 0.
        readings: Vec<usize>,
        /// Under what.
        load: Load,
        /// From which side.
        settled: Option<Settled>,
        /// How many other readings the end has.
        others: usize,
        /// How likely it is that they are.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        probability: Share,
    },
    /// The springs are not what their label says.
    Label {
        /// How likely it is that they are not.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        probability: Share,
    },
    /// The file and the readings do not belong to one bike: no number here is worth acting on before that is found.
    NotOneBike {
        /// What may be wrong, the likeliest first.
        suspects: Vec<Suspect>,
    },
    /// Readings and labels agree worse than chance allows; every interval is this much wider for it.
    Scatter {
        /// Factor on every standard uncertainty.
        widened: f64,
        /// Probability of as much disagreement or more by chance.
        probability: f64,
    },
}

impl Condition {
    /// What has to be so, as the clause a verdict starts with; `None` where no verdict is worth giving.
    #[must_use]
    pub fn clause(&self) -> Option<String> {
        Some(match self {
            Self::LoneExtended => "if the extended reading is right".to_owned(),
            Self::GrossError { readings, others, .. } => {
                let numbers: Vec<String> = readings.iter().map(|reading| (reading + 1).to_string()).collect();
                let (s, are) = if numbers.len() == 1 { ("", "is") } else { ("s", "are") };
                let right = if *others == 0 { "label and weights" } else { "the others" };
                format!("if reading{s} {} {are} off and {right} right", numbers.join(", "))
            }
            Self::Label { .. } => "if the springs are not what their label says".to_owned(),
            Self::Scatter { .. } => "as far as readings that disagree can show".to_owned(),
            Self::NotOneBike { .. } => return None,
        })
    }

    /// Is the same said by a finding?
    pub(crate) fn is_a_finding(&self, findings: &[Finding]) -> bool {
        findings.iter().any(|finding| match finding {
            Finding::NotOneBike { .. } => matches!(self, Self::NotOneBike { .. }),
            Finding::Misread { reading, .. } => {
                matches!(self, Self::GrossError { readings, .. } if readings[..] == [*reading])
            }
            _ => false,
        })
    }

    /// The condition as a sentence.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Self::LoneExtended => "Only one extended reading: an error of a centimetre in it would move every sag by as much, \
                                   and nothing else would show it. Lift the wheel and read it a second time, from scratch."
                .to_owned(),
            Self::GrossError { readings, load, settled, others, probability } => {
                let numbers: Vec<String> = readings.iter().map(|reading| (reading + 1).to_string()).collect();
                let (s, are) = if numbers.len() == 1 { ("", "is") } else { ("s", "are") };
                let side = match settled {
                    Some(Settled::Low) => ", settled low",
                    Some(Settled::High) => ", settled high",
                    Some(Settled::Middle) => ", the mean of both sides",
                    None => "",
                };
                let right = if *others == 0 { "label and weights" } else { "the others" };
                format!(
                    "Reading{s} {} (`{load}`{side}) {are} grossly off ({} likely) and hardly counted: everything here rests on \
                     {right} being right.",
                    numbers.join(", "),
                    chance(probability.si())
                )
            }
            Self::Label { probability } => format!(
                "The springs do not act as their label says ({} likely): everything here rests on the readings and the scales.",
                chance(probability.si())
            ),
            Self::NotOneBike { suspects } => format!(
                "The file and the readings do not belong to one bike: no number here is worth acting on before it is found why. \
                 Look first at {}.",
                suspects.first().map_or("the file", |suspect| suspect.name())
            ),
            Self::Scatter { widened, probability } => format!(
                "Readings and labels agree worse than chance allows ({}): every interval is {widened:.1} times as wide for it.",
                percent(*probability)
            ),
        }
    }
}

pub(crate) fn conditions(solved: &Solved, findings: &[Finding]) -> Vec<Condition> {
    let observations = &solved.evidence.observations;
    if solved.evidence.doubts.gross.is_none() || observations.is_empty() {
        return Vec::new();
    }
    let wrong = findings.iter().find_map(|finding| match finding {
        Finding::NotOneBike { suspects, .. } => Some(Condition::NotOneBike { suspects: suspects.clone() }),
        _ => None,
    });
    if let Some(wrong) = wrong {
        return vec![wrong];
    }
    let mut found = Vec::new();
    for &(fault, chance) in &solved.faults.found {
        let is_meant = |at: usize, place: usize| match fault {
            Fault::Reading(reading) => reading == at,
            Fault::Place(wrong) => wrong == place,
            Fault::Label => false,
        };
        let of = solved.posterior.predictions.readings.iter().enumerate();
        let meant: Vec<usize> = of.filter_map(|(at, &(place, _))| is_meant(at, place).then_some(at)).collect();
        let Some(first) = meant.first().and_then(|&at| observations.get(at)) else { continue };
        found.push(Condition::GrossError {
            load: load_of(solved, first),
            settled: settled(first),
            others: observations.len() - meant.len(),
            readings: meant.iter().filter_map(|&at| solved.gathered.places.get(at).copied()).collect(),
            probability: Share::from_si(chance),
        });
    }
    if solved.is_lone_extended() {
        found.push(Condition::LoneExtended);
    }
    if solved.faults.label > DOUBTFUL_LABEL {
        found.push(Condition::Label { probability: Share::from_si(solved.faults.label) });
    }
    if solved.faults.agreement < BY_CHANCE {
        found.push(Condition::Scatter { widened: solved.faults.widened, probability: solved.faults.agreement });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn off(readings: &[usize], settled: Option<Settled>, others: usize) -> Condition {
        let (load, probability) = (Load::bike_alone(), Share::from_si(0.97));
        Condition::GrossError { readings: readings.to_vec(), load, settled, others, probability }
    }

    #[test]
    fn readings_that_are_off_are_counted_from_one_and_spoken_of_in_their_number() {
        let one = off(&[4], Some(Settled::Low), 6);
        assert_eq!(one.clause().unwrap(), "if reading 5 is off and the others right");
        assert_eq!(
            one.text(),
            "Reading 5 (`bike`, settled low) is grossly off (97 % likely) and hardly counted: everything here rests on the \
             others being right."
        );
        let several = off(&[0, 3], Some(Settled::High), 1);
        assert_eq!(several.clause().unwrap(), "if readings 1, 4 are off and the others right");
        assert_eq!(
            several.text(),
            "Readings 1, 4 (`bike`, settled high) are grossly off (97 % likely) and hardly counted: everything here rests on \
             the others being right."
        );
    }

    #[test]
    fn where_no_reading_is_left_label_and_weights_are_what_has_to_be_right() {
        let alone = off(&[2], None, 0);
        assert_eq!(alone.clause().unwrap(), "if reading 3 is off and label and weights right");
        let text = alone.text();
        assert!(
            text.starts_with("Reading 3 (`bike`) is") && text.ends_with("on label and weights being right."),
            "{text}"
        );
        let middle = off(&[2], Some(Settled::Middle), 3).text();
        assert!(middle.starts_with("Reading 3 (`bike`, the mean of both sides) is"), "{middle}");
    }

    #[test]
    fn a_file_of_another_bike_has_no_clause_and_one_thing_to_look_at_first() {
        let wrong = |suspects: &[Suspect]| Condition::NotOneBike { suspects: suspects.to_vec() };
        assert_eq!(wrong(&[Suspect::Scales]).clause(), None);
        let text = wrong(&[Suspect::Preload, Suspect::Scales]).text();
        assert!(text.ends_with("Look first at the preload."), "{text}");
        assert!(wrong(&[]).text().ends_with("Look first at the file."));
    }
}
