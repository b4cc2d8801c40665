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
print(f"{today.rate:~P} as fitted: turn {turns:+.1f} turns (± {uncertainty:.1f}), that is {today.preload_change}")
print(f"then: rider sag {today.rider_sag}, free sag {today.free_sag}")
print(f"both on target: {today.probability_turned.m_as('percent'):.0f} % with the collar turned and left there,")
print(f"{today.probability_re_read.m_as('percent'):.0f} % if the sag is read again and corrected")

# %% [markdown]
# ## By hand, without readings
#
# An end alone answers as well: with this preload and that load it rests here.

# %%
load = bike.masses.sprung_load("rear", "bike + rider").value
for preload in ("10 mm", "14 mm", "18 mm"):
    end = bike.rear.with_spring_rate("52 N/mm", preload)
    print(f"preload {preload}: rider sag {end.travel_under(load).state.travel.to('mm'):.1f~P}")

# %% [markdown]
# ## Another load for a day
#
# A `[[scenario]]` of the file says what else is carried. How many turns between the two?

# %%
print(bike.advise_scenarios()["rear"])

# %% [markdown]
# Preload moves the bike up and down; it does not make a spring stiffer. Where the rider sag is right and the free sag is not,
# [choose another spring](choose_a_spring).
