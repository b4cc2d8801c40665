"""Files that are written: never over what is not ours, and never half.

A page goes into a temporary file beside its target, which takes the target's name in one step once it is on the disk:
where the disk is full, or the work is broken off, the page of before is whole. What stands at the target is replaced
only where it is empty or carries the mark that every page of this package carries, or by force. By force or not, never
replaced are a file that the page was made from, a symbolic link (name the file it leads to instead), and what is no
ordinary file. A bike file is made only where nothing is, and amended only from the text that was read.
"""

from __future__ import annotations

import errno
import os
import secrets
import stat
import sys
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from wheelrate.errors import OverwriteError

# How a page and a drawing start, and the mark that each carries.
_OURS = (
    (b"<!DOCTYPE html>", b'<meta name="generator" content="wheelrate '),
    (b"<svg ", b"<metadata>wheelrate "),
)
# The marks stand well within so many bytes of the start.
_HEAD = 4096


def writable(path: str | os.PathLike[str], *, force: bool = False, sources: Iterable[str] = ()) -> None:
    """Check that a page may be written, before anything else is done; ``-`` among the sources is standard input."""
    target = Path(path)
    if not target.parent.is_dir():
        raise OSError(errno.ENOENT, "there is no such folder to write to", str(target))
    if not os.access(target.parent, os.W_OK | os.X_OK):
        raise OSError(errno.EACCES, "the folder cannot be written to", str(target))
    try:
        found = os.lstat(target)
    except FileNotFoundError:
        return
    if stat.S_ISLNK(found.st_mode):
        leads = os.path.realpath(target)
        raise _refusal("Link", target, f"it is a symbolic link; to write to where it leads, name that: {leads}")
    if any(_same(found, source) for source in sources):
        raise _refusal("Input", target, "the page would be written over the file that it is made from; name another")
    if not stat.S_ISREG(found.st_mode):
        raise _refusal("NotAFile", target, "it is no ordinary file; name one")
    if not os.access(target, os.W_OK):
        raise OSError(errno.EACCES, os.strerror(errno.EACCES), str(target))
    if not (force or _is_ours(target)):
        raise _refusal(
            "NotOurs",
            target,
            "it is no page of wheelrate's; name another file, or write over it with --force (in Python, force=True)",
        )


def write(path: str | os.PathLike[str], page: str, *, force: bool = False, sources: Iterable[str] = ()) -> None:
    """Write a page, whole or not at all."""
    writable(path, force=force, sources=sources)
    target = Path(path)
    beside = _beside(target, page)
    try:
        with suppress(FileNotFoundError):
            os.chmod(beside, stat.S_IMODE(os.stat(target).st_mode))
        os.replace(beside, target)
    except BaseException as error:
        with suppress(FileNotFoundError):
            os.unlink(beside)
        if isinstance(error, OSError):
            raise OSError(error.errno, error.strerror, str(target)) from error
        raise


def _refusal(case: str, target: Path, why: str) -> OverwriteError:
    return OverwriteError(f"{target}: not written: {why}", case, {"path": str(target)})


def _is_ours(target: Path) -> bool:
    with target.open("rb") as opened:
        head = opened.read(_HEAD)
    return not head or any(head.startswith(start) and mark in head for start, mark in _OURS)


def _same(found: os.stat_result, source: str) -> bool:
    """Find whether it is this source, by whatever name or link."""
    try:
        return os.path.samestat(found, os.fstat(sys.stdin.fileno()) if source == "-" else os.stat(source))
    except (OSError, ValueError, AttributeError):  # a source that is gone, or a standard input that is no file
        return False


def create(path: str | os.PathLike[str], text: str) -> None:
    """Write a new file, whole or not at all; never over anything."""
    target = Path(path)
    beside = _beside(target, text)
    try:
        os.link(beside, target)  # unlike a renaming, it fails where something is
    except FileExistsError:
        raise _refusal("There", target, "it is there already; name another file") from None
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(target)) from error
    finally:
        os.unlink(beside)


def amend(path: str | os.PathLike[str], old: str, new: str) -> None:
    """Put a new text in place of the one that was read, in one step; a symbolic link stays one.

    A file that somebody else has written to since then is left alone.
    """
    target = Path(os.path.realpath(path))
    beside = _beside(target, new)
    try:
        with open(target, encoding="utf-8", newline="") as opened:
            if opened.read() != old:
                raise _refusal("Changed", target, "it was changed while this was under way; begin again")
        os.chmod(beside, stat.S_IMODE(os.stat(target).st_mode))
        os.replace(beside, target)
    except BaseException:
        with suppress(FileNotFoundError):
            os.unlink(beside)
        raise


def _beside(target: Path, text: str) -> Path:
    """Write a text to the disk, into a file beside its target."""
    beside = target.with_name(f".wheelrate-{secrets.token_hex(8)}.part")
    try:
        with open(beside, "x", encoding="utf-8", newline="") as opened:
            opened.write(text)
            opened.flush()
            os.fsync(opened.fileno())
    except BaseException as error:
        with suppress(FileNotFoundError):
            os.unlink(beside)
        if isinstance(error, OSError):
            raise OSError(error.errno, error.strerror, str(target)) from error
        raise
    return beside
