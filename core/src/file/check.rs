//! Every fault of a bike file: what cannot be read, and what the next command would fail on.
//!
//! A file that reads is looked through once more. Readings that contradict each other, an end that has readings or targets and
//! cannot be fitted, a rate on sale that no such end takes, a preload that the adjuster does not reach, front and rear in each
//! other's place: a bike is read from all of that, and whoever asks it says so again.

mod readings;
mod second_look;
mod springs;

use readings::{meant, out_of_travel, swapped};
use springs::springs;

use super::limits::within_limits;
use super::{Source, json_text, toml_text};
use crate::bike::{Bike, SagConversion};
use crate::error::{BikeError, Error, Fault, SetupError, Step, WheelError};
use crate::keys::{Faults, Node, Place, contradictions, read};
use crate::log::Log;
use crate::mass::Weighing;
use crate::record::{Direction, End, PartReading, Targets};
use crate::units::{Quantity, UnitSystem};
use crate::work;

/// Share of the rider's weight on the front wheel from which on the two scales stand under each other's wheels: sitting all the
/// way forward brings half of it there (common practice, no source).
const RIDER_AT_THE_FRONT: f64 = 0.6;

/// The faults of a bike file in TOML, in the order of the text; empty for a sound file. Of more than
/// [`MOST_FAULTS`](super::MOST_FAULTS) the last says how many more there are. What the next command would fail on is
/// a fault here: readings that contradict each other, an end that cannot be fitted. A bike is read from it all the same.
/// A misspelt key, or an end at fault, does not hide what is wrong with the rest.
#[must_use]
pub fn check(text: &str) -> Vec<Fault> {
    match within_limits(text) {
        Ok(text) => {
            let (node, syntax) = toml_text::read(text);
            faults_of(Source { text, node }, Faults::of_grammar(text, syntax))
        }
        Err(error) => error.faults,
    }
}

/// As [`check`], for a bike file in JSON.
#[must_use]
pub fn check_json(text: &str) -> Vec<Fault> {
    match within_limits(text).map(json_text::read) {
        Ok(Ok(node)) => faults_of(Source { text, node }, Faults::new()),
        Ok(Err(syntax)) => Faults::of_grammar(text, vec![syntax]).finish(Some(text)),
        Err(error) => error.faults,
    }
}

fn faults_of(source: Source<'_>, faults: Faults) -> Vec<Fault> {
    let Source { text, mut node } = source;
    let bike = match read::<Bike>(&node, &faults) {
        Ok(bike) if faults.is_empty() => Some((bike, End::BOTH.to_vec())),
        _ if !faults.is_readable() => None,
        _ => second_look::bike(&mut node, &faults),
    };
    if let Some((bike, sound)) = bike {
        look_closer(&bike, &sound, &node, &faults);
    }
    faults.finish(Some(text))
}

/// What the next command would fail on, at the ends that are sound.
fn look_closer(bike: &Bike, sound: &[End], node: &Node, faults: &Faults) {
    let root = Place::root(Some(node), faults);
    let log = match Log::new(bike) {
        Ok(log) => log,
        Err(found) => {
            contradictions(&root, found);
            return;
        }
    };
    let before = faults.count();
    springs(bike, node, &root);
    measured_parts(bike, sound, &root);
    scales(bike, &root);
    marks(bike, &root);
    if faults.count() == before && !swapped(bike, &root) {
        sets(bike, &log, sound, &root);
        ends(bike, &log, sound, &root);
    }
}

/// Readings that no machine can give, said at the first reading of their set; and sets that cannot be fitted.
fn sets(bike: &Bike, log: &Log, sound: &[End], root: &Place<'_>) {
    let rows = root.key("reading");
    work::expects(sound.iter().map(|end| log.sets(*end).len()).sum());
    for set in sound.iter().flat_map(|end| log.sets(*end)) {
        if work::round().is_err() {
            return;
        }
        if out_of_travel(bike, set, &rows) {
            continue;
        }
        match set.bike().fit_end(set.end) {
            Err(Error::Setup(SetupError::Contradiction { contradictions, .. })) => {
                for message in contradictions {
                    let wanted = "readings that agree: read again what is named";
                    rows.row(meant(bike, set, &message)).note(set.end.to_string(), wanted, None, message);
                }
            }
            Err(error) => cannot_be_fitted(set.end, &error, root),
            Ok(_) => {}
        }
    }
}

