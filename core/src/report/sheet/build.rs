//! From a bike to its sheet.

use crate::Result;
use crate::bike::{Bike, SagConversion};
use crate::decide::{Act, Decision, Doubt, SpringChoice};
use crate::error::{Error, SetupError};
use crate::fork::ForkLeg;
use crate::gas::{AirSpring, Exponents, ForkAir};
use crate::infer::Study;
use crate::infer::finding::{Finding, Severity, chance, percent};
use crate::infer::fit::Fit;
use crate::record::{Direction, End, Settled};
use crate::report::advice::act_phrase;
use crate::report::advice::{Words, quarters};
use crate::report::assumptions;
use crate::report::direction::along;
use crate::report::sheet::{
    Entry, Glance, Line, Sheet, SheetEnd, SheetFinding, Table, cautions, curves, form, geometry, practice, scenarios,
};
use crate::units::{Length, Quantity, Share, Uncertain, UnitSystem};

impl Bike {
    /// The setup sheet of the bike, in these units.
    ///
    /// # Errors
    /// As [`study`](Self::study), where no end has an answer: readings that contradict each other, no masses. An end that is
    /// refused, that has no spring or no target, is named on the sheet beside one that is answered.
    pub fn sheet(&self, units: UnitSystem) -> Result<Sheet> {
        let mut sheet = Sheet {
            bike: self.parts().name.clone(),
            units,
            ends: Vec::new(),
            geometry: geometry::geometry(self, units),
            without: Vec::new(),
            notes: notes(),
            cautions: cautions(),
            caution: cautions::IN_SHORT.to_owned(),
        };
        let mut refused = None;
        for end in End::BOTH {
            if self.end(end).is_err() {
                sheet.without.push(format!("{end}: not in the bike file."));
                continue;
            }
            // One bad end never hides the other.
            match self.study(end).and_then(|study| self.of_end(&study, units)) {
                Ok(part) => sheet.ends.push(part),
                Err(error) => {
                    let wants_spring = matches!(error, Error::Setup(SetupError::NoSpring { .. }));
                    sheet.without.push(error.to_string());
                    if !wants_spring {
                        refused.get_or_insert(error);
                    }
                }
            }
        }
        match refused {
            Some(error) if sheet.ends.is_empty() => Err(error),
            _ => Ok(sheet),
        }
    }

    fn of_end(&self, study: &Study, units: UnitSystem) -> Result<SheetEnd> {
        let advise = || match self.parts().scenarios.as_slice() {
            [] => study.advise().map(|advice| (advice, None)),
            _ => study
                .advise_scenarios()
                .map(|found| (found.decision.clone(), Some(scenarios::scenarios(&found, units)))),
        };
        let (advice, scenarios) = match advise() {
            Ok((advice, scenarios)) => (advice, scenarios),
            Err(Error::Setup(error @ SetupError::Missing { .. })) => {
                let part = self.fit_only(&study.fit(), None, units)?;
                let headline = format!("No advice: {error}.");
                return Ok(SheetEnd { glance: Glance::without(&headline, &part.findings), headline, ..part });
            }
            Err(error) => return Err(error),
        };
        let advice = &advice;
        let part = self.fit_only(&advice.fit, Some(advice), units)?;
        Ok(SheetEnd {
            glance: Glance::of(advice, &part.findings, units),
            scenarios,
            headline: advice.headline(units),
            verdict: Some(advice.verdict.name()),
            advised: advice.advised().and_then(|advised| advice.choices.iter().position(|choice| choice == advised)),
            reasons: advice.reasons(units),
            next: advice.plan.text(units),
            form: form::form(advice, units),
            springs: Some(springs(advice, units)),
            consequences: Some(consequences(advice, units)),
            doubts: Some(doubts(&study.doubts()?, advice, units)).filter(|table| !table.rows.is_empty()),
            ..part
        })
    }

