"""The fit against SciPy's least squares and orthogonal distance regression, and against the package uncertainties."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy_garage import GRAVITY, LOADS, garage
from outside import Tolerance, agree
from scipy.optimize import least_squares
from scipy.stats import truncnorm
from uncertainties import correlated_values, correlation_matrix, ufloat

import wheelrate as wr

STOPS = "both ways stop where a step of a ten-thousandth of a standard deviation is the last; derivatives to six digits"
SAME_PLACE, SAME_WIDTH = Tolerance(STOPS, abs=1e-4), Tolerance(STOPS, rel=1e-4)
SAME = Tolerance(STOPS, rel=1e-4, abs=1e-4)
WIDE = "where the answer is the readings' own, the widest priors still pull by the square of how much wider they are"
PULL_PLACE, PULL_WIDTH = Tolerance(WIDE, abs=2e-3), Tolerance(WIDE, rel=2e-3)
# Distance from either stop at which no reading is taken for one on it: three of its standard deviations and some.
CLEAR = 8e-3
WAYS = [("front", "along fork"), ("front", "vertical"), ("rear", "vertical"), ("rear", ("-480 mm", "350 mm"))]


def by_least_squares(g):
    """Mode, covariance and sum of squares of ``(ln a, b, f, d0, W...)``: loads are unknowns, priors are residuals."""
    load, side, distance = g.loaded
    root = np.linalg.cholesky(g.prior.covariance)
    mean, deviation = g.prior.friction

    def physical(x):
        return (
            x[0] * g.prior.rate,
            x[1] * g.prior.preload,
            mean + x[2] * deviation,
            x[3],
            *(g.prior.loads + root @ x[4:]),
        )

    def residuals(x):
        rate, change, friction, zero, *weight = physical(x)
        travel = g.end.rests(np.array(weight)[load] + side * friction, np.exp(rate), change)
        model = np.append(np.full(len(g.extended), zero), zero - g.end.tape(travel))
        return np.concatenate([(model - np.append(g.extended, distance)) / g.deviation, x[:3], x[4:]])

    start = np.zeros(4 + len(g.loads))
    start[3] = g.extended.mean()
    found = least_squares(residuals, start, jac="3-point", x_scale="jac", xtol=1e-12, ftol=1e-14, gtol=1e-12)
    scale = np.zeros((len(start), len(start)))
    scale[:4, :4] = np.diag([g.prior.rate, g.prior.preload, deviation, 1.0])
    scale[4:, 4:] = root
    covariance = scale @ np.linalg.inv(found.jac.T @ found.jac) @ scale.T
    return np.array(physical(found.x)), covariance, 2 * found.cost


def without_negative_friction(mode, covariance):
    """Moments of the normal posterior cut where friction is zero: friction's by SciPy, others by regression on it."""
    deviation = np.sqrt(covariance[2, 2])
    cut = truncnorm(-mode[2] / deviation, np.inf, loc=mode[2], scale=deviation)
    along = covariance[2] / covariance[2, 2]
    return mode + along * (cut.mean() - mode[2]), covariance - np.outer(along, along) * (deviation**2 - cut.var())


@st.composite
def garages(draw):
    """Draw an end, read in a random way in a random state, by a person who errs by two standard deviations at most."""
    name, direction = draw(st.sampled_from(WAYS))
    prior = {
        "rate_tolerance": draw(st.sampled_from(["3 %", "5 %", "30 %"])),
        "preload_uncertainty": draw(st.sampled_from(["1 mm", "5 mm"])),
    }
    within = st.floats(-1.5, 1.5)
    truth = draw(within), draw(within), draw(st.floats(3, 60)), [draw(within) for _ in LOADS]
    rows = [(None, None)] * draw(st.integers(1, 2))
    for load in range(len(LOADS)):
        for settled in ("low", "high"):
            rows += [(load, settled)] * draw(st.integers(0, 2))
    noise = draw(st.lists(st.floats(-2, 2), min_size=len(rows), max_size=len(rows)))
    g = garage(name, direction, truth, rows, noise, **prior)
    sags = g.extended.mean() - g.loaded[2]
    assume(len(sags) and sags.min() > CLEAR and sags.max() < g.end.tape(g.end.full) - CLEAR)
    return g


