"""The command line: thin over the same calls as in Python.

With bad input nothing is written. A page is written before anything is printed, and only over a page of this package,
or with --force; never over its own input, nor through a symbolic link. A bike file is amended in one step, after what
would change has been shown.
"""

from __future__ import annotations

import click

from wheelrate._cli import (
    answers,
    changes,
    corrections,
    design,
    garage,
    in_time,
    motion,
    over_travel,
    page,
    sheets,
    springs,
    start,
    surveys,
    sweeps,
    tools,
    tyres,
    whole,
)
from wheelrate._cli.common import Group
from wheelrate._cli.tools import version


@click.group(cls=Group, context_settings={"help_option_names": ["-h", "--help"]})
@click.option("--version", is_flag=True, is_eager=True, expose_value=False, callback=version, help="Show the version.")
def main() -> None:
    """Spring rates and motion ratios of motorcycle suspension, from the bike itself.

    FILE is a bike file (TOML, or JSON where its name ends in .json); - reads TOML from standard input.
    """


for module in (
    start,
    surveys,
    page,
    garage,
    sheets,
    answers,
    whole,
    over_travel,
    motion,
    in_time,
    design,
    springs,
    changes,
    corrections,
    sweeps,
    tools,
    tyres,
):
    for command in vars(module).values():
        if isinstance(command, click.Command):
            main.add_command(command)
