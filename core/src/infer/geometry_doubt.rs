//! How surely rake and trail of the standing bike are known, from what the readings leave open of the sags.
//!
//! `u(θ) = √(u_f² + u_r²)/p`, `u(ε)² = u(ε₀)² + u(θ)²`, `c = (R·sin ε − d)/cos ε`, `u(c) = (R − d·sin ε)/cos² ε·u(ε)`
//!
//! Vertical sags of front and rear with their standard uncertainties `u_f` and `u_r` from the [fit](crate::infer::Fit), taken as
//! independent; wheelbase `p`, stated rake `ε₀`, height `R` of the front axle, fork offset `d`. First order: a pitch of a degree. Fork offset,
//! wheel radii and the places of the axles are taken as exact, as the bike file has them. A move of the tubes or the shock itself is set
//! by the tape, and is not in it.
//!
//! References: JCGM 100:2008, 5.1; Cossalter, *Motorcycle Dynamics*, ch. 1 (trail).

use crate::bike::WholeBike;
use crate::bike::settling::Stance;
use crate::error::{BikeError, Result};
use crate::record::{End, Load};
use crate::units::{Angle, Length, Quantity};

/// Standard uncertainties of a stance.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct GeometryDoubt {
    /// Of the rake.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub rake: Angle,
    /// Of the trail.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub trail: Length,
}

impl WholeBike<'_> {
    /// How surely rake and trail are known of a stance under a load: before a correction and after it.
    ///
    /// # Errors
    /// As [`Bike::fit_end`](crate::Bike::fit_end) of either end; [`BikeError::Missing`] for a load that was not read.
    pub fn geometry_doubt(&self, load: &Load, stance: &Stance) -> Result<GeometryDoubt> {
        let bike = self.bike();
        let sag = |end: End| -> Result<f64> {
            let fit = bike.fit_end(end)?;
            let found = fit.loads.iter().find(|fitted| fitted.load == *load);
            let lacks = || BikeError::Missing {
                part: format!("readings of the {end} under {load}"),
                purpose: "how surely the bike stands there comes from them".to_owned(),
            };
            Ok(found.ok_or_else(lacks)?.sag.standard_uncertainty.si())
        };
        let stated = bike.front()?.fork().ok().and_then(|fork| fork.rake_uncertainty()).map_or(0.0, Quantity::si);
        let rake = stated.hypot(sag(End::Front)?.hypot(sag(End::Rear)?) / stance.wheelbase.si());
        let (sin, cos) = stance.rake.si().sin_cos();
        let offset = stance.axle_height.front.si() * sin - stance.normal_trail.si();
        let slope = (stance.axle_height.front.si() - offset * sin) / (cos * cos);
        Ok(GeometryDoubt { rake: Angle::from_si(rake), trail: Length::from_si(slope.abs() * rake) })
    }
}

#[cfg(all(test, feature = "serde"))]
mod tests {
    use super::*;
    use crate::bike::steering::Steering;
    use crate::demo::PATROL;
    use crate::{Bike, units::parse};

    /// The bike stood on its wheels again with one sag off by its uncertainty, by a change of preload that makes it.
    #[test]
    fn doubt_of_the_sags_is_doubt_of_the_trail() {
        /// Pitch moves wheelbase, loads and the other end too, and the rake's own slope: some per cent of the change.
        const LEFT_OUT: f64 = 0.1;
        let bike = Bike::from_toml(PATROL).unwrap();
        let load = &bike.parts().rider_load;
        let stance = bike.whole().settle(load).unwrap().stance;
        let doubt = bike.whole().geometry_doubt(load, &stance).unwrap();
        let moved = |key: &str, preload: &str| {
            let changed = bike.correct(&[(key, preload)]).unwrap().whole().settle(load).unwrap().stance;
            ((changed.trail - stance.trail).si(), (changed.travel.rear - stance.travel.rear).si())
        };
        let (trail, travel) = moved("rear.shock.spring.preload", "13.5 mm");
        let fits = |end| bike.fit_end(end).unwrap();
        let sag = |end: End| {
            let fit = fits(end);
            fit.loads.iter().find(|fitted| fitted.load == *load).unwrap().sag.standard_uncertainty.si()
        };
        let per_travel = (trail / travel).abs();
        let expected = per_travel * sag(End::Front).hypot(sag(End::Rear));
        assert!((doubt.trail.si() / expected - 1.0).abs() < LEFT_OUT, "{doubt:?} {expected}");
    }

    #[test]
    fn a_doubtful_rake_is_in_it_and_an_unread_load_is_said() {
        let bike = Bike::from_toml(PATROL).unwrap();
        let load = &bike.parts().rider_load;
        let stance = bike.whole().settle(load).unwrap().stance;
        let sure = bike.whole().geometry_doubt(load, &stance).unwrap();
        let unsure = bike.correct(&[("front.fork.rake_uncertainty", "0.5 deg")]).unwrap();
        let doubt = unsure.whole().geometry_doubt(load, &stance).unwrap();
        assert!(doubt.rake.si() > 0.5_f64.to_radians() && doubt.rake.si() > sure.rake.si());
        // The slope is that of the steering's own derivative.
        let steering = |rake: f64| Steering {
            rake: Angle::from_si(rake),
            fork_offset: parse("55 mm").unwrap(),
            radius: stance.axle_height.front,
        };
        let (rake, step) = (stance.rake.si(), 1e-5);
        let [more, less] = [rake + step, rake - step].map(|rake| steering(rake).trail().unwrap().si());
        assert!((sure.trail.si() / sure.rake.si() - (more - less) / (2.0 * step)).abs() < 1e-6);
    }
}
