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
# # The whole bike: what happened to the trail?
#
# *I raised the fork 5 mm in its clamps and put softer springs in it. Now the bike turns in by itself. What happened to the
# trail?* And then: the same bike, with a second rider on it.
#
# The two ends are one bike. A front that sits lower pitches the frame, the pitch steepens the steering axis and moves the
# weight forward, and that brings the front down a little more.

# %%
import matplotlib.pyplot as plt
import numpy as np

import wheelrate as wr

bike = wr.demo()

# %% [markdown]
# ## How it stands
#
# Rake $\varepsilon$, wheel radius $R$ (loaded) and fork offset $d$ give the trail along the ground:
#
# $$c = \frac{R\sin\varepsilon - d}{\cos\varepsilon}$$
#
# On the stand it is one number, under the rider another. Both ends and the pitch settle together.

# %%
stances = bike.whole.stances()
states = {
    "fully extended": stances.extended,
    "bike alone": stances.free.stance,
    "rider on": stances.rider.stance,
}
print(
    f"{'':>16} {'rake':>9} {'trail':>10} {'wheelbase':>11}"
    f" {'front, rear travel used':>26}"
)
for name, stance in states.items():
    used = ", ".join(
        f"{stance.travel[end].m_as('mm'):.0f}" for end in ("front", "rear")
    )
    print(
        f"{name:>16} {stance.rake.m_as('deg'):7.1f} ° {stance.trail.m_as('mm'):7.1f} mm"
        f" {stance.wheelbase.m_as('mm'):8.0f} mm {used + ' mm':>26}"
    )

# %% [markdown]
# The trail grows when the rider gets on: the tail goes down further than the front, and the steering axis leans back. With
# the bike alone it is the other way round. A trail quoted from a brochure belongs to one of these states, and it rarely
# says which.
#
# None of these numbers has a ±: the file states no uncertainty for rake, offset and radii. What they would be worth is
# easy to ask. With half a degree on the rake, 1 mm on the offset and 2 mm on the radius:

# %%
standing = states["rider on"]
wheel = wr.Steering(
    standing.rake,
    bike.to_dict()["wheels"]["fork_offset"],
    standing.axle_height["front"],
)
print("trail:", wheel.trail_with_uncertainty("0.5 deg", "1 mm", "2 mm"))

# %% [markdown]
# Changes are known far better than the numbers themselves: what is wrong with the rake is wrong before and after.
#
# ## The question, in one call
#
# The tubes 5 mm further up, the front springs from 4.4 to 4.0 N/mm with the same preload:

# %%
both = bike.whole.effect_of(fork_raised="5 mm", front_spring=("4.0 N/mm", "6 mm"))
clamps = bike.whole.effect_of(fork_raised="5 mm")
springs = bike.whole.effect_of(front_spring=("4.0 N/mm", "6 mm"))
for name, effect in {
    "clamps only": clamps,
    "springs only": springs,
    "both": both,
}.items():
    print(
        f"{name:>12}: trail {effect.trail.m_as('mm'):+5.1f} mm, rake"
        f" {effect.rake.m_as('deg'):+.2f} °,"
        f" front travel {effect.travel['front'].m_as('mm'):+5.1f} mm,"
        f" rear {effect.travel['rear'].m_as('mm'):+5.1f} mm"
    )

# %% [markdown]
# The springs took about as much trail as the clamps: they let the front sit lower, which is a change of ride height by
# another name. The rear even came up a little, because weight went forward. Whoever softens a fork for comfort and wonders
# about the steering has the answer here; more preload brings the height back.
#
# Which preload of the softer springs keeps the trail where it was, with the clamps left alone?

# %%
preloads = np.linspace(4, 18, 15)
softer = [
    bike.whole.effect_of(front_spring=("4.0 N/mm", (preload, "mm"))).trail.m_as("mm")
    for preload in preloads
]
keeps = np.interp(0, softer, preloads)
fig, ax = plt.subplots(figsize=(6.4, 3.4), layout="constrained")
ax.plot(preloads, softer, color="#0072b2", linewidth=1.8)
ax.axhline(0, color="0.4", linewidth=0.8)
ax.plot(keeps, 0, "o", color="#d55e00")
ax.annotate(
    f"{keeps:.1f} mm keeps the trail",
    (keeps, 0),
    (-8, 8),
    textcoords="offset points",
    ha="right",
)
ax.set_xlabel("preload of the 4.0 N/mm springs (mm)")
ax.set_ylabel("change of trail (mm)")
ax.spines[["top", "right"]].set_visible(False)
plt.show()

# %% [markdown]
# ## Two riders on one bike
#
# The patrol's second rider is lighter, carries no pack and stands further forward. Only the rider's line of the file
# changes.

