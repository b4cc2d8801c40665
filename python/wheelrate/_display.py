"""What a notebook and a browser show: the sheet as a page, fits and advice as tables."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from html import escape
from typing import Any, TypeVar, cast

from wheelrate import _core, _lines, _timeline, errors
from wheelrate._svg import Chart, Line, Mark, Range

T = TypeVar("T")

# Names of the page's styles for the curves, in the order of the sheet: today, then what is advised.
_STYLES = ("today", "advised")
# Stops and closing air raise force and rate many times over in the last of the travel: charts leave room for what comes
# before this share of it, and for so much more than a value there, or than a load.
_LATE = 0.75
_RATE_ROOM = 1.6
_FORCE_ROOM = 1.5

# Tables of other loads, with their titles.
_SCENARIOS = {
    "today": "How they stand today",
    "settings": "What to set for each",
    "consequences": "What follows under each",
    "springs": "Both sags land, by spring and load",
}
# Tables of an end under all its riders, with their titles.
RIDERS = {"common": "One preload for all", "own": "A preload for each"}


class PerEnd(dict[str, T]):
    """What is said of each end, by its name; a notebook shows one after the other.

    An end that has no answer is not in it: `without` says why, by its name.
    """

    def __init__(self, named: Mapping[str, T], without: Mapping[str, str] | None = None) -> None:
        super().__init__(named)
        self.without = dict(without or {})

    def __missing__(self, end: object) -> T:
        why = self.without.get(str(end))
        if why is None and not self:
            raise KeyError(
                f"found {end!r}, though there is no answer of any end: the bike has none, or nothing to answer"
            )
        raise KeyError(f"{end}: {why}" if why else f"found {end!r}, wanted one of {', '.join(map(repr, self))}")

    @classmethod
    def asked(cls, ends: Iterable[Any], ask: Callable[[Any], Any]) -> PerEnd[Any]:
        """Ask something of each end; an error is raised only where none has an answer."""
        found, refused = {}, {}
        for end in ends:
            try:
                found[end] = ask(end)
            except errors.InternalError:
                raise
            except errors.WheelrateError as error:
                refused[end] = error
        if refused and not found:
            raise next(iter(refused.values()))
        return cls(found, {end: str(error) for end, error in refused.items()})

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (dict(self), self.without)

    def _repr_html_(self) -> str:
        answered = "".join(item._repr_html_() for item in cast("Mapping[str, Any]", self).values())
        return answered + "".join(f"<p>{escape(_lines.of_end(end, why))}</p>" for end, why in self.without.items())


class Assumptions(list[Any]):
    """What was assumed, costliest first; a notebook shows it as a table."""

    _COLUMNS = ("end", "name", "value", "of_spring", "of_preload", "act")

    def rows(self) -> list[dict[str, Any]]:
        """Give one plain row an assumption, shares as numbers: for a data frame."""

        def plain(item: Any, name: str) -> Any:
            found = getattr(item, name)
            return float(found.m_as("")) if hasattr(found, "m_as") else found

        return [{name: plain(item, name) for name in self._COLUMNS} for item in self]

    def _repr_html_(self) -> str:
        def shown(value: Any) -> str:
            return f"{100.0 * value:.0f} %" if isinstance(value, float) else str(value)

        head = ["end", "assumed", "value", "of the spring", "of the preload", "removed by"]
        return comparison([head, *([shown(value) for value in row.values()] for row in self.rows())])


@cache
def _template(name: str) -> Any:
    import jinja2

    loader = jinja2.PackageLoader("wheelrate")
    environment = jinja2.Environment(
        loader=loader, autoescape=True, trim_blocks=True, lstrip_blocks=True, undefined=jinja2.StrictUndefined
    )
    environment.filters["marked"] = _marked
    return environment.get_template(name)


def _marked(sentence: str) -> Any:
    """Set what stands between backticks as code."""
    import markupsafe

    # No line ends between a number, its ± and its unit.
    sentence = re.sub(r"(?<=\d) (?=±|%|[a-zA-Z]+(?:/[a-zA-Z]+)?\b)|(?<=±) ", "\u00a0", sentence)
    parts = sentence.split("`")
    whole = "".join(f"<code>{escape(part)}</code>" if at % 2 else escape(part) for at, part in enumerate(parts))
    return markupsafe.Markup(whole)


def _words(table: dict[str, Any]) -> None:
    """Note which columns hold words only."""
    columns = range(len(table["columns"]))
    table["words"] = [all(row[at]["value"] is None for row in table["rows"]) for at in columns]
    table["kept"], table["alike"] = list(columns), []


def _say_once(table: dict[str, Any]) -> None:
    """Take out of a table what all of its rows say alike, to be said once below it."""
    said: dict[str, list[str]] = {}
    for at, head in enumerate(table["columns"]):
        texts = [row[at]["text"] for row in table["rows"]]
        if at and head and table["words"][at] and len(texts) > 1 and set(texts) == {texts[0]} != {""}:
            said.setdefault(texts[0], []).append(head)
            table["kept"].remove(at)
    table["alike"] = [f"{', '.join(heads)}, in every row: {text}" for text, heads in said.items()]


def _history(history: dict[str, Any]) -> Any:
    """Set the history of an end."""
    import markupsafe

    for table in (history["sets"], *(check["sags"] for check in history["checks"])):
        _words(table)
    history["charts"] = [
        {**part, "svg": markupsafe.Markup(part["svg"])} for part in _timeline.charts(history["points"])
    ]
    return markupsafe.Markup(_template("history.html.j2").render(history=history))


# A page within the page runs no script, whatever a name in it holds; the notebook may ask how high it is.
_SANDBOX = 'sandbox="allow-same-origin"'


def history(page: str) -> str:
    """Set the history of an end, given as JSON, into a notebook: a page within the page, as for a sheet."""
    data = json.loads(page)
    body: str = _template("history_page.html.j2").render(end=data["end"], body=_history(data))
    # As high as what is in it, where the notebook lets the page say so.
    fit = "this.style.height = this.contentDocument.documentElement.scrollHeight + 'px'"
    style = "width:100%;height:46rem;border:0"
    return f'<iframe {_SANDBOX} srcdoc="{escape(body)}" onload="{fit}" style="{style}"></iframe>'


def page(sheet: str) -> str:
    """Set a sheet, given as JSON, as one self-contained page."""
    data = json.loads(sheet)
    tables = [data["geometry"]["table"]]
    tables += [data["damping"]["ends"], data["damping"]["modes"]] if data["damping"] else []
    for end in data["ends"]:
        end["charts"] = _charts(end)
        end["history"] = _history(end["history"]) if end["history"] else None
        tables += [end[name] for name in ("springs", "consequences", "doubts", "assumed", "sags", "readings")]
        tables += [end["form"]["table"]] if end["form"] else []
        tables += [end["practice"]["table"]] if end["practice"] else []
        tables += [end["scenarios"][name] for name in _SCENARIOS] if end["scenarios"] else []
        tables += [end["riders"][name] for name in RIDERS] if end["riders"] else []
    for table in filter(None, tables):
        _words(table)
    for end in data["ends"]:
        for table in filter(None, (end["springs"], end["consequences"], end["sags"])):
            _say_once(table)
    html: str = _template("sheet.html.j2").render(sheet=data, version=_core.__version__)
    return html


def scenarios(tables: str, end: str) -> str:
    """Set one end under other loads as tables."""
    found = json.loads(tables)
    html: str = _template("scenarios.html.j2").render(title=f"{end}, under other loads", found=found, names=_SCENARIOS)
    return html


def riders(tables: str, end: str) -> str:
    """Set one end under all its riders as tables."""
    found = json.loads(tables)
    html: str = _template("scenarios.html.j2").render(title=f"{end}, all riders", found=found, names=RIDERS)
    return html


def embedded(sheet: str) -> str:
    """Set a sheet into a notebook: a page within the page, so that neither's styles reach the other."""
    return f'<iframe {_SANDBOX} srcdoc="{escape(page(sheet))}" style="width:100%;height:60rem;border:0"></iframe>'


