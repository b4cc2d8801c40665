"""One question each: what is wrong with a file, what an end does, what was read, what to do."""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING, Any, cast

import click

import wheelrate as wr
from wheelrate import _lines, _report
from wheelrate._cli.common import (
    BAD_INPUT,
    Given,
    at_option,
    end_option,
    fail,
    file_argument,
    is_json,
    json_option,
    points_option,
    say,
    supposing,
    targets_option,
    text_of,
    titled,
    units_option,
    what_if_option,
)
from wheelrate._display import PerEnd
from wheelrate._one_unit import one_unit

if TYPE_CHECKING:
    from wheelrate.typing import End


@click.command()
@file_argument
@json_option
def check(file: str, as_json: bool) -> None:
    """Report every fault of a bike file: path:line:column: key: message. Writes nothing."""
    faults = wr.check(text_of(file), json=is_json(file))
    if as_json:
        say(json.dumps([vars(fault) for fault in faults], indent=2, ensure_ascii=False))
    else:
        for fault in faults:
            say(_report.fault(file, fault))
        if not faults:
            say(f"{file}: no faults")
    if faults:
        sys.exit(BAD_INPUT)


@click.command()
@file_argument
@end_option
@at_option
@points_option
@click.option("--fast-from", metavar="TRAVEL", help="Reached fast from rest at this wheel travel, not slowly.")
@json_option
@units_option
def curve(
    file: str, end: End | None, at: tuple[str, ...], points: int, fast_from: str | None, as_json: bool, units: str
) -> None:
    """Tabulate force, rate, ratio and energy over wheel travel."""
    given = Given(file)

    def ask() -> PerEnd[Any]:
        ends = [end] if end else given.bike.ends
        return PerEnd.asked(
            ends, lambda name: _report.curve(getattr(given.bike, name), list(at), points, units, fast_from)
        )

    given.answer(end, as_json, ask, _report.columns, lambda name, table: titled({name: table}))


@click.command()
@file_argument
@end_option
@json_option
@units_option
def fit(file: str, end: End | None, as_json: bool, units: str) -> None:
    """Show spring rate, preload and friction of each end from its readings."""
    given = Given(file)
    given.answer(
        end,
        as_json,
        lambda: {end: given.bike.fit_end(end)} if end else given.bike.fit(),
        lambda one: _report.fit(one, units),
        lambda _, one: _report.fit_text(one, units),
    )


@click.command()
@file_argument
@end_option
@click.option("--garages", type=int, default=10_000, show_default=True, help="How many to simulate.")
@click.option("--seed", type=click.IntRange(0), default=0, show_default=True, help="Start of the random numbers.")
@json_option
@units_option
def rehearse(file: str, end: End | None, garages: int, seed: int, as_json: bool, units: str) -> None:
    """Show how much the readings of a bike say, over simulated garages.

    Each garage is a bike in another true state, read as FILE was read (same loads, sides, repeats, tape) and fitted:
    how often the 95 % intervals hold the truth, and what the readings are worth.
    """
    given = Given(file)
    bike = given.bike

    def ask() -> PerEnd[Any]:
        read = [name for name in bike.ends if any(reading.end == name for reading in bike.readings)]
        return PerEnd.asked([end] if end else read, lambda name: bike.study(name).rehearse(garages, seed))

    given.answer(
        end,
        as_json,
        ask,
        lambda one: _report.rehearsal(one, units),
        lambda _, one: _report.rehearsal_text(one, units),
        "no readings to rehearse",
    )


@click.command()
@click.argument("file", required=False, type=click.Path(exists=True, dir_okay=False, allow_dash=True))
@targets_option
@end_option
@json_option
@units_option
def targets(file: str | None, practice: str | None, end: End | None, as_json: bool, units: str) -> None:
    """Show what common practice says of the sags of a bike, and how its own targets stand to it.

    Without FILE, print the shipped table of common practice, to be edited and handed in with --targets.
    """
    if file is None:
        table = wr.CommonPractice.shipped()
        say(table.to_json() if as_json else wr.CommonPractice.shipped_file(), nl=False)
        return
    given = Given(file, practice)
    bike = given.bike

    def ask() -> dict[str, Any]:
        found = {name: bike.practice(cast("End", name)) for name in bike.ends if end in (None, name)}
        if bike.ends and not any(found.values()):
            known = ", ".join(bike.common_practice.disciplines)
            fail(f"{file}: state `discipline` under `[targets]`, or `kind` under `[bike]`: one of {known}", BAD_INPUT)
        return found

    given.answer(
        end,
        as_json,
        ask,
        lambda found: [_report.practice(one, units) for one in found],
        lambda name, found: _report.practice_text(name, found, units),
    )


