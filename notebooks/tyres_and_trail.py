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
# # Tyres and trail: how soft is the tyre, and which setting gives the trail?
#
# *Winter tyres are on, softer ones, and the patrol's bike turns in by itself. How soft are they? And which screw brings the
# trail back?*
#
# Readings come first, then what they do to the trail, then the settings. Each number has its ±, or the text says why it has
# none.

# %%
import matplotlib.pyplot as plt
import numpy as np

import wheelrate as wr

bike = wr.demo()

# %% [markdown]
# ## The rate of a tyre, from scales and a ruler
#
# The front wheel stands on scales, a ruler stands at its axle, and somebody leans on the bike, more each time. The height of
# the axle over the load is a line, $h = R_0 - W/k$, with errors in both. Change a reading by 1 mm and run the cell again: one
# misread ruler shows in the misfit, which should be near 1.

# %%
on_scales, axle = [52, 75, 101, 128], [341.9, 340.6, 338.6, 336.4]
load = np.array(on_scales) * 9.80665
tyre = wr.tyre_rate(
    (load, "N"), (axle, "mm"), load_uncertainty="5 N", height_uncertainty="0.4 mm"
)
print(f"tyre {tyre.rate}, radius unloaded {tyre.radius}, misfit {tyre.misfit:.1f}")
rough = wr.tyre_rate_of_footprint("990 N", "125 mm", tyre.radius.value)
print(f"from a footprint of 125 mm: {rough.rate}")

fig, ax = plt.subplots(figsize=(6.4, 3.4), layout="constrained")
ax.errorbar(load, axle, yerr=0.4, xerr=5, fmt="o", color="#d55e00", label="read, ± u")
along = np.linspace(0, 1400, 2)
line = tyre.radius.value.m_as("mm") - along / tyre.rate.value.m_as("N/mm")
ax.plot(along, line, color="#0072b2", label="fitted")
ax.set_xlabel("load on the ground (N)")
ax.set_ylabel("height of the axle (mm)")
ax.spines[["top", "right"]].set_visible(False)
ax.legend(frameon=False)
plt.show()

# %% [markdown]
# The ± is one standard uncertainty, and the ruler makes most of it. What would a better ruler do, and what better scales? Halve
# either; `spread` stretches the loads about their mean, which costs nothing but somebody heavier.


# %%
def planned(spread, ruler, scales):
    """Give the rate that such readings would find, were the tyre as fitted."""
    loads = load.mean() + spread * (load - load.mean())
    heights = tyre.radius.value.m_as("mm") - loads / tyre.rate.value.m_as("N/mm")
    return wr.tyre_rate(
        (loads, "N"),
        (heights, "mm"),
        load_uncertainty=(scales, "N"),
        height_uncertainty=(ruler, "mm"),
    ).rate


for name, plan in {
    "as read": (1, 0.4, 5),
    "ruler to 0.2 mm": (1, 0.2, 5),
    "scales to 2.5 N": (1, 0.4, 2.5),
    "loads spread by 1.5": (1.5, 0.4, 5),
}.items():
    print(f"{name:>20}: {planned(*plan)}")

# %% [markdown]
# ## What it does to the trail
#
# The file states the tyre as 160 N/mm. A softer one lets the axle sink, the wheel is smaller for the steering, and the trail
# shrinks. The radius without load is kept here, so that the rate alone counts; its ± is carried by running the bike at either
# end. Put the rate of your own tyre in.


# %%
def trail_on(rate):
    """Give the trail with the rider on, with a front tyre of this rate, in mm."""
    shod = bike.what_if({"wheels.front.tyre": f"{rate} N/mm"})
    return shod.whole.settle().stance.trail.m_as("mm")


rate = tyre.rate.value.m_as("N/mm")
unsure = tyre.rate.standard_uncertainty.m_as("N/mm")
lost = trail_on(rate) - trail_on(160)
lost_unsure = abs(trail_on(rate + unsure) - trail_on(rate - unsure)) / 2
print(
    f"trail {trail_on(160):.1f} mm on 160 N/mm, {trail_on(rate):.1f} mm on {tyre.rate}"
)
print(f"changed by {lost:+.1f} ± {lost_unsure:.1f} mm")

# %% [markdown]
# ## Which setting gives it back?
#
# Each lever goes within its room: tubes in the clamps (negative is lowered), a shock made longer or shorter, both preloads as far
# as their adjusters go. What reaches the wish stands first. Ask for 5 mm more,
# `trail_on(160) + 5`, and see which lever falls out.

# %%
shod = bike.what_if({"wheels.front.tyre": f"{rate} N/mm"})
room = {"fork_raised": ["-5 mm", "8 mm"], "shock_longer": ["-4 mm", "4 mm"]}
for found in shod.whole.corrections(trail=(trail_on(160), "mm"), **room):
    moves = ", ".join(
        f"{move.words}: " + (f"{move.by.m_as('mm'):+.1f} mm" if move.by else "never")
        for move in found.moves
    )
    then = found.effect.after.stance
    trail, off = then.trail.m_as("mm"), shod.whole.geometry_doubt(then).trail.m_as("mm")
    print(
        "reaches it:" if found.is_reachable else "too far:   ",
        moves,
        f"-> trail {trail:.1f} ± {off:.1f} mm",
    )

# %% [markdown]
# ### How sure is the setting?
#
# The ± above is what the readings leave open of both sags; rake, offset and radii are taken as exact, because the file states no ±
# for them. Say that the rake is known to half a degree, and run the bike at either end. It matters what was asked. A trail *in millimetres* needs the rake itself; *so much more than
# now* does not, for what is wrong is wrong before and after. Change `rake_unsure`, or the wish.

# %%
rake, rake_unsure = 26.5, 0.5


def raised(rake, wish):
    """Give how far the tubes have to come up for a wish, in mm."""
    one = bike.what_if({"front.fork.rake": f"{rake} deg"})
    wanted = wish(one.whole.settle().stance.trail.m_as("mm"))
    for found in one.whole.corrections(
        trail=(wanted, "mm"), fork_raised=["-5 mm", "15 mm"]
    ):
        if [move.lever for move in found.moves] == ["fork_raised"]:
            return found.moves[0].by.m_as("mm")
    return np.nan


for name, wish in {
    "a trail of 121 mm": lambda _: 121,
    "3 mm less than now": lambda now: now - 3,
}.items():
    low, best, high = (
        raised(rake + off, wish) for off in (-rake_unsure, 0, rake_unsure)
    )
    print(f"{name}: tubes raised by {best:.1f} ± {abs(high - low) / 2:.1f} mm")

# %% [markdown]
# ## Before you touch a bike
#
# The maker's manual, local rules and a qualified mechanic come before any number here. A wheel on scales can roll off: hold the
# bike upright from both sides. Release all spring preload before loosening clamps or a shock, and never open or heat a charged
# reservoir. After any change check by hand that tyre, chain and brake lines stay clear at full travel and full lock, tighten
# every fastener to the maker's torque, and ride gently at first.
