"""Comparisons of the rule sets of a style, made while the site is built and kept for the directives that share them."""

from __future__ import annotations

from functools import lru_cache

from turnback.model.sources import Status, weakest
from turnback.model.terminations import Termination, ThimbleEye
from turnback.quantities import Length
from turnback.review.comparison import Comparison, compare
from turnback.review.saying import Answer, Said
from turnback.rules.ruleset import ANY_STYLE, RuleSet
from turnback.sphinxext.rows_table import printed_in

__all__ = ["compared", "own_status", "printed_sizes"]


@lru_cache(maxsize=512)
def compared(rope: str, style: str, clip_body: str) -> Comparison:
    """Compare for a thimble eye, or for the eye that the style makes.

    Args:
        rope: The rope, as text.
        style: Id of the style.
        clip_body: ``forged``, ``other`` or ``not given``.

    Returns:
        The comparison.

    Raises:
        TurnbackError: The rope cannot be read, or the style is not at hand.
    """
    eye: Termination = ThimbleEye()
    return compare(rope, eye, style=style, clip_body=clip_body)


def own_status(answer: Answer, said: Said) -> Status | None:
    """Tell how far the document of a rule set stands behind what it says.

    Args:
        answer: The answer of the rule set.
        said: One item of it.

    Returns:
        The least certain status among the citations of that document; among all where it is not cited; None where
        nothing is said.
    """
    own = tuple(citation for citation in said.citations if citation.source == answer.rules.source)
    return weakest(own) if own else said.status


def printed_sizes(rule_sets: tuple[RuleSet, ...], style: str) -> tuple[tuple[Length, str], ...]:
    """List the sizes that rule sets print for a style.

    Args:
        rule_sets: The rule sets.
        style: Id of the style.

    Returns:
        Each size once with its text in the unit of print, smallest first.
    """
    found: dict[Length, str] = {}
    for rules in rule_sets:
        if rules.style in (style, ANY_STYLE):
            unit = printed_in(row.size for row in rules.rows)
            for row in rules.rows:
                found.setdefault(row.size, row.size.text(unit))
    return tuple(sorted(found.items()))
