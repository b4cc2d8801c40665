//! What every class of the bindings has in common: immutable, comparable, hashable, picklable, readable, and weakly
//! referable.
//!
//! The core's types read and write themselves as text with units (serde), to the last bit; pickle and `repr` go through
//! that text. What is computed of a bike for one end (`made_from_bike!`) keeps the bike and is computed again.

use std::fmt::Debug;
use std::hash::{DefaultHasher, Hash, Hasher};

use pyo3::exceptions::PyValueError;
use pyo3::prelude::*;
use pyo3::types::PyDict;
#[cfg(feature = "introspection")]
use pyo3::{PyTypeInfo, inspect::PyStaticExpr, type_hint_subscript};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// What a class is made of again, for pickle: arguments by place, and by name.
pub(crate) type Arguments<'py, Placed> = (Placed, Bound<'py, PyDict>);

/// What makes an object again, for pickle, and what it is called with.
pub(crate) type Made<'py, Placed> = (Bound<'py, PyAny>, Placed);

/// The object as JSON text.
pub(crate) fn to_json<T: Serialize>(value: &T) -> PyResult<String> {
    serde_json::to_string(value).map_err(|error| PyValueError::new_err(error.to_string()))
}

/// The object of a JSON text that [`to_json`] wrote.
pub(crate) fn from_json<T: DeserializeOwned>(text: &str) -> PyResult<T> {
    serde_json::from_str(text).map_err(|error| PyValueError::new_err(error.to_string()))
}

/// Equal objects show equal, but for the sign of a zero.
pub(crate) fn hash(value: &impl Debug) -> u64 {
    let mut hasher = DefaultHasher::new();
    format!("{value:?}").replace("-0.0", "0.0").hash(&mut hasher);
    hasher.finish()
}

/// `Coil(rate='52 N/mm', preload='14 mm')`.
pub(crate) fn repr<T: Serialize>(class: &str, value: &T) -> String {
    match serde_json::to_value(value) {
        Ok(Value::Object(fields)) => {
            let fields: Vec<String> = fields.iter().map(|(name, value)| format!("{name}={}", python(value))).collect();
            format!("{class}({})", fields.join(", "))
        }
        Ok(other) => format!("{class}({})", python(&other)),
        Err(_) => class.to_owned(),
    }
}

/// A JSON value as Python writes it.
fn python(value: &Value) -> String {
    match value {
        Value::Null => "None".to_owned(),
        Value::Bool(true) => "True".to_owned(),
        Value::Bool(false) => "False".to_owned(),
        Value::Number(number) => number.to_string(),
        Value::String(text) if text.contains('\'') => format!("{text:?}"),
        Value::String(text) => format!("'{}'", text.replace('\\', "\\\\")),
        Value::Array(items) => format!("[{}]", items.iter().map(python).collect::<Vec<_>>().join(", ")),
        Value::Object(fields) => {
            let fields: Vec<String> =
                fields.iter().map(|(name, value)| format!("'{name}': {}", python(value))).collect();
            format!("{{{}}}", fields.join(", "))
        }
    }
}

/// One of a few names, as the core spells them.
pub(crate) fn choice<T: DeserializeOwned>(py: Python<'_>, name: &str, argument: &str, class: &str) -> PyResult<T> {
    serde_json::from_value(Value::String(name.to_owned()))
        .map_err(|error| crate::errors::raise(py, class, (format!("{argument}: {error}"),)))
}

/// Named things in their own order: a dict on the Python side.
pub(crate) struct Named<T>(pub(crate) Vec<(String, T)>);

impl<'py, T: IntoPyObject<'py>> IntoPyObject<'py> for Named<T> {
    type Target = PyDict;
    type Output = Bound<'py, PyDict>;
    type Error = PyErr;
    #[cfg(feature = "introspection")]
    const OUTPUT_TYPE: PyStaticExpr = type_hint_subscript!(PyDict::TYPE_HINT, String::OUTPUT_TYPE, T::OUTPUT_TYPE);
    fn into_pyobject(self, py: Python<'py>) -> PyResult<Self::Output> {
        let named = PyDict::new(py);
        for (name, thing) in self.0 {
            named.set_item(name, thing)?;
        }
        Ok(named)
    }
}

/// What every class over a type of the core has: pickled as serde's text, equal objects hash equal.
macro_rules! core_class {
    ($class:ident($core:ty)) => {
        #[pymethods]
        impl $class {
            #[staticmethod]
            fn _from_json(text: &str) -> PyResult<Self> {
                $crate::value::from_json(text).map(Self)
            }
            #[pyo3(signature = () -> "tuple[object, tuple[str]]")]
            fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (String,))> {
                Ok((py.get_type::<Self>().getattr("_from_json")?, ($crate::value::to_json(&self.0)?,)))
            }
            fn __hash__(&self) -> u64 {
                $crate::value::hash(&self.0)
            }
        }
    };
}

