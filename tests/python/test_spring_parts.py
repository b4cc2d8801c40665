"""Coil geometry, unmarked springs, air and oil levels as Python sees them: against formulas written out with pint."""

import math

import pint
import pytest

import wheelrate as wr
from wheelrate.errors import GasError, SpringError

U = pint.get_application_registry()

ROUNDING = 1e-12
"""Relative: a few roundings on either side."""

SOLVED = 1e-9
"""Relative: a level found by bisection to the rounding of its forces."""


def coil():
    return wr.CoilGeometry(
        wire="11.2 mm",
        mean_diameter="66 mm",
        active_coils=5.8,
        ends="closed-ground",
        material=wr.Material("EN 10270-2"),
        free_length=(230, "mm"),
    )


def same(found, wanted, relative=ROUNDING):
    return found.m_as(wanted.units) == pytest.approx(wanted.m, rel=relative)


def test_coil_by_the_formulas_of_the_textbooks():
    d, mean, shear = 11.2 * U.mm, 66 * U.mm, 79.5 * U.GPa
    rate = (shear * d**4 / (8 * mean**3 * 5.8)).to("N/mm")
    assert same(coil().rate, rate)
    assert same(coil().solid_length, d * 7.8)
    assert same(coil().solid_compression, 230 * U.mm - d * 7.8)
    index = (mean / d).m
    wahl = (4 * index - 1) / (4 * index - 4) + 0.615 / index
    torsion = (8 * 4000 * U.N * mean / (math.pi * d**3)).to("MPa")
    assert same(coil().shear_stress("4 kN"), wahl * torsion)
    assert same(coil().shear_stress("4 kN", "bergstrasser"), (index + 0.5) / (index - 0.75) * torsion)
    assert same(coil().solid_stress("torsion"), coil().shear_stress(rate * coil().solid_compression, "torsion"))
    mass = (math.pi**2 / 4 * d**2 * mean * 7.8 * 7.85 * U.kg / U.dm**3).to("kg")
    assert same(coil().mass, mass)
    assert same(coil().surge_frequency, (0.5 * (rate / (mass * 5.8 / 7.8)) ** 0.5).to("Hz"))


def test_a_slender_coil_buckles_and_a_stout_one_does_not():
    assert coil().buckling_compression() is None
    assert coil().stable_free_length() > coil().free_length
    assert coil().buckling_compression("hinged") < coil().solid_compression
    assert coil().stable_free_length("hinged") == coil().stable_free_length() / 2


def test_a_coil_made_a_spring_knows_its_lengths():
    spring = coil().spring()
    assert spring.rate == coil().rate
    assert same(spring.full_stroke, coil().solid_compression)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (
            lambda: wr.CoilGeometry(
                wire="11 mm", mean_diameter="66 mm", active_coils=6, ends="flat", material="1.4310"
            ),
            "ends: unknown variant `flat`",
        ),
        (
            lambda: wr.CoilGeometry(
                wire="11 mm", mean_diameter="66 mm", active_coils=6, ends="open", material="cheese"
            ),
            "found `cheese`; wanted one of EN 10270-1",
        ),
        (lambda: coil().shear_stress("1 kN", "magic"), "factor: unknown variant `magic`, expected one of"),
        (lambda: wr.Material("own", elastic_modulus="200 GPa"), "elastic_modulus, shear_modulus and density: give all"),
        (
            lambda: wr.UnmarkedSpring(
                wire="4.5 mm", outside_diameter=("35 mm", "1 mm"), active_coils=(29, 0.2), material="1.4310"
            ),
            "wire: wanted an Uncertain",
        ),
        (
            lambda: wr.UnmarkedSpring(
                wire=wr.Uncertain("4 N", "1 N", "force"),
                outside_diameter=("35 mm", "1 mm"),
                active_coils=(29, 0.2),
                material="1.4310",
            ),
            "wire: found a force, wanted a length",
        ),
        (lambda: wr.SpacerLengths("460 mm", "10 mm", "0 mm", "450 mm", "18 mm").cut_for("5 mm"), "spacer: found"),
        (lambda: wr.AirSpring("30 mm", "260 cm3", "9 bar").with_negative("12 mm", "30 cm3"), "give one of the two"),
    ],
)
def test_what_cannot_be_is_refused_by_name(make, words):
    with pytest.raises((SpringError, GasError, wr.UnitError)) as caught:
        make()
    assert words in str(caught.value)


def test_uncertainty_of_an_unmarked_spring_by_the_law_of_propagation():
    wire = wr.Uncertain("4.51 mm", "0.02 mm", "length")
    found = wr.UnmarkedSpring(
        wire=wire,
        outside_diameter=("35.4 mm", "0.1 mm"),
        active_coils=(29, 0.25),
        material="EN 10270-1",
        shear_modulus_uncertainty=0.015,
    )

    def rate(d, outside, coils, shear):
        return shear * d**4 / (8 * (outside - d) ** 3 * coils)

    at, spread = (4.51, 35.4, 29.0, 81500.0), (0.02, 0.1, 0.25, 0.015 * 81500.0)
    # Central differences over a millionth: rounding over it is left.
    step, difference = 1e-6, 1e-7
    slopes = []
    for index, value in enumerate(at):
        up, down = list(at), list(at)
        up[index], down[index] = value * (1 + step), value * (1 - step)
        slopes.append((rate(*up) - rate(*down)) / (2 * step * value))
    combined = math.hypot(*(slope * u for slope, u in zip(slopes, spread, strict=True)))
    assert found.rate.value.m_as("N/mm") == pytest.approx(rate(*at), rel=ROUNDING)
    assert found.rate.standard_uncertainty.m_as("N/mm") == pytest.approx(combined, rel=difference)
    total = math.hypot(*(share.m_as("dimensionless") for share in found.budget.values()))
    assert total == pytest.approx(combined / rate(*at), rel=difference)


