"""The command line: thin over the same calls as in Python.

With bad input nothing is written. A page is written before anything is printed, and only over a page of this package,
or with --force; never over its own input, nor through a symbolic link. A bike file is amended in one step, after what
would change has been shown.
"""

from __future__ import annotations

import click

import wheelrate as wr
from wheelrate._cli import answers, changes, garage, page, sheets, start, sweeps
from wheelrate._cli.common import Group


@click.group(cls=Group, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(wr.__version__, prog_name="wheelrate")
def main() -> None:
    """Spring rates and motion ratios of motorcycle suspension, from the bike itself.

    FILE is a bike file (TOML, or JSON where its name ends in .json); - reads TOML from standard input.
    """


for module in (start, page, garage, sheets, answers, changes, sweeps):
    for command in vars(module).values():
        if isinstance(command, click.Command):
            main.add_command(command)
