"""The desk: answers what the page asks, from the text of a bike file or a bike that has none.

The page keeps what is supposed and sends all of it with every question; the desk keeps the bikes that it was asked
of, by the version of their text, so that two pages on one file do not get into each other's way. What is supposed
goes through `Bike.what_if`: the springs, preloads and friction that the readings found are carried along and nothing
is fitted again. Readings that are typed in belong to the bike as it stands, and come first.
"""

from __future__ import annotations

import difflib
import hashlib
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any, cast

import wheelrate as wr
from wheelrate import _files, _report
from wheelrate._explore.measures import Shown, table
from wheelrate._explore.sliders import Keys, Slider, sliders
from wheelrate._explore.supposed import FieldError, Supposed, with_fields
from wheelrate._mechanism import _around

# Versions of the text, and bikes with readings typed in, that are kept.
_KEPT = 8


@dataclass(frozen=True)
class Read:
    """The text of a file with what was typed in, its bike, and what to mind of which field."""

    text: str | None
    shown: Shown
    minds: list[tuple[str, str]] = field(default_factory=list)


class Sitting:
    """One version of a file: its bike, what can be set on it, and what is shown of it."""

    def __init__(self, bike: wr.Bike, text: str | None, units: str, unread: list[str]) -> None:
        self.bike, self.text, self.units, self.unread = bike, text, units, unread
        self.version = hashlib.sha256((text if text is not None else repr(bike)).encode()).hexdigest()[:16]
        self.sliders: dict[str, Slider] = {slider.name: slider for slider in sliders(bike)}
        self.unit = wr.unit_symbols(units)["length"]
        self.reads_sag = {end: _reads_sag(bike, end) for end in bike.ends}
        self._read: dict[Any, Read] = {(): Read(text, Shown(bike, units))}

    def read(self, supposed: Supposed) -> Read:
        """Give the text and the bike with what was typed in read."""
        typed = (supposed.readings, supposed.date, supposed.dated) if supposed.readings or supposed.dated else ()
        found = self._read.get(typed)
        if found is None:
            if self.text is None:
                raise FieldError([("", "this bike has no file: readings cannot be put with it")])
            text, minds = supposed.amended(self.text, self.reads_sag, self.unit)
            bike, _ = with_fields(lambda: wr.read_partly(text), {"reading": "dated"})
            found = Read(text, Shown(bike, self.units), minds)
            while len(self._read) >= _KEPT:
                self._read.pop(list(self._read)[1])
            self._read[typed] = found
        return found

    def changed(self, supposed: Supposed) -> tuple[Read, wr.Bike, Keys, dict[str, str]]:
        """Give what was read, and the bike as it is supposed."""
        read = self.read(supposed)
        now = read.shown
        keys, fields = supposed.keys(now.bike, self.sliders, self.unit)
        bike = with_fields(lambda: now.bike.what_if(keys), fields) if keys else now.bike
        return read, bike, keys, fields


