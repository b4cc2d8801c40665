"""The command line: thin over the same calls as in Python.

Exit codes: 0 done, 1 the machine's fault (cannot write, or a fault of this package), 2 bad input, 141 whoever read the
output went away (``| head``). With bad input nothing is written, and no input ends in a traceback. Every stream is
UTF-8, whatever the locale says. A page is written before anything is printed, and only over a page of this package, or
with --force; never over its own input, nor through a symbolic link.
"""

from __future__ import annotations

import io
import json
import os
import shutil
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

import wheelrate as wr
from wheelrate import _files, _report

if TYPE_CHECKING:
    from wheelrate.typing import End

# A wider page is hard to read.
_WIDEST = 110
_REPORT_WIDTH = 100
_UNITS = ["metric", "kilogram-force", "inch"]
_FAILURE, _BAD_INPUT = 1, 2
# What a shell reports of a program that a closed pipe ended: 128 and the number of that signal.
_CLOSED_PIPE = 141

_file = click.argument("file", type=click.Path(exists=True, dir_okay=False, allow_dash=True))
_json = click.option("--json", "as_json", is_flag=True, help="Print JSON instead of text.")
_units = click.option(
    "--units", type=click.Choice(_UNITS), default="metric", show_default=True, help="Units of output."
)
_end = click.option("--end", type=click.Choice(["front", "rear"]), help="Only this end.")
_targets = click.option(
    "--targets",
    "practice",
    type=click.Path(exists=True, dir_okay=False),
    help="Your own table of common practice, in place of the shipped one: see `wheelrate targets`.",
)
_html = click.option("--html", type=click.Path(dir_okay=False), help="Where to write the page.")
_force = click.option("--force", is_flag=True, help="Write the page even over a file that is no page of wheelrate's.")


class _Group(click.Group):
    """Reports every error of the package in one line on standard error; no input ever ends in a traceback."""

    def main(self, *arguments: Any, **options: Any) -> Any:
        _speak_utf8()
        return super().main(*arguments, **options)

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except wr.errors.InternalError as error:
            _fail(str(error), _FAILURE)
        except wr.WheelrateError as error:
            _fail(str(error), _BAD_INPUT)
        except BrokenPipeError:
            _leave_quietly()
        except OSError as error:
            _fail(f"{error.filename or 'output'}: {error.strerror or error}", _FAILURE)


def _speak_utf8() -> None:
    """Make every stream UTF-8; the bytes of a file name that is not pass through to standard output as they are."""
    for stream, errors in ((sys.stdin, "strict"), (sys.stdout, "surrogateescape"), (sys.stderr, "backslashreplace")):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors=errors)


def _leave_quietly() -> None:
    """End as a program does that a closed pipe ends, with nothing left to be flushed into it."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    sys.exit(_CLOSED_PIPE)


def _fail(message: str, code: int) -> None:
    click.echo(f"wheelrate: {message}", err=True)
    sys.exit(code)


@click.group(cls=_Group, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(wr.__version__, prog_name="wheelrate")
def main() -> None:
    """Spring rates and motion ratios of motorcycle suspension, from the bike itself.

    FILE is a bike file (TOML, or JSON where its name ends in .json); - reads TOML from standard input.
    """


def _text_of(file: str) -> str:
    try:
        with click.open_file(file, encoding="utf-8") as opened:
            text: str = opened.read()
            return text
    except UnicodeDecodeError as error:
        _fail(f"{file}: not UTF-8 text ({error.reason} at byte {error.start})", _BAD_INPUT)
        raise


def _is_json(file: str) -> bool:
    return file.lower().endswith(".json")


@contextmanager
def _named(file: str) -> Iterator[None]:
    """Put the file's name, and the places in it, in front of what is wrong with it."""
    try:
        yield
    except wr.errors.FileError as error:
        for fault in error.faults:
            click.echo(_report.fault(file, fault), err=True)
        sys.exit(_BAD_INPUT)
    except wr.errors.InternalError:
        raise
    except wr.WheelrateError as error:
        _fail(f"{file}: {error}", _BAD_INPUT)


def _bike(file: str) -> wr.Bike:
    text = _text_of(file)
    with _named(file):
        return wr.Bike.from_json(text) if _is_json(file) else wr.Bike.from_toml(text)


