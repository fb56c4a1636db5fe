"""Which columns a run reads, as what, and what it says of a slip in a name or of a number without a unit."""

from __future__ import annotations

from pathlib import Path

import pyarrow as pa
import pytest
from tests.batch.files_register import OPTIONS, written

from turnback.batch import INPUT_COLUMNS, ColumnRead, plan_table
from turnback.batch.column_use import column_use
from turnback.batch.columns import bind
from turnback.batch.explaining import explain_row
from turnback.batch.files import plan_file, rehearse_file
from turnback.batch.near_names import meant_by
from turnback.errors import InputError
from turnback.review.register import REGISTER_COLUMNS

SPELLINGS = [name for column in INPUT_COLUMNS for name in dict.fromkeys((column.name, column.exact_name))]


def csv(folder: Path, text: str) -> Path:
    path = folder / "in.csv"
    path.write_text(text, encoding="utf-8")
    return path


# --- names that are near a known one ---


@pytest.mark.parametrize(
    ("name", "meant", "unit"),
    [
        ("desing_factor", "design_factor", ""),
        ("design_facto", "design_factor", ""),
        ("Load", "load", ""),
        ("loads", "load", ""),
        ("base-width", "base_width", ""),
        ("Base Width (mm)", "base_width", "mm"),
        ("baseWidth", "base_width", ""),
        ("base_width_mm", "base_width", "mm"),
        ("span_m", "span", "m"),
        ("load_kn", "load", "kN"),
        ("rope_diametr_nm", "rope_diameter_nm", ""),
        ("graed", "grade", ""),
        ("pins", "pin", ""),
        ("guy", "", ""),
        ("note", "", ""),
        ("id", "", ""),
        ("pi", "", ""),
        ("score_of_the_year", "", ""),
    ],
)
def test_names_that_may_be_a_slip(name: str, meant: str, unit: str) -> None:
    assert (meant, unit) == meant_by(name, SPELLINGS)


@pytest.mark.parametrize("known", SPELLINGS)
def test_every_name_is_found_again_in_capitals_and_with_two_letters_changed_over(known: str) -> None:
    assert (known, "") == meant_by(known.upper(), SPELLINGS)
    if len(known) > 3:
        assert (known, "") == meant_by(known[1] + known[0] + known[2:], SPELLINGS)


def test_the_other_columns_of_our_own_register_are_no_slips() -> None:
    """Those of ``write_register_csv`` that are not inputs, such as who made the joint and who checked it."""
    others = [name for name in REGISTER_COLUMNS if name not in SPELLINGS]
    assert len(others) > 20
    assert [] == [name for name in others if meant_by(name, SPELLINGS)[0]]


# --- what is made of the columns ---

FIELDS = pa.schema(
    [
        pa.field("guy", pa.string()),
        pa.field("rope_diameter", pa.string()),
        pa.field("base_width", pa.float64(), metadata={"unit": "mm"}),
        pa.field("inside_length_nm", pa.int64()),
        pa.field("inside_width_nm", pa.float64()),
        pa.field("load_newton", pa.float64()),
        pa.field("design_factor", pa.float64()),
        pa.field("extra_clips", pa.int8()),
        pa.field("preformed", pa.bool_()),
        pa.field("grade", pa.string()),
        pa.field("core", pa.null()),
        pa.field("Extra-Clips", pa.int8()),
        pa.field("span_mm", pa.float64()),
        pa.field("pin_kn", pa.float64()),
        pa.field("srevice", pa.string()),
    ]
)


