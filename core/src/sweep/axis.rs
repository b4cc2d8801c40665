//! What a sweep varies: an address of the bike, and the values that are put there.

use super::scheme::{Place, Scheme};
use crate::bike::Bike;
use crate::edit::value_at;
use crate::error::{Address, Step, SweepError};
use crate::keys::{Shape, Value, in_rows, shape_at};
use crate::units::Quantity;
use crate::units::kind::Kind;
use crate::units::{exact_text, parse_si};

/// Parts of the file that are no part of the bike.
const NOT_THE_BIKE: [&str; 3] = ["format", "reading", "change"];

/// An address, and the values that are put there.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(try_from = "AxisText", into = "AxisText")]
pub struct SweepAxis {
    /// As it was given.
    pub(super) path: String,
    pub(super) address: Address,
    pub(super) levels: Levels,
}

/// The values of an axis.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Levels {
    /// These values.
    Values(Vec<Value>),
    /// Anything between two ends; for schemes that draw.
    Between(Value, Value),
}

/// An axis as it is written.
#[derive(serde::Serialize, serde::Deserialize)]
struct AxisText {
    address: String,
    levels: Levels,
}

impl TryFrom<AxisText> for SweepAxis {
    type Error = SweepError;
    fn try_from(AxisText { address, levels }: AxisText) -> Result<Self, SweepError> {
        Ok(Self { address: address_of(&address)?, path: address, levels })
    }
}

impl From<SweepAxis> for AxisText {
    fn from(SweepAxis { path, levels, .. }: SweepAxis) -> Self {
        Self { address: path, levels }
    }
}

impl SweepAxis {
    /// These values at an address: text with a unit, a plain number, a word, or whatever else the key takes.
    ///
    /// # Errors
    /// [`SweepError::Address`] for what is no address.
    pub fn new<V: Into<Value>>(address: &str, values: impl IntoIterator<Item = V>) -> Result<Self, SweepError> {
        let levels = Levels::Values(values.into_iter().map(Into::into).collect());
        Ok(Self { path: address.to_owned(), address: address_of(address)?, levels })
    }

    /// These quantities at an address.
    ///
    /// # Errors
    /// As [`SweepAxis::new`].
    pub fn of<Q: Quantity>(address: &str, values: &[Q]) -> Result<Self, SweepError> {
        Self::new(address, values.iter().map(|value| exact_text(Q::KIND, value.si())))
    }

    /// Anything between two ends.
    ///
    /// # Errors
    /// As [`SweepAxis::new`].
    pub fn between(address: &str, from: impl Into<Value>, to: impl Into<Value>) -> Result<Self, SweepError> {
        let levels = Levels::Between(from.into(), to.into());
        Ok(Self { path: address.to_owned(), address: address_of(address)?, levels })
    }

    /// So many values at even steps, both ends included.
    ///
    /// # Errors
    /// As [`SweepAxis::new`]; [`SweepError::Value`] for an end that the address does not take, [`SweepError::Count`] for fewer than two.
    pub fn steps(
        address: &str,
        from: impl Into<Value>,
        to: impl Into<Value>,
        count: usize,
    ) -> Result<Self, SweepError> {
        let (path, address) = (address.to_owned(), address_of(address)?);
        if count < 2 {
            let wanted = "2 or more, both ends included".to_owned();
            return Err(SweepError::Count { field: "steps", found: count.to_string(), wanted });
        }
        let sort = Sort::at(&address)?;
        let [from, to] = [from.into(), to.into()].map(|end| sort.number(&address, &end));
        let (from, to) = (from?, to?);
        let last = (count - 1) as f64;
        let step = |at: usize| if at + 1 == count { to } else { from + (to - from) * (at as f64 / last) };
        Ok(Self { path, address, levels: Levels::Values((0..count).map(|at| sort.value(step(at))).collect()) })
    }

    /// Where the values are put, as it was given.
    #[must_use]
    pub fn path(&self) -> &str {
        &self.path
    }

    /// Where the values are put.
    #[must_use]
    pub fn address(&self) -> &Address {
        &self.address
    }

    /// The values.
    #[must_use]
    pub fn levels(&self) -> &Levels {
        &self.levels
    }
}

fn address_of(text: &str) -> Result<Address, SweepError> {
    Address::parse(text).map(|address| in_rows(&address)).ok_or_else(|| SweepError::Address {
        address: text.to_owned(),
        found: "no address".to_owned(),
        wanted: "a path of keys, e.g. `rear.shock.spring.rate`".to_owned(),
    })
}

/// What the values at an address are to a table of results.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Sort {
    /// Quantities of a kind.
    Quantity(&'static Kind),
    /// Plain numbers.
    Number,
    /// Anything else, kept as it is written.
    Words,
}

impl Sort {
    /// What an address of a bike takes.
    pub(crate) fn at(address: &Address) -> Result<Self, SweepError> {
        let refuse = |found: &str, wanted: &str| SweepError::Address {
            address: address.to_string(),
            found: found.to_owned(),
            wanted: wanted.to_owned(),
        };
        if matches!(address.steps().first(), Some(Step::Key(first)) if NOT_THE_BIKE.contains(&first.as_str())) {
            let wanted = "a part of the bike; readings and the log are not varied";
            return Err(refuse("no part of the bike itself", wanted));
        }
        let wanted = "the address of a key that the bike file has";
        let shape = shape_at(address).ok_or_else(|| refuse("an address that leads nowhere", wanted))?;
        Ok(Self::of(&shape))
    }

    fn of(shape: &Shape) -> Self {
        match (shape.kind(), shape.takes_number()) {
            (Some(kind), _) => Self::Quantity(kind),
            (None, true) => Self::Number,
            (None, false) => Self::Words,
        }
    }

