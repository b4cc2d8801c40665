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
# # A long descent: what warm gas does
#
# *At the hut the fork felt right. Half an hour down, it stands higher and is harsh. Nobody touched it.*
#
# Dampers turn the descent into heat, and some of it goes into the gas beside them. Gas in a fixed volume follows its
# temperature, $p = p_0\,T/T_0$, in kelvin; and the temperature goes the way of anything that is heated evenly:
#
# $$T = T_e + (T_0 - T_e)\,e^{-t/\tau}$$

# %%
import matplotlib.pyplot as plt
import numpy as np

import wheelrate as wr

bike = wr.demo()

# %% [markdown]
# ## The call
#
# You state where the gas starts, where it would end, and $\tau$, in which 63 % of the way is done. A thermometer taped to the leg
# gives all three: read it on the way. It is not known better than to a quarter, so that is stated too. Change any of them: a
# shorter $\tau$ comes to the same end sooner, a start at 0 °C makes everything larger.

# %%
start, towards = "15 degC", "60 degC"
time_constant, its_uncertainty = "600 s", "150 s"

minutes = np.linspace(0, 40, 41)
warm = {
    end: bike.whole.descent(
        end,
        start,
        towards,
        time_constant,
        (60 * minutes, "s"),
        time_constant_uncertainty=its_uncertainty,
    )
    for end in ("front", "rear")
}
for end, found in warm.items():
    columns = {
        name: getattr(found, name).m_as(unit)
        for name, unit in {
            "temperature": "degC",
            "pressure": "percent",
            "travel": "mm",
            "travel_uncertainty": "mm",
            "reserve": "J",
            "reserve_uncertainty": "J",
        }.items()
    }
    print(f"{end}: {'gas':>12} {'pressure':>10} {'travel at rest':>17} {'reserve':>14}")
    for at in (0, 5, 10, 20, 40):
        gas, pressure, travel, off, reserve, reserve_off = (
            column[at] for column in columns.values()
        )
        print(
            f"{minutes[at]:6.0f} min {gas:6.0f} °C {pressure:8.0f} %"
            f" {travel:9.1f} ± {off:.1f} mm {reserve:7.0f} ± {reserve_off:.0f} J"
        )

# %% [markdown]
# The ± is what the stated one of $\tau$ makes of each number. It is nothing at the start, largest near $t=\tau$, and goes away
# again, because the end does not depend on $\tau$. Of a wrong end temperature it says nothing: run the cell with another.
#
# ## Sag goes, reserve comes
#
# The *reserve* is the energy from rest to full travel, less what the load does on the way: what a landing may bring before it
# bottoms. Warm gas carries more of the load, the bike stands up, and the same gas is harder near the end.

# %%
fig, axes = plt.subplots(1, 2, figsize=(9.2, 3.4), layout="constrained")
for (end, found), (colour, style) in zip(
    warm.items(), [("#0072b2", "-"), ("#d55e00", "--")], strict=True
):
    for ax, name, unit in zip(axes, ("travel", "reserve"), ("mm", "J"), strict=True):
        value = getattr(found, name).m_as(unit)
        value = value - value[0]
        spread = 2 * getattr(found, f"{name}_uncertainty").m_as(unit)
        ax.plot(minutes, value, style, color=colour, linewidth=1.8, label=end)
        ax.fill_between(
            minutes, value - spread, value + spread, color=colour, alpha=0.2
        )
for ax, label in zip(
    axes, ("change of travel at rest (mm)", "change of reserve (J)"), strict=True
):
    ax.axhline(0, color="0.4", linewidth=0.8)
    ax.set_xlabel("time on the descent (min), bands ± 2 u")
    ax.set_ylabel(label)
    ax.spines[["top", "right"]].set_visible(False)
axes[0].legend(frameon=False)
plt.show()

# %% [markdown]
# In the fork the air acts on the whole width of both tubes; in the shock the gas acts on a thin rod. So it is the front that comes
# up. That leans the steering axis back, and the trail grows a little.
#
# ## One thing to change
#
# How much of it is the air's? With the oil lower there is more room for it, and the same heat does less near full travel. Change
# the level; sag hardly cares.

# %%
for level in ("95 mm", "115 mm", "135 mm"):
    keys = bike.to_dict()
    for leg in keys["front"]["fork"]["leg"]:
        leg["air"]["oil_level"] = level
    found = wr.Bike.from_dict(keys).whole.descent(
        "front", start, towards, time_constant, ["0 s", "2400 s"]
    )
    travel, reserve = found.travel.m_as("mm"), found.reserve.m_as("J")
    print(
        f"level {level:>6}: travel {travel[1] - travel[0]:+.1f} mm, reserve"
        f" {reserve[0]:.0f} J, then {reserve[1] - reserve[0]:+.0f} J"
    )

# %% [markdown]
# No ± here, since after four $\tau$ there is next to none left: leave `time_constant_uncertainty` out and $\tau$ is exact.
#
# Damping, oil that expands and seals that leak are not in it. Read sag cold, note the temperature, and compare like with like.
#
# ## Before you touch a bike
#
# The maker's manual, local rules and a qualified mechanic come before any number here. Let a hot fork or shock cool down before
# anything else. Release air pressure and spring preload before opening a fork cap, and never open or heat a charged reservoir.
# After any change check by hand that tyre, chain and brake lines stay clear at full travel and full lock, tighten every
# fastener to the maker's torque, and ride gently at first.