/// An end that sags are wanted of, and that was never read, has to be one that can be fitted.
fn ends(bike: &Bike, log: &Log, sound: &[End], root: &Place<'_>) {
    for end in bike.ends().into_iter().filter(|end| sound.contains(end)) {
        let wanted = *bike.parts().targets.at(end) != Targets::default();
        if !wanted || !log.sets(end).is_empty() {
            continue;
        }
        if let Err(error) = bike.fit_end(end) {
            cannot_be_fitted(end, &error, root);
        }
    }
}

/// Said at the field that the error names, as far as that is there, else at the end.
fn cannot_be_fitted(end: End, error: &Error, root: &Place<'_>) {
    // An end without a coil spring has nothing to fit, and is left out of what is asked of all.
    if matches!(error, Error::Setup(SetupError::NoSpring { .. })) {
        return;
    }
    let details = error.details();
    let message = format!("the {end} cannot be fitted: {error}");
    let (found, wanted) = (details.found.unwrap_or_else(|| end.to_string()), details.wanted);
    let wanted = wanted.unwrap_or_else(|| "what its fit needs".to_owned());
    let of_bike = matches!(error, Error::Bike(BikeError::Missing { .. }));
    match details.field.filter(|_| of_bike) {
        Some(field) => at(root, field.steps(), &|place| {
            place.note(found.clone(), wanted.clone(), None, message.clone());
        }),
        None => {
            root.key(end.name()).note(found, wanted, None, message);
        }
    }
}

/// The place at some steps from here.
fn at(place: &Place<'_>, steps: &[Step], say: &dyn Fn(&Place<'_>)) {
    match steps {
        [] => say(place),
        [Step::Key(key), rest @ ..] => at(&place.key(key), rest, say),
        [Step::Row(row), rest @ ..] => at(&place.row(*row), rest, say),
    }
}

/// Readings of a measured part further off its others than any scatter.
fn measured_parts(bike: &Bike, sound: &[End], root: &Place<'_>) {
    let misread = sound.iter().flat_map(|&end| bike.misread_parts(end));
    for (readings, misread) in misread.filter(|(_, misread)| misread.is_beyond_scatter()) {
        let [at, found, others] = misread.texts(UnitSystem::Metric);
        let message = format!("found {found} at {at}, where the other readings say {others}: read it again");
        let cell = readings.row(misread.index()).row(PartReading::COLUMN);
        self::at(root, cell.steps(), &|place| {
            place.note(found.clone(), "a reading that goes with the others", None, message.clone());
        });
    }
}

/// Front and rear scale in each other's place: no rider sits so that the front wheel takes most of them.
fn scales(bike: &Bike, root: &Place<'_>) {
    let Some(masses) = &bike.parts().masses else { return };
    for (name, weighing) in masses.named().iter().filter(|(name, _)| name == "rider") {
        let Weighing::Scales(shares) = weighing else { continue };
        let share = shares.front.si() / (shares.front + shares.rear).si();
        if share < 0.0 {
            let message = "a rider puts weight on both wheels".to_owned();
            let found = shares.front.display().to_string();
            root.key("masses").key(name).key("front").note(found, "more than zero", None, message);
        }
        if share < RIDER_AT_THE_FRONT {
            continue;
        }
        let (front, rear) = (shares.front.display(), shares.rear.display());
        let wanted = "less of the rider on the front wheel than on the rear one";
        let message =
            format!("the front wheel takes {front} of the rider and the rear {rear}: front and rear swapped?");
        let suggestion = Some(format!("front = \"{rear}\", rear = \"{front}\""));
        root.key("masses").key(name).key("front").note(front.to_string(), wanted, suggestion, message);
    }
}

/// What is read or wanted to a mark needs the place of the axle.
fn marks(bike: &Bike, root: &Place<'_>) {
    for end in bike.ends() {
        let Some(measuring) = bike.parts().measuring.at(end) else { continue };
        if !matches!(measuring.direction, Direction::ToMark { .. }) {
            continue;
        }
        if let Err(Error::Wheel(WheelError::NoAxle)) = SagConversion::of(bike, end, measuring.direction) {
            let wanted = match end {
                End::Front => "`axle` under `[front]`, or another direction",
                End::Rear => "a drawn linkage, whose points say where the axle is, or another direction",
            };
            let message = format!("`to mark` needs to know where the axle is, wanted {wanted}");
            root.key("measuring").key(end.name()).key("direction").note("to mark", wanted, None, message);
        }
    }
}