    /// The value as a number, in SI units where it is a quantity.
    pub(crate) fn number(self, address: &Address, value: &Value) -> Result<f64, SweepError> {
        let refuse = |found: String, why: String| SweepError::Value { address: address.to_string(), found, why };
        match (self, value) {
            (Self::Quantity(kind), Value::Text(text)) => {
                parse_si(kind, text).map_err(|error| refuse(text.clone(), error.to_string()))
            }
            (Self::Quantity(kind), Value::Number(number)) => match parse_si(kind, &number.to_string()) {
                Ok(si) => Ok(si),
                Err(error) => Err(refuse(number.to_string(), error.to_string())),
            },
            (Self::Number, Value::Number(number)) if number.is_finite() => Ok(*number),
            (_, other) => Err(refuse(other.in_words(), "where a number is needed".to_owned())),
        }
    }

    /// The value that a number is.
    pub(crate) fn value(self, number: f64) -> Value {
        match self {
            Self::Quantity(kind) => Value::Text(exact_text(kind, number)),
            Self::Number | Self::Words => Value::Number(number),
        }
    }

    pub(crate) fn kind(self) -> Option<&'static Kind> {
        match self {
            Self::Quantity(kind) => Some(kind),
            Self::Number | Self::Words => None,
        }
    }
}

/// The kind of quantity that an address of a bike takes; `None` where it takes none.
///
/// # Errors
/// [`SweepError::Address`] for an address that leads nowhere, or into readings or the log.
pub fn kind_at(address: &Address) -> Result<Option<&'static Kind>, SweepError> {
    Sort::at(&in_rows(address)).map(Sort::kind)
}

/// An axis made ready: what stands at its address is known, its values are numbers.
#[derive(Debug, Clone)]
pub(super) struct Ready {
    pub(super) address: Address,
    /// The address as it was given.
    pub(super) path: String,
    pub(super) sort: Sort,
    values: Vec<Value>,
    /// The same as numbers; empty for words.
    numbers: Vec<f64>,
    /// Both ends, for an axis that is given by them.
    ends: Option<[f64; 2]>,
}

/// One value of one axis.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Level<'a> {
    /// One of the values given, and what number it is.
    Given(&'a Value, Option<f64>),
    /// A number between the ends.
    Drawn(f64),
}

impl Ready {
    pub(super) fn new(axis: &SweepAxis, scheme: Scheme, bike: &Bike) -> Result<Self, SweepError> {
        let sort = match Sort::at(&axis.address)? {
            // A key with several forms: what stands there now is what is varied.
            Sort::Quantity(kind) => match (value_at(bike, &axis.address), &axis.levels) {
                (Some(Value::Number(_)), Levels::Values(values)) if values.iter().all(is_number) => Sort::Number,
                (_, Levels::Values(values)) if !values.iter().all(is_scalar) => Sort::Words,
                _ => Sort::Quantity(kind),
            },
            Sort::Number if matches!(&axis.levels, Levels::Values(values) if !values.iter().all(is_number)) => {
                Sort::Words
            }
            sort => sort,
        };
        let refuse = |found: String, wanted: String| SweepError::Levels {
            address: axis.address.to_string(),
            found,
            wanted,
            scheme: scheme.name(),
        };
        let number = |value: &Value| sort.number(&axis.address, value);
        let path = axis.path.clone();
        let bare =
            Self { address: axis.address.clone(), path, sort, values: Vec::new(), numbers: Vec::new(), ends: None };
        match &axis.levels {
            Levels::Values(values) if values.is_empty() => Err(refuse("no value".into(), "one or more".into())),
            Levels::Values(values) => {
                let numbers = match sort {
                    Sort::Words => Vec::new(),
                    _ => values.iter().map(number).collect::<Result<_, _>>()?,
                };
                Ok(Self { values: values.clone(), numbers, ..bare })
            }
            Levels::Between(..) if !scheme.draws() => {
                Err(refuse("two ends".into(), "the values themselves, or so many steps".into()))
            }
            Levels::Between(..) if sort == Sort::Words => {
                Err(refuse("two ends".into(), "the values themselves: there is nothing between them".into()))
            }
            Levels::Between(from, to) => {
                let ends = [number(from)?, number(to)?];
                if ends[0] >= ends[1] {
                    let shown = format!("{} to {}", from.in_words(), to.in_words());
                    return Err(refuse(shown, "the lower end first".into()));
                }
                Ok(Self { ends: Some(ends), ..bare })
            }
        }
    }

    pub(super) fn count(&self) -> usize {
        self.values.len()
    }

    /// What is put there in a design.
    pub(super) fn level(&self, place: Place) -> Level<'_> {
        let at = match (place, self.ends) {
            (Place::Along(along), Some([from, to])) => return Level::Drawn(from + (to - from) * along),
            (Place::Along(along), None) => (along * self.values.len() as f64) as usize,
            (Place::On(at), _) => at,
        };
        let at = at.min(self.values.len().saturating_sub(1));
        match self.values.get(at) {
            Some(value) => Level::Given(value, self.numbers.get(at).copied()),
            None => Level::Drawn(f64::NAN),
        }
    }
}

impl Level<'_> {
    pub(super) fn number(&self) -> Option<f64> {
        match self {
            Self::Given(_, number) => *number,
            Self::Drawn(number) => Some(*number),
        }
    }

    pub(super) fn value(&self, sort: Sort) -> Value {
        match self {
            Self::Given(value, _) => (*value).clone(),
            Self::Drawn(number) => sort.value(*number),
        }
    }
}

fn is_number(value: &Value) -> bool {
    matches!(value, Value::Number(_))
}

fn is_scalar(value: &Value) -> bool {
    matches!(value, Value::Number(_) | Value::Text(_))
}
