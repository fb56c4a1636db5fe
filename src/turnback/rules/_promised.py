"""What each hook promises, field by field: what stands in a rule set, a service rule and a style.

A test holds the tables to the classes: every field of every class stands in them, in its order.
"""

from __future__ import annotations

from types import FunctionType, MemberDescriptorType
from typing import Final

from turnback.errors import PluginError
from turnback.model.sources import STATUSES, Citation, Source
from turnback.model.steps import StepTemplate
from turnback.model.styles import BodyStyle, ClipStyle
from turnback.model.terminations import TERMINATION_KINDS
from turnback.rules._exact import (
    Check,
    Value,
    check_fields,
    cited,
    flag,
    fraction,
    length,
    many,
    name,
    one_of,
    optional,
    pair,
    text,
    torque,
    whole,
    wrong,
)
from turnback.rules._reading_rows import MOST_CLIPS
from turnback.rules.rows import CountRule, LinearLength, Row, SpacingBound
from turnback.rules.ruleset import (
    ANY_STYLE,
    Adjustments,
    EfficiencyBand,
    Floor,
    LargeWires,
    Procedure,
    RuleSet,
    ScopeEntry,
    Waiver,
)
from turnback.rules.service import RULE_KINDS, ServiceRule

__all__ = ["RULE_SET", "SERVICE_RULE", "check_style"]

_COUNT: Final = whole(1, MOST_CLIPS)
_SHARE: Final = fraction(0, 1, above=True)
_FACTOR: Final = fraction(0, 1000)
_TEXTS: Final = many(text)
_SIZE: Final = optional(length())
_KINDS: Final = many(one_of(TERMINATION_KINDS))

_SOURCE: Final = Value(
    Source, ("id", text), ("document", text), ("edition", text), ("issuer", text), ("year", whole(0, 9999))
)
_CITATION: Final = Value(Citation, ("source", _SOURCE), ("locator", text), ("status", one_of(STATUSES)), ("note", text))
_MAYBE_CITATION: Final = optional(_CITATION)


def _cited(inner: Check) -> Check:
    return optional(cited(inner, _CITATION))


_LINEAR: Final = Value(
    LinearLength, ("diameters", _FACTOR), ("base_widths", _FACTOR), ("constant", length(0)), ("text", text)
)
_BOUND: Final = Value(
    SpacingBound,
    ("bound", one_of(("least", "greatest", "equal"))),
    ("clear", flag),
    ("length", optional(_LINEAR)),
    ("citation", _CITATION),
)
_ROW: Final = Value(
    Row,
    ("size", length()),
    ("above", _SIZE),
    ("count", _cited(_COUNT)),
    ("count_forged", _cited(_COUNT)),
    ("count_other", _cited(_COUNT)),
    ("turn_back", _cited(length())),
    ("spacing", _cited(length())),
    ("torque", _cited(torque)),
    ("confirm", _cited(text)),
    ("misprint", text),
)


def _counts_in_bounds(rule: CountRule) -> None:
    ends = [size for size in (rule.least, rule.greatest) if size is not None]
    if rule.per_inch and len(ends) < 2:
        raise wrong(rule.per_inch, "no count that grows without a declared range of sizes")
    for size in ends:
        _COUNT(rule.count(size), {})


_COUNT_RULE: Final = Value(
    CountRule,
    ("per_inch", _FACTOR),
    ("plus", whole(0, MOST_CLIPS)),
    ("least", _SIZE),
    ("greatest", _SIZE),
    ("citation", _CITATION),
    ("sizes_citation", _MAYBE_CITATION),
    ("text", text),
    also=_counts_in_bounds,
)
_SCOPE: Final = Value(
    ScopeEntry,
    ("gives", one_of(("everything", "counts"))),
    ("least", _SIZE),
    ("greatest", _SIZE),
    ("constructions", _TEXTS),
    ("cores", _TEXTS),
    ("grades", _TEXTS),
    ("lays", _TEXTS),
    ("terminations", _TEXTS),
    ("rotation_resistant", optional(flag)),
    ("new_only", flag),
    ("confirm", _TEXTS),
    ("citation", _CITATION),
)
_LARGE_WIRES: Final = Value(LargeWires, ("add", _COUNT), ("from_size", length()), ("citation", _CITATION))
_ADJUSTMENTS: Final = Value(
    Adjustments,
    ("large_wires", optional(_LARGE_WIRES)),
    ("pulley", _cited(_COUNT)),
    ("proportion", _MAYBE_CITATION),
    ("lap_factor", _cited(_COUNT)),
)
_FLOOR: Final = Value(Floor, ("count", _COUNT), ("text", text), ("citation", _CITATION))
_BAND: Final = Value(
    EfficiencyBand,
    ("value", _SHARE),
    ("least", _SIZE),
    ("greatest", _SIZE),
    ("citation", _CITATION),
    ("below", _SIZE),
)
_PROCEDURE: Final = Value(
    Procedure,
    ("begin_at", one_of(("dead end", "eye", ""))),
    ("begin_citation", _MAYBE_CITATION),
    ("retorque", _TEXTS),
    ("retorque_citation", _MAYBE_CITATION),
)
_WAIVER: Final = Value(Waiver, ("law", text), ("row", text), ("reason", text), ("citation", _CITATION))

