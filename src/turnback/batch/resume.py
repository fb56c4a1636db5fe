"""The work folder of a run: what is finished, so that a run that was cut off goes on where it stopped.

Beside ``out.parquet`` stands ``.out.parquet.part/`` while the run goes on, with two files. ``data`` is the output as
far as it is written, ``journal`` has one line for the run and one for every finished part: how many rows and bytes
there are now, and what the output's end will need to know of the part. A line is written only when the bytes that it
speaks of have reached the disk; whatever stands behind the last line is cut off when the run goes on. The name of the
output appears by one rename, when everything is written.

Going on is right only where the same input meets the same rules, so the first line of the journal is the run's key:
size, time and both ends of every input file, options and output schema (with its provenance: rule sets, editions, file
hashes, library version), version of pyarrow, rows in a part. Another key is refused.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import IO, Final, TypeAlias

from turnback.errors import InputError

try:
    import fcntl
except ImportError:  # only POSIX has it; elsewhere nobody stops two runs from one output
    fcntl = None  # type: ignore[assignment]  # a module or None

__all__ = ["Entry", "Work", "not_written", "work_folder"]

Entry: TypeAlias = "dict[str, object]"
"""What the journal keeps of a part, as JSON knows it."""

_DATA: Final = "data"
_JOURNAL: Final = "journal"
_NAMES: Final = {
    "input": "the input has changed",
    "options": "the options, the rules or the library are others",
    "form": "the output is cut in another way",
}
"""The members of a key, and what it means where one of them differs."""


def work_folder(destination: Path) -> Path:
    """Return the folder in which a run keeps its work.

    Args:
        destination: The output.

    Returns:
        The hidden folder beside it.
    """
    return destination.with_name(f".{destination.name}.part")


def not_written(path: Path, error: OSError) -> InputError:
    """Return the error for an output that cannot be written.

    Args:
        path: The output.
        error: What the system says.

    Returns:
        The error; it says what to do.
    """
    return InputError(
        f"the output cannot be written: {error.strerror or error}",
        field="OUT",
        value=str(path),
        instead="Nothing stands under this name that was not there before. Make room, or take another folder; "
        "the same command then goes on where this one stopped.",
    )


class Work:
    """The work folder of one run, held by this process alone.

    Use it as a context manager; leaving it keeps the folder, :meth:`finish` and :meth:`discard` end it.

    Args:
        destination: The output.
        key: What the run is made of; see the module.
        restart: Begin again, whatever is there.
        every: Least time between two writes of the journal, in seconds [-].

    Raises:
        InputError: Another process writes this output, the folder holds the work of another run, or it cannot be
            written.
    """

    def __init__(self, destination: Path, key: Mapping[str, str], *, restart: bool, every: float = 2.0) -> None:
        self.destination = destination
        self.folder = work_folder(destination)
        self.entries: list[Entry] = []
        self.rows = 0
        self.position = 0
        self._every = every
        self._written = 0
        self._last = time.monotonic()
        with self.errors():
            self.folder.mkdir(exist_ok=True)
            self._journal: IO[bytes] = open(self.folder / _JOURNAL, "ab+")  # noqa: SIM115  # closed in __exit__
            self._data: IO[bytes] = open(self.folder / _DATA, "ab+")  # noqa: SIM115
            try:
                self._lock()
                self._take_up(dict(key), restart=restart)
            except BaseException:
                self.close()
                raise

    def __enter__(self) -> Work:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def begin(self, head: bytes) -> None:
        """Write what stands before the first part.

        Args:
            head: The first bytes of the output.

        Raises:
            InputError: It cannot be written.
        """
        with self.errors():
            self._data.write(head)
            self.position = len(head)

    def append(self, parts: bytes | memoryview, entry: Entry, rows: int) -> None:
        """Write a finished part behind the others.

        Args:
            parts: Its bytes.
            entry: What the end of the output will need to know of it.
            rows: How many rows it has [-].

        Raises:
            InputError: It cannot be written.
        """
        with self.errors():
            self._data.write(parts)
            self.rows += rows
            self.position += len(parts)
            self.entries.append({**entry, "rows": self.rows, "bytes": self.position})
            if time.monotonic() - self._last >= self._every:
                self.checkpoint()

    def checkpoint(self) -> None:
        """Let everything so far reach the disk, and then the journal.

        Raises:
            OSError: It cannot be written.
        """
        if self._written < len(self.entries):
            self._data.flush()
            os.fsync(self._data.fileno())
            lines = [json.dumps(entry) + "\n" for entry in self.entries[self._written :]]
            self._journal.write("".join(lines).encode())
            self._journal.flush()
            os.fsync(self._journal.fileno())
            self._written = len(self.entries)
        self._last = time.monotonic()

    def finish(self, closing: bytes) -> Path:
        """Write the end of the output.

        Args:
            closing: The last bytes of the file.

        Returns:
            The whole file, still under its hidden name; :meth:`publish` gives it the name of the output.

        Raises:
            InputError: It cannot be written.
        """
        with self.errors():
            self.checkpoint()
            self._data.write(closing)
            self._data.flush()
            os.fsync(self._data.fileno())
        return self.folder / _DATA

    def publish(self, file: Path) -> None:
        """Give a finished file the name of the output, in one step, and remove the folder.

        Args:
            file: The file.

        Raises:
            InputError: It cannot be renamed.
        """
        with self.errors():
            os.replace(file, self.destination)
        self.discard()

    def discard(self) -> None:
        """Remove the folder with everything in it."""
        self.close()
        shutil.rmtree(self.folder, ignore_errors=True)

    def close(self) -> None:
        """Keep what is finished, and let go of the folder."""
        for file in (self._data, self._journal):
            if not file.closed:
                with contextlib.suppress(OSError):
                    if file is self._data:
                        self.checkpoint()
                with contextlib.suppress(OSError):  # a full disk refuses once more when the file is closed
                    file.close()

    @contextlib.contextmanager
    def errors(self) -> Iterator[None]:
        """Turn what the system says into the error of an output that cannot be written.

        Yields:
            Nothing.

        Raises:
            InputError: It cannot be written.
        """
        try:
            yield
        except OSError as error:
            raise not_written(self.destination, error) from error

    def _lock(self) -> None:
        if fcntl is not None:
            try:
                fcntl.flock(self._journal, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError as error:
                raise InputError(
                    "another process writes this output now",
                    field="OUT",
                    value=str(self.destination),
                    instead="Wait for it, or give another name.",
                ) from error

    def _take_up(self, key: dict[str, str], *, restart: bool) -> None:
        self._journal.seek(0)
        lines = self._journal.read().split(b"\n")[:-1]  # what follows the last line end is torn, or nothing
        there = os.fstat(self._data.fileno()).st_size
        kept = 0
        if lines and not restart:
            found = json.loads(lines[0])
            for name, words in _NAMES.items():
                if found.get(name) != key[name]:
                    raise self._other(words)
            self.entries = [entry for entry in map(json.loads, lines[1:]) if entry["bytes"] <= there]
            kept = sum(len(line) + 1 for line in lines[: 1 + len(self.entries)])
        if self.entries:
            self.rows, self.position = (_whole(self.entries[-1][name]) for name in ("rows", "bytes"))
        self._data.truncate(self.position)
        self._journal.truncate(kept)
        if not kept:
            self._journal.write(json.dumps(key).encode() + b"\n")
            self._journal.flush()
        self._written = len(self.entries)

    def _other(self, words: str) -> InputError:
        return InputError(
            f"a run was cut off here, and it was another one: {words}",
            field="OUT",
            value=str(self.destination),
            instead="Finish it with the input and the options that it began with, or begin again: --restart.",
        )


def _whole(value: object) -> int:
    assert isinstance(value, int)
    return value
