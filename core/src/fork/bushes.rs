//! Friction of a fork's bushes under side load.
//!
//! `S = V·sin ε − H·cos ε`, `F = V·cos ε + H·sin ε`,
//! `R_u + R_l = −S`, `R_u·l_u + R_l·l_l = F·e − T`, `f = µ·Σ(|R_u| + |R_l|)`
//!
//! The axle is pushed up by `V` and back by the braking force `H = κ·V`; the caliper turns the slider by `T = κ·(V + W)·r`, `W` the
//! weight of what is unsprung and `r` the height of the axle. Square to the fork (forward positive) that is the side load `S`, along
//! it the axial load `F`, which acts `e` behind the axle. The upper bush keeps its distance `l_u` from the axle, the lower one comes
//! nearer by the stroke, `l_l = l₀ − u`: the overlap `l_u − l_l` grows as the fork goes in. That holds for both ways up of a
//! telescopic fork: one bush is at the end of each tube.
//!
//! Friction and load depend on each other: the load `V` with which the fork goes in (`σ = 1`) or comes out (`σ = −1`) at a stroke obeys
//! `F(V) − σ·f(V) = F_springs`, and half of what lies between the two is the friction at the wheel. The sum of sizes is a polygon in
//! `V`: Newton's method ends on it exactly. Where `µ·Σ|dR/dV| ≥ dF/dV` more load adds more friction than push: the fork binds.
//!
//! Assumes rigid, straight, parallel tubes, two bushes that give a force each and no moment, side and axial load shared evenly by the
//! legs, the caliper's torque taken by the legs that carry one, a level frame, a steady state (the wheel's own deceleration is that
//! of the bike), one coefficient for all bushes at any load. Friction works on the tube's axis: its own lever, the tube's radius, is
//! left out. A bent tube and a twisted axle clamp add to all of it and are not in it.
//!
//! Textbook: plane statics of a rigid body (Hibbeler, *Statics*, ch. 5); Coulomb friction; for the loads of a braked front wheel
//! Cossalter, *Motorcycle Dynamics*, ch. 6.

use crate::error::{Result, SpringError};
use crate::units::{Force, Length, Quantity, Share, Uncertain, brief, check};

/// Coefficient of lined bushes in fork oil, and its standard uncertainty: 0.02 to 0.1 are found. Common practice, no source.
const USUAL_COEFFICIENT: [f64; 2] = [0.05, 0.025];
/// How uncertain a coefficient is that is stated alone, as a share of it.
const STATED_ALONE: f64 = 0.5;
const MOST_COEFFICIENT: f64 = 0.5;
/// Shortest overlap, and longest one (m).
const OVERLAP: [f64; 2] = [0.02, 0.6];
const TO_AXLE: [f64; 2] = [0.03, 1.2];
const MOST_OFFSET: f64 = 0.1;
/// No tyre brakes with more than this share of its load.
const MOST_BRAKING: f64 = 1.5;
/// A polygon of four corners is walked in five steps; one more sees that nothing moves.
const MOST_STEPS: usize = 8;

/// Where the bushes of a fork are, alike in both legs, and how they rub.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bushes {
    overlap: Length,
    to_axle: Length,
    axle_offset: Length,
    calipers: u32,
    coefficient: Option<f64>,
    uncertainty: Option<f64>,
}

/// What else than its load the axle of a fork takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrontBrake {
    /// Braking force as a share of the wheel's load on the ground.
    pub share: Share,
    /// Height of the axle over the ground.
    pub radius: Length,
    /// Weight of what the fork does not carry.
    pub unsprung: Force,
}

impl Default for FrontBrake {
    /// Not braked.
    fn default() -> Self {
        Self { share: Share::from_si(0.0), radius: Length::default(), unsprung: Force::from_si(0.0) }
    }
}

