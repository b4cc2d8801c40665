"""A new bike file, from a dozen answers."""

from __future__ import annotations

import os
from functools import partial
from typing import Any

import click

import wheelrate as wr
from wheelrate import _files
from wheelrate._cli.common import BAD_INPUT, fail, say
from wheelrate._cli.prompts import ask, asking

_QUESTIONS = wr.questions()
_TEMPLATES = ["little", "table", "pivots"]


def _answer_options(command: Any) -> Any:
    """Give a command an option for each question, in their order."""
    for question in reversed(_QUESTIONS):
        command = click.option(f"--{question.name}", metavar="ANSWER", help=question.ask + ".")(command)
    return command


@click.command()
@click.argument("file", default="my_bike.toml", type=click.Path(dir_okay=False))
@click.option(
    "--template",
    type=click.Choice(_TEMPLATES),
    default="little",
    show_default=True,
    help="Room for more: a table of shock lengths and two scales, or the pivots of the linkage too.",
)
@click.option("--no-questions", is_flag=True, help="Ask nothing: take the answers given as options.")
@_answer_options
def new(file: str, template: str, no_questions: bool, **answers: str | None) -> None:
    """Start a bike file by answering a dozen questions, any of which may be skipped.

    Answer as you would say it: 5.6 kg for a spring, 22 1/4 in, 4,4 N/mm. Enter skips a question, Ctrl-D all that are
    left, Ctrl-C leaves without a file. What is not answered stands in the file as a comment, to be filled in later.
    """
    if os.path.lexists(file):
        fail(f"{file}: it is there already; name another file", BAD_INPUT)
    text = wr.start_file(template)
    values: dict[str, str | float | list[str] | dict[str, str]] = {}
    for question in _QUESTIONS:
        answer = answers[question.name.replace("-", "_")]
        if answer is not None:
            values[question.key] = _given(text, question, answer)
    left = [question for question in _QUESTIONS if question.key not in values]
    if not no_questions:
        say(f"{len(left)} questions. Enter skips one, Ctrl-D all that are left. Say the unit with the number.")
        with asking():
            for at, question in enumerate(left):
                say(f"\n{question.help}")
                said = ask(f"{at + 1}/{len(left)} {question.ask}", partial(_heard, text, question))
                if said is not None:
                    values[question.key] = said
    filled = wr.set_keys(text, values)
    _files.create(file, filled)
    say(f"written: {file}", err=True)
    for fault in wr.check(filled):
        say(f"still wanted: {fault.key_path}: {fault.message}", err=True)
    say(f"next: wheelrate read {file}, at the bike", err=True)


def _heard(text: str, question: wr.Question, answer: str) -> str:
    """Take an answer as the file would: what the key refuses is refused here."""
    meant = question.hear(answer)
    for fault in wr.check(wr.set_keys(text, {question.key: meant})):
        if f"{fault.key_path}.".startswith(f"{question.key}."):
            raise wr.errors.BikeError(fault.message)
    return meant


def _given(text: str, question: wr.Question, answer: str) -> str:
    try:
        return _heard(text, question, answer)
    except wr.WheelrateError as error:
        fail(f"--{question.name}: {error}", BAD_INPUT)
