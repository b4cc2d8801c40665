//! A sweep: axes, a scheme, outputs; asked for any stretch of its designs.

use core::ops::Range;

use super::answers::Answers;
use super::axis::{Level, Ready, Sort, SweepAxis};
use super::chunk::{Chunk, Column, Values};
use super::making::Maker;
use super::output::Output;
use super::scheme::Scheme;
use crate::Result;
use crate::bike::Bike;
use crate::error::{Error, Step, SweepError};
use crate::infer::study::Carrier;
use crate::parallel::each;
use crate::record::{End, Ends};
use crate::work;

/// Points of a curve unless more are asked for.
const POINTS: usize = 60;
/// Most points of a curve.
const MOST_POINTS: usize = 10_000;
/// Designs looked at before a sweep is begun: where none of them can be made, or has an answer, no other is likely to.
const LOOKED_AT: u64 = 9;

/// Many designs of one bike, as data: nothing is worked out before it is asked for.
///
/// Each design is the bike as [`Bike::what_if`] would have it with the values of all axes, what the readings found carried into
/// it. A design is known by its index alone, so that any stretch can be worked out anywhere.
///
/// ```
/// use wheelrate::sweep::{SweepAxis, Scheme, Sweep};
/// use wheelrate::{Bike, demo::PATROL};
/// let bike = Bike::from_toml(PATROL)?;
/// let axes = vec![
///     SweepAxis::steps("rear.linkage.points.link_frame[0]", "-68 mm", "-64 mm", 5)?,
///     SweepAxis::new("rear.shock.spring.rate", ["52 N/mm", "56 N/mm"])?,
/// ];
/// let sweep = Sweep::new(&bike, axes, Scheme::Grid, &["rear.rider_sag", "rear.progression"])?;
/// let chunk = sweep.chunk(0..sweep.len());
/// assert_eq!(chunk.column("rear.rider_sag").unwrap().numbers().unwrap().len(), 10);
/// assert!(chunk.reasons.is_empty());
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(try_from = "SweepText", into = "SweepText")]
pub struct Sweep {
    bike: Bike,
    axes: Vec<SweepAxis>,
    scheme: Scheme,
    outputs: Vec<Output>,
    points: usize,
    ready: Vec<Ready>,
    counts: Vec<usize>,
    len: u64,
    maker: Maker,
    carriers: Ends<Option<Result<Carrier>>>,
    /// Per output: what no axis can change, worked out once.
    constant: Vec<Option<core::result::Result<Vec<f64>, String>>>,
}

/// Sweeps are the same that ask the same of the same bike.
impl PartialEq for Sweep {
    fn eq(&self, other: &Self) -> bool {
        self.bike == other.bike
            && self.axes == other.axes
            && self.scheme == other.scheme
            && self.outputs == other.outputs
            && self.points == other.points
    }
}

/// A sweep as it is written.
#[derive(serde::Serialize, serde::Deserialize)]
struct SweepText {
    bike: Bike,
    axes: Vec<SweepAxis>,
    scheme: Scheme,
    outputs: Vec<String>,
    points: usize,
}

impl TryFrom<SweepText> for Sweep {
    type Error = Error;
    fn try_from(SweepText { bike, axes, scheme, outputs, points }: SweepText) -> Result<Self> {
        Self::with_points(&bike, axes, scheme, &outputs, points)
    }
}

impl From<Sweep> for SweepText {
    fn from(Sweep { bike, axes, scheme, outputs, points, .. }: Sweep) -> Self {
        Self { bike, axes, scheme, outputs: outputs.into_iter().map(Output::name).collect(), points }
    }
}

impl Sweep {
    /// A sweep of a bike; curves have 60 points.
    ///
    /// # Errors
    /// [`SweepError`] with the address or the field at fault: nothing varied or asked, an address that leads nowhere or into the
    /// log, a value of another kind, lists that differ in length, an output that is none. [`SweepError::NoDesign`] and
    /// [`SweepError::NoAnswer`] where no design looked at can be made, or has an output.
    pub fn new(bike: &Bike, axes: Vec<SweepAxis>, scheme: Scheme, outputs: &[impl AsRef<str>]) -> Result<Self> {
        Self::with_points(bike, axes, scheme, outputs, POINTS)
    }

