//! What can be wrong with a mechanism or with the shock put into it.

use thiserror::Error;

use super::nearest::{hint, quoted};
use super::{Place, UnitError};
#[cfg(feature = "serde")]
use crate::units::text_serde;
use crate::units::{Length, show};

/// A mechanism that is none, or a shock that does not go into it.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum LinkageError {
    /// A length or a coordinate.
    #[error(transparent)]
    Unit(#[from] UnitError),
    /// More than one fault, all of them.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Several(Vec<LinkageError>),
    /// A point defined twice.
    #[error("point `{point}` is given twice: give every point one position")]
    PointTwice {
        /// Its name.
        point: String,
    },
    /// More points or bodies than any suspension has.
    #[error("{place}: found {found} or more, wanted at most {most}")]
    TooMany {
        /// `points`, `bodies`, or one of the bodies.
        place: String,
        /// So many were counted.
        found: usize,
        /// So many may be.
        most: usize,
    },
    /// A body defined twice.
    #[error("body `{body}` is given twice: list all its points in one place")]
    BodyTwice {
        /// Its name.
        body: String,
    },
    /// A body that names a point twice.
    #[error("body `{body}` names point `{point}` twice")]
    PointTwiceOnBody {
        /// The body.
        body: String,
        /// The point.
        point: String,
    },
    /// No body named `frame`.
    #[error("no body is named `frame`: one body must be the frame, which stands still; found {}", quoted(.found))]
    NoFrame {
        /// Bodies found.
        found: Vec<String>,
    },
    /// A name that no point has.
    #[error("{by}: there is no point `{point}`{}; known points are {}", hint(point, .known.iter().map(String::as_str)), quoted(.known))]
    UnknownPoint {
        /// Who names it.
        by: String,
        /// The name.
        point: String,
        /// Points there are.
        known: Vec<String>,
    },
    /// A point that no body carries.
    #[error("point `{point}` is on no body: name it in the body that carries it, or leave it out")]
    PointOnNoBody {
        /// The point.
        point: String,
    },
    /// A body that is no link.
    #[error("body `{body}` has {found}: a moving body needs at least two points")]
    TooFewPoints {
        /// The body.
        body: String,
        /// `no points` or `one point`.
        found: &'static str,
    },
    /// Two points of one body in one place.
    #[error(
        "points `{first}` and `{second}` of body `{body}` lie in one place: give them different positions, or use one name"
    )]
    Coincident {
        /// The body.
        body: String,
        /// One point.
        first: String,
        /// The other.
        second: String,
    },
    /// Two bodies joined at two points.
    #[error("bodies `{first}` and `{second}` share {}: two bodies joined at two points are one body, list them as one", quoted(.points))]
    Welded {
        /// One body.
        first: String,
        /// The other.
        second: String,
        /// Points they share.
        points: Vec<String>,
    },
    /// Mobility other than one by the count of bodies and pivots.
    #[error(
        "the mechanism has {found} degrees of freedom (3·{moving} moving bodies − 2·{pivots} pivots), and needs exactly 1; {detail}"
    )]
    Mobility {
        /// Degrees of freedom by Grübler–Kutzbach.
        found: i64,
        /// Moving bodies.
        moving: usize,
        /// Pivots; one shared by m bodies counts m − 1.
        pivots: usize,
        /// Which bodies float or lock, in words.
        detail: String,
    },
    /// The count says one thing and the drawn position another.
    #[error(
        "the count gives {counted} degrees of freedom, but in the drawn position the mechanism has {actual}: {detail}"
    )]
    Paradox {
        /// Degrees of freedom by Grübler–Kutzbach.
        counted: i64,
        /// Degrees of freedom by the rank of the velocity equations.
        actual: usize,
        /// What that means and for which bodies.
        detail: String,
    },
    /// A wheel or a shock on a part that does not move.
    #[error("{part} `{point}` does not move: it is on the frame or on bodies that lock to it")]
    Immobile {
        /// `wheel` or `shock`.
        part: &'static str,
        /// The point.
        point: String,
    },
    /// Both shock ends on one body.
    #[error("shock from `{first}` to `{second}`: its length does not change as the wheel moves")]
    ShockOnOneBody {
        /// One end.
        first: String,
        /// The other.
        second: String,
    },
    /// Bodies in line: the wheel cannot be moved further, or the bodies need not follow it.
    #[error("dead point at {at}: {} fall in line; the wheel can be followed to {reachable}", quoted(.bodies))]
    DeadPoint {
        /// Bodies that fall in line.
        bodies: Vec<String>,
        /// Where.
        at: Place,
        /// The nearest position that can be computed to full accuracy.
        reachable: Place,
    },
    /// Bodies pass through a flat position from which they could go on in two ways.
    #[error("at {at} {} lie flat and could fold either way from there; the wheel can be followed to {reachable}", quoted(.bodies))]
    BranchPoint {
        /// Bodies that lie flat.
        bodies: Vec<String>,
        /// Where.
        at: Place,
        /// The nearest position that can be computed to full accuracy.
        reachable: Place,
    },
    /// The wheel reaches its highest or lowest position.
    #[error("the wheel can go no further than {at}: {} turn it back there; it can be followed to {reachable}", quoted(.bodies))]
    WheelTurnsBack {
        /// Bodies that carry the wheel.
        bodies: Vec<String>,
        /// Where.
        at: Place,
        /// The nearest position that can be computed to full accuracy.
        reachable: Place,
    },
    /// The shock stops shortening before its stroke is used up.
    #[error(
        "the motion ratio falls to zero at {at}: beyond it the shock lengthens again as the wheel rises ({}); \
         the wheel can be followed to {reachable}", quoted(.bodies)
    )]
    MotionRatioZero {
        /// Bodies that carry the shock.
        bodies: Vec<String>,
        /// Where.
        at: Place,
        /// The nearest position that can be computed to full accuracy.
        reachable: Place,
    },
    /// The shock shortens as the wheel drops.
    #[error(
        "in the drawn position the wheel moves down as the shock shortens ({found} mm of shock per mm of wheel): \
         z is up; check the signs of the coordinates and which points the shock joins"
    )]
    WheelMovesDown {
        /// Motion ratio found.
        found: String,
    },
    /// A shock length that the mechanism does not have.
    #[error(
        "the shock does not fit: its {end} length of {} cannot be reached; in the drawn position the points are {} apart, \
         and the nearest that can be reached is {}. {reason}", show(*.wanted, "mm", 2), show(*.drawn, "mm", 2), show(*.nearest, "mm", 2)
    )]
    ShockLength {
        /// `extended` or `compressed`.
        end: &'static str,
        /// Length wanted.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        wanted: Length,
        /// Length in the drawn position.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        drawn: Length,
        /// Nearest length that can be reached.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        nearest: Length,
        /// What is in the way.
        reason: Box<LinkageError>,
    },
    /// A travel that the linkage does not have.
    #[error("travel {}: this end has {} of travel from full extension", show(*.found, "mm", 3), show(*.full, "mm", 3))]
    OutOfTravel {
        /// Travel asked for.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        found: Length,
        /// Full travel.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        full: Length,
    },
    /// A column that is not as long as the travels.
    #[error("a column of {found} numbers for {wanted} travels")]
    Column {
        /// Its length.
        found: usize,
        /// Number of travels.
        wanted: usize,
    },
    /// A column of places that is not as long as the first.
    #[error("{found} places for `{point}` where the first column has {wanted}")]
    Places {
        /// The point.
        point: String,
        /// Its number of places.
        found: usize,
        /// That of the first column.
        wanted: usize,
    },
    /// A name that no body has.
    #[error("there is no body `{body}`{}; bodies here are {}", hint(body, .known.iter().map(String::as_str)), quoted(.known))]
    UnknownBody {
        /// The name.
        body: String,
        /// Bodies there are.
        known: Vec<String>,
    },
    /// Measures that are not one pair of lengths per point.
    #[error(
        "found {found} pairs of centre distances, and this arrangement wants {wanted}: one per entry of its measures"
    )]
    Measures {
        /// Pairs found.
        found: usize,
        /// Pairs wanted.
        wanted: usize,
    },
    /// An arm that rises by more than its length.
    #[error("the arm's end stands {} above its pivot, and the arm is {} long: measure again", show(*.rise, "mm", 1), show(*.length, "mm", 1))]
    ArmRise {
        /// Rise found.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        rise: Length,
        /// Length found.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        length: Length,
    },
    /// Two centre distances that meet nowhere, or that start so close together that they show no direction.
    #[error(
        "`{point}` cannot be placed from `{}` and `{}`, which are {} apart: the two distances do not meet, or run so \
         nearly alike that the place is not known; measure again, or from another point",
        .from[0], .from[1], show(*.apart, "mm", 2)
    )]
    CentresDoNotMeet {
        /// The point.
        point: String,
        /// The points it is measured from.
        from: [String; 2],
        /// Their distance.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        apart: Length,
    },
    /// Two known points of a photograph that give no scale.
    #[error(
        "the two known points are {pixels:.1} pixels apart in the picture; they must be at least {fewest} pixels apart, and \
         in two different places in the drawing"
    )]
    Photograph {
        /// Distance in the picture.
        pixels: f64,
        /// Least distance.
        fewest: f64,
    },
    /// Pictures that do not say where their points are.
    #[error("{}found {found}, wanted {wanted}", .picture.map_or_else(String::new, |picture| format!("picture {picture}: ")))]
    Survey {
        /// Which picture, from 1, where it is one.
        picture: Option<usize>,
        /// What it has.
        found: String,
        /// What would do.
        wanted: String,
    },
    /// A sprocket that is none.
    #[error("a sprocket with {found} teeth: at least {fewest} are needed")]
    TooFewTeeth {
        /// Teeth found.
        found: u32,
        /// Fewest that do.
        fewest: u32,
    },
    /// A brake's caliper on a body that the axle is not on.
    #[error("the caliper cannot sit on `{body}`: a body that carries the axle can, or `frame`; here {}", quoted(.wanted))]
    Caliper {
        /// The body.
        body: String,
        /// Bodies that can.
        wanted: Vec<String>,
    },
    /// A steering axis in a body that does not steer the wheel.
    #[error(
        "the steering axis cannot lie in `{body}`: a body that carries the axle can, or `frame`; here {}",
        quoted(.wanted)
    )]
    SteeringBody {
        /// The body.
        body: String,
        /// Bodies that can.
        wanted: Vec<String>,
    },
    /// A rear axle inside the front sprocket.
    #[error(
        "at {} of travel the axle is {} from the centre of the front sprocket or idler, where the two need {}: check that centre",
        show(*.travel, "mm", 1), show(*.apart, "mm", 1), show(*.needed, "mm", 1)
    )]
    SprocketsTouch {
        /// Travel at which it happens.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        travel: Length,
        /// Distance of the centres.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        apart: Length,
        /// Sum of the pitch radii.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        needed: Length,
    },
    /// A design task with nothing to move or nothing to reach.
    #[error("a design needs at least one free dimension and one target: found {free} and {targets}")]
    EmptyDesign {
        /// Free dimensions.
        free: usize,
        /// Targets.
        targets: usize,
    },
    /// A link's length free beside a coordinate that shapes the mechanism.
    #[error(
        "{dimension} cannot be free beside {beside}, which changes lengths by itself: free either lengths of links or \
         coordinates; only points on the frame alone may move beside lengths"
    )]
    NotFree {
        /// The dimension.
        dimension: String,
        /// The coordinate.
        beside: String,
    },
    /// A wheel rate wanted of a linkage without its springs.
    #[error("a wheel rate needs the shock's springs: design the rear end, not its linkage alone")]
    NoSprings,
    /// No linkage inside the bounds of a design can be built.
    #[error("no linkage inside these bounds works with this shock; with the dimensions as they are: {reason}")]
    NoDesign {
        /// What is wrong with the first one tried.
        reason: Box<LinkageError>,
    },
    /// A body whose length is not a dimension.
    #[error("`{body}` is no link: only a moving body with exactly two points has a length; links here are {}", quoted(.links))]
    NoLink {
        /// The body.
        body: String,
        /// Bodies that are links.
        links: Vec<String>,
    },
    /// A link with which the parts do not meet.
    #[error("`{body}` cannot be {} long: with the wheel where it is drawn the other parts do not reach it", show(*.length, "mm", 2))]
    LinkTooLong {
        /// The body.
        body: String,
        /// Length wanted.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        length: Length,
    },
    /// A table with too few readings.
    #[error("the table has {found} different travels, and needs at least {needed}: lift the wheel in smaller steps")]
    TooFewReadings {
        /// Different travels found.
        found: usize,
        /// Fewest that do.
        needed: usize,
    },
    /// A table that ends before the shock does.
    #[error(
        "the table does not reach the shock's {end} length of {}: its curve ends at {}; take readings further that way",
        show(*.wanted, "mm", 1), show(*.nearest, "mm", 1)
    )]
    TableShort {
        /// `extended` or `compressed`.
        end: &'static str,
        /// Length wanted.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        wanted: Length,
        /// Length at the table's end.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        nearest: Length,
    },
    /// A table whose lengths do not fall.
    #[error(
        "the shock does not shorten as the wheel rises near {} of the table's travel: travel counts upwards, and the \
         lengths must fall", show(*.at, "mm", 1)
    )]
    TableNotFalling {
        /// Where, in the travel of the table.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        at: Length,
    },
    /// An interval without length.
    #[error("interval from {} to {}: its end must lie above its start", show(*.from, "mm", 3), show(*.to, "mm", 3))]
    EmptyInterval {
        /// Start.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        from: Length,
        /// End.
        #[cfg_attr(feature = "serde", serde(serialize_with = "text_serde::serialize"))]
        to: Length,
    },
}

impl LinkageError {
    /// One error of any number of them; `Ok` when there are none.
    pub(crate) fn collect(mut faults: Vec<Self>) -> Result<(), Self> {
        match faults.len() {
            0 => Ok(()),
            1 => Err(faults.swap_remove(0)),
            _ => Err(Self::Several(faults)),
        }
    }
}