def test_each_column_is_named_with_what_it_is_read_as() -> None:
    use = column_use(FIELDS, bind(FIELDS, OPTIONS.__class__("u-bolt", "us-ca-8-8497"), ()))
    assert {
        ColumnRead("rope_diameter", "text with units"),
        ColumnRead("base_width", "numbers in mm"),
        ColumnRead("inside_length_nm", "whole numbers in nm"),
        ColumnRead("inside_width_nm", "whole numbers in nm"),
        ColumnRead("load_newton", "numbers in N"),
        ColumnRead("design_factor", "numbers"),
        ColumnRead("extra_clips", "whole numbers"),
        ColumnRead("preformed", "true or false"),
        ColumnRead("grade", "words"),
        ColumnRead("core", "nothing: every cell is empty"),
    } == set(use.read)
    assert ("guy", "Extra-Clips", "span_mm", "pin_kn", "srevice") == use.unread
    # extra_clips is there already, so that another spelling of it is the user's own column.
    assert (
        "column 'span_mm' is not read; did you mean span, with --unit span=mm?",
        "column 'pin_kn' is not read; did you mean pin?",
        "column 'srevice' is not read; did you mean service?",
    ) == use.warnings


def test_a_run_and_a_rehearsal_tell_it(tmp_path: Path) -> None:
    source = csv(tmp_path, "guy,rope_diameter,desing_factor\nnorth,3/4 in,20\n")
    tried = rehearse_file(source, tmp_path / "out.csv", OPTIONS)
    done = plan_file(source, tmp_path / "out.csv", OPTIONS)
    said = ("column 'desing_factor' is not read; did you mean design_factor?",)
    assert said == tried.warnings == done.warnings
    assert tried.columns == done.columns
    assert ("guy", "desing_factor") == done.columns.unread


@pytest.mark.parametrize(
    ("columns", "near"),
    [
        (["guy", "size"], "Was 'size' meant?"),
        (["guy", "rope_diametr_nm", "size"], "Was 'rope_diametr_nm' meant?"),
        (["Rope Diameter", "diameter_of_pin"], "Was 'Rope Diameter' meant?"),
        (["d_mm", "dia_mm"], "Was 'dia_mm' meant?"),
        (["guy", "note"], "note. Name it rope_diameter_nm"),
    ],
)
def test_without_a_size_the_nearest_column_is_named(columns: list[str], near: str) -> None:
    with pytest.raises(InputError, match="diameter is missing") as caught:
        plan_table(pa.table({name: ["3/4 in"] for name in columns}), style="u-bolt", rules="us-ca-8-8497")
    assert near in str(caught.value)
    assert ("Was" in near) == ("Was" in str(caught.value))


# --- numbers without a unit ---


def test_bare_numbers_in_csv_name_the_option_and_how_it_is_written(tmp_path: Path) -> None:
    text = "rope_diameter,base_width,load\n3/4 in,57.15,5\n3/4 in,2-1/4 in,5 kN\n3/4 in,60,5 kN\n3/4 in,wide,5 kN\n"
    source = csv(tmp_path, text)
    for told in (
        rehearse_file(source, tmp_path / "out.csv", OPTIONS).warnings,
        plan_file(source, tmp_path / "out.csv", OPTIONS, part_rows=1).warnings,
    ):
        width, load = told
        assert "'base_width' holds a number without a unit in 2 rows" in width
        assert width.endswith("--unit base_width=mm")
        assert "'load' holds a number without a unit in 1 row," in load
        assert load.endswith("--unit load=kN")
    error = str(explain_row(source, 2, OPTIONS).error)
    assert "Given: '60'" in error
    assert "--unit base_width=mm" in error
    assert "--unit" not in str(explain_row(source, 3, OPTIONS).error)


def test_bare_numbers_kept_as_text_elsewhere_are_written_in_the_cell(tmp_path: Path) -> None:
    source = written(pa.table({"rope_diameter": ["19.05", "3/4 in"]}), tmp_path / "in.parquet")
    (said,) = plan_file(source, tmp_path / "out.parquet", OPTIONS).warnings
    assert "Write the unit in each cell" in said


@pytest.mark.parametrize("form", ["csv", "parquet"])
def test_a_good_register_has_no_warnings(tmp_path: Path, form: str) -> None:
    source = written(
        pa.table({"rope_diameter": ["3/4 in", None, "half"], "guy": ["1", "2", "3"]}), tmp_path / f"i.{form}"
    )
    done = plan_file(source, tmp_path / f"out.{form}", OPTIONS)
    assert (("guy",), ()) == (done.columns.unread, done.warnings)


