"""``turnback batch`` as a user types it: summaries, rows explained, change reports, progress, and one line for a slip.

Numbers from 8 CCR 8497, Table 1, and 29 CFR 1926.251, Table H-20. The registers are invented.
"""

from __future__ import annotations

import io
import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pyarrow as pa
import pytest
from tests.batch.files_register import ARGUMENTS, INCH, OPTIONS, read, register, written

import turnback as tb
from turnback.batch import BATCH_STATUSES
from turnback.batch.files import plan_file
from turnback.cli import main
from turnback.cli.progress import Progress, clock_text, progress_line
from turnback.errors import InputError

Run = Callable[..., tuple[int, str, str]]
ROWS = 300
PROGRAM = (sys.executable, "-c", "import sys; from turnback.cli import main; sys.exit(main())")


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs the command line in this process: exit code, output, errors."""

    def called(*arguments: str | Path) -> tuple[int, str, str]:
        code = main(["batch", *map(str, arguments)])
        out, err = capsys.readouterr()
        return code, out, err

    return called


@pytest.fixture
def source(tmp_path: Path) -> Path:
    return written(register(ROWS, seed=5), tmp_path / "in.parquet")


def one_line(err: str) -> bool:
    return err.startswith("turnback: ") and 1 == len(err.splitlines())


# --- a run ---


def test_a_run_prints_its_summary_and_nothing_in_a_pipe(run: Run, source: Path, tmp_path: Path) -> None:
    target = tmp_path / "out.parquet"
    code, out, err = run(source, target, *ARGUMENTS)
    assert (0, "") == (code, err)
    planned = read(target).column("status").to_pylist()
    assert f"{target}: {ROWS} rows" == out.splitlines()[0]
    for status in BATCH_STATUSES:
        if count := planned.count(status.code):
            assert f"{count}  {status.name}" in out
    assert "finding_codes" in out
    code, out, err = run(source, target, *ARGUMENTS, "--json", "--overwrite")
    document = json.loads(out)
    assert (0, "", ROWS) == (code, err, document["rows"])
    assert planned.count(0) == document["statuses"]["ok"]
    assert read(target).column("usable").to_pylist().count(True) == document["usable"]
    assert [each.name for each in BATCH_STATUSES] == list(document["statuses"])


def test_the_command_and_the_library_write_the_same_bytes(run: Run, source: Path, tmp_path: Path) -> None:
    run(source, tmp_path / "a.parquet", *ARGUMENTS)
    plan_file(source, tmp_path / "b.parquet", OPTIONS)
    assert (tmp_path / "a.parquet").read_bytes() == (tmp_path / "b.parquet").read_bytes()


def test_options_reach_every_row(run: Run, tmp_path: Path) -> None:
    """TM 5-5420-278-10, Table 4-12 is not asked here: a sheet of the clip's maker gives torque and efficiency."""
    source = written(pa.table({"rope_diameter": ["3/4 in"], "wide": [57.15]}), tmp_path / "in.csv")
    source.write_text("rope_diameter,base_width,grade\n3/4 in,57.15,EIP\n", encoding="utf-8")
    target = tmp_path / "out.csv"
    code, _, err = run(
        source, target, *ARGUMENTS, "--unit", "base_width=mm", "--maker-citation", "invented sheet 1", "--maker-torque",
        "100 N·m", "--maker-threads", "dry", "--maker-efficiency", "75 %", "--json",
    )  # fmt: skip
    assert (0, "") == (code, err)
    (row,) = read(target).to_pylist()
    assert (4, 100.0, 0.75, 9 * INCH // 2) == tuple(
        row[name] for name in ("clip_count", "torque_newton_metre", "efficiency", "spacing_nm")
    )


def test_another_kind_of_eye(run: Run, tmp_path: Path) -> None:
    """A pulley takes one clip more: 4 + 1 at 3/4 in."""
    source = written(pa.table({"rope_diameter": ["3/4 in"], "tread_diameter": ["10 in"]}), tmp_path / "in.parquet")
    assert 0 == run(source, tmp_path / "out.parquet", *ARGUMENTS, "--eye", "pulley")[0]
    assert [5] == read(tmp_path / "out.parquet").column("clip_count").to_pylist()


