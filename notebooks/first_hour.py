# ---
# jupyter:
#   jupytext:
#     text_representation:
#       extension: .py
#       format_name: percent
#   kernelspec:
#     display_name: Python 3
#     language: python
#     name: python3
# ---

# %% [markdown]
# # The first hour: from scales and a tape to a spring
#
# A mountain-rescue patrol rides a trail bike whose rider carries a medical pack. The bike feels harsh when it is ridden
# empty and wallows when it is loaded. Two bathroom scales, a tape and one hour in the shed: **is the rear spring wrong,
# or only its preload?**
#
# Every number here carries its unit. Text with a unit goes in, [pint](https://pint.readthedocs.io) quantities come out.

# %%
import matplotlib.pyplot as plt
import numpy as np

import wheelrate as wr

# %% [markdown]
# ## What the spring carries
#
# One scale under each wheel, bike level; once alone, once with the rider on the pegs. The rider's line is the difference.
# Wheel, brake, axle and half the swingarm are not carried by the spring; they are taken off:
#
# $$W_\text{sprung} = \left(\sum m - m_\text{unsprung}\right) g$$

# %%
masses = wr.Masses(
    {"bike": ("61 kg", "64 kg"), "rider": ("30 kg", "66 kg")},
    unsprung=("14.2 kg", "17.5 kg"),
    scale_uncertainty="0.5 kg",
)
for load in ("bike", "bike + rider"):
    print(f"{load:>12}: {masses.sprung_load('rear', load)}")

# %% [markdown]
# The number after ± is a standard uncertainty: the truth lies within twice that, 95 times in 100. Half a kilogram per
# reading is what two household scales are worth.
#
# ## The linkage
#
# Bolt centres measured on the stand, swingarm pivot as the origin, x forward and z up. Which body carries which points
# is all the library is given; that this is a rocker on the swingarm with a link to the frame it finds out by itself.

# %%
points = {
    "swingarm_pivot": (0, 0),
    "axle": (-575, -165),
    "rocker_pivot": (-253, -72),
    "link_frame": (-66, -98),
    "link_rocker": (-215, -184),
    "shock_rocker": (-204, -128),
    "shock_frame": (-100, 329),
}
bodies = {
    "frame": ["swingarm_pivot", "link_frame", "shock_frame"],
    "swingarm": ["swingarm_pivot", "axle", "rocker_pivot"],
    "rocker": ["rocker_pivot", "link_rocker", "shock_rocker"],
    "link": ["link_frame", "link_rocker"],
}
linkage = wr.Linkage(
    wr.Mechanism((points, "mm"), bodies),
    wheel="axle",
    shock=("shock_frame", "shock_rocker"),
    shock_length="468.7 mm",
    stroke="118 mm",
)
print("wheel travel:", linkage.full_travel.round(1))
print("motion ratio over the travel: +", linkage.progression.round(1), sep="")

# %%
fig, ax = plt.subplots(figsize=(6.4, 4.2), layout="constrained")
for travel, colour in zip(
    np.linspace(0, 1, 4) * linkage.full_travel,
    ["0.75", "0.55", "0.35", "#0072b2"],
    strict=True,
):
    at = {name: place.m_as("mm") for name, place in linkage.pose(travel).items()}
    for on in bodies.values():
        if on[0] != "swingarm_pivot" or "axle" in on:
            ax.plot(
                *np.array([at[name] for name in [*on, on[0]]]).T,
                color=colour,
                linewidth=1.6,
            )
    ax.plot(
        *np.array([at["shock_frame"], at["shock_rocker"]]).T,
        color=colour,
        linewidth=4,
        alpha=0.5,
    )
    ax.plot(*at["axle"], "o", color=colour, markersize=9)
ax.set_aspect("equal")
ax.set_xlabel("x, mm (forward)")
ax.set_ylabel("z, mm")
ax.set_title("Four places along the travel, the shock thick")
plt.show()

# %% [markdown]
# ## From the spring to the wheel
#
# The shock moves less than the wheel; their ratio is the motion ratio $MR = ds/dz$. Virtual work gives the force at the
# wheel, and its slope the wheel rate:
#
# $$F_w = F_s\,MR, \qquad k_w = k_s\,MR^2 + F_s\,\frac{dMR}{dz}$$
#
# The second term needs no spring rate at all: it is there because the linkage changes its ratio under load. People leave
# it out. How much is it here?

# %%
shock = wr.Shock(
    "468.7 mm",
    "118 mm",
    wr.Preloaded(
        wr.Spring("52 N/mm", free_length="260 mm", solid_length="118 mm"),
        "14 mm",
        thread_pitch="1.5 mm",
        min_preload="4 mm",
        max_preload="22 mm",
    ),
    wr.Reservoir("10 bar", "180 cm3", "16 mm"),
    bump_stop=wr.Stop("120 N/mm", "14 mm"),
    damper=wr.Damper.from_table(
        ([0.05, 0.15, 0.5, 1], "m/s"),
        ([230, 520, 1000, 1550], "N"),
        ([380, 900, 2000, 3300], "N"),
        uncertainty="10 %",
    ),
)
rear = wr.RearEnd(linkage, shock)
state = rear.at("102 mm")
print("wheel rate at 102 mm:", state.wheel_rate.round(2))
print(
    "of it geometric:     ",
    state.geometric_rate.round(2),
    f"({(state.geometric_rate / state.wheel_rate).m:.0%})",
)

