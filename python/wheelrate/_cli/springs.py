"""Main springs: will one last on its wire, and what was read off a press."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

import wheelrate as wr
from wheelrate import _report
from wheelrate._cli.common import BAD_INPUT, bike_of, fail, file_argument, json_option, named, show, units_option
from wheelrate._ends import sprung_by
from wheelrate._lines import items

if TYPE_CHECKING:
    from wheelrate.typing import End

_NUMBERS = [
    ("tensile_strength", "stress"),
    ("least_stress", "stress"),
    ("most_stress", "stress"),
    ("set_share", "share"),
    ("solid_share", "share"),
]


@click.command("spring-life")
@file_argument
@click.option("--end", type=click.Choice(["front", "rear"]), default="rear", show_default=True, help="Which end.")
@click.option("--wire", required=True, metavar="LENGTH", help='Diameter of the wire, bare of paint: "11.2 mm".')
@click.option("--mean-diameter", required=True, metavar="LENGTH", help="Outside diameter less one wire.")
@click.option("--active-coils", required=True, type=float, help="All coils, less two for closed ends.")
@click.option("--wire-kind", required=True, metavar="NAME", help="Kind of the wire; an unknown name shows the list.")
@click.option("--material", default="EN 10270-2", show_default=True, metavar="NAME", help="For its moduli.")
@click.option("--peened", is_flag=True, help="Shot-peened.")
@click.option("--pressed", is_flag=True, help="Pressed solid by its maker until it set no further.")
@json_option
@units_option
def spring_life(
    file: str,
    end: End,
    wire: str,
    mean_diameter: str,
    active_coils: float,
    wire_kind: str,
    material: str,
    peened: bool,
    pressed: bool,
    as_json: bool,
    units: str,
) -> None:
    """Hold the stress of a main spring against the strength of its wire, from rest under the rider to full travel.

    Preload, rest and stroke are those of FILE, as it states them; the spring is the one described by the options.
    """
    bike = bike_of(file)
    with named(file):
        stroke, full, preload = _strokes(bike, end)
        coil = wr.CoilGeometry(
            wire=wire, mean_diameter=mean_diameter, active_coils=active_coils, ends="closed-ground", material=material
        )
        life = coil.life(wire_kind, preload + stroke, preload + full, is_peened=peened, is_pressed=pressed)
        numbers = {"rate": _report.number(coil.rate, "spring rate", units)}
        for name, kind in _NUMBERS:
            value = getattr(life, name)
            if value is not None:
                numbers[name] = _report.number(value, kind, units)
    data = {"verdict": life.verdict, "fatigue_factor": life.fatigue_factor, **numbers, "cautions": life.cautions}

    def text() -> str:
        rows = [(name.replace("_", " "), f"{entry['value']:.1f} {entry['unit']}") for name, entry in numbers.items()]
        if life.fatigue_factor is not None:
            rows.append(("fatigue factor", f"{life.fatigue_factor:.2f}"))
        width = max(len(name) for name, _ in rows)
        lines = [f"  {name.ljust(width)}  {value}" for name, value in rows]
        return "\n".join([f"{end.upper()}: {life.verdict}", *lines, *items(life.cautions)])

    show(file, as_json, lambda: data, text)


@click.command("measured-spring")
@file_argument
@click.option("--end", type=click.Choice(["front", "rear"]), default="rear", show_default=True, help="Which end.")
@json_option
@units_option
def measured_spring(file: str, end: End, as_json: bool, units: str) -> None:
    """Show what the readings of a measured main spring say: force and rate over compression, each with its uncertainty.

    The spring is the one under `measured` in FILE; readings far off the others are named.
    """
    bike = bike_of(file)
    with named(file):
        springs = [place.spring for place in _main_springs(bike, end)]
        found = next((spring for spring in springs if spring.mean_rate is not None), None)
        if found is None:
            wanted = '`spring = { measured = { readings = [["12 mm", "620 N"], ...] }, preload = "14 mm" }`'
            fail(f"{file}: no spring under `measured` at the {end}; wanted {wanted}", BAD_INPUT)
        whole: Any = found.full_stroke
        points: list[Any] = [found.uncertain_at(whole * step / _STEPS) for step in range(_STEPS + 1)]
        rows = [
            {
                "compression": _report.number(point.compression, "length", units),
                "force": _known(point.force, "force", units),
                "rate": _known(point.rate, "spring rate", units),
            }
            for point in points
        ]
        off: list[dict[str, Any]] = [
            {"reading": at, "off": _report.number(by, "force", units)} for at, by in found.suspect_readings
        ]
        data: dict[str, Any] = {
            "mean_rate": _known(found.mean_rate, "spring rate", units),
            "curve": rows,
            "suspect_readings": off,
        }

    def text() -> str:
        mean = data["mean_rate"]
        lines = [f"{end.upper()}: {_said(mean)} on average over {_said(rows[-1]['compression'])}"]
        lines += [
            f"  {_said(row['compression']):>10}  {_said(row['force']):>18}  {_said(row['rate']):>22}" for row in rows
        ]
        lines += [f"Reading {one['reading'] + 1} lies {_said(one['off'])} off what the others say." for one in off]
        return "\n".join(lines)

    show(file, as_json, lambda: data, text)


#: Steps of the printed curve.
_STEPS = 10


def _main_springs(bike: wr.Bike, end: End) -> list[wr.Preloaded]:
    axial = sprung_by(bike.rear if end == "rear" else bike.front)
    places = [axial.spring] if isinstance(axial, wr.Shock) else [leg.spring for leg in axial.legs]
    return [place for place in places if place is not None]


def _known(known: Any, kind: str, units: str) -> dict[str, Any]:
    entry = _report.number(known.value, kind, units)
    return {**entry, "standard_uncertainty": _report.number(known.standard_uncertainty, kind, units)["value"]}


def _said(entry: dict[str, Any]) -> str:
    decimals = 2 if "/" in entry["unit"] else 1
    spread = f" ± {entry['standard_uncertainty']:.{decimals}f}" if "standard_uncertainty" in entry else ""
    return f"{entry['value']:.{decimals}f}{spread} {entry['unit']}"


def _strokes(bike: wr.Bike, end: End) -> tuple[Any, Any, Any]:
    """Give the stroke at rest under the rider, the full stroke, and the preload of the main spring."""
    rest = bike.whole.settle().stance
    axial = sprung_by(bike.rear if end == "rear" else bike.front)
    spring, full = axial.main_spring, axial.full_stroke
    stroke = rest.shock_stroke if end == "rear" else rest.fork_stroke
    if spring is None:
        raise click.ClickException(f"the {end} has no coil spring: there is no wire to hold against its strength")
    return stroke, full, spring.preload
