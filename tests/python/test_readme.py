"""The Python examples of the README run as they stand."""

import re
import subprocess
import sys
from pathlib import Path

import wheelrate as wr

README = Path(__file__).parents[2] / "README.md"


def test_python_examples_run(tmp_path):
    examples = re.findall(r"```python\n(.*?)```", README.read_text("utf-8"), re.DOTALL)
    assert examples
    (tmp_path / "patrol.toml").write_text(wr.demo_file(), "utf-8")
    for example in examples:
        done = subprocess.run(
            [sys.executable, "-c", f"import matplotlib; matplotlib.use('Agg')\n{example}"],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
    assert (tmp_path / "sheet.html").exists()


def test_files_that_the_readme_points_to_are_there():
    for target in re.findall(r"\]\((?!https?:)([^)]+)\)", README.read_text("utf-8")):
        assert (README.parent / target).exists(), target
