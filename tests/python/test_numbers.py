"""What counts as a number: nothing that NumPy would only make one."""

import decimal
import fractions

import hypothesis.extra.numpy
import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

import wheelrate as wr

REGISTRY = pint.UnitRegistry(cache_folder=None)
NUMBERS = [12, 0, 7, 100]
WIDTHS = ["f2", "f4", "f8", "g", "i1", "i2", "i4", "i8", "u1", "u2", "u4", "u8"]


def _nested(axes):
    numbers = [1.0]
    for _ in range(axes - 1):
        numbers = [numbers]
    return numbers


def _both(magnitude):
    """Give the two ways that an array comes in: with a unit beside it, and inside a pint quantity."""
    return (magnitude, "mm"), REGISTRY.Quantity(magnitude, "mm")


def _masked(*where, dtype=float):
    return np.ma.masked_array(NUMBERS, mask=[at in where for at in range(len(NUMBERS))], dtype=dtype)


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("order", ["<", ">"])
def test_real_numbers_of_any_width_and_byte_order_are_read(width, order):
    dtype = np.dtype(width).newbyteorder(order)
    for row in _both(np.array(NUMBERS, dtype)):
        assert wr.quantity(row, "length").magnitude.tolist() == NUMBERS
    for one in _both(np.array(12, dtype)):
        assert wr.quantity(one, "length").magnitude == 12.0
    for one in _both(np.array(NUMBERS, dtype)[0]):
        assert wr.quantity(one, "length").magnitude == 12.0


@given(
    hypothesis.extra.numpy.arrays(
        st.sampled_from(["<f8", ">f8", "<i4", ">u2"]),
        st.tuples(st.integers(0, 6), st.integers(1, 4)),
        elements=st.integers(0, 1000),
    ),
    st.integers(-3, 3).filter(bool),
)
def test_rows_are_read_whatever_their_stride(table, stride):
    for row in (table[:, 0][::stride], table.T[-1][::stride]):
        for given_ in _both(row):
            assert wr.quantity(given_, "length").magnitude.tolist() == row.tolist()


def test_an_array_that_may_not_be_written_to_is_read():
    row = np.array(NUMBERS, float)
    row.flags.writeable = False
    for given_ in _both(row):
        assert wr.quantity(given_, "length").magnitude.tolist() == NUMBERS


@pytest.mark.parametrize(
    ("numbers", "because"),
    [
        (np.array([1 + 2j, 3]), "imaginary parts"),
        (np.array([1, 2], np.complex64), "imaginary parts"),
        (np.array([True, False]), "truth values"),
        (np.array([1.0, "2"], object), "dtype object"),
        (np.array([1.0, 2.0], object), "dtype object"),
        (np.array([1, 2], "m8[s]"), "no plain numbers"),
        (_masked(1), "masked values, the first at 1"),
        (_masked(2, 3, dtype=int), "masked values, the first at 2"),
    ],
    ids=str,
)
@pytest.mark.filterwarnings("error")
def test_arrays_of_anything_else_are_refused(numbers, because):
    for row in _both(numbers):
        with pytest.raises(wr.UnitError, match=because) as refusal:
            wr.quantity(row, "length")
        assert "row of numbers" in str(refusal.value)
        assert (refusal.value.case, refusal.value.field) == ("NotNumbers", "given")


@pytest.mark.parametrize(
    ("numbers", "because"),
    [
        (np.array(["1", "2"]), "holds text"),
        (np.array([b"1", b"2"]), "holds text"),
        ([1.0, "2"], "item 1 .* text"),
        ([b"1"], "item 0 .* text"),
        (b"12", "text"),
        ([1.0, True], "item 1 .* truth value"),
        ([1.0, np.True_], "item 1 .* truth values"),
        ([1.0, 2j], "item 1 .* complex"),
        ([1.0, np.complex128(2)], "item 1 .* imaginary parts"),
        ([1.0, np.ma.masked], "item 1 .* masked"),
        ([1.0, [2.0]], "item 1 .* length"),
        ([1.0, None], "item 1 .* NoneType"),
        ({1.0: 2.0}, "dtype object"),
        (np.ones((2, 2)), "2 axes"),
        ([[1.0, 2.0], [3.0, 4.0]], "2 axes"),
        ([[1.0, 2.0], 3.0], "item 1 is one number where item 0 is a row"),
        ([[1.0, 2.0], [3.0]], "item 1 is not as long as item 0"),
        ([[1.0, 2.0], [3.0, "4"]], "item 1 .* text"),
        pytest.param(_nested(100_000), "more than 64 axes", id="nested"),
    ],
    ids=str,
)
def test_rows_with_anything_else_are_refused(numbers, because):
    with pytest.raises(wr.UnitError, match=because) as refusal:
        wr.quantity((numbers, "mm"), "length")
    assert "row of numbers" in str(refusal.value)


@pytest.mark.parametrize(
    ("number", "because"),
    [
        (True, "truth value"),
        (np.True_, "truth values"),
        (np.array(True), "truth values"),
        (1 + 0j, "complex"),
        (np.complex128(1), "imaginary parts"),
        (np.array(1 + 2j), "imaginary parts"),
        (np.array("3"), "text"),
        (np.array(3.0, object), "dtype object"),
        (np.ma.masked, "masked"),
        (np.ma.masked_array(3.0, mask=True), "masked"),
        pytest.param(10**400, "larger than any float", id="10**400"),
        (None, "NoneType"),
    ],
    ids=str,
)
@pytest.mark.filterwarnings("error")
def test_single_values_of_anything_else_are_refused(number, because):
    with pytest.raises(wr.UnitError, match=because) as refusal:
        wr.quantity((number, "mm"), "length")
    assert "one number" in str(refusal.value)
    assert refusal.value.case == "NotNumbers"


@pytest.mark.parametrize("number", [np.True_, 1 + 2j, np.complex128(1 + 2j), np.array(True)], ids=repr)
def test_pint_quantities_of_anything_else_are_refused(number):
    with pytest.raises(wr.UnitError, match="one number"):
        wr.quantity(REGISTRY.Quantity(number, "mm"), "length")


def test_a_mask_with_nothing_set_hides_nothing():
    for mask in (np.ma.nomask, [False] * len(NUMBERS)):
        for row in _both(np.ma.masked_array(NUMBERS, mask=mask, dtype=float)):
            assert wr.quantity(row, "length").magnitude.tolist() == NUMBERS


def test_exact_numbers_are_numbers():
    for number in (fractions.Fraction(5, 2), decimal.Decimal("2.5")):
        assert wr.quantity((number, "mm"), "length").magnitude == 2.5
        assert wr.quantity(([number, 1], "mm"), "length").magnitude.tolist() == [2.5, 1.0]


def test_a_curve_takes_its_travels_through_the_same_door():
    stock = wr.Preloaded("5 N/mm", "6 mm")
    assert stock.curve((np.array([1, 2], ">i2"), "mm")).force.magnitude.tolist() == [35.0, 40.0]
    for numbers in (_masked(1), np.array([1j, 2]), np.array([True, False])):
        with pytest.raises(wr.UnitError, match=r"strokes: .* row of numbers"):
            stock.curve((numbers, "mm"))


def test_rows_within_rows_have_the_shape_of_an_array():
    front = wr.demo().front
    travels = np.linspace(5, 200, 12).reshape(2, 3, 2)
    nested = front.wheel_rate((travels.tolist(), "mm"))
    assert nested.shape == travels.shape
    assert (nested == front.wheel_rate((travels, "mm"))).all()
