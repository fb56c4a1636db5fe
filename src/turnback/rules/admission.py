"""Whether a joint satisfies a rule set, clause by clause.

One checker for everybody who asks: governing, inspection and the conformance kit. It reads the rule set and the joint
and shares nothing with the code that plans, so that each checks the other.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Final

import attrs

from turnback.model.sources import Citation
from turnback.model.terminations import TerminationKind
from turnback.quantities import Length, Torque
from turnback.rules.ruleset import BodyOfClip, Row, RuleSet, SpacingBound

__all__ = ["EXACT", "Breach", "Joint", "Margin", "breaches", "means_torque", "spacing_breaches"]

_NOTHING: Final = Length(0)


@attrs.frozen
class Margin:
    """By how much a measured value may miss its bound and still pass. It widens every bound and narrows none.

    Args:
        length: On every measured length and distance [length].
        torque: On every measured torque, as a share of the printed one [-].
    """

    length: Length = _NOTHING
    torque: Fraction = Fraction(0)


EXACT: Final = Margin()
"""No margin: a value that misses its bound by a nanometre breaks it."""


@attrs.frozen
class Joint:
    """What there is to measure on a joint, planned or made.

    Args:
        kind: Kind of eye or splice.
        rope_diameter: Nominal diameter under the clip [length].
        clip_size: Size of the clips [length].
        clip_body: Body of the clips.
        count: Clips in all [-].
        base_width: Base width of a clip [length]; None when not measured.
        turn_back: Turn-back, or overlap of a lap splice [length]; None when not known.
        near_edges: Edge of each saddle nearer the dead end, in order [length]; None for one that was not measured,
            empty when none was.
        torque: Tightening torque [torque]; None when not known.
        threads: Condition of the threads; empty when not known.
        large_wires: Whether the rope has large outer wires; None when nobody said.
    """

    kind: TerminationKind
    rope_diameter: Length
    clip_size: Length
    clip_body: BodyOfClip
    count: int
    base_width: Length | None = None
    turn_back: Length | None = None
    near_edges: tuple[Length | None, ...] = ()
    torque: Torque | None = None
    threads: str = ""
    large_wires: bool | None = None

    @property
    def halves(self) -> int:
        """Two for a lap splice, which has the clips and the rope of two eyes; otherwise one."""
        return 2 if self.kind == "lap splice" else 1


@attrs.frozen
class Breach:
    """One clause that a joint breaks.

    Args:
        clause: ``size``, ``count``, ``turn-back``, ``spacing``, ``torque`` or ``threads``.
        expected: What the clause asks for.
        got: What the joint has.
        citation: The clause.
        clips: Numbers of the clips that it is about, from 1 at the dead end [-]; empty when it is about the joint.
    """

    clause: str
    expected: str
    got: str
    citation: Citation
    clips: tuple[int, ...] = ()


def breaches(rules: RuleSet, joint: Joint, counts_only: bool = False, margin: Margin = EXACT) -> tuple[Breach, ...]:
    """Return every clause of a rule set that a joint breaks; none means that the rule set admits it.

    What is not known of the joint breaks nothing: it is still to be measured.

    Args:
        rules: The rule set.
        joint: The joint.
        counts_only: Whether the rule set's scope gives nothing but the count for this rope.
        margin: By how much a measured value may miss its bound.

    Returns:
        The breaches, in a fixed order.
    """
    row = _row(rules, joint)
    if row is None:
        return (Breach("size", _sizes(rules), str(joint.clip_size), rules.citation),)
    found = [*_count(rules, row, joint)]
    if counts_only:
        return tuple(found)
    found += [*_turn_back(row, joint, margin), *_torque(rules, row, joint, margin)]
    for bound in rules.spacing:
        found += spacing_breaches(bound, row, joint, margin)
    return tuple(found)


def _row(rules: RuleSet, joint: Joint) -> Row | None:
    if rules.rows:
        return next((row for row in rules.rows if row.size == joint.clip_size), None)
    # A rule without a table speaks of the rope's diameter, whatever clip is on it.
    rule = rules.count_rule
    return rules.row_for(joint.rope_diameter) if rule is None or rule.covers(joint.rope_diameter) else None


def _sizes(rules: RuleSet) -> str:
    rule = rules.count_rule
    if rule is None:
        return "one of " + ", ".join(str(row.size) for row in rules.rows)
    ends = (("from", rule.least), ("up to", rule.greatest))
    return " ".join(f"{word} {size}" for word, size in ends if size is not None)


def _count(rules: RuleSet, row: Row, joint: Joint) -> list[Breach]:
    cell = row.count_for(joint.clip_body)
    if cell is None:
        return []
    least, citation = cell.value, cell.citations[0]
    more = rules.adjustments.large_wires
    if more is not None and joint.large_wires and joint.rope_diameter >= more.from_size:
        least += more.add
    for floor in rules.floors:
        if floor.count > least:
            least, citation = floor.count, floor.citation
    pulley = rules.adjustments.pulley
    if pulley is not None and joint.kind == "pulley eye":
        least += pulley.value
    lap = rules.adjustments.lap_factor
    least *= lap.value if lap is not None and joint.halves == 2 else joint.halves
    if joint.count >= least:
        return []
    return [Breach("count", f"at least {least} clips", f"{joint.count} clips", citation)]


def _turn_back(row: Row, joint: Joint, margin: Margin) -> list[Breach]:
    printed, cell = row.turn_back, row.count_beside_turn_back(joint.clip_body)
    if printed is None or cell is None or joint.turn_back is None:
        return []
    per_half = Fraction(joint.count, joint.halves)
    # A joint with too few clips breaks the count; its turn-back is still held to the printed one.
    share = max(per_half / cell.value, Fraction(1))
    least = printed.value.nanometres * share * joint.halves
    if (joint.turn_back + margin.length).nanometres >= least:
        return []
    return [Breach("turn-back", f"at least {Length.up(least)}", str(joint.turn_back), printed.citations[0])]


def means_torque(printed: Torque, measured: Torque, margin: Margin = EXACT) -> bool:
    """Tell whether a measured torque is the printed one.

    Args:
        printed: As the source prints it, with a second number where it has one [torque].
        measured: As it was read [torque].
        margin: By how much it may miss the printed one.

    Returns:
        True where both mean the same torque, or the measured one misses a printed number by no more than the margin.
    """
    if printed.same_as(measured):
        return True
    numbers = [Torque(printed.value, printed.unit)]
    numbers += [Torque(*printed.also)] if printed.also is not None else []
    got = measured.exact_newton_metres
    return any(abs(got - each.exact_newton_metres) <= margin.torque * each.exact_newton_metres for each in numbers)


def _torque(rules: RuleSet, row: Row, joint: Joint, margin: Margin) -> list[Breach]:
    found = []
    if row.torque is not None and joint.torque is not None and not means_torque(row.torque.value, joint.torque, margin):
        found.append(Breach("torque", str(row.torque.value), str(joint.torque), row.torque.citations[0]))
    if row.torque is not None and rules.threads is not None and joint.threads not in ("", rules.threads.value):
        found.append(
            Breach("threads", f"{rules.threads.value} threads", f"{joint.threads} threads", rules.threads.citations[0])
        )
    return found


def spacing_breaches(bound: SpacingBound, row: Row, joint: Joint, margin: Margin = EXACT) -> list[Breach]:
    """Return the pairs of neighbouring clips that break one bound on their distance.

    Args:
        bound: The bound, of a rule set, of a service or of the trade.
        row: The row of the clip size, for a bound that each row prints.
        joint: The joint. A pair with an edge that was not measured breaks nothing, nor does any where the bound needs
            a base width that was not measured.
        margin: By how much a measured distance may miss the bound.

    Returns:
        The breaches in the order of the clips.
    """
    limit, citation = None, bound.citation
    if bound.length is not None:
        limit = bound.length.nanometres(joint.rope_diameter, joint.base_width)
    elif row.spacing is not None:
        # The row prints the distance, so its cell is the clause.
        limit, citation = Fraction(row.spacing.value.nanometres), row.spacing.citations[0]
    if limit is None or (bound.clear and joint.base_width is None):
        return []
    if bound.clear and joint.base_width is not None:
        limit += joint.base_width.nanometres
    low, high = math.ceil(limit), math.floor(limit)
    if bound.bound == "equal":
        # One that is no whole number of nanometres is met by the whole numbers next to it.
        low, high = high, low
    low, high = low - margin.length.nanometres, high + margin.length.nanometres
    found = []
    for number, (one, next_one) in enumerate(zip(joint.near_edges, joint.near_edges[1:], strict=False), start=1):
        if one is None or next_one is None:
            continue
        gap = (next_one - one).nanometres
        if (bound.bound != "greatest" and gap < low) or (bound.bound != "least" and gap > high):
            word = {"least": "at least", "greatest": "at most", "equal": "exactly"}[bound.bound]
            expected = f"{word} {Length.nearest(limit)} between centres of clips {number} and {number + 1}"
            found.append(Breach("spacing", expected, str(next_one - one), citation, (number, number + 1)))
    return found
