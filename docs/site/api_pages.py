"""Pages of the Python API: every public name, by the part of the bindings that it is in, so that none is left out."""

import re
from pathlib import Path

from module_heads import first_line, head

import wheelrate

#: What the bindings export: ``use super::linkage::design::{Design, Freedom};``.
EXPORTED = re.compile(r"use super::(\w+)((?:::\w+)*)::(?:\{([^}]*)\}|(\w+));")
#: What stands in Python alone.
OWN = {"SweepResult": "sweep", "Fault": "errors", "UnitError": "errors", "WheelrateError": "errors"}


def topics(bindings: Path) -> dict[str, list[str]]:
    """Sort the public names into the parts of the bindings that export them."""
    where = dict(OWN)
    names = set(wheelrate.__all__) - {"errors", "plot", "__version__"}
    for topic, _, several, one in EXPORTED.findall((bindings / "lib.rs").read_text("utf-8")):
        for name in re.findall(r"\w+", several or one):
            where.setdefault(name, topic)
    for name in names - set(where):
        # Written in Python alone: by its own module.
        where[name] = getattr(wheelrate, name).__module__.split(".")[1].strip("_")
    sorted_in: dict[str, list[str]] = {}
    for name in sorted(names):
        sorted_in.setdefault(where[name], []).append(name)
    sorted_in.pop("errors", None)
    return sorted_in


def entry(name: str) -> str:
    """Write the directive of one name."""
    kind = "autoclass" if isinstance(getattr(wheelrate, name), type) else "autofunction"
    members = "\n   :members:" if kind == "autoclass" else ""
    return f"## {name}\n\n```{{eval-rst}}\n.. {kind}:: wheelrate.{name}{members}\n```"


def pages(bindings: Path, source: Path) -> dict[str, str]:
    """Write a page per topic, and the list of them."""
    made = {}
    rows = []
    for topic, names in topics(bindings).items():
        module = source / f"{topic}.rs"
        what = first_line(head(module)) if module.exists() else ""
        also = f"Explained in [`{topic}`](../../explanation/{topic}.md)." if (source / f"{topic}.rs").exists() else ""
        made[f"reference/python/{topic}.md"] = "\n\n".join(
            [f"# {topic}", f"{what}. {also}" if what else also, *(entry(name) for name in names)]
        )
        rows.append(f"| [{topic}]({topic}.md) | {', '.join(f'`{name}`' for name in names)} |")
    listed = "\n".join(sorted(made_name.split("/")[-1].removesuffix(".md") for made_name in made))
    made["reference/python/index.md"] = (
        "# Python API\n\nEverything is imported from the package: `import wheelrate as wr`. How quantities go in and"
        " come out is on the page on [arguments](../arguments.md).\n\n| part | names |\n|---|---|\n"
        + "\n".join(sorted(rows))
        + f"\n\n```{{toctree}}\n:hidden:\n\n{listed}\n```\n"
    )
    return made
