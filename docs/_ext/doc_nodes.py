"""The builders of document nodes, under the name that the extensions of this folder know; they live in the package."""

from __future__ import annotations

from turnback.sphinxext.nodes import (
    MEANING,
    Cell,
    aside,
    bullets,
    caution,
    cited,
    code,
    doc_link,
    paragraph,
    section,
    source_facts,
    status_key,
    table,
    tag,
    where,
)

__all__ = [
    "MEANING",
    "Cell",
    "aside",
    "bullets",
    "caution",
    "cited",
    "code",
    "doc_link",
    "paragraph",
    "section",
    "source_facts",
    "status_key",
    "table",
    "tag",
    "where",
]
