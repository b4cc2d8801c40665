//! Readings of one end brought together: distinct loads with their covariance, sags, friction bands, contradictions.
//!
//! `sag = d_extended − d_loaded`, `band = sag_low − sag_high`, each side the mean of its repeats. Every sag shares the
//! extended reading, every load shares the bike: `cov(W_i, W_j) = g²·(Σ u² of the masses in
//! both + u²)`, the last for the unsprung mass.
//!
//! Readings that no machine can give are contradictions, and refused with their own numbers: a loaded end longer than the
//! extended one, a sag beyond the travel, more load with less sag, an end that rests lower after lifting than after pushing
//! down. What is merely odd is left to the fit's findings.

use nalgebra::DMatrix;

use crate::Result;
use crate::error::SetupError;
use crate::infer::doubts::Doubts;
use crate::infer::model::{Expansion, SprungEnd, settle_exactly};
use crate::infer::posterior::{Found, Loads, MOST_LOADS, Observation};
use crate::mass::Masses;
use crate::record::{End, Gauge, Load, Measuring, Reading, Settled};
use crate::units::{Length, Quantity, Uncertain, show};

/// Standard deviations beyond which readings contradict each other: four leave one false alarm in ten thousand.
const CONTRADICTION: f64 = 4.0;

/// Ways of settling that readings are sorted by, and their words.
const SIDES: usize = 4;
const SIDE_WORDS: [&str; SIDES] = ["settled low", "settled high", "settling not noted", "the mean of both sides"];

/// The sags of one load.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SagRow {
    /// Under what.
    pub load: Load,
    /// Readings taken settled low, high, with the settling not noted, and as the mean of both sides.
    pub counts: [usize; 4],
    /// Sag after pushing down, along the direction that the tape ran.
    pub low: Option<Uncertain<Length>>,
    /// Sag after lifting.
    pub high: Option<Uncertain<Length>>,
    /// Sag where nobody noted from which side the bike settled.
    pub unnoted: Option<Uncertain<Length>>,
    /// Sag where the mean of both sides was noted.
    pub mean: Option<Uncertain<Length>>,
    /// The friction band, `low − high`. The extended reading does not enter.
    pub band: Option<Uncertain<Length>>,
}

impl SagRow {
    /// The middle of what was read: the mean of both sides, or the one there is.
    #[must_use]
    pub fn middle(&self) -> Option<Length> {
        match (self.low, self.high) {
            (Some(low), Some(high)) => Some((low.value + high.value) / 2.0),
            (one, other) => self.mean.or(one).or(other).or(self.unnoted).map(|sag| sag.value),
        }
    }

    /// Every sag with how it settled, in the order of [`counts`](Self::counts).
    pub(crate) fn sides(&self) -> [(Option<Uncertain<Length>>, Option<Settled>); 4] {
        [
            (self.low, Some(Settled::Low)),
            (self.high, Some(Settled::High)),
            (self.unnoted, None),
            (self.mean, Some(Settled::Middle)),
        ]
    }
}

/// The readings of one end, checked and sorted.
#[derive(Debug, Clone)]
pub(crate) struct Gathered {
    /// Distinct loads, lightest first.
    pub(crate) loads: Vec<Load>,
    pub(crate) law: Loads,
    pub(crate) rows: Vec<SagRow>,
    pub(crate) observations: Vec<Observation>,
    /// Place of each observation among all readings of the bike.
    pub(crate) places: Vec<usize>,
    /// Mean extended reading, or 0 without readings.
    pub(crate) zero: f64,
    /// Standard deviation of the zero of a gauge, where all readings are of one.
    pub(crate) zeroed: Option<f64>,
}

/// Mean distance and its variance, and whether the repeats agree with each other.
#[derive(Debug, Clone, Copy)]
struct Mean {
    distance: f64,
    variance: f64,
    count: usize,
    repeats_agree: bool,
}

/// The repeats of one load and side, summed up.
#[derive(Debug, Clone, Copy, Default)]
struct Repeats {
    weights: f64,
    sum: f64,
    count: usize,
    /// A repeat is further from the mean than repeats are.
    scattered: bool,
}

impl Repeats {
    fn add(&mut self, distance: f64, deviation: f64) {
        let weight = deviation.powi(-2);
        self.weights += weight;
        self.sum += weight * distance;
        self.count += 1;
    }

