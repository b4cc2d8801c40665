"""`wr.explore` in JupyterLab and in marimo: shown, dragged, and heard by the kernel."""

import json
import os
import re
import socket
import subprocess
import sys
import time
import urllib.request

import pytest

# A front end starts, and a kernel in it, within this on a machine that is busy.
PATIENCE_S = 180
PATIENCE_MS = 1000 * PATIENCE_S
MARIMO = """import marimo
app = marimo.App()


@app.cell
def _():
    import marimo as mo
    import wheelrate as wr

    shown = mo.ui.anywidget(wr.explore(wr.demo()))
    shown
    return


if __name__ == "__main__":
    app.run()
"""
CELL = "import wheelrate as wr\nshown = wr.explore(wr.demo())\nshown"


def free_port():
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


def wait_for(address, process):
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        assert process.poll() is None, "the front end has ended"
        try:
            with urllib.request.urlopen(address, timeout=5):
                return
        except OSError:
            time.sleep(0.5)
    raise AssertionError(f"{address} does not answer")


@pytest.fixture
def served(tmp_path):
    """Start a front end; give its address, and end it afterwards."""
    started = []

    def serve(command, address):
        log = (tmp_path / "log").open("w")
        environment = {**os.environ, "JUPYTER_CONFIG_DIR": str(tmp_path / "jupyter"), "HOME": str(tmp_path)}
        process = subprocess.Popen(command, cwd=tmp_path, env=environment, stdout=log, stderr=log)
        started.append((process, log))
        wait_for(address, process)
        return address

    yield serve
    for process, log in started:
        process.terminate()
        process.wait(30)
        log.close()


def drag(page):
    """Drag a pivot, and give the row of the table that follows."""
    page.locator(".wr-drawing").scroll_into_view_if_needed()
    box = page.locator('[data-point="link_frame"] .dot').bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 8, steps=4)
    page.mouse.up()
    page.locator(".wr:not([data-asked]) tr.changed").first.wait_for()
    return page.locator("tr.changed td.after").first.inner_text()


def run(page, cell):
    """Run a cell: until its kernel is there, the keys run nothing."""
    taken = cell.locator(".jp-InputPrompt", has_text=re.compile(r"\[(\*|\d+)\]"))
    until = time.monotonic() + PATIENCE_S
    while not taken.count():
        assert time.monotonic() < until, "no kernel takes the cell"
        cell.locator(".cm-content").click()
        page.keyboard.press("Shift+Enter")
        page.wait_for_timeout(1000)


def test_jupyterlab(chromium, served, tmp_path):
    pytest.importorskip("jupyterlab", reason="no JupyterLab")
    notebook = {
        "cells": [
            {"cell_type": "code", "id": "a", "source": CELL, "metadata": {}, "outputs": [], "execution_count": None},
            {
                "cell_type": "code",
                "id": "b",
                "source": "print('z', shown.bike.rear.linkage.mechanism.points['link_frame'].m[1])",
                "metadata": {},
                "outputs": [],
                "execution_count": None,
            },
        ],
        "metadata": {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}},
        "nbformat": 4,
        "nbformat_minor": 5,
    }
    (tmp_path / "explore.ipynb").write_text(json.dumps(notebook), encoding="utf-8")
    port = free_port()
    options = ["--no-browser", "--allow-root", f"--port={port}", "--IdentityProvider.token=", "--ServerApp.password="]
    served([sys.executable, "-m", "jupyterlab", *options], f"http://127.0.0.1:{port}/api")
    page = chromium.new_page(viewport={"width": 1400, "height": 1000})
    page.set_default_timeout(PATIENCE_MS)
    page.goto(f"http://127.0.0.1:{port}/lab/tree/explore.ipynb?reset")
    run(page, page.locator(".jp-Notebook .jp-CodeCell").first)
    page.locator(".wr table").wait_for()
    assert re.match(r"[\d.]+", drag(page))
    run(page, page.locator(".jp-Notebook .jp-CodeCell").nth(1))
    said = page.locator(".jp-OutputArea-output", has_text=re.compile(r"^z -\d"))
    said.wait_for()
    assert float(said.inner_text().split()[1]) > -97
    page.close()


def test_marimo(chromium, served, tmp_path):
    pytest.importorskip("marimo", reason="no marimo")
    (tmp_path / "explore.py").write_text(MARIMO, encoding="utf-8")
    port = free_port()
    command = [sys.executable, "-m", "marimo", "run", "explore.py", "--headless", "--no-token", f"--port={port}"]
    served(command, f"http://127.0.0.1:{port}/health")
    page = chromium.new_page(viewport={"width": 1400, "height": 1000})
    page.set_default_timeout(PATIENCE_MS)
    page.goto(f"http://127.0.0.1:{port}/")
    page.locator(".wr table").wait_for()
    assert re.match(r"[\d.]+", drag(page))
    page.close()
