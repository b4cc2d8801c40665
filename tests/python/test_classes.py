"""Every public class is immutable data: it prints, compares, hashes, pickles, copies and can be weakly referenced."""

import copy
import inspect
import pickle
import weakref
from pathlib import Path

import numpy as np
import pytest
from test_values import MAKERS

import wheelrate as wr
from wheelrate import _core

CLASSES = {
    name: value
    for module in (_core, wr)
    for name, value in vars(module).items()
    if inspect.isclass(value) and not name.startswith("_") and not issubclass(value, BaseException)
}
#: A bike of which little is stated.
LEAST = Path(__file__).parents[1] / "files" / "least_imperial.toml"
#: A front end on links.
LINKS = LEAST.with_name("links.toml")
DAMPER = wr.Damper("600 N s/m", "900 N s/m")
#: What the tyre sags is taken up before the wheel moves; enough to reach the metal on so soft a damper.
HIGH = "2 m"


def read_again():
    """Give the demo's rear readings on two days, and a stiffer spring read after them."""
    rows = [reading for reading in wr.demo().readings if reading.end == "rear"]

    def on(date):
        return [wr.Reading("rear", row.load, row.distance, row.settled, date=date) for row in rows]

    keys = {**wr.demo().to_dict(), "reading": []}
    bike = wr.Bike.from_dict(keys).with_readings([*on("2026-05-31"), *on("2026-06-30")])
    changed = bike.with_logged_change("2026-07-04", {"rear.shock.spring.rate": "54 N/mm"}, note="stiffer")
    return changed.with_readings(on("2026-07-05"))


def made():
    """Give objects of every class, some inside others."""
    bike = wr.demo()
    rear, linkage = bike.rear, bike.rear.linkage
    fork = bike.front.fork
    yield from (maker() for maker in MAKERS.values())
    yield from (bike.study("rear"), *bike.fit().values())
    yield from bike.advise().values()
    yield from bike.plan().values()
    parts = ("masses", "front", "rear", "wheels", "measuring", "targets", "on_sale")
    little = [reading for reading in bike.readings if reading.load != "bike"]
    free = wr.Prices(measuring="0 %")  # then more readings are worth their while
    yield wr.Bike("read little", readings=little, prices=free, **{part: getattr(bike, part) for part in parts}).plan()
    scenarios = bike.advise_scenarios_end("rear")
    yield from (scenarios, scenarios.advised.change("bike + rider", "with stretcher"))
    riders = wr.Riders("92 kg", "10 kg")
    suited = bike.with_riders(riders).study("rear").advise_riders()
    yield from (riders, wr.Riders(each=[("92 kg", 2)]), suited, suited.fitted, suited.fitted.common, suited.fitted.own)
    yield from bike.practice("rear")
    yield from (
        bike.common_practice,
        bike.on_sale,
        *bike.targets.values(),
        *bike.prior.values(),
        *bike.measuring.values(),
    )
    yield from bike.scenarios
    yield bike.sheet()
    yield from wr.Bike.load(LEAST).assumptions()
    yield wr.demo().correct({"targets.front.full_travel_force": "4.3 kN"}).advise_end("front").oil_level
    yield wr.Question("rear-spring")
    yield wr.OwnUsual(rake=("27 deg", "1 deg"), bend="3 %")
    yield bike.study("rear").monte_carlo(draws=200)
    yield bike.study("rear").rehearse(garages=100)
    yield bike.whole
    yield bike.whole.stances()
    yield bike.whole.settle(
        acceleration="-5 m/s2",
        front_share="100 %",
        rear_reaction=wr.Chain(["85 mm", "12 mm"], front_radius="33 mm", rear_radius="105 mm"),
    )
    yield bike.whole.effect_of(shock_longer="2 mm")
    found = bike.whole.corrections(trail="108 mm", fork_raised=["-5 mm", "15 mm"])
    yield from (found[0], *found[0].moves)
    yield wr.tyre_rate_of_footprint("900 N", "120 mm", "300 mm")
    yield from bike.whole.modes()
    yield bike.whole.ballast()
    yield bike.whole.squat()
    yield bike.whole.geometry_doubt(bike.whole.settle().stance)
    yield bike.whole.descent("rear", "15 degC", "60 degC", "600 s", ["0 s", "900 s"])
    yield from (bike.front.fork.bushes, bike.whole.fork_friction_at_rest())
    yield from (bike.whole.anti_rise(), bike.whole.anti_dive(), rear.chain(play="15 mm"))
    yield from (bike.whole.anti_dive_over_travel(), bike.front.steering_axis("55 mm", "350 mm"))
    yield wr.Bike.load(LINKS).front
    coil = wr.CoilGeometry(
        wire="9 mm",
        mean_diameter="60 mm",
        active_coils=8,
        ends="closed-ground",
        material="EN 10270-2",
        free_length="230 mm",
    )
    pressed = wr.Spring.measured((range(12, 133, 12), "mm"), (range(600, 6601, 600), "N"))
    yield from (pressed, pressed.uncertain_at("40 mm"))
    yield wr.Spring.closing(wire="10 mm", mean_diameter="70 mm", coils=[4, 5], pitches=([12, 18], "mm"))
    yield coil.life("oil-tempered A229", "20 mm", "80 mm")
    yield wr.Idler(["-20 mm", "60 mm"], "30 mm", "over")
    yield rear.final_drive
    yield bike.whole.damping("rear")
    ride = bike.whole.on_road(wr.Road("D"), "50 km/h")
    yield from (wr.Road("D"), ride, *ride.ends.values())
    quarter = wr.QuarterBike(sprung="95 kg", unsprung="17.5 kg", rate="8.3 N/mm", tyre="180 N/mm")
    yield quarter.response("600 N s/m", (np.array([1.0, 2.0]), "Hz"))
    yield quarter.on_road("600 N s/m", wr.Road("D"), "50 km/h")
    yield from bike.whole.damped_modes()
    clock = np.arange(0, 60, 0.02)
    log = wr.travel_log(bike, [((clock, "s"), None, (40 + 10 * np.sin(7 * clock), "mm"))])
    yield from (log, log.ends["rear"], wr.LogChannel("shock"))
    still = wr.travel_log(bike, [((clock, "s"), None, (np.full(len(clock), 40.0), "mm"))]).ends["rear"]
    yield still.dynamic_sag(bike, "rear")
    whole = bike.whole.land("1 m", duration="0.3 s")
    yield from (whole, whole.energy, *whole.ends.values(), wr.Legs("80 kg", "7 N/mm", "700 N s/m"))
    moving = bike.whole.moving_end("rear", DAMPER)
    yield from (moving, moving.land(HIGH), bike.whole.moving_end("front", DAMPER))
    log = read_again()
    yield from (log, log.history_end("rear"))
    yield wr.compare({"now": rear, "again": rear}, "1.1 kN")
    yield from (rear.at("102 mm"), rear.curve(), rear.travel_under("1.1 kN"), rear.reserve("1.1 kN"))
    yield from (rear.effects_at("102 mm"), rear.effects_under("1.1 kN"), rear.with_pivot_uncertainty("0.5 mm"))
    yield from (
        linkage.at("102 mm"),
        linkage.curve(),
        linkage.effects("102 mm"),
        linkage.with_pivot_uncertainty("0.5 mm"),
    )
    yield wr.LinkageFamily([linkage, linkage])
    yield linkage.mass_shares({"swingarm": ("5.6 kg", ["-290 mm", "-80 mm"])})
    yield linkage.design({"x of link_frame": ("-70 mm", "-62 mm")}, progression=("40 %", "0.5 %"))
    travels = np.linspace(0, linkage.full_travel.m_as("mm"), 12)
    lengths = 468.7 - linkage.curve((travels, "mm")).stroke.m_as("mm")
    given = {"travel_uncertainty": "1 mm", "length_uncertainty": "1 mm"}
    table = wr.MeasuredLinkage((travels, "mm"), (lengths, "mm"), shock_length="468.7 mm", stroke="118 mm", **given)
    yield from (table, table.at("102 mm"))
    places = {"a": (0, 0), "b": (-575, -165), "c": (-100, 329), "d": (-560, 300)}
    pixels = {name: (2140 + 2 * x, 1210 - 2 * z) for name, (x, z) in places.items()}
    yield wr.Survey({name: (place, "mm") for name, place in places.items()}, [pixels], sizes=[(4000, 3000)])
    yield wr.Photograph(((100.0, 200.0), ["0 mm", "0 mm"]), ((900.0, 210.0), ["1480 mm", "0 mm"]))
    yield wr.ChainDrive(
        ["88 mm", "4 mm"],
        front_radius="33 mm",
        rear_radius="124 mm",
        wheel_radius="335 mm",
        cg_height="840 mm",
        wheelbase="1480 mm",
    )
    yield from (fork.at("100 mm"), fork.curve(["10 mm", "100 mm"]), fork.main_spring)
    yield fork.oil_level_change_to_match(
        fork.with_spring_rate("4.5 N/mm", "6 mm"), "100 mm", ("20 mm", "200 mm"), ("40 mm", "150 mm")
    )
    stack = wr.Spring.stack([wr.Spring("60 N/mm", free_length="60 mm", solid_length="40 mm"), "80 N/mm"])
    yield from (stack, *stack.changeovers)
    yield from wr.QuarterBike(sprung="95 kg", unsprung="17.5 kg", rate="8.3 N/mm", tyre="180 N/mm").modes()
    yield wr.check("format = 2")[0]
    for preload in ("12 mm", "13 mm"):
        yield bike.sweep({"rear.shock.spring.preload": [preload]}, ["rear.rider_sag"])


