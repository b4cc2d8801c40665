//! The mean of a correlated series, and how sure it is: integrated autocorrelation time over cells of a clock.

/// Length of a cell (s): a fraction of the period of a bike's bounce.
const CELL: f64 = 0.05;
/// Cells that the autocorrelation reaches back: 30 s.
const LAGS: usize = 600;
/// Sokal's window: lags are summed up to so many autocorrelation times.
const WINDOW: f64 = 5.0;
/// Least number of windows in a series: with fewer the autocorrelation is not known.
const LEAST_WINDOWS: f64 = 10.0;
/// A series that moves by less than this share of its mean stands still: no sensor sees it.
const STILL: f64 = 1e-6;
/// Share of a cell that has to be covered for its mean to count.
const COVERED: f64 = 0.999;

/// Sums over pairs of cells a lag apart.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Pairs {
    count: f64,
    product: f64,
    sum: f64,
}

/// A series, as far as it has come.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Series {
    time: f64,
    area: f64,
    square: f64,
    cell: Option<(i64, f64, f64)>,
    /// Means of the cells before, newest last, without a gap.
    before: std::collections::VecDeque<f64>,
    pairs: Vec<Pairs>,
}

/// What a series says of its mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Mean {
    pub(super) mean: f64,
    pub(super) deviation: f64,
    /// Standard uncertainty of the mean and autocorrelation time in seconds; `None` where the series is too short for them.
    pub(super) sure: Option<(f64, f64)>,
}

impl Series {
    pub(super) fn new() -> Self {
        Self {
            time: 0.0,
            area: 0.0,
            square: 0.0,
            cell: None,
            before: std::collections::VecDeque::with_capacity(LAGS + 1),
            pairs: vec![Pairs::default(); LAGS + 1],
        }
    }

    /// A straight line from one time and value to the next.
    pub(super) fn line(&mut self, [from, to]: [f64; 2], [start, end]: [f64; 2]) {
        let span = to - from;
        self.time += span;
        self.area += 0.5 * (start + end) * span;
        self.square += (start * start + start * end + end * end) / 3.0 * span;
        let at = |time: f64| start + (end - start) * (time - from) / span;
        let (first, last) = ((from / CELL).floor() as i64, (to / CELL).floor() as i64);
        for cell in first..=last {
            let (low, high) = (from.max(cell as f64 * CELL), to.min((cell + 1) as f64 * CELL));
            if high > low {
                self.in_cell(cell, high - low, 0.5 * (at(low) + at(high)) * (high - low));
            }
        }
    }

    /// Nothing is known until the next line.
    pub(super) fn break_off(&mut self) {
        self.close();
        self.before.clear();
    }

    fn in_cell(&mut self, cell: i64, span: f64, area: f64) {
        match &mut self.cell {
            Some((at, covered, sum)) if *at == cell => {
                *covered += span;
                *sum += area;
            }
            _ => {
                let follows = self.cell.is_some_and(|(at, ..)| at + 1 == cell);
                self.close();
                if !follows {
                    self.before.clear();
                }
                self.cell = Some((cell, span, area));
            }
        }
    }

    /// The cell that was filled joins the series.
    fn close(&mut self) {
        let Some((_, covered, area)) = self.cell.take() else { return };
        if covered < COVERED * CELL {
            self.before.clear();
            return;
        }
        let mean = area / covered;
        self.before.push_back(mean);
        if self.before.len() > LAGS + 1 {
            self.before.pop_front();
        }
        for (pairs, earlier) in self.pairs.iter_mut().zip(self.before.iter().rev()) {
            pairs.count += 1.0;
            pairs.product += mean * earlier;
            pairs.sum += mean + earlier;
        }
    }

    pub(super) fn merge(&mut self, mut other: Self) {
        self.break_off();
        other.break_off();
        self.time += other.time;
        self.area += other.area;
        self.square += other.square;
        for (pairs, others) in self.pairs.iter_mut().zip(&other.pairs) {
            pairs.count += others.count;
            pairs.product += others.product;
            pairs.sum += others.sum;
        }
    }

    pub(super) fn mean(&self) -> Option<Mean> {
        let mut whole = self.clone();
        whole.break_off();
        if whole.time <= 0.0 {
            return None;
        }
        let mean = whole.area / whole.time;
        let deviation = (whole.square / whole.time - mean * mean).max(0.0).sqrt();
        Some(Mean { mean, deviation, sure: whole.sure() })
    }

    fn sure(&self) -> Option<(f64, f64)> {
        let all = self.pairs.first().filter(|pairs| pairs.count > 1.0)?;
        let mean = 0.5 * all.sum / all.count;
        let covariance = |pairs: &Pairs| (pairs.product - mean * pairs.sum) / pairs.count + mean * mean;
        let variance = covariance(all);
        if variance <= STILL * STILL * (mean * mean + f64::MIN_POSITIVE) {
            return Some((0.0, 0.5 * CELL));
        }
        let mut time = 0.5;
        for (lag, pairs) in self.pairs.iter().enumerate().skip(1) {
            if pairs.count < LEAST_WINDOWS * lag as f64 {
                return None;
            }
            time += covariance(pairs) / variance;
            if lag as f64 >= WINDOW * time {
                // A series that swings back may add up to nearly nothing; a cell is worth no more than ten.
                let time = f64::max(time, 0.05);
                let bias = 1.0 + (2.0 * lag as f64 + 1.0) / all.count;
                return Some(((2.0 * time * variance * bias / all.count).sqrt(), time * CELL));
            }
        }
        None
    }
}
