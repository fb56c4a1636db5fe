"""Where a number comes from: sources, and citations that point into them.

A value without a citation cannot be constructed anywhere in the library, so these two are required constructor fields
wherever a number of the trade is stored.
"""

from __future__ import annotations

from typing import Final, Literal, get_args

import attrs

from turnback.errors import InputError

__all__ = ["COMMON_PRACTICE", "USER", "Citation", "Source", "Status", "user_citation", "weakest"]

Status = Literal["read", "memory", "common practice", "user"]
"""How a value was taken: ``read`` in the document or a public copy of it; recalled from ``memory`` and not yet read
against the document; ``common practice`` of the trade, without a single source; given by the ``user``."""

STATUSES: Final[tuple[str, ...]] = get_args(Status)


@attrs.frozen
class Source:
    """A document, declared once and cited from everywhere else.

    Args:
        id: Short stable name, unique among the sources at hand.
        document: Title and number of the document.
        edition: Edition, as far as it was recorded.
        issuer: Who publishes it.
        year: Year of the edition [-]; 0 where none was recorded.

    Raises:
        InputError: ``id`` or ``document`` is empty.
    """

    id: str
    document: str
    edition: str = "edition not recorded"
    issuer: str = "issuer not recorded"
    year: int = 0

    def __attrs_post_init__(self) -> None:
        for field in ("id", "document"):
            if not getattr(self, field).strip():
                raise InputError("a source needs one", field=f"source.{field}", instead="Name the document.")

    def __str__(self) -> str:
        return self.document


@attrs.frozen
class Citation:
    """A place in a source, with the status of what was taken from there.

    Args:
        source: The document.
        locator: Table, row, paragraph or page; empty where the whole document is meant.
        status: ``read``, ``memory``, ``common practice`` or ``user``.
        note: Misprint or departure to record beside the value.

    Raises:
        InputError: ``status`` is none of the four.
    """

    source: Source
    locator: str
    status: Status
    note: str = ""

    def __attrs_post_init__(self) -> None:
        if self.status not in STATUSES:
            raise InputError(
                "this is no status of a value",
                field="citation.status",
                value=repr(self.status),
                bound="one of " + ", ".join(STATUSES),
            )

    def at(self, locator: str, status: Status | None = None) -> Citation:
        """Return the citation of another place in the same source.

        Args:
            locator: The place.
            status: Its status; the same as here when not given.

        Returns:
            The other citation.
        """
        return Citation(self.source, locator, status or self.status)

    def __str__(self) -> str:
        if self.status == "common practice":
            return "common practice, no source" + (f" ({self.locator})" if self.locator else "")
        if self.source.id == USER.id:
            return f"given by the user: {self.locator}" if self.locator else "given by the user"
        place = f"{self.source.document}, {self.locator}" if self.locator else self.source.document
        mark = _MARKS[self.status]
        return place + mark + (f" [{self.note}]" if self.note else "")


_MARKS: Final[dict[str, str]] = {
    "read": "",
    "memory": " (from memory, not yet read against the document)",
    "user": " (typed in by the user)",
}

COMMON_PRACTICE: Final = Source(
    id="common-practice",
    document="Common practice of the trade",
    edition="no source",
    issuer="none",
)

USER: Final = Source(id="user", document="Given by the user", edition="as given", issuer="the user")


def user_citation(where: str) -> Citation:
    """Return the citation of something that the user read elsewhere, such as the clip maker's sheet.

    Args:
        where: What the user read it in, in the user's words.

    Returns:
        A citation with status ``user``.

    Raises:
        InputError: ``where`` is empty, for then nobody vouches for the number.
    """
    if not where.strip():
        raise InputError(
            "a number of your own needs a citation",
            field="citation",
            value=repr(where),
            instead="Name the sheet, page and date that you took it from.",
        )
    return Citation(USER, where.strip(), "user")


def weakest(citations: tuple[Citation, ...]) -> Status:
    """Return the least certain status among several citations.

    Args:
        citations: At least one citation.

    Returns:
        ``memory`` before ``common practice`` before ``user`` before ``read``.
    """
    order: tuple[Status, ...] = ("memory", "common practice", "user", "read")
    found = {citation.status for citation in citations}
    return next(status for status in order if status in found)
