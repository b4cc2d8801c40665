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
# # A hundred thousand links
#
# The patrol may have a new link and a new bracket made. Two things are wanted of the rear, and they pull against each
# other: both sags should land with a spring that is on sale, and the last of the travel should be firmer, for the medical
# pack. **What can be had, and which link is it?**
#
# The bracket may sit 8 mm either way from where it is, and the link's eye on the rocker 4 mm. What the readings found of
# the spring goes into every design; nothing is fitted on a bike that it was not read on.

# %%
import os

import matplotlib.pyplot as plt
import numpy as np

import wheelrate as wr

bike = wr.demo()
DESIGNS = int(os.environ.get("WHEELRATE_DESIGNS", "100_000"))
axes = {
    "rear.linkage.points.link_frame.x": ("-74 mm", "-58 mm"),
    "rear.linkage.points.link_frame.z": ("-106 mm", "-90 mm"),
    "rear.linkage.points.link_rocker.x": ("-219 mm", "-211 mm"),
    "rear.linkage.points.link_rocker.z": ("-188 mm", "-180 mm"),
}
outputs = [
    "rear.full_travel",
    "rear.progression",
    "rear.rider_travel",
    "rear.free_travel",
    "rear.wheel_rate_at_sag",
]

# %% [markdown]
# ## Everything first
#
# A Latin hypercube: on every axis the designs are spread as evenly as they can be. Each design costs some tens of
# microseconds, so that the whole takes seconds; a design that cannot be built says why.

# %%
designs = bike.sweep(axes, outputs, scheme="latin_hypercube", samples=DESIGNS, seed=1)
print(designs)
for reason in list(designs.reasons.values())[:1]:
    print(reason[:200])
designs

# %%
wr.plot.parallel(designs)
plt.show()

# %% [markdown]
# ## What does which?
#
# Progression is all that the two eyes of the link make of it; the travel must not be given away for it.

# %%
fig, pair = plt.subplots(1, 2, figsize=(10, 3.8), layout="constrained")
few = designs.take(np.arange(0, len(designs), max(1, len(designs) // 4000)))
wr.plot.contour(
    few,
    "rear.linkage.points.link_frame.x",
    "rear.linkage.points.link_rocker.x",
    "rear.progression",
    ax=pair[0],
)
wr.plot.contour(
    few,
    "rear.linkage.points.link_frame.z",
    "rear.linkage.points.link_rocker.z",
    "rear.progression",
    ax=pair[1],
)
plt.show()

# %% [markdown]
# ## Chances where they matter
#
# The chance that both sags land, with the best of the springs on sale, each at its best setting, costs more than the rest
# together. It is asked of those designs only that keep the travel and are the firmest of their kind: one in so many along
# the progression.

# %%
travel = designs["rear.full_travel"].m_as("mm")
progression = designs["rear.progression"].m_as("percent")
now = bike.rear.full_travel.m_as("mm")
kept = np.flatnonzero(np.abs(travel - now) < 5)
kept = kept[np.argsort(progression[kept])][:: max(1, len(kept) // 300)]
values = {address: (designs.take(kept)[address].m_as("mm"), "mm") for address in axes}
chances = bike.sweep(
    values,
    [*outputs, "rear.best_chance", "rear.best_rate", "rear.full_force"],
    scheme="list",
)
front = chances.pareto(["rear.best_chance", "rear.progression"])
print(f"{len(chances)} designs asked, {len(front)} that nothing beats")

# %%
fig, ax = plt.subplots(figsize=(6.4, 4), layout="constrained")
as_it_is = bike.rear.linkage.progression.m_as("percent")
for result, style in (
    (chances, {"s": 8, "color": "0.75"}),
    (front, {"s": 26, "color": "#d55e00"}),
):
    ax.scatter(
        result["rear.progression"].m_as("percent"),
        result["rear.best_chance"].m_as("percent"),
        **style,
    )
ax.axvline(as_it_is, color="#0072b2", linewidth=1)
ax.annotate(
    "as it is",
    (as_it_is, 2),
    xytext=(4, 0),
    textcoords="offset points",
    color="#0072b2",
)
ax.set(xlabel="progression (%)", ylabel="best chance that both sags land (%)")
ax.spines[["top", "right"]].set_visible(False)
plt.show()

# %% [markdown]
# Orange is the front: more of one is less of the other. The patrol takes the firmest link of those that land nearly as
# often as any.

# %%
chance = front["rear.best_chance"].m_as("percent")
enough = np.flatnonzero(chance > chance.max() - 2)
choice = enough[np.argmax(front["rear.progression"].m[enough])]
chosen = front.design(choice)
print(
    f"chance {chance[choice]:.0f} %, progression"
    f" {front['rear.progression'][choice]:.1f~P} instead of {as_it_is:.1f} %"
)
print(f"spring {front['rear.best_rate'][choice]:.1f~P}")
for address in axes:
    print(f"{address} = {front[address][choice]:.1f~P}")

# %% [markdown]
# The sheet of that bike, as it would be: the link changed, the spring that was found still in it, and what to do about it.

# %%
print(chosen.advise()["rear"].headline())
wr.plot.wheel_rate({"now": bike, "the link": chosen})
plt.show()
chosen.sheet()
