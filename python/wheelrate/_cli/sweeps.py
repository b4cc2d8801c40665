"""`wheelrate sweep`: many designs of one bike into a file, or as CSV to standard output."""

from __future__ import annotations

import csv
import sys
from importlib.util import find_spec
from typing import Any

import click

import wheelrate as wr
from wheelrate import _parts
from wheelrate._cli.common import bike_of, file_argument, named, say

# What a shell reports of a program that Ctrl-C ended: 128 and the number of that signal.
_INTERRUPTED = 130


def _list_outputs(ctx: click.Context, _: click.Parameter, wanted: bool) -> None:
    if wanted:
        outputs = wr.sweep_outputs()
        width = max(map(len, outputs))
        say("\n".join(f"{name:{width}}  {said}" for name, said in outputs.items()))
        ctx.exit()


def axis(varied: str) -> tuple[str, Any]:
    """Take `KEY=FROM:TO:N`, `KEY=FROM:TO` or `KEY=VALUE,VALUE,...` apart."""
    key, mark, values = (part.strip() for part in varied.partition("="))
    ends = [end.strip() for end in values.split(":")]
    if not mark or not values or len(ends) > 3 or (len(ends) == 3 and not ends[2].isdecimal()):
        raise wr.errors.SweepError(
            f"--vary: found {varied!r}, wanted `KEY=FROM:TO:N`, `KEY=FROM:TO` where designs are drawn, or "
            '`KEY=VALUE,VALUE`, e.g. "rear.shock.spring.rate=50 N/mm:60 N/mm:11"'
        )
    if len(ends) == 1:
        return key, [_value(value) for value in values.split(",")]
    steps = {"steps": int(ends[2])} if len(ends) == 3 else {}
    return key, {"from": _value(ends[0]), "to": _value(ends[1]), **steps}


def _value(text: str) -> str | float:
    """Read a plain number as one; whatever else stays text."""
    try:
        return float(text)
    except ValueError:
        return text.strip()


@click.command()
@file_argument
@click.option(
    "--vary",
    multiple=True,
    required=True,
    metavar="KEY=FROM:TO:N",
    help="What is varied, once per key: so many values at even steps; KEY=FROM:TO where designs are drawn; "
    "KEY=VALUE,VALUE for some values.",
)
@click.option(
    "--output", "outputs", multiple=True, required=True, metavar="NAME", help="What is asked, once per output."
)
@click.option(
    "--scheme",
    type=click.Choice(["grid", "list", "random", "latin_hypercube"]),
    default="grid",
    show_default=True,
    help="Every combination, the values side by side, or drawn.",
)
@click.option("--samples", type=click.IntRange(min=1), help="How many designs are drawn.")
@click.option("--seed", type=click.IntRange(min=0), default=0, show_default=True, help="Where the draws begin.")
@click.option("--points", type=click.IntRange(min=2), default=60, show_default=True, help="Points of a curve.")
@click.option("--chunk", type=click.IntRange(min=1), default=10_000, show_default=True, help="Designs at a time.")
@click.option(
    "--to",
    type=click.Path(),
    help="Where to write: a .parquet file, a .csv file, or a folder of Parquet parts; CSV to standard output "
    "unless given. The same command goes on where it was stopped.",
)
@click.option("--workers", metavar="ADDRESS", help="A Dask scheduler whose workers work it out: first-machine:8786.")
@click.option(
    "--list-outputs",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_list_outputs,
    help="Print every output.",
)
def sweep(
    file: str,
    vary: tuple[str, ...],
    outputs: tuple[str, ...],
    to: str | None,
    workers: str | None,
    **options: Any,
) -> None:
    """Work out many designs of the bike: what every combination of some values would do.

    KEY is a key of the bike file, as for `what-if`. A design that fails has empty cells and a reason.
    """
    bike = bike_of(file)
    client = None
    if workers is not None:
        from wheelrate._extras import needed

        client = needed("distributed", "cluster", "`--workers`").Client(workers)
    bar = sys.stderr.isatty() and find_spec("tqdm") is not None
    with named(file):
        try:
            result = bike.sweep(dict(map(axis, vary)), list(outputs), client=client, progress=bar, to=to, **options)
        except wr.errors.SweepInterrupted as stop:
            kept = "; the same command goes on from there" if to and not to.endswith(".csv") else ""
            say(f"wheelrate: {stop}{kept}", err=True)
            sys.exit(_INTERRUPTED)
    if to is None:
        rows = csv.writer(sys.stdout, lineterminator="\n")
        rows.writerow(_parts._heads(result.sweep))
        rows.writerows(_parts._lines(result.sweep, result.designs, result._columns, result.reasons))
    else:
        lacking = f", {len(result.reasons)} of them lack an answer" if result.reasons else ""
        say(f"written: {to} ({len(result)} designs{lacking})", err=True)
