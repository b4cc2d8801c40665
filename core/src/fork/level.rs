//! Oil level as the unknown: the level for a wanted force, and the level that makes up for another spring.
//!
//! One change of level `δ` for every leg with air. Force and work fall as the air grows, so either wish is one monotone
//! equation in `δ`, solved by bisection between the highest and the lowest oil permitted.

use crate::axial::AxialElement;
use crate::error::{GasError, Result, SpringError};
use crate::gas::{ForkAir, MOST_LEVEL};
use crate::record::Range;
use crate::solve::try_turning;
use crate::units::{Force, Length, Quantity, brief, check, show};

use super::{Fork, ForkLeg};

/// A change of oil level that makes up for a change of spring over a part of the stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct LevelOffset {
    /// Change of oil level in every leg with air; below zero is more oil.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub change: Length,
    /// Greatest force that is left over within the part: changed fork less the one it should feel like.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub difference: Force,
    /// Stroke at which it is left over.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub at: Length,
}

/// Least air between oil and full compression that the search goes to, in m of level: beyond it the force is absurd.
const LEAST_AIR: f64 = 1e-5;

impl Fork {
    /// The fork with this much more (or, below zero, less) oil level in every leg with air. More level is more air.
    ///
    /// # Errors
    /// [`GasError::NoAir`] without any air, [`GasError::AirGapCloses`], or a level out of range.
    pub fn with_oil_level_change(&self, change: Length) -> Result<Self> {
        self.airs()?;
        self.with_legs(|leg| match leg.air() {
            Some(air) => Ok(leg.clone().with_air(air.with_oil_level(air.oil_level() + change)?)),
            None => Ok(leg.clone()),
        })
    }

    /// The change of oil level that gives this force of the whole fork, springs and stops included, at full stroke reached
    /// fast from rest at a stroke. `permitted` are the levels that the fork may be filled to.
    ///
    /// # Errors
    /// [`GasError::LevelOutOfReach`] with what the permitted levels do give; [`GasError::NoAir`]; a rest outside the travel.
    pub fn oil_level_change_for_force(&self, force: Force, rest: Length, permitted: &Range) -> Result<Length> {
        check::finite("force", force)?;
        self.solve_level(permitted, force, |fork| Ok(fork.fast_at(rest, fork.full_stroke)?.force))
    }

    /// The change of oil level with which this fork (another spring fitted) does the same work as `like` over a part of the
    /// stroke, both fast from rest at one stroke: the same mean force there.
    ///
    /// # Errors
    /// [`GasError::LevelOutOfReach`] when no permitted level does; [`GasError::NoAir`]; a part that is empty or reaches
    /// beyond the stroke; a rest outside it.
    pub fn oil_level_change_to_match(
        &self,
        like: &Self,
        rest: Length,
        part: &Range,
        permitted: &Range,
    ) -> Result<LevelOffset> {
        /// Strokes at which the force left over is looked at.
        const LOOKS: u32 = 200;
        for full in [self.full_stroke, like.full_stroke] {
            if part.to > full {
                return Err(SpringError::OutOfStroke {
                    part: "part of the stroke".to_owned(),
                    found: brief(part.to),
                    full: brief(full),
                }
                .into());
            }
        }
        let work = |fork: &Self| Ok(fork.fast_at(rest, part.to)?.energy - fork.fast_at(rest, part.from)?.energy);
        let change = self.solve_level(permitted, work(like)?, work)?;
        let changed = self.with_oil_level_change(change)?;
        let left = |step: u32| -> Result<_> {
            let at = part.from + (part.to - part.from) * (f64::from(step) / f64::from(LOOKS));
            Ok((changed.fast_at(rest, at)?.force - like.fast_at(rest, at)?.force, at))
        };
        let (mut difference, mut at) = (Force::from_si(0.0), part.from);
        for look in (0..=LOOKS).map(left) {
            let (force, stroke) = look?;
            if force.si().abs() > difference.si().abs() {
                (difference, at) = (force, stroke);
            }
        }
        Ok(LevelOffset { change, difference, at })
    }

