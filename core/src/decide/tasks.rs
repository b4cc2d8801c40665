//! All that can be measured at an end, those tasks among them that remove an assumption; worked out once for a decision, where
//! anybody asks.

use core::cell::OnceCell;

use crate::Result;
use crate::decide::adviser::Adviser;
use crate::decide::narrowing::Coming;
use crate::decide::next_reading::{Task, Tools};
use crate::infer::posterior::{LOADS, PRELOAD};
use crate::infer::solved::Solved;
use crate::record::{End, Load};
use crate::units::Quantity;
use crate::wheel::Origin;

/// Standard deviations of what is read beside tape and scale: an angle (rad), a share of gas, the preload of a fork (m), an
/// unsprung end taken apart and weighed (kg).
const PROTRACTOR: f64 = 0.005;
const GAS_KNOWN: f64 = 0.2;
const CAP_OFF: f64 = 1e-3;
const UNSPRUNG: f64 = 0.5;

/// What an exactly known number is off by, in its own standard deviations: nothing that shows.
pub(super) const EXACT: f64 = 1e-6;

/// The tasks of one end, each with its readings.
pub(crate) struct Tasks<'a> {
    adviser: &'a Adviser,
    all: OnceCell<Vec<(Task, Vec<Coming>)>>,
}

impl<'a> Tasks<'a> {
    pub(crate) fn of(adviser: &'a Adviser) -> Self {
        Self { adviser, all: OnceCell::new() }
    }

    pub(crate) fn all(&self) -> Result<&[(Task, Vec<Coming>)]> {
        let tools = self.adviser.tools()?;
        Ok(self.all.get_or_init(|| self.adviser.solved().tasks_of(self.adviser, tools)))
    }
}

impl Solved {
    /// The tasks of a person with these tools, those that remove an assumption among them.
    fn tasks_of(&self, adviser: &Adviser, tools: Tools) -> Vec<(Task, Vec<Coming>)> {
        let mut tasks = self.tasks(tools);
        let bike = adviser.bike();
        for (origin, places) in adviser.origins() {
            let read =
                |variance: f64| places.iter().map(|&place| Coming::new(self.unit(place, 1.0), variance)).collect();
            match origin {
                Origin::Rake => {
                    let known = bike.front().ok().and_then(|front| front.fork().ok()?.rake_uncertainty());
                    let off = known.map_or(1.0, |known| PROTRACTOR / known.si());
                    tasks.push((Task::Rake, read(off * off)));
                }
                Origin::Direction => tasks.push((Task::Direction, read(EXACT))),
                Origin::Gas => tasks.push((Task::Gas, read(GAS_KNOWN * GAS_KNOWN))),
                _ => {}
            }
        }
        let is_linked = bike.sprung(End::Front).is_some();
        if self.end == End::Front && is_linked {
            tasks.push(self.spring_length());
        }
        if self.end == End::Front && !is_linked && bike.assumed().preload(End::Front).is_some() {
            let off = CAP_OFF / self.evidence.priors.preload;
            tasks.push((Task::CapOff, vec![Coming::new(self.unit(PRELOAD, 1.0), off * off)]));
        }
        let assumed = bike.masses().ok().and_then(|masses| Some((masses.assumed_unsprung()?, masses.gravity().si())));
        if let Some((assumed, gravity)) = assumed {
            let deviation = assumed.at(self.end).si();
            let mut coming = self.part_of_loads(-deviation * gravity, |_| true);
            coming.widen((UNSPRUNG / deviation).powi(2));
            tasks.push((Task::Unsprung, vec![coming]));
        }
        tasks
    }

    /// What a part of the loads is, of unit variance, which adds this much (N) to every load that holds it.
    pub(super) fn part_of_loads(&self, adds: f64, holds: impl Fn(&Load) -> bool) -> Coming {
        let root = &self.evidence.loads.root;
        let (mut derivatives, mut left) = (self.unit(LOADS, 0.0), 1.0);
        for (row, load) in self.gathered.loads.iter().enumerate() {
            if root[(row, row)] > 0.0 {
                let known: f64 = (0..row).map(|k| root[(row, k)] * derivatives[LOADS + k]).sum();
                let part = (if holds(load) { adds } else { 0.0 } - known) / root[(row, row)];
                derivatives[LOADS + row] = part;
                left -= part * part;
            }
        }
        Coming::new(derivatives, left.max(EXACT))
    }
}