def advice(sheet: str, end: str) -> str:
    """Set the advice on one end of a sheet as a table with its reasons."""
    parts = [part for part in json.loads(sheet)["ends"] if part["end"] == end]
    html: str = _template("advice.html.j2").render(parts=parts)
    return html


def fit(fit: Any) -> str:
    """Set a fit as a table."""
    rows = [("rate", fit.rate), ("preload", fit.preload), ("friction at the wheel", fit.friction)]
    rows += [(f"sag under {load.load}", load.sag) for load in fit.loads]
    html: str = _template("fit.html.j2").render(end=fit.end, rows=rows, findings=fit.findings())
    return html


def _late(curve: dict[str, Any], column: str) -> float:
    """Find the greatest value before the last of the travel."""
    late = _LATE * curve["travel"][-1]
    return max(value for value, travel in zip(curve[column], curve["travel"], strict=True) if travel <= late)


def _charts(end: dict[str, Any]) -> list[Any]:
    """Draw what an end does over its travel: force with loads and friction, rate, ratio."""
    import markupsafe

    curves = end["curves"]
    if not curves:
        return []
    units = curves[0]
    travel = f"wheel travel, {units['along']}, {units['travel_unit']}"
    if units["vertical"]:
        # Read along a line, the fork's: what is vertical is the same share of it everywhere, or nearly so.
        travel += f" (vertical: {units['vertical'][-1] / units['travel'][-1]:.3f} of it)"
    friction = end["friction"]["value"] or 0.0

    def lines(column: str, band: float = 0.0) -> list[Line]:
        styled = zip(curves, _STYLES, strict=False)
        return [
            Line(curve["name"], curve["travel"], curve[column], style, band if style == "today" else 0.0)
            for curve, style in styled
        ]

    marks = [Mark(mark["label"], mark["travel"], mark["force"]) for mark in end["marks"]]
    ranges = [Range(wanted["name"].split()[0], wanted["from"], wanted["to"]) for wanted in end["wanted"]]
    most = max([_late(units, "force"), *(_FORCE_ROOM * mark.y for mark in marks)])
    charts = [
        Chart(
            f"Force at the wheel, {units['force_unit']}",
            travel,
            lines("force", friction),
            marks,
            ranges,
            y_most=most,
        ),
        Chart(
            f"Rate at the wheel, {units['rate_unit']}",
            travel,
            lines("rate"),
            ranges=ranges,
            y_most=_RATE_ROOM * _late(units, "rate"),
            height=190,
        ),
    ]
    if max(units["motion_ratio"]) > 1.0001 * min(units["motion_ratio"]):
        ratio = Line("motion ratio", units["travel"], units["motion_ratio"], "ratio")
        charts.append(Chart("Motion ratio, shock per wheel", travel, [ratio], height=190))
    return [{"title": chart.title, "svg": markupsafe.Markup(chart.svg())} for chart in charts]


def comparison(cells: list[list[str]]) -> str:
    """Set a table, its first row the head, as HTML."""

    def row(of: list[str], tag: str) -> str:
        return "<tr>" + "".join(f"<{tag}>{escape(cell)}</{tag}>" for cell in of) + "</tr>"

    head, *body = cells
    return f"<table><thead>{row(head, 'th')}</thead><tbody>{''.join(row(of, 'td') for of in body)}</tbody></table>"
