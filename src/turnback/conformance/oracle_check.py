"""The comparison of the planner with the exact oracle, over drawn joints."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from random import Random
from typing import Final

import attrs

from turnback.conformance._oracle_drawing import drawn_cases
from turnback.conformance.oracle import Oracle, OracleAnswer, OracleCase
from turnback.errors import Conflict, InputError, OutOfScope, OutOfTable, TurnbackError
from turnback.model.absent import Absent
from turnback.model.rope import Rope
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    ThimbleEye,
)
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet

__all__ = ["Comparison", "Difference", "compare"]

_EYES: Final[dict[str, Termination]] = {
    each.kind: each for each in (ThimbleEye(), SoftEye(), PulleyEye(), LinkedEyes(), LapSplice(), PlateEye())
}
_REFUSALS: Final[dict[str, type[TurnbackError]]] = {
    "size": OutOfTable,
    "scope": OutOfScope,
    "count": InputError,
    "extra": InputError,
    "bounds": Conflict,
    "room": InputError,
}
_KEPT: Final = 20
"""Differences kept with all they say; the rest are counted [-]."""


@attrs.frozen
class Difference:
    """One joint on which the planner and the oracle differ.

    Args:
        case: The joint.
        what: ``count``, ``turn-back``, ``spacing``, ``scope`` or ``refusal``.
        expected: The oracle's answer, lengths in nanometres.
        got: The planner's, lengths in nanometres.
    """

    case: OracleCase
    what: str
    expected: str
    got: str

    def __str__(self) -> str:
        case, rope = self.case, self.case.rope
        width = "no base width" if case.base_width is None else f"base width {_millimetres(case.base_width)}"
        words = [
            _millimetres(case.diameter),
            rope.construction,
            rope.core,
            rope.grade,
            rope.lay,
            {None: "", True: "rotation-resistant", False: "not rotation-resistant"}[rope.rotation_resistant],
            {None: "", True: "large outer wires", False: "ordinary outer wires"}[case.large_wires],
        ]
        joint = f"{' '.join(filter(None, words))}, {case.kind}, clip body {case.body}, {case.extra} more clips, {width}"
        return f"{self.what}: {joint}: the rule file gives {self.expected}, the plan {self.got}"


@attrs.frozen
class Comparison:
    """What a comparison found.

    Args:
        cases: Joints compared [-].
        planned: Of these, joints that the oracle says can be made [-].
        refused: Why the oracle refused the others, with how many of each [-].
        lengths: Of the planned ones, those with a turn-back to compare [-].
        spacings: Of the planned ones, those with a spacing to compare [-].
        set_aside: Joints left out because the service adds demands of its own [-].
        found: How many joints differ [-].
        differences: The first of them.
    """

    cases: int
    planned: int
    refused: tuple[tuple[str, int], ...]
    lengths: int
    spacings: int
    set_aside: int
    found: int
    differences: tuple[Difference, ...]

    @property
    def agree(self) -> bool:
        """Whether there was something to compare and no joint differed."""
        return self.cases > 0 and self.found == 0


def compare(
    rule_file_text: str,
    *,
    examples: int,
    seed: int,
    rules: RuleSet | None = None,
    catalogue: Catalogue | None = None,
) -> Comparison:
    """Plan drawn joints and compare each with the exact oracle.

    Args:
        rule_file_text: The text of the rule file.
        examples: Joints to draw [-].
        seed: Seed of the drawing; the same joints for the same file and seed [-].
        rules: Another rule set to plan with, to see that the oracle finds what is wrong in it; the file's when not
            given.
        catalogue: Where the style comes from; the installed plugins when not given.

    Returns:
        What was compared and what differed.

    Raises:
        InputError: The file cannot be read, is one of efficiencies alone, or the number of joints is below one.
        UnknownStyle: No plugin brings the style.
    """
    if isinstance(examples, bool) or examples < 1:
        raise InputError("this is no number of joints", field="examples", value=repr(examples)[:80], bound="at least 1")
    planned = parse_rules(rule_file_text) if rules is None else rules
    oracle, book = Oracle.read(rule_file_text), Catalogue.installed() if catalogue is None else catalogue
    if not oracle.rows and oracle.rule is None:
        raise InputError("a file of efficiencies alone gives no counts to compare", field="rules", value=planned.id)
    kinds = book.style(oracle.style).terminations
    differences: list[Difference] = []
    tally: Counter[str] = Counter()
    refused: Counter[str] = Counter()
    for case in drawn_cases(oracle, kinds, examples, Random(seed)):
        outcome = _planned(case, oracle.style, planned, book)
        if isinstance(outcome, Plan) and (outcome.service.count_floor is not None or outcome.service.spacing):
            tally["set aside"] += 1
            continue
        expected = oracle.answer(case)
        tally["cases"] += 1
        tally["planned"] += not expected.refused
        tally["lengths"] += expected.turn_back is not None
        tally["spacings"] += expected.spacing is not None
        if expected.refused:
            refused[expected.refused] += 1
        found = _difference(case, expected, outcome)
        if found is not None:
            tally["found"] += 1
            if len(differences) < _KEPT:
                differences.append(found)
    return Comparison(
        tally["cases"],
        tally["planned"],
        tuple(sorted(refused.items())),
        tally["lengths"],
        tally["spacings"],
        tally["set aside"],
        tally["found"],
        tuple(differences),
    )


def _planned(case: OracleCase, style: str, rules: RuleSet, catalogue: Catalogue) -> Plan | TurnbackError:
    words = case.rope
    try:
        rope = Rope(
            Length(int(case.diameter)),
            words.construction,
            words.core,
            words.grade,
            words.lay,
            {None: "", True: "large", False: "ordinary"}[case.large_wires],
            condition="new",
            rotation_resistant=words.rotation_resistant,
        )
        return plan(
            rope,
            _EYES[case.kind],
            style=style,
            rules=rules,
            clip_body=case.body,
            base_width=None if case.base_width is None else Length(int(case.base_width)),
            extra_clips=case.extra,
            catalogue=catalogue,
        )
    except TurnbackError as error:
        return error


def _difference(case: OracleCase, expected: OracleAnswer, got: Plan | TurnbackError) -> Difference | None:
    if isinstance(got, TurnbackError):
        if expected.refused and isinstance(got, _REFUSALS[expected.refused]):
            return None
        return Difference(case, "refusal", expected.refused or _said(expected), f"{type(got).__name__}: {got}")
    if expected.refused:
        return Difference(case, "refusal", expected.refused, f"{got.clip_count} clips, {got.turn_back}")
    counts_only = all(member.verdict.counts_only for member in got.members)
    if counts_only is not expected.counts_only:
        return Difference(case, "scope", f"counts only: {expected.counts_only}", f"counts only: {counts_only}")
    if got.clip_count != expected.count:
        return Difference(case, "count", str(expected.count), str(got.clip_count))
    pairs = (("turn-back", expected.turn_back, got.turn_back), ("spacing", expected.spacing, got.spacing))
    for what, wanted, length in pairs:
        nanometres = None if isinstance(length, Absent) else length.nanometres
        if nanometres != wanted:
            return Difference(case, what, f"{wanted}", f"{nanometres}")
    return None


def _said(answer: OracleAnswer) -> str:
    return f"{answer.count} clips, turn-back {answer.turn_back}, spacing {answer.spacing}"


def _millimetres(value: Fraction) -> str:
    return f"{int(value) // 1_000_000}.{int(value) % 1_000_000:06d} mm"
