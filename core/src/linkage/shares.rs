//! Masses along the mechanism, as the wheel feels them.
//!
//! Gravity share `m_g = Σ m_i·dz_i/dz` and inertia share `m_a = Σ m_i·|dr_i/dz|² + I_i·(dθ_i/dz)²`, with the velocities of
//! the mechanism itself (virtual work, and kinetic energy; e.g. Cossalter, *Motorcycle Dynamics*, ch. 5 for reduced
//! masses). They are not the same number: a mass near a pivot counts linearly for one and squared for the other. The
//! shock is a uniform rod between its ends, `m/2·(dz_a + dz_b)` and `m/3·(|v_a|² + v_a·v_b + |v_b|²)`.

use super::real::{Vec2, add, dot, scale, sub, turn};
use super::step::State;
use super::{FRAME, Linkage};
use crate::error::LinkageError;
use crate::units::{Length, Mass, MomentOfInertia, Quantity, check};

/// A mass on a body of the mechanism.
#[derive(Debug, Clone, PartialEq)]
pub struct BodyMass {
    /// The body.
    pub body: String,
    /// Its mass.
    pub mass: Mass,
    /// Its centre of gravity, where it is in the drawing.
    pub centre: [Length; 2],
    /// Its moment of inertia about that centre.
    pub inertia: MomentOfInertia,
}

/// What masses along the mechanism weigh at the wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct MassShares {
    /// Mass whose weight at the axle does the same work.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub gravity: Mass,
    /// Mass that has the same inertia at the axle, moving vertically.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub inertia: Mass,
}

impl Linkage {
    /// Shares of masses at the wheel, at one travel.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`], [`LinkageError::UnknownBody`], and [`LinkageError::Unit`] for masses or inertias
    /// below zero.
    pub fn mass_shares(&self, travel: Length, bodies: &[BodyMass], shock: Mass) -> Result<MassShares, LinkageError> {
        self.check_travel(travel)?;
        let (_, slots) = self.whole.settled(travel.si());
        let shock_mass = check::not_negative("shock mass", shock)?.si();
        let [a, b] = self.shock.map(|end| self.velocity(end, &slots));
        let mut gravity = 0.5 * shock_mass * (a[1] + b[1]);
        let mut inertia = shock_mass / 3.0 * (dot(a, a) + dot(a, b) + dot(b, b));
        for part in bodies {
            let mass = check::not_negative(&format!("mass of {}", part.body), part.mass)?.si();
            let own = check::not_negative(&format!("inertia of {}", part.body), part.inertia)?.si();
            let (moving, rotation) = self.centre_motion(part, &slots)?;
            gravity += mass * moving[1];
            inertia += mass * dot(moving, moving) + own * rotation * rotation;
        }
        Ok(MassShares { gravity: Mass::from_si(gravity), inertia: Mass::from_si(inertia) })
    }

    /// Velocity of a body's centre, and its rotation, per wheel travel.
    fn centre_motion(&self, part: &BodyMass, slots: &[State<f64>]) -> Result<(Vec2<f64>, f64), LinkageError> {
        let mechanism = &self.mechanism;
        let body = self.body_index(&part.body)?;
        let centre = [
            check::finite(&format!("x of the centre of {}", part.body), part.centre[0])?.si(),
            check::finite(&format!("z of the centre of {}", part.body), part.centre[1])?.si(),
        ];
        if part.body == FRAME || mechanism.on_body(body).len() < 2 {
            return Ok(([0.0; 2], 0.0));
        }
        let (first, last) = self.body_axis(body);
        let drawn = sub(mechanism.coordinates(last), mechanism.coordinates(first));
        let arm = sub(centre, mechanism.coordinates(first));
        let lambda = scale(1.0 / dot(drawn, drawn), turn(arm, [drawn[0], -drawn[1]]));
        let moving = self.body_motion(body, slots);
        let relative = sub(self.velocity(last, slots), moving.velocity);
        Ok((add(moving.velocity, turn(lambda, relative)), moving.turn))
    }

    fn state(&self, point: usize, slots: &[State<f64>]) -> State<f64> {
        let drawn = || State::fixed(self.mechanism.coordinates(point));
        self.whole.bound.operand(point).map_or_else(drawn, |operand| operand.state(slots))
    }

    pub(super) fn place(&self, point: usize, slots: &[State<f64>]) -> Vec2<f64> {
        self.state(point, slots).p
    }

