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
# # Will the spring last?
#
# *There is a spring of the right rate in the drawer, lighter than mine. Does its wire stand the stroke?*
#
# The stress in the wire, corrected for its curvature, goes with the force and with the third power of the wire:
#
# $$\tau = \frac{w+0.5}{w-0.75}\cdot\frac{8FD}{\pi d^3},\qquad w=\frac Dd$$
#
# It must not reach what sets the spring, and its swing between rest and full travel must stay below what the wire stands for good
# (Goodman, with Zimmerli's strengths):
#
# $$\frac1{n_f}=\frac{\tau_a}{S_{se}}+\frac{\tau_m}{S_{su}}$$

# %%
import matplotlib.pyplot as plt
import numpy as np

import wheelrate as wr

bike = wr.demo()
print("\n".join(f"{name:24} {source}" for name, source in wr.spring_wires().items()))

# %% [markdown]
# The compressions are those of the bike: preload and stroke at rest under the rider, and at full travel. Change the spring and run
# the cell again:

# %%
wire, mean_diameter, active_coils = "11.2 mm", "66 mm", 10.2
wire_kind, peened, pressed = "oil-tempered A229", True, True

shock = bike.rear.shock
preload = shock.main_spring.preload
least = preload + bike.rear.at(bike.whole.settle().stance.travel["rear"]).stroke
most = preload + shock.full_stroke
coil = wr.CoilGeometry(
    wire=wire,
    mean_diameter=mean_diameter,
    active_coils=active_coils,
    ends="closed-ground",
    material="EN 10270-2",
)
life = coil.life(wire_kind, least, most, is_peened=peened, is_pressed=pressed)
print(
    f"{coil.rate.m:.1f} N/mm from {least.m_as('mm'):.0f} mm to {most.m_as('mm'):.0f}"
    f" mm: {life.verdict}"
)
print(
    f"stress {life.least_stress.m_as('MPa'):.0f} to"
    f" {life.most_stress.m_as('MPa'):.0f} MPa in wire of",
    end=" ",
)
print(
    f"{life.tensile_strength.m_as('MPa'):.0f} MPa,"
    f" {life.set_share.m_as('percent'):.0f} % of what sets it,",
    end=" ",
)
print(f"fatigue factor {life.fatigue_factor:.2f}")

# %% [markdown]
# These go with every such number:

# %%
print("\n".join(f"- {caution}" for caution in life.cautions))

# %% [markdown]
# ## Same rate, thicker wire
#
# A spring of the same rate and diameter from thicker wire has more coils, is heavier and longer when solid, and works its wire
# less. With $n\propto d^4$ the stress falls with $d^{-3}$ and the mass rises with $d^6$.

# %%
wires = np.linspace(10.0, 12.6, 27)
springs = [
    wr.CoilGeometry(
        wire=(d, "mm"),
        mean_diameter=mean_diameter,
        active_coils=active_coils * (d / 11.2) ** 4,
        ends="closed-ground",
        material="EN 10270-2",
    )
    for d in wires
]
fig, ax = plt.subplots(figsize=(6.4, 3.8), layout="constrained")
for name, done in {
    "as wound": {},
    "peened and pressed": {"is_peened": True, "is_pressed": True},
}.items():
    ax.plot(
        wires,
        [
            spring.life(wire_kind, least, most, **done).fatigue_factor
            for spring in springs
        ],
        label=name,
    )
ax.axhspan(1 / 1.2, 1.2, color="0.9", zorder=0, label="too close to say")
ax.set(xlabel="wire (mm)", ylabel="factor of safety for endless life")
ax.legend(loc="upper left")
mass = ax.twinx()
mass.plot(
    wires, [spring.mass.m_as("kg") for spring in springs], color="0.5", linestyle=":"
)
mass.set_ylabel("mass, dotted (kg)")
plt.show()

# %% [markdown]
# ## Titanium
#
# About half the modulus at six tenths of the density: fewer coils carry the same rate. How often it can be pressed is not known
# here, and the verdict says so. Whether it sets is:

# %%
titanium = "Ti-3Al-8V-6Cr-4Mo-4Zr"
light = wr.CoilGeometry(
    wire="12 mm",
    mean_diameter=mean_diameter,
    active_coils=active_coils * 41 / 79.5 * (12 / 11.2) ** 4,
    ends="closed-ground",
    material=titanium,
)
found = light.life(titanium, least, most, is_pressed=True)
print(
    f"{light.rate.m:.1f} N/mm, {light.mass.m_as('kg'):.2f} kg against"
    f" {coil.mass.m_as('kg'):.2f} kg: {found.verdict},",
    end=" ",
)
print(f"{found.set_share.m_as('percent'):.0f} % of what sets it")
assert found.fatigue_factor is None
