//! Readings: a distance between the axle and a mark, under a load, settled from one side.

use core::str::FromStr;
use std::sync::Arc;

use super::End;
use crate::error::{MassError, UnitError, shortened};
use crate::units::{Length, Share, check};

/// Most masses in one load: more than anybody hangs on a motorcycle.
const MOST_MASSES: usize = 100;

/// What stands on the wheels while a reading is taken: nothing, or names of masses added up.
///
/// Text form: `"none"`, `"bike"`, `"bike + rider"`, `"bike + rider + pack"`.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(into = "String", try_from = "String")
)]
pub enum Load {
    /// The wheel is off the ground: full extension.
    None,
    /// The names of the masses that stand on the wheels, as in the file's `[masses]`.
    Masses(Arc<[String]>),
}

impl Load {
    /// The word for no load. It names no mass, and no other text means it: a slip would change what a reading says.
    pub(crate) const NONE: &str = "none";
    /// The name of the bike's own mass, which carries the unsprung parts.
    pub const BIKE: &str = "bike";

    /// The load that free sag is meant under: the bike alone.
    #[must_use]
    pub fn bike_alone() -> Self {
        Self::Masses([Self::BIKE.to_owned()].into())
    }

    /// Reads `none` or names joined by `+`, with or without spaces around each.
    ///
    /// ```
    /// use wheelrate::record::Load;
    /// assert_eq!(Load::parse("none")?, Load::None);
    /// assert_eq!(Load::parse("bike+rider")?.to_string(), "bike + rider");
    /// for slip in ["", "+", "bike +", "bike + none"] {
    ///     assert!(Load::parse(slip).is_err());
    /// }
    /// # Ok::<(), wheelrate::error::MassError>(())
    /// ```
    ///
    /// # Errors
    /// [`MassError::LoadText`] for an empty text, a `+` without a name on either side, and `none` beside a name.
    pub fn parse(text: &str) -> Result<Self, MassError> {
        let names: Vec<&str> = text.split('+').map(str::trim).collect();
        if names == [Self::NONE] {
            return Ok(Self::None);
        }
        let many = names.len() > MOST_MASSES;
        if many || names.iter().any(|name| name.is_empty() || *name == Self::NONE) {
            return Err(MassError::LoadText { found: shortened(text) });
        }
        Ok(Self::Masses(names.into_iter().map(str::to_owned).collect()))
    }

    /// The names of the masses, empty for [`Load::None`].
    #[must_use]
    pub fn names(&self) -> &[String] {
        match self {
            Self::None => &[],
            Self::Masses(names) => names,
        }
    }
}

impl FromStr for Load {
    type Err = MassError;

    fn from_str(text: &str) -> Result<Self, MassError> {
        Self::parse(text)
    }
}

impl TryFrom<String> for Load {
    type Error = MassError;

    fn try_from(text: String) -> Result<Self, MassError> {
        Self::parse(&text)
    }
}

impl From<Load> for String {
    fn from(load: Load) -> Self {
        load.to_string()
    }
}

impl core::fmt::Display for Load {
    fn fmt(&self, formatter: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::None => formatter.pad(Self::NONE),
            Self::Masses(names) => formatter.pad(&names.join(" + ")),
        }
    }
}

/// From which side the bike came to rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "lowercase"))]
pub enum Settled {
    /// After pushing down: friction holds the bike low, and the spring force is load + friction.
    Low,
    /// After lifting: friction holds the bike high, and the spring force is load − friction.
    High,
    /// The mean of both was noted.
    Middle,
}

/// What the number of a reading is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "lowercase"))]
pub enum Gauge {
    /// The distance from the axle to a mark; it shrinks as the end compresses.
    #[default]
    Tape,
    /// The sag itself: of a gauge that was zeroed with the wheel off the ground, or with that distance subtracted.
    Zeroed,
}

/// Along what a distance was read.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
pub enum Direction {
    /// Plumb, axle to a mark above it.
    Vertical,
    /// Along the fork (front only).
    AlongFork,
    /// Straight from the axle to a point of the frame, in the frame axes of the linkage points.
    ToMark {
        /// Forward of the origin.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        x: Length,
        /// Above the origin.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        z: Length,
    },
}

impl Direction {
    /// As the bike file and Python have it: `vertical`, `along fork` or `to mark`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Vertical => "vertical",
            Self::AlongFork => "along fork",
            Self::ToMark { .. } => "to mark",
        }
    }
}

/// How the readings of one end are taken.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Measuring {
    /// Along what.
    pub direction: Direction,
    /// Standard uncertainty of one reading (repeatability of tape, mark and eye).
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub uncertainty: Length,
}

impl Measuring {
    /// Standard uncertainty of a tape reading when none is stated: 1.5 mm (common practice, no source).
    #[must_use]
    pub fn default_uncertainty() -> Length {
        crate::units::Quantity::from_si(1.5e-3)
    }

    /// A way of measuring.
    ///
    /// # Errors
    /// [`UnitError`] when the uncertainty is not more than zero, or is over 50 mm.
    pub fn new(direction: Direction, uncertainty: Length) -> Result<Self, UnitError> {
        let most: Length = crate::units::Quantity::from_si(0.05);
        check::positive("uncertainty", uncertainty)?;
        check::plausible("uncertainty", uncertainty, crate::units::Quantity::from_si(1e-6), most)?;
        Ok(Self { direction, uncertainty })
    }
}

