"""Results as data: every class with rows, found by a walk, and back from every package with its units."""

import inspect
import io
import subprocess
import sys
import weakref

import numpy as np
import pandas
import pint
import polars
import pyarrow
import pyarrow.parquet
import pytest
import uncertainties
import xarray
from test_classes import CLASSES

import wheelrate as wr
from wheelrate import _results, _units
from wheelrate._tables import SYSTEMS

NAMES = [*_results.ROWS, *_results.MADE]
#: Arrays that are no rows of a result: a pair of coordinates, where forces bend, what is on sale, a matrix.
NO_ROWS = {
    "Chain": {"sprocket"},
    "ChainDrive": {"front_centre"},
    "Design": {"misses", "was", "now"},
    "Fit": {"correlation"},
    "Idler": {"centre"},
    "LinkagePoint": {"axle"},
    "OnSale": {"front", "rear"},
    "Road": {"wavelengths"},
    "Sprockets": {"radii", "front_centre"},
}
SI = pint.UnitRegistry()


def arrays(value):
    """Give the names of the array fields of an object."""
    names = []
    for name, member in vars(type(value)).items():
        if name.startswith("_") or not inspect.isdatadescriptor(member):
            continue
        try:
            shown = getattr(value, name)
        except wr.WheelrateError:
            continue
        if isinstance(getattr(shown, "m", shown), np.ndarray) and name != "kinks":
            names.append(name)
    return set(names)


@pytest.mark.parametrize("name", CLASSES)
def test_no_array_of_any_class_is_forgotten(found, name):
    listed = set(_results.ROWS.get(name, ())) | NO_ROWS.get(name, set())
    for value in found[name]:
        if name != "SweepResult":
            assert arrays(value) <= listed, f"{name}: put them into `_results.ROWS`"


@pytest.mark.parametrize("units", SYSTEMS)
@pytest.mark.parametrize("name", NAMES)
def test_columns_are_those_of_the_result_in_every_system(found, name, units):
    for value in found[name]:
        columns = value.columns(units)
        lengths = {len(column) for column in columns.values()}
        assert len(lengths) == 1
        for title, numbers in columns.items():
            if name not in _results.ROWS or " [" not in title:
                continue
            field, unit = title.removesuffix("]").split(" [")
            with_unit = pint.get_application_registry().Quantity(numbers, _units.spelling(unit))
            own = getattr(value, field)
            # Some roundings each way, and pint's own factors.
            np.testing.assert_allclose(with_unit.m_as(own.units), own.m, rtol=2e-15, atol=1e-300)


@pytest.mark.parametrize("name", NAMES)
def test_pandas(found, name):
    for value in found[name]:
        frame = value.to_pandas("metric")
        assert isinstance(frame, pandas.DataFrame)
        units = frame.attrs["units"]
        for title, numbers in value.columns("metric").items():
            field, _, unit = title.removesuffix("]").partition(" [")
            assert units.get(field, "") == unit
            assert frame[field].tolist() == pytest.approx(list(numbers), nan_ok=True) or frame[field].dtype == object
        assert frame.head(1).attrs["units"] == units


@pytest.mark.parametrize("name", NAMES)
def test_polars(found, name):
    for value in found[name]:
        frame = value.to_polars()
        assert isinstance(frame, polars.DataFrame)
        assert frame.columns == list(value.columns())


@pytest.mark.parametrize("name", NAMES)
def test_xarray_carries_units_that_pint_reads(found, name):
    for value in found[name]:
        data = value.to_xarray("inch")
        assert isinstance(data, xarray.Dataset)
        columns = value.columns("inch")
        for title, numbers in columns.items():
            field, _, unit = title.removesuffix("]").partition(" [")
            if isinstance(numbers, list):
                continue
            read = SI.Unit(data[field].attrs["units"])
            wanted = SI.Unit(_units.spelling(unit)) if unit else SI.Unit("")
            assert SI.Quantity(1.0, read).to_root_units().m == pytest.approx(SI.Quantity(1.0, wanted).to_root_units().m)
            np.testing.assert_array_equal(data[field].to_numpy(), numbers)


