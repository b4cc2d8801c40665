"""Explanation pages out of the heads of the Rust modules: one source for rustdoc and for the site.

A page per public module of `core/src/lib.rs`: the head of `NAME.rs`, then the heads of the files under `NAME/`: those
that say more than what they are, each a section; the rest, a line each under *Inside*. Links of rustdoc become code,
hidden lines of examples go, headings sink below the page's own.
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
#: An equation, or the year of a source.
SUBSTANCE = re.compile(r" = |\b(?:18|19|20)\d\d\b")

#: The menu, as one walks from a number to a decision. A module that is named nowhere stands in the last group.
WALK = {
    "Up to the wheel": ["units", "axial", "linkage", "spring", "gas", "friction", "fork", "shock", "wheel"],
    "The whole bike": ["mass", "bike", "damper", "damping", "road", "travel_log", "compare", "sweep"],
    "Readings and decisions": ["record", "log", "infer", "decide", "history", "report"],
    "The file, and around it": ["file", "keys", "edit", "demo", "error", "work"],
}


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


def public_modules(source: Path) -> dict[str, list[str]]:
    """List the public modules of the crate by group of the walk."""
    public = re.findall(r"^pub mod (\w+);", (source / "lib.rs").read_text("utf-8"), re.MULTILINE)
    groups = {group: [name for name in names if name in public] for group, names in WALK.items()}
    groups[list(WALK)[-1]] += sorted(set(public) - set().union(*WALK.values()))
    return groups


def first_line(text: str) -> str:
    """Take the first sentence of a head."""
    return _without_links(text.split("\n\n")[0].replace("\n", " ")).rstrip(".")


def title(inside: Path) -> str:
    """Write the place of a file under its module in words: `landing/both` is *Landing: both*."""
    words = ": ".join(inside.parts).replace("_", " ").replace("monte carlo", "Monte Carlo")
    return words[0].upper() + words[1:]


def page(source: Path, module: str) -> str:
    """Write the page of a module."""
    parts = [f"# `{module}`", as_markdown(head(source / f"{module}.rs"), 2)]
    rest = []
    for path in sorted((source / module).rglob("*.rs"), key=lambda path: path.with_suffix("").parts):
        inside = path.relative_to(source / module).with_suffix("")
        text = head(path)
        if not text or "tests" in inside.parts:
            continue
        if "\n\n" in text or SUBSTANCE.search(text):
            parts += [f"## {title(inside)}", as_markdown(text, 3)]
        else:
            rest.append(f"| {title(inside)} | {first_line(text).replace('|', chr(92) + '|')} |")
    if rest:
        parts += ["## Inside", "\n".join(["| part | what |", "|---|---|", *rest])]
    return "\n\n".join(parts) + "\n"


def pages(source: Path) -> dict[str, str]:
    """Write all pages, by name, with the one that lists them."""
    groups = public_modules(source)
    lines = [
        "# Explanation",
        "What is computed, how, under which assumptions, where it fails, and from which source. One page per module of"
        " the core, from a number with a unit up to a decision. The texts are the heads of the modules in the Rust"
        " source; Python has the same parts under the same names.",
    ]
    for group, names in groups.items():
        rows = [f"| [`{name}`]({name}.md) | {first_line(head(source / f'{name}.rs'))} |" for name in names]
        lines += [
            f"## {group}",
            "\n".join(["| module | what |", "|---|---|", *rows]),
            f"```{{toctree}}\n:hidden:\n:caption: {group}\n\n" + "\n".join(names) + "\n```",
        ]
    return {f"explanation/{name}.md": page(source, name) for names in groups.values() for name in names} | {
        "explanation/index.md": "\n\n".join(lines) + "\n"
    }
