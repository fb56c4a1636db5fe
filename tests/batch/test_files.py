"""From file to file: the same rows and the same answers as the table path, in every form, and nothing half-written.

Numbers of single rows are those of 8 CCR 8497, Table 1. The register is invented.
"""

from __future__ import annotations

import errno
import json
import os
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import IO

import polars
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pacsv
import pyarrow.ipc as paipc
import pyarrow.parquet as pq
import pytest
from tests.batch.files_register import INCH, OPTIONS, plain, read, register, written

from turnback.batch import BATCH_STATUSES, OUTPUT_COLUMNS, BatchOptions, plan_table, resume
from turnback.batch._files_arrow import blocks_of
from turnback.batch._files_footer import footer_of, joined_footer, moved_groups, tail
from turnback.batch.files import Rehearsal, plan_file, rehearse_file
from turnback.errors import InputError, UnknownRuleSet, UnknownStyle

ROWS = 700
ANSWERS = [name for name, _ in OUTPUT_COLUMNS]


@pytest.fixture(scope="module")
def table() -> pa.Table:
    return register(ROWS)


@pytest.fixture(scope="module")
def answered(table: pa.Table) -> pa.Table:
    """What the library answers without any file."""
    return plain(
        plan_table(table, style="u-bolt", rules="us-ca-8-8497", clip_body="forged", service="guy", jurisdiction="US")
    )


def names(folder: Path) -> list[str]:
    return sorted(each.name for each in folder.iterdir())


# --- the same answers in every form ---


@pytest.mark.parametrize("out", [".parquet", ".csv", ".arrow", ".feather"])
@pytest.mark.parametrize("into", [".parquet", ".csv", ".arrow", ".feather"])
def test_every_form_gives_the_answers_of_the_table_path(
    tmp_path: Path, table: pa.Table, answered: pa.Table, into: str, out: str
) -> None:
    source, target = written(table, tmp_path / f"in{into}"), tmp_path / f"out{out}"
    report = plan_file(source, target, OPTIONS, part_rows=256)
    planned = read(target)
    assert ROWS == planned.num_rows == report.rows == sum(count for _, count in report.statuses)
    assert [*table.column_names, *ANSWERS] == planned.column_names
    for name in [*table.column_names, *ANSWERS]:
        expected = answered.column(name).combine_chunks()
        actual = planned.column(name).cast(expected.type).combine_chunks()
        assert expected.equals(actual), name
    assert ["in" + into, "out" + out] == names(tmp_path)


def test_a_row_is_that_of_the_printed_table(tmp_path: Path) -> None:
    """8 CCR 8497, Table 1: at 3/4 in 4 clips, 18 in and 130 lbf·ft (NIST SP 811: 1.3558179483314004 N·m each)."""
    row = pa.table({"rope_diameter": ["3/4 in"], "grade": ["EIP"]})
    plan_file(written(row, tmp_path / "in.csv"), tmp_path / "out.parquet", OPTIONS)
    (planned,) = read(tmp_path / "out.parquet").to_pylist()
    assert (0, 4, 18 * INCH) == (planned["status"], planned["clip_count"], planned["turn_back_nm"])
    assert pytest.approx(130 * 1.3558179483314004, rel=1e-12) == planned["torque_newton_metre"]


def test_a_folder_of_parquet_is_one_register(tmp_path: Path, table: pa.Table, answered: pa.Table) -> None:
    folder = tmp_path / "parts"
    folder.mkdir()
    for number, start in enumerate(range(0, ROWS, 300)):
        written(table.slice(start, 300), folder / f"p{number}.parquet")
    plan_file(folder, tmp_path / "out.parquet", OPTIONS)
    assert answered.equals(read(tmp_path / "out.parquet").cast(answered.schema))
    written(pa.table({"rope_diameter_nm": [INCH]}), folder / "p9.parquet")
    with pytest.raises(InputError, match="different columns"):
        plan_file(folder, tmp_path / "out.parquet", OPTIONS)


def test_provenance_stands_in_the_output(tmp_path: Path, table: pa.Table) -> None:
    plan_file(written(table.slice(0, 5), tmp_path / "in.parquet"), tmp_path / "out.parquet", OPTIONS)
    said = json.loads(pq.read_schema(tmp_path / "out.parquet").metadata[b"turnback"])
    assert ["us-ca-8-8497"] == [each["id"] for each in said["rule_sets"]]


