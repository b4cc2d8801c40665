//! Common practice: a table that a person can edit.

use pyo3::prelude::*;
use wheelrate::record::{self, Direction, Figure, Range, SagKind};
use wheelrate::units::{Length, Share};

use crate::errors::{raise, run};
use crate::plain::Text;
use crate::record::End;
use crate::units::{Given, Out};
use crate::value::{core_class, getters, value_class};

/// One figure for one sag of one discipline, as an author gives it.
///
/// Give `length` or `share`, each a pair: least and most.
///
/// Parameters
/// ----------
/// discipline : str
///     In a word.
/// end : {"front", "rear"}
///     Which end.
/// sag : {"rider", "free"}
///     With rider and kit, or the bike alone.
/// length : pair of lengths, optional
///     The sag.
/// share : pair of shares, optional
///     The sag as a share of the full travel along the same direction.
/// direction : {"vertical", "along fork"}, optional
///     Along which sag and travel run; along the fork in front and vertical at the rear unless given.
/// basis : str, optional
///     Where the figure comes from; common practice without a source unless given.
/// note : str, optional
///     Anything worth knowing of it.
///
/// Examples
/// --------
/// >>> import wheelrate as wr
/// >>> ours = wr.Practice("enduro", "rear", "rider", share=("31 %", "33 %"), basis="our workshop")
/// >>> print(ours.share[1], ours.direction)
/// 33.0 percent vertical
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct Practice(pub(crate) record::Practice);

type Pair<'py, Q> = (Given<'py, Q>, Given<'py, Q>);

getters! {
    Practice {
        /// In a word.
        discipline: &str = |practice| &practice.0.discipline;
        /// Which end.
        end: &'static str = |practice| practice.0.end.name();
        /// ``rider`` or ``free``.
        sag: &'static str = |practice| practice.0.sag.name();
        /// Least and most of the sag; None where it is given as a share.
        length: Option<(Out<Length>, Out<Length>)> = |practice| {
            match practice.0.figure {
                Figure::Length(Range { from, to }) => Some((Out(from), Out(to))),
                Figure::Share { .. } => None,
            }
        };
        /// Least and most as shares of the full travel along the same direction; None where it is given as a length.
        share: Option<(Out<Share>, Out<Share>)> = |practice| {
            match practice.0.figure {
                Figure::Length(_) => None,
                Figure::Share { from, to } => Some((Out(from), Out(to))),
            }
        };
        /// Along which sag and travel run.
        direction: &'static str = |practice| practice.0.direction.name();
        /// Where the figure comes from.
        basis: &str = |practice| &practice.0.basis;
        /// Anything worth knowing of it.
        note: Option<&str> = |practice| practice.0.note.as_deref();
    }
}

core_class!(Practice(record::Practice));

#[pymethods]
impl Practice {
    #[new]
    #[pyo3(signature = (discipline, end, sag, *, length=None, share=None, direction=None, basis=None, note=None))]
    #[allow(clippy::too_many_arguments, reason = "the columns of the table")]
    fn new(
        py: Python<'_>,
        discipline: Text,
        end: End,
        sag: Text,
        length: Option<Pair<'_, Length>>,
        share: Option<Pair<'_, Share>>,
        direction: Option<Text>,
        basis: Option<Text>,
        note: Option<Text>,
    ) -> PyResult<Self> {
        let refuse = |message: String| raise(py, "BikeError", (message,));
        let sag = SagKind::BOTH
            .into_iter()
            .find(|kind| kind.name() == &*sag)
            .ok_or_else(|| refuse(format!("sag: found `{sag}`, wanted `rider` or `free`")))?;
        let figure = match (length, share) {
            (Some((from, to)), None) => {
                Figure::Length(Range { from: from.read("length[0]")?, to: to.read("length[1]")? })
            }
            (None, Some((from, to))) => Figure::Share { from: from.read("share[0]")?, to: to.read("share[1]")? },
            (None, None) => return Err(refuse("found neither `length` nor `share`, wanted one of them".to_owned())),
            (Some(_), Some(_)) => {
                return Err(refuse(
                    "found `length` and `share`, wanted one of them; two figures are two rows".to_owned(),
                ));
            }
        };
        let direction = match (direction.as_deref(), end.0) {
            (Some(given), _) => [Direction::Vertical, Direction::AlongFork]
                .into_iter()
                .find(|known| known.name() == given)
                .ok_or_else(|| refuse(format!("direction: found `{given}`, wanted `vertical` or `along fork`")))?,
            (None, record::End::Rear) => Direction::Vertical,
            (None, record::End::Front) => Direction::AlongFork,
        };
        run(py, || record::Practice::new(discipline.0, end.0, sag, figure, direction)).map(|practice| {
            Self(record::Practice {
                basis: basis.map_or_else(|| practice.basis.clone(), |text| text.0),
                note: note.map(|text| text.0),
                ..practice
            })
        })
    }
    fn __repr__(&self) -> String {
        let text = |si: f64, kind| wheelrate::units::exact_text(kind, si);
        use wheelrate::units::Quantity;
        let figure = match self.0.figure {
            Figure::Length(Range { from, to }) => {
                format!("length=('{}', '{}')", text(from.si(), Length::KIND), text(to.si(), Length::KIND))
            }
            Figure::Share { from, to } => {
                format!("share=('{}', '{}')", text(from.si(), Share::KIND), text(to.si(), Share::KIND))
            }
        };
        let (discipline, end, sag, direction) = (self.discipline(), self.end(), self.sag(), self.direction());
        format!("Practice('{discipline}', '{end}', '{sag}', {figure}, direction='{direction}')")
    }
}

