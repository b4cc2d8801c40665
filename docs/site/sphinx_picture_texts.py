"""Pictures of notebooks with a text of what they show: heading, and what the cell calls or names."""

from typing import Any

from docutils import nodes
from picture_texts import shown
from sphinx.application import Sphinx


def _cells(doctree: nodes.document) -> Any:
    """Give the cells of a notebook, each with the heading that it stands under."""
    heading = ""
    for node in doctree.findall():
        if isinstance(node, nodes.title):
            heading = node.astext()
        elif isinstance(node, nodes.container) and "cell" in node["classes"]:
            yield heading, node


def _give_texts(app: Sphinx, doctree: nodes.document) -> None:
    for heading, cell in _cells(doctree):
        pictures = list(cell.findall(nodes.image))
        if pictures:
            source = next((code.astext() for code in cell.findall(nodes.literal_block)), "")
            for picture in pictures:
                picture["alt"] = shown(heading, source)


def setup(app: Sphinx) -> dict[str, bool]:
    """Give Sphinx the texts, as soon as a page is read."""
    app.connect("doctree-read", _give_texts)
    return {"parallel_read_safe": True, "parallel_write_safe": True}
