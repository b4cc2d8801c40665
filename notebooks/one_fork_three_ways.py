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
# # One fork, three ways: springs, air and oil
#
# A fork leg holds two springs. One is steel and has a number on it, sometimes. The other is the air above the oil, which
# has none, and near full stroke it pushes nearly half as hard as the steel. The patrol's fork bottoms under the medical
# pack on the descent from the hut. Stiffer springs, or **a few millimetres of oil**?
#
# The same fork is built three ways here, its steel and its air drawn apart, and then the questions are asked backwards:
# which oil level gives a force that is wanted, and which spring is this one without a label?

# %%
import matplotlib.pyplot as plt
import numpy as np

import wheelrate as wr
from wheelrate.errors import GasError

TRAVEL = "290 mm"
RAKE = "26.5 deg"
stroke = np.linspace(0, 290, 117)

# %% [markdown]
# ## The steel
#
# The spring follows from its wire. With $d$ the wire, $D$ the mean diameter and $n$ the coils that twist:
#
# $$k = \frac{G\,d^4}{8\,D^3\,n}, \qquad \tau = K\,\frac{8\,F\,D}{\pi\,d^3}$$

# %%
coil = wr.CoilGeometry(
    wire="5 mm",
    mean_diameter="34 mm",
    active_coils=33.8,
    ends="closed-ground",
    material="EN 10270-1",
    free_length="480 mm",
)
print("rate:            ", coil.rate.round(2))
print(
    "solid at:        ",
    coil.solid_length.round(1),
    "after",
    coil.solid_compression.round(1),
)
print("steel volume:    ", coil.volume.round(1), f"({coil.mass.m_as('kg'):.2f} kg)")
print("surge frequency: ", coil.surge_frequency.round(0))
for factor in ("torsion", "wahl", "bergstrasser"):
    print(f"stress when solid, {factor}:", coil.solid_stress(factor).round(0))
print("buckles, unguided, after", coil.buckling_compression().round(0))

# %% [markdown]
# It would buckle long before it is solid; in a fork the tube guides it, which is why it rubs and why it wears. The stress
# says what the wire has to bear, not whether it does: the permitted value depends on the wire's strength and on the number
# of strokes, and comes from the wire's standard.
#
# **Preload** is not the length of the spacer. It is what is left over when the parts are longer than the room for them,
# measured with the fork extended and the cap off:

# %%
parts = wr.SpacerLengths(
    free_length="480 mm",
    spacer="112 mm",
    washers="4 mm",
    seat_depth="608 mm",
    cap_depth="18 mm",
)
print("preload:", parts.preload.round(1))
print(
    "before the cap goes on, the spacer ends",
    -parts.stands_proud.round(1),
    "below the top",
)
print("for 10 mm of preload cut the spacer to", parts.cut_for("10 mm").spacer.round(1))

# %% [markdown]
# ## The air
#
# The oil level is read with the fork fully compressed and **the spring out**. The spring goes in afterwards and takes its
# own volume from the air. The air that is left at full stroke, $V_c$, decides everything:
#
# $$V_c = A_\text{bore}\,h - V_\text{steel}, \qquad
# F_\text{air} = \left(p_0\left[\frac{V_c + A_s S}{V_c + A_s (S - s)}\right]^n - p_\text{outside}\right) A_s$$
#
# Slow strokes (sag, the push on the stand) keep the air at one temperature, $n = 1$. Fast ones heat it, $n$ towards 1.4.


# %%
def leg(level, spring=None):
    air = wr.ForkAir(
        sealing_diameter="47 mm",
        bore="43 mm",
        oil_level=level,
        steel_volume=coil.volume,
    )
    return wr.ForkLeg(wr.Preloaded(spring or coil.spring(), parts.preload), air)


air = leg("135 mm").air
print("air left at full stroke:  ", air.compressed_volume.round(1))
print("no level below:           ", air.least_oil_level.round(1))
print("the same level, spring in:", air.level_with_steel_in("300 mm").round(1))

# %% [markdown]
# The last line is the one people trip over. Whoever pours to the book's number with the spring in has a good deal less oil
# than the book means.
#
# ## Three forks
#
# 1. **Two oil levels**: the same springs, 135 mm and 110 mm.
# 2. **One spring, one damper**: a spring of twice the rate in one leg, none in the other. The legs differ in steel, so they
#    need different levels for the same air.
# 3. **A stacked dual rate**: a short stiff spring on a long one. In series they are softer than either; after 45 mm the
#    short one meets its spacer and only the long one is left.

# %%
low_oil = wr.Fork(TRAVEL, RAKE, leg("135 mm"))
high_oil = wr.Fork(TRAVEL, RAKE, leg("110 mm"))

