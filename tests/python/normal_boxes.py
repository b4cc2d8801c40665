"""Probabilities of boxes of two and three standard normal quantities, to 17 digits by mpmath.

The Rust tests hold the library to `tests/reference/normal/boxes.txt`, which is what this prints (one minute). The
library integrates two over the correlation and three over one of the quantities; here it is the other way round, so
that table and library share no formula but the normal density.
"""

import sys
from itertools import product

import mpmath as mp

# Digits to work with: bounds of 5 within 1e-9 of |rho| = 1 lose half of them.
mp.mp.dps = 40
# Standard deviations beyond which a density is nothing beside the last digit of 1e-16.
FAR = 14
# An integral over the correlations is graded towards both of its ends, where it may be steep: so many panels halve.
HALVINGS = 40
INF = mp.inf


def cdf(x):
    return mp.erfc(-x / mp.sqrt(2)) / 2


def between(low, high):
    if low >= high:
        return mp.mpf(0)
    return cdf(-low) - cdf(-high) if low > 0 else cdf(high) - cdf(low)


def density(x):
    return mp.exp(-x * x / 2) / mp.sqrt(2 * mp.pi)


def overlap(x, y, side):
    """Where x may lie if y is x, or minus x."""
    low, high = y if side > 0 else (-y[1], -y[0])
    return max(x[0], low), min(x[1], high)


def two(correlation, x, y):
    """`∫ φ(u)·P(y | u) du` over the interval of x, cut at each width of the steps where a bound of y is passed."""
    if abs(correlation) == 1:
        return between(*overlap(x, y, correlation))
    left = mp.sqrt((1 - correlation) * (1 + correlation))
    low, high = max(x[0], -FAR), min(x[1], FAR)
    cuts = {low, high} | set(range(-FAR, FAR))
    if correlation != 0:
        for bound, step in product(y, range(-FAR, FAR + 1)):
            cuts.add((bound + step * left) / correlation if abs(bound) < INF else low)
    cuts = sorted(cut for cut in cuts if low <= cut <= high)
    given = [(lambda u, bound=bound: (bound - correlation * u) / left) for bound in y]
    return mp.quad(lambda u: density(u) * between(given[0](u), given[1](u)), cuts, method="gauss-legendre")


def corners(x, y):
    for (i, h), (j, k) in product(enumerate(x), enumerate(y)):
        if abs(h) < INF and abs(k) < INF:
            yield (1 if i == j else -1), h, k


def three(correlations, x, y, z):
    """Plackett's `dP/dt` with `t·ρ₁₂`, `t·ρ₁₃`, `ρ₂₃`, from `P(x)·P(y, z)` at `t = 0` (Biometrika 41, 1954)."""
    to_y, to_z, yz = correlations
    if abs(to_y) == 1:
        return three((to_z, yz, to_y), z, x, y)
    if abs(yz) == 1:
        return two(to_y, x, overlap(y, z, yz))
    left = (1 - yz) * (1 + yz)
    # t = sin(θ)/R with the multiple correlation R of x takes the root out of the determinant.
    multiple = min(mp.mpf(1), mp.sqrt((to_y**2 + to_z**2 - 2 * to_y * to_z * yz) / left))
    start = between(*x) * two(yz, y, z)
    if multiple == 0:
        return start

    def slope(angle):
        t, cosine = mp.sin(angle) / multiple, mp.cos(angle)
        total = mp.mpf(0)
        for one, other, u, v in ((to_y, to_z, y, z), (to_z, to_y, z, y)):
            a, b = one * t, other * t
            rest = (1 - a) * (1 + a)
            spread = cosine * mp.sqrt(left / rest)
            for sign, h, k in corners(x, u):
                mean = ((b - a * yz) * h + (yz - a * b) * k) / rest
                pair = mp.exp(-(h * h - 2 * a * h * k + k * k) / (2 * rest)) / (2 * mp.pi * mp.sqrt(rest))
                if pair > mp.mpf(10) ** -30:
                    total += sign * one * pair * between((v[0] - mean) / spread, (v[1] - mean) / spread)
        return total * cosine / multiple

    end = mp.asin(multiple)
    grades = [mp.mpf(2) ** -k for k in range(HALVINGS, 0, -1)]
    cuts = [0, *grades, *[1 - grade for grade in reversed(grades[:-1])], 1]
    with mp.workdps(22):
        return start + mp.quad(slope, [end * cut for cut in cuts], method="gauss-legendre")


# Correlations of two: none, those where the library changes its number of nodes, near 1, and 1.
TWOS = (0.0, 0.3, -0.5, 0.75, -0.92, 0.93, 0.95, -0.99, 0.9999, -0.9999, 1 - 1e-9, 1.0, -1.0)
# Boxes of two: in the middle, a quadrant, off the middle, along the diagonal, tails of 1e-10, all of one quantity.
BOXES_OF_TWO = (
    ((-1.0, 1.5), (-0.5, 2.0)),
    ((0.25, INF), (0.5, INF)),
    ((-INF, -0.75), (-1.25, 0.125)),
    ((0.5, 0.625), (0.5625, 3.0)),
    ((-2.0, -1.0), (1.0, 2.0)),
    ((6.25, INF), (5.5, INF)),
    ((5.5, 7.0), (-6.5, -5.25)),
    ((-INF, -6.0), (-1.0, 1.0)),
    ((1.0, 1.0 + 1e-6), (-3.0, 1.0)),
)
# Correlations of three: loose, tight, one tight pair, nearly singular, singular (the third a sum or a copy).
THREES = (
    (0.25, -0.5, 0.125),
    (0.6, 0.7, 0.9),
    (0.95, 0.96, 0.97),
    (-0.99, 0.99, -0.985),
    (0.9999, 0.9999, 0.9998),
    (0.3, 0.295, 0.9999),
    (0.96, 0.8, 0.6),
    (0.6, 0.8, 0.0),
    (0.28, -0.96, -1e-6),
    (0.5, 0.5, 1.0),
    (-1.0, 0.5, -0.5),
)
BOXES_OF_THREE = (
    ((-1.0, 1.5), (-0.5, 2.0), (-1.25, 0.75)),
    ((0.0, INF), (0.0, INF), (0.0, INF)),
    ((0.25, INF), (-INF, 0.5), (-0.5, 0.125)),
    ((0.5, 0.53125), (0.25, 1.0), (-INF, 0.75)),
    ((-INF, -5.75), (-INF, 1.0), (-2.0, 3.0)),
)


def row(kind, correlations, box):
    exact = [mp.mpf(correlation) for correlation in correlations]
    intervals = [tuple(mp.mpf(bound) for bound in interval) for interval in box]
    return two(*exact, *intervals) if kind == "two" else three(exact, *intervals)


def rows():
    """Which quantities, correlations and intervals the table has."""
    for correlation, box in product(TWOS, BOXES_OF_TWO):
        yield "two", (correlation,), box
    for correlations, box in product(THREES, BOXES_OF_THREE):
        yield "three", correlations, box


def main():
    print("# Probability that two (three) standard normal quantities lie in their intervals, by mpmath: correlations,")
    print("# bounds, probability. Written by tests/python/normal_boxes.py.")
    for kind, correlations, box in rows():
        bounds = [repr(float(bound)) for interval in box for bound in interval]
        value = mp.nstr(row(kind, correlations, box), 17, min_fixed=0, max_fixed=0)
        print(kind, *map(repr, correlations), *bounds, value)
        sys.stdout.flush()


if __name__ == "__main__":
    main()