def leg(rate="4.8 N/mm"):
    return wr.ForkLeg(
        wr.Preloaded(rate, "6 mm"),
        wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", steel_volume="60 cm3"),
    )


def fork(rate="4.8 N/mm"):
    return wr.Fork("290 mm", "26.5 deg", leg(rate), leg(rate))


PERMITTED = ("60 mm", "160 mm")
REST = "80 mm"


def test_springs_and_gas_apart_add_up():
    for stroke in ("0 mm", "120 mm", "290 mm"):
        whole, springs, gas = fork().at(stroke), fork().springs_at(stroke), fork().gas_at(stroke)
        assert same(springs.force + gas.force, whole.force)
        assert same(springs.rate + gas.rate, whole.rate)
        assert same(springs.energy + gas.energy, whole.energy)


def test_air_by_boyle():
    area, travel = math.pi / 4 * (47 * U.mm) ** 2, 290 * U.mm
    compressed = math.pi / 4 * (43 * U.mm) ** 2 * 105 * U.mm - 60 * U.cm**3
    pressure = 101325 * U.Pa * ((compressed + area * travel) / compressed - 1)
    assert same(fork().gas_at(travel).force, (2 * pressure * area).to("N"))


def test_level_for_a_wanted_force_gives_it():
    change = fork().oil_level_change_for_force("5.2 kN", REST, PERMITTED)
    assert same(fork().with_oil_level_change(change).fast_at(REST, "290 mm").force, 5200 * U.N, SOLVED)
    air = leg().air.for_force("290 mm", REST, "900 N")
    fast = air.chamber("290 mm").settled_at(REST, air.exponents.fast)
    assert same(fast.at("290 mm").force, 900 * U.N, SOLVED)


def test_level_that_makes_up_for_a_softer_spring_does_the_same_work():
    part = ("100 mm", "250 mm")
    offset = fork("4.5 N/mm").oil_level_change_to_match(fork(), REST, part, PERMITTED)
    changed = fork("4.5 N/mm").with_oil_level_change(offset.change)
    assert offset.change < 0 * U.mm

    def work(made):
        return made.fast_at(REST, part[1]).energy - made.fast_at(REST, part[0]).energy

    assert same(work(changed), work(fork()), SOLVED)
    at = offset.at
    left = changed.fast_at(REST, at).force - fork().fast_at(REST, at).force
    assert same(left, offset.difference, 1e-6)  # a difference of large forces


def test_levels_out_of_reach_say_what_is_in_reach():
    with pytest.raises(GasError, match=r"no permitted oil level gives 9000\.0 N") as caught:
        fork().oil_level_change_for_force("9 kN", REST, ("100 mm", "160 mm"))
    assert "100.0 mm and 100.0 mm" in str(caught.value)
    with pytest.raises(GasError, match="the air is gone at"):
        fork().with_oil_level_change("-70 mm")
    with pytest.raises(GasError, match="has no air over oil"):
        wr.Fork("290 mm", "26.5 deg", wr.ForkLeg(wr.Preloaded("5 N/mm", "5 mm"))).with_oil_level_change("1 mm")


def test_standard_atmosphere_of_iso_2533():
    # ISO 2533:1975, table by geometric altitude, from memory; rounded there to these digits.
    for altitude, pascal, kelvin in [
        ("0 m", 101325.0, 288.15),
        ("1000 m", 89876.3, 281.651),
        ("3000 m", 70121.2, 268.659),
    ]:
        air = wr.Conditions.at_altitude(altitude)
        assert air.surroundings.m_as("Pa") == pytest.approx(pascal, abs=0.1)
        assert air.temperature.m_as("kelvin") == pytest.approx(kelvin, abs=1e-3)


def test_friction_and_main_springs_of_both_legs():
    sprung = wr.ForkLeg(wr.Preloaded("9 N/mm", "5 mm"), friction="30 N")
    whole = wr.Fork("290 mm", "26.5 deg", sprung, wr.ForkLeg(friction="25 N"))
    assert whole.friction == 55 * U.N
    assert whole.main_spring.rate == 9 * U.N / U.mm
    assert len(whole.main_spring.each) == 1
    assert whole.legs[1].friction == 25 * U.N
    assert whole.with_spring_rate("10 N/mm", "3 mm").main_spring.preload == 3 * U.mm
    assert "friction 30 N" in whole.describe()


def test_gas_after_settling_answers_a_fast_stroke_with_its_exponent_times_the_rate():
    at = "110 mm"
    known = fork().with_exponents(wr.Exponents(1.0, 1.35))
    slow, gas = known.at(at).rate, known.gas_at(at).rate
    assert same(known.fast_rate_at(at), slow + 0.35 * gas)
    assert same(known.fast_gas_at(at, at).force, known.gas_at(at).force)
