"""What is loaded on first need: the extra that an error names brings the package."""

import re
from importlib.metadata import requires
from pathlib import Path

import pytest

import wheelrate as wr

NEEDED = re.compile(r'needed\(\s*"([\w.]+)",\s*"(\w+)"')
LOADED = sorted(
    {
        (package.split(".")[0], extra)
        for path in Path(wr.__file__).parent.rglob("*.py")
        for package, extra in NEEDED.findall(path.read_text("utf-8"))
    }
)


def brought(extra):
    """Names of the packages that an extra brings, through other extras of this package as well."""
    found = set()
    for line in requires("wheelrate"):
        requirement, _, condition = line.partition(";")
        if f"extra == '{extra}'" not in condition.replace('"', "'"):
            continue
        name, others = re.match(r"([\w-]+)(?:\[([^\]]+)\])?", requirement).groups()
        if name == "wheelrate":
            found |= set().union(*(brought(other.strip()) for other in others.split(",")))
        else:
            found.add(name)
    return found


def test_there_is_something_to_bring():
    assert ("matplotlib", "plot") in LOADED


@pytest.mark.parametrize(("package", "extra"), LOADED)
def test_the_extra_brings_the_package(package, extra):
    assert package in brought(extra)


@pytest.mark.parametrize("extra", sorted({extra for _, extra in LOADED}))
def test_all_brings_every_extra(extra):
    assert brought(extra) <= brought("all")