def test_a_dry_run_writes_nothing(run: Run, source: Path, tmp_path: Path) -> None:
    code, out, err = run(source, tmp_path / "out.parquet", *ARGUMENTS, "--dry-run")
    assert (0, "") == (code, err)
    assert f"{ROWS} rows; nothing was written" == out.splitlines()[0]
    assert "expected time: " in out
    document = json.loads(run(source, tmp_path / "out.parquet", *ARGUMENTS, "--dry-run", "--json")[1])
    assert (ROWS, ROWS) == (document["rows"], document["first_rows"])
    assert ["in.parquet"] == [each.name for each in tmp_path.iterdir()]


def test_strict_and_again(run: Run, source: Path, tmp_path: Path) -> None:
    code, out, err = run(source, tmp_path / "out.parquet", *ARGUMENTS, "--strict")
    assert (2, "") == (code, out)
    assert one_line(err)
    assert f"of {ROWS} rows were not planned" in err
    assert 0 == run(source, tmp_path / "out.parquet", *ARGUMENTS)[0]
    code, _, err = run(tmp_path / "out.parquet", tmp_path / "b.parquet", *ARGUMENTS)
    assert 2 == code
    assert "--again" in err
    assert 0 == run(tmp_path / "out.parquet", tmp_path / "b.parquet", *ARGUMENTS, "--again")[0]


def test_an_output_that_is_there_is_replaced_only_when_asked(run: Run, source: Path, tmp_path: Path) -> None:
    target = tmp_path / "out.parquet"
    target.write_text("somebody's file", encoding="utf-8")
    for more in ((), ("--dry-run",), ("--restart",)):
        code, out, err = run(source, target, *ARGUMENTS, *more)
        assert (2, "") == (code, out)
        assert one_line(err)
        assert "already" in err
        assert "--overwrite" in err
        assert "somebody's file" == target.read_text(encoding="utf-8")
        assert ["in.parquet", "out.parquet"] == sorted(each.name for each in tmp_path.iterdir())
    assert 0 == run(source, target, *ARGUMENTS, "--overwrite", "--dry-run")[0]
    assert "somebody's file" == target.read_text(encoding="utf-8")
    assert 0 == run(source, target, *ARGUMENTS, "--overwrite")[0]
    assert ROWS == read(target).num_rows


def test_an_output_that_comes_up_during_the_run_is_not_replaced(source: Path, tmp_path: Path) -> None:
    target = tmp_path / "out.parquet"

    def watch(done: int, rows: int | None) -> None:
        target.write_text("somebody's file", encoding="utf-8")

    with pytest.raises(InputError, match="already"):
        plan_file(source, target, OPTIONS, overwrite=False, watch=watch)
    assert "somebody's file" == target.read_text(encoding="utf-8")
    target.unlink()
    assert ROWS == plan_file(source, target, OPTIONS, overwrite=False).taken_up


def test_the_summary_and_the_rehearsal_name_the_columns(run: Run, tmp_path: Path) -> None:
    source = tmp_path / "in.csv"
    source.write_text("guy,rope_diameter,base_width,Grade\nnorth,3/4 in,57.15,EIP\n", encoding="utf-8")
    for more in (("--dry-run",), ()):
        code, out, err = run(source, tmp_path / "out.csv", *ARGUMENTS, *more)
        assert (0, "") == (code, err)
        assert "read: rope_diameter (text with units), base_width (text with units)" in out
        assert "not read, passed through: guy, Grade" in out
        assert "warning: column 'Grade' is not read; did you mean grade?" in out
        assert "--unit base_width=mm" in out
    document = json.loads(run(source, tmp_path / "b.csv", *ARGUMENTS, "--unit", "base_width=mm", "--json")[1])
    assert {"rope_diameter": "text with units", "base_width": "numbers in mm"} == document["columns_read"]
    assert ["guy", "Grade"] == document["columns_unread"]
    assert ["column 'Grade' is not read; did you mean grade?"] == document["warnings"]


