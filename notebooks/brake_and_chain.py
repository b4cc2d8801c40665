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
# # What do the brake and the chain do to the rear?
#
# *On a steep descent the rear hops under the brake. Would a caliper that floats on the axle, held by a rod, help? And how loose
# has the chain to be on the stand, so that it is not taut when the rear goes down?*
#
# All of it is geometry. Change the numbers in the first cell of each part and run it again.

# %%
import matplotlib.pyplot as plt

import wheelrate as wr

bike = wr.demo()
rest = bike.whole.settle().stance

# %% [markdown]
# ## The brake: anti-rise over travel
#
# A braked wheel turns with the body that carries the caliper, so that its contact moves about that body's instant centre. The line
# from the contact to it rises by $\sigma$. Braking takes the load $X\,h/p$ off the rear, and pushes the rear down by
# $X\tan\sigma$:
#
# $$\text{anti-rise} = \frac{\tan\sigma}{h/p}$$
#
# At 100 % the rear brake alone leaves the rear where it is. Here is the caliper on the swingarm, as the file has it, and on a
# bracket that floats on the axle. The rod's ends are yours to move:

# %%
rod_frame, rod_bracket = ["10 mm", "-40 mm"], ["-560 mm", "-250 mm"]

drawn = bike.rear.linkage.mechanism
mechanism = wr.Mechanism(
    {
        **{name: place.to("mm") for name, place in drawn.points.items()},
        "rod_frame": rod_frame,
        "rod_bracket": rod_bracket,
    },
    {
        **drawn.bodies,
        "frame": [*drawn.bodies["frame"], "rod_frame"],
        "rod": ["rod_frame", "rod_bracket"],
        "bracket": ["axle", "rod_bracket"],
    },
)
shock = bike.rear.shock
floating = wr.Linkage(
    mechanism,
    "axle",
    bike.rear.linkage.shock,
    shock_length=shock.length,
    stroke=shock.full_stroke,
)
stands = {
    "wheel_radius": rest.axle_height["rear"],
    "cg_height": bike.whole.centre_of_gravity(rest)[1],
    "wheelbase": rest.wheelbase,
}

fig, ax = plt.subplots(figsize=(6.4, 3.8), layout="constrained")
for body in ("swingarm", "bracket", "frame"):
    found = floating.anti_rise(body, **stands)
    ax.plot(
        found.travel.m_as("mm"),
        found.anti_rise.m_as("percent"),
        label=f"caliper on the {body}",
    )
    at_rest = floating.anti_rise(body, [rest.travel["rear"]], **stands)
    print(
        f"caliper on the {body:>8}, rider on: anti-rise"
        f" {at_rest.anti_rise[0].m_as('percent'):4.0f} %"
    )
ax.axvline(rest.travel["rear"].m_as("mm"), color="0.7", zorder=0)
ax.set(xlabel="wheel travel (mm)", ylabel="anti-rise (%)")
ax.legend()
plt.show()

# %% [markdown]
# With the caliper on the swingarm the brake pulls the rear down and stretches it firm: above 100 %. The bracket lets it work more
# freely, and the rear comes up more. Where the bracket turns about is the crossing of swingarm and rod:

# %%
for travel in ("0 mm", "100 mm", "200 mm"):
    x, z = floating.instant_centre("bracket", travel).m_as("mm")
    print(f"at {travel:>6} of travel the bracket turns about ({x:6.0f}, {z:5.0f}) mm")

# %% [markdown]
# The front brake has no such choice: a telescopic fork gives way to the rear under it, and so adds to the dive.

# %%
print(
    "anti-dive of the fork, rider on:"
    f" {bike.whole.anti_dive().anti_dive.m_as('percent'):.0f} %"
)

# %% [markdown]
# ## The chain
#
# The loop is longest where axle, pivot and sprocket are nearly in line. There it needs a little play, and it has more everywhere
# else. A run of length $\ell$ with $e$ to spare can be moved by $P=\sqrt{e\,(2\ell+e)}$ at its middle, up and down together.

# %%
play = "10 mm"

chain = bike.rear.chain(play=play)
print(
    f"tightest at {chain.tightest_travel.m_as('mm'):.0f} mm of travel,"
    f" {chain.tightest_growth.m_as('mm'):.1f} mm longer than"
)
print(
    f"at full extension: set {chain.extended_play.m_as('mm'):.0f} mm of play on the"
    f" stand to keep {play} there"
)
others = {
    f"{front} and {rear} teeth": bike.what_if(
        {"rear.chain.front_teeth": front, "rear.chain.rear_teeth": rear}
    )
    for front, rear in ((13, 49), (14, 49), (12, 52))
}
wr.plot.chain_play(others, play)
plt.show()
for name, other in others.items():
    found = other.rear.chain([rest.travel["rear"]], play=play)
    squat = other.whole.squat(travels=[rest.travel["rear"]])
    print(
        f"{name}: {other.rear.chain(play=play).extended_play.m_as('mm'):3.0f} mm on"
        " the stand, wheel turned by"
        f" {found.wheel_turn[0].m_as('deg'):.1f}° at rest, anti-squat"
        f" {squat.anti_squat[0].m_as('percent'):.0f} %"
    )

# %% [markdown]
# Equal sprockets, the front one on the pivot, feel nothing of the travel: the chain keeps its length and the wheel does not turn.

# %%
equal = wr.RearEnd(
    bike.rear.linkage,
    shock,
    final_drive=wr.Sprockets(["0 mm", "0 mm"], (20, 20), "15.875 mm"),
).chain()
assert abs(equal.growth.m_as("mm")).max() < 1e-9
assert abs(equal.wheel_turn.m_as("deg")).max() < 1e-9

# %% [markdown]
# ## The fork: what the brake makes of its friction
#
# The wheel is pushed up by $V$ and, braked, back by $\kappa V$; the caliper turns the slider. Two bushes a distance $w$ apart hold
# against it, and rub with $f = \mu\sum|R|$. The load pushes the wheel forward, the brake backward: a little braking may even free the
# fork. Change where the bushes are, and the coefficient:

# %%
bushes = wr.Bushes("200 mm", "400 mm", axle_offset="35 mm", coefficient=0.02)
fork = bike.front.fork.with_bushes(bushes)

_, ax = plt.subplots()
for share in ("0 %", "30 %", "60 %", "90 %"):
    found = fork.bush_loads(braking=share, radius="350 mm", unsprung="140 N")
    ax.plot(found.stroke.m_as("mm"), found.friction_at_wheel.m_as("N"), label=share)
ax.set(xlabel="stroke along the fork (mm)", ylabel="friction at the wheel (N)")
ax.legend(title="braking per load")
plt.show()
rest = bike.whole.fork_friction_at_rest()
print(
    f"at rest {rest.friction_at_wheel[0].m_as('N'):.0f} ±"
    f" {rest.friction_at_wheel_uncertainty[0].m_as('N'):.0f} N, of"
    f" {bike.fit_end('front').friction} that the readings found"
)

# %% [markdown]
# Without a coefficient nothing rubs, however hard the brake is pulled.

# %%
smooth = fork.with_bushes(wr.Bushes("200 mm", "400 mm", coefficient=0))
assert not smooth.bush_loads(braking="90 %", radius="350 mm").friction.m_as("N").any()

# %% [markdown]
# Chain and brake lines have no ±: points, teeth and heights are taken as exact. Sprockets that run out of true and a worn chain move the
# play by millimetres: turn the wheel, and set it at the tightest place.