# %%
riders = {
    "96 kg with pack": bike,
    "72 kg, no pack": bike.what_if(
        {
            "masses.rider.front": "25 kg",
            "masses.rider.rear": "47 kg",
            "masses.rider.pitch_inertia": "8 kg m2",
        }
    ),
}
rests = {name: ridden.whole.settle().stance for name, ridden in riders.items()}
for name, stance in rests.items():
    front, rear = (stance.travel[end].m_as("mm") for end in ("front", "rear"))
    print(
        f"{name:>16}: rake {stance.rake.m_as('deg'):.1f} °, trail"
        f" {stance.trail.m_as('mm'):.1f} mm,"
        f" travel used {front:.0f} mm in front, {rear:.0f} mm at the rear"
    )
for name, ridden in riders.items():
    modes = ", ".join(
        f"{mode.kind} {mode.frequency.m_as('Hz'):.2f} Hz"
        for mode in ridden.whole.modes()[:2]
    )
    print(f"{name:>16}: {modes}")

# %% [markdown]
# The lighter rider sits higher at the back and steers another bike: less rake, less trail, with not a bolt turned. How
# much preload has to come out of the rear spring for the same trail?

# %%
light = riders["72 kg, no pack"]
preloads = np.linspace(4, 14, 11)
effects = [
    light.whole.effect_of(rear_spring=("52 N/mm", (preload, "mm")))
    for preload in preloads
]
# Less preload, more trail.
trails = [effect.after.stance.trail.m_as("mm") for effect in effects]
same = np.interp(
    rests["96 kg with pack"].trail.m_as("mm"), trails[::-1], preloads[::-1]
)
print(f"{same:.1f} mm in place of 14 mm: {(14 - same) / 1.5:.1f} turns out")

# %% [markdown]
# That is within what the adjuster sets (4 to 22 mm), and the patrol can write it on a label. It is no advice on sag: for
# that, read the sags again with the second rider; the readings in the file are those of the first.
#
# ### Posture, and a set-up without the rider
#
# The same rider 10 cm further forward is another load. And where has ballast to go, so that both scales show what they
# show with the rider on?

# %%
forward = (
    bike.whole.with_shift("rider", forward="100 mm").whole.settle().stance.trail
    - bike.whole.settle().stance.trail
)
print(f"10 cm forward: trail {forward.m_as('mm'):+.1f} mm")
lump = bike.whole.ballast("rider")
behind = lump.behind_front_axle.m_as("mm")
print(
    f"ballast: {lump.mass.m_as('kg'):.0f} kg at {behind:.0f} mm behind the front"
    " axle, or"
)
ahead, tail = bike.whole.ballast_at(["850 mm", "1350 mm"], "rider").m_as("kg")
print(f"         {ahead:.0f} kg at 850 mm and {tail:.0f} kg at 1350 mm")

# %% [markdown]
# Lash ballast down, and keep everybody's feet from under it.
#
# ## Damping
#
# The file has the dampers as a dynamometer drew them: force over shaft speed. What reaches the wheel goes with the square of the
# motion ratio, and what it is worth there depends on spring and mass: the damping ratio, the share of critical damping. A
# motion is named by the amplitude of its speed at the wheel; these dampers give way when it is fast. What does a stiffer spring
# do to it, and the linkage over the travel? Change the rate or the speed.

# %%
stiffer = bike.what_if({"rear.shock.spring.rate": "60 N/mm"})
figure, (left, right) = plt.subplots(1, 2, figsize=(9.2, 3.4), layout="constrained")
wr.plot.damper(bike.rear.shock.damper, ax=left)
wr.plot.damping_ratio({"52 N/mm": bike, "60 N/mm": stiffer}, speed="0.5 m/s", ax=right)
plt.show()

# %%
for speed in ("0 m/s", "0.5 m/s"):
    modes = bike.whole.damped_modes(speed=speed)
    print(
        f"{speed:>8}:",
        ", ".join(
            f"{mode.kind} {mode.damping_ratio.m_as('percent'):.0f} %" for mode in modes
        ),
    )

# %% [markdown]
# The linear damper that takes as much energy out of a swing stands in for the real one: `8·c·ω·X/(3π)` for one whose force
# goes with the square of the speed, `4·F/(π·ω·X)` for dry friction. The larger the swing, the less friction counts:

# %%
for stroke in ("1 mm", "5 mm", "20 mm"):
    damping = wr.equivalent_of_friction("60 N", "2 Hz", stroke)
    print(f"60 N of friction at 2 Hz, {stroke:>5}: {damping.m_as('N s/m'):.0f} N s/m")

