"""The whole posterior of a garage of two loads on a grid: no mode, no linearisation, no normal posterior.

Rate factor, preload change, friction, each load and the distance at full extension are summed over; a reading whose
settling nobody noted is averaged over the friction band; a wheel that the load does not move rests on its stop.
"""

import numpy as np
from scipy.interpolate import CubicSpline, PchipInterpolator
from scipy.stats import multivariate_normal, norm

# The grid spans this many standard deviations of the posterior, or of the priors of loads and the readings of the zero.
REACH, NUISANCE_REACH = 6.5, 5.0
# Nodes by Gauss and Legendre over rate and friction, which may end at a bound; points at equal distance over the
# others, at most 1.2 conditional standard deviations apart: sums of a normal density are then its integral to 1e-5.
RATES, FRICTIONS, PRELOADS, LOAD_POINTS, ZERO_POINTS = 31, 28, 25, 15, 19
# Gauss-Legendre nodes over the friction band of a reading not noted.
BAND = np.polynomial.legendre.leggauss(7)
# Points of the table from wheel force to travel: a straight line between them is good to a micrometre.
TRAVELS = 400
# How far below full extension the table goes on, in a straight line.
BELOW = 0.3
# Share of the probability that may lie on the edge of the grid.
EDGE = 1e-5
# Points at which a smooth density is drawn out.
DRAWN_OUT = 2001


class Marginal:
    """A quantity with its probability: mean, standard deviation, quantiles."""

    def __init__(self, values, weights):
        values, place = np.unique(np.ravel(values), return_inverse=True)
        weights = np.bincount(place, np.ravel(weights))
        weights /= weights.sum()
        self.mean = values @ weights
        self.deviation = np.sqrt((values - self.mean) ** 2 @ weights)
        # Each point stands for what is nearer to it than to the next.
        self.edges = np.concatenate([values[:1], (values[1:] + values[:-1]) / 2, values[-1:]])
        self.below = np.concatenate([[0.0], np.cumsum(weights)])

    @classmethod
    def of_density(cls, nodes, density, low, high):
        """From a smooth density known at a few nodes."""
        values = np.linspace(low, high, DRAWN_OUT)
        return cls(values, np.maximum(0, CubicSpline(nodes, density)(values)))

    def interval_95(self):
        rising = np.append(True, np.diff(self.below) > 1e-12)
        return PchipInterpolator(self.below[rising], self.edges[rising])([0.025, 0.975])

    def probability(self, low, high):
        return float(np.diff(np.interp([low, high], self.edges, self.below))[0])


def gauss_legendre(low, high, count):
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return low + (high - low) / 2 * (nodes + 1), weights


def likelihood(garage, place, load, friction, zero, forces, travels):
    """Of the readings under one load, over friction, load and zero; a table gives the travel of a wheel force."""
    places, sides, distances = garage.loaded
    band, band_weights = BAND
    like, exponent = 1.0, np.zeros((len(friction), len(load), len(zero)))
    for side in np.unique(sides[places == place]):
        slips, weights = (band, band_weights / 2) if side == 0 else (np.array([side]), np.ones(1))
        force = load + friction[:, None] * slips[:, None, None]
        shortening = garage.end.tape(np.maximum(0, np.interp(force, forces, travels)))
        read = distances[(places == place) & (sides == side)]
        if side != 0:
            # Repeats at one place of the band are one reading of their mean, but for a factor that all nodes share.
            miss = (read.mean() - zero + shortening[0, ..., None]) / garage.deviation
            exponent += len(read) * miss**2
            continue
        for one in read:
            miss = (one - zero + shortening[..., None]) / garage.deviation
            like = like * np.tensordot(weights, np.exp(-0.5 * miss**2), 1)
    return like * np.exp(-0.5 * exponent)


def posterior(garage, centre, covariance, hard_limit=None):
    """Marginals of ``ln a / u``, ``b / u``, ``f`` and the sags, on a grid about a centre along a covariance.

    With a hard limit, the rate is anywhere within it of its label, with equal chance.
    """
    prior, end = garage.prior, garage.end
    reach = REACH * np.sqrt(np.diag(covariance))
    low, high = centre[0] - reach[0], centre[0] + reach[0]
    if hard_limit is not None:
        low, high = (f(b, np.log1p(s * hard_limit) / prior.rate) for f, b, s in ((max, low, -1), (min, high, 1)))
    rates, rate_weights = gauss_legendre(low, high, RATES)
    # A rate of equal chance has `da = a d(ln a)`.
    rate_prior = norm.pdf(rates) if hard_limit is None else np.exp(rates * prior.rate)
    slope = covariance[0, 1] / covariance[0, 0]
    conditional = np.sqrt(covariance[1, 1] - slope * covariance[0, 1])
    changes = centre[1] + slope * (rates - centre[0])[:, None] + conditional * np.linspace(-REACH, REACH, PRELOADS)
    least, most = max(0.0, centre[2] - reach[2]), centre[2] + reach[2]
    friction, friction_weights = gauss_legendre(least, most, FRICTIONS)
    axis, deviations = np.linspace(-NUISANCE_REACH, NUISANCE_REACH, LOAD_POINTS), np.sqrt(np.diag(prior.covariance))
    loads = [mean + deviation * axis for mean, deviation in zip(prior.loads, deviations, strict=True)]
    together = multivariate_normal(prior.loads, prior.covariance).pdf(np.stack(np.meshgrid(*loads, indexing="ij"), -1))
    axis = np.linspace(-NUISANCE_REACH, NUISANCE_REACH, ZERO_POINTS)
    zero = garage.extended.mean() + garage.deviation / np.sqrt(len(garage.extended)) * axis
    zero_weights = norm.pdf(axis)
    known = friction_weights * norm.pdf(friction, *prior.friction)
    travels = np.append(-BELOW, np.linspace(0, end.full, TRAVELS))

    weights, sags = np.empty((2, RATES, PRELOADS, FRICTIONS, LOAD_POINTS)), np.empty((2, RATES, PRELOADS, LOAD_POINTS))
    for i, j in np.ndindex(RATES, PRELOADS):
        factor, change = np.exp(rates[i] * prior.rate), changes[i, j] * prior.preload
        forces = end.force(travels[1:], factor, change)
        forces = np.append(forces[0] - BELOW * end.force_and_rate(0.0, factor, change)[1], forces)
        sags[:, i, j] = np.interp(loads, forces, travels)
        one, other = (likelihood(garage, k, loads[k], friction, zero, forces, travels) for k in (0, 1))
        here = rate_weights[i] * rate_prior[i] * norm.pdf(changes[i, j]) * known[:, None]
        weights[0, i, j] = here * ((one * (together @ other)) @ zero_weights)
        weights[1, i, j] = here * ((other * (together.T @ one)) @ zero_weights)

    three = weights[0].sum(axis=-1)
    edges = [three[:, [0, -1]], three[..., -1]] + ([three[[0, -1]]] if hard_limit is None else [])
    assert all(edge.sum() < EDGE * three.sum() for edge in edges)
    return {
        "rate": Marginal.of_density(rates, three.sum(axis=(1, 2)) / rate_weights, low, high),
        "preload": Marginal(changes, three.sum(axis=2)),
        "friction": Marginal.of_density(friction, three.sum(axis=(0, 1)) / friction_weights, least, most),
        "sags": [Marginal(sag, weight.sum(axis=2)) for sag, weight in zip(sags, weights, strict=True)],
    }
