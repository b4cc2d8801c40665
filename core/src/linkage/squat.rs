//! Chain line and squat: what drive force does to the rear suspension, from geometry alone.
//!
//! The wheel hangs on two lines, the upper run of the chain and the line from the axle to the instant centre of its path
//! (the swingarm, where there is one). They meet in the point about which the driven wheel turns; the line from the rear
//! contact to it rises by the squat angle σ. With the load-transfer angle `tan τ = h/p` (height of the centre of gravity
//! over wheelbase) the squat ratio is `R = tan τ/tan σ` and anti-squat `1/R`: above 100 % drive lifts the rear, below it
//! squats (Cossalter, *Motorcycle Dynamics*, ch. 6; Foale, *Motorcycle Handling and Chassis Design*, on anti-squat).
//!
//! Assumes steady drive on level ground without air drag, the upper run straight between the sprockets' pitch circles,
//! contact straight below the axle, and the frame in its reference attitude, `h` and `p` held at what is given. Static sag
//! does not feel any of this.

use super::Linkage;
use super::chain_path::{Circle, Idler, SPROCKET_RADIUS, upper_runs};
use super::real::{Vec2, add, cross, norm, scale, sub};
use crate::error::LinkageError;
use crate::units::{Angle, Length, Quantity, Share, check};

/// Plausible wheel radius, centre-of-gravity height and wheelbase, in metres.
const WHEEL_RADIUS: [f64; 2] = [0.1, 0.6];
const CG_HEIGHT: [f64; 2] = [0.2, 1.5];
const WHEELBASE: [f64; 2] = [0.6, 2.5];
/// Fewest teeth of a sprocket.
const FEWEST_TEETH: u32 = 6;

/// Sprockets, wheel and centre of gravity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChainDrive {
    /// Centre of the front sprocket, in the drawing.
    pub front_centre: [Length; 2],
    /// Pitch radius of the front sprocket.
    pub front_radius: Length,
    /// Pitch radius of the rear sprocket.
    pub rear_radius: Length,
    /// What leads the upper run, where something does: drive then pulls along the run from the rear sprocket to it.
    pub idler: Option<Idler>,
    /// Radius of the rear wheel, axle to ground.
    pub wheel_radius: Length,
    /// Height of the centre of gravity above ground.
    pub cg_height: Length,
    /// Wheelbase.
    pub wheelbase: Length,
}

/// Chain line and squat at one travel.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Squat {
    /// Wheel travel from full extension.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub travel: Length,
    /// Rise of the line from the axle to the instant centre of its path, forward; the swingarm's angle where there is one.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub swingarm_angle: Angle,
    /// Rise of the upper chain run, forward.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub chain_angle: Angle,
    /// Rise of the line from the contact to where both lines meet, forward.
    #[cfg_attr(feature = "serde", serde(with = "crate::units::text_serde"))]
    pub squat_angle: Angle,
    /// `tan τ/tan σ`; infinite where drive does not lift at all.
    pub squat_ratio: f64,
    /// `tan σ/tan τ`.
    pub anti_squat: Share,
}

/// Pitch radius of a sprocket, `r = p/(2·sin(π/N))` (ISO 606).
///
/// # Errors
/// [`LinkageError::TooFewTeeth`], and [`LinkageError::Unit`] for a pitch that is not above zero.
pub fn pitch_radius(teeth: u32, pitch: Length) -> Result<Length, LinkageError> {
    check::positive("chain pitch", pitch)?;
    if teeth < FEWEST_TEETH {
        return Err(LinkageError::TooFewTeeth { found: teeth, fewest: FEWEST_TEETH });
    }
    Ok(pitch / (2.0 * (core::f64::consts::PI / f64::from(teeth)).sin()))
}

/// Refuses a rear sprocket that touches the front one or the idler.
pub(crate) fn apart(
    travel: Length,
    axle: Vec2<f64>,
    rear_radius: Length,
    others: impl IntoIterator<Item = ([Length; 2], Length)>,
) -> Result<(), LinkageError> {
    for (centre, radius) in others {
        let apart = Length::from_si(norm(sub(centre.map(|part| part.si()), axle)));
        let needed = radius + rear_radius;
        if apart <= needed {
            return Err(LinkageError::SprocketsTouch { travel, apart, needed });
        }
    }
    Ok(())
}

impl Linkage {
    /// Chain line and squat over travel.
    ///
    /// # Errors
    /// [`LinkageError::OutOfTravel`], [`LinkageError::SprocketsTouch`], and every implausible dimension of the drive.
    pub fn squat(&self, drive: &ChainDrive, travels: &[Length]) -> Result<Vec<Squat>, LinkageError> {
        travels.iter().map(|&travel| self.squat_pitched(drive, Angle::from_si(0.0), travel)).collect()
    }

