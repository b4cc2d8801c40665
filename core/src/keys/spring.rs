//! The keys of springs: every kind of spring, and the places it can have.

use super::describe::{serde_by_keys, table};
use super::place::{Place, Stop};
use crate::error::SpringError;
use crate::friction::SealFriction;
use crate::record::Usual;
use crate::spring::{
    Adjuster, AdjusterParts, ClosingCoil, ClosingCoilParts, Coil, CoilZone, MeasuredSpring, MeasuredSpringParts, Nest,
    Nested, OwnSpring, Preloaded, Spring, Stack, Stage, Stop as StopSpring, Table,
};
use crate::units::{Force, Length, Share, SpringRate, Stress};

table! {
    "A spring by itself.",
    SpringKeys for Spring,
    either [&["rate"], &["rate", "free_length", "solid_length"], &["stack"], &["nest"], &["table"], &["closing"], &["measured"]],
    {
        rate: Option<SpringRate> = |spring| coil(spring).map(Coil::rate), "Rate of a coil spring.";
        free_length: Option<Length> = |spring| coil(spring)?.free_length(), "Length of the loose coil; with `solid_length`.";
        solid_length: Option<Length> = |spring| coil(spring)?.solid_length(), "Length with the coils touching; with `free_length`.";
        stack: Option<Vec<Stage>> = |spring| match spring {
            Spring::Stack(stack) => Some(stack.stages().to_vec()),
            _ => None,
        }, "Springs end to end.";
        nest: Option<Vec<Nested>> = |spring| match spring {
            Spring::Nest(nest) => Some(nest.springs().to_vec()),
            _ => None,
        }, "Springs one inside the other.";
        table: Option<Vec<(Length, Force)>> = |spring| match spring {
            Spring::Table(table) => Some(table.rows().to_vec()),
            _ => None,
        }, "A progressive spring: compressions and forces, taken as exact.";
        closing: Option<ClosingCoil> = |spring| match spring {
            Spring::Closing(coil) => Some(coil.clone()),
            _ => None,
        }, "A coil spring wound with several pitches, whose coils close one after the other.";
        measured: Option<MeasuredSpring> = |spring| spring.measured().cloned(),
            "A spring by what a press or scales showed; what the readings leave open goes into fit and advice.";
    }
    kept own: Option<OwnSpring> = |spring| match spring {
        Spring::Own(own) => Some(own.clone()),
        _ => None,
    };
    make |keys, _, at| spring(keys, at)
}

fn coil(spring: &Spring) -> Option<&Coil> {
    match spring {
        Spring::Coil(coil) => Some(coil),
        _ => None,
    }
}

fn spring(keys: SpringKeys, at: &Place<'_>) -> Result<Spring, Stop> {
    Ok(match keys {
        SpringKeys { rate: Some(rate), free_length, solid_length, .. } => {
            let coil = at.take(Coil::new(rate))?;
            Spring::Coil(match free_length.zip(solid_length) {
                Some((free, solid)) => at.take(coil.with_lengths(free, solid))?,
                None => coil,
            })
        }
        SpringKeys { stack: Some(stages), .. } => Spring::Stack(at.key("stack").take(Stack::new(stages))?),
        SpringKeys { nest: Some(springs), .. } => Spring::Nest(at.key("nest").take(Nest::new(springs))?),
        SpringKeys { table: Some(rows), .. } => Spring::Table(at.take(Table::new(rows))?),
        SpringKeys { closing: Some(coil), .. } => Spring::Closing(coil),
        SpringKeys { measured: Some(measured), .. } => Spring::Measured(measured),
        SpringKeys { own: Some(own), .. } => Spring::Own(own),
        // One of the kinds is there.
        _ => return Err(Stop),
    })
}

table! {
    "A coil spring of round wire whose coils close one after the other: the rate rises as fewer are left.",
    ClosingKeys for ClosingCoil,
    defined "closing",
    {
        wire: Length = |coil| coil.parts().wire, "Diameter of the wire, bare of paint.";
        mean_diameter: Length = |coil| coil.parts().mean_diameter, "Outside diameter less one wire.";
        shear_modulus: Option<Stress> = |coil| Some(coil.parts().shear_modulus),
            "Of the wire; 79.5 GPa unless stated, oil-tempered wire (EN 13906-1).";
        zones: Vec<CoilZone> = |coil| coil.parts().zones.clone(), "Active coils by their pitch.";
    }
    make |keys, _, at| {
        let ClosingKeys { wire, mean_diameter, shear_modulus, zones } = keys;
        let shear_modulus = shear_modulus.unwrap_or_else(ClosingCoilParts::usual_modulus);
        at.take(ClosingCoil::new(ClosingCoilParts { wire, mean_diameter, shear_modulus, zones }))
    }
}

table! {
    "Coils that are wound with one pitch.",
    CoilZoneKeys for CoilZone,
    {
        coils: f64 = |zone| zone.coils(), "Active coils; parts of one count.";
        pitch: Length = |zone| zone.pitch(), "From one coil to the next, centre to centre, the spring loose.";
    }
    make |keys, _, at| at.take(CoilZone::new(keys.coils, keys.pitch))
}

