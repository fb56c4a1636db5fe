"""The exact oracle: against print, against the planner over drawn joints, against rule sets made wrong on purpose."""

from __future__ import annotations

import ast
import re
from fractions import Fraction
from pathlib import Path
from typing import Final

import attrs
import pytest
from hypothesis import settings
from tests.companies import CATALOGUE

import turnback.conformance
from turnback.conformance.oracle import Oracle, OracleAnswer, OracleCase, RopeWords, oracle_answers
from turnback.conformance.oracle_check import compare
from turnback.errors import InputError
from turnback.rules.rulefile import parse_rules

INCH: Final = Fraction(25_400_000)
MM: Final = Fraction(1_000_000)
ROOT: Final = Path(__file__).resolve().parents[2]
ROOM: Final = Path(turnback.conformance.__path__[0])
FILES: Final = {
    path.stem: path
    for path in sorted(ROOT.glob("plugins/*/src/*/rules/*.toml"))
    if not path.name.endswith(".check.toml")
}
DEEP: Final = settings().max_examples > 100
"""True under ``TURNBACK_HYPOTHESIS_PROFILE=deep``."""
EXAMPLES: Final = (100_000 if DEEP else 2_000) // 10
ALONE: Final = (
    "turnback.rules", "turnback.planning", "turnback.quantities", "turnback.mechanics", "turnback.model",
    "turnback.review", "turnback.output",
)  # fmt: skip


def rule_file(name: str) -> str:
    return FILES[name].read_text(encoding="utf-8")


def inches(length: int | None) -> Fraction | None:
    return None if length is None else length / INCH


# --- the oracle shares nothing with what it checks ---


