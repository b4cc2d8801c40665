//! Everything that can go wrong, one enum per topic. A message names the field, what was found and what would do.
//!
//! An error is data as well: [`Error::details`] gives the field, what was found, what would do and what was probably meant;
//! with the feature `serde` the case and its own fields can be had too. The bindings and `--json` show it that way.

use core::fmt;
use core::fmt::Write as _;

use thiserror::Error;

mod address;
pub(crate) mod bike;
mod details;
mod file;
mod gas;
pub(crate) mod linkage;
mod mass;
pub(crate) mod nearest;
mod place;
mod plain;
mod setup;
mod spring;
mod sweep;
mod wheel;

pub(crate) use address::inside;
pub use address::{Address, Step};
pub use bike::BikeError;
pub use details::Details;
pub use file::{Fault, FileError};
pub use gas::GasError;
pub use linkage::LinkageError;
pub use mass::MassError;
pub use place::Place;
use plain::Plain;
pub use plain::on_one_line;
pub(crate) use plain::{LONGEST, plain, shortened};
pub use setup::SetupError;
pub use spring::SpringError;
pub use sweep::SweepError;
pub use wheel::WheelError;

/// A kind's name with its article: `a length`, `an angle`.
pub(crate) fn a(kind: &str) -> String {
    let article = if kind.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
    format!("{article} {kind}")
}

/// `; was … meant?`, or nothing.
fn was_meant(suggestion: Option<&str>) -> String {
    suggestion.map(|meant| format!("; was `{meant}` meant?")).unwrap_or_default()
}

/// A force where a mass is wanted, or the other way about.
fn weight_for_mass(is: &str, kind: &str) -> &'static str {
    match (is, kind) {
        ("force", "mass") => "; this is a weight, a mass is wanted: what a scale shows, in kg or lb",
        ("mass", "force") => "; this is a mass, a force is wanted: in N, kgf or lbf",
        _ => "",
    }
}

/// A text, a unit or a magnitude that cannot be taken.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum UnitError {
    /// A number where a quantity is meant.
    #[error("`{found}` has no unit: {} wants {units}, e.g. `{example}`", a(kind))]
    BareNumber {
        /// Kind wanted.
        kind: &'static str,
        /// Text found.
        found: String,
        /// Units that would do.
        units: String,
        /// What to write.
        example: String,
    },
    /// A value that is wanted with its uncertainty.
    #[error("`{found}` does not say how well it is known: write {} as a value ± its standard uncertainty", a(kind))]
    NoUncertainty {
        /// Kind wanted.
        kind: &'static str,
        /// Text found.
        found: String,
    },
    /// No number at the start of the text.
    #[error("`{found}` does not start with a number: {} is a number and a unit, e.g. `{example}`", a(kind))]
    NotANumber {
        /// Kind wanted.
        kind: &'static str,
        /// Text found.
        found: String,
        /// What to write.
        example: String,
    },
    /// A comma where the decimal point goes.
    #[error("`{found}` has a comma: write a decimal point, `{wanted}`")]
    DecimalComma {
        /// Text found.
        found: String,
        /// What to write.
        wanted: String,
    },
    /// Not a finite number.
    #[error("`{found}` is not a finite {kind}")]
    NotFinite {
        /// Kind wanted.
        kind: &'static str,
        /// Text found.
        found: String,
    },
    /// A unit that belongs to another kind.
    #[error("`{found}` is {}, not {}: use {units}{}", a(is), a(kind), weight_for_mass(is, kind))]
    WrongKind {
        /// Kind wanted.
        kind: &'static str,
        /// Text found.
        found: String,
        /// Kind found.
        is: &'static str,
        /// Units that would do.
        units: String,
    },
    /// A unit that no kind knows.
    #[error("`{found}`: unknown unit `{unit}` for {}; use {units}{}", a(kind), nearest::did_you_mean(suggestion.as_deref()))]
    UnknownUnit {
        /// Kind wanted.
        kind: &'static str,
        /// Text found.
        found: String,
        /// The unit as written.
        unit: String,
        /// Units that would do.
        units: String,
        /// A likely spelling.
        suggestion: Option<String>,
    },
    /// A field that is NaN or infinite.
    #[error("{field}: {found} is not a finite {kind}")]
    NotFiniteField {
        /// Field at fault.
        field: String,
        /// Kind wanted.
        kind: &'static str,
        /// Value found.
        found: String,
    },
    /// A field with an impossible sign.
    #[error("{field}: found {found}, but {} here is {wanted}", a(kind))]
    Sign {
        /// Field at fault.
        field: String,
        /// Kind wanted.
        kind: &'static str,
        /// Value found.
        found: String,
        /// What would do.
        wanted: &'static str,
    },
    /// A magnitude that no real part has.
    #[error("{field}: found {found}, which is no plausible {kind} here ({low} to {high}){}", was_meant(suggestion.as_deref()))]
    Implausible {
        /// Field at fault.
        field: String,
        /// Kind wanted.
        kind: &'static str,
        /// Value found.
        found: String,
        /// Least accepted.
        low: String,
        /// Most accepted.
        high: String,
        /// What was probably meant: the number in another unit.
        suggestion: Option<String>,
    },
    /// A plain number outside its range.
    #[error("{field}: found {found}, wanted a number from {low} to {high}")]
    NumberRange {
        /// Field at fault.
        field: String,
        /// Value found.
        found: String,
        /// Least accepted.
        low: f64,
        /// Most accepted.
        high: f64,
    },
    /// Two quantities in the wrong order.
    #[error("{field}: found {found}, wanted {wanted} than the {other} of {than}")]
    Order {
        /// Field at fault.
        field: String,
        /// Value found.
        found: String,
        /// `more` or `less`.
        wanted: &'static str,
        /// What it is compared with.
        other: &'static str,
        /// The value of that.
        than: String,
    },
    /// No such unit system.
    #[error("unit system `{found}` is not known: use metric, kilogram-force or inch")]
    UnknownSystem {
        /// Name found.
        found: String,
    },
}

