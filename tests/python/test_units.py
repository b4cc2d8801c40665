"""The unit boundary: text, pairs and pint quantities in, pint quantities out."""

import fractions
import subprocess
import sys

import hypothesis.extra.numpy
import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

import wheelrate as wr
from wheelrate._units import spelling

KINDS = dict(wr.unit_tables())
UNITS = [(kind, row) for kind, rows in KINDS.items() for row in rows]
# Any finite number whose conversions stay finite.
NUMBERS = st.floats(min_value=-1e12, max_value=1e12)


@pytest.fixture(scope="module")
def exact():
    """Give a registry that computes in fractions, so that only the factors can be wrong."""
    return pint.UnitRegistry(non_int_type=fractions.Fraction, cache_folder=None)


@pytest.mark.parametrize(("kind", "row"), UNITS, ids=lambda part: part if isinstance(part, str) else part[0])
def test_every_factor_is_pints(exact, kind, row):
    symbol, _, numerator, denominator, offset = row
    si_symbol = next(s for s, _, n, d, o in KINDS[kind] if n == d and o == 0)
    unit, si = exact.Unit(spelling(symbol)), exact.Unit(spelling(si_symbol))
    zero = exact.Quantity(fractions.Fraction(0), unit).m_as(si)
    one = exact.Quantity(fractions.Fraction(1), unit).m_as(si)
    # pint's π is a decimal of its own; every other factor is exact, and ours differs by rounding alone.
    assert float(one - zero) == pytest.approx(numerator / denominator, rel=1e-15, abs=0)
    assert float(zero) == pytest.approx(offset, rel=1e-15, abs=0)


@given(st.sampled_from(UNITS), NUMBERS)
def test_the_three_ways_in_agree_to_the_bit(unit, number):
    kind, (symbol, *_) = unit
    text = wr.quantity(f"{number!r} {symbol}", kind)
    pair = wr.quantity((number, symbol), kind)
    quantity = wr.quantity(_pint(number, symbol), kind)
    assert text.units == pair.units == quantity.units
    assert text.magnitude == pair.magnitude
    assert text.magnitude == quantity.magnitude


def _pint(number, symbol):
    return pint.get_application_registry().Quantity(number, spelling(symbol))


@given(st.sampled_from(sorted(KINDS)), NUMBERS)
def test_results_come_back_in(kind, number):
    once = wr.quantity((number, KINDS[kind][0][0]), kind)
    assert wr.quantity(once, kind).magnitude == pytest.approx(once.magnitude, rel=1e-15, abs=1e-300)


@given(st.sampled_from(sorted(KINDS)), NUMBERS)
def test_a_bare_number_is_refused_with_what_to_write(kind, number):
    with pytest.raises(wr.UnitError) as refusal:
        wr.quantity(number, kind)
    assert refusal.value.case == "BareNumber"
    assert refusal.value.field == "given"
    assert f" {KINDS[kind][0][0]}" in str(refusal.value)


@pytest.mark.parametrize(
    "bare", [0, 1.5, True, np.float64(2), np.int64(3), np.array([1.0, 2.0]), None, object(), {"mm": 1}]
)
def test_other_objects_are_refused(bare):
    with pytest.raises(wr.UnitError, match="has no unit"):
        wr.quantity(bare, "length")


@given(
    hypothesis.extra.numpy.arrays(
        st.sampled_from([np.float64, np.float32, np.int32]), st.integers(0, 20), elements=st.integers(-1000, 1000)
    )
)
def test_arrays_are_read_like_scalars(numbers):
    one_by_one = [wr.quantity((float(number), "in"), "length").magnitude for number in numbers]
    for row in ((numbers, "in"), _pint(numbers, "in"), [f"{number} in" for number in numbers.tolist()]):
        read = wr.quantity(row, "length")
        assert isinstance(read.magnitude, np.ndarray)
        assert read.magnitude.tolist() == one_by_one


@pytest.mark.parametrize("bad", [np.nan, np.inf, -np.inf])
def test_what_is_not_finite_is_refused_and_named(bad):
    for wrong in ((bad, "mm"), _pint(bad, "mm"), f"{bad} mm"):
        with pytest.raises(wr.UnitError, match="finite"):
            wr.quantity(wrong, "length")
    with pytest.raises(wr.UnitError, match=r"given\[1\]") as refusal:
        wr.quantity(([1.0, bad], "mm"), "length")
    assert refusal.value.field == "given[1]"


def test_wrong_shapes_are_refused():
    for wrong in (([[1.0, 2.0]], "mm"), (["a"], "mm"), _pint(np.ones((2, 2)), "mm")):
        with pytest.raises(wr.UnitError, match="row of numbers"):
            wr.quantity(wrong, "length")