def _by(bike: wr.Bike, practice: str | None) -> wr.Bike:
    """Let a bike go by a table of common practice of the user's own."""
    if practice is None:
        return bike
    text = _text_of(practice)
    with _named(practice):
        read = wr.CommonPractice.from_json if _is_json(practice) else wr.CommonPractice.from_toml
        return bike.with_practice(read(text))


def _print(file: str, as_json: bool, data: Callable[[], Any], text: Callable[[], str]) -> None:
    with _named(file):
        page = json.dumps(data(), indent=2, ensure_ascii=False) if as_json else text()
    click.echo(page)


def _sheet_of(
    file: str, bike: wr.Bike, as_json: bool, units: str, *, html: str | None, force: bool, sources: Sequence[str] = ()
) -> None:
    """Print a sheet; its page is written first, so that what is printed may end in a closed pipe."""
    if html is not None:
        _files.writable(html, force=force, sources=sources)
    with _named(file):
        sheet = bike.sheet(units)
        page = sheet.to_html() if html is not None else ""
        width = min(_WIDEST, shutil.get_terminal_size().columns)
        text = sheet.to_json() if as_json else sheet.to_text(width).rstrip("\n")
    if html is not None:
        _files.write(html, page, force=force, sources=sources)
    click.echo(text)
    if html is not None:
        click.echo(f"written: {html}", err=True)


@main.command()
@_file
@_targets
@_html
@_force
@_json
@_units
def sheet(file: str, practice: str | None, html: str | None, force: bool, as_json: bool, units: str) -> None:
    """Print the setup sheet, and write it as one HTML page.

    The page goes beside FILE, with the ending .html, unless --html says where. With --json, or from standard input,
    it is written only where --html says so. A file that is there is replaced only if it is such a page, or with
    --force; FILE itself never is, and a symbolic link is not followed.
    """
    if html is None and not as_json and file != "-":
        html = str(Path(file).with_suffix(".html"))
    sources = [file] if practice is None else [file, practice]
    _sheet_of(file, _by(_bike(file), practice), as_json, units, html=html, force=force, sources=sources)


@main.command()
@_html
@_force
@_json
@_units
@click.option("--file", "show_file", is_flag=True, help="Print the bike file instead, to start your own from.")
def demo(html: str | None, force: bool, as_json: bool, units: str, show_file: bool) -> None:
    """Print the setup sheet of the shipped bike."""
    if show_file:
        click.echo(wr.demo_file(), nl=False)
        return
    _sheet_of("demo", wr.demo(), as_json, units, html=html, force=force)


@main.command()
@_file
@_json
def check(file: str, as_json: bool) -> None:
    """Report every fault of a bike file: path:line:column: key: message. Writes nothing."""
    faults = wr.check(_text_of(file), json=_is_json(file))
    if as_json:
        click.echo(json.dumps([vars(fault) for fault in faults], indent=2, ensure_ascii=False))
    else:
        for fault in faults:
            click.echo(_report.fault(file, fault))
        if not faults:
            click.echo(f"{file}: no faults")
    if faults:
        sys.exit(_BAD_INPUT)


@main.command()
@_file
@_end
@click.option("--at", multiple=True, metavar="TRAVEL", help='A wheel travel, "102 mm"; give it as often as you like.')
@click.option("--points", type=click.IntRange(2, 10_000), default=13, show_default=True, help="Evenly spaced travels.")
@click.option("--fast-from", metavar="TRAVEL", help="Reached fast from rest at this wheel travel, not slowly.")
@_json
@_units
def curve(
    file: str, end: End | None, at: tuple[str, ...], points: int, fast_from: str | None, as_json: bool, units: str
) -> None:
    """Tabulate force, rate, ratio and energy over wheel travel."""
    bike = _bike(file)
    with _named(file):
        ends = [end] if end else bike.ends
        curves = {name: _report.curve(getattr(bike, name), list(at), points, units, fast_from) for name in ends}
    _print(
        file, as_json, lambda: {name: _report.columns(table) for name, table in curves.items()}, lambda: _titled(curves)
    )


@main.command()
@_file
@_end
@_json
@_units
def fit(file: str, end: End | None, as_json: bool, units: str) -> None:
    """Show spring rate, preload and friction of each end from its readings."""
    bike = _bike(file)
    with _named(file):
        fits = {end: bike.fit_end(end)} if end else bike.fit()
    if not fits:
        _fail(f"{file}: nothing to fit: the bike has no end; describe one under [front] or [rear]", _BAD_INPUT)
    _print(
        file,
        as_json,
        lambda: {name: _report.fit(one, units) for name, one in fits.items()},
        lambda: "\n\n".join(_report.fit_text(one, units) for one in fits.values()),
    )


