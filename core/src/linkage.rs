//! Shock linkages: any planar mechanism of one degree of freedom, from wheel travel to shock stroke.
//!
//! A [`Mechanism`] is points and bodies. A [`Linkage`] is a mechanism with a wheel and a shock put in: the shock's length
//! and stroke set both ends of travel, whatever position the coordinates describe. Asked at a travel `z` it gives the
//! stroke `s`, the motion ratio `MR = ds/dz`, its slope `d²s/dz²`, and the axle's path. Nothing in here knows an
//! arrangement by name: a swingarm with the shock on it and two rockers in series go through the same code.
//!
//! **Method.** The mechanism is compiled once into an ordered list of steps: bodies in pairs by circle–circle
//! intersection in closed form, Newton's method with the exact Jacobian only for groups that no pair can take apart. The
//! driver is the body that carries the wheel, driven by the wheel's own height, where that body turns about a fixed
//! pivot; else a crank, with one more Newton unknown. First and second derivatives are exact (implicit differentiation)
//! and come in the same pass; no angle and no trigonometric function is ever computed. The drawn coordinates fix the
//! assembly branch, and continuation keeps it.
//!
//! **Assumptions.** Rigid bodies in one plane, pivots without play, the frame in its reference attitude (x forward, z up,
//! as ISO 8855 seen from the side).
//!
//! **Where it fails.** At dead points; every linkage is followed over its whole travel when it is made, and one that
//! comes within 0.1 mm of wheel travel of a dead point is refused with the place and the bodies. Up to there results keep
//! at least ten digits. Sliders, cams and belts are not modelled.
//!
//! References: Norton, *Design of Machinery*, ch. 2, 4, 6, 7 (mobility, position, velocity, acceleration of four-bar
//! groups); Cossalter, *Motorcycle Dynamics*, ch. 5 (suspension ratios).

mod arrangement;
mod asked;
mod assumed;
mod block;
mod bound_recipe;
mod chain_path;
mod columns;
mod curve;
mod design;
mod dual;
mod explore;
mod family;
mod group;
mod instant_centre;
mod measured;
mod mechanism;
mod motion;
mod notes;
mod operand;
mod photograph;
mod real;
mod recipe;
mod sensitivity;
mod shares;
mod squat;
mod step;
mod stride;
mod survey;
mod travel;

pub use arrangement::{Arm, Arrangement, Centres, Side};
pub use assumed::{AssumedLinkage, AssumedParts};
pub(crate) use chain_path::{ChainPath, Circle};
pub use chain_path::{Idler, Passes};
pub use columns::LinkageColumn;
pub use curve::{LinkageCurve, LinkagePoint, UncertainPoint};
pub use design::{Changed, Design, Freedom, Miss, Target};
pub use family::{LinkageFamily, RedrawnFamily};
pub use instant_centre::{AntiRise, BrakeStance};
pub use measured::{MeasuredLinkage, MeasuredParts};
pub use mechanism::{FRAME, Mechanism};
pub use notes::LinkageNote;
pub use photograph::Photograph;
pub use sensitivity::{Axis, Dimension, LinkageEffect};
pub use shares::{BodyMass, MassShares};
pub(crate) use squat::apart;
pub use squat::{ChainDrive, Squat, pitch_radius};
pub use survey::{Picture, Survey, SurveyParts};

use crate::error::LinkageError;
use crate::units::{Length, Quantity, check};
use bound_recipe::{BoundRecipe, Drive};
use explore::{Explorer, Probe};
use family::Row;
pub(crate) use motion::Kernel;
use motion::{Knots, LinkageMotion};
use operand::Operand;
use recipe::{Elimination, Recipe};
use travel::{Search, Travel};

