"""Objects are immutable, comparable, hashable and picklable."""

import copy
import pickle

import pytest
from arrangements import ARRANGEMENTS

import wheelrate as wr


def leg(rate="4.8 N/mm"):
    return wr.ForkLeg(
        wr.Preloaded(rate, "6 mm"), wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", exponent=1.2)
    )


MAKERS = {
    "spring": lambda: wr.Spring("52 N/mm", free_length="230 mm", solid_length="85 mm"),
    "preloaded": lambda: wr.Preloaded("0.47 kgf/mm", "14 mm", thread_pitch="1.5 mm", max_preload="20 mm"),
    "stop": lambda: wr.Stop("100 N/mm", "12 mm"),
    "material": lambda: wr.Material("1.4568"),
    "material of one's own": lambda: wr.Material(
        "wire from the drawer",
        elastic_modulus="200 GPa",
        shear_modulus="78 GPa",
        density="7.8 kg/dm3",
        source="a guess",
    ),
    "coil geometry": lambda: wr.CoilGeometry(
        wire="4.5 mm", mean_diameter="31 mm", active_coils=29.0, ends="closed-ground", material="EN 10270-1"
    ),
    "unmarked spring": lambda: wr.UnmarkedSpring(
        wire=("4.5 mm", "0.02 mm"),
        outside_diameter=("35.4 mm", "0.1 mm"),
        active_coils=(29.0, 0.25),
        material="EN 10270-1",
    ),
    "riders": lambda: wr.Riders("92 kg", "10 kg", on_front=("32 %", "3 %"), loads=[("bike + rider", 2)]),
    "riders one by one": lambda: wr.Riders(each=[("80 kg", 1), ("95 kg", 3)]),
    "legs": lambda: wr.Legs("80 kg", "7 N/mm", "700 N s/m"),
    "spacer lengths": lambda: wr.SpacerLengths("460 mm", "120 mm", "4 mm", "590 mm", "18 mm"),
    "air spring": lambda: wr.AirSpring("30 mm", "260 cm3", "9 bar", exponent=1.2),
    "air spring with a second chamber": lambda: wr.AirSpring("30 mm", "260 cm3", "9 bar").with_second(
        "60 cm3", "14 bar"
    ),
    "air spring with a negative chamber": lambda: wr.AirSpring("30 mm", "260 cm3", "9 bar").with_negative(
        "12 mm", "30 cm3", port_at="5 mm"
    ),
    "conditions": lambda: wr.Conditions("750 mbar", "31.7 degC"),
    "chamber": lambda: wr.Chamber("10 bar", "180 cm3", "200 mm2", "100 mm", exponent=1.3),
    "fork air": lambda: wr.ForkAir(
        sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", running=wr.Conditions("750 mbar")
    ),
    "reservoir": lambda: wr.Reservoir("145 psi", "180 cm3", "16 mm"),
    "leg": leg,
    "fork": lambda: wr.Fork("290 mm", "26.5 deg", leg(), leg("5 N/mm")),
    "uncertain": lambda: wr.Uncertain("52.3 N/mm", "0.8 N/mm", "spring rate"),
    "mechanism": lambda: ARRANGEMENTS["twin shocks"].linkage().mechanism,
    "linkage": lambda: ARRANGEMENTS["two rockers in series"].linkage(),
    "front end": lambda: wr.FrontEnd(wr.Fork("290 mm", "26.5 deg", leg()), ["900 mm", "-160 mm"]),
    "rear end": lambda: wr.demo().rear,
    "masses": lambda: wr.demo().masses,
    "masses by position": lambda: wr.Masses(
        {"bike": ("61 kg", "64 kg"), "pack": {"total": "12 kg", "behind_front_axle": "0.9 m"}},
        unsprung=("14 kg", "17 kg"),
        wheelbase="1.48 m",
    ),
    "reading": lambda: wr.Reading("rear", "bike + rider", "551 mm", "low", "2 mm"),
    "dated reading": lambda: wr.Reading("rear", "bike", "620 mm", date="2026-05-31 19:30", note="cold"),
    "wheels": lambda: wr.demo().wheels,
    "steering": lambda: wr.Steering("26.5 deg", "30 mm", "340 mm"),
    "quarter bike": lambda: wr.QuarterBike(sprung="95 kg", unsprung="17.5 kg", rate="8.3 N/mm", tyre="180 N/mm"),
    "half bike": lambda: wr.HalfBike(
        sprung="190 kg",
        pitch_inertia="48 kg m2",
        front=wr.HalfBikeEnd("0.75 m", "6.5 N/mm"),
        rear=wr.HalfBikeEnd("0.7 m", "8.3 N/mm", tyre="180 N/mm"),
    ),
    "damper": lambda: wr.Damper("2500 N s/m", "5000 N s/m", compression_knee=("0.3 m/s", "900 N s/m")),
    "chain": lambda: wr.Chain(["85 mm", "12 mm"], front_radius="33 mm", rear_radius="105 mm"),
    "bike": wr.demo,
    "shock": lambda: wr.Shock(
        "468.7 mm", "118 mm", wr.Preloaded("52 N/mm", "14 mm"), wr.Reservoir("10 bar", "0.18 l", "16 mm")
    ),
}


@pytest.fixture(params=MAKERS)
def made(request):
    return MAKERS[request.param]


def test_equal_when_made_alike(made):
    assert made() == made()
    assert hash(made()) == hash(made())
    assert made() != "something else"


def test_differs_from_the_others(made):
    others = [other() for other in MAKERS.values() if other is not made]
    assert all(made() != other for other in others)


def test_pickle_and_copy_come_back_equal(made):
    for again in (pickle.loads(pickle.dumps(made())), copy.copy(made()), copy.deepcopy(made())):
        assert again == made()
        assert type(again) is type(made())


def test_immutable(made):
    with pytest.raises((AttributeError, TypeError)):
        made().rate = "1 N/mm"


def test_repr_shows_the_class_and_the_units(made):
    text = repr(made())
    assert text.startswith(type(made()).__name__ + "(")
    marks = (" mm'", " mbar'", " bar'", " N/mm'", " N s/m'", " kg'", "name=", "Ridge patrol")
    assert any(mark in text for mark in marks)


def test_a_long_curve_is_shown_by_its_ends_and_a_short_one_whole():
    rear = wr.demo().rear
    travel = rear.curve().travel.m
    shown = str(rear.curve())
    assert len(shown) < 2000
    assert all(str(end) in shown for end in (travel[0], travel[2], travel[-3], travel[-1]))
    assert str(travel[4]) not in shown
    assert "..." not in str(rear.curve([f"{at} mm" for at in range(0, 120, 10)]))


def test_a_bike_without_ends_shows_itself_and_answers_nothing():
    bike = wr.Bike("x")
    assert repr(bike) == 'Bike("x": no end, 0 readings)'
    with pytest.raises(KeyError, match="there is no answer of any end"):
        bike.fit()["rear"]


def test_repr_of_a_spring_makes_the_same_spring():
    spring = wr.Spring("52 N/mm", free_length="230 mm", solid_length="85 mm")
    assert eval(repr(spring), vars(wr)) == spring
