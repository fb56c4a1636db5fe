"""What a service forbids or demands of a clip termination, as typed values.

They are read from files (:mod:`turnback.rules.servicefile`) and weighed against a request in
:mod:`turnback.planning.service`. What a paragraph does not say is ``None`` or empty here, never zero and never guessed.
None of it replaces the local code or a qualified person.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal, get_args

import attrs

from turnback.errors import InputError
from turnback.model.sources import Citation
from turnback.model.terminations import TERMINATION_KINDS
from turnback.quantities import Length
from turnback.rules.ruleset import SpacingBound

__all__ = [
    "ANY",
    "GENERAL",
    "RETORQUE_TIMES",
    "RULE_KINDS",
    "DesignFactor",
    "RuleKind",
    "ServiceRule",
]

ANY: Final = "any"
"""Service or jurisdiction of a rule that holds for every one."""
GENERAL: Final = "general"
"""The service about which nothing special is known; the design factor of wire rope in general stands under it."""

RuleKind = Literal["forbidden", "required", "floor", "bound", "note"]
"""``forbidden`` (clips may not be used so), ``required`` (something must be so), ``floor`` (at least so many clips or
so much distance), ``bound`` (another limit of a number), ``note`` (nothing is demanded)."""
RULE_KINDS: Final[tuple[RuleKind, ...]] = get_args(RuleKind)

RETORQUE_TIMES: Final = ("before first use", "after the first load", "at intervals", "each shift")
"""When clips are tightened again, in the order of a joint's life; a closed list."""


def need(held: bool, problem: str, field: str, value: object, bound: str = "") -> None:
    """Refuse a field that does not hold what it must.

    Args:
        held: Whether the demand is met.
        problem: What is wrong where it is not, as a sentence.
        field: Name of the field.
        value: What it holds.
        bound: What it may hold, in words.

    Raises:
        InputError: The demand is not met.
    """
    if not held:
        raise InputError(problem, field=field, value=repr(value)[:80], bound=bound)


def need_words(rule: object, fields: tuple[str, ...]) -> None:
    """Refuse a field that is no text, or an empty one.

    Args:
        rule: The rule.
        fields: Names of the fields.

    Raises:
        InputError: One of them holds no text, or nothing but spaces.
    """
    for field in fields:
        value = getattr(rule, field)
        need(isinstance(value, str) and bool(value.strip()), "a text is needed here", field, value)


def need_citation(value: object) -> None:
    """Refuse a rule without a citation.

    Args:
        value: What stands where the citation belongs.

    Raises:
        InputError: It is no citation.
    """
    need(isinstance(value, Citation), "a rule without a citation cannot be stored", "citation", value)


