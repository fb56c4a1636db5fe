"""An inspection as plain text, at most 80 columns wide."""

from __future__ import annotations

import textwrap
from typing import Final

from turnback.review.inspection import InService, Inspection
from turnback.review.observations import Observation

__all__ = ["inspection_text"]

_WIDTH: Final = 80
_HEADS: Final[dict[InService, str]] = {
    "keep": "IN SERVICE: keep. Every reading is there, and every bound is met.",
    "find out first": "FIND OUT FIRST: not everything that decides it is known.",
    "act": "ACT: something is to be done before it is loaded again.",
    "out of service": "OUT OF SERVICE",
}


def inspection_text(inspection: Inspection) -> str:
    """Write an inspection: whether the joint may stay in service first, then what was observed, gravest first.

    Args:
        inspection: The inspection.

    Returns:
        Plain text of at most 80 columns.
    """
    deviating = [each for each in inspection.observations if each.deviates]
    informing = [each for each in inspection.observations if not each.deviates]
    blocks = [[_HEADS[inspection.in_service]]]
    blocks.append([line for finding in inspection.plan.findings if finding.blocks for line in _bullet(str(finding))])
    blocks.append([line for each in deviating for line in _observed(each)])
    missing = [f"{each.what}: {each.reason}" for each in inspection.still_to_measure]
    blocks.append(["Still to find out", *(line for text in missing for line in _bullet(text))] if missing else [])
    blocks.append([line for each in informing for line in _observed(each)])
    blocks.append(_wrapped("It does not replace a competent person on the spot.", "", ""))
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _observed(each: Observation) -> list[str]:
    lines = _bullet(f"{each.kind}: {each.item}: {each.text}")
    lines += _wrapped(f"measured   {each.measured}", "    ", " " * 15) if each.measured else []
    lines += _wrapped(f"should be  {each.bound}", "    ", " " * 15) if each.bound else []
    lines += _wrapped(f"do         {each.do}", "    ", " " * 15) if each.do else []
    return lines + [line for citation in each.citations for line in _wrapped(f"[{citation}]", "    ", "    ")]


def _bullet(text: str) -> list[str]:
    return _wrapped(text, "  - ", "    ")


def _wrapped(text: str, first: str, rest: str) -> list[str]:
    return textwrap.wrap(
        text,
        _WIDTH,
        initial_indent=first,
        subsequent_indent=rest,
        break_long_words=False,
        break_on_hyphens=False,
        drop_whitespace=True,
    )