@pytest.mark.parametrize("name", NAMES)
def test_arrow_keeps_units_through_parquet(found, name):
    for value in found[name]:
        table = value.to_arrow("kilogram-force")
        file = io.BytesIO()
        pyarrow.parquet.write_table(table, file)
        file.seek(0)
        again = pyarrow.parquet.read_table(file)
        for title in value.columns("kilogram-force"):
            field, _, unit = title.removesuffix("]").partition(" [")
            about = again.schema.field(field).metadata or {}
            assert about.get(b"unit", b"").decode() == unit
        assert again.num_rows == table.num_rows


@pytest.mark.parametrize("name", _results.ROWS)
def test_counted_cut_and_made_an_array(found, name):
    for value in found[name]:
        first = next(iter(_results.ROWS[name]))
        many = len(value)
        assert many == len(value[first])
        shorter = value[: many // 2 + 1]
        assert type(shorter) is type(value)
        assert len(shorter) == many // 2 + 1
        for field in _results.ROWS[name]:
            one, two = (getattr(of, field) for of in (shorter, value))
            part = two[: many // 2 + 1]
            if isinstance(one, list):
                assert one == part
            else:
                np.testing.assert_allclose(getattr(one, "m", one), getattr(part, "m", part), rtol=1e-12, equal_nan=True)
        row = value[-1]
        assert list(row) == list(_results.ROWS[name])
        assert len(list(value)) == many
        block = np.asarray(value)
        assert block.shape == (many, sum(not isinstance(getattr(value, field), list) for field in _results.ROWS[name]))
        with pytest.raises(KeyError, match="the columns are"):
            value["no such column"]
        with pytest.raises(IndexError):
            value[many]


@pytest.mark.parametrize("name", NAMES)
def test_a_notebook_shows_a_table(found, name):
    for value in found[name]:
        shown = value._repr_html_()
        assert "<table>" in shown or shown.startswith("<iframe")


def test_points_bikes_and_mechanisms_are_shown():
    bike = wr.demo()
    for value in (bike, bike.rear.at("102 mm"), bike.rear.linkage.mechanism, bike.whole.settle().stance):
        assert "<table>" in value._repr_html_()
    drawn = bike.rear.linkage._repr_html_()
    assert drawn.startswith("<svg")
    assert all(name.replace("_", " ") in drawn for name in bike.rear.linkage.mechanism.points)


def test_sweeps_go_the_same_ways_in_every_system():
    axes = {"rear.shock.spring.rate": ["50 N/mm", "54 N/mm"], "rear.shock.spring.preload": ["10 mm", "14 mm"]}
    result = wr.demo().sweep(axes, ["rear.rider_sag", "rear.chance"])
    sag = result["rear.rider_sag"]
    assert result.columns("metric")["rear.rider_sag [mm]"] == pytest.approx(sag.m_as("mm"), rel=1e-14)
    assert result.columns("inch")["rear.shock.spring.rate [lbf/in]"][0] == pytest.approx(50 / 0.17512683524647636)
    frame = result.to_pandas("inch")
    assert frame.attrs["units"]["rear.rider_sag [in]"] == "in"
    assert result.to_polars("inch")["rear.rider_sag [in]"].to_list() == pytest.approx(sag.m_as("inch"))
    data = result.to_xarray("metric")
    assert data["rear.rider_sag"].attrs["units"] == "mm"
    assert SI.Unit(data["rear.chance"].attrs["units"]) == SI.Unit("percent")
    field = result.to_arrow("kilogram-force").schema.field("rear.shock.spring.rate [kgf/mm]")
    assert field.metadata[b"unit"] == b"kgf/mm"
    assert len(result[1:3]) == 2
    assert result[1:3] == result.take([1, 2])


def test_another_system_is_refused_by_name():
    with pytest.raises(wr.UnitError, match="wanted one of si, metric, kilogram-force, inch"):
        wr.demo().rear.curve().columns("imperial")


@pytest.mark.parametrize("package", ["pandas", "polars", "xarray", "pyarrow", "uncertainties", "anywidget"])
def test_what_is_missing_is_named_with_what_installs_it(package):
    ways = {
        "uncertainties": "wr.demo().fit_end('rear').rate * 2",
        "anywidget": "wr.explore(wr.demo())",
        "pyarrow": "wr.demo().rear.curve().to_arrow()",
    }
    way = ways.get(package, f"wr.demo().rear.curve().to_{package}()")
    head = f"import sys; sys.modules['{package}'] = None; import wheelrate as wr"
    code = f"{head}\ntry: {way}\nexcept ImportError as error: print(error)"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert f"needs {package}: pip install" in said
    assert "wheelrate[" in said


# ---------------------------------------------------------------------------------------------- uncertain numbers


@pytest.fixture(scope="module")
def fit():
    return wr.demo().fit_end("rear")


def test_arithmetic_keeps_the_correlation_of_a_fit(fit):
    """First order by hand, of the covariance: the package uncertainties has to say the same."""
    found = fit.rate * fit.preload
    rate, preload = (getattr(fit, name) for name in ("rate", "preload"))
    k, p = rate.value.m, preload.value.m
    uk, up = rate.standard_uncertainty.m, preload.standard_uncertainty.m
    rho = fit.correlation[0, 1]
    wanted = np.sqrt((p * uk) ** 2 + (k * up) ** 2 + 2 * k * p * rho * uk * up)
    assert found.m.nominal_value == pytest.approx(k * p, rel=1e-14)
    assert found.m.std_dev == pytest.approx(wanted, rel=1e-9)
    independent = np.hypot(p * uk, k * up)
    assert abs(wanted - independent) > 0.1 * independent


def test_numbers_of_one_fit_share_their_variables(fit):
    again = wr.demo().fit_end("rear")
    assert (fit.rate - again.rate).m.std_dev == 0
    assert (fit.springs[0] / fit.rate).m.std_dev == pytest.approx(0, abs=1e-12)
    assert (fit.rate / fit.rate_factor).m.std_dev == pytest.approx(0, abs=1e-9)
    changed = wr.demo().what_if({"rear.shock.spring.rate": "56 N/mm"}).fit_end("rear")
    assert (changed.rate - fit.rate).m.std_dev > 0


def test_equal_numbers_of_two_measurements_are_two():
    one, two = (wr.Uncertain("52 N/mm", "1 N/mm", "spring rate") for _ in range(2))
    assert one == two
    assert (one - one).m.std_dev == 0
    assert (one - two).m.std_dev == pytest.approx(2**0.5)
    assert (two + one).m.nominal_value == 104


def test_arithmetic_takes_quantities_and_numbers():
    number = wr.Uncertain("52 N/mm", "1 N/mm", "spring rate")
    length = wr.quantity("10 mm", "length")
    for found in (number * length, length.m * number * length.units):
        assert found.to("N").m.nominal_value == pytest.approx(520)
        assert found.to("N").m.std_dev == pytest.approx(10)
    assert (2 / number).m.std_dev == pytest.approx(2 / 52**2)
    assert (-number).m.nominal_value == -52
    assert isinstance(number.quantity.m, uncertainties.UFloat)


@pytest.mark.parametrize("first", ["pint, wheelrate as wr", "wheelrate as wr, pint"])
def test_a_quantity_may_stand_at_the_left(first):
    """Whichever is imported first; with a registry that is nobody's but the user's, as well."""
    code = f"""
import {first}
fit = wr.demo().fit_end("rear")
length = pint.get_application_registry().Quantity(10, "mm")
found = (length * fit.rate).to("N"), (fit.rate * length).to("N")
assert found[0].m.nominal_value == found[1].m.nominal_value == fit.rate.quantity.to("N/mm").m.nominal_value * 10
rate, preload = fit.rate, fit.preload
for nothing in (rate * preload / preload - rate, rate.value - rate + (rate - rate.value)):
    assert abs(nothing.m.nominal_value) < 1e-12 and nothing.m.std_dev < 1e-12, nothing
"""
    subprocess.run([sys.executable, "-c", code], check=True)


def test_variables_go_with_their_numbers():
    from wheelrate import _uncertain

    number = wr.Uncertain("52 N/mm", "1 N/mm", "spring rate")
    assert number.quantity.m.std_dev == 1
    place, gone = id(number), weakref.ref(number)
    del number
    assert gone() is None
    assert place not in _uncertain._VARIABLES


def test_draws_have_the_covariance_of_the_fit(fit):
    count = 40_000
    drawn = fit.draws(count, seed=3)
    assert [str(values.units) for values in drawn.values()] == ["newton / millimeter", "millimeter", "newton"]
    block = np.array([values.m for values in drawn.values()])
    wanted = fit.covariance()
    # Four standard errors of a sampled covariance of normal numbers: sqrt((c_ii c_jj + c_ij²)/n).
    spread = np.sqrt((np.outer(np.diag(wanted), np.diag(wanted)) + wanted**2) / count)
    assert np.all(np.abs(np.cov(block) - wanted) < 4 * spread)
    again = fit.draws(count, seed=3)
    assert all(np.array_equal(again[name].m, drawn[name].m) for name in drawn)


def test_covariance_in_other_units(fit):
    metric, inch = fit.covariance(), fit.covariance("inch")
    factor = np.array([1 / 0.17512683524647636, 1 / 25.4, 1 / 4.4482216152605])
    np.testing.assert_allclose(inch, metric * np.outer(factor, factor), rtol=1e-12)


# ---------------------------------------------------------------------------------------------- arrays of any shape


def test_wheel_rate_takes_any_shape():
    rear = wr.demo().rear
    travels = np.linspace(0, 250, 12)
    row = rear.curve((travels, "mm"))
    for shape in ((12,), (3, 4), (2, 3, 2), (1, 12)):
        for ask, wanted in ((rear.wheel_rate, row.wheel_rate), (rear.wheel_force, row.wheel_force)):
            found = ask((travels.reshape(shape), "mm"))
            assert found.shape == shape
            np.testing.assert_allclose(found.m.ravel(), wanted.m, rtol=1e-12)
    assert rear.wheel_rate((np.zeros((0, 2)), "mm")).shape == (0, 2)
    assert rear.wheel_rate(["0 mm", "50 mm"]).shape == (2,)
    assert np.ndim(rear.wheel_rate("50 mm").m) == np.ndim(rear.wheel_rate((np.float64(50), "mm")).m) == 0


def test_formulas_take_arrays_of_one_shape_or_a_number():
    rates = np.array([[8.0, 9.0], [10.0, 11.0]])
    found = wr.natural_frequency((rates, "N/mm"), "95 kg")
    np.testing.assert_allclose(found.m_as("Hz"), np.sqrt(rates * 1e3 / 95) / (2 * np.pi), rtol=1e-14)
    both = wr.ride_rate((rates, "N/mm"), (20 * rates, "N/mm"))
    np.testing.assert_allclose(both.m_as("N/mm"), 20 * rates**2 / (21 * rates), rtol=1e-14)
    with pytest.raises(wr.UnitError, match=r"shapes \[2, 2\] and \[3\]"):
        wr.ride_rate((rates, "N/mm"), ([1.0, 2.0, 3.0], "N/mm"))


@pytest.mark.parametrize("given", [(["5", "6"], "mm"), ((["5 mm", "6"]), "mm"), (np.array(["5", "6"]), "mm")])
def test_text_among_numbers_is_refused_with_what_would_do(given):
    for ask in (wr.demo().rear.curve, wr.demo().rear.wheel_rate):
        with pytest.raises(wr.UnitError, match="text"):
            ask(given)


def test_one_travel_says_where_a_row_goes():
    with pytest.raises(wr.UnitError, match="`curve` takes a row"):
        wr.demo().rear.at(([5.0, 6.0], "mm"))
    with pytest.raises(wr.UnitError, match="ravel"):
        wr.demo().rear.curve((np.zeros((2, 2)), "mm"))
