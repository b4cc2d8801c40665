"""What is shown of a bike, now and as supposed: one row a measure, in a system of units.

Rates and ratios at the wheel are those at the rider sag of the springs that the readings found; sags are those of the
fit, as the decision has them. How the whole bike stands is said as on the sheet: with the springs that the file
states, without friction, so that page and sheet show one number.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from typing import Any

import numpy as np

import wheelrate as wr
from wheelrate._ends import sprung_by
from wheelrate._units import spelling

_POINTS = 41
_DECIMALS = {
    "length": 1,
    "angle": 1,
    "share": 0,
    "force": 0,
    "wheel rate": 2,
    "spring rate": 2,
    "motion ratio": 3,
}


@dataclass(frozen=True)
class Measure:
    """A measure: its text, and its number where a difference means something."""

    text: str
    number: float | None = None
    kind: str = ""


@dataclass(frozen=True)
class EndShown:
    """What is shown of one end."""

    rows: dict[str, Measure]
    decision: dict[str, Any]
    curve: dict[str, list[float]]
    notes: list[str] = field(default_factory=list)


class Shown:
    """What is shown of a bike; an end that is as on another bike is taken from there."""

    def __init__(self, bike: wr.Bike, units: str, like: Shown | None = None, *, quick: bool = False) -> None:
        self.bike, self.units, self._quick = bike, units, quick
        self.symbols = wr.unit_symbols(units)
        self._pint = _units(units)
        self.ends: dict[str, EndShown] = {}
        same_masses = like is not None and _part(bike, "masses") == _part(like.bike, "masses")
        for end in bike.ends:
            if like is not None and same_masses and getattr(bike, end) == getattr(like.bike, end):
                self.ends[end] = like.ends[end]
            else:
                self.ends[end] = self._end(end)
        self.whole, self.without = self._whole()

    def rows(self) -> dict[tuple[str, str], Measure]:
        """Give every measure by group and name, the rear first: there the pivots are."""
        found: dict[tuple[str, str], Measure] = {}
        for group, rows in (
            *((end, self.ends[end].rows) for end in ("rear", "front") if end in self.ends),
            ("whole bike", self.whole),
        ):
            found |= {(group, name): measure for name, measure in rows.items()}
        return found

    def _measure(self, number: Any, kind: str) -> Measure:
        symbol = self.symbols[kind]
        value = float(number.m_as(self._pint[kind]))
        decimals = _DECIMALS[kind] + (self.units == "inch" and kind == "length")
        unit = "" if kind == "motion ratio" else f" {symbol}"
        return Measure(f"{value:.{decimals}f}{unit}", value, kind)

    def _uncertain(self, number: wr.Uncertain) -> Measure:
        symbol = self.symbols[number.kind]
        return Measure(number.show(symbol), float(number.value.m_as(self._pint[number.kind])), number.kind)

    def difference(self, before: Measure, after: Measure) -> str:
        """Say how much is between two measures; nothing where that has no meaning, or is not seen."""
        if before.number is None or after.number is None:
            return ""
        decimals = _DECIMALS[after.kind] + (self.units == "inch" and after.kind == "length")
        said = f"{after.number - before.number:+.{decimals}f}"
        if not float(said):
            return ""
        return said.replace("-", "−")

    def _end(self, end: Any) -> EndShown:
        bike = self.bike
        stated: Any = getattr(bike, end)
        rows: dict[str, Measure] = {}
        notes: list[str] = []
        decision: wr.Decision | None = None
        try:
            decision = bike.advise_end(end)
        except wr.WheelrateError as error:
            notes.append(str(error))
        found = stated
        if decision is not None:
            found = _found(stated, decision.fit)
            under = {load.load: load for load in decision.fit.loads}
            if bike.rider_load in under:
                rows |= self._ride(end, found, under[bike.rider_load].fitted.value)
            rows |= {f"sag, {name}": self._uncertain(load.sag) for name, load in under.items()}
            rows |= self._others(end, found, under)
            rows["spring advised"] = self._advised(decision)
        return EndShown(rows, self._decision(decision, notes), self._curve(found), notes)

    def _ride(self, end: str, found: Any, load: Any) -> dict[str, Measure]:
        """Say what the wheel feels where the rider sits."""
        at = found.travel_under(load).state
        if at is None:
            return {}
        rows = {"motion ratio, rider on": self._measure(at.motion_ratio, "motion ratio")} if end == "rear" else {}
        return rows | {"wheel rate, rider on": self._measure(at.wheel_rate, "wheel rate")}

    def _others(self, end: Any, found: Any, known: Any) -> dict[str, Measure]:
        """Say the sags under the loads of the file's scenarios; without uncertainty while something is dragged."""
        if not self._quick:
            loads = self.bike.advise_scenarios_end(end).loads if self.bike.scenarios else []
            return {f"sag, {load.load}": self._uncertain(load.sag_today) for load in loads if load.load not in known}
        rows = {}
        # The readings have weighed the rider again, who is part of the other loads too.
        riders = [load for name, load in known.items() if name == self.bike.rider_load]
        heavier = sum(load.fitted.value - load.stated.value for load in riders)
        for load in {scenario.load for scenario in self.bike.scenarios} - set(known):
            state = found.travel_under(self.bike.masses.sprung_load(end, load).value + heavier).state
            if state is not None:
                rows[f"sag, {load}"] = self._measure(state.travel, "length")
        return rows

    def _advised(self, decision: wr.Decision) -> Measure:
        advised = decision.advised
        if decision.verdict == "none suits":
            return Measure("none on the list")
        if advised is None:
            return Measure(decision.verdict)
        rate = self._rate(advised.rate)
        preload = advised.preload
        said = f", preload {self._measure(preload.value, 'length').text}" if preload is not None else ""
        return Measure(f"{rate}{said}")

    def _rate(self, rate: Any) -> str:
        return f"{rate.m_as(self._pint['spring rate']):.4g} {self.symbols['spring rate']}"

    def _of(self, decision: wr.Decision) -> str:
        """Name what a chance is of, where the line above it names no spring."""
        action = decision.action
        if action is None or (decision.advised is not None and decision.verdict != "none suits"):
            return ""
        if action.rate is not None:
            return f" with {self._rate(action.rate)}"
        if action.name == "turn":
            kept = decision.advised
            return f" with the {self._rate(kept.rate)} and its collar turned" if kept else " with the collar turned"
        return " as it stands" if action.name == "leave" else ""

    def _decision(self, decision: wr.Decision | None, notes: list[str]) -> dict[str, Any]:
        if decision is None:
            nothing: dict[str, Any] = dict.fromkeys(("set", "chance", "stands"), "")
            return {**nothing, "verdict": "no advice", "headline": " ".join(notes), "next": []}
        chances = [decision.probability, *([decision.action.probability] if decision.action else [])]
        stands, *then = (_chance(float(chance.m_as(self._pint["share"]))) for chance in chances)
        chance = f"{then[0] if then else stands} that both sags land{self._of(decision)}"
        return {
            "verdict": decision.verdict,
            "set": self._advised(decision).text if decision.advised is not None else "",
            "chance": chance,
            "stands": f"as it stands {stands}" if then and not chance.endswith("as it stands") else "",
            "headline": decision.headline(self.units),
            "next": list(decision.plan.text(self.units)),
        }

    def _curve(self, end: Any) -> dict[str, list[float]]:
        """Give travel, motion ratio and wheel rate for the charts."""
        length, rate = self._pint["length"], self._pint["wheel rate"]
        full = end.full_travel.m_as(length)
        curve = end.curve((np.linspace(0.0, full, _POINTS), self.symbols["length"]))
        return {
            "travel": np.round(curve.travel.m_as(length), 3).tolist(),
            "motion_ratio": np.round(curve.motion_ratio.m, 4).tolist(),
            "wheel_rate": np.round(curve.wheel_rate.m_as(rate), 3).tolist(),
        }

    def _whole(self) -> tuple[dict[str, Measure], str]:
        """Say how the bike stands with its rider on, as far as the file says it."""
        rows: dict[str, Measure] = {}
        try:
            stance = self.bike.whole.settle().stance
            for name, kind in (("rake", "angle"), ("trail", "length"), ("wheelbase", "length")):
                rows[f"{name}, rider on"] = self._measure(getattr(stance, name), kind)
            squat = self.bike.whole.squat(travels=[stance.travel["rear"]])
            rows["anti-squat, rider on"] = self._measure(squat.anti_squat[0], "share")
        except wr.WheelrateError as error:
            return rows, str(error)
        return rows, ""