/// One reading: the distance between the axle and a mark on the sprung part. It shrinks as the end compresses.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Reading {
    /// Which end.
    pub end: End,
    /// Under what.
    pub load: Load,
    /// From which side it came to rest; `None` when nobody noted it.
    pub settled: Option<Settled>,
    /// What the number is.
    #[cfg_attr(feature = "serde", serde(default))]
    pub gauge: Gauge,
    /// The distance read, or the sag.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub distance: Length,
    /// A sag as a share of the travel along the same direction, where it was noted so. A bike that is put together has the
    /// sag in `distance`.
    #[cfg_attr(feature = "serde", serde(default, with = "crate::units::text_serde::nested"))]
    pub share: Option<Share>,
    /// Standard uncertainty of this reading, where it differs from the end's [`Measuring`].
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub uncertainty: Option<Length>,
    /// When it was read: a day, `2026-05-31`, or a day with a time, `2026-05-31 19:30`.
    pub date: Option<String>,
    /// A note of the reader's.
    pub note: Option<String>,
}

impl Reading {
    /// A reading.
    ///
    /// # Errors
    /// [`UnitError`] when the distance is not between 1 mm and 3 m.
    pub fn new(end: End, load: Load, distance: Length, settled: Option<Settled>) -> Result<Self, UnitError> {
        use crate::units::Quantity;
        check::plausible("distance", distance, Length::from_si(1e-3), Length::from_si(3.0))?;
        let (gauge, share) = (Gauge::Tape, None);
        Ok(Self { end, load, settled, gauge, distance, share, uncertainty: None, date: None, note: None })
    }

    /// A sag, read on a zeroed gauge or already subtracted.
    ///
    /// # Errors
    /// [`UnitError`] when the sag is not between −20 mm and 1 m.
    pub fn of_sag(end: End, load: Load, sag: Length, settled: Option<Settled>) -> Result<Self, UnitError> {
        use crate::units::Quantity;
        check::plausible("sag", sag, Length::from_si(-0.02), Length::from_si(1.0))?;
        let (gauge, distance, share) = (Gauge::Zeroed, sag, None);
        Ok(Self { end, load, settled, gauge, distance, share, uncertainty: None, date: None, note: None })
    }

    /// A sag as a share of the travel.
    ///
    /// # Errors
    /// [`UnitError`] when the share is not between −10 % and 100 %.
    pub fn of_share(end: End, load: Load, share: Share, settled: Option<Settled>) -> Result<Self, UnitError> {
        use crate::units::Quantity;
        check::plausible("sag", share, Share::from_si(-0.1), Share::from_si(1.0))?;
        Ok(Self { share: Some(share), ..Self::of_sag(end, load, Length::from_si(0.0), settled)? })
    }

    /// The same reading on an end of this travel, along the direction that was read.
    pub(crate) fn on_travel(&mut self, travel: Length) {
        if let Some(share) = self.share {
            self.distance = travel * crate::units::Quantity::si(share);
        }
    }

    /// The sag, where that is what was read.
    #[must_use]
    pub fn sag(&self) -> Option<Length> {
        (self.gauge == Gauge::Zeroed).then_some(self.distance)
    }

    /// With its own standard uncertainty.
    ///
    /// # Errors
    /// As [`Measuring::new`].
    pub fn with_uncertainty(self, uncertainty: Length) -> Result<Self, UnitError> {
        Measuring::new(Direction::Vertical, uncertainty)?;
        Ok(Self { uncertainty: Some(uncertainty), ..self })
    }

    /// Everything in it checked as its constructors do; its fields are open.
    ///
    /// # Errors
    /// [`UnitError`].
    pub(crate) fn checked(&self) -> Result<(), UnitError> {
        let plain = match self.gauge {
            Gauge::Tape => Self::new(self.end, self.load.clone(), self.distance, self.settled)?,
            Gauge::Zeroed => Self::of_sag(self.end, self.load.clone(), self.distance, self.settled)?,
        };
        match self.uncertainty {
            Some(uncertainty) => plain.with_uncertainty(uncertainty).map(drop),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn what_is_no_load_is_an_error_and_only_the_word_means_none() {
        for slip in
            ["", " ", "  \t", "+", "bike +", "+ bike", "bike + + rider", "none + bike", "bike+none", "none+none"]
        {
            let error = Load::parse(slip).unwrap_err();
            assert_eq!(error, MassError::LoadText { found: shortened(slip) });
            let said = error.to_string();
            assert!(
                said.contains(&format!("`{}`", slip.escape_default())) && said.contains("`bike + rider`"),
                "{said}"
            );
        }
        for none in ["none", " none "] {
            assert_eq!(none.parse(), Ok(Load::None));
        }
        for name in ["None", "nothing", "0"] {
            assert_eq!(Load::parse(name), Ok(Load::Masses([name.to_owned()].into())), "a name that no mass has");
        }
    }

    #[cfg(feature = "serde")]
    #[test]
    fn as_data_it_is_as_strict() {
        assert_eq!(serde_json::from_str::<Load>("\"bike + rider\"").unwrap().names().len(), 2);
        let refused = |slip: &str| serde_json::from_str::<Load>(slip).unwrap_err().to_string();
        for slip in ["\"\"", "\"bike +\""] {
            assert!(refused(slip).contains("names of masses joined by `+`"), "{slip}: {}", refused(slip));
        }
        for other in ["null", "[]"] {
            assert!(refused(other).contains("invalid type"), "{other}: {}", refused(other));
        }
    }

    proptest! {
        /// Any text is refused or says the same when written down and read again, and holds every name that was in it.
        #[test]
        fn nothing_is_lost(text in "[a-z+ ]{0,12}|none") {
            if let Ok(load) = Load::parse(&text) {
                prop_assert_eq!(Load::parse(&load.to_string()), Ok(load.clone()));
                let signs = |text: &str| text.chars().filter(|sign| *sign != ' ').collect::<String>();
                prop_assert_eq!(signs(&load.to_string()), signs(&text));
                prop_assert_eq!(load == Load::None, text.trim() == "none");
            }
        }
    }
}
