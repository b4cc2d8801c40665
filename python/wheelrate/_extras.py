"""Packages that not everybody needs: loaded on first need; where one is missing, the error says what to install."""

from __future__ import annotations

from importlib import import_module
from typing import Any


class MissingExtraError(ImportError):
    """A package that an extra brings is not installed; the message says what to install."""


def needed(package: str, extra: str, what: str) -> Any:
    """Import a package that an extra of this one brings.

    Parameters
    ----------
    package : str
        What to import.
    extra : str
        The extra of this package that brings it.
    what : str
        What needs it, for the message.

    Raises
    ------
    MissingExtraError
        Where it is not installed, with the command that installs it.
    """
    try:
        return import_module(package)
    except ModuleNotFoundError as error:
        if (error.name or "").split(".")[0] != package.split(".")[0]:
            raise
        message = f'{what} needs {package.split(".")[0]}: pip install "wheelrate[{extra}]"'
        raise MissingExtraError(message, name=package) from error
