//! What a person wrote down: which end, under what load, which reading.

pub(crate) mod change;
pub(crate) mod measuring;
pub(crate) mod on_sale;
pub(crate) mod practice;
pub(crate) mod riders;
pub(crate) mod scenario;
pub(crate) mod targets;
pub(crate) mod usual;

use pyo3::prelude::*;
use pyo3::types::PyDict;
#[cfg(feature = "introspection")]
use pyo3::{inspect::PyStaticExpr, type_hint_identifier};
use wheelrate::error::BikeError;
use wheelrate::record::{self, Ends, Load, Settled};
use wheelrate::units::{Length, Share, WheelRate};
use wheelrate::wheel::Tyre;

use crate::errors::{exception, raise, run};
use crate::plain::Text;
use crate::units::{Given, Out, read_optional};
use crate::value::{Named, core_class, getters};

/// One end of the bike, by its name.
#[derive(Clone, Copy)]
pub(crate) struct End(pub(crate) record::End);

impl<'py> FromPyObject<'_, 'py> for End {
    type Error = PyErr;
    #[cfg(feature = "introspection")]
    const INPUT_TYPE: PyStaticExpr = type_hint_identifier!("wheelrate.typing", "End");
    fn extract(object: Borrowed<'_, 'py, PyAny>) -> PyResult<Self> {
        let Text(name) = object.extract()?;
        record::End::BOTH
            .into_iter()
            .find(|end| end.name() == name)
            .map(Self)
            .ok_or_else(|| raise(object.py(), "BikeError", (format!("end: found `{name}`, wanted `front` or `rear`"),)))
    }
}

/// One thing per end, from a dict by the names of the ends.
pub(crate) fn by_end<'py, T: FromPyObjectOwned<'py>>(given: Option<Bound<'py, PyDict>>) -> PyResult<Ends<Option<T>>> {
    let mut ends = Ends { front: None, rear: None };
    for (end, thing) in given.iter().flatten() {
        ends = ends.with(end.extract::<End>()?.0, Some(thing.extract::<T>().map_err(Into::into)?));
    }
    Ok(ends)
}

/// A dict by the names of the ends that have the thing.
pub(crate) fn named_ends<T>(ends: Ends<Option<T>>) -> Named<T> {
    let Ends { front, rear } = ends;
    let named = [(record::End::Front, front), (record::End::Rear, rear)];
    Named(named.into_iter().filter_map(|(end, thing)| Some((end.name().to_owned(), thing?))).collect())
}

/// A load, by its text.
pub(crate) fn load(py: Python<'_>, text: &str) -> PyResult<Load> {
    Load::parse(text).map_err(|error| exception(py, &error.into(), Some("load")))
}

/// What the ends stand on.
///
/// Parameters
/// ----------
/// fork_offset : length
///     Of the front axle ahead of the steering axis, square to it.
/// front_radius, rear_radius : length
///     Axle over the ground, tyre unloaded; loaded where no tyre rate is given.
/// front_tyre, rear_tyre : wheel rate, optional
///     Vertical rate of each tyre; rigid unless given.
/// front_tyre_uncertainty, rear_tyre_uncertainty : wheel rate, optional
///     Standard uncertainty of that rate.
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct Wheels(pub(crate) record::Wheels);

getters! {
    Wheels {
        /// Of the front axle ahead of the steering axis, square to it.
        fork_offset: Out<Length> = |wheels| Out(wheels.0.fork_offset);
        /// Front axle over the ground.
        front_radius: Out<Length> = |wheels| Out(wheels.0.ends.front.radius);
        /// Rear axle over the ground.
        rear_radius: Out<Length> = |wheels| Out(wheels.0.ends.rear.radius);
        /// Vertical rate of the front tyre; None for a rigid one.
        front_tyre: Option<Out<WheelRate>> = |wheels| wheels.0.ends.front.tyre_rate().map(Out);
        /// Vertical rate of the rear tyre; None for a rigid one.
        rear_tyre: Option<Out<WheelRate>> = |wheels| wheels.0.ends.rear.tyre_rate().map(Out);
        /// Standard uncertainty of the front tyre's rate, stated or from its readings; None where nothing is said of it.
        front_tyre_uncertainty: Option<Out<WheelRate>> = |wheels| doubt(&wheels.0.ends.front).map(Out);
        /// Standard uncertainty of the rear tyre's rate, stated or from its readings; None where nothing is said of it.
        rear_tyre_uncertainty: Option<Out<WheelRate>> = |wheels| doubt(&wheels.0.ends.rear).map(Out);
    }
}

core_class!(Wheels(record::Wheels));

fn doubt(wheel: &record::WheelAndTyre) -> Option<WheelRate> {
    wheel.tyre.as_ref().and_then(Tyre::uncertainty)
}

