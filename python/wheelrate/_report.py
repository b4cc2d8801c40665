"""Tables of the command line: numbers in the units asked for, and the words around them."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import wheelrate as wr
from wheelrate._lines import entries, items, printed, text, wrapped

if TYPE_CHECKING:
    from collections.abc import Sequence

    from wheelrate._lines import Table
    from wheelrate.typing import End

# Columns of a curve: attribute, head, kind, decimals.
_CURVE = [
    ("travel", "travel", "length", 1),
    ("stroke", "stroke", "length", 1),
    ("motion_ratio", "motion ratio", "motion ratio", 4),
    ("leverage_ratio", "leverage ratio", "leverage ratio", 4),
    ("axial_force", "axial force", "force", 0),
    ("wheel_force", "wheel force", "force", 0),
    ("wheel_rate", "wheel rate", "wheel rate", 3),
    ("energy", "energy", "energy", 1),
]
# What takes one decimal more in inches.
_COARSE_IN_INCHES = ("length", "damping rate")
# Column of the sheet's table of the whole bike: under the rider.
_RIDER_ON = 3
# Places of a comparison, as shares of the shorter travel.
_PLACES = (0.0, 0.25, 0.5, 0.75, 1.0)
# Springs shown where their table is too wide for the page, besides today's.
_MOST_SPRINGS = 8


def fault(file: str, reported: wr.Fault) -> str:
    """Show a fault as compilers do: path:line:column: key: message."""
    place = ":".join(str(part) for part in (file, reported.line, reported.column) if part is not None)
    return ": ".join(part for part in (place, reported.key_path, reported.message) if part)


def numbers(quantity: Any, kind: str, units: str) -> tuple[str, Any]:
    """Take a quantity to the unit that a system has for its kind: symbol and number."""
    from wheelrate._units import spelling

    symbol = wr.unit_symbols(units)[kind]
    return symbol, quantity.m_as(spelling(symbol))


def number(quantity: Any, kind: str, units: str) -> dict[str, Any]:
    """Set a number as data."""
    symbol, value = numbers(quantity, kind, units)
    return {"value": float(value), "unit": symbol}


def listed(rows: Sequence[tuple[str, dict[str, Any] | str]], units: str) -> str:
    """Set names with numbers or words as lines of text."""
    width = max(len(name) for name, _ in rows)

    def said(entry: dict[str, Any] | str) -> str:
        if isinstance(entry, str):
            return entry
        decimals = 2 if units == "inch" or entry["unit"] in ("s", "m/s") else 1
        return f"{entry['value']:.{decimals}f} {entry['unit']}"

    return "\n".join(f"  {name.ljust(width)}  {said(entry)}" for name, entry in rows)


def travels(end: wr.FrontEnd | wr.RearEnd, at: Sequence[str], points: int) -> Any:
    """Give the travels asked for, or evenly spaced ones over the whole range."""
    import numpy as np

    return list(at) or (np.linspace(0, end.full_travel.m_as("m"), points), "m")


def tabulated(found: Any, wanted: Sequence[tuple[str, str, str, int]], units: str) -> Table:
    """Set attributes of a result as columns: attribute, head, kind, decimals of each."""
    table: Table = []
    for attribute, head, kind, decimals in wanted:
        symbol, values = numbers(getattr(found, attribute), kind, units)
        table.append((head, symbol, values.tolist(), decimals + (units == "inch" and kind in _COARSE_IN_INCHES)))
    return table


def curve(end: Any, at: list[str], points: int, units: str, fast_from: str | None = None) -> Table:
    """Tabulate an end over travels, reached slowly or fast from rest at one."""
    places = travels(end, at, points)
    found = end.curve(places) if fast_from is None else end.fast_curve(fast_from, places)
    return tabulated(found, _CURVE, units)


def comparison(first: wr.Bike, second: wr.Bike, end: End, units: str) -> Table:
    """Set one end of two bikes side by side."""
    import numpy as np

    ends = [getattr(bike, end) for bike in (first, second)]
    shorter = min(one.full_travel.m_as("m") for one in ends)
    rows: list[tuple[str, str, float | None, float | None]] = []

    def row(name: str, kind: str, pair: list[Any]) -> None:
        symbol, one = numbers(pair[0], kind, units)
        rows.append((name, symbol, float(one), float(numbers(pair[1], kind, units)[1])))

    row("full travel", "length", [one.full_travel for one in ends])
    for load in _common_loads(first, second):
        rest = [
            one.travel_under(bike.masses.sprung_load(end, load).value)
            for one, bike in zip(ends, (first, second), strict=True)
        ]
        if all(settling.state is not None for settling in rest):
            row(f"rests at under {load}", "length", [settling.state.travel for settling in rest])
    curves = [one.curve((np.array(_PLACES) * shorter, "m")) for one in ends]
    travel = curves[0].travel
    for attribute, head, kind, _ in _CURVE[2:]:
        if attribute in ("motion_ratio", "wheel_force", "wheel_rate"):
            for at in range(len(_PLACES)):
                place, number = numbers(travel[at], "length", units)
                row(f"{head} at {number:.1f} {place}", kind, [getattr(one, attribute)[at] for one in curves])
    return _side_by_side(rows)


def one_load(first: wr.Bike, second: wr.Bike, units: str) -> tuple[str, Table] | None:
    """Set the rear ends of two bikes side by side under the load of the first, with a title that says which."""
    loads = _common_loads(first, second)
    if not loads:
        return None
    load = first.masses.sprung_load("rear", loads[-1]).value
    symbol, number = numbers(load, "force", units)
    found = wr.compare({"first": first.rear, "second": second.rear}, load)
    rows = [(name, unit, one, two) for name, unit, _, (one, two) in found.table(units)]
    return f"rear, both under {loads[-1]} of the first, {number:.0f} {symbol}", _side_by_side(rows)


def standing(first: wr.Bike, second: wr.Bike, units: str) -> Table | None:
    """Set two whole bikes side by side where they rest under their riders: steering, ride heights, squat."""
    found = []
    for bike in (first, second):
        geometry = json.loads(bike.sheet(units).to_json())["geometry"]
        rows = geometry["table"]["rows"] if geometry["table"] else []
        entries = [(row[0]["text"], row[_RIDER_ON]) for row in rows]
        entries += [(line["name"], line["entry"]) for line in geometry["drive"]]
        found.append({name: entry for name, entry in entries if entry["value"] is not None})
    one, two = found
    names = [name for name in one if name in two]
    if not names:
        return None
    pairs = [(one[name]["value"], two[name]["value"]) for name in names]
    units_of = [one[name]["unit"] or "" for name in names]
    return [
        ("", "", names, 0),
        ("unit", "", units_of, 0),
        ("first", "", [pair[0] for pair in pairs], _compared(units_of)),
        ("second", "", [pair[1] for pair in pairs], _compared(units_of)),
        ("difference", "", [pair[1] - pair[0] for pair in pairs], _compared(units_of)),
    ]


def differing(table: Table) -> Table:
    """Leave out the rows that print alike in both columns."""
    (first, second) = ((values, decimals) for head, _, values, decimals in table if head in ("first", "second"))

    def shown(column: tuple[list[Any], int | list[int]], row: int) -> str:
        return printed(column[0][row], column[1], row)

    kept = [row for row in range(len(first[0])) if shown(first, row) != shown(second, row)]
    return [
        (
            head,
            unit,
            [values[row] for row in kept],
            decimals if isinstance(decimals, int) else [decimals[row] for row in kept],
        )
        for head, unit, values, decimals in table
    ]


# With which two bikes are compared, by unit: what is read off either, and a digit more. The same in every table.
_COMPARED = {"mm": 2, "in": 3, "N": 1, "kgf": 2, "lbf": 1, "deg": 2, "%": 1}


def _compared(units: list[str]) -> list[int]:
    return [_COMPARED.get(unit, 3) for unit in units]


def _side_by_side(rows: list[tuple[str, str, float | None, float | None]]) -> Table:
    change = [100 * (two / one - 1) if one and two is not None else None for _, _, one, two in rows]
    return [
        ("", "", [name for name, *_ in rows], 0),
        ("unit", "", [unit for _, unit, *_ in rows], 0),
        ("first", "", [one for *_, one, _ in rows], _compared([unit for _, unit, *_ in rows])),
        ("second", "", [two for *_, two in rows], _compared([unit for _, unit, *_ in rows])),
        ("change", "%", change, 1),
    ]


def _common_loads(first: wr.Bike, second: wr.Bike) -> list[str]:
    """Name the loads that both bikes can carry: the bike alone, and with the rider."""
    names = []
    for bike in (first, second):
        try:
            names.append(bike.masses.names)
        except wr.errors.BikeError:
            return []
    both = [name for name in names[0] if name in names[1]]
    loads = ["bike"] if "bike" in both else []
    return [*loads, "bike + rider"] if "rider" in both else loads


def columns(table: Table) -> dict[str, Any]:
    """Set a table as data: unit and values by column."""
    return {head or "what": {"unit": unit or None, "values": values} for head, unit, values, _ in table}


def uncertain(number: wr.Uncertain, units: str) -> dict[str, Any]:
    """Set a number with its uncertainty as data."""
    symbol, value = numbers(number.value, number.kind, units)
    spread = numbers(number.standard_uncertainty, number.kind, units)[1]
    return {"value": value, "standard_uncertainty": spread, "unit": symbol}


def plus_minus(entry: dict[str, Any]) -> str:
    """Set a number with its uncertainty, as data, in words."""
    return f"{entry['value']:.1f} ± {entry['standard_uncertainty']:.1f} {entry['unit']}"


def fit(found: wr.Fit, units: str) -> dict[str, Any]:
    """Set a fit as data."""
    chi_square, degrees, probability = found.chi_square
    return {
        "rate": uncertain(found.rate, units),
        "springs": [uncertain(spring, units) for spring in found.springs],
        "preload": uncertain(found.preload, units),
        "friction": uncertain(found.friction, units),
        "correlation": {"order": ["rate", "preload", "friction"], "matrix": found.correlation.tolist()},
        "from_readings": {name: share.m_as("") for name, share in found.from_readings.items()},
        "loads": [
            {"load": load.load, "force": uncertain(load.fitted, units), "sag": uncertain(load.sag, units)}
            for load in found.loads
        ],
        "chi_square": {"value": chi_square, "degrees": degrees, "probability": probability},
        "findings": found.findings(units),
    }


def fit_text(found: wr.Fit, units: str) -> str:
    """Set a fit as text."""

    def shown(number: wr.Uncertain) -> str:
        return number.show(wr.unit_symbols(units)[number.kind])

    lines = [("spring rate, all together", shown(found.rate))]
    if len(found.springs) > 1:
        lines += [(f"spring {at + 1}", shown(spring)) for at, spring in enumerate(found.springs)]
    lines += [("preload", shown(found.preload)), ("friction at the wheel, either way", shown(found.friction))]
    lines += [(f"sag under {load.load}, vertical", shown(load.sag)) for load in found.loads]
    width = max(len(name) for name, _ in lines)
    body = [f"  {name.ljust(width)}  {value}" for name, value in lines]
    return "\n".join([found.end.upper(), *body, *items(found.findings(units))])


def _rehearsed(found: wr.Rehearsal) -> list[tuple[str, str, wr.Rehearsed]]:
    """List the quantities of a rehearsal: name, kind, how it fared."""
    sags = [(f"sag under {load}, vertical", "length", sag) for load, sag in found.sags.items()]
    return [
        ("spring rate, all together", "spring rate", found.rate),
        ("preload", "length", found.preload),
        ("friction", "force", found.friction),
        *sags,
    ]


def rehearsal(found: wr.Rehearsal, units: str) -> dict[str, Any]:
    """Set a rehearsal as data."""

    def fared(kind: str, one: wr.Rehearsed) -> dict[str, Any]:
        symbol, reported = numbers(one.standard_uncertainty, kind, units)
        return {
            "garages": one.garages,
            "covered_95": one.covered_95.m_as(""),
            "bias": one.bias,
            "standard_uncertainty": reported,
            "error": numbers(one.error, kind, units)[1],
            "unit": symbol,
        }

    quantities = {name: fared(kind, one) for name, kind, one in _rehearsed(found)}
    return {"garages": found.garages, "refused": found.refused, "quantities": quantities}


def rehearsal_text(found: wr.Rehearsal, units: str) -> str:
    """Set a rehearsal as text."""
    rows = _rehearsed(found)
    # Two figures, as uncertainties are stated.
    reported = [numbers(one.standard_uncertainty, kind, units) for _, kind, one in rows]
    made = [numbers(one.error, kind, units)[1] for _, kind, one in rows]
    table: Table = [
        (found.end, "", [name for name, _, _ in rows], 0),
        ("95 % covers", "%", [100 * one.covered_95.m_as("") for _, _, one in rows], 1),
        ("bias", "u", [one.bias for _, _, one in rows], 2),
        ("u stated", "", [f"{number:.2g} {symbol}" for symbol, number in reported], 0),
        ("u made", "", [f"{error:.2g} {symbol}" for (symbol, _), error in zip(reported, made, strict=True)], 0),
    ]
    refused = f", {found.refused} refused as contradictory" if found.refused else ""
    legend = "u: standard uncertainty, as stated and as the errors made say. bias: mean error in u."
    return f"{text(table)}\n{found.garages:,} simulated garages{refused}.\n{legend}"


def _range(pair: tuple[Any, Any] | None, kind: str, units: str) -> dict[str, Any] | None:
    if pair is None:
        return None
    symbol, least = numbers(pair[0], kind, units)
    return {"from": least, "to": numbers(pair[1], kind, units)[1], "unit": symbol}


def practice(said: wr.SagPractice, units: str) -> dict[str, Any]:
    """Set what common practice says of one sag as data."""
    figures = zip(said.figures, said.ranges, said.hold_own, strict=True)
    return {
        "sag": said.sag,
        "figures": [
            {
                "discipline": figure.discipline,
                "length": _range(figure.length, "length", units),
                "share": _range(figure.share, "share", units),
                "direction": figure.direction,
                "on_this_bike": _range(here, "length", units),
                "holds_own": holds,
                "basis": figure.basis,
                "note": figure.note,
            }
            for figure, here, holds in figures
        ],
        "agrees": said.agrees,
        "overlap": _range(said.overlap, "length", units),
        "own": _range(said.own, "length", units),
        "wanted": _range(said.wanted, "length", units),
        "note": said.note(units),
    }


def practice_text(end: End, found: list[wr.SagPractice], units: str) -> str:
    """Set what common practice says of the sags of one end as text."""
    if not found:
        return f"{end.upper()}\nnothing said of this end"
    decimals = 2 if units == "inch" else 1
    heads = ("sag", "figure", "on this bike", "along", "your aim", "where from")
    columns: dict[str, list[str]] = {head: [] for head in heads}

    def shown(pair: dict[str, Any] | None, digits: int) -> str:
        return f"{pair['from']:.{digits}f} to {pair['to']:.{digits}f} {pair['unit']}" if pair else ""

    for said in found:
        for row in practice(said, units)["figures"]:
            remark = f" ({row['note']})" if row["note"] else ""
            aim = {True: "inside", False: "outside", None: "not stated"}[row["holds_own"]]
            given = shown(row["length"], decimals) or f"{shown(row['share'], 0)} of travel"
            here = shown(row["on_this_bike"], decimals)
            cells = (said.sag, given, here, row["direction"], aim, row["basis"] + remark)
            for column, cell in zip(columns.values(), cells, strict=True):
                column.append(cell)
    notes = [note for said in found if (note := said.note(units))]
    return "\n".join([end.upper(), text([(head, "", cells, 0) for head, cells in columns.items()]), *items(notes)])


def scenarios_text(end: str, part: dict[str, Any]) -> str:
    """Set one end under other loads, as the sheet has it, as text."""
    from wheelrate._display import _SCENARIOS

    lines = [end.upper(), *items(part["sentences"])]
    for name, title in _SCENARIOS.items():
        lines += ["", title, entries(part[name])]
    return "\n".join(lines)


def riders_text(end: str, part: dict[str, Any]) -> str:
    """Set one end under all its riders, as the sheet has it, as text."""
    from wheelrate._display import RIDERS

    lines = [end.upper(), *items(part["sentences"])]
    for name, title in RIDERS.items():
        lines += ["", title, entries(part[name])]
    return "\n".join(lines)


def advice_text(part: dict[str, Any]) -> str:
    """Set one end's advice, as the sheet has it, as text."""
    lines = [
        part["end"].upper(),
        *wrapped(part["headline"], ">> ", "   "),
    ]
    lines += ["", *items(part["reasons"])]
    if part["springs"]:
        lines += ["", entries(part["springs"], _MOST_SPRINGS)]
    if part["next"]:
        lines += ["", "What to measure next", *items(part["next"])]
    return "\n".join(lines)
