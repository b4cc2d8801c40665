"""The fit of one end in NumPy and SciPy: what a Python user would write, beside wheelrate in the same run.

The peers know the bike through cubic splines of its force parts over travel, made beforehand and not timed, so that an
evaluation costs them as little as it can. They solve the same model: rate factor, preload change, friction, zero and
two loads, with the same priors, by exact derivatives. The first is `scipy.optimize.least_squares` on one garage, with
covariance; the second Gauss-Newton in NumPy over thousands of garages at once, without. wheelrate does all of a fit
in its time, residuals and findings too. As the peers have their readings sorted beforehand, a bike keeps its own sorted
and checked from its first fit on, which has a row of its own.

Prints microseconds a fit, of the fastest of several runs, and ratios; then 100,000 simulated garages. Run:
``python benches/python/fit.py``.
"""

import time

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.optimize import least_squares

import wheelrate as wr

SIDES = np.array([1.0, -1.0, 1.0, -1.0])
UNDER = np.array([0, 0, 1, 1])
STEPS = 4


def fastest(run, repeat, seconds=0.4, least=9):
    """Return seconds per call: the shortest of many runs, which other work on the machine leaves some of alone."""
    times = []
    end = time.perf_counter() + seconds
    while len(times) < least or time.perf_counter() < end:
        start = time.perf_counter()
        for _ in range(repeat):
            run()
        times.append((time.perf_counter() - start) / repeat)
    return min(times)


class Peer:
    """The rear end as splines over travel: `F = ratio * (a * (force + rate * b) + rest)`."""

    def __init__(self, bike):
        travel = np.linspace(0, bike.rear.full_travel.m_as("m") * 0.95, 400)
        curve = bike.rear.curve((travel, "m"))
        ratio = np.asarray(curve.motion_ratio.m_as(""))
        softer = bike.what_if({"rear.shock.spring.rate": "50 N/mm"}).rear.curve((travel, "m"))
        force = (curve.axial_force - softer.axial_force).m_as("N") * 52 / 2
        self.rest = CubicSpline(travel, np.asarray(curve.axial_force.m_as("N")) * ratio - force * ratio)
        self.force, self.ratio = CubicSpline(travel, force * ratio), CubicSpline(travel, ratio)
        self.spring = 52e3
        fit = bike.fit_end("rear")
        self.mean = np.array([load.stated.value.m_as("N") for load in fit.loads])
        one = 0.5 * 9.80665
        self.root = np.linalg.cholesky(one**2 * np.array([[2.0, 2.0], [2.0, 3.0]]))
        self.label, self.collar, self.friction = 0.05 / np.sqrt(3), 1e-3, (33.0, 33.0)
        readings = [reading for reading in bike.readings if reading.end == "rear"]
        place = {("bike", "low"): 0, ("bike", "high"): 1, ("bike + rider", "low"): 2, ("bike + rider", "high"): 3}
        self.where = np.array([place.get((reading.load, reading.settled), 4) for reading in readings])
        self.read = np.array([reading.distance.m_as("m") for reading in readings])
        self.tape = 1.5e-3

    def model(self, unknowns, travel):
        """Return predicted distances by reading and their derivatives, travel settled by Newton."""
        a, b = np.exp(self.label * unknowns[0]), self.collar * unknowns[1]
        friction = self.friction[0] + self.friction[1] * unknowns[2]
        load = (self.mean + self.root @ unknowns[4:])[UNDER] + SIDES * friction
        for _ in range(STEPS):
            force, ratio = self.force(travel), self.ratio(travel)
            wheel = a * (force + self.spring * b * ratio) + self.rest(travel)
            rate = a * (self.force(travel, 1) + self.spring * b * self.ratio(travel, 1)) + self.rest(travel, 1)
            travel = travel + (load - wheel) / rate
        moves = np.zeros((5, 6))
        moves[:4, 0] = self.label * a * (force + self.spring * b * ratio) / rate
        moves[:4, 1] = self.collar * a * self.spring * ratio / rate
        moves[:4, 2] = -self.friction[1] * SIDES / rate
        moves[:4, 4:] = -self.root[UNDER] / rate[:, None]
        moves[:, 3] = 1.0
        distance = unknowns[3] - np.append(travel, 0.0)
        return distance[self.where], moves[self.where], travel

    def fit(self, read):
        """Fit one garage by SciPy, with covariance."""
        priors = np.delete(np.eye(6), 3, axis=0)
        start = np.array([0.03, 0.03, 0.11, 0.10])

        def residuals(unknowns):
            distance, _, _ = self.model(unknowns, start)
            return np.concatenate([(distance - read) / self.tape, np.delete(unknowns, 3)])

        def jacobian(unknowns):
            _, moves, _ = self.model(unknowns, start)
            return np.concatenate([moves / self.tape, priors])

        first = np.array([0.0, 0.0, 0.0, read[self.where == 4].mean(), 0.0, 0.0])
        found = least_squares(residuals, first, jac=jacobian, method="lm", xtol=1e-6)
        return found.x, np.linalg.inv(found.jac.T @ found.jac)

    def fit_many(self, read, rounds=4):
        """Fit many garages by Gauss-Newton at once, without covariance; `read` is garages by readings."""
        garages = len(read)
        unknowns = np.zeros((garages, 6))
        unknowns[:, 3] = read[:, self.where == 4].mean(axis=1)
        means = np.stack([read[:, self.where == place].mean(axis=1) for place in range(5)], axis=1)
        weights = np.array([(self.where == place).sum() for place in range(5)]) / self.tape**2
        travel = unknowns[:, 3:4] - means[:, :4]
        prior = np.diag([1.0, 1.0, 1.0, 0.0, 1.0, 1.0])
        moves = np.zeros((garages, 5, 6))
        moves[:, :, 3] = 1.0
        for _ in range(rounds):
            a, b = np.exp(self.label * unknowns[:, :1]), self.collar * unknowns[:, 1:2]
            friction = self.friction[0] + self.friction[1] * unknowns[:, 2:3]
            load = (self.mean + unknowns[:, 4:] @ self.root.T)[:, UNDER] + SIDES * friction
            for _ in range(2):
                force, ratio = self.force(travel), self.ratio(travel)
                spring = force + self.spring * b * ratio
                rate = a * (self.force(travel, 1) + self.spring * b * self.ratio(travel, 1)) + self.rest(travel, 1)
                travel = travel + (load - a * spring - self.rest(travel)) / rate
            moves[:, :4, 0] = self.label * a * spring / rate
            moves[:, :4, 1] = self.collar * a * self.spring * ratio / rate
            moves[:, :4, 2] = -self.friction[1] * SIDES / rate
            moves[:, :4, 4:] = -self.root[UNDER] / rate[:, :, None]
            off = unknowns[:, 3:4] - np.pad(travel, ((0, 0), (0, 1))) - means
            weighted = moves * weights[:, None]
            gradient = np.einsum("gpi,gp->gi", weighted, off) + unknowns @ prior
            hessian = np.einsum("gpi,gpj->gij", weighted, moves) + prior
            unknowns = unknowns - np.linalg.solve(hessian, gradient[..., None])[..., 0]
        return unknowns


