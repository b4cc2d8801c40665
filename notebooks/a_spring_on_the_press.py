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
# # A spring on the press
#
# *The label is painted over, and the bike was never quite as stiff as it says. I have a press, scales and an hour.*
#
# A load $F_i$ at every compression $x_i$, both read with errors of their own, and one that all loads share:
#
# $$F_i = f(x_i) + e_i,\qquad \sigma_i^2=u_F^2+(k\,u_x)^2,\qquad F(x)=s\,f(x),\quad s\sim N(1,u_s)$$
#
# The curve $f$ is smooth and rises; what the readings leave open of it goes into everything that follows from the bike.

# %%
import matplotlib.pyplot as plt
import numpy as np

import wheelrate as wr

compressions = np.arange(12.0, 145.0, 12.0)
loads = [546, 1124, 1709, 2327, 2920, 3525, 4157, 4763, 5407, 6022, 6697, 7321]

# %% [markdown]
# Change how well you read, or a load, and run the cell again:

# %%
known = {
    "force_uncertainty": "25 N",
    "compression_uncertainty": "0.5 mm",
    "scale_uncertainty": "1 %",
}

spring = wr.Spring.measured((compressions, "mm"), (loads, "N"), **known)
print("on average", spring.mean_rate)
for place, off in spring.suspect_readings:
    print(f"reading {place + 1} lies {off.m_as('N'):+.0f} N off what the others say")

at = np.linspace(0, 0.999 * spring.full_stroke.m_as("mm"), 60)
rates = [spring.uncertain_at((x, "mm")).rate for x in at]
rate = np.array([one.value.m_as("N/mm") for one in rates])
spread = np.array([one.standard_uncertainty.m_as("N/mm") for one in rates])
fig, ax = plt.subplots(figsize=(6, 3.7))
ax.plot(at, rate)
ax.fill_between(at, rate - spread, rate + spread, alpha=0.3)
ax.plot(compressions[1:] - 6, np.diff(loads) / np.diff(compressions), "k.")
ax.set(
    xlabel="compression in mm",
    ylabel="rate in N/mm",
    title="The dots are differences of the readings",
)
plt.show()

# %% [markdown]
# In the bike, the same readings stand in the file in place of a rate. What they leave open meets the readings of the sag:

# %%
rows = [[f"{x} mm", f"{load} N"] for x, load in zip(compressions, loads, strict=True)]
bike = wr.demo()
press = bike.correct(
    {"rear.shock.spring": {"measured": {"readings": rows, **known}, "preload": "14 mm"}}
)
for name, one in {"by its label": bike, "by the press": press}.items():
    fit = one.fit()["rear"]
    print(f"{name:13} rate {fit.rate}, preload {fit.preload}")
print(press.advise_end("rear").verdict)

# %% [markdown]
# ## Coils that close
#
# A spring wound with two pitches: every coil carries the same force, and one with the gap $p-d$ closes at $F=k_1(p-d)$, where
# $k_1=Gd^4/8D^3$ is the rate of one coil. From there fewer are left. Change wire, coils and pitches:

# %%
wire, mean_diameter, coils, pitches = "11.5 mm", "68 mm", [3, 7], [14.5, 28]

wound = wr.Spring.closing(
    wire=wire, mean_diameter=mean_diameter, coils=coils, pitches=(pitches, "mm")
)
for closing in wound.changeovers:
    print(
        f"coils close at {closing.compression.m_as('mm'):.1f} mm and"
        f" {closing.force.m_as('N'):.0f} N"
    )
x = np.linspace(0, 0.999 * wound.full_stroke.m_as("mm"), 300)
curve = wound.curve((x, "mm"))
fig, ax = plt.subplots(figsize=(6, 3.7))
ax.plot(x, curve.rate.m_as("N/mm"))
ax.set(
    xlabel="compression in mm",
    ylabel="rate in N/mm",
    title="The rate rises as coils close",
)
plt.show()

# %% [markdown]
# **Mind** that a press holds a spring which can throw it: keep out of its line, and never take the load off at once.