    fn fit_only(&self, fit: &Fit, advice: Option<&Decision>, units: UnitSystem) -> Result<SheetEnd> {
        let unread = fit.findings.contains(&Finding::NoReadings) && self.readings_of(fit.end).next().is_some();
        let reported = |finding: &&Finding| !unread || **finding != Finding::NoReadings;
        let unread = unread.then(|| SheetFinding {
            severity: Severity::Warning,
            text: "Nothing is read at this end since it was changed: every number here comes from labels.".to_owned(),
        });
        let findings = fit.findings.iter().filter(reported);
        let findings = findings.map(|finding| SheetFinding { severity: finding.severity(), text: finding.text(units) });
        let conditions = fit.conditions.iter().filter(|condition| !condition.is_a_finding(&fit.findings));
        let conditions =
            conditions.map(|condition| SheetFinding { severity: Severity::Warning, text: condition.text() });
        Ok(SheetEnd {
            end: fit.end,
            glance: Glance::default(),
            headline: String::new(),
            verdict: None,
            advised: None,
            reasons: Vec::new(),
            scenarios: None,
            practice: practice::practice(self, fit.end, units)?,
            findings: unread.into_iter().chain(conditions).chain(findings).collect(),
            next: Vec::new(),
            form: None,
            springs: None,
            consequences: None,
            doubts: None,
            assumed: advice.and_then(|advice| assumptions::table(&advice.assumptions, units)),
            assumed_says: advice.and_then(|advice| assumptions::verdict(&advice.assumptions)),
            fit: fit_lines(fit, units),
            sags: sags(self, fit, units)?,
            readings: self.reading_table(fit, units),
            inputs: self.inputs(fit, units)?,
            #[cfg(feature = "serde")]
            history: Some(self.history_end(fit.end)?)
                .filter(|history| history.is_told())
                .map(|history| history.page(units)),
            curves: curves::curves(self, fit, advice, units),
            marks: curves::marks(self, fit, units)?,
            friction: Entry::uncertain(fit.friction, units),
            wanted: advice.map(|advice| curves::wanted(self, advice, units)).transpose()?.unwrap_or_default(),
        })
    }

    fn reading_table(&self, fit: &Fit, units: UnitSystem) -> Table {
        let rows = fit.readings.iter().filter_map(|check| {
            let reading = self.parts().readings.get(check.reading)?;
            Some([
                Entry::number((check.reading + 1) as f64, (check.reading + 1).to_string()),
                Entry::words(reading.load.to_string()),
                Entry::words(match reading.settled {
                    Some(Settled::Low) => "low",
                    Some(Settled::High) => "high",
                    Some(Settled::Middle) => "middle",
                    None => "",
                }),
                Entry::stated(check.found, units, units.length_decimals()),
                Entry::stated(check.fitted, units, units.length_decimals()),
                Entry::or(check.deviations, "not checked by others", |deviations| {
                    Entry::number(deviations, format!("{deviations:+.1}"))
                }),
            ])
        });
        Table::new(["#", "load", "settled", "read", "fitted", "off by (u)"], rows.collect())
    }

    fn inputs(&self, fit: &Fit, units: UnitSystem) -> Result<Vec<Line>> {
        let end = fit.end;
        let wheel = self.end(end)?;
        let measuring = self.measuring_or_vertical(end);
        let decimals = units.length_decimals();
        let mut lines = vec![Line::new("wheel travel, vertical", Entry::stated(wheel.full_travel(), units, decimals))];
        if let Some(main) = wheel.main_spring() {
            let tolerance = percent(self.prior(end).rate_tolerance.si());
            for (k, (rate, preload)) in main.each.iter().enumerate() {
                let which = if main.each.len() > 1 { format!("spring {}", k + 1) } else { "spring".to_owned() };
                let mut label = Entry::stated(*rate, units, units.rate_decimals());
                label.text = Words { units }.rate(*rate);
                lines.push(Line::new(format!("{which}, label (± {tolerance})"), label));
                lines.push(Line::new(format!("{which}, preload stated"), Entry::stated(*preload, units, decimals)));
            }
        }
        lines.push(self.geometry_known(end, units)?);
        lines.extend(self.gas_exponents(end)?);
        for load in &fit.loads {
            lines.push(Line::new(format!("sprung load, {}", load.load), Entry::uncertain(load.stated, units)));
        }
        let tape = Entry::stated(measuring.uncertainty, units, decimals);
        lines.push(Line::new(format!("one reading ({}), standard uncertainty", along(measuring.direction)), tape));
        Ok(lines)
    }
}

impl Bike {
    /// The exponents of the gas of an end, each pair once; nothing without gas.
    fn gas_exponents(&self, end: End) -> Result<Option<Line>> {
        // What gas an end of its own holds is not known here.
        if self.own_end(end).is_some() {
            return Ok(None);
        }
        let mut all: Vec<Exponents> = match end {
            End::Front => {
                let legs = self.front()?.fork().legs().iter();
                let of =
                    |leg: &ForkLeg| [leg.air().map(ForkAir::exponents), leg.air_spring().map(AirSpring::exponents)];
                legs.flat_map(of).flatten().collect()
            }
            End::Rear => {
                let parts = self.rear()?.shock().parts();
                let of = [parts.reservoir.map(|gas| gas.exponents()), parts.air_spring.map(|gas| gas.exponents())];
                of.into_iter().flatten().collect()
            }
        };
        all.dedup();
        let texts: Vec<String> = all
            .iter()
            .map(|both| {
                format!("{} settled, {} ± {} on a fast stroke", both.slow(), both.fast(), both.fast_uncertainty())
            })
            .collect();
        Ok((!all.is_empty()).then(|| Line::new("gas, polytropic exponent", Entry::words(texts.join("; ")))))
    }

