"""A value together with who says so."""

from __future__ import annotations

from typing import Generic, TypeVar

import attrs

from turnback.errors import InputError
from turnback.model.sources import Citation

__all__ = ["Cited"]

T_co = TypeVar("T_co", covariant=True)


@attrs.frozen
class Cited(Generic[T_co]):
    """One value of the trade with its citations.

    Args:
        value: The value, in its own exact type.
        citations: Who says so; at least one, the value's own first.
        how: How it came about: looked up, computed by which formula, given.

    Raises:
        InputError: There is no citation.
    """

    value: T_co
    citations: tuple[Citation, ...]
    how: str = ""

    def __attrs_post_init__(self) -> None:
        if not self.citations:
            raise InputError(
                "a value without a citation cannot be stored",
                field="citations",
                value=str(self.value),
                instead="Give the document and the place in it.",
            )

    def __str__(self) -> str:
        return f"{self.value} [{'; '.join(str(c) for c in self.citations)}]"
