//! What was assumed, in sentences and as a table.

use crate::decide::{Amount, Assumption, AssumptionKind, Task};
use crate::infer::finding::percent;
use crate::record::End;
use crate::report::entry::{SheetEntry, SheetTable};
use crate::report::plan::about;
use crate::units::{Angle, Force, Length, Mass, Quantity, UnitSystem};

/// An act that leaves more than this of the uncertainty is not worth its time, whatever it removes.
const WORTH_DOING: f64 = 0.95;

impl Amount {
    /// The value with its uncertainty.
    #[must_use]
    pub fn show(&self, units: UnitSystem) -> String {
        match self {
            Self::Length(length) => length.show(units.symbol(Length::KIND)),
            Self::Angle(angle) => angle.show(units.symbol(Angle::KIND)),
            Self::Mass(mass) => mass.show(units.symbol(Mass::KIND)),
            Self::Force(force) => force.show(units.symbol(Force::KIND)),
            Self::Share(share) => share.show("%"),
        }
    }
}

impl Assumption {
    /// What was assumed, in a few words.
    #[must_use]
    pub fn name(&self) -> String {
        let wheel = match self.end {
            End::Front => "front",
            End::Rear => "rear",
        };
        match &self.kind {
            AssumptionKind::Label => "spring rate against its label".to_owned(),
            AssumptionKind::Preload => "preload of today's spring".to_owned(),
            AssumptionKind::Gas if self.value.is_none() => "air above the oil".to_owned(),
            AssumptionKind::Gas => "push of the gas in the shock".to_owned(),
            AssumptionKind::Rake => "rake".to_owned(),
            AssumptionKind::Direction => "along what the front was read".to_owned(),
            AssumptionKind::Linkage => "linkage: rise of the motion ratio".to_owned(),
            AssumptionKind::Share { mass } => format!("share of `{mass}` on the {wheel} wheel"),
            AssumptionKind::Unsprung => "unsprung mass".to_owned(),
            AssumptionKind::Friction => "friction at the wheel".to_owned(),
            AssumptionKind::Kind { .. } => "kind of bike".to_owned(),
            AssumptionKind::Target => "sags wanted".to_owned(),
        }
    }

    /// The value, in the reader's units.
    #[must_use]
    pub fn value_text(&self, units: UnitSystem) -> String {
        match (&self.kind, &self.value) {
            (_, Some(amount)) => amount.show(units),
            (AssumptionKind::Kind { kind }, None) => format!("{kind}, by its travel"),
            (AssumptionKind::Target, None) => "common practice of the kind".to_owned(),
            (AssumptionKind::Direction, None) => "probably along the fork".to_owned(),
            (AssumptionKind::Gas, None) => "a usual oil level".to_owned(),
            (_, None) => String::new(),
        }
    }

    /// The act that removes it, in a few words; of a thing that is only stated, what to state.
    #[must_use]
    pub fn act_text(&self) -> String {
        let Some(act) = &self.act else {
            return match self.kind {
                AssumptionKind::Kind { .. } => "state `kind` under `[bike]`".to_owned(),
                AssumptionKind::Target => "state the sags you want under `[targets]`".to_owned(),
                _ => "state it".to_owned(),
            };
        };
        let does = match &act.task {
            Task::Scale { .. } | Task::Weigh => "weigh front and rear with two scales",
            Task::ShockTable { .. } => "a table of wheel travel and shock length",
            Task::Pairs { .. } => "one reading pushed down and one lifted",
            Task::SpringRate => "the spring pressed on a scale",
            Task::SpringLength => "the spring's length in place and free",
            Task::CapOff => "a fork cap off: how far the spring stands out",
            Task::Direction => "look along what was read",
            Task::Rake => "a protractor on the fork",
            Task::Gas if self.value.is_none() => "the oil level",
            Task::Gas => "charge and rod of the shock",
            Task::Unsprung => "the parts under the spring on a scale",
            _ => "measure it",
        };
        format!("{does}, {}", about(act.effort))
    }

    /// The assumption as a sentence.
    #[must_use]
    pub fn text(&self, units: UnitSystem) -> String {
        let narrows = self
            .act
            .as_ref()
            .map(|act| format!(", which would leave {} of the uncertainty of the spring", percent(act.remaining.si())));
        format!(
            "{}: {} ({} of the uncertainty of the spring, {} of that of the preload). Removed by: {}{}.",
            self.name(),
            self.value_text(units),
            percent(self.of_spring.si()),
            percent(self.of_preload.si()),
            self.act_text(),
            narrows.unwrap_or_default()
        )
    }
}

/// The heading of the list.
pub(crate) const HEADING: &str = "What was assumed for you";

/// What was assumed, as a table; `None` where nothing was.
pub(crate) fn table(all: &[Assumption], units: UnitSystem) -> Option<SheetTable> {
    let share = |share: f64| SheetEntry::number(share, percent(share));
    let rows = all.iter().map(|one| {
        let rate = one.act.as_ref().and_then(|act| act.wanted_rate);
        let symbol = units.symbol(crate::units::SpringRate::KIND);
        let narrows = rate.map(|[now, then]| {
            let number = |rate| crate::units::show(rate, symbol, units.rate_decimals());
            SheetEntry::words(format!("± {} from ± {}", number(then), number(now)))
        });
        [
            SheetEntry::words(one.name()),
            SheetEntry::words(one.value_text(units)),
            share(one.of_spring.si()),
            share(one.of_preload.si()),
            SheetEntry::words(one.act_text()),
            narrows.unwrap_or_else(|| SheetEntry::words("")),
        ]
    });
    let columns = ["assumed", "value", "of the spring", "of the preload", "removed by", "rate called for then"];
    (!all.is_empty()).then(|| SheetTable::new(columns, rows.collect()))
}

/// All of it in one line: how much, what matters most for the spring, and the act that removes that, unless the plan says it.
pub(crate) fn in_short(all: &[Assumption], next: Option<&Task>) -> Option<String> {
    /// A share of the uncertainty of the spring below which nothing is worth naming.
    const NAMED: f64 = 0.05;
    let count = match all.len() {
        0 => return None,
        1 => "one thing".to_owned(),
        many => format!("{many} things"),
    };
    let of_spring = |one: &&Assumption| one.of_spring.si();
    let most = all.iter().max_by(|one, other| of_spring(one).total_cmp(&of_spring(other)));
    let Some(most) = most.filter(|most| of_spring(most) >= NAMED) else {
        return Some(format!("{count}, none of which matters for the spring"));
    };
    let act = match &most.act {
        Some(act) if next == Some(&act.task) => String::new(),
        _ => format!("; removed by: {}", most.act_text()),
    };
    let share = percent(most.of_spring.si());
    Some(format!("{count}, most of all {} ({share} of the uncertainty of the spring){act}", most.name()))
}

/// Whether any of it is worth removing.
pub(crate) fn verdict(all: &[Assumption]) -> Option<String> {
    let left = |one: &Assumption| one.act.as_ref().map_or(1.0, |act| act.remaining.si());
    let most = all.iter().min_by(|one, other| left(one).total_cmp(&left(other)));
    match (all, most.filter(|most| left(most) < WORTH_DOING)) {
        ([], _) => None,
        (_, Some(first)) => Some(format!("What would narrow the spring most: {}.", first.act_text())),
        (_, None) => Some("None of what was assumed is worth removing for the sake of the spring.".to_owned()),
    }
}
