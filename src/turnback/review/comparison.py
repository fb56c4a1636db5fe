"""Rule sets side by side: what each says for one case, what governs, where they differ and where they contradict."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from typing import Final, Literal, TypeAlias

import attrs

from turnback.errors import Conflict, InputError, OutOfScope, OutOfTable
from turnback.model.findings import Finding
from turnback.model.rope import Rope
from turnback.model.sources import Citation
from turnback.model.styles import ClipStyle
from turnback.model.terminations import Termination
from turnback.planning.build import plan_request
from turnback.planning.cautions import sorted_findings
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures, Request
from turnback.quantities import ForceLike, LengthLike
from turnback.review.clashes import Clash
from turnback.review.saying import ITEMS, Answer, Item, answer_of, item_label
from turnback.review.together import Together, companies_of
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import ANY_STYLE, RuleSet
from turnback.rules.selection import governing

__all__ = ["Comparison", "Difference", "Refusal", "Why", "compare", "compare_request"]

Why: TypeAlias = Literal["size", "rope", "demands", "input"]
"""Why a rule set does not cover a case: it prints no row for the size, does not speak of the rope, cannot be met
together with what the service asks for, or does not fit a measurement of the clip."""

_EXTREMES: Final[dict[Item, str]] = {
    "count": "the most",
    "turn-back": "the longest",
    "efficiency": "the lowest",
    "breaking force": "the lowest",
}
_OF_THE_SET: Final = ("rules", "base_width", "clip_size")
"""Fields of an input error that belong to one rule set and not to the case."""


@attrs.frozen
class Refusal:
    """A rule set that does not cover the case, with the reason.

    Args:
        rules: The rule set.
        why: In one word.
        reason: What planning by it alone says.
    """

    rules: RuleSet
    why: Why
    reason: str


@attrs.frozen
class Difference:
    """How the rule sets that cover the case differ in one item, or that they do not.

    Args:
        item: The item.
        label: Its name before a reader.
        values: Each value with the ids of the rule sets that say so; the one that governs first.
        silent: Ids of the rule sets that say nothing of it.
        extreme: In what the first value governs, such as ``the most``; empty where none does.
    """

    item: Item
    label: str
    values: tuple[tuple[str, tuple[str, ...]], ...]
    silent: tuple[str, ...]
    extreme: str = ""

    @property
    def differs(self) -> bool:
        """Whether two rule sets say different things, or one says nothing where another speaks."""
        return len(self.values) > 1 or bool(self.values and self.silent)

    @property
    def text(self) -> str:
        """The same as a sentence."""
        parts = [f"{value} by {', '.join(ids)}" for value, ids in self.values]
        if self.extreme:
            parts[0] = f"{self.extreme}, {parts[0]}"
        if self.silent:
            parts.append(f"none by {', '.join(self.silent)}")
        return f"{self.label}: {'; '.join(parts)}"


@attrs.frozen
class Comparison:
    """Every rule set for a style, side by side. :func:`compare` makes it.

    Nothing is chosen here: the caller still names the rule set of a plan.

    Args:
        request: What was asked, without rules.
        style: The clip style.
        answers: The rule sets that cover the case, by id.
        refusals: Those that do not, by id.
        together: The largest companies of rule sets that can be met together, with the plan by all of a company.
        clashes: What keeps others apart.
        failures: Plugins that failed to load and may have brought further rule sets.
    """

    request: Request
    style: ClipStyle
    answers: tuple[Answer, ...]
    refusals: tuple[Refusal, ...]
    together: tuple[Together, ...]
    clashes: tuple[Clash, ...]
    failures: tuple[str, ...] = ()

    @property
    def differences(self) -> tuple[Difference, ...]:
        """How the rule sets differ, item by item."""
        return tuple(_difference(item, self.answers) for item in ITEMS) if self.answers else ()

    @property
    def findings(self) -> tuple[tuple[Finding, tuple[str, ...]], ...]:
        """Every finding of every plan once, gravest first, with the ids of the rule sets under which it stands."""
        under: dict[Finding, list[str]] = {}
        for answer in self.answers:
            for finding in dict.fromkeys(answer.plan.findings):
                under.setdefault(finding, []).append(answer.rules.id)
        return tuple((finding, tuple(under[finding])) for finding in sorted_findings(under))

    @property
    def usable(self) -> tuple[str, ...]:
        """Ids of the rule sets under which nothing is forbidden and nothing must be fixed first."""
        return tuple(answer.rules.id for answer in self.answers if answer.plan.usable)

    @property
    def citations(self) -> tuple[Citation, ...]:
        """Who is cited in the comparison, each once."""
        named = [citation for answer in self.answers for said in answer.said for citation in said.citations]
        named += [citation for clash in self.clashes for citation in clash.citations]
        named += [citation for finding, _ in self.findings for citation in finding.citations]
        return tuple(dict.fromkeys(named))

    def answer(self, rules_id: str) -> Answer:
        """Return what one rule set says.

        Args:
            rules_id: Its id.

        Returns:
            The answer.

        Raises:
            InputError: It does not cover the case, or was not compared; the reason is in the message.
        """
        for answer in self.answers:
            if answer.rules.id == rules_id:
                return answer
        reasons = [refusal.reason for refusal in self.refusals if refusal.rules.id == rules_id]
        known = ", ".join(answer.rules.id for answer in self.answers) or "none"
        raise InputError(
            "it does not cover this case" if reasons else "no such rule set was compared",
            field="rules",
            value=rules_id[:80],
            bound=reasons[0] if reasons else f"these cover it: {known}",
        )

    def __str__(self) -> str:
        covers = ", ".join(answer.rules.id for answer in self.answers) or "none"
        lines = [f"{self.request.rope}: {self.request.termination.kind} with {self.style.title}", f"cover it: {covers}"]
        lines += [difference.text for difference in self.differences]
        lines += [f"cannot be met together: {clash}" for clash in self.clashes]
        lines += [f"does not cover it: {refusal.rules.id}: {refusal.reason}" for refusal in self.refusals]
        return "\n".join(_folded(line) for line in (*self.failures, *lines))

    def _repr_html_(self) -> str:
        from turnback.review.notebook import comparison_table

        return comparison_table(self)


def compare(
    rope: Rope | str,
    termination: Termination,
    *,
    style: str,
    also: Iterable[RuleSet] = (),
    clip_body: str = "not given",
    base_width: LengthLike | None = None,
    clip_size: LengthLike | None = None,
    clip_size_citation: str | Citation | None = None,
    maker: MakerFigures | None = None,
    service: str | None = None,
    jurisdiction: str | None = None,
    extra_clips: int = 0,
    load: ForceLike | None = None,
    efficiency_basis: str | None = None,
    catalogue: Catalogue | None = None,
) -> Comparison:
    """Lay every rule set for a style beside the others for one case.

    Args:
        rope: The rope, or its designation as text.
        termination: The kind of eye or splice, with the dimensions that are known.
        style: Id of the clip style, such as ``"u-bolt"``.
        also: Rule sets of your own to lay beside those at hand.
        clip_body: ``"forged"``, ``"other"`` or ``"not given"``.
        base_width: Length of one saddle (or plate body) along the rope, measured on the clip [length].
        clip_size: Another clip size than the rope's own, on the clip maker's word [length].
        clip_size_citation: That word.
        maker: Further figures of the clip's maker.
        service: Id of the service.
        jurisdiction: Where the joint is used; the strictest of all when not given.
        extra_clips: Clips added on each eye, or on each half of a lap splice [-].
        load: The load that the joint is to carry [force].
        efficiency_basis: Basis of efficiency asked for by name.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The comparison. No rule set is left out: what does not cover the case stands there with the reason.

    Raises:
        InputError: An input cannot be read or breaks a bound of its own, whatever the rule set.
        UnknownStyle: No plugin brings the style.
        UnknownRuleSet: No plugin brings the basis of efficiency.
        PluginError: A plugin that failed to load may have brought what was asked for.
    """
    request = Request(
        rope, termination, style, None, clip_body, base_width, clip_size, clip_size_citation, maker, service,
        jurisdiction, extra_clips, load, efficiency_basis,
    )  # fmt: skip
    return compare_request(request, also, catalogue)


def compare_request(request: Request, also: Iterable[RuleSet] = (), catalogue: Catalogue | None = None) -> Comparison:
    """Compare for a request that was made before; see :func:`compare`.

    Args:
        request: The request; its rules are not looked at.
        also: Rule sets of your own to lay beside those at hand.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The comparison.

    Raises:
        TurnbackError: As :func:`compare`.
    """
    at_hand = Catalogue.installed() if catalogue is None else catalogue
    style = at_hand.style(request.style)
    answers: list[Answer] = []
    refusals: list[Refusal] = []
    for rules in _compared(at_hand.for_style(style.id), tuple(also), style.id):
        try:
            answers.append(answer_of(rules, plan_request(attrs.evolve(request, rules=rules), at_hand)))
        except OutOfTable as error:
            refusals.append(Refusal(rules, "size", str(error)))
        except OutOfScope as error:
            refusals.append(Refusal(rules, "rope", str(error)))
        except Conflict as error:
            refusals.append(Refusal(rules, "demands", str(error)))
        except InputError as error:
            if error.field not in _OF_THE_SET:
                raise
            refusals.append(Refusal(rules, "input", str(error)))

    def plan_by(chosen: tuple[Answer, ...]) -> Plan:
        names = governing(*(answer.rules for answer in chosen))
        return plan_request(attrs.evolve(request, rules=names), at_hand)

    together, clashes = companies_of(tuple(answers), plan_by)
    failures = tuple(str(failure) for failure in at_hand.failures)
    plain = attrs.evolve(request, rules=None)
    return Comparison(plain, style, tuple(answers), tuple(refusals), together, clashes, failures)


def _folded(line: str) -> str:
    return textwrap.fill(line, 80, subsequent_indent="    ", break_long_words=False, break_on_hyphens=False)


def _compared(at_hand: tuple[RuleSet, ...], also: tuple[RuleSet, ...], style: str) -> tuple[RuleSet, ...]:
    known = {rules.id for rules in at_hand}
    for rules in also:
        if rules.style not in (style, ANY_STYLE) or rules.is_basis:
            raise InputError(
                f"this rule set is not for the style {style}",
                field="also",
                value=rules.id,
                bound="it gives efficiencies alone" if rules.is_basis else f"it is for {rules.style}",
                instead="Leave it out, or compare for its own style.",
            )
        if rules.id in known:
            raise InputError(
                "two rule sets of one name cannot be told apart",
                field="also",
                value=rules.id,
                instead="Give the rule file an id of its own.",
            )
        known.add(rules.id)
    return tuple(sorted((*at_hand, *also), key=lambda rules: rules.id))


def _difference(item: Item, answers: tuple[Answer, ...]) -> Difference:
    said = [(answer.rules.id, answer.about(item)) for answer in answers]
    values: dict[str, list[str]] = {}
    for rules_id, each in sorted(said, key=lambda pair: pair[1].rank):
        if each.says:
            values.setdefault(each.text, []).append(rules_id)
    silent = tuple(rules_id for rules_id, each in said if not each.says)
    ranks = {each.rank for _, each in said if each.says}
    extreme = _EXTREMES.get(item, "") if len(ranks) > 1 else ""
    label = item_label(item, answers[0].plan)
    return Difference(item, label, tuple((text, tuple(ids)) for text, ids in values.items()), silent, extreme)
