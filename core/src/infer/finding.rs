//! What a fit noticed about the readings, as data and as a sentence in the reader's units.

use crate::error::Address;
use crate::infer::kept::Kept;
use crate::record::{Load, PartReading, Settled};
use crate::units::{Force, Length, Quantity, Share, SpringRate, Uncertain, UnitSystem, show};

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "lowercase"))]
#[non_exhaustive]
pub enum Severity {
    /// Good to know.
    Note,
    /// The answer may be wrong because of it.
    Warning,
}

/// A likely slip behind a misread value.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Slip {
    /// The other settling fits.
    SettledSwapped,
    /// The tape was misread by a round amount.
    RoundAmount(#[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))] Length),
    /// None that explains it.
    Unknown,
}

/// What may be wrong in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Suspect {
    /// A spring, stop, linkage or tyre that was measured, with a reading that does not go with its others.
    MeasuredPart,
    /// A mass, or the unsprung mass.
    Scales,
    /// The spring's label: its number or its unit.
    LabelUnits,
    /// The preload stated.
    Preload,
    /// Low and high, everywhere.
    SettledSwapped,
    /// Pivots, shock or rake; or readings of the other end, or along another direction.
    Pivots,
}

impl Suspect {
    /// What to look at.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::MeasuredPart => "the reading of a measured part that does not go with its others",
            Self::Scales => "the masses, as the scales showed them",
            Self::LabelUnits => "the spring's label and its unit",
            Self::Preload => "the preload",
            Self::SettledSwapped => "`settled`, low for high",
            Self::Pivots => "the pivots, the end and the direction that were read",
        }
    }
}

/// Something that a fit noticed. `reading` is the place among all readings of the bike, from 0; in JSON, as
/// in every text, from 1.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(tag = "finding", rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Finding {
    /// No readings: everything is from labels.
    NoReadings,
    /// Nothing was read since a change: the numbers are carried from the readings before it.
    Carried {
        /// What the change left alone.
        kept: Kept,
    },
    /// The newest readings are too few for an answer of their own, and go on from those before them.
    ReadOn {
        /// What was left alone of what was found before.
        kept: Kept,
    },
    /// A reading that the others do not agree with. It stays in the fit.
    Misread {
        /// Which.
        #[cfg_attr(feature = "serde", serde(with = "crate::record::numbered"))]
        reading: usize,
        /// Under what.
        load: Load,
        /// From which side.
        settled: Option<Settled>,
        /// What was read.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        found: Length,
        /// What all other readings and labels predict.
        expected: Uncertain<Length>,
        /// The difference in its own standard deviations.
        deviations: f64,
        /// How many other readings the end has; labels and weights alone predict a lone one.
        others: usize,
        /// What may have happened.
        slip: Slip,
        /// Rate of all main springs together with this reading and without it.
        rate: [Uncertain<SpringRate>; 2],
    },
    /// The file and the readings do not belong to one bike: no few readings explain it.
    NotOneBike {
        /// Sum of squares of the normalised residuals.
        chi_square: f64,
        /// Its degrees of freedom.
        degrees: usize,
        /// Probability of as much or more by chance.
        probability: f64,
        /// What may be wrong, the likeliest first.
        suspects: Vec<Suspect>,
    },
    /// Readings scatter more than their stated uncertainty allows.
    Scatter {
        /// Sum of squares of the normalised residuals.
        chi_square: f64,
        /// Its degrees of freedom.
        degrees: usize,
        /// Probability of as much or more by chance.
        probability: f64,
    },
    /// A reading on the stop at full extension, an inequality only.
    ToppedOut {
        /// Which.
        #[cfg_attr(feature = "serde", serde(with = "crate::record::numbered"))]
        reading: usize,
        /// Under what.
        load: Load,
        /// Sag read.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        sag: Length,
    },
    /// A reading on the stop at full compression.
    BottomedOut {
        /// Which.
        #[cfg_attr(feature = "serde", serde(with = "crate::record::numbered"))]
        reading: usize,
        /// Under what.
        load: Load,
        /// Sag read.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        sag: Length,
    },
    /// The friction band of a load is as wide as its sag.
    WideBand {
        /// Under what.
        load: Load,
        /// Low less high.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        band: Length,
        /// Sag in the middle.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        sag: Length,
    },
    /// A band wider than a healthy end has.
    StickyEnd {
        /// Low less high.
        band: Uncertain<Length>,
        /// Friction force at the wheel.
        friction: Uncertain<Force>,
    },
    /// No load was read from both sides.
    FrictionAssumed {
        /// Taken instead.
        friction: Uncertain<Force>,
    },
    /// The rate is off its label by more than the label's tolerance.
    OffLabel {
        /// As labelled, all main springs together.
        label: SpringRate,
        /// As fitted.
        rate: Uncertain<SpringRate>,
        /// Standard uncertainty of the label, relative.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        tolerance: Share,
    },
    /// A reading of a measured spring, stop, linkage or tyre that its others do not agree with. It stays in the curve.
    PartMisread {
        /// The list of the readings, by its place in the bike file.
        readings: Address,
        /// Which, and what the others say in its place.
        #[cfg_attr(feature = "serde", serde(flatten))]
        misread: PartReading,
    },
}