/// Plausible eye-to-eye length of an extended shock, and stroke, in metres.
const SHOCK_LENGTH: [f64; 2] = [0.05, 2.0];
const STROKE: [f64; 2] = [0.001, 1.0];
/// A travel outside the range by less than this, in metres, is inside it up to the rounding of units and of text.
const TRAVEL_ROUNDING: f64 = 1e-9;
/// A mechanism with its wheel and its shock: motion as a function of wheel travel.
///
/// ```
/// use wheelrate::linkage::{Linkage, Mechanism};
/// use wheelrate::units::parse;
/// let at = |x: &str, z: &str| -> Result<_, wheelrate::error::UnitError> { Ok([parse(x)?, parse(z)?]) };
/// let mechanism = Mechanism::new(
///     [
///         ("pivot", at("0 mm", "0 mm")?),
///         ("axle", at("-575 mm", "-165 mm")?),
///         ("top", at("-100 mm", "329 mm")?),
///         ("eye", at("-250 mm", "-40 mm")?),
///     ],
///     [("frame", vec!["pivot", "top"]), ("swingarm", vec!["pivot", "axle", "eye"])],
/// )?;
/// let linkage = Linkage::new(mechanism, "axle", ("top", "eye"), parse("398 mm")?, parse("90 mm")?)?;
/// let point = linkage.at(parse("100 mm")?)?;
/// assert!(point.stroke < linkage.full_stroke());
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Linkage {
    mechanism: Mechanism,
    wheel: usize,
    shock: [usize; 2],
    shock_length: Length,
    stroke: Length,
    drawn_travel: Length,
    /// How all points are solved.
    recipe: Recipe,
    /// Its numbers, as packs take them.
    row: Row,
    /// Only what leads to wheel and shock.
    motion: LinkageMotion,
    /// All points.
    whole: LinkageMotion,
}

impl Linkage {
    /// Puts a shock of the given length (eye to eye, extended) and stroke between two points. Twin shocks side by side
    /// move as one.
    ///
    /// # Errors
    /// [`LinkageError`]: unknown points, a wheel or shock that does not move, implausible lengths, and
    /// [`LinkageError::ShockLength`] with the obstacle (dead point, flat position, motion ratio zero, wheel turning back),
    /// its bodies, its travel and the nearest travel that can be reached.
    pub fn new(
        mechanism: Mechanism,
        wheel: &str,
        shock: (&str, &str),
        shock_length: Length,
        stroke: Length,
    ) -> Result<Self, LinkageError> {
        let (wheel, shock) = Self::checked(&mechanism, wheel, shock, shock_length, stroke)?;
        let mut first_error = None;
        let mut solved = None;
        for recipe in Recipe::candidates(&mechanism, wheel)? {
            match Self::assemble(&mechanism, &recipe, wheel, shock, shock_length, stroke) {
                Ok(parts) => {
                    solved = Some((recipe, parts));
                    break;
                }
                Err(error) => first_error = first_error.or(Some(error)),
            }
        }
        let Some((recipe, (motion, whole, travel))) = solved else {
            return Err(first_error.unwrap_or_else(|| LinkageError::Immobile {
                part: "wheel",
                point: mechanism.point_name(wheel).to_owned(),
            }));
        };
        let drawn_travel = Length::from_si(travel.drawn - travel.extended);
        let row = Row::of(&motion);
        Ok(Self { mechanism, wheel, shock, shock_length, stroke, drawn_travel, recipe, row, motion, whole })
    }

    fn checked(
        mechanism: &Mechanism,
        wheel: &str,
        shock: (&str, &str),
        shock_length: Length,
        stroke: Length,
    ) -> Result<(usize, [usize; 2]), LinkageError> {
        let mut faults = Vec::new();
        let mut point =
            |by: &str, name: &str| mechanism.index_of(by, name).map_err(|fault| faults.push(fault)).unwrap_or_default();
        let (wheel, shock) = (point("wheel", wheel), [point("shock", shock.0), point("shock", shock.1)]);
        let [shortest, longest] = SHOCK_LENGTH.map(Length::from_si);
        let longest_stroke = Length::from_si(STROKE[1].min(shock_length.si()));
        let checks = [
            check::plausible("shock length", shock_length, shortest, longest),
            check::plausible("shock stroke", stroke, Length::from_si(STROKE[0]), longest_stroke),
        ];
        faults.extend(checks.into_iter().filter_map(Result::err).map(LinkageError::from));
        if faults.is_empty()
            && mechanism.carriers(shock[0]).iter().any(|&body| mechanism.on_body(body).contains(&shock[1]))
        {
            let [first, second] = shock.map(|end| mechanism.point_name(end).to_owned());
            faults.push(LinkageError::ShockOnOneBody { first, second });
        }
        LinkageError::collect(faults)?;
        Ok((wheel, shock))
    }

