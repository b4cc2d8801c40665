//! A plan in sentences, in the reader's units.

use crate::decide::lacks::Lack;
use crate::decide::next_reading::{NextReading, Task};
use crate::decide::plan::{Plan, Worth};
use crate::infer::finding::{chance, percent};
use crate::units::{Length, Mass, Quantity, SpringRate, Time, UnitSystem, show};

/// Whole minutes to five, as nobody plans an evening closer.
pub(crate) fn about(time: Time) -> String {
    let minutes = (time.si() / 300.0).round().max(1.0) * 5.0;
    if minutes < 90.0 { format!("about {minutes:.0} min") } else { format!("about {:.1} h", minutes / 60.0) }
}

/// Standard uncertainties of a rate, now and then, to a digit more than a label has; `None` where they read the same.
fn from_to([now, then]: [SpringRate; 2], units: UnitSystem) -> Option<String> {
    let symbol = units.symbol(SpringRate::KIND);
    let number = |rate: SpringRate| show(rate, symbol, units.rate_decimals());
    let [now, then] = [number(now), number(then)];
    (now != then).then(|| format!("± {then} in place of ± {now}"))
}

impl Task {
    /// What to do, with which tool, and what to write down.
    #[must_use]
    pub fn text(&self, units: UnitSystem) -> String {
        let pairs = |pairs: usize, more: &str| match pairs {
            1 => format!("one{more} reading after pushing down and one after lifting"),
            many => format!("{many}{more} readings after pushing down and {many} after lifting, by turns"),
        };
        match self {
            Self::Pairs { load, pairs: count } => {
                format!("Under `{load}`: {}. Take the tape; note load, side and distance", pairs(*count, ""))
            }
            Self::Ballast { load, mass, pairs: count } => {
                let mass = show(*mass, units.symbol(Mass::KIND), 0);
                format!(
                    "Under `{load}` with ballast tied to the seat that adds {mass} at this wheel's scale: {}. Take scale, straps \
                     and tape; note what the ballast adds on both scales",
                    pairs(*count, "")
                )
            }
            Self::Extended { readings: 1 } => {
                "Wheel off the ground: a second reading, from scratch. Take stand and tape; note the distance".to_owned()
            }
            Self::Extended { readings } => {
                format!("Wheel off the ground: {readings} more readings. Take stand and tape; note each distance")
            }
            Self::Scale { load } => format!(
                "This wheel on a scale under `{load}`, bike level. Where it was weighed before: on another scale, and the mean of \
                 both in the file"
            ),
            Self::Weigh => {
                "Every load on the scales again, both wheels. Put the mean of both weighings in the file".to_owned()
            }
            Self::ShockTable { steps } => format!(
                "Spring off, shock back in without it: lift the wheel in {steps} even steps from full extension to full \
                 compression. Take tape and jack; note the wheel's travel and the shock's length from eye to eye at each, and write \
                 them as `[rear.measured]` beside the drawing"
            ),
            Self::SpringRate => format!(
                "Spring out: press it on a bathroom scale under a jack, from {} to {} or as far as the scale goes. Caliper; note \
                 length and load twice, and put the rate in place of the label with its tolerance under `[prior]`",
                show(Length::from_si(5e-3), units.symbol(Length::KIND), 1),
                show(Length::from_si(30e-3), units.symbol(Length::KIND), 1),
            ),
            Self::SpringLength => "Before the spring comes out, its length in place with the wheel off the ground; then its free \
                                   length. Caliper; the difference is the preload, to be stated with its uncertainty under \
                                   `[prior]`"
                .to_owned(),
            Self::CapOff => "Fork extended, a cap off: how far the parts of the spring stand above the tube, and how far the cap \
                             reaches in. Caliper; both together are the preload, to be stated"
                .to_owned(),
            Self::Direction => "Look along what the front was read, along the fork or plumb, and state it under \
                                `[measuring.front]`"
                .to_owned(),
            Self::Rake => "Bike level: the angle of the fork from the vertical. Protractor or telephone; state it as `rake`".to_owned(),
            Self::Gas => "The gas beside the spring: the oil level of a fork, spring out and fully compressed; the charge of a \
                          shock and the diameter of its rod. State it under `air` or `reservoir`"
                .to_owned(),
            Self::Unsprung => "Wheel, brake and axle off and on a scale, with the lower part of the fork or half the swingarm. \
                               State it under `unsprung`"
                .to_owned(),
            Self::Repeat { reading, load } => format!("Take reading {} (`{load}`) again", reading + 1),
            Self::RepeatPart { readings, reading } => {
                format!("Look up reading {} of `{readings}` in your notes; if it stands there as it is, take it again", reading + 1)
            }
        }
    }
}

