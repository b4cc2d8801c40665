"""Bring the stubs that maturin writes from the bindings into their kept form: ``stubs.py FROM TO``."""

import re
import sys
from pathlib import Path

HEAD = """# Written by `make stubs` from the bindings.
import os

from wheelrate._sweep import SweepResult
from wheelrate.errors import Fault
from wheelrate.typing import Scheme
"""


def kept(generated: str) -> str:
    """Take the quotes off annotations given by hand in Rust, whose names are imported at the head."""
    unquoted = re.sub(r'(?<=: |> )"([^"\n]*)"(?=[,:)= ])', r"\1", generated)
    return HEAD + unquoted.replace("wheelrate.typing.", "")


if __name__ == "__main__":
    source, target = sys.argv[1:]
    Path(target).write_text(kept((Path(source) / "wheelrate" / "_core.pyi").read_text()))