    fn assemble(
        mechanism: &Mechanism,
        recipe: &Recipe,
        wheel: usize,
        shock: [usize; 2],
        shock_length: Length,
        stroke: Length,
    ) -> Result<(LinkageMotion, LinkageMotion, Travel), LinkageError> {
        let coordinates: Vec<[f64; 2]> =
            (0..mechanism.point_count()).map(|point| mechanism.coordinates(point)).collect();
        let bound = BoundRecipe::bind(recipe, &coordinates);
        let explorer = Explorer {
            bound: &bound,
            wheel: operand(&bound, mechanism, wheel)?,
            shock: [operand(&bound, mechanism, shock[0])?, operand(&bound, mechanism, shock[1])?],
            carriers: [mechanism.carriers(wheel), moving(mechanism, recipe, shock)],
        };
        let search = Search { mechanism, explorer, shock, shock_length: shock_length.si(), stroke: stroke.si() };
        let travel = search.run()?;
        let probes: Vec<&Probe> = travel.probes.iter().collect();
        let finish = |recipe: &Recipe| -> Result<LinkageMotion, LinkageError> {
            let part = BoundRecipe::bind(recipe, &coordinates);
            let solved = recipe.steps.iter().filter(|step| matches!(step, Elimination::Group { .. }));
            let points: Vec<usize> = solved
                .flat_map(|step| step.solves())
                .filter_map(|&point| match bound.operand(point) {
                    Some(Operand::Moving(slot)) => Some(slot),
                    _ => None,
                })
                .collect();
            Ok(LinkageMotion {
                wheel: operand(&part, mechanism, wheel)?,
                shock: [operand(&part, mechanism, shock[0])?, operand(&part, mechanism, shock[1])?],
                knots: Knots::new(&probes, matches!(part.drive, Drive::Crank { .. }), &points),
                extended: shock_length.si(),
                datum: travel.extended,
                full_travel: travel.compressed - travel.extended,
                bound: part,
            })
        };
        let motion = finish(&recipe.pruned(&[wheel, shock[0], shock[1]]))?;
        let whole = finish(recipe)?;
        Ok((motion, whole, travel))
    }

    /// Wheel travel from full extension to the end of the shock's stroke.
    #[must_use]
    pub fn full_travel(&self) -> Length {
        Length::from_si(self.motion.full_travel)
    }

    /// Stroke of the shock.
    #[must_use]
    pub fn full_stroke(&self) -> Length {
        self.stroke
    }

    /// Length of the extended shock, eye to eye.
    #[must_use]
    pub fn shock_length(&self) -> Length {
        self.shock_length
    }

    /// The mechanism as drawn.
    #[must_use]
    pub fn mechanism(&self) -> &Mechanism {
        &self.mechanism
    }

    /// Name of the wheel's point.
    #[must_use]
    pub fn wheel(&self) -> &str {
        self.mechanism.point_name(self.wheel)
    }

    /// Names of the points that the shock joins.
    #[must_use]
    pub fn shock(&self) -> (&str, &str) {
        (self.mechanism.point_name(self.shock[0]), self.mechanism.point_name(self.shock[1]))
    }

    /// The travel that the drawn coordinates describe; it may lie outside the working range.
    #[must_use]
    pub fn drawn_travel(&self) -> Length {
        self.drawn_travel
    }
}

fn operand(bound: &BoundRecipe<f64>, mechanism: &Mechanism, point: usize) -> Result<Operand<f64>, LinkageError> {
    bound
        .operand(point)
        .ok_or_else(|| LinkageError::Immobile { part: "point", point: mechanism.point_name(point).to_owned() })
}

/// Bodies at the shock's ends that move.
fn moving(mechanism: &Mechanism, recipe: &Recipe, shock: [usize; 2]) -> Vec<usize> {
    let ends = shock.into_iter().filter(|&end| !recipe.fixed[end]);
    let mut bodies: Vec<usize> = ends.flat_map(|end| mechanism.carriers(end)).collect();
    bodies.dedup();
    bodies
}

#[cfg(test)]
pub(crate) mod tests;
