//! From a bike to its sheet.

use crate::Result;
use crate::bike::Bike;
use crate::decide::Decision;
use crate::error::{Error, SetupError};
use crate::infer::Study;
use crate::infer::finding::{Finding, Severity};
use crate::infer::fit::Fit;
use crate::record::{End, Settled};
use crate::report::assumptions;
use crate::report::sheet::{
    Glance, Sheet, SheetEnd, SheetEntry, SheetFinding, SheetTable, cautions, curves, damping, form, geometry, practice,
    riders, scenarios, tables,
};
use crate::report::words::of_end;
use crate::units::UnitSystem;

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
            damping: damping::damping(self, units),
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
                    sheet.without.push(of_end(end, &error.to_string()));
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
            riders: match self.parts().riders {
                Some(_) => Some(riders::riders(&study.advise_riders()?, units)),
                None => None,
            },
            headline: advice.headline(units),
            verdict: Some(advice.verdict.name()),
            advised: advice.advised().and_then(|advised| advice.choices.iter().position(|choice| choice == advised)),
            reasons: advice.reasons(units).into_iter().chain(self.no_oil_level(advice)).collect(),
            next: advice.plan.text(units),
            form: form::form(advice, units),
            springs: Some(tables::springs(advice, units)),
            consequences: Some(tables::consequences(advice, units)),
            doubts: Some(tables::doubts(&study.doubts()?, advice, units)).filter(|table| !table.rows.is_empty()),
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
        let uncounted = self.uncounted_gas(fit.end).map(|text| SheetFinding { severity: Severity::Note, text });
        // A set of readings long past that cannot be solved never hides what those of today say.
        #[cfg(feature = "serde")]
        let (history, no_history) = match self.history_to_show(fit.end) {
            Ok(history) => (history, None),
            Err(error) => (None, Some(format!("No history of this end: {error}."))),
        };
        #[cfg(not(feature = "serde"))]
        let no_history: Option<String> = None;
        let no_history = no_history.map(|text| SheetFinding { severity: Severity::Note, text });
        // What comes of a misread part is said after it.
        let (parts, findings): (Vec<_>, Vec<_>) =
            fit.findings.iter().filter(reported).partition(|finding| matches!(finding, Finding::PartMisread { .. }));
        let said = |finding: &Finding| SheetFinding { severity: finding.severity(), text: finding.text(units) };
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
            riders: None,
            practice: practice::practice(self, fit.end, units)?,
            findings: unread
                .into_iter()
                .chain(parts.into_iter().map(said))
                .chain(conditions)
                .chain(findings.into_iter().map(said))
                .chain(uncounted)
                .chain(no_history)
                .collect(),
            next: Vec::new(),
            form: None,
            springs: None,
            consequences: None,
            doubts: None,
            assumed: advice.and_then(|advice| assumptions::table(&advice.assumptions, units)),
            assumed_says: advice.and_then(|advice| assumptions::verdict(&advice.assumptions)),
            fit: tables::fit_lines(fit, units),
            sags: tables::sags(self, fit, units)?,
            readings: self.reading_table(fit, units),
            inputs: self.inputs(fit, units)?,
            #[cfg(feature = "serde")]
            history: history.filter(|history| history.is_shown()).map(|history| history.page(units)),
            curves: curves::curves(self, fit, advice, units),
            marks: curves::marks(self, fit, units)?,
            friction: SheetEntry::uncertain(fit.friction, units),
            wanted: advice.map(|advice| curves::wanted(advice, units)).unwrap_or_default(),
        })
    }

    fn reading_table(&self, fit: &Fit, units: UnitSystem) -> SheetTable {
        let rows = fit.readings.iter().filter_map(|check| {
            let reading = self.parts().readings.get(check.reading)?;
            Some([
                SheetEntry::number((check.reading + 1) as f64, (check.reading + 1).to_string()),
                SheetEntry::words(reading.load.to_string()),
                SheetEntry::words(match reading.settled {
                    Some(Settled::Low) => "low",
                    Some(Settled::High) => "high",
                    Some(Settled::Middle) => "middle",
                    None => "",
                }),
                SheetEntry::stated(check.found, units, units.length_decimals()),
                SheetEntry::stated(check.fitted, units, units.length_decimals()),
                SheetEntry::or(check.deviations, "not checked by others", |deviations| {
                    SheetEntry::number(deviations, format!("{deviations:+.1}"))
                }),
            ])
        });
        SheetTable::new(["#", "load", "settled", "read", "fitted", "off by (u)"], rows.collect())
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
