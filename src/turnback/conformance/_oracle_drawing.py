"""Joints for the comparison with the oracle, drawn from what a rule file itself declares.

A head (rope, kind, body, clips added) is drawn with several base widths, for the sources are asked once a head.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil, floor
from random import Random
from typing import Final

import attrs

from turnback.conformance._oracle_reading import INCH
from turnback.conformance.oracle import Oracle, OracleCase, OracleRow, RopeWords

__all__ = ["drawn_cases"]

_BODIES: Final = ("forged", "other", "not given")
_EXTRA: Final = (0, 0, 1, 2, 3)
_CONSTRUCTIONS: Final = {
    "6x19 class": ("6x19 class", "6x19", "6x19S", "6x19W", "6x25F", "6x26WS"),
    "6x37 class": ("6x37 class", "6x37", "6x36WS", "6x41WS"),
}
_OTHERS: Final = ("", "6x19", "6x19S", "6x36WS", "7x19", "8x19", "19x7", "18x7")
_GRADES: Final = ("", "IPS", "EIP", "EEIP", "1770")
_CORES: Final = ("", "FC", "IWRC")
_LAYS: Final = ("", "right regular", "right Lang", "left regular")
_GREATEST: Final = 290_000_000
"""A little under the thickest rope that the library takes [nm]."""
_WIDEST: Final = 4
"""Base widths reach so many rope diameters, far beyond any clip [-]."""
_WIDTHS_A_HEAD: Final = 8


def drawn_cases(oracle: Oracle, kinds: tuple[str, ...], examples: int, random: Random) -> Iterator[OracleCase]:
    """Draw joints.

    Args:
        oracle: The rule file.
        kinds: Kinds of eye and splice that the style makes.
        examples: How many joints [-].
        random: Where chance comes from.

    Yields:
        Joints, several base widths for one head.
    """
    drawn, number = 0, 0
    while drawn < examples:
        # Once through the rows, so that no cell is left to chance; then as chance has it.
        rows = oracle.rows
        head = _row_head(rows[number], kinds, random) if number < len(rows) else _head(oracle, kinds, random)
        number += 1
        for width in _widths(oracle, head, random):
            if drawn == examples:
                return
            drawn += 1
            yield attrs.evolve(head, base_width=width)


def _head(oracle: Oracle, kinds: tuple[str, ...], random: Random) -> OracleCase:
    rope = _rope(oracle, random)
    # A Seale strand has large wires; to call them ordinary is refused before any rule is asked.
    seale = rope.construction.endswith("S") and "W" not in rope.construction
    kind = random.choice(kinds)
    return OracleCase(
        Fraction(_diameter(oracle, random)),
        random.choice(_BODIES),
        kind,
        random.choice((None, True) if seale else (None, True, False)),
        # A plate takes no more clips; it is asked for some now and then, to be refused.
        random.choice(_EXTRA) if kind != "plate eye" or random.random() < 0.1 else 0,
        None,
        rope,
    )


def _row_head(row: OracleRow, kinds: tuple[str, ...], random: Random) -> OracleCase:
    """A rope of exactly the size of a row, of which nothing else is said, so that no scope refuses it."""
    return OracleCase(Fraction(floor(row.size)), random.choice(_BODIES), random.choice(kinds), None, 0)


def _rope(oracle: Oracle, random: Random) -> RopeWords:
    resistant = random.choice((None, None, True, False))
    if not oracle.scope or random.random() < 0.25:
        return RopeWords(
            random.choice(_OTHERS), random.choice(_CORES), random.choice(_GRADES), random.choice(_LAYS), resistant
        )
    entry = random.choice(oracle.scope)
    named = random.choice(entry.constructions or _OTHERS)
    asked = entry.rotation_resistant
    return RopeWords(
        random.choice(_CONSTRUCTIONS.get(named, (named,))),
        random.choice(("", *entry.cores)),
        random.choice(("", *entry.grades)),
        random.choice(("", *entry.lays)),
        resistant if asked is None else asked,
    )


def _diameter(oracle: Oracle, random: Random) -> int:
    drawn = _of_row(random.choice(oracle.rows), random) if oracle.rows else _of_rule(oracle, random)
    return min(max(drawn, 1), _GREATEST)


def _of_row(row: OracleRow, random: Random) -> int:
    size = floor(row.size)
    if row.above is None:
        return size + random.choice((0, 0, 0, 0, 0, 0, 0, -1, 1))
    above = floor(row.above)
    return random.choice((size - 1, size, size + 1, above, above + 1, random.randint(above + 1, size)))


def _of_rule(oracle: Oracle, random: Random) -> int:
    least = ceil(oracle.sizes.least or INCH / 16)
    greatest = floor(oracle.sizes.greatest or 2 * INCH)
    draws = [least, least - 1, greatest, greatest + 1, random.randint(least, greatest)]
    # On the graduations of a tape, and where the count takes its next step, a nanometre to either side.
    graduation = random.randint(ceil(least * 64 / INCH), floor(greatest * 64 / INCH))
    draws.append(floor(graduation * INCH / 64))
    if oracle.rule is not None and oracle.rule.per_inch:
        step = INCH / oracle.rule.per_inch
        at = random.randint(ceil(least / step), floor(greatest / step)) * step
        draws += [floor(at), floor(at) + 1]
    return random.choice(draws)


def _widths(oracle: Oracle, head: OracleCase, random: Random) -> Iterator[Fraction | None]:
    """No base width, and some from one to four diameters: any, round ones, and those where an answer turns over."""
    least, greatest = ceil(head.diameter), _WIDEST * floor(head.diameter)
    yield None
    answer = oracle.answer(head)
    turning: list[int] = []
    if answer.turn_back and answer.count:
        # Where the clips touch each other, and where the gap between them is one base width.
        turning = [answer.turn_back // (answer.count + 1), answer.turn_back // (2 * answer.count)]
    for _ in range(_WIDTHS_A_HEAD - 1):
        width = random.choice(
            (
                random.randint(least, greatest),
                random.randint(least, greatest),
                floor(head.diameter * random.randint(4, 16) / 4),
                *(at + random.choice((-1, 0, 1)) for at in turning),
            )
        )
        yield Fraction(min(max(width, 1), greatest))
