"""The inverse question: what can be made with what is at hand, and what stops the rest."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Final, TypeVar

import attrs

from turnback.errors import InputError, PluginError, TurnbackError, UnknownRuleSet
from turnback.model.absent import Absent
from turnback.model.rope import Rope
from turnback.model.terminations import Termination, ThimbleEye
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures
from turnback.planning.strength import checked_factor
from turnback.quantities import Force, ForceLike, Length, LengthLike
from turnback.quantities.grammar import shown
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet
from turnback.rules.selection import FirstOf, Governing, RulesChoice, choice_text, governing

__all__ = ["Candidate", "possible"]

T = TypeVar("T")

_ABSENT: Final = "cannot be told"


@attrs.frozen
class Candidate:
    """One rope under one choice of rules.

    Args:
        rope: The rope.
        rules: The rule set or sets, as text.
        plan: The plan; None where there is none.
        obstacles: What stops it, one sentence each; empty when it fits.
    """

    rope: Rope
    rules: str
    plan: Plan | None
    obstacles: tuple[str, ...]

    @property
    def fits(self) -> bool:
        """Whether nothing stops it."""
        return not self.obstacles


def possible(
    ropes: Iterable[Rope | str],
    termination: Termination | None = None,
    *,
    style: str,
    rules: Iterable[RulesChoice] | None = None,
    turn_back: LengthLike | None = None,
    clips: int | None = None,
    load: ForceLike | None = None,
    design_factor: float | Fraction | int | None = None,
    clip_body: str = "not given",
    base_width: LengthLike | None = None,
    maker: MakerFigures | None = None,
    service: str | None = None,
    jurisdiction: str | None = None,
    catalogue: Catalogue | None = None,
) -> tuple[Candidate, ...]:
    """Say which ropes and rule sets fit what is at hand, and what stops the others.

    Args:
        ropes: The ropes to try, or their designations.
        termination: The kind of eye or splice; a thimble eye without dimensions when not given.
        style: Id of the clip style.
        rules: The choices of rules to try; every rule set at hand for the style when not given.
        turn_back: So much rope there is to turn back at each eye (in a lap splice, to overlap) [length].
        clips: So many clips there are [-].
        load: The load to be carried [force].
        design_factor: Breaking force over load [-]; the service's cited factor when not given.
        clip_body: ``"forged"``, ``"other"`` or ``"not given"``.
        base_width: Base width of the clips at hand [length].
        maker: Further figures of the clip's maker.
        service: Id of the service.
        jurisdiction: Where the joint is used.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        One candidate for each rope and choice of rules, in that order; those that fit and those that do not.

    Raises:
        InputError: Nothing is asked for, or an input cannot be read.
        UnknownStyle: No plugin brings the style.
        UnknownRuleSet: No rule set is at hand for the style.
        PluginError: The same, and a plugin that failed to load may have brought one.
    """
    limits = _Limits.of(turn_back, clips, load, design_factor)
    width = None if base_width is None else Length.of(base_width, "base_width")
    at_hand = Catalogue.installed() if catalogue is None else catalogue
    at_hand.style(style)
    choices = _choices(rules, at_hand, style)
    eye = ThimbleEye() if termination is None else termination
    tried = [Rope.parse(rope) if isinstance(rope, str) else rope for rope in _several(ropes, "ropes", (str, Rope))]
    if not tried:
        raise InputError(
            "no rope is named", field="ropes", instead="Give the ropes to try, such as '1/2 in 6x19 IWRC EIP'."
        )
    found: list[Candidate] = []
    for rope in tried:
        for choice in choices:
            name = choice_text(choice)
            try:
                made = plan(
                    rope, eye, style=style, rules=choice, clip_body=clip_body, base_width=width, maker=maker,
                    service=service, jurisdiction=jurisdiction, catalogue=at_hand,
                )  # fmt: skip
            except TurnbackError as error:
                if isinstance(error, InputError) and error.field in (
                    "service",
                    "jurisdiction",
                    "clip_body",
                    "termination",
                ):
                    raise
                found.append(Candidate(rope, name, None, (str(error),)))
                continue
            found.append(Candidate(rope, name, made, limits.obstacles(made)))
    return tuple(found)


def _several(given: Iterable[T], field: str, single: tuple[type, ...]) -> tuple[T, ...]:
    # Text is a row of characters to Python, and one rope or rule set is no row at all.
    if isinstance(given, single) or not isinstance(given, Iterable):
        raise InputError(
            "several are asked for, and this is a single one",
            field=field,
            value=shown(given),
            instead=f"Write it in square brackets: {field}=[...].",
        )
    return tuple(given)


def _choices(rules: Iterable[RulesChoice] | None, at_hand: Catalogue, style: str) -> tuple[RulesChoice, ...]:
    if rules is not None:
        # Governing one is that one; it refuses what is no choice, and to govern with nothing.
        choices = tuple(governing(each) for each in _several(rules, "rules", (str, RuleSet, Governing, FirstOf)))
        return choices or (governing(),)
    found = at_hand.for_style(style)
    if found:
        return found
    # A plugin that was refused must not look as if nobody had a rule.
    broken = "; ".join(str(failure) for failure in at_hand.failures)
    instead = "Install the plugin that brings one, or read a rule file: rules=[read_rules('sheet.toml')]."
    if not broken:
        raise UnknownRuleSet(f"no rule set is at hand for {style}", field="rules", instead=instead)
    words = f"no rule set is at hand for {style}, and a plugin that was refused may have brought one ({broken})"
    raise PluginError(words, field="rules", instead="Mend or remove that plugin. " + instead)


@attrs.frozen
class _Limits:
    turn_back: Length | None
    clips: int | None
    load: Force | None
    factor: Fraction | None

    @classmethod
    def of(
        cls,
        turn_back: LengthLike | None,
        clips: int | None,
        load: ForceLike | None,
        factor: float | Fraction | int | None,
    ) -> _Limits:
        given: object = clips  # a caller without a type checker may hand over anything
        if given is not None and not (isinstance(given, int) and not isinstance(given, bool) and given >= 1):
            raise InputError("a number of clips is a whole number", field="clips", value=repr(clips), bound="1 or more")
        if factor is not None and load is None:
            raise InputError(
                "a design factor goes with a load", field="design_factor", value=str(factor), instead="Give load."
            )
        if turn_back is None and clips is None and load is None:
            raise InputError(
                "nothing is asked for",
                field="turn_back",
                instead="Give at least one of turn_back, clips or load: what is at hand or what is to be carried.",
            )
        return cls(
            None if turn_back is None else Length.of(turn_back, "turn_back"),
            clips,
            None if load is None else Force.of(load, "load"),
            None if factor is None else checked_factor(factor),
        )

    def obstacles(self, made: Plan) -> tuple[str, ...]:
        found = [f"{finding.kind}: {finding.text}" for finding in made.findings if finding.blocks]
        needed = made.clip_count * (1 if made.second_eye is None else 2)
        if self.clips is not None and needed > self.clips:
            found.append(f"it takes {needed} clips, and {self.clips} are at hand")
        if self.turn_back is not None:
            if isinstance(made.turn_back, Absent):
                found.append(f"its turn-back {_ABSENT}: {made.turn_back.reason}")
            elif made.turn_back > self.turn_back:
                found.append(f"it takes {made.turn_back} of rope to turn back, and {self.turn_back} is at hand")
        if self.load is not None:
            found += self._load(made, self.load)
        return tuple(found)

    def _load(self, made: Plan, load: Force) -> list[str]:
        try:
            most = made.working_load(self.factor)
        except TurnbackError as error:
            return [f"its working load {_ABSENT}: {error}"]
        return [] if load <= most else [f"it may carry {most}, and the load is {load}"]
