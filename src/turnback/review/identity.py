"""A short id of a plan, so that an as-built can say which plan it belongs to."""

from __future__ import annotations

import hashlib
from fractions import Fraction

import attrs

from turnback.planning.plan import Plan
from turnback.quantities import Length

__all__ = ["plan_id"]


def plan_id(plan: Plan) -> str:
    """Return the id of a plan: what was asked, and the contents of the rule files that answered.

    It does not depend on how the rule sets were named, on the order of anything, or on the process; an input that was
    left out does not enter it.

    Args:
        plan: The plan.

    Returns:
        ``plan-`` and sixteen hexadecimal digits of SHA-256.
    """
    members = [f"{member.rules.id}={member.rules.sha256}" for member in plan.members]
    text = "|".join([_written(attrs.evolve(plan.request, rules=None)), *sorted(members)])
    return "plan-" + hashlib.sha256(text.encode()).hexdigest()[:16]


def _written(value: object) -> str:
    if isinstance(value, Length):
        return f"{value.nanometres} nm"
    if isinstance(value, Fraction):
        return str(value)
    kind = type(value)
    if attrs.has(kind):
        fields = ((field.name, getattr(value, field.name)) for field in attrs.fields(kind))
        given = ", ".join(f"{name}={_written(part)}" for name, part in fields if part not in (None, "", ()))
        return f"{kind.__name__}({given})"
    return repr(value)
