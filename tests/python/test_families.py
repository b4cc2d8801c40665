"""Many linkages at once, and columns in memory of the caller's own: the same numbers as one by one, to the last bit."""

import pickle

import numpy as np
import pytest

import wheelrate as wr


@pytest.fixture(scope="module")
def linkages():
    """Give the demo's linkage with its link on the frame at many places."""
    rear = wr.demo().rear.linkage
    return [rear.with_link_length("link", f"{length} mm") for length in np.linspace(168.0, 176.0, 75)]


def test_a_family_gives_what_each_gives_alone(linkages):
    family = wr.LinkageFamily(linkages)
    together = family.at("100 mm").columns()
    for place, linkage in enumerate(linkages):
        alone = linkage.at("100 mm")
        assert together["motion_ratio [shock/wheel]"][place] == alone.motion_ratio.m
        assert together["stroke [m]"][place] == linkage.columns(["100 mm"])["stroke [m]"][0]
    assert len(family) == len(family.linkages) == 75


def test_each_has_a_travel_of_its_own_or_no_number(linkages):
    family = wr.LinkageFamily(linkages)
    travels = np.linspace(10.0, 250.0, len(linkages))
    travels[3] = 900.0
    found = family.at((travels, "mm")).columns()
    assert np.isnan(found["stroke [m]"][3])
    assert np.isnan(found["axle_z [m]"][3])
    assert np.isfinite(np.delete(found["stroke [m]"], 3)).all()
    np.testing.assert_array_equal(found["travel [m]"], travels / 1000)
    with pytest.raises(wr.errors.LinkageError, match="2 travels for 75 linkages; give one, or one for each"):
        family.at(["1 mm", "2 mm"])
    with pytest.raises(wr.errors.UnitError, match="travel"):
        family.at("2 kg")


def test_a_family_writes_columns_once(linkages):
    family = wr.LinkageFamily(linkages)
    travels = np.linspace(10.0, 250.0, len(linkages))
    for travel in ("100 mm", (travels, "mm")):
        curve, found = family.at(travel).columns(), family.columns(travel)
        for name, column in found.items():
            np.testing.assert_array_equal(column, curve[name])
    chosen = family.columns("100 mm", columns=["motion_ratio", "stroke [m]"])
    assert list(chosen) == ["motion_ratio [shock/wheel]", "stroke [m]"]
    assert family.columns((travels, "mm"), out=chosen) is chosen
    np.testing.assert_array_equal(chosen["stroke [m]"], found["stroke [m]"])
    with pytest.raises(wr.errors.LinkageError, match="leave one of the two out"):
        family.columns("100 mm", columns=["stroke"], out=chosen)
    with pytest.raises(wr.errors.LinkageError, match="3 × 25 travels for 75 linkages"):
        family.columns((travels.reshape(3, 25), "mm"))


def test_a_family_is_data(linkages):
    family = wr.LinkageFamily(linkages[:3])
    again = pickle.loads(pickle.dumps(family))
    assert again == family
    assert hash(again) == hash(family)
    assert family != wr.LinkageFamily(linkages[1:4])
    assert repr(family) == "LinkageFamily(<3 linkages>)"


def test_a_sweep_of_points_is_a_family(linkages):
    found = wr.sweep_points(linkages, "100 mm").columns()
    np.testing.assert_array_equal(found["stroke [m]"], wr.LinkageFamily(linkages).at("100 mm").columns()["stroke [m]"])
    with pytest.raises(wr.errors.LinkageError, match="900"):
        wr.sweep_points(linkages, "900 mm")


def test_loose_linkages_come_in_any_row(linkages):
    found = wr.sweep_points(linkages, "100 mm")
    assert wr.sweep_points(tuple(linkages), "100 mm") == found
    assert wr.sweep_points(np.array(linkages, dtype=object), "100 mm") == found
    assert len(wr.sweep_points([], "100 mm").columns()["stroke [m]"]) == 0
    with pytest.raises(TypeError, match=r"argument 'linkages': .*Linkage"):
        wr.sweep_points([linkages[0], "a linkage"], "100 mm")


def test_columns_are_those_of_the_curve():
    linkage = wr.demo().rear.linkage
    travels = (np.linspace(0.0, 299.0, 1001), "mm")
    wanted, found = linkage.curve(travels).columns(), linkage.columns(travels)
    assert list(found) == list(wanted)[: len(found)]
    for name in found:
        np.testing.assert_array_equal(found[name], wanted[name])
    some = linkage.columns(travels, columns=["axle_z", "stroke [m]"])
    assert list(some) == ["axle_z [m]", "stroke [m]"]