# %% [markdown]
# ## A road
#
# ISO 8608 sorts roads by their roughness: A to C are tarred, C to E gravel and forest roads, E and beyond trails. A road has a
# spectrum, the bike an answer to each frequency, and together they give the root mean square of travel, tyre force and acceleration;
# the last weighted by how a body feels it (ISO 2631-1). What does a stiffer spring cost, and a softer damper? Change the class.


# %%
def ridden_over(name, ride):
    rear, front = ride.ends["rear"], ride.ends["front"]
    print(
        f"{name:>18}: rear travel {rear.travel_rms.m_as('mm'):4.1f} mm rms, tyre"
        f" {rear.tyre_force_rms.m_as('N'):4.0f} of"
        f" {rear.tyre_load.m_as('N'):.0f} N, felt"
        f" {ride.weighted_acceleration_rms.m_as('m/s**2'):.2f} m/s2,"
        f" bottoming in a km: front {front.bottoming_chance.m_as(''):.1%}, rear"
        f" {rear.bottoming_chance.m_as(''):.1%}"
    )


gravel = wr.Road("D")
ridden_over("as it is", bike.whole.on_road(gravel, "50 km/h"))
ridden_over("60 N/mm", stiffer.whole.on_road(gravel, "50 km/h"))
softer = bike.rear.shock.damper.scaled(0.6)
ridden_over("damper at 60 %", bike.whole.on_road(gravel, "50 km/h", rear_damper=softer))

# %% [markdown]
# A class spans a factor of two in all of these; the comparison is surer than any of the numbers. And a spectrum knows no holes
# and no steps. In time, with springs, stops and damper as they are, over one of the roads of the class:

# %%
ride = bike.whole.moving_end("rear").over_road(
    gravel, "50 km/h", seed=7, duration="10 s"
)
ax = wr.plot.landing(ride)
ax.set_title("Rear wheel, class D at 50 km/h", fontsize=10, loc="left")
plt.show()
travel = ride.travel.m_as("mm")
print(
    f"rms about the mean {travel.std():.1f} mm, mean {travel.mean():.0f} mm, at rest"
    f" {ride.rest_travel.m_as('mm'):.0f} mm"
)

# %% [markdown]
# ## A ride that was logged
#
# A sensor on the shock says what a ride made of it. Here the ride above stands in for a file (`wr.read_travel_log` reads one, volts
# and all; from the shell, `wheelrate travel-log`). The mean travel is a *dynamic sag*: how sure it is follows from how long the
# travel remembers itself. On average springs and damper held the load, and that is one more reading of a sag.

# %%
seconds = np.arange(0, 10, 0.005)
logged_travel = np.interp(seconds, ride.time.m_as("s"), travel)
shock = bike.rear.curve((logged_travel, "mm")).stroke.m_as("mm")
log = wr.travel_log(bike, [((seconds, "s"), None, (shock, "mm"))]).ends["rear"]
print(
    f"mean travel {log.mean_travel.m_as('mm'):.1f} mm, spread"
    f" {log.travel_deviation.m_as('mm'):.1f} mm"
)
print(
    f"near full travel {log.near_full.m_as('%'):.1f} % of the time, bottomings:"
    f" {log.bottomings}"
)
if log.mean_uncertainty is not None:
    print(
        f"the mean is sure to {log.mean_uncertainty.m_as('mm'):.1f} mm; the load"
        f" held: {log.dynamic_sag(bike, 'rear').load}"
    )
ax = wr.plot.travel_log(log)
plt.show()

# %% [markdown]
# ## A landing
#
# How much of the travel does a drop take? One end at a time, in time: springs and gas as they are, a tyre, dry friction,
# and here a damper of one slope each way, around half of critical for the heavier rider; without one, that of the file.

# %%
damper = wr.Damper("6000 N s/m", "9000 N s/m")
rest = bike.whole.settle().ends["rear"].state
sprung = bike.masses.sprung_mass("rear", "bike + rider").value
critical = wr.damping_at_shaft(
    wr.critical_damping(rest.wheel_rate, sprung), rest.motion_ratio
).m_as("N s/m")
print(f"compression {6000 / critical:.0%}, rebound {9000 / critical:.0%} of critical")
rear = {
    name: ridden.whole.moving_end("rear", damper, friction="60 N")
    for name, ridden in riders.items()
}
landings = {name: end.land("0.7 m") for name, end in rear.items()}
ax = wr.plot.landing(landings)
ax.set_title("Rear wheel, dropped from 0.7 m", fontsize=10, loc="left")
plt.show()

