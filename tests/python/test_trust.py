"""What an answer may rely on: Ctrl-C is heard, nothing in a name acts on a terminal or a page, refusals are ours."""

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import wheelrate as wr

# A round of the slowest of these takes some ms in a build without optimisation; the rest is a busy machine.
SOON = 20.0

LONG = {
    "draws": "bike.study('rear').monte_carlo(5_000_000)",
    "garages": "bike.study('rear').rehearse(10_000_000)",
    "designs": "bike.sweep({'rear.shock.spring.preload': ('6 mm', '16 mm')}, ['rear.rider_sag'], "
    "scheme='random', samples=5_000_000, chunk=5_000_000)",
    "files": "[wr.check(wr.demo_file()) for _ in range(1_000_000)]",
}


@pytest.mark.parametrize("call", LONG.values(), ids=LONG)
def test_ctrl_c_ends_a_long_call(call: str) -> None:
    said = "import sys, wheelrate as wr\nbike = wr.demo()\nprint('begun', flush=True)\n"
    caught = f"try:\n    {call}\nexcept KeyboardInterrupt as stop:\n    print('heard', flush=True)\n"
    with subprocess.Popen([sys.executable, "-c", said + caught], stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        assert child.stdout.readline() == "begun\n"
        time.sleep(0.3)
        sent = time.monotonic()
        child.send_signal(signal.SIGINT)
        try:
            assert child.communicate(timeout=SOON)[0] == "heard\n"
        finally:
            child.kill()
        assert child.returncode == 0
        assert time.monotonic() - sent < SOON


def test_how_far_it_is_stands_on_a_terminal_and_nowhere_else(monkeypatch: pytest.MonkeyPatch) -> None:
    from wheelrate import _progress

    class Terminal:
        def __init__(self) -> None:
            self.written = ""

        def isatty(self) -> bool:
            return True

        def write(self, text: str) -> None:
            self.written += text

        def flush(self) -> None:
            pass

    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    with _progress.on_terminal():
        assert _progress.show is not None
        _progress.show(250, 1000)
    assert _progress.show is None
    assert "25 % of 1,000 done" in terminal.written
    assert terminal.written.endswith("\r\x1b[K")


def test_what_shows_progress_may_stop_the_work(monkeypatch: pytest.MonkeyPatch) -> None:
    from wheelrate import _progress

    seen: list[tuple[int, int]] = []

    class EnoughError(Exception):
        pass

    def show(done: int, total: int) -> None:
        seen.append((done, total))
        raise EnoughError

    monkeypatch.setattr(_progress, "show", show)
    with pytest.raises(EnoughError):
        wr.demo().study("rear").rehearse(10_000_000)
    [(done, total)] = seen
    assert 0 <= done < total == 10_000_000


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda bike: bike.study("rear").monte_carlo(-5), "draws"),
        (lambda bike: bike.study("rear").monte_carlo(500, seed=-1), "seed"),
        (lambda bike: bike.study("rear").rehearse(-5), "garages"),
        (lambda bike: bike.study("rear").rehearse(500, seed=2**70), "seed"),
        (lambda bike: bike.sweep(AXIS, OUTPUTS, scheme="random", samples=-3), "samples"),
        (lambda bike: bike.sweep(AXIS, OUTPUTS, points=-3), "points"),
        (lambda bike: wr.Sweep(bike, AXIS, OUTPUTS).design(-1), "index"),
    ],
)
def test_a_count_below_zero_is_refused_by_name(call: Callable[[wr.Bike], object], field: str) -> None:
    with pytest.raises(wr.WheelrateError, match=f"{field}: found -?[0-9]+, wanted a whole number") as refused:
        call(wr.demo())
    assert refused.value.details["field"] == field


AXIS: Any = {"rear.shock.spring.rate": ["50 N/mm", "52 N/mm"]}
OUTPUTS: list[str] = ["rear.rider_sag"]
HALF: Any = "a\ud800"


