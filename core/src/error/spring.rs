//! Faults of springs and of what is built from them.

use thiserror::Error;

/// A spring, a stop, a fork leg or a shock that cannot be built or asked.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum SpringError {
    /// Asked beyond either end of the stroke.
    #[error("{part}: stroke {found} lies outside 0 mm to {full}")]
    OutOfStroke {
        /// Part asked.
        part: String,
        /// Stroke asked for.
        found: String,
        /// Stroke at the far end.
        full: String,
    },
    /// A coil spring whose coils touch, or a stack or table that ends, before the stroke does.
    #[error(
        "{part}: the spring reaches its end, {end} of compression, at stroke {ends_at}, before the full stroke of \
         {full}; preload {most_preload} at most would do, or a spring that compresses {needed} (`free_length` less `solid_length`)"
    )]
    EndsEarly {
        /// Part at fault.
        part: String,
        /// Compression the spring allows.
        end: String,
        /// Stroke at which it is used up.
        ends_at: String,
        /// Full stroke.
        full: String,
        /// Most preload that keeps clear.
        most_preload: String,
        /// Compression needed.
        needed: String,
    },
    /// Two lengths in the wrong order.
    #[error("{field}: found {found}, wanted {wanted} than the {other} of {than}")]
    Order {
        /// Field at fault.
        field: String,
        /// Value found.
        found: String,
        /// `more` or `less`.
        wanted: &'static str,
        /// What it is compared with.
        other: String,
        /// The value of that.
        than: String,
    },
    /// A part described in none or in several of the ways it can be.
    #[error("{part}: found {found}; wanted {wanted}")]
    Description {
        /// Part described.
        part: String,
        /// What the text held.
        found: String,
        /// What would do.
        wanted: String,
    },
    /// A table that does not rise.
    #[error("table[{}]: {found}; {wanted}", row.saturating_sub(1))]
    Table {
        /// Row, counted from 1.
        row: usize,
        /// What the row holds.
        found: String,
        /// What would do.
        wanted: &'static str,
    },
    /// A table of a damper that does not rise.
    #[error("table[{}]: {found}; {wanted}", row.saturating_sub(1))]
    DamperTable {
        /// Row, counted from 1.
        row: usize,
        /// What the row holds.
        found: String,
        /// What would do.
        wanted: &'static str,
    },
    /// Nothing to change: no main spring.
    #[error("{part}: has no main spring to change")]
    NoSpring {
        /// Part asked.
        part: String,
    },
    /// Bushes of which nothing is known.
    #[error(
        "where the bushes are is not known: state `front.fork.bushes`, their `overlap` and the lower one's way `to_axle`"
    )]
    NoBushes,
    /// Bushes that hold however hard they are pushed.
    #[error(
        "the bushes bind at stroke {stroke}: with a coefficient of {coefficient} friction grows faster than the load; below \
         {most} they slide"
    )]
    Binds {
        /// Stroke at which they do.
        stroke: String,
        /// Coefficient of friction.
        coefficient: String,
        /// The coefficient at which they would just slide.
        most: String,
    },
    /// An element of your own that does not hold together.
    #[error("{part}: at {stroke}, {found}")]
    OwnElement {
        /// Its description.
        part: String,
        /// Where.
        stroke: String,
        /// What does not hold there.
        found: String,
    },
    /// A part of your own where text is wanted.
    #[error("{part} is of your own and has no text form: leave it out of the file, and put it in from code")]
    NoText {
        /// Its description.
        part: String,
    },
}