/// What the bushes take at one stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct BushLoads {
    /// Stroke along the fork.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub stroke: Length,
    /// Vertical wheel travel, the frame level.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// Distance of the bushes.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub overlap: Length,
    /// Vertical load at the axle that the springs balance there, without friction.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub load: Force,
    /// Force of the upper bush of each leg on the lower tube, square to the fork, forward; first the leg with a caliper.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub upper: [Force; 2],
    /// The same of the lower bush.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde::nested"))]
    pub lower: [Force; 2],
    /// Friction of all bushes along the fork under that load.
    pub friction: Uncertain<Force>,
    /// Vertical load at the axle under which the fork just goes in.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub load_in: Force,
    /// And under which it just comes out.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub load_out: Force,
    /// Friction of the bushes at the wheel: half of what lies between the two.
    pub friction_at_wheel: Uncertain<Force>,
}

impl Bushes {
    /// Bushes this far apart, and the lower one this far from the axle, along the fork, both at full extension.
    ///
    /// # Errors
    /// When the overlap is not from 20 mm to 600 mm, or the lower bush not from 30 mm to 1.2 m above the axle.
    pub fn new(overlap: Length, to_axle: Length) -> Result<Self> {
        let within = |field, length, [least, most]: [f64; 2]| {
            check::plausible(field, length, Length::from_si(least), Length::from_si(most))
        };
        within("overlap", overlap, OVERLAP)?;
        within("to_axle", to_axle, TO_AXLE)?;
        let axle_offset = Length::default();
        Ok(Self { overlap, to_axle, axle_offset, calipers: 1, coefficient: None, uncertainty: None })
    }

    /// With the axle this far ahead of the tubes, square to them; 0 unless stated.
    ///
    /// # Errors
    /// For more than 100 mm either way.
    pub fn with_axle_offset(self, offset: Length) -> Result<Self> {
        let most = Length::from_si(MOST_OFFSET);
        Ok(Self { axle_offset: check::plausible("axle_offset", offset, -most, most)?, ..self })
    }

    /// With a caliper on this many legs; on one unless stated.
    ///
    /// # Errors
    /// Unless it is one or two.
    pub fn with_calipers(self, calipers: u32) -> Result<Self> {
        check::number_within("calipers", f64::from(calipers), 1.0, 2.0)?;
        Ok(Self { calipers, ..self })
    }

    /// With this coefficient of friction, uncertain by half of it unless
    /// [`with_coefficient_uncertainty`](Self::with_coefficient_uncertainty) says more; 0.05 ± 0.025 unless stated.
    ///
    /// # Errors
    /// Unless it lies from 0 to 0.5.
    pub fn with_coefficient(self, coefficient: f64) -> Result<Self> {
        let coefficient = check::number_within("coefficient", coefficient, 0.0, MOST_COEFFICIENT)?;
        Ok(Self { coefficient: Some(coefficient), ..self })
    }

    /// With the coefficient known to this standard uncertainty.
    ///
    /// # Errors
    /// Unless it lies from 0 to 0.5.
    pub fn with_coefficient_uncertainty(self, uncertainty: f64) -> Result<Self> {
        let uncertainty = check::number_within("coefficient_uncertainty", uncertainty, 0.0, MOST_COEFFICIENT)?;
        Ok(Self { uncertainty: Some(uncertainty), ..self })
    }

    /// Distance of the bushes at full extension.
    #[must_use]
    pub fn overlap(&self) -> Length {
        self.overlap
    }

    /// Distance of the lower bush from the axle at full extension.
    #[must_use]
    pub fn to_axle(&self) -> Length {
        self.to_axle
    }

    /// How far the axle is ahead of the tubes.
    #[must_use]
    pub fn axle_offset(&self) -> Length {
        self.axle_offset
    }

    /// Legs that carry a caliper.
    #[must_use]
    pub fn calipers(&self) -> u32 {
        self.calipers
    }

    /// Coefficient of friction, stated or usual.
    #[must_use]
    pub fn coefficient(&self) -> f64 {
        self.coefficient.unwrap_or(USUAL_COEFFICIENT[0])
    }

    /// Its standard uncertainty, stated or usual.
    #[must_use]
    pub fn coefficient_uncertainty(&self) -> f64 {
        let usual = || self.coefficient.map_or(USUAL_COEFFICIENT[1], |stated| STATED_ALONE * stated);
        self.uncertainty.unwrap_or_else(usual)
    }

    /// The coefficient and its uncertainty, each where it was stated.
    #[must_use]
    pub fn stated_coefficient(&self) -> [Option<f64>; 2] {
        [self.coefficient, self.uncertainty]
    }

