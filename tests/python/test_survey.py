"""Points surveyed from photographs: against a pinhole camera, and against SciPy on the model written again."""

import json

import numpy as np
import pytest
from click.testing import CliRunner
from outside import Tolerance, agree
from scipy.optimize import least_squares

import wheelrate as wr
from wheelrate.cli import main

KNOWN = {"pivot": (0, 0), "axle": (-575, -165), "top": (-100, 329), "rack": (-560, 300), "peg": (60, -210)}
OTHERS = {"rocker": (-253, -72), "link": (-66, -98)}
TAPE, PIXEL = 0.8, 1.5  # mm, pixels
EXACT = Tolerance("pixels without an error: rounding, and the last step of the search", abs=1e-6)
LEAST_SQUARES = Tolerance("another search, derivatives by differences", abs=2e-4)
COVARIANCE = Tolerance("derivatives by differences", rel=2e-3)


def pinhole(place, yaw=0.21, pitch=-0.09, distance=2600.0, focal=4500.0):
    """Give the pixel of a place in the plane of the bike."""
    x, z = np.asarray(place, float)
    across, near = (x + 300) * np.cos(yaw), (x + 300) * np.sin(yaw)
    up, near = z * np.cos(pitch) - near * np.sin(pitch), z * np.sin(pitch) + near * np.cos(pitch)
    return np.array([2000 + focal * across / (distance - near), 1500 - focal * up / (distance - near)])


def survey(pixels, places=KNOWN, **given):
    known = {name: (place, "mm") for name, place in places.items()}
    given = {"known_uncertainty": (TAPE, "mm"), "pixel_uncertainty": PIXEL, **given}
    return wr.Survey(known, [{name: tuple(pixel) for name, pixel in pixels.items()}], **given)


def test_a_tilted_pinhole_camera_gives_the_places_back():
    places = {**KNOWN, **OTHERS}
    found = survey({name: pinhole(place) for name, place in places.items()})
    for name, place in places.items():
        agree(f"place of {name} from a pinhole camera (mm)", found.points[name].m_as("mm"), place, EXACT)
    assert found.misfit < 1e-3


