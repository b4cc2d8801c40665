"""Pivots from photographs."""

from __future__ import annotations

import json
from typing import Any

import click

import wheelrate as wr
from wheelrate import _report
from wheelrate._cli.common import (
    BAD_INPUT,
    fail,
    file_argument,
    is_json,
    json_option,
    named,
    say,
    show,
    text_of,
    units_option,
)

#: What a file of pictures holds, ready to be changed: one picture of the demo's rear end, two marks beside it.
EXAMPLE = """\
# Places measured by hand, x forward and z up: four at least in every picture, no three in a line.
known_uncertainty = "1 mm"
# How well a pixel was hit.
pixel_uncertainty = 2.0

[known]
swingarm_pivot = ["0 mm", "0 mm"]
axle = ["-575 mm", "-165 mm"]
shock_frame = ["-100 mm", "329 mm"]
rack = ["-560 mm", "300 mm"]

# One table for each picture: pixels to the right and down. With its width and height, the lens may bend.
[[picture]]
pixels.swingarm_pivot = [2140, 1210]
pixels.axle = [990, 1540]
pixels.shock_frame = [1940, 552]
pixels.rack = [1020, 610]
pixels.link_frame = [2008, 1406]
pixels.rocker_pivot = [1634, 1354]
"""
#: Readings off by this many times what was said of them are misread, or not in one plane.
_TOO_FAR = 2.0


@click.command()
@file_argument
@json_option
@units_option
def survey(file: str, as_json: bool, units: str) -> None:
    """Survey the pivots of a linkage from photographs: FILE holds the pixels, and places that were measured by hand.

    Prints every point with its uncertainty, and the lines for a bike file. `wheelrate survey-example` prints a FILE to
    start from.
    """
    given = _read(file)
    with named(file):
        pictures = [_tuples(picture.get("pixels", {})) for picture in given["picture"]]
        sizes = [picture.get("size") for picture in given["picture"]]
        said = {name: given[name] for name in ("known_uncertainty", "pixel_uncertainty") if name in given}
        try:
            found = wr.Survey(given["known"], pictures, sizes=[tuple(size) if size else None for size in sizes], **said)
        except (TypeError, ValueError) as error:
            if isinstance(error, wr.WheelrateError):
                raise
            fail(f"{file}: found {error}; wanted pixels as [right, down], sizes as [width, height]", BAD_INPUT)
        points = {name: _point(found, name, units) for name in found.names}
        data: dict[str, Any] = {
            "points": points,
            "misfit": found.misfit,
            "distortion": found.distortion,
            "file": _text(found),
        }

    def text() -> str:
        width = max(map(len, points))
        lines = [f"  {name:{width}}  {_place(at)}" for name, at in points.items()]
        return "\n".join(
            [
                "POINTS, x forward and z up",
                *lines,
                _misfit(found.misfit),
                "",
                "For the bike file, marks that are no pivots left out:",
                "",
                data["file"],
            ]
        )

    show(file, as_json, lambda: data, text)


@click.command("survey-example")
def survey_example() -> None:
    """Print a file of pictures to start from, for `wheelrate survey`."""
    say(EXAMPLE.rstrip())


def _read(file: str) -> dict[str, Any]:
    text = text_of(file)
    if is_json(file):
        try:
            given = json.loads(text)
        except json.JSONDecodeError as error:
            fail(f"{file}: {error}", BAD_INPUT)
    else:
        try:
            import tomllib
        except ModuleNotFoundError:
            fail(
                f"{file}: Python 3.10 reads no TOML here; write the same keys as JSON, in a file named .json",
                BAD_INPUT,
            )
        try:
            given = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            fail(f"{file}: {error}", BAD_INPUT)
    known = isinstance(given, dict) and isinstance(given.get("known"), dict)
    pictures = given.get("picture") if isinstance(given, dict) else None
    if not known or not isinstance(pictures, list) or not all(isinstance(one, dict) for one in pictures):
        fail(
            f"{file}: wanted `known` and one `picture` or more; `wheelrate survey-example` prints such a file",
            BAD_INPUT,
        )
    unknown = [key for key in given if key not in ("known", "picture", "known_uncertainty", "pixel_uncertainty")]
    unknown += [key for picture in pictures for key in picture if key not in ("pixels", "size")]
    if unknown:
        fail(
            f"{file}: unknown key `{unknown[0]}`; wanted known, known_uncertainty, pixel_uncertainty, picture; "
            "in a picture pixels, size",
            BAD_INPUT,
        )
    return given


def _tuples(pixels: Any) -> Any:
    """Pixels as pairs; what is none is left for the survey to refuse."""
    if not isinstance(pixels, dict):
        return pixels
    return {name: tuple(at) if isinstance(at, list) else at for name, at in pixels.items()}


def _point(found: wr.Survey, name: str, units: str) -> list[dict[str, Any]]:
    def entry(value: Any, spread: Any) -> dict[str, Any]:
        number = _report.number(value, "length", units)
        return {**number, "standard_uncertainty": _report.number(spread, "length", units)["value"]}

    spread: Any = found.uncertainty(name)
    return [entry(*both) for both in zip(found.points[name], spread, strict=True)]


def _place(at: list[dict[str, Any]]) -> str:
    decimals = 2 if at[0]["unit"] == "in" else 1
    return "  ".join(
        f"{one['value']:8.{decimals}f} ± {one['standard_uncertainty']:.{decimals}f} {one['unit']}" for one in at
    )


def _misfit(misfit: float | None) -> str:
    if misfit is None:
        return "Nothing is left over to see a misread point by: measure a fifth place, or take another picture."
    said = f"Readings are {misfit:.1f} times as far off as was said of them"
    return f"{said}: a point was misread, or does not lie in the plane." if misfit > _TOO_FAR else f"{said}."


def _text(found: wr.Survey) -> str:
    """Lines of a bike file: points in millimetres, and the one number that it holds for how well they are known."""
    lines = [
        "[rear.linkage]",
        f'point_uncertainty = "{found.coordinate_uncertainty.m_as("mm"):.1f} mm"',
        "",
        "[rear.linkage.points]",
        'unit = "mm"',
    ]
    for name, at in found.points.items():
        key = name if name.replace("_", "").replace("-", "").isalnum() and name.isascii() else json.dumps(name)
        lines.append(f"{key} = [{', '.join(f'{part:.1f}' for part in at.m_as('mm'))}]")
    return "\n".join(lines)
