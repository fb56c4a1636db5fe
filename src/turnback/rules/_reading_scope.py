"""The scope of a rule file: which ropes and joints it is for."""

from __future__ import annotations

from typing import Final, Literal

from turnback.errors import InputError
from turnback.model.designation import VOCABULARY, WordKind, normal_construction, normal_word
from turnback.model.sources import Citation
from turnback.model.terminations import TERMINATION_KINDS
from turnback.quantities import Length
from turnback.rules._reading import Table
from turnback.rules._reading_places import place_of
from turnback.rules.expressions import read_size_range
from turnback.rules.ruleset import ScopeEntry

__all__ = ["read_scope"]

_GIVES: Final[tuple[Literal["everything", "counts"], ...]] = ("everything", "counts")
_MAY_CONFIRM: Final = ("constructions", "cores", "grades", "lays")
_SAYS: Final = (*_MAY_CONFIRM, "sizes", "terminations", "rotation_resistant", "condition")
_SPELLINGS: Final = {kind: frozenset(VOCABULARY[kind].values()) for kind in ("core", "grade", "lay")}


def read_scope(file: Table, base: Citation) -> tuple[ScopeEntry, ...]:
    """Read the scope; any one entry is enough for a rope.

    Args:
        file: The file.
        base: The file's own citation.

    Returns:
        The entries in the order of the file, every word in the spelling of :class:`~turnback.model.rope.Rope`.

    Raises:
        InputError: A word is outside its closed list, or an entry says nothing.
    """
    return tuple(_read_entry(table, base) for table in file.tables("scope"))


def _read_entry(table: Table, base: Citation) -> ScopeEntry:
    gives = table.word("for", _GIVES)
    if not any(table.has(key) for key in _SAYS):
        raise InputError(
            "an entry that limits nothing lets every rope pass",
            field=table.path,
            instead=f"Write one of {', '.join(_SAYS)}, or leave the entry out.",
        )
    least: Length | None = None
    greatest: Length | None = None
    if table.has("sizes"):
        least, greatest = read_size_range(table.text("sizes"), table.at("sizes"))
    if table.has("condition"):
        table.word("condition", ("new",))
    confirm = table.words("confirm", _MAY_CONFIRM)
    for key in confirm:
        if not table.has(key):
            raise table.wrong("confirm", f"the entry does not say which {key} it is for", instead=f"Write {key} too.")
    return ScopeEntry(
        gives=gives,
        least=least,
        greatest=greatest,
        constructions=_once(
            table, "constructions", tuple(_construction(table, text) for text in table.texts("constructions"))
        ),
        cores=_words(table, "cores", "core"),
        grades=_words(table, "grades", "grade"),
        lays=_words(table, "lays", "lay"),
        terminations=table.words("terminations", TERMINATION_KINDS),
        rotation_resistant=table.flag("rotation_resistant"),
        new_only=table.has("condition"),
        confirm=confirm,
        citation=place_of(table, base),
    )


def _words(table: Table, key: str, kind: WordKind) -> tuple[str, ...]:
    return _once(table, key, tuple(_word(table, key, kind, text) for text in table.texts(key)))


def _word(table: Table, key: str, kind: WordKind, text: str) -> str:
    if text in _SPELLINGS[kind]:
        return text
    try:
        found = normal_word(kind, text)
    except InputError as error:
        raise _misread(error, table, key) from None
    if not found:
        raise table.wrong(key, "a word of the list is empty")
    return found


def _construction(table: Table, text: str) -> str:
    try:
        found = normal_construction(text)
    except InputError as error:
        raise _misread(error, table, "constructions") from None
    if not found:
        raise table.wrong("constructions", "a word of the list is empty")
    return found


def _misread(error: InputError, table: Table, key: str) -> InputError:
    return InputError(error.problem, field=table.at(key), value=error.value, bound=error.bound, instead=error.instead)


def _once(table: Table, key: str, words: tuple[str, ...]) -> tuple[str, ...]:
    if len(set(words)) != len(words):
        raise table.wrong(key, "a word stands twice in the list")
    return words
