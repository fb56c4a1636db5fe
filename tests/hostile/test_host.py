"""The process is left as it was found, whoever looks at it meanwhile."""

from __future__ import annotations

import os
import sys
import threading
from pathlib import Path
from typing import TextIO

import pytest

from turnback.rules._host import left_as_found


def test_what_changes_nothing_has_nothing_said_of_it() -> None:
    out, err = sys.stdout, sys.stderr
    assert (5, ()) == left_as_found(lambda: 5)
    assert (out, err) == (sys.stdout, sys.stderr)


def test_an_error_passes_through_and_everything_is_put_back(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    out = sys.stdout

    def fail() -> None:
        os.chdir(os.sep)
        os.environ["TURNBACK_INVENTED"] = "secret"
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        left_as_found(fail)
    assert str(tmp_path) == os.getcwd()
    assert "TURNBACK_INVENTED" not in os.environ
    assert out is sys.stdout


def test_the_value_of_a_variable_is_not_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TURNBACK_INVENTED", "before")
    _, slips = left_as_found(lambda: os.environ.update(TURNBACK_INVENTED="secret"))
    assert ("it changed variables of the environment (TURNBACK_INVENTED), which were put back",) == slips
    assert "before" == os.environ["TURNBACK_INVENTED"]


def test_another_thread_prints_as_ever(capsys: pytest.CaptureFixture[str]) -> None:
    def run() -> None:
        print("of the plugin")
        other = threading.Thread(target=print, args=("of another thread",))
        other.start()
        other.join()

    _, slips = left_as_found(run)
    assert ("it wrote 'of the plugin\\n' to standard output, which was kept from it",) == slips
    assert "of another thread\n" == capsys.readouterr().out


def test_a_stream_that_was_kept_writes_later(capsys: pytest.CaptureFixture[str]) -> None:
    """A logger that took hold of standard output while it was loaded is not cut off from it."""
    kept: list[TextIO] = []
    left_as_found(lambda: kept.append(sys.stdout))
    kept[0].write("later\n")
    kept[0].flush()
    assert "later\n" == capsys.readouterr().out
    assert kept[0].isatty() is sys.stdout.isatty()


def test_a_process_without_streams(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdout", None)
    monkeypatch.setattr(sys, "stderr", None)
    _, slips = left_as_found(lambda: print("nobody hears it"))
    assert 1 == len(slips)
    assert sys.stdout is None


def test_a_folder_that_is_gone_is_no_reason_to_fail(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    folder = tmp_path / "gone"
    folder.mkdir()
    monkeypatch.chdir(folder)
    folder.rmdir()
    assert (5, ()) == left_as_found(lambda: 5)
    _, slips = left_as_found(lambda: os.chdir(os.sep))
    assert ("it changed the current folder, which could not be put back",) == slips
    os.chdir(tmp_path)


def test_a_long_text_is_quoted_in_part() -> None:
    _, slips = left_as_found(lambda: print("x" * 10**6, "\x1b[2J"))
    assert 1 == len(slips)
    assert len(slips[0]) < 150
    assert slips[0].isprintable()
