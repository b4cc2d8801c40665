"""What every command has in common: streams, exit codes, options, files read, what is printed.

Exit codes: 0 done, 1 the machine's fault (cannot write, or a fault of this package), 2 bad input (said after
what can be answered, where one end of a file is at fault), 141 whoever read the output went away (``| head``).
No input ends in a traceback. Every stream is UTF-8, whatever the locale says.
"""

from __future__ import annotations

import io
import json
import os
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Any, NoReturn

import click

import wheelrate as wr
from wheelrate import _files, _lines, _progress, _report
from wheelrate._extras import MissingExtraError

if TYPE_CHECKING:
    from wheelrate.typing import End

_UNITS = ["metric", "kilogram-force", "inch"]
FAILURE, BAD_INPUT = 1, 2
# Characters of the longest file that is read (`wheelrate::file::LARGEST`).
_LARGEST = 4_000_000
# What a shell reports of a program that a closed pipe ended: 128 and the number of that signal.
_CLOSED_PIPE = 141


file_argument = click.argument("file", type=click.Path(exists=True, dir_okay=False, allow_dash=True))
at_option = click.option(
    "--at", multiple=True, metavar="TRAVEL", help='A wheel travel, "102 mm"; give it as often as you like.'
)
points_option = click.option(
    "--points", type=click.IntRange(2, 10_000), default=13, show_default=True, help="Evenly spaced travels."
)
load_option = click.option(
    "--load", metavar="LOAD", help='Names of masses, "bike + rider"; that of the rider unless given.'
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON instead of text.")
units_option = click.option(
    "--units", type=click.Choice(_UNITS), default="metric", show_default=True, help="Units of output."
)
end_option = click.option("--end", type=click.Choice(["front", "rear"]), help="Only this end.")
targets_option = click.option(
    "--targets",
    "practice",
    type=click.Path(exists=True, dir_okay=False),
    help="Your own table of common practice, in place of the shipped one: see `wheelrate targets`.",
)
html_option = click.option("--html", type=click.Path(dir_okay=False), help="Where to write the page.")
full_option = click.option("--full", is_flag=True, help="Print the whole sheet, not the first screen of it.")
force_option = click.option(
    "--force", is_flag=True, help="Write the page even over a file that is no page of wheelrate's."
)


# What a command is called elsewhere.
_ALSO_CALLED = {"completions": "completion"}


class Group(click.Group):
    """Reports every error of the package in one line on standard error; no input ever ends in a traceback."""

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        return super().get_command(ctx, _ALSO_CALLED.get(cmd_name, cmd_name))

    def list_commands(self, ctx: click.Context) -> list[str]:
        """In the order in which a person comes to need them."""
        return list(self.commands)

    def main(self, *arguments: Any, **options: Any) -> Any:
        _speak_utf8()
        return super().main(*arguments, **options)

    def invoke(self, ctx: click.Context) -> Any:
        try:
            with _progress.on_terminal():
                return super().invoke(ctx)
        except (wr.errors.InternalError, MissingExtraError) as error:
            fail(str(error), FAILURE)
        except wr.WheelrateError as error:
            fail(str(error), BAD_INPUT)
        except BrokenPipeError:
            _leave_quietly()
        except OSError as error:
            fail(f"{error.filename or 'output'}: {error.strerror or error}", FAILURE)


def _speak_utf8() -> None:
    """Make every stream UTF-8; the bytes of a file name that is not pass through to standard output as they are."""
    for stream, errors in ((sys.stdin, "strict"), (sys.stdout, "surrogateescape"), (sys.stderr, "backslashreplace")):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors=errors)


