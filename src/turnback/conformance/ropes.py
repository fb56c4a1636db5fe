"""Which ropes and sizes a rule set speaks of, read from its rows, ranges and scope. Nothing is drawn here."""

from __future__ import annotations

from functools import lru_cache
from itertools import product
from typing import Final

import attrs

from turnback.model.classes import classes_of
from turnback.quantities import Length
from turnback.rules.ruleset import RuleSet, ScopeEntry

__all__ = ["Stock", "stocks"]

_CONSTRUCTIONS: Final = (
    "6x19", "6x19S", "6x25F", "6x19 class", "6x37", "6x36WS", "6x37 class", "7x7", "7x19", "8x19", "8x19S", "18x7",
    "17x7", "19x7", "35Wx7",
)  # fmt: skip
_CORES: Final = ("FC", "IWRC", "WSC")
_GRADES: Final = ("IPS", "EIP", "EEIP", "1770", "1960")
_LAYS: Final = ("right regular", "left regular", "right Lang", "left Lang")
_GREATEST: Final = 290_000_000
"""The library takes ropes to 300 mm; a little less leaves room for a coating [nm]."""
_USUAL: Final = (Length.of("1/16 in").nanometres, Length.of("2 in").nanometres)
"""Where a rule declares no range, any rope that is not absurd will do [nm]."""


@attrs.frozen
class Stock:
    """Ropes that one entry of a scope speaks of.

    Args:
        entry: The entry; None where the rule set has no scope, so that it speaks of every rope.
        spans: Sizes that rows and entry take, both ends of each in it [nm].
        constructions: Constructions, the first "" for not given; likewise the other words.
        cores: Cores.
        grades: Grades.
        lays: Lays.
        rotation_resistant: What may be said of it.
    """

    entry: ScopeEntry | None
    spans: tuple[tuple[int, int], ...]
    constructions: tuple[str, ...]
    cores: tuple[str, ...]
    grades: tuple[str, ...]
    lays: tuple[str, ...]
    rotation_resistant: tuple[bool | None, ...]

    @property
    def counts_only(self) -> bool:
        """Whether nothing but the count holds for these ropes."""
        # Not "is counts": an entry made in Python with a slip of the pen gives no licence for more.
        return self.entry is not None and self.entry.gives != "everything"


@lru_cache(maxsize=256)
def stocks(rules: RuleSet, beside: tuple[RuleSet, ...] = ()) -> tuple[Stock, ...]:
    """Return the ropes that a rule set speaks of, by entry of its scope.

    Args:
        rules: The rule set.
        beside: Rule sets that are to take the rope too. Sizes are those of all; of the words, each is one that every
            rule set takes with some other word, so that a few ropes are still refused.

    Returns:
        One stock for each entry that any size of the table falls into; one for all ropes where there is no scope.
    """
    entries: tuple[ScopeEntry | None, ...] = rules.scope or (None,)
    found = (_among(_stock(rules, entry), beside) for entry in entries)
    return tuple(stock for stock in found if stock.spans)


def _among(stock: Stock, beside: tuple[RuleSet, ...]) -> Stock:
    for other in beside:
        found = [_stock(other, entry) for entry in (other.scope or (None,))]
        spans = {span for each in found for span in each.spans}
        met = ((max(a, c), min(b, d)) for (a, b), (c, d) in product(stock.spans, spans))
        stock = attrs.evolve(
            stock,
            spans=tuple(sorted({span for span in met if span[0] <= span[1]})),
            constructions=_kept(stock.constructions, {word for each in found for word in each.constructions}),
            cores=_kept(stock.cores, {word for each in found for word in each.cores}),
            grades=_kept(stock.grades, {word for each in found for word in each.grades}),
            lays=_kept(stock.lays, {word for each in found for word in each.lays}),
        )
    return stock


def _kept(words: tuple[str, ...], known: set[str]) -> tuple[str, ...]:
    return tuple(word for word in words if word in known)


def _stock(rules: RuleSet, entry: ScopeEntry | None) -> Stock:
    low, high = 1, _GREATEST
    if entry is not None:
        low = entry.least.nanometres if entry.least is not None else 1
        high = min(high, entry.greatest.nanometres if entry.greatest is not None else high)
    spans = [(max(low, one), min(high, other)) for one, other in _sizes(rules)]
    kept = tuple((one, other) for one, other in spans if one <= other)
    if entry is None:
        return Stock(None, kept, _given(_CONSTRUCTIONS), _given(_CORES), _given(_GRADES), _given(_LAYS), (None,))
    takes = set(entry.constructions)
    built = tuple(
        each for each in _CONSTRUCTIONS if not takes or takes & {named.value for named in classes_of(each)}
    ) or tuple(entry.constructions)
    return Stock(
        entry,
        kept,
        _given(built),
        _given(entry.cores or _CORES),
        _given(entry.grades or _GRADES),
        _given(entry.lays or _LAYS),
        (None,) if entry.rotation_resistant is None else (entry.rotation_resistant, None),
    )


def _given(words: tuple[str, ...]) -> tuple[str, ...]:
    return (*words, "")


def _sizes(rules: RuleSet) -> list[tuple[int, int]]:
    rule = rules.count_rule
    if rule is not None:
        low = rule.least.nanometres if rule.least is not None else _USUAL[0]
        high = rule.greatest.nanometres if rule.greatest is not None else max(_USUAL[1], low)
        return [(low, high)]
    if not rules.rows:
        return [_USUAL]
    # A row without a count is no plan alone; where no row has one, they are sizes for a plan with another rule set.
    counted = tuple(row for row in rules.rows if row.count_for("not given") is not None)
    return [
        (row.size.nanometres if row.above is None else row.above.nanometres + 1, row.size.nanometres)
        for row in counted or rules.rows
    ]
