"""What a picture of a notebook shows, in words, for who does not see it."""

import re

import wheelrate as wr

NAMED = re.compile(r"""(?:\.set_(?:title|xlabel|ylabel)\(\s*|\b(?:title|xlabel|ylabel)=)f?["'](.+?)["']""")


def shown(heading, source):
    """Say what the pictures of a cell show."""
    called = [name for name in re.findall(r"\bplot\.(\w+)\(", source) if name in wr.plot.__all__]
    parts = [getattr(wr.plot, name).__doc__.splitlines()[0] for name in dict.fromkeys(called)]
    parts = parts or [", ".join(dict.fromkeys(NAMED.findall(source)))]
    return (
        ": ".join(part for part in (heading.rstrip("."), " ".join(parts)) if part) or "a picture made by the cell above"
    )
