//! Puts the shock into the mechanism: finds full extension and full compression, or says what is in the way.

use super::explore::{Blocked, Explorer, Obstacle, Probe};
use super::mechanism::Mechanism;
use crate::error::LinkageError;
use crate::error::Place;
use crate::units::{Length, Quantity};

/// A motion ratio in the drawn position smaller than this is none: the shock's ends keep their distance.
const NO_MOTION: f64 = 1e-9;

/// The range in which the shock works.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Travel {
    /// Wheel height at full extension and at full compression.
    pub(crate) extended: f64,
    pub(crate) compressed: f64,
    pub(crate) drawn: f64,
    /// Probes on the way, by rising height: closely spaced over the range where a crank or a group has to be started from one.
    pub(crate) probes: Vec<Probe>,
}

/// What is looked for: a mechanism's names, and the shock.
pub(crate) struct Search<'a> {
    pub(crate) mechanism: &'a Mechanism,
    pub(crate) explorer: Explorer<'a>,
    pub(crate) shock: [usize; 2],
    pub(crate) shock_length: f64,
    pub(crate) stroke: f64,
}

impl Search<'_> {
    pub(crate) fn run(&self) -> Result<Travel, LinkageError> {
        let drawn = self.drawn()?;
        let (out, extended) = self.end("extended", &drawn, self.shock_length, None)?;
        let full_extension = Some(extended.height());
        let (inward, compressed) = self.end("compressed", &drawn, self.shock_length - self.stroke, full_extension)?;
        let mut probes: Vec<Probe> =
            out.into_iter().chain(inward).chain([extended.clone(), compressed.clone()]).collect();
        probes.sort_by(|a, b| a.height().total_cmp(&b.height()));
        probes.dedup_by(|a, b| a.height() == b.height());
        Ok(Travel { extended: extended.height(), compressed: compressed.height(), drawn: drawn.height(), probes })
    }

    /// The drawn position, checked for its motion ratio.
    fn drawn(&self) -> Result<Probe, LinkageError> {
        let zero = Place::AboveDrawn(Length::from_si(0.0));
        let dead =
            || LinkageError::DeadPoint { bodies: self.names(&self.explorer.carriers[0]), at: zero, reachable: zero };
        let drawn = self.explorer.drawn().ok_or_else(dead)?;
        let ratio = drawn.motion_ratio();
        if !ratio.is_finite() {
            Err(dead())
        } else if ratio.abs() < NO_MOTION {
            let [first, second] = self.shock.map(|point| self.mechanism.point_name(point).to_owned());
            Err(LinkageError::ShockOnOneBody { first, second })
        } else if ratio < 0.0 {
            Err(LinkageError::WheelMovesDown { found: format!("{:.3}", ratio) })
        } else {
            Ok(drawn)
        }
    }

    /// Follows the wheel to one end of the shock, and locates it.
    fn end(
        &self,
        name: &'static str,
        drawn: &Probe,
        target: f64,
        datum: Option<f64>,
    ) -> Result<(Vec<Probe>, Probe), LinkageError> {
        let upwards = drawn.length[0] > target;
        let short = |probe: &Probe| probe.length[0] - target;
        let path = match self.explorer.stride(drawn, upwards, target) {
            Some(pair) => pair.to_vec(),
            None => self
                .explorer
                .follow(drawn, upwards, target)
                .map_err(|blocked| self.unreachable(name, drawn, target, datum, blocked))?,
        };
        let bracket = path.windows(2).find(|pair| short(&pair[0]) * short(&pair[1]) <= 0.0);
        let end = match bracket {
            Some([before, after]) => self
                .explorer
                .root(before, after, |probe| [short(probe), probe.length[1]])
                .map_err(|usable| self.unreachable(name, drawn, target, datum, self.explorer.dead_end(usable)))?,
            // Drawn at the very end, with an obstacle right behind it.
            _ => drawn.clone(),
        };
        Ok((path, end))
    }

    fn unreachable(
        &self,
        end: &'static str,
        drawn: &Probe,
        target: f64,
        datum: Option<f64>,
        blocked: Blocked,
    ) -> LinkageError {
        let place = |height: f64| match datum {
            Some(datum) => Place::Travel(Length::from_si(height - datum)),
            None => Place::AboveDrawn(Length::from_si(height - drawn.height())),
        };
        let (bodies, at, reachable) =
            (self.names(&blocked.bodies), place(blocked.height), place(blocked.usable.height()));
        LinkageError::ShockLength {
            end,
            wanted: Length::from_si(target),
            drawn: Length::from_si(drawn.length[0]),
            nearest: Length::from_si(blocked.usable.length[0]),
            reason: Box::new(match blocked.obstacle {
                Obstacle::DeadPoint => LinkageError::DeadPoint { bodies, at, reachable },
                Obstacle::BranchPoint => LinkageError::BranchPoint { bodies, at, reachable },
                Obstacle::WheelTurnsBack => LinkageError::WheelTurnsBack { bodies, at, reachable },
                Obstacle::MotionRatioZero => LinkageError::MotionRatioZero { bodies, at, reachable },
            }),
        }
    }

    fn names(&self, bodies: &[usize]) -> Vec<String> {
        bodies.iter().map(|&body| self.mechanism.body_name(body).to_owned()).collect()
    }
}