def first_fits(bike, doubting, runs=9, bikes=50):
    """Return seconds of the first fit of a bike, over bikes that nothing was asked of before."""
    text, times = bike.to_toml(), []
    for _ in range(runs):
        fresh = [wr.Bike.from_toml(text) for _ in range(bikes)]
        start = time.perf_counter()
        for one in fresh:
            one.study("rear", doubting=doubting).fit()
        times.append((time.perf_counter() - start) / bikes)
    return min(times)


def main():
    """Print times and ratios."""
    bike = wr.demo()
    peer = Peer(bike)
    unknowns, covariance = peer.fit(peer.read)
    rate = 52 * np.exp(peer.label * unknowns[0])
    ours = bike.study("rear", doubting=False).fit().rate
    spread = rate * peer.label * np.sqrt(covariance[0, 0])
    print(f"rear spring, SciPy      {rate:.2f} ± {spread:.2f} N/mm")
    reported = (ours.value.m_as("N/mm"), ours.standard_uncertainty.m_as("N/mm"))
    print(f"rear spring, wheelrate  {reported[0]:.2f} ± {reported[1]:.2f} N/mm")

    scipy = fastest(lambda: peer.fit(peer.read), 1)
    single = fastest(lambda: bike.study("rear", doubting=False).fit(), 50)
    robust = fastest(lambda: bike.study("rear").fit(), 50)
    first, first_robust = (first_fits(bike, doubting) for doubting in (False, True))
    garages = 5_000
    random = np.random.default_rng(1)
    read = peer.read + random.normal(0, peer.tape, (garages, len(peer.read)))
    batched = fastest(lambda: peer.fit_many(read), 1) / garages
    many = fastest(lambda: bike.study("rear").rehearse(garages=garages), 1) / garages
    print(f"\n{'one fit':46} {'µs':>8}  ratio")
    print(f"{'SciPy least_squares, splines, with covariance':46} {scipy * 1e6:8.1f}")
    rows = {
        "wheelrate, all taken as stated": single,
        "wheelrate, robust: with gross errors doubted": robust,
        "the first fit of a bike, as stated": first,
        "the first fit of a bike, robust": first_robust,
    }
    for name, each in rows.items():
        print(f"{name:46} {each * 1e6:8.1f}  {each / scipy:.3f} of SciPy")
    print(f"{'NumPy over 5,000 garages, without covariance':46} {batched * 1e6:8.1f}")
    print(f"{'wheelrate, 5,000 garages drawn, read, fitted':46} {many * 1e6:8.1f}  {many / batched:.3f} of NumPy")

    start = time.perf_counter()
    bike.study("rear").rehearse(garages=100_000)
    print(f"\n100,000 simulated garages, all cores: {time.perf_counter() - start:.2f} s")


if __name__ == "__main__":
    main()
