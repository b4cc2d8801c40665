"""What the crate shows, as a text that a review reads: ``public_api.py DOC TARGET``, from the pages that rustdoc made.

One line per item: every public type, function, trait and constant with its declaration, the methods of its own, and the
traits it has. What the compiler adds to every type (auto traits, blanket implementations) is left out.
"""

import re
import sys
from html.parser import HTMLParser
from pathlib import Path

#: Files of a folder of rustdoc's that are no items.
NO_ITEMS = {"index.html", "all.html", "sidebar-items.js"}
KINDS = ("struct", "enum", "trait", "fn", "constant", "type", "macro", "union", "static", "derive", "attr")
#: What a page folds away, and the compiler's own mark.
FOLDED = re.compile(r"Show \d+ (?:methods|variants|fields)|// (?:Required|Provided) methods?")
MARKS = ("StructuralPartialEq",)
OWN, OF_TRAITS = "implementations-list", "trait-implementations-list"
OTHERS = {"synthetic-implementations-list", "blanket-implementations-list", "implementors-list"}


class Item(HTMLParser):
    """The declaration on a page of rustdoc's, its methods, and the traits it has."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.declaration: list[str] = []
        self.own: list[str] = []
        self.traits: list[str] = []
        self._section = ""
        self._into: list[str] | None = None
        self._ends = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Enter a section, a declaration or a signature."""
        given = dict(attrs)
        name, classes = given.get("id") or "", (given.get("class") or "").split()
        if name in {OWN, OF_TRAITS} | OTHERS:
            self._section = name
        if self._into is not None:
            return
        if tag == "pre" and "item-decl" in classes:
            self._into, self._ends = self.declaration, tag
        elif tag in {"h3", "h4"} and "code-header" in classes:
            if self._section == OWN:
                self._open(self.own, tag)
            elif self._section == OF_TRAITS and tag == "h3":
                self._open(self.traits, tag)

    def _open(self, into: list[str], tag: str) -> None:
        into.append("")
        self._into, self._ends = into, tag

    def handle_endtag(self, tag: str) -> None:
        """Leave it."""
        if tag == self._ends:
            self._into, self._ends = None, ""

    def handle_data(self, data: str) -> None:
        """Take the text of what was entered."""
        if self._into is self.declaration and self._into is not None:
            self._into.append(data)
        elif self._into is not None:
            self._into[-1] += data


def one_line(text: str) -> str:
    """Bring a signature onto one line."""
    return (
        " ".join(FOLDED.sub("", text).split())
        .replace("( ", "(")
        .replace(", )", ")")
        .replace(" )", ")")
        .replace("]pub", "] pub")
    )


def lines(crate: Path) -> list[str]:
    """List everything, sorted by path."""
    found = []
    for path in sorted(crate.rglob("*.html")):
        kind, _, rest = path.name.partition(".")
        if path.name in NO_ITEMS or kind not in KINDS:
            continue
        module = "::".join(path.relative_to(crate.parent).parent.parts)
        name = f"{module}::{rest.removesuffix('.html')}"
        item = Item(path.read_text("utf-8"))
        if not item.declaration:
            continue  # a page that leads to where the item is shown
        found.append(f"{name}: {one_line(''.join(item.declaration))}")
        heading = ""
        for signature in map(one_line, item.own):
            if signature.startswith("impl"):
                heading = signature
            else:
                plain = re.fullmatch(r"impl(?:<[^>]*>)? \w+(?:<[^>]*>)?", heading)
                found.append(f"{name}: {signature}" if plain else f"{name}: {heading} {{ {signature} }}")
        traits = map(one_line, item.traits)
        found += [f"{name}: {trait}" for trait in traits if not any(mark in trait for mark in MARKS)]
    return list(dict.fromkeys(found))


if __name__ == "__main__":
    doc, target = map(Path, sys.argv[1:])
    said = lines(doc)
    target.write_text("\n".join(said) + "\n", "utf-8")
    print(f"{len(said)} lines")
