"""Checking a plan that was written before: the same, or which number has changed and why."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import attrs

from turnback.errors import InputError
from turnback.output.documents.plan import KIND
from turnback.output.interchange import opened
from turnback.output.json_text import Json
from turnback.output.recomputing import recomputed
from turnback.planning.plan import Plan
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet

__all__ = ["Difference", "Verification", "verification_document", "verify"]

_BY_HAND: Final = "edited by hand"
_PRINTED: Final = 20
"""Differences that are printed; the others are counted."""


@attrs.frozen
class Difference:
    """One number or word of a recorded plan that comes out otherwise now.

    Args:
        path: Its place in the document, such as ``clips[0].near_edge_nm``.
        recorded: What was recorded, as text.
        recomputed: What comes out now, as text.
        why: ``rule file``, ``library version`` or ``plugin``, several joined by ``or``; where none of them has changed,
            ``edited by hand``.
    """

    path: str
    recorded: str
    recomputed: str
    why: str

    def __str__(self) -> str:
        then, now = (_readable(self.path, text) for text in (self.recorded, self.recomputed))
        return f"{self.path}: recorded {then}, now {now} ({self.why})"


def _readable(path: str, text: str) -> str:
    """A number of nanometres as a length too."""
    is_length = path.endswith("_nm") and text.isascii() and text.isdigit()
    return f"{text} = {Length(int(text))}" if is_length else text


@attrs.frozen
class Verification:
    """What came of checking a recorded plan. :func:`verify` makes it.

    Args:
        same: Whether every recorded number comes out again.
        differences: What does not, the first two hundred.
        rewordings: Texts that are worded otherwise now, while their numbers and codes are the same.
        changes: What is not as it was when the plan was made: rule files, library, plugins, in a sentence each.
        unchecked: Rule sets that came with the plan and whose files are not at hand, so that only their effect was
            checked and not what they say.
        plan: The plan as it comes out now; None where it is refused.
    """

    same: bool
    differences: tuple[Difference, ...]
    rewordings: tuple[Difference, ...]
    changes: tuple[str, ...]
    unchecked: tuple[str, ...]
    plan: Plan | None

    def __str__(self) -> str:
        lines = ["the same: every recorded number comes out again" if self.same else "NOT THE SAME"]
        lines += list(self.changes)
        lines += [str(each) for each in self.differences[:_PRINTED]]
        if len(self.differences) > _PRINTED:
            lines.append(f"and {len(self.differences) - _PRINTED} more differences")
        if self.rewordings:
            lines.append(f"{len(self.rewordings)} texts are worded otherwise now")
        lines += [f"The rule set {name} came with the plan; its file is not at hand." for name in self.unchecked]
        if not self.same and not self.changes:
            lines.append("Rule files, library and plugins are as they were, so the document was edited.")
        return "\n".join(lines)


def verify(text: str | bytes, catalogue: Catalogue | None = None, rules: Iterable[RuleSet] = ()) -> Verification:
    """Check a recorded plan: plan its request again, and compare.

    Args:
        text: The JSON of a plan, or its bytes in UTF-8, within the bounds of :func:`turnback.from_json`.
        catalogue: What is at hand; the installed plugins when not given.
        rules: Rule files of your own as they are now (:func:`turnback.read_rules`); each is held against the one of its
            id that came with the plan.

    Returns:
        The same, or what has changed and why.

    Raises:
        InputError: The document cannot be read, or is no plan.
    """
    kind, body = opened(text)
    if kind != KIND:
        raise InputError("only a plan can be verified", field="kind", value=kind, bound=KIND)
    again = recomputed(body, catalogue, rules)
    why = " or ".join(dict.fromkeys(cause.kind for cause in again.causes)) or _BY_HAND
    faults = set(again.faults)
    told = [(each, Difference(each.path, each.recorded, each.recomputed, why)) for each in again.unlike]
    return Verification(
        same=not faults,
        differences=tuple(difference for each, difference in told if each in faults),
        rewordings=tuple(difference for each, difference in told if each not in faults),
        changes=tuple(cause.text for cause in again.causes),
        unchecked=again.unchecked,
        plan=again.plan,
    )


def verification_document(found: Verification) -> dict[str, Json]:
    """Turn a verification into a plain dictionary.

    Args:
        found: The verification.

    Returns:
        A dictionary that JSON can hold.
    """
    return {
        "same": found.same,
        "differences": [_told(each) for each in found.differences],
        "rewordings": [_told(each) for each in found.rewordings],
        "changes": list(found.changes),
        "unchecked": list(found.unchecked),
    }


def _told(each: Difference) -> Json:
    return {"path": each.path, "recorded": each.recorded, "recomputed": each.recomputed, "why": each.why}