def test_memory_is_used_again():
    linkage = wr.demo().rear.linkage
    out = linkage.columns((np.linspace(0.0, 100.0, 100), "mm"), columns=["motion_ratio"])
    array = out["motion_ratio [shock/wheel]"]
    before = array.copy()
    again = linkage.columns((np.linspace(100.0, 200.0, 100), "mm"), out=out)
    assert again is out
    assert out["motion_ratio [shock/wheel]"] is array
    assert (array > before).all()


@pytest.mark.parametrize(
    ("out", "said"),
    [
        ({"motion_ratio [shock/wheel]": np.zeros(7)}, "7 floats where an array of 2 floats that can be written to"),
        ({"motion_ratio [shock/wheel]": [0.0, 0.0]}, "list"),
        ({"motion_ratio [shock/wheel]": np.zeros(4)[::2]}, "side by side"),
        ({"motion_ratio [shock/wheel]": np.zeros(2, dtype=int)}, "an array of 2 floats"),
        ({"lever": np.zeros(2)}, 'no column "lever"; there are travel, stroke, motion_ratio'),
    ],
)
def test_memory_that_will_not_do(out, said):
    with pytest.raises(wr.errors.LinkageError) as caught:
        wr.demo().rear.linkage.columns(["1 mm", "2 mm"], out=out)
    assert said in str(caught.value)


def test_memory_that_may_not_be_written_to():
    frozen = np.zeros(2)
    frozen.setflags(write=False)
    with pytest.raises(wr.errors.LinkageError, match="can be written to"):
        wr.demo().rear.linkage.columns(["1 mm", "2 mm"], out={"stroke [m]": frozen})
    with pytest.raises(wr.errors.LinkageError, match="leave one of the two out"):
        wr.demo().rear.linkage.columns(["1 mm"], columns=["stroke"], out={"stroke [m]": np.zeros(1)})


def test_a_family_redrawn_at_columns_of_places(linkages):
    base = linkages[0]
    heights = np.linspace(-102.0, -94.0, 40)
    family = base.redrawn({"link_frame.z": (heights, "mm"), "link_frame.x": (np.full(40, -66.0), "mm")})
    together = family.at("100 mm").motion_ratio.m
    for row in (0, 17, 39):
        places = dict(base.mechanism.points)
        places["link_frame"] = ("-66 mm", f"{float(heights[row])!r} mm")
        alone = wr.Linkage(
            wr.Mechanism(places, base.mechanism.bodies),
            base.wheel,
            base.shock,
            shock_length=base.shock_length,
            stroke=base.full_stroke,
        )
        # Millimetres become metres by another way: a rounding of the place.
        assert together[row] == pytest.approx(alone.at("100 mm").motion_ratio.m, rel=1e-12)
        assert family.linkages[row].at("100 mm").motion_ratio.m == together[row]
    assert family.reasons == [None] * 40
    again = pickle.loads(pickle.dumps(family))
    assert again == family
    assert hash(again) == hash(family)


def test_what_cannot_be_redrawn_has_its_reason(linkages):
    family = linkages[0].redrawn({"link_frame.z": (["-98 mm", "900 mm"])})
    assert np.isfinite(family.at("100 mm").motion_ratio.m[0])
    assert np.isnan(family.at("100 mm").motion_ratio.m[1])
    assert family.reasons[0] is None
    assert family.linkages[1] is None
    assert len(family.reasons[1]) > 20
    with pytest.raises(wr.errors.LinkageError, match=r"`link_frame.y` is no coordinate of a point: write `point.x` or"):
        linkages[0].redrawn({"link_frame.y": ["1 mm"]})
    with pytest.raises(wr.errors.LinkageError, match=r"link_frames.*did you mean `link_frame`"):
        linkages[0].redrawn({"link_frames.x": ["1 mm"]})
    with pytest.raises(wr.errors.LinkageError, match="1 places for `link_frame` where the first column has 2"):
        linkages[0].redrawn({"link_frame.x": ["1 mm", "2 mm"], "link_frame.z": ["1 mm"]})
    with pytest.raises(wr.errors.UnitError, match=r"link_frame\.x"):
        linkages[0].redrawn({"link_frame.x": [1.0, 2.0]})
