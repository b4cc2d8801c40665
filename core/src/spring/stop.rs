//! Springs that act only near one end of the stroke.
//!
//! Bump stop over the last `c` of a stroke `S`: compression `s − (S − c)`, pushes the end open.
//! Top-out spring over the first `c`: compression `c − s`, pulls the end shut, so the net force near full extension may
//! be negative and the end hangs free a little below it.

use crate::axial::{Axial, AxialElement};
use crate::error::{Result, SpringError};
use crate::units::{Length, Quantity, SpringRate, brief, check, show};

use super::Spring;

/// A spring that is compressed at one end of the stroke: bump stop or top-out spring, by where it is put.
#[derive(Debug, Clone, PartialEq)]
pub struct Stop {
    spring: Spring,
    acts_over: Length,
}

impl Stop {
    /// A spring that is compressed by `acts_over` at the metal end of the stroke, and loose from that distance on.
    ///
    /// # Errors
    /// When `acts_over` is not from 0.1 mm to 200 mm, or more than the spring can compress.
    pub fn new(spring: impl Into<Spring>, acts_over: Length) -> Result<Self> {
        let spring = spring.into();
        check::plausible("acts_over", acts_over, Length::from_si(1e-4), Length::from_si(0.2))?;
        if let Some(end) = spring.most_compression().filter(|end| acts_over > *end) {
            return Err(SpringError::Order {
                field: "acts_over".to_owned(),
                found: brief(acts_over),
                wanted: "not more",
                other: spring.allows().to_owned(),
                than: brief(end),
            }
            .into());
        }
        Ok(Self { spring, acts_over })
    }

    /// A stop of constant rate.
    ///
    /// # Errors
    /// As [`Coil::new`](super::Coil::new) and [`new`](Self::new).
    pub fn linear(rate: SpringRate, acts_over: Length) -> Result<Self> {
        Self::new(Spring::linear(rate)?, acts_over)
    }

    /// The spring.
    #[must_use]
    pub fn spring(&self) -> &Spring {
        &self.spring
    }

    /// Part of the stroke over which it acts.
    #[must_use]
    pub fn acts_over(&self) -> Length {
        self.acts_over
    }

    /// The kernel at full compression's end.
    pub(crate) fn eval_bump(&self, stroke: f64, full_stroke: f64) -> Axial {
        self.loaded(stroke - (full_stroke - self.acts_over.si()))
    }

    /// The kernel at full extension's end.
    pub(crate) fn eval_top_out(&self, stroke: f64) -> Axial {
        let state = self.loaded(self.acts_over.si() - stroke);
        Axial { force: -state.force, slope: -state.slope, ..state }
    }

    /// A stop that only just touches is loose: the softer side holds at the kink.
    fn loaded(&self, compression: f64) -> Axial {
        if compression > 0.0 { self.spring.eval(compression) } else { Axial::default() }
    }

    pub(crate) fn bump_jumps(&self, full_stroke: f64) -> Vec<f64> {
        let start = full_stroke - self.acts_over.si();
        core::iter::once(0.0).chain(self.spring.jumps()).map(|x| start + x).collect()
    }

    pub(crate) fn top_out_jumps(&self) -> Vec<f64> {
        let end = self.acts_over.si();
        core::iter::once(0.0).chain(self.spring.jumps()).map(|x| end - x).collect()
    }

    pub(crate) fn describe(&self, name: &str, which: &str) -> String {
        format!("{name}: {} over the {which} {}", self.spring.describe(), show(self.acts_over, "mm", 1))
    }
}

#[cfg(test)]
mod tests {
    use super::super::Table;
    use super::*;
    use crate::axial::testing::assert_slope;
    use crate::units::{Force, parse};

    fn mm(length: f64) -> Length {
        Length::from_si(length * 1e-3)
    }

    #[test]
    fn acts_at_its_end_only_and_the_softer_side_holds_where_it_touches() {
        let stop = Stop::linear(parse("40 N/mm").unwrap(), mm(20.0)).unwrap();
        assert_eq!(stop.eval_bump(0.08, 0.1), Axial::default());
        assert!((stop.eval_bump(0.09, 0.1).force - 400.0).abs() < 1e-9, "40 N/mm over 10 mm");
        assert_eq!(stop.eval_top_out(0.02), Axial::default());
        let pulled = stop.eval_top_out(0.015);
        assert!((pulled.force + 200.0).abs() < 1e-9 && pulled.rate > 0.0 && pulled.energy > 0.0);
    }

    #[test]
    fn slope_is_the_derivative_of_the_rate_at_either_end() {
        let rows = [(10.0, 50.0), (20.0, 180.0), (30.0, 420.0)];
        let table = Table::new(rows.map(|(x, force)| (mm(x), Force::from_si(force))).to_vec()).unwrap();
        let stop = Stop::new(table, mm(25.0)).unwrap();
        assert_slope(|s| stop.eval_top_out(s), [0.002, 0.0071, 0.0131, 0.0181, 0.0303]);
        assert_slope(|s| stop.eval_bump(s, 0.1), [0.06, 0.0771, 0.0831, 0.0931]);
    }

    #[test]
    fn refuses_to_act_further_than_its_spring_goes() {
        let coil = super::super::Coil::new(parse("40 N/mm").unwrap()).unwrap();
        let coil = coil.with_lengths(mm(40.0), mm(25.0)).unwrap();
        assert_eq!(Stop::new(coil, mm(15.0)).unwrap().acts_over(), mm(15.0));
        assert!(Stop::new(coil, mm(15.1)).unwrap_err().to_string().contains("not more than the compression"));
    }

    /// The rate jumps where it touches, and where its own rate does: a stack that changes over at 45 mm, by hand.
    #[test]
    fn the_rate_jumps_where_its_spring_says() {
        let coil = |rate: &str| super::super::Coil::new(parse(rate).unwrap()).unwrap();
        let soft = super::super::Stage::new(coil("4 N/mm")).with_limit(mm(30.0)).unwrap();
        let stack = super::super::Stack::new(vec![soft, super::super::Stage::new(coil("8 N/mm"))]).unwrap();
        let stop = Stop::new(stack, mm(60.0)).unwrap();
        let near = |found: Vec<f64>, wanted: [f64; 2]| {
            assert_eq!(found.len(), 2);
            assert!(found.iter().zip(wanted).all(|(found, wanted)| (found - wanted).abs() < 1e-12), "{found:?}");
        };
        // Pressed from 60 mm to 0 at the extended end, from 58 mm to 118 at the other.
        near(stop.top_out_jumps(), [0.060, 0.015]);
        near(stop.bump_jumps(0.118), [0.058, 0.103]);
    }
}
