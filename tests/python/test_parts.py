"""A bike put together from its parts, without a file, is the bike of the file."""

import pytest

import wheelrate as wr

FRONT_LEG = wr.ForkLeg(
    wr.Preloaded("4.4 N/mm", "6 mm", thread_pitch="1.0 mm", min_preload="0 mm", max_preload="18 mm"),
    wr.ForkAir(
        sealing_diameter="47 mm",
        bore="43 mm",
        oil_level="115 mm",
        exponent=wr.Exponents(1.0, 1.35),
        steel_volume="45 cm3",
    ),
    damper=wr.Damper(
        "180 N s/m",
        "340 N s/m",
        compression_knee=("0.4 m/s", "90 N s/m"),
        rebound_knee=("0.5 m/s", "200 N s/m"),
        uncertainty="10 %",
    ),
)
LINKAGE = wr.Linkage(
    wr.Mechanism(
        (
            {
                "swingarm_pivot": (0, 0),
                "axle": (-575, -165),
                "rocker_pivot": (-253, -72),
                "link_frame": (-66, -98),
                "link_rocker": (-215, -184),
                "shock_rocker": (-204, -128),
                "shock_frame": (-100, 329),
            },
            "mm",
        ),
        {
            "frame": ["swingarm_pivot", "link_frame", "shock_frame"],
            "swingarm": ["swingarm_pivot", "axle", "rocker_pivot"],
            "rocker": ["rocker_pivot", "link_rocker", "shock_rocker"],
            "link": ["link_frame", "link_rocker"],
        },
    ),
    wheel="axle",
    shock=("shock_frame", "shock_rocker"),
    shock_length="468.7 mm",
    stroke="118 mm",
)
SHOCK_SPRING = wr.Preloaded(
    wr.Spring("52 N/mm", free_length="260 mm", solid_length="118 mm"),
    "14 mm",
    thread_pitch="1.5 mm",
    min_preload="4 mm",
    max_preload="22 mm",
)
SHOCK = wr.Shock(
    "468.7 mm",
    "118 mm",
    SHOCK_SPRING,
    wr.Reservoir("10 bar", "180 cm3", "16 mm"),
    bump_stop=wr.Stop("120 N/mm", "14 mm"),
    damper=wr.Damper.from_table(
        ([0.05, 0.15, 0.5, 1], "m/s"),
        ([230, 520, 1000, 1550], "N"),
        ([380, 900, 2000, 3300], "N"),
        uncertainty="10 %",
    ),
)
PARTS = {
    "masses": wr.Masses(
        {"bike": ("61 kg", "64 kg"), "rider": ("30 kg", "66 kg"), "stretcher": ("1 kg", "8 kg")},
        unsprung=("14.2 kg", "17.5 kg"),
        scale_uncertainty="0.5 kg",
        heights={"bike": "560 mm", "rider": "1200 mm", "stretcher": "1000 mm"},
        pitch_inertias={"bike": "22 kg m2", "rider": "12 kg m2"},
    ),
    "front": wr.FrontEnd(
        wr.Fork("290 mm", "26.5 deg", FRONT_LEG).with_bushes(
            wr.Bushes("200 mm", "400 mm", axle_offset="35 mm", coefficient=0.02, coefficient_uncertainty=0.01)
        ),
        ["905 mm", "-150 mm"],
    ),
    "rear": wr.RearEnd(
        LINKAGE, SHOCK, caliper="swingarm", final_drive=wr.Sprockets(["88 mm", "4 mm"], (13, 49), "15.875 mm")
    ),
    "wheels": wr.Wheels(
        fork_offset="55 mm", front_radius="350 mm", rear_radius="335 mm", front_tyre="160 N/mm", rear_tyre="180 N/mm"
    ),
    "frame_points": {"seat": ((-80, 460), "mm"), "skid_plate": ((90, -150), "mm")},
    "prior": {
        "front": wr.SpringPrior(rate_tolerance="5 %", preload_uncertainty="1.5 mm"),
        "rear": wr.SpringPrior(rate_tolerance="5 %", preload_uncertainty="1 mm"),
    },
    "measuring": {"front": wr.Measuring("along fork", "1.5 mm"), "rear": wr.Measuring("vertical", "1.5 mm")},
    "targets": {
        "front": wr.Targets(
            rider_sag=wr.SagTarget("55 mm", tolerance="5 mm", direction="along fork"),
            free_sag=wr.SagTarget(range=("22 mm", "36 mm"), direction="along fork"),
        ),
        "rear": wr.Targets(
            rider_sag=wr.SagTarget("102 mm", tolerance="4 mm"), free_sag=wr.SagTarget(range=("25 mm", "40 mm"))
        ),
    },
    "discipline": "trail",
    "rider_load": "bike + rider",
    "scenarios": [
        wr.Scenario(
            "with stretcher",
            "bike + rider + stretcher",
            targets={
                "rear": wr.Targets(
                    rider_sag=wr.SagTarget("108 mm", tolerance="6 mm"), free_sag=wr.SagTarget(range=("15 mm", "35 mm"))
                )
            },
        )
    ],
    "on_sale": wr.OnSale(
        front=([3.8, 4.0, 4.2, 4.4, 4.6, 4.8], "N/mm"),
        rear=([50, 52, 54, 56, 58, 60], "N/mm"),
    ),
    "prices": wr.Prices(),
    "readings": [
        *(
            wr.Reading("front", load, (distance, "mm"), settled)
            for load, settled, distance in [
                ("none", None, 743),
                ("bike", "low", 702),
                ("bike", "high", 711),
                ("bike + rider", "low", 679),
                ("bike + rider", "high", 684),
            ]
        ),
        *(
            wr.Reading("rear", load, (distance, "mm"), settled)
            for load, settled, distances in [
                ("none", None, (654, 656)),
                ("bike", "low", (624, 622)),
                ("bike", "high", (637, 639)),
                ("bike + rider", "low", (538, 539)),
                ("bike + rider", "high", (551, 549)),
            ]
            for distance in distances
        ),
    ],
}


