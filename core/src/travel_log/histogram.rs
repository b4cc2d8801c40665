//! Shares of time by bins of equal width.

/// Time spent in bins of equal width, and beyond both of their ends.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub struct Histogram {
    /// Lower end of the first bin, and the width of each, in the SI unit of what is counted.
    pub start: f64,
    /// Width of a bin.
    pub width: f64,
    /// Share of time in each.
    pub shares: Vec<f64>,
    /// Share of time below the first.
    pub below: f64,
    /// Share of time above the last.
    pub above: f64,
}

impl Histogram {
    pub(super) fn new(start: f64, end: f64, bins: usize) -> Self {
        Self { start, width: (end - start) / bins as f64, shares: vec![0.0; bins], below: 0.0, above: 0.0 }
    }

    /// A time at one value.
    pub(super) fn add(&mut self, value: f64, time: f64) {
        let at = (value - self.start) / self.width;
        if at < 0.0 {
            self.below += time;
        } else {
            match self.shares.get_mut(at as usize) {
                Some(share) => *share += time,
                None => self.above += time,
            }
        }
    }

    /// A time over which the value went along a straight line.
    pub(super) fn sweep(&mut self, from: f64, to: f64, time: f64) {
        let (low, high) = (from.min(to), from.max(to));
        let at = |value: f64| ((value - self.start) / self.width).floor();
        let (first, last) = (at(low), at(high));
        if first == last || high - low <= f64::EPSILON * self.width {
            return self.add(low, time);
        }
        let most = self.shares.len() as f64;
        let per = time / (high - low);
        let mut bin = first.max(-1.0);
        while bin <= last.min(most) {
            let start = if bin < 0.0 { f64::NEG_INFINITY } else { self.start + bin * self.width };
            let end = if bin >= most { f64::INFINITY } else { self.start + (bin + 1.0) * self.width };
            let inside = per * (high.min(end) - low.max(start)).max(0.0);
            if bin < 0.0 {
                self.below += inside;
            } else if bin >= most {
                self.above += inside;
            } else {
                self.shares[bin as usize] += inside;
            }
            bin += 1.0;
        }
    }

    pub(super) fn merge(&mut self, other: &Self) {
        self.shares.iter_mut().zip(&other.shares).for_each(|(to, from)| *to += from);
        self.below += other.below;
        self.above += other.above;
    }

    /// Times as shares of a whole.
    pub(super) fn over(&self, whole: f64) -> Self {
        let share = |time: f64| if whole > 0.0 { time / whole } else { 0.0 };
        Self {
            shares: self.shares.iter().map(|time| share(*time)).collect(),
            below: share(self.below),
            above: share(self.above),
            ..self.clone()
        }
    }

    /// Middles of the bins.
    #[must_use]
    pub fn middles(&self) -> Vec<f64> {
        (0..self.shares.len()).map(|bin| self.start + (bin as f64 + 0.5) * self.width).collect()
    }
}
