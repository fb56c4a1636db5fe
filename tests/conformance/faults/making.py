"""How the faults are made: rule files with their text edited, values changed or forced, styles that lay out wrongly.

Everything is built on the rule files of this repository, each with one thing turned wrong. Where a constructor would
refuse the fault it is gone round, for a plugin can do that too.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from itertools import count
from typing import Final, TypeAlias, TypeVar

import attrs
from tests.companies import CATALOGUE

from turnback.conformance.subject import Subject, subject_of
from turnback.model.layout import Layout, LayoutDemand, PlacedClip
from turnback.model.steps import StepTemplate
from turnback.model.styles import BodyStyle, ClipDrawing, ClipStyle, SeriesStyle
from turnback.quantities import Length
from turnback.rules.rows import Row
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet

__all__ = [
    "ARMY",
    "BASIS",
    "BRIDGE",
    "BRUNSWICK",
    "EN",
    "NAVY",
    "OSHA",
    "PLATE",
    "SADDLE",
    "SADDLE_POINT",
    "TABLE",
    "U_BOLT",
    "Body",
    "Fault",
    "Twisted",
    "asked",
    "departing",
    "drawn",
    "edited",
    "first_row",
    "forced",
    "like",
    "made",
    "moved",
    "polite",
    "retyped",
    "rowed",
    "rules_of",
    "steps_changed",
    "text_of",
    "twisted",
    "under",
    "without",
]

T = TypeVar("T")
Twist: TypeAlias = Callable[[LayoutDemand, Layout], Layout]
Ask: TypeAlias = Callable[[LayoutDemand], LayoutDemand]

TABLE: Final = "us-ca-8-8497"
SADDLE: Final = "us-ca-8-8497-t2"
SADDLE_POINT: Final = "us-army-3810-305"
OSHA: Final = "us-osha-1926-251"
NAVY: Final = "us-navy-14026"
ARMY: Final = "us-army-5420-278"
BRIDGE: Final = "us-army-5420-278"
EN: Final = "en-13411-5"
BRUNSWICK: Final = "ca-nb-clips"
PLATE: Final = "common-practice-single-plate"
BASIS: Final = "common-practice-efficiency"


@attrs.frozen
class Fault:
    """One deliberately wrong rule set or style.

    Args:
        id: Its own name.
        kind: The class of faults that it belongs to.
        what: What is wrong, in one sentence.
        subject: Makes it; may be refused with one of the library's errors.
    """

    id: str
    kind: str
    what: str
    subject: Callable[[], Subject]


_NUMBERS: Final = count(1)

# --- rule files ---


@lru_cache(maxsize=32)
def _whole(rules_id: str) -> Subject:
    return subject_of(rules_id, CATALOGUE)


def rules_of(rules_id: str) -> RuleSet:
    return CATALOGUE.rule_set(rules_id)


def text_of(rules_id: str) -> str:
    return _whole(rules_id).text


def edited(rules_id: str, *changes: tuple[str, str]) -> str:
    """The text of a rule file, with changes, each of a piece that stands there once."""
    text = text_of(rules_id)
    for old, new in changes:
        if text.count(old) != 1:
            raise LookupError(f"{old!r} stands {text.count(old)} times in {rules_id}")
        text = text.replace(old, new)
    return text


def under(rules: RuleSet, style: ClipStyle | None = None, text: str = "") -> Subject:
    """A rule set at hand in the place of the one of its id, with a style in the place of the one of its id."""
    # Under a file name of its own, so that nothing remembers it as the right one, which it may say that it equals.
    rules = forced(rules, origin=f"{rules.origin}, wrong {next(_NUMBERS)}")
    sets = tuple(rules if each.id == rules.id else each for each in CATALOGUE.rule_sets)
    bases = tuple(rules if each.id == rules.id else each for each in CATALOGUE.core_bases)
    styles = tuple(style if style is not None and each.id == style.id else each for each in CATALOGUE.styles)
    return Subject(rules, attrs.evolve(CATALOGUE, rule_sets=sets, core_bases=bases, styles=styles), text)


def retyped(rules_id: str, *changes: tuple[str, str], valued: bool = False, text: str = "") -> Callable[[], Subject]:
    """A rule file typed wrongly: the text is the wrong one, so that file and rule set agree.

    With ``valued`` the check values of the right file lie beside it, for nothing else can tell one number from another.
    """

    def make() -> Subject:
        wrong = text or edited(rules_id, *changes)
        found = under(parse_rules(wrong), text=wrong)
        return Subject(found.rules, found.catalogue, wrong, _whole(rules_id).values) if valued else found

    return make


def departing(rules_id: str, change: Callable[[RuleSet], RuleSet], *, text: bool = False) -> Callable[[], Subject]:
    """A rule set changed as a value; with ``text`` beside the file that it no longer says."""
    return lambda: under(change(rules_of(rules_id)), text=text_of(rules_id) if text else "")


# --- values ---


def forced(value: T, /, **fields: object) -> T:
    """A copy with fields that its constructor would refuse."""
    kind = type(value)
    assert attrs.has(kind)
    copy: T = object.__new__(type(value))
    for name in (field.name for field in attrs.fields(kind)):
        object.__setattr__(copy, name, fields.get(name, getattr(value, name)))
    if hasattr(value, "_attrs_cached_hash"):
        object.__setattr__(copy, "_attrs_cached_hash", None)
    return copy


def like(kind: type[T], model: object, /, **fields: object) -> T:
    """A value of a subclass with the fields of another."""
    of = type(model)
    assert attrs.has(of)
    given = {field.name.lstrip("_"): getattr(model, field.name) for field in attrs.fields(of) if field.init}
    return kind(**{**given, **fields})


def polite(kind: type[T]) -> type[T]:
    """The same class, whose values say that they equal the plain ones, so that only what they do gives them away."""
    base = next(each for each in kind.__mro__[1:] if attrs.has(each) and each.__module__.startswith("turnback."))
    names = [field.name for field in attrs.fields(base) if field.eq]

    def equal(self: object, other: object) -> bool:
        return isinstance(other, base) and all(getattr(self, name) == getattr(other, name) for name in names)

    def unequal(self: object, other: object) -> bool:
        return not equal(self, other)

    return type(
        kind.__name__,
        (kind,),
        {"__eq__": equal, "__ne__": unequal, "__hash__": base.__hash__, "__slots__": (), "__module__": kind.__module__},
    )


def rowed(kind: type[Row], rules_id: str = TABLE) -> Callable[[], Subject]:
    """A rule set whose rows behave otherwise than they say."""

    def make() -> Subject:
        rules, wrong = rules_of(rules_id), polite(kind)
        return under(attrs.evolve(rules, rows=tuple(like(wrong, row) for row in rules.rows)))

    return make


def made(kind: type[RuleSet], rules_id: str = TABLE) -> Callable[[], Subject]:
    """A rule set that behaves otherwise than it says."""
    return lambda: under(like(polite(kind), rules_of(rules_id)))


def first_row(**fields: object) -> Callable[[RuleSet], RuleSet]:
    def change(rules: RuleSet) -> RuleSet:
        row, *others = rules.rows
        return forced(rules, rows=(forced(row, **fields), *others))

    return change


# --- styles ---


def _as_it_is(_: LayoutDemand, layout: Layout) -> Layout:
    return layout


def _as_asked(demand: LayoutDemand) -> LayoutDemand:
    return demand


@attrs.frozen
class Twisted(SeriesStyle):
    """Clips in a row whose layout is twisted.

    Args:
        twist: What is done to a right layout.
        ask: What is done to the demand before.
    """

    twist: Twist = attrs.field(default=_as_it_is, kw_only=True)
    ask: Ask = attrs.field(default=_as_asked, kw_only=True)

    def lay_out(self, demand: LayoutDemand) -> Layout:
        return self.twist(demand, SeriesStyle.lay_out(self, self.ask(demand)))


@attrs.frozen
class Body(BodyStyle):
    """One body whose layout is twisted.

    Args:
        twist: What is done to a right layout.
    """

    twist: Twist = attrs.field(default=_as_it_is, kw_only=True)

    def lay_out(self, demand: LayoutDemand) -> Layout:
        return self.twist(demand, BodyStyle.lay_out(self, demand))


U_BOLT: Final = CATALOGUE.style("u-bolt")


def _style_of(rules_id: str) -> ClipStyle:
    return CATALOGUE.style(rules_of(rules_id).style)


def twisted(twist: Twist, rules_id: str = TABLE, **fields: object) -> Callable[[], Subject]:
    """A style that lays out wrongly."""

    def make() -> Subject:
        style = _style_of(rules_id)
        kind = Twisted if style.in_series else Body
        return under(rules_of(rules_id), like(kind, style, twist=twist, **fields))

    return make


def asked(ask: Ask, rules_id: str = TABLE) -> Callable[[], Subject]:
    """A style that does not listen to what is asked of it."""
    return lambda: under(rules_of(rules_id), like(Twisted, _style_of(rules_id), ask=ask))


def drawn(drawing: ClipDrawing, rules_id: str = TABLE) -> Callable[[], Subject]:
    """A style that draws wrongly."""
    return lambda: under(rules_of(rules_id), attrs.evolve(_style_of(rules_id), drawing=drawing))


def without(*codes: str, rules_id: str = TABLE) -> Callable[[], Subject]:
    """A style whose work lacks steps."""

    def make() -> Subject:
        style = _style_of(rules_id)
        kept = tuple(each for each in style.procedure if each.code not in codes)
        assert len(kept) == len(style.procedure) - len(codes), codes
        return under(rules_of(rules_id), attrs.evolve(style, procedure=kept))

    return make


def steps_changed(
    change: Callable[[dict[str, StepTemplate]], dict[str, StepTemplate]], rules_id: str = TABLE
) -> Callable[[], Subject]:
    """A style some of whose steps are others; those that the change names take the place of those of their code."""

    def make() -> Subject:
        style = _style_of(rules_id)
        named = {each.code: each for each in style.procedure}
        return under(rules_of(rules_id), attrs.evolve(style, procedure=tuple(change(named).values())))

    return make


def moved(clip: PlacedClip, nanometres: int) -> PlacedClip:
    """A clip somewhere else."""
    near, middle, far = (
        Length(max(each.nanometres + nanometres, 0)) for each in (clip.near_edge, clip.position, clip.far_edge)
    )
    return attrs.evolve(clip, near_edge=near, position=middle, far_edge=far)
