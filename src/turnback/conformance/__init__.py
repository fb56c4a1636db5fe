"""The conformance kit: it proves a new rule set right, and says how much a green run proves.

What searches needs hypothesis: ``pip install 'turnback[conformance]'``. It is loaded on first use, so that writing a
new rule file needs nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from turnback.conformance.certifying import CertificateCheck as CertificateCheck
    from turnback.conformance.certifying import certificate as certificate
    from turnback.conformance.certifying import verify_certificate as verify_certificate
    from turnback.conformance.check_values import CheckValues as CheckValues
    from turnback.conformance.check_values import read_check_values as read_check_values
    from turnback.conformance.checking import check as check
    from turnback.conformance.effort import DEEP as DEEP
    from turnback.conformance.effort import FULL as FULL
    from turnback.conformance.effort import QUICK as QUICK
    from turnback.conformance.effort import Effort as Effort
    from turnback.conformance.law import Breakage as Breakage
    from turnback.conformance.law import Law as Law
    from turnback.conformance.laws import LAWS as LAWS
    from turnback.conformance.laws import law_named as law_named
    from turnback.conformance.level import LEVELS as LEVELS
    from turnback.conformance.level import Level as Level
    from turnback.conformance.level import LevelName as LevelName
    from turnback.conformance.level import level_named as level_named
    from turnback.conformance.outcome import Outcome as Outcome
    from turnback.conformance.pytest_door import conformance_test as conformance_test
    from turnback.conformance.report import Report as Report
    from turnback.conformance.report_json import report_document as report_document
    from turnback.conformance.subject import Subject as Subject
    from turnback.conformance.subject import subject_of as subject_of

# The same list once more for the interpreter: a test holds the two to each other.
_PLACES = {
    "certifying": ("CertificateCheck", "certificate", "verify_certificate"),
    "check_values": ("CheckValues", "read_check_values"),
    "checking": ("check",),
    "effort": ("DEEP", "FULL", "QUICK", "Effort"),
    "law": ("Breakage", "Law"),
    "laws": ("LAWS", "law_named"),
    "level": ("LEVELS", "Level", "LevelName", "level_named"),
    "outcome": ("Outcome",),
    "pytest_door": ("conformance_test",),
    "report": ("Report",),
    "report_json": ("report_document",),
    "subject": ("Subject", "subject_of"),
}
_PLACE_OF = {name: module for module, names in _PLACES.items() for name in names}

__all__ = sorted(_PLACE_OF)  # noqa: PLE0605 - computed from the one list above

if not TYPE_CHECKING:
    # Hidden from the type checker, so that a misspelt name is an error there too.
    def __getattr__(name: str) -> object:
        if name not in _PLACE_OF:
            raise AttributeError(f"module 'turnback.conformance' has no attribute {name!r}")
        from importlib import import_module

        from turnback.errors import PluginError

        try:
            value = getattr(import_module(f"turnback.conformance.{_PLACE_OF[name]}"), name)
        except ModuleNotFoundError as error:
            if error.name != "hypothesis":
                raise
            raise PluginError(
                "the kit searches with hypothesis, which is not installed",
                field=name,
                instead="Install it with: pip install 'turnback[conformance]'",
            ) from error
        globals()[name] = value
        return value

    def __dir__() -> list[str]:
        return sorted({*globals(), *__all__})