@pytest.mark.parametrize(
    "module", ["oracle", "_oracle_reading", "_oracle_linear", "_oracle_rows", "_oracle_scope", "_oracle_drawing"]
)
def test_the_oracle_imports_nothing_of_what_it_checks(module: str) -> None:
    tree = ast.parse((ROOM / f"{module}.py").read_text(encoding="utf-8"))
    names = [alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names]
    names += [node.module or "." for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    levels = [node.level for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    called = [node.id for node in ast.walk(tree) if isinstance(node, ast.Name)]

    ours = {name for name in names if name.split(".")[0] == "turnback"}
    assert {0} == set(levels)
    assert set() == {name for name in called if name in ("__import__", "eval", "exec", "import_module")}
    assert set() == {
        name
        for name in ours
        if name != "turnback.errors" and not re.fullmatch(r"turnback\.conformance\.(_oracle_\w+|oracle)", name)
    }


def test_every_module_of_the_oracle_is_looked_at() -> None:
    looked_at = {"oracle", "oracle_check"} | {
        "_oracle_reading", "_oracle_linear", "_oracle_rows", "_oracle_scope", "_oracle_drawing",
    }  # fmt: skip
    assert looked_at == {path.stem for path in ROOM.glob("*oracle*.py")}


# --- against print ---


@pytest.mark.parametrize(
    ("size", "count", "turn_back"),
    [("1/2", 3, "23/2"), ("3/4", 4, "18"), ("1", 5, "26"), ("3/2", 7, "48"), ("2", 8, "71")],
)
def test_table_1(size: str, count: int, turn_back: str) -> None:
    """8 CCR 8497, Table 1 (read)."""
    answer = oracle_answers(rule_file("us-ca-8-8497"), OracleCase(Fraction(size) * INCH))
    assert (count, Fraction(turn_back)) == (answer.count, inches(answer.turn_back))


@pytest.mark.parametrize(("size", "count"), [("1", 4), ("1/2", 3)])
def test_three_an_inch_and_one_more(size: str, count: int) -> None:
    """NAVEDTRA 14026, page 1-8: 1 in gives 4; 1/2 in gives 2-1/2, so 3."""
    assert count == oracle_answers(rule_file("us-navy-14026"), OracleCase(Fraction(size) * INCH)).count


def test_one_more_clip_for_a_pulley_and_the_turn_back_in_proportion() -> None:
    """TM 5-3810-305-10, Table 6 and notes: 3 clips and 11 in at 1/2 in; 4 clips, so 11 x 4/3 in."""
    answer = oracle_answers(rule_file("us-army-3810-305"), OracleCase(INCH / 2, kind="pulley eye"))
    # 11 x 4/3 x 25 400 000 nm = 372 533 333 1/3 nm, rounded up.
    assert (4, 372_533_334) == (answer.count, answer.turn_back)


def test_the_metric_table_takes_ranges_and_a_splice_has_twice_the_grips() -> None:
    """EN 13411-5, Annex A: 4 grips at 10 mm, 8 in a joint of two ropes; 1.5 base widths clear (memory)."""
    oracle = Oracle.read(rule_file("en-13411-5"))
    for diameter, counts in ((Fraction(8_000_001), (4, 8)), (10 * MM, (4, 8)), (6_500_000 * Fraction(1), (3, 6))):
        eye = oracle.answer(OracleCase(diameter, base_width=20 * MM))
        splice = oracle.answer(OracleCase(diameter, kind="lap splice", base_width=20 * MM))
        assert counts == (eye.count, splice.count)
        # Centres 1.5 x 20 + 20 = 50 mm apart; two base widths and the gaps between the grips make the turn-back.
        assert 40 * MM + (counts[0] - 1) * 50 * MM == eye.turn_back
        assert max(2 * (eye.turn_back or 0), 60 * MM + (counts[1] - 1) * 50 * MM) == splice.turn_back


def test_a_body_that_is_not_given_takes_the_stricter_column() -> None:
    """29 CFR 1926.251, Table H-2 at 1/2 in: 3 forged, 4 of other material, 3 in apart."""
    oracle = Oracle.read(rule_file("us-osha-1926-251"))
    counts = [oracle.answer(OracleCase(INCH / 2, body)).count for body in ("forged", "other", "not given")]
    assert [3, 4, 4] == counts
    answer = oracle.answer(OracleCase(INCH / 2, "forged", base_width=INCH))
    assert (Fraction(8), Fraction(3)) == (inches(answer.turn_back), inches(answer.spacing))


def test_two_clips_are_lifted_to_the_floor_of_three() -> None:
    """WorkSafeNB sample table: 5/16 in prints 2 clips and 5-1/2 in; at least three clips for any eye."""
    answer = oracle_answers(rule_file("ca-nb-clips"), OracleCase(5 * INCH / 16))
    assert (3, Fraction("5.5") * 3 / 2) == (answer.count, inches(answer.turn_back))


@pytest.mark.parametrize(
    ("file", "case", "why"),
    [
        ("us-ca-8-8497", OracleCase(13 * MM), "size"),
        ("us-ca-8-8497", OracleCase(INCH / 2 + 1), "size"),
        ("us-ca-8-8497", OracleCase(INCH / 2, rope=RopeWords(lay="left regular")), "scope"),
        ("us-navy-14026", OracleCase(INCH / 8 - 1), "size"),
        ("us-ca-8-8497", OracleCase(INCH / 2, base_width=23 * INCH / 8 + 1), "room"),
        ("en-13411-5", OracleCase(5 * MM - 1), "size"),
        ("common-practice-single-plate", OracleCase(5 * MM, kind="plate eye", extra=1), "extra"),
    ],
)
def test_what_cannot_be_made_is_refused(file: str, case: OracleCase, why: str) -> None:
    # At 1/2 in, 3 clips side by side and the end allowance take 4 base widths of 11-1/2 in, so 2-7/8 in each.
    assert OracleAnswer(refused=why) == oracle_answers(rule_file(file), case)


def test_clips_that_just_touch_are_set_apart() -> None:
    """The last base width that is not refused; one base width apart then lengthens 11-1/2 in to 6 base widths."""
    answer = oracle_answers(rule_file("us-ca-8-8497"), OracleCase(INCH / 2, base_width=23 * INCH / 8))
    assert (Fraction(6 * 23, 8), Fraction(23, 4)) == (inches(answer.turn_back), inches(answer.spacing))


def test_a_rope_of_the_counts_has_no_length() -> None:
    """8 CCR 8497, notes to Table 1: of 19x7 the counts alone, to 1-3/4 in."""
    oracle = Oracle.read(rule_file("us-ca-8-8497"))
    rope = RopeWords("19x7", "", "EIP", "right regular")
    assert OracleAnswer(7, counts_only=True) == oracle.answer(OracleCase(7 * INCH / 4, base_width=INCH, rope=rope))
    assert OracleAnswer(refused="scope") == oracle.answer(OracleCase(2 * INCH, rope=rope))


def test_large_outer_wires_from_one_inch() -> None:
    """8 CCR 8497, notes to Table 1: one more clip; 5 clips in 26 in at 1 in, 4 in 19 in at 7/8 in."""
    oracle = Oracle.read(rule_file("us-ca-8-8497"))
    seale = RopeWords("6x19S")
    answers = [oracle.answer(OracleCase(size, rope=seale)) for size in (INCH, 7 * INCH / 8)]
    assert [(6, Fraction(26) * 6 / 5), (4, Fraction(19))] == [(a.count, inches(a.turn_back)) for a in answers]


INVENTED: Final = """
format = 1
id = "invented"
style = "u-bolt"
title = "Invented: no such sheet exists"

[source]
id = "invented"
document = "Invented sheet"
status = "user"

[count]
rule = "3 for every size"

[spacing]
measured = "clear"
"""


@pytest.mark.parametrize(
    ("bound", "width", "expected"),
    [
        # Clear 1.5 x 7 = 10.5, so 17.5 between centres: 18; 2 x 7 + 2 x 18.
        ('least = "1.5 base widths"', 7, (50, 18)),
        ('equal = "1.5 base widths"', 7, (50, 18)),
        # Two base widths are more than what the sheet asks for: 2 x 7 + 2 x 14.
        ('least = "0.5 base widths"', 7, (42, 14)),
        # Clear at most 0.9 base widths leaves no whole base width between two clips.
        ('greatest = "0.9 base widths"', 7, "bounds"),
        # A greatest distance alone makes no turn-back.
        ('greatest = "3 base widths"', 7, (None, None)),
    ],
)
def test_bounds_are_rounded_to_the_safe_side(bound: str, width: int, expected: tuple[int, int] | str) -> None:
    answer = oracle_answers(INVENTED + bound, OracleCase(Fraction(1), base_width=Fraction(width)))
    assert expected == (answer.refused or (answer.turn_back, answer.spacing))


@pytest.mark.parametrize("text", ["size = 1/2", "rows = [ {} ]", 'rows = [ { size = "1/2" } ]', "count = {}\nrows = 3"])
def test_a_file_that_cannot_be_read_is_an_error_of_ours(text: str) -> None:
    with pytest.raises(InputError, match="the oracle cannot read"):
        Oracle.read(text)


# --- against the planner ---


@pytest.mark.parametrize("name", sorted(FILES))
def test_the_planner_agrees_with_the_oracle(name: str) -> None:
    found = compare(rule_file(name), examples=EXAMPLES, seed=20251125, catalogue=CATALOGUE)
    assert () == tuple(map(str, found.differences))
    assert (EXAMPLES, 0, 0, True) == (found.cases, found.found, found.set_aside, found.agree)
    # Not green for want of anything to compare: some are planned, and every file refuses something.
    assert found.planned > EXAMPLES // 3
    assert found.lengths > EXAMPLES // 8
    assert found.spacings > EXAMPLES // 8 or Oracle.read(rule_file(name)).style.endswith("-plate")
    assert found.refused


def test_the_files_are_all_there() -> None:
    assert {rules.id for rules in CATALOGUE.rule_sets if not rules.is_basis} == set(FILES)
    assert EXAMPLES * len(FILES) in (2_000, 100_000)


def test_the_same_seed_draws_the_same_joints() -> None:
    wrong = attrs.evolve(parse_rules(rule_file("ca-nb-clips")), floors=())
    one, same, other = (
        compare(rule_file("ca-nb-clips"), examples=300, seed=seed, rules=wrong, catalogue=CATALOGUE)
        for seed in (1, 1, 2)
    )
    assert one == same
    assert one.differences != other.differences


SHEET, LEAFLET = re.findall(
    r"```toml\n(.*?)```", (ROOT / "docs/how-to/write-a-rule-file.md").read_text(encoding="utf-8"), re.DOTALL
)[:2]
"""The two invented files of the how-to page."""
_COUNTS_ENTRY: Final = re.compile(r'\[\[scope\]\]\nfor = "counts".*?(?=\n\[)', re.DOTALL)
_GREATEST: Final = 'greatest = "8 diameters + 1 in"\n'
_CLEAR: Final = 'least = "1.5 base widths"\ngreatest = "3 base widths"\n'


def without(text: str, part: str) -> str:
    assert part in text
    return text.replace(part, "")


def counts_first(text: str) -> str:
    head, everything, *counts, tail = re.split(r"(?=\[\[scope\]\]|\[adjustments\])", text)
    return "".join((head, *counts, everything, tail))


@pytest.mark.parametrize(
    "text",
    [
        LEAFLET,
        # Turn-back and spacing in one row, two columns of counts, ranges of sizes.
        without(_COUNTS_ENTRY.sub("", SHEET), _GREATEST),
        without(LEAFLET, _CLEAR) + 'least = "0.7 diameters + 0.4 base widths"\ngreatest = "4 diameters + 3 mm"\n',
    ],
    ids=["leaflet", "sheet", "bounds of two kinds"],
)
def test_invented_files_agree(text: str) -> None:
    found = compare(text, examples=1_000, seed=4, catalogue=CATALOGUE)
    assert () == tuple(map(str, found.differences))
    assert found.spacings > 200


ONE_CLIP: Final = (
    without(
        without(INVENTED, '[count]\nrule = "3 for every size"\n').replace(
            "[source]",
            """rows = [ { size = "1/2", count = 1, turn_back = 4 } ]

[units]
size = "in"
turn_back = "in"

[source]""",
        ),
        'measured = "clear"\n',
    )
    + 'measured = "centre to centre"\ngreatest = "5 diameters"\n'
)
# Three clips in 12-1/4 in: more than 3 greatest distances of 4 in, less than 3-1/4 of them.
SPLICE: Final = ONE_CLIP.replace("count = 1, turn_back = 4", 'count = 3, turn_back = "12-1/4"').replace(
    "5 diam", "8 diam"
)


# Here oracle and planner differ; what the design says is beside each. When the planner is mended, the mark goes.
@pytest.mark.parametrize(
    "text",
    [
        # Section 5: an entry for counts alone gives no spacing, and so no turn-back.
        pytest.param(without(SHEET, _GREATEST), id="a spacing for a rope of the counts"),
        # How-to page: any one entry is enough, so the order of the entries changes nothing.
        pytest.param(counts_first(rule_file("us-ca-8-8497")), id="counts before everything"),
        # Section 7.4: turn-back >= 2 b + (n - 1) s; the planner rounds an equal distance down before it multiplies.
        pytest.param(without(LEAFLET, _CLEAR) + 'equal = "1.5 base widths"\n', id="an equal distance rounded down"),
        # Section 7.4: a splice of 3 b + (2 n - 1) s can be made where the eye of n clips cannot.
        pytest.param(SPLICE, id="an unmeasured splice refused"),
        # Section 7.4: one clip has no s, so no greatest distance refuses it.
        pytest.param(ONE_CLIP, id="an unmeasured single clip refused"),
    ],
)
def test_where_the_planner_once_departed_from_the_design(text: str) -> None:
    assert compare(text, examples=3_000, seed=3, catalogue=CATALOGUE).agree


@pytest.mark.parametrize(("examples", "file"), [(0, "us-navy-14026"), (-1, "us-navy-14026"), (True, "us-navy-14026")])
def test_nothing_to_compare_is_an_error(examples: int, file: str) -> None:
    with pytest.raises(InputError, match="number of joints"):
        compare(rule_file(file), examples=examples, seed=1)
