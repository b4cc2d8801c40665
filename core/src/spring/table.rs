//! A progressive spring by its measured table of compression and force.
//!
//! Between the rows: the shape-preserving quadratic spline of Schumaker (SIAM J. Numer. Anal. 20 (1983) 853), one extra
//! knot per interval where one parabola does not do. It passes through every row; force and rate are continuous; where the
//! rows rise, the force rises; where the chords of the rows stiffen, the rate stiffens. Energy is exact, as the force is
//! a parabola on each piece. The slope at an inner row is the harmonic mean of its two chords (it lies between them).
//!
//! It rounds off a true kink, such as the changeover of a stack: build that from its springs ([`Stack`](super::Stack)).
//! Table readings carry their error straight into the rate: rows 10 mm apart, read to 5 N, leave 0.7 N/mm.

use crate::axial::Axial;
use crate::error::{Result, SpringError};
use crate::units::{Force, Length, Quantity, brief, check, show};

use super::by_force::ByForce;

/// A parabola of force from `start` on: `F = force + rate·d + curvature·d²/2`.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Piece {
    start: f64,
    force: f64,
    rate: f64,
    curvature: f64,
    energy: f64,
}

impl Piece {
    fn eval(&self, x: f64) -> Axial {
        let d = x - self.start;
        Axial {
            force: self.force + d * (self.rate + 0.5 * self.curvature * d),
            rate: self.rate + self.curvature * d,
            slope: self.curvature,
            energy: self.energy + d * (self.force + d * (0.5 * self.rate + self.curvature * d / 6.0)),
        }
    }
}

/// A progressive spring by its table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    rows: Vec<(Length, Force)>,
    pieces: Vec<Piece>,
}

impl Table {
    /// Rows of compression and force, both rising; zero force at zero compression goes without saying.
    ///
    /// # Errors
    /// [`SpringError::Table`] without two rows that rise, naming the first that does not; a quantity out of range.
    pub fn new(rows: Vec<(Length, Force)>) -> Result<Self> {
        let mut points = vec![(0.0, 0.0)];
        for (index, &(compression, force)) in rows.iter().enumerate() {
            let row = index + 1;
            let field = |column: usize| format!("table[{index}][{column}]");
            check::plausible(&field(0), compression, Length::from_si(0.0), Length::from_si(1.0))?;
            check::plausible(&field(1), force, Force::from_si(0.0), Force::from_si(1e6))?;
            let (x, f) = (compression.si(), force.si());
            if index == 0 && x == 0.0 && f == 0.0 {
                continue;
            }
            let rises = points.last().is_some_and(|&(x0, f0)| x > x0 && f > f0);
            if !rises {
                return Err(SpringError::Table {
                    row,
                    found: format!("found {} at {}", brief(force), brief(compression)),
                    wanted: "compression and force in the table must both rise from row to row, from nothing at 0 mm",
                }
                .into());
            }
            points.push((x, f));
        }
        if points.len() < 3 {
            return Err(SpringError::Table {
                row: rows.len(),
                found: "the table ends".to_owned(),
                wanted: "two rows or more beside 0 N at 0 mm are wanted; for one rate, give the rate",
            }
            .into());
        }
        Ok(Self { pieces: schumaker(&points), rows })
    }

    /// The rows.
    #[must_use]
    pub fn rows(&self) -> &[(Length, Force)] {
        &self.rows
    }

    pub(super) fn scaled(&self, factor: f64) -> Result<Self> {
        Self::new(self.rows.iter().map(|&(x, force)| (x, force * factor)).collect())
    }

    pub(super) fn end(&self) -> f64 {
        self.rows.last().map_or(0.0, |(x, _)| x.si())
    }

    pub(super) fn eval(&self, x: f64) -> Axial {
        let next = self.pieces.partition_point(|piece| piece.start < x);
        self.pieces.get(next.saturating_sub(1)).map_or_else(Axial::default, |piece| piece.eval(x))
    }

    pub(super) fn by_force(&self, force: f64) -> ByForce {
        let next = self.pieces.partition_point(|piece| piece.force < force);
        let Some(piece) = self.pieces.get(next.saturating_sub(1)) else { return ByForce::default() };
        // The root of the parabola that keeps its digits where the curvature vanishes.
        let rise = force - piece.force;
        let root = (piece.rate * piece.rate + 2.0 * piece.curvature * rise).max(0.0).sqrt();
        let x = piece.start + 2.0 * rise / (piece.rate + root);
        ByForce::of(x, piece.eval(x))
    }

    pub(super) fn describe(&self) -> String {
        let last = self.rows.last().copied();
        let (x, force) = last.map_or_else(Default::default, |(x, f)| (show(x, "mm", 1), show(f, "N", 0)));
        format!("progressive spring, {} rows to {force} at {x}", self.rows.len())
    }
}

