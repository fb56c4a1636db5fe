"""A run that was cut off goes on where it stopped, and nobody can tell from the output: killed, stopped, locked out.

The runs are processes of their own that say after every block how far they are; they are killed after a drawn number of
blocks and a drawn part of a block's time, again and again, until one comes through.
"""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Final

import pytest
from tests.batch.files_register import OPTIONS, register, written

from turnback.batch import BatchOptions
from turnback.batch.files import plan_file
from turnback.batch.resume import Work, work_folder
from turnback.errors import InputError

ROWS: Final = 1500
PART: Final = 64
pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals are those of POSIX")

PROGRAM: Final = """
import sys, time
from tests.batch.files_register import OPTIONS
from turnback.batch.files import plan_file

def slowly(done, rows):
    print(done, flush=True)
    time.sleep(0.004)

report = plan_file(sys.argv[1], sys.argv[2], OPTIONS, part_rows=64, checkpoint_seconds=0, watch=slowly)
print("taken up", report.taken_up, flush=True)
"""


def started(source: Path, target: Path) -> subprocess.Popen[str]:
    root = str(Path(__file__).parents[2])
    where = os.pathsep.join([root, *filter(None, [os.environ.get("PYTHONPATH")])])
    return subprocess.Popen(
        [sys.executable, "-c", PROGRAM, source, target],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": where},
    )


def stopped_after(process: subprocess.Popen[str], blocks: int, signal_: signal.Signals) -> int | None:
    """Stop a run after so many of its blocks; what it had taken up where it came through before."""
    assert process.stdout is not None
    for line in process.stdout:
        if line.startswith("taken up"):
            process.communicate(timeout=60)
            return int(line.split()[-1])
        blocks -= 1
        if blocks == 0:
            time.sleep(random.random() * 0.01)
            process.send_signal(signal_)
            break
    process.communicate(timeout=60)
    return None


@pytest.mark.parametrize("form", ["parquet", "csv", "arrow"])
def test_killed_at_any_moment_it_goes_on_to_the_same_bytes(tmp_path: Path, form: str) -> None:
    source = written(register(ROWS, seed=7), tmp_path / f"in.{form}")
    plan_file(source, tmp_path / f"whole.{form}", OPTIONS, part_rows=PART)
    target = tmp_path / f"out.{form}"
    kills, taken_up = 0, None
    while taken_up is None:
        assert kills < 20, "it never comes through"
        taken_up = stopped_after(started(source, target), random.randint(3, 14), signal.SIGKILL)
        assert (taken_up is not None) == target.exists()
        kills += 1
    assert kills > 1
    assert 0 < taken_up
    assert 0 == taken_up % PART
    assert (tmp_path / f"whole.{form}").read_bytes() == target.read_bytes()
    assert not work_folder(target).exists()


def test_interrupted_it_goes_on(tmp_path: Path) -> None:
    source = written(register(ROWS, seed=8), tmp_path / "in.parquet")
    plan_file(source, tmp_path / "whole.parquet", OPTIONS, part_rows=PART)
    target = tmp_path / "out.parquet"
    process = started(source, target)
    assert stopped_after(process, 10, signal.SIGINT) is None
    assert not target.exists()
    assert work_folder(target).exists()
    report = plan_file(source, target, OPTIONS, part_rows=PART)
    assert 0 < report.taken_up < ROWS
    assert (tmp_path / "whole.parquet").read_bytes() == target.read_bytes()


# --- what a run that was cut off leaves, and who may take it up ---


class Stop(BaseException):
    """What cuts a run off here; no error of the library."""


def cut_off(source: Path, target: Path, options: BatchOptions = OPTIONS) -> None:
    def stop(done: int, rows: int | None) -> None:
        del rows
        if done >= 600:
            raise Stop

    with pytest.raises(Stop):
        plan_file(source, target, options, part_rows=PART, checkpoint_seconds=0, watch=stop)


@pytest.fixture
def source(tmp_path: Path) -> Path:
    return written(register(ROWS, seed=9), tmp_path / "in.parquet")


@pytest.fixture
def target(tmp_path: Path) -> Path:
    return tmp_path / "out.parquet"


@pytest.fixture
def whole(tmp_path: Path, source: Path) -> bytes:
    plan_file(source, tmp_path / "whole.parquet", OPTIONS, part_rows=PART)
    return (tmp_path / "whole.parquet").read_bytes()


