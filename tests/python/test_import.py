"""What importing the package costs, and what it leaves for later."""

import subprocess
import sys

# What may be added to NumPy's import, in seconds of processor time: a command is to answer at once.
MOST_S = 0.15
LATER = (
    "pint",
    "matplotlib",
    "jinja2",
    "pandas",
    "polars",
    "xarray",
    "pyarrow",
    "uncertainties",
    "anywidget",
    "http.server",
)
CODE = "import time, numpy; began = time.process_time(); import wheelrate; print(time.process_time() - began)"


def test_importing_is_quick():
    run = [sys.executable, "-c", CODE]
    took = [float(subprocess.run(run, capture_output=True, text=True, check=True).stdout) for _ in range(3)]
    assert min(took) < MOST_S


def test_what_is_not_needed_yet_is_not_loaded():
    code = f"import sys, wheelrate; print(*[name for name in {LATER} if name in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split() == []