@pytest.mark.parametrize("form", ["csv", "parquet"])
def test_a_unit_for_a_column_that_is_not_there_names_the_nearest(tmp_path: Path, form: str) -> None:
    source = written(pa.table({"rope_diameter": ["3/4 in"], "base_width": ["57"]}), tmp_path / f"in.{form}")
    with pytest.raises(InputError, match="Did you mean base_width=mm") as caught:
        plan_file(source, tmp_path / "out.csv", OPTIONS, units={"basewidth": "mm"})
    assert "not there" in str(caught.value)
    with pytest.raises(InputError, match="not there") as caught:
        plan_file(source, tmp_path / "out.csv", OPTIONS, units={"nothing": "mm"})
    assert "Did you mean" not in str(caught.value)


@pytest.mark.parametrize("sign", [";", "\t"])
def test_columns_parted_by_another_sign(tmp_path: Path, sign: str) -> None:
    source = csv(tmp_path, f"rope_diameter{sign}grade\n3/4 in{sign}EIP\n")
    with pytest.raises(InputError, match="another sign than a comma") as caught:
        plan_file(source, tmp_path / "out.csv", OPTIONS)
    assert repr(sign) in str(caught.value)


# --- units that contradict ---


@pytest.mark.parametrize("form", ["parquet", "arrow"])
def test_a_unit_that_goes_against_the_file_is_refused(tmp_path: Path, form: str) -> None:
    """2.25 in and 2.25 mm are both lengths; nothing but the file says which."""
    fields = pa.schema([("rope_diameter", pa.string()), pa.field("base_width", pa.float64(), metadata={"unit": "in"})])
    source = written(pa.table({"rope_diameter": ["3/4 in"], "base_width": [2.25]}, fields), tmp_path / f"in.{form}")
    with pytest.raises(InputError, match="names another unit") as caught:
        plan_file(source, tmp_path / "out.parquet", OPTIONS, units={"base_width": "mm"})
    assert "base_width=mm" in str(caught.value)
    assert "in, in the field's metadata" in str(caught.value)
    assert not (tmp_path / "out.parquet").exists()
    same = plan_file(source, tmp_path / "out.parquet", OPTIONS, units={"base_width": "in"})
    assert 1 == dict(same.statuses)["ok"]


# --- cells are named as they were written ---


@pytest.mark.parametrize(
    ("name", "unit", "value", "given"),
    [
        ("base_width", "mm", -3.0, "Given: -3 mm."),
        ("base_width", "in", -0.25, "Given: -0.25 in."),
        ("rope_diameter", "mm", 400.0, "Given: 400 mm."),
        ("load", "kN", -3.0, "Given: -3 kN."),
        ("load", "lbf", 0.0, "Given: 0 lbf."),
        ("included_angle", "deg", 170.0, "Given: 170 deg."),
    ],
)
def test_a_number_is_shown_in_the_unit_of_its_column(
    tmp_path: Path, name: str, unit: str, value: float, given: str
) -> None:
    columns = {"rope_diameter": "3/4 in", name: str(value)}
    source = csv(tmp_path, ",".join(columns) + "\n" + ",".join(columns.values()) + "\n")
    options = OPTIONS.__class__("u-bolt", "us-ca-8-8497", "pulley eye")
    found = explain_row(source, 0, options, units={name: unit})
    assert "value-out-of-bounds" == found.status.name
    assert given in str(found.error)
    assert str(found.error).startswith(f"{name}: ")


def test_a_count_of_nanometres_is_shown_as_it_stands(tmp_path: Path) -> None:
    source = written(pa.table({"rope_diameter_nm": [-3_000_000]}), tmp_path / "in.parquet")
    assert "Given: -3000000 nm." in str(explain_row(source, 0, OPTIONS).error)