def journal(target: Path) -> Path:
    return work_folder(target) / "journal"


@pytest.mark.parametrize("damage", ["torn line", "lines lost", "all lost", "data lost", "data behind", "no data"])
def test_whatever_a_power_cut_leaves_it_goes_on_to_the_same_bytes(
    source: Path, target: Path, whole: bytes, damage: str
) -> None:
    cut_off(source, target)
    lines, data = journal(target).read_bytes().splitlines(keepends=True), work_folder(target) / "data"
    assert 4 < len(lines)
    if damage == "torn line":
        journal(target).write_bytes(b"".join(lines)[:-20])
    elif damage == "lines lost":
        journal(target).write_bytes(b"".join(lines[:3]))
    elif damage == "all lost":
        journal(target).write_bytes(lines[0][:30])
    elif damage == "data lost":
        data.write_bytes(data.read_bytes()[: json.loads(lines[3])["bytes"] - 1])
    elif damage == "data behind":
        data.write_bytes(data.read_bytes() + b"half of a part")
    else:
        data.unlink()
    left = {"torn line": len(lines) - 2, "lines lost": 2, "data lost": 2, "data behind": len(lines) - 1}.get(damage, 0)
    report = plan_file(source, target, OPTIONS, part_rows=PART)
    assert left * PART == report.taken_up
    assert whole == target.read_bytes()


def test_another_run_is_refused_and_begins_again_when_asked(source: Path, target: Path, whole: bytes) -> None:
    cut_off(source, target)
    others = [
        (BatchOptions("u-bolt", "us-army-5420-278", service="guy"), "options, the rules"),
        (BatchOptions("u-bolt", "us-ca-8-8497", service="guy", jurisdiction="US"), "options, the rules"),
    ]
    for options, match in others:
        with pytest.raises(InputError, match=f"{match}.*--restart"):
            plan_file(source, target, options, part_rows=PART)
    with pytest.raises(InputError, match="cut in another way"):
        plan_file(source, target, OPTIONS, part_rows=2 * PART)
    state = source.stat()
    os.utime(source, ns=(state.st_atime_ns, state.st_mtime_ns + 1))
    with pytest.raises(InputError, match="the input has changed"):
        plan_file(source, target, OPTIONS, part_rows=PART)
    assert 0 == plan_file(source, target, OPTIONS, part_rows=PART, restart=True).taken_up
    assert whole == target.read_bytes()
    assert not work_folder(target).exists()


def test_a_change_of_content_is_seen_where_size_and_time_are_the_same(source: Path, target: Path) -> None:
    cut_off(source, target)
    state, data = source.stat(), source.read_bytes()
    source.write_bytes(data[:-40] + bytes(byte ^ 1 for byte in data[-40:]))
    os.utime(source, ns=(state.st_atime_ns, state.st_mtime_ns))
    with pytest.raises(InputError):
        plan_file(source, target, OPTIONS, part_rows=PART)


def test_two_processes_never_write_one_output(source: Path, target: Path, whole: bytes) -> None:
    key = {"input": "", "options": "", "form": ""}
    with Work(target, key, restart=False), pytest.raises(InputError, match="another process writes this output"):
        plan_file(source, target, OPTIONS, part_rows=PART, restart=True)
    plan_file(source, target, OPTIONS, part_rows=PART, restart=True)
    assert whole == target.read_bytes()


def test_the_journal_is_never_ahead_of_the_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The bytes reach the disk, then the line that speaks of them."""
    order: list[str] = []
    names: dict[int, str] = {}
    real = os.fsync

    def noted(file: int) -> None:
        order.append(names[file])
        real(file)

    with Work(tmp_path / "out.csv", {"input": "", "options": "", "form": ""}, restart=False, every=0) as work:
        for name in ("data", "journal"):
            names[next(f for f in range(3, 200) if _is(f, work.folder / name))] = name
        monkeypatch.setattr(os, "fsync", noted)
        work.begin(b"head")
        for number in range(3):
            work.append(b"x" * 10, {}, 5)
            lines = (work.folder / "journal").read_bytes().splitlines()
            assert 14 + 10 * number == json.loads(lines[-1])["bytes"] == (work.folder / "data").stat().st_size
    assert ["data", "journal"] * 3 == order


def _is(descriptor: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(descriptor), path.stat())
    except OSError:
        return False
