"""Reading rule files: what one source says for one style, written by hand in TOML, format 1.

Decimals are kept as they are written until the exact grammar reads them; no float is ever made. Everything that the
format does not know is an error which names the place, such as ``rows[3].torque``, counted from 0.
"""

from __future__ import annotations

import os
import re
import tomllib
from hashlib import sha256
from typing import Final

from turnback.errors import InputError
from turnback.quantities.grammar import shown
from turnback.rules._reading import DecimalText, Table, restated
from turnback.rules._reading_extras import (
    read_adjustments,
    read_excluded_services,
    read_floors,
    read_notes,
    read_procedure,
    read_waivers,
)
from turnback.rules._reading_keys import FILE, FORMAT
from turnback.rules._reading_numbers import read_count, read_efficiency, read_spacing, read_threads
from turnback.rules._reading_places import read_source
from turnback.rules._reading_rows import read_rows, read_units
from turnback.rules._reading_scope import read_scope
from turnback.rules.ruleset import ANY_STYLE, RuleSet

__all__ = ["basis_rule_sets", "parse_rules", "read_rules"]

GREATEST_BYTES: Final = 256 * 1024
MOST_DOTS: Final = 50
"""Full stops in one line. The standard library's reader takes hours over a key of a hundred thousand dotted parts."""

_BASIS_FILES: Final = ("common-practice-efficiency.toml", "us-army-3810-305-t4-efficiency.toml")
# Paths are plain text here, for pathlib costs start-up time.
_DATA: Final = os.path.join(os.path.dirname(__file__), "data")
_BRACKETS: Final = re.compile(r"[\[\]{}]")
_DEEPEST: Final = 32
_PLACE: Final = re.compile(r" \(at line (?P<line>[0-9]+), column (?P<column>[0-9]+)\)$")
_WAY_OUT: Final = 'Text and fractions stand in quotes, such as size = "1/2"; lists and tables are closed by ] and }.'


def read_rules(path: str | os.PathLike[str]) -> RuleSet:
    """Read a rule file.

    Args:
        path: Where it lies; UTF-8, at most 256 KiB.

    Returns:
        The rule set, with the SHA-256 of the file's bytes and its name.

    Raises:
        InputError: The file cannot be read, or breaks the format; the place in it is named.
    """
    try:
        name = os.fsdecode(path)
        regular = os.path.isfile(name)  # a pipe or a device might never end
        data = _read_bytes(name) if regular else b""
    except (OSError, TypeError, ValueError) as error:
        raise _unreadable(path, str(getattr(error, "strerror", None) or error)) from error
    if not regular:
        raise _unreadable(path, "there is no such file")
    return parse_rules(data, os.path.basename(name))


def parse_rules(text: str | bytes, origin: str = "<text>") -> RuleSet:
    """Read the text of a rule file.

    Args:
        text: The text, or its bytes in UTF-8; at most 256 KiB.
        origin: Name of the file, for messages.

    Returns:
        The rule set, with the SHA-256 of the bytes.

    Raises:
        InputError: The text breaks the format; the place in it is named.
    """
    try:
        data, decoded = _decoded(text)
        return _rule_set(Table(_toml(decoded), "", FILE), sha256(data).hexdigest(), origin)
    except InputError as error:
        raise restated(error, f"rule file {origin}") from None


def basis_rule_sets() -> tuple[RuleSet, ...]:
    """Read the core's own bases of efficiency.

    Returns:
        The rule sets by id: common practice by size, and the table of an army manual.
    """
    return tuple(read_rules(os.path.join(_DATA, name)) for name in _BASIS_FILES)


def _read_bytes(name: str) -> bytes:
    with open(name, "rb") as file:
        return file.read(GREATEST_BYTES + 1)


def _unreadable(path: object, reason: str) -> InputError:
    return InputError(
        f"the rule file cannot be read: {reason}",
        field="path",
        value=shown(path),
        instead="Give the path of a rule file, as text or as a path object.",
    )


