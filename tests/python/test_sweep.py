"""Sweeps: the numbers are those of the bike that `what_if` makes, whoever works them out and wherever they are kept."""

import json
import pickle

import matplotlib as mpl
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import wheelrate as wr
from wheelrate import _sweep, _sweep_result

mpl.use("Agg")

X, RATE = "rear.linkage.points.link_frame.x", "rear.shock.spring.rate"
AXES = {X: ("-68 mm", "-63 mm"), RATE: ("50 N/mm", "58 N/mm")}
OUTPUTS = ["rear.rider_sag", "rear.chance", "rear.progression", "rear.curve.motion_ratio"]
#: The same kernels on the same numbers, which go through a text and a unit on the plain way.
ROUNDING = 1e-12


def sweep(**options):
    given = {"scheme": "latin_hypercube", "samples": 23, "seed": 4, "points": 5, "chunk": 7, **options}
    return wr.demo().sweep(AXES, OUTPUTS, **given)


@pytest.fixture(scope="module")
def result():
    return sweep()


def test_numbers_are_those_of_what_if_one_by_one(result):
    for row in range(0, len(result), 5):
        x, rate = (f"{float(result._columns[name][row])!r} {unit}" for name, unit in ((X, "m"), (RATE, "N/m")))
        bike = wr.demo().what_if({X: x, RATE: rate})
        assert result.design(row) == bike
        today = bike.advise()["rear"]
        np.testing.assert_allclose(
            result["rear.rider_sag"][row].m_as("m"), today.rider_sag.value.m_as("m"), rtol=ROUNDING
        )
        np.testing.assert_allclose(result["rear.chance"][row].m_as(""), today.probability.m_as(""), rtol=ROUNDING)
        linkage = bike.rear.linkage
        np.testing.assert_allclose(
            result["rear.progression"][row].m_as(""), linkage.progression.m_as(""), rtol=ROUNDING
        )
        travels = np.linspace(0, 1, 5) * linkage.full_travel
        curve = linkage.curve(travels)
        np.testing.assert_allclose(
            result["rear.curve.motion_ratio"][row].m_as(""), curve.motion_ratio.m_as(""), rtol=ROUNDING
        )


@settings(max_examples=15, deadline=None)
@given(chunk=st.integers(1, 40), seed=st.integers(0, 2**64 - 1), scheme=st.sampled_from(["random", "latin_hypercube"]))
def test_stretches_do_not_matter_and_a_seed_says_all(chunk, seed, scheme):
    one, other = (sweep(chunk=size, seed=seed, scheme=scheme) for size in (chunk, 23))
    assert one == other
    x = one[X].m_as("mm")
    assert ((x >= -68) & (x < -63)).all()
    if scheme == "latin_hypercube":
        assert sorted(((x + 68) / 5 * 23).astype(int)) == list(range(23))


def test_a_grid_goes_over_all_combinations_and_a_list_side_by_side():
    values = {X: (np.array([-68.0, -66.0, -64.0]), "mm"), RATE: ["52 N/mm", "56 N/mm"]}
    grid = wr.demo().sweep(values, ["rear.rider_sag", "rear.curve.motion_ratio"], points=3)
    np.testing.assert_allclose(grid[X].m_as("mm"), [-68, -68, -66, -66, -64, -64])
    np.testing.assert_allclose(grid[RATE].m_as("N/mm"), [52, 56] * 3)
    data = grid.to_xarray()
    assert data["rear.rider_sag"].dims == (X, RATE)
    assert data["rear.curve.motion_ratio"].shape == (3, 2, 3)
    assert data["rear.rider_sag"].attrs["units"] == "m"
    assert data[X].attrs["units"] == "m"
    np.testing.assert_allclose(data[RATE], [52e3, 56e3])
    found = data["rear.rider_sag"].sel({X: -0.066, RATE: 56e3}, method="nearest")
    assert float(found) == grid["rear.rider_sag"].m_as("m")[3]
    listed = wr.demo().sweep({X: ["-68 mm", "-64 mm"], RATE: ["52 N/mm", "56 N/mm"]}, ["rear.rider_sag"], scheme="list")
    np.testing.assert_array_equal(listed["rear.rider_sag"].m, grid["rear.rider_sag"].m[[0, 5]])
    with pytest.raises(wr.errors.SweepError, match="wanted a whole grid"):
        listed.to_xarray()