sprung = wr.ForkLeg(
    wr.Preloaded("9.6 N/mm", parts.preload),
    wr.ForkAir(
        sealing_diameter="47 mm",
        bore="43 mm",
        oil_level="153 mm",
        steel_volume="101 cm3",
    ),
)
damped = wr.ForkLeg(
    air=wr.ForkAir(
        sealing_diameter="47 mm", bore="43 mm", oil_level="94 mm", steel_volume="15 cm3"
    )
)
one_spring = wr.Fork(TRAVEL, RAKE, sprung, damped)

dual = wr.Spring.stack(["12 N/mm", "6 N/mm"], limits=["45 mm", None])
dual_rate = wr.Fork(TRAVEL, RAKE, leg("135 mm", dual))
print(dual.describe())
print(
    "in series:",
    dual.rate.round(2),
    "- changes over at",
    dual.changeovers[0].force.round(0),
    "per leg",
)
print("at the wheel that is", wr.FrontEnd(dual_rate).kinks.round(1), "of travel")

# %%
STEEL, AIR, ALL = "#d55e00", "#0072b2", "#000000"


def dress(ax, ylabel=None, title=None):
    ax.set_xlabel("stroke along the fork (mm)")
    if ylabel:
        ax.set_ylabel(ylabel)
    if title:
        ax.set_title(title, fontsize=10)
    ax.margins(x=0)
    ax.grid(color="0.88", linewidth=0.6)
    ax.set_axisbelow(True)
    ax.spines[["top", "right"]].set_visible(False)


def apart(fork):
    steel = [fork.springs_at((s, "mm")).force.m_as("N") for s in stroke]
    gas = [fork.gas_at((s, "mm")).force.m_as("N") for s in stroke]
    return steel, gas, fork.curve((stroke, "mm")).force.m_as("N")


fig, axes = plt.subplots(1, 3, figsize=(11, 3.9), sharey=True, layout="constrained")
panels = {
    "1  two oil levels": {"135 mm": (low_oil, "--"), "110 mm": (high_oil, "-")},
    "2  one spring, one damper": {"": (one_spring, "-")},
    "3  stacked dual rate": {"": (dual_rate, "-")},
}
for ax, (title, forks) in zip(axes, panels.items(), strict=True):
    for name, (fork, dashes) in forks.items():
        steel, gas, whole = apart(fork)
        label = f", {name}" if name else ""
        if name != "110 mm":
            ax.plot(stroke, steel, color=STEEL, linewidth=1.6, label="springs")
        ax.plot(stroke, gas, dashes, color=AIR, linewidth=1.6, label="air" + label)
        ax.plot(
            stroke, whole, dashes, color=ALL, linewidth=1.8, label="together" + label
        )
        assert np.allclose(np.add(steel, gas), whole)
    dress(ax, title=title)
    ax.set_ylim(0, 5000)
axes[0].set_ylabel("force of both legs (N)")
axes[2].axvline(
    dual_rate.kinks[0].m_as("mm"), color="0.6", linewidth=0.8, linestyle=":"
)
for ax in axes:
    ax.legend(frameon=False, loc="upper left", fontsize=8)
plt.show()

# %% [markdown]
# Read off: over the first half of the stroke the oil level does next to nothing, over the last quarter it is a second
# spring. The fork with one spring makes the same forces as the one with two (below, its curve hides the other): the wheel
# feels the sum. Only axle and lower clamps feel the difference between the legs. And the changeover of the stack is a corner in the force, not a step.
#
# The rate shows it better. This is the wheel's, with the rake in it:

# %%
fig, ax = plt.subplots(figsize=(6.4, 4.0), layout="constrained")
named = {
    "135 mm": wr.FrontEnd(low_oil),
    "110 mm": wr.FrontEnd(high_oil),
    "one spring": wr.FrontEnd(one_spring),
    "dual rate": wr.FrontEnd(dual_rate),
}
wr.plot.wheel_rate(named, ax=ax)
ax.set_ylim(0, 60)
plt.show()

# %% [markdown]
# ### Slow and fast: force over stroke
#
# Sag is slow: the air has time to give its heat to the tubes, and keeps to $pV = $ const. From there a landing is fast, and
# the air follows $p V^n$ with $n$ towards 1.4, from the pressure that it has at the sag. Both exponents belong to the air
# (`wr.Exponents`); where nothing is stated, 1 and 1.30 ± 0.06. Between the curves lies what a push on the stand cannot show.