table! {
    "A spring by what a press or scales showed. Its own `scale_uncertainty` takes the place of `rate_tolerance`, which is of labels.",
    MeasuredSpringKeys for MeasuredSpring,
    defined "measured_spring",
    {
        readings: Vec<(Length, Force)> = |spring| spring.readings().to_vec(),
            "Compressions and loads, in any order; lengths and loads where `free_length` is stated.";
        force_uncertainty: Option<Force> = |spring| Some(spring.parts().force_uncertainty),
            "Standard uncertainty of one load; 20 N unless stated.";
        compression_uncertainty: Option<Length> = |spring| Some(spring.parts().compression_uncertainty),
            "Standard uncertainty of one compression; 0.5 mm unless stated.";
        scale_uncertainty: Option<Share> = |spring| Some(spring.parts().scale_uncertainty),
            "Standard uncertainty that all loads share, of scales and lever; 1 % unless stated.";
        free_length: Option<Length> = |spring| spring.parts().free_length,
            "Length of the loose spring, where lengths are read and not compressions.";
    }
    make |keys, _, at| {
        let usual = MeasuredSpringParts::usual();
        let parts = MeasuredSpringParts {
            force_uncertainty: keys.force_uncertainty.unwrap_or(usual.force_uncertainty),
            compression_uncertainty: keys.compression_uncertainty.unwrap_or(usual.compression_uncertainty),
            scale_uncertainty: keys.scale_uncertainty.unwrap_or(usual.scale_uncertainty),
            free_length: keys.free_length,
        };
        at.take(MeasuredSpring::new(keys.readings, parts))
    }
}

table! {
    "A main spring in its place.",
    MainSpringKeys for Preloaded,
    flat spring: Spring = |place| place.spring().clone(),
    defined "main_spring",
    {
        preload: Option<Length> = |place| place.assumed_preload().is_none().then(|| place.preload()),
            "Compression at full extension; below zero, a gap. Assumed unless stated, and with it the gas beside the spring.";
        thread_pitch: Option<Length> = |place| place.adjuster()?.thread_pitch(), "Preload per turn of the adjuster.";
        min_preload: Option<Length> = |place| place.adjuster()?.least_preload(), "Least preload the adjuster sets.";
        max_preload: Option<Length> = |place| place.adjuster()?.most_preload(), "Most preload the adjuster sets.";
    }
    make |keys, _, at| {
        let adjuster = at.take(Adjuster::new(AdjusterParts {
            thread_pitch: keys.thread_pitch,
            least: keys.min_preload,
            most: keys.max_preload,
        }));
        let place = match keys.preload {
            Some(preload) => at.take(Preloaded::new(keys.spring, preload))?,
            // What is usual of the kind of bike is put in once that is known.
            None => at.take(Preloaded::of_unknown_preload(keys.spring, Usual::any().preload_rear, None))?,
        };
        let adjuster = adjuster?;
        Ok(if adjuster == Adjuster::default() { place } else { place.with_adjuster(adjuster) })
    }
}

table! {
    "A spring of a stack.",
    StageKeys for Stage,
    flat spring: Spring = |stage| stage.spring().clone(),
    defined "stage",
    {
        limit: Option<Length> = |stage| stage.limit(), with Stage::with_limit, "Compression at which a spacer stops it.";
    }
    make |keys, _, _| Ok(Stage::new(keys.spring))
}

table! {
    "A spring of a nest.",
    NestedKeys for Nested,
    flat spring: Spring = |nested| nested.spring().clone(),
    defined "nested",
    {
        gap: Option<Length> = |nested| (nested.gap() > Length::default()).then(|| nested.gap()),
            "How much shorter it is than the longest.";
    }
    make |keys, _, at| at.take(Nested::new(keys.spring, keys.gap.unwrap_or_default()))
}

table! {
    "A spring that acts near one end of the stroke.",
    StopKeys for StopSpring,
    flat spring: Spring = |stop| stop.spring().clone(),
    defined "stop",
    {
        acts_over: Length = |stop| stop.acts_over(), "The part of the stroke over which it acts.";
    }
    make |keys, _, at| at.take(StopSpring::new(keys.spring, keys.acts_over))
}

table! {
    "The adjuster of a main spring.",
    AdjusterKeys for Adjuster,
    {
        thread_pitch: Option<Length> = |adjuster| adjuster.thread_pitch(), "Preload per turn of the adjuster.";
        min_preload: Option<Length> = |adjuster| adjuster.least_preload(), "Least preload the adjuster sets.";
        max_preload: Option<Length> = |adjuster| adjuster.most_preload(), "Most preload the adjuster sets.";
    }
    make |keys, _, at| {
        let AdjusterKeys { thread_pitch, min_preload: least, max_preload: most } = keys;
        at.take(Adjuster::new(AdjusterParts { thread_pitch, least, most }))
    }
}

super::item::through! {
    SealFriction, Force, SealFriction::new, |friction| friction.force();
}

/// One kind of spring, in the keys of any.
macro_rules! one_kind {
    ($($kind:ident, $key:literal);+ $(;)?) => {
        $(super::item::through! {
            $kind, Spring, |spring: Spring| match spring {
                Spring::$kind(spring) => Ok(spring),
                other => Err(SpringError::Description {
                    part: "spring".to_owned(),
                    found: other.words(),
                    wanted: concat!("`", $key, "`").to_owned(),
                }),
            }, |spring| Spring::$kind(spring.clone());
        })+
    };
}

one_kind! {
    Coil, "rate";
    Stack, "stack";
    Nest, "nest";
    Table, "table";
}

serde_by_keys! { Spring, Preloaded, Stage, Nested, StopSpring, Adjuster, SealFriction, Coil, Stack, Nest, Table, ClosingCoil, CoilZone, MeasuredSpring }