impl Finding {
    /// How much it matters.
    #[must_use]
    pub fn severity(&self) -> Severity {
        match self {
            Self::NotOneBike { .. }
            | Self::Misread { .. }
            | Self::Scatter { .. }
            | Self::BottomedOut { .. }
            | Self::PartMisread { .. }
            | Self::StickyEnd { .. } => Severity::Warning,
            _ => Severity::Note,
        }
    }

    /// The finding as a sentence.
    #[must_use]
    pub fn text(&self, units: UnitSystem) -> String {
        let length = |length: Length| show(length, units.symbol(Length::KIND), units.length_decimals());
        let force = |force: Uncertain<Force>| force.show(units.symbol(Force::KIND));
        let rate = |rate: Uncertain<SpringRate>| rate.show(units.symbol(SpringRate::KIND));
        match self {
            Self::Carried { kept } => {
                carried("Nothing is read at this end since it was changed:", "comes from", "come from", *kept)
            }
            Self::ReadOn { kept } => carried(
                "The newest readings are under fewer than two loads, too few for an answer of their own:",
                "goes on from",
                "go on from",
                *kept,
            ),
            Self::NoReadings => "No readings: every number here comes from labels, not from the bike.".to_owned(),
            Self::Misread {
                reading,
                load,
                settled,
                found,
                expected,
                deviations,
                others,
                slip,
                rate: [with, without],
            } => {
                let side = settled.map(|side| match side {
                    Settled::Low => ", settled low",
                    Settled::High => ", settled high",
                    Settled::Middle => ", the mean of both sides",
                });
                let slip = match slip {
                    Slip::SettledSwapped => " Settled the other way it would fit: was `settled` swapped?".to_owned(),
                    Slip::RoundAmount(amount) => format!(" It looks like a slip of {} on the tape.", length(*amount)),
                    Slip::Unknown => String::new(),
                };
                let others = if *others == 0 { "labels and weights" } else { "the others" };
                format!(
                    "Reading {} (`{load}`{}: {}) does not agree with {others}, which predict {}: {:.1} standard \
                     deviations apart.{slip} Take it again. It is still in the fit: the rate is {} with it and {} without.",
                    reading + 1,
                    side.unwrap_or_default(),
                    length(*found),
                    expected.show(units.symbol(Length::KIND)),
                    deviations.abs(),
                    rate(*with),
                    rate(*without)
                )
            }
            Self::NotOneBike { chi_square, degrees, suspects, .. } => {
                let names: Vec<&str> = suspects.iter().map(|suspect| suspect.name()).collect();
                format!(
                    "The file and the readings do not belong to one bike (χ² {chi_square:.0} with {degrees} degrees of freedom), \
                     and no one reading explains it. Look first at {}.",
                    names.join("; then ")
                )
            }
            Self::Scatter { chi_square, degrees, probability } => format!(
                "The readings scatter {:.1} times as much as their stated uncertainty (χ² {chi_square:.1} with {degrees} degrees of \
                 freedom, {} by chance): a reading is wrong, or the tape is less sure than stated.",
                (chi_square / (*degrees).max(1) as f64).sqrt(),
                percent(*probability)
            ),
            Self::ToppedOut { reading, load, sag } => format!(
                "Reading {} (`{load}`, sag {}) is on the stop at full extension: it says that the spring is at least \
                 strong enough to hold this load there, not by how much.",
                reading + 1,
                length(*sag)
            ),
            Self::BottomedOut { reading, load, sag } => format!(
                "Reading {} (`{load}`, sag {}) is on the stop at full compression: the spring carries less than this load.",
                reading + 1,
                length(*sag)
            ),
            Self::WideBand { load, band, sag } => format!(
                "Under `{load}` the friction band of {} is as wide as the sag of {}: this load says little about the spring.",
                length(*band),
                length(*sag)
            ),
            Self::StickyEnd { band, friction } => format!(
                "The end rests anywhere within {}, {} at the wheel either way: more than the {} or so of a healthy end \
                 (common practice). Look at bushes, seals, bearings and alignment before buying a spring.",
                length(band.value),
                force(*friction),
                length(Length::from_si(HEALTHY_BAND))
            ),
            Self::FrictionAssumed { friction } => format!(
                "No load was read from both sides, so friction is taken from common practice, {} at the wheel. One \
                 reading after pushing down and one after lifting would measure it.",
                force(*friction)
            ),
            Self::OffLabel { label, rate: fitted, tolerance } => format!(
                "The springs act as {}, {} their label of {} (standard uncertainty {}).",
                rate(*fitted),
                if fitted.value > *label { "above" } else { "below" },
                show(*label, units.symbol(SpringRate::KIND), units.rate_decimals()),
                percent(tolerance.si())
            ),
            Self::PartMisread { readings, misread } => {
                let [at, found, others] = misread.texts(units);
                format!(
                    "Reading {} of `{readings}` ({found} at {at}) does not agree with its others, which say {others} there: {:.1} \
                     standard deviations apart. Read it again, or leave it out. It is still in the curve.",
                    misread.index() + 1,
                    misread.deviations().abs()
                )
            }
        }
    }
}

