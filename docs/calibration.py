"""Draw how often intervals hold the truth and chances come true, from the tables that the simulated garages print.

Run through ``make calibration``: reads the output of the tests on standard input and writes the picture named.
"""

import re
import sys

import matplotlib.pyplot as plt

COLOURS = {"front": "#0072b2", "rear": "#d55e00"}
ROW = re.compile(r"^(front|rear)\s+(.+?)\s{2,}(\d+)\s+([\d.]+) %\s+([+-][\d.]+)$", re.MULTILINE)
DECISIONS = re.compile(r"^all\s+(\d+)\s+([\d.]+)\s+([\d.]+) %\s+([\d.]+) %\s+([\d.]+)\s+([\d.]+) %$", re.MULTILINE)
BIN = re.compile(r"^chance bin \d+\s+(\d+)\s+([\d.]+) %\s+([\d.]+) %$", re.MULTILINE)
# How the tables come, and how they are drawn.
BIKES = {"as stated": "full", "pivots and rake misread, and said to be": "none"}


def decisions(ax: plt.Axes, printed: str) -> None:
    """Draw in bins how often a stated chance came true, with the loss and the share of right verdicts."""
    count, loss, right, advised, named, _ = DECISIONS.search(printed).groups()
    bins = [[float(number) for number in row] for row in BIN.findall(printed)]
    ax.plot([0, 100], [0, 100], color="#009e73", linewidth=1)
    for of, stated, came in bins:
        spread = 196 * (came / 100 * (1 - came / 100) / of) ** 0.5
        ax.errorbar(stated, came, yerr=spread, fmt="o", color="#0072b2", markersize=5, elinewidth=1)
        ax.annotate(
            f"{of:.0f}", (stated, came), xytext=(6, -10), textcoords="offset points", fontsize=8, color="#555555"
        )
    ax.set_aspect("equal")
    ax.set_xlabel("stated chance of the best action (%)")
    ax.set_ylabel("came true (%)")
    said = (
        f"mean loss of chance {loss}\nbest spring named {right} %\n{named} springs named on average\n"
        f"the first is best {advised} %"
    )
    ax.set_title(f"{int(count):,} decisions, all doubts", fontsize=10)
    ax.text(0.97, 0.03, said, transform=ax.transAxes, ha="right", va="bottom", fontsize=9)


def main(picture: str) -> None:
    """Draw coverage and bias of every quantity, one colour an end."""
    printed = sys.stdin.read()
    parts = [ROW.findall(part) for part in re.split(r"\d+ garages, ", printed)]
    tables = dict(zip(BIKES, filter(None, parts), strict=True))
    names = list(dict.fromkeys(name for _, name, *_ in tables["as stated"]))
    figure, (left, right, chances) = plt.subplots(1, 3, figsize=(13, 4.4), layout="constrained")
    right.sharey(left)
    right.tick_params(labelleft=False)
    decisions(chances, printed)
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
    for ax in (left, right, chances):
        ax.spines[["top", "right"]].set_visible(False)
    for ax in (left, right):
        ax.tick_params(axis="y", length=0)
    title = f"intervals: {most:,} simulated garages of each, everything as stated in them"
    figure.legend(frameon=False, ncols=4, loc="outside upper left", title=title)
    figure.savefig(picture, dpi=120)


if __name__ == "__main__":
    main(sys.argv[1])