# %%
fig, ax = plt.subplots(figsize=(6.4, 3.8), layout="constrained")
fast = high_oil.fast_curve("80 mm", (stroke, "mm")).force.m_as("N")
ax.plot(
    stroke, fast, color=ALL, linewidth=1.8, label="fast from rest at 80 mm, $n$ = 1.3"
)
ax.plot(
    stroke, apart(high_oil)[2], "--", color=AIR, linewidth=1.8, label="slow, $n$ = 1"
)
dress(ax, "force of both legs (N)")
ax.legend(frameon=False)
plt.show()
print(
    "rate at 80 mm, bike at rest there, pushed slowly:",
    high_oil.at("80 mm").rate.round(2),
)
print(
    "the same, hit by a stone:                        ",
    high_oil.fast_rate_at("80 mm").round(2),
)

# %% [markdown]
# ## Backwards: a level for a wanted force
#
# The patrol wants 5.6 kN at full stroke when a landing comes out of the sag, and the fork may be filled to between 95 mm and
# 150 mm.

# %%
SAG = "80 mm"
permitted = ("95 mm", "150 mm")
print("now:", low_oil.fast_at(SAG, TRAVEL).force.round(0))
change = low_oil.oil_level_change_for_force("5.6 kN", SAG, permitted)
print("change of level:", change.round(1), "(minus is more oil)")
firmer = low_oil.with_oil_level_change(change)
print(
    "then:",
    firmer.fast_at(SAG, TRAVEL).force.round(0),
    "at level",
    firmer.legs[0].air.oil_level.round(1),
)

# %% [markdown]
# What cannot be had is refused, with what can. Nothing is clamped:

# %%
for wish in ("9 kN", "4.5 kN"):
    try:
        low_oil.oil_level_change_for_force(wish, SAG, permitted)
    except GasError as refusal:
        print(f"{wish}: {refusal}\n")
try:
    low_oil.with_oil_level_change("-90 mm")
except GasError as refusal:
    print(refusal)

# %% [markdown]
# ## Backwards: oil for a softer spring
#
# The shop has 4.4 N/mm only. Which level does the same work between 120 mm and 270 mm?

# %%
softer = low_oil.with_spring_rate("4.4 N/mm", parts.preload)
offset = softer.oil_level_change_to_match(low_oil, SAG, ("120 mm", "270 mm"), permitted)
print("change of level:", offset.change.round(1))
print("greatest difference left:", offset.difference.round(0), "at", offset.at.round(0))

# %%
fig, ax = plt.subplots(figsize=(6.4, 3.6), layout="constrained")
reference = apart(low_oil)[2]
ax.axvspan(120, 270, color="#009e73", alpha=0.12, label="part to match")
ax.axhline(0, color="0.4", linewidth=0.8)
matched = softer.with_oil_level_change(offset.change)
ax.plot(
    stroke,
    apart(softer)[2] - reference,
    "--",
    color=STEEL,
    linewidth=1.8,
    label="softer, same oil",
)
ax.plot(
    stroke,
    apart(matched)[2] - reference,
    color=ALL,
    linewidth=1.8,
    label="softer, more oil",
)
dress(ax, "force against the old springs (N)")
ax.legend(frameon=False, loc="upper left")
plt.show()

# %% [markdown]
# The same work is not the same force. Oil cannot imitate a spring: too soft in the middle, too hard at the end, and the sag
# (on the left) stays that of the softer spring. **Use oil for the last third and springs for sag.**
#
# ## Backwards: which spring is this?
#
# A pair in a drawer, nothing printed on it. A caliper on bare wire in several places, the outside diameter, and a count:

# %%
found = wr.UnmarkedSpring(
    wire=("4.98 mm", "0.02 mm"),
    outside_diameter=("39.0 mm", "0.1 mm"),
    active_coils=(34.0, 0.25),
    material="EN 10270-1",
)
print("rate:", found.rate)
for reading, share in found.budget.items():
    print(f"  from {reading:<17} {share.m_as('percent'):.1f} %")
print("could be:", found.candidates((np.arange(4.0, 5.6, 0.2), "N/mm")).round(1))

# %% [markdown]
# The wire counts four times over: three hundredths of a millimetre of paint mislead as much as a whole coil miscounted. When
# several labels remain, no sharper formula helps. Compress the spring on a scale instead: the force it gains over another
# 50 mm says more than any caliper.
#
# ## The hut on the pass
#
# Sealed in the valley at 20 °C, ridden at 2500 m at 5 °C; and in the valley with the oil hot from work.

