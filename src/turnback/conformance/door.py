"""What is told before any law runs: one error with the path of the field and the name of the file."""

from __future__ import annotations

import tomllib
from typing import Final

from turnback.conformance.laws import LAWS, law_named
from turnback.conformance.subject import Subject
from turnback.conformance.waiving import checked_waivers
from turnback.errors import InputError, TurnbackError, UnknownStyle

__all__ = ["checked_at_the_door"]

_CITED: Final = "every-cell-cited"
_SHOWN: Final = 3


def checked_at_the_door(subject: Subject) -> None:
    """Refuse what no law needs to be run for.

    Args:
        subject: The subject.

    Raises:
        UnknownStyle: No plugin brings its style; the nearest is named.
        PluginError: A plugin that failed to load may have brought the style.
        InputError: A waiver names no law, or a law of plans; a value in a rule file has no place in a document.
    """
    try:
        if not subject.rules.is_basis:
            subject.style  # noqa: B018  # it is looked up
        checked_waivers(subject, LAWS)
        _checked_citations(subject)
    except (InputError, UnknownStyle) as error:
        raise _with_the_file(error, subject) from error


def _with_the_file(error: TurnbackError, subject: Subject) -> TurnbackError:
    file = subject.rules.origin
    # The value stands in a field of its own; the catalogue says it in its sentence as well.
    problem = error.problem.removesuffix(f": {error.value}")
    return type(error)(
        f"{problem} (rule file {file})" if file.endswith(".toml") and file not in problem else problem,
        field=error.field,
        value=error.value,
        bound=error.bound,
        citation=error.citation,
        instead=error.instead,
    )


def _checked_citations(subject: Subject) -> None:
    """Tell a value without a place; of a rule set that was made in Python the law tells it, for it has no fields."""
    law = law_named(_CITED)
    if law is None or law.proof is None or not subject.text:
        return
    try:
        bare = [each.expected.partition(":")[0] for each in law.proof(subject).breakages]
    except Exception:  # a plugin's values may be of any type; the law itself tells it when it runs
        return
    if not bare:
        return
    source = tomllib.loads(subject.text).get("source")
    if isinstance(source, dict) and "locator" not in source:
        values = [place for place in bare if "citation" not in place]
        more = f" and {len(values) - _SHOWN} more" if len(values) > _SHOWN else ""
        named = f", and {', '.join(values[:_SHOWN])}{more} has none of its own" if values else ""
        raise InputError(
            f"this key is required{named}",
            field="source.locator",
            instead='Write it like locator = "Table 3": the table, row, paragraph or page.',
        )
    raise InputError(
        "a value needs a citation with a document and a place in it",
        field=bare[0],
        instead='Write locator = "Table 3" beside it.',
    )
