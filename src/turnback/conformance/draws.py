"""Drawing requests that a rule set should answer: ropes of its scope, eyes that fit them, clips that have room.

Draws are what a search spends its time on, so that choices which have nothing to do with each other are made with one
draw together, and a length is one draw. The first of each list is the simplest, to which a search shrinks.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, prod
from typing import Any, Final, Generic, TypeVar

import attrs
from hypothesis import strategies as st

from turnback.conformance.ropes import Stock, stocks
from turnback.conformance.subject import Subject
from turnback.model.rope import Coating, Rope
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    TerminationKind,
    ThimbleEye,
)
from turnback.planning.request import Request
from turnback.quantities import Force, Length
from turnback.rules.rows import Row, SpacingBound
from turnback.rules.ruleset import RuleSet
from turnback.rules.selection import governing

__all__ = [
    "ANY",
    "BODIES",
    "MEASURED",
    "WITH_LENGTH",
    "Unseen",
    "lengths",
    "measured_requests",
    "requests",
    "requests_with_length",
    "several",
]

T = TypeVar("T")

ANY: Final = "any request"
"""Name of the cases of :func:`requests` with nothing asked for, which many laws judge."""
MEASURED: Final = "measured clips"
"""Likewise of :func:`measured_requests`."""
WITH_LENGTH: Final = "turn-backs"
"""Likewise of :func:`requests_with_length`."""
BODIES: Final = ("forged", "other", "not given")
_STEPS: Final = (1_587_500, 1_000_000, 396_875, 1)
"""A sixteenth of an inch, a millimetre, a sixty-fourth, a nanometre [nm]: what a tape shows, and what it does not."""
_PARTS: Final = 1 << 12
_ENDS: Final = 8
_PLACES: Final = st.integers(0, _PARTS * len(_STEPS) - 1)
_USES: Final = (("guy", "US"), ("guy", None), (None, None), ("guy", "DE"))


def several(draw: st.DrawFn, *lists: tuple[Any, ...]) -> list[Any]:
    """Take one of each list with one draw.

    Args:
        draw: Hypothesis' own.
        *lists: What there is to choose from; none is empty.

    Returns:
        One of each.
    """
    at = draw(st.integers(0, prod(map(len, lists)) - 1))
    found = []
    for options in lists:
        at, index = divmod(at, len(options))
        found.append(options[index])
    return found


def _length(draw: st.DrawFn, low: int, high: int) -> Length:
    if low >= high:
        return Length(low)
    part, index = divmod(draw(_PLACES), len(_STEPS))
    step = _STEPS[index]
    first, last = -(-low // step), high // step
    if first > last:
        step, first, last = 1, low, high
    inner = min(max(part - _ENDS, 0), _PARTS - 2 * _ENDS)  # both ends are drawn often
    return Length(step * (first + (last - first) * inner // (_PARTS - 2 * _ENDS)))


@st.composite
def lengths(draw: st.DrawFn, low: int, high: int) -> Length:
    """Draw a length, most often on a graduation of a tape.

    Args:
        draw: Hypothesis' own.
        low: Smallest [nm].
        high: Greatest, itself included [nm].

    Returns:
        The length [length].
    """
    return _length(draw, low, high)


@attrs.frozen(eq=False, repr=False)
class Unseen(Generic[T]):
    """What a strategy is made from, kept from hypothesis' own printing, which takes seconds for a long rule set.

    Args:
        value: Anything.
    """

    value: T

    def __repr__(self) -> str:
        return "..."

    def _repr_pretty_(self, printer: object, cycle: bool) -> None:
        """Print nothing; the printer goes by fields where a class has no say."""


@attrs.frozen
class _Ask:
    subject: Subject
    stocks: tuple[Stock, ...]
    choices: tuple[tuple[Any, ...], ...]
    whole: bool
    conditions: tuple[str, ...]
    coatings: tuple[str, ...]
    certified: bool
    beside: tuple[RuleSet, ...]

    @property
    def spans(self) -> int:
        """Most spans that an entry has [-]."""
        return max(len(stock.spans) for stock in self.stocks)


def requests(
    subject: Subject,
    *,
    kinds: tuple[TerminationKind, ...] = (),
    whole: bool = False,
    measured: bool | None = None,
    everything: bool = False,
    bodies: tuple[str, ...] = BODIES,
    conditions: tuple[str, ...] = ("new",),
    coatings: tuple[str, ...] = ("",),
    certified: bool = True,
    uses: tuple[tuple[str | None, str | None], ...] = _USES,
    extra: int = 3,
    counts_alone: bool = False,
    beside: tuple[RuleSet, ...] = (),
) -> st.SearchStrategy[Request]:
    """Draw requests that the subject's rule set should answer.

    Args:
        subject: The subject.
        kinds: Kinds of termination; those of the style where not given.
        whole: Whether every dimension of the eye is given.
        measured: Whether the base width is given; either where None.
        everything: Whether only ropes are drawn for which more than the count holds.
        bodies: Bodies of the clips.
        conditions: Conditions of the rope.
        coatings: What becomes of a coating: ``""`` for none, ``stripped`` or ``left on``.
        certified: Whether the rope's breaking force may come from a certificate.
        uses: Services with jurisdictions.
        extra: Most clips beyond the rule [-].
        counts_alone: Whether only ropes are drawn for which nothing but the count holds.
        beside: Rule sets that govern with the subject's own, and may refuse the rope.

    Returns:
        Requests. The rule set may refuse the dimensions, never the rope.
    """
    at_hand = tuple(
        stock
        for stock in stocks(subject.rules, beside)
        if not (everything and stock.counts_only) and (stock.counts_only or not counts_alone)
    )
    style = subject.style
    made = tuple(kind for kind in style.terminations if not kinds or kind in kinds)
    if not at_hand or not made:
        return st.nothing()
    more = tuple(range(extra + 1)) if style.in_series else (0,)
    choices = (made, bodies, more, (True, False) if measured is None else (measured,), uses)
    return _request(Unseen(_Ask(subject, at_hand, choices, whole, conditions, coatings, certified, beside)))


@st.composite
def _request(draw: st.DrawFn, asked: Unseen[_Ask]) -> Request:
    ask = asked.value
    style, rules = ask.subject.style, ask.subject.rules
    # Each entry of the scope as often as another, and each span of an entry about as often.
    at, index = divmod(draw(st.integers(0, ask.spans * len(ask.stocks) - 1)), len(ask.stocks))
    stock = ask.stocks[index]
    seat = _length(draw, *stock.spans[at % len(stock.spans)])
    kind, body, more, is_measured, use = several(draw, *ask.choices)
    rope = _rope(draw, stock, seat, ask.conditions, ask.coatings, ask.certified, style.in_series)
    termination = _termination(draw, rope, kind, ask.whole)
    base = _length(draw, *_base_widths((rules, *ask.beside), seat)) if is_measured else None
    choice = governing(rules, *ask.beside)
    return Request(
        rope, termination, style.id, choice, body, base, service=use[0], jurisdiction=use[1], extra_clips=more
    )


def measured_requests(
    subject: Subject, *, kinds: tuple[TerminationKind, ...] = (), always: bool = True
) -> st.SearchStrategy[Request]:
    """Draw requests whose plans tell how much rope to turn back.

    Args:
        subject: The subject.
        kinds: Kinds of termination; those of the style where not given.
        always: Whether the base width is always given; otherwise it may be left out where a turn-back is printed.

    Returns:
        Requests; the base width is given where no turn-back is printed.
    """
    printed = any(row.turn_back is not None for row in subject.rules.rows)
    everything = any(not stock.counts_only for stock in stocks(subject.rules))
    return requests(subject, kinds=kinds, everything=everything, measured=None if printed and not always else True)


def requests_with_length(subject: Subject) -> st.SearchStrategy[Request]:
    """Draw requests whose plans tell how much rope to turn back, some by a printed turn-back alone.

    Args:
        subject: The subject.

    Returns:
        Requests; the base width may be left out where a turn-back is printed.
    """
    return measured_requests(subject, always=False)


def _rope(
    draw: st.DrawFn,
    stock: Stock,
    seat: Length,
    conditions: tuple[str, ...],
    coatings: tuple[str, ...],
    certified: bool,
    in_series: bool,
) -> Rope:
    construction, core, grade, lay, resistant, wires, condition, coat, force = several(
        draw,
        stock.constructions,
        stock.cores,
        stock.grades,
        stock.lays,
        stock.rotation_resistant,
        ("", "large", "ordinary"),
        conditions,
        coatings,
        (None, 60_000.0, 1_234_567.0) if certified else (None,),
    )
    if wires == "ordinary" and construction.endswith("S") and "W" not in construction:
        wires = "large"  # a Seale strand cannot be called ordinary
    diameter, coating = seat, None
    if coat == "left on" or (coat == "stripped" and not in_series):
        # One body is sized to the finished diameter, whether the coating comes off under it or not.
        off = coat == "stripped"
        diameter, coating = Length(seat.nanometres * 3 // 4 or 1), Coating(seat, stripped=off, eye_stripped=off)
    elif coat == "stripped":
        coating = Coating(Length(seat.nanometres * 5 // 4 + 1), stripped=True, eye_stripped=True)
    return Rope(
        diameter,
        construction,
        core,
        grade,
        lay,
        outer_wires=wires,
        condition=condition,
        rotation_resistant=resistant,
        coating=coating,
        minimum_breaking_force=None if force is None else Force(force),
        certificate="" if force is None else "certificate 7 of the invented works",
    )


def _termination(draw: st.DrawFn, rope: Rope, kind: TerminationKind, whole: bool) -> Termination:
    if kind == "lap splice":
        return LapSplice()
    around = rope.coating.finished_diameter if rope.coating is not None else rope.diameter
    d = around.nanometres
    if not whole and draw(st.sampled_from((False, False, True))):
        return _unmeasured(kind)
    if kind == "pulley eye":
        return PulleyEye(_length(draw, 2 * d, 30 * d))
    pin = _length(draw, d, 8 * d)
    # Far enough that the legs enclose less than 120 degrees, with room to spare for a groove of half a diameter.
    radius = pin.nanometres // 2 + d
    eye = _length(draw, 2 * radius + pin.nanometres, 6 * radius + pin.nanometres)
    if kind == "soft eye":
        return SoftEye(pin, eye)
    thimble = ThimbleEye(eye, pin, Length(max(d // 4, 1)))
    if kind == "linked eyes":
        return LinkedEyes(thimble, thimble)
    return PlateEye(thimble) if kind == "plate eye" else thimble


def _unmeasured(kind: TerminationKind) -> Termination:
    empty: dict[TerminationKind, Termination] = {
        "thimble eye": ThimbleEye(),
        "soft eye": SoftEye(),
        "pulley eye": PulleyEye(),
        "linked eyes": LinkedEyes(),
        "plate eye": PlateEye(),
    }
    return empty.get(kind, LapSplice())


def _base_widths(members: tuple[RuleSet, ...], seat: Length) -> tuple[int, int]:
    """Base widths with which the clips fit into every printed turn-back and between every pair of bounds [nm]."""
    low, high = seat.nanometres, 4 * seat.nanometres
    asked: list[tuple[SpacingBound, Row]] = []
    for rules in members:
        row = rules.row_for(seat)
        count = row.count_for("not given")
        if row.turn_back is not None and count is not None:
            # The clips must have room in it side by side.
            high = min(high, row.turn_back.value.nanometres // (count.value + 1))
        asked += [(bound, row) for bound in rules.spacing]
    least = [(_fixed(bound, row, seat), _share(bound)) for bound, row in asked if bound.bound != "greatest"]
    for bound, row in asked:
        if bound.bound == "least":
            continue
        share, fixed = _share(bound), _fixed(bound, row, seat)
        if share:
            low = max([low, *(ceil((each - fixed) / share) for each, other in least if not other)])
        else:
            high = min(high, int(fixed / max([Fraction(2), *(other for _, other in least)])))
    return max(min(low, high), 1), max(high, 1)


def _share(bound: SpacingBound) -> Fraction:
    own = bound.length.base_widths if bound.length is not None else Fraction(0)
    return own + 1 if bound.clear else own


def _fixed(bound: SpacingBound, row: Row, seat: Length) -> Fraction:
    """The part of a bound that does not depend on the base width [nm]."""
    if bound.length is not None:
        return bound.length.diameters * seat.nanometres + bound.length.constant.nanometres
    return Fraction(row.spacing.value.nanometres if row.spacing is not None else 0)
