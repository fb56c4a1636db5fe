"""Laws of strength: what a table says of efficiency and distance adds up, and no plan rates what no source rates."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, pairwise
from typing import Final, Literal

import attrs
from hypothesis import strategies as st

from turnback.conformance.draws import requests
from turnback.conformance.judging import broken, in_both, planned
from turnback.conformance.law import Breakage, Law, Proof, Search
from turnback.conformance.laws_sources import gives_everything, plans_alone
from turnback.conformance.subject import Subject
from turnback.errors import AbsentError, Forbidden, InputError, OutOfScope, OutOfTable
from turnback.model.absent import Absent
from turnback.model.classes import classes_of
from turnback.model.rope import Rope
from turnback.planning.build import service_book
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Length
from turnback.rules.ruleset import EfficiencyBand, LinearLength, Row, RuleSet, ScopeEntry, SpacingBound
from turnback.rules.scope import scope_verdict

__all__ = ["STRENGTH_LAWS"]

Verdict = Breakage | Literal["kept"] | None
Linear = tuple[Fraction, Fraction, Fraction]
"""Diameters, base widths and nanometres of a distance between centres."""
_GREATEST: Final = 300_000_000
"""The library takes ropes to 300 mm [nm]."""
_RATED: Final = ("thimble eye", "linked eyes")
"""What a clip is rated on where a source does not name the eyes: the trade's own efficiencies speak of no other."""
_AFTER: Final = ("rows-answer", "row-edges", "scope-answers")


# --- efficiency ---


def _ends(band: EfficiencyBand) -> tuple[int, int]:
    """Both ends of a band, themselves included [nm]."""
    low = 1 if band.least is None else band.least.nanometres
    tops = [_GREATEST, *(size.nanometres - less for size, less in ((band.greatest, 0), (band.below, 1)) if size)]
    return low, min(tops)


def _words(band: EfficiencyBand) -> str:
    parts = (("from", band.least), ("to", band.greatest), ("below", band.below))
    return " ".join(f"{word} {in_both(size)}" for word, size in parts if size is not None) or "every size"


def _shares(subject: Subject) -> Proof:
    rules, found = subject.rules, []
    most = rules.efficiency_at_most
    shares: list[tuple[str, object, str]] = [(_words(b), b.value, str(b.citation)) for b in rules.efficiency]
    if most is not None:
        shares.append(("at most", most.value, str(most.citations[0])))
    for where, value, citation in shares:
        if not isinstance(value, Fraction) or not 0 < value <= 1:
            found.append(Breakage("an exact share above 0 and up to 1", f"{value!r} for {where}", citation))
        elif most is not None and value > most.value:
            found.append(Breakage(f"no more than its own upper bound, {most.value}", f"{value} for {where}", citation))
    for band in rules.efficiency:
        low, high = _ends(band)
        if low > high:
            found.append(Breakage("a band that a rope falls into", _words(band), str(band.citation)))
    for one, other in combinations(rules.efficiency, 2):
        (low, high), (other_low, other_high) = _ends(one), _ends(other)
        if max(low, other_low) <= min(high, other_high):
            both = f"{_words(one)}, and {_words(other)}"
            found.append(Breakage("each size in one band alone", both, str(other.citation)))
    if rules.efficiency and not rules.efficiency_terminations:
        found.append(Breakage("the terminations that it speaks of", "none", str(rules.efficiency[0].citation)))
    return Proof(len(shares) + len(rules.efficiency), tuple(found))


def _cover(subject: Subject) -> Proof:
    rules, found = subject.rules, []
    bands = sorted(rules.efficiency, key=_ends)
    holes = [
        (low + 1, high - 1, other)
        for one, other in pairwise(bands)
        if (low := _ends(one)[1]) + 1 < (high := _ends(other)[0])
    ]
    for low, high, band in holes:
        ends = f"{in_both(Length(low))} to {in_both(Length(high))}"
        inside = [row for row in rules.rows if low <= row.size.nanometres <= high]
        found += [Breakage("an efficiency, as smaller and larger sizes have", f"none from {ends}", str(band.citation),
                           in_both(row.size)) for row in inside]  # fmt: skip
        if not rules.rows:
            found.append(Breakage("bands that meet", f"nothing from {ends}", str(band.citation)))
    return Proof(max(len(bands) - 1, 0), tuple(found))


