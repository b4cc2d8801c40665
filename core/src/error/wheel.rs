//! Faults of an end of the bike as its wheel feels it.

use thiserror::Error;

/// An end asked for what it does not have.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum WheelError {
    /// Asked beyond either end of the travel.
    #[error("travel {found} lies outside 0 mm to {full}")]
    OutOfTravel {
        /// Travel asked for.
        found: String,
        /// Travel at full compression.
        full: String,
    },
    /// The place of the axle is not known.
    #[error(
        "the place of the axle is not known: in front state `front.axle`, at full extension, in the frame axes; a rear end \
         known from a measured table has none"
    )]
    NoAxle,
    /// Something that only a telescopic fork has, of a front end on links.
    #[error("{asked} wants a telescopic fork, and this front end is a linkage with a shock in it")]
    NoFork {
        /// What was asked.
        asked: &'static str,
    },
    /// Something that only a front end on links has, of a telescopic fork.
    #[error(
        "the front end is a telescopic fork, which has no linkage and no shock: state `front.linkage` in its place"
    )]
    NoLinkage,
    /// A braked front end on links of which nobody said where the caliper is.
    #[error(
        "`front.caliper` is missing: the body with the caliper of the front brake holds the wheel, and links turn the one way or \
         the other"
    )]
    NoCaliper,
    /// A drawing of a linkage that is known from a table, or by its ends.
    #[error(
        "the rear end is known from a measured table or by its travel, which has no mechanism: state `rear.linkage`"
    )]
    NotDrawn,
    /// A rear end without a linkage, of which less than two of travel, stroke and lever are known.
    #[error(
        "how far the wheel moves per shock is not known: state the wheel travel (`rear.travel`) and the stroke of the shock \
         (`rear.shock.stroke`), or one of them and `rear.lever`"
    )]
    NoOutline,
    /// A lever that is not travel over stroke.
    #[error("travel over stroke is {follows}, the lever stated {found}: one of the three is of another bike")]
    Lever {
        /// Lever stated.
        found: String,
        /// Travel over stroke.
        follows: String,
    },
    /// A linkage that cannot do without the length of its shock.
    #[error("the shock's length between the eyes, fully extended, is missing: a linkage drawn or measured needs it")]
    NoShockLength,
    /// A table beside a drawing whose pivots are taken as exact.
    #[error(
        "a measured table beside a drawing corrects the drawing, which is taken as exact: say how well its points were \
         measured (`rear.linkage.point_uncertainty`), or leave one of the two out"
    )]
    TableAlone,
    /// A table that the drawing cannot be moved to.
    #[error(
        "the measured table lies {off} times as far off the drawing as the uncertainties of both allow, over {readings} \
         readings: is `point_uncertainty` too small, a point wrong, or the table of another setting?"
    )]
    TableDisagrees {
        /// Root mean square of the normalised residuals.
        off: String,
        /// Readings of the table.
        readings: usize,
    },
    /// A shock in a linkage that was made for another.
    #[error("shock: found {found}, wanted {wanted}, for which the linkage was made")]
    OtherShock {
        /// Shock found.
        found: String,
        /// Shock wanted.
        wanted: String,
    },
    /// Readings of a tyre that give no rate.
    #[error("{field}: found {found}, wanted two loads or more, and an axle that comes down under them")]
    Tyre {
        /// `readings`, or the one at fault.
        field: String,
        /// What the readings show.
        found: String,
    },
    /// An end of your own that does not hold together.
    #[error("{end}: at {at}, {found}")]
    OwnEnd {
        /// The end, as it prints for debugging.
        end: String,
        /// Travel or stroke.
        at: String,
        /// What does not hold there.
        found: String,
    },
}