    fn airs(&self) -> Result<Vec<&ForkAir>> {
        let airs: Vec<&ForkAir> = self.legs.iter().filter_map(ForkLeg::air).collect();
        if airs.is_empty() { Err(GasError::NoAir { part: "fork".to_owned() }.into()) } else { Ok(airs) }
    }

    /// Bisection on a quantity that falls as the level grows.
    fn solve_level<Q: Quantity>(
        &self,
        permitted: &Range,
        wanted: Q,
        of: impl Fn(&Self) -> Result<Q>,
    ) -> Result<Length> {
        /// Halvings that bring 0.5 m below 1e-15 m, where a level is exact to the rounding of its forces.
        const HALVINGS: usize = 50;
        let airs = self.airs()?;
        let least =
            |air: &&ForkAir| permitted.from.si().max(air.least_oil_level().si() + LEAST_AIR) - air.oil_level().si();
        let most = |air: &&ForkAir| permitted.to.si().min(MOST_LEVEL) - air.oil_level().si();
        let (low, high) = (
            airs.iter().map(least).fold(f64::NEG_INFINITY, f64::max),
            airs.iter().map(most).fold(f64::INFINITY, f64::min),
        );
        let levels = |change: f64| {
            let level = |air: &&ForkAir| show(air.oil_level() + Length::from_si(change), "mm", 1);
            airs.iter().map(level).collect::<Vec<_>>().join(" and ")
        };
        let value = |change: f64| of(&self.with_oil_level_change(Length::from_si(change))?);
        check::not_negative("range of permitted levels", Length::from_si(high - low))?;
        let (at_low, at_high) = (value(low)?, value(high)?);
        if !(at_high.si()..=at_low.si()).contains(&wanted.si()) {
            let unit = Q::KIND.units[0].symbol;
            return Err(GasError::LevelOutOfReach {
                wanted: show(wanted, unit, 1),
                least_air: levels(low),
                at_least_air: show(at_low, unit, 1),
                most_air: levels(high),
                at_most_air: show(at_high, unit, 1),
            }
            .into());
        }
        let above = |change| Ok::<_, crate::Error>(value(change)?.si() > wanted.si());
        let [low, high] = try_turning(above, [low, high], HALVINGS)?;
        Ok(Length::from_si(f64::midpoint(low, high)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gas::ForkAirParts;
    use crate::spring::Preloaded;
    use crate::units::{SpringRate, parse};

    fn mm(length: f64) -> Length {
        Length::from_si(length * 1e-3)
    }

    fn fork(rate: f64, level: f64) -> Fork {
        let air =
            ForkAir::new(ForkAirParts { sealing_diameter: mm(47.0), bore: mm(43.0), oil_level: mm(level) }).unwrap();
        let spring = Preloaded::linear(SpringRate::from_si(rate * 1e3), mm(6.0)).unwrap();
        let leg = ForkLeg::new().with_spring(spring).with_air(air);
        Fork::new(mm(290.0), parse("26.5 deg").unwrap(), [leg.clone(), leg]).unwrap()
    }

    fn levels(from: f64, to: f64) -> Range {
        Range::new(mm(from), mm(to)).unwrap()
    }

    #[test]
    fn the_level_for_a_force_gives_that_force() {
        let wanted = Force::from_si(5500.0);
        let change = fork(4.8, 105.0).oil_level_change_for_force(wanted, mm(80.0), &levels(60.0, 200.0)).unwrap();
        let found = fork(4.8, 105.0).with_oil_level_change(change).unwrap().fast_at(mm(80.0), mm(290.0)).unwrap().force;
        // The force falls by tens of N per mm of level, so 1e-15 m of level is far below 1e-6 N.
        assert!((found - wanted).si().abs() < 1e-6, "{found:?}");
    }

    #[test]
    fn levels_beyond_the_limits_are_refused_with_what_the_limits_give() {
        let fault = fork(4.8, 105.0)
            .oil_level_change_for_force(Force::from_si(9000.0), mm(80.0), &levels(90.0, 150.0))
            .unwrap_err();
        let text = fault.to_string();
        assert!(
            text.contains("9000.0 N") && text.contains("90.0 mm and 90.0 mm") && text.contains("150.0 mm"),
            "{text}"
        );
        let dry = Fork::new(mm(290.0), parse("26.5 deg").unwrap(), [ForkLeg::new(), ForkLeg::new()]).unwrap();
        let fault = dry.oil_level_change_for_force(Force::from_si(5000.0), mm(80.0), &levels(90.0, 150.0)).unwrap_err();
        assert!(fault.to_string().contains("no air"));
    }

    #[test]
    fn a_softer_spring_is_made_up_for_by_more_oil() {
        let (now, soft) = (fork(4.8, 105.0), fork(4.6, 105.0));
        let part = Range::new(mm(150.0), mm(280.0)).unwrap();
        let offset = soft.oil_level_change_to_match(&now, mm(80.0), &part, &levels(60.0, 200.0)).unwrap();
        assert!(offset.change.si() < 0.0);
        let changed = soft.with_oil_level_change(offset.change).unwrap();
        let fast = |fork: &Fork, s: f64| fork.fast_at(mm(80.0), mm(s)).unwrap();
        let work = |fork: &Fork| (fast(fork, 280.0).energy - fast(fork, 150.0).energy).si();
        assert!((work(&changed) - work(&now)).abs() < 1e-9 * work(&now));
        // Air is the more curved of the two: too little early, too much late.
        assert!(fast(&changed, 150.0).force < fast(&now, 150.0).force);
        assert!(fast(&changed, 280.0).force > fast(&now, 280.0).force);
        assert!(offset.at == mm(280.0) && offset.difference.si() > 0.0, "{offset:?}");
        let same = now.oil_level_change_to_match(&now, mm(80.0), &part, &levels(60.0, 200.0)).unwrap();
        assert!(same.change.si().abs() < 1e-12);
        assert!(
            soft.oil_level_change_to_match(
                &now,
                mm(80.0),
                &Range::new(mm(150.0), mm(300.0)).unwrap(),
                &levels(60.0, 200.0)
            )
            .is_err()
        );
    }

    #[test]
    fn what_the_limits_themselves_give_is_within_reach() {
        let (fork, permitted) = (fork(4.8, 105.0), levels(60.0, 200.0));
        let full = |fork: &Fork| fork.fast_at(mm(80.0), mm(290.0)).unwrap().force;
        for limit in [60.0, 200.0] {
            let change = mm(limit) - mm(105.0);
            let at_limit = full(&fork.with_oil_level_change(change).unwrap());
            let found = fork.oil_level_change_for_force(at_limit, mm(80.0), &permitted).unwrap();
            // Fifty halvings of 140 mm.
            assert!((found - change).si().abs() < 1e-12, "{limit}: {found:?}");
            let beyond = at_limit + Force::from_si(if limit < 100.0 { 1e-6 } else { -1e-6 });
            assert!(fork.oil_level_change_for_force(beyond, mm(80.0), &permitted).is_err(), "{limit}");
        }
    }

    #[test]
    fn levels_change_in_the_legs_with_air_alone() {
        let one = fork(4.8, 105.0);
        let mixed = Fork::new(mm(290.0), parse("26.5 deg").unwrap(), [one.legs()[0].clone(), ForkLeg::new()]).unwrap();
        let changed = mixed.with_oil_level_change(mm(7.0)).unwrap();
        assert!((changed.legs()[0].air().unwrap().oil_level() - mm(112.0)).si().abs() < 1e-12);
        assert_eq!(changed.legs()[1], ForkLeg::new());
    }
}
