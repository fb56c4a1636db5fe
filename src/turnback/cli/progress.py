"""How far a long run has come, on a terminal; silent where the errors go to a file or a pipe."""

from __future__ import annotations

import time
from typing import Final, TextIO

__all__ = ["Progress", "clock_text"]

_EVERY: Final = 0.5
"""Seconds between two lines [-]."""


class Progress:
    """One line that is written over: rows, rows a second, time left.

    Args:
        stream: Where it is written, when it is a terminal.
    """

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._shown = stream.isatty()
        self._first: tuple[float, int] | None = None
        self._last = 0.0
        self._wide = 0

    def __enter__(self) -> Progress:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def seen(self, done: int, rows: int | None) -> None:
        """Say how far it has come.

        Args:
            done: Rows that are planned [-].
            rows: How many there are [-]; None where only reading tells.
        """
        if not self._shown:
            return
        now = time.monotonic()
        if self._first is None:
            # What an earlier run had finished says nothing of the speed of this one.
            self._first = (now, done)
        if now - self._last >= _EVERY:
            self._last = now
            self._write(progress_line(done, rows, done - self._first[1], now - self._first[0]))

    def close(self) -> None:
        """Remove the line."""
        if self._wide:
            self._write("")
            self._stream.write("\r")
            self._stream.flush()
            self._wide = 0

    def _write(self, line: str) -> None:
        self._stream.write("\r" + line.ljust(self._wide))
        self._stream.flush()
        self._wide = len(line)


def progress_line(done: int, rows: int | None, new: int, seconds: float) -> str:
    """Write the line.

    Args:
        done: Rows that are planned [-].
        rows: How many there are [-]; None where only reading tells.
        new: Those of them that were planned in the time [-].
        seconds: The time [-].

    Returns:
        Such as ``12 500 000 of 100 000 000 rows, 5 000 000 a second, 17 s left``.
    """
    parts = [f"{_grouped(done)} rows" if rows is None else f"{_grouped(done)} of {_grouped(rows)} rows"]
    if new > 0 and seconds > 0:
        parts.append(f"{_grouped(round(new / seconds))} a second")
        if rows is not None:
            parts.append(f"{clock_text((rows - done) * seconds / new)} left")
    return ", ".join(parts)


def clock_text(seconds: float) -> str:
    """Write a time as people say it.

    Args:
        seconds: The time [-].

    Returns:
        Such as ``under 1 s``, ``17 s``, ``4 min 10 s`` or ``2 h 5 min``.
    """
    whole = round(seconds)
    if whole < 1:
        return "under 1 s"
    if whole < 60:
        return f"{whole} s"
    if whole < 3600:
        return f"{whole // 60} min {whole % 60} s"
    return f"{whole // 3600} h {whole % 3600 // 60} min"


def _grouped(number: int) -> str:
    return f"{number:,}".replace(",", " ")
