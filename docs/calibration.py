"""Draw how often intervals hold the truth and chances come true, and which springs are named at what loss.

Run through ``make calibration``: reads on standard input the tables that the simulated garages print, and writes the
picture named.
"""

import re
import sys

import matplotlib.pyplot as plt

COLOURS = {"front": "#0072b2", "rear": "#d55e00"}
WANTED, ADVISED, NAMED = "#009e73", "#e69f00", "#0072b2"
ROW = re.compile(r"^(front|rear)\s+(.+?)\s{2,}(\d+)\s+([\d.]+) %\s+([+-][\d.]+)$", re.MULTILINE)
KIND = re.compile(r"^(\S.*?)\s{2,}(\d+)\s+([\d.]+)\s+([\d.]+) %\s+([\d.]+) %\s+([\d.]+)\s+([\d.]+) %$", re.MULTILINE)
BIN = re.compile(r"^chance bin \d+\s+(\d+)\s+([\d.]+) %\s+([\d.]+) %$", re.MULTILINE)
LOSS = re.compile(r"^loss ([\d.]+) ± ([\d.]+)", re.MULTILINE)
LEAST = re.compile(r"^the least that can be lost, of (\d+) ends: ([\d.]+) ± ([\d.]+)", re.MULTILINE)
# How the tables come, and how they are drawn.
BIKES = {"as stated": "full", "pivots and rake misread, and said to be": "none"}
# Share of verdicts that name the best spring or one as good, and mean loss of chance, as the tests want them.
MOST_RIGHT, MEAN_LOSS = 97, 0.04
# The least stated chance that is drawn: a best action is seldom that unlikely.
LEAST_DRAWN = 40


def binomial(share: float, of: float) -> float:
    """Half of the 95 % interval of a share, both in per cent."""
    return 196 * (share / 100 * (1 - share / 100) / of) ** 0.5


def chances(ax: plt.Axes, printed: str) -> None:
    """Draw in bins how often a stated chance came true."""
    ax.plot([0, 100], [0, 100], color=WANTED, linewidth=1)
    for row in BIN.findall(printed):
        of, stated, came = (float(number) for number in row)
        ax.errorbar(stated, came, yerr=binomial(came, of), fmt="o", color=NAMED, markersize=5, elinewidth=1)
        ax.annotate(
            f"{of:.0f}", (stated, came), xytext=(7, -12), textcoords="offset points", fontsize=8, color="#555555"
        )
    ax.set_xlim(LEAST_DRAWN, 104)
    ax.set_ylim(LEAST_DRAWN, 104)
    ax.set_box_aspect(1)
    ax.set_xlabel("stated chance of the best action (%)")
    ax.set_ylabel("came true (%)")


def verdicts(right: plt.Axes, loss: plt.Axes, printed: str) -> int:
    """Draw which springs are named and what is lost, a row for each kind of end; give the number of decisions."""
    kinds = KIND.findall(printed)
    places = range(len(kinds), 0, -1)
    for place, (_, *numbers) in zip(places, kinds, strict=True):
        of, lost, named, advised, *_ = (float(number) for number in numbers)
        right.errorbar(named, place, xerr=binomial(named, of), fmt="o", color=NAMED, markersize=5, elinewidth=1)
        right.errorbar(advised, place, xerr=binomial(advised, of), fmt="s", color=ADVISED, markersize=5, elinewidth=1)
        loss.plot(lost, place, "o", color=NAMED, markersize=5)
    [(mean, spread)] = LOSS.findall(printed)
    loss.errorbar(float(mean), len(kinds), xerr=1.96 * float(spread), fmt="o", color=NAMED, markersize=5, elinewidth=1)
    [(of, least, spread)] = LEAST.findall(printed)
    label = f"the least that anyone can lose ({of} ends)"
    loss.errorbar(
        float(least),
        len(kinds) - 0.3,
        xerr=1.96 * float(spread),
        fmt="D",
        color="#555555",
        markersize=4,
        elinewidth=1,
        label=label,
    )
    right.axvline(MOST_RIGHT, color=WANTED, linewidth=1)
    loss.axvline(MEAN_LOSS, color=WANTED, linewidth=1)
    right.plot([], [], "o", color=NAMED, label="one of those named, or as good as one")
    right.plot([], [], "s", color=ADVISED, label="the one advised, or as good")
    right.set_yticks(places, [f"{name} ({of})" for name, of, *_ in kinds])
    right.set_xlim(70, 101)
    loss.set_xlim(left=0)
    right.set_xlabel("the best spring is so often … (%)")
    loss.set_xlabel("mean loss of chance")
    for ax in (right, loss):
        ax.set_ylim(0.5, len(kinds) + 0.6)
    return int(kinds[0][1])


def intervals(left: plt.Axes, right: plt.Axes, printed: str) -> int:
    """Draw coverage and mean error of every quantity, one colour an end; give the number of garages."""
    parts = [ROW.findall(part) for part in re.split(r"\d+ garages, ", printed)]
    tables = dict(zip(BIKES, filter(None, parts), strict=True))
    names = list(dict.fromkeys(name for _, name, *_ in tables["as stated"]))
    left.axvspan(93, 97, color=WANTED, alpha=0.12)
    left.axvline(95, color=WANTED, linewidth=1)
    right.axvline(0, color=WANTED, linewidth=1)
    most = 0
    for shift, (bikes, table) in zip((0.09, -0.09), tables.items(), strict=True):
        for end, name, *numbers in table:
            count, held, bias = (float(number) for number in numbers)
            place = len(names) - names.index(name) + shift + (0.2 if end == "front" else -0.2)
            style = {"fmt": "o", "color": COLOURS[end], "fillstyle": BIKES[bikes], "markersize": 5, "elinewidth": 1}
            left.errorbar(held, place, xerr=binomial(held, count), **style)
            right.errorbar(bias, place, xerr=1.96 / count**0.5, **style)
            most = max(most, int(count))
    for bikes, style in BIKES.items():
        for end, colour in COLOURS.items():
            right.plot([], [], "o", color=colour, fillstyle=style, markersize=5, label=f"{end}, {bikes}")
    left.set_yticks(range(len(names), 0, -1), names)
    left.set_xlim(92, 98)
    right.set_xlim(-0.3, 0.3)
    left.set_xlabel("95 % intervals that hold the truth (%)")
    right.set_xlabel("mean error (standard uncertainties)")
    return most


def main(picture: str) -> None:
    """Draw the intervals above, the decisions below."""
    printed = sys.stdin.read()
    figure = plt.figure(figsize=(12, 9), layout="constrained")
    above, below = figure.subfigures(2, 1, hspace=0.04)
    held, bias = above.subplots(1, 2, sharey=True)
    reliable, right, loss = below.subplots(1, 3, width_ratios=[1, 0.8, 0.8])
    right.sharey(loss)
    loss.tick_params(labelleft=False)
    garages = intervals(held, bias, printed)
    chances(reliable, printed)
    decisions = verdicts(right, loss, printed)
    for ax in (held, bias, reliable, right, loss):
        ax.spines[["top", "right"]].set_visible(False)
    for ax in (held, bias, right, loss):
        ax.tick_params(axis="y", length=0)
    for part, ncols, title in (
        (above, 4, f"Intervals: {garages:,} simulated garages of each"),
        (below, 3, f"Decisions: {decisions:,} ends, half of their labels wrong by more than stated"),
    ):
        part.legend(frameon=False, fontsize=9, ncols=ncols, loc="outside upper center", title=title, title_fontsize=12)
    figure.savefig(picture, dpi=110)


if __name__ == "__main__":
    main(sys.argv[1])