@pytest.mark.parametrize("form", [".parquet", ".csv", ".arrow"])
def test_no_rows_are_no_reason_to_stop(tmp_path: Path, table: pa.Table, form: str) -> None:
    report = plan_file(written(table.slice(0, 0), tmp_path / f"in{form}"), tmp_path / f"out{form}", OPTIONS)
    assert (0, 0) == (report.rows, read(tmp_path / f"out{form}").num_rows)
    assert [*table.column_names, *ANSWERS] == read(tmp_path / f"out{form}").column_names


@pytest.mark.parametrize("row_group", [1, 37, 500, 10_000])
@pytest.mark.parametrize("form", ["parquet", "arrow"])
def test_the_bytes_do_not_depend_on_how_the_input_is_cut(tmp_path: Path, form: str, row_group: int) -> None:
    short = register(400, seed=3)
    whole = plan_file(
        written(short, tmp_path / f"whole.{form}", row_group=400), tmp_path / "a.parquet", OPTIONS, part_rows=64
    )
    cut = plan_file(
        written(short, tmp_path / f"cut.{form}", row_group=row_group), tmp_path / "b.parquet", OPTIONS, part_rows=64
    )
    assert whole.statuses == cut.statuses
    assert (tmp_path / "a.parquet").read_bytes() == (tmp_path / "b.parquet").read_bytes()


def test_an_output_can_be_planned_again(tmp_path: Path, table: pa.Table) -> None:
    source = written(table, tmp_path / "in.parquet")
    plan_file(source, tmp_path / "out.parquet", OPTIONS)
    with pytest.raises(InputError, match="--again"):
        plan_file(tmp_path / "out.parquet", tmp_path / "twice.parquet", OPTIONS)
    plan_file(tmp_path / "out.parquet", tmp_path / "twice.parquet", OPTIONS, again=True)
    assert read(tmp_path / "out.parquet").equals(read(tmp_path / "twice.parquet"))


# --- how Parquet is written ---


def test_parquet_has_dictionaries_where_they_pay(tmp_path: Path, table: pa.Table) -> None:
    numbered = table.append_column("number", pa.array(range(ROWS)))
    plan_file(written(numbered, tmp_path / "in.parquet"), tmp_path / "out.parquet", OPTIONS)
    group = pq.ParquetFile(tmp_path / "out.parquet").metadata.row_group(0)
    columns = {group.column(index).path_in_schema: group.column(index) for index in range(group.num_columns)}
    assert {"ZSTD"} == {column.compression for column in columns.values()}
    assert {True} == {columns[name].has_dictionary_page for name in ("grade", "finding_codes", "thread_condition")}
    assert {False} == {columns[name].has_dictionary_page for name in ("torque_newton_metre", "efficiency", "usable")}
    # The few lengths of a table repeat; a number for each joint does not.
    assert (True, False) == (columns["turn_back_nm"].has_dictionary_page, columns["number"].has_dictionary_page)


def test_another_reader_reads_the_joined_parts(tmp_path: Path, table: pa.Table, answered: pa.Table) -> None:
    """polars has a Parquet reader of its own: it knows nothing of how the parts were joined."""
    plan_file(written(table, tmp_path / "in.parquet"), tmp_path / "out.parquet", OPTIONS, part_rows=64)
    assert 11 == pq.ParquetFile(tmp_path / "out.parquet").num_row_groups  # 700 / 64, rounded up
    frame = polars.read_parquet(tmp_path / "out.parquet")
    for name in ("joint_id", "turn_back_nm", "torque_newton_metre"):
        assert answered.column(name).to_pylist() == frame[name].to_list()


def test_one_part_joined_is_the_file_itself(table: pa.Table) -> None:
    sink = pa.BufferOutputStream()
    pq.write_table(table, sink, row_group_size=50)
    whole = sink.getvalue().to_pybytes()
    footer = footer_of(memoryview(whole))
    assert 14 == len(moved_groups(footer, 0, 0))
    assert whole.endswith(tail(joined_footer(footer, ROWS, moved_groups(footer, 0, 0))))


def test_what_is_no_parquet_has_no_footer() -> None:
    with pytest.raises(InputError, match="no Parquet"):
        footer_of(memoryview(b"PAR1, and not much more"))