@settings(max_examples=40)
@given(garages())
def test_the_fit_is_the_least_squares_of_scipy(g):
    mode, covariance, cost = by_least_squares(g)
    mean, covariance = without_negative_friction(mode, covariance)
    fit = wr.Bike.from_dict(g.keys()).study(g.name, doubting=False).fit()
    u = np.sqrt(np.diag(covariance))
    factor = fit.rate_factor.value.m_as("")
    found = np.array(
        [
            np.log(factor),
            fit.preload.value.m_as("m") - g.end.springs[0][1],
            fit.friction.value.m_as("N"),
            fit.extended.value.m_as("m"),
        ]
    )
    agree("estimates, in standard deviations from SciPy's", (found - mean[:4]) / u[:4], 0.0, SAME_PLACE)
    deviations = [
        fit.rate_factor.standard_uncertainty.m_as("") / factor,
        fit.preload.standard_uncertainty.m_as("m"),
        fit.friction.standard_uncertainty.m_as("N"),
        fit.extended.standard_uncertainty.m_as("m"),
    ]
    agree("standard deviations, against SciPy's", deviations, u[:4], SAME_WIDTH)
    three = np.ix_(range(3), range(3))
    agree("correlations, against SciPy's", fit.correlation, (covariance / np.outer(u, u))[three], SAME_PLACE)
    agree("sum of squares, against SciPy's", fit.chi_square[0], cost, SAME)
    for load in fit.loads:
        place = g.loads.index(load.load)
        off = (load.fitted.value.m_as("N") - mean[4 + place]) / u[4 + place]
        agree("fitted loads, in standard deviations from SciPy's", off, 0.0, SAME_PLACE)
        agree("their standard deviations, in N", load.fitted.standard_uncertainty.m_as("N"), u[4 + place], SAME_WIDTH)
        # The sag between both sides, its derivatives by central differences.
        unknown = [0, 1, 4 + place]

        def sag(rate, change, weight):
            return float(g.end.rests(weight, np.exp(rate), change))

        steps = 1e-3 * np.diag(u[unknown])
        slopes = [(sag(*(mean[unknown] + step)) - sag(*(mean[unknown] - step))) / (2 * step.sum()) for step in steps]
        deviation = np.sqrt(slopes @ covariance[np.ix_(unknown, unknown)] @ slopes)
        off = (load.sag.value.m_as("m") - sag(*mean[unknown])) / deviation
        agree("sags, in standard deviations from SciPy's", off, 0.0, SAME_PLACE)
        agree("their standard deviations, in m", load.sag.standard_uncertainty.m_as("m"), deviation, SAME_WIDTH)


# ---- Straight forks: two readings and a line.

# Each main spring of the fork, and what they come to by the arithmetic of springs side by side and end to end.
SPRINGS = {
    "one coil": ([{"rate": "7.5 N/mm", "preload": "20 mm"}], 7.5, [7.5]),
    "two unlike legs in parallel": (
        [{"rate": "3.2 N/mm", "preload": "20 mm"}, {"rate": "4.4 N/mm", "preload": "20 mm"}],
        3.2 + 4.4,
        [3.2, 4.4],
    ),
    "two coils in series": (
        [{"stack": [{"rate": "12 N/mm"}, {"rate": "20 N/mm"}], "preload": "20 mm"}],
        1 / (1 / 12 + 1 / 20),
        [1 / (1 / 12 + 1 / 20)],
    ),
}
# What may stand on the bike, each weighed on its own, in kg at the front.
ON_TOP = {"rider": 30, "crate": 12, "water": 21, "stretcher": 38}