# %%
ax = wr.plot.wheel_rate(rear)
curve = rear.curve()
spring_only = curve.axial_rate * curve.motion_ratio**2
ax.plot(
    curve.travel.m_as("mm"),
    spring_only.m_as("N/mm"),
    "k:",
    label="without the geometric term",
)
ax.set_ylim(0, 20)
ax.legend(frameon=False)
plt.show()

# %% [markdown]
# A check that needs no trust in anybody: the force curve, integrated, must give the energy curve.

# %%
by_trapezes = np.trapezoid(curve.wheel_force.m_as("N"), curve.travel.m_as("m"))
print(
    f"integral of force: {by_trapezes:.1f} J, energy:"
    f" {curve.energy[-1].m_as('J'):.1f} J"
)
assert np.isclose(by_trapezes, curve.energy[-1].m_as("J"), rtol=1e-3)

# %% [markdown]
# ## What the tape says
#
# The distance from axle to a mark on the tail, first with the wheel off the ground, then under each load, and every
# loaded state twice: once let up slowly after pushing down (`low`), once let down slowly after lifting (`high`). Friction
# holds the bike between the two. The shipped bike file holds the readings; its rear end is the one just built.

# %%
bike = wr.demo()
assert (bike.rear.linkage, bike.rear.shock) == (rear.linkage, rear.shock)
for reading in bike.readings:
    if reading.end == "rear":
        print(
            f"{reading.load:>12}  {reading.settled or '':4} "
            f" {reading.distance.m_as('mm'):.0f} mm"
        )

# %% [markdown]
# ## What the readings say of the spring
#
# Rate, preload and friction are fitted to all readings at once, on the true curve of force, with what the labels promise
# as a prior.

# %%
fit = bike.fit_end("rear")
fit

# %% [markdown]
# How much of that do we owe to the readings, and how much to the label?

# %%
for name, share in fit.from_readings.items():
    print(f"{name:>8}: {share.m_as('percent'):.0f} % from the readings")
print("correlation of rate and preload:", fit.correlation[0, 1].round(2))

# %% [markdown]
# Rate and preload are correlated: a stiffer spring with less preload explains the same sags nearly as well. That is why
# one sag reading never parts a spring from its preload, and two loads are needed.
#
# ## The decision
#
# The patrol wants 102 ± 4 mm of sag with the rider, and 25 to 40 mm without. For every spring on sale: which preload gives
# the rider sag, and what free sag follows?

# %%
advice = bike.advise_end("rear")
advice

# %% [markdown]
# The rule that people get backwards is in there: *too little* free sag means the spring is **too soft**. It needs so much
# preload to carry the rider that the bike alone hardly moves it.

# %%
fig, ax = plt.subplots(figsize=(6.4, 3.6), layout="constrained")
choices = sorted(advice.choices, key=lambda choice: choice.rate.m_as("N/mm"))
rates = [choice.rate.m_as("N/mm") for choice in choices]
sags = [choice.free_sag.value.m_as("mm") for choice in choices]
spread = [1.96 * choice.free_sag.standard_uncertainty.m_as("mm") for choice in choices]
ax.axhspan(25, 40, color="#009e73", alpha=0.15, label="wanted")
ax.errorbar(
    rates,
    sags,
    spread,
    fmt="o",
    color="#0072b2",
    capsize=4,
    label="free sag once the rider sag is set, 95 %",
)
ax.set_xlabel("spring rate (N/mm)")
ax.set_ylabel("free sag (mm)")
ax.spines[["top", "right"]].set_visible(False)
ax.legend(frameon=False)
plt.show()

# %% [markdown]
# ## What would make it surer

# %%
for sentence in advice.plan.text():
    print("-", sentence)

# %% [markdown]
# And the page for the wall: `bike.sheet().save("sheet.html")`, or `wheelrate sheet patrol.toml` in a terminal.
#
# **Try next:** give the rider another 10 kg (`bike.what_if({"masses.rider.rear": "76 kg"})`) and ask again. What
# the readings found of spring, preload and friction is carried over; nothing is fitted under a rider who was not there. A
# wrong entry is another matter: `bike.correct` mends it and fits the readings anew.

# %%
heavier = bike.what_if({"masses.rider.rear": "76 kg"})
print(heavier.advise_end("rear").headline())

# %% [markdown]
# ## Before you touch a bike
#
# The maker's manual, local rules and a qualified mechanic come before any number here. Release all spring preload before taking a
# fork or shock apart, and never open or heat a charged reservoir. After any change
# check by hand that tyre, chain and brake lines stay clear at full travel and full lock, tighten every fastener to the
# maker's torque, and ride gently at first.
