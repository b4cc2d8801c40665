//! What the file states of an end, and how well that is known.

use crate::Result;
use crate::bike::{Bike, SagConversion};
use crate::decide::Decision;
use crate::fork::ForkLeg;
use crate::gas::{AirSpring, Exponents, ForkAir};
use crate::infer::finding::percent;
use crate::infer::fit::Fit;
use crate::record::{Direction, End};
use crate::report::direction::along;
use crate::report::entry::{Line, SheetEntry};
use crate::report::words::Words;
use crate::units::{Quantity, UnitSystem, show};
use crate::wheel::Tyre;

impl Bike {
    pub(super) fn inputs(&self, fit: &Fit, units: UnitSystem) -> Result<Vec<Line>> {
        let end = fit.end;
        let wheel = self.end(end)?;
        let measuring = self.measuring_or_vertical(end);
        let decimals = units.length_decimals();
        let mut lines = Vec::new();
        if measuring.direction != Direction::Vertical {
            let read = SagConversion::of(self, end, measuring.direction)?.sag(wheel.full_travel())?;
            let name = format!("wheel travel, {}", along(measuring.direction));
            lines.push(Line::new(name, SheetEntry::stated(read, units, decimals)));
        }
        lines.push(Line::new("wheel travel, vertical", SheetEntry::stated(wheel.full_travel(), units, decimals)));
        if let Some(main) = wheel.main_spring() {
            let tolerance = percent(self.assumed().prior(end).rate_tolerance.si());
            for (k, (rate, preload)) in main.each.iter().enumerate() {
                let which = if main.each.len() > 1 { format!("spring {}", k + 1) } else { "spring".to_owned() };
                let mut label = SheetEntry::stated(*rate, units, units.rate_decimals());
                label.text = Words { units }.rate(*rate);
                let known = if self.is_spring_measured(end, k) { "measured" } else { "label" };
                lines.push(Line::new(format!("{which}, {known} (± {tolerance})"), label));
                let said = if self.assumed().preload(end).is_some() { "assumed" } else { "stated" };
                lines
                    .push(Line::new(format!("{which}, preload {said}"), SheetEntry::stated(*preload, units, decimals)));
            }
        }
        lines.push(self.geometry_known(end, units)?);
        let tyre = self.parts().wheels.as_ref().and_then(|wheels| wheels.ends.at(end).tyre.as_ref());
        if let Some(known) = tyre.and_then(Tyre::known) {
            lines.push(Line::new("tyre, vertical rate", SheetEntry::uncertain(known, units)));
        }
        lines.extend(self.gas_exponents(end)?);
        for load in &fit.loads {
            lines.push(Line::new(format!("sprung load, {}", load.load), SheetEntry::uncertain(load.stated, units)));
        }
        let tape = SheetEntry::stated(measuring.uncertainty, units, decimals);
        lines.push(Line::new(format!("one reading ({}), standard uncertainty", along(measuring.direction)), tape));
        Ok(lines)
    }

    /// Was a spring of the end read off a press or scales, and not off its label?
    fn is_spring_measured(&self, end: End, place: usize) -> bool {
        let parts = self.parts();
        let spring = match end {
            End::Front => parts.front.iter().flat_map(|front| front.main_springs()).nth(place),
            End::Rear => parts.rear.as_ref().and_then(|rear| rear.shock().parts().spring.as_ref()),
        };
        spring.is_some_and(|spring| spring.spring().measured().is_some())
    }