    /// The same with curves of so many points.
    ///
    /// # Errors
    /// As [`Sweep::new`]; [`SweepError::Count`] for fewer than two points.
    pub fn with_points(
        bike: &Bike,
        axes: Vec<SweepAxis>,
        scheme: Scheme,
        outputs: &[impl AsRef<str>],
        points: usize,
    ) -> Result<Self> {
        if axes.is_empty() {
            return Err(SweepError::Empty { field: "axes", wanted: "one address with its values, or more" }.into());
        }
        if outputs.is_empty() {
            return Err(SweepError::Empty { field: "outputs", wanted: "the name of one output, or more" }.into());
        }
        if !(2..=MOST_POINTS).contains(&points) {
            let wanted = format!("2 to {MOST_POINTS}");
            return Err(SweepError::Count { field: "points", found: points.to_string(), wanted }.into());
        }
        let outputs: Vec<Output> =
            outputs.iter().map(|name| Output::parse(name.as_ref())).collect::<Result<_, SweepError>>()?;
        let ready: Vec<Ready> =
            axes.iter().map(|axis| Ready::new(axis, scheme, bike)).collect::<Result<_, SweepError>>()?;
        apart(&ready)?;
        let counts: Vec<usize> = ready.iter().map(Ready::count).collect();
        if scheme == Scheme::List
            && let Some((axis, count)) = ready.iter().zip(&counts).find(|(_, count)| **count != counts[0])
        {
            let (address, found) = (axis.path.clone(), format!("{count} values"));
            let wanted = format!("{}, as many as at {}", counts[0], ready[0].path);
            return Err(SweepError::Levels { address, found, wanted, scheme: scheme.name() }.into());
        }
        let len = scheme.count(&counts)?;
        let maker = Maker::new(bike, &ready);
        let carrier = |end: End| bike.end(end).is_ok().then(|| Carrier::new(bike, end));
        let carriers = Ends { front: carrier(End::Front), rear: carrier(End::Rear) };
        let constant = vec![None; outputs.len()];
        let mut sweep =
            Self { bike: bike.clone(), axes, scheme, outputs, points, ready, counts, len, maker, carriers, constant };
        sweep.work_out_constants();
        sweep.look_at_some()?;
        Ok(sweep)
    }

    /// The bike that is varied.
    #[must_use]
    pub fn bike(&self) -> &Bike {
        &self.bike
    }

    /// What is varied.
    #[must_use]
    pub fn axes(&self) -> &[SweepAxis] {
        &self.axes
    }

    /// Which designs there are.
    #[must_use]
    pub fn scheme(&self) -> Scheme {
        self.scheme
    }

    /// What is asked.
    #[must_use]
    pub fn outputs(&self) -> &[Output] {
        &self.outputs
    }

    /// Points of a curve.
    #[must_use]
    pub fn points(&self) -> usize {
        self.points
    }

    /// How many designs there are.
    #[must_use]
    pub fn len(&self) -> u64 {
        self.len
    }

