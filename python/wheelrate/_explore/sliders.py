"""What is set on sliders: springs, preload, oil level, ride height, ballast, in the steps in which they can be set.

A slider has a name of its own and stands for one key of the bike file or several: both legs of a fork are set alike,
and ballast is carried by the scale readings of the rider. Its numbers are in the unit that it names, and go into the
file with that unit. Where the two legs are stated apart, the first leg says where the slider stands.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import wheelrate as wr
from wheelrate._core import Bike

Keys = dict[str, Any]

# A collar has four marks a turn; without a stated thread, half a millimetre: the steps in which a setting is searched.
_MARKS_A_TURN = 4
_STEP_WITHOUT_THREAD = 0.5
# Where an adjuster has no stated end: as far either way of what is set.
_PRELOAD_EITHER_WAY = 10.0
_OIL_EITHER_WAY = 30.0
_RATE_EITHER_WAY = 0.3
# Tubes in their clamps, and a shock made longer.
_CLAMPS_EITHER_WAY = 15.0
_SHOCK_EITHER_WAY = 6.0
_MOST_BALLAST = 60.0


@dataclass(frozen=True)
class Slider:
    """A number that can be set, where it stands, and the keys of the file that a setting comes to."""

    name: str
    group: str
    unit: str
    now: float
    keys: Callable[[float], Keys] = field(repr=False)
    least: float = 0.0
    most: float = 0.0
    step: float = 1.0
    choices: tuple[float, ...] = ()
    #: What a whole turn of the collar comes to.
    turn: float | None = None

    def data(self) -> dict[str, Any]:
        """Set it as data for the page."""
        stops = list(self.choices) or [self.least, self.most, self.step]
        kind = "choices" if self.choices else "range"
        return {
            "name": self.name,
            "group": self.group,
            "unit": self.unit,
            "now": self.now,
            "kind": kind,
            "turn": self.turn,
            "stops": stops,
            # The file may hold a setting between two steps: the steps are counted from it.
            "decimals": max(_decimals(stop) for stop in [*stops, self.now]),
        }


def sliders(bike: Bike) -> list[Slider]:
    """List what can be set on a bike: nothing that its file does not have."""
    keys: dict[str, Any] = bike.to_dict()
    found = [
        *_spring(bike, "rear", _of(keys, "rear", "shock"), ["rear.shock"]),
        *_spring(bike, "front", *_legs(keys)),
        *_oil(keys),
        *_ride_height(bike, keys),
        *_ballast(bike, keys),
    ]
    return [slider for slider in found if slider is not None]


def _of(keys: Any, *path: str) -> Any:
    for step in path:
        keys = keys.get(step) if isinstance(keys, dict) else None
    return keys


def _legs(keys: Keys) -> tuple[Any, list[str]]:
    """Find the leg with a spring, the fork that stands for both, or the shock, and where they stand in the file."""
    if (shock := _of(keys, "front", "shock")) is not None:
        return shock, ["front.shock"]
    fork = _of(keys, "front", "fork")
    legs = [(leg, f"front.fork.leg[{at}]") for at, leg in enumerate(_of(fork, "leg") or [])]
    sprung = [(leg, where) for leg, where in legs if "spring" in leg]
    if not legs:
        return fork, ["front.fork"]
    return (sprung[0][0] if sprung else None), [where for _, where in sprung]


def _number(text: Any, kind: str, unit: str) -> float | None:
    """Read a quantity of the file in a unit, to a millionth of it."""
    from wheelrate._units import spelling

    return None if text is None else round(float(wr.quantity(text, kind).m_as(spelling(unit))), 6)


def _unit(text: str) -> str:
    """Find the unit that the file is written in."""
    return re.sub(r"^[-+\d.eE]+\s*", "", text.strip())


def _decimals(number: float) -> int:
    return len(f"{number:.3f}".rstrip("0").partition(".")[2])


def _set(where: list[str], key: str, unit: str) -> Callable[[float], Keys]:
    return lambda number: {f"{place}.{key}": f"{number:.10g} {unit}" for place in where}


def _spring(bike: Bike, end: Any, holder: Any, where: list[str]) -> list[Slider | None]:
    spring = _of(holder, "spring")
    rate, preload = _of(spring, "rate"), _of(spring, "preload")
    found: list[Slider | None] = []
    if rate is not None:
        unit = _unit(rate)
        now = _number(rate, "spring rate", unit)
        assert now is not None
        choices = tuple(sorted({round(now, 6), *_on_sale(bike, end, now, unit)}))
        found.append(Slider(f"{end} spring", end, unit, now, _set(where, "spring.rate", unit), choices=choices))
    if preload is not None:
        found.append(_collar(end, spring, where, _unit(preload)))
    return found


def _on_sale(bike: Bike, end: Any, now: float, unit: str) -> list[float]:
    """Find the springs that the decision weighs, or a ladder of whole steps where there is no decision."""
    from wheelrate._units import spelling

    try:
        return [round(float(choice.rate.m_as(spelling(unit))), 6) for choice in bike.advise_end(end).choices]
    except wr.WheelrateError:
        return [round(now * (1.0 + _RATE_EITHER_WAY * at / 6), 2) for at in range(-6, 7)]


def _collar(end: str, spring: Any, where: list[str], unit: str) -> Slider:
    now, pitch, least, most = (
        _number(spring.get(key), "length", unit) for key in ("preload", "thread_pitch", "min_preload", "max_preload")
    )
    assert now is not None
    millimetre = _number("1 mm", "length", unit) or 1.0
    step = pitch / _MARKS_A_TURN if pitch else _STEP_WITHOUT_THREAD * millimetre
    reach = _PRELOAD_EITHER_WAY * millimetre
    # Whole steps from where the collar is now.
    low = now - step * int((now - (max(0.0, now - reach) if least is None else least)) / step + 1e-9)
    high = now + step * int(((now + reach if most is None else most) - now) / step + 1e-9)
    turn = _set(where, "spring.preload", unit)
    low, high, step = (round(one, 6) for one in (low, high, step))
    return Slider(f"{end} preload", end, unit, now, turn, least=low, most=high, step=step, turn=pitch)


def _oil(keys: Keys) -> list[Slider | None]:
    fork = _of(keys, "front", "fork")
    places = [(leg, f"front.fork.leg[{at}]") for at, leg in enumerate(_of(fork, "leg") or [])] or [(fork, "front.fork")]
    filled = [(leg, where) for leg, where in places if _of(leg, "air", "oil_level") is not None]
    if not filled:
        return []
    level = filled[0][0]["air"]["oil_level"]
    unit = _unit(level)
    now = _number(level, "length", unit)
    step = _number("1 mm", "length", unit)
    assert now is not None
    assert step is not None
    reach = _OIL_EITHER_WAY * step
    set_level = _set([where for _, where in filled], "air.oil_level", unit)
    low = now - step * int(min(reach, now) / step)
    return [Slider("oil level", "front", unit, now, set_level, least=round(low, 6), most=now + reach, step=step)]


def _longer(end: str, length: Any) -> Callable[[float], Keys]:
    stated = _number(length, "length", "mm") or 0.0
    return lambda number: {f"{end}.shock.length": f"{stated + number:.10g} mm"} if number else {}


def _ride_height(bike: Bike, keys: Keys) -> list[Slider | None]:
    found: list[Slider | None] = []
    if _of(keys, "front", "axle") is not None:
        before = _number(_of(keys, "front", "raised") or "0 mm", "length", "mm") or 0.0

        def raised(number: float) -> Keys:
            return {"front.raised": f"{before + number:.10g} mm"} if number else {}

        limit = _CLAMPS_EITHER_WAY
        found.append(Slider("tubes raised in the clamps", "front", "mm", 0.0, raised, least=-limit, most=limit))
    for end, name in (("rear", "shock made longer"), ("front", "front shock made longer")):
        if (length := _of(keys, end, "shock", "length")) is not None:
            limit = _SHOCK_EITHER_WAY
            found.append(Slider(name, end, "mm", 0.0, _longer(end, length), least=-limit, most=limit, step=0.5))
    return found


def _ballast(bike: Bike, keys: Keys) -> list[Slider | None]:
    """Carry ballast where the first mass on top of the bike is: its scale readings grow by the same share."""
    try:
        name = next(part for part in bike.rider_load.split(" + ") if part != "bike")
    except (StopIteration, wr.WheelrateError):
        return []
    stated = _of(keys, "masses", name)
    if isinstance(stated, str):
        parts = {"": stated}
    else:
        parts = {key: stated[key] for key in ("front", "rear", "total") if key in (stated or {})}
    weights = {key: _number(text, "mass", "kg") or 0.0 for key, text in parts.items()}
    total = sum(weights.values())
    if not total:
        return []

    def carried(number: float) -> Keys:
        if not number:
            return {}
        grown = {key: f"{weight * (1.0 + number / total):.10g} kg" for key, weight in weights.items()}
        return {".".join(filter(None, ("masses", name, key))): text for key, text in grown.items()}

    return [Slider(f"ballast with the {name}", "load", "kg", 0.0, carried, most=_MOST_BALLAST)]