def straight_fork(springs, reading, *, tape, scales, friction=None, **more):
    """Make a bike on an upright fork with coils only, about which nobody knows anything before the readings."""
    legs = [*({"spring": spring | {"thread_pitch": "1 mm"}} for spring in springs), {}][:2]
    if friction:
        legs[0]["friction"] = friction
    return wr.Bike.from_dict(
        {
            "format": 1,
            "bike": {"name": "Straight line"},
            "masses": {
                "bike": {"front": "40 kg", "rear": "64 kg"},
                **{name: {"front": f"{kg} kg", "rear": "40 kg"} for name, kg in ON_TOP.items()},
                "unsprung": {"front": "10 kg", "rear": "17.5 kg"},
                "scale_uncertainty": scales,
            },
            "front": {"fork": {"travel": "250 mm", "rake": "0 deg", "leg": legs}},
            "prior": {"front": {"rate_tolerance": "100 %", "preload_uncertainty": "100 mm"}},
            "measuring": {"front": {"direction": "vertical", "uncertainty": tape}},
            "targets": {"front": {"rider_sag": {"value": "60 mm", "tolerance": "5 mm"}}},
            "on_sale": {"front": ["7.5 N/mm", "8 N/mm"]},
            "reading": [{"end": "front", **row} for row in reading],
        }
        | more
    )


def assert_same(found, expected, unit):
    """Ask for the value and the standard uncertainty of an `uncertainties` number, to the pull of the priors."""
    u = expected.std_dev
    agree("a value, in standard deviations", (found.value.m_as(unit) - expected.nominal_value) / u, 0.0, PULL_PLACE)
    agree("a standard deviation", found.standard_uncertainty.m_as(unit), u, PULL_WIDTH)


LINE = "a setting is worked out in a straight line from the wanted sag; the pull of the priors comes on top"
SETTING_MM, SETTING = Tolerance(LINE, abs=0.05), Tolerance(LINE, rel=2e-3)
TAPE_MM, SCALES_KG, SAG_MM, TRAVEL_MM = 0.05, 0.01, 60.0, 250.0
# Four readings for the four unknowns of a straight line: distance extended, rate, preload, friction.
FOUR = {("none", None): 700.0, ("bike", "low"): 679.3, ("bike", "high"): 687.1, ("bike + rider", "low"): 641.8}


def line_by_uncertainties():
    """Take loads and readings for correlated numbers, and get rate, preload and friction; in N and mm."""
    bike, rider, unsprung = ufloat(40, SCALES_KG), ufloat(30, SCALES_KG), ufloat(10, SCALES_KG)
    light, heavy = GRAVITY * (bike - unsprung), GRAVITY * (bike + rider - unsprung)
    extended, low, high, rider_low = (ufloat(distance, TAPE_MM) for distance in FOUR.values())
    rate = (heavy - light) / (low - rider_low)
    friction = rate * (high - low) / 2
    preload = (light + friction) / rate - (extended - low)
    return light, heavy, extended, rate, preload, friction


def rows_of(distances):
    return [
        {"load": load, "distance": f"{distance} mm"} | ({} if settled is None else {"settled": settled})
        for (load, settled), distance in distances.items()
    ]


@pytest.mark.parametrize("springs", SPRINGS)
def test_a_straight_line_through_two_loads_by_uncertainties(springs):
    legs, label, each = SPRINGS[springs]
    bike = straight_fork(legs, rows_of(FOUR), tape=f"{TAPE_MM} mm", scales=f"{SCALES_KG} kg")
    fit = bike.study("front", doubting=False).fit()
    light, heavy, extended, rate, preload, friction = line_by_uncertainties()
    assert_same(fit.rate, rate, "N/mm")
    assert_same(fit.preload, preload, "mm")
    assert_same(fit.friction, friction, "N")
    assert_same(fit.extended, extended, "mm")
    expected = correlation_matrix([rate, preload, friction])
    agree("correlations, against uncertainties", fit.correlation, expected, PULL_PLACE)
    for spring, labelled in zip(fit.springs, each, strict=True):
        assert_same(spring, labelled * rate / label, "N/mm")
    for load, weight in zip(fit.loads, (light, heavy), strict=True):
        assert_same(load.fitted, weight, "N")
        assert_same(load.sag, weight / rate - preload, "mm")


