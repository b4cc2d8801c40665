//! One direction of a damper: straight lines of force over speed.

use crate::error::{Result, SpringError};
use crate::units::{DampingRate, Force, Quantity, Velocity, brief, check, show};

/// Where the second slope begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Knee {
    /// Shaft speed.
    pub velocity: Velocity,
    /// Damping rate beyond it.
    pub rate: DampingRate,
}

/// A stretch of one slope: `F = force + rate·(v − start)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Piece {
    pub(super) start: f64,
    pub(super) force: f64,
    pub(super) rate: f64,
}

/// How one direction was stated.
#[derive(Debug, Clone, PartialEq)]
enum Stated {
    Slopes { rate: DampingRate, knee: Option<Knee> },
    Table(Vec<(Velocity, Force)>),
}

/// One direction of a damper, along its shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct DamperSide {
    stated: Stated,
    pieces: Vec<Piece>,
}

/// Highest rate, speed and force that are not a slip of unit.
const MOST_RATE_SI: f64 = 1e6;
const MOST_SPEED_SI: f64 = 30.0;
const MOST_FORCE_SI: f64 = 1e5;

fn checked_rate(field: &str, rate: DampingRate) -> Result<f64> {
    let [least, most] = [0.0, MOST_RATE_SI].map(DampingRate::from_si);
    check::not_negative(field, rate)?;
    Ok(check::plausible(field, rate, least, most)?.si())
}

fn checked_speed(field: &str, speed: Velocity) -> Result<f64> {
    check::positive(field, speed)?;
    Ok(check::plausible(field, speed, Velocity::from_si(0.0), Velocity::from_si(MOST_SPEED_SI))?.si())
}

impl DamperSide {
    /// One rate at any speed.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) unless it is from 0 to 1 MN s/m.
    pub fn of_rate(rate: DampingRate) -> Result<Self> {
        let slope = checked_rate("rate", rate)?;
        let pieces = vec![Piece { start: 0.0, force: 0.0, rate: slope }];
        Ok(Self { stated: Stated::Slopes { rate, knee: None }, pieces })
    }

    /// One rate from rest, another beyond a knee.
    ///
    /// # Errors
    /// [`UnitError`](crate::error::UnitError) for a rate or a speed out of range.
    pub fn with_knee(rate: DampingRate, knee: Knee) -> Result<Self> {
        let slope = checked_rate("rate", rate)?;
        let (start, beyond) = (checked_speed("knee.velocity", knee.velocity)?, checked_rate("knee.rate", knee.rate)?);
        let pieces =
            vec![Piece { start: 0.0, force: 0.0, rate: slope }, Piece { start, force: slope * start, rate: beyond }];
        Ok(Self { stated: Stated::Slopes { rate, knee: Some(knee) }, pieces })
    }

    /// Rows of shaft speed and force, as a dynamometer gives them; nothing at rest goes without saying. Straight lines between
    /// the rows, and beyond the last of them the slope of the last stretch.
    ///
    /// # Errors
    /// [`SpringError::DamperTable`] without a row, and where speeds do not rise, forces fall or rise as a step; a quantity out of range.
    pub fn of_table(rows: Vec<(Velocity, Force)>) -> Result<Self> {
        let mut points = vec![(0.0, 0.0)];
        for (index, &(speed, force)) in rows.iter().enumerate() {
            let field = |column: usize| format!("table[{index}][{column}]");
            let (most_speed, most) = (Velocity::from_si(MOST_SPEED_SI), Force::from_si(MOST_FORCE_SI));
            check::plausible(&field(0), speed, Velocity::from_si(0.0), most_speed)?;
            check::plausible(&field(1), force, Force::from_si(0.0), most)?;
            let (v, f) = (speed.si(), force.si());
            if index == 0 && v == 0.0 && f == 0.0 {
                continue;
            }
            let (before, least) = points.last().copied().unwrap_or_default();
            let wanted = if v <= before || f < least {
                Some("speeds in the table must rise and forces must not fall from row to row, from nothing at rest")
            } else if f - least > MOST_RATE_SI * (v - before) {
                Some("forces may rise by 1000 N per mm/s at most: what holds at rest is friction")
            } else {
                None
            };
            if let Some(wanted) = wanted {
                let found = format!("found {} at {}", brief(force), brief(speed));
                return Err(SpringError::DamperTable { row: index + 1, found, wanted }.into());
            }
            points.push((v, f));
        }
        if points.len() < 2 {
            return Err(SpringError::DamperTable {
                row: rows.len(),
                found: "the table ends".to_owned(),
                wanted: "a row or more beside nothing at rest, each a shaft speed and a force",
            }
            .into());
        }
        Ok(Self { stated: Stated::Table(rows), pieces: pieces(&points) })
    }