class Desk:
    """What a page talks to: `ask` takes one question and gives its answer, as plain data."""

    def __init__(self, bike: wr.Bike | None = None, path: Path | None = None, units: str = "metric") -> None:
        self.path, self.units = path, units
        self._sittings: dict[str, Sitting] = {}
        self._bike = bike
        #: The bike as it was supposed when last asked.
        self.last: wr.Bike = cast(wr.Bike, bike) if path is None else wr.read_partly(path.read_text("utf-8"))[0]

    def ask(self, kind: str, body: Any) -> dict[str, Any]:
        """Answer a question of the page: `start`, `answer`, `preview` or `save`."""
        answers = {"start": self._start, "answer": self._answer, "preview": self._preview, "save": self._save}
        try:
            if not isinstance(body, dict) or kind not in answers:
                raise FieldError([("", "what was sent is not what this page sends")])
            return answers[kind](body)
        except FieldError as error:
            return {"faults": error.faults}
        except wr.WheelrateError as error:
            return {"faults": [{"field": "", "message": str(error)}]}

    def _sitting(self) -> Sitting:
        """Read the file as it stands now."""
        if self.path is None:
            assert self._bike is not None
            text = _text(self._bike)
            bike: wr.Bike = self._bike
            unread: list[str] = []
        else:
            with open(self.path, encoding="utf-8", newline="") as opened:
                text = opened.read()
            try:
                bike, faults = wr.read_partly(text)
            except wr.errors.FileError as error:
                raise FieldError(("", _report.fault(self.path.name, fault)) for fault in error.faults) from error
            unread = [f"{end}: not read: {fault}" for end, of in faults.items() for fault in of]
        found = Sitting(bike, text, self.units, unread)
        found = self._sittings.setdefault(found.version, found)
        while len(self._sittings) > _KEPT:
            self._sittings.pop(next(iter(self._sittings)))
        return found

    def _of(self, body: dict[str, Any]) -> Sitting:
        version = body.get("version")
        found = self._sittings.get(version) if isinstance(version, str) else None
        if found is None:
            raise FieldError([("version", "this page is out of date: reload it")])
        return found

    def _start(self, _: dict[str, Any]) -> dict[str, Any]:
        sitting = self._sitting()
        bike, shown = sitting.bike, sitting.read(Supposed()).shown
        self.last = bike
        return {
            "version": sitting.version,
            "name": bike.name or (self.path.stem if self.path else "A bike"),
            "file": self.path.name if self.path else None,
            "unit": sitting.unit,
            "perMillimetre": float(wr.quantity("1 mm", "length").m_as(sitting.unit)),
            "units": {kind: shown.symbols[kind] for kind in ("length", "wheel rate")},
            "linkage": _linkage(bike),
            "wheelRadius": _wheel_radius(bike),
            "sliders": [slider.data() for slider in sitting.sliders.values()],
            "form": _form(bike, sitting) if sitting.text is not None else [],
            "undated": any(reading.date is None for reading in bike.readings),
            "today": datetime.now().strftime("%Y-%m-%d %H:%M"),
            **_said(sitting, shown, shown),
        }

    def _answer(self, body: dict[str, Any]) -> dict[str, Any]:
        sitting = self._of(body)
        supposed = Supposed.of(body.get("supposed"))
        read, bike, _, fields = sitting.changed(supposed)
        now = read.shown
        quick = body.get("quick") is True
        after = now if bike is now.bike else with_fields(lambda: Shown(bike, self.units, now, quick=quick), fields)
        self.last = bike
        typed = {end for end, *_ in supposed.readings}
        return {
            "linkage": _linkage(bike),
            **_said(sitting, now, after),
            "minds": [{"field": name, "message": message} for name, message in read.minds],
            # An evening that has only begun has no answer yet.
            "waiting": {end: of.notes for end, of in now.ends.items() if end in typed and of.notes},
        }

    def _amended(self, body: dict[str, Any]) -> tuple[Sitting, str]:
        """Find the text of the file as it would be saved."""
        sitting = self._of(body)
        supposed = Supposed.of(body.get("supposed"))
        if sitting.text is None or self.path is None:
            raise FieldError([("", "this bike has no file to save to: `Bike.to_toml` writes one")])
        read, _, keys, fields = sitting.changed(supposed)
        text = read.text
        assert text is not None
        if not keys:
            return sitting, text
        if body.get("how") == "mended":
            found = with_fields(lambda: wr.set_keys(text, keys), fields)
        else:
            date = str(body.get("when") or datetime.now().strftime("%Y-%m-%d %H:%M")).strip()
            note = str(body.get("note") or "").strip() or None
            fields |= {"reading": "dated", "change": "when"}
            found = with_fields(lambda: wr.log_change(text, date, keys, note), fields)
        return sitting, found

    def _preview(self, body: dict[str, Any]) -> dict[str, Any]:
        sitting, found = self._amended(body)
        lines = difflib.unified_diff((sitting.text or "").splitlines(), found.splitlines(), n=1, lineterm="")
        return {"lines": [line for line in lines if not line.startswith(("---", "+++"))]}

    def _save(self, body: dict[str, Any]) -> dict[str, Any]:
        sitting, found = self._amended(body)
        assert self.path is not None
        if found == sitting.text:
            raise FieldError([("save", "nothing is changed: there is nothing to save")])
        try:
            _files.amend(self.path, sitting.text or "", found)
        except wr.errors.OverwriteError:
            message = "the file was changed meanwhile, in another window or an editor; nothing was written"
            raise FieldError([("version", message)]) from None
        except OSError as error:
            raise FieldError([("save", f"{self.path.name}: {error.strerror or error}")]) from None
        return self._start({})


