"""The committed table of normal probabilities is what mpmath computes, and its two routes agree."""

from itertools import islice
from pathlib import Path

import mpmath as mp
import normal_boxes
import pytest
from outside import Tolerance, agree

TABLE = Path(__file__).parents[1] / "reference" / "normal" / "boxes.txt"
DIGITS = Tolerance("17 digits, of which two or three may be spent near singular correlations", rel=1e-14, abs=1e-30)
# A prime, so that every correlation and every box comes up in some row.
EVERY = 7


def lines():
    return [line.split() for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]


def test_every_row_is_there():
    assert [
        (kind, *map(repr, correlations), *(repr(float(bound)) for interval in box for bound in interval))
        for kind, correlations, box in normal_boxes.rows()
    ] == [tuple(line[:-1]) for line in lines()]


def test_three_quantities_can_have_these_correlations():
    for xy, xz, yz in normal_boxes.THREES:
        # Singular ones are so but for the rounding of three products.
        assert 1 - xy**2 - xz**2 - yz**2 + 2 * xy * xz * yz > -1e-15


@pytest.mark.parametrize("start", range(0, EVERY, 3))
def test_rows_recomputed(start):
    for line, given in islice(zip(lines(), normal_boxes.rows(), strict=True), start, None, EVERY):
        if given[0] == "two":
            agree("a row of the table, computed anew", float(line[-1]), float(normal_boxes.row(*given)), DIGITS)


def test_two_routes_to_three_agree():
    # Which of the three the correlations are scaled of makes no difference to the truth, but all to the integral.
    xy, xz, yz = map(mp.mpf, (0.6, 0.7, 0.9))
    x, y, z = ((mp.mpf(low), mp.mpf(high)) for low, high in ((-1, 1.5), (-0.5, 2), (-1.25, mp.inf)))
    one = normal_boxes.three((xy, xz, yz), x, y, z)
    other = normal_boxes.three((yz, xz, xy), z, y, x)
    agree("three quantities by two routes", float(one), float(other), DIGITS)


def test_an_octant_is_three_arcs():
    # P(x>0, y>0, z>0) = 1/8 + (asin xy + asin xz + asin yz)/4π.
    correlations = [mp.mpf(correlation) for correlation in (0.95, 0.96, 0.97)]
    exact = mp.mpf(1) / 8 + sum(map(mp.asin, correlations)) / (4 * mp.pi)
    found = normal_boxes.three(correlations, *[(mp.mpf(0), mp.inf)] * 3)
    agree("an octant", float(found), float(exact), DIGITS)
