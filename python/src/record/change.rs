//! What was done to the bike.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use wheelrate::record;

use crate::log::value_text;
use crate::plain::Text;
use crate::value::{Named, getters, value_class};

value_class! {
    /// Something done to the bike: what stood there before, in the words of the bike file.
    ///
    /// `Bike.with_logged_change` makes one by itself; a bike that is put together with its log takes them as they are.
    ///
    /// Parameters
    /// ----------
    /// date : str
    ///     A day, ``"2026-05-31"``, or a day with a time, ``"2026-05-31 19:30"``.
    /// was : dict of str to value, optional
    ///     What stood there before, by key path: ``{"rear.shock.spring.rate": "50 N/mm"}``.
    /// added : list of str, optional
    ///     Key paths of what was not there before.
    /// note : str, optional
    ///     Anything worth remembering.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> change = wr.Change("2026-06-14", was={"rear.shock.spring.rate": "50 N/mm"}, note="stiffer")
    /// >>> bike = wr.Bike("shed", rear=wr.demo().rear, changes=[change])
    /// >>> print(bike.at("2026-06-13").rear.shock.spring.spring.rate)
    /// 50.0 newton / millimeter
    Change(record::Change)
}

getters! {
    Change {
        /// When.
        date: &str = |change| &change.0.date;
        /// A note.
        note: Option<&str> = |change| change.0.note.as_deref();
        /// What stood there before, by key path.
        was: Named<String> = |change| Named(change.0.was.clone());
        /// Key paths of what was not there before.
        added: Vec<String> = |change| change.0.added.clone();
    }
}

#[pymethods]
impl Change {
    #[new]
    #[pyo3(signature = (date, *, was: "dict[str, str | float | list[str] | dict[str, str]] | None"=None, added=Vec::new(), note=None))]
    fn new(date: Text, was: Option<Bound<'_, PyDict>>, added: Vec<Text>, note: Option<Text>) -> PyResult<Self> {
        let plain = |value: &Bound<'_, PyAny>| value.extract::<String>().or_else(|_| value_text(value));
        let rows = was.iter().flatten().map(|(path, value)| Ok((path.extract::<Text>()?.0, plain(&value)?)));
        Ok(Self(record::Change {
            date: date.0,
            note: note.map(|text| text.0),
            was: rows.collect::<PyResult<_>>()?,
            added: added.into_iter().map(|text| text.0).collect(),
        }))
    }
}
