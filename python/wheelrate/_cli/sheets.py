"""The sheet of a bike, and that of the shipped one."""

from __future__ import annotations

from pathlib import Path

import click

import wheelrate as wr
from wheelrate._cli.common import (
    Given,
    file_argument,
    force_option,
    full_option,
    html_option,
    json_option,
    say,
    sheet_of,
    targets_option,
    units_option,
)


@click.command()
@file_argument
@targets_option
@html_option
@force_option
@full_option
@json_option
@units_option
def sheet(
    file: str, practice: str | None, html: str | None, force: bool, full: bool, as_json: bool, units: str
) -> None:
    """Print what to do at both ends, and write the setup sheet as one HTML page.

    On a terminal of 24 rows all that is printed can be seen at once; --full prints the whole sheet.

    The page goes beside FILE, with the ending .html, unless --html says where. With --json, or from standard input,
    it is written only where --html says so. A file that is there is replaced only if it is such a page, or with
    --force; FILE itself never is, and a symbolic link is not followed.
    """
    if html is None and not as_json and file != "-":
        html = str(Path(file).with_suffix(".html"))
    sources = [file] if practice is None else [file, practice]
    given = Given(file, practice)
    sheet_of(file, given.bike, as_json, units, html=html, full=full, force=force, sources=sources, unread=given.unread)
    given.close(said=True)


@click.command()
@html_option
@force_option
@full_option
@json_option
@units_option
@click.option("--file", "show_file", is_flag=True, help="Print the bike file instead, to start your own from.")
def demo(html: str | None, force: bool, full: bool, as_json: bool, units: str, show_file: bool) -> None:
    """Print what to do at both ends of the shipped bike, as `sheet` does."""
    if show_file:
        say(wr.demo_file(), nl=False)
        return
    sheet_of("demo", wr.demo(), as_json, units, html=html, full=full, force=force)
