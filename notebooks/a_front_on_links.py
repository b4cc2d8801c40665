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
# # A front on links: what moves with the travel?
#
# *The patrol's workshop has a wreck with a leading link in front: two short struts, and an axle on an arm. A fork has one rake, one
# offset and one motion ratio. Which of them does a link keep?*
#
# A bike file describes such a front as it does a rear, by points and bodies, under `[front.linkage]`. What turns with the
# handlebar is its `frame`.

# %%
import matplotlib.pyplot as plt
import numpy as np

import wheelrate as wr

bike = wr.demo()
RAKE, OFFSET, RADIUS = "26.5 deg", "55 mm", "345 mm"

# %% [markdown]
# ## One front, three numbers to change
#
# The arm runs from its pivot to the axle. `rise` is how high the pivot stands over the axle at full extension, `foot` where along
# the arm the strut stands, `lean` how far its top leans back. The rest follows; impossible ones are refused by name.


# %%
def link_front(rise=60, foot=0.7, lean=60):
    """Give a leading link of 160 mm with two struts, lengths in mm."""
    axle = np.array([905.0, -150.0])
    pivot = axle + np.array([-np.sqrt(160**2 - rise**2), rise])
    strut_foot = pivot + foot * (axle - pivot)
    strut_top = strut_foot + np.array([-lean, 380])
    points = {
        "pivot": pivot,
        "axle": axle,
        "strut_foot": strut_foot,
        "strut_top": strut_top,
    }
    mechanism = wr.Mechanism(
        {name: (place, "mm") for name, place in points.items()},
        {
            "frame": ["pivot", "strut_top"],
            "arm": ["pivot", "axle", "strut_foot"],
        },
    )
    length = (np.hypot(*(strut_top - strut_foot)), "mm")
    linkage = wr.Linkage(
        mechanism,
        "axle",
        ("strut_top", "strut_foot"),
        shock_length=length,
        stroke="90 mm",
    )
    struts = wr.Shock(length, "90 mm", spring=wr.Preloaded("12 N/mm", "5 mm"), count=2)
    return wr.FrontEnd.linked(linkage, struts, RAKE, caliper="arm")


fronts = {
    "fork": bike.front,
    "foot at 0.7": link_front(),
    "foot at 0.9": link_front(foot=0.9),
}
travels = (np.array([0.0, 30.0, 60.0, 90.0]), "mm")
for name, end in fronts.items():
    axis = end.steering_axis(OFFSET, RADIUS, travels)
    ratios = [end.at((travel, "mm")).motion_ratio.m for travel in travels[0]]
    print(f"{name}, full travel {end.full_travel.m_as('mm'):.0f} mm")
    for at, travel in enumerate(travels[0]):
        print(
            f"  {travel:3.0f} mm: rake {axis.rake.m_as('deg')[at]:.1f} °, trail"
            f" {axis.trail.m_as('mm')[at]:5.1f} mm, motion ratio {ratios[at]:.3f}"
        )

# %% [markdown]
# The rake stays: the arm carries the wheel, not the steering axis. The trail does not: the axle goes round the pivot, and
# so further ahead of the axis. The motion ratio, strut per wheel, grows with `foot`, and a little with the travel.
#
# ## Over the whole travel
#
# Raise the pivot, `link_front(rise=100)`: the axle starts lower on its circle and swings further forward, and the trail loses more.
# With `rise=0` it starts where the circle is furthest forward: the trail loses a fifth at most, and comes back.

# %%
changed = {
    "fork": bike.front,
    "pivot 60 mm over the axle": link_front(rise=60),
    "pivot 100 mm": link_front(rise=100),
    "pivot level with it": link_front(rise=0),
}
fig, (left, right) = plt.subplots(1, 2, figsize=(9.2, 3.6), layout="constrained")
for (name, end), style in zip(
    changed.items(),
    [("0.4", ":"), ("#0072b2", "-"), ("#d55e00", "--"), ("#009e73", "-.")],
    strict=True,
):
    reach = np.linspace(0, 0.98 * min(end.full_travel.m_as("mm"), 110), 40)
    drawn = {"color": style[0], "linestyle": style[1], "linewidth": 1.8, "label": name}
    axis = end.steering_axis(OFFSET, RADIUS, (reach, "mm"))
    left.plot(reach, axis.trail.m_as("mm"), **drawn)
    right.plot(reach, [end.at((s, "mm")).motion_ratio.m for s in reach], **drawn)
left.set_ylabel("trail, frame level (mm)")
right.set_ylabel("motion ratio, spring per wheel")
for ax in (left, right):
    ax.set_xlabel("vertical wheel travel (mm)")
    ax.spines[["top", "right"]].set_visible(False)
left.legend(frameon=False)
plt.show()

# %% [markdown]
# The frame is held level here, so that only the link counts. On the road it pitches as well: `bike.whole` carries both.
#
# ## How sure is the motion ratio?
#
# Rake and trail have no ±: the axis is taken as stated. The motion ratio stands on four points read with a tape. A millimetre on
# every coordinate:

# %%
curve = fronts["foot at 0.7"].linkage.with_pivot_uncertainty("1 mm", travels=travels)
for at, travel in enumerate(travels[0]):
    print(
        f"{travel:3.0f} mm: {curve.motion_ratio.m[at]:.3f}"
        f" ± {curve.motion_ratio_uncertainty.m[at]:.3f}"
    )

# %% [markdown]
# The force at the wheel has it once, the wheel rate twice over. Longer arms are surer: the same millimetre is a smaller share.
# Halve the 1 mm, and the ± halves. In a file it is `point_uncertainty` under `[front.linkage]`; fit and advice then carry it.
#
# ## Before you touch a bike
#
# The maker's manual, local rules and a qualified mechanic come before any number here. Numbers for moved points are no drawing for
# a welder: a front end that breaks throws its rider. Support the bike and release all spring preload before a strut is undone, and
# never open or heat a charged reservoir. After any change check by hand that tyre, brake lines and caliper stay clear at full
# travel and full lock, tighten every fastener to the maker's torque, and ride gently at first.
