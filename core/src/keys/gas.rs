//! The keys of gas: in a fork leg, in an air spring, in the reservoir of a shock.

use super::describe::{serde_by_keys, table};
use super::item::forms;
use crate::error::{Error, Result};
use crate::gas::{
    AirSpring, Conditions, Exponents, Filling, ForkAir, ForkAirParts, NegativeChamber, Reservoir, SecondChamber,
    Spacers,
};
use crate::units::{AbsolutePressure, GaugePressure, Length, Quantity, Temperature, Volume};

table! {
    "Polytropic exponents of a gas.",
    ExponentsKeys,
    defined "exponents",
    {
        slow: Option<f64>, "While it settles: sag, readings. 1 unless stated.";
        fast: Option<f64>, "On a fast stroke from there: bottoming, landing, riding. Towards 1.4.";
        fast_uncertainty: Option<f64>, "Standard uncertainty of the fast one; 0.03 where that is stated.";
    }
}

forms! {
    /// One number for the slow exponent, or a table. What is left out is as nothing was stated.
    Exponent: Slow(f64), Both(ExponentsKeys)
}

impl Exponent {
    /// The shortest that reads back; nothing where it says nothing.
    fn of(exponents: Exponents, unstated: Exponents) -> Option<Self> {
        let (slow, fast, uncertainty) = (exponents.slow(), exponents.fast(), exponents.fast_uncertainty());
        if exponents == unstated {
            return None;
        }
        if unstated.with_slow(slow) == Ok(exponents) {
            return Some(Self::Slow(slow));
        }
        let fast_uncertainty = (Exponents::new(slow, fast) != Ok(exponents)).then_some(uncertainty);
        Some(Self::Both(ExponentsKeys { slow: Some(slow), fast: Some(fast), fast_uncertainty }))
    }

    /// Of gas that has the others where nothing is stated.
    fn exponents(self, unstated: Exponents) -> Result<Exponents> {
        let ExponentsKeys { slow, fast, fast_uncertainty } = match self {
            Self::Slow(slow) => return unstated.with_slow(slow),
            Self::Both(keys) => keys,
        };
        let of_slow = |error| match error {
            Error::Unit(error) => Error::Unit(error.of_field("exponent.slow".to_owned())),
            other => other,
        };
        let with_slow = slow.map_or(Ok(unstated), |slow| unstated.with_slow(slow).map_err(of_slow))?;
        let exponents = fast.map_or(Ok(with_slow), |fast| Exponents::new(with_slow.slow(), fast))?;
        fast_uncertainty.map_or(Ok(exponents), |uncertainty| exponents.with_fast_uncertainty(uncertainty))
    }
}

table! {
    "What is around a sealed chamber.",
    ConditionsKeys for Conditions,
    either [&[], &["surroundings", "temperature"], &["altitude"], &["altitude", "temperature"], &["temperature"]],
    {
        altitude: Option<Length> = |_| None, "Above sea level: the standard atmosphere there.";
        surroundings: Option<AbsolutePressure> = |around| Some(around.surroundings()), "Air pressure, above vacuum.";
        temperature: Option<Temperature> = |around| Some(around.temperature()), "Temperature of the gas.";
    }
    make |keys, _, at| {
        let standard = keys.altitude.map_or(Ok(Conditions::sea_level()), Conditions::at_altitude);
        let standard = at.key("altitude").take(standard)?;
        let surroundings = keys.surroundings.unwrap_or(standard.surroundings());
        at.take(Conditions::new(surroundings, keys.temperature.unwrap_or(standard.temperature())))
    }
}

/// Conditions that are not the usual ones.
fn unusual(sealed: Conditions) -> Option<Conditions> {
    (sealed != Conditions::default()).then_some(sealed)
}

table! {
    "Air sealed in a fork leg.",
    AirKeys for ForkAir,
    {
        sealing_diameter: Length = |air| air.sealing_diameter(), "Diameter on which the seal slides: what displaces the air.";
        bore: Length = |air| air.bore(), "Inner diameter of the tube above the oil.";
        oil_level: Length = |air| air.oil_level(), "From the top of the tube, fork fully compressed, spring out.";
        exponent: Option<Exponent> = |air| Exponent::of(air.exponents(), Exponents::FORK_AIR),
            with |air: ForkAir, exponent: Exponent| Ok::<_, Error>(air.with_exponents(exponent.exponents(Exponents::FORK_AIR)?)),
            "Polytropic exponents, or the slow one alone; 1 and 1.30 ± 0.06 unless stated.";
        steel_volume: Option<Volume> = |air| Some(air.steel_volume()).filter(|steel| steel.si() > 0.0), with ForkAir::with_steel,
            "All the steel put in after the level was set: spring, spacer, rod.";
        pressure: Option<GaugePressure> = |air| Some(air.pressure()).filter(|gauge| gauge.si() != 0.0), with ForkAir::with_pressure,
            "Pressure above the surroundings when sealed, fork extended; 0 unless stated.";
        sealed: Option<Conditions> = |air| unusual(air.sealed()), with ForkAir::sealed_in,
            "Surroundings when sealed; standard sea level unless stated.";
        running: Option<Conditions> = |air| air.running(), with ForkAir::running_in,
            "Surroundings now; as sealed unless stated.";
    }
    make |keys, _, at| {
        at.take(ForkAir::new(ForkAirParts {
            sealing_diameter: keys.sealing_diameter,
            bore: keys.bore,
            oil_level: keys.oil_level,
        }))
    }
}

