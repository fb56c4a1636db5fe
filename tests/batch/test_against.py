"""What other rules would change. 8 CCR 8497, Table 1, against 29 CFR 1926.251, Table H-20; the register is invented.

Both tables ask for the same numbers of forged clips at 3/4 and 1 in (4 and 5); the first prints turn-backs of 18 and
26 in and no spacing, the second a spacing of six rope diameters and no turn-back.
"""

from __future__ import annotations

from pathlib import Path

import attrs
import pyarrow as pa
import pytest
from tests.batch.files_register import INCH, OPTIONS, register, written

from turnback.batch import BatchOptions, plan_table
from turnback.batch.changes import LengthChange, against, against_file
from turnback.batch.files import plan_file
from turnback.errors import InputError, UnknownRuleSet

OSHA = "us-osha-1926-251"
SMALL = pa.table(
    {
        "rope_diameter": ["3/4 in", "1 in", "3/4 in", "5/16 in", None, "3/4 in"],
        "base_width": ["2-1/4 in", "3 in", "1-1/2 in", "1 in", "1 in", None],
        "grade": ["IPS"] * 6,
    }
)


def test_a_register_that_can_be_worked_out_by_hand() -> None:
    """Turn-backs with 3/4 in and clips 2-1/4 in wide, 1 in and 3 in, 3/4 in and 1-1/2 in:

    now 18 in; 26 in, lengthened to 2 x 3 + 4 x 6 = 30 in so that clips lie a base width apart; 18 in;
    then 2 x 2-1/4 + 3 x 4-1/2 = 18 in; 2 x 3 + 4 x 6 = 30 in; 2 x 1-1/2 + 3 x 4-1/2 = 16-1/2 in.
    """
    report = against(SMALL, OPTIONS, OSHA)
    shorter = 3 * INCH // 2
    assert LengthChange("turn_back_nm", 0, 1, 0, shorter, 0, shorter) == report.lengths[0]
    assert (0, 0) == (report.more_clips, report.more_rope)
    assert 6 == report.rows
    assert [row.row for row in report.first] == [0, 1, 2, 5]
    third = {name: (now, then) for name, now, then in report.first[2].changes}
    assert (18 * INCH, 33 * INCH // 2) == third["turn_back_nm"]


def test_more_and_fewer_clips_are_counted() -> None:
    """NAVEDTRA 14026, three an inch of diameter and one: 3-1/4, so 4, at 3/4 in, and 4 at 1 in. 8 CCR 8497: 4 and 5."""
    table = pa.table({"rope_diameter": ["3/4 in", "1 in", "1 in"], "construction": ["6x19"] * 3, "grade": ["IPS"] * 3})
    navy = attrs.evolve(OPTIONS, rules="us-navy-14026")
    assert ((0, 1), (1, 2)) == against(table, navy, "us-ca-8-8497").clips
    assert 2 == against(table, navy, "us-ca-8-8497").more_clips
    assert ((-1, 2), (0, 1)) == against(table, OPTIONS, "us-navy-14026").clips
    assert 0 == against(table, OPTIONS, "us-navy-14026").more_clips


def test_the_report_is_that_of_two_runs_laid_side_by_side(tmp_path: Path) -> None:
    """The same from two planned tables, row by row, in plain Python."""
    table = register(600, seed=11)
    one, two = (
        plan_table(table, style="u-bolt", rules=rules, clip_body="forged", service="guy", jurisdiction="US").to_pylist()
        for rules in ("us-ca-8-8497", OSHA)
    )
    source = written(table, tmp_path / "in.parquet")
    plan_file(source, tmp_path / "out.parquet", OPTIONS)
    report = against(table, OPTIONS, OSHA, shown=3)
    for path in (source, tmp_path / "out.parquet", written(table, tmp_path / "in.csv")):
        assert report == against_file(path, OPTIONS, OSHA, shown=3)
    pairs = [(a, b) for a, b in zip(one, two, strict=True) if a["status"] == b["status"] == 0]
    known = [
        (a["turn_back_nm"], b["turn_back_nm"]) for a, b in pairs if None not in (a["turn_back_nm"], b["turn_back_nm"])
    ]
    more = [b - a for a, b in known if b > a]
    less = [a - b for a, b in known if b < a]
    assert (
        LengthChange(
            "turn_back_nm", len(more), len(less), sum(more), sum(less), max(more, default=0), max(less, default=0)
        )
        == report.lengths[0]
    )
    assert more
    assert less
    changes = [b["clip_count"] - a["clip_count"] for a, b in pairs]
    assert tuple((each, changes.count(each)) for each in sorted(set(changes))) == report.clips
    differing = [(row, a, b) for row, (a, b) in enumerate(zip(one, two, strict=True)) if a != b]
    assert len(differing) == report.changed
    assert [row for row, _, _ in differing[:3]] == [each.row for each in report.first]
    for (_, a, b), shown in zip(differing, report.first, strict=False):
        for name, now, then in shown.changes:
            if name != "status":
                assert (a[name], b[name]) == (now, then)
        assert {name for name in a if a[name] != b[name]} - {"worst_finding"} == {n for n, _, _ in shown.changes} - {
            "worst_finding"
        }
    moved = [(a["status"], b["status"]) for a, b in zip(one, two, strict=True) if a["status"] != b["status"]]
    assert len(moved) == sum(rows for _, _, rows in report.statuses)
    assert sum(bool(a["usable"]) and not b["usable"] for a, b in zip(one, two, strict=True)) == report.no_longer_usable
    assert sum(bool(b["usable"]) and not a["usable"] for a, b in zip(one, two, strict=True)) == report.newly_usable


def test_loads_that_are_no_longer_judged_are_told_apart() -> None:
    """NAVEDTRA 14026 prints no torque, so that no strength goes with it: no load is judged. 8 CCR 8497 prints one."""
    table = pa.table(
        {
            "rope_diameter": ["3/4 in", "3/4 in", "3/4 in", "5/16 in"],
            "condition": ["new"] * 4,
            "minimum_breaking_force": ["100 kN"] * 4,
            "load": ["4 kN", None, "4 kN", "4 kN"],
        }
    )
    report = against(table, OPTIONS, "us-navy-14026")
    back = against(table, BatchOptions("u-bolt", "us-navy-14026", service="guy", jurisdiction="US"), "us-ca-8-8497")
    assert (2, 0) == (report.no_longer_judged, report.newly_judged)
    assert (0, 2) == (back.no_longer_judged, back.newly_judged)
    # The usable ones stay usable: nothing else in the report tells a load that is not judged from one that is.
    assert 0 == report.no_longer_usable
    lost = {each.column: (each.no_longer, each.newly) for each in report.given}
    found = {each.column: (each.no_longer, each.newly) for each in back.given}
    assert (3, 0) == lost["working_load_newton"] == lost["turn_back_nm"] == lost["torque_newton_metre"]
    assert {name: pair[::-1] for name, pair in lost.items()} == found
    assert "spacing_nm" not in lost  # without a base width neither gives one


def test_the_same_rules_change_nothing() -> None:
    report = against(register(300), OPTIONS, "us-ca-8-8497")
    assert (300, 0, (), (), 0, 0) == (
        report.rows, report.changed, report.first, report.statuses, report.no_longer_usable, report.newly_usable
    )  # fmt: skip
    assert {0} == {rows for _, rows in report.other_columns}
    assert {0} == {more for more, _ in report.clips}
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        report.rows = 1  # type: ignore[misc]  # it is frozen, which is what this shows


def test_batches_however_they_are_cut_and_none_at_all() -> None:
    table = register(300, seed=2)
    whole = against(table, OPTIONS, OSHA)
    assert whole == against(table.to_batches(max_chunksize=41), OPTIONS, OSHA)
    assert 0 == against(table.slice(0, 0), OPTIONS, OSHA).rows
    with pytest.raises(InputError, match="no batch"):
        against([], OPTIONS, OSHA)


def test_unknown_rules_are_refused_before_the_first_row() -> None:
    with pytest.raises(UnknownRuleSet):
        against(SMALL, OPTIONS, "invented")
    with pytest.raises(UnknownRuleSet):
        against(SMALL, BatchOptions("u-bolt", "invented"), OSHA)
