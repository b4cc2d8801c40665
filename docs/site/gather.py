"""Gather what the site is built of: ``gather.py FOLDER`` from the root of the clone.

Pages of docs/, the notebooks, and what is written here from other sources: the heads of the Rust modules, the public
names of the package, the tables of the core, and what the outside checks found.
"""

import shutil
import sys
from pathlib import Path

import api_pages
import command_page
import module_heads
import notebook_index
import practice_tables
import validation_page

ROOT = Path(__file__).parents[2]
DOCS, CORE, BINDINGS = ROOT / "docs", ROOT / "core", ROOT / "python" / "src"
PLUGIN = ROOT / "tests" / "plugin" / "src"
#: Folders of docs/ that hold pages; beside it, pages and pictures only.
FOLDERS, SUFFIXES = ("how_to", "reference", "static"), {".md", ".png", ".svg"}


def written() -> dict[str, str]:
    """Write every page that has its source elsewhere."""
    notebooks = {path.stem: path.read_text("utf-8") for path in (ROOT / "notebooks").glob("*.py")}
    return {
        **module_heads.pages(CORE / "src"),
        **api_pages.pages(BINDINGS, CORE / "src"),
        "reference/common_practice.md": practice_tables.common_practice(CORE / "data" / "common_practice.toml"),
        "reference/usual_values.md": practice_tables.usual_values(CORE / "data" / "usual_values.toml"),
        "validation.md": validation_page.page(DOCS / "validation.json"),
        "reference/command_line.md": command_page.page(),
        "notebooks/index.md": notebook_index.page(notebooks),
        "changes.md": (ROOT / "CHANGELOG.md").read_text("utf-8"),
    }


def copied() -> dict[str, Path]:
    """List the files that are taken as they are."""
    taken = [path for path in DOCS.glob("*") if path.suffix in SUFFIXES]
    taken += [
        path for folder in FOLDERS for path in (DOCS / folder).rglob("*") if path.suffix in SUFFIXES | {".py", ".css"}
    ]
    found = {str(path.relative_to(DOCS)): path for path in taken if "__pycache__" not in path.parts}
    found["reference/keys.md"] = found.pop("keys.md")
    folders = {
        "notebooks": (ROOT / "notebooks", "*.py"),
        "examples": (CORE / "examples", "*.rs"),
        "plugin": (PLUGIN, "*.rs"),
    }
    for name, (source, pattern) in folders.items():
        found |= {f"{name}/{path.name}": path for path in source.glob(pattern)}
    return found


def main(folder: Path) -> None:
    """Write into a folder what changed, and take out what is no more."""
    pages, files = written(), copied()
    for name, text in pages.items():
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if not target.exists() or target.read_text("utf-8") != text:
            target.write_text(text, "utf-8")
    for name, path in files.items():
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if not target.exists() or target.read_bytes() != path.read_bytes():
            shutil.copyfile(path, target)
    for target in folder.rglob("*"):
        if target.is_file() and str(target.relative_to(folder)) not in pages | files:
            target.unlink()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