    /// As [`squat`](Self::squat), with the frame pitched nose down on level ground.
    pub(crate) fn squat_pitched(
        &self,
        drive: &ChainDrive,
        pitch: Angle,
        travel: Length,
    ) -> Result<Squat, LinkageError> {
        drive.checked()?;
        self.check_travel(travel)?;
        let kernel = self.kernel(travel.si());
        drive.check_apart(travel, kernel.axle)?;
        let (sin, cos) = pitch.si().sin_cos();
        let turn = |[x, z]: Vec2<f64>| [x * cos + z * sin, z * cos - x * sin];
        // Across the axle's path, forward.
        let arm = turn([1.0, -kernel.axle_slope]);
        let (on_chain, chain) = drive.upper_run(kernel.axle);
        let (from_axle, chain) = (turn(sub(on_chain, kernel.axle)), turn(chain));
        // t·arm = from_axle + u·chain from the axle; both lines keep their directions when they are parallel and meet far
        // away.
        let parallel = cross(arm, chain);
        let along = cross(from_axle, chain);
        let to_meeting = add(scale(parallel, [0.0, drive.wheel_radius.si()]), scale(along, arm));
        let tangent = to_meeting[1] / to_meeting[0];
        let transfer = drive.cg_height.si() / drive.wheelbase.si();
        let rise = |direction: Vec2<f64>| Angle::from_si((direction[1] / direction[0]).atan());
        Ok(Squat {
            travel,
            swingarm_angle: rise(arm),
            chain_angle: rise(chain),
            squat_angle: Angle::from_si(tangent.atan()),
            squat_ratio: transfer / tangent,
            anti_squat: Share::from_si(tangent / transfer),
        })
    }
}

impl ChainDrive {
    fn checked(&self) -> Result<(), LinkageError> {
        let within = |field: &str, value: Length, [low, high]: [f64; 2]| {
            check::plausible(field, value, Length::from_si(low), Length::from_si(high)).err().map(LinkageError::from)
        };
        let faults = [
            check::finite("x of the front sprocket", self.front_centre[0]).err().map(LinkageError::from),
            check::finite("z of the front sprocket", self.front_centre[1]).err().map(LinkageError::from),
            within("front sprocket radius", self.front_radius, SPROCKET_RADIUS),
            within("rear sprocket radius", self.rear_radius, SPROCKET_RADIUS),
            within("wheel radius", self.wheel_radius, WHEEL_RADIUS),
            within("height of the centre of gravity", self.cg_height, CG_HEIGHT),
            within("wheelbase", self.wheelbase, WHEELBASE),
            self.idler.and_then(|idler| idler.checked().err()).map(LinkageError::from),
        ];
        LinkageError::collect(faults.into_iter().flatten().collect())
    }

    /// Refuses an axle so near the front sprocket that no chain runs between them.
    fn check_apart(&self, travel: Length, axle: Vec2<f64>) -> Result<(), LinkageError> {
        let idler = self.idler.map(|idler| (idler.centre, idler.radius));
        apart(travel, axle, self.rear_radius, [(self.front_centre, self.front_radius)].into_iter().chain(idler))
    }

    /// A point of the upper run that leaves the rear sprocket, and its direction forward.
    fn upper_run(&self, axle: Vec2<f64>) -> (Vec2<f64>, Vec2<f64>) {
        let rear = Circle { at: axle, radius: self.rear_radius.si() };
        let front = Circle { at: self.front_centre.map(|part| part.si()), radius: self.front_radius.si() };
        let (run, _) = upper_runs(rear, front, self.idler.map(|idler| idler.circle()));
        (run.from, run.along)
    }
}

#[cfg(test)]
mod tests {
    use super::super::real::dot;
    use super::*;
    use crate::linkage::tests::arrangements::{direct_shock, floating_axle, mm, rocker_on_swingarm};

    fn drive() -> ChainDrive {
        ChainDrive {
            front_centre: [mm(85.0), mm(10.0)],
            front_radius: mm(33.0),
            rear_radius: mm(120.0),
            idler: None,
            wheel_radius: mm(320.0),
            cg_height: mm(600.0),
            wheelbase: mm(1480.0),
        }
    }