# %%
valley = wr.Conditions.at_altitude("300 m", "20 degC")
places = {
    "valley, 20 °C": valley,
    "valley, oil at 50 °C": valley.with_temperature("50 degC"),
    "hut, 2500 m, 5 °C": wr.Conditions.at_altitude("2500 m", "5 degC"),
    "hut, 2500 m, 20 °C": wr.Conditions.at_altitude("2500 m", "20 degC"),
}
air = wr.ForkAir(
    sealing_diameter="47 mm",
    bore="43 mm",
    oil_level="110 mm",
    steel_volume=coil.volume,
    sealed=valley,
)
sealed = wr.Fork(
    TRAVEL, RAKE, wr.ForkLeg(wr.Preloaded(coil.spring(), parts.preload), air)
)
print(f"{'':22}{'extended':>10}{'at 80 mm':>10}{'at 290 mm':>11}")
for name, place in places.items():
    there = sealed.running_in(place)
    forces = [there.gas_at(s).force.m_as("N") for s in ("0 mm", "80 mm", TRAVEL)]
    print(f"{name:22}{forces[0]:8.0f} N{forces[1]:8.0f} N{forces[2]:9.0f} N")

# %% [markdown]
# At the hut the outside air pushes less, and the fork stands up: at 11.4 N/mm that is five to seven millimetres of stroke. It
# is gone with one press on the bleed screws, and comes back with the wrong sign on the way down. Bleed before reading sag,
# fork extended and cold, and note where.
#
# ## An air spring, for comparison
#
# Air can replace the steel altogether. Alone it starts with a threshold; a **negative chamber** pulls against it, at the
# start the most.

# %%
main = wr.AirSpring("36 mm", "390 cm3", "9 bar")
negative = main.with_negative("14 mm", "60 cm3", port_at="8 mm")
fig, ax = plt.subplots(figsize=(6.4, 3.8), layout="constrained")
for name, spring, style in (
    ("main chamber alone", main, "--"),
    ("with negative chamber", negative, "-"),
):
    fork = wr.Fork(TRAVEL, RAKE, wr.ForkLeg(air_spring=spring), wr.ForkLeg())
    ax.plot(stroke, apart(fork)[2], style, color=AIR, linewidth=1.8, label=name)
ax.plot(
    stroke,
    apart(low_oil)[2],
    ":",
    color=ALL,
    linewidth=1.8,
    label="steel, level 135 mm",
)
ax.set_ylim(0, 5000)
dress(ax, "force of the fork (N)")
ax.legend(frameon=False)
plt.show()

# %% [markdown]
# ## Ramp at will: a second chamber, and spacers
#
# A floating piston closes off a second chamber. Once the main one is at its pressure $P_0$, at the volume
# $V_l = V_0\,(p_0/P_0)^{1/n}$, the piston lifts, both act as one, and the rate falls by $V_l/(V_l + W_0)$. Spacers do the contrary
# from the start: they take volume, and the end stiffens. Change either:

# %%
plain = wr.AirSpring("36 mm", "390 cm3", "6 bar").with_negative(
    "14 mm", "60 cm3", port_at="8 mm"
)
ramps = {
    "plain": plain,
    "second chamber": plain.with_second("80 cm3", "14 bar"),
    "4 spacers": plain.with_spacers(4, "7 cm3", most=6),
}
_, ax = plt.subplots()
for name, spring in ramps.items():
    fork = wr.Fork(TRAVEL, RAKE, wr.ForkLeg(air_spring=spring), wr.ForkLeg())
    ax.plot(stroke, apart(fork)[2], label=name)
    print(f"{name}: lifts at {spring.lifts_at(TRAVEL)}")
dress(ax, "force of the fork (N)")
ax.legend(frameon=False)
plt.show()

# %% [markdown]
# ## What to be careful with
#
# - Every force here is without **friction**; a fork rests anywhere within it of its curve. Read twice, pushed down and
#   lifted, and state it with the leg: `wr.ForkLeg(..., friction="25 N")`.
# - **Level with the spring out, fork compressed.** Say which, always.
# - From 1 bar to 15 bar and 0 °C to 60 °C the **ideal gas** is good to 1 %, slow or fast, with one exception: a fast stroke
#   from 1 bar to more than 8 bar in air that is hot already. There it is up to 2 % too hard.
# - The **fast exponent** is the larger unknown by far: nobody measures it, and it lies between the two curves above. The
#   advice carries it in its ±.
# - Hot oil expands, by some 7 % over 100 °C (from memory), and takes that from the air. Seals leak. The level is a reading
#   with a date.
#
# **Try next:** which level gives the fork with little oil the force at full stroke that `high_oil` has, both fast?

# %%
wanted = high_oil.fast_at(SAG, TRAVEL).force
print(low_oil.oil_level_change_for_force(wanted, SAG, ("60 mm", "200 mm")).round(1))

# %% [markdown]
# ## Before you touch a bike
#
# The maker's manual, local rules and a qualified mechanic come before any number here. Release air pressure and spring preload
# before opening a fork cap, and never open or heat a charged reservoir. After any change
# check by hand that tyre, chain and brake lines stay clear at full travel and full lock, tighten every fastener to the
# maker's torque, and ride gently at first.
