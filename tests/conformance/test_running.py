"""The kit's frame: laws run in order, nothing green in silence, waivers that bite and waivers that do not."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

import pytest
from hypothesis import strategies as st

from turnback.conformance.effort import Effort
from turnback.conformance.law import Breakage, Law, Proof, Search, always
from turnback.conformance.laws import LAWS
from turnback.conformance.laws_tables import TABLE_LAWS
from turnback.conformance.outcome import Outcome
from turnback.conformance.running import run_laws
from turnback.conformance.subject import Subject, parsed
from turnback.conformance.waiving import checked_waivers
from turnback.errors import InputError

SHORT = Effort("quick", 50, 50)

# An invented table that keeps every law: count, turn-back and torque rise, and 18 in hold 4 clips of 1 in and more.
TABLE = """
format = 1
id = "invented-sheet"
style = "u-bolt"
title = "Invented table, not for use"
rows = [
    {{ size = "1/2", count = 3, turn_back = "12", torque = 60 }},
    {{ size = "3/4", count = {count}, turn_back = "{turn_back}", torque = {torque} }},
    {{ size = "1", count = 5, turn_back = "26", torque = 220 }},
]
{more}
[source]
id = "invented"
document = "Invented Institute, sheet 1"
edition = "1"
issuer = "Invented Institute"
locator = "Table 1"
status = "user"

[units]
size = "in"
turn_back = "in"
torque = "lbf·ft"