def _decoded(text: str | bytes) -> tuple[bytes, str]:
    if not isinstance(text, (str, bytes)):
        raise InputError("a rule file is text or bytes", field="text", value=shown(text))
    try:
        data = text if isinstance(text, bytes) else text.encode()
        decoded = data.decode()
    except UnicodeError as error:
        place = f"byte {error.start}" if isinstance(error, UnicodeDecodeError) else "text"
        raise InputError("this is no UTF-8", field=place, instead="Save the file in the encoding UTF-8.") from None
    if len(data) > GREATEST_BYTES:
        raise InputError(
            "the rule file is too long",
            field="text",
            bound=f"{GREATEST_BYTES} bytes",
            instead="Write one file a source.",
        )
    return data, decoded.removeprefix("\ufeff")  # some editors mark UTF-8 so, and TOML has no use for it


def _toml(text: str) -> dict[str, object]:
    for number, line in enumerate(text.split("\n"), 1):
        if line.count(".") > MOST_DOTS:
            raise InputError(
                "the line has too many full stops", field=f"line {number}", bound=f"{MOST_DOTS} in one line"
            )
    depth = 0
    for bracket in _BRACKETS.findall(text):
        # Counted here and not left to the interpreter, whose limit of recursion a host may move.
        depth += 1 if bracket in "[{" else -1
        if depth > _DEEPEST:
            raise InputError("lists or tables are nested too deep", field="text", instead=_WAY_OUT)
    try:
        found: dict[str, object] = tomllib.loads(text, parse_float=DecimalText)
    except ValueError as error:
        message = str(error)
        place = _PLACE.search(message)
        if place is None:
            raise InputError(f"this is no TOML: {message}", field="text", instead=_WAY_OUT) from None
        line = text.split("\n")[int(place["line"]) - 1].strip()
        raise InputError(
            f"this is no TOML: {message[: place.start()]}",
            field=f"line {place['line']}, column {place['column']}",
            value=shown(line) if line else "",
            instead=_WAY_OUT,
        ) from None
    if not found:
        raise InputError("the rule file is empty", field="text", instead=f"Begin it with format = {FORMAT}.")
    return found


def _rule_set(file: Table, digest: str, origin: str) -> RuleSet:
    if file.whole("format", 0, 10**9) != FORMAT:
        raise file.wrong("format", "this library does not read that format of rule file", f"format = {FORMAT}")
    name, style, title = file.name("id"), file.name("style"), file.text("title")
    base = read_source(file.table("source"))
    count_rule = read_count(file, base)
    units = read_units(file)
    rows = read_rows(file, units, base)
    efficiency, at_most, terminations = read_efficiency(file, base)
    rules = RuleSet(
        id=name,
        style=style,
        title=title,
        pattern=file.name("pattern") if file.has("pattern") else "",
        source=base.source,
        citation=base,
        rows=rows,
        count_rule=count_rule,
        spacing=read_spacing(file, rows, base),
        threads=read_threads(file, base),
        efficiency=efficiency,
        efficiency_at_most=at_most,
        efficiency_terminations=terminations,
        scope=read_scope(file, base),
        adjustments=read_adjustments(file, base),
        floors=read_floors(file, base),
        excluded_services=read_excluded_services(file, base),
        procedure=read_procedure(file, base),
        notes=read_notes(file, base),
        waivers=read_waivers(file, rows, units, base),
        sha256=digest,
        origin=origin,
    )
    _check_whole(rules)
    return rules


def _check_whole(rules: RuleSet) -> None:
    """Check what no single table can know."""
    torques = [i for i, row in enumerate(rules.rows) if row.torque is not None]
    if torques and rules.threads is None:
        raise InputError(
            f"rows[{torques[0]}].torque stands without the condition of the threads that it is meant for",
            field="threads",
            instead='Write [threads] and condition = "dry" or "greased", with a status of its own where it has one.',
        )
    gives_efficiency = bool(rules.efficiency) or rules.efficiency_at_most is not None
    if rules.is_basis and not gives_efficiency:
        raise InputError(
            "the rule file says nothing of clips",
            field="rows",
            instead="Write [[rows]], [count], [spacing] or [efficiency].",
        )
    if rules.style == ANY_STYLE and not rules.is_basis:
        raise InputError(
            "a file for any style gives efficiencies alone",
            field="style",
            value=rules.style,
            instead="Name the style that its counts and spacings are for.",
        )
