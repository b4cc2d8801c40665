//! What keeps the rear wheel from turning when the ground pulls at it, and so how that pull works on the suspension.
//!
//! A force `X` along the ground does the work `X·(dx/dz − R·dψ/dz)` per travel: the axle's own way forward, less what the
//! contact goes back while the wheel turns nose down by `ψ` against the frame.
//!
//! - Brake on the swingarm: the wheel turns with it, `dψ/dz = 1/(x_pivot − x_axle)`.
//! - Brake held by a rod parallel to the swingarm, or any torque that ends in the frame: `dψ/dz = 0`.
//! - Chain: the engine's sprocket stands still, so the tight run keeps its length, `r·dψ = −t·dA`, with its direction `t`
//!   from the rear sprocket to the front one.
//!
//! The last is the usual construction of the squat line through the crossing of chain and swingarm, in another form
//! (Cossalter, *Motorcycle Dynamics*, ch. 6; Foale, *Motorcycle Handling and Chassis Design*, ch. 9).

use crate::wheel::AxlePoint;

/// What carries the torque of the rear wheel, in SI units and frame axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Reaction {
    Frame,
    Swingarm { pivot: [f64; 2] },
    Chain { sprocket: [f64; 2], engine_radius: f64, wheel_radius: f64 },
}

impl Reaction {
    /// Turn of the wheel against the frame, nose down, per travel.
    pub(super) fn spin(&self, axle: &AxlePoint) -> f64 {
        let away = |from: [f64; 2]| [from[0] - axle.at[0], from[1] - axle.at[1]];
        match *self {
            Self::Frame => 0.0,
            Self::Swingarm { pivot } => 1.0 / away(pivot)[0],
            Self::Chain { sprocket, engine_radius, wheel_radius } => {
                let [dx, dz] = away(sprocket);
                let apart = dx.hypot(dz);
                // The tight upper run leaves both sprockets on top, turned from the line of centres by the difference of
                // their radii.
                let sin = (wheel_radius - engine_radius) / apart;
                let cos = (1.0 - sin * sin).sqrt();
                let tangent = [(dx * cos + dz * sin) / apart, (dz * cos - dx * sin) / apart];
                -(tangent[0] * axle.slope + tangent[1]) / wheel_radius
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::bike;
    use super::*;
    use crate::units::Quantity;
    use crate::wheel::EndKernel;

    /// Differences over 10 µm of lengths known to 1e-16 m.
    const DIFFERENCE: f64 = 1e-7;
    const STEP: f64 = 1e-5;

    const CHAIN: Reaction = Reaction::Chain { sprocket: [0.085, 0.012], engine_radius: 0.033, wheel_radius: 0.105 };

    /// The wheel turns as much as lets a chain keep its length: tight run, and what lies on each sprocket.
    #[test]
    fn the_chain_keeps_its_length() {
        let (_, rear) = bike();
        let length = |travel: f64| {
            let at = rear.axle_point(travel).unwrap().at;
            let (dx, dz) = (0.085 - at[0], 0.012 - at[1]);
            let apart = dx.hypot(dz);
            let normal = dz.atan2(dx) - ((0.105_f64 - 0.033) / apart).asin();
            // A run that points further up leaves more chain on the rear sprocket and less on the front one.
            (apart * apart - (0.105_f64 - 0.033).powi(2)).sqrt() + (0.105 - 0.033) * -normal
        };
        for travel in [0.02, 0.09, 0.15] {
            let pulled = (length(travel + STEP) - length(travel - STEP)) / (2.0 * STEP);
            let spin = CHAIN.spin(&rear.axle_point(travel).unwrap());
            assert!((spin * 0.105 - pulled).abs() < DIFFERENCE, "{travel}: {} {pulled}", spin * 0.105);
        }
    }

    /// The squat line: the contact moves square to the line to where chain and swingarm cross.
    #[test]
    fn the_contact_turns_about_the_crossing_of_chain_and_swingarm() {
        /// Lines that cross metres away.
        const CROSSING: f64 = 1e-9;
        let (_, rear) = bike();
        let axle = rear.axle_point(0.09).unwrap();
        let [pivot_x, pivot_z] = rear.swingarm_pivot().unwrap().map(Quantity::si);
        let (dx, dz) = (0.085 - axle.at[0], 0.012 - axle.at[1]);
        let apart = dx.hypot(dz);
        let tilt = dz.atan2(dx) - ((0.105_f64 - 0.033) / apart).asin();
        let top = [axle.at[0] - 0.105 * tilt.sin(), axle.at[1] + 0.105 * tilt.cos()];
        let arm = [pivot_x - axle.at[0], pivot_z - axle.at[1]];
        let cross = |a: [f64; 2], b: [f64; 2]| a[0] * b[1] - a[1] * b[0];
        let run = [tilt.cos(), tilt.sin()];
        let along = cross([axle.at[0] - top[0], axle.at[1] - top[1]], arm) / cross(run, arm);
        let crossing = [top[0] + along * run[0], top[1] + along * run[1]];
        let radius = 0.335;
        let contact = [axle.at[0] - crossing[0], axle.at[1] - radius - crossing[1]];
        let moves = axle.slope - radius * CHAIN.spin(&axle);
        assert!((moves + contact[1] / contact[0]).abs() < CROSSING, "{moves} {contact:?}");
        // Brake on the swingarm: the same about the pivot.
        let braked = Reaction::Swingarm { pivot: [pivot_x, pivot_z] };
        let contact = [axle.at[0] - pivot_x, axle.at[1] - radius - pivot_z];
        assert!((axle.slope - radius * braked.spin(&axle) + contact[1] / contact[0]).abs() < CROSSING);
    }
}