    /// How well the way from wheel to shock is known.
    fn geometry_known(&self, end: End, units: UnitSystem) -> Result<Line> {
        let exact = || Entry::words("taken as exact: its uncertainty is not stated");
        let words = Words { units };
        if self.own_end(end).is_some() {
            return Ok(Line::new("mechanism", Entry::words("an end of its own, taken as exact")));
        }
        Ok(match end {
            End::Front => {
                let known = self.front()?.fork().rake_uncertainty();
                Line::new(
                    "rake, standard uncertainty",
                    known.map_or_else(exact, |known| Entry::stated(known, units, 1)),
                )
            }
            End::Rear => {
                let rear = self.rear()?;
                let known = match (rear.measured(), rear.pivot_uncertainty()) {
                    (Some(_), _) => Entry::words("measured: the table's own uncertainty is in every number"),
                    (None, None) => exact(),
                    (None, Some(known)) => {
                        let table = if rear.table().is_some() { " and a measured table" } else { "" };
                        let [points, shock] = [known.coordinate, known.shock_length].map(|length| words.length(length));
                        Entry::words(format!("points ± {points}, shock length ± {shock}{table}: in every number"))
                    }
                };
                Line::new("linkage", known)
            }
        })
    }
}

fn notes() -> Vec<String> {
    [
        "A number after ± is a standard uncertainty: twice it covers about 95 in 100.",
        "Sag is meant where the spring force equals the load, in the middle of the friction band.",
        "Force, energy and drop height are those of a fast stroke from the rider sag, the gas by its fast exponent and with the \
         uncertainty of that; damping is not in them.",
        "Turns and preload count on the scale of the preload stated in the file.",
    ]
    .map(str::to_owned)
    .to_vec()
}

fn springs(advice: &Decision, units: UnitSystem) -> Table {
    let likely = |share: Share| Entry::number(share.si(), chance(share.si()));
    let rows = advice.choices.iter().map(|choice| {
        let outcome = choice.outcome;
        [
            rate_entry(choice, units),
            likely(choice.turned),
            likely(choice.re_read),
            Entry::or(outcome, "", |outcome| Entry::uncertain(outcome.preload, units)),
            Entry::or(outcome.and_then(|outcome| outcome.turns), "pitch not stated", |turns| Entry {
                text: if turns.from_touching {
                    format!("{} turns from touching", quarters(turns.value))
                } else {
                    format!("{:+} turns from today", quarters(turns.value))
                },
                value: Some(turns.value),
                standard_uncertainty: Some(turns.standard_uncertainty),
                unit: Some("turns".to_owned()),
            }),
            Entry::or(outcome, "", |outcome| Entry::uncertain(outcome.rider_sag, units)),
            Entry::or(outcome, "", |outcome| Entry::sag(outcome.free_sag, units)),
            Entry::words(choice.remark(units)),
        ]
    });
    // What decides stands first: a narrow screen shows no more.
    let columns =
        ["spring", "both land, turned", "both land, read again", "preload", "collar", "rider sag", "free sag", ""];
    Table::new(columns, rows.collect())
}

fn consequences(advice: &Decision, units: UnitSystem) -> Table {
    let why = "no such setting";
    // What hangs on air that nobody stated is not said.
    let airless = advice.end == End::Front
        && advice.assumptions.iter().any(|assumed| assumed.kind == crate::decide::AssumptionKind::Gas);
    let full = |entry: Entry| if airless { Entry::words("needs the oil level") } else { entry };
    let rows = advice.choices.iter().map(|choice| {
        let outcome = choice.outcome;
        [
            rate_entry(choice, units),
            Entry::or(outcome, why, |outcome| Entry::uncertain(outcome.wheel_rate, units)),
            Entry::or(outcome, why, |outcome| Entry::uncertain(outcome.ride_frequency, units)),
            full(Entry::or(outcome, why, |outcome| Entry::uncertain(outcome.full_force, units))),
            full(Entry::or(outcome, why, |outcome| Entry::uncertain(outcome.energy_left, units))),
            full(Entry::or(outcome, why, |outcome| Entry::uncertain(outcome.drop_height, units))),
            Entry::number(choice.damping_factor, format!("× {:.2}", choice.damping_factor)),
            Entry::or(outcome, why, |outcome| bind(choice, outcome.bind_clearance, outcome.compression_needed, units)),
        ]
    });
    let columns =
        ["spring", "wheel rate", "frequency", "full travel", "energy left", "as a drop", "damping", "before solid"];
    Table::new(columns, rows.collect())
}

