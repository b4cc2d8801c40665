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
# # Change a link
#
# What would a link do that is some millimetres longer, before one is bought or made? A changed bike is a new bike; what the
# readings found of spring, preload and friction goes along into its advice.

# %%
import matplotlib.pyplot as plt

import wheelrate as wr

bike = wr.demo()
longer = bike.what_if({"rear.linkage.points.link_frame": ["-66 mm", "-93 mm"]})
print(longer.advise()["rear"].headline())

# %% [markdown]
# That advice goes by what the readings found. The end itself, side by side with a longer link at the same load, goes by spring and
# preload *as stated* in the file (105 mm of sag, where the tape found 110 mm): look at the differences, which come out the
# same to a tenth of a millimetre.

# %%
load = bike.masses.sprung_load("rear", "bike + rider").value
ends = {"as it is": bike.rear, "longer link": longer.rear}
wr.compare(ends, load)

# %%
wr.plot.compare(ends, load)
plt.show()

# %% [markdown]
# ## What it does to the whole bike
#
# At rest with the rider on, on springs and preload as stated, too.

# %%
for name, one in {"as it is": bike, "longer link": longer}.items():
    stance = one.whole.settle("bike + rider").stance
    print(
        f"{name:>12}: rake {stance.rake.to('deg'):.2f~P}, trail"
        f" {stance.trail.to('mm'):.1f~P}"
    )

# %% [markdown]
# ## Which dimension matters
#
# What one millimetre of each pivot and length does to the motion ratio at sag, largest first:

# %%
sag = bike.rear.travel_under(load).state.travel
effects = bike.rear.linkage.effects(sag, "1 mm")
ranked = sorted(
    zip(effects.dimensions, effects.motion_ratio.m_as(""), strict=True),
    key=lambda row: -abs(row[1]),
)
for dimension, change in ranked[:5]:
    print(f"{dimension:>22}: {change:+.5f} for 1 mm")

# %% [markdown]
# A picture of a linkage cannot see a chain, a hose or a mudguard: lift the wheel through all of its travel without the spring
# before anything is ridden.