# --- distances ---


def _linear(bound: SpacingBound, row: Row) -> Linear | None:
    length: LinearLength | None = bound.length
    clear = Fraction(1 if bound.clear else 0)
    if length is not None:
        return length.diameters, length.base_widths + clear, Fraction(length.constant.nanometres)
    return None if row.spacing is None else (Fraction(0), clear, Fraction(row.spacing.value.nanometres))


def _least(value: Linear, low: int, high: int) -> Fraction | None:
    """The least value over every diameter from low to high and every base width from one diameter up; None: no end."""
    diameters, base_widths, constant = value
    if base_widths < 0:
        return None
    # At the smallest base width it is linear in the diameter, so that the least stands at one end.
    return min((diameters + base_widths) * d + constant for d in (low, high))


def _sizes(rules: RuleSet) -> Iterator[tuple[Row, int, int]]:
    for row in rules.rows:
        yield row, row.size.nanometres if row.above is None else row.above.nanometres + 1, row.size.nanometres
    if not rules.rows:
        rule = rules.count_rule
        low = rule.least.nanometres if rule is not None and rule.least is not None else 1
        high = rule.greatest.nanometres if rule is not None and rule.greatest is not None else _GREATEST
        yield Row(Length(high)), low, high


def _bounds_agree(subject: Subject) -> Proof:
    cells, found = 0, []
    rules = subject.rules
    printed = [row for row in rules.rows if row.spacing is not None]
    used = any(bound.length is None for bound in rules.spacing)
    if used != bool(printed):
        wanted = "a bound that says how the printed distances are meant" if printed else "distances that rows print"
        return Proof(1, (Breakage(wanted, "none", str(rules.citation)),))
    for row, low, high in _sizes(rules):
        size = in_both(row.size) if rules.rows else ""
        values = [(bound, value) for bound in rules.spacing if (value := _linear(bound, row)) is not None]
        for bound, value in values:
            cells += 1
            least = _least(value, low, high)
            if least is None or least <= 0:
                found.append(Breakage("a distance above nothing", _text(bound), str(bound.citation), size))
        for (one, lower), (other, upper) in ((a, b) for a in values for b in values if a is not b):
            if one.bound == "greatest" or other.bound == "least":
                continue
            cells += 1
            room = _least((upper[0] - lower[0], upper[1] - lower[1], upper[2] - lower[2]), low, high)
            if room is None or room < 0:
                wanted = f"{_text(one)} never above {_text(other)}, whatever the clip"
                found.append(Breakage(wanted, _clash(lower, upper, low, high), str(one.citation), size))
    return Proof(cells, tuple({each.row: each for each in reversed(found)}.values())[::-1])


def _text(bound: SpacingBound) -> str:
    length = "the printed distance" if bound.length is None else bound.length.text
    return f"{bound.bound} {length}" + (" clear" if bound.clear else "")


def _clash(lower: Linear, upper: Linear, low: int, high: int) -> str:
    """Write the smallest case in which the lower bound is above the upper one."""
    for d in (low, high):
        for times in (1, 2, 4, 8, 1 << 40):
            one, other = (each[0] * d + each[1] * d * times + each[2] for each in (lower, upper))
            if one > other:
                ends = " is above ".join(in_both(Length(round(each))) for each in (one, other))
                return f"{ends}, with a base width of {times} diameters" if times < 1 << 40 else "wide clips break it"
    return "wide clips break it"


# --- reach ---


def _reached(subject: Subject) -> Proof:
    rules, found = subject.rules, []
    rows = tuple(_sizes(rules))
    for row, low, high in rows:
        if not any(_answers(rules, row, size) for size in _inside(rules, low, high)):
            wanted = "a rope of its scope that takes this row"
            size = in_both(row.size) if rules.rows else ""
            found.append(Breakage(wanted, "no rope does", str(rules.citation), size))
    for entry in rules.scope:
        for word in entry.constructions:
            try:
                known = any(named.value == word for named in classes_of(word))
            except InputError:
                known = False
            if not known:
                got = f"{word}, which is no construction or class that a rope can be of"
                found.append(Breakage("constructions of ropes", got, str(entry.citation)))
    return Proof(len(rows) + sum(len(entry.constructions) for entry in rules.scope), tuple(found))


