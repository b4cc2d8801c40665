"""Types of the API pages, read from the stub file: what Rust gives to Python carries none at run time.

Signatures of classes and functions come through autodoc; the types of properties are put behind their names once a
description is parsed.
"""

import ast
import re
from pathlib import Path
from typing import Any

from docutils import nodes
from sphinx import addnodes
from sphinx.application import Sphinx
from sphinx.domains.python._annotations import _parse_annotation

import wheelrate

STUB = Path(wheelrate.__file__).parent / "_core.pyi"
#: What a reader is shown in place of what a checker needs.
PLAIN = [
    (re.compile(r"SupportsFloat \| SupportsIndex"), "float"),
    (re.compile(r"\bSupportsIndex\b"), "int"),
    (re.compile(r"SupportsGetItem\[int, "), "Sequence["),
    (re.compile(r"\bwheelrate\.typing\."), ""),
]
#: Names of the page on arguments; everything else unknown is another package's and stands as it is.
ALIASES = {"AnyShape", "ArrayLike", "End", "Indices", "Numbers", "Quantity", "QuantityLike", "Scheme"}


def plain(annotation: ast.expr | None) -> str | None:
    """Write an annotation as a reader wants it."""
    if annotation is None:
        return None
    text = ast.unparse(annotation)
    for pattern, replacement in PLAIN:
        text = pattern.sub(replacement, text)
    return text


def signature(function: ast.FunctionDef) -> tuple[str, str | None]:
    """Write the arguments without `self` and the marks of position, and what comes back."""
    given = function.args
    positional = [*given.posonlyargs, *given.args]
    defaults: list[ast.expr | None] = [None] * (len(positional) - len(given.defaults)) + list(given.defaults)
    parts = []
    for argument, default in zip(positional, defaults, strict=True):
        if argument.arg not in {"self", "cls"}:
            parts.append(_argument(argument, default))
    if given.vararg:
        parts.append("*" + _argument(given.vararg, None))
    elif given.kwonlyargs:
        parts.append("*")
    parts += [
        _argument(argument, default) for argument, default in zip(given.kwonlyargs, given.kw_defaults, strict=True)
    ]
    if given.kwarg:
        parts.append("**" + _argument(given.kwarg, None))
    return f"({', '.join(parts)})", plain(function.returns)


def _argument(argument: ast.arg, default: ast.expr | None) -> str:
    text = argument.arg
    if kind := plain(argument.annotation):
        text += f": {kind}"
    if default is not None:
        text += f" = {ast.unparse(default)}" if ":" in text else f"={ast.unparse(default)}"
    return text


def read(stub: Path) -> tuple[dict[str, tuple[str, str | None]], dict[str, str]]:
    """Read signatures and property types by full name."""
    signatures, properties = {}, {}
    for top in ast.parse(stub.read_text("utf-8")).body:
        if isinstance(top, ast.FunctionDef):
            signatures[f"wheelrate.{top.name}"] = signature(top)
        if not isinstance(top, ast.ClassDef):
            continue
        here = f"wheelrate.{top.name}"
        for member in top.body:
            if not isinstance(member, ast.FunctionDef):
                continue
            decorators = [ast.unparse(decorator) for decorator in member.decorator_list]
            if "property" in decorators:
                properties[f"{here}.{member.name}"] = plain(member.returns) or ""
            elif member.name == "__new__":
                signatures[here] = (signature(member)[0], None)
            else:
                signatures[f"{here}.{member.name}"] = signature(member)
    return signatures, properties


SIGNATURES, PROPERTIES = read(STUB)


def on_signature(
    _app: Sphinx, what: str, name: str, obj: Any, _options: Any, given: str | None, returns: str | None
) -> tuple[str | None, str | None]:
    """Give autodoc a signature."""
    if name in SIGNATURES:
        return SIGNATURES[name]
    if what == "class" and getattr(obj, "__module__", "") == "wheelrate":
        return "", None  # made by the library only
    return given, returns


def on_description(app: Sphinx, domain: str, objtype: str, content: nodes.Element) -> None:
    """Write the type behind the name of a property."""
    if domain != "py" or objtype not in {"attribute", "property"}:
        return
    for line in content.parent.findall(addnodes.desc_signature):
        kind = PROPERTIES.get(f"{line.get('module')}.{line.get('fullname')}")
        if kind and not any("annotation" in part.get("classes", []) for part in line.findall(addnodes.desc_annotation)):
            line += addnodes.desc_annotation("", ": ", *_parse_annotation(kind, app.env))


def on_missing(app: Sphinx, env: Any, node: addnodes.pending_xref, shown: nodes.Element) -> nodes.Node | None:
    """Send the names of arguments to their page, and leave those of other packages as they are."""
    target = node.get("reftarget", "")
    name = target.removeprefix("wheelrate.typing.").removeprefix("wheelrate.")
    if node.get("refdomain") != "py":
        return None
    if name in ALIASES:
        found: nodes.Node | None = env.domains["py"].resolve_xref(
            env, node["refdoc"], app.builder, "data", f"wheelrate.typing.{name}", node, shown
        )
        return found
    own = target.startswith("wheelrate") or hasattr(wheelrate, target.split(".")[0])
    return None if own and not target.startswith("wheelrate._") else shown


def setup(app: Sphinx) -> dict[str, bool]:
    """Register the hooks."""
    app.setup_extension("sphinx.ext.autodoc")
    # Before numpydoc, which answers with what Python knows at run time.
    app.connect("autodoc-process-signature", on_signature, priority=400)
    app.connect("object-description-transform", on_description)
    app.connect("missing-reference", on_missing)
    return {"parallel_read_safe": True, "parallel_write_safe": True}
