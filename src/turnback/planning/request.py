"""A request: everything that a plan is computed from, read and checked once."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, get_args

import attrs

from turnback.errors import InputError
from turnback.model.rope import Rope
from turnback.model.sources import Citation, user_citation
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    ThimbleEye,
)
from turnback.quantities import Force, ForceLike, Length, LengthLike, Torque, TorqueLike, percent
from turnback.rules.ruleset import BodyOfClip, RuleSet
from turnback.rules.selection import FirstOf, Governing, RulesChoice

__all__ = ["MakerFigures", "Request", "check_kind"]

_BODIES: Final = get_args(BodyOfClip)
_NONE: Final = type(None)
_EYES: Final = (ThimbleEye, SoftEye, PulleyEye, LinkedEyes, LapSplice, PlateEye)
_RULES: Final = (str, RuleSet, Governing, FirstOf, _NONE)


@attrs.frozen(init=False)
class MakerFigures:
    """What the clip's maker says of the clip in hand, with the place where it was read.

    Args:
        citation: The maker's sheet, page and date, in your words.
        torque: Tightening torque [torque].
        threads: ``dry`` or ``greased``; needed with a torque.
        efficiency: Share of the rope's minimum breaking force that the termination holds, such as ``"80 %"`` [-].

    Raises:
        InputError: The citation is empty, a figure cannot be read, or a torque has no thread condition.
    """

    citation: Citation
    torque: Torque | None
    threads: str
    efficiency: Fraction | None

    def __init__(
        self,
        citation: str | Citation,
        torque: TorqueLike | None = None,
        threads: str = "",
        efficiency: str | Fraction | None = None,
    ) -> None:
        read = None if torque is None else Torque.of(torque, "maker.torque")
        if read is not None and threads not in ("dry", "greased"):
            raise InputError(
                "a torque belongs to a condition of the threads",
                field="maker.threads",
                value=repr(threads),
                bound="dry or greased",
                instead="Write what the maker's sheet says beside the torque.",
            )
        share = percent(efficiency) if isinstance(efficiency, str) else efficiency
        check_kind(share, (Fraction, _NONE), "maker.efficiency", "text such as '80 %', or a Fraction")
        if share is not None and not 0 < share <= 1:
            raise InputError(
                "no termination holds this share of its rope",
                field="maker.efficiency",
                value=str(efficiency),
                bound="above 0 % and up to 100 %",
                instead="Write it as the sheet does, such as '80 %'.",
            )
        cited = user_citation(citation) if isinstance(citation, str) else citation
        check_kind(cited, (Citation,), "maker.citation", "text, or a Citation")
        self.__attrs_init__(cited, read, threads, share)


@attrs.frozen(init=False)
class Request:
    """Everything that a plan is computed from. :func:`turnback.plan` makes it from its arguments.

    Args:
        rope: The rope.
        termination: The kind of eye or splice, with its dimensions.
        style: Id of the clip style.
        rules: The rule set or sets; None is refused later, with those that cover the rope.
        clip_body: ``forged``, ``other`` or ``not given``.
        base_width: Length of one saddle along the rope, measured on the clip in hand [length].
        clip_size: Another clip size than the rope's own row, on the clip maker's word [length].
        clip_size_citation: That word; needed with ``clip_size``.
        maker: Further figures of the clip's maker.
        service: Id of the service; None when not stated.
        jurisdiction: Where the joint is used; None takes the strictest of all.
        extra_clips: Clips added on each eye, or on each half of a lap splice [-].
        load: The load that the joint is to carry [force].
        efficiency_basis: Basis of efficiency asked for by name, where a rule set prints none of its own.

    Raises:
        InputError: A value cannot be read or breaks a bound of its own.
    """

    rope: Rope
    termination: Termination
    style: str
    rules: RulesChoice | None
    clip_body: BodyOfClip
    base_width: Length | None
    clip_size: Length | None
    clip_size_citation: Citation | None
    maker: MakerFigures | None
    service: str | None
    jurisdiction: str | None
    extra_clips: int
    load: Force | None
    efficiency_basis: str | None

    def __init__(
        self,
        rope: Rope | str,
        termination: Termination,
        style: str,
        rules: RulesChoice | None,
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
    ) -> None:
        size = None if clip_size is None else Length.of(clip_size, "clip_size")
        word = user_citation(clip_size_citation) if isinstance(clip_size_citation, str) else clip_size_citation
        if (size is None) != (word is None):
            raise InputError(
                "a clip size of your own goes with the clip maker's word, and the word with a size",
                field="clip_size" if word is None else "clip_size_citation",
                value=str(size or word),
                instead="Give both: clip_size='1/2 in', clip_size_citation='maker's sheet 12, page 3'.",
            )
        # A host without a type checker gets an error that teaches, not one from the depth.
        check_kind(rope, (Rope, str), "rope", "a Rope, or its designation as text")
        _check_termination(termination)
        check_kind(style, (str,), "style", "the id of a clip style, such as 'u-bolt'")
        check_kind(rules, _RULES, "rules", "an id, a rule set, or what governing(...) or first_of(...) returns")
        check_kind(word, (Citation, _NONE), "clip_size_citation", "text, or a Citation")
        check_kind(maker, (MakerFigures, _NONE), "maker", "MakerFigures(citation, torque, threads, efficiency)")
        for field, name in (
            ("service", service),
            ("jurisdiction", jurisdiction),
            ("efficiency_basis", efficiency_basis),
        ):
            check_kind(name, (str, _NONE), field, "an id as text, or None")
        self.__attrs_init__(
            Rope.parse(rope) if isinstance(rope, str) else rope,
            termination,
            style,
            rules,
            _body(clip_body),
            None if base_width is None else Length.of(base_width, "base_width"),
            size,
            word,
            maker,
            service,
            jurisdiction,
            _extra(extra_clips),
            None if load is None else Force.of(load, "load"),
            efficiency_basis,
        )


def check_kind(value: object, kinds: tuple[type, ...], field: str, wanted: str) -> None:
    """Refuse a value of another kind, for hosts without a type checker.

    Args:
        value: What was given.
        kinds: The kinds that are taken.
        field: Name of the input, for the message.
        wanted: What to give, in words.

    Raises:
        InputError: The value is of none of these kinds.
    """
    if not isinstance(value, kinds):
        raise InputError("this is of another kind", field=field, value=repr(value)[:80], bound=wanted)


def _check_termination(value: object) -> None:
    wanted = "one of " + ", ".join(f"{eye.__name__}(...)" for eye in _EYES)
    check_kind(value, _EYES, "termination", wanted)
    if isinstance(value, LinkedEyes):
        check_kind(value.first, (ThimbleEye,), "termination.first", "ThimbleEye(...)")
        check_kind(value.second, (ThimbleEye,), "termination.second", "ThimbleEye(...)")
    if isinstance(value, PlateEye):
        check_kind(value.around, (ThimbleEye, SoftEye), "termination.around", "ThimbleEye(...) or SoftEye(...)")


def _body(value: str) -> BodyOfClip:
    for body in _BODIES:
        if value == body:
            return body  # type: ignore[no-any-return]  # one of the literals of BodyOfClip
    raise InputError(
        "no such body of a clip",
        field="clip_body",
        value=repr(value)[:80],
        bound="one of " + ", ".join(_BODIES),
        instead="Write 'forged' for drop-forged saddles, 'other' for malleable or cast ones.",
    )


def _extra(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= 100:
        raise InputError(
            "clips can be added, never taken away",
            field="extra_clips",
            value=repr(value)[:80],
            bound="a whole number from 0 to 100",
            instead="Give the number of clips beyond what the rule set asks for.",
        )
    return value