    /// The rate from rest, where the law was stated by rates.
    #[must_use]
    pub fn rate(&self) -> Option<DampingRate> {
        match &self.stated {
            Stated::Slopes { rate, .. } => Some(*rate),
            Stated::Table(_) => None,
        }
    }

    /// The knee, where one was stated.
    #[must_use]
    pub fn knee(&self) -> Option<Knee> {
        match &self.stated {
            Stated::Slopes { knee, .. } => *knee,
            Stated::Table(_) => None,
        }
    }

    /// The rows, where the law was stated by a table.
    #[must_use]
    pub fn table(&self) -> Option<&[(Velocity, Force)]> {
        match &self.stated {
            Stated::Slopes { .. } => None,
            Stated::Table(rows) => Some(rows),
        }
    }

    pub(super) fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    fn piece(&self, speed: f64) -> &Piece {
        let next = self.pieces.partition_point(|piece| piece.start < speed);
        &self.pieces[next.saturating_sub(1)]
    }

    /// Size of the force at a speed of zero or more.
    pub(super) fn eval(&self, speed: f64) -> f64 {
        let piece = self.piece(speed);
        piece.force + piece.rate * (speed - piece.start)
    }

    /// Both on one stroke: a table with every corner of either, and a row beyond the last for the slope there.
    pub(super) fn beside(&self, other: &Self) -> Self {
        let mut speeds: Vec<f64> = self.pieces.iter().chain(&other.pieces).map(|piece| piece.start).collect();
        speeds.sort_by(f64::total_cmp);
        speeds.dedup();
        let last = speeds.last().copied().unwrap_or_default();
        speeds.push(if last > 0.0 { 2.0 * last } else { 1.0 });
        let points: Vec<(f64, f64)> =
            speeds.iter().map(|&speed| (speed, self.eval(speed) + other.eval(speed))).collect();
        let rows = points.iter().skip(1).map(|&(v, f)| (Velocity::from_si(v), Force::from_si(f))).collect();
        Self { stated: Stated::Table(rows), pieces: pieces(&points) }
    }

    pub(super) fn scaled(&self, factor: f64) -> Result<Self> {
        check::number_within("factor", factor, 0.0, f64::MAX)?;
        match &self.stated {
            Stated::Slopes { rate, knee: None } => Self::of_rate(*rate * factor),
            Stated::Slopes { rate, knee: Some(knee) } => {
                Self::with_knee(*rate * factor, Knee { rate: knee.rate * factor, ..*knee })
            }
            Stated::Table(rows) => Self::of_table(rows.iter().map(|&(v, force)| (v, force * factor)).collect()),
        }
    }

    pub(super) fn describe(&self) -> String {
        let shown = |rate: DampingRate| show(rate, "N s/m", 0);
        match &self.stated {
            Stated::Slopes { rate, knee: None } => shown(*rate),
            Stated::Slopes { rate, knee: Some(knee) } => {
                format!("{}, beyond {} {}", shown(*rate), brief(knee.velocity), shown(knee.rate))
            }
            Stated::Table(rows) => format!("a table of {} rows", rows.len()),
        }
    }
}

/// Straight lines through the points, of which the first is nothing at rest.
fn pieces(points: &[(f64, f64)]) -> Vec<Piece> {
    let lines = points.windows(2).map(|pair| {
        let [(start, force), (end, reached)] = [pair[0], pair[1]];
        Piece { start, force, rate: (reached - force) / (end - start) }
    });
    lines.collect()
}
