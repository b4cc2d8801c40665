//! What is done to a bike and its log: changes made, supposed, and mended.

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList};

use crate::bike::Bike;
use crate::errors::run;
use crate::plain::Text;

#[pymethods]
impl Bike {
    /// The bike as it would be with some values of its file changed.
    ///
    /// The readings stay with the bike as it is: what they found of springs, preload and friction is carried into the changed
    /// bike, as far as the change leaves it alone, and nothing is fitted on a bike that it was not read on. The change stands in
    /// the log as one that was not made, so that files and pickles keep it. To mend a wrong entry, use `correct`.
    ///
    /// Parameters
    /// ----------
    /// values : dict of str to value
    ///     By key path, as in the file, rows counted from 0: ``{"front.fork.leg[0].spring.rate": "4.6 N/mm"}``.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> heavier = bike.what_if({"masses.rider.rear": "76 kg"})
    /// >>> heavier.fit()["rear"].rate == bike.fit()["rear"].rate
    /// True
    #[pyo3(signature = (values: "dict[str, str | float | list[str] | dict[str, str]]"))]
    fn what_if(&self, values: &Bound<'_, PyDict>) -> PyResult<Self> {
        let texts = value_texts(values)?;
        run(values.py(), || self.0.what_if(&pairs(&texts))).map(Self)
    }
    /// The bike with wrong entries of its file mended: what was read is worked out anew on the bike as it now stands.
    ///
    /// For a change to think about use `what_if`, for one that was made `with_logged_change`.
    ///
    /// Parameters
    /// ----------
    /// values : dict of str to value
    ///     By key path, as for `what_if`; into readings and the log too: ``{"reading[5].distance": "655 mm"}``.
    #[pyo3(signature = (values: "dict[str, str | float | list[str] | dict[str, str]]"))]
    fn correct(&self, values: &Bound<'_, PyDict>) -> PyResult<Self> {
        let texts = value_texts(values)?;
        run(values.py(), || self.0.correct(&pairs(&texts))).map(Self)
    }
    /// The bike with values of its file changed on a date, and the change logged: what stood there before is noted by itself.
    ///
    /// Parameters
    /// ----------
    /// date : str
    ///     A day, ``"2026-06-14"``, or a day with a time, ``"2026-06-14 19:30"``.
    /// values : dict of str to value
    ///     By key path, as for `what_if`.
    /// note : str, optional
    ///     Anything worth remembering.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.Bike("shed", rear=wr.demo().rear)
    /// >>> stiffer = bike.with_logged_change("2026-06-14", {"rear.shock.spring.rate": "56 N/mm"})
    /// >>> stiffer.changes[0].was
    /// {'rear.shock.spring.rate': '52 N/mm'}
    /// >>> stiffer.at("2026-06-13") == bike
    /// True
    #[pyo3(signature = (date, values: "dict[str, str | float | list[str] | dict[str, str]]", note=None))]
    fn with_logged_change(&self, date: Text, values: &Bound<'_, PyDict>, note: Option<Text>) -> PyResult<Self> {
        let texts = value_texts(values)?;
        run(values.py(), || self.0.with_logged_change(&date, &pairs(&texts), note.as_deref())).map(Self)
    }
    /// The bike as it was at a date: what later changes replaced is put back, only readings and changes up to then are kept.
    ///
    /// Parameters
    /// ----------
    /// date : str
    ///     A day, ``"2026-05-31"``, meaning its end, or a day with a time, ``"2026-05-31 19:30"``.
    fn at(&self, py: Python<'_>, date: Text) -> PyResult<Self> {
        run(py, || self.0.at(&date)).map(Self)
    }
    /// The bike with more readings, after those it has.
    ///
    /// Parameters
    /// ----------
    /// readings : list of Reading
    ///     Each with its date where the bike was changed, or has readings of another day.
    fn with_readings(&self, py: Python<'_>, readings: Vec<crate::record::Reading>) -> PyResult<Self> {
        run(py, || self.0.with(|parts| parts.readings.extend(readings.into_iter().map(|reading| reading.0)))).map(Self)
    }
}

pub(crate) fn value_texts(values: &Bound<'_, PyDict>) -> PyResult<Vec<(String, String)>> {
    values.iter().map(|(path, value)| Ok((path.extract::<Text>()?.0, value_text(&value)?))).collect()
}

pub(crate) fn pairs(texts: &[(String, String)]) -> Vec<(&str, &str)> {
    texts.iter().map(|(path, value)| (path.as_str(), value.as_str())).collect()
}

/// A value as TOML writes it: text and numbers as in JSON, lists and tables part by part, tables within them too.
pub(crate) fn value_text(value: &Bound<'_, PyAny>) -> PyResult<String> {
    if let Ok(table) = value.cast::<PyDict>() {
        let rows = table.iter().map(|(key, value)| Ok(format!("{key} = {}", value_text(&value)?)));
        return Ok(format!("{{ {} }}", rows.collect::<PyResult<Vec<_>>>()?.join(", ")));
    }
    if let Ok(list) = value.cast::<PyList>() {
        let items = list.iter().map(|value| value_text(&value));
        return Ok(format!("[{}]", items.collect::<PyResult<Vec<_>>>()?.join(", ")));
    }
    value.py().import("json")?.call_method1("dumps", (value,))?.extract()
}
