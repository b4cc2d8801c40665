"""The desk in a notebook, as a widget: the same module as the page, its questions sent over the notebook's own wire.

Of the notebook's side the module uses what anywidget documents for every front end, and nothing else: a default export
with `render({ model, el })`, which gives back how to end it, and of the model `on`, `off` and `send` of custom
messages. So it does in VS Code, and wherever else anywidget runs, what the tests see it do in JupyterLab and marimo.
"""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path
from typing import Any

import wheelrate as wr
from wheelrate._explore.desk import Desk
from wheelrate._explore.server import module, resource
from wheelrate._extras import needed


def widget(bike: wr.Bike | str | os.PathLike[str], units: str) -> Any:
    """Make the widget."""
    return _class()(Desk(bike, None, units) if isinstance(bike, wr.Bike) else Desk(None, Path(bike), units))


@cache
def _class() -> Any:
    """Make its class on first need, since anywidget is needed for it."""
    base: Any = needed("anywidget", "explore", "`wheelrate.explore`").AnyWidget

    class Explorer(base):  # type: ignore[misc]
        """A bike on a desk, in a notebook."""

        _esm = module()
        _css = resource("explore.css")

        def __init__(self, desk: Desk) -> None:
            super().__init__()
            self._desk = desk
            self.on_msg(self._hear)

        def _hear(self, _: Any, content: Any, __: Any) -> None:
            try:
                answer = self._desk.ask(content["kind"], content["body"])
            except OSError as error:
                answer = {"faults": [{"field": "version", "message": f"the bike file: {error.strerror or error}"}]}
            self.send({"id": content["id"], "answer": answer})

        @property
        def bike(self) -> wr.Bike:
            """The bike as it is supposed right now."""
            return self._desk.last

    return Explorer
