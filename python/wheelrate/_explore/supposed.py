"""What is supposed of a bike, as the page sends it, and the fields in which faults of it are shown."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

import wheelrate as wr
from wheelrate._explore.sliders import Keys, Slider

# More than anybody types in an evening.
_MOST_READINGS = 200


class FieldError(Exception):
    """Faults, each with the field of the page that it stands in; the empty name is none of them."""

    def __init__(self, faults: Iterable[tuple[str, str]]) -> None:
        self.faults = [{"field": name, "message": message} for name, message in dict.fromkeys(faults)]
        super().__init__("; ".join(fault["message"] for fault in self.faults))


@dataclass(frozen=True)
class Supposed:
    """Points moved, sliders set, readings typed in: text as it was written, numbers of sliders in their own unit."""

    points: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    settings: Mapping[str, float] = field(default_factory=dict)
    #: End, load, side, what was typed.
    readings: tuple[tuple[str, str, str | None, str], ...] = ()
    #: The day of those readings, and of readings in the file that have none.
    date: str = ""
    dated: str = ""

    @classmethod
    def of(cls, data: Any) -> Supposed:
        """Take it from what a page sent; what no page of ours sends is refused."""
        try:
            points = {str(name): (str(x), str(z)) for name, (x, z) in data.get("points", {}).items()}
            settings = {str(name): float(number) for name, number in data.get("settings", {}).items()}
            readings = tuple(
                (str(one["end"]), str(one["load"]), one["settled"] and str(one["settled"]), str(one["said"]))
                for one in data.get("readings", [])
            )
            date, dated = str(data.get("date", "")).strip(), str(data.get("dated", "")).strip()
        except (AttributeError, KeyError, TypeError, ValueError) as error:
            raise FieldError([("", "what was sent is not what this page sends")]) from error
        if len(readings) > _MOST_READINGS:
            raise FieldError([("", f"found {len(readings)} readings, wanted {_MOST_READINGS} at most")])
        return cls(points, settings, readings, date, dated)

    def keys(self, bike: wr.Bike, sliders: Mapping[str, Slider], unit: str) -> tuple[Keys, dict[str, str]]:
        """Find the keys of the file that are changed, and the field of the page that each belongs to."""
        keys: Keys = {}
        fields: dict[str, str] = {}
        faults = []
        known = bike.rear.linkage.mechanism.points if self.points else {}
        for name, texts in self.points.items():
            if name not in known:
                faults.append(("", f"found no point called {name}"))
                continue
            key = f"rear.linkage.points.{name}"
            fields[key] = f"points.{name}"
            try:
                keys[key] = [wr.heard("length", text, unit) for text in texts]
            except wr.WheelrateError as error:
                faults.append((f"points.{name}", str(error)))
        for name, number in self.settings.items():
            slider = sliders.get(name)
            if slider is None:
                faults.append(("", f"found nothing to set called {name}"))
                continue
            try:
                found = slider.keys(number) if number != slider.now else {}
            except wr.WheelrateError as error:
                faults.append((f"settings.{name}", str(error)))
                continue
            keys |= found
            fields |= dict.fromkeys(found, f"settings.{name}")
        if faults:
            raise FieldError(faults)
        return keys, fields

    def amended(self, text: str, reads_sag: Mapping[str, bool], unit: str) -> tuple[str, list[tuple[str, str]]]:
        """Put the readings into the text of a file, which is read no further here; and what to mind of which field."""
        before = wr.read_partly(text)[0].readings
        undated = [f"reading[{at}].date" for at, reading in enumerate(before) if reading.date is None]
        if self.dated and undated:
            dates: Any = dict.fromkeys(undated, self.dated)
            text = with_fields(lambda: wr.set_keys(text, dates), {"reading": "dated"})
        if not self.readings:
            return text, []
        taken, alone, faults = [], [], []
        last = {reading.end: reading.date or self.dated or None for reading in before}
        for at, (end, load, settled, said) in enumerate(self.readings):
            sag = bool(reads_sag.get(end))
            try:
                heard = wr.heard("share", said) if sag and "%" in said else wr.heard("length", said, unit)
                distance = None if sag else heard
                whole: Any = end
                side: Any = settled or None
                measured = heard if sag else None
                date = self.date or None
                taken.append(wr.Reading(whole, load, distance, side, sag=measured, date=date))
                # Without its side: whether low is above high is for the fit to say.
                alone.append([wr.Reading(whole, load, distance, sag=measured, date=of) for of in (date, last.get(end))])
            except wr.WheelrateError as error:
                faults.append((f"readings.{at}", str(error)))
        if faults:
            raise FieldError(faults)
        # Readings are counted from 1 in what is said of them.
        fields = {f"reading {len(before) + at + 1}.date": "date" for at in range(len(taken))}
        fields |= {f"reading {len(before) + at + 1}": f"readings.{at}" for at in range(len(taken))}
        fields["reading"] = "dated"
        try:
            found: str = with_fields(lambda: wr.append_readings(text, taken), fields)
        except FieldError as error:
            if error.faults[0]["field"]:
                raise
            # What has no place in the file is of the first reading that does not go with those before it.
            raise FieldError([(f"readings.{_first_refused(text, taken)}", str(error))]) from error
        today, as_before = (_out_of_travel(text, list(of), len(before)) for of in zip(*alone, strict=True))
        if today:
            raise FieldError((f"readings.{at}", message) for at, message in today.items())
        # The mark may be another than the last time: that is for whoever reads to say.
        minds = [(f"readings.{at}", f"if read to the same mark as before: {why}") for at, why in as_before.items()]
        return found, minds


def _out_of_travel(text: str, readings: list[wr.Reading], before: int) -> dict[int, str]:
    """Find the readings that the travel has no room for, while the tape is still there."""
    try:
        faults = wr.check(wr.append_readings(text, readings))
    except wr.WheelrateError:  # not of one set with those before
        return {}
    said = {}
    for at in range(len(readings)):
        here = f"reading {before + at + 1}."
        messages = [fault.message for fault in faults if fault.key_path.startswith(here)]
        if messages:
            said[at] = messages[0]
    return said


def _first_refused(text: str, readings: list[wr.Reading]) -> int:
    for at in range(len(readings)):
        try:
            wr.append_readings(text, readings[: at + 1])
        except wr.WheelrateError:
            return at
    return len(readings) - 1


def with_fields(work: Any, fields: Mapping[str, str]) -> Any:
    """Do something; what is wrong with it is shown in the field whose key it stands at, the closest one."""
    try:
        return work()
    except wr.errors.FileError as error:
        raise FieldError((_field(fault.key_path or "", fields), fault.message) for fault in error.faults) from error
    except wr.WheelrateError as error:
        raise FieldError([(_field(str(error.details.get("field") or ""), fields), str(error))]) from error


def _field(path: str, fields: Mapping[str, str]) -> str:
    closest = [key for key in fields if path == key or path.startswith((f"{key}.", f"{key}[", f"{key} "))]
    if closest:
        return fields[max(closest, key=len)]
    # With one thing changed, what does not go is that.
    changed = set(fields.values())
    return changed.pop() if len(changed) == 1 else ""