def _is_count(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and value >= 1


@attrs.frozen
class ServiceRule:
    """What one paragraph says of clips in one service.

    Args:
        service: Id of the service, or ``any``.
        jurisdiction: Id of the jurisdiction, or ``any``.
        kind: One of :data:`RULE_KINDS`.
        text: What it says, restated in plain sentences.
        citation: Where it says so.
        code: Stable code of the findings that it leads to, lower case with hyphens.
        use: The service in words; empty when nobody put it in words.
        styles: Ids of the clip styles that it names; empty when it speaks of clips of any style.
        terminations: Kinds of eye and splice that it speaks of; empty for any.
        rule_sets: Ids of the rule sets whose tables it points to; empty when it points to none.
        clip_count_at_least: Least number of clips [-]; with ``forbidden``, of the exception that the paragraph makes.
        rope_from: It holds from this nominal rope diameter on [length].
        rope_below: It holds below this nominal rope diameter [length].
        spacing: Bounds on the distance between clips.
        retorque: When to tighten again; words of :data:`RETORQUE_TIMES`.
        needs_thimble: Whether the eye needs a thimble.
        pin_under_diameters: A thimble is needed where the pin is under this many rope diameters [-].
        refuses_terminations: Kinds of eye and splice that it refuses.
        design_factor: Design factor of the rope [-].
        design_factor_rotation_resistant: The same for rotation-resistant rope [-].
        efficiency_at_least: Least share of the rope's strength that the termination must hold [-].
        rope_at_least: Least nominal rope diameter [length].
        grades: Table grades that are good enough.
        forged_only_confirm: Whether it asks for forged clips, to be confirmed where the body is not known as forged.

    Raises:
        InputError: A field is empty, out of its closed list or out of bounds, or two fields contradict each other.
    """

    service: str
    jurisdiction: str
    kind: RuleKind
    text: str
    citation: Citation
    code: str
    use: str = ""
    styles: tuple[str, ...] = ()
    terminations: tuple[str, ...] = ()
    rule_sets: tuple[str, ...] = ()
    clip_count_at_least: int | None = None
    rope_from: Length | None = None
    rope_below: Length | None = None
    spacing: tuple[SpacingBound, ...] = ()
    retorque: tuple[str, ...] = ()
    needs_thimble: bool = False
    pin_under_diameters: int | None = None
    refuses_terminations: tuple[str, ...] = ()
    design_factor: Fraction | None = None
    design_factor_rotation_resistant: Fraction | None = None
    efficiency_at_least: Fraction | None = None
    rope_at_least: Length | None = None
    grades: tuple[str, ...] = ()
    forged_only_confirm: bool = False

    def __attrs_post_init__(self) -> None:
        need_words(self, ("service", "jurisdiction", "text", "code"))
        need_citation(self.citation)
        need(self.kind in RULE_KINDS, "this is no kind of rule", "kind", self.kind, "one of " + ", ".join(RULE_KINDS))
        self._check_lists()
        self._check_numbers()

    def _check_lists(self) -> None:
        for field, closed in (
            ("retorque", RETORQUE_TIMES),
            ("terminations", TERMINATION_KINDS),
            ("refuses_terminations", TERMINATION_KINDS),
        ):
            for word in getattr(self, field):
                need(word in closed, "this word is not in the closed list", field, word, "one of " + ", ".join(closed))
        tabled = any(bound.length is None for bound in self.spacing)
        need(not tabled, "a service has no table of sizes to take a distance from", "spacing", self.spacing)

    def _check_numbers(self) -> None:
        for field in ("clip_count_at_least", "pin_under_diameters"):
            value = getattr(self, field)
            need(value is None or _is_count(value), "a whole number is needed here", field, value, "at least 1")
        for field in ("design_factor", "design_factor_rotation_resistant"):
            factor = getattr(self, field)
            need(factor is None or factor >= 1, "a design factor under one is none", field, factor, "at least 1")
        alone = self.design_factor is None and self.design_factor_rotation_resistant is not None
        need(not alone, "a factor for one kind of rope goes with one for the others", "design_factor", None)
        share = self.efficiency_at_least
        need(share is None or 0 < share <= 1, "no termination holds it", "efficiency_at_least", share, "to 100 %")
        low, high = self.rope_from, self.rope_below
        need(low is None or high is None or low < high, "no rope is in this range", "rope_below", high, f"over {low}")
        asks = self.clip_count_at_least is not None or bool(self.spacing)
        need(self.kind != "floor" or asks, "a floor is a count or a distance", "clip_count_at_least", None)

    def holds_for_size(self, diameter: Length) -> bool:
        """Tell whether a rope is in the range of sizes in which the rule holds.

        Args:
            diameter: Nominal rope diameter [length].

        Returns:
            Exact comparison: ``rope_from`` belongs to the range, ``rope_below`` does not.
        """
        return (self.rope_from is None or self.rope_from <= diameter) and (
            self.rope_below is None or diameter < self.rope_below
        )

    def __str__(self) -> str:
        return f"{self.service} ({self.jurisdiction}), {self.kind}: {self.text} [{self.citation}]"


@attrs.frozen
class DesignFactor:
    """A design factor as one source prints it.

    Args:
        use: What it is printed for, in words.
        services: Ids of the services that it is taken for; empty when it stands for itself alone.
        jurisdiction: Id of the jurisdiction.
        factor: Breaking force over working load [-].
        text: What a reader must know of it.
        citation: Where it is printed.

    Raises:
        InputError: A text is empty, or the factor is under one.
    """

    use: str
    services: tuple[str, ...]
    jurisdiction: str
    factor: Fraction
    text: str
    citation: Citation

    def __attrs_post_init__(self) -> None:
        need_words(self, ("use", "jurisdiction", "text"))
        need_citation(self.citation)
        need(self.factor >= 1, "a design factor under one is none", "factor", self.factor, "at least 1")

    def __str__(self) -> str:
        return f"{self.use} ({self.jurisdiction}): {self.factor} [{self.citation}]"
