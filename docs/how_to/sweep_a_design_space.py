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
# # Sweep a design space
#
# Hundreds or millions of designs: any addresses of the bike file varied, outputs by name. What the readings found is carried
# into each.

# %%
import matplotlib.pyplot as plt

import wheelrate as wr

bike = wr.demo()
designs = bike.sweep(
    {
        "rear.linkage.points.link_frame.x": ("-70 mm", "-62 mm"),
        "rear.linkage.points.link_frame.z": ("-103 mm", "-93 mm"),
    },
    ["rear.best_rate", "rear.best_chance", "rear.progression", "trail"],
    scheme="latin_hypercube",
    samples=300,
)
designs.to_pandas().head()

# %% [markdown]
# `rear.best_chance` is that of the best spring on sale at its best setting; `rear.chance` that of the spring and collar as they
# are. `wr.sweep_outputs()` lists what can be asked. Of all designs, those that no other beats in both of two wishes:

# %%
front = designs.pareto(["rear.best_chance", "rear.progression"])
print(len(front), "of", len(designs))
front.to_pandas().sort_values(front.to_pandas().columns[-3]).tail(3)

# %%
wr.plot.parallel(designs)
plt.show()

# %% [markdown]
# ## One of them, as a bike

# %%
print(front.design(0).advise()["rear"].headline())

# %% [markdown]
# ## Many, and on several machines
#
# `to="sweep.parquet"` writes the designs as they come and takes the sweep up again where it was stopped; `client=` hands it to the
# workers of a Dask client, with the same result to the last bit. `pip install "wheelrate[sweep]"` brings what files and tables
# need, `"wheelrate[cluster]"` the other machines.
#
# What that costs, on paper: a design with its linkage moved, a curve of 60 points and both travels takes 81 µs of one core, writing
# included, and a task of the cluster 4 ms of scheduler and client. A billion designs on a hundred cores, a hundred thousand a task,
# are 10⁹ × 81 µs / 100 = 13.5 minutes, in which the scheduler is busy for 40 seconds with 10,000 tasks; with the best chance over six
# springs, 741 µs a design, two hours. They write 74 GB. On two idle cores a million designs took 40 seconds and 0.20 GiB.