@pytest.mark.parametrize(
    "call",
    [
        lambda: wr.check(HALF),
        lambda: wr.Bike.from_toml(HALF),
        lambda: wr.Bike.from_json(HALF),
        lambda: wr.Bike.from_dict({"format": 1, HALF: 2}),
        lambda: wr.CommonPractice.from_toml(HALF),
        lambda: wr.set_keys(HALF, {}),
        lambda: wr.set_keys("", {HALF: "1"}),
        lambda: wr.log_change("", HALF, {}),
        lambda: wr.demo().what_if({HALF: "1 mm"}),
        lambda: wr.demo().what_if({"rear.shock.spring.rate": HALF}),
        lambda: wr.demo().study(HALF),
        lambda: wr.demo().sweep({HALF: ["1"]}, OUTPUTS),
        lambda: wr.demo().sweep(AXIS, [HALF]),
        lambda: wr.demo().rear.wheel_rate(HALF),
    ],
)
def test_half_a_character_is_refused(call: Callable[[], object]) -> None:
    with pytest.raises((wr.WheelrateError, TypeError)):
        call()


ACTS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
EVIL = "x\\nbike.toml:1:1: all is well\\u001b[2J\\u202e\\u0085<script>"


def evil() -> str:
    named = wr.demo_file().replace('"Ridge patrol 300"', f'"{EVIL}"').replace("stretcher = {", f'"{EVIL}" = {{')
    return named.replace("rider + stretcher", f"rider + {EVIL}").replace("with stretcher", f"with {EVIL}")


@pytest.mark.parametrize("command", [["sheet"], ["sheet", "--json"], ["advise"], ["check"], ["fit"], ["compare"]])
def test_nothing_in_a_name_acts_on_a_terminal(command: list[str], tmp_path: Path) -> None:
    file = tmp_path / "evil.toml"
    for text in (evil(), evil().replace("travel = ", f'"{EVIL}" = ')):
        file.write_text(text, "utf-8")
        files = [str(file)] * (2 if command == ["compare"] else 1)
        arguments = [sys.executable, "-m", "wheelrate", *command, *files]
        ran = subprocess.run(arguments, capture_output=True, env={**os.environ, "PYTHONIOENCODING": "utf-8"})
        for stream in (ran.stdout, ran.stderr):
            shown = stream.decode("utf-8")
            assert not ACTS.search(shown), ACTS.search(shown)
            assert not [line for line in shown.splitlines() if line.startswith("bike.toml:1:1")]


def test_pages_run_no_script() -> None:
    bike = wr.Bike.from_toml(evil())
    page = bike.sheet().to_html()
    assert "<script" not in page
    assert "default-src 'none'" in page.split("<body")[0]
    shown = wr.demo().history_end("rear")._repr_html_()
    assert 'iframe sandbox="allow-same-origin"' in shown
    assert "default-src" in shown


SWEPT = """
import sys, wheelrate as wr
axes = {"rear.shock.spring.preload": (["6 mm", "16 mm"])}
swept = wr.Sweep(wr.Bike.load(sys.argv[1]), axes, ["rear.rider_sag"], scheme="random", samples=200)
columns, reasons = swept.chunk(0, 200)
print(columns["rear.rider_sag"].tobytes().hex(), sorted(reasons.items()))
"""


@pytest.mark.parametrize(
    "command",
    [
        ["-m", "wheelrate", "sheet", "FILE", "--json"],
        ["-m", "wheelrate", "advise", "FILE"],
        ["-m", "wheelrate", "rehearse", "FILE", "--garages", "300", "--json"],
        ["-c", SWEPT, "FILE"],
    ],
    ids=["sheet", "advise", "rehearse", "sweep"],
)
def test_the_bytes_hang_on_no_thread_locale_or_seed_of_hashes(command: list[str], tmp_path: Path) -> None:
    file = tmp_path / "bike.toml"
    file.write_text(wr.demo_file(), "utf-8")
    asked = [sys.executable, *(str(file) if part == "FILE" else part for part in command)]

    def said(**environment: str) -> bytes:
        return subprocess.run(asked, check=True, capture_output=True, env={**os.environ, **environment}).stdout

    one = said(RAYON_NUM_THREADS="1", LC_ALL="C", PYTHONHASHSEED="1")
    assert len(one) > 100
    assert said(RAYON_NUM_THREADS="7", LC_ALL="de_DE.UTF-8", PYTHONHASHSEED="2", TZ="Asia/Tokyo") == one