@main.command()
@_file
@_end
@click.option("--garages", type=int, default=10_000, show_default=True, help="How many to simulate.")
@click.option("--seed", type=click.IntRange(0), default=0, show_default=True, help="Start of the random numbers.")
@_json
@_units
def rehearse(file: str, end: End | None, garages: int, seed: int, as_json: bool, units: str) -> None:
    """Show how much the readings of a bike say, over simulated garages.

    Each garage is a bike in another true state, read as FILE was read (same loads, sides, repeats, tape) and fitted:
    how often the 95 % intervals hold the truth, and what the readings are worth.
    """
    bike = _bike(file)
    with _named(file):
        both: list[End] = ["front", "rear"]
        read = [name for name in both if any(reading.end == name for reading in bike.readings)]
        ends = [end] if end else [name for name in read if name in bike.ends]
        found = {name: bike.rehearse(name, garages, seed) for name in ends}
    if not found:
        _fail(f"{file}: no readings to rehearse", _BAD_INPUT)
    _print(
        file,
        as_json,
        lambda: {name: _report.rehearsal(one, units) for name, one in found.items()},
        lambda: "\n\n".join(_report.rehearsal_text(one, units) for one in found.values()),
    )


@main.command()
@click.argument("file", required=False, type=click.Path(exists=True, dir_okay=False, allow_dash=True))
@_targets
@_end
@_json
@_units
def targets(file: str | None, practice: str | None, end: End | None, as_json: bool, units: str) -> None:
    """Show what common practice says of the sags of a bike, and how its own targets stand to it.

    Without FILE, print the shipped table of common practice, to be edited and handed in with --targets.
    """
    if file is None:
        table = wr.CommonPractice.shipped()
        click.echo(table.to_json() if as_json else wr.CommonPractice.shipped_file(), nl=False)
        return
    bike = _by(_bike(file), practice)
    if bike.discipline is None:
        known = ", ".join(bike.common_practice.disciplines)
        _fail(f"{file}: state `discipline` under `[targets]`: one of {known}", _BAD_INPUT)
    with _named(file):
        both: list[End] = ["front", "rear"]
        said = {name: bike.practice(name) for name in both if name in bike.ends and end in (None, name)}
    _print(
        file,
        as_json,
        lambda: {name: [_report.practice(one, units) for one in found] for name, found in said.items()},
        lambda: "\n\n".join(_report.practice_text(name, found, units) for name, found in said.items()),
    )


@main.command()
@_file
@_targets
@_end
@_json
@_units
def advise(file: str, practice: str | None, end: End | None, as_json: bool, units: str) -> None:
    """Say what to change, and weigh every spring on sale."""
    bike = _by(_bike(file), practice)
    with _named(file):
        if end:
            bike.advise_end(end)
        parts = [part for part in json.loads(bike.sheet(units).to_json())["ends"] if end in (None, part["end"])]
        decisions = {name: json.loads(decision.to_json()) for name, decision in bike.advise().items()}
    if not parts:
        _fail(f"{file}: nothing to advise on: the bike has no end; describe one under [front] or [rear]", _BAD_INPUT)
    keys = ("headline", "verdict", "advised", "reasons", "springs", "consequences", "next")
    _print(
        file,
        as_json,
        lambda: {
            part["end"]: {key: part[key] for key in keys} | {"decision": decisions.get(part["end"])} for part in parts
        },
        lambda: "\n\n".join(_report.advice_text(part) for part in parts),
    )


@main.command()
@_file
@_end
@_json
@_units
def history(file: str, end: End | None, as_json: bool, units: str) -> None:
    """Show what changed between sets of readings, whether it is more than noise, and how predictions held."""
    bike = _bike(file)
    with _named(file):
        reported = {end: bike.history_end(end)} if end else bike.history()
    _print(
        file,
        as_json,
        lambda: {name: json.loads(one.to_json(units)) for name, one in reported.items()},
        lambda: (
            "\n".join(one.to_text(units, width=_REPORT_WIDTH) for one in reported.values()).strip()
            or "One set of readings and no change: nothing to compare yet."
        ),
    )


