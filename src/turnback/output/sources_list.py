"""The list of sources of a paper, numbered as they are first named."""

from __future__ import annotations

from collections.abc import Iterable

from turnback.model.findings import Finding
from turnback.model.sources import Citation
from turnback.output.paper import Point, Points

__all__ = ["SourcesList", "finding_points"]


class SourcesList:
    """Numbers for citations, from 1. It lives no longer than the paper is being written."""

    __slots__ = ("_numbers",)

    def __init__(self) -> None:
        self._numbers: dict[Citation, int] = {}

    def cite(self, citations: Iterable[Citation]) -> tuple[int, ...]:
        """Return the numbers of citations; new ones are added to the list.

        Args:
            citations: Who says so.

        Returns:
            Their numbers in order, each once [-].
        """
        return tuple(sorted({self._numbers.setdefault(each, len(self._numbers) + 1) for each in citations}))

    def points(self) -> Points:
        """Return the list as it stands.

        Returns:
            One point for each citation, with its number and its status in words.
        """
        return Points(
            tuple(Point(str(citation), str(number)) for citation, number in self._numbers.items()), small=True
        )


def finding_points(findings: Iterable[Finding], sources: SourcesList, *, tick: bool, blank: str = "") -> Points:
    """Write findings as a list.

    Args:
        findings: The findings.
        sources: Where their citations are numbered.
        tick: Whether each has a box to tick.
        blank: What is to be written down beside each; empty for nothing.

    Returns:
        One point for each.
    """
    blanks = (blank,) if blank else ()
    return Points(
        tuple(Point(each.text, tick=tick, blanks=blanks, cited=sources.cite(each.citations)) for each in findings)
    )
