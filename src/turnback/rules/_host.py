"""The process that a plugin is loaded into, left as it was found.

A plugin is trusted code and may do what it likes; this is no sandbox. It keeps an honest slip in one plugin (a line
printed, a folder changed) from reaching the host or the plugins beside it, and says whose slip it was.

What is not watched: other threads, signal handlers, what is written past ``sys.stdout`` (``sys.__stdout__``, a file
descriptor, another process), the search path of modules, and modules that are patched.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
import threading
import warnings
from collections.abc import Callable, Iterator
from functools import partial
from typing import Any, Final, TextIO, TypeAlias, TypeVar

import attrs

__all__ = ["left_as_found"]

T = TypeVar("T")

Watched: TypeAlias = "tuple[str, Callable[[], object], Callable[..., object]]"
"""What it is in words, how it is read, and how what was read is put back."""

_HEARD: Final = 60
"""So much of what a plugin prints is quoted."""


def left_as_found(run: Callable[[], T]) -> tuple[T, tuple[str, ...]]:
    """Run something that should leave the process as it is, and put back what it changed.

    Args:
        run: What is run, in this thread.

    Returns:
        Its result, and what it changed, in words; empty when nothing.
    """
    changes: list[str] = []
    with contextlib.ExitStack() as stack:
        stack.enter_context(warnings.catch_warnings())
        filters = list(warnings.filters)
        before = [(each, each[1]()) for each in _watched()]
        variables = dict(os.environ)
        out, err = _Ear(sys.stdout, keeps=True), _Ear(sys.stderr, keeps=False)
        stack.enter_context(contextlib.redirect_stdout(out))
        stack.enter_context(contextlib.redirect_stderr(err))
        try:
            result = run()
        finally:
            for watched, found in before:
                changes += _put_back(watched, found)
            changes += _put_back_variables(variables)
            if warnings.filters != filters:
                changes.append("it changed the filters of warnings, which were put back")
            changes += out.told(sys.stdout, "standard output", "which was kept from it")
            changes += err.told(sys.stderr, "standard error", "which was let through")
    return result, tuple(changes)


def _watched() -> Iterator[Watched]:
    # The limit comes first: a low one leaves no room to put back the rest.
    yield "the recursion limit", sys.getrecursionlimit, sys.setrecursionlimit
    yield "the current folder", _folder, os.chdir
    yield "the switch of attrs' validators", attrs.validators.get_disabled, attrs.validators.set_disabled
    # A module that nobody has loaded has no state that anybody relies on, and loading it here would take time.
    if locale := sys.modules.get("locale"):
        yield "the locale", partial(locale.setlocale, locale.LC_ALL), partial(locale.setlocale, locale.LC_ALL)
    if decimal := sys.modules.get("decimal"):
        yield _decimal(decimal.getcontext, decimal.setcontext)
    # Another thread may draw random numbers meanwhile, and those must not come twice.
    if (random := sys.modules.get("random")) and threading.active_count() == 1:
        yield "the state of the random numbers", random.getstate, random.setstate


def _decimal(context: Callable[[], Any], put: Callable[[object], object]) -> Watched:
    # A context is changed in place and does not compare: a copy is put back, and its text is compared.
    kept = context().copy()
    return "the context of decimal numbers", lambda: repr(context()), lambda _: put(kept)


def _folder() -> str:
    try:
        return os.getcwd()
    except OSError:
        return ""  # it was taken away


def _put_back(watched: Watched, before: object) -> list[str]:
    what, read, write = watched
    if read() == before:
        return []
    try:
        write(before)
    except Exception:
        return [f"it changed {what}, which could not be put back"]
    return [f"it changed {what}, which was put back"]


def _put_back_variables(before: dict[str, str]) -> list[str]:
    now = dict(os.environ)
    if now == before:
        return []
    names = sorted(name for name in {*before, *now} if before.get(name) != now.get(name))
    for name in names:
        if name in before:
            os.environ[name] = before[name]
        else:
            del os.environ[name]
    # Names alone: what a variable holds may be secret.
    return [f"it changed variables of the environment ({', '.join(names)[:_HEARD]}), which were put back"]


class _Ear(io.StringIO):
    """Stands for a stream meanwhile: hears what this thread writes, and passes on what others do."""

    def __init__(self, stream: TextIO | None, *, keeps: bool) -> None:
        super().__init__()
        self._stream = stream
        self._keeps = keeps
        self._thread = threading.get_ident()
        self._heard = ""

    def write(self, text: str, /) -> int:
        if threading.get_ident() == self._thread:
            if len(self._heard) < _HEARD:
                self._heard += text[:_HEARD]
            if self._keeps:
                return len(text)
        return len(text) if self._stream is None else self._stream.write(text)

    def flush(self) -> None:
        if self._stream is not None:
            self._stream.flush()

    def isatty(self) -> bool:
        return self._stream is not None and self._stream.isatty()

    def fileno(self) -> int:
        return super().fileno() if self._stream is None else self._stream.fileno()

    def told(self, now: object, name: str, then: str) -> list[str]:
        """Stop listening, and say what was heard."""
        self._thread = -1  # whoever kept this object writes to the stream from now on
        found = [] if now is self else [f"it put another stream in the place of {name}, which was put back"]
        if self._heard:
            found.append(f"it wrote {self._heard[:_HEARD]!r} to {name}, {then}")
        return found
