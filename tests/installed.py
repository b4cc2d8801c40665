"""The package as a user gets it: run by the Python of an environment that holds nothing else."""

import importlib.util
import subprocess
import sys
from importlib.metadata import distribution
from pathlib import Path

import wheelrate as wr

command = Path(sys.executable).parent / "wheelrate"


def run(*arguments: str) -> str:
    """Run the command as a shell does."""
    return subprocess.run([command, *arguments], check=True, capture_output=True, text=True, encoding="utf-8").stdout


assert wr.__version__ == distribution("wheelrate").version
assert "N/mm" in run("demo")
Path("mine.toml").write_text(wr.demo_file(), "utf-8")
assert "60 N/mm" in run("advise", "mine.toml")

# What is left out says what brings it.
for package in ("matplotlib", "pandas", "anywidget", "distributed"):
    assert importlib.util.find_spec(package) is None, f"{package} is here: nothing about leaving it out is tried"
said = ""
try:
    wr.plot.wheel_rate({"demo": wr.demo()})
except ImportError as refusal:
    said = str(refusal)
assert 'pip install "wheelrate[plot]"' in said, f"a plot without matplotlib: {said}"
print(f"wheelrate {wr.__version__} runs on Python {sys.version.split()[0]}, and says what is not installed")