@pytest.mark.parametrize("rows", [0, 1, 64, 700])
def test_an_arrow_file_is_the_one_that_arrow_writes_itself(tmp_path: Path, table: pa.Table, rows: int) -> None:
    """Parts are joined by a footer of our own making: byte for byte that of the library, and read by another reader."""
    plan_file(written(table.slice(0, rows), tmp_path / "in.parquet"), tmp_path / "out.arrow", OPTIONS, part_rows=64)
    with paipc.open_file(tmp_path / "out.arrow") as file:
        assert -(-rows // 64) == file.num_record_batches
        again = pa.BufferOutputStream()
        with paipc.new_file(again, file.schema) as writer:
            for number in range(file.num_record_batches):
                writer.write_batch(file.get_batch(number))
    assert again.getvalue().to_pybytes() == (tmp_path / "out.arrow").read_bytes()
    assert rows == polars.read_ipc(tmp_path / "out.arrow").height


def test_what_is_no_arrow_file_has_no_places() -> None:
    with pytest.raises(InputError, match="no Arrow"):
        blocks_of(memoryview(b"ARROW1\0\0, and not much more"))


def test_an_arrow_file_holds_no_dictionary_inside_another_column(tmp_path: Path) -> None:
    inner = pa.array([["a"]], pa.list_(pa.dictionary(pa.int32(), pa.string())))
    source = written(pa.table({"rope_diameter": ["3/4 in"], "tags": inner}), tmp_path / "in.arrow")
    refused(tmp_path, source, "inside a column of this type", out="out.arrow")


# --- CSV ---


def csv(folder: Path, text: str) -> Path:
    path = folder / "in.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_cell_that_cannot_be_read_is_never_taken_for_an_empty_one(tmp_path: Path) -> None:
    source = csv(
        tmp_path,
        "rope_diameter_nm,base_width_nm,preformed,extra_clips,grade\n"
        "19050000,57150000,true,0,EIP\n"
        '19050000,"57,15",true,0,EIP\n'
        "19050000,57150000,perhaps,0,EIP\n"
        "19050000,57150000,true,1.5,EIP\n"
        "3/4 in,57150000,true,0,EIP\n"
        ",unreadable,true,0,EIP\n"
        "19050000,,,,\n",
    )
    plan_file(source, tmp_path / "out.csv", OPTIONS)
    plan_file(source, tmp_path / "out.parquet", OPTIONS)
    wanted = ["ok", *["value-unreadable"] * 4, "size-missing", "ok"]
    for name in ("out.csv", "out.parquet"):
        planned = read(tmp_path / name)
        assert wanted == [BATCH_STATUSES[code].name for code in planned.column("status").to_pylist()]
        assert [4, None, None, None, None, None, 4] == planned.column("clip_count").to_pylist()
        assert [True, None, None, None, None, None] == planned.column("usable").to_pylist()[:6]
    kept = read(tmp_path / "out.csv")
    assert ["57150000", "57,15", "57150000", "57150000", "57150000", "unreadable", None] == kept.column(
        "base_width_nm"
    ).to_pylist()
    typed = read(tmp_path / "out.parquet")
    assert [57_150_000, None, 57_150_000] == typed.column("base_width_nm").to_pylist()[:3]
    assert [19_050_000] * 4 + [None] * 2 + [19_050_000] == typed.column("rope_diameter_nm").to_pylist()


def test_whole_numbers_that_a_frame_wrote_as_floats(tmp_path: Path) -> None:
    """A column of whole numbers of which one is missing is written so: 57150000.0, and nothing."""
    text = "rope_diameter_nm,base_width_nm,extra_clips\n19050000.0,57150000.0,1.0\n19050000,,\n19050000.,57150000.5,\n"
    plan_file(csv(tmp_path, text), tmp_path / "out.parquet", OPTIONS)
    planned = read(tmp_path / "out.parquet")
    # 8 CCR 8497, Table 1 asks for 4 clips at 3/4 in; one more is 5.
    assert [5, 4, None] == planned.column("clip_count").to_pylist()
    assert ["ok", "ok", "value-unreadable"] == [BATCH_STATUSES[code].name for code in planned["status"].to_pylist()]
    assert [57_150_000, None, None] == planned.column("base_width_nm").to_pylist()


def test_text_sizes_and_units_of_columns(tmp_path: Path) -> None:
    """2-1/4 in is 57.15 mm."""
    text = "rope_diameter,base_width,grade\n3/4 in,57.15,EIP\n3/4 in,two,EIP\n"
    plan_file(csv(tmp_path, text), tmp_path / "out.parquet", OPTIONS, units={"base_width": "mm"})
    first, second = read(tmp_path / "out.parquet").to_pylist()
    # (18 - 2 x 2-1/4) / 3 = 4-1/2 in, 8 CCR 8497, Table 1.
    assert (0, 9 * INCH // 2) == (first["status"], first["spacing_nm"])
    assert "value-unreadable" == BATCH_STATUSES[second["status"]].name


def test_a_column_nobody_knows_passes_as_it_stands(tmp_path: Path) -> None:
    text = 'rope_diameter,tag,number\n3/4 in,007,1.50\n3/4 in,"a, ""b""",NaN\n3/4 in,,\n3/4 in,"",NA\n'
    plan_file(csv(tmp_path, text), tmp_path / "out.csv", OPTIONS)
    kept = pacsv.read_csv(
        tmp_path / "out.csv",
        convert_options=pacsv.ConvertOptions(
            include_columns=["tag", "number"],
            column_types={"tag": pa.string(), "number": pa.string()},
            null_values=[""],
            strings_can_be_null=True,
            quoted_strings_can_be_null=False,
        ),
    )
    assert [["007", 'a, "b"', None, ""], ["1.50", "NaN", None, "NA"]] == [each.to_pylist() for each in kept.columns]


def test_kinds_are_not_guessed_from_the_first_rows(tmp_path: Path) -> None:
    rows = ["rope_diameter,service,note", *["3/4 in,,1"] * 300_000, "3/4 in,guy,text"]
    given = rehearse_file(
        csv(tmp_path, "\n".join(rows[:3] + rows[-1:]) + "\n"), "out.csv", BatchOptions("u-bolt", "us-ca-8-8497")
    )
    assert 3 == given.rows
    from turnback.batch._files_pieces import blocks
    from turnback.batch._files_sources import open_source

    source = open_source(csv(tmp_path, "\n".join(rows) + "\n"), {}, as_text=True)
    last = list(blocks(source, 299_999, 10))[-1]
    assert [None, "guy"] == last.kept.column("service").to_pylist()


# --- what is refused ---


def refused(
    tmp_path: Path, source: Path, match: str, options: BatchOptions = OPTIONS, out: str = "out.parquet"
) -> None:
    before = names(tmp_path)
    with pytest.raises(InputError, match=match) as caught:
        plan_file(source, tmp_path / out, options)
    assert "\n" not in str(caught.value)
    assert before == names(tmp_path)


def test_files_that_cannot_be_read(tmp_path: Path, table: pa.Table) -> None:
    refused(tmp_path, tmp_path / "none.parquet", "no such file")
    (tmp_path / "text.parquet").write_text("not Parquet at all", encoding="utf-8")
    refused(tmp_path, tmp_path / "text.parquet", "cannot be read")
    whole = written(table, tmp_path / "whole.parquet").read_bytes()
    (tmp_path / "cut.parquet").write_bytes(whole[: len(whole) // 2])
    refused(tmp_path, tmp_path / "cut.parquet", "cannot be read")
    (tmp_path / "empty.csv").write_text("", encoding="utf-8")
    refused(tmp_path, tmp_path / "empty.csv", "cannot be read")
    (tmp_path / "uneven.csv").write_text("rope_diameter,grade\n3/4 in,EIP\n3/4 in\n", encoding="utf-8")
    refused(tmp_path, tmp_path / "uneven.csv", "cannot be read")
    (tmp_path / "latin.csv").write_bytes("rope_diameter,note\n3/4 in,größer\n".encode("latin-1"))
    refused(tmp_path, tmp_path / "latin.csv", "cannot be read")
    (tmp_path / "twice.csv").write_text("rope_diameter,note,note\n3/4 in,a,b\n", encoding="utf-8")
    refused(tmp_path, tmp_path / "twice.csv", "two columns have one name")
    (tmp_path / "folder").mkdir()
    refused(tmp_path, tmp_path / "folder", "no Parquet files")
    refused(tmp_path, written(table, tmp_path / "register.csv").rename(tmp_path / "register.txt"), "which form")


def test_a_file_that_breaks_off_in_its_middle_leaves_nothing(tmp_path: Path) -> None:
    rows = ["rope_diameter,grade", *["3/4 in,EIP"] * 500_000, "3/4 in"]
    refused(tmp_path, csv(tmp_path, "\n".join(rows) + "\n"), "cannot be read", BatchOptions("u-bolt", "us-ca-8-8497"))


def test_columns_that_cannot_be_planned_from(tmp_path: Path) -> None:
    refused(tmp_path, csv(tmp_path, "size,grade\n3/4 in,EIP\n"), "diameter is missing")
    number = written(pa.table({"rope_diameter": [0.75]}), tmp_path / "bare.parquet")
    refused(tmp_path, number, "without a unit")
    for unit, match in (("stone", "none that is read here"), ("kN", "none that is read here")):
        with pytest.raises(InputError, match=match):
            plan_file(number, tmp_path / "out.parquet", OPTIONS, units={"rope_diameter": unit})
    for source in (number, tmp_path / "in.csv"):
        with pytest.raises(InputError, match="not there"):
            plan_file(source, tmp_path / "out.parquet", OPTIONS, units={"base_width": "mm"})
    assert ["bare.parquet", "in.csv"] == names(tmp_path)


def test_names_that_nobody_brings(tmp_path: Path, table: pa.Table) -> None:
    source = written(table, tmp_path / "in.parquet")
    with pytest.raises(UnknownStyle):
        plan_file(source, tmp_path / "out.parquet", BatchOptions("invented", "us-ca-8-8497"))
    with pytest.raises(UnknownRuleSet):
        plan_file(source, tmp_path / "out.parquet", BatchOptions("u-bolt", "invented"))
    assert ["in.parquet"] == names(tmp_path)


def test_outputs_that_cannot_be(tmp_path: Path, table: pa.Table) -> None:
    source = written(table, tmp_path / "in.parquet")
    refused(tmp_path, source, "which form", out="out.xlsx")
    refused(tmp_path, source, "in the place of the input", out="in.parquet")
    refused(tmp_path, source, "no such folder", out="nowhere/out.parquet")
    (tmp_path / "folder.parquet").mkdir()
    refused(tmp_path, source, "a folder of this name", out="folder.parquet")
    nested = written(pa.table({"rope_diameter": ["3/4 in"], "pair": [{"a": 1}]}), tmp_path / "nested.parquet")
    refused(tmp_path, nested, "CSV cannot hold", out="out.csv")
    listed = written(pa.table({"rope_diameter": ["3/4 in"], "tags": [["a", "b"]]}), tmp_path / "listed.parquet")
    plan_file(listed, tmp_path / "out.csv", OPTIONS)
    assert "a; b" == read(tmp_path / "out.csv").column("tags")[0].as_py()


def test_strict_counts_the_whole_register_and_writes_nothing(
    tmp_path: Path, table: pa.Table, answered: pa.Table
) -> None:
    source = written(table, tmp_path / "in.parquet")
    statuses = answered.column("status").to_pylist()
    bad = sum(map(bool, statuses))
    first = next(row for row, status in enumerate(statuses) if status)
    strict = BatchOptions("u-bolt", "us-ca-8-8497", clip_body="forged", service="guy", jurisdiction="US", strict=True)
    refused(tmp_path, source, rf"{bad} of {ROWS} rows were not planned.*row {first} \(", strict)
    good = table.filter(pc.equal(answered.column("status"), 0))
    assert good.num_rows == plan_file(written(good, tmp_path / "good.parquet"), tmp_path / "o.parquet", strict).rows


def test_an_input_that_changes_while_it_is_read(tmp_path: Path, table: pa.Table) -> None:
    source = written(table, tmp_path / "in.parquet")

    def touched(done: int, rows: int | None) -> None:
        assert ROWS == rows
        os.utime(source, ns=(done, done))

    with pytest.raises(InputError, match="changed while it was read"):
        plan_file(source, tmp_path / "out.parquet", OPTIONS, watch=touched)
    assert ["in.parquet"] == names(tmp_path)


# --- a rehearsal ---


def test_a_rehearsal_counts_and_writes_nothing(tmp_path: Path, table: pa.Table, answered: pa.Table) -> None:
    for form in (".parquet", ".csv", ".arrow"):
        source = written(table, tmp_path / f"in{form}")
        before = names(tmp_path)
        tried = rehearse_file(source, tmp_path / f"out{form}", OPTIONS)
        assert (ROWS, ROWS) == (tried.rows, tried.tried)
        ok = answered.column("status").to_pylist().count(0)
        assert ok == dict(tried.statuses)["ok"]
        assert tried.seconds > 0
        assert before == names(tmp_path)
    none = rehearse_file(written(table.slice(0, 0), tmp_path / "no.parquet"), tmp_path / "out.csv", OPTIONS)
    nothing = tuple((each.name, 0) for each in BATCH_STATUSES)
    assert Rehearsal(0, 0, nothing, 0.0, none.columns, ()) == none
    with pytest.raises(InputError, match="diameter is missing"):
        rehearse_file(written(pa.table({"a": [1]}), tmp_path / "a.csv"), tmp_path / "out.csv", OPTIONS)


def test_the_watch_sees_every_block(tmp_path: Path, table: pa.Table) -> None:
    seen: list[tuple[int, int | None]] = []
    source = written(table, tmp_path / "in.parquet")
    plan_file(
        source, tmp_path / "out.parquet", OPTIONS, part_rows=256, watch=lambda done, rows: seen.append((done, rows))
    )
    assert [(256, ROWS), (512, ROWS), (ROWS, ROWS)] == seen


# --- a full disk ---


class FullDisk:
    """A file on a disk with so much room and no more."""

    def __init__(self, file: IO[bytes], room: int) -> None:
        self.file = file
        self.room = room

    def write(self, data: bytes | memoryview) -> int:
        taken = self.file.write(data[: self.room])
        self.room -= taken
        if taken < len(data):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return taken

    def __getattr__(self, name: str) -> object:
        return getattr(self.file, name)


@pytest.mark.parametrize("form", ["parquet", "csv", "arrow"])
def test_a_full_disk_leaves_nothing_half_written_and_the_run_goes_on(
    tmp_path: Path, table: pa.Table, monkeypatch: pytest.MonkeyPatch, form: str
) -> None:
    source = written(table, tmp_path / "in.parquet")
    plan_file(source, tmp_path / f"whole.{form}", OPTIONS, part_rows=64)
    whole = (tmp_path / f"whole.{form}").read_bytes()
    (tmp_path / f"out.{form}").write_text("what stood here before", encoding="utf-8")
    for room in (3, len(whole) // 4, len(whole) // 4):
        with monkeypatch.context() as patch:
            patch.setattr(resume, "open", lambda path, mode, room=room: _full(path, mode, room), raising=False)
            with pytest.raises(InputError, match="cannot be written: No space left"):
                plan_file(source, tmp_path / f"out.{form}", OPTIONS, part_rows=64, checkpoint_seconds=0)
        assert "what stood here before" == (tmp_path / f"out.{form}").read_text(encoding="utf-8")
    report = plan_file(source, tmp_path / f"out.{form}", OPTIONS, part_rows=64)
    assert 64 <= report.taken_up
    assert whole == (tmp_path / f"out.{form}").read_bytes()
    assert not list(tmp_path.glob(".*"))


def _full(path: Path, mode: str, room: int) -> IO[bytes] | FullDisk:
    file: IO[bytes] = open(path, mode)  # noqa: SIM115  # the caller closes it
    return FullDisk(file, room) if path.name == "data" else file


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of 256 KiB, where this process may make one."""
    folder = tmp_path / "small"
    folder.mkdir()
    try:
        subprocess.run(["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", folder], check=True, capture_output=True)
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("this process may not mount a file system")
    yield folder
    subprocess.run(["umount", "-l", folder], check=True)


def test_a_disk_that_is_really_full(tmp_path: Path, small_disk: Path) -> None:
    big = written(register(4000), tmp_path / "in.parquet")
    ballast = small_disk / "ballast"
    ballast.write_bytes(b"x" * (220 << 10))
    with pytest.raises(InputError, match="cannot be written: No space left"):
        plan_file(big, small_disk / "out.parquet", OPTIONS, part_rows=512, checkpoint_seconds=0)
    assert [".out.parquet.part", "ballast"] == names(small_disk)
    ballast.unlink()
    plan_file(big, small_disk / "out.parquet", OPTIONS, part_rows=512)
    plan_file(big, tmp_path / "out.parquet", OPTIONS, part_rows=512)
    assert ["out.parquet"] == names(small_disk)
    assert (tmp_path / "out.parquet").read_bytes() == (small_disk / "out.parquet").read_bytes()