value_class! {
    /// Common practice: the sag that each discipline aims at, figure by figure. None of the shipped figures has a source.
    ///
    /// Where the figures on one sag overlap on a bike, the overlap is wanted; where they do not, nothing is chosen.
    ///
    /// Examples
    /// --------
    /// >>> import wheelrate as wr
    /// >>> table = wr.CommonPractice.shipped()
    /// >>> table.disciplines
    /// ['motocross', 'trail', 'road', 'track', 'any']
    /// >>> ours = table.with_rows([wr.Practice("enduro", "rear", "rider", share=("31 %", "33 %"))])
    /// >>> len(ours.rows) - len(table.rows)
    /// 1
    CommonPractice(record::CommonPractice)
}

getters! {
    CommonPractice {
        /// Every figure, in order.
        rows: Vec<Practice> = |practice| practice.0.rows.iter().cloned().map(Practice).collect();
        /// The disciplines, each once.
        disciplines: Vec<String> = |practice| practice.0.disciplines().into_iter().map(str::to_owned).collect();
    }
}

#[pymethods]
impl CommonPractice {
    #[new]
    #[pyo3(signature = (rows))]
    fn new(rows: Vec<Practice>) -> Self {
        Self(record::CommonPractice { rows: rows.into_iter().map(|row| row.0).collect() })
    }
    /// The table that is shipped.
    #[staticmethod]
    fn shipped() -> Self {
        Self(record::CommonPractice::shipped().clone())
    }
    /// The text of the shipped file, to be edited.
    #[staticmethod]
    fn shipped_file() -> &'static str {
        record::CommonPractice::SHIPPED
    }
    /// Read a table of one's own: JSON where its name ends in ``.json``, else TOML.
    ///
    /// Parameters
    /// ----------
    /// path : str or path
    ///     The file.
    #[staticmethod]
    #[pyo3(signature = (path: "str | os.PathLike[str]"))]
    fn load(path: &Bound<'_, PyAny>) -> PyResult<Self> {
        let py = path.py();
        let (text, json) = crate::file::text_of(path)?;
        if json { Self::from_json(py, text) } else { Self::from_toml(py, text) }
    }
    /// Read the text of a table.
    #[staticmethod]
    fn from_toml(py: Python<'_>, text: Text) -> PyResult<Self> {
        run(py, || record::CommonPractice::from_toml(&text)).map(Self)
    }
    /// Read the text of a table written as JSON.
    #[staticmethod]
    fn from_json(py: Python<'_>, text: Text) -> PyResult<Self> {
        run(py, || record::CommonPractice::from_json(&text)).map(Self)
    }
    /// The table as the text of a file, which reads back as an equal table.
    fn to_toml(&self) -> String {
        self.0.to_toml()
    }
    /// The same as JSON.
    fn to_json(&self) -> String {
        self.0.to_json()
    }
    /// The same table with more rows.
    fn with_rows(&self, rows: Vec<Practice>) -> Self {
        let all = self.0.rows.iter().cloned().chain(rows.into_iter().map(|row| row.0));
        Self(record::CommonPractice { rows: all.collect() })
    }
}
