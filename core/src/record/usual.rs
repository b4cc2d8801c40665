//! What is usual of bikes of a kind: values that stand in for what a person does not know. A table that a person can edit;
//! none of its figures has a source.
//!
//! A value is a best guess with its standard uncertainty, wide enough that most bikes of the kind lie within two of it. What is
//! stated in a bike file comes before all of it, and a bike file may put its own figures in place of these.

use std::sync::OnceLock;

use super::Ends;
use crate::units::{Angle, Length, Quantity, Share, SpringRate, Uncertain, parse};

/// The rows as one table: a row with every figure, and one with the figures that somebody puts in their place.
macro_rules! figures {
    ($($(#[doc = $doc:literal])+ $name:ident: $type:ty;)+) => {
        /// What is usual of bikes of one kind.
        #[derive(Debug, Clone, PartialEq)]
        pub struct Usual {
            /// The kind, in a word; the disciplines of common practice go by the same.
            pub kind: String,
            $($(#[doc = $doc])+ pub $name: $type,)+
        }

        /// Figures of one's own, in place of what is usual.
        #[derive(Debug, Clone, Copy, PartialEq, Default)]
        pub struct OwnUsual {
            $($(#[doc = $doc])+ pub $name: Option<$type>,)+
        }

        impl OwnUsual {
            /// Takes a figure of a row by its name; what it does not know, and text that is no such quantity, is left.
            fn take(&mut self, name: &str, text: &str) {
                match name {
                    $(stringify!($name) => self.$name = Figure::read(text),)+
                    _ => {}
                }
            }

            /// The row of a kind, where every figure is there.
            fn whole(&self, kind: &str) -> Option<Usual> {
                Some(Usual { kind: kind.to_owned(), $($name: self.$name?,)+ })
            }

            /// A row with these figures in it.
            #[must_use]
            pub fn over(&self, usual: &Usual) -> Usual {
                Usual { kind: usual.kind.clone(), $($name: self.$name.unwrap_or(usual.$name),)+ }
            }
        }
    };
}

figures! {
    /// Angle of the steering axis from the vertical.
    rake: Uncertain<Angle>;
    /// Chance that a sag at the front was read along the fork, where nobody noted along what.
    along_fork: Share;
    /// Share of the bike's weight on the front wheel.
    bike_on_front: Uncertain<Share>;
    /// Share of the rider's weight that the front wheel takes, over all usual postures.
    rider_on_front: Uncertain<Share>;
    /// Standard uncertainty of a bike's total weight as stated (fuel, oil, what is bolted on), as a share of it.
    bike_weight: Share;
    /// Unsprung mass at the front, as a share of the bike's: small wheels are on light bikes.
    unsprung_front: Uncertain<Share>;
    /// Unsprung mass at the rear, as a share of the bike's.
    unsprung_rear: Uncertain<Share>;
    /// Radius of the front wheel that goes with that share: a larger wheel is heavier.
    wheel_front: Length;
    /// Of the rear wheel.
    wheel_rear: Length;
    /// Preload of a fork spring.
    preload_front: Uncertain<Length>;
    /// Preload of a shock spring.
    preload_rear: Uncertain<Length>;
    /// By how much the motion ratio rises over the travel, as a share of what it is at full extension.
    progression: Uncertain<Share>;
    /// Standard deviation of the bends of the motion ratio about its straight line, as a share of its mean.
    bend: Share;
    /// Standard uncertainty of the mean motion ratio that travel and stroke of a data sheet give, as a share of it.
    ratio: Share;
    /// Oil level of a fork leg, spring out, fully compressed.
    oil_level: Length;
    /// Sealing diameter of a fork leg.
    sealing_diameter: Length;
    /// Bore of a fork leg.
    bore: Length;
    /// Standard uncertainty of the push of a fork's air, as a share of it.
    fork_air: Share;
    /// Push of the gas of a shock on its rod, at full extension.
    gas_push: Uncertain<crate::units::Force>;
    /// Step from one spring to the next in a shop: of one fork spring.
    step_front: SpringRate;
    /// Of a shock spring.
    step_rear: SpringRate;
}

/// A figure as it stands in the table: with its uncertainty, or without one.
trait Figure: Sized {
    fn read(text: &str) -> Option<Self>;
}

impl<Q: Quantity> Figure for Q {
    fn read(text: &str) -> Option<Self> {
        parse(text).ok()
    }
}

impl<Q: Quantity> Figure for Uncertain<Q> {
    fn read(text: &str) -> Option<Self> {
        text.parse().ok()
    }
}

/// The rows of a table of nothing but `[[usual]]` and `name = "text"`, so that the core reads its own without a parser of TOML.
fn rows(table: &str) -> Vec<Usual> {
    let row = |text: &str| {
        let (mut own, mut kind) = (OwnUsual::default(), "");
        for (name, value) in text.lines().filter_map(|line| line.split_once(" = ")) {
            match (name, value.trim_matches('"')) {
                ("kind", word) => kind = word,
                (name, figure) => own.take(name, figure),
            }
        }
        own.whole(kind)
    };
    table.split("[[usual]]").skip(1).filter_map(row).collect()
}

impl Usual {
    /// The shipped table as the text of a file.
    pub const SHIPPED: &'static str = include_str!("../../data/usual_values.toml");

    /// The shipped rows.
    #[must_use]
    pub fn shipped() -> &'static [Self] {
        static TABLE: OnceLock<Vec<Usual>> = OnceLock::new();
        TABLE.get_or_init(|| rows(Self::SHIPPED))
    }

    /// The row with unsprung masses as they go with wheels of these radii, where they are known. Rims and tyres of one kind
    /// weigh about as their radius squared, and are half of what is unsprung: together `m ∝ r` (common practice, no source).
    #[must_use]
    pub(crate) fn on_wheels(mut self, radii: Ends<Option<Length>>) -> Self {
        let ends = [
            (&mut self.unsprung_front, self.wheel_front, radii.front),
            (&mut self.unsprung_rear, self.wheel_rear, radii.rear),
        ];
        for (share, usual, radius) in ends {
            let by = radius.map_or(1.0, |radius| radius.si() / usual.si());
            share.value = Share::from_si(share.value.si() * by);
            share.standard_uncertainty = Share::from_si(share.standard_uncertainty.si() * by);
        }
        self
    }

    /// What is usual of bikes of any kind: the widest row.
    #[must_use]
    pub fn any() -> &'static Self {
        &Self::shipped()[Self::shipped().len() - 1]
    }

    /// The kinds that have a row.
    #[must_use]
    pub fn kinds() -> Vec<&'static str> {
        Self::shipped().iter().map(|row| row.kind.as_str()).collect()
    }

    /// The shipped row of a kind.
    #[must_use]
    pub fn of(kind: &str) -> Option<&'static Self> {
        Self::shipped().iter().find(|row| row.kind == kind)
    }

    /// The kind that a bike with this much travel at the front, or at the rear, is taken for where none is stated.
    #[must_use]
    pub fn kind_by_travel(travel: Option<Length>) -> &'static str {
        /// Travel (m) from which a bike is one for rough ground.
        const LONG: f64 = 0.2;
        match travel {
            Some(travel) if travel.si() >= LONG => "trail",
            Some(_) => "road",
            None => "any",
        }
    }
}