def _said(sitting: Sitting, before: Shown, after: Shown) -> dict[str, Any]:
    """Set what both bikes come to as data."""
    return {
        "rows": table(before, after),
        "ends": {end: {"before": before.ends[end].decision, "after": after.ends[end].decision} for end in after.ends},
        "curves": {end: {"before": before.ends[end].curve, "after": after.ends[end].curve} for end in after.ends},
        "without": "; ".join(part for part in (after.without, *sitting.unread) if part),
    }


def _text(bike: wr.Bike) -> str | None:
    try:
        return bike.to_toml()
    except wr.WheelrateError:  # parts of the user's own have no text
        return None


def _linkage(bike: wr.Bike) -> dict[str, Any] | None:
    """Give the mechanism as it is drawn, in millimetres, and the path of its axle."""
    try:
        linkage = bike.rear.linkage
    except wr.WheelrateError:
        return None
    bodies = linkage.mechanism.bodies
    millimetre = wr.quantity("1 mm", "length").units
    points = {name: place.m_as(millimetre).round(3).tolist() for name, place in linkage.mechanism.points.items()}
    path = linkage.curve()
    return {
        "points": points,
        "bodies": {body: _around(linkage, names) for body, names in bodies.items() if body != "frame"},
        "frame": bodies["frame"],
        "wheel": linkage.wheel,
        "shock": list(linkage.shock),
        "length": float(linkage.shock_length.m_as(millimetre)),
        "path": [path.axle_x.m_as(millimetre).round(2).tolist(), path.axle_z.m_as(millimetre).round(2).tolist()],
    }


def _wheel_radius(bike: wr.Bike) -> float | None:
    try:
        return float(bike.wheels.rear_radius.m_as("mm"))
    except wr.WheelrateError:
        return None


def _reads_sag(bike: wr.Bike, end: str) -> bool:
    """Go on as the end was read before; the sag itself where it never was."""
    before = [reading.distance is None for reading in bike.readings if reading.end == end]
    return before[-1] if before else True


def _form(bike: wr.Bike, sitting: Sitting) -> list[dict[str, Any]]:
    """List the fields for readings as on the garage form: each end under each load, pushed down and lifted."""
    sides = {"low": "pushed down", "high": "lifted"}
    fields: list[dict[str, Any]] = []
    for end in cast(Any, bike.ends):
        sag = sitting.reads_sag[end]
        for load in ("none", "bike", bike.rider_load):
            for side in ("low",) if load == "none" else ("low", "high"):
                if load == "none" and sag:  # a sag of nothing is known with the wheel off the ground
                    continue
                try:
                    how = wr.how_to_read(bike, end, load, side == "low", sag=sag)[2]
                except wr.WheelrateError:
                    continue
                fields.append(
                    {
                        "end": end,
                        "load": load,
                        "settled": None if load == "none" else side,
                        "label": "wheel off the ground" if load == "none" else f"{load}, {sides[side]}",
                        "how": how,
                        "reads": "sag" if sag else "distance",
                    }
                )
    return fields
