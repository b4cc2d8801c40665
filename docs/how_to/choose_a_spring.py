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
# # Choose a spring
#
# You have a bike file with readings (`wheelrate new`, then `wheelrate read`) and the rates that a shop has. The same from the
# shell: `wheelrate advise my_bike.toml`.

# %%
import wheelrate as wr

bike = wr.demo()  # yours: wr.Bike.load("my_bike.toml")
decision = bike.advise()["rear"]
print(decision.headline())

# %% [markdown]
# All springs on sale, each at its best setting:

# %%
for choice in decision.choices:
    chance = choice.probability.m_as("percent")
    sags = (
        f"rider sag {choice.rider_sag}, free sag {choice.free_sag}"
        if choice.rider_sag
        else choice.remark
    )
    print(f"{choice.rate:~P}: {chance:5.1f} %, {sags}")

# %% [markdown]
# Why, in sentences:

# %%
for reason in decision.reasons()[:4]:
    print("-", reason)

# %% [markdown]
# ## Before money is spent
#
# Would another evening of measuring change the answer?

# %%
print(bike.plan()["rear"])

# %% [markdown]
# What a file does not state is taken as usual and widens the answer: `bike.assumptions()` lists it, with the act that
# would remove each.
#
# ## Other rates on the shelf
#
# What a shop has is part of the file, so ask for a file with another shelf:

# %%
shelf = bike.what_if({"on_sale.rear": ["57 N/mm", "59 N/mm", "61 N/mm", "63 N/mm"]})
print(shelf.advise()["rear"].headline())

# %% [markdown]
# After the spring is in, read both sags again: `wheelrate note` logs the change, and `wheelrate history` holds the prediction
# against what came.
