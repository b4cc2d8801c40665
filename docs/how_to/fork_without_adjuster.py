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
# # A fork without adjuster
#
# Preload sits in the fork as the length of a spacer. Five lengths say what it is; the library says how long the spacer has
# to be.
#
# Fork extended, cap off, bike supported: **the spring pushes on the cap, unscrew it with care.** Measure the loose spring, the
# spacer, the washers, how deep the spring stands below the top of the tube, and how far the cap reaches in.

# %%
import wheelrate as wr

leg = wr.SpacerLengths(
    free_length="460 mm",
    spacer="120 mm",
    washers="4 mm",
    seat_depth="590 mm",
    cap_depth="18 mm",
)
print(f"preload now: {leg.preload.to('mm'):.1f~P}")
print(
    f"before the cap goes on the stack ends {-leg.stands_proud.to('mm'):.1f~P} below"
    " the top of the tube"
)

# %% [markdown]
# That preload goes into the bike file, without `thread_pitch`, `min_preload` and `max_preload`. The advice then speaks of
# washers and of cutting:

# %%
keys = wr.demo().to_dict()
for one in keys["front"]["fork"]["leg"]:
    spring = one["spring"]
    for name in ("thread_pitch", "min_preload", "max_preload"):
        spring.pop(name, None)
bike = wr.Bike.from_dict(keys)
decision = bike.advise()["front"]
print(decision.headline())
for reason in decision.reasons():
    if "adjuster" in reason:
        print("-", reason)

# %% [markdown]
# ## The spacer to make
#
# The change of preload that the decision asks for, put into the lengths:

# %%
change = next(
    choice for choice in decision.choices if choice.is_fitted
).preload_change.value
cut = leg.cut_for(leg.preload + change)
for name, one in {"now": leg, "then": cut}.items():
    print(
        f"{name:>4}: spacer {one.spacer.to('mm'):.1f~P}, preload"
        f" {one.preload.to('mm'):.1f~P}"
    )

# %% [markdown]
# With another spring the free length changes first: `leg.with_free_length("455 mm").cut_for("8 mm")`. Both legs are set alike.