def _inside(rules: RuleSet, low: int, high: int) -> Iterator[int]:
    entries: tuple[ScopeEntry | None, ...] = rules.scope or (None,)
    for entry in entries:
        least = entry.least.nanometres if entry is not None and entry.least is not None else 1
        greatest = entry.greatest.nanometres if entry is not None and entry.greatest is not None else _GREATEST
        yield from {max(low, least), min(high, greatest)}


def _answers(rules: RuleSet, row: Row, size: int) -> bool:
    if not 0 < size <= _GREATEST:
        return False
    try:
        scope_verdict(rules, Rope(Length(size)), Length(size))
        found = rules.row_for(Length(size))
    except (InputError, OutOfScope, OutOfTable):
        return False
    return not rules.rows or found == row


# --- plans ---


@st.composite
def _doubtful(draw: st.DrawFn, subject: Subject) -> Request:
    """Draw a request of which, more often than not, something keeps a strength away."""
    book = service_book(subject.catalogue)
    uses = (("guy", "US"), *((service, place) for service in book.services for place in (None, "US")))
    made = draw(
        requests(
            subject,
            conditions=("new", "new", "used", "worn"),
            coatings=("", "", "stripped", "left on"),
            uses=uses,
        )
    )
    if subject.rules.rows and draw(st.sampled_from((False, False, False, True))):
        row = subject.rules.row_for(made.rope.diameter) if made.rope.coating is None else None
        if row is not None:
            return attrs.evolve(made, clip_size=row.size, clip_size_citation="sheet 4 of the invented works")
    return made


def _why_none(subject: Subject, request: Request, plan: Plan) -> str:
    """Say why there may be no strength, from the request and the rule set alone; empty where there may be one."""
    rules, rope, kind = subject.rules, request.rope, request.termination.kind
    (member,) = plan.members
    entry = _entry(rules, rope, plan.demand.seat)
    named = entry.terminations if entry is not None else ()
    torque = member.row.torque
    reasons = (
        (any(finding.kind == "forbidden" for finding in plan.findings), "a source forbids the use"),
        (any(finding.kind == "must-fix" for finding in plan.findings), "something must be fixed first"),
        (rope.condition in ("used", "worn"), f"the rope is {rope.condition}"),
        (rope.coating is not None and not rope.coating.stripped, "the coating stays on"),
        (torque is None or torque.value.exact_newton_metres <= 0, "no torque is printed"),
        (entry is not None and entry.gives != "everything", "the source gives counts alone"),
        (bool(named) and kind not in named, f"no {kind} is named"),
        (kind not in (tuple(rules.efficiency_terminations) if rules.efficiency else _RATED), f"no {kind} is rated"),
        (request.clip_size is not None, "the pairing of clip and rope is the user's own"),
    )  # fmt: skip
    return next((reason for holds, reason in reasons if holds), "")


def _entry(rules: RuleSet, rope: Rope, seat: Length) -> ScopeEntry | None:
    """Return the first entry of a scope that takes a rope, each asked alone."""
    for entry in rules.scope:
        try:
            scope_verdict(attrs.evolve(rules, scope=(entry,)), rope, seat)
        except OutOfScope:
            continue
        return entry
    return None


