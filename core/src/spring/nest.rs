//! Springs nested one inside the other: one compression, forces add.
//!
//! `F(x) = Σ F_i(x − gap_i)`; a shorter spring joins in when its gap is closed, and the rate jumps up there. Exactly at
//! it the softer rate holds. Textbook: springs in parallel, any text of mechanics.

use crate::axial::Axial;
use crate::error::{Result, SpringError};
use crate::units::{Length, Quantity, check, show};

use super::Spring;
use super::by_force::{ByForce, solve_rising, solve_rising_beyond};

/// One spring of a nest.
#[derive(Debug, Clone, PartialEq)]
pub struct Nested {
    spring: Spring,
    gap: Length,
}

impl Nested {
    /// A spring that is shorter than the longest of the nest by this gap.
    ///
    /// # Errors
    /// When the gap is not from 0 mm to 1 m.
    pub fn new(spring: impl Into<Spring>, gap: Length) -> Result<Self> {
        check::not_negative("gap", gap)?;
        check::plausible("gap", gap, Length::from_si(0.0), Length::from_si(1.0))?;
        Ok(Self { spring: spring.into(), gap })
    }

    /// The spring.
    #[must_use]
    pub fn spring(&self) -> &Spring {
        &self.spring
    }

    /// Compression of the nest at which it joins in.
    #[must_use]
    pub fn gap(&self) -> Length {
        self.gap
    }

    fn eval(&self, x: f64) -> Axial {
        let own = x - self.gap.si();
        // At its gap a second spring is still loose: the softer side holds at a kink.
        if self.gap.si() > 0.0 && own <= 0.0 { Axial::default() } else { self.spring.eval(own) }
    }
}

/// Springs nested one inside the other.
#[derive(Debug, Clone, PartialEq)]
pub struct Nest {
    springs: Vec<Nested>,
    jumps: Vec<f64>,
}

impl Nest {
    /// Springs side by side.
    ///
    /// # Errors
    /// [`SpringError::Description`] unless at least one spring has no gap, or with a measured one.
    pub fn new(springs: Vec<Nested>) -> Result<Self> {
        super::measured::none_within("nest", springs.iter().map(Nested::spring))?;
        if !springs.iter().any(|nested| nested.gap.si() == 0.0) {
            return Err(SpringError::Description {
                part: "nest".to_owned(),
                found: if springs.is_empty() { "no spring" } else { "a gap on every spring" }.to_owned(),
                wanted: "at least one spring, the longest, with a gap of 0 mm".to_owned(),
            }
            .into());
        }
        let mut nest = Self { springs, jumps: Vec::new() };
        let end = nest.end().unwrap_or(f64::INFINITY);
        let joins = |nested: &Nested| {
            let gap = nested.gap.si();
            core::iter::once(gap).chain(nested.spring.jumps().into_iter().map(move |x| gap + x)).collect::<Vec<_>>()
        };
        let mut jumps: Vec<f64> = nest.springs.iter().flat_map(joins).filter(|x| *x > 0.0 && *x < end).collect();
        jumps.sort_by(f64::total_cmp);
        jumps.dedup();
        nest.jumps = jumps;
        Ok(nest)
    }

    /// The springs.
    #[must_use]
    pub fn springs(&self) -> &[Nested] {
        &self.springs
    }

    pub(super) fn scaled(&self, factor: f64) -> Result<Self> {
        let scale = |nested: &Nested| Ok(Nested { spring: nested.spring.scaled(factor)?, gap: nested.gap });
        Self::new(self.springs.iter().map(scale).collect::<Result<_>>()?)
    }

    /// The nest ends with the first of its springs that does.
    pub(super) fn end(&self) -> Option<f64> {
        self.springs.iter().filter_map(|nested| nested.spring.end().map(|end| end + nested.gap.si())).reduce(f64::min)
    }

    pub(super) fn jumps(&self) -> Vec<f64> {
        self.jumps.clone()
    }

    pub(super) fn eval(&self, x: f64) -> Axial {
        self.springs.iter().map(|nested| nested.eval(x)).sum()
    }

    pub(super) fn by_force(&self, force: f64) -> ByForce {
        let x = self.compression(force);
        ByForce::of(x, self.eval(x))
    }

    fn compression(&self, force: f64) -> f64 {
        let view = |x| {
            let state = self.eval(x);
            (state.force, state.rate)
        };
        let mut below = (0.0, 0.0);
        for &x in self.jumps.iter().chain(self.end().iter()) {
            let above = (x, view(x).0);
            if force == above.1 {
                return x;
            }
            if force < above.1 {
                return solve_rising(view, force, below, above);
            }
            below = above;
        }
        solve_rising_beyond(view, force, below, 2.0 * below.0 + (force - below.1) / view(below.0).1)
    }

    pub(super) fn describe(&self) -> String {
        let nested = |nested: &Nested| match nested.gap.si() {
            0.0 => nested.spring.words(),
            _ => format!("{} from {}", nested.spring.words(), show(nested.gap, "mm", 1)),
        };
        format!("nest of {}", self.springs.iter().map(nested).collect::<Vec<_>>().join(" and "))
    }
}