/// A tyre from its rate and that rate's uncertainty.
fn tyre(end: &str, rate: Option<WheelRate>, uncertainty: Option<WheelRate>) -> wheelrate::Result<Option<Tyre>> {
    match (rate, uncertainty) {
        (Some(rate), Some(uncertainty)) => Ok(Some(Tyre::uncertain(rate, uncertainty)?)),
        (Some(rate), None) => Ok(Some(Tyre::stated(rate)?)),
        (None, None) => Ok(None),
        (None, Some(_)) => {
            let purpose = format!("`{end}_tyre_uncertainty` is of it");
            Err(BikeError::Missing { part: format!("{end}_tyre"), purpose }.into())
        }
    }
}

#[pymethods]
impl Wheels {
    #[new]
    #[pyo3(signature = (*, fork_offset, front_radius, rear_radius, front_tyre=None, rear_tyre=None, front_tyre_uncertainty=None, rear_tyre_uncertainty=None))]
    #[allow(clippy::too_many_arguments, reason = "all that the wheels are made of")]
    fn new(
        py: Python<'_>,
        fork_offset: Given<'_, Length>,
        front_radius: Given<'_, Length>,
        rear_radius: Given<'_, Length>,
        front_tyre: Option<Given<'_, WheelRate>>,
        rear_tyre: Option<Given<'_, WheelRate>>,
        front_tyre_uncertainty: Option<Given<'_, WheelRate>>,
        rear_tyre_uncertainty: Option<Given<'_, WheelRate>>,
    ) -> PyResult<Self> {
        let fork_offset = fork_offset.read("fork_offset")?;
        let (front, rear) = (front_radius.read("front_radius")?, rear_radius.read("rear_radius")?);
        let tyres = (read_optional(front_tyre, "front_tyre")?, read_optional(rear_tyre, "rear_tyre")?);
        let doubts = (
            read_optional(front_tyre_uncertainty, "front_tyre_uncertainty")?,
            read_optional(rear_tyre_uncertainty, "rear_tyre_uncertainty")?,
        );
        run(py, || {
            let front = record::WheelAndTyre::with_tyre(front, tyre("front", tyres.0, doubts.0)?)?;
            let rear = record::WheelAndTyre::with_tyre(rear, tyre("rear", tyres.1, doubts.1)?)?;
            Ok::<_, wheelrate::Error>(record::Wheels::new(fork_offset, Ends { front, rear })?)
        })
        .map(Self)
    }
    fn __repr__(&self) -> String {
        let named: Vec<String> = self.named().map(|(name, text)| format!("{name}='{text}'")).collect();
        format!("Wheels({})", named.join(", "))
    }
}

impl Wheels {
    /// What the constructor takes, by name; the rate of a tyre that was read with the uncertainty that the readings leave.
    fn named(&self) -> impl Iterator<Item = (&'static str, String)> {
        let text = wheelrate::units::to_text::<Length>;
        let Ends { front, rear } = &self.0.ends;
        let lengths =
            [("fork_offset", self.0.fork_offset), ("front_radius", front.radius), ("rear_radius", rear.radius)];
        let tyres = [
            ("front_tyre", front.tyre_rate()),
            ("rear_tyre", rear.tyre_rate()),
            ("front_tyre_uncertainty", doubt(front)),
            ("rear_tyre_uncertainty", doubt(rear)),
        ];
        let tyres = tyres.into_iter().filter_map(|(name, tyre)| Some((name, wheelrate::units::to_text(tyre?))));
        lengths.into_iter().map(move |(name, length)| (name, text(length))).chain(tyres)
    }
}

/// A reading: the distance between the axle and a mark, under a load, settled from one side.
///
/// Parameters
/// ----------
/// end : {"front", "rear"}
///     Which end.
/// load : str
///     What stands on the wheels: ``"none"`` (wheel off the ground), ``"bike"``, ``"bike + rider"``.
/// distance : length, optional
///     As read; or ``sag`` in its place.
/// settled : {"low", "high", "middle"}, optional
///     After pushing down, after lifting, or the mean of both; leave it out if nobody noted it.
/// uncertainty : length, optional
///     Standard uncertainty, where it differs from the end's.
/// sag : length or str, optional
///     On a zeroed gauge, or already subtracted; in per cent of the travel as text, ``"33 %"``.
/// date : str, optional
///     A day, ``"2026-05-31"``, or a day with a time, ``"2026-05-31 19:30"``.
/// note : str, optional
///     Anything worth remembering.
#[pyclass(module = "wheelrate", frozen, eq, weakref, from_py_object)]
#[derive(Clone, PartialEq)]
pub(crate) struct Reading(pub(crate) record::Reading);

getters! {
    Reading {
        /// Which end.
        end: &'static str = |reading| reading.0.end.name();
        /// What stands on the wheels.
        load: String = |reading| reading.0.load.to_string();
        /// From which side it came to rest, where noted.
        settled: Option<&'static str> = |reading| {
            reading.0.settled.map(|settled| match settled {
                Settled::Low => "low",
                Settled::High => "high",
                Settled::Middle => "middle",
            })
        };
        /// The distance read; None where a sag was read.
        distance: Option<Out<Length>> = |reading| reading.0.sag().is_none().then_some(Out(reading.0.distance));
        /// The sag read, on a zeroed gauge or already subtracted; None where a distance was read, and for a share of a travel
        /// that is not known by itself.
        sag: Option<Out<Length>> = |reading| reading.0.sag().filter(|_| reading.0.share.is_none()).map(Out);
        /// The sag read, as a share of the travel; None where it was not noted so.
        share: Option<Out<Share>> = |reading| reading.0.share.map(Out);
        /// Standard uncertainty, where it differs from the end's.
        uncertainty: Option<Out<Length>> = |reading| reading.0.uncertainty.map(Out);
        /// When it was read, where noted.
        date: Option<&str> = |reading| reading.0.date.as_deref();
        /// A note of the reader's.
        note: Option<&str> = |reading| reading.0.note.as_deref();
    }
}

