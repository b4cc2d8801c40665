//! Springs, gas, fork and shock from any numbers at all: either an error that names a field, or a part whose every answer is
//! finite. Nothing panics.

use proptest::num::f64::ANY;
use proptest::prelude::*;
use wheelrate::Result;
use wheelrate::axial::AxialElement;
use wheelrate::error::{Error, SpringError};
use wheelrate::fork::{Fork, ForkLeg};
use wheelrate::friction::SealFriction;
use wheelrate::gas::{
    AirSpring, Chamber, ChamberParts, Conditions, Exponents, Filling, ForkAir, ForkAirParts, NegativeChamber, Reservoir,
};
use wheelrate::shock::{Shock, ShockParts};
use wheelrate::spring::{
    Adjuster, AdjusterParts, Coil, CoilEnds, CoilGeometry, CoilParts, Material, MaterialParts, Nest, Nested, Preloaded,
    Seating, SpacerLengths, SpacerParts, Spring, Stack, Stage, Stop, StressFactor, Table, UnmarkedParts,
    UnmarkedSpring,
};
use wheelrate::units::{Force, Length, Quantity, SpringRate, Uncertain};

/// Any double, or one of the size that the unit makes likely: both sides of every limit are met.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![ANY, -1.0..1.0_f64, 0.0..0.1_f64, 1e2..1e6_f64, Just(0.0), Just(1.0), Just(1.2)]
}

fn q<Q: Quantity>(si: f64) -> Q {
    Q::from_si(si)
}

/// Asks a part everything, at both ends, at its kinks and beyond.
fn ask(built: Result<impl AxialElement>) -> Result<(), TestCaseError> {
    let part = match built {
        Ok(part) => part,
        Err(error) => return reported(&error),
    };
    prop_assert!(!part.describe().is_empty());
    let full = part.full_stroke().unwrap_or(q(0.1));
    let strokes = part.kinks().into_iter().chain([q(0.0), full * 0.5, full]).filter(|stroke| *stroke <= full);
    for stroke in strokes {
        let state = part.at(stroke).map_err(|error| TestCaseError::fail(format!("{part:?} at {stroke:?}: {error}")))?;
        let all = [state.force.si(), state.rate.si(), state.energy.si()];
        prop_assert!(all.iter().all(|value| value.is_finite()), "{:?} at {:?}: {:?}", part, stroke, state);
    }
    for stroke in [f64::NAN, f64::INFINITY, -1.0] {
        let error = part.at(q(stroke)).unwrap_err();
        prop_assert!(
            matches!(error, Error::Spring(SpringError::OutOfStroke { .. }) | Error::Unit(_)),
            "{}: {}",
            stroke,
            error
        );
    }
    Ok(())
}

fn reported(error: &wheelrate::Error) -> Result<(), TestCaseError> {
    let message = error.to_string();
    prop_assert!(message.contains(": ") || message.contains("not"), "says nothing: {}", message);
    Ok(())
}

