//! The tables and lines of an end: springs, consequences, doubts, fit, sags.

use crate::Result;
use crate::bike::{Bike, SagConversion};
use crate::decide::{Act, Decision, Doubt, SpringChoice, Way};
use crate::infer::finding::{chance, percent};
use crate::infer::fit::Fit;
use crate::record::Direction;
use crate::report::advice::act_phrase;
use crate::report::entry::{Line, SheetEntry, SheetTable};
use crate::report::words::{Words, quarters};
use crate::units::{Length, Quantity, Share, Uncertain, UnitSystem};

pub(super) fn springs(advice: &Decision, units: UnitSystem) -> SheetTable {
    let likely = |share: Share| SheetEntry::number(share.si(), chance(share.si()));
    let rows = advice.choices.iter().map(|choice| {
        let outcome = choice.outcome;
        let no_turns = if outcome.is_some() { "pitch not stated" } else { "" };
        [
            rate_entry(choice, units),
            likely(choice.turned),
            likely(choice.re_read),
            SheetEntry::or(outcome, "", |outcome| SheetEntry::uncertain(outcome.preload, units)),
            SheetEntry::or(outcome.and_then(|outcome| outcome.turns), no_turns, |turns| SheetEntry {
                text: if turns.from_touching {
                    format!("{} turns from touching", quarters(turns.value))
                } else if quarters(turns.value) == 0.0 {
                    "as today".to_owned()
                } else {
                    format!("{:+} turns from today", quarters(turns.value))
                },
                value: Some(turns.value),
                standard_uncertainty: Some(turns.standard_uncertainty),
                unit: Some("turns".to_owned()),
            }),
            SheetEntry::or(outcome, "", |outcome| SheetEntry::uncertain(outcome.rider_sag, units)),
            SheetEntry::or(outcome, "", |outcome| SheetEntry::sag(outcome.free_sag, units)),
            SheetEntry::words(remark(choice, units)),
        ]
    });
    // What decides stands first: a narrow screen shows no more.
    let land = land(advice);
    let (turned, read) = (format!("{land}, turned"), format!("{land}, read again"));
    let columns = ["spring", &turned, &read, "preload", "collar", "rider sag", "free sag", ""];
    SheetTable::new(columns, rows.collect())
}

/// Head of a chance: of both sags, or of the rider sag where that alone is wanted.
fn land(advice: &Decision) -> &'static str {
    if advice.free_sag.is_some() { "both land" } else { "it lands" }
}

/// By which way it is best set where that is not the simple one, and what keeps it from more.
fn remark(choice: &SpringChoice, units: UnitSystem) -> String {
    let limits = choice.remark(units);
    let way = (choice.way == Way::ReRead && choice.re_read > choice.turned).then(|| "best read again".to_owned());
    way.into_iter().chain((!limits.is_empty()).then_some(limits)).collect::<Vec<_>>().join(", ")
}

pub(super) fn consequences(advice: &Decision, units: UnitSystem) -> SheetTable {
    let why = "no such setting";
    // What hangs on air that nobody stated is not said.
    let airless =
        advice.on_fork && advice.assumptions.iter().any(|assumed| assumed.kind == crate::decide::AssumptionKind::Gas);
    let full = |entry: SheetEntry| if airless { SheetEntry::words("needs the oil level") } else { entry };
    let rows = advice.choices.iter().map(|choice| {
        let outcome = choice.outcome;
        [
            rate_entry(choice, units),
            SheetEntry::or(outcome, why, |outcome| SheetEntry::uncertain(outcome.wheel_rate, units)),
            SheetEntry::or(outcome, why, |outcome| SheetEntry::uncertain(outcome.ride_frequency, units)),
            full(SheetEntry::or(outcome, why, |outcome| SheetEntry::uncertain(outcome.full_force, units))),
            full(SheetEntry::or(outcome, why, |outcome| SheetEntry::uncertain(outcome.energy_left, units))),
            full(SheetEntry::or(outcome, why, |outcome| SheetEntry::uncertain(outcome.drop_height, units))),
            SheetEntry::number(choice.damping_factor, format!("× {:.2}", choice.damping_factor)),
            SheetEntry::or(outcome, why, |outcome| bind(outcome.bind_clearance, outcome.compression_needed, units)),
        ]
    });
    let columns =
        ["spring", "wheel rate", "frequency", "full travel", "energy left", "as a drop", "damping", "before solid"];
    SheetTable::new(columns, rows.collect())
}

/// What would be best if something stated were wrong.
pub(super) fn doubts(doubts: &[Doubt], advice: &Decision, units: UnitSystem) -> SheetTable {
    let words = Words { units };
    let rows = doubts.iter().map(|doubt| {
        let Some(action) = doubt.action else {
            let then = "no answer: the readings cannot be solved with it";
            return [
                SheetEntry::words(doubt.text(units)),
                SheetEntry::words(then),
                SheetEntry::words(""),
                SheetEntry::words(""),
            ];
        };
        let lands = action.probability.si();
        let then = match action.act {
            Act::Turn { by } => words.change(by, doubt.turns),
            act => act_phrase(advice, act, words),
        };
        [
            SheetEntry::words(doubt.text(units)),
            SheetEntry::words(then),
            SheetEntry::number(lands, chance(lands)),
            SheetEntry::words(if doubt.same { "" } else { "another verdict" }),
        ]
    });
    SheetTable::new(["if", "then best", land(advice), ""], rows.collect())
}

