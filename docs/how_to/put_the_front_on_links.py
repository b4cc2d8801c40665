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
# # Put the front on links
#
# A front end need not be a telescopic fork. Leading and trailing links, a girder, a double link are points and bodies, as a rear end
# is, with a shock or two struts alike on them; fit, advice and sheet are the same. Here the patrol's bike gets a leading link on a
# steered fork: change a point and run the page again.

# %%
import matplotlib.pyplot as plt

import wheelrate as wr

bike = wr.demo()

# In mm, in the axes of the demo's linkage points; what turns with the handlebar and carries the links is `frame`.
points = {
    "pivot": (745, -90),
    "axle": (905, -150),
    "strut_foot": (862, -128),
    "strut_top": (800, 250),
}
front = {
    "rake": "26.5 deg",
    "caliper": "link",
    "linkage": {
        "wheel": "axle",
        "shock": ["strut_top", "strut_foot"],
        "points": {name: [f"{x} mm", f"{z} mm"] for name, (x, z) in points.items()},
        "bodies": {
            "frame": ["pivot", "strut_top"],
            "link": ["pivot", "axle", "strut_foot"],
        },
    },
    "shock": {
        "length": "383 mm",
        "stroke": "110 mm",
        "count": 2,
        "spring": {"rate": "11.5 N/mm", "preload": "5 mm"},
    },
}

# %% [markdown]
# The sag of links is read vertically, so that readings and targets along the fork go. The rest of the file stays.

# %%
keys = bike.to_dict() | {"front": front}
keys["reading"] = [row for row in keys["reading"] if row["end"] == "rear"]
for table in ("measuring", "targets", "on_sale"):
    keys[table] = {name: part for name, part in keys[table].items() if name != "front"}
linked = wr.Bike.from_dict(keys)
print(linked.front.full_travel.to("mm").round(1))

# %% [markdown]
# ## What the wheel feels
#
# The motion ratio of a fork is one number; that of the link rises, and the wheel rate with it.

# %%
bikes = {"fork": bike, "leading link": linked}
wr.plot.wheel_rate(bikes, "front")
plt.show()

# %% [markdown]
# ## Trail and brake
#
# A fork carries its axle along the steering axis. A link carries it on a circle about its pivot, forward of the axis here, and the
# trail goes down. The brake's caliper turns with the link, so that the ground, pulling back on the tyre, lifts the front: far above
# 100 % of anti-dive.

# %%
wr.plot.steering(bikes)
plt.show()

# %% [markdown]
# A bracket for the caliper that floats on the axle, with a rod parallel to the link, takes most of that away. Such a bracket keeps its
# attitude, as the frame does:

# %%
floating = linked.what_if({"front.caliper": "frame"})
for name, one in {**bikes, "floating caliper": floating}.items():
    found = one.whole.anti_dive()
    print(f"{name:>16}: anti-dive {found.anti_dive.m_as('percent'):4.0f} %")

# %% [markdown]
# ## Where a double link differs
#
# With a link above and one below, an upright carries the wheel. Where the steering axis lies in the upright
# (`steering_body = "upright"`), the axle keeps its offset and the rake changes with the turn of the upright; links that are parallel
# and of one length do not turn it at all. Make one of them shorter, or tilt it, and look.


# %%
def double_link(upper, lower):
    """Give the end with these links, as vectors from frame to upright in mm."""
    at = {"top": (620, 420), "bottom": (660, 240), "axle": (905, -150)}
    at["upper"] = (620 + upper[0], 420 + upper[1])
    at["lower"] = (660 + lower[0], 240 + lower[1])
    at["eye"] = (660 + 0.7 * lower[0], 240 + 0.7 * lower[1])
    at["mount"] = (at["eye"][0] - 179, at["eye"][1] + 395)
    mechanism = wr.Mechanism(
        {name: (f"{x} mm", f"{z} mm") for name, (x, z) in at.items()},
        {
            "frame": ["top", "bottom", "mount"],
            "upper_link": ["top", "upper"],
            "lower_link": ["bottom", "lower", "eye"],
            "upright": ["upper", "lower", "axle"],
        },
    )
    length, stroke = f"{(179**2 + 395**2) ** 0.5} mm", "70 mm"
    shock = wr.Shock(length, stroke, spring=wr.Preloaded("40 N/mm", "10 mm"))
    linkage = wr.Linkage(
        mechanism, "axle", ("mount", "eye"), shock_length=length, stroke=stroke
    )
    return wr.FrontEnd.linked(linkage, shock, "26.5 deg", steering_body="upright")


links = {
    "parallel, equal": double_link((170, -50), (170, -50)),
    "upper one shorter": double_link((140, -41), (170, -50)),
}
for name, end in links.items():
    axis = end.steering_axis("55 mm", "350 mm", ([0, 40, 80], "mm"))
    rakes = ", ".join(f"{rake:.2f}" for rake in axis.rake.m_as("deg"))
    trails = ", ".join(f"{trail:.1f}" for trail in axis.trail.m_as("mm"))
    print(f"{name:>18}: rake {rakes} deg, trail {trails} mm at 0, 40, 80 mm")
