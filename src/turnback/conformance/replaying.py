"""Seeing a failure again: one line for the command line or for Python, to be copied as it stands."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
from typing import Final

import attrs

from turnback.conformance.effort import EFFORTS, QUICK, Effort
from turnback.conformance.law import Breakage
from turnback.conformance.subject import Subject
from turnback.rules.selection import FirstOf, Governing, RulesChoice, choice_text, parse_choice

__all__ = ["again_line", "plan_line"]

_RULES: Final = re.compile(r"rules='([^']*)'")


def again_line(subject: Subject, law: str, effort: Effort, seed: int) -> str:
    """Write the line that examines one law once more, with the same draws, so that it fails in the same way.

    Args:
        subject: What was examined.
        law: Id of the law.
        effort: How much was drawn.
        seed: Seed of the draws [-].

    Returns:
        A command; Python where no command can name what was examined. Of a rule set that was handed over as an object
        it says ``rules``.
    """
    named = subject.named
    if named and effort in EFFORTS:
        words = ["turnback", "conform", named, "--only", law]
        words += [] if effort == QUICK else ["--effort", effort.name]
        words += ["--seed", str(seed)] if seed else []
        return subprocess.list2cmdline(words) if os.name == "nt" else shlex.join(words)
    drawn = f"{effort.name!r}" if effort in EFFORTS else f"kit.{_effort_text(effort)}"
    examined = repr(named) if named else "rules"
    return (
        f"import turnback.conformance as kit; print(kit.check({examined}, effort={drawn}, seed={seed}, only={law!r}))"
    )


def plan_line(subject: Subject, breakage: Breakage) -> str:
    """Write the line of Python that makes the plan in which a law was found broken.

    Args:
        subject: What was examined.
        breakage: How the law is broken.

    Returns:
        A line that runs as it stands, or with ``rules`` where the rule set was handed over as an object; empty where
        the row alone shows it.
    """
    if not breakage.replay:
        return ""
    told, found = breakage.replay, _RULES.search(breakage.replay)
    if found is not None and (subject.is_file or not subject.named):
        told = f"{told[: found.start()]}rules={_chosen(parse_choice(found[1]), subject)}{told[found.end() :]}"
    return f"import turnback as tb; print({told})"


def _chosen(choice: RulesChoice, subject: Subject) -> str:
    """Return a choice as Python, with the rule file read where an id alone would not find it."""
    if isinstance(choice, Governing):
        return f"tb.governing({', '.join(_chosen(each, subject) for each in choice.members)})"
    if isinstance(choice, FirstOf):
        return f"tb.first_of({', '.join(_chosen(each, subject) for each in choice.options)})"
    name = choice_text(choice)
    if name != subject.rules.id:
        return repr(name)
    return f"tb.read_rules({subject.named!r})" if subject.named else "rules"


def _effort_text(effort: Effort) -> str:
    fields = (f"{field.name}={getattr(effort, field.name)!r}" for field in attrs.fields(Effort))
    return f"Effort({', '.join(fields)})"
