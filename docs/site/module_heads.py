"""Explanation pages out of the heads of the Rust modules: one source for rustdoc and for the site.

A page per module of `core/src/lib.rs`: the head of `NAME.rs`, then the heads of the files under `NAME/`, each a
section. Links of rustdoc become code, hidden lines of examples go, headings sink below the page's own.
"""

import re
from pathlib import Path

#: A link of rustdoc without or with a target inside the crate; those of the web stay.
BARE_LINK = re.compile(r"\[(`[^`\]]+`)\](?![(\[])")
INNER_LINK = re.compile(r"\[([^\]\[]+)\]\((?!https?:)[^)\s]+\)")
DISAMBIGUATOR = re.compile(r"`(?:mod|fn|struct|enum|trait|macro|type|method|value)@")
FENCE = re.compile(r"^```([a-z]*)")
INCLUDED = re.compile(r'#!\[doc = include_str!\("([^"]+)"\)\]')
#: What else than Rust, with or without a word for rustdoc, a block may hold.
OTHER_LANGUAGES = {"toml", "text", "sh", "python", "json"}
HEADING = re.compile(r"^(#+) (.*)")


def head(path: Path) -> str:
    """Take the text of the `//!` lines that a file begins with."""
    lines = []
    for line in path.read_text("utf-8").splitlines():
        if included := INCLUDED.match(line):
            lines.append((path.parent / included[1]).read_text("utf-8").rstrip())
        elif line.startswith("//!"):
            lines.append(line[3:].removeprefix(" "))
        else:
            break
    return "\n".join(lines).strip()


def as_markdown(text: str, level: int) -> str:
    """Turn rustdoc's Markdown into that of the site, with headings from a level on."""
    shown = []
    inside = ""
    for line in text.splitlines():
        if fence := FENCE.match(line):
            inside = "" if inside else (fence[1] if fence[1] in OTHER_LANGUAGES else "rust")
            shown.append(f"```{inside}")
        elif inside:
            if inside != "rust" or not re.match(r"# |#$", line):
                shown.append(line)
        elif heading := HEADING.match(line):
            shown.append("#" * (level + len(heading[1]) - 1) + " " + heading[2])
        else:
            shown.append(_without_links(line))
    return "\n".join(shown)


def _without_links(line: str) -> str:
    line = DISAMBIGUATOR.sub("`", line)
    line = INNER_LINK.sub(r"\1", line)
    return BARE_LINK.sub(r"\1", line).replace("`crate::", "`")


def public_modules(source: Path) -> list[str]:
    """List the public modules of the crate, in the order of the map that heads it."""
    text = (source / "lib.rs").read_text("utf-8")
    public = re.findall(r"^pub mod (\w+);", text, re.MULTILINE)
    mapped = re.findall(r"\[`(?:mod@)?(\w+)`\]", head(source / "lib.rs"))
    order = {name: place for place, name in reversed(list(enumerate(mapped)))}
    return sorted(public, key=lambda name: (order.get(name, len(order)), name))


def first_line(text: str) -> str:
    """Take the first sentence of a head."""
    return _without_links(text.split("\n\n")[0].replace("\n", " ")).rstrip(".")


def page(source: Path, module: str) -> str:
    """Write the page of a module."""
    parts = [f"# `{module}`", as_markdown(head(source / f"{module}.rs"), 2)]
    for path in sorted((source / module).rglob("*.rs"), key=lambda path: path.with_suffix("").parts):
        inside = path.relative_to(source / module).with_suffix("")
        if "tests" in inside.parts:
            continue
        if text := head(path):
            name = "::".join([module, *inside.parts])
            parts += [f"## `{name}`", as_markdown(text, 3)]
    return "\n\n".join(parts) + "\n"


def pages(source: Path) -> dict[str, str]:
    """Write all pages, by name, with the one that lists them."""
    modules = public_modules(source)
    lines = [
        "# Explanation",
        "What is computed, how, under which assumptions, where it fails, and from which source. One page per module of"
        " the core, in the order in which data flows. The texts are the heads of the modules in the Rust source; Python"
        " has the same parts under the same names.",
        "| module | what |\n|---|---|\n"
        + "\n".join(f"| [`{name}`]({name}.md) | {first_line(head(source / f'{name}.rs'))} |" for name in modules),
        "```{toctree}\n:hidden:\n\n" + "\n".join(modules) + "\n```",
    ]
    return {f"explanation/{name}.md": page(source, name) for name in modules} | {
        "explanation/index.md": "\n\n".join(lines) + "\n"
    }