    fn compare(&mut self, distance: f64, deviation: f64) {
        self.scattered |= (distance - self.sum / self.weights).abs() > CONTRADICTION * deviation;
    }

    fn mean(&self) -> Option<Mean> {
        let Self { weights, sum, count, scattered } = *self;
        let mean = Mean { distance: sum / weights, variance: 1.0 / weights, count, repeats_agree: !scattered };
        (count > 0).then_some(mean)
    }
}

/// A reading with its place among the loads (`None` for the wheel off the ground) and its standard uncertainty.
#[derive(Debug, Clone, Copy)]
struct Placed<'a> {
    reading: &'a Reading,
    load: Option<usize>,
    /// The reading as a distance.
    distance: f64,
    deviation: f64,
    own_zero: bool,
}

impl Placed<'_> {
    fn observation(&self) -> Observation {
        Observation {
            distance: self.distance,
            deviation: self.deviation,
            load: self.load,
            side: [1.0, -1.0, 0.0, 0.0][self.side()],
            unnoted: self.load.is_some() && self.reading.settled.is_none(),
            zeroed: self.reading.gauge == Gauge::Zeroed,
            own_zero: self.own_zero,
            may_top_out: false,
            may_bottom_out: false,
            gross: Found::default(),
        }
    }

    /// Place of the side among the columns of a [`SagRow`].
    fn side(&self) -> usize {
        match self.reading.settled {
            Some(Settled::Low) => 0,
            Some(Settled::High) => 1,
            None => 2,
            Some(Settled::Middle) => 3,
        }
    }
}

/// Where the distances of an end count from: the mean of the readings with the wheel off the ground and its variance, and the
/// standard deviation of the zero of a gauge.
struct Zero {
    at: f64,
    variance: f64,
    gauge: f64,
}

/// The zero of some readings. That of a gauge is read once, and nothing checks it.
fn zero<'a>(
    end: End,
    readings: impl Iterator<Item = &'a Reading>,
    measuring: &Measuring,
    doubts: &Doubts,
) -> Result<Zero> {
    let mut extended = Repeats::default();
    let (mut on_tape, mut count) = (0, 0);
    for reading in readings {
        count += 1;
        match (reading.gauge, &reading.load) {
            (Gauge::Tape, Load::None) => {
                extended.add(reading.distance.si(), reading.uncertainty.unwrap_or(measuring.uncertainty).si());
            }
            (Gauge::Tape, _) => on_tape += 1,
            (Gauge::Zeroed, _) => {}
        }
    }
    let misread = doubts.gross.map_or(0.0, |gross| gross.lone_extended.sqrt() * gross.distance);
    let gauge = measuring.uncertainty.si().hypot(misread);
    match extended.mean() {
        Some(Mean { distance, variance, .. }) => Ok(Zero { at: distance, variance, gauge }),
        None if on_tape > 0 => Err(SetupError::NoExtendedReading { end, loaded: on_tape }.into()),
        None => Ok(Zero { at: 0.0, variance: if count > 0 { gauge * gauge } else { 0.0 }, gauge }),
    }
}