def inside(value):
    """Walk over the objects of the package that an object shows, itself first."""
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, (list, tuple)):
        for item in value:
            yield from inside(item)
    elif type(value) in CLASSES.values():
        yield value
        for name, member in vars(type(value)).items():
            if inspect.isdatadescriptor(member) and not name.startswith("_"):
                try:
                    yield from inside(getattr(value, name))
                except wr.WheelrateError:
                    continue  # a part that this object has not


@pytest.mark.parametrize("name", CLASSES)
def test_every_class(found, name):
    assert name in found, f"nothing in `made` gives a {name}: add it there"
    for value in found[name]:
        assert type(value).__name__ in repr(value)
        assert value == value
        assert value != "something else"
        for again in (pickle.loads(pickle.dumps(value)), copy.copy(value), copy.deepcopy(value)):
            assert type(again) is type(value)
            assert again == value
            assert hash(again) == hash(value)
            assert repr(again) == repr(value)
        assert weakref.ref(value)() is value
    if len(found[name]) == 2:
        one, other = found[name]
        assert one != other


@pytest.mark.parametrize("name", CLASSES)
def test_no_class_can_be_changed(found, name):
    for value in found[name]:
        shown = [attribute for attribute in dir(value) if not attribute.startswith("_")]
        with pytest.raises((AttributeError, TypeError)):
            setattr(value, shown[0], None)


def test_every_type_is_in_the_stub():
    stub = Path(_core.__file__).with_name("_core.pyi").read_text("utf-8")
    assert "Incomplete" not in stub
    for name in CLASSES:
        assert f"class {name}" in stub or not hasattr(_core, name)
