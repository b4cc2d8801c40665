//! Rear-end designs side by side, under one load: what another linkage, shock or spring changes.
//!
//! Sag is where `F_w(z) = W` from full extension on, with each design's own springs. The spring for unchanged sag solves
//! `MR·(a·G(s) + R(s)) = W` at the first design's sag for the factor `a` on the main springs' rates, preload unchanged; `G` are
//! the main springs, `R` gas and stops. Ride height is compared by the axle's height in the axes of the drawing, so all
//! designs must be drawn in the same axes.

use crate::error::Result;
use crate::units::{Force, Length, MotionRatio, Quantity, Share, SpringRate, WheelRate, check};
use crate::wheel::{EndKernel, RearEnd, Wheel};

/// A design under the load.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Compared {
    /// Its name.
    pub name: String,
    /// Wheel travel from full extension to the end of stroke.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub full_travel: Length,
    /// Motion ratio at full extension and at full compression; their inverses are the leverage ratios.
    pub motion_ratio: [MotionRatio; 2],
    /// Progression over the whole travel.
    pub progression: Share,
    /// Wheel force at full compression.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub end_force: Force,
    /// Where it settles; `None` when the load leaves it on a stop.
    pub sag: Option<AtSag>,
    /// Rate of the main springs together that brings back the first design's sag at the preload they have; `None` when no
    /// spring does, or the first design does not settle.
    pub spring_for_same_sag: Option<SpringRate>,
}

/// A design where it settles.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct AtSag {
    /// Sag with its own springs.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// Motion ratio there.
    pub motion_ratio: MotionRatio,
    /// Wheel rate there, the geometric term included.
    pub wheel_rate: WheelRate,
    /// Shock stroke left.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub stroke_left: Length,
    /// How much higher the frame stands over the axle than in the first design; `None` when that does not settle.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub ride_height_change: Option<Length>,
}

/// Compares designs under one load; changes are against the first.
///
/// # Errors
/// When the load is not finite or below zero.
pub fn compare(designs: &[(&str, &RearEnd)], load: Force) -> Result<Vec<Compared>> {
    check::not_negative("load", load)?;
    let reference = match designs.first() {
        Some((_, first)) => settled(first, load)?.map(|state| state.travel.si()),
        None => None,
    };
    let reference_height = match (designs.first(), reference) {
        (Some((_, first)), Some(travel)) => axle_height(first, travel),
        _ => None,
    };
    designs.iter().map(|(name, end)| compared(name, end, load, reference, reference_height)).collect()
}

/// Height of the axle in the axes of the drawing; `None` for a measured linkage.
fn axle_height(end: &RearEnd, travel: f64) -> Option<f64> {
    end.axle_point(travel).map(|axle| axle.at[1])
}

fn settled(end: &RearEnd, load: Force) -> Result<Option<crate::wheel::WheelState>> {
    Ok(end.travel_under(load)?.state().copied())
}

fn compared(
    name: &str,
    end: &RearEnd,
    load: Force,
    reference: Option<f64>,
    reference_height: Option<f64>,
) -> Result<Compared> {
    let full = end.full_travel();
    let (start, last) = (end.at(Length::from_si(0.0))?, end.at(full)?);
    let sag = settled(end, load)?.map(|state| AtSag {
        travel: state.travel,
        motion_ratio: state.motion_ratio,
        wheel_rate: state.wheel_rate,
        stroke_left: end.shock().full_stroke() - state.stroke,
        ride_height_change: reference_height
            .zip(axle_height(end, state.travel.si()))
            .map(|(height, own)| Length::from_si(height - own)),
    });
    Ok(Compared {
        name: name.to_owned(),
        full_travel: full,
        motion_ratio: [start.motion_ratio, last.motion_ratio],
        progression: Share::from_si(last.motion_ratio.si() / start.motion_ratio.si() - 1.0),
        end_force: last.wheel_force,
        sag,
        spring_for_same_sag: reference.and_then(|travel| spring_for(end, travel, load.si())),
    })
}

/// Total main spring rate that carries a load at a travel, preload unchanged.
fn spring_for(end: &RearEnd, travel: f64, load: f64) -> Option<SpringRate> {
    let springs = end.main_spring()?;
    if travel > end.full_travel().si() {
        return None;
    }
    let motion = end.motion(travel);
    let needed = load / motion.ratio - end.rest_part(motion.stroke).force;
    let factor = needed / end.spring_part(motion.stroke).force;
    (factor.is_finite() && factor > 0.0).then(|| springs.rate * factor)
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::wheel::Tunable;

    fn rear() -> RearEnd {
        crate::Bike::from_toml(crate::demo::PATROL).unwrap().rear().unwrap().clone()
    }

    fn longer_link(end: &RearEnd) -> RearEnd {
        let linkage = end.linkage().unwrap();
        let mechanism = linkage.mechanism().with_point("link_frame", {
            let [x, z] = linkage.mechanism().point("link_frame").unwrap();
            [x, z + Length::from_si(0.004)]
        });
        end.with_mechanism(mechanism.unwrap()).unwrap()
    }

    #[test]
    fn a_design_against_itself_changes_nothing() {
        let end = rear();
        let load = Force::from_si(1100.0);
        let rows = compare(&[("now", &end), ("again", &end)], load).unwrap();
        let sag = rows[1].sag.unwrap();
        assert_eq!(rows[0].sag, rows[1].sag);
        assert_eq!(sag.ride_height_change.unwrap().si(), 0.0);
        let now = end.main_spring().unwrap().rate;
        assert!((rows[1].spring_for_same_sag.unwrap() / now - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_spring_for_the_same_sag_gives_it() {
        let (now, changed) = (rear(), longer_link(&rear()));
        let load = Force::from_si(1100.0);
        let rows = compare(&[("now", &now), ("longer", &changed)], load).unwrap();
        let [before, after] = [rows[0].sag.unwrap(), rows[1].sag.unwrap()];
        assert!((before.travel - after.travel).si().abs() > 1e-4, "the change is felt");
        let spring = changed.main_spring().unwrap();
        let rate = rows[1].spring_for_same_sag.unwrap() * (1.0 / spring.each.len() as f64);
        let fitted = changed.with_spring_rate(rate, spring.preload).unwrap();
        let sag = compare(&[("fitted", &fitted)], load).unwrap()[0].sag.unwrap();
        assert!((sag.travel - before.travel).si().abs() < 1e-9, "{:?} {:?}", sag.travel, before.travel);
    }

    #[test]
    fn a_load_beyond_the_springs_leaves_no_sag() {
        let end = rear();
        let rows = compare(&[("now", &end)], Force::from_si(1e5)).unwrap();
        assert_eq!((rows[0].sag, rows[0].spring_for_same_sag), (None, None));
        let fault = compare(&[("now", &end)], Force::from_si(f64::NAN)).unwrap_err().to_string();
        assert_eq!(fault, "load: NaN is not a finite force");
        assert_eq!(compare(&[], Force::from_si(1.0)).unwrap(), []);
    }
}
