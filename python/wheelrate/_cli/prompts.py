"""Questions at a prompt, for a person and for a pipe."""

from __future__ import annotations

import difflib
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import NoReturn

import click

import wheelrate as wr
from wheelrate import _files
from wheelrate._cli.common import say

# What a shell reports of a program that Ctrl-C ended: 128 and the number of that signal.
_INTERRUPTED = 130


class EndOfAnswersError(Exception):
    """Ctrl-D, or the end of a pipe: nobody answers any more."""


def ask(question: str, hear: Callable[[str], str]) -> str | None:
    """Ask until the answer makes sense, and repeat what was understood; None where it is skipped.

    Parameters
    ----------
    question : str
        What is asked, on one line.
    hear : callable
        From the answer to what it means; what it refuses is said, and asked again.
    """

    def understood(answer: str) -> str | None:
        if not answer.strip():
            return None
        try:
            return hear(answer)
        except wr.WheelrateError as error:
            raise click.UsageError(str(error)) from error

    try:
        found: str | None = click.prompt(question, default="", show_default=False, value_proc=understood)
    except click.Abort as abort:
        say()
        if isinstance(abort.__context__, EOFError):
            raise EndOfAnswersError from None
        leave()
    if found is not None:
        say(f"  = {found}")
    elif not sys.stdin.isatty():
        say()  # nobody pressed Enter on this screen
    return found


def choose(question: str, choices: dict[str, str], default: str) -> str:
    """Ask for one of some letters; the end of the answers stands for the default."""

    def one_of(answer: str) -> str:
        letter = answer.strip().lower()[:1]
        if letter not in choices:
            raise click.UsageError(f"found {answer!r}, wanted one of {', '.join(choices)}")
        return letter

    said = ", ".join(f"{letter} {meaning}" for letter, meaning in choices.items())
    try:
        return str(click.prompt(f"{question} ({said})", default=default, value_proc=one_of))
    except click.Abort as abort:
        say()
        if isinstance(abort.__context__, EOFError):
            return default
        leave()


@contextmanager
def asking() -> Iterator[None]:
    """Ask questions in a row: Ctrl-D ends them, Ctrl-C leaves, between two prompts as well as at one."""
    try:
        yield
    except EndOfAnswersError:
        pass
    except KeyboardInterrupt:
        say()
        leave()


def leave() -> NoReturn:
    """End as Ctrl-C ends a program; nothing has been written."""
    say("nothing written", err=True)
    sys.exit(_INTERRUPTED)


def amend(file: str, old: str, new: str, *, yes: bool) -> bool:
    """Show what would change in a file, and change it where that is right; say whether it was."""
    for line in difflib.unified_diff(old.splitlines(), new.splitlines(), file, file, n=1, lineterm=""):
        click.secho(line, fg={"+": "green", "-": "red"}.get(line[:1]))
    if not yes:
        try:
            right = choose("Write this?", {"y": "yes", "n": "no"}, "y") == "y" if sys.stdin.isatty() else _piped_yes()
        except EndOfAnswersError:
            right = False
        if not right:
            say("nothing written", err=True)
            return False
    _files.amend(file, old, new)
    say(f"written: {file}", err=True)
    return True


def _piped_yes() -> bool:
    """Read a yes from a pipe, where the end of the answers is none."""
    answer = ask("Write this? (y yes, n no)", str)
    return answer is not None and answer.strip().lower().startswith("y")
