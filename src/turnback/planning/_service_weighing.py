"""Service rules weighed: the findings that they lead to and the numbers that they ask for together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final, TypeVar

import attrs

from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.findings import KINDS, Finding, Kind
from turnback.model.rope import Rope
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.terminations import Termination, TerminationKind
from turnback.planning._service_checks import broken, doubtful
from turnback.rules.ruleset import SpacingBound
from turnback.rules.service import RETORQUE_TIMES, RuleKind, ServiceRule

__all__ = ["Entry", "ServiceDemands", "checked", "in_order", "not_stated", "nothing_read", "together"]

T = TypeVar("T", int, Fraction)

_KIND: Final[Mapping[RuleKind, Kind]] = {
    "forbidden": "forbidden",
    "required": "must-do",
    "floor": "must-do",
    "bound": "must-do",
    "note": "note",
}
_NOT_STATED: Final = "service-not-stated"
_RANK: Final = {kind: rank for rank, kind in enumerate(KINDS)}
_STATE_IT: Final = (Citation(COMMON_PRACTICE, "a termination is made for a stated service", "common practice"),)
_LOCAL_CODE: Final = (Citation(COMMON_PRACTICE, "the local code comes first", "common practice"),)
_BARE_EYES: Final[tuple[TerminationKind, ...]] = ("soft eye", "pulley eye", "plate eye")
"""The kinds whose dimensions tell whether the rope lies on a thimble, and on what else it bears."""


@attrs.frozen
class ServiceDemands:
    """What a service asks of one termination.

    Args:
        findings: What a person must know or do, the gravest first; where no service is stated, that comes first.
        count_floor: Least number of clips [-]; None when the service has none.
        spacing: Bounds on the distance between clips.
        retorque: When to tighten again, in the order of the joint's life.
        design_factor: Design factor of the rope [-], or why there is none.
        efficiency_at_least: Least share of the rope's strength that the termination must hold [-]; None when the
            service asks for none.
        forged_confirm: What to confirm where the clips are not known to be forged; None when nobody asks.
        rule_sets: Ids of the rule sets whose tables the service points to, any one of each group.
    """

    findings: tuple[Finding, ...]
    count_floor: Cited[int] | None
    spacing: tuple[SpacingBound, ...]
    retorque: tuple[Cited[str], ...]
    design_factor: Cited[Fraction] | Absent
    efficiency_at_least: Cited[Fraction] | None
    forged_confirm: Finding | None
    rule_sets: tuple[Cited[tuple[str, ...]], ...]


@attrs.frozen(eq=False)
class Entry:
    """A rule with the findings that it leads to, prepared.

    Args:
        rule: The rule.
        finding: Its finding where the request does not plainly break it.
        other_style: Its finding where it names another style than the request's.
        has_checks: Whether a request can break it.
    """

    rule: ServiceRule
    finding: Finding
    other_style: Finding
    has_checks: bool

    @classmethod
    def of(cls, rule: ServiceRule) -> Entry:
        """Prepare a rule.

        Args:
            rule: The rule.

        Returns:
            The entry.
        """
        values = (("service", rule.service), ("jurisdiction", rule.jurisdiction))
        named = " or ".join("U-bolt" if style == "u-bolt" else style for style in rule.styles)
        other = f"The paragraph names {named} clips; confirm whether it holds for this clip. {rule.text}"
        listed = rule.refuses_terminations or rule.needs_thimble or rule.grades
        sized = rule.pin_under_diameters is not None or rule.rope_at_least is not None
        return cls(
            rule,
            Finding(rule.code, _KIND[rule.kind], rule.text, (rule.citation,), values),
            Finding(f"{rule.code}-other-style", "confirm", other, (rule.citation,), values),
            rule.kind in ("required", "floor", "bound") and bool(listed or sized),
        )

    def depends_on_dimensions(self, kind: TerminationKind) -> bool:
        """Tell whether its checks look at more than the kind of termination.

        Args:
            kind: The kind of termination.

        Returns:
            True where they look at the rope or at the dimensions of the eye.
        """
        rule = self.rule
        if not self.has_checks:
            return False
        looks_at_eye = rule.needs_thimble or rule.pin_under_diameters is not None
        return rule.rope_at_least is not None or bool(rule.grades) or (looks_at_eye and kind in _BARE_EYES)


def checked(entry: Entry, rope: Rope, termination: Termination) -> Iterator[Finding]:
    """Yield the findings of a rule that a request can break.

    Args:
        entry: The rule.
        rope: The rope.
        termination: The kind of eye or splice.

    Returns:
        A ``must-fix`` where the request plainly breaks it, its own finding where not, and a ``confirm`` for what
        cannot be told from the request.
    """
    rule = entry.rule
    breaks, doubts = "; ".join(broken(rule, rope, termination)), "; ".join(doubtful(rule, rope, termination))
    if breaks:
        values = (*entry.finding.values, ("broken", breaks))
        yield Finding(f"{rule.code}-not-met", "must-fix", f"{rule.text} Not met: {breaks}.", (rule.citation,), values)
    else:
        yield entry.finding
    if doubts:
        values = (*entry.finding.values, ("doubtful", doubts))
        yield Finding(f"{rule.code}-to-confirm", "confirm", f"{rule.text} Confirm: {doubts}.", (rule.citation,), values)


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sort findings.

    Args:
        findings: The findings, in the order of their rules.

    Returns:
        That no service is stated first, then the gravest; those of one kind in the order given.
    """
    return tuple(sorted(findings, key=lambda f: -1 if f.code == _NOT_STATED else _RANK[f.kind]))