/// Repeats with the wheel off the ground, and of every load by side.
fn repeats(loads: usize, placed: &[Placed<'_>]) -> (Repeats, Vec<[Repeats; SIDES]>) {
    let (mut extended, mut loaded) = (Repeats::default(), vec![[Repeats::default(); SIDES]; loads]);
    for pass in [Repeats::add, Repeats::compare] {
        for one in placed {
            let to = one.load.map_or(&mut extended, |load| &mut loaded[load][one.side()]);
            pass(to, one.distance, one.deviation);
        }
    }
    (extended, loaded)
}

impl Gathered {
    /// The readings of one end; loads that are asked about without a reading come as `more_loads`.
    pub(crate) fn new(
        end: End,
        model: &dyn SprungEnd,
        readings: &[Reading],
        measuring: &Measuring,
        masses: &Masses,
        more_loads: &[Load],
        doubts: &Doubts,
    ) -> Result<Self> {
        let own = || readings.iter().enumerate().filter(|(_, reading)| reading.end == end);
        let loads = distinct_loads(end, own().map(|(_, reading)| &reading.load).chain(more_loads), masses)?;
        let law = load_law(end, &loads, masses, doubts)?;
        let Zero { at: zero, variance: zero_variance, gauge } =
            zero(end, own().map(|(_, reading)| reading), measuring, doubts)?;
        let all_zeroed = own().all(|(_, reading)| reading.gauge == Gauge::Zeroed);
        let placed: Vec<Placed<'_>> = own()
            .map(|(_, reading)| {
                let (read, own) = (reading.distance.si(), reading.uncertainty.unwrap_or(measuring.uncertainty).si());
                let zeroed = reading.gauge == Gauge::Zeroed;
                let own_zero = zeroed && !all_zeroed;
                Placed {
                    reading,
                    load: loads.iter().position(|load| same_load(load, &reading.load)),
                    distance: if zeroed { zero - read } else { read },
                    deviation: if own_zero { own.hypot(gauge) } else { own },
                    own_zero,
                }
            })
            .collect();
        let (_, loaded) = repeats(loads.len(), &placed);
        let zeroed = (all_zeroed && !placed.is_empty()).then_some(gauge);
        let means: Vec<[Option<Mean>; SIDES]> = loaded.iter().map(|sides| sides.map(|side| side.mean())).collect();
        let rows: Vec<SagRow> =
            loads.iter().zip(&means).map(|(load, means)| sag_row(load, means, zero, zero_variance)).collect();
        let hanging = -(*masses.unsprung().at(end) * masses.gravity()).si();
        let tape_travel = full_tape(model, hanging);
        // Repeats that do not agree hide which of them is wrong: the fit names it.
        let contradictions = if loaded.iter().flatten().any(|side| side.scattered) {
            let agreeing = loads.iter().zip(&means).map(|(load, means)| {
                sag_row(load, &means.map(|mean| mean.filter(|mean| mean.repeats_agree)), zero, zero_variance)
            });
            contradictions(&agreeing.collect::<Vec<_>>(), &law, tape_travel)
        } else {
            contradictions(&rows, &law, tape_travel)
        };
        if !contradictions.is_empty() {
            return Err(SetupError::Contradiction { end, contradictions }.into());
        }
        let mut observations: Vec<Observation> = placed.iter().map(Placed::observation).collect();
        Observation::mark_stops(&mut observations, tape_travel);
        Ok(Self { observations, places: own().map(|(place, _)| place).collect(), loads, law, rows, zero, zeroed })
    }
}

impl Gathered {
    /// With loads that nothing was read under, after those there are.
    pub(crate) fn with_loads(&self, end: End, masses: &Masses, more: &[Load], doubts: &Doubts) -> Result<Self> {
        let mut all = self.clone();
        for load in more.iter().filter(|load| **load != Load::None) {
            if all.place(load).is_none() {
                all.rows.push(sag_row(load, &[None; SIDES], self.zero, 0.0));
                all.loads.push(load.clone());
            }
        }
        not_too_many(end, all.loads.len())?;
        all.law = load_law(end, &all.loads, masses, doubts)?;
        Ok(all)
    }

    /// Place of a load among the distinct ones.
    pub(crate) fn place(&self, load: &Load) -> Option<usize> {
        self.loads.iter().position(|known| same_load(known, load))
    }
}

/// Shortening on the tape from where the wheel hangs, as labelled, to full compression.
pub(crate) fn full_tape(model: &dyn SprungEnd, hanging: f64) -> f64 {
    let tape = |travel: f64| model.kinematics(travel).map(|kinematics| kinematics.tape);
    let extended = Expansion::about(model, 0.0).map(|extended| extended.wheel_force(model, 0.0, 1.0, 0.0).force);
    let hangs = match extended {
        Some(force) if force < hanging => settle_exactly(model, hanging, 1.0, 0.0, 0.0).map(|(_, travel, _)| travel),
        _ => Some(0.0),
    };
    match (hangs.and_then(tape), tape(model.full_travel())) {
        (Some(extended), Some(compressed)) => compressed - extended,
        _ => f64::INFINITY,
    }
}

fn same_load(one: &Load, other: &Load) -> bool {
    let (one, other) = (one.names(), other.names());
    one.len() == other.len() && (one == other || one.iter().all(|name| other.contains(name)))
}

/// The loads other than none, each once, lightest first.
fn distinct_loads<'a>(end: End, all: impl Iterator<Item = &'a Load>, masses: &Masses) -> Result<Vec<Load>> {
    let mut loads: Vec<(f64, Load)> = Vec::new();
    for load in all.filter(|load| **load != Load::None) {
        if !loads.iter().any(|(_, known)| same_load(known, load)) {
            loads.push((masses.sprung_load(end, load)?.value.si(), load.clone()));
        }
    }
    not_too_many(end, loads.len())?;
    loads.sort_by(|one, other| one.0.total_cmp(&other.0).then_with(|| one.1.cmp(&other.1)));
    Ok(loads.into_iter().map(|(_, load)| load).collect())
}

