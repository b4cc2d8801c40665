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
# # Design a link
#
# Say what is wanted and which dimensions are free, within which bounds; the answer is a linkage, or which bound is in the way.

# %%
import numpy as np

import wheelrate as wr

bike = wr.demo()
linkage = bike.rear.linkage
print(
    f"progression now: {linkage.progression.to('percent'):.1f~P}, travel"
    f" {linkage.full_travel.to('mm'):.1f~P}"
)

free = {
    "x of link_frame": ("-80 mm", "-50 mm"),
    "z of link_frame": ("-115 mm", "-85 mm"),
    "x of link_rocker": ("-225 mm", "-205 mm"),
    "z of link_rocker": ("-194 mm", "-174 mm"),
}
design = linkage.design(
    free, progression=("40 %", "0.5 %"), full_travel=("299 mm", "2 mm")
)
print(design)

# %% [markdown]
# ## Drawn to half a millimetre

# %%
mechanism = linkage.mechanism
for name in ("link_frame", "link_rocker"):
    place = design.linkage.mechanism.points[name].m_as("mm")
    mechanism = mechanism.with_point(name, (np.round(2 * place) / 2, "mm"))
    print(name, mechanism.points[name].m_as("mm"))
shock = bike.rear.shock
drawn = wr.Linkage(
    mechanism,
    "axle",
    ("shock_frame", "shock_rocker"),
    shock_length=shock.length,
    stroke=shock.full_stroke,
)
print(f"progression as drawn: {drawn.progression.to('percent'):.1f~P}")

# %% [markdown]
# ## What spring it wants

# %%
points = {
    f"rear.linkage.points.{name}": [
        f"{part:.1f} mm" for part in mechanism.points[name].m_as("mm")
    ]
    for name in ("link_frame", "link_rocker")
}
print(bike.what_if(points).advise()["rear"].headline())

# %% [markdown]
# A curve in place of one number: `design(free, motion_ratio=(travels, ratios, "0.002 shock/wheel"))`. More on this way in
# [the notebook on a longer link](../notebooks/a_longer_link).
