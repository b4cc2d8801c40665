"""Bring the stubs that maturin writes from the bindings into their kept form: ``stubs.py FROM TO``."""

import inspect
import re
import sys
from pathlib import Path

from wheelrate import _core

HEAD = """# Written by `make stubs` from the bindings, and from what the package attaches to them.
from collections.abc import Iterator
import os
from typing import Any

import pandas
import polars
import pyarrow
import xarray

from wheelrate._display import PerEnd
from wheelrate._sweep_result import SweepResult
from wheelrate.errors import Fault
from wheelrate.typing import Numbers, Quantity, Scheme
"""


def kept(generated: str) -> str:
    """Take the quotes off annotations given by hand in Rust, whose names are imported at the head."""
    unquoted = re.sub(r'(?<=: |> )"([^"\n]*)"(?=[,:)= ])', r"\1", generated)
    return HEAD + unquoted.replace("wheelrate.typing.", "")


def attached(stub: str) -> str:
    """Add what the package attaches to the classes of the bindings."""
    for name, members in _additions().items():
        start = re.search(rf"^class {name}:$", stub, re.MULTILINE).start()
        end = re.compile(r"^(?=@final|def |class )", re.MULTILINE).search(stub, start + 1).start()
        body = stub[start:end].rstrip()
        for member in members:
            body = re.sub(rf"\n    def {member}\(self.*?(?=\n    def |\n    @|\Z)", "", body, flags=re.DOTALL)
        stub = f"{stub[:start]}{body}\n{''.join(members.values())}\n{stub[end:]}"
    return stub


def _additions() -> dict[str, dict[str, str]]:
    """Find the members of Python in every class of the bindings, as stubs."""
    found: dict[str, dict[str, str]] = {}
    native = {*vars(_core.Fit)} - {"covariance", "draws"}
    for name, of in vars(_core).items():
        if not inspect.isclass(of):
            continue
        for member, value in vars(of).items():
            function = value.fget if isinstance(value, property) else value
            if inspect.isfunction(function) and not (isinstance(value, property) and member in native):
                found.setdefault(name, {})[member] = _stub(member, function, is_property=isinstance(value, property))
    return found


def _stub(name: str, function: object, *, is_property: bool) -> str:
    signature = str(inspect.signature(function)).replace("'", "").replace("_core.", "")
    signature = re.sub(r"(units: str = )(\w+)", r'\1"\2"', signature)
    doc = inspect.getdoc(function)
    words = f'\n        """\n{_indented(doc)}\n        """' if doc and not name.startswith("_") else " ..."
    head = "    @property\n" if is_property else ""
    return f"{head}    def {name}{signature}:{words}\n"


def _indented(doc: str) -> str:
    return "\n".join(f"        {line}".rstrip() for line in doc.splitlines())


if __name__ == "__main__":
    source, target = sys.argv[1:]
    Path(target).write_text(attached(kept((Path(source) / "wheelrate" / "_core.pyi").read_text())))