    /// Gas that nobody stated beside a spring whose preload is stated: none is counted there, and that is said.
    pub(super) fn uncounted_gas(&self, end: End) -> Option<String> {
        if self.own_end(end).is_some() || self.end(end).ok()?.main_spring().is_none() {
            return None;
        }
        match self.sprung(end) {
            None => {
                let mut legs = self.front().ok()?.fork().ok()?.legs().iter();
                let none =
                    legs.all(|leg| leg.air().is_none() && leg.air_spring().is_none() && leg.elements().is_empty());
                none.then(|| {
                    "No air is stated in the fork, and none is counted: a usual one carries a few kilograms at rider sag, and \
                     far more at full travel. State the oil level under `air`."
                        .to_owned()
                })
            }
            Some(sprung) => {
                let parts = sprung.shock().parts();
                let none = parts.reservoir.is_none() && parts.air_spring.is_none() && parts.own.is_empty();
                none.then(|| {
                    let push = self.assumed().usual().gas_push.value;
                    format!(
                        "No gas is stated in the shock, and none is counted: a usual one pushes with about {} on the rod. State \
                         its charge under `reservoir`.",
                        show(push, "N", 0)
                    )
                })
            }
        }
    }

    /// Why no oil level is given for a force at full travel that is wanted.
    pub(super) fn no_oil_level(&self, advice: &Decision) -> Option<String> {
        let wanted = self.parts().targets.front.full_travel_force.filter(|_| advice.end == End::Front)?;
        (advice.oil_level.is_none()).then(|| {
            format!(
                "No oil level is given for the {} wanted at full travel: it is counted from that of today. State it under `air`.",
                show(wanted, "N", 0)
            )
        })
    }

    /// The exponents of the gas of an end, each pair once; nothing without gas.
    fn gas_exponents(&self, end: End) -> Result<Option<Line>> {
        // What gas an end of its own holds is not known here.
        if self.own_end(end).is_some() {
            return Ok(None);
        }
        let mut all: Vec<Exponents> = match self.sprung(end) {
            None => {
                let legs = self.front()?.fork()?.legs().iter();
                let of =
                    |leg: &ForkLeg| [leg.air().map(ForkAir::exponents), leg.air_spring().map(AirSpring::exponents)];
                legs.flat_map(of).flatten().collect()
            }
            Some(sprung) => {
                let parts = sprung.shock().parts();
                let of = [parts.reservoir.map(|gas| gas.exponents()), parts.air_spring.map(|gas| gas.exponents())];
                of.into_iter().flatten().collect()
            }
        };
        all.dedup();
        let texts: Vec<String> = all
            .iter()
            .map(|both| {
                format!("{} settled, {} ± {} on a fast stroke", both.slow(), both.fast(), both.fast_uncertainty())
            })
            .collect();
        Ok((!all.is_empty()).then(|| Line::new("gas, polytropic exponent", SheetEntry::words(texts.join("; ")))))
    }

    /// How well the way from wheel to shock is known.
    fn geometry_known(&self, end: End, units: UnitSystem) -> Result<Line> {
        let exact = || SheetEntry::words("taken as exact: its uncertainty is not stated");
        let words = Words { units };
        if self.own_end(end).is_some() {
            return Ok(Line::new("mechanism", SheetEntry::words("an end of its own, taken as exact")));
        }
        Ok(match self.sprung(end) {
            None => {
                let fork = self.front()?.fork()?;
                let known = fork.rake_uncertainty();
                Line::new(
                    if fork.is_rake_assumed() {
                        "rake assumed, standard uncertainty"
                    } else {
                        "rake, standard uncertainty"
                    },
                    known.map_or_else(exact, |known| SheetEntry::stated(known, units, 1)),
                )
            }
            Some(sprung) => {
                if sprung.assumed().is_some() {
                    return Ok(Line::new("linkage", SheetEntry::words("assumed from its travels: in every number")));
                }
                let known = match (sprung.measured(), sprung.pivot_uncertainty()) {
                    (Some(_), _) => SheetEntry::words("measured: the table's own uncertainty is in every number"),
                    (None, None) => exact(),
                    (None, Some(known)) => {
                        let table = if sprung.table().is_some() { " and a measured table" } else { "" };
                        let [points, shock] = [known.coordinate, known.shock_length].map(|length| words.length(length));
                        SheetEntry::words(format!("points ± {points}, shock length ± {shock}{table}: in every number"))
                    }
                };
                Line::new("linkage", known)
            }
        })
    }
}