def test_a_register_without_rows_is_said_to_have_none(run: Run, tmp_path: Path) -> None:
    source = tmp_path / "in.csv"
    source.write_text("rope_diameter,grade\n", encoding="utf-8")
    for more in (("out.csv", "--dry-run"), ("out.csv",), ("--against", "us-navy-14026")):
        arguments = (tmp_path / more[0], *more[1:]) if more[0] == "out.csv" else more
        code, out, err = run(source, *arguments, *ARGUMENTS)
        assert (0, "") == (code, err)
        assert "no rows" in out
        assert "0 ok" not in " ".join(out.split())
        assert "usable" not in out


def test_strict_names_column_and_cell(run: Run, tmp_path: Path) -> None:
    source = tmp_path / "in.csv"
    rows = ["3/4 in,57.15,EIP", "3/4 in,57.15,gold", '3/4 in,"57,15",EIP', "5/16 in,,EIP", ",,EIP"]
    source.write_text("\n".join(["rope_diameter,base_width,grade", *rows]) + "\n", encoding="utf-8")
    code, out, err = run(source, tmp_path / "out.csv", *ARGUMENTS, "--unit", "base_width=mm", "--strict")
    assert (2, "") == (code, out)
    assert one_line(err)
    for named in ("row 1 (unknown-word: grade 'gold'", "row 2 (value-unreadable: base_width '57,15')",
                  "row 3 (out-of-table: ", "row 4 (size-missing: rope_diameter)"):  # fmt: skip
        assert named in err
    assert "5/16 in" in err


# --- a row explained ---


def verified(document: object) -> str:
    return str(tb.verify(json.dumps(document)))


def test_a_row_explained_has_the_working_load_of_its_own_design_factor(run: Run, tmp_path: Path) -> None:
    """By hand: 100 kN x 80 % = 80 kN; a factor of 20 leaves 4 kN of it, the cited 5 would leave 16 kN."""
    source = tmp_path / "in.csv"
    head = "rope_diameter,minimum_breaking_force_newton,condition,load_newton,design_factor"
    rows = ["3/4 in,100000,new,3999,20", "3/4 in,100000,new,4001,20", "3/4 in,100000,new,1,2", "3/4 in,100000,new,1,"]
    source.write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    target = tmp_path / "out.parquet"
    assert 0 == run(source, target, *ARGUMENTS)[0]
    written_ = read(target).to_pylist()
    assert [4_000.0, None, None, 16_000.0] == [row["working_load_newton"] for row in written_]
    under, over, low, cited = (
        (run(source, *ARGUMENTS, "--explain", str(row)), run(source, *ARGUMENTS, "--explain", str(row), "--json"))
        for row in range(4)
    )
    text = " ".join(under[0][1].split())
    assert "working load 4 kN (899.2 lbf) at a design factor of 20" in text
    assert "design_factor = 20" in text
    assert "16 kN" not in text
    document = json.loads(under[1][1])
    # The plan is the one that another makes again from its request; what the row's factor changes stands beside it.
    assert "the same" in verified(document["plan"])
    assert (16_000.0, 4_000.0) == (
        document["plan"]["working_load_newton"],
        document["answers"]["working_load_newton"],
    )
    text = " ".join(over[0][1].split())
    assert "NOT USABLE" in text
    assert "above the working load 4 kN (899.2 lbf) at the row's own design factor of 20; the cited factor is 5" in text
    document = json.loads(over[1][1])
    codes = [finding["code"] for finding in document["own_factor"]["findings"]]
    assert written_[1]["finding_codes"] == "; ".join(dict.fromkeys(codes))
    assert document["own_factor"]["usable"] is document["answers"]["usable"] is False
    assert json.loads(cited[1][1])["own_factor"] is None
    assert 2 == low[0][0]
    assert "design_factor: this design factor is below the one that is cited" in low[0][1]
    assert "working load 16 kN (3596 lbf) at a design factor of 5" in " ".join(cited[0][1].split())