    #[test]
    fn the_chain_touches_both_sprockets_from_above() {
        let drive = drive();
        for axle in [[-0.575, -0.165], [-0.598, 0.0], [-0.55, 0.2]] {
            let (on, along) = drive.upper_run(axle);
            assert!((dot(along, along) - 1.0).abs() < 1e-14 && along[0] > 0.0);
            for (centre, radius) in [(axle, 0.12), ([0.085, 0.01], 0.033)] {
                let below = cross(along, sub(centre, on));
                assert!((below + radius).abs() < 1e-14, "{below} {radius}");
            }
        }
    }

    #[test]
    fn the_drive_force_does_the_work_that_the_squat_angle_says() {
        // Virtual work with an inextensible chain and a locked engine: the contact moves by dx per dz, and tan σ = −dx/dz.
        let linkage = rocker_on_swingarm().linkage().unwrap();
        let drive = drive();
        let run = |z: f64| {
            let axle = linkage.kernel(z).axle;
            let forward = sub([0.085, 0.01], axle);
            let distance = norm(forward);
            let turned = ((0.12 - 0.033) / distance).asin();
            let slope = forward[1].atan2(forward[0]) - turned;
            (distance * turned.cos(), slope, axle[0])
        };
        let (z, h) = (0.11, 1e-5);
        let ((l1, s1, x1), (l0, s0, x0)) = (run(z + h), run(z - h));
        // With the front sprocket locked, run and wraps keep their sum: dℓ + r_f·ds + r_r·(dφ − ds) = 0.
        let rolled = (s1 - s0) - ((l1 - l0) + 0.033 * (s1 - s0)) / 0.12;
        let contact = (x1 - x0) + 0.32 * rolled;
        let found = linkage.squat(&drive, &[Length::from_si(z)]).unwrap()[0];
        let tangent = found.squat_angle.si().tan();
        assert!((tangent + contact / (2.0 * h)).abs() < 1e-6, "{tangent} {}", -contact / (2.0 * h));
    }

    #[test]
    fn angles_and_ratios_hang_together() {
        for drawing in [direct_shock(), floating_axle()] {
            let linkage = drawing.linkage().unwrap();
            for squat in linkage.squat(&drive(), &linkage.travels(7)).unwrap() {
                assert!((squat.squat_ratio * squat.anti_squat.si() - 1.0).abs() < 1e-12);
                let slope = linkage.at(squat.travel).unwrap().axle_slope;
                assert!((squat.swingarm_angle.si().tan() + slope).abs() < 1e-12);
            }
        }
        let linkage = direct_shock().linkage().unwrap();
        let at_drawn = linkage.squat(&drive(), &[linkage.drawn_travel()]).unwrap()[0];
        assert!((at_drawn.swingarm_angle.si().tan() - 165.0 / 575.0).abs() < 1e-12);
    }

    #[test]
    fn teeth_give_radii_and_bad_drives_are_refused() {
        let radius = pitch_radius(13, mm(15.875)).unwrap();
        assert!((radius.si() - 0.015_875 / (2.0 * (core::f64::consts::PI / 13.0).sin())).abs() < 1e-15);
        let few = pitch_radius(3, mm(15.875)).unwrap_err();
        assert_eq!(few, LinkageError::TooFewTeeth { found: 3, fewest: FEWEST_TEETH });
        let negative = pitch_radius(13, mm(-1.0)).unwrap_err().to_string();
        assert!(negative.starts_with("chain pitch: found -1 mm"), "{negative}");
        let linkage = direct_shock().linkage().unwrap();
        let odd = ChainDrive { front_radius: mm(0.0), wheelbase: mm(14800.0), ..drive() };
        let message = linkage.squat(&odd, &[mm(0.0)]).unwrap_err().to_string();
        assert!(message.contains("front sprocket radius") && message.contains("wheelbase"), "{message}");
        let beyond = linkage.squat(&drive(), &[mm(999.0)]).unwrap_err();
        assert!(matches!(beyond, LinkageError::OutOfTravel { .. }), "{beyond}");
        let at_the_axle = ChainDrive { front_centre: [mm(-570.0), mm(-160.0)], ..drive() };
        let error = linkage.squat(&at_the_axle, &linkage.travels(9)).unwrap_err();
        assert!(matches!(error, LinkageError::SprocketsTouch { .. }), "{error}");
        // Pitch circles of 120 and 33 mm touch at 153 mm.
        let drawn = linkage.drawn_travel();
        let beside = |apart: f64| ChainDrive { front_centre: [mm(-575.0 + apart), mm(-165.0)], ..drive() };
        let error = linkage.squat(&beside(152.9), &[drawn]).unwrap_err();
        assert!(matches!(error, LinkageError::SprocketsTouch { .. }), "{error}");
        assert!(linkage.squat(&beside(153.1), &[drawn]).is_ok());
    }
}