RULE_SET: Final = Value(
    RuleSet,
    ("id", name),
    ("style", name),
    ("title", text),
    ("pattern", text),
    ("source", _SOURCE),
    ("citation", _CITATION),
    ("rows", many(_ROW)),
    ("count_rule", optional(_COUNT_RULE)),
    ("spacing", many(_BOUND)),
    ("threads", _cited(text)),
    ("efficiency", many(_BAND)),
    ("efficiency_at_most", _cited(_SHARE)),
    ("efficiency_terminations", _TEXTS),
    ("scope", many(_SCOPE)),
    ("adjustments", _ADJUSTMENTS),
    ("floors", many(_FLOOR)),
    ("excluded_services", many(pair(text, cited(text, _CITATION)))),
    ("procedure", _PROCEDURE),
    ("notes", many(cited(text, _CITATION))),
    ("waivers", many(_WAIVER)),
    ("sha256", text),
    ("origin", text),
)
"""The check of a rule set."""

SERVICE_RULE: Final = Value(
    ServiceRule,
    ("service", text),
    ("jurisdiction", text),
    ("kind", one_of(RULE_KINDS)),
    ("text", text),
    ("citation", _CITATION),
    ("code", name),
    ("use", text),
    ("styles", _TEXTS),
    ("terminations", _TEXTS),
    ("rule_sets", _TEXTS),
    ("clip_count_at_least", optional(_COUNT)),
    ("rope_from", _SIZE),
    ("rope_below", _SIZE),
    ("spacing", many(_BOUND)),
    ("retorque", _TEXTS),
    ("needs_thimble", flag),
    ("pin_under_diameters", optional(whole(1, 1000))),
    ("refuses_terminations", _TEXTS),
    ("design_factor", optional(_FACTOR)),
    ("design_factor_rotation_resistant", optional(_FACTOR)),
    ("efficiency_at_least", optional(_SHARE)),
    ("rope_at_least", _SIZE),
    ("grades", _TEXTS),
    ("forged_only_confirm", flag),
)
"""The check of a service rule."""

_STEP: Final = Value(
    StepTemplate,
    ("code", text),
    ("text", text),
    ("citation", _CITATION),
    ("when", _TEXTS),
    ("unless", _TEXTS),
    ("hold", flag),
    ("reading", text),
)


def _drawing(found: object, _: dict[int, object]) -> None:
    if not callable(found):
        raise wrong(found, "a function that draws one clip, or None")


_STYLE: Final = (
    ("id", name),
    ("title", text),
    ("wrong_way_round", flag),
    ("terminations", _KINDS),
    ("procedure", many(_STEP)),
    ("citation", _CITATION),
    ("drawing", optional(_drawing)),
)
_BODY: Final = (("dead_end_diameters", whole(0, 1000)), ("dead_end_citation", _CITATION))


def check_style(style: ClipStyle, seen: dict[int, object]) -> None:
    """Check what a style says of itself; what it answers when it is asked is checked when it is asked.

    Raises:
        PluginError: It is not what a style should be.
    """
    kind = type(style)
    if kind.__getattribute__ is not object.__getattribute__:
        raise PluginError("it answers for its own fields", field="__getattribute__", instead="Leave that out.")
    _check_stored(kind, ClipStyle, _STYLE)
    check_fields(style, _STYLE, seen)
    if isinstance(style, BodyStyle):
        _check_stored(kind, BodyStyle, _BODY)
        check_fields(style, _BODY, seen)
    ClipStyle.__attrs_post_init__(style)
    if style.id == ANY_STYLE:
        raise PluginError("this id stands for every style", field="id", value=style.id, instead="Take another.")
    _check_in_series(style)
    if hash(style) != hash(style) or not style == style or style == object():  # noqa: PLR0124 - asked on purpose
        raise PluginError("it cannot be compared or looked up", field=kind.__name__, instead="Use @attrs.frozen.")


def _check_stored(kind: type, base: type, fields: tuple[tuple[str, Check], ...]) -> None:
    # A property of the same name could answer something else each time it is asked.
    for field, _ in fields:
        if _static(kind, field) is not vars(base)[field]:
            raise PluginError("a subclass may not replace it", field=field, instead="Give it to the constructor.")


def _static(kind: type, name_: str) -> object:
    return next((vars(each)[name_] for each in kind.__mro__ if name_ in vars(each)), None)


def _check_in_series(style: ClipStyle) -> None:
    # It is asked everywhere, so it must not be able to fail or to change its mind: a constant, or a field.
    found = _static(type(style), "in_series")
    code = found.fget.__code__ if isinstance(found, property) and type(found.fget) is FunctionType else None
    constant = code is not None and not code.co_names and not code.co_freevars
    if not constant and not isinstance(found, (bool, MemberDescriptorType)):
        raise PluginError(
            "it is computed, so that it could change its mind",
            field="in_series",
            instead="Write 'return True' or 'return False' as all that it does, or make it a field.",
        )
    flag(style.in_series, {})