fn bind(clearance: Option<Length>, needed: Length, units: UnitSystem) -> SheetEntry {
    match clearance {
        Some(clearance) => SheetEntry::stated(clearance, units, units.length_decimals()),
        None => {
            let needed = SheetEntry::stated(needed, units, units.length_decimals()).text;
            SheetEntry::words(format!("must take {needed}"))
        }
    }
}

fn rate_entry(choice: &SpringChoice, units: UnitSystem) -> SheetEntry {
    let mut entry = SheetEntry::stated(choice.rate, units, units.rate_decimals());
    entry.text = Words { units }.rates(&choice.each);
    if choice.is_fitted {
        entry.text.push_str(" now");
    }
    entry
}

pub(super) fn fit_lines(fit: &Fit, units: UnitSystem) -> Vec<Line> {
    let mut lines = Vec::new();
    for (k, rate) in fit.springs.iter().enumerate() {
        let which = if fit.springs.len() > 1 { format!("spring {}", k + 1) } else { "spring rate".to_owned() };
        lines.push(Line::new(which, SheetEntry::uncertain(*rate, units)));
    }
    lines.push(Line::new("preload", SheetEntry::uncertain(fit.preload, units)));
    lines.push(Line::new("friction at the wheel, either way", SheetEntry::uncertain(fit.friction, units)));
    lines.push(Line::new(
        "distance at full extension",
        SheetEntry::or(
            fit.extended,
            if fit.readings.is_empty() { "no reading" } else { "sag itself was read" },
            |extended| SheetEntry::uncertain(extended, units),
        ),
    ));
    let correlation = fit.correlation[0][1];
    lines.push(Line::new(
        "correlation of rate and preload",
        SheetEntry::number(correlation, format!("{correlation:+.2}")),
    ));
    for (name, share) in [("rate", fit.from_readings.rate), ("preload", fit.from_readings.preload)] {
        let share = SheetEntry::number(share.si(), percent(share.si()));
        lines.push(Line::new(format!("{name}: decided by the readings, not by the label"), share));
    }
    let chi = fit.chi_square;
    let agreement = match chi.degrees {
        0 => "no reading to spare: none can be held against the others".to_owned(),
        degrees => format!("χ² {:.1} of {degrees} expected, {} by chance", chi.value, chance(chi.probability)),
    };
    lines.push(Line::new("agreement of all readings", SheetEntry::number(chi.value, agreement)));
    lines
}

/// Head of the sags whose settling nobody noted.
const UNNOTED: &str = "not noted";

/// Sags along the direction in which the end is read; what is vertical beside it, where that is another.
pub(super) fn sags(bike: &Bike, fit: &Fit, units: UnitSystem) -> Result<SheetTable> {
    let direction = bike.measuring_or_vertical(fit.end).direction;
    let conversion = SagConversion::of(bike, fit.end, direction)?;
    let read_along = |sag: Uncertain<Length>| {
        let (value, slope) = conversion.sag_and_slope(sag.value.si());
        Uncertain { value: Length::from_si(value), standard_uncertainty: sag.standard_uncertainty * slope.abs() }
    };
    let is_other = direction != Direction::Vertical;
    let rows = fit.rows.iter().filter(|row| row.counts.iter().sum::<usize>() > 0).map(|row| {
        let sag = |side| SheetEntry::or(side, "not read", |sag| SheetEntry::uncertain(sag, units));
        let fitted = fit.loads.iter().find(|load| load.load == row.load);
        let mut entries = vec![
            SheetEntry::words(row.load.to_string()),
            sag(row.low),
            sag(row.high),
            sag(row.unnoted),
            sag(row.band),
            SheetEntry::or(fitted, "", |load| SheetEntry::uncertain(read_along(load.sag), units)),
        ];
        if is_other {
            entries.push(SheetEntry::or(fitted, "", |load| SheetEntry::uncertain(load.sag, units)));
        }
        entries
    });
    let mut rows: Vec<Vec<SheetEntry>> = rows.collect();
    let mut columns = vec!["load", "pushed down", "lifted", UNNOTED, "friction band", "fitted"];
    columns.extend(is_other.then_some("fitted, vertical"));
    // Whoever notes the settling of all readings has no such column.
    if let Some(at) = columns.iter().position(|head| *head == UNNOTED)
        && fit.rows.iter().all(|row| row.unnoted.is_none())
    {
        columns.remove(at);
        rows.iter_mut().for_each(|row| drop(row.remove(at)));
    }
    Ok(SheetTable { columns: columns.into_iter().map(str::to_owned).collect(), rows })
}