    /// Is there no design?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len == 0
    }

    /// Values of every axis, for a grid: how many there are on each.
    #[must_use]
    pub fn shape(&self) -> &[usize] {
        &self.counts
    }

    /// The bike of one design, its change standing in the log as one that was not made.
    ///
    /// # Errors
    /// As [`Bike::what_if`]; [`SweepError::Count`] for an index beyond the last.
    pub fn design(&self, index: u64) -> Result<Bike> {
        if index >= self.len {
            let wanted = format!("0 to {}", self.len.saturating_sub(1));
            return Err(SweepError::Count { field: "index", found: index.to_string(), wanted }.into());
        }
        self.maker.long(&self.ready, &self.levels(index))
    }

    /// A stretch of designs with their answers, on all cores; what lies beyond the last design is left out. The same, to the
    /// last bit, on any number of cores and in whatever stretches it is asked.
    #[must_use]
    pub fn chunk(&self, designs: Range<u64>) -> Chunk {
        let designs = designs.start.min(self.len)..designs.end.min(self.len);
        let indices: Vec<u64> = designs.clone().collect();
        work::expects(indices.len());
        let rows = each(&indices, |&index| self.row(index));
        let mut columns = self.inputs(&indices);
        let mut start = 0;
        for output in &self.outputs {
            let width = self.width(*output);
            let mut values = Vec::with_capacity(width * rows.len());
            rows.iter().for_each(|(row, _)| values.extend_from_slice(&row[start..start + width]));
            start += width;
            columns.push(Column {
                name: output.name(),
                kind: Some(output.kind()),
                width,
                values: Values::Numbers(values),
            });
        }
        let reasons = indices.iter().zip(rows).filter_map(|(&index, (_, reason))| Some((index, reason?))).collect();
        Chunk { designs, columns, reasons }
    }

    fn inputs(&self, indices: &[u64]) -> Vec<Column> {
        let level = |axis: usize, index: u64| self.ready[axis].level(self.scheme.place(index, axis, &self.counts));
        let column = |(at, axis): (usize, &Ready)| {
            let values = match axis.sort {
                Sort::Words => {
                    Values::Words(indices.iter().map(|&index| level(at, index).value(axis.sort).in_words()).collect())
                }
                _ => Values::Numbers(
                    indices.iter().map(|&index| level(at, index).number().unwrap_or(f64::NAN)).collect(),
                ),
            };
            Column { name: axis.path.clone(), kind: axis.sort.kind(), width: 1, values }
        };
        self.ready.iter().enumerate().map(column).collect()
    }

    fn levels(&self, index: u64) -> Vec<Level<'_>> {
        let axes = self.ready.iter().enumerate();
        axes.map(|(at, axis)| axis.level(self.scheme.place(index, at, &self.counts))).collect()
    }

    fn width(&self, output: Output) -> usize {
        if output.is_row() { self.points } else { 1 }
    }

    /// All outputs of a design, side by side, and what is missing.
    fn row(&self, index: u64) -> (Vec<f64>, Option<String>) {
        let width: usize = self.outputs.iter().map(|output| self.width(*output)).sum();
        let mut row = Vec::with_capacity(width);
        if let Err(stopped) = work::round() {
            return (vec![f64::NAN; width], Some(stopped.to_string()));
        }
        let made = if self.constant.iter().all(Option::is_some) { None } else { Some(self.make(index)) };
        let bike = match &made {
            Some(Err(error)) => return (vec![f64::NAN; width], Some(error.to_string())),
            Some(Ok(bike)) => bike,
            None => &self.bike,
        };
        let answers = Answers::new(bike, &self.carriers, self.points);
        let mut reasons: Vec<(String, String)> = Vec::new();
        for (output, constant) in self.outputs.iter().zip(&self.constant) {
            let found = match constant {
                Some(Ok(values)) => {
                    row.extend_from_slice(values);
                    continue;
                }
                Some(Err(reason)) => Err(reason.clone()),
                None => answers.write(*output, &mut row).map_err(|error| error.to_string()),
            };
            if let Err(reason) = found {
                row.resize(row.len() + self.width(*output), f64::NAN);
                reasons.push((output.name(), reason));
            }
        }
        (row, in_one(&reasons))
    }

    fn make(&self, index: u64) -> Result<Bike> {
        self.maker.make(&self.ready, &self.levels(index))
    }

    /// What is asked of an end that no axis touches is the same in every design.
    fn work_out_constants(&mut self) {
        let reaches = |end: End| {
            let other = end.other().name();
            let elsewhere =
                |axis: &Ready| matches!(axis.address.steps().first(), Some(Step::Key(first)) if first == other);
            !self.ready.iter().all(elsewhere)
        };
        let answers = Answers::new(&self.bike, &self.carriers, self.points);
        let constant = |output: &Output| {
            output.end.filter(|end| !reaches(*end))?;
            let mut values = Vec::new();
            Some(answers.write(*output, &mut values).map(|()| values).map_err(|error| error.to_string()))
        };
        self.constant = self.outputs.iter().map(constant).collect();
    }

    /// Refuses a sweep of which nothing would come.
    fn look_at_some(&self) -> Result<()> {
        let last = self.len.saturating_sub(1);
        let place = |at: u64| u128::from(last) * u128::from(at) / u128::from(LOOKED_AT - 1);
        let mut indices: Vec<u64> = (0..LOOKED_AT).map(|at| u64::try_from(place(at)).unwrap_or(last)).collect();
        indices.dedup();
        let made: Vec<(u64, Result<Bike>)> = indices.iter().map(|&index| (index, self.make(index))).collect();
        let looked_at = made.len();
        let bikes: Vec<&Bike> = made.iter().filter_map(|(_, bike)| bike.as_ref().ok()).collect();
        if bikes.is_empty() {
            let first = made.iter().find_map(|(_, bike)| bike.as_ref().err());
            let why = first.map_or_else(String::new, Error::to_string);
            return Err(SweepError::NoDesign { looked_at, why }.into());
        }
        let answers: Vec<Answers<'_>> =
            bikes.iter().map(|bike| Answers::new(bike, &self.carriers, self.points)).collect();
        for output in &self.outputs {
            let mut why = None;
            let has = |answers: &Answers<'_>| match answers.write(*output, &mut Vec::new()) {
                Ok(()) => true,
                Err(error) => {
                    why.get_or_insert(error.to_string());
                    false
                }
            };
            if !answers.iter().any(has) {
                let (output, why) = (output.name(), why.unwrap_or_default());
                return Err(SweepError::NoAnswer { output, looked_at: bikes.len(), why }.into());
            }
        }
        Ok(())
    }
}

/// Refuses axes of which one holds another, or is it.
fn apart(axes: &[Ready]) -> Result<(), SweepError> {
    for (at, axis) in axes.iter().enumerate() {
        let meets =
            |other: &&Ready| other.address.starts_with(&axis.address) || axis.address.starts_with(&other.address);
        if let Some(other) = axes[..at].iter().find(meets) {
            let wanted = "addresses of which none is another, or holds it".to_owned();
            let found = format!("it beside {}", other.path);
            return Err(SweepError::Address { address: axis.path.clone(), found, wanted });
        }
    }
    Ok(())
}

/// Reasons in one sentence: outputs that lack for the same reason go together.
fn in_one(reasons: &[(String, String)]) -> Option<String> {
    let mut grouped: Vec<(&str, Vec<&str>)> = Vec::new();
    for (output, reason) in reasons {
        match grouped.iter_mut().find(|(known, _)| known == reason) {
            Some((_, outputs)) => outputs.push(output),
            None => grouped.push((reason, vec![output])),
        }
    }
    let parts: Vec<String> =
        grouped.iter().map(|(reason, outputs)| format!("{}: {reason}", outputs.join(", "))).collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}

#[cfg(test)]
mod tests;