/// What would be best if something stated were wrong.
fn doubts(doubts: &[Doubt], advice: &Decision, units: UnitSystem) -> Table {
    let words = Words { units };
    let rows = doubts.iter().map(|doubt| {
        let lands = doubt.action.probability.si();
        let then = match doubt.action.act {
            Act::Turn { by } => words.change(by, doubt.turns),
            act => act_phrase(advice, act, words),
        };
        [
            Entry::words(doubt.text(units)),
            Entry::words(then),
            Entry::number(lands, chance(lands)),
            Entry::words(if doubt.same { "" } else { "another verdict" }),
        ]
    });
    Table::new(["if", "then best", "both land", ""], rows.collect())
}

fn bind(choice: &SpringChoice, clearance: Option<Length>, needed: Length, units: UnitSystem) -> Entry {
    match clearance {
        Some(clearance) => Entry::stated(clearance, units, units.length_decimals()),
        None => {
            let needed = Entry::stated(needed, units, units.length_decimals()).text;
            Entry::words(format!("{} {needed}", if choice.is_fitted { "check:" } else { "must take" }))
        }
    }
}

fn rate_entry(choice: &SpringChoice, units: UnitSystem) -> Entry {
    let mut entry = Entry::stated(choice.rate, units, units.rate_decimals());
    entry.text = Words { units }.rate(choice.rate);
    if choice.is_fitted {
        entry.text.push_str(" now");
    }
    entry
}

fn fit_lines(fit: &Fit, units: UnitSystem) -> Vec<Line> {
    let mut lines = Vec::new();
    for (k, rate) in fit.springs.iter().enumerate() {
        let which = if fit.springs.len() > 1 { format!("spring {}", k + 1) } else { "spring rate".to_owned() };
        lines.push(Line::new(which, Entry::uncertain(*rate, units)));
    }
    lines.push(Line::new("preload", Entry::uncertain(fit.preload, units)));
    lines.push(Line::new("friction at the wheel, either way", Entry::uncertain(fit.friction, units)));
    lines.push(Line::new(
        "distance at full extension",
        Entry::or(fit.extended, "no reading", |extended| Entry::uncertain(extended, units)),
    ));
    let correlation = fit.correlation[0][1];
    lines.push(Line::new("correlation of rate and preload", Entry::number(correlation, format!("{correlation:+.2}"))));
    for (name, share) in [("rate", fit.from_readings.rate), ("preload", fit.from_readings.preload)] {
        let share = Entry::number(share.si(), percent(share.si()));
        lines.push(Line::new(format!("{name}: decided by the readings, not by the label"), share));
    }
    let chi = fit.chi_square;
    let agreement = format!("χ² {:.1} of {} expected, {} by chance", chi.value, chi.degrees, chance(chi.probability));
    lines.push(Line::new("agreement of all readings", Entry::number(chi.value, agreement)));
    lines
}

/// Sags along the direction in which the end is read; what is vertical beside it, where that is another.
fn sags(bike: &Bike, fit: &Fit, units: UnitSystem) -> Result<Table> {
    let direction = bike.measuring_or_vertical(fit.end).direction;
    let conversion = SagConversion::of(bike, fit.end, direction)?;
    let read_along = |sag: Uncertain<Length>| {
        let (value, slope) = conversion.sag_and_slope(sag.value.si());
        Uncertain { value: Length::from_si(value), standard_uncertainty: sag.standard_uncertainty * slope.abs() }
    };
    let is_other = direction != Direction::Vertical;
    let rows = fit.rows.iter().filter(|row| row.counts.iter().sum::<usize>() > 0).map(|row| {
        let sag = |side| Entry::or(side, "not read", |sag| Entry::uncertain(sag, units));
        let fitted = fit.loads.iter().find(|load| load.load == row.load);
        let mut entries = vec![
            Entry::words(row.load.to_string()),
            sag(row.low),
            sag(row.high),
            sag(row.unnoted),
            sag(row.band),
            Entry::or(fitted, "", |load| Entry::uncertain(read_along(load.sag), units)),
        ];
        if is_other {
            entries.push(Entry::or(fitted, "", |load| Entry::uncertain(load.sag, units)));
        }
        entries
    });
    let rows = rows.collect();
    let columns = ["load", "pushed down", "lifted", "not noted", "friction band", "fitted"];
    let columns = columns.into_iter().chain(is_other.then_some("fitted, vertical")).map(str::to_owned).collect();
    Ok(Table { columns, rows })
}
