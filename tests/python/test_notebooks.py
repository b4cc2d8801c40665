"""Every notebook runs from top to bottom in a fresh kernel."""

from pathlib import Path

import jupytext
import nbclient
import pytest

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
    assert any(output.get("data", {}).get("image/png") for cell in code for output in cell.outputs)
