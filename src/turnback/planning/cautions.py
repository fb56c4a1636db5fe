"""Cautions that always stand, and the order in which findings are shown."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from turnback.model.findings import KINDS, Finding, Kind
from turnback.model.sources import COMMON_PRACTICE, Citation, Source

__all__ = [
    "ALWAYS",
    "MEASURE_BODY",
    "MEASURE_SERIES",
    "SADDLE",
    "THREE_CLIPS",
    "merged",
    "practice",
    "sorted_findings",
]


def practice(locator: str) -> Citation:
    """Cite common practice.

    Args:
        locator: What of it, in a few words.

    Returns:
        A citation without a source.
    """
    return Citation(COMMON_PRACTICE, locator, "common practice")


THREE_CLIPS: Final = Citation(
    Source("worksafenb-clips", "Wire rope cable clips guidance", issuer="WorkSafeNB, New Brunswick"),
    "text beside the sample installation table",
    "read",
)

ALWAYS: Final = (
    Finding(
        "qualified-person",
        "caution",
        "This plan replaces neither local codes nor the clip maker's instructions nor a qualified person; "
        "where they ask "
        "for more, they govern.",
        (practice("defer to local codes, the clip maker and licensed practice"),),
    ),
    Finding(
        "torque-again",
        "must-do",
        "Torque every clip again after the first load, and check at intervals: rope settles and clips lose their grip.",
        (practice("first load, then inspect and torque every clip again"),),
    ),
    Finding(
        "stand-clear",
        "caution",
        "Nobody stands under the load or in line with the rope during the first load or after.",
        (practice("stand clear of a loaded rope"),),
    ),
    Finding(
        "never-rated",
        "caution",
        "Nothing is rated here for a clip that is reversed, under-torqued, worn, of another size or mixed with others.",
        (practice("never derate by guess"),),
    ),
)
"""Cautions that stand beside every plan."""

MEASURE_SERIES: Final = Finding(
    "measure-base-width",
    "must-do",
    "Measure the clip: positions and spacing need its base width, the length of the saddle along the rope.",
    (practice("first clip one base width from the dead end"),),
)
MEASURE_BODY: Final = Finding(
    "measure-base-width",
    "must-do",
    "Measure the clip: the turn-back needs the length of its body along the rope.",
    (practice("dead end beyond the body of a plate clip"),),
)

SADDLE: Final = Finding(
    "saddle-on-live-part",
    "must-do",
    "Every saddle bears on the live part and every U on the dead part; in a lap splice each half on the "
    "part that is live "
    "there.",
    (practice("saddle on the live part, every clip the same way round"),),
)


_RANK: Final[dict[Kind, int]] = {kind: i for i, kind in enumerate(KINDS)}


def sorted_findings(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sort findings: an unstated service first, then by kind, keeping the order in which they were made.

    Args:
        findings: In any order; a finding that stands twice is kept once.

    Returns:
        The sorted findings.
    """
    return merged(dict.fromkeys(findings), ())


def merged(findings: Iterable[Finding], more: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sort two lists of different findings into one.

    Args:
        findings: Findings, each once.
        more: Others.

    Returns:
        The sorted findings.
    """
    return tuple(sorted([*findings, *more], key=_rank))


def _rank(finding: Finding) -> int:
    return -1 if finding.code == "service-not-stated" else _RANK[finding.kind]
