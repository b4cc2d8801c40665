"""From the pointer to the answer: a pivot of the shipped bike dragged on the page, offline.

Prints milliseconds of one core for an answer while dragging and for the whole answer on release, and where a Chromium
is on the PATH the median and the 95th percentile from the question that a move of the pointer asks to the page that
shows the answer, server and drawing included. A hand feels 50 ms as at once. Run: ``python benches/python/page.py``.
"""

import shutil
import tempfile
import threading
import time
from pathlib import Path

import numpy as np

import wheelrate as wr
from wheelrate._explore.desk import Desk
from wheelrate._explore.server import Server

MOVES = 120
#: Between two moves of a pointer at 60 Hz.
FRAME_MS = 16.0


def answers():
    """Time answers of the desk alone, each for another place of the pivot."""
    desk = Desk(wr.demo())
    version = desk.ask("start", {})["version"]
    for name, quick in (("while dragging", True), ("on release", False)):
        took = []
        for at in range(MOVES):
            points = {"link_frame": [f"{-66 - 0.1 * at} mm", "-93 mm"]}
            began = time.process_time()
            desk.ask("answer", {"version": version, "supposed": {"points": points}, "quick": quick})
            took.append(time.process_time() - began)
        print(f"answer {name}: {1e3 * np.median(took):.1f} ms of one core")


def drags(chromium):
    """Time a drag on the page."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder, sync_playwright() as running:
        file = Path(folder) / "patrol.toml"
        file.write_text(wr.demo_file(), encoding="utf-8")
        with Server(file) as server:
            threading.Thread(target=server.serve_forever, daemon=True).start()
            browser = running.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
            page = browser.new_page(viewport={"width": 1280, "height": 900})
            page.goto(server.address)
            box = page.locator('[data-point="link_frame"] .dot').bounding_box(timeout=60_000)
            x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
            page.evaluate(
                """() => {
                    window.took = [];
                    const main = document.querySelector("main");
                    new MutationObserver(() => window.took.push(+main.dataset.answeredIn))
                        .observe(main, { attributes: true, attributeFilter: ["data-answered-in"] });
                }"""
            )
            page.mouse.move(x, y)
            page.mouse.down()
            for at in range(MOVES):
                page.mouse.move(x - 12 * np.sin(at / 9), y - 12 * np.sin(at / 7))
                page.wait_for_timeout(FRAME_MS)
            page.mouse.up()
            page.wait_for_timeout(500)
            took = page.evaluate("() => window.took")
            browser.close()
            server.shutdown()
    median, late = np.percentile(took, [50, 95])
    print(f"drag to update in the browser: median {median:.0f} ms, 95 % within {late:.0f} ms, {len(took)} answers")


if __name__ == "__main__":
    answers()
    found = shutil.which("chromium") or shutil.which("google-chrome")
    if found:
        drags(found)
    else:
        print("no Chromium on the PATH: the browser was left out")