def test_the_shipped_bike_part_by_part():
    bike, demo = wr.Bike("Ridge patrol 300", **PARTS), wr.demo()
    for name in (
        "masses",
        "front",
        "rear",
        "wheels",
        "prior",
        "measuring",
        "targets",
        "on_sale",
        "scenarios",
        "readings",
    ):
        assert getattr(bike, name) == getattr(demo, name), name
    assert bike == demo
    assert hash(bike) == hash(demo)
    assert wr.Bike.from_toml(bike.to_toml()) == demo


def test_a_log_without_a_file():
    change = wr.Change(
        "2026-06-14", was={"rear.shock.spring.rate": "50 N/mm", "rear.shock.spring.preload": "12 mm"}, note="stiffer"
    )
    dated = [wr.Reading(one.end, one.load, one.distance, one.settled, date="2026-06-01") for one in PARTS["readings"]]
    bike = wr.Bike("Ridge patrol 300", **{**PARTS, "readings": dated, "changes": [change]})
    assert bike.changes == [change]
    before = bike.at("2026-06-13").rear.shock.spring
    assert (before.spring.rate.m_as("N/mm"), before.preload.m_as("mm")) == (50, 12)
    assert wr.Bike.from_toml(bike.to_toml()) == bike


def test_its_own_table_of_common_practice():
    ours = wr.CommonPractice([wr.Practice("ridge", "rear", "rider", share=("31 %", "33 %"))])
    bike = wr.Bike("shed", rear=PARTS["rear"], discipline="ridge", practice=ours)
    assert bike.common_practice == ours
    low, high = bike.targets["rear"].rider_sag.range
    full = bike.rear.full_travel.m_as("mm")
    # The share of a vertical sag is of the vertical travel; a product of two floats.
    assert [low.m_as("mm"), high.m_as("mm")] == pytest.approx([0.31 * full, 0.33 * full], rel=1e-12)


@pytest.mark.parametrize(
    ("build", "field", "wanted"),
    [
        (lambda: wr.SagTarget("102 mm"), "tolerance", "range"),
        (lambda: wr.SagTarget("102 mm", tolerance="4 mm", range=("98 mm", "106 mm")), "tolerance", "range"),
        (lambda: wr.SagTarget(range=("40 mm", "25 mm")), "to", "more than"),
        (lambda: wr.SagTarget("50 mm", range=("25 mm", "40 mm")), "value", "25 mm"),
        (lambda: wr.SagTarget("102 mm", tolerance="4 mm", direction="sideways"), "direction", "along fork"),
        (lambda: wr.SagTarget(102, tolerance="4 mm"), "value", "102 mm"),
        (lambda: wr.Measuring("along fork", "60 mm"), "uncertainty", "50 mm"),
        (lambda: wr.Measuring("sideways"), "direction", "vertical"),
        (lambda: wr.SpringPrior(rate_tolerance="120 %"), "rate_tolerance", "100"),
        (lambda: wr.Bike("x", targets={"middle": wr.Targets()}), "end", "rear"),
        (lambda: wr.Bike("x", rear=PARTS["rear"], discipline="chess"), "chess", "trail"),
        (lambda: wr.Bike("x", on_sale=wr.OnSale(rear=["-52 N/mm"])), "rate", "zero"),
    ],
)
def test_what_is_wrong_is_said_with_its_field(build, field, wanted):
    with pytest.raises(wr.WheelrateError) as fault:
        build()
    assert field in str(fault.value)
    assert wanted in str(fault.value)


def test_what_stands_in_for_the_unknown_is_given_as_in_a_file():
    usual = wr.OwnUsual(rake=("27 deg", "1 deg"), step_rear="2 N/mm", bike_on_front=("48 %", "1 %"))
    bike = wr.Bike("shed", kind="road", usual=usual, masses=wr.Masses({"bike": "130 kg"}))
    read = wr.Bike.from_toml("""
        format = 1
        [bike]
        name = "shed"
        kind = "road"
        [masses]
        bike = "130 kg"
        [assumed]
        rake = "27 deg ± 1 deg"
        step_rear = "2 N/mm"
        bike_on_front = "48 % ± 1 %"
    """)
    assert bike == read
    assert (bike.kind, bike.usual) == ("road", usual)
    assert bike.masses.wheel_mass("front", "bike").value.m_as("kg") == pytest.approx(0.48 * 130, rel=1e-12)
    with pytest.raises(wr.WheelrateError, match="kind"):
        wr.Bike("shed", kind="tractor")
