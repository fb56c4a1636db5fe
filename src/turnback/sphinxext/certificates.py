"""Certificates of the conformance kit, as a site keeps them beside its pages."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Final

import attrs
from sphinx.util import logging

from turnback.conformance.certifying import KIND
from turnback.conformance.packages import package_hash
from turnback.errors import TurnbackError
from turnback.output.json_text import FORMAT, Json
from turnback.output.reading import read_document
from turnback.rules.ruleset import RuleSet
from turnback.sphinxext.subjects import subject

__all__ = ["Certificate", "read_certificate"]

_LOG: Final = logging.getLogger(__name__)


@attrs.frozen
class Certificate:
    """What a page says of a certificate.

    Args:
        level: The level that was reached.
        reason: Why it was not the next; empty at the highest.
        effort: Name of the effort.
        examples: Examples of each searched law [-].
        seed: Seed of the draws [-].
        passed: Laws that passed [-].
        waived: Laws that were waived [-].
        apart: Laws that do not apply [-].
        oracle: Joints that the exact oracle recomputed [-].
        library: Version of the library, and whether it was the state that builds the page.
        typed_by: Who typed the check values; empty where there are none.
    """

    level: str
    reason: str
    effort: str
    examples: int
    seed: int
    passed: int
    waived: int
    apart: int
    oracle: int
    library: str
    typed_by: str


def read_certificate(rules: RuleSet, folder: Path | None, location: str) -> Certificate | None:
    """Read the certificate of a rule set.

    Args:
        rules: The rule set.
        folder: Where certificates lie; None for nowhere.
        location: The page, for a warning.

    Returns:
        The certificate; None where there is none, or where it is of another rule file or of other check values, which
        is a warning too.
    """
    path = None if folder is None else folder / f"{rules.id}.json"
    if path is None or not path.is_file():
        return None
    try:
        found = read_document(path.read_bytes())
        problem = _problem(found, rules)
    except (TurnbackError, OSError) as error:
        problem = str(error)
    if problem:
        command = f"turnback conform {rules.id} --certificate {path.name}"
        _LOG.warning(
            "the certificate %s is of no use: %s. Write it anew: %s", path, problem, command, location=location
        )
        return None
    return _certificate(found)


def _problem(found: Mapping[str, Json], rules: RuleSet) -> str:
    if found.get("kind") != KIND or found.get("format") != FORMAT:
        return f"it is no certificate of format {FORMAT}"
    values = subject(rules).values
    held = {
        "rules": rules.id,
        "rule_file_sha256": rules.sha256,
        "check_values_sha256": "" if values is None else values.sha256,
    }
    for key, value in held.items():
        if found.get(key) != value:
            return f"its {key} is {found.get(key)}, and that of the rule set at hand is {value or 'none'}"
    return ""


def _certificate(found: Mapping[str, Json]) -> Certificate:
    version = str(found.get("library_version"))
    same = found.get("library_sha256") == package_hash("turnback")
    return Certificate(
        level=str(found.get("level")),
        reason=str(found.get("level_reason")),
        effort=str(found.get("effort")),
        examples=_number(found.get("examples")),
        seed=_number(found.get("seed")),
        passed=_number(_at(found, "totals", "passed")),
        waived=_number(_at(found, "totals", "waived")),
        apart=_number(_at(found, "totals", "not applicable")),
        oracle=_number(_at(found, "oracle", "cases")),
        library=f"{version}, {'the very state' if same else 'in another state than the one'} that built this page",
        typed_by=str(_at(found, "data", "typed_by") or ""),
    )


def _at(found: Mapping[str, Json], key: str, inner: str) -> Json:
    part = found.get(key)
    return part.get(inner) if isinstance(part, dict) else None


def _number(value: Json) -> int:
    return value if isinstance(value, int) else 0