def test_what_a_spring_would_do_by_uncertainties():
    """Sags, forces, energy of the fitted spring and of one on sale at the setting that was found for each."""
    bike = straight_fork(SPRINGS["one coil"][0], rows_of(FOUR), tape=f"{TAPE_MM} mm", scales=f"{SCALES_KG} kg")
    light, heavy, _, rate, preload, _ = line_by_uncertainties()
    # A spring out of its box: the label is off by 5 % at most, with equal chance.
    new = 8.0 * ufloat(1, 0.05 / np.sqrt(3))
    choices = {choice.rate.m_as("N/mm"): choice for choice in bike.study("front", doubting=False).advise().choices}
    for spring, choice in [(rate, choices[7.5]), (new, choices[8.0])]:
        # On today's spring a preload counts from the one in the file, 20 mm; on another from where it touches.
        there = choice.preload.value.m_as("mm")
        if choice.is_fitted:
            assert there == pytest.approx(20 + choice.preload_change.value.m_as("mm"), abs=1e-9)
            there += preload.nominal_value - 20
        sag = heavy.nominal_value / spring.nominal_value - there
        agree("rider sag, in mm", choice.rider_sag.value.m_as("mm"), sag, SETTING_MM)
        free = light.nominal_value / spring.nominal_value - there
        agree("free sag, in mm", choice.free_sag.value.m_as("mm"), free, SETTING_MM)
        at = choice.rider_sag.value.m_as("mm")
        full = spring * (TRAVEL_MM - at) + heavy
        left = (full - heavy) / 2 * (TRAVEL_MM - at)
        for found, expected, unit in [
            (choice.wheel_rate, spring, "N/mm"),
            (choice.ride_frequency, (spring * 1000 * GRAVITY / heavy) ** 0.5 / (2 * np.pi), "Hz"),
            (choice.full_force, full, "N"),
            (choice.energy_left, left / 1000, "J"),
            (choice.drop_height, left / heavy, "mm"),
        ]:
            agree(f"what a spring would do, in {unit}", found.value.m_as(unit), expected.nominal_value, SETTING)


# Read low under each of four loads, with errors of a millimetre or two.
WITH_ERRORS = {
    "none": 700.0,
    "bike + crate": 636.6,
    "bike + water": 626.8,
    "bike + rider": 612.5,
    "bike + stretcher": 604.1,
}
FRICTION_N = 200.0


@pytest.mark.filterwarnings("ignore:.*scipy.odr:DeprecationWarning")
def test_a_line_with_errors_in_loads_and_readings_by_orthogonal_distances():
    """`d = c - W/k` by ODRPACK, the loads' own errors with the readings'; what all loads share shifts the line."""
    from scipy import odr

    tape, scales = 0.6, 0.2
    rows = rows_of({(load, None if load == "none" else "low"): d for load, d in WITH_ERRORS.items()})
    options = {"tape": f"{tape} mm", "scales": f"{scales} kg", "friction": f"{FRICTION_N} N"}
    bike = straight_fork(SPRINGS["one coil"][0], rows, **options)
    fit = bike.study("front", doubting=False).fit()

    loads = GRAVITY * np.array([40 - 10 + ON_TOP[load.removeprefix("bike + ")] for load in [*WITH_ERRORS][1:]])
    distances = np.array([*WITH_ERRORS.values()])[1:]
    data = odr.RealData(loads, distances, sx=GRAVITY * scales, sy=tape)
    model = odr.Model(lambda beta, load: beta[1] - load / beta[0])
    found = odr.ODR(data, model, beta0=[7.5, 690.0], sstol=1e-15, partol=1e-15).run()
    rate, crossing = correlated_values(found.beta, found.cov_beta)
    # Friction is stated, and as uncertain as half a band of 4 mm; the bike and its unsprung parts are in every load.
    shared = ufloat(FRICTION_N, np.hypot(4 * 7.5, np.sqrt(2) * GRAVITY * scales))
    preload = crossing - ufloat(700.0, tape) + shared / rate
    assert_same(fit.rate, rate, "N/mm")
    assert_same(fit.preload, preload, "mm")
    expected = correlation_matrix([rate, preload])[0, 1]
    agree("correlation, against ODRPACK", fit.correlation[0, 1], expected, PULL_PLACE)
    agree("sum of squares, against ODRPACK", fit.chi_square[0], found.sum_square, PULL_PLACE)