impl Lack {
    /// Which reading there is none of, and what it would say.
    #[must_use]
    pub fn text(&self, units: UnitSystem) -> String {
        let known = |[now, then]: [Length; 2]| {
            let [now, then] = [now, then].map(|one| show(one, units.symbol(Length::KIND), units.length_decimals()));
            (then != now).then(|| format!("± {then} in place of ± {now}"))
        };
        let sag = known(self.sag).map(|sag| format!(" with {sag}")).unwrap_or_default();
        let preload =
            known(self.preload).map(|preload| format!(", and today's preload with {preload}")).unwrap_or_default();
        format!(
            "Nothing is read under `{}` yet: the sag there comes from labels and weights. One reading after pushing down and one \
             after lifting would give it{sag}{preload} ({}).",
            self.load,
            about(self.task.effort())
        )
    }
}

impl NextReading {
    /// What to do and what it brings.
    #[must_use]
    pub fn text(&self, units: UnitSystem) -> String {
        let task = self.task.text(units);
        if let Task::Repeat { .. } | Task::RepeatPart { .. } = self.task {
            return format!("{task}.");
        }
        let rate = self.wanted_rate.and_then(|both| from_to(both, units));
        let rate = rate.map(|both| format!("; the rate called for {both}"));
        format!(
            "{task}. That would leave {} of the uncertainty of this advice{} ({}).",
            percent(self.remaining.si()),
            rate.unwrap_or_default(),
            about(self.effort)
        )
    }
}

impl Plan {
    /// The plan in sentences: what it is worth, then its steps.
    #[must_use]
    pub fn text(&self, units: UnitSystem) -> Vec<String> {
        let [now, then] = [self.now, self.then].map(|foresight| chance(foresight.lands.si()));
        let head = match self.worth {
            Worth::RepeatFirst => {
                "A reading does not agree with the others: take it again before planning anything.".to_owned()
            }
            Worth::Clear if self.now == self.then => {
                "Nothing more needs measuring for this decision: no reading here is worth its evening.".to_owned()
            }
            Worth::Clear if now == then => format!(
                "Nothing more needs measuring for this decision: with everything worth reading here the best action would be \
                 another one in {} of all cases, and the chance of landing would stay at {now} on average. That is not worth an evening.",
                chance(self.then.changes.si())
            ),
            Worth::Clear => format!(
                "Nothing more needs measuring for this decision: with everything worth reading here the best action would be \
                 another one in {} of all cases, and land the sags wanted with {then} in place of {now} on average, which is not \
                 worth an evening.",
                chance(self.then.changes.si())
            ),
            Worth::WillNotSettle => format!(
                "More readings are unlikely to settle this: chance that the best that can be done lands the sags wanted, {now} as \
                 it is, {then} with everything read that is worth reading. More springs to choose from or wider targets would."
            ),
            Worth::Check => {
                "Every sag counts from one extended reading, which no other checks: read it a second time, from \
                             scratch, before anything is turned or bought."
                    .to_owned()
            }
            Worth::Measure => format!(
                "{}, alone: chance that what is then done lands the sags wanted, {then} in place of {now}; chance that it is \
                 something else than what is best now, {}.",
                capital(&about(self.effort)),
                chance(self.then.changes.si())
            ),
        };
        // What nothing else checks is not asked for by what it narrows.
        let text = |step: &NextReading| match self.worth {
            Worth::Check => format!("{} ({}).", step.task.text(units), about(step.effort)),
            _ => step.text(units),
        };
        let step = |(place, step): (usize, &NextReading)| format!("{}. {}", place + 1, text(step));
        core::iter::once(head).chain(self.steps.iter().enumerate().map(step)).collect()
    }
}

pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
