//! What a sweep can be asked, by name.
//!
//! `front.` and `rear.` go before what is asked of an end. Sags, chances and what follows from the setting are those of the
//! spring that the readings found, carried into each design; what is `stated` goes by the labels.

use crate::error::{SweepError, nearest};
use crate::record::End;
use crate::units::kind::{self, Kind};

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Output {
    /// Of which end; of the whole bike where `None`.
    pub(super) end: Option<End>,
    pub(super) asks: Asks,
}

/// One line of the list.
#[derive(Debug)]
struct Line {
    name: &'static str,
    asks: Asks,
    kind: &'static Kind,
    doc: &'static str,
}

macro_rules! outputs {
    ($($name:literal => $asks:ident: $kind:ident, $doc:literal;)+) => {
        /// What is asked, whichever end it is asked of.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub(super) enum Asks {
            $($asks),+
        }

        static LINES: &[Line] = &[$(Line { name: $name, asks: Asks::$asks, kind: &kind::$kind, doc: $doc }),+];
    };
}

outputs! {
    "full_travel" => FullTravel: LENGTH, "vertical travel from full extension to full compression";
    "progression" => Progression: SHARE, "motion ratio at full travel over that at full extension, less one";
    "least_motion_ratio" => LeastRatio: MOTION_RATIO, "least motion ratio over the curve";
    "greatest_motion_ratio" => GreatestRatio: MOTION_RATIO, "greatest motion ratio over the curve";
    "least_wheel_rate" => LeastRate: WHEEL_RATE, "least wheel rate over the curve, springs as stated";
    "rider_travel" => RiderTravel: LENGTH, "travel at which the spring carries the rider load; below zero topped out";
    "free_travel" => FreeTravel: LENGTH, "travel at which the spring carries the bike alone; below zero topped out";
    "motion_ratio_at_sag" => RatioAtSag: MOTION_RATIO, "motion ratio at the travel under the rider load";
    "wheel_rate_at_sag" => RateAtSag: WHEEL_RATE, "wheel rate there, gas settled";
    "rider_sag" => RiderSag: LENGTH, "rider sag along the direction of reading, collar where it is";
    "free_sag" => FreeSag: LENGTH, "free sag along the direction of reading, collar where it is";
    "rider_sag_uncertainty" => RiderSagUncertainty: LENGTH, "standard uncertainty of the rider sag";
    "free_sag_uncertainty" => FreeSagUncertainty: LENGTH, "standard uncertainty of the free sag";
    "chance" => Chance: SHARE, "chance that both sags lie in their ranges, collar where it is";
    "best_chance" => BestChance: SHARE, "the same for the best of leaving, turning the collar and every spring on sale";
    "best_rate" => BestRate: SPRING_RATE, "label of the spring that the best is on";
    "best_preload_change" => BestPreloadChange: LENGTH, "change of the preload stated that goes with it";
    "ride_frequency" => RideFrequency: FREQUENCY, "natural frequency under the rider load, collar where it is";
    "full_force" => FullForce: FORCE, "force at full travel, reached fast from the rider sag";
    "energy_left" => EnergyLeft: ENERGY, "energy taken up on that stroke, less what gravity gives";
    "drop_height" => DropHeight: LENGTH, "that energy as a height that the sprung load falls: the reserve of travel";
    "stated_rider_travel" => StatedRiderTravel: LENGTH, "travel under the rider load by the labels alone";
    "stated_free_travel" => StatedFreeTravel: LENGTH, "travel under the bike alone by the labels alone";
    "curve.travel" => CurveTravel: LENGTH, "travels of the curve, even steps over the whole";
    "curve.motion_ratio" => CurveRatio: MOTION_RATIO, "motion ratio over the curve";
    "curve.wheel_force" => CurveForce: FORCE, "wheel force over the curve, springs as stated";
    "curve.wheel_rate" => CurveRate: WHEEL_RATE, "wheel rate over the curve, springs as stated";
    "curve.energy" => CurveEnergy: ENERGY, "energy over the curve, springs as stated";
    "trail" => Trail: LENGTH, "trail with the rider, springs as stated";
    "rake" => Rake: ANGLE, "rake with the rider";
    "wheelbase" => Wheelbase: LENGTH, "wheelbase with the rider";
    "pitch" => Pitch: ANGLE, "pitch of the frame with the rider, nose down positive";
    "anti_squat" => AntiSquat: SHARE, "share of the load that drive moves to the rear which the chain carries, with the rider";
    "swingarm_angle" => SwingarmAngle: ANGLE, "angle of the swingarm with the rider";
}