fn not_too_many(end: End, found: usize) -> Result<()> {
    if found > MOST_LOADS {
        return Err(SetupError::TooManyLoads { end, found, most: MOST_LOADS }.into());
    }
    Ok(())
}

/// Means and covariance root of the loads.
pub(crate) fn load_law(end: End, loads: &[Load], masses: &Masses, doubts: &Doubts) -> Result<Loads> {
    let mut mean = Vec::with_capacity(loads.len());
    for load in loads {
        mean.push(masses.sprung_load(end, load)?.value.si());
    }
    let known = MassLaw::new(end, masses, doubts)?;
    let gravity = masses.gravity().si();
    let shared = |i: usize, j: usize| {
        let (left, right) = (loads[i].names(), loads[j].names());
        let in_both = |name: &str| left.iter().any(|one| one == name) && right.iter().any(|one| one == name);
        known.shared(in_both, true) * gravity.powi(2)
    };
    let covariance = DMatrix::from_fn(loads.len(), loads.len(), shared);
    Ok(Loads { mean, unsprung: known.unsprung.sqrt() * gravity, root: semidefinite_root(&covariance) })
}

/// Covariance between loads of two states of a bike, by the masses that are the same in both.
pub(crate) fn shared_law(
    end: End,
    [(masses, loads), (masses_before, loads_before)]: [(&Masses, &Vec<Load>); 2],
    is_same: impl Fn(&str) -> bool,
    same_unsprung: bool,
    doubts: &Doubts,
) -> Result<DMatrix<f64>> {
    let known = MassLaw::new(end, masses, doubts)?;
    let gravities = masses.gravity().si() * masses_before.gravity().si();
    Ok(DMatrix::from_fn(loads.len(), loads_before.len(), |row, column| {
        let (left, right) = (loads[row].names(), loads_before[column].names());
        let has = |names: &[String], name: &str| names.iter().any(|other| other == name);
        known.shared(|name| has(left, name) && has(right, name) && is_same(name), same_unsprung) * gravities
    }))
}

/// Variances (kg²) of what makes up the loads of an end.
struct MassLaw<'a> {
    each: Vec<(&'a str, f64)>,
    unsprung: f64,
    bias: f64,
}

impl<'a> MassLaw<'a> {
    fn new(end: End, masses: &'a Masses, doubts: &Doubts) -> Result<Self> {
        let mut each = Vec::with_capacity(masses.named().len());
        for (name, _) in masses.named() {
            let day = if name == Load::BIKE { 0.0 } else { doubts.rider * masses.share(name)?.at(end).si() };
            each.push((name.as_str(), masses.uncertainty_at(end, name).si().powi(2) + day.powi(2)));
        }
        let guessed = doubts.unsprung * masses.unsprung().at(end).si();
        let unsprung = match masses.assumed_unsprung() {
            Some(assumed) => assumed.at(end).si().powi(2),
            None => masses.scale_uncertainty().si().powi(2) + guessed.powi(2),
        };
        Ok(Self { each, unsprung, bias: doubts.scale_bias.powi(2) })
    }

    /// Of what two loads have in common.
    fn shared(&self, in_both: impl Fn(&str) -> bool, unsprung: bool) -> f64 {
        let common = if unsprung { self.unsprung } else { 0.0 };
        let both = self.each.iter().filter(|(name, _)| in_both(name));
        common + self.bias + both.map(|(_, variance)| variance).sum::<f64>()
    }
}

