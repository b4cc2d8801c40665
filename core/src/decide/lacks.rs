//! Readings that an end lacks for its two sags, and what would be known with each.
//!
//! A sag under a load that was never read comes from labels, weights and whatever else was read. One reading after pushing down
//! and one after lifting narrows it as any reading to come does ([`next_reading`](crate::decide::next_reading)), which is known
//! before it is taken. Nothing is said of an end that was changed since it was read: its readings are carried over.

use crate::Result;
use crate::decide::adviser::Adviser;
use crate::decide::narrowing::{after, spread};
use crate::decide::next_reading::Task;
use crate::infer::Finding;
use crate::infer::posterior::PRELOAD;
use crate::record::Load;
use crate::units::{Length, Quantity};

/// A load that no reading was taken under, and what reading it would say.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Lack {
    /// Under what.
    pub load: Load,
    /// Standard uncertainty of the sag under it, now and with one reading from each side.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub sag: [Length; 2],
    /// Standard uncertainty of today's preload, now and then.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub preload: [Length; 2],
    /// The readings.
    pub task: Task,
}

impl Adviser {
    /// What was not read of the two loads that the sags wanted are meant under.
    pub(crate) fn lacks(&self, findings: &[Finding], places: [usize; 2]) -> Result<Vec<Lack>> {
        let solved = self.solved();
        if findings.iter().any(|finding| matches!(finding, Finding::Carried { .. })) {
            return Ok(Vec::new());
        }
        let (before, tools) = (&solved.posterior.covariance, self.tools()?);
        let preload = solved.unit(PRELOAD, solved.evidence.priors.preload);
        let mut lacks = Vec::new();
        for place in places {
            let read = solved.evidence.observations.iter().any(|one| one.load == Some(place));
            let Some(coming) = (!read).then(|| solved.pairs(place, 0.0, tools, 1)).flatten() else { continue };
            let (sag, then) = (self.sag_today(place)?.gradient, after(before, &coming));
            let both = |of: &[f64]| [before, &then].map(|covariance| Length::from_si(spread(covariance, of)));
            let load = solved.gathered.loads[place].clone();
            let task = Task::Pairs { load: load.clone(), pairs: 1 };
            lacks.push(Lack { load, sag: both(&sag), preload: both(preload.as_slice()), task });
        }
        Ok(lacks)
    }
}