impl Asks {
    /// Is it of the whole bike?
    fn of_bike(self) -> bool {
        matches!(self, Self::Trail | Self::Rake | Self::Wheelbase | Self::Pitch | Self::AntiSquat | Self::SwingarmAngle)
    }

    /// Is it a row of values, one per point of the curve?
    pub(super) fn is_row(self) -> bool {
        matches!(self, Self::CurveTravel | Self::CurveRatio | Self::CurveForce | Self::CurveRate | Self::CurveEnergy)
    }
}

impl Output {
    /// The output with this name.
    ///
    /// # Errors
    /// [`SweepError::Output`].
    pub fn parse(name: &str) -> Result<Self, SweepError> {
        let of_end =
            End::BOTH.into_iter().find_map(|end| Some((end, name.strip_prefix(end.name())?.strip_prefix('.')?)));
        let found = match of_end {
            Some((end, rest)) => line(rest).filter(|line| !line.asks.of_bike()).map(|line| (Some(end), line)),
            None => line(name).filter(|line| line.asks.of_bike()).map(|line| (None, line)),
        };
        found.map(|(end, line)| Self { end, asks: line.asks }).ok_or_else(|| {
            let names: Vec<String> = Self::all().map(Self::name).collect();
            let names = || names.iter().map(String::as_str);
            SweepError::Output {
                found: name.to_owned(),
                wanted: nearest::list(names()),
                suggestion: nearest::nearest(name, names()).map(str::to_owned),
            }
        })
    }

    /// Every output.
    pub fn all() -> impl Iterator<Item = Self> {
        let ends = LINES.iter().filter(|line| !line.asks.of_bike());
        let of_ends = ends.flat_map(|line| End::BOTH.map(|end| Self { end: Some(end), asks: line.asks }));
        of_ends.chain(LINES.iter().filter(|line| line.asks.of_bike()).map(|line| Self { end: None, asks: line.asks }))
    }

    /// Its name.
    #[must_use]
    pub fn name(self) -> String {
        let name = self.line().map_or("", |line| line.name);
        self.end.map_or_else(|| name.to_owned(), |end| format!("{end}.{name}"))
    }

    /// What it is.
    #[must_use]
    pub fn doc(self) -> &'static str {
        self.line().map_or("", |line| line.doc)
    }

    /// The kind of quantity that it is.
    #[must_use]
    pub fn kind(self) -> &'static Kind {
        self.line().map_or(&kind::SHARE, |line| line.kind)
    }

    /// Is it a row of values for each design, one per point of the curve?
    #[must_use]
    pub fn is_row(self) -> bool {
        self.asks.is_row()
    }

    fn line(self) -> Option<&'static Line> {
        LINES.iter().find(|line| line.asks == self.asks)
    }
}

fn line(name: &str) -> Option<&'static Line> {
    LINES.iter().find(|line| line.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_output_has_one_name() {
        let mut seen = std::collections::HashSet::new();
        for output in Output::all() {
            assert_eq!(Output::parse(&output.name()).unwrap(), output);
            assert!(seen.insert(output.name()) && !output.doc().is_empty(), "{output:?}");
        }
    }

    #[test]
    fn what_is_no_output_is_refused_with_what_was_meant() {
        for (name, meant) in
            [("rear.ridr_sag", Some("rear.rider_sag")), ("trails", Some("trail")), ("trial.rear", None)]
        {
            let Err(SweepError::Output { found, suggestion, .. }) = Output::parse(name) else { panic!("{name}") };
            assert_eq!((found.as_str(), suggestion.as_deref()), (name, meant));
        }
        // An end where none belongs, and none where one does.
        for name in ["rear.trail", "rider_sag"] {
            let Err(SweepError::Output { found, wanted, .. }) = Output::parse(name) else { panic!("{name}") };
            assert!(found == name && wanted.contains("rear.rider_sag") && wanted.contains("trail"), "{wanted}");
        }
    }
}