proptest! {
    #[test]
    fn springs(n in prop::array::uniform8(number())) {
        let coil = || Coil::new(q(n[0]))?.with_lengths(q(n[1]), q(n[2]));
        ask(coil().map(Spring::from))?;
        ask(Coil::new(q(n[0])).and_then(|coil| Preloaded::new(coil, q(n[1]))))?;
        ask(Stack::new(vec![]).map(Spring::from))?;
        let stage = |rate, limit| Stage::new(Coil::new(q(rate))?).with_limit(q(limit));
        ask((|| Ok(Spring::from(Stack::new(vec![stage(n[0], n[1])?, stage(n[2], n[3])?])?)))())?;
        let nested = |rate, gap| Nested::new(Coil::new(q::<SpringRate>(rate))?, q(gap));
        ask((|| Ok(Spring::from(Nest::new(vec![nested(n[4], 0.0)?, nested(n[5], n[6])?])?)))())?;
        let rows: Vec<(Length, Force)> = n.chunks(2).map(|row| (q(row[0]), q(row[1]))).collect();
        ask(Table::new(rows).map(Spring::from))?;
        let adjuster = AdjusterParts { thread_pitch: Some(q(n[0])), least: Some(q(n[1])), most: Some(q(n[2])) };
        if let Err(error) = Adjuster::new(adjuster) { reported(&error)?; }
        if let Err(error) = Stop::linear(q(n[0]), q(n[1])) { reported(&error)?; }
        if let Err(error) = SealFriction::new(q(n[0])) { reported(&error)?; }
        let leg = SpacerParts {
            free_length: q(n[0]),
            spacer: q(n[1]),
            washers: q(n[2]),
            seat_depth: q(n[3]),
            cap_depth: q(n[4]),
        };
        match SpacerLengths::new(leg) {
            Ok(lengths) => {
                prop_assert!(lengths.preload().si().is_finite());
                let error = lengths.cut_for(q(f64::NAN)).unwrap_err();
                prop_assert!(error.to_string().contains("preload"), "{}", error);
            }
            Err(error) => reported(&error)?,
        }
    }

    #[test]
    fn wires(n in prop::array::uniform8(number())) {
        let steel = Material::named("EN 10270-1").unwrap();
        let own = MaterialParts {
            name: "own".to_owned(),
            elastic_modulus: q(n[0]),
            shear_modulus: q(n[1]),
            density: q(n[2]),
            source: "none".to_owned(),
        };
        if let Err(error) = Material::new(own) { reported(&error)?; }
        let (wire, mean_diameter, active_coils) = (q(n[0]), q(n[1]), n[2]);
        let (ends, material) = (CoilEnds::Closed, steel.clone());
        let geometry = CoilGeometry::new(CoilParts { wire, mean_diameter, active_coils, ends, material });
        match geometry.and_then(|spring| spring.with_free_length(q(n[3]))) {
            Ok(spring) => {
                let force = Force::from_si(100.0);
                prop_assert!(spring.rate().si() > 0.0 && spring.mass().si() > 0.0 && spring.surge_frequency().si() > 0.0);
                prop_assert!(spring.shear_stress(force, StressFactor::Wahl).si().is_finite());
                prop_assert!(spring.buckling_compression(Seating::Fixed).is_none_or(|length| length.si() > 0.0));
            }
            Err(error) => reported(&error)?,
        }
        let reading = |value, uncertainty| Uncertain::<Length>::new(q(value), q(uncertainty));
        if let (Ok(wire), Ok(outside)) = (reading(n[0], n[1]), reading(n[2], n[3])) {
            let unmarked = UnmarkedParts {
                wire,
                outside_diameter: outside,
                active_coils: n[4],
                active_coils_uncertainty: n[5],
                material: steel,
                shear_modulus_uncertainty: n[6],
            };
            match UnmarkedSpring::new(unmarked).and_then(|spring| spring.rate()) {
                Ok(rate) => prop_assert!(rate.value.si() > 0.0 && rate.standard_uncertainty.si().is_finite()),
                Err(error) => reported(&error)?,
            }
        }
    }

    #[test]
    fn gas(n in prop::array::uniform8(number())) {
        ask(Chamber::new(ChamberParts {
            pressure: q(n[0]),
            volume: q(n[1]),
            area: q(n[2]),
            exponent: n[3],
            surroundings: q(n[4]),
            stroke: q(n[5]),
        }))?;
        let conditions = Conditions::at_altitude(q(n[0] * 1e4)).and_then(|ridge| ridge.with_temperature(q(n[1] * 300.0)));
        let conditions = match conditions {
            Ok(conditions) => conditions,
            Err(error) => {
                reported(&error)?;
                Conditions::sea_level()
            }
        };
        let exponents = match Exponents::new(n[5], n[3]).and_then(|both| both.with_fast_uncertainty(n[2])) {
            Ok(exponents) => exponents,
            Err(error) => {
                reported(&error)?;
                Exponents::FORK_AIR
            }
        };
        let air = || {
            let air = ForkAir::new(ForkAirParts { sealing_diameter: q(n[2] * 0.1), bore: q(n[3] * 0.1), oil_level: q(n[4]) })?.with_exponents(exponents);
            air.with_steel(q(n[6] * 1e-3))
        };
        ask(air().and_then(|air| air.running_in(conditions).chamber(q(n[7]))))?;
        ask(air().and_then(|air| air.for_force(q(0.29), q(n[1] * 0.3), q(n[0] * 1e4))?.chamber(q(0.29))))?;
        let reservoir =
            || Ok(Reservoir::new(q(n[0] * 1e6), q(n[1] * 1e-3), q(n[2] * 0.1))?.with_exponents(exponents));
        ask(reservoir().and_then(|gas| gas.sealed_in(conditions).chamber(q(n[4]))))?;
        let air_spring = || {
            let filling = if n[0] > 0.0 { Filling::Pressure(q(n[5] * 1e5)) } else { Filling::PortAt(q(n[5] * 0.1)) };
            let negative = NegativeChamber { rod_diameter: q(n[3] * 0.1), volume: q(n[4] * 1e-4), filling };
            AirSpring::new(q(n[1] * 0.1), q(n[2] * 1e-3), q(n[6] * 1e5))?.with_negative(negative)
        };
        for chamber in 0..2 {
            ask(air_spring().and_then(|spring| Ok(spring.chambers(q(0.2))?[chamber])))?;
        }
    }

    #[test]
    fn forks_and_shocks(n in prop::array::uniform8(number())) {
        let leg = || -> Result<ForkLeg> {
            let spring = Preloaded::linear(q(n[0]), q(n[1]))?;
            let air = ForkAir::new(ForkAirParts { sealing_diameter: q(0.047), bore: q(0.043), oil_level: q(n[2]) })?;
            Ok(ForkLeg::new().with_spring(spring).with_air(air).with_bump_stop(Stop::linear(q(n[4]), q(n[5]))?))
        };
        let fork = || leg().and_then(|leg| Fork::new(q(n[6]), q(n[7]), [leg, ForkLeg::new()]));
        ask(fork())?;
        if let Ok(fork) = fork() {
            let state = fork.fast_at(fork.full_stroke() * 0.3, fork.full_stroke()).map_err(|error| TestCaseError::fail(error.to_string()))?;
            prop_assert!(state.force.si().is_finite() && state.energy.si().is_finite(), "{fork:?}");
            let beyond = fork.fast_at(q(-1.0), fork.full_stroke()).unwrap_err();
            prop_assert!(matches!(beyond, Error::Spring(SpringError::OutOfStroke { .. })), "{}", beyond);
        }
        ask(Fork::new(q(n[6]), q(n[7]), [ForkLeg::new(), ForkLeg::new()]))?;
        let parts = || -> Result<ShockParts> {
            let spring = Preloaded::linear(q(n[0]), q(n[1]))?;
            Ok(ShockParts::new().with_spring(spring).with_reservoir(Reservoir::new(q(n[2]), q(n[3]), q(n[4]))?))
        };
        ask(parts().and_then(|parts| Shock::new(q(n[5]), q(n[6]), parts, 1)))?;
        ask(Shock::new(q(n[5]), q(n[6]), ShockParts::default(), 2))?;
        let none = Shock::new(q(0.4), q(0.1), ShockParts::default(), 0).unwrap_err();
        prop_assert_eq!(none.details().field.unwrap(), "count");
    }
}