@cache
def _units(units: str) -> dict[str, Any]:
    """Find pint's units of a system once: to parse their names costs more than an answer."""
    import pint

    registry: Any = pint.get_application_registry()  # type: ignore[no-untyped-call]
    return {kind: registry.Unit(spelling(symbol)) for kind, symbol in wr.unit_symbols(units).items()}


def _chance(percent: float) -> str:
    """Say a chance as the sheet does: nothing is certain."""
    return "over 99 %" if percent > 99.0 else "under 1 %" if percent < 1.0 else f"{percent:.0f} %"


def _part(bike: wr.Bike, name: str) -> Any:
    try:
        return getattr(bike, name)
    except wr.WheelrateError:
        return None


def _found(end: Any, fit: wr.Fit) -> Any:
    """Make an end with the springs that the readings found."""
    main = sprung_by(end).main_spring
    if main is None:
        return end
    try:
        return end.with_spring_change(float(fit.rate_factor.value.to_base_units().m), fit.preload.value - main.preload)
    except wr.WheelrateError:
        return end


def table(before: Shown, after: Shown | None) -> list[dict[str, str]]:
    """Set both side by side; what only one of them has is left out of the other."""
    then = after.rows() if after else {}
    now = before.rows()
    rows = []
    for group, name in {**now, **then}:
        first, second = now.get((group, name)), then.get((group, name))
        rows.append(
            {
                "group": group,
                "name": name,
                "before": first.text if first else "",
                "after": second.text if second else "",
                "change": before.difference(first, second) if first and second else "",
            }
        )
    return rows