DRAWS = 400_000
# Standard deviation of a share over the draws, four times; and what a spring rate that is normal here and its logarithm
# there may make of it.
SHARES = 4 * 0.5 / DRAWS**0.5 + 0.005


@pytest.mark.parametrize(
    ("least", "most", "free_sag"), [(0, 40, (15, 24)), (14, 40, (15, 22)), (14, 40, (20, 28)), (0, 14, (15, 22))]
)
def test_the_probability_of_a_spring_is_the_share_of_draws_in_which_all_is_well(least, most, free_sag):
    """Both sags in range with the collar turned by the stated number; no other setting does better."""
    spring = SPRINGS["one coil"][0][0] | {"min_preload": f"{least} mm", "max_preload": f"{most} mm"}
    tape, tolerance = 1.5, 5.0
    wanted = {"rider_sag": {"value": f"{SAG_MM} mm", "tolerance": f"{tolerance} mm"}}
    bike = straight_fork(
        [spring],
        rows_of(FOUR),
        tape=f"{tape} mm",
        scales="0.5 kg",
        prior={"front": {"rate_tolerance": "5 %", "preload_uncertainty": "2 mm"}},
        targets={
            "front": wanted | {"free_sag": dict(zip(("from", "to"), (f"{mm} mm" for mm in free_sag), strict=True))}
        },
        on_sale={"front": ["7 N/mm", "7.5 N/mm", "8 N/mm", "8.5 N/mm"]},
    )
    fit = bike.study("front", doubting=False).fit()

    # The normal posterior of ln k, preload, friction, zero and loads about the fit, by linear algebra alone.
    mode = np.array(
        [
            np.log(fit.rate.value.m_as("N/mm")),
            *(fit.preload.value.m_as("mm"), fit.friction.value.m_as("N"), fit.extended.value.m_as("mm")),
            *(load.fitted.value.m_as("N") for load in fit.loads),
        ]
    )

    def readings(x):
        forces = np.array([x[4] + x[2], x[4] - x[2], x[5] + x[2]])
        return np.append(x[3], x[3] - forces / np.exp(x[0]) + x[1])

    steps = np.diag([1e-4, 1e-3, 1e-2, 1e-3, 1e-2, 1e-2])
    jacobian = np.array([(readings(mode + step) - readings(mode - step)) / (2 * step.sum()) for step in steps]).T
    information = jacobian.T @ jacobian / tape**2
    # Label, stated preload, half a friction band of 4 mm; scales that read bike, rider and unsprung parts.
    information[:3, :3] += np.diag(np.array([0.05 / 3**0.5, 2.0, 4 * 7.5]) ** -2)
    information[4:, 4:] += np.linalg.inv((0.5 * GRAVITY) ** 2 * np.array([[2, 2], [2, 3]]))
    random = np.random.default_rng(3)
    rate, preload, _, _, light, heavy = random.multivariate_normal(mode, np.linalg.inv(information), DRAWS).T
    fitted = next(choice for choice in bike.study("front", doubting=False).advise().choices if choice.is_fitted)
    change = fitted.preload_change.value.m_as("mm")
    # Half millimetres, inside the adjuster.
    assert least <= 20 + change <= most or abs(change) < 1e-9
    rider, free = (load / np.exp(rate) - preload - change for load in (heavy, light))
    well = (abs(rider - SAG_MM) < tolerance) & (free_sag[0] < free) & (free < free_sag[1])
    counted = Tolerance(
        "four standard deviations of a share over the draws, and a rate that is normal here", abs=SHARES
    )
    agree("chance that both sags land", fitted.probability_turned.m_as(""), well.mean(), counted)
    # No other setting lands them more often, but for the count of draws.
    for other in np.arange(max(least, 0), most + 0.25, 0.5) - 20:
        moved = (load / np.exp(rate) - preload - other for load in (heavy, light))
        rider, free = moved
        lands = (abs(rider - SAG_MM) < tolerance) & (free_sag[0] < free) & (free < free_sag[1])
        assert lands.mean() < fitted.probability.m_as("") + SHARES, other
