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
# # A longer link, and a link of our own
#
# The patrol's link came back from the bearing shop **4 mm longer** than it was. Nothing else was touched, and the bike
# stands differently. What changed, and does it want another spring? Then the question the other way round: the patrol
# would like the last of the travel to be firmer. **Which link does that?**

# %%
import matplotlib.pyplot as plt
import numpy as np
import scipy.optimize

import wheelrate as wr

bike = wr.demo()
fit = bike.fit_end("rear")
now = bike.rear.with_spring_rate(fit.rate.value, fit.preload.value)
load = bike.masses.sprung_load("rear", "bike + rider").value
bike_alone = bike.masses.sprung_load("rear", "bike").value
print(f"spring as it sits in the bike: {fit.rate}, preload {fit.preload}")

# %% [markdown]
# The readings belong to the linkage they were taken on. So the spring is fitted there first, and then goes, rate and
# preload as found, into every linkage that follows.
#
# ## The linkage as it is
#
# Play it: the rocker sits on the swingarm, the link ties it to the frame and turns it as the wheel rises. The curve beside
# it is the motion ratio $MR = ds/dz$, shock per wheel.

# %%
wr.plot.animation(bike, wheel_radius="335 mm")

# %% [markdown]
# ## Which dimension matters?
#
# Before anything is cut, a look at what one millimetre does, anywhere. Exact derivatives, root mean square over the travel:

# %%
ranking = now.linkage.ranking("1 mm")
fig, ax = plt.subplots(figsize=(6.4, 4.2), layout="constrained")
names = list(ranking)[::-1]
colours = ["#d55e00" if name == "length of link" else "#0072b2" for name in names]
ax.barh(names, [ranking[name].m_as("percent") for name in names], color=colours)
ax.set_xlabel("change of the motion ratio for 1 mm (%)")
ax.spines[["top", "right"]].set_visible(False)
plt.show()

# %% [markdown]
# The link is among the lesser ones: a shock 1 mm longer does twice as much.
#
# ## What 4 mm did

# %%
points = now.linkage.mechanism.points
link = np.linalg.norm((points["link_frame"] - points["link_rocker"]).m_as("mm"))
longer = wr.RearEnd(now.linkage.with_link_length("link", (link + 4, "mm")), now.shock)
changed = wr.compare({"as it was": now, "4 mm longer": longer}, load)
changed

# %% [markdown]
# Two things pull in different directions. The motion ratio is higher in the first half of the travel, so the same spring
# is stiffer at the wheel, and the bike sags *less*. Still it stands *lower*: with the longer link the extended shock holds
# the wheel higher in the frame. Full extension itself has moved, by more than the sag came back.

# %%
shift = now.axle("0 mm")[1] - longer.axle("0 mm")[1]
print("the frame comes down at full extension by", -shift.round(1))
print("sag gives back", (changed.sag[0] - changed.sag[1]).round(1))
print("ride height:", changed.ride_height_change[1].round(1))

# %%
axes = wr.plot.compare({"as it was": now, "4 mm longer": longer}, load)
plt.show()

# %% [markdown]
# First-order effects, for the back of an envelope: four times the effect of one millimetre.

# %%
effects = now.effects_under(load, "4 mm")
of_link = effects.dimensions.index("length of link")
print(
    "sag:",
    effects.sag[of_link].round(2),
    "  exactly:",
    (changed.sag[1] - changed.sag[0]).round(2),
)
print(
    "ride height:",
    effects.ride_height[of_link].round(2),
    "  exactly:",
    changed.ride_height_change[1].round(2),
)
of_shock = effects.dimensions.index("shock length")
longer_by = -4 * changed.ride_height_change[1] / effects.ride_height[of_shock]
print(f"a shock longer by {longer_by.m_as(''):.1f} mm would bring the height back")

# %% [markdown]
# ## What spring now?
#
# For each spring on sale: the preload that gives the wanted 102 mm of sag with the rider, and the free sag that follows,
# which should lie between 25 and 40 mm. On the old link and on the long one:


# %%
def preload_for(end, rate, sag):
    """Find the preload with which an end settles at a sag under the load."""

    def excess(preload):
        return (
            end.with_spring_rate(rate, (preload, "mm")).wheel_force(sag) - load
        ).m_as("N")

    return scipy.optimize.brentq(excess, 0.1, 40)


choices = {}
for name, end in {"as it was": now, "4 mm longer": longer}.items():
    for rate in ("52 N/mm", "54 N/mm", "56 N/mm", "58 N/mm", "60 N/mm"):
        preload = preload_for(end, rate, "102 mm")
        set_up = end.with_spring_rate(rate, (preload, "mm"))
        free = set_up.travel_under(bike_alone).state.travel.m_as("mm")
        choices[name, rate] = preload, free
        print(f"{name:>12}  {rate}  preload {preload:4.1f} mm  free sag {free:4.1f} mm")

# %% [markdown]
# With either link only 58 and 60 N/mm leave enough free sag: the bike wanted a stiffer spring before, and still does. The
# long link wants 0.6 mm less preload with any of them. So: **the link changes nothing about which spring, and little about
# the preload**; what it took is ride height, and that comes back at the length of the shock, where it can be set.
#
# ## What else 4 mm did
#
# At full compression the wheel is at another place in the frame. What the numbers cannot see has to be looked at on the
# bike, spring off, wheel lifted to the stop: **tyre to mudguard, seat and exhaust; chain to swingarm and guide; brake hose;
# and whether the rocker meets the link or the frame** before the shock is at its end.

