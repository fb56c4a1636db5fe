"""What holds for every row of a run."""

from __future__ import annotations

from typing import Final, get_args

import attrs

from turnback.errors import InputError
from turnback.model.terminations import TERMINATION_KINDS
from turnback.planning.request import MakerFigures, check_kind
from turnback.rules.ruleset import BodyOfClip, RuleSet
from turnback.rules.selection import FirstOf, Governing, RulesChoice

__all__ = ["DEFAULT_BODY", "DEFAULT_KIND", "BatchOptions"]

DEFAULT_KIND: Final = "thimble eye"
DEFAULT_BODY: Final = "not given"
_BODIES: Final = get_args(BodyOfClip)
_NONE: Final = type(None)


@attrs.frozen
class BatchOptions:
    """What holds for every row of a run: the arguments of :func:`turnback.plan` that are not columns. Can be pickled.

    Args:
        style: Id of the clip style.
        rules: The rule set or sets.
        termination: Kind of termination of rows that do not name one.
        clip_body: ``forged``, ``other`` or ``not given``, where there is no column of that name.
        service: Id of the service, where there is no column of that name; None when not stated.
        jurisdiction: Where the joints are used, where there is no column of that name; None takes the strictest.
        efficiency_basis: Basis of efficiency asked for by name.
        maker: Further figures of the clip's maker; they hold for every row.
        strict: Raise as soon as a row was not planned, in place of a status.

    Raises:
        InputError: A value is of another kind, or in no closed list.
    """

    style: str
    rules: RulesChoice
    termination: str = DEFAULT_KIND
    clip_body: str = DEFAULT_BODY
    service: str | None = None
    jurisdiction: str | None = None
    efficiency_basis: str | None = None
    maker: MakerFigures | None = None
    strict: bool = False

    def __attrs_post_init__(self) -> None:
        check_kind(self.style, (str,), "style", "the id of a clip style, such as 'u-bolt'")
        wanted = "an id, a rule set, or what governing(...) or first_of(...) returns"
        check_kind(self.rules, (str, RuleSet, Governing, FirstOf), "rules", wanted)
        check_kind(self.maker, (MakerFigures, _NONE), "maker", "MakerFigures(citation, torque, threads, efficiency)")
        check_kind(self.strict, (bool,), "strict", "True or False")
        for field in ("service", "jurisdiction", "efficiency_basis"):
            check_kind(getattr(self, field), (str, _NONE), field, "an id as text, or None")
        _listed("termination", self.termination, TERMINATION_KINDS)
        _listed("clip_body", self.clip_body, _BODIES)


def _listed(field: str, value: object, known: tuple[str, ...]) -> None:
    if value not in known:
        raise InputError(
            "this is in no closed list", field=field, value=repr(value)[:80], bound="one of " + ", ".join(known)
        )