def test_a_row_explained_has_its_derivations(run: Run, tmp_path: Path) -> None:
    source = written(
        pa.table({"rope_diameter": ["1 in", "3/4 in"], "base_width": ["3 in", "2-1/4 in"]}), tmp_path / "in.csv"
    )
    code, out, err = run(source, *ARGUMENTS, "--explain", "1")
    assert (0, "") == (code, err)
    text = " ".join(out.split())
    for expected in ("Row 1: ok.", "4 of 3/4 in", "18 in (457.2 mm)", "130 lbf·ft", "How each number came about",
                     "turn_back = 18 in (457.2 mm)", "Section 8497"):  # fmt: skip
        assert expected in text
    document = json.loads(run(source, *ARGUMENTS, "--explain", "1", "--json")[1])
    assert (1, "ok", None) == (document["row"], document["status"], document["error"])
    assert 18 * INCH == document["plan"]["turn_back_nm"] == document["answers"]["turn_back_nm"]
    assert "turn_back" in {each["name"] for each in document["plan"]["derivations"]}


def test_a_bad_row_explained_ends_in_the_code_of_its_error(run: Run, tmp_path: Path) -> None:
    source = written(pa.table({"rope_diameter": ["5/16 in", "half"]}), tmp_path / "in.csv")
    code, out, _ = run(source, *ARGUMENTS, "--explain", "0")
    assert 3 == code
    assert out.startswith("Row 0: out-of-table.")
    assert "nearest printed sizes" in out
    code, out, _ = run(source, *ARGUMENTS, "--explain", "1", "--json")
    document = json.loads(out)
    assert (2, "value-unreadable", None) == (code, document["status"], document["plan"])
    code, _, err = run(source, *ARGUMENTS, "--explain", "2")
    assert 2 == code
    assert one_line(err)
    assert "rows 0 to 1" in err


# --- what other rules would change ---


def test_a_change_report(run: Run, tmp_path: Path) -> None:
    """NAVEDTRA 14026 asks for 4 clips at 1 in (3 x 1 + 1), 8 CCR 8497 for 5."""
    rope = {"rope_diameter": ["1 in", "1 in"], "construction": ["6x19"] * 2, "grade": ["IPS"] * 2}
    source = written(pa.table(rope), tmp_path / "in.parquet")
    arguments = ("--style", "u-bolt", "--rules", "us-navy-14026", "--against", "us-ca-8-8497")
    code, out, err = run(source, *arguments)
    assert (0, "") == (code, err)
    for expected in ("us-navy-14026 now, us-ca-8-8497 against it", "2 rows, 2 of them change", "2 need more clips",
                     "2  1 more", "row 0", "clip_count: 4 -> 5"):  # fmt: skip
        assert expected in out
    document = json.loads(run(source, *arguments, "--json", "--first", "1")[1])
    assert [{"more": 1, "rows": 2}] == document["clips"]
    assert (2, 1) == (document["more_clips"], len(document["first"]))
    turn_back = document["lengths"][0]
    assert all(type(turn_back[key]) is int for key in turn_back if key != "column")
    same = run(source, "--style", "u-bolt", "--rules", "us-navy-14026", "--against", "us-navy-14026")[1]
    assert "none differs" in same


# --- slips ---


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("in.parquet",), 2, "the output is missing"),
        (("in.parquet", "out.parquet", "--explain", "1"), 2, "one thing at a time"),
        (("in.parquet", "--explain", "1", "--against", "x"), 2, "one thing at a time"),
        (("in.parquet", "--explain", "1", "--strict"), 2, "nothing is written here"),
        (("in.parquet", "--explain", "1", "--overwrite"), 2, "nothing is written here"),
        (("in.parquet", "out.parquet", "--unit", "a=mm", "--unit", "a=in"), 2, "two units are given for one column"),
        (("in.parquet", "--against", "us-navy-14026", "--dry-run"), 2, "nothing is written here"),
        (("none.parquet", "out.parquet"), 2, "no such file"),
        (("in.parquet", "out.txt"), 2, "which form"),
        (("in.parquet", "in.parquet"), 2, "in the place of the input"),
        (("in.parquet", "out.parquet", "--unit", "base_width"), 2, "COLUMN=UNIT"),
        (("in.parquet", "out.parquet", "--unit", "nothing=mm"), 2, "not there"),
        (("in.parquet", "out.parquet", "--unit", "base_width_nm=kN"), 2, "none that is read here"),
        (("in.parquet", "out.parquet", "--style", "invented"), 3, "invented"),
        (("in.parquet", "out.parquet", "--rules", "invented"), 3, "invented"),
        (("in.parquet", "--against", "invented"), 3, "invented"),
        (("in.parquet", "out.parquet", "--service", "nobody"), 2, "service"),
        (("in.parquet", "out.parquet", "--maker-torque", "100 N·m"), 2, "threads"),
        (("a\0b.parquet", "out.parquet"), 2, "no such file"),
    ],
)
def test_a_slip_is_one_line(
    run: Run, source: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...], code: int, words: str
) -> None:
    monkeypatch.chdir(source.parent)
    given = ("--style", "u-bolt", "--rules", "us-ca-8-8497", *arguments)
    actual, out, err = run(*given)
    assert (code, "") == (actual, out)
    assert one_line(err)
    assert words in err
    assert ["in.parquet"] == [each.name for each in source.parent.iterdir()]