def test_words_numbers_and_tables_are_varied_too():
    stops = [{"rate": "100 N/mm", "acts_over": "14 mm"}, {"rate": "140 N/mm", "acts_over": "12 mm"}]
    axes = {"rear.shock.bump_stop": stops, "rear.chain.front_teeth": [12, 13]}
    result = wr.demo().sweep(axes, ["rear.full_force", "anti_squat"])
    assert "140 N/mm" in result["rear.shock.bump_stop"][3]
    np.testing.assert_array_equal(result["rear.chain.front_teeth"], [12, 13, 12, 13])
    assert result["rear.full_force"].m[0] != result["rear.full_force"].m[2]
    anti_squat = result["anti_squat"].m
    assert anti_squat[0] > anti_squat[1]
    assert anti_squat[0] == anti_squat[2]
    assert result.to_pandas()["rear.shock.bump_stop"][3] == result["rear.shock.bump_stop"][3]


def failing(**options):
    axes = {"rear.shock.length": ["468.7 mm", "900 mm", "470 mm"]}
    return wr.demo().sweep(axes, ["rear.rider_sag", "trail"], scheme="list", chunk=2, **options)


def test_a_design_that_fails_is_nan_with_its_reason(tmp_path):
    result = failing()
    sags = result["rear.rider_sag"].m_as("mm")
    assert np.isfinite(sags[[0, 2]]).all()
    assert np.isnan(sags[1])
    with pytest.raises(wr.errors.FileError) as refused:
        wr.demo().what_if({"rear.shock.length": "900 mm"})
    assert result.reasons == {1: str(refused.value)}
    assert result.reason == [None, str(refused.value), None]
    assert failing(to=tmp_path / "failing.parquet") == result
    assert result.to_pandas()["reason"][1] == str(refused.value)
    assert "900" in result._repr_html_()
    assert len(result.pareto(["-rear.rider_sag"])) == 1


@pytest.mark.parametrize(
    ("axes", "options", "says"),
    [
        ({"rear.shock.spring.rat": ["52 N/mm"]}, {}, "rear.shock.spring.rat: found an address that leads nowhere"),
        ({RATE: ["52 mm"]}, {}, "rear.shock.spring.rate.*`52 mm` is a length, not a spring rate"),
        ({RATE: [52.0, 54.0]}, {}, "rear.shock.spring.rate: found `52`, `52` has no unit"),
        ({RATE: (np.array([52.0]), "mm")}, {}, "rear.shock.spring.rate.*length, not a spring rate"),
        ({RATE: ["52 N/mm"]}, {"samples": 3}, "samples: found 3, wanted none"),
        ({RATE: ("52 N/mm", "50 N/mm")}, {"scheme": "random", "samples": 3}, "the lower end first"),
        ({RATE: ["52 N/mm"]}, {"scheme": "sobol"}, "scheme: found `sobol`, wanted grid, list"),
        ({RATE: ["52 N/mm"]}, {"chunk": 0}, "chunk: found 0"),
        ({"reading[0].distance": ["650 mm"]}, {}, "readings and the log are not varied"),
    ],
)
def test_what_cannot_be_swept_is_refused_with_its_address(axes, options, says):
    with pytest.raises((wr.errors.SweepError, wr.errors.UnitError), match=says):
        wr.demo().sweep(axes, ["rear.rider_sag"], **options)
    with pytest.raises(wr.errors.SweepError, match=r"did you mean `rear\.rider_sag`"):
        wr.demo().sweep({RATE: ["52 N/mm"]}, ["rear.rider_sak"])


def test_tables_hold_all_columns_with_their_units(result):
    arrow, pandas, polars = result.to_arrow(), result.to_pandas(), result.to_polars()
    names = ["design", *result.columns(), "reason"]
    assert arrow.column_names == names == list(polars.columns)
    assert list(pandas.columns) == names[1:]
    assert f"{RATE} [N/m]" in names
    field = arrow.schema.field("rear.rider_sag [m]")
    assert field.metadata == {b"kind": b"length", b"unit": b"m"}
    for name, values in result.columns().items():
        np.testing.assert_array_equal(np.stack(pandas[name].to_numpy()), values)
        np.testing.assert_array_equal(np.stack(polars[name].to_list()), values)
    assert pandas.attrs["units"]["rear.rider_sag [m]"] == "m"


