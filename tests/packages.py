"""What the packages carry: ``packages.py FOLDER`` looks into the wheel, the source package and the crate in it.

Licence texts and notices, README, addresses, types, the data that the code reads; and that the wheel runs on any Linux
since 2014.
"""

import re
import subprocess
import sys
import tarfile
import zipfile
from email.parser import HeaderParser
from pathlib import Path

ROOT = Path(__file__).parents[1]
TEXTS = ["LICENSE-APACHE", "LICENSE-MIT", "THIRD_PARTY.md"]
#: Of 2014; what a wheel for older systems than this would need nobody asks for.
PLATFORM = "manylinux_2_17"
#: Nobody waits for it on a slow line; about 3 MB of it are the library.
MOST_BYTES = 6_000_000


def workspace(key: str) -> str:
    """Read a key of the one place where addresses and version stand."""
    return re.search(rf'^{key} = "([^"]+)"', (ROOT / "Cargo.toml").read_text("utf-8"), re.MULTILINE)[1]


def check(holds: bool, said: str) -> None:
    """Stop at what does not hold."""
    if not holds:
        sys.exit(f"packages: {said}")


def has(names: list[str], wanted: list[str], of: str) -> None:
    """Hold that files are there, by the end of their names."""
    for end in wanted:
        check(any(name.endswith(end) for name in names), f"{of} lacks {end}")


def metadata(text: str, of: str) -> None:
    """Hold what an index shows of the package."""
    fields = HeaderParser().parsestr(text)
    check(fields["Version"] == workspace("version"), f"{of}: version {fields['Version']}")
    check(fields["License-Expression"] == workspace("license"), f"{of}: licence {fields['License-Expression']}")
    check(sorted(fields.get_all("License-File")) == TEXTS, f"{of}: licence files {fields.get_all('License-File')}")
    check("wheelrate authors" in (fields["Author"] or fields["Author-Email"] or ""), f"{of}: no author")
    addresses = " ".join(fields.get_all("Project-URL", []))
    for key in ("homepage", "repository"):
        check(workspace(key) in addresses, f"{of}: no address of the {key} in {addresses}")
    check(len(fields.get_all("Classifier")) > 15, f"{of}: few classifiers")
    check(fields.get_payload().startswith("# wheelrate"), f"{of}: no README")
    needed = [line for line in fields.get_all("Requires-Dist") if "extra" not in line]
    names = sorted(re.match(r"[\w-]+", line)[0] for line in needed)
    check(names == ["click", "jinja2", "numpy", "pint"], f"{of}: needs {names}")


def wheel(path: Path) -> None:
    """Look into a wheel."""
    with zipfile.ZipFile(path) as archive:
        names = archive.namelist()
        described = next(name for name in names if name.endswith(".dist-info/METADATA"))
        metadata(archive.read(described).decode(), path.name)
    licences = [f".dist-info/licenses/{text}" for text in TEXTS]
    templates = ["wheelrate/templates/sheet.html.j2", "wheelrate/templates/sheet.css"]
    has(names, ["wheelrate/py.typed", "wheelrate/_core.pyi", *templates, *licences], path.name)
    shipped = {str(file.relative_to(ROOT / "python")) for file in (ROOT / "python" / "wheelrate").rglob("*.*")}
    shipped = {name for name in shipped if not re.search(r"__pycache__|\.so$|\.pyd$", name)}
    check(shipped <= set(names), f"{path.name} lacks {sorted(shipped - set(names))}")
    check(not any("__pycache__" in name or "/tests/" in name for name in names), f"{path.name} holds leftovers")
    check(path.stat().st_size < MOST_BYTES, f"{path.name} has {path.stat().st_size} bytes")
    check("-cp310-abi3-" in path.name or "t-" in path.name, f"{path.name} is for one version of Python only")
    if sys.platform == "linux":
        shown = subprocess.run([sys.executable, "-m", "auditwheel", "show", path], capture_output=True, text=True)
        said = " ".join(shown.stdout.split())
        check(f'consistent with the following platform tag: "{PLATFORM}' in said, f"{path.name}: {said}{shown.stderr}")


def source(path: Path) -> None:
    """Look into the source package."""
    with tarfile.open(path) as archive:
        names = archive.getnames()
        described = min((name for name in names if name.endswith("PKG-INFO")), key=len)
        metadata(archive.extractfile(described).read().decode(), path.name)
    has(names, [*TEXTS, "README.md", "Cargo.lock", "wheelrate/py.typed", "core/data/common_practice.toml"], path.name)


def crate(path: Path) -> None:
    """Look into the crate."""
    with tarfile.open(path) as archive:
        names = archive.getnames()
        manifest = archive.extractfile(next(name for name in names if name.endswith("/Cargo.toml"))).read().decode()
        readme = archive.extractfile(next(name for name in names if name.endswith("/README.md"))).read().decode()
    data = ["schema/bike.schema.json", "data/common_practice.toml", "data/usual_values.toml", "demo/patrol.toml"]
    has(names, [*TEXTS, *data], path.name)
    for key in ("homepage", "repository", "license", "description"):
        check(f'{key} = "{workspace(key)}"' in manifest, f"{path.name}: no {key}")
    check("[package.metadata.docs.rs]" in manifest, f"{path.name}: nothing for docs.rs")
    check(readme.startswith("# wheelrate"), f"{path.name}: no README")


def main(folder: Path) -> None:
    """Look into everything in a folder."""
    looks = {"*.whl": wheel, "*.tar.gz": source, "*.crate": crate}
    for pattern, look in looks.items():
        found = list(folder.glob(pattern))
        check(bool(found), f"no {pattern} in {folder}")
        for path in found:
            look(path)
            print(f"{path.name}: {path.stat().st_size / 1e6:.1f} MB, whole")
    cited = re.search(r"^version: (.+)$", (ROOT / "CITATION.cff").read_text("utf-8"), re.MULTILINE)[1]
    check(cited == workspace("version"), f"CITATION.cff speaks of {cited}")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
