"""What is written down at the bike: readings, and what was done to it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

import click

import wheelrate as wr
from wheelrate import _lines
from wheelrate._cli.common import BAD_INPUT, amendable, end_option, fail, key_values, named, say
from wheelrate._cli.prompts import EndOfAnswersError, amend, ask, asking, choose
from wheelrate._ends import sprung_by

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from wheelrate.typing import End

_STOPS = ("q", "quit", "stop")
_SIDES = {"low": "after pushing down", "high": "after lifting"}
_yes = click.option("--yes", is_flag=True, help="Write without asking.")
_date = click.option("--date", metavar="DATE", help='A day, "2026-06-14", or with a time; now unless given.')
_file = click.argument("file", type=click.Path(exists=True, dir_okay=False))


def _now() -> str:
    return datetime.now().strftime("%Y-%m-%d %H:%M")


def _say(text: str, indent: str = "") -> None:
    say("\n".join(_lines.wrapped(text, indent, indent)))


def _read(file: str) -> tuple[str, wr.Bike]:
    text = amendable(file)
    with named(file):
        return text, wr.Bike.from_toml(text)


@dataclass
class _Evening:
    """Readings of one evening, each tried on the file as it is said."""

    text: str
    bike: wr.Bike
    date: str
    taken: list[wr.Reading] = field(default_factory=list)
    # Ends of which the sag itself is read, and the unit of the last answer, which a number without one has.
    sags: set[str] = field(default_factory=set)
    unit: str = "mm"

    def amended(self) -> str:
        return wr.append_readings(self.text, self.taken)

    def ask(self, end: End, load: str, settled: str | None) -> wr.Reading | None:
        """Ask for one reading; what the file refuses is said, and asked again."""
        found: list[wr.Reading] = []

        def hear(answer: str) -> str:
            if answer.strip().lower() in _STOPS:
                raise EndOfAnswersError
            share = end in self.sags and "%" in answer
            said = wr.heard("share", answer) if share else wr.heard("length", answer, self.unit)
            reading = self.reading(end, load, said, settled)
            wr.append_readings(self.text, [*self.taken, reading])
            self.hold_in_travel(end, load, said)
            found[:] = [reading]
            if not share:
                self.unit = said.rsplit(" ", 1)[1]
            return said

        ask(f"{end}, {load}" + (f", {_SIDES[settled]}" if settled else ""), hear)
        return found[0] if found else None

    def hold_in_travel(self, end: End, load: str, said: str) -> None:
        """Refuse a reading that the travel has no room for, while the tape is still there."""
        # Without its side: low above high is not for the file to refuse, but for whoever reads to say which is which.
        alone = self.reading(end, load, said, None)
        text = wr.append_readings(self.text, [*self.taken, alone])
        here = f"reading {len(self.bike.readings) + len(self.taken) + 1}."
        for fault in wr.check(text):
            if fault.key_path.startswith(here):
                raise wr.errors.SetupError(fault.message)

    def reading(self, end: End, load: str, said: str, settled: str | None) -> wr.Reading:
        if end in self.sags:
            return wr.Reading(end, load, None, settled, sag=said, date=self.date)
        return wr.Reading(end, load, said, settled, date=self.date)

    def take(self, end: End, load: str) -> None:
        """Take one reading after pushing down and one after lifting, or one with the wheel off the ground."""
        while True:
            sides: list[str | None] = [None] if load == "none" else list(_SIDES)
            pair = []
            for side in sides:
                _say(wr.how_to_read(self.bike, end, load, side != "high")[2], "  ")
                reading = self.ask(end, load, side)
                if reading is not None:
                    pair.append(reading)
                    self.taken.append(reading)
            if len(pair) < 2 or _out(pair[0]) <= _out(pair[1]):
                return
            said = f"pushed down reads higher than lifted ({_said(pair[0])} and {_said(pair[1])})"
            letter = choose(f"{said}: friction never does that", {"r": "read again", "s": "swap", "k": "keep"}, "r")
            if letter == "k":
                return
            self.taken = self.taken[:-2]
            if letter == "s":
                low, high = pair
                self.taken += [
                    self.reading(end, load, _said(high), low.settled),
                    self.reading(end, load, _said(low), high.settled),
                ]
                return


def _out(reading: wr.Reading) -> float:
    """How far out the wheel stands, in an order that both kinds of reading share."""
    if reading.distance is not None:
        return float(reading.distance.m_as("mm"))
    if reading.share is not None:
        return -float(reading.share.m_as("percent"))
    if reading.sag is not None:
        return -float(reading.sag.m_as("mm"))
    raise AssertionError(reading)


def _said(reading: wr.Reading) -> str:
    """Say the number of a reading as it was said."""
    for number, unit in ((reading.distance, "mm"), (reading.share, "percent"), (reading.sag, "mm")):
        if number is not None:
            return f"{number.m_as(unit):.10g} {'%' if unit == 'percent' else unit}"
    raise AssertionError(reading)


@click.command()
@_file
@end_option
@click.option(
    "--load", "loads", multiple=True, metavar="LOAD", help='Only under this load, "bike + rider"; repeatable.'
)
@click.option("--repeats", type=click.IntRange(1, 20), default=1, show_default=True, help="Rounds of all readings.")
@click.option("--sag/--distance", default=None, help="The sag itself is read, or the distance to a mark; as before.")
@_date
@_yes
def read(
    file: str, end: End | None, loads: tuple[str, ...], repeats: int, sag: bool | None, date: str | None, yes: bool
) -> None:
    """Take readings at the bike, one prompt each, and put them into FILE.

    Each prompt says how to take the reading alone. Enter skips one, q or Ctrl-D ends, Ctrl-C leaves FILE as it is. What
    is put in is shown first.
    """
    text, bike = _read(file)
    both: tuple[End, End] = ("front", "rear")
    ends: list[End] = [end] if end else [one for one in both if one in bike.ends]
    if not ends:
        fail(f"{file}: nothing to read: the bike has no end; describe one under [front] or [rear]", BAD_INPUT)
    evening = _Evening(text, bike, date or _now())
    with asking():
        _give_dates(file, evening, ends)
        evening.sags = {one for one in ends if (_reads_sag(bike, one) if sag is None else sag)}
        _say(wr.how_to_read(bike, ends[0], "bike", True)[0])
        for one in ends:
            _say(f"{one}: {wr.how_to_read(bike, one, 'bike', True, sag=one in evening.sags)[1]}")
        say("Enter skips a reading, q ends.")
        for _ in range(repeats):
            for load in loads or ("none", "bike", bike.rider_load):
                for one in ends:
                    # A sag of nothing is known with the wheel off the ground.
                    if load != "none" or one not in evening.sags:
                        say(f"\n{one.upper()}, {load}")
                        evening.take(one, load)
    if not evening.taken:
        say("nothing read", err=True)
        return
    with named(file):
        amended = evening.amended()
    for fault in wr.check(amended):
        say(f"mind: {fault.message}", err=True)
    if amend(file, text, amended, yes=yes):
        with named(file):
            say("\n" + wr.Bike.from_toml(amended).sheet().to_screen(_lines.width()).rstrip("\n"))


def _reads_sag(bike: wr.Bike, end: End) -> bool:
    """Go on as the end was read before; else ask."""
    before = [reading.distance is None for reading in bike.readings if reading.end == end]
    if before:
        return before[-1]
    ways = {"s": "the sag itself", "d": "the distance from axle to mark"}
    return choose(f"{end}: what do you read", ways, "s") == "s"


def _give_dates(file: str, evening: _Evening, ends: list[End]) -> None:
    """Give readings without a date theirs: those of today are a set of their own."""
    if dated := _undated(file, evening.text, evening.bike, ends):
        day = _day_of("today, as those read now", dated, wr.Bike.from_toml) or evening.date[:10]
        evening.text = dated(day)
        evening.bike = wr.Bike.from_toml(evening.text)


def _undated(file: str, text: str, bike: wr.Bike, ends: Sequence[str]) -> Callable[[str], str] | None:
    """Give what dates the readings that have no date; nothing where all have."""
    undated = [at for at, reading in enumerate(bike.readings) if reading.date is None and reading.end in ends]
    if not undated:
        return None
    say(f"{len(undated)} reading{'s stand' if len(undated) > 1 else ' stands'} in {file} without a date.")
    return lambda day: wr.set_keys(text, {f"reading[{at}].date": day for at in undated})


def _day_of(unsaid: str, dated: Callable[[str], str], check: Callable[[str], Any]) -> str | None:
    def hear(answer: str) -> str:
        text = dated(answer.strip())
        # One answer dates many readings: what is wrong with it is said once.
        for fault in wr.check(text):
            if fault.key_path.endswith(".date"):
                raise wr.errors.BikeError(fault.message)
        check(text)
        return answer.strip()

    return ask(f"Which day were they read? Say it as 2026-05-31; Enter means {unsaid}", hear)


def _just_before(date: str) -> str:
    """Give the minute before a moment; of a day alone, the day before. What is no date is for the log to refuse."""
    form, back = ("%Y-%m-%d %H:%M", timedelta(minutes=1)) if ":" in date else ("%Y-%m-%d", timedelta(days=1))
    try:
        return (datetime.strptime(date, form) - back).strftime(form)
    except ValueError:
        return date


# What is usually done to a bike: its kind of quantity, and the keys that it may stand under, one for each leg.
_DONE = {
    "another rear spring": ("spring rate", ("rear.shock.spring.rate",)),
    "rear preload": ("length", ("rear.shock.spring.preload",)),
    "another front spring": ("spring rate", ("front.shock.spring.rate",)),
    "front preload": ("length", ("front.shock.spring.preload",)),
    "other fork springs": ("spring rate", ("front.fork.spring.rate", "front.fork.leg[{}].spring.rate")),
    "fork preload": ("length", ("front.fork.spring.preload", "front.fork.leg[{}].spring.preload")),
    "oil level in the fork": ("length", ("front.fork.air.oil_level", "front.fork.leg[{}].air.oil_level")),
}


@click.command()
@_file
@click.argument("values", metavar="[KEY=VALUE]...", nargs=-1)
@_date
@click.option("--note", "remark", metavar="TEXT", help="Anything worth remembering.")
@_yes
def note(file: str, values: tuple[str, ...], date: str | None, remark: str | None, yes: bool) -> None:
    """Note what was done to the bike: the file says how it is now, and its log what stood there before.

    Without KEY=VALUE it asks. Readings taken before stay with the bike as it was; what they found is carried into the
    changed one until it is read again. What is put in is shown first.
    """
    text, bike = _read(file)
    changed = key_values(values) if values else {}
    date = date or _now()
    now = text
    with asking():
        if not changed:
            changed = _asked(bike)
            if changed:
                remark = remark or ask("A note for the log", str.strip)
        if changed and (dated := _undated(file, text, bike, bike.ends)):

            def logged(amended: str) -> str:
                return wr.log_change(amended, date, changed, remark)

            before = _just_before(date)
            now = dated(_day_of(f"{before}, before this change", dated, logged) or before)
    if not changed:
        say("nothing noted", err=True)
        return
    with named(file):
        amended = wr.log_change(now, date, changed, remark)
    if amend(file, text, amended, yes=yes):
        say(f"next: wheelrate read {file}, to see whether it came out as expected", err=True)


def _asked(bike: wr.Bike) -> dict[str, Any]:
    """Ask what was done, of what the file has."""
    stated = [(what, kind, keys) for what, (kind, ways) in _DONE.items() if (keys := _keys(bike, ways))]
    changed: dict[str, Any] = {}
    for what, kind, keys in stated:
        now = _value(bike, keys[0])
        say(f"\n{what}: now {now}" + (f", in each of {len(keys)} legs" if len(keys) > 1 else ""))

        unit = str(now).rsplit(" ", 1)[-1]  # of a number without one

        def hear(answer: str, kind: str = kind, keys: list[str] = keys, unit: str = unit) -> str:
            said = wr.heard(kind, answer, unit)
            bike.what_if(dict.fromkeys(keys, said))
            return said

        said = ask("  changed to (Enter: not changed)", hear)
        if said is not None:
            changed |= dict.fromkeys(keys, said)
    for end in bike.ends:
        linked = end == "rear" or bike.front.is_linked
        name = f"{end} preload" if linked else "fork preload"
        main = sprung_by(bike.rear if end == "rear" else bike.front).main_spring
        if main is not None and name not in {what for what, _, _ in stated}:
            say()
            _say(
                f"{name}: not stated, so a turned collar or a cut spacer cannot be noted. State it once, measured or "
                f"as a guess with `preload_uncertainty` under [prior.{end}]; then note what was changed."
            )
    return changed


def _keys(bike: wr.Bike, ways: tuple[str, ...]) -> list[str]:
    """Name the keys of the file that something stands under, one for each leg where the file has them apart."""
    for way in ways:
        keys = [way.format(leg) for leg in range(_legs(bike))] if "{}" in way else [way]
        if keys and all(_value(bike, key) is not None for key in keys):
            return keys
    return []


def _legs(bike: wr.Bike) -> int:
    legs = bike.to_dict().get("front", {}).get("fork", {}).get("leg", [])  # type: ignore[attr-defined]
    return len(legs)


def _value(bike: wr.Bike, key: str) -> Any:
    """Find what the file of a bike has under a key path."""
    found: Any = bike.to_dict()
    for step in key.replace("[", ".").replace("]", "").split("."):
        try:
            found = found[int(step)] if step.isdigit() else found[step]
        except (KeyError, IndexError, TypeError):
            return None
    return found