def _leave_quietly() -> None:
    """End as a program does that a closed pipe ends, with nothing left to be flushed into it."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    sys.exit(_CLOSED_PIPE)


def say(text: str = "", *, err: bool = False, nl: bool = True) -> None:
    """Print; nothing in a name moves the cursor of a terminal."""
    click.echo(_lines.plain(text), err=err, nl=nl)


def fail(message: str, code: int) -> NoReturn:
    say(f"wheelrate: {message}", err=True)
    sys.exit(code)


def text_of(file: str) -> str:
    try:
        with click.open_file(file, encoding="utf-8") as opened:
            # As much of it as is refused: no file is too long for the machine.
            text: str = opened.read(_LARGEST + 1)
            return text
    except UnicodeDecodeError as error:
        fail(f"{file}: not UTF-8 text ({error.reason} at byte {error.start})", BAD_INPUT)
        raise


def amendable(file: str) -> str:
    """Read the text of a file that is to be amended, as it stands on the disk."""
    if file == "-" or is_json(file):
        fail(f"{file}: wanted a file in TOML: it has comments, and lines to put more between", BAD_INPUT)
    text_of(file)
    with open(file, encoding="utf-8", newline="") as opened:
        return opened.read()


def is_json(file: str) -> bool:
    return file.lower().endswith(".json")


@contextmanager
def named(file: str) -> Iterator[None]:
    """Put the file's name, and the places in it, in front of what is wrong with it."""
    try:
        yield
    except wr.errors.FileError as error:
        for fault in error.faults:
            say(_report.fault(file, fault), err=True)
        sys.exit(BAD_INPUT)
    except wr.errors.InternalError:
        raise
    except wr.WheelrateError as error:
        fail(f"{file}: {error}", BAD_INPUT)


def bike_of(file: str) -> wr.Bike:
    text = text_of(file)
    with named(file):
        return wr.Bike.from_json(text) if is_json(file) else wr.Bike.from_toml(text)


class Given:
    """A bike file as far as it can be read: a bad end never hides the other."""

    def __init__(self, file: str, practice: str | None = None) -> None:
        text = text_of(file)
        with named(file):
            bike, self._faults = wr.read_partly(text, json=is_json(file))
        self.file, self.bike = file, by_practice(bike, practice)
        read = dict.fromkeys(reading.end for reading in bike.readings)
        self._missing = {end: "not in the bike file, though readings of it are" for end in read if end not in bike.ends}

    @property
    def unread(self) -> dict[str, str]:
        """Say why an end could not be read."""
        return {end: f"not read: {'; '.join(map(str, faults))}" for end, faults in self._faults.items()}

    def answer(
        self,
        end: End | None,
        as_json: bool,
        ask: Callable[[], Mapping[Any, Any]],
        data: Callable[[Any], Any],
        text: Callable[[Any, Any], str],
        nothing: str = "nothing to answer: the bike has no end; describe one under [front] or [rear]",
        head: Sequence[str] = (),
        nothing_is_fine: bool = False,
    ) -> None:
        """Print what is answered of each end asked for, and why another has no answer."""
        if end in self._faults:
            self.close()
        with named(self.file):
            found = ask()
        reasons = {**self._missing, **getattr(found, "without", {}), **self.unread}
        without = {name: _lines.of_end(name, why) for name, why in reasons.items() if end in (None, name)}
        if not found and not without and not nothing_is_fine:
            fail(f"{self.file}: {nothing}", BAD_INPUT)

        def page() -> str:
            answers = [text(name, one) for name, one in found.items()]
            others = ["\n".join([name.upper(), *_lines.wrapped(why, "-- ", "   ")]) for name, why in without.items()]
            return "\n\n".join(part for part in (*head, *answers, *others) if part) or nothing

        show(
            self.file,
            as_json,
            lambda: {
                **{name: data(one) for name, one in found.items()},
                **{name: {"without": why} for name, why in without.items()},
            },
            page,
        )
        self.close(said=True)

    def close(self, *, said: bool = False) -> None:
        """End as bad input does where an end is at fault; its faults are reported unless they were said."""
        for end, faults in self._faults.items():
            count = f"{len(faults)} fault{'s' * (len(faults) > 1)}"
            lines = [_report.fault(self.file, fault) for fault in faults]
            for line in [f"{self.file}: {end} left out, with {count}"] if said else lines:
                say(line, err=True)
            sys.exit(BAD_INPUT)


