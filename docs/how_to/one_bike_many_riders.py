# ---
# jupyter:
#   jupytext:
#     text_representation:
#       extension: .py
#       format_name: percent
# ---

# %% [markdown]
# # Choose a spring for more than one rider
#
# A patrol's bike is ridden by whoever is on duty. Which spring suits most of them, and does one preload do for all, or has each
# to turn the collar? State the riders in the bike file,
#
# ```toml
# [riders]
# mean = "92 kg"                  # with kit
# deviation = "10 kg"             # from rider to rider; or `each`, rider by rider
# loads = [{ load = "bike + rider", weight = 4 }, { load = "bike + rider + stretcher", weight = 1 }]
# ```
#
# and ask `wheelrate riders my_bike.toml`, or in Python:

# %%
import wheelrate as wr

riders = wr.Riders(
    "92 kg", "10 kg", loads=[("bike + rider", 4), ("bike + rider + stretcher", 1)]
)
bike = wr.demo().with_riders(riders)
rear = bike.study("rear").advise_riders()
rear

# %% [markdown]
# The share after ± is what the bike leaves open: its own spring and masses, and the label of another. It is the same for every
# rider, and another reading narrows it. The width of the wanted sag and the spread of riders do the rest. What would a patrol of
# more even riders change?

# %%
for deviation in ("5 kg", "10 kg", "15 kg"):
    found = (
        wr.demo()
        .with_riders(wr.Riders("92 kg", deviation))
        .study("rear")
        .advise_riders()
    )
    best, own = found.springs[0], found.best_for_own
    print(
        f"{deviation:>5}: {best.rate.m_as('N/mm'):.0f} N/mm at one preload suits"
        f" {best.common.share.value.m_as('%'):.0f} %,"
        f" {own.rate.m_as('N/mm'):.0f} N/mm with a preload for each"
        f" {own.own.share.value.m_as('%'):.0f} %"
    )

# %% [markdown]
# Spread matters where the preload is common. Where each sets the collar, the free sag that a spring leaves light and heavy riders
# decides. A rider list (`each`) takes the patrol as it is:

# %%
patrol = wr.Riders(each=[("68 kg", 3), ("84 kg", 5), ("97 kg", 4), ("112 kg", 1)])
for sentence in (
    wr.demo().with_riders(patrol).study("front").advise_riders().sentences()
):
    print("-", sentence)