@pytest.mark.parametrize(
    ("number", "unit", "kind"),
    [
        (1.0, "N/mm", "length"),
        (1.0, "degree", "motion ratio"),
        (1.0, "dimensionless", "angle"),
        (60.0, "rpm", "frequency"),
        (20.0, "delta_degC", "temperature"),
        (1.0, "kg/mm", "damping rate"),
        (1.0, "kg", "force"),
    ],
)
def test_pint_units_of_another_kind_are_refused(number, unit, kind):
    for registry in (pint.get_application_registry(), pint.UnitRegistry(cache_folder=None)):
        with pytest.raises(wr.UnitError) as refusal:
            wr.quantity(registry.Quantity(number, unit), kind)
        assert refusal.value.case == "WrongKind"
        assert refusal.value.kind == kind


@pytest.mark.parametrize(("mass", "force"), [("kg/mm", "kgf/mm"), ("lb/in", "lbf/in")])
def test_a_spring_label_in_mass_per_length_means_weight(mass, force):
    registry = pint.UnitRegistry(cache_folder=None)
    given_ = wr.quantity(registry.Quantity(0.47, mass), "spring rate")
    assert given_ == wr.quantity(registry.Quantity(0.47, force), "spring rate")
    with pytest.raises(wr.UnitError, match="is not a wheel rate"):
        wr.quantity(registry.Quantity(0.47, mass), "wheel rate")


def test_offsets_are_right():
    registry = pint.UnitRegistry(cache_folder=None)
    for given_ in ("20 degC", (68, "degF"), registry.Quantity(293.15, "K"), registry.Quantity(68.0, "degF")):
        assert wr.quantity(given_, "temperature").magnitude == pytest.approx(20.0, abs=1e-12)


def test_a_unit_the_tables_lack_goes_through_its_own_registry():
    registry = pint.UnitRegistry(cache_folder=None)
    registry.define("turn_of_thread = 1.5 mm")
    assert wr.quantity(registry.Quantity(4, "turn_of_thread"), "length").m_as("mm") == pytest.approx(6.0, rel=1e-15)
    other = pint.UnitRegistry(cache_folder=None)
    other.define("turn_of_thread = 1.25 mm")
    assert wr.quantity(other.Quantity(4, "turn_of_thread"), "length").m_as("mm") == pytest.approx(5.0, rel=1e-15)


def test_results_belong_to_the_application_registry():
    before = pint.get_application_registry().get()
    mine = pint.UnitRegistry(cache_folder=None)
    try:
        pint.set_application_registry(mine)
        assert wr.quantity("5 mm", "length") + mine.Quantity(1, "mm") == mine.Quantity(6, "mm")
    finally:
        pint.set_application_registry(before)


def test_import_is_light():
    heavy = ("pint", "matplotlib", "jinja2", "click", "scipy")
    code = f"import wheelrate, sys; print([m for m in {heavy!r} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize("length", [(np.array([5.0]), "mm"), ([5.0], "mm"), (True, "mm"), ("5", "mm")])
def test_one_number_is_one_number(length):
    with pytest.raises(wr.UnitError):
        wr.Preloaded("52 N/mm", length)


@pytest.mark.parametrize("length", [(5, "mm"), (np.float32(5), "mm"), (np.array(5.0), "mm"), (np.int64(5), "mm")])
def test_a_number_may_be_of_any_scalar_type(length):
    assert wr.Preloaded("52 N/mm", length).preload.m_as("mm") == 5


@pytest.mark.parametrize(
    ("unit", "kind"), [("m³", "volume"), ("cm²", "area"), (" in³ ", "volume"), ("m/s²", "acceleration")]
)
def test_a_unit_beside_numbers_is_spelled_as_in_a_text(unit, kind):
    text = wr.quantity(f"3 {unit}", kind)
    assert wr.quantity((3.0, unit), kind) == text
    assert wr.quantity(([3.0], unit), kind)[0] == text


@pytest.mark.parametrize("unit", ["1/2 in", "e3 mm", ".5 mm", "7 mm"])
def test_a_unit_goes_on_with_no_number(unit):
    with pytest.raises(wr.errors.UnitError):
        wr.quantity((1.0, unit), "length")


def test_an_uncertain_number_where_a_quantity_is_meant():
    bike = wr.demo()
    load = bike.masses.sprung_load("rear", "bike + rider")
    with pytest.raises(wr.UnitError, match=r"`\.value` is that"):
        bike.rear.travel_under(load)
    assert bike.rear.travel_under(load.value).state is not None


def test_an_end_without_an_answer_says_why():
    with pytest.raises(KeyError, match="'Rear', wanted one of 'front', 'rear'"):
        wr.demo().fit()["Rear"]