def for_end(file: str, end: End, supposed: tuple[str, ...]) -> tuple[wr.Bike, Given]:
    """Read the bike for what is asked of one end alone; a fault in the other is said by `Given.close`."""
    given = Given(file)
    if end in given.unread:
        given.close()
    with named(file):
        return supposing(given.bike, supposed), given


def by_practice(bike: wr.Bike, practice: str | None) -> wr.Bike:
    """Let a bike go by a table of common practice of the user's own."""
    if practice is None:
        return bike
    text = text_of(practice)
    with named(practice):
        read = wr.CommonPractice.from_json if is_json(practice) else wr.CommonPractice.from_toml
        return bike.with_practice(read(text))


def show(file: str, as_json: bool, data: Callable[[], Any], text: Callable[[], str]) -> None:
    with named(file):
        page = json.dumps(data(), indent=2, ensure_ascii=False) if as_json else text()
    say(page)


def sheet_of(
    file: str,
    bike: wr.Bike,
    as_json: bool,
    units: str,
    *,
    html: str | None,
    full: bool = False,
    force: bool = False,
    sources: Sequence[str] = (),
    unread: dict[str, str] | None = None,
) -> None:
    """Print a sheet; its page is written first, so that what is printed may end in a closed pipe."""
    if html is not None:
        _files.writable(html, force=force, sources=sources)
    with named(file):
        sheet = bike.sheet(units, unread)
        page = sheet.to_html() if html is not None else ""
        if as_json:
            text = sheet.to_json()
        else:
            text = (sheet.to_text(_lines.width()) if full else sheet.to_screen(_lines.width())).rstrip("\n")
    if html is not None:
        _files.write(html, page, force=force, sources=sources)
    say(text)
    rest = [] if full or as_json else ["--full prints all of it"]
    said = "; ".join([f"written: {html}"] * (html is not None) + rest)
    if said:
        say(said, err=True)


values_argument = click.argument("values", metavar="KEY=VALUE...", nargs=-1, required=True)
what_if_option = click.option(
    "--what-if",
    "supposed",
    multiple=True,
    metavar="KEY=VALUE",
    help='As the bike would be, "rear.shock.spring.rate=56 N/mm"; give it as often as you like.',
)


def key_values(values: tuple[str, ...]) -> dict[str, Any]:
    """Key paths with their values; a value may hold more equals signs."""
    parted = {key.strip(): (mark, value.strip()) for key, mark, value in (one.partition("=") for one in values)}
    for key, (mark, _) in parted.items():
        if not mark:
            fail(f'found {key!r}, wanted a key and a value: "rear.shock.spring.rate=56 N/mm"', BAD_INPUT)
    return {key: _value(value) for key, (_, value) in parted.items()}


def _value(text: str) -> Any:
    """Read a list, a table or a number as the file has it; all else is text, for which the quotes may be left out."""
    try:
        import tomllib
    except ModuleNotFoundError:  # Python 3.10: lists and numbers are the same in JSON
        with suppress(json.JSONDecodeError):
            return json.loads(text)
        return text
    with suppress(tomllib.TOMLDecodeError):
        found = tomllib.loads(f"value = {text}")["value"]
        if isinstance(found, (str, int, float, list, dict)):  # a day is text here
            return found
    return text


def supposing(bike: wr.Bike, supposed: tuple[str, ...]) -> wr.Bike:
    """Change a bike as it would be; what its readings found is carried along."""
    return bike.what_if(key_values(supposed)) if supposed else bike


def titled(tables: Mapping[Any, Any]) -> str:
    return "\n\n".join(f"{name.upper()}\n{_lines.text(table)}" for name, table in tables.items())
