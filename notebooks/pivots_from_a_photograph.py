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
# # How good is a photograph of my linkage?
#
# *I photographed the linkage from beside the bike, not quite square on. What do the bolts that I click on the screen say of the
# motion ratio, and how sure?*
#
# A plane seen by any camera is a homography, $p\sim H\,(x,z,1)^\mathsf T$. Four points whose positions are known settle it,
# whatever the tilt; more of them show what was misread. Everything is one least-squares task, so that every pixel's error reaches a
# covariance of all pivots, and from there the curve: $u^2=g\,C\,g^\mathsf T$.
#
# The camera here is invented, so that the truth is known. Change it:

# %%
import matplotlib.pyplot as plt
import numpy as np

import wheelrate as wr

yaw, pitch, distance, pixel_error = 12.0, -5.0, 2.6, 2.0  # degrees, metres, pixels
size, focal = (4000, 3000), 4500
random = np.random.default_rng(3)
linkage = wr.demo().rear.linkage
truth = {name: place.m_as("mm") for name, place in linkage.mechanism.points.items()}
marks = {"peg": np.array([60.0, -210.0]), "rack": np.array([-560.0, 300.0])}


def shot(place, yaw, pitch, distance):
    """Give the pixel of a place in the plane of the bike, read with its error."""
    x, z = np.asarray(place) / 1000
    a, b = np.radians([yaw, pitch])
    across, near = (x + 0.3) * np.cos(a), (x + 0.3) * np.sin(a)
    up, near = z * np.cos(b) - near * np.sin(b), z * np.sin(b) + near * np.cos(b)
    ideal = np.array([across, -up]) * focal / (distance - near)
    return tuple(np.array(size) / 2 + ideal + random.normal(0, pixel_error, 2))


def picture(*camera):
    return {name: shot(place, *camera) for name, place in {**truth, **marks}.items()}


# %% [markdown]
# Five places were measured by hand, to a millimetre: swingarm pivot, axle and the shock's upper eye, and two marks.

# %%
by_hand = {
    name: (place + random.normal(0, 1.0, 2), "mm")
    for name, place in {**truth, **marks}.items()
    if name in ("swingarm_pivot", "axle", "shock_frame", *marks)
}
one = picture(yaw, pitch, distance)
two = picture(-0.7 * yaw, 4.0, 1.2 * distance)
surveys = {
    "one picture": wr.Survey(
        by_hand, [one], pixel_uncertainty=pixel_error, sizes=[size]
    ),
    "two pictures": wr.Survey(
        by_hand, [one, two], pixel_uncertainty=pixel_error, sizes=[size, size]
    ),
}
square_on = wr.Photograph(
    *((one[name], by_hand[name]) for name in ("swingarm_pivot", "axle"))
)
print(
    f"{'':>15} {'off by scale and turn':>22} {'off by one picture':>19} {'said':>8}"
    f" {'by two':>8} {'said':>8}  (mm)"
)
for name in ("rocker_pivot", "link_frame", "link_rocker", "shock_rocker"):
    row = [np.hypot(*(square_on.at(one[name]).m_as("mm") - truth[name]))]
    for survey in surveys.values():
        row.append(np.hypot(*(survey.points[name].m_as("mm") - truth[name])))
        row.append(np.hypot(*survey.uncertainty(name).m_as("mm")))
    print(
        f"{name:>15} {row[0]:22.1f} {row[1]:19.1f} {row[2]:8.1f} {row[3]:8.1f}"
        f" {row[4]:8.1f}"
    )
print("misfit:", {name: round(survey.misfit, 2) for name, survey in surveys.items()})

# %% [markdown]
# Scale and turn from two points, which is what a square-on picture needs, say nothing of the tilt. The survey takes it out, and
# states what is left. More pictures help little once the tape is what is left: the same five readings stand behind all of them.
#
# ## What the motion ratio is worth


# %%
def drawn(points):
    mechanism = wr.Mechanism(
        {name: points[name] for name in truth}, linkage.mechanism.bodies
    )
    made_for = {"shock_length": linkage.shock_length, "stroke": linkage.full_stroke}
    return wr.Linkage(mechanism, "axle", linkage.shock, **made_for)


fig, ax = plt.subplots(figsize=(6.4, 3.8), layout="constrained")
exact = linkage.curve()
ax.plot(exact.travel.m_as("mm"), exact.motion_ratio.m, color="black", label="truth")
for colour, (name, survey) in zip(
    ("tab:blue", "tab:orange"), surveys.items(), strict=True
):
    curve = drawn(survey.points).with_surveyed_pivots(survey)
    travel, ratio, spread = (
        curve.travel.m_as("mm"),
        curve.motion_ratio.m,
        2 * curve.motion_ratio_uncertainty.m,
    )
    ax.fill_between(
        travel,
        ratio - spread,
        ratio + spread,
        color=colour,
        alpha=0.25,
        label=f"{name}, ± 2 u",
    )
ax.set(xlabel="wheel travel (mm)", ylabel="motion ratio, shock per wheel")
ax.legend()
plt.show()

# %% [markdown]
# A file holds one number for all pivots: `point_uncertainty`, which fit and advice carry. `wheelrate survey` prints it with the points,
# from a file of pixels (`wheelrate survey-example` has one). That of the survey is

# %%
for name, survey in surveys.items():
    print(
        f'{name}: point_uncertainty = "{survey.coordinate_uncertainty.m_as("mm"):.1f}'
        ' mm"'
    )

# %% [markdown]
# Points have to lie in one plane. A bolt 20 mm nearer to the camera than the rest, seen from 2.6 m, is off by 20/2600 of its way
# from the foot of the camera's normal: 4 mm at half a metre. No number here knows of that, unless more points are known by hand:
# then the misfit shows it.
