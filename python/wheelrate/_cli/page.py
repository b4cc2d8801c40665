"""The page in the browser."""

from __future__ import annotations

import webbrowser
from pathlib import Path

import click

from wheelrate._cli.common import Given, amendable, say, units_option


@click.command("open")
@click.argument("file", type=click.Path(exists=True, dir_okay=False))
@click.option(
    "--host", default="127.0.0.1", show_default=True, help="Address to listen on; this computer only unless given."
)
@click.option("--port", type=click.IntRange(0, 65535), default=0, show_default="any that is free", help="Which port.")
@click.option("--browser/--no-browser", default=True, show_default=True, help="Open the page in the browser.")
@units_option
def open_page(file: str, host: str, port: int, browser: bool, units: str) -> None:
    """Put the bike of FILE on a page in the browser: move its pivots, set it, type readings in, save.

    What the readings found is carried into whatever is tried. FILE is written only by the page's Save. The address
    holds a token: whoever has it can read and change FILE while this runs. Ctrl-C ends it.
    """
    from wheelrate._explore.server import Server

    amendable(file)
    Given(file)
    with Server(Path(file), units=units, host=host, port=port) as server:
        say(f"{server.address}  (Ctrl-C ends)")
        if server.anywhere:
            say(f"from a phone in the same network: {server.seen_from_elsewhere()}")
        if browser:
            webbrowser.open(server.address)
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            say("ended", err=True)
