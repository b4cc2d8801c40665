//! The recorder: samples of both ends in, piece by piece.

use super::end::{EndRecorder, LogSensor, Sample};
use super::found::{Balance, TravelLog};
use super::series::Series;
use crate::error::{BikeError, Result};
use crate::record::{End, Ends};
use crate::units::{Length, Quantity, Share, Time, check};
use crate::wheel::Wheel;

/// Longest time between two samples that are joined, unless said otherwise (s).
const GAP_SI: f64 = 0.25;

/// Takes a log of both ends, or of one, piece by piece; what it keeps does not grow with the log.
///
/// ```
/// use wheelrate::record::Ends;
/// use wheelrate::travel_log::{LogSensor, TravelRecorder};
/// use wheelrate::units::{Length, Quantity, Time};
/// use wheelrate::wheel::Wheel;
/// use wheelrate::{Bike, demo::PATROL};
/// let bike = Bike::from_toml(PATROL)?;
/// let rear: &dyn Wheel = bike.rear()?;
/// let mut recorder = TravelRecorder::new(Ends { front: None, rear: Some((rear, LogSensor::default())) }, None)?;
/// let times: Vec<Time> = (0..6000).map(|at| Time::from_si(0.01 * f64::from(at))).collect();
/// let strokes: Vec<Length> = times.iter().map(|time| Length::from_si(0.04 + 0.01 * (7.0 * time.si()).sin())).collect();
/// recorder.push(&times, None, Some(&strokes))?;
/// let rear = recorder.found()?.ends.rear;
/// assert!(rear.is_some_and(|rear| rear.bottomings == 0 && rear.mean_travel.si() > 0.09));
/// # Ok::<(), wheelrate::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct TravelRecorder {
    ends: Ends<Option<EndRecorder>>,
    balance: Series,
    /// The time of the first sample, from which all count, and of the newest.
    times: Option<[f64; 2]>,
    rows: u64,
    gap: f64,
}

impl TravelRecorder {
    /// A recorder of the ends that have a sensor. Samples further apart than `gap` are not joined; 0.25 s unless given.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a gap that is not above zero; [`BikeError::Missing`] without an end.
    pub fn new(ends: Ends<Option<(&dyn Wheel, LogSensor)>>, gap: Option<Time>) -> Result<Self> {
        let gap = check::positive("gap", gap.unwrap_or(Time::from_si(GAP_SI)))?.si();
        let ends = ends.map(|end| end.map(|(kernel, sensor)| EndRecorder::new(kernel, sensor)));
        if ends.front.is_none() && ends.rear.is_none() {
            let (part, purpose) = ("travel log".to_owned(), "it has the stroke of fork or shock, or both".to_owned());
            return Err(BikeError::Missing { part, purpose }.into());
        }
        Ok(Self { ends, balance: Series::new(), times: None, rows: 0, gap })
    }

    /// More samples: a time each, and a stroke of each end that has a sensor; not a number where it was not read.
    ///
    /// # Errors
    /// [`BikeError::TravelLog`] naming the row where a time does not follow the one before, or columns differ in length.
    pub fn push(&mut self, times: &[Time], front: Option<&[Length]>, rear: Option<&[Length]>) -> Result<()> {
        let given = Ends { front, rear };
        for end in End::BOTH {
            let (column, wanted) = (given.at(end), self.ends.at(end).is_some());
            if column.is_some() != wanted || column.is_some_and(|column| column.len() != times.len()) {
                let found = column.map_or(0, <[Length]>::len);
                let wanted = if wanted { times.len() } else { 0 };
                let reason = format!("{end}: found {found} strokes, wanted {wanted}, one for each time of a sensor");
                return Err(BikeError::TravelLog { reason }.into());
            }
        }
        for (row, time) in times.iter().enumerate() {
            self.rows += 1;
            let [first, newest] = self.times.unwrap_or([time.si(), f64::NEG_INFINITY]);
            let time = time.si();
            if !(time.is_finite() && time > newest) {
                let found = format!("row {} of the log: found the time {time} s after {newest} s", self.rows);
                return Err(BikeError::TravelLog { reason: format!("{found}, wanted times that rise") }.into());
            }
            self.times = Some([first, time]);
            let since = time - first;
            let stroke = |column: Option<&[Length]>| column.map_or(f64::NAN, |column| column[row].si());
            let front_line = self.ends.front.as_mut().and_then(|end| end.sample(since, stroke(front), self.gap));
            let rear_line = self.ends.rear.as_mut().and_then(|end| end.sample(since, stroke(rear), self.gap));
            if let (Some(front), Some(rear)) = (front_line, rear_line) {
                self.balanced(front, rear);
            }
        }
        Ok(())
    }

    /// How much more of its travel the front uses than the rear, where both lines are of one time.
    fn balanced(&mut self, front: (Sample, Sample), rear: (Sample, Sample)) {
        let full = |end: &Option<EndRecorder>| end.as_ref().map_or(1.0, |end| end.way.full);
        let full = [full(&self.ends.front), full(&self.ends.rear)];
        if front.0.time != rear.0.time {
            return self.balance.break_off();
        }
        let apart = |front: Sample, rear: Sample| front.travel / full[0] - rear.travel / full[1];
        self.balance.line([front.0.time, front.1.time], [apart(front.0, rear.0), apart(front.1, rear.1)]);
    }

    /// With another log after this one, which is not joined to it: of another ride, or another file.
    ///
    /// # Errors
    /// [`BikeError::TravelLog`] where it is of other ends.
    pub fn merge(&mut self, other: Self) -> Result<()> {
        let same = |end: End| {
            let [one, next] = [self, &other].map(|recorder| recorder.ends.at(end).as_ref().map(|end| &end.way));
            one == next
        };
        if !End::BOTH.into_iter().all(same) {
            let reason = "two logs are of other ends: wanted both of the same bike".to_owned();
            return Err(BikeError::TravelLog { reason }.into());
        }
        for (end, other) in [(&mut self.ends.front, other.ends.front), (&mut self.ends.rear, other.ends.rear)] {
            if let (Some(end), Some(other)) = (end, other) {
                end.merge(other);
            }
        }
        self.balance.merge(other.balance);
        (self.rows, self.times) = (self.rows + other.rows, None);
        Ok(())
    }

    /// What the log says so far.
    ///
    /// # Errors
    /// [`BikeError::TravelLog`] where an end has fewer than two samples that are joined.
    pub fn found(&self) -> Result<TravelLog> {
        let of = |end: &Option<EndRecorder>| end.as_ref().map(EndRecorder::found).transpose();
        let (front, rear) = (of(&self.ends.front)?, of(&self.ends.rear)?);
        let balance = self.balance.mean().map(|mean| Balance {
            travel: Share::from_si(mean.mean),
            balance_uncertainty: mean.sure.map(|(deviation, _)| Share::from_si(deviation)),
        });
        Ok(TravelLog { ends: Ends { front, rear }, balance })
    }

    /// Longest time between two samples that are joined.
    #[must_use]
    pub fn gap(&self) -> Time {
        Time::from_si(self.gap)
    }
}