[threads]
condition = "dry"
"""


def sheet(count: int = 4, turn_back: str = "18", torque: int = 130, more: str = "") -> Subject:
    return parsed(TABLE.format(count=count, turn_back=turn_back, torque=torque, more=more))


def outcomes(subject: Subject, laws: tuple[Law, ...] = TABLE_LAWS) -> dict[str, Outcome]:
    return {outcome.law: outcome for outcome in run_laws(subject, laws, SHORT, 1)}


def states(subject: Subject) -> dict[str, str]:
    return {name: outcome.state for name, outcome in outcomes(subject).items()}


def waiver(law: str, row: str) -> str:
    return f'waivers = [{{ law = "{law}", row = "{row}", reason = "printed so", locator = "Table 1" }}]\n'


# --- tables are proved ---


def test_a_table_that_keeps_every_law_is_proved_cell_by_cell() -> None:
    found = outcomes(sheet())
    assert {"failed"} & {each.state for each in found.values()} == set()
    assert {"proved"} == {each.strength for each in found.values() if each.state == "passed"}
    # Two pairs of neighbours in one column of counts; three rows with a turn-back.
    assert 2 == found["count-never-falls"].amount
    assert 3 == found["turn-back-covers-clips"].amount


@pytest.mark.parametrize(
    ("law", "subject", "expected", "got"),
    [
        ("count-never-falls", sheet(count=2), "at least 3 clips, as 1/2 in (12.7 mm) has", "2"),
        ("torque-never-falls", sheet(torque=59), "at least 60 lbf·ft (≈ 81.35 N·m)", "59 lbf·ft (≈ 79.99 N·m)"),
        # Four clips of a base of 3/4 in, 1-1/2 in apart: 2 x 3/4 + 3 x 1-1/2 = 6 in.
        (
            "turn-back-covers-clips",
            sheet(turn_back="5-15/16"),
            "at least 6 in (152.4 mm)",
            "5-15/16 in (150.8125 mm)",
        ),
    ],
)
def test_a_broken_law_names_row_expected_and_got(law: str, subject: Subject, expected: str, got: str) -> None:
    found = outcomes(subject)[law]
    assert "failed" == found.state
    assert "3/4 in (19.05 mm)" == found.breakages[0].row
    assert expected == found.breakages[0].expected
    assert got == found.breakages[0].got
    assert "Invented Institute, sheet 1" in found.breakages[0].citation


# --- waivers ---


def test_a_waiver_of_the_row_that_breaks_a_law_waives_it_and_carries_what_breaks_it() -> None:
    found = outcomes(sheet(count=2, more=waiver("count-never-falls", "3/4")))["count-never-falls"]
    assert "waived" == found.state
    assert not found.fails
    assert "printed so" in found.reason
    assert ["3/4 in (19.05 mm)"] == [each.row for each in found.breakages]


def test_a_waiver_that_no_longer_bites_is_a_failure() -> None:
    found = outcomes(sheet(more=waiver("count-never-falls", "3/4")))["count-never-falls"]
    assert "failed" == found.state
    assert "take the waiver out" in found.breakages[0].got


def test_a_waiver_of_another_row_waives_nothing() -> None:
    assert "failed" == states(sheet(count=2, more=waiver("count-never-falls", "1")))["count-never-falls"]


def test_a_waiver_of_no_law_names_the_nearest() -> None:
    with pytest.raises(InputError, match="Did you mean count-never-falls") as caught:
        checked_waivers(sheet(more=waiver("count-never-fals", "3/4")), LAWS)
    assert "waivers[0].law" == caught.value.field


@pytest.mark.parametrize("law", ["rows-answer", "row-edges", "file-reads-the-same", "saddles-on-the-live-part"])
def test_what_no_document_can_break_is_not_waived(law: str) -> None:
    with pytest.raises(InputError, match="cannot be waived"):
        checked_waivers(sheet(more=waiver(law, "3/4")), LAWS)


# --- searched laws ---


def searching(
    judge: Callable[[Subject, int], Breakage | Literal["kept"] | None],
    name: str = "invented-law",
    after: tuple[str, ...] = (),
    applies: Callable[[Subject], str] = always,
) -> Law:
    search = Search(lambda _: st.integers(0, 1000), judge)
    return Law(name, "An invented law.", search=search, after=after, applies=applies)


def test_a_search_shrinks_to_the_smallest_case_and_counts_what_it_judged() -> None:
    def judge(_: Subject, case: int) -> Breakage | Literal["kept"]:
        return Breakage("below 7", str(case), "invented") if case >= 7 else "kept"

    found = outcomes(sheet(), (searching(judge),))["invented-law"]
    assert "failed" == found.state
    assert "7" == found.breakages[0].got


def test_a_search_that_keeps_says_how_many_examples_it_judged() -> None:
    found = outcomes(sheet(), (searching(lambda _, case: "kept" if case % 2 else None),))["invented-law"]
    assert "passed" == found.state
    assert "searched" == found.strength
    assert 0 < found.amount < SHORT.examples


def test_a_search_that_judges_nothing_is_not_reached_and_that_is_a_failure() -> None:
    found = outcomes(sheet(), (searching(lambda _, case: None),))["invented-law"]
    assert "not reached" == found.state
    assert found.fails


@pytest.mark.parametrize("error", [RuntimeError("no answer"), SystemExit(3), RecursionError(), GeneratorExit()])
def test_whatever_a_plugin_raises_is_a_breakage(error: BaseException) -> None:
    def judge(_: Subject, case: int) -> Literal["kept"]:
        raise error

    found = outcomes(sheet(), (searching(judge),))["invented-law"]
    assert "failed" == found.state
    assert type(error).__name__ in found.breakages[0].got


def test_a_rule_set_that_answers_otherwise_each_time_is_a_breakage_too() -> None:
    calls: list[int] = []

    def judge(_: Subject, case: int) -> Breakage | Literal["kept"]:
        calls.append(case)
        return Breakage("the same again", "another answer", "invented") if len(calls) == 20 else "kept"

    assert "failed" == outcomes(sheet(), (searching(judge),))["invented-law"].state


def test_a_law_that_builds_on_a_broken_one_is_blocked_and_not_failed_again() -> None:
    broken = Law("basic", "A basic law.", proof=lambda _: Proof(1, (Breakage("a", "b", "c"),)))
    found = outcomes(sheet(), (broken, searching(lambda _, case: "kept", after=("basic",))))
    assert "failed" == found["basic"].state
    assert "blocked" == found["invented-law"].state
    assert "it builds on basic" == found["invented-law"].reason


def test_a_law_that_does_not_apply_says_why() -> None:
    found = outcomes(sheet(), (searching(lambda _, case: "kept", applies=lambda _: "it has no splice"),))
    assert ("not applicable", "it has no splice") == (found["invented-law"].state, found["invented-law"].reason)
    assert not found["invented-law"].fails


def test_the_same_seed_gives_the_same_outcome_and_another_law_changes_no_draws() -> None:
    drawn: list[list[int]] = []

    def judge(_: Subject, case: int) -> Literal["kept"]:
        drawn[-1].append(case)
        return "kept"

    law, other = searching(judge), searching(lambda _, case: "kept", name="another-law")
    for laws in ((law,), (law,), (other, law)):
        drawn.append([])
        outcomes(sheet(), laws)
    assert drawn[0] == drawn[1] == drawn[2]


def test_a_law_is_proved_or_searched_and_never_both() -> None:
    with pytest.raises(InputError, match="either proved or searched"):
        Law("neither", "Nothing.")


def test_laws_have_one_name_each_and_build_on_laws_that_come_before_them() -> None:
    names = [law.id for law in LAWS]
    assert len(names) == len(set(names))
    for number, law in enumerate(LAWS):
        assert set(law.after) <= set(names[:number])
        assert law.sentence.endswith(".")
