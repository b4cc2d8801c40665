"""Notebooks executed and written as pages, each picture with a text that says what it shows.

``notebook_pages.py TO NOTEBOOK...``. Who sees no picture gets the heading that it stands under, then the first sentence
of every function of `wheelrate.plot` that its cell calls, or the titles and axes that the cell names itself.
"""

import re
import sys
from html import escape
from pathlib import Path

import jupytext
from nbconvert import HTMLExporter
from nbconvert.preprocessors import ExecutePreprocessor

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE / "site"))

from picture_texts import shown  # noqa: E402

# What nbconvert puts where a picture has no text.
PLACEHOLDER = "No description has been provided for this image"
SECONDS = 600


def texts(notebook):
    """Give the text of every picture of an executed notebook, in order."""
    found, heading = [], ""
    for cell in notebook.cells:
        if cell.cell_type == "markdown":
            heading = next(iter(re.findall(r"^#+ (.+)$", cell.source, re.MULTILINE)[-1:]), heading)
        pictures = [output for output in cell.get("outputs", []) if "image/png" in output.get("data", {})]
        found += [shown(heading, cell.source)] * len(pictures)
    return found


def page(notebook):
    """Write an executed notebook as HTML, with those texts."""
    html, _ = HTMLExporter().from_notebook_node(notebook)
    for text in texts(notebook):
        html = html.replace(PLACEHOLDER, escape(text), 1)
    return html


def main(folder, *files):
    """Execute notebooks in a folder, and write them and their pages there."""
    for file in map(Path, files):
        notebook = jupytext.read(file)
        ExecutePreprocessor(timeout=SECONDS).preprocess(notebook, {"metadata": {"path": folder}})
        jupytext.write(notebook, Path(folder, file.stem + ".ipynb"))
        Path(folder, file.stem + ".html").write_text(page(notebook), "utf-8")


if __name__ == "__main__":
    main(*sys.argv[1:])