/// Widest friction band of a healthy end (m): common practice, no source.
pub(crate) const HEALTHY_BAND: f64 = 15e-3;

fn carried(before: &str, one: &str, several: &str, kept: Kept) -> String {
    let part = |share: Share, name: &str| match share.si() {
        whole if whole >= 1.0 => Some(name.to_owned()),
        nothing if nothing <= 0.0 => None,
        some => Some(format!("{} of {name}", percent(some))),
    };
    let parts = [
        part(kept.springs, "what rate and preload are off their labels by"),
        part(kept.friction, "the friction"),
        kept.masses.then(|| "the loads".to_owned()),
    ];
    let named: Vec<String> = parts.into_iter().flatten().collect();
    match named.split_last() {
        None => format!("{before} every number here comes from labels."),
        Some((last, [])) => format!("{before} {last} {one} the readings before, all else from labels."),
        Some((last, others)) => {
            format!("{before} {} and {last} {several} the readings before, all else from labels.", others.join(", "))
        }
    }
}

/// A share in percent, and what is too small for that as `under 0.1 %`.
pub(crate) fn percent(share: f64) -> String {
    match 100.0 * share {
        p if p < 0.1 => "under 0.1 %".to_owned(),
        p if p < 1.0 => format!("{p:.1} %"),
        p if p > 99.0 && p < 100.0 => "over 99 %".to_owned(),
        p => format!("{p:.0} %"),
    }
}

/// A probability in percent: none that is worked out from readings is whole, though it may be to the last bit.
pub(crate) fn chance(probability: f64) -> String {
    /// What is left of one, to no more than is written.
    const NEXT_TO_ONE: f64 = 1.0 - f64::EPSILON;
    percent(probability.min(NEXT_TO_ONE))
}

#[cfg(test)]
mod tests;