@click.command()
@file_argument
@what_if_option
@targets_option
@end_option
@json_option
@units_option
def advise(
    file: str, supposed: tuple[str, ...], practice: str | None, end: End | None, as_json: bool, units: str
) -> None:
    """Say what to change, and weigh every spring on sale.

    With --what-if of the bike as it would be: spring, preload and friction are those that the readings found.
    """
    given = Given(file, practice)
    keys = ("glance", "headline", "verdict", "advised", "reasons", "springs", "consequences", "next")

    def ask() -> PerEnd[Any]:
        bike = supposing(given.bike, supposed)
        if end:
            bike.advise_end(end)
        decided = bike.advise()
        parts = {
            part["end"]: part for part in json.loads(bike.sheet(units).to_json())["ends"] if end in (None, part["end"])
        }
        without = {name: why for name, why in decided.without.items() if name not in parts}
        return PerEnd({name: (part, decided.get(name)) for name, part in parts.items()}, without)

    given.answer(
        end,
        as_json,
        ask,
        lambda found: (
            {key: found[0][key] for key in keys}
            | {"decision": found[1] and one_unit(json.loads(found[1].to_json()), units)}
        ),
        lambda _, found: _report.advice_text(found[0]),
        head=[f"WHAT IF {' and '.join(supposed)}"] if supposed else [],
    )


@click.command()
@file_argument
@end_option
@json_option
@units_option
def plan(file: str, end: End | None, as_json: bool, units: str) -> None:
    """Say what to read next at each end, in the order of an evening, and what each step is worth."""
    given = Given(file)

    def text(name: str, one: wr.Plan) -> str:
        worth, *steps = one.text(units)
        lines = [line for step in steps for line in _lines.wrapped(step, "", "   ")]
        return "\n".join([name.upper(), *_lines.wrapped(worth, ""), *lines])

    given.answer(
        end,
        as_json,
        lambda: PerEnd.asked([end] if end else given.bike.ends, given.bike.plan_end),
        lambda one: one_unit(json.loads(one.to_json()), units) | {"text": one.text(units)},
        text,
    )


@click.command()
@file_argument
@end_option
@json_option
@units_option
def history(file: str, end: End | None, as_json: bool, units: str) -> None:
    """Show what changed between sets of readings, whether it is more than noise, and how predictions held."""
    given = Given(file)
    given.answer(
        end,
        as_json,
        lambda: {end: given.bike.history_end(end)} if end else given.bike.history(),
        lambda one: json.loads(one.to_json(units)),
        lambda _, one: one.to_text(units, width=_lines.width()).strip(),
        "One set of readings and no change: nothing to compare yet.",
        nothing_is_fine=True,
    )


@click.command()
@file_argument
@targets_option
@end_option
@click.option(
    "--load",
    "others",
    multiple=True,
    metavar="NAME=LOAD",
    help='Another load, "with pack=bike + rider + pack", beside those of the file; give it as often as you like.',
)
@json_option
@units_option
def scenarios(
    file: str, practice: str | None, end: End | None, others: tuple[str, ...], as_json: bool, units: str
) -> None:
    """Say what to set under other loads, how far to turn from one to the other, and which spring does for all."""
    given = Given(file, practice)
    more = []
    for other in others:
        name, mark, load = other.partition("=")
        if not mark:
            fail(f'--load: found {other!r}, wanted a name and a load: "with pack=bike + rider + pack"', BAD_INPUT)
        more.append(wr.Scenario(name.strip(), load))

    def ask() -> dict[str, Any]:
        bike = given.bike.with_scenarios([*given.bike.scenarios, *more]) if more else given.bike
        if not bike.scenarios:
            fail(f"{file}: no scenario; state one under [[scenario]] or with --load", BAD_INPUT)
        return {end: bike.advise_scenarios_end(end)} if end else bike.advise_scenarios()

    given.answer(
        end,
        as_json,
        ask,
        lambda one: json.loads(one.to_json(units)),
        lambda name, one: _report.scenarios_text(name, json.loads(one.to_json(units))),
    )


@click.command()
@file_argument
@targets_option
@end_option
@click.option("--mean", metavar="MASS", help='Mean mass of the riders with kit, "92 kg"; those of FILE unless given.')
@click.option("--deviation", metavar="MASS", help="Beside --mean: its standard deviation from rider to rider.")
@json_option
@units_option
def riders(
    file: str,
    practice: str | None,
    end: End | None,
    mean: str | None,
    deviation: str | None,
    as_json: bool,
    units: str,
) -> None:
    """Show which spring suits most riders of one bike, with one preload for all and with a preload for each."""
    given = Given(file, practice)
    if (mean is None) != (deviation is None):
        fail("--mean and --deviation: found one alone, wanted both", BAD_INPUT)

    def ask() -> PerEnd[wr.EndRiders]:
        bike = given.bike if mean is None else given.bike.with_riders(wr.Riders(mean, deviation))
        if bike.riders is None:
            fail(f"{file}: no riders; state them under [riders] or with --mean and --deviation", BAD_INPUT)
        return PerEnd.asked([end] if end else bike.ends, lambda name: bike.study(name).advise_riders())

    given.answer(
        end,
        as_json,
        ask,
        lambda one: json.loads(one.to_json(units)),
        lambda name, one: _report.riders_text(name, json.loads(one.to_json(units))),
    )
