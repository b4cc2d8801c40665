//! Rear-end designs side by side.

use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::types::PyDict;
use serde_json::{Map, Value};
use wheelrate::compare::{AtSag, Compared};
use wheelrate::units::kind::Kind;
use wheelrate::units::{
    Force, Length, LeverageRatio, MotionRatio, Quantity, Share, SpringRate, UnitSystem, WheelRate, exact_text,
};

use crate::errors::run;
use crate::plain::{Text, text};
use crate::units::{Given, OutArray};
use crate::value::{result_class, rows};
use crate::wheel::RearEnd;

result_class! {
    /// Designs under one load, as arrays with one entry per design; what a design has not is NaN.
    Comparison(Vec<Compared>) {
        /// The designs.
        names: Vec<String> = |designs| designs.iter().map(|design| design.name.clone()).collect();
        /// Wheel travel from full extension to the end of stroke.
        full_travel: OutArray<Length> = |designs| each(designs, |design| Some(design.full_travel));
        /// Motion ratio at full extension.
        motion_ratio_start: OutArray<MotionRatio> = |designs| each(designs, |design| Some(design.motion_ratio[0]));
        /// Motion ratio at full compression.
        motion_ratio_end: OutArray<MotionRatio> = |designs| each(designs, |design| Some(design.motion_ratio[1]));
        /// Leverage ratio at full extension.
        leverage_ratio_start: OutArray<LeverageRatio> = |designs| {
            each(designs, |design| Some(design.motion_ratio[0].leverage_ratio()))
        };
        /// Leverage ratio at full compression.
        leverage_ratio_end: OutArray<LeverageRatio> = |designs| {
            each(designs, |design| Some(design.motion_ratio[1].leverage_ratio()))
        };
        /// Progression of the motion ratio over the whole travel.
        progression: OutArray<Share> = |designs| each(designs, |design| Some(design.progression));
        /// Wheel force at full compression.
        end_force: OutArray<Force> = |designs| each(designs, |design| Some(design.end_force));
        /// Sag under the load with each design's own spring; NaN where the load leaves it on a stop.
        sag: OutArray<Length> = |designs| at_sag(designs, |sag| Some(sag.travel));
        /// Motion ratio there.
        motion_ratio_at_sag: OutArray<MotionRatio> = |designs| at_sag(designs, |sag| Some(sag.motion_ratio));
        /// Wheel rate there, the geometric term included.
        wheel_rate_at_sag: OutArray<WheelRate> = |designs| at_sag(designs, |sag| Some(sag.wheel_rate));
        /// Shock stroke left there.
        stroke_left: OutArray<Length> = |designs| at_sag(designs, |sag| Some(sag.stroke_left));
        /// How much higher the frame stands over the axle than in the first design.
        ride_height_change: OutArray<Length> = |designs| at_sag(designs, |sag| sag.ride_height_change);
        /// Rate of the main springs together that brings back the first design's sag, preload unchanged.
        spring_for_same_sag: OutArray<SpringRate> = |designs| each(designs, |design| design.spring_for_same_sag);
    }
}

rows! {
    Comparison: names, full_travel, motion_ratio_start, motion_ratio_end, leverage_ratio_start, leverage_ratio_end, progression, sag, motion_ratio_at_sag, wheel_rate_at_sag, end_force, stroke_left, spring_for_same_sag, ride_height_change
}

fn each<Q: Quantity>(designs: &[Compared], read: impl Fn(&Compared) -> Option<Q>) -> OutArray<Q> {
    OutArray(designs.iter().map(|design| read(design).unwrap_or(Q::from_si(f64::NAN))).collect())
}

fn at_sag<Q: Quantity>(designs: &[Compared], read: impl Fn(&AtSag) -> Option<Q>) -> OutArray<Q> {
    each(designs, |design| design.sag.as_ref().and_then(&read))
}

/// A row of the table: what it is, its kind, decimals, and the SI value of each design.
type Row = (&'static str, &'static Kind, usize, Vec<f64>);
/// A row in units: what it is, the unit, decimals, and the number of each design that has one.
type UnitRow = (&'static str, &'static str, usize, Vec<Option<f64>>);

impl Comparison {
    fn rows(&self) -> Vec<Row> {
        fn row<Q: Quantity>(name: &'static str, decimals: usize, OutArray(values): OutArray<Q>) -> Row {
            (name, Q::KIND, decimals, values.into_iter().map(Q::si).collect())
        }
        vec![
            row("full travel", 1, self.full_travel()),
            row("motion ratio at full extension", 4, self.motion_ratio_start()),
            row("motion ratio at full compression", 4, self.motion_ratio_end()),
            row("leverage ratio at full extension", 3, self.leverage_ratio_start()),
            row("leverage ratio at full compression", 3, self.leverage_ratio_end()),
            row("progression", 1, self.progression()),
            row("wheel force at full compression", 0, self.end_force()),
            row("sag", 1, self.sag()),
            row("motion ratio at sag", 4, self.motion_ratio_at_sag()),
            row("wheel rate at sag", 2, self.wheel_rate_at_sag()),
            row("shock stroke left at sag", 1, self.stroke_left()),
            row("ride height, change", 1, self.ride_height_change()),
            row("spring for the first one's sag", 1, self.spring_for_same_sag()),
        ]
    }

