"""Reading what a file of check values states, each part into its plain form."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Final

from turnback.conformance._check_values_table import CheckTable
from turnback.conformance.check_values_columns import MOST_CLIPS, clips_in
from turnback.conformance.check_values_parts import Example, Fact
from turnback.conformance.facts import SPACING_FACTS, Value
from turnback.errors import InputError
from turnback.model.designation import WordKind, normal_construction, normal_word
from turnback.model.terminations import TERMINATION_KINDS
from turnback.quantities import Length, Torque, parse_number, percent
from turnback.rules.rows import BodyOfClip
from turnback.rules.service import RETORQUE_TIMES

__all__ = ["read_count", "read_examples", "read_facts", "read_scope", "read_spacing"]

_MOST_ADDED: Final = 9
_BOUNDS: Final = ("least", "greatest", "equal")
_BODIES: Final[tuple[BodyOfClip, ...]] = ("forged", "other")
_MAY_CONFIRM: Final = ("constructions", "cores", "grades", "lays")
_WORDS: Final[Mapping[str, WordKind]] = {"cores": "core", "grades": "grade", "lays": "lay"}
_ZERO: Final = Length(0)


def read_facts(file: CheckTable) -> tuple[Fact, ...]:
    """Read what stands in no table.

    Args:
        file: The file.

    Returns:
        The facts that are stated.

    Raises:
        InputError: A fact cannot be read.
    """
    if not file.has("facts"):
        return ()
    table = file.table("facts")
    return tuple(Fact(place, read(table, key)) for key, (place, read) in _FACTS.items() if table.has(key))


def _name(table: CheckTable, key: str) -> Value:
    return None if table.says_nothing(key) else table.name(key)


def _word(*accepted: str) -> Callable[[CheckTable, str], Value]:
    return lambda table, key: None if table.says_nothing(key) else table.word(key, accepted)


def _whole(least: int, greatest: int) -> Callable[[CheckTable, str], Value]:
    return lambda table, key: None if table.says_nothing(key) else table.whole(key, least, greatest)


def _large_wires(table: CheckTable, key: str) -> Value:
    if table.says_nothing(key):
        return None
    entry = table.table(key, "facts.large_outer_wires")
    return entry.whole("add", 1, _MOST_ADDED), Length.of(entry.text("from"), entry.at("from"))


def _proportion(table: CheckTable, key: str) -> Value:
    return False if table.says_nothing(key) else table.yes_or_no(key)


def _floors(table: CheckTable, key: str) -> Value:
    if table.says_nothing(key):
        return ()
    cells = enumerate(table.cells(key))
    return tuple(sorted(clips_in(cell, f"{table.at(key)}[{number}]") for number, cell in cells))


def _share_or_nothing(table: CheckTable, key: str) -> Value:
    return None if table.says_nothing(key) else _share(table, key)


def _share(table: CheckTable, key: str) -> Value:
    share = percent(table.text(key), table.at(key))
    if not 0 < share <= 1:
        raise table.wrong(key, "this is no share of a breaking force", "above 0 % and up to 100 %")
    return share


def _efficiency(table: CheckTable, key: str) -> Value:
    if table.says_nothing(key):
        return ()
    if table.is_text(key):
        return ((_share(table, key), None, None, None),)
    bands = table.entries(key, "facts.efficiency")
    return tuple(
        (_share(band, "value"), band.length("from"), band.length("up_to"), band.length("below")) for band in bands
    )


def _kinds(table: CheckTable, key: str) -> Value:
    return tuple(sorted(table.words(key, TERMINATION_KINDS)))


def _services(table: CheckTable, key: str) -> Value:
    return tuple(sorted(table.texts(key)))


_FACTS: Final[Mapping[str, tuple[str, Callable[[CheckTable, str], Value]]]] = {
    "pattern": ("pattern", _name),
    "threads": ("threads", _word("dry", "greased")),
    "large_outer_wires": ("adjustments.large_outer_wires", _large_wires),
    "pulley": ("adjustments.pulley", _whole(1, _MOST_ADDED)),
    "turn_back_in_proportion": ("adjustments.more_clips", _proportion),
    "lap_splice": ("adjustments.lap_splice", _whole(1, _MOST_ADDED)),
    "floors": ("floors", _floors),
    "efficiency": ("efficiency", _efficiency),
    "efficiency_at_most": ("efficiency.at_most", _share_or_nothing),
    "efficiency_terminations": ("efficiency.terminations", _kinds),
    "begin_at": ("procedure.begin_at", _word("dead end", "eye")),
    "retorque": ("procedure.retorque", lambda table, key: table.words(key, RETORQUE_TIMES)),
    "excluded_services": ("excluded_services", _services),
}


def read_count(file: CheckTable) -> tuple[Fact, ...]:
    """Read a count by a formula.

    Args:
        file: The file.

    Returns:
        Its coefficients, as far as they are stated; all of them nothing where the source gives no formula.

    Raises:
        InputError: A coefficient cannot be read.
    """
    if not file.has("count"):
        return ()
    if file.says_nothing("count"):
        return tuple(Fact(f"count.{name}", None) for name in ("per_inch", "plus", "least", "greatest"))
    table = file.table("count")
    found: list[Fact] = []
    if table.has("per_inch"):
        found.append(Fact("count.per_inch", parse_number(table.number("per_inch"), table.at("per_inch"))))
    if table.has("plus"):
        found.append(Fact("count.plus", table.whole("plus", 0, MOST_CLIPS)))
    for key, name in (("from", "least"), ("up_to", "greatest")):
        if table.has(key):
            found.append(Fact(f"count.{name}", table.length(key)))
    if not found:
        raise InputError("it says nothing", field="count", instead="Write per_inch = 3 and plus = 1 below it.")
    return tuple(found)


def read_spacing(file: CheckTable) -> tuple[Fact, ...]:
    """Read the bounds on the spacing.

    Args:
        file: The file.

    Returns:
        One fact for each kind of bound, nothing for those that are not stated; none at all where no bound is stated.

    Raises:
        InputError: A bound cannot be read, says nothing, or stands twice.
    """
    if not file.has("spacing"):
        return ()
    found: dict[str, Value] = dict.fromkeys(SPACING_FACTS)
    for table in file.entries("spacing"):
        place = f"spacing.{table.word('bound', _BOUNDS)}"
        if found[place] is not None:
            raise table.wrong("bound", "this bound is stated twice", instead="Write one entry for it.")
        clear = table.word("measured", ("centre to centre", "clear")) == "clear"
        parts = [key for key in ("diameters", "base_widths", "constant") if table.has(key)]
        from_table = table.flag("from_table") is True
        if from_table == bool(parts):
            raise InputError(
                "a bound is the column of the table, or a sum of diameters, base widths and a constant",
                field=table.path,
                value=", ".join(parts),
                instead="Write from_table = true alone, or diameters = 6.",
            )
        found[place] = clear, None if from_table else (
            _factor(table, "diameters"), _factor(table, "base_widths"), table.length("constant") or _ZERO
        )  # fmt: skip
    return tuple(Fact(place, value) for place, value in found.items())


def _factor(table: CheckTable, key: str) -> Fraction:
    if not table.has(key) or table.says_nothing(key):
        return Fraction(0)
    return parse_number(table.number(key), table.at(key))


def read_scope(file: CheckTable) -> tuple[tuple[Value, ...], ...] | None:
    """Read the scope.

    Args:
        file: The file.

    Returns:
        The entries in their plain form, their words in the spelling of a rope; None where nothing is stated.

    Raises:
        InputError: A word is outside its closed list.
    """
    if not file.has("scope"):
        return None
    return tuple(_entry(table) for table in file.entries("scope"))


def _entry(table: CheckTable) -> tuple[Value, ...]:
    return (
        table.word("for", ("everything", "counts")),
        table.length("from"),
        table.length("up_to"),
        tuple(sorted(_construction(table, text) for text in table.texts("constructions"))),
        *(tuple(sorted(_spelt(table, key, kind, text) for text in table.texts(key))) for key, kind in _WORDS.items()),
        tuple(sorted(table.words("terminations", TERMINATION_KINDS))),
        table.flag("rotation_resistant"),
        table.flag("new_only") is True,
        tuple(sorted(table.words("confirm", _MAY_CONFIRM))),
    )


def _construction(table: CheckTable, text: str) -> str:
    try:
        return normal_construction(text)
    except InputError as error:
        raise _at(error, table, "constructions") from None


def _spelt(table: CheckTable, key: str, kind: WordKind, text: str) -> str:
    try:
        return normal_word(kind, text)
    except InputError as error:
        raise _at(error, table, key) from None


def _at(error: InputError, table: CheckTable, key: str) -> InputError:
    return InputError(error.problem, field=table.at(key), value=error.value, bound=error.bound, instead=error.instead)


def read_examples(file: CheckTable) -> tuple[Example, ...]:
    """Read the examples.

    Args:
        file: The file.

    Returns:
        The examples in the order of the file.

    Raises:
        InputError: A rope or an answer cannot be read, or an example states nothing.
    """
    return tuple(_example(table) for table in file.entries("examples"))


def _example(table: CheckTable) -> Example:
    size = Length.of(table.text("size"), table.at("size"))
    body: BodyOfClip = table.word("body", _BODIES) if table.has("body") else "not given"
    answers = tuple((key, read(table, key)) for key, read in _ANSWERS.items() if table.has(key))
    refused = table.flag("refused") is True
    if refused == bool(answers):
        raise InputError(
            "an example states an answer, or that the rope is refused",
            field=table.path,
            instead="Write refused = true alone, or count = 4 and the like.",
        )
    return Example(size, body, table.length("base_width"), refused, answers)


def _torque(table: CheckTable, key: str) -> Value:
    return None if table.says_nothing(key) else Torque.of(table.text(key), table.at(key))


_ANSWERS: Final[Mapping[str, Callable[[CheckTable, str], Value]]] = {
    "clip_size": lambda table, key: table.length(key),
    "count": _whole(1, MOST_CLIPS),
    "turn_back": lambda table, key: table.length(key),
    "least_spacing": lambda table, key: table.length(key),
    "greatest_spacing": lambda table, key: table.length(key),
    "torque": _torque,
}
