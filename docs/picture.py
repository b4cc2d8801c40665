"""Take the README's picture: the page of the shipped bike, one pivot of its linkage under the pointer."""

import sys
import tempfile
import threading
from pathlib import Path

from playwright.sync_api import sync_playwright

import wheelrate as wr
from wheelrate._explore.server import Server

SIZE = {"width": 1180, "height": 960}
#: Where the pivot is dragged, in pixels: far enough that before and after lie apart.
RIGHT, DOWN = 14, 16


def take(chromium: str, picture: str) -> None:
    """Drag, and take the picture before the button is let go."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as running:
        file = Path(folder) / "patrol.toml"
        file.write_text(wr.demo_file(), encoding="utf-8")
        with Server(file) as server:
            threading.Thread(target=server.serve_forever, daemon=True).start()
            browser = running.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
            page = browser.new_page(viewport=SIZE, color_scheme="light")
            page.goto(server.address)
            box = page.locator('[data-point="link_frame"] .dot').bounding_box(timeout=60_000)
            x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
            page.mouse.move(x, y)
            page.mouse.down()
            page.mouse.move(x + RIGHT, y + DOWN, steps=8)
            page.locator("tr.changed").first.wait_for()
            page.wait_for_timeout(1000)
            page.screenshot(path=picture)
            page.mouse.up()
            browser.close()
            server.shutdown()


if __name__ == "__main__":
    take(*sys.argv[1:])
