"""Findings: something a person must know or do."""

from __future__ import annotations

from typing import Final, Literal, get_args

import attrs

from turnback.errors import InputError
from turnback.model.sources import Citation

__all__ = ["KINDS", "Finding", "Kind"]

Kind = Literal["forbidden", "must-fix", "must-do", "confirm", "caution", "note"]
"""From the gravest down: ``forbidden`` (a source forbids the use), ``must-fix`` (the joint may not be used so),
``must-do`` (a step that nobody may leave out), ``confirm`` (somebody must check a fact), ``caution``, ``note``."""

KINDS: Final[tuple[Kind, ...]] = get_args(Kind)


@attrs.frozen
class Finding:
    """Something a person must know or do, with its source.

    The code is stable and the text is not: a host that translates keys on ``code`` and fills in ``values``.

    Args:
        code: Stable name, lower case with hyphens.
        kind: One of :data:`KINDS`.
        text: One or two plain sentences.
        citations: Who says so; at least one.
        values: Named values that stand in the text, as text.

    Raises:
        InputError: No citation, or a kind that does not exist.
    """

    code: str
    kind: Kind
    text: str
    citations: tuple[Citation, ...]
    values: tuple[tuple[str, str], ...] = ()

    def __attrs_post_init__(self) -> None:
        if self.kind not in KINDS:
            raise InputError(
                "this is no kind of finding", field="finding.kind", value=self.kind, bound="one of " + ", ".join(KINDS)
            )
        if not self.citations:
            raise InputError("a finding needs a citation", field="finding.citations", value=self.code)

    @property
    def blocks(self) -> bool:
        """Whether the joint may not be used while this stands."""
        return self.kind in ("forbidden", "must-fix")

    def __str__(self) -> str:
        return f"{self.kind}: {self.text} [{'; '.join(str(c) for c in self.citations)}]"

    def _repr_html_(self) -> str:
        from turnback.model.finding_table import findings_table

        return findings_table((self,), "Finding")
