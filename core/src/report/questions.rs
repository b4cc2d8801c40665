//! What is asked of a person who starts a file, in order of worth; and what is said again when a key is changed.

use crate::error::UnitError;
use crate::units::{Kind, heard, kind};

/// What a key holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Holds {
    /// A quantity, of this unit where none is said.
    Quantity(&'static Kind, &'static str),
    /// Any words.
    Words,
}

/// One question.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Question {
    /// The key of the file that the answer goes under.
    pub key: &'static str,
    /// Its short name, for a command line.
    pub name: &'static str,
    /// What the key holds.
    pub holds: Holds,
    /// What is asked.
    pub ask: &'static str,
    /// Where the answer is found, and what it is worth.
    pub help: &'static str,
}

impl Question {
    /// The value that an answer means, as the file takes it.
    ///
    /// # Errors
    /// [`UnitError`] for what is no such quantity.
    pub fn hear(&self, answer: &str) -> Result<String, UnitError> {
        match self.holds {
            Holds::Quantity(kind, usual) => heard(kind, answer, usual),
            Holds::Words => Ok(answer.trim().to_owned()),
        }
    }
}

const fn quantity(
    key: &'static str,
    name: &'static str,
    holds: (&'static Kind, &'static str),
    ask: &'static str,
    help: &'static str,
) -> Question {
    Question { key, name, holds: Holds::Quantity(holds.0, holds.1), ask, help }
}

const fn words(key: &'static str, name: &'static str, ask: &'static str, help: &'static str) -> Question {
    Question { key, name, holds: Holds::Words, ask, help }
}

/// The questions, those that an answer hangs on most first.
pub const QUESTIONS: &[Question] = &[
    quantity(
        "masses.bike",
        "bike",
        (&kind::MASS, "kg"),
        "Weight of the bike, ready to ride",
        "From the data sheet, or two bathroom scales: fuel in. Without weights nothing can be said of a spring.",
    ),
    quantity(
        "masses.rider",
        "rider",
        (&kind::MASS, "kg"),
        "Weight of the rider in all the gear",
        "On bathroom scales: boots, helmet, pack and drink.",
    ),
    quantity(
        "rear.travel",
        "rear-travel",
        (&kind::LENGTH, "mm"),
        "Travel of the rear wheel",
        "From the data sheet. Over the stroke of the shock it gives the leverage.",
    ),
    quantity(
        "rear.shock.stroke",
        "shock-stroke",
        (&kind::LENGTH, "mm"),
        "Stroke of the rear shock",
        "From the data sheet: how far the shaft goes in. Not its length.",
    ),
    quantity(
        "rear.shock.spring.rate",
        "rear-spring",
        (&kind::SPRING_RATE, "N/mm"),
        "Rate of the rear spring",
        "As marked on it: 5.6 kg, 56 N/mm, 300 lb.",
    ),
    quantity(
        "front.fork.travel",
        "fork-travel",
        (&kind::LENGTH, "mm"),
        "Travel of the fork",
        "From the data sheet, along the fork.",
    ),
    quantity(
        "front.fork.spring.rate",
        "fork-spring",
        (&kind::SPRING_RATE, "N/mm"),
        "Rate of one fork spring",
        "As marked on it, or from the data sheet. In each leg: the legs are counted for you.",
    ),
    words(
        "bike.kind",
        "kind",
        "Kind of bike: motocross, trail, road, track or any",
        "Gives the sags to aim at that are common for it, and what is usual of what you leave out.",
    ),
    quantity(
        "rear.shock.spring.preload",
        "rear-preload",
        (&kind::LENGTH, "mm"),
        "Preload of the rear spring",
        "Its free length less the length it has now, wheel off the ground. Readings find it too, less surely.",
    ),
    quantity(
        "rear.shock.spring.thread_pitch",
        "collar-pitch",
        (&kind::LENGTH, "mm"),
        "Thread pitch of the rear collar",
        "Ten threads measured, divided by ten. With it, settings are said in turns.",
    ),
    quantity(
        "front.fork.spring.preload",
        "fork-preload",
        (&kind::LENGTH, "mm"),
        "Preload of the fork springs",
        "How far each is compressed with the wheel off the ground. Hard to know of a bike bought used: skip it then.",
    ),
    quantity(
        "front.fork.rake",
        "rake",
        (&kind::ANGLE, "deg"),
        "Rake: angle of the fork from the vertical",
        "From the data sheet: about 26 deg on most trail bikes. 64 would be measured from the ground.",
    ),
    words("bike.name", "name", "What shall the bike be called", "It stands on the sheet."),
];

#[cfg(test)]
mod tests {
    use super::*;
    #[cfg(feature = "serde")]
    use crate::file::start::Template;

    #[test]
    fn about_a_dozen_questions_each_asked_once() {
        assert!((10..=14).contains(&QUESTIONS.len()));
        for (at, question) in QUESTIONS.iter().enumerate() {
            assert!(QUESTIONS[at + 1..].iter().all(|other| other.key != question.key && other.name != question.name));
            assert!(question.ask.chars().count() < 60 && question.help.chars().count() < 120);
        }
    }

    #[test]
    fn a_number_is_heard_in_the_usual_unit_and_words_as_they_stand() {
        let weight = quantity("masses.bike", "bike", (&kind::MASS, "kg"), "Weight", "");
        assert_eq!(weight.hear("105"), weight.hear("105 kg"));
        assert_eq!(weight.hear(" 231 lb "), weight.hear("231 lb"));
        assert!(weight.hear("105 mm").is_err() && weight.hear("heavy").is_err());
        assert_eq!(words("bike.name", "name", "Name", "").hear(" 105 "), Ok("105".to_owned()));
    }

    #[test]
    #[cfg(feature = "serde")]
    fn every_question_has_its_blank_in_the_least_file() {
        let text = Template::Little.text();
        for question in QUESTIONS {
            let answer = match question.holds {
                Holds::Quantity(_, unit) => question.hear(&format!("7 {unit}")).unwrap(),
                Holds::Words => "trail".to_owned(),
            };
            let filled = crate::file::amend::set_keys(&text, &[(question.key, &answer)]).unwrap();
            assert_eq!(filled.lines().count(), text.lines().count(), "{}: a line was added", question.key);
        }
    }
}
