"""Check values: a second typing of a source, made apart from its rule file and in another layout.

A file of check values stands beside its rule file, ``NAME.check.toml`` beside ``NAME.toml``. What it does not state is
not checked; what it states is checked both ways, so that a cell too many fails like a cell too few.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from hashlib import sha256

import attrs

from turnback.conformance._check_values_table import CheckTable, decoded, toml_of
from turnback.conformance.check_values_columns import read_columns
from turnback.conformance.check_values_examples import example_differences
from turnback.conformance.check_values_keys import FILE, FORMAT
from turnback.conformance.check_values_parts import (
    Column,
    Difference,
    Example,
    Fact,
    cell_differences,
    fact_differences,
    scope_differences,
)
from turnback.conformance.check_values_reading import (
    read_count,
    read_examples,
    read_facts,
    read_scope,
    read_spacing,
)
from turnback.conformance.facts import Value
from turnback.errors import InputError
from turnback.model.sources import STATUSES
from turnback.quantities import Length
from turnback.quantities.grammar import shown
from turnback.rules._reading import restated
from turnback.rules.rulefile import GREATEST_BYTES
from turnback.rules.ruleset import RuleSet

__all__ = ["CheckValues", "Difference", "parse_check_values", "read_check_values"]


@attrs.frozen
class CheckValues:
    """What somebody typed from the source a second time.

    Args:
        rules: Id of the rule set.
        typed_by: Who typed it, as a role.
        typed_on: The day, as ``YYYY-MM-DD``.
        edition: The document that it was typed from, with its edition.
        another_person: Whether it was somebody other than the author of the rule file, without sight of that file.
        source_status: How the values were taken: ``read``, ``memory`` and so on; empty when not said.
        copy: The copy that was read; empty when not said.
        sizes: Sizes of the rows [length]; None where no table is stated.
        columns: The columns that are stated.
        facts: What stands in no table, as far as it is stated.
        scope: Entries of the scope in their plain form; None where the scope is not stated.
        examples: What the rule set answers for single ropes.
        sha256: Hash of the file's bytes.
        origin: File name, for messages.
    """

    rules: str
    typed_by: str
    typed_on: str
    edition: str
    another_person: bool
    source_status: str = ""
    copy: str = ""
    sizes: tuple[Length, ...] | None = None
    columns: tuple[Column, ...] = ()
    facts: tuple[Fact, ...] = ()
    scope: tuple[tuple[Value, ...], ...] | None = None
    examples: tuple[Example, ...] = ()
    sha256: str = ""
    origin: str = ""

    def differences(self, rules: RuleSet) -> tuple[Difference, ...]:
        """Compare a rule set with what was typed here.

        Args:
            rules: The rule set.

        Returns:
            What it has otherwise: the table by size and column, the facts, the scope, the examples.
        """
        return tuple(self.each_difference(rules))

    def each_difference(self, rules: RuleSet) -> Iterator[Difference]:
        """Compare a rule set with what was typed here, one difference at a time.

        Args:
            rules: The rule set.

        Yields:
            What it has otherwise; whoever asks only whether there is any stops at the first.
        """
        if self.sizes is not None:
            yield from cell_differences(self.sizes, self.columns, rules)
        yield from fact_differences(self.facts, rules)
        if self.scope is not None:
            yield from scope_differences(self.scope, rules)
        yield from example_differences(self.examples, rules)


def read_check_values(path: str | os.PathLike[str]) -> CheckValues:
    """Read a file of check values.

    Args:
        path: Where it lies; UTF-8, at most 256 KiB.

    Returns:
        The check values, with the SHA-256 of the file's bytes and its name.

    Raises:
        InputError: The file cannot be read, or breaks the format; the place in it is named.
    """
    try:
        name = os.fsdecode(path)
        regular = os.path.isfile(name)  # a pipe or a device might never end
        data = _bytes_of(name) if regular else b""
    except (OSError, TypeError, ValueError) as error:
        raise _unreadable(path, str(getattr(error, "strerror", None) or error)) from error
    if not regular:
        raise _unreadable(path, "there is no such file")
    return parse_check_values(data, os.path.basename(name))


def parse_check_values(text: str | bytes, origin: str = "<text>") -> CheckValues:
    """Read the text of a file of check values.

    Args:
        text: The text, or its bytes in UTF-8; at most 256 KiB.
        origin: Name of the file, for messages.

    Returns:
        The check values, with the SHA-256 of the bytes.

    Raises:
        InputError: The text breaks the format; the place in it is named.
    """
    try:
        data, found = decoded(text)
        return _check_values(CheckTable(toml_of(found), "", FILE), sha256(data).hexdigest(), origin)
    except InputError as error:
        raise restated(error, f"check values {origin}") from None


def _bytes_of(name: str) -> bytes:
    with open(name, "rb") as file:
        return file.read(GREATEST_BYTES + 1)


def _unreadable(path: object, reason: str) -> InputError:
    return InputError(
        f"the check values cannot be read: {reason}",
        field="path",
        value=shown(path),
        instead="Give the path of a file of check values, such as my-sheet.check.toml.",
    )


def _check_values(file: CheckTable, digest: str, origin: str) -> CheckValues:
    if file.whole("format", 0, 10**9) != FORMAT:
        raise file.wrong("format", "this library does not read that format of check values", f"format = {FORMAT}")
    sizes, columns = read_columns(file)
    return CheckValues(
        rules=file.name("rules"),
        typed_by=file.text("typed_by"),
        typed_on=file.day("typed_on"),
        edition=file.text("edition"),
        another_person=file.yes_or_no("another_person"),
        source_status=file.word("source_status", STATUSES) if file.has("source_status") else "",
        copy=file.text_or("copy", ""),
        sizes=sizes,
        columns=columns,
        facts=(*read_facts(file), *read_count(file), *read_spacing(file)),
        scope=read_scope(file),
        examples=read_examples(file),
        sha256=digest,
        origin=origin,
    )