def test_places_and_covariance_are_those_of_scipy():
    random = np.random.default_rng(7)
    names = [*KNOWN, *OTHERS]
    pixels = {name: pinhole(place) + random.normal(0, PIXEL, 2) for name, place in {**KNOWN, **OTHERS}.items()}
    read = {name: np.array(place) + random.normal(0, TAPE, 2) for name, place in KNOWN.items()}
    found = survey(pixels, read)
    seen = np.array([pixels[name] for name in names])
    known = np.array([read[name] for name in KNOWN])

    def off(unknown):
        places, h = unknown[: 2 * len(names)].reshape(-1, 2), np.append(unknown[2 * len(names) :], 1).reshape(3, 3)
        mapped = np.column_stack([places / 1000, np.ones(len(names))]) @ h.T
        predicted = mapped[:, :2] / mapped[:, 2:] * 1000
        tape = (places[: len(known)] - known) / TAPE
        return np.concatenate([tape.ravel(), ((predicted - seen) / PIXEL).ravel()])

    start = np.concatenate(
        [np.array([*KNOWN.values(), *OTHERS.values()], float).ravel(), [1.7, 0, 2.5, 0, -1.7, 1.5, 0, 0]]
    )
    fitted = least_squares(off, start, x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    count = 2 * len(names)
    ours = np.concatenate([found.points[name].m_as("mm") for name in names])
    agree("places by least squares, against SciPy (mm)", ours, fitted.x[:count], LEAST_SQUARES)
    freedom = len(fitted.fun) - len(fitted.x)
    misfit = np.sqrt(2 * fitted.cost / freedom)
    agree("misfit, against SciPy", found.misfit, misfit, COVARIANCE)
    covariance = np.linalg.inv(fitted.jac.T @ fitted.jac)[:count, :count] * max(1, misfit) ** 2
    agree("variances of places, against SciPy (mm²)", np.diag(found.covariance) * 1e6, np.diag(covariance), COVARIANCE)
    scale = np.sqrt(np.outer(np.diag(covariance), np.diag(covariance)))
    assert np.abs(np.array(found.covariance) * 1e6 - covariance).max() < 2e-3 * scale.max()


def test_what_is_wrong_with_a_picture_is_said():
    pixels = {name: pinhole(place) for name, place in KNOWN.items()}
    with pytest.raises(wr.errors.LinkageError, match=r"picture 1: found 3 known points"):
        survey({name: pixels[name] for name in ("pivot", "axle", "top")})
    with pytest.raises(wr.errors.LinkageError, match=r"sizes: found 2"):
        survey(pixels, sizes=[None, None])
    with pytest.raises(wr.UnitError, match=r"pixel_uncertainty"):
        survey(pixels, pixel_uncertainty=float("nan"))


def test_the_curve_takes_the_survey_along():
    linkage = wr.demo().rear.linkage
    places = {name: tuple(place.m_as("mm")) for name, place in linkage.mechanism.points.items()}
    extra = {"rack": (-560, 300), "peg": (60, -210), "bar": (300, 500)}
    pixels = {name: pinhole(place) for name, place in {**places, **extra}.items()}
    by_hand = {name: places[name] for name in ("swingarm_pivot", "axle")} | extra
    found = survey(pixels, by_hand)
    band = linkage.with_surveyed_pivots(found, travels=["102 mm"])
    assert band.motion_ratio[0] == linkage.at("102 mm").motion_ratio
    # Errors that all pivots share move them together, and the ratio less than errors of their own would.
    alone = linkage.with_pivot_uncertainty(found.coordinate_uncertainty, travels=["102 mm"])
    assert 0 < band.motion_ratio_uncertainty.m[0] < alone.motion_ratio_uncertainty.m[0]
    wheel = wr.demo().rear.with_surveyed_pivots(found, travels=["102 mm"])
    assert wheel.wheel_rate_uncertainty.m_as("N/mm")[0] > 0
    assert wheel.wheel_rate[0] == wr.demo().rear.at("102 mm").wheel_rate


def test_the_command_prints_points_with_their_uncertainty_and_lines_for_a_file(tmp_path):
    tomllib = pytest.importorskip("tomllib")

    def command(*arguments):
        return CliRunner().invoke(main, ["survey", *map(str, arguments)])

    path = tmp_path / "pictures.toml"
    path.write_text(CliRunner().invoke(main, ["survey-example"]).stdout, encoding="utf-8")
    given = tomllib.loads(path.read_text(encoding="utf-8"))
    pixels = {name: tuple(at) for name, at in given["picture"][0]["pixels"].items()}
    survey = wr.Survey(given["known"], [pixels])
    found = json.loads(command(path, "--json").stdout)
    x, z = found["points"]["link_frame"]
    assert [x["value"], z["value"]] == pytest.approx(survey.points["link_frame"].m_as("mm"))
    assert x["standard_uncertainty"] == pytest.approx(survey.uncertainty("link_frame").m_as("mm")[0])
    lines = tomllib.loads(found["file"])["rear"]["linkage"]
    assert lines["points"]["link_frame"] == pytest.approx([x["value"], z["value"]], abs=0.05)
    moved = {
        f"rear.linkage.points.{name}": [f"{part} mm" for part in lines["points"][name]]
        for name in ("link_frame", "rocker_pivot")
    }
    assert wr.demo().correct({**moved, "rear.linkage.point_uncertainty": lines["point_uncertainty"]}).rear.linkage
    said = command(path, "--units", "inch").stdout
    assert "in  " in said
    assert "[rear.linkage.points]" in said
    for text, fault in {
        "known = 3": "wanted `known` and one `picture`",
        "[known]\n[[picture]]\nlens = 3": "unknown key `lens`",
        "known = {": "pictures.toml: ",
        '[known]\na = ["0 mm", "0 mm"]\n[[picture]]\npixels.a = "left"': "pixels as [right, down]",
    }.items():
        path.write_text(text, encoding="utf-8")
        refused = command(path)
        assert refused.exit_code == 2
        assert fault in refused.output