    fn unit_rows(&self, units: UnitSystem) -> Vec<UnitRow> {
        let row = |(name, kind, decimals, values): Row| {
            let symbol = units.symbol(kind);
            let unit = kind.unit(symbol);
            let number = |si: f64| unit.map(|unit| unit.from_si(si)).filter(|number| number.is_finite());
            (name, symbol, decimals, values.into_iter().map(number).collect())
        };
        self.rows().into_iter().map(row).collect()
    }

    /// Head and body as text.
    fn cells(&self) -> Vec<Vec<String>> {
        let head = ["", "unit"].map(str::to_owned).into_iter().chain(self.names()).collect();
        let row = |(name, symbol, decimals, values): UnitRow| {
            let shown = |number: Option<f64>| number.map_or("–".to_owned(), |number| format!("{number:.decimals$}"));
            [name, symbol].map(str::to_owned).into_iter().chain(values.into_iter().map(shown)).collect()
        };
        core::iter::once(head).chain(self.unit_rows(UnitSystem::Metric).into_iter().map(row)).collect()
    }
}

#[pymethods]
impl Comparison {
    /// The rows of the comparison: what each is, its unit, its decimals, and the number of each design, None for what it
    /// has not.
    ///
    /// Parameters
    /// ----------
    /// units : {"metric", "kilogram-force", "inch"}
    ///     Unit system of the numbers.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> bike = wr.demo()
    /// >>> wr.compare({"now": bike.rear}, "1100 N").table()[0]
    /// ('full travel', 'mm', 1, [299.0...])
    #[pyo3(signature = (units: "str"="metric"))]
    fn table(&self, py: Python<'_>, #[pyo3(from_py_with = text)] units: &str) -> PyResult<Vec<UnitRow>> {
        Ok(self.unit_rows(crate::report::system(py, units)?))
    }
    /// The comparison as JSON: for each design every row as text with its unit, ``null`` for what it has not.
    fn to_json(&self) -> String {
        let design = |(at, name): (usize, String)| {
            let rows = self.rows().into_iter().map(|(row, kind, _, values)| {
                let si = values.get(at).copied().filter(|si| si.is_finite());
                (row.to_owned(), si.map_or(Value::Null, |si| exact_text(kind, si).into()))
            });
            (name, Value::Object(rows.collect()))
        };
        Value::Object(self.names().into_iter().enumerate().map(design).collect::<Map<_, _>>()).to_string()
    }
    fn __str__(&self) -> String {
        let cells = self.cells();
        let columns = cells.first().map_or(0, Vec::len);
        let width =
            |column: usize| cells.iter().filter_map(|row| row.get(column)).map(|cell| cell.chars().count()).max();
        let widths: Vec<usize> = (0..columns).map(|column| width(column).unwrap_or(0)).collect();
        let line = |row: &Vec<String>| {
            let cells = row.iter().zip(&widths).enumerate().map(|(at, (cell, &width))| match at {
                0 | 1 => format!("{cell:<width$}"),
                _ => format!("{cell:>width$}"),
            });
            cells.collect::<Vec<_>>().join("  ").trim_end().to_owned()
        };
        cells.iter().map(line).collect::<Vec<_>>().join("\n")
    }
    fn _repr_html_(&self, py: Python<'_>) -> PyResult<String> {
        py.import("wheelrate._display")?.call_method1("comparison", (self.cells(),))?.extract()
    }
}

/// Compare rear ends under one load; changes are against the first.
///
/// Parameters
/// ----------
/// designs : dict of str to RearEnd
///     By name, drawn in the same axes.
/// load : force
///     Sprung load at the wheel.
///
/// Returns
/// -------
/// Comparison
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> bike = wr.demo()
/// >>> longer = wr.RearEnd(bike.rear.linkage.with_link_length("link", "176 mm"), bike.rear.shock)
/// >>> both = wr.compare({"now": bike.rear, "longer link": longer}, bike.masses.sprung_load("rear", "bike + rider").value)
/// >>> print(both.sag.round(1))
/// [105.3 103.9] millimeter
#[pyfunction]
#[pyo3(signature = (designs: "dict[str, RearEnd]", load))]
pub(crate) fn compare(py: Python<'_>, designs: &Bound<'_, PyAny>, load: Given<'_, Force>) -> PyResult<Comparison> {
    let designs = designs.cast::<PyDict>().map_err(|_| {
        let found = designs.get_type().name().map_or_else(|_| String::from("something else"), |name| name.to_string());
        PyTypeError::new_err(format!(
            "designs: found {found}, wanted rear ends by name in a dict: {{\"now\": bike.rear, \"longer link\": other.rear}}"
        ))
    })?;
    let load = load.read("load")?;
    let designs: Vec<(String, RearEnd)> =
        designs.iter().map(|(name, end)| Ok((name.extract::<Text>()?.0, end.extract()?))).collect::<PyResult<_>>()?;
    let named: Vec<(&str, &wheelrate::wheel::RearEnd)> =
        designs.iter().map(|(name, end)| (name.as_str(), &end.0)).collect();
    run(py, || wheelrate::compare::compare(&named, load)).map(Comparison)
}
