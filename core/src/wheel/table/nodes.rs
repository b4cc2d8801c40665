//! A balance at the nodes of a table, and in which cells something may happen.

use archmage::autoversion;

/// Cells that are looked at together, in vectors, for whether anything happens in one of them.
const STRETCH: usize = 40;

/// A balance at all nodes of a table.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Balances<'a> {
    pub(crate) travel: &'a [f64],
    pub(crate) over: Vec<f64>,
    pub(crate) rate: Vec<f64>,
}

/// A balance (force over load, and its slope) at places over the travel.
pub(crate) trait Nodes {
    /// The places, in rising order.
    fn travels(&self) -> &[f64];

    /// The balance at one of them.
    fn at(&self, node: usize) -> (f64, f64);

    /// The places after which something may happen before the next: in every other cell the balance stays on its side of
    /// zero and has no hump.
    fn loud(&self) -> impl Iterator<Item = usize>;
}

impl Nodes for Balances<'_> {
    fn travels(&self) -> &[f64] {
        self.travel
    }

    fn at(&self, node: usize) -> (f64, f64) {
        (self.over[node], self.rate[node])
    }

    fn loud(&self) -> impl Iterator<Item = usize> {
        let Self { over, rate, .. } = self;
        let cells = over.len().saturating_sub(1);
        let stretches = (0..cells).step_by(STRETCH).map(move |from| from..cells.min(from + STRETCH));
        stretches.filter(|cells| !is_quiet(&over[cells.start..=cells.end], &rate[cells.start..=cells.end])).flatten()
    }
}

/// Does nothing happen in these cells: the same side of zero at both ends of each, and no hump? True of most.
#[autoversion]
fn is_quiet(over: &[f64], rate: &[f64]) -> bool {
    let (next_over, next_rate) = (over.get(1..).unwrap_or_default(), rate.get(1..).unwrap_or_default());
    let cells = over.iter().zip(next_over).zip(rate.iter().zip(next_rate));
    let event = |((from, to), (rate, next)): ((&f64, &f64), (&f64, &f64))| {
        ((*from < 0.0) != (*to < 0.0)) | ((*rate > 0.0) != (*next > 0.0))
    };
    // Without an early end, which would keep it from going in vectors.
    !cells.fold(false, |any, cell| any | event(cell))
}
