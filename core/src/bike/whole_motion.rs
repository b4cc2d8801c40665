//! The whole bike of a file with everything that moves with it, for landings, braking and roads in time.

use super::WholeBike;
use super::landing::{MovingBike, Tied};
use crate::damper::Damper;
use crate::error::Result;
use crate::record::{End, Ends, Load};
use crate::units::{Force, Quantity};

impl<'a> WholeBike<'a> {
    /// A bike under a load, with the dampers and the friction of its file.
    ///
    /// # Errors
    /// As [`moving_end`](Self::moving_end) of both ends, and [`pitch_inertia`](Self::pitch_inertia).
    pub fn moving_bike(&self, load: &Load) -> Result<MovingBike<'a>> {
        self.moving_bike_with(load, Ends { front: None, rear: None }, Ends { front: None, rear: None })
    }

    /// The same with other dampers and friction at the wheels, where they are given.
    ///
    /// # Errors
    /// As [`moving_bike`](Self::moving_bike).
    pub fn moving_bike_with(
        &self,
        load: &Load,
        dampers: Ends<Option<Damper>>,
        friction: Ends<Option<Force>>,
    ) -> Result<MovingBike<'a>> {
        let bike = self.bike();
        let settled = self.settle(load)?;
        let end = |end: End, damper: Option<Damper>| {
            let kernel = bike.end(end)?;
            let at = *settled.stance.travel.at(end);
            let ratio = kernel.stroke_at(at).motion_ratio.si();
            let stated = kernel.friction().map_or(0.0, |friction| friction.force().si() * ratio);
            let friction = friction.at(end).unwrap_or(Force::from_si(stated));
            self.moving_end(end, load, friction, damper)
        };
        let ends = [end(End::Front, dampers.front)?, end(End::Rear, dampers.rear)?];
        let masses = bike.masses()?;
        let scale = |end| Ok::<_, crate::Error>(masses.wheel_mass(end, load)?.value.si());
        let (total, wheelbase) = (scale(End::Front)? + scale(End::Rear)?, settled.stance.wheelbase.si());
        let height = masses.load_height(load)?.si();
        let along = || {
            let dive = self.anti_dive_at_rest(load)?.anti_dive.si();
            let rise = self.anti_rise_at_rest(load)?.anti_rise.si();
            Ok([-dive * height / wheelbase, rise * height / wheelbase])
        };
        let inertia = self.pitch_inertia(load)?.si();
        Ok(MovingBike::put_together(ends, Tied { inertia, wheelbase, total, height, along: along() }))
    }
}