table! {
    "An air spring.",
    AirSpringKeys for AirSpring,
    defined "air_spring",
    {
        piston_diameter: Length = |spring| spring.piston_diameter(), "Diameter of the piston.";
        volume: Volume = |spring| spring.volume(), "Volume of the main chamber, fully extended, without spacers.";
        pressure: GaugePressure = |spring| spring.pressure(),
            "Above the surroundings, fully extended, or where a port joins the chambers.";
        negative: Option<NegativeChamber> = |spring| spring.negative().copied(), with AirSpring::with_negative,
            "Chamber on the other side of the piston.";
        second: Option<SecondChamber> = |spring| spring.second().copied(), with AirSpring::with_second,
            "Second positive chamber, behind a floating piston.";
        spacers: Option<Spacers> = |spring| spring.spacers().copied(), with AirSpring::with_spacers,
            "What takes up volume of the main chamber.";
        exponent: Option<Exponent> = |spring| Exponent::of(spring.exponents(), Exponents::PUMPED),
            with |spring: AirSpring, exponent: Exponent| Ok::<_, Error>(spring.with_exponents(exponent.exponents(Exponents::PUMPED)?)),
            "Polytropic exponents, or the slow one alone; 1 and 1.35 ± 0.03 unless stated.";
        sealed: Option<Conditions> = |spring| unusual(spring.sealed()), with AirSpring::sealed_in,
            "Surroundings when pumped; standard sea level unless stated.";
        running: Option<Conditions> = |spring| spring.running(), with AirSpring::running_in,
            "Surroundings now; as pumped unless stated.";
    }
    make |keys, _, at| at.take(AirSpring::new(keys.piston_diameter, keys.volume, keys.pressure))
}

table! {
    "A second positive chamber: its piston lifts once the main chamber is at its pressure.",
    SecondKeys for SecondChamber,
    {
        volume: Volume = |chamber| chamber.volume, "Volume while the piston is seated.";
        pressure: GaugePressure = |chamber| chamber.pressure, "Above the surroundings; more than that of the main chamber.";
    }
    make |keys, _, _| Ok(SecondChamber { volume: keys.volume, pressure: keys.pressure })
}

table! {
    "Spacers in a chamber.",
    SpacersKeys for Spacers,
    {
        count: u32 = |spacers| spacers.count, "How many are in.";
        volume: Volume = |spacers| spacers.volume, "The volume of each.";
        most: Option<u32> = |spacers| spacers.most, "How many go in at most.";
    }
    make |keys, _, _| Ok(Spacers { count: keys.count, volume: keys.volume, most: keys.most })
}

table! {
    "The negative chamber of an air spring, by a pressure of its own or by the port that fills it.",
    NegativeKeys for NegativeChamber,
    either [&["pressure"], &["port_at"]],
    {
        rod_diameter: Length = |chamber| chamber.rod_diameter, "Rod on this side of the piston.";
        volume: Volume = |chamber| chamber.volume, "Volume, fully extended.";
        pressure: Option<GaugePressure> = |chamber| match chamber.filling {
            Filling::Pressure(pressure) => Some(pressure),
            Filling::PortAt(_) => None,
        }, "Above the surroundings, fully extended.";
        port_at: Option<Length> = |chamber| match chamber.filling {
            Filling::PortAt(stroke) => Some(stroke),
            Filling::Pressure(_) => None,
        }, "Stroke at which a port joins it to the main chamber.";
    }
    make |keys, _, _| {
        // One of them is there.
        let filling = keys.pressure.map_or(Filling::PortAt(keys.port_at.unwrap_or_default()), Filling::Pressure);
        Ok(NegativeChamber { rod_diameter: keys.rod_diameter, volume: keys.volume, filling })
    }
}

table! {
    "The gas of a shock.",
    ReservoirKeys for Reservoir,
    {
        pressure: GaugePressure = |gas| gas.pressure(), "Above the surroundings, fully extended.";
        volume: Volume = |gas| gas.volume(), "Gas volume, fully extended.";
        rod_diameter: Length = |gas| gas.rod_diameter(), "Diameter of the rod.";
        exponent: Option<Exponent> = |gas| Exponent::of(gas.exponents(), Exponents::PUMPED),
            with |gas: Reservoir, exponent: Exponent| Ok::<_, Error>(gas.with_exponents(exponent.exponents(Exponents::PUMPED)?)),
            "Polytropic exponents, or the slow one alone; 1 and 1.35 ± 0.03 unless stated.";
        sealed: Option<Conditions> = |gas| unusual(gas.sealed()), with Reservoir::sealed_in,
            "Surroundings when charged; standard sea level unless stated.";
        running: Option<Conditions> = |gas| gas.running(), with Reservoir::running_in,
            "Surroundings now; as charged unless stated.";
    }
    make |keys, _, at| at.take(Reservoir::new(keys.pressure, keys.volume, keys.rod_diameter))
}

serde_by_keys! { Conditions, ForkAir, AirSpring, Reservoir }