@main.command()
@_file
@_targets
@_end
@click.option(
    "--load",
    "others",
    multiple=True,
    metavar="NAME=LOAD",
    help='Another load, "with pack=bike + rider + pack", beside those of the file; give it as often as you like.',
)
@_json
@_units
def scenarios(
    file: str, practice: str | None, end: End | None, others: tuple[str, ...], as_json: bool, units: str
) -> None:
    """Say what to set under other loads, how far to turn from one to the other, and which spring does for all."""
    bike = _by(_bike(file), practice)
    more = []
    for other in others:
        name, mark, load = other.partition("=")
        if not mark:
            _fail(f'--load: found {other!r}, wanted a name and a load: "with pack=bike + rider + pack"', _BAD_INPUT)
        more.append(wr.Scenario(name.strip(), load))
    with _named(file):
        bike = bike.with_scenarios([*bike.scenarios, *more]) if more else bike
        if not bike.scenarios:
            _fail(f"{file}: no scenario; state one under [[scenario]] or with --load", _BAD_INPUT)
        found = {end: bike.advise_scenarios_end(end)} if end else bike.advise_scenarios()
        parts = {name: json.loads(one.to_json(units)) for name, one in found.items()}
    _print(
        file,
        as_json,
        lambda: parts,
        lambda: "\n\n".join(_report.scenarios_text(name, part) for name, part in parts.items()),
    )


_values = click.argument("values", metavar="KEY=VALUE...", nargs=-1, required=True)


def _pairs(values: tuple[str, ...]) -> dict[str, str]:
    """Key paths with their values; a value may hold more equals signs."""
    parted = {key.strip(): (mark, value.strip()) for key, mark, value in (one.partition("=") for one in values)}
    for key, (mark, _) in parted.items():
        if not mark:
            _fail(f'found {key!r}, wanted a key and a value: "rear.shock.spring.rate=56 N/mm"', _BAD_INPUT)
    return {key: value for key, (_, value) in parted.items()}


@main.command("what-if")
@_file
@_values
@_json
def what_if(file: str, values: tuple[str, ...], as_json: bool) -> None:
    """Print the bike as it would be with some values changed, for any other command to read.

    What the readings found is carried into the changed bike:
    wheelrate what-if patrol.toml "rear.shock.spring.rate=56 N/mm" | wheelrate advise -
    """
    pairs, bike = _pairs(values), _bike(file)
    with _named(file):
        changed = bike.what_if(pairs)
    _print(file, as_json, changed.to_dict, changed.to_toml)


@main.command()
@_file
@_values
@_json
def correct(file: str, values: tuple[str, ...], as_json: bool) -> None:
    """Print the bike with wrong entries mended; what was read is fitted anew on it. Comments are not kept."""
    pairs, bike = _pairs(values), _bike(file)
    with _named(file):
        mended = bike.correct(pairs)
    _print(file, as_json, mended.to_dict, mended.to_toml)


@main.command()
@click.argument("first", type=click.Path(exists=True, dir_okay=False, allow_dash=True))
@click.argument("second", type=click.Path(exists=True, dir_okay=False))
@_end
@_json
@_units
def compare(first: str, second: str, end: End | None, as_json: bool, units: str) -> None:
    """Set two bikes side by side: where they rest, force, rate and ratio over travel.

    The rear ends also under the first one's load: which spring brings back its sag, ride height, stroke left. Ride
    height needs both linkages drawn in the same axes.
    """
    one, other = _bike(first), _bike(second)
    with _named(f"{first}, {second}"):
        both: list[End] = [name for name in ("front", "rear") if name in one.ends and name in other.ends]
        ends = [end] if end else both
        tables: dict[str, Any] = {name: _report.comparison(one, other, name, units) for name in ends}
        designs = _report.one_load(one, other, units) if "rear" in ends else None
        if designs:
            title, table = designs
            tables[title] = table
    if not tables:
        _fail(f"{first}, {second}: no end that both have", _BAD_INPUT)
    _print(
        first,
        as_json,
        lambda: {name: _report.columns(table) for name, table in tables.items()},
        lambda: _titled(tables),
    )


def _titled(tables: Mapping[Any, Any]) -> str:
    return "\n\n".join(f"{name.upper()}\n{_report.text(table)}" for name, table in tables.items())
