"""Every notebook runs from top to bottom in a fresh kernel."""

import sys
from html import escape
from pathlib import Path

import jupytext
import nbclient
import pytest

import wheelrate as wr

sys.path.insert(0, str(Path(__file__).parents[2] / "docs"))
import notebook_pages

NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.py"))


def test_there_are_notebooks():
    assert NOTEBOOKS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_runs(path, tmp_path):
    notebook = jupytext.read(path)
    nbclient.NotebookClient(
        notebook, timeout=300, kernel_name="python3", resources={"metadata": {"path": str(tmp_path)}}
    ).execute()
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    assert all(cell.execution_count for cell in code)
    pictures = [one for cell in code for one in cell.outputs if one.get("data", {}).get("image/png")]
    assert pictures
    # On its page every picture says what it shows.
    texts, page = notebook_pages.texts(notebook), notebook_pages.page(notebook)
    assert len(texts) == len(pictures)
    assert notebook_pages.PLACEHOLDER not in page
    assert all(len(text) > 20 and f'alt="{escape(text)}"' in page for text in texts), texts


def test_the_text_of_a_picture_is_its_heading_and_what_is_called():
    source = "ax = wr.plot.wheel_rate(bike)\nwr.plot.wheel_rate(other, ax=ax)"
    first = wr.plot.wheel_rate.__doc__.splitlines()[0]
    assert notebook_pages.shown("A longer link", source) == f"A longer link: {first}"
    named = 'ax.set_title("rate over preload")\nax.set_xlabel("preload, mm")'
    assert notebook_pages.shown("", named) == "rate over preload, preload, mm"