impl UnitError {
    /// The same of another field, where it is of one.
    pub(crate) fn of_field(mut self, name: String) -> Self {
        match &mut self {
            Self::NotFiniteField { field, .. }
            | Self::Sign { field, .. }
            | Self::Implausible { field, .. }
            | Self::NumberRange { field, .. }
            | Self::Order { field, .. } => *field = name,
            _ => {}
        }
        self
    }
}

/// Most faults that are shown: whoever mends so many reads the file again.
pub const MOST_FAULTS: usize = 50;

/// Any error of the library. Shown, it is on one line, or on one line a fault, whatever the names in it hold.
#[derive(Debug, Clone, PartialEq, Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub enum Error {
    /// A text, a unit or a magnitude.
    Unit(#[from] UnitError),
    /// Readings, fit or advice.
    Setup(#[from] SetupError),
    /// Masses and loads.
    Mass(#[from] MassError),
    /// A spring, a stop, a fork leg or a shock.
    Spring(#[from] SpringError),
    /// A gas chamber.
    Gas(#[from] GasError),
    /// A mechanism, or the shock in it.
    Linkage(#[from] LinkageError),
    /// An end as its wheel feels it.
    Wheel(#[from] WheelError),
    /// A bike that lacks something or contradicts itself.
    Bike(#[from] BikeError),
    /// A bike file, all its faults.
    File(#[from] FileError),
    /// A sweep over many designs.
    Sweep(#[from] SweepError),
}

impl fmt::Display for Error {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let inner: &dyn fmt::Display = match self {
            // One fault a line, each of them plain.
            Self::File(error) => return error.fmt(formatter),
            Self::Linkage(LinkageError::Several(faults)) => {
                for (at, fault) in faults.iter().take(MOST_FAULTS).enumerate() {
                    let line = if at == 0 { "" } else { "\n" };
                    write!(formatter, "{line}{}", plain(&fault.to_string(), LONGEST))?;
                }
                return match faults.len().saturating_sub(MOST_FAULTS) {
                    0 => Ok(()),
                    more => write!(formatter, "\n{}", more_faults(more)),
                };
            }
            Self::Unit(error) => error,
            Self::Setup(error) => error,
            Self::Mass(error) => error,
            Self::Spring(error) => error,
            Self::Gas(error) => error,
            Self::Linkage(error) => error,
            Self::Wheel(error) => error,
            Self::Bike(error) => error,
            Self::Sweep(error) => error,
        };
        write!(Plain::new(formatter, LONGEST), "{inner}")
    }
}

/// What stands in the place of faults that are counted and not shown.
pub(crate) fn more_faults(count: usize) -> String {
    format!("and {count} more {}", if count == 1 { "fault" } else { "faults" })
}

/// Result with the library's error.
pub type Result<T, E = Error> = core::result::Result<T, E>;

#[cfg(test)]
mod tests;