/// Lower-triangular `R` with `R·Rᵀ = C`, for a covariance that may be singular: four loads can be sums of three masses.
pub(crate) fn semidefinite_root(covariance: &DMatrix<f64>) -> DMatrix<f64> {
    /// A pivot below this share of its variance is rounding.
    const NOTHING_LEFT: f64 = 1e-12;
    let size = covariance.nrows();
    let mut root = DMatrix::<f64>::zeros(size, size);
    for column in 0..size {
        let left = covariance[(column, column)] - root.row(column).norm_squared();
        if left <= NOTHING_LEFT * covariance[(column, column)] {
            continue;
        }
        let pivot = left.sqrt();
        for row in column..size {
            let known = root.row(row).dot(&root.row(column));
            root[(row, column)] = if row == column { pivot } else { (covariance[(row, column)] - known) / pivot };
        }
    }
    root
}

fn sag_row(load: &Load, means: &[Option<Mean>; SIDES], zero: f64, zero_variance: f64) -> SagRow {
    let uncertain = |value: f64, variance: f64| Uncertain {
        value: Length::from_si(value),
        standard_uncertainty: Length::from_si(variance.sqrt()),
    };
    let sag = |mean: Option<Mean>| mean.map(|mean| uncertain(zero - mean.distance, mean.variance + zero_variance));
    let [low, high, unnoted, mean] = *means;
    let band = low.zip(high).map(|(low, high)| uncertain(high.distance - low.distance, low.variance + high.variance));
    let counts = means.map(|mean| mean.map_or(0, |mean| mean.count));
    SagRow { load: load.clone(), counts, low: sag(low), high: sag(high), unnoted: sag(unnoted), mean: sag(mean), band }
}

/// Every contradiction of the end, one sentence each.
fn contradictions(rows: &[SagRow], law: &Loads, travel: f64) -> Vec<String> {
    let mut found = Vec::new();
    let mm = |length: Length| show(length, "mm", 1);
    for row in rows {
        for (side, (sag, _)) in SIDE_WORDS.into_iter().zip(row.sides()) {
            let Some(sag) = sag else { continue };
            let margin = CONTRADICTION * sag.standard_uncertainty.si();
            if sag.value.si() < -margin {
                found.push(format!(
                    "under `{}` ({side}) the distance is {} longer than with the wheel off the ground: one of the two is misread",
                    row.load,
                    mm(-sag.value)
                ));
            }
            if sag.value.si() > travel + margin {
                found.push(format!(
                    "under `{}` ({side}) the sag is {}, more than the whole travel of {} along the same direction",
                    row.load,
                    mm(sag.value),
                    mm(Length::from_si(travel))
                ));
            }
        }
        if let Some(band) = row.band.filter(|band| band.value.si() < -CONTRADICTION * band.standard_uncertainty.si()) {
            found.push(format!(
                "under `{}` the sag after lifting is {} larger than after pushing down: low and high swapped?",
                row.load,
                mm(-band.value)
            ));
        }
    }
    for (heavier, row) in rows.iter().enumerate() {
        for (lighter, other) in rows.iter().enumerate().take(heavier) {
            found.extend(less_sag_under_more_load((row, heavier), (other, lighter), law));
        }
    }
    found
}

/// More load, less sag, on the same side.
fn less_sag_under_more_load(heavy: (&SagRow, usize), light: (&SagRow, usize), law: &Loads) -> Option<String> {
    let difference = law.mean[heavy.1] - law.mean[light.1];
    let deviation = (law.root.row(heavy.1) - law.root.row(light.1)).norm();
    if difference < CONTRADICTION * deviation {
        return None;
    }
    let sides = |row: &SagRow| row.sides().map(|(sag, _)| sag);
    let pairs = sides(heavy.0).into_iter().zip(sides(light.0)).zip(SIDE_WORDS);
    pairs.filter_map(|((heavy, light), side)| Some((heavy?, light?, side))).find_map(|(more, less, side)| {
        let fall = less.value - more.value;
        let deviation = more.standard_uncertainty.si().hypot(less.standard_uncertainty.si());
        (fall.si() > CONTRADICTION * deviation).then(|| {
            format!(
                "`{}` loads the wheel more than `{}`, but sags less ({side}: {} against {})",
                heavy.0.load,
                light.0.load,
                show(more.value, "mm", 1),
                show(less.value, "mm", 1)
            )
        })
    })
}

#[cfg(test)]
mod tests;
