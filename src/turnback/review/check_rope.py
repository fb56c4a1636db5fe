"""The rope itself, by the rules of discard of one state's code and by what the service says."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from turnback.errors import OutOfTable
from turnback.model.absent import Absent
from turnback.model.sources import Citation
from turnback.planning.cautions import practice
from turnback.quantities import Length
from turnback.review.observations import Observation
from turnback.review.subject import Subject
from turnback.rules.ropecare import DiscardRule
from turnback.rules.ropecarefile import discard_rules

__all__ = ["holding", "loss_allowed", "rope"]

_CORROSION: Final = practice("a corroded rope is judged by a competent person")
_OUT: Final = "Take the rope out of service. Other codes and the rope's maker may ask for it sooner."
_ATTACHMENT: Final = "mine-hoist-load-end"


def holding(subject: Subject) -> tuple[DiscardRule, ...]:
    """List the rules of discard that hold for a rope.

    Args:
        subject: The joint.

    Returns:
        Those for its use, and those for any rope; all of them where nobody says whether it runs or stands.
    """
    use = subject.as_built.rope.use
    return tuple(rule for rule in discard_rules() if use is None or rule.rope in ("any", use))


def loss_allowed(subject: Subject, rule: DiscardRule) -> Length | Absent:
    """Return the loss of diameter that a rule still allows.

    Args:
        subject: The joint.
        rule: The rule.

    Returns:
        The loss [length]; absent where the source prints none for the size, or a coating hides the rope.
    """
    rope = subject.plan.request.rope
    if rope.coating is not None and not rope.coating.stripped:
        return Absent("loss of diameter", "the coating stays on and hides the rope; a qualified person decides")
    try:
        return rule.allowed_loss(rope.diameter).value
    except OutOfTable as error:
        return Absent("loss of diameter", f"{error.problem}; ask the rope's maker or a qualified person")


def rope(subject: Subject) -> Iterator[Observation]:
    """Yield what takes the rope out of service.

    Args:
        subject: The joint.

    Returns:
        One observation for each rule that is reached.
    """
    for rule in holding(subject):
        yield from _judged(subject, rule)
    yield from _corrosion(subject)
    yield from _attachment(subject)


def _judged(subject: Subject, rule: DiscardRule) -> Iterator[Observation]:
    state = subject.as_built.rope
    if rule.measure == "loss of diameter":
        yield from _loss(subject, rule)
    elif rule.measure == "damage seen":
        if state.damage:
            yield _discard(subject, rule, f"Seen: {', '.join(state.damage)}.", ", ".join(state.damage), "none")
    else:
        reading = state.measured(rule.measure)
        if reading is not None and rule.is_reached(reading):
            text = f"{rule.measure[:1].upper()}{rule.measure[1:]}: {reading}."
            yield _discard(subject, rule, text, reading, _limit(rule))


def _loss(subject: Subject, rule: DiscardRule) -> Iterator[Observation]:
    measured, rope_ = subject.as_built.rope.diameter, subject.plan.request.rope
    allowed = loss_allowed(subject, rule)
    if measured is None or isinstance(allowed, Absent):
        return
    # A rope that measured more than its name when it was new has lost that too.
    new = max(rope_.diameter, rope_.measured_diameter or rope_.diameter)
    if new - measured > allowed:
        text = f"It measures {measured}, {new - measured} less than the {new} that it had."
        yield _discard(subject, rule, text, measured, f"at least {new - allowed}")


def _discard(subject: Subject, rule: DiscardRule, text: str, measured: object, bound: str) -> Observation:
    doubt = ""
    if rule.rope != "any" and subject.as_built.rope.use is None:
        doubt = f" That is the limit of a {rule.rope} rope, and nobody says whether this one runs or stands."
    return subject.seen(
        rule.code,
        "must-fix",
        "rope",
        f"{text} {rule.text}{doubt}",
        _OUT,
        (rule.citation,),
        measured=measured,
        bound=bound,
        out_of_service=True,
    )


def _limit(rule: DiscardRule) -> str:
    return f"under {rule.from_value}" if rule.from_value is not None else f"no more than {rule.more_than}"


def _corrosion(subject: Subject) -> Iterator[Observation]:
    if not subject.as_built.rope.corrosion:
        return
    yield subject.seen(
        "rope-corroded",
        "must-fix",
        "rope",
        "There is corrosion. No source here prints a limit for it.",
        "Not to be loaded before a competent person has judged it. Pitted wires, and corrosion under the clips, take "
        "it out of service.",
        (_CORROSION,),
        measured="corrosion",
        bound="none",
    )


def _attachment(subject: Subject) -> Iterator[Observation]:
    state = subject.as_built.rope
    asked: tuple[Citation, ...] = tuple(
        citation
        for finding in subject.plan.findings
        if finding.code.startswith(_ATTACHMENT)
        for citation in finding.citations
    )
    wires = state.broken_wires_at_end or 0
    if not asked or not (wires > 1 or state.corrosion):
        return
    seen = [f"{wires} broken wires"] if wires > 1 else []
    seen += ["corrosion"] if state.corrosion else []
    yield subject.seen(
        "attachment-cut-off",
        "must-fix",
        "rope",
        f"At the attachment: {' and '.join(seen)}.",
        f"Take the hoist out of service. {subject.cut_off()}",
        asked,
        measured=" and ".join(seen),
        bound="no more than 1 broken wire, no corrosion",
        out_of_service=True,
    )
