"""The command line as a process of its own: its pipes, its encoding, and plugins that fail to load."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

PROGRAM = (sys.executable, "-c", "import sys; from turnback.cli import main; sys.exit(main())")
GUY = ("plan", "3/4 in 6x19 IWRC EIP", "--style", "u-bolt", "--rules", "us-ca-8-8497", "--clip-body", "forged",
       "--base-width", "2-1/4 in")  # fmt: skip


def called(*arguments: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [*PROGRAM, *arguments], capture_output=True, check=False, timeout=60, env={**os.environ, **environment}
    )


def test_the_job_as_a_process() -> None:
    """8 CCR §8497, Table 1: 4 clips, 18 in and 130 lbf·ft at 3/4 in."""
    done = called(*GUY, PYTHONIOENCODING="utf-8")
    assert (0, b"") == (done.returncode, done.stderr)
    out = done.stdout.decode("utf-8")
    for expected in ("4 of 3/4 in", "18 in (457.2 mm)", "130 lbf·ft"):
        assert expected in out


def test_a_slip_as_a_process() -> None:
    done = called("plan", "1/2", "--style", "u-bolt", "--rules", "us-ca-8-8497")
    assert (2, b"", 1) == (done.returncode, done.stdout, len(done.stderr.splitlines()))
    assert done.stderr.startswith(b"turnback: ")


@pytest.mark.parametrize("arguments", [GUY, (*GUY, "--json"), ("rules", "us-ca-8-8497"), ("--help",)])
def test_a_terminal_that_knows_ascii_alone(arguments: tuple[str, ...]) -> None:
    done = called(*arguments, PYTHONIOENCODING="ascii")
    assert (0, b"") == (done.returncode, done.stderr)
    assert done.stdout.isascii()
    if "--json" in arguments:
        assert 457_200_000 == json.loads(done.stdout)["turn_back_nm"]
    if arguments == GUY:
        assert b"130 lbf?ft" in done.stdout


def test_an_error_on_a_terminal_that_knows_ascii_alone() -> None:
    done = called("plan", "½ in", "--style", "u-bolt", "--rules", "us-ca-8-8497", PYTHONIOENCODING="ascii")
    assert (2, b"", 1) == (done.returncode, done.stdout, len(done.stderr.splitlines()))
    assert done.stderr.isascii()


@pytest.mark.skipif(os.name != "posix", reason="pipes and descriptors are those of POSIX")
class TestPipes:
    def test_a_reader_that_has_gone(self) -> None:
        read, write = os.pipe()
        os.close(read)
        try:
            done = subprocess.run([*PROGRAM, *GUY], stdout=write, stderr=subprocess.PIPE, check=False, timeout=60)
        finally:
            os.close(write)
        assert (0, b"") == (done.returncode, done.stderr)

    def test_an_output_that_was_closed_before(self) -> None:
        command = 'exec "$@" >&-'
        done = subprocess.run(["sh", "-c", command, "sh", *PROGRAM, *GUY], capture_output=True, check=False, timeout=60)
        assert (0, b"") == (done.returncode, done.stderr)

    @pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no full device here")
    def test_an_output_that_is_full(self) -> None:
        with open("/dev/full", "wb") as full:
            done = subprocess.run([*PROGRAM, *GUY], stdout=full, stderr=subprocess.PIPE, check=False, timeout=60)
        assert done.returncode
        assert done.stderr.startswith(b"turnback: ")
        assert b"Traceback" not in done.stderr


# --- exit code 7 ---


@pytest.fixture
def broken(tmp_path: Path) -> str:
    """A folder with an installed distribution that fails to load."""
    info = tmp_path / "turnback_invented-9.9.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: turnback-invented\nVersion: 9.9\n", encoding="utf-8")
    (info / "entry_points.txt").write_text("[turnback.plugins]\nx = turnback_invented_module\n", encoding="utf-8")
    (tmp_path / "turnback_invented_module.py").write_text("raise SystemExit('leaving')\n", encoding="utf-8")
    return str(tmp_path)


def test_a_plugin_that_fails_is_listed_first_beside_the_others(broken: str) -> None:
    done = called("rules", PYTHONPATH=broken, PYTHONIOENCODING="utf-8")
    assert (7, b"") == (done.returncode, done.stderr)
    lines = done.stdout.decode("utf-8").splitlines()
    assert "FAILED  turnback-invented 9.9 (x): SystemExit: leaving" == lines[0]
    assert any(line.startswith("us-ca-8-8497 ") for line in lines)
    document = json.loads(called("rules", "--json", PYTHONPATH=broken, PYTHONIOENCODING="utf-8").stdout)
    assert ["turnback-invented 9.9 (x): SystemExit: leaving"] == document["failures"]


@pytest.mark.parametrize(("option", "wanted"), [("--rules", "invented-rules"), ("--style", "invented-style")])
def test_what_the_failed_plugin_may_have_brought_has_a_code_of_its_own(broken: str, option: str, wanted: str) -> None:
    done = called(*GUY, option, wanted, PYTHONPATH=broken, PYTHONIOENCODING="utf-8")
    assert (7, b"", 1) == (done.returncode, done.stdout, len(done.stderr.splitlines()))
    for expected in (wanted, "turnback-invented 9.9", "leaving"):
        assert expected in done.stderr.decode("utf-8")


def test_a_failed_plugin_does_not_stop_the_job_of_another(broken: str) -> None:
    assert 0 == called(*GUY, PYTHONPATH=broken).returncode