def _unrated(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    reason = _why_none(subject, request, plan)
    if not reason:
        return None
    for number in (plan.termination_breaking_force, plan.efficiency):
        if not isinstance(number, Absent) or not number.reason.strip():
            return broken(request, f"no strength, for {reason}", str(number), subject.rules.citation)
    if plan.efficiency_basis or "no-strength" not in {finding.code for finding in plan.findings}:
        return broken(request, f"a finding that nothing is rated, for {reason}", "none", subject.rules.citation)
    for factor in (None, 5, 1000):
        try:
            got = plan.working_load(factor)
        except (AbsentError, Forbidden):
            continue
        return broken(request, f"no working load, for {reason}", str(got), subject.rules.citation)
    return "kept"


def _above_the_rope(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None or isinstance(plan.termination_breaking_force, Absent) or isinstance(plan.efficiency, Absent):
        return None
    rules, force, share = subject.rules, plan.termination_breaking_force.newtons, plan.efficiency
    of_rope, citation = plan.minimum_breaking_force.newtons, str(plan.derivations["efficiency"].citations[0])
    printed = _printed(subject, plan)
    if share != printed or (rules.efficiency_at_most is not None and share > rules.efficiency_at_most.value):
        return broken(request, f"the printed efficiency, {printed}", str(share), citation)
    exact = Fraction(of_rope) * Fraction(share)
    if force > of_rope or abs(Fraction(force) - exact) > 4 * Fraction(math.ulp(force)):
        got = f"{plan.termination_breaking_force} of the rope's {plan.minimum_breaking_force}"
        return broken(request, f"{share} of the rope's minimum breaking force", got, citation)
    factor = plan.service.design_factor
    if isinstance(factor, Absent):
        return "kept"
    most = plan.working_load()
    if most.newtons > force / float(factor.value) or plan.working_load(factor.value * 2) > most:
        wanted = f"no more than the breaking force over {float(factor.value):g}"
        return broken(request, wanted, str(most), factor.citations[0])
    try:
        lower = plan.working_load((1 + factor.value) / 2)
    except InputError:
        return "kept"
    return broken(request, "a lower design factor refused", str(lower), factor.citations[0])


def _printed(subject: Subject, plan: Plan) -> Fraction | None:
    """Return what is printed for a size, by the ends of the bands and not by what they answer."""
    size, kind = plan.demand.seat.nanometres, plan.request.termination.kind
    bases = (subject.rules,) if subject.rules.efficiency else subject.catalogue.core_bases
    found = [
        band.value
        for rules in bases
        if kind in rules.efficiency_terminations
        for band in rules.efficiency
        if _ends(band)[0] <= size <= _ends(band)[1]
    ]
    return min(found, default=None)


def _rates(subject: Subject) -> str:
    if plans_alone(subject):
        return plans_alone(subject)
    if not gives_everything(subject) or all(row.torque is None for row in subject.rules.rows):
        return "it prints no torque, so that nothing is rated"
    return "" if set(_RATED) & set(subject.style.terminations) else "it makes no eye that a source rates"


def _rated(subject: Subject) -> st.SearchStrategy[Request]:
    kinds = tuple(kind for kind in subject.style.terminations if kind in _RATED)
    return requests(subject, kinds=kinds, everything=True, uses=(("guy", "US"),))


def _has_bands(subject: Subject) -> str:
    return "" if subject.rules.efficiency or subject.rules.efficiency_at_most else "it gives no efficiency"


def _has_distances(subject: Subject) -> str:
    rules = subject.rules
    return "" if rules.spacing or any(row.spacing for row in rules.rows) else "it says nothing of distances"


def _has_sizes(subject: Subject) -> str:
    return "it has no sizes" if subject.rules.is_basis else ""


STRENGTH_LAWS: Final = (
    Law("efficiency-is-a-share", "An efficiency is an exact share of the rope, above 0 and up to 1, never above its "
        "own upper bound, for eyes that are named, and no size has two.", proof=_shares, applies=_has_bands),
    Law("efficiency-bands-cover", "Between two bands of efficiency no printed size is left without one.", proof=_cover,
        applies=_has_bands, waivable=True),
    Law("spacing-bounds-agree", "A least distance between clips is never above the greatest of the same source, for "
        "any size and any base width of one rope diameter or more.", proof=_bounds_agree, applies=_has_distances,
        waivable=True),
    Law("every-row-has-a-rope", "There is a rope for every row, and for every construction of the scope.",
        proof=_reached, applies=_has_sizes, waivable=True),
    Law("never-a-strength-unrated", "No strength for a forbidden use, used or worn rope, a coating left on, without a "
        "torque, where counts alone are given, for an eye that is not named, a pairing of the user's, or while "
        "something must be fixed.", search=Search(_doubtful, _unrated), after=_AFTER, applies=plans_alone,
        redundant="the planner keeps a strength away, whatever a plugin brings, and words of the wrong form, by which "
        "it can be led astray, are noticed by rules-round-trip too; it stays because it is the worst that can go "
        "wrong"),
    Law("never-above-the-rope", "A termination breaks at the printed share of the rope's minimum breaking force, never "
        "above it, and a design factor below the cited one is refused.", search=Search(_rated, _above_the_rope),
        after=_AFTER, applies=_rates),
)  # fmt: skip
"""In the order in which they are checked."""