/// The pieces through the points (three or more, rising).
fn schumaker(points: &[(f64, f64)]) -> Vec<Piece> {
    let chords: Vec<f64> = points.windows(2).map(|pair| (pair[1].1 - pair[0].1) / (pair[1].0 - pair[0].0)).collect();
    let inner = chords.windows(2).map(|pair| 2.0 * pair[0] * pair[1] / (pair[0] + pair[1]));
    let mut slopes: Vec<f64> = core::iter::once(0.0).chain(inner).collect();
    // At either end the slope that lets one parabola do: twice the chord less the inner slope, above zero because a
    // harmonic mean is less than twice either of its terms.
    slopes[0] = 2.0 * chords[0] - slopes[1];
    let last = chords.len() - 1;
    slopes.push(2.0 * chords[last] - slopes[last]);
    let mut pieces: Vec<Piece> = Vec::with_capacity(2 * chords.len());
    let mut energy = 0.0;
    for (index, pair) in points.windows(2).enumerate() {
        let ((x0, force), (x1, _)) = (pair[0], pair[1]);
        let (from, to) = (slopes[index], slopes[index + 1]);
        let (knot, middle) = extra_knot(x0, x1, chords[index], from, to);
        let first = Piece { start: x0, force, rate: from, curvature: (middle - from) / (knot - x0), energy };
        pieces.push(first);
        if knot < x1 {
            let state = first.eval(knot);
            let curvature = (to - middle) / (x1 - knot);
            pieces.push(Piece { start: knot, force: state.force, rate: middle, curvature, energy: state.energy });
        }
        energy = pieces.last().map_or(energy, |piece| piece.eval(x1).energy);
    }
    pieces
}

/// Schumaker's extra knot in an interval and the slope at it; the interval's end where one parabola does.
fn extra_knot(x0: f64, x1: f64, chord: f64, from: f64, to: f64) -> (f64, f64) {
    /// Slopes whose mean is the chord to this share give one parabola: rounding of the slopes.
    const ONE_PARABOLA: f64 = 1e-12;
    let width = x1 - x0;
    if (0.5 * (from + to) - chord).abs() <= ONE_PARABOLA * chord {
        return (x1, to);
    }
    let knot = if (from - chord) * (to - chord) >= 0.0 {
        0.5 * (x0 + x1)
    } else {
        // Where the slope at the knot is the chord's.
        x0 + width * (to - chord) / (to - from)
    };
    (knot, (2.0 * chord * width - (knot - x0) * from - (x1 - knot) * to) / width)
}

#[cfg(test)]
mod knots {
    use super::*;

    #[test]
    fn two_parabolas_take_the_chord_and_bend_as_the_rows_do() {
        // Rising convex, rising concave, and a bend within the interval: (from, to) about a chord of 2.
        for (from, to) in [(1.0, 3.5), (1.4, 4.0), (3.5, 1.0), (2.4, 0.5), (3.0, 2.5), (1.5, 1.0)] {
            let (x0, x1, chord) = (0.3, 0.7, 2.0);
            let (knot, slope) = extra_knot(x0, x1, chord, from, to);
            assert!(x0 < knot && knot < x1, "{from} {to}: {knot}");
            let risen = 0.5 * (from + slope) * (knot - x0) + 0.5 * (slope + to) * (x1 - knot);
            assert!((risen - chord * (x1 - x0)).abs() < 1e-12, "{from} {to}");
            if (from - chord) * (to - chord) < 0.0 {
                assert!((from.min(to)..=from.max(to)).contains(&slope), "{from} {to}: {slope}");
            }
        }
        assert_eq!(extra_knot(0.3, 0.7, 2.0, 1.5, 2.5), (0.7, 2.5), "one parabola does");
    }

    /// Two chords alike have their slope at the row between them: a stretch that ends with its chord's slope.
    #[test]
    fn rows_that_become_straight_make_a_curve() {
        let rows = [(0.01, 100.0), (0.02, 300.0), (0.03, 500.0), (0.04, 650.0)];
        let rows = rows.map(|(x, force)| (Length::from_si(x), Force::from_si(force)));
        let table = Table::new(rows.to_vec()).unwrap();
        for (x, force) in rows {
            // Sums of some roundings of hundreds of newtons.
            assert!((table.eval(x.si()).force - force.si()).abs() < 1e-9, "{x:?}");
        }
        for x in (0..=400).map(|at| 1e-4 * f64::from(at)) {
            let state = table.eval(x);
            assert!(state.rate > 0.0 && state.rate < 3e4 && state.slope.is_finite(), "{x}: {state:?}");
        }
        for (from, to) in [(1.5, 2.0), (2.5, 2.0), (2.0, 1.5), (2.0, 2.5)] {
            let (knot, middle) = extra_knot(0.3, 0.7, 2.0, from, to);
            // Two trapezia under the slopes make the chord.
            let made = 0.5 * ((knot - 0.3) * (from + middle) + (0.7 - knot) * (middle + to));
            assert!((made - 2.0 * 0.4).abs() < 1e-15 && knot > 0.3 && knot < 0.7, "{from} {to}: {knot} {middle}");
        }
    }
}
