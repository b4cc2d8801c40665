"""Hold that the site needs no network and hides nothing from who sees no picture: ``offline.py FOLDER``.

Every picture has a text that is no file name. No page takes a script, a style, a font or a picture from elsewhere, and
every link inside the site leads to a file.
"""

import re
import sys
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

#: Tags whose address a browser fetches by itself.
FETCHED = {
    "img": "src",
    "script": "src",
    "iframe": "src",
    "source": "src",
    "video": "src",
    "audio": "src",
    "object": "data",
}
#: What a `link` may be that is not fetched.
NAMED_ONLY = {"canonical", "search", "next", "prev", "author", "copyright", "index", "alternate"}
FROM_ELSEWHERE = re.compile(r"@import\s+(?:url\()?['\"]?(?:https?:)?//|url\(\s*['\"]?(?:https?:)?//")


class Page(HTMLParser):
    """What a page fetches, and where its links lead."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.fetched: list[str] = []
        self.links: list[str] = []
        self.without_text: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note the addresses of a tag."""
        given = {name: value or "" for name, value in attrs}
        if tag == "img" and (not given.get("alt") or given["alt"].endswith((".png", ".svg"))):
            self.without_text.append(given.get("src", ""))
        if tag in FETCHED and given.get(FETCHED[tag]):
            self.fetched.append(given[FETCHED[tag]])
        elif tag == "link" and given.get("href") and not NAMED_ONLY & set(given.get("rel", "").split()):
            self.fetched.append(given["href"])
        elif tag == "a" and given.get("href"):
            self.links.append(given["href"])


def faults(site: Path) -> list[str]:
    """List what is fetched from elsewhere, and links to files that are not there."""
    found = []
    for path in sorted(path for path in site.rglob("*.html") if "_static" not in path.parts):
        page = Page(path.read_text("utf-8"))
        here = path.relative_to(site)
        found += [f"{here}: fetches {address}" for address in page.fetched if urlsplit(address).netloc]
        if here.parts[0] != "rust":
            found += [f"{here}: no text of what is shown: {address}" for address in page.without_text]
        # Rustdoc holds its own links with --deny warnings.
        inside = () if here.parts[0] == "rust" else {*page.links, *page.fetched}
        for address in inside:
            parts = urlsplit(address)
            if parts.scheme or parts.netloc or not parts.path:
                continue
            target = path.parent / unquote(parts.path)
            if not (target / "index.html" if target.is_dir() else target).exists():
                found.append(f"{here}: nothing at {address}")
    for path in sorted(site.rglob("*.css")):
        if FROM_ELSEWHERE.search(path.read_text("utf-8")):
            found.append(f"{path.relative_to(site)}: fetches from elsewhere")
    return found


if __name__ == "__main__":
    said = faults(Path(sys.argv[1]))
    print("\n".join(said) or "the site needs no network, and no link leads nowhere")
    sys.exit(bool(said))