def together(
    findings: Iterable[Finding], asking: Sequence[ServiceRule], factor: Cited[Fraction] | Absent
) -> ServiceDemands:
    """Put together what several rules ask for.

    Args:
        findings: The findings.
        asking: The rules that hold.
        factor: The design factor.

    Returns:
        The demands, each number the strictest, with the citations of every rule that asks for it.
    """
    counts = [(rule.clip_count_at_least, rule) for rule in asking if rule.clip_count_at_least is not None]
    shares = [(rule.efficiency_at_least, rule) for rule in asking if rule.efficiency_at_least is not None]
    return ServiceDemands(
        findings=in_order(findings),
        count_floor=_greatest(counts),
        spacing=tuple(dict.fromkeys(bound for rule in asking for bound in rule.spacing)),
        retorque=_retorque(asking),
        design_factor=factor,
        efficiency_at_least=_greatest(shares),
        forged_confirm=_forged(asking),
        rule_sets=tuple(Cited(rule.rule_sets, (rule.citation,), rule.text) for rule in asking if rule.rule_sets),
    )


def nothing_read(service: str, jurisdiction: str | None) -> Finding:
    """Say that no paragraph on a service was read, which is not the same as that there is none.

    Args:
        service: Id of the service.
        jurisdiction: Id of the jurisdiction; None when not given.

    Returns:
        A ``confirm`` where a jurisdiction was asked for, else a ``note``.
    """
    where = "" if jurisdiction is None else f" in {jurisdiction}"
    text = (
        f"No paragraph on clips for {service}{where} was read here. That does not mean that there is none: "
        "ask the local authority or a qualified person."
    )
    kind: Kind = "note" if jurisdiction is None else "confirm"
    values = (("service", service), ("jurisdiction", jurisdiction or ""))
    return Finding("nothing-read-for-service", kind, text, _LOCAL_CODE, values)


def not_stated(forbidding: Iterable[ServiceRule], style_id: str) -> Finding:
    """Say that no service is stated, and list every use that is forbidden.

    Args:
        forbidding: The rules that forbid a use where the joint is made.
        style_id: Id of the clip style.

    Returns:
        A ``must-do`` with the citations of all of them.
    """
    uses: dict[str, str] = {}
    citations: list[Citation] = []
    for rule in forbidding:
        other = "" if not rule.styles or style_id in rule.styles else ", the paragraph names another style of clip"
        uses.setdefault(rule.service, f"{rule.use or rule.service} ({rule.service}{other})")
        citations.append(rule.citation)
    if not uses:
        text = (
            "The service is not stated. Nothing was read here of uses that are forbidden; ask what the local code says."
        )
        return Finding(_NOT_STATED, "must-do", text, _STATE_IT, (("forbidden", ""),))
    text = (
        "The service is not stated. Clips are forbidden, but for exceptions in the paragraphs cited, for: "
        f"{'; '.join(uses.values())}. State the service and the jurisdiction."
    )
    return Finding(_NOT_STATED, "must-do", text, _once(citations), (("forbidden", ", ".join(uses)),))


def _once(citations: Iterable[Citation]) -> tuple[Citation, ...]:
    return tuple(dict.fromkeys(citations))


def _greatest(asked: Sequence[tuple[T, ServiceRule]]) -> Cited[T] | None:
    if not asked:
        return None
    top = max(value for value, _ in asked)
    rules = [rule for value, rule in asked if value == top]
    return Cited(top, _once(rule.citation for rule in rules), rules[0].text)


def _retorque(asking: Sequence[ServiceRule]) -> tuple[Cited[str], ...]:
    when: dict[str, tuple[Citation, ...]] = {}
    for rule in asking:
        for word in rule.retorque:
            when[word] = (*when.get(word, ()), rule.citation)
    return tuple(Cited(word, _once(when[word]), "asked for in this service") for word in RETORQUE_TIMES if word in when)


def _forged(asking: Sequence[ServiceRule]) -> Finding | None:
    rules = [rule for rule in asking if rule.forged_only_confirm]
    if not rules:
        return None
    text = " ".join(rule.text for rule in rules)
    return Finding(rules[0].code, "confirm", text, _once(rule.citation for rule in rules))
