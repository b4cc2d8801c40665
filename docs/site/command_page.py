"""The page of the command line: every command in a line, in the order of `wheelrate --help`, then each in full."""

import re

import click

from wheelrate.cli import main

IN_FULL = """```{eval-rst}
.. click:: wheelrate.cli:main
   :prog: wheelrate
   :nested: full
```
"""


def first_sentence(help_text: str) -> str:
    """Take what a command does, without how."""
    paragraph = help_text.split("\n\n")[0].replace("\b", "")
    sentence = re.split(r"(?<=\.)\s+(?=[A-Z])", " ".join(paragraph.split()))[0]
    return sentence.rstrip(".").replace("|", "\\|")


def page() -> str:
    """Write the page."""
    context = click.Context(main)
    rows = ["| command | what it does |", "|---|---|"]
    for name in main.list_commands(context):
        command = main.get_command(context, name)
        link = f'<a href="#wheelrate-{name}"><code>{name}</code></a>'
        rows.append(f"| {link} | {first_sentence(command.help or '')} |")
    intro = "Most are called as `wheelrate COMMAND FILE`; `wheelrate COMMAND --help` shows what stands here."
    return "\n\n".join(["# Command line", intro, "\n".join(rows), IN_FULL])