# %%
ends = {
    name: end.axle(end.full_travel)
    for name, end in {"as it was": now, "4 mm longer": longer}.items()
}
higher = ends["4 mm longer"][1] - ends["as it was"][1]
print("at full compression the axle is higher in the frame by", higher.round(1))
drive = wr.ChainDrive(
    ["85 mm", "10 mm"],
    front_radius=wr.pitch_radius(13, "15.875 mm"),
    rear_radius=wr.pitch_radius(48, "15.875 mm"),
    wheel_radius="335 mm",
    cg_height="830 mm",
    wheelbase="1480 mm",
)
anti_squat = {}
for name, end in {"as it was": now, "4 mm longer": longer}.items():
    sag = end.travel_under(load).state.travel
    anti_squat[name] = end.linkage.squat(drive, [sag]).anti_squat[0]
    print(f"anti-squat at sag, {name}: {anti_squat[name].m_as('percent'):.0f} %")

# %% [markdown]
# (Sprockets and height of the centre of gravity are taken for this page, not measured.)
#
# ## A link of our own
#
# Wanted: **40 % progression** in place of 32 %, with the travel the bike has, to within 2 mm. The lug on the frame can be
# made anew 14 mm further back or 16 mm further forward, 17 mm lower or 13 mm higher. Is that enough?

# %%
free = {
    "x of link_frame": ("-80 mm", "-50 mm"),
    "z of link_frame": ("-115 mm", "-85 mm"),
}
wanted = {"progression": ("40 %", "0.5 %"), "full_travel": ("299 mm", "2 mm")}
first = now.linkage.design(free, **wanted)
print(first)

# %% [markdown]
# It is not, and the answer says which bound is in the way. Behind 80 mm there is the swingarm's cross tube. But the rocker
# is to be made anew as well, and the hole for the link may go 10 mm either way:

# %%
free |= {
    "x of link_rocker": ("-225 mm", "-205 mm"),
    "z of link_rocker": ("-194 mm", "-174 mm"),
}
second = now.linkage.design(free, **wanted)
print(second)

# %% [markdown]
# A drawing says half millimetres. Rounded to that, does it still hold? And if every hole is off by a standard deviation of
# 0.2 mm either way?

# %%
rounded = now.linkage.mechanism
for name in ("link_frame", "link_rocker"):
    place = second.linkage.mechanism.points[name].m_as("mm")
    rounded = rounded.with_point(name, (np.round(2 * place) / 2, "mm"))


def with_shock(mechanism):
    """Put the bike's shock into a mechanism."""
    return wr.Linkage(
        mechanism,
        "axle",
        ("shock_frame", "shock_rocker"),
        shock_length=now.shock.length,
        stroke=now.shock.full_stroke,
    )


made = with_shock(rounded)
rng = np.random.default_rng(1)
progressions = []
for _ in range(300):
    drilled = {
        name: (place.m_as("mm") + rng.normal(0, 0.2, 2))
        for name, place in rounded.points.items()
    }
    progressions.append(
        with_shock(wr.Mechanism((drilled, "mm"), rounded.bodies)).progression.m_as(
            "percent"
        )
    )
holes = [rounded.points[name].m_as("mm") for name in ("link_frame", "link_rocker")]
link_made = np.linalg.norm(holes[0] - holes[1])
print(f"link, hole to hole: {link_made:.1f} mm (was {link:.1f} mm)")
print(
    f"progression as drawn: {made.progression.m_as('percent'):.1f} %, as drilled ±"
    f" {np.std(progressions):.1f} %"
)
print("full travel:", made.full_travel.round(1))

# %%
ours = wr.RearEnd(made, now.shock)
designs = {"as it was": now, "4 mm longer": longer, "our own": ours}
wr.plot.compare(designs, load)
plt.show()

# %%
all_three = wr.compare(designs, load)
all_three

# %%
fig, axes = plt.subplots(1, 2, figsize=(11, 4.6), layout="constrained", sharey=True)
for ax, travel in zip(axes, ("0 mm", made.full_travel), strict=True):
    wr.plot.mechanism(made, travel, wheel_radius="335 mm", ax=ax)
axes[0].set_title("our own, extended")
axes[1].set_title("and compressed")
plt.show()

# %% [markdown]
# The picture is a side view: where the tyre's circle crosses a part, only the bike shows whether that part stands beside
# the tyre. **Before anything is drilled, lift the wheel through all of its travel without the spring**: the shock must
# reach both ends, no link may come into line with what it turns (the library refuses a design within 0.1 mm of a dead
# point, not within a finger's width), and tyre and chain must clear at full travel with the bike tilted as well.
#
# **Try next:** let `"shock length"` move too (`free["shock length"] = ("466 mm", "471 mm")`), or ask for a curve instead of
# one number: `design(free, motion_ratio=(travels, ratios, "0.002 shock/wheel"))`.

# %% [markdown]
# ## Before you touch a bike
#
# The maker's manual, local rules and a qualified mechanic come before any number here. Another link moves the rear wheel, the
# chain and the steering: release the spring first, and never open or heat a charged reservoir. After any change
# check by hand that tyre, chain and brake lines stay clear at full travel and full lock, tighten every fastener to the
# maker's torque, and ride gently at first.
