"""What a decision weighs: every spring against what is wanted, and what it hangs on."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from wheelrate._core import Bike, quantity
from wheelrate.errors import BikeError
from wheelrate.plot._axes import INK, SMALL, SOFT, STYLES, WANTED, end_of, new_axes, part_of_sheet, plain

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from wheelrate.typing import End

# 95 % of two independent normal numbers lie within so many standard uncertainties: sqrt(-2·ln 0.05).
_COVERS_95 = 2.4477
# Springs that are named in the picture, the likeliest of them.
_NAMED = 8
# Beside the bars of a tornado, as a share of its width, for what is said of them.
_ROOM = 0.4
# Shares in an uncertainty under so many per cent say nothing; more rows than this are not read.
_LEAST_SHARE = 1.0
_MOST_ROWS = 12


def springs(bike: Bike, end: End = "rear", *, ax: Axes | None = None) -> Axes:
    """Draw every spring that was weighed over free and rider sag at its best setting, and the sags that are wanted.

    An ellipse holds both sags with 95 %, taken as independent; the box is what is wanted. The spring advised is drawn
    in full, today's with a square.

    Parameters
    ----------
    bike : Bike
        With readings and targets.
    end : {"rear", "front"}
        Which end.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> ax = wr.plot.springs(wr.demo())
    >>> ax.get_xlabel(), ax.get_ylabel()
    ('free sag, vertical (mm)', 'rider sag, vertical (mm)')
    """
    end_of(bike, end)
    decision = bike.advise_end(end)
    ax = new_axes(ax, (7.4, 4.6))
    from matplotlib.patches import Ellipse, Rectangle

    asked = json.loads(decision.to_json())
    if asked["free_sag"] and asked["rider_sag"]:
        (left, right), (low, high) = _range(asked["free_sag"]), _range(asked["rider_sag"])
        box: dict[str, Any] = {"facecolor": WANTED, "alpha": 0.18, "edgecolor": WANTED, "hatch": "//", "linewidth": 1.2}
        ax.add_patch(Rectangle((left, low), right - left, high - low, label="wanted", **box))
        ax.plot([left, right], [low, high], linestyle="none")
    for place, choice in enumerate(decision.choices):
        free, rider = choice.free_sag, choice.rider_sag
        if free is None or rider is None:
            continue
        best = decision.advised is not None and choice == decision.advised
        colour = STYLES[1]["color"] if best else STYLES[0]["color"] if choice.is_fitted else SOFT
        x, y = free.value.m_as("mm"), rider.value.m_as("mm")
        spread = [2 * _COVERS_95 * one.standard_uncertainty.m_as("mm") for one in (free, rider)]
        line: dict[str, Any] = {
            "linewidth": 2.2 if best else 1.0,
            "linestyle": "-" if best else "--" if choice.is_fitted else ":",
        }
        ax.add_patch(Ellipse((x, y), *spread, fill=best, facecolor=(*_rgb(colour), 0.12), edgecolor=colour, **line))
        rate = f"{choice.rate.m_as('N/mm'):.4g}"
        said = f"{rate} N/mm{', now' if choice.is_fitted else ''}: {_percent(choice.probability.m_as('percent'))}"
        mark: dict[str, Any] = {"marker": "s" if choice.is_fitted else "o", "markersize": 7 if best else 5}
        ax.plot(x, y, color=colour, linestyle="none", label=said if place < _NAMED else None, **mark)
        if place < _NAMED:
            # Springs lie along a line: their names go over and under it by turns.
            ax.annotate(
                rate,
                (x, y),
                (0, 8 if place % 2 else -15),
                textcoords="offset points",
                ha="center",
                fontsize=SMALL,
                color=colour,
                fontweight="bold" if best else "normal",
            )
    ax.autoscale_view()
    way = asked["direction"].replace("_", " ")
    plain(ax, f"free sag, {way} (mm)", f"rider sag, {way} (mm)", legend=False)
    ax.margins(x=0.06, y=0.06)
    ax.legend(frameon=False, fontsize=SMALL, loc="upper left", bbox_to_anchor=(1.0, 1.0), title="chance that both land")
    return ax


def tornado(bike: Bike, end: End = "rear", *, ax: Axes | None = None) -> Axes:
    """Draw how far the chance that both sags land goes up or down if something that was stated is wrong.

    Each bar goes from the chance of what is advised to the chance in that case; what would be best then stands beside
    it. The longest stands on top.

    Parameters
    ----------
    bike : Bike
        With readings and targets.
    end : {"rear", "front"}
        Which end.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.plot.tornado(wr.demo()).get_xlabel()
    'chance that both sags land (%)'
    """
    end_of(bike, end)
    table = part_of_sheet(bike, end)["doubts"]
    action = bike.advise_end(end).action
    if not table or action is None:
        raise BikeError(f"{end}: found nothing that a decision hangs on, wanted readings and targets", "Missing")
    base = action.probability.m_as("percent")
    rows = [(row[0]["text"], row[1]["text"], 100.0 * row[2]["value"]) for row in table["rows"] if _is_known(row[2])]
    rows.sort(key=lambda row: abs(row[2] - base))
    ax = new_axes(ax, (7.4, 0.6 + 0.42 * len(rows)))
    for place, (_, then, chance) in enumerate(rows):
        down = chance < base
        style = {"color": STYLES[1]["color"], "hatch": "//"} if down else {"color": STYLES[0]["color"]}
        ax.barh(place, chance - base, left=base, height=0.6, edgecolor="white", linewidth=0.4, **style)
        side = -4 if down else 4
        ax.annotate(
            f"{_percent(chance)}, {then}" if then else _percent(chance),
            (chance, place),
            (side, 0),
            textcoords="offset points",
            ha="right" if down else "left",
            va="center",
            fontsize=SMALL,
        )
    ax.axvline(base, color=INK, linewidth=1.2)
    plain(ax, "chance that both sags land (%)", "", legend=False)
    ax.grid(visible=False, axis="y")
    ax.set_yticks(range(len(rows)), [row[0] for row in rows])
    reach = [base, *(row[2] for row in rows)]
    room = _ROOM * (max(reach) - min(reach) or 1.0)
    ax.set_xlim(min(reach) - room, max(reach) + room)
    return ax


def assumed(bike: Bike, *, ax: Axes | None = None) -> Axes:
    """Draw what was assumed because nobody stated it: its share in the uncertainty of the spring and of the preload.

    Parameters
    ----------
    bike : Bike
        What to draw.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> demo = wr.demo()
    >>> scales = {"bike": ("61 kg", "64 kg"), "rider": ("30 kg", "66 kg")}
    >>> bike = wr.Bike("no form", masses=wr.Masses(scales), rear=demo.rear, readings=demo.readings[5:])
    >>> wr.plot.assumed(bike).get_xlabel()
    'share in the uncertainty (%)'
    """
    found: Any = bike.assumptions()
    if not found:
        raise BikeError("bike: found nothing that was assumed: all of it is stated", "Missing")
    rows = [one for one in found if max(one.of_spring, one.of_preload).m_as("percent") >= _LEAST_SHARE][:_MOST_ROWS][
        ::-1
    ]
    ax = new_axes(ax, (7.0, 0.9 + 0.42 * len(rows)))
    series = [("of the spring", "of_spring", "", STYLES[0]), ("of the preload", "of_preload", "//", STYLES[1])]
    for at, (name, attribute, hatch, style) in enumerate(series):
        shares = [getattr(one, attribute).m_as("percent") for one in rows]
        places = [place + 0.18 - 0.36 * at for place in range(len(rows))]
        ax.barh(places, shares, height=0.34, label=name, color=style["color"], hatch=hatch, edgecolor="white")
    plain(ax, "share in the uncertainty (%)", "", legend=True)
    ax.grid(visible=False, axis="y")
    ax.set_yticks(range(len(rows)), [f"{one.end}, {one.name.replace('`', '')}" for one in rows])
    ax.margins(x=0.05)
    return ax


def _range(target: Any) -> tuple[float, float]:
    """Find the ends of a range that is wanted, in millimetres."""
    ends = target.get("range", target)
    low, high = (quantity(ends[name], "length").m_as("mm") for name in ("from", "to"))
    return low, high


def _is_known(entry: Any) -> bool:
    return entry["value"] is not None


def _percent(chance: float) -> str:
    return "over 99 %" if chance > 99.0 else "under 1 %" if chance < 1.0 else f"{chance:.0f} %"


def _rgb(colour: str) -> tuple[float, float, float]:
    from matplotlib.colors import to_rgb

    return to_rgb(colour)
