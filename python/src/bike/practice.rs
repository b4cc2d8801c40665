//! What common practice says of the sags of a bike.

use pyo3::prelude::*;
use wheelrate::bike::{self, Agreement};
use wheelrate::record::SagTarget;
use wheelrate::units::{Length, UnitSystem};

use crate::bike::Bike;
use crate::errors::run;
use crate::plain::text;
use crate::record::End;
use crate::record::practice::{CommonPractice, Practice};
use crate::units::Out;
use crate::value::{getters, result_class};

type Lengths = (Out<Length>, Out<Length>);

fn pair(range: wheelrate::record::Range) -> Lengths {
    (Out(range.from), Out(range.to))
}

fn of(target: Option<SagTarget>) -> Option<Lengths> {
    target.map(|target| pair(target.range))
}

result_class! {
    /// What common practice says of one sag of a bike, and how the target stated stands to it.
    SagPractice(bike::SagPractice) {
        /// Which end.
        end: &'static str = |said| said.end.name();
        /// ``rider`` or ``free``.
        sag: &'static str = |said| said.sag.name();
        /// Every figure on it.
        figures: Vec<Practice> = |said| said.figures.iter().map(|figure| Practice(figure.practice.clone())).collect();
        /// What each figure means on this bike, along its own direction: least and most.
        ranges: Vec<Lengths> = |said| said.figures.iter().map(|figure| pair(figure.range)).collect();
        /// For each figure, whether the target stated aims inside it; None where none is stated.
        hold_own: Vec<Option<bool>> = |said| said.figures.iter().map(|figure| figure.holds_own).collect();
        /// Do the figures overlap within the travel?
        agrees: bool = |said| matches!(said.agreement, Agreement::Overlap(_));
        /// What they have in common, along the direction of the first; None where that is nothing.
        overlap: Option<Lengths> = |said| match said.agreement {
            Agreement::Overlap(target) => Some(pair(target.range)),
            _ => None,
        };
        /// The range stated by the user, which comes first; None without one.
        own: Option<Lengths> = |said| of(said.own);
        /// The range that is wanted: the user's own, else the overlap, else None.
        wanted: Option<Lengths> = |said| of(said.wanted());
        /// Sag at full travel along the direction of the first figure.
        full_sag: Out<Length> = |said| Out(said.full_sag);
    }
}

#[pymethods]
impl SagPractice {
    /// What is taken of it, where it disagrees, and how the target stated stands to it; None where there is nothing to say.
    #[pyo3(signature = (units: "str"="metric"))]
    fn note(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<Option<String>> {
        let units: UnitSystem = crate::report::system(py, units)?;
        Ok(self.0.note(units).map(|(_, text)| text))
    }
}

getters! {
    Bike {
        /// What the bike is ridden for, where stated.
        discipline: Option<&str> = |bike| bike.0.parts().discipline.as_deref();
        /// The table of common practice that the bike goes by: the shipped one unless it has its own.
        common_practice: CommonPractice = |bike| CommonPractice(bike.0.parts().common_practice().clone());
    }
}

#[pymethods]
impl Bike {
    /// The same bike by another table of common practice.
    ///
    /// Parameters
    /// ----------
    /// table : CommonPractice
    ///     The table.
    fn with_practice(&self, py: Python<'_>, table: CommonPractice) -> PyResult<Self> {
        run(py, || self.0.with(|parts| parts.practice = Some(table.0))).map(Self)
    }
    /// What common practice says of the sags of one end, for the discipline stated; empty without one.
    ///
    /// Parameters
    /// ----------
    /// end : {"front", "rear"}
    ///     Which end.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> rider, free = wr.demo().practice("rear")
    /// >>> print(*[end.round(1) for end in rider.overlap])
    /// 95.0 millimeter 104.7 millimeter
    /// >>> rider.hold_own
    /// [True, True]
    fn practice(&self, py: Python<'_>, end: End) -> PyResult<Vec<SagPractice>> {
        Ok(run(py, || self.0.practice(end.0))?.into_iter().map(SagPractice).collect())
    }
}
