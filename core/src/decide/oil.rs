//! The oil level that goes with another fork spring: the one that keeps the force at full travel, reached fast from where the
//! rider sits, at what it is today.

use crate::axial::AxialElement;
use crate::bike::Bike;
use crate::decide::{Act, Decision};
use crate::record::{Direction, End, Range};
use crate::units::{Force, Length, Quantity};

/// Levels that a fork is filled to (m): further in the air is nearly gone, further out the damper draws air (common practice,
/// no source).
const FILLED: [f64; 2] = [0.05, 0.22];

/// An oil level to go with a spring.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct OilLevel {
    /// Of the first leg with air, spring out, fully compressed.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub level: Length,
    /// Change of the level of each leg; above zero, more air.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub change: Length,
    /// Force of the fork at full travel that it keeps.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub force: Force,
}

impl OilLevel {
    /// For the spring that is advised; `None` where none is, where the air is not stated, and where no level that a fork is filled
    /// to keeps the force.
    pub(crate) fn of(bike: &Bike, decision: &Decision) -> Option<Self> {
        let Act::Fit { rate } = decision.action()?.act else { return None };
        if decision.end != End::Front {
            return None;
        }
        let fork = bike.front().ok()?.fork();
        let level = fork.legs().iter().find_map(|leg| leg.stated_air())?.oil_level();
        let outcome = decision.choice(rate)?.outcome?;
        let along = match decision.direction {
            Direction::AlongFork => 1.0,
            _ => fork.motion_ratio().si(),
        };
        let full = fork.full_stroke();
        let rest = |sag: Length| (sag * along).max(Length::from_si(0.0)).min(full);
        let force = fork.fast_at(rest(decision.today.rider_sag.value), full).ok()?.force;
        let changed = fork.with_spring_rate(rate, outcome.preload.value).ok()?;
        let [from, to] = FILLED.map(Length::from_si);
        let permitted = Range { from, to };
        let change = changed.oil_level_change_for_force(force, rest(outcome.rider_sag.value), &permitted).ok()?;
        Some(Self { level: level + change, change, force })
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::demo::PATROL;
    use crate::units::SpringRate;

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
        let fork = bike.front().unwrap().fork();
        let outcome = decision.choice(rate).unwrap().outcome.unwrap();
        let fitted = fork.with_spring_rate(rate, outcome.preload.value).unwrap();
        let filled = fitted.with_oil_level_change(oil.change).unwrap();
        let there = filled.fast_at(outcome.rider_sag.value, fork.full_stroke()).unwrap().force;
        // The search ends within a micrometre of level, a newton of force at most.
        assert!((there - oil.force).si().abs() < 1.0, "{there:?} {oil:?}");
    }
}
