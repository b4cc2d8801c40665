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
# # The first evening: from a data sheet and a tape to a spring
#
# A mountain-rescue patrol gets another trail bike. Nobody has its linkage on paper, nobody has opened the fork. There is
# the data sheet, there is what is marked on the springs, there are bathroom scales for the rider and a tape. **What can be
# said after one evening, and what would another evening be worth?**
#
# Each step here is a command at the shed, `wheelrate new`, `wheelrate read`, `wheelrate sheet`; in a notebook they are calls.

# %%
from textwrap import fill

import matplotlib.pyplot as plt
import numpy as np

import wheelrate as wr

# %% [markdown]
# ## A dozen questions
#
# `wheelrate new` asks them in order of worth. Answers are said as people say them, and are repeated as they were understood.

# %%
said = {
    "bike": "125 kg",
    "rider": "96 kilos",
    "rear-travel": "300",
    "shock-stroke": "11,8 cm",
    "rear-spring": "52 N/mm",
    "fork-travel": "290 mm",
    "fork-spring": "4,4 N/mm",
    "kind": "trail",
}
answers = {}
for question in wr.questions():
    if question.name in said:
        answers[question.key] = question.hear(said[question.name])
        print(f"{question.ask}: {said[question.name]!r} = {answers[question.key]}")

text = wr.set_keys(wr.start_file(), answers)

# %% [markdown]
# The file that comes out has a line for each thing that somebody may find out later, behind a `#`. Without those it is short:


# %%
def without_blanks(text):
    return "\n".join(
        line for line in text.splitlines() if line and not line.startswith("#")
    )


print(without_blanks(text))

# %% [markdown]
# ## At the bike
#
# `wheelrate read` says how to take each reading alone, which way to push and what to hold.

# %%
bike = wr.Bike.from_toml(text)
before, tape, settle = wr.how_to_read(bike, "rear", "bike + rider", low=True)
print(before, tape, settle, sep="\n")

# %% [markdown]
# Distances from the axle to a mark, at both ends, each after pushing down and after lifting: friction holds the bike in
# between. The patrol reads its fork along the legs.

# %%
day = "2026-06-06"
tape_readings = {
    ("front", "none"): ["743 mm"],
    ("front", "bike"): ["702 mm", "711 mm"],
    ("front", "bike + rider"): ["679 mm", "684 mm"],
    ("rear", "none"): ["655 mm"],
    ("rear", "bike"): ["623 mm", "638 mm"],
    ("rear", "bike + rider"): ["538 mm", "550 mm"],
}
readings = [
    wr.Reading(end, load, distance, settled, date=day)
    for (end, load), distances in tape_readings.items()
    for distance, settled in zip(
        distances, ["low", "high"] if len(distances) == 2 else [None], strict=True
    )
]
text = wr.set_keys(text, {"measuring.front.direction": "along fork"})
first = wr.append_readings(text, readings)


def first_screen(bike):
    rows = bike.sheet().to_screen(1000).splitlines()
    return "\n".join(fill(row, 84, subsequent_indent=9 * " ") for row in rows)


print(first_screen(wr.Bike.from_toml(first)))

# %% [markdown]
# Ten minutes of typing and an hour of reading, and both ends have an answer. The linkage was never described: travel and
# stroke give its mean, and how it goes on from there is taken as it is on most bikes, widely. The readings at the rear are a
# ratio of two loads, so they say more of the *spring* than of the preload in millimetres.
#
# ## Another evening
#
# Two scales, one under each wheel, and the shock's length from eye to eye at six heights of the wheel, spring off. Two lines of
# the same file are filled in and one table is added; nothing else of it changes.

# %%
# The same bike with its pivots known: the table is read off it, to half a millimetre.
drawn = wr.demo()
steps = [0, 50, 100, 150, 200, 250, 298]
lengths = 468.7 - drawn.rear.curve((np.array(steps), "mm")).stroke.m_as("mm")
table = [
    [f"{travel} mm", f"{round(2 * length) / 2} mm"]
    for travel, length in zip(steps, lengths, strict=True)
]
scales = {
    "masses.bike": {"front": "61 kg", "rear": "64 kg"},
    "masses.rider": {"front": "30 kg", "rear": "66 kg"},
    "masses.scale_uncertainty": "0.5 kg",
}
measured = {
    "rear.measured.travel_uncertainty": "1 mm",
    "rear.measured.length_uncertainty": "0.5 mm",
    "rear.measured.readings": table,
    "rear.shock.length": "468.7 mm",
}
second = wr.set_keys(first, scales | measured)
print(
    "\n".join(
        line
        for line in second.splitlines()
        if line not in first.splitlines() and not line.startswith("#")
    )
)
print()
print(first_screen(wr.Bike.from_toml(second)))

# %% [markdown]
# ## What each evening narrowed
#
# A third evening would put the pivots of the linkage on paper. The three files side by side: how well the rear spring is
# known, and how likely the best that can be done lands both sags.

# %%
linkage = drawn.to_dict()["rear"]["linkage"]
drawing = {f"rear.linkage.{key}": linkage[key] for key in ("wheel", "shock", "bodies")}
drawing |= {
    f"rear.linkage.points.{name}": place for name, place in linkage["points"].items()
}
third = wr.set_keys(first, scales | drawing | {"rear.shock.length": "468.7 mm"})

evenings = {"data sheet, tape": first, "+ scales, table": second, "+ pivots": third}
bikes = {name: wr.Bike.from_toml(text) for name, text in evenings.items()}
for name, bike in bikes.items():
    decision = bike.advise()["rear"]
    fit = decision.fit
    best = decision.action
    print(
        f"{name:>18}: spring {fit.rate}, preload {fit.preload}, best lands"
        f" {best.probability.m_as('percent'):.0f} %"
    )

# %%
fig, axes = plt.subplots(1, 3, figsize=(11, 2.8), layout="constrained", sharey=True)
columns = [
    ("rear spring rate (N/mm)", lambda decision: decision.fit.rate, "N/mm"),
    ("rear preload (mm)", lambda decision: decision.fit.preload, "mm"),
    ("rate called for (N/mm)", lambda decision: decision.wanted_rate, "N/mm"),
]
for ax, (label, number, unit) in zip(axes, columns, strict=True):
    for row, bike in enumerate(bikes.values()):
        found = number(bike.advise()["rear"])
        spread = 2 * found.standard_uncertainty.m_as(unit)
        ax.errorbar(
            found.value.m_as(unit),
            row,
            xerr=spread,
            fmt="o",
            color="#0072b2",
            capsize=3,
        )
    ax.set_xlabel(label)
    ax.spines[["top", "right"]].set_visible(False)
axes[0].set_yticks(range(len(bikes)), bikes)
axes[0].invert_yaxis()
# %% [markdown]
# Bars are 95 % intervals. The rate called for is a ratio of wheel rates: the little that a data sheet says of the linkage does
# for it. The preload in millimetres is what the linkage's course decides, and the table of lengths is what narrows it.
#
# ## Before the spring is bought
#
# The same file answers what would come of it. The readings stay with the bike as it is; what they found of spring, preload and
# friction goes along.

# %%
decision = bikes["+ scales, table"].advise()["rear"]
print(decision.headline())
heavier = bikes["+ scales, table"].what_if({"masses.rider.rear": "72 kg"})
print("with 6 kg more in the pack:", heavier.advise()["rear"].headline())

# %% [markdown]
# Springs and gas can hurt people: the maker's manual comes first, and a charged reservoir is for a shop. After the change read
# the sags again: the sheet says what the tape should show, and `wheelrate note` keeps what stood there before.
