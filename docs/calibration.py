"""Draw how often the intervals hold the truth, from the tables that the simulated garages print.

Run through ``make calibration``: reads the output of the test on standard input and writes the picture named.
"""

import re
import sys

import matplotlib.pyplot as plt

COLOURS = {"front": "#0072b2", "rear": "#d55e00"}
ROW = re.compile(r"^(front|rear)\s+(.+?)\s{2,}(\d+)\s+([\d.]+) %\s+([+-][\d.]+)$", re.MULTILINE)
# How the tables come, and how they are drawn.
BIKES = {"as stated": "full", "pivots and rake misread, and said to be": "none"}


def main(picture: str) -> None:
    """Draw coverage and bias of every quantity, one colour an end."""
    parts = [ROW.findall(part) for part in re.split(r"\d+ garages, ", sys.stdin.read())]
    tables = dict(zip(BIKES, filter(None, parts), strict=True))
    names = list(dict.fromkeys(name for _, name, *_ in tables["as stated"]))
    figure, (left, right) = plt.subplots(1, 2, figsize=(9, 4.4), sharey=True, layout="constrained")
    left.axvspan(93, 97, color="#009e73", alpha=0.12)
    left.axvline(95, color="#009e73", linewidth=1)
    right.axvline(0, color="#009e73", linewidth=1)
    most = 0
    for shift, (bikes, table) in zip((0.09, -0.09), tables.items(), strict=True):
        for end, name, *numbers in table:
            count, held, bias = (float(number) for number in numbers)
            place = len(names) - names.index(name) + shift + (0.2 if end == "front" else -0.2)
            style = {"fmt": "o", "color": COLOURS[end], "fillstyle": BIKES[bikes], "markersize": 5, "elinewidth": 1}
            spread = 196 * (held / 100 * (1 - held / 100) / count) ** 0.5
            left.errorbar(held, place, xerr=spread, **style)
            right.errorbar(bias, place, xerr=1.96 / count**0.5, **style)
            most = max(most, int(count))
        for end, colour in COLOURS.items():
            right.plot([], [], "o", color=colour, fillstyle=BIKES[bikes], markersize=5, label=f"{end}, {bikes}")
    left.set_yticks(range(len(names), 0, -1), names)
    left.set_xlim(92, 98)
    right.set_xlim(-0.3, 0.3)
    left.set_xlabel("95 % intervals that hold the truth (%)")
    right.set_xlabel("mean error (standard uncertainties)")
    for ax in (left, right):
        ax.spines[["top", "right"]].set_visible(False)
        ax.tick_params(axis="y", length=0)
    figure.legend(frameon=False, ncols=2, loc="outside upper center", title=f"{most:,} simulated garages of each")
    figure.savefig(picture, dpi=120)


if __name__ == "__main__":
    main(sys.argv[1])