#[pymethods]
impl Reading {
    #[new]
    #[allow(clippy::too_many_arguments, reason = "all that is known of a reading")]
    #[pyo3(signature = (end, load, distance=None, settled=None, uncertainty=None, *, sag=None, date=None, note=None))]
    fn new(
        py: Python<'_>,
        end: End,
        load: Text,
        distance: Option<Given<'_, Length>>,
        settled: Option<Text>,
        uncertainty: Option<Given<'_, Length>>,
        sag: Option<&Bound<'_, PyAny>>,
        date: Option<Text>,
        note: Option<Text>,
    ) -> PyResult<Self> {
        let settled = match settled.as_deref() {
            None => None,
            Some("low") => Some(Settled::Low),
            Some("high") => Some(Settled::High),
            Some("middle") => Some(Settled::Middle),
            Some(other) => {
                let wanted = "wanted `low`, `high` or `middle`";
                return Err(raise(py, "BikeError", (format!("settled: found `{other}`, {wanted}"),)));
            }
        };
        let load = self::load(py, &load)?;
        let (distance, uncertainty) =
            (read_optional(distance, "distance")?, read_optional(uncertainty, "uncertainty")?);
        let read = Read::of(py, distance, sag)?;
        run(py, || {
            let reading = match read {
                Read::Distance(distance) => record::Reading::new(end.0, load, distance, settled)?,
                Read::Sag(sag) => record::Reading::of_sag(end.0, load, sag, settled)?,
                Read::Share(share) => record::Reading::of_share(end.0, load, share, settled)?,
            };
            let reading = record::Reading { date: date.map(|text| text.0), note: note.map(|text| text.0), ..reading };
            uncertainty.map_or(Ok(reading.clone()), |uncertainty| reading.with_uncertainty(uncertainty))
        })
        .map(Self)
    }
    #[pyo3(signature = () -> "tuple[tuple[str, str, str | None, str | None, str | None], dict[str, str | None]]")]
    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<(Positional, Bound<'py, PyDict>)> {
        let keywords = PyDict::new(py);
        keywords.set_item("sag", self.sag_text())?;
        keywords.set_item("date", &self.0.date)?;
        keywords.set_item("note", &self.0.note)?;
        Ok((self.positional(), keywords))
    }
    fn __hash__(&self) -> u64 {
        crate::value::hash(&self.0)
    }
    fn __repr__(&self) -> String {
        let (end, load, distance, settled, _) = self.positional();
        let distance = distance.map(|distance| format!(", '{distance}'")).unwrap_or_default();
        let sag = self.sag_text().map(|sag| format!(", sag='{sag}'")).unwrap_or_default();
        let settled = settled.map(|settled| format!(", settled='{settled}'")).unwrap_or_default();
        let date = self.date().map(|date| format!(", date='{date}'")).unwrap_or_default();
        format!("Reading('{end}', '{load}'{distance}{settled}{sag}{date})")
    }
}

/// End, load, distance, settling and uncertainty as text.
type Positional = (&'static str, String, Option<String>, Option<&'static str>, Option<String>);

/// What was read.
enum Read {
    Distance(Length),
    Sag(Length),
    Share(Share),
}

impl Read {
    fn of(py: Python<'_>, distance: Option<Length>, sag: Option<&Bound<'_, PyAny>>) -> PyResult<Self> {
        let Some(given) = sag else {
            let none = || raise(py, "BikeError", ("a reading wants `distance`, or `sag` in its place".to_owned(),));
            return distance.map(Self::Distance).ok_or_else(none);
        };
        if distance.is_some() {
            return Err(raise(py, "BikeError", ("a reading wants `distance` or `sag`, and not both".to_owned(),)));
        }
        match given.extract::<&str>() {
            Ok(text) if text.contains('%') => given.extract::<Given<'_, Share>>()?.read("sag").map(Self::Share),
            _ => given.extract::<Given<'_, Length>>()?.read("sag").map(Self::Sag),
        }
    }
}

impl Reading {
    fn positional(&self) -> Positional {
        let text = wheelrate::units::to_text::<Length>;
        let distance = self.0.sag().is_none().then(|| text(self.0.distance));
        (self.end(), self.load(), distance, self.settled(), self.0.uncertainty.map(text))
    }

    fn sag_text(&self) -> Option<String> {
        let share = self.0.share.map(wheelrate::units::to_text::<Share>);
        share.or_else(|| self.0.sag().map(wheelrate::units::to_text::<Length>))
    }
}