    /// A lower bush that the stroke would carry down to an axle in line with the tubes: said of a distance read with the fork in.
    pub(super) fn check_stroke(&self, full_stroke: Length) -> Result<()> {
        if self.axle_offset == Length::default() && self.to_axle <= full_stroke {
            return Err(SpringError::Order {
                field: "bushes.to_axle".to_owned(),
                found: brief(self.to_axle),
                wanted: "more",
                other: "full stroke".to_owned(),
                than: brief(full_stroke),
            }
            .into());
        }
        Ok(())
    }

    /// What the bushes take at a stroke where the springs push with this force along the fork, at this rake.
    pub(super) fn loads(&self, stroke: Length, springs: Force, rake: f64, braking: &FrontBrake) -> Result<BushLoads> {
        let FrontBrake { share, radius, unsprung } = *braking;
        let share_of_load = check::plausible("braking", share, Share::from_si(0.0), Share::from_si(MOST_BRAKING))?.si();
        check::plausible("radius", radius, Length::default(), Length::from_si(0.9))?;
        check::not_negative("unsprung", unsprung)?;
        let (sin, cos) = rake.sin_cos();
        let along = cos + share_of_load * sin;
        let square = sin - share_of_load * cos;
        let overlap = self.overlap.si() + stroke.si();
        let lower = self.to_axle.si() - stroke.si();
        // Each reaction is a straight line over the load, `slope·V + still`.
        let leg = |place: u32| -> [[f64; 2]; 2] {
            let torque =
                if place < self.calipers { share_of_load * radius.si() / f64::from(self.calipers) } else { 0.0 };
            let upper = [
                (0.5 * self.axle_offset.si() * along - torque + 0.5 * lower * square) / overlap,
                -torque * unsprung.si() / overlap,
            ];
            [upper, [-0.5 * square - upper[0], -upper[1]]]
        };
        let legs = [leg(0), leg(1)];
        let reactions = || legs.iter().flatten();
        let at = |[slope, still]: [f64; 2], load: f64| slope * load + still;
        let sizes = |load: f64| reactions().map(|line| at(*line, load).abs()).sum::<f64>();
        // How the sum of sizes grows with the load.
        let growth = |load: f64| reactions().map(|line| line[0] * at(*line, load).signum()).sum::<f64>();
        let coefficient = self.coefficient();
        let steepest: f64 = reactions().map(|line| line[0].abs()).sum();
        if coefficient * steepest >= along {
            return Err(SpringError::Binds {
                stroke: brief(stroke),
                coefficient: format!("{coefficient}"),
                most: format!("{:.3}", along / steepest),
            }
            .into());
        }
        let springs = springs.si();
        let load = springs / along;
        // The load that moves the fork one way, and how it grows with the coefficient.
        let moving = |way: f64| {
            let mut moving = load;
            for _ in 0..MOST_STEPS {
                let slope = along - way * coefficient * growth(moving);
                let next = moving - (along * moving - way * coefficient * sizes(moving) - springs) / slope;
                if next == moving {
                    break;
                }
                moving = next;
            }
            [moving, way * sizes(moving) / (along - way * coefficient * growth(moving))]
        };
        let [[load_in, in_per], [load_out, out_per]] = [moving(1.0), moving(-1.0)];
        let u = self.coefficient_uncertainty();
        let force = |line: [f64; 2]| Force::from_si(at(line, load));
        let with =
            |value: f64, u: f64| Uncertain { value: Force::from_si(value), standard_uncertainty: Force::from_si(u) };
        Ok(BushLoads {
            stroke,
            travel: stroke * cos,
            overlap: Length::from_si(overlap),
            load: Force::from_si(load),
            upper: legs.map(|[upper, _]| force(upper)),
            lower: legs.map(|[_, lower]| force(lower)),
            friction: with(coefficient * sizes(load), u * sizes(load)),
            load_in: Force::from_si(load_in),
            load_out: Force::from_si(load_out),
            friction_at_wheel: with(0.5 * (load_in - load_out), 0.5 * u * (in_per - out_per)),
        })
    }
}

#[cfg(test)]
mod tests;
