"""The rate of a tyre, from what was read at the wheel, and what its ± reaches."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

import wheelrate as wr
from wheelrate import _report
from wheelrate._cli.common import BAD_INPUT, bike_of, fail, json_option, named, show, units_option
from wheelrate._lines import items

if TYPE_CHECKING:
    from wheelrate.typing import End

_READING = 'wanted a load and the height of the axle under it: "900 N:337.3 mm"'
_NOTES = (
    "Read at the axle, the suspension free of it, at the pressure ridden. A rolling tyre is some per cent softer than "
    "a standing one.",
)


@click.command()
@click.argument("readings", nargs=-1, metavar="LOAD:HEIGHT...")
@click.option("--footprint", metavar="LOAD:LENGTH", help='In place of readings, roughly: "900 N:120 mm".')
@click.option("--radius", metavar="LENGTH", help="Of the unloaded tyre, beside --footprint.")
@click.option("--load-uncertainty", metavar="FORCE", help="Standard uncertainty of one load; 10 N unless given.")
@click.option("--height-uncertainty", metavar="LENGTH", help="Standard uncertainty of one height; 0.5 mm unless given.")
@click.option("--file", type=click.Path(exists=True, dir_okay=False), help="A bike file, to see what the ± reaches.")
@click.option("--end", type=click.Choice(["front", "rear"]), default="front", show_default=True, help="Which wheel.")
@json_option
@units_option
def tyre(
    readings: tuple[str, ...],
    footprint: str | None,
    radius: str | None,
    load_uncertainty: str | None,
    height_uncertainty: str | None,
    file: str | None,
    end: End,
    as_json: bool,
    units: str,
) -> None:
    """Find the vertical rate of a tyre from loads and axle heights, two or more, or roughly from a footprint.

    It prints the line for a bike file, and with --file what the ± of the tyre makes of rate and trail at rest. With a
    file and no readings it takes the tyre of the file, whose rate has an uncertainty or readings there.
    """
    if file is not None and not readings and footprint is None:
        _of_file(file, end, as_json, units)
        return
    with named("tyre"):
        found = _found(readings, footprint, radius, load_uncertainty, height_uncertainty)
    data: dict[str, Any] = {
        "rate": _report.uncertain(found.rate, units),
        "radius": _report.uncertain(found.radius, units),
        "misfit": found.misfit,
        "line": _line(found, end),
        "notes": list(_NOTES),
    }
    if file is not None:
        bike = bike_of(file)
        with named(file):
            data["on_the_bike"] = _reach(bike, end, found.rate, found.radius.value, units)

    def text() -> str:
        rows = [(name, _report.plus_minus(data[name])) for name in ("rate", "radius")]
        if found.misfit is not None:
            rows.append(("misfit", f"{found.misfit:.1f} times what was said of the readings"))
        rows += [
            (name.replace("_", " "), _report.plus_minus(entry)) for name, entry in data.get("on_the_bike", {}).items()
        ]
        return "\n\n".join([_report.listed(rows, units), f"[wheels]\n{data['line']}", "\n".join(items(data["notes"]))])

    show(file or "tyre", as_json, lambda: data, text)


def _of_file(file: str, end: End, as_json: bool, units: str) -> None:
    bike = bike_of(file)
    wheels = bike.wheels
    rate, off = (None if wheels is None else getattr(wheels, f"{end}_tyre{of}") for of in ("", "_uncertainty"))
    if wheels is None or rate is None or off is None:
        fail(
            f"{file}: found no uncertainty of the tyre in `wheels.{end}`, wanted `tyre_uncertainty` or "
            f"`tyre_readings` there, or readings here: {_READING}",
            BAD_INPUT,
        )
    known = wr.Uncertain(rate, off, "wheel rate")
    with named(file):
        reach = _reach(bike, end, known, getattr(wheels, f"{end}_radius"), units)
    found, notes = _report.uncertain(known, units), list(_NOTES)

    def text() -> str:
        rows = [("rate", _report.plus_minus(found))]
        rows += [(name.replace("_", " "), _report.plus_minus(entry)) for name, entry in reach.items()]
        return "\n\n".join([_report.listed(rows, units), "\n".join(items(notes))])

    show(file, as_json, lambda: {"rate": found, "on_the_bike": reach, "notes": notes}, text)


def _pair(given: str) -> tuple[str, str]:
    load, mark, length = given.partition(":")
    if not mark:
        fail(f"tyre: found {given!r}, {_READING}", BAD_INPUT)
    return load.strip(), length.strip()


def _found(
    readings: tuple[str, ...],
    footprint: str | None,
    radius: str | None,
    load_uncertainty: str | None,
    height_uncertainty: str | None,
) -> wr.TyreRate:
    if footprint is not None:
        if readings or radius is None:
            fail("tyre: a footprint goes with the --radius of the unloaded tyre, and without readings", BAD_INPUT)
        return wr.tyre_rate_of_footprint(*_pair(footprint), radius)
    if not readings:
        fail(f"tyre: found no reading, {_READING}, two or more", BAD_INPUT)
    loads, heights = zip(*map(_pair, readings), strict=True)
    return wr.tyre_rate(
        list(loads), list(heights), load_uncertainty=load_uncertainty, height_uncertainty=height_uncertainty
    )


def _line(found: wr.TyreRate, end: End) -> str:
    radius, rate = found.radius.value.m_as("mm"), found.rate.value.m_as("N/mm")
    return f'{end} = {{ radius = "{radius:.1f} mm", tyre = "{rate:.0f} N/mm" }}'


def _reach(bike: wr.Bike, end: End, known_rate: Any, radius: Any, units: str) -> dict[str, Any]:
    """Give rate at the ground and trail, both at rest, with the ± that the tyre's rate brings."""
    travel = bike.whole.settle().stance.travel[end]
    wheel = getattr(bike, end).at(travel).wheel_rate
    off = known_rate.standard_uncertainty
    beside = [known_rate.value + sign * off for sign in (0, 1, -1)]
    rates = [wr.ride_rate(wheel, tyre) for tyre in beside]
    fitted = [
        bike.what_if({f"wheels.{end}.tyre": _text(tyre, "N/mm"), f"wheels.{end}.radius": _text(radius, "mm")})
        for tyre in beside
    ]
    trails = [one.whole.settle().stance.trail for one in fitted]

    def known(values: list[Any], kind: str) -> dict[str, Any]:
        return _report.uncertain(wr.Uncertain(values[0], abs(values[1] - values[2]) / 2, kind), units)

    return {"rate_at_the_ground": known(rates, "wheel rate"), "trail": known(trails, "length")}


def _text(quantity: Any, unit: str) -> str:
    return f"{quantity.m_as(unit)!r} {unit}"
