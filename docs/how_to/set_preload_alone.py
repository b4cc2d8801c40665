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
# # Set preload alone
#
# No new spring today; how far is the collar to be turned, and what will the tape show?

# %%
import wheelrate as wr

bike = wr.demo()
decision = bike.advise()["front"]
today = next(choice for choice in decision.choices if choice.is_fitted)
turns, uncertainty = today.turns


def chance(probability):
    percent = probability.m_as("percent")
    return "over 99 %" if percent > 99 else f"{percent:.0f} %"


print(f"{today.rate:~P} as fitted: {turns:+.1f} turns (± {uncertainty:.1f})")
print(f"that is {today.preload_change} of preload in each leg")
print(f"then: rider sag {today.rider_sag}, free sag {today.free_sag}")
print("both on target, the collar turned and left there:", end=" ")
print(chance(today.probability_turned))
print("the sag read again and corrected:", chance(today.probability_re_read))

# %% [markdown]
# ## By hand, without readings
#
# An end alone answers as well: with this preload and that load it rests here. It goes by the spring and preload that are typed
# in, not by what readings found of them (a rider sag of 110 mm today, where the stated 52 N/mm and 14 mm give 105 mm).

# %%
load = bike.masses.sprung_load("rear", "bike + rider").value
for preload in ("10 mm", "14 mm", "18 mm"):
    end = bike.rear.with_spring_rate("52 N/mm", preload)
    sag = end.travel_under(load).state.travel
    print(f"preload {preload}: rider sag {sag.to('mm'):.1f~P}")

# %% [markdown]
# ## Another load for a day
#
# A `[[scenario]]` of the file says what else is carried. How many turns between the two? This goes by what the readings found.

# %%
scenarios = bike.advise_scenarios()
for sentence in scenarios["front"].sentences():
    print(sentence)

# %% [markdown]
# At the rear another spring would serve both loads better, and the turns are those of that spring; today's lands neither on its
# target. As numbers:

# %%
for end, found in scenarios.items():
    best = found.springs[0]
    change = best.change("bike + rider", "with stretcher")
    turns, uncertainty = change.turns
    print(
        f"{end}, {best.rate:~P}: {turns:+.1f} turns (± {uncertainty:.1f}) for the stretcher"
    )

# %% [markdown]
# Preload moves the bike up and down; it does not make a spring stiffer. Where the rider sag is right and the free sag is not,
# [choose another spring](choose_a_spring).
