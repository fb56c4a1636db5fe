"""What a request plainly breaks of a service rule, and what of it cannot be told from the request."""

from __future__ import annotations

from turnback.model.rope import Rope
from turnback.model.terminations import PlateEye, PulleyEye, SoftEye, Termination
from turnback.quantities import Length
from turnback.rules.service import ServiceRule

__all__ = ["broken", "doubtful"]


def broken(rule: ServiceRule, rope: Rope, termination: Termination) -> tuple[str, ...]:
    """List what a request plainly breaks of a rule.

    Args:
        rule: The rule.
        rope: The rope.
        termination: The kind of eye or splice.

    Returns:
        One clause for each, without a full stop; empty when nothing is broken.
    """
    found: list[str] = []
    pin_eye = _pin_eye(termination)
    if termination.kind in rule.refuses_terminations:
        found.append(f"the request has a termination of the kind {termination.kind}")
    if rule.needs_thimble and pin_eye is not None:
        found.append("the request has an eye without a thimble")
    if rule.pin_under_diameters is not None and pin_eye is not None and pin_eye.pin is not None:
        least = rope.diameter * rule.pin_under_diameters
        if pin_eye.pin < least:
            found.append(f"the pin of {pin_eye.pin} is under {least} and the eye has no thimble")
    if rule.rope_at_least is not None and rope.diameter < rule.rope_at_least:
        found.append(f"the rope of {rope.diameter} is under {rule.rope_at_least}")
    if rule.grades and rope.grade and rope.grade not in rule.grades and not _is_metric(rope.grade):
        found.append(f"the grade {rope.grade} is none of {', '.join(rule.grades)}")
    return tuple(found)


def doubtful(rule: ServiceRule, rope: Rope, termination: Termination) -> tuple[str, ...]:
    """List what of a rule cannot be told from a request.

    Args:
        rule: The rule.
        rope: The rope.
        termination: The kind of eye or splice.

    Returns:
        One clause for each, without a full stop; empty when all can be told.
    """
    found: list[str] = []
    pin_eye = _pin_eye(termination)
    if rule.needs_thimble and isinstance(termination, PulleyEye):
        found.append("a pulley stands in place of the thimble")
    if rule.pin_under_diameters is not None:
        least = rope.diameter * rule.pin_under_diameters
        if pin_eye is not None and pin_eye.pin is None:
            found.append(f"the pin's diameter is not given; it must be at least {least} where there is no thimble")
        elif isinstance(termination, PulleyEye) and _is_small(termination.tread_diameter, least):
            found.append(f"the pulley's tread diameter is under {least}, or not given")
    if rule.grades and not rope.grade:
        found.append("the rope's grade is not given")
    elif rule.grades and rope.grade not in rule.grades and _is_metric(rope.grade):
        found.append(f"the grade {rope.grade} N/mm² and the named grades are different systems")
    return tuple(found)


def _pin_eye(termination: Termination) -> SoftEye | None:
    """Return the eye that lies round a bare pin, where there is one."""
    around = termination.around if isinstance(termination, PlateEye) else termination
    return around if isinstance(around, SoftEye) else None


def _is_metric(grade: str) -> bool:
    return grade.isdigit()


def _is_small(diameter: Length | None, least: Length) -> bool:
    return diameter is None or diameter < least
