//! The keys of what is usual, and of figures of one's own in its place.

use super::describe::{serde_by_keys, table};
use crate::record::OwnUsual;
use crate::units::{Angle, Force, Length, Share, SpringRate, Uncertain};

table! {
    "Figures of one's own, in place of what is usual where a bike file does not state something: a best guess ± its standard \
     uncertainty. `data/usual_values.toml` has what is usual, kind by kind.",
    OwnUsualKeys for OwnUsual,
    {
        rake: Option<Uncertain<Angle>> = |own| own.rake, "Rake.";
        along_fork: Option<Share> = |own| own.along_fork,
            "Chance that a sag at the front was read along the fork, where nobody noted along what.";
        bike_on_front: Option<Uncertain<Share>> = |own| own.bike_on_front, "Share of the bike's weight on the front wheel.";
        rider_on_front: Option<Uncertain<Share>> = |own| own.rider_on_front,
            "Share of the rider's weight that the front wheel takes.";
        bike_weight: Option<Share> = |own| own.bike_weight, "How far a stated total weight of the bike may be off.";
        unsprung_front: Option<Uncertain<Share>> = |own| own.unsprung_front,
            "Unsprung mass at the front, as a share of the bike's.";
        unsprung_rear: Option<Uncertain<Share>> = |own| own.unsprung_rear,
            "Unsprung mass at the rear, as a share of the bike's.";
        wheel_front: Option<Length> = |own| own.wheel_front, "Radius of the front wheel that goes with that share.";
        wheel_rear: Option<Length> = |own| own.wheel_rear, "Radius of the rear wheel that goes with that share.";
        preload_front: Option<Uncertain<Length>> = |own| own.preload_front, "Preload of a fork spring.";
        preload_rear: Option<Uncertain<Length>> = |own| own.preload_rear, "Preload of a shock spring.";
        progression: Option<Uncertain<Share>> = |own| own.progression,
            "Rise of the motion ratio over the travel, as a share of what it is at full extension.";
        bend: Option<Share> = |own| own.bend, "Bends of the motion ratio about its straight line, as a share of its mean.";
        ratio: Option<Share> = |own| own.ratio, "How far the mean motion ratio of a data sheet may be off.";
        oil_level: Option<Length> = |own| own.oil_level, "Oil level of a fork leg, spring out, fully compressed.";
        sealing_diameter: Option<Length> = |own| own.sealing_diameter, "Sealing diameter of a fork leg.";
        bore: Option<Length> = |own| own.bore, "Bore of a fork leg.";
        fork_air: Option<Share> = |own| own.fork_air, "How far the push of a fork's air may be off.";
        gas_push: Option<Uncertain<Force>> = |own| own.gas_push, "Push of the gas of a shock on its rod.";
        step_front: Option<SpringRate> = |own| own.step_front, "Step from one fork spring to the next in a shop.";
        step_rear: Option<SpringRate> = |own| own.step_rear, "Step from one shock spring to the next in a shop.";
    }
    make |keys, _, _| Ok(OwnUsual {
        rake: keys.rake,
        along_fork: keys.along_fork,
        bike_on_front: keys.bike_on_front,
        rider_on_front: keys.rider_on_front,
        bike_weight: keys.bike_weight,
        unsprung_front: keys.unsprung_front,
        unsprung_rear: keys.unsprung_rear,
        wheel_front: keys.wheel_front,
        wheel_rear: keys.wheel_rear,
        preload_front: keys.preload_front,
        preload_rear: keys.preload_rear,
        progression: keys.progression,
        bend: keys.bend,
        ratio: keys.ratio,
        oil_level: keys.oil_level,
        sealing_diameter: keys.sealing_diameter,
        bore: keys.bore,
        fork_air: keys.fork_air,
        gas_push: keys.gas_push,
        step_front: keys.step_front,
        step_rear: keys.step_rear,
    })
}

serde_by_keys! { OwnUsual }

#[cfg(test)]
pub(crate) mod shipped {
    use super::*;
    use crate::keys::plain::Version;
    use crate::record::Usual;

    /// A row of the shipped table as text.
    #[derive(Debug, Clone, PartialEq)]
    pub(crate) struct UsualRow {
        kind: String,
        figures: OwnUsual,
    }

    table! {
        "What is usual of bikes of one kind.",
        UsualRowKeys for UsualRow,
        flat figures: OwnUsual = |row| row.figures,
        {
            kind: String = |row| row.kind.clone(), "The kind, in a word.";
        }
        make |keys, _, _| Ok(UsualRow { kind: keys.kind, figures: keys.figures })
    }

    /// The shipped table as text.
    #[derive(Debug, Clone, PartialEq)]
    pub(crate) struct UsualFile(Vec<UsualRow>);

    table! {
        "What is usual of bikes, kind by kind.",
        UsualFileKeys for UsualFile,
        {
            format: Version = |_| Version, "Version of this format.";
            usual: Vec<UsualRow> = |file| file.0.clone(), "One row a kind.";
        }
        make |keys, _, _| Ok(UsualFile(keys.usual))
    }

    impl UsualFile {
        /// The rows; a figure that a row lacks is that of the shipped one.
        pub(crate) fn rows(self) -> Vec<Usual> {
            let row = |row: UsualRow| Some(Usual { kind: row.kind.clone(), ..row.figures.over(Usual::of(&row.kind)?) });
            self.0.into_iter().filter_map(row).collect()
        }
    }
}