# %%
for name, landing in landings.items():
    share = (landing.energy.by_damper / landing.energy.given_up).m_as("")
    settled = landing.settled_after
    print(
        f"{name:>16}: peak {landing.peak_travel.m_as('mm'):.0f} of"
        f" {landing.full_travel.m_as('mm'):.0f} mm,"
        f" tyre {landing.peak_tyre_force.m_as('kN'):.1f} kN, settled after"
        f" {settled.m_as('s'):.1f} s,"
        f" damper took {share:.0%}; account off by"
        f" {abs(landing.energy.missing.m_as('J')):.0e} J"
    )

# %% [markdown]
# From what height does it bottom?

# %%
heights = np.arange(0.3, 1.55, 0.05)
fig, ax = plt.subplots(figsize=(6.4, 3.4), layout="constrained")
for (name, end), style in zip(
    rear.items(), [("#0072b2", "-"), ("#d55e00", "--")], strict=True
):
    falls = [end.land((height, "m"), duration="0.6 s") for height in heights]
    hard = [
        0 if fall.bottoming is None else fall.bottoming.speed.m_as("m/s")
        for fall in falls
    ]
    ax.plot(
        heights, hard, color=style[0], linestyle=style[1], linewidth=1.8, label=name
    )
ax.set_xlabel("height of the fall (m)")
ax.set_ylabel("speed into the stop (m/s)")
ax.spines[["top", "right"]].set_visible(False)
ax.legend(frameon=False)
plt.show()

# %% [markdown]
# ### Both ends at once
#
# One end alone says nothing of pitch. The whole bike lands on its rear wheel first, here by four degrees, and the rest of the fall
# goes into pitch and into the fork. A rider who stands on legs that bend takes part of it: change their rate.

# %%
for name, legs in {
    "a weight on the frame": None,
    "on legs": wr.Legs("80 kg", "7 N/mm", "700 N s/m"),
}.items():
    whole_landing = bike.whole.land("300 mm", "-4 deg", legs=legs)
    ends = whole_landing.ends
    print(
        f"{name:>22}: front {ends['front'].peak_travel.m_as('mm'):.0f} mm, rear"
        f" {ends['rear'].peak_travel.m_as('mm'):.0f} mm,"
        f" tyres {ends['front'].peak_tyre_force.m_as('kN'):.1f} and"
        f" {ends['rear'].peak_tyre_force.m_as('kN'):.1f} kN,"
        f" pitch {whole_landing.peak_pitch.m_as('deg'):.1f} deg"
    )
ax = wr.plot.bike_motion(whole_landing)
plt.show()

# %% [markdown]
# And braking, from rest on the springs. What does more of it on the rear wheel do to the dive? (`front_share`)

# %%
for share in ("90 %", "70 %", "50 %"):
    braked = bike.whole.brake("5 m/s2", share)
    dive = braked.ends["front"].peak_travel - braked.ends["front"].rest_travel
    print(
        f"{share} in front: dive {dive.m_as('mm'):.0f} mm, pitch"
        f" {braked.peak_pitch.m_as('deg'):.1f} deg"
    )

# %% [markdown]
# ### What this cannot show
#
# Every motion carries its limits with it:

# %%
for limit in landings["96 kg with pack"].limits:
    print("-", limit)

# %% [markdown]
# So: compare springs and riders with it, not dampers, and believe no height to the centimetre. A bike that lands well here
# may still throw its rider.
#
# **Before you touch anything:** the maker's manual comes first. Tubes raised in the clamps bring the front tyre nearer to
# the lower clamp, the fender and the exhaust: at full travel, with the springs out, check that nothing touches. Support
# the bike before loosening the clamps, loosen one at a time, and tighten them to the maker's torque. Then ride gently.
#
# **Try next:** make the shock 3 mm longer instead, `bike.whole.effect_of(shock_longer="3 mm")`. Which of the two moves the seat
# more? `effect.rise(bike.frame_points["seat"])` knows.

# %%
seat = bike.frame_points["seat"]
longer = bike.whole.effect_of(shock_longer="3 mm")
print(
    f"clamps:       trail {clamps.trail.m_as('mm'):+.1f} mm, seat"
    f" {clamps.rise(seat).m_as('mm'):+.1f} mm"
)
print(
    f"longer shock: trail {longer.trail.m_as('mm'):+.1f} mm, seat"
    f" {longer.rise(seat).m_as('mm'):+.1f} mm"
)

# %% [markdown]
# Which setting gives a trail that is wanted, and what a softer tyre does to it: the notebook `tyres_and_trail.py`.

# %% [markdown]
# ## Before you touch a bike
#
# The maker's manual, local rules and a qualified mechanic come before any number here. Raised clamps bring the front tyre nearer
# to fender and radiator: release all spring preload first, and never open or heat a charged reservoir. After any change
# check by hand that tyre, chain and brake lines stay clear at full travel and full lock, tighten every fastener to the
# maker's torque, and ride gently at first.
