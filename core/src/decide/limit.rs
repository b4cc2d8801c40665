//! What keeps a spring from landing both sags more often, and what that costs.

use crate::decide::adviser::Adviser;
use crate::decide::chances::{Aim, Moved, Way};
use crate::decide::search::Settable;
use crate::decide::set::Set;
use crate::infer::probability::normal_cdf;
use crate::spring::{Adjuster, PRELOADS};
use crate::units::{Length, Quantity, Share};

/// A limit that costs less than this is not spoken of: a few points.
const FEW: f64 = 0.03;

/// What it is.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(tag = "limit", rename_all = "snake_case")
)]
#[non_exhaustive]
pub enum LimitKind {
    /// Less preload would do, but the spring would hang loose at full extension.
    Loose,
    /// Less preload would do, but the adjuster starts there.
    AdjusterStarts {
        /// Its least preload.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        at: Length,
    },
    /// More preload would do, but the adjuster ends there.
    AdjusterEnds {
        /// Its most preload.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        at: Length,
    },
    /// More preload would do, but the spring would go solid before the end of travel.
    Solid,
    /// With the rider sag right the free sag is not.
    FreeSag {
        /// The free sag that the stated rider sag leaves.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        leaves: Length,
        /// Is that too much, and the spring too stiff, or too little, and the spring too soft?
        too_much: bool,
    },
    /// The rider sag cannot be set closer than the tape reads and the collar stops.
    Tape,
    /// No preload carries the rider.
    NoPreload,
    /// The best preload is more than any collar or spacer gives.
    BeyondCollars {
        /// The most that one gives.
        #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
        most: Length,
    },
}

impl LimitKind {
    pub(crate) fn beyond_collars() -> Self {
        Self::BeyondCollars { most: Length::from_si(PRELOADS[1]) }
    }
}

/// A limit with what it costs.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Limit {
    /// What it is.
    #[cfg_attr(feature = "serde", serde(flatten))]
    pub kind: LimitKind,
    /// Chance that both sags land which it takes.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub cost: Share,
}

impl Limit {
    /// What leaves a spring without a setting.
    pub(crate) fn no_setting(kind: LimitKind) -> Self {
        Self { kind, cost: Share::from_si(1.0) }
    }
}

impl Adviser {
    /// What would be gained without ends of the adjuster; then without a wanted free sag; the rest is the tape.
    pub(crate) fn limits(&self, set: &Set, way: Way, found: f64, aim: &Aim, adjuster: &Adjuster) -> Vec<Limit> {
        let Set { chances, settable, change, .. } = set;
        let mut limits = Vec::new();
        let mut add = |kind, cost: f64| {
            if cost > FEW {
                limits.push(Limit { kind, cost: Share::from_si(cost) });
            }
        };
        let mut last = set.last;
        let endless = chances.top(way, &settable.endless(), aim, Moved::default(), &mut last);
        let ends = settable.ends;
        let near_end = endless.change < ends.0 || endless.change > ends.1;
        let left = if near_end { endless.probability } else { found };
        add(self.end_kind(endless.change < ends.0, settable, adjuster), left - found);
        let [rider, free] = chances.slopes;
        let dead_on = change.value + (aim.value - chances.rider) / rider;
        let leaves = chances.free + free * (dead_on - chances.change);
        let middle = f64::midpoint(aim.free.0, aim.free.1);
        let too_much = if middle.is_finite() { leaves > middle } else { aim.free.1.is_finite() };
        let spread = if way == Way::ReRead { chances.read.rider } else { chances.turned.rider };
        let half = 0.5 * (aim.rider.1 - aim.rider.0) / spread.max(f64::MIN_POSITIVE);
        let rider_alone = 2.0 * normal_cdf(half) - 1.0;
        add(LimitKind::FreeSag { leaves: Length::from_si(leaves), too_much }, rider_alone - left);
        add(LimitKind::Tape, 1.0 - rider_alone);
        limits
    }

    fn end_kind(&self, wants_less: bool, settable: &Settable, adjuster: &Adjuster) -> LimitKind {
        if wants_less {
            return match adjuster.least_preload().filter(|least| least.si() > 0.0) {
                Some(at) => LimitKind::AdjusterStarts { at },
                None => LimitKind::Loose,
            };
        }
        if settable.open {
            return LimitKind::beyond_collars();
        }
        let most = settable.ends.1;
        match adjuster.most_preload().filter(|at| (*at - self.solved().main.preload).si() <= most) {
            Some(at) => LimitKind::AdjusterEnds { at },
            None => LimitKind::Solid,
        }
    }
}