    /// `dr/dz` of a point.
    pub(super) fn velocity(&self, point: usize, slots: &[State<f64>]) -> Vec2<f64> {
        let rise = self.state(self.wheel, slots).v[1];
        scale(1.0 / rise, self.state(point, slots).v)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linkage::tests::arrangements::{all, direct_shock, mm, rocker_on_swingarm};

    fn kg(value: f64) -> Mass {
        Mass::from_si(value)
    }

    fn part(body: &str, mass: f64, centre: [f64; 2], inertia: f64) -> BodyMass {
        let inertia = MomentOfInertia::from_si(inertia);
        BodyMass { body: body.to_owned(), mass: kg(mass), centre: centre.map(mm), inertia }
    }

    #[test]
    fn a_mass_at_the_axle_is_itself_and_one_at_the_pivot_nothing() {
        for (name, drawing) in all() {
            let linkage = drawing.linkage().unwrap();
            let carrier =
                linkage.mechanism().bodies().find(|(_, points)| points.contains(&"axle")).unwrap().0.to_owned();
            let axle = drawing.points.iter().find(|(point, _)| *point == "axle").unwrap().1;
            let travel = 0.5 * linkage.full_travel();
            let shares = linkage.mass_shares(travel, &[part(&carrier, 5.0, axle, 0.0)], kg(0.0)).unwrap();
            let slope = linkage.at(travel).unwrap().axle_slope;
            assert!((shares.gravity.si() - 5.0).abs() < 1e-12, "{name}");
            assert!((shares.inertia.si() - 5.0 * (1.0 + slope * slope)).abs() < 1e-11, "{name}");
            let frame = linkage.mass_shares(travel, &[part("frame", 100.0, [1.0, 2.0], 9.0)], kg(0.0)).unwrap();
            assert_eq!((frame.gravity.si(), frame.inertia.si()), (0.0, 0.0));
        }
    }

    #[test]
    fn a_swingarm_turns_about_its_pivot() {
        let linkage = direct_shock().linkage().unwrap();
        let travel = linkage.drawn_travel();
        // Half way along the arm: half the weight, a quarter of the inertia, and I/x² for turning.
        let shares = linkage.mass_shares(travel, &[part("swingarm", 8.0, [-287.5, -82.5], 0.2)], kg(0.0)).unwrap();
        let turning = 1.0 / 0.575;
        assert!((shares.gravity.si() - 4.0).abs() < 1e-12);
        let along = (0.575f64.powi(2) + 0.165f64.powi(2)) / 4.0;
        assert!((shares.inertia.si() - (8.0 * along + 0.2) * turning * turning).abs() < 1e-12);
    }

    #[test]
    fn the_gravity_share_is_the_rate_of_potential_energy() {
        let linkage = rocker_on_swingarm().linkage().unwrap();
        let travel = mm(130.0);
        let bodies = [part("rocker", 1.2, [-224.0, -128.0], 0.002), part("link", 0.3, [-140.5, -141.0], 0.001)];
        let shares = linkage.mass_shares(travel, &bodies, kg(4.0)).unwrap();
        let height = |z: Length| {
            let pose = linkage.pose(z).unwrap();
            let at = |name: &str| pose.iter().find(|(point, _)| *point == name).unwrap().1[1].si();
            // The link's centre halfway; the rocker's is a fixed mix of its three pivots.
            let rocker = (at("rocker_pivot") + at("link_rocker") + at("shock_rocker")) / 3.0;
            1.2 * rocker
                + 0.3 * 0.5 * (at("link_frame") + at("link_rocker"))
                + 4.0 * 0.5 * (at("shock_frame") + at("shock_rocker"))
        };
        let step = mm(0.05);
        let difference = (height(travel + step) - height(travel - step)) / (2.0 * step.si());
        assert!((shares.gravity.si() - difference).abs() < 1e-6, "{} or {difference}", shares.gravity.si());
    }

    #[test]
    fn bad_masses_are_named() {
        let linkage = rocker_on_swingarm().linkage().unwrap();
        let shares = |part: BodyMass| linkage.mass_shares(mm(10.0), &[part], kg(0.0)).unwrap_err().to_string();
        assert!(shares(part("rockr", 1.0, [0., 0.], 0.0)).contains("no body `rockr`"));
        assert!(shares(part("rocker", -1.0, [0., 0.], 0.0)).contains("mass of rocker"));
    }

    /// A uniform rod whose ends move as the pose says: its mass times the mean square of its velocities, by the rule of Simpson, which
    /// is exact for squares.
    #[test]
    fn a_shock_weighs_what_its_pieces_do() {
        /// Central differences of curved paths over 20 µm.
        const DIFFERENCES: f64 = 1e-6;
        for (name, drawing) in all() {
            let linkage = drawing.linkage().unwrap();
            let (travel, step) = (0.45 * linkage.full_travel(), mm(0.01));
            let velocity = |wanted: &str| {
                let at = |travel: Length| {
                    let pose = linkage.pose(travel).unwrap();
                    pose.iter().find(|(point, _)| *point == wanted).unwrap().1.map(|part| part.si())
                };
                scale(0.5 / step.si(), sub(at(travel + step), at(travel - step)))
            };
            let (a, b) = (velocity(drawing.shock.0), velocity(drawing.shock.1));
            let middle = scale(0.5, add(a, b));
            let mean_square = (dot(a, a) + 4.0 * dot(middle, middle) + dot(b, b)) / 6.0;
            let shares = linkage.mass_shares(travel, &[], kg(4.5)).unwrap();
            let (gravity, inertia) = (shares.gravity.si(), shares.inertia.si());
            assert!((gravity - 4.5 * middle[1]).abs() < DIFFERENCES, "{name}: {gravity}");
            assert!((inertia - 4.5 * mean_square).abs() < DIFFERENCES, "{name}: {inertia} {mean_square}");
        }
    }
}
