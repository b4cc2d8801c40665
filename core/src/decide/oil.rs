//! The oil level that goes with a fork spring: the one that gives the force at full travel, reached fast from where the rider
//! sits, that is wanted; or, with another spring, that keeps it at what it is today.

use crate::axial::AxialElement;
use crate::bike::Bike;
use crate::decide::choice::Outcome;
use crate::decide::verdict::Act;
use crate::record::{Direction, End, Range};
use crate::units::{Force, Length, Quantity};

/// Levels that a fork is filled to (m): further in the air is nearly gone, further out the damper draws air (common practice,
/// no source).
const FILLED: [f64; 2] = [0.05, 0.22];

/// An oil level to go with a spring.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct OilLevel {
    /// Of the first leg with air, spring out, fully compressed.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub level: Length,
    /// Change of the level of each leg; above zero, more air.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub change: Length,
    /// Force of the fork at full travel that is aimed at: as stated among the targets, else today's.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub force: Force,
    /// The force with this level: that aimed at, or what comes nearest to one that no level gives.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub reached: Force,
    /// Is it stated among the targets?
    pub stated: bool,
}

impl OilLevel {
    /// Within this (N) a force is the one that is wanted.
    pub(crate) const EXACT: f64 = 5.0;

    /// For what is advised of an end whose rider sag is `today`; `None` where the air is not stated, and where today's force is to be kept by a spring that stays, or
    /// by a level that no fork is filled to.
    pub(crate) fn of(
        bike: &Bike,
        end: End,
        direction: Direction,
        today: Length,
        act: Act,
        outcome: &Outcome,
    ) -> Option<Self> {
        let stated = bike.parts().targets.front.full_travel_force;
        if end != End::Front || stated.is_none() && !matches!(act, Act::Fit { .. }) {
            return None;
        }
        let fork = bike.front().ok()?.fork().ok()?;
        let level = fork.legs().iter().find_map(|leg| leg.stated_air())?.oil_level();
        let along = match direction {
            Direction::AlongFork => 1.0,
            _ => fork.motion_ratio().si(),
        };
        let full = fork.full_stroke();
        let rest = |sag: Length| (sag * along).max(Length::from_si(0.0)).min(full);
        let force = match stated {
            Some(force) => force,
            None => fork.fast_at(rest(today), full).ok()?.force,
        };
        let changed = match act {
            Act::Fit { rate } => fork.with_spring_rate(rate, outcome.preload.value),
            Act::Leave => Ok(fork.clone()),
            _ => fork.with_spring_change(1.0, outcome.preload_change.value),
        };
        let (changed, sits) = (changed.ok()?, rest(outcome.rider_sag.value));
        let [from, to] = FILLED.map(Length::from_si);
        let of = |change: Length| {
            let reached = changed.with_oil_level_change(change).ok()?.fast_at(sits, full).ok()?.force;
            Some(Self { level: level + change, change, force, reached, stated: stated.is_some() })
        };
        match changed.oil_level_change_for_force(force, sits, &Range { from, to }) {
            Ok(change) => of(change),
            // What is stated and out of reach is come as near to as a fork is filled.
            Err(_) if stated.is_some() => {
                let off = |one: &Self| (one.reached - force).si().abs();
                let bounds = [from, to].into_iter().filter_map(|bound| of(bound - level));
                bounds.min_by(|one, other| off(one).total_cmp(&off(other)))
            }
            Err(_) => None,
        }
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::demo::PATROL;
    use crate::units::{SpringRate, UnitSystem};

    #[test]
    fn the_level_keeps_the_force_at_full_travel() {
        // The rider sag moved out of reach of today's springs: softer ones are wanted, and less air with them.
        let text = PATROL
            .replace(
                "rider_sag = { value = \"55 mm\", tolerance = \"5 mm\" }",
                "rider_sag = { value = \"72 mm\", tolerance = \"4 mm\" }",
            )
            .replace(
                "free_sag  = { from = \"22 mm\", to = \"36 mm\" }",
                "free_sag  = { from = \"30 mm\", to = \"44 mm\" }",
            );
        let bike = Bike::from_toml(&text).unwrap();
        let decision = bike.advise_end(End::Front).unwrap();
        let Some(Act::Fit { rate }) = decision.action().map(|action| action.act) else {
            panic!("{:?}", decision.action())
        };
        let oil = decision.oil_level.unwrap();
        let softer = rate < SpringRate::from_si(4.4e3);
        assert_eq!(oil.change < Length::from_si(0.0), softer, "{oil:?}");
        let fork = bike.front().unwrap().fork().unwrap();
        let outcome = decision.choice(rate).unwrap().outcome.unwrap();
        let fitted = fork.with_spring_rate(rate, outcome.preload.value).unwrap();
        let filled = fitted.with_oil_level_change(oil.change).unwrap();
        let there = filled.fast_at(outcome.rider_sag.value, fork.full_stroke()).unwrap().force;
        // The search ends within a micrometre of level, a newton of force at most.
        assert!((there - oil.force).si().abs() < 1.0, "{there:?} {oil:?}");
    }
    #[test]
    fn a_stated_force_is_given_or_come_near_to() {
        let wanted = |force: &str| {
            let with = format!("[targets.front]\nfull_travel_force = \"{force}\"");
            let bike = Bike::from_toml(&PATROL.replace("[targets.front]", &with)).unwrap();
            let decision = bike.advise_end(End::Front).unwrap();
            let (oil, said) = (decision.oil_level.unwrap(), decision.reasons(UnitSystem::Metric).join(" "));
            assert!(oil.stated && oil.force == force.parse().unwrap(), "{oil:?}");
            (oil, said)
        };
        let (oil, said) = wanted("4300 N");
        // The search ends within a micrometre of level, a newton of force at most.
        assert!((oil.reached - oil.force).si().abs() < 1.0, "{oil:?}");
        assert!(said.contains("4300 N wanted at full travel"), "{said}");
        // More force takes less air; one that no level gives is come near to, at a bound.
        let (stiffer, _) = wanted("4500 N");
        assert!(stiffer.change < oil.change);
        let (least, said) = wanted("1000 N");
        assert_eq!(least.level, Length::from_si(FILLED[1]));
        assert!(least.reached > least.force && said.contains("comes nearest"), "{said}");
        let rear = PATROL.replace("[targets.rear]", "[targets.rear]\nfull_travel_force = \"4 kN\"");
        let faults = crate::file::check(&rear);
        assert!(faults.len() == 1 && faults[0].key_path == "targets.rear.full_travel_force", "{faults:?}");
    }

    #[test]
    fn a_force_that_no_level_keeps_leaves_no_level_unless_it_was_stated() {
        let bike = Bike::from_toml(PATROL).unwrap();
        let choice = bike.advise_end(End::Front).unwrap().choices.remove(0);
        let outcome = choice.outcome.unwrap();
        let level = |rate: f64, force: Option<Force>| {
            let bike = bike.with(|parts| parts.targets.front.full_travel_force = force).unwrap();
            let act = Act::Fit { rate: SpringRate::from_si(rate) };
            let today = outcome.rider_sag.value;
            OilLevel::of(&bike, End::Front, Direction::AlongFork, today, act, &outcome)
        };
        // A spring a little stiffer takes more air; one of 15 N/mm gives more than today's force whatever the air does.
        let kept = level(4.6e3, None).unwrap();
        assert!(!kept.stated && (kept.reached - kept.force).si().abs() < 1.0, "{kept:?}");
        assert_eq!(level(15e3, None), None);
        let stated = level(15e3, Some(kept.force)).unwrap();
        assert!(
            stated.stated && stated.level == Length::from_si(FILLED[1]) && stated.reached > kept.force,
            "{stated:?}"
        );
    }
}