@pytest.mark.parametrize("name", ["sweep.parquet", "folder"])
def test_what_is_written_comes_back_and_is_taken_up_again(tmp_path, result, name, monkeypatch):
    place = tmp_path / name

    def stopped(*, total, unit):
        class Bar:
            def update(self, designs):
                raise KeyboardInterrupt

            def close(self):
                pass

        return Bar()

    with pytest.raises(wr.errors.SweepInterrupted, match="7 of 23 designs") as stop:
        sweep(to=place, progress=stopped)
    assert len(stop.value.result) == 7
    assert not stop.value.result.is_complete
    asked = []
    work = wr.Sweep.chunk
    counted = []

    class Bar:
        def __init__(self, *, total, unit):
            asked.append((total, unit))

        def update(self, designs):
            counted.append(designs)

        def close(self):
            counted.append("closed")

    written = sweep(to=place, progress=Bar)
    assert asked == [(23, "designs")]
    assert counted == [7, 7, 7, 2, "closed"]
    assert written == result == wr.SweepResult.load(place)
    assert work is wr.Sweep.chunk
    counted.clear()
    assert sweep(to=place, progress=Bar) == result
    assert sum(counted[:-1]) == 23
    with pytest.raises(wr.errors.SweepError, match="found another"):
        sweep(to=place, seed=5)
    assert sorted(path.name for path in tmp_path.iterdir()) == [name]


def test_ctrl_c_leaves_what_is_done_in_memory():
    def stopped(**_):
        class Bar:
            def update(self, designs):
                raise KeyboardInterrupt

            def close(self):
                pass

        return Bar()

    with pytest.raises(wr.errors.SweepInterrupted) as stop:
        sweep(progress=stopped)
    done = stop.value.result
    assert done == sweep().take(np.arange(7))


def test_a_bar_of_tqdm_follows(capsys):
    assert sweep(progress=True).is_complete
    assert "23/23" in capsys.readouterr().err


def test_csv_is_written_as_it_comes(tmp_path, result):
    import csv

    sweep(to=tmp_path / "sweep.csv")
    result.save(tmp_path / "saved.csv")
    text = (tmp_path / "sweep.csv").read_text("utf-8")
    assert text == (tmp_path / "saved.csv").read_text("utf-8")
    head, *rows = csv.reader(text.splitlines())
    assert head[:4] == ["design", f"{X} [m]", f"{RATE} [N/m]", "rear.rider_sag [m]"]
    assert head[-2:] == ["rear.curve.motion_ratio[4] [shock/wheel]", "reason"]
    assert [float(row[3]) for row in rows] == result.columns()["rear.rider_sag [m]"].tolist()
    with pytest.raises(wr.errors.SweepError, match="a name that is free"):
        sweep(to=tmp_path / "sweep.csv")


def test_the_front_holds_what_nothing_beats():
    generator = np.random.default_rng(1)
    costs = np.round(generator.random((300, 3)), 1)
    costs[7] = np.nan
    kept = set(_sweep_result._front(costs).tolist())
    for row, cost in enumerate(costs):
        beaten = ((costs <= cost).all(axis=1) & (costs < cost).any(axis=1)).any()
        assert (row in kept) == (not beaten and row != 7)


def test_the_front_of_a_sweep(result):
    front = result.pareto({"rear.chance": "most", "rear.progression": "most"})
    assert front == result.pareto(["rear.chance", "rear.progression"])
    chance, progression = front["rear.chance"].m, front["rear.progression"].m
    assert (np.diff(chance) <= 0).all()
    assert (np.diff(progression) >= 0).all()
    assert front.design(0) == result.design(list(result.designs).index(front.designs[0]))
    with pytest.raises(wr.errors.SweepError, match=r"there is no column `rear\.chances`"):
        result.pareto(["rear.chances"])
    with pytest.raises(wr.errors.SweepError, match="one value a design"):
        result.pareto(["rear.curve.motion_ratio"])


def test_a_sweep_and_its_result_are_data(result):
    assert pickle.loads(pickle.dumps(result)) == result
    again = pickle.loads(pickle.dumps(result.sweep))
    assert again == result.sweep
    assert hash(again) == hash(result.sweep)
    assert json.loads(again.to_json())["scheme"] == {"latin_hypercube": {"samples": 23, "seed": 4}}
    # A task of a cluster is this and a number.
    assert len(pickle.dumps(_sweep.Stretch(100))) < 200


def test_pictures_show_the_designs(result):
    ax = wr.plot.parallel(result, [X, RATE, "rear.rider_sag"], colour="rear.chance")
    [lines] = ax.collections
    assert len(lines.get_segments()) == len(result)
    np.testing.assert_allclose(lines.get_array(), result["rear.chance"].m)
    sags = result["rear.rider_sag"].m
    heights = [segment[2, 1] for segment in lines.get_segments()]
    np.testing.assert_allclose(heights, (sags - sags.min()) / (sags.max() - sags.min()))
    ax = wr.plot.contour(result, X, RATE, "rear.rider_sag")
    assert ax.get_xlabel() == f"{X}, mm"
    assert ax.get_ylabel() == f"{RATE}, N/mm"
    with pytest.raises(wr.errors.SweepError, match="wanted a column with one number"):
        wr.plot.contour(result, X, RATE, "rear.curve.motion_ratio")