# --- progress ---


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_is_one_line_on_a_terminal_and_nothing_elsewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    clock = iter([10.0, 10.4, 12.0, 14.0])
    monkeypatch.setattr("turnback.cli.progress.time.monotonic", lambda: next(clock))
    with Terminal() as stream:
        with Progress(stream) as progress:
            for done in (1_000_000, 1_500_000, 3_000_000, 5_000_000):
                progress.seen(done, 10_000_000)
        written_ = stream.getvalue()
    lines = [line.rstrip() for line in written_.split("\r")]
    assert "\n" not in written_
    # 2 million rows in 2 s leave 7 s for 7 million; 4 million in 4 s leave 5 s for 5 million.
    assert ["", "1 000 000 of 10 000 000 rows", "3 000 000 of 10 000 000 rows, 1 000 000 a second, 7 s left",
            "5 000 000 of 10 000 000 rows, 1 000 000 a second, 5 s left", "", ""] == lines  # fmt: skip
    pipe = io.StringIO()
    with Progress(pipe) as silent:
        silent.seen(5, 10)
    assert "" == pipe.getvalue()


def test_without_a_count_there_is_no_time_left() -> None:
    assert "5 000 rows, 2 500 a second" == progress_line(5000, None, 5000, 2.0)


@pytest.mark.parametrize(
    ("seconds", "text"), [(0.2, "under 1 s"), (59.2, "59 s"), (250, "4 min 10 s"), (7500, "2 h 5 min")]
)
def test_times_as_people_say_them(seconds: float, text: str) -> None:
    assert text == clock_text(seconds)


# --- as a process ---


@pytest.mark.skipif(os.name != "posix", reason="signals are those of POSIX")
def test_interrupted_from_the_keyboard_it_says_how_to_go_on(tmp_path: Path) -> None:
    source = written(register(60_000, seed=6), tmp_path / "in.csv")
    target = tmp_path / "out.csv"
    slow = (
        "import sys, time; import turnback.cli.progress as p; from turnback.cli import main\n"
        "def seen(self, done, rows):\n    print('begun', flush=True); time.sleep(60)\n"
        "p.Progress.seen = seen\nsys.exit(main())"
    )
    process = subprocess.Popen(
        [sys.executable, "-c", slow, "batch", source, target, *ARGUMENTS],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert process.stdout is not None
    assert "begun\n" == process.stdout.readline()
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=60)
    assert 130 == process.returncode
    assert one_line(err)
    assert "goes on from here" in err
    assert not target.exists()


def test_without_pyarrow_the_other_commands_work_and_this_one_says_what_to_install(tmp_path: Path) -> None:
    (tmp_path / "pyarrow.py").write_text("raise ImportError('No module named pyarrow')\n", encoding="utf-8")
    where = os.pathsep.join([str(tmp_path), *filter(None, [os.environ.get("PYTHONPATH")])])

    def called(*arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [*PROGRAM, *arguments], capture_output=True, text=True, check=False, timeout=60,
            env={**os.environ, "PYTHONPATH": where},
        )  # fmt: skip

    assert 0 == called("rules").returncode
    done = called("batch", "in.parquet", "out.parquet", *ARGUMENTS)
    assert done.returncode
    assert one_line(done.stderr)
    assert "turnback[batch]" in done.stderr


def test_help_names_the_exit_codes() -> None:
    done = subprocess.run([*PROGRAM, "batch", "--help"], capture_output=True, text=True, check=True, timeout=60)
    assert "130 interrupted" in " ".join(done.stdout.split())