/// A class over a type of the core that serde writes and reads, made by its user.
macro_rules! value_class {
    ($(#[$doc:meta])* $class:ident($core:ty)) => {
        $(#[$doc])*
        #[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
        #[derive(Clone, PartialEq)]
        pub(crate) struct $class(pub(crate) $core);

        $crate::value::core_class!($class($core));

        #[pymethods]
        impl $class {
            fn __repr__(&self) -> String {
                $crate::value::repr(stringify!($class), &self.0)
            }
        }
    };
}

/// A class of results: what is read off the core's struct, as quantities (`Out`) or arrays of them (`OutArray`).
macro_rules! result_class {
    ($(#[$doc:meta])* $class:ident($core:ty) { $($(#[$field_doc:meta])* $field:ident: $out:ty = $read:expr;)+ }) => {
        $(#[$doc])*
        #[pyclass(module = "wheelrate", frozen, eq, weakref)]
        #[derive(Clone, PartialEq)]
        pub(crate) struct $class(pub(crate) $core);

        $crate::value::core_class!($class($core));

        #[pymethods]
        impl $class {
            $($(#[$field_doc])* #[getter] fn $field(&self) -> $out {
                let read: fn(&$core) -> $out = $read;
                read(&self.0)
            })+
            fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
                use pyo3::IntoPyObjectExt;
                let fields = [$((stringify!($field), self.$field().into_bound_py_any(py)?.str()?.to_string())),+];
                let shown = fields.map(|(name, text)| format!("{name}={text}"));
                Ok(format!("{}({})", stringify!($class), shown.join(", ")))
            }
        }
    };
}

/// The columns of a result, bare and in SI units, in the order of its table: arrays, or words.
macro_rules! rows {
    ($class:ident: $($field:ident),+ $(,)?) => {
        #[pymethods]
        impl $class {
            #[pyo3(signature = () -> "tuple[object, ...]")]
            fn _rows<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, pyo3::types::PyTuple>> {
                use $crate::units::Plain;
                pyo3::types::PyTuple::new(py, [$(self.$field().plain(py)?),+])
            }
        }
    };
}

/// What a class shows of itself, one line each.
macro_rules! getters {
    ($class:ident { $($(#[$doc:meta])* $field:ident: $out:ty = $read:expr;)+ }) => {
        #[pymethods]
        impl $class {
            $($(#[$doc])* #[getter] fn $field(&self) -> $out {
                let read: fn(&Self) -> $out = $read;
                read(self)
            })+
        }
    };
}

/// The study that something was asked of, where it was; it says nothing of what came out, and enters no comparison.
#[derive(Clone, Default)]
pub(crate) struct AskedOf(pub(crate) Option<wheelrate::infer::Study>);

impl PartialEq for AskedOf {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

/// Pickled and hashed as what it was made from: a study and what it was asked, or a bike and the call for one end.
macro_rules! made_from_bike {
    ($class:ident, $call:literal) => {
        $crate::value::made_from_bike! { @ $class, $call, |_| None, "" }
    };
    ($class:ident, $call:literal, $of_study:literal) => {
        $crate::value::made_from_bike! { @ $class, $call, |made| made.asked_of.0.clone(), $of_study }
    };
    (@ $class:ident, $call:literal, $study:expr, $of_study:literal) => {
        #[pymethods]
        impl $class {
            #[pyo3(signature = () -> "tuple[object, tuple[object, ...]]")]
            fn __reduce__<'py>(
                &self,
                py: Python<'py>,
            ) -> PyResult<(Bound<'py, PyAny>, Bound<'py, pyo3::types::PyTuple>)> {
                use pyo3::types::PyTuple;
                let study: fn(&Self) -> Option<wheelrate::infer::Study> = $study;
                if let Some(study) = study(self) {
                    let study = $crate::infer::study::Study(study).into_pyobject(py)?;
                    return Ok((study.getattr($of_study)?, PyTuple::empty(py)));
                }
                let bike = $crate::bike::Bike(self.bike.clone()).into_pyobject(py)?;
                Ok((bike.getattr($call)?, PyTuple::new(py, [self.end()])?))
            }
            fn __hash__(&self) -> u64 {
                $crate::value::hash(&(&self.bike, self.end()))
            }
        }
    };
}

pub(crate) use {core_class, getters, made_from_bike, result_class, rows, value_class};
