"""Reading pages as programs do: the tags of HTML, the words of it, and Markdown turned into HTML by a library."""

from __future__ import annotations

import html
from html.parser import HTMLParser
from importlib.util import find_spec
from typing import Final

from hypothesis import strategies as st

__all__ = ["HOSTILE", "Reader", "hostile_text", "rendered", "squeezed", "texts_of"]

HOSTILE: Final = (
    "<script>alert(1)</script>", "</style><script>", "<img src=x onerror=alert(1)>", '"><b onclick="x">', "' onload='x",
    "&lt;b&gt;", "&#60;i&#62;", "<!--", "-->", "]]>", "<?php", "</title>", "</td></tr></table>", "<svg onload=x>",
    "javascript:alert(1)", "http://example.org/", "www.example.org", "someone@example.org", "[a](http://example.org)",
    "![a](x.png)", "**bold**", "__bold__", "~~gone~~", "`code`", "```", "# heading", "> quoted", "- item", "+ item",
    "1. item", "2) item", "| a | b |", "|", "\\", "\\|", "***", "---", "===", "[x]: http://example.org", "[^1]", "$x$",
    "<http://example.org>", "a\nb", "a\r\n\r\n# b", "a\u2028b", "a\x00b", "\x1b[31mred", "\u202egnp.exe", "\u200f",
    "\ufeff", "\ud800", "\U0001f9f7", "{{ x }}", "%s {0}", "a    b", "    code", "\t", "&", "<", ">",
)  # fmt: skip
"""Text that is markup somewhere."""


def hostile_text() -> st.SearchStrategy[str]:
    """Text of any kind, some of it markup somewhere, never empty."""
    pieces = st.sampled_from(HOSTILE) | st.text(max_size=12)
    return st.lists(pieces, min_size=1, max_size=4).map("".join).map(lambda text: f"{text} end")


class Reader(HTMLParser):
    """Reads the tags with their attributes in order, and the text between them; a drawing is one tag."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.inside: list[str] = []
        self.text: list[str] = []
        self._depth = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "svg":
            self._depth += 1
            self.tags.append("<svg>")
        elif self._depth:
            self.inside.append(tag)
        else:
            self.tags.append(f"<{tag} {sorted(attrs, key=str)}>")

    def handle_endtag(self, tag: str) -> None:
        if tag == "svg":
            self._depth -= 1
        elif not self._depth:
            self.tags.append(f"</{tag}>")

    def handle_comment(self, data: str) -> None:
        self.tags.append(f"<!--{data}-->")

    def handle_pi(self, data: str) -> None:
        self.tags.append(f"<?{data}>")

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def texts_of(page: str) -> Reader:
    """Read a page."""
    reader = Reader()
    reader.feed(page)
    reader.close()
    return reader


def rendered(markdown: str) -> str | None:
    """Turn Markdown into HTML as CommonMark with tables does it, raw HTML let through; None without the library."""
    if find_spec("markdown_it") is None:
        return None
    from markdown_it import MarkdownIt

    return str(MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"]).render(markdown))


def squeezed(text: str) -> str:
    """The text without any blank, and without entities."""
    return "".join(html.unescape(text).split())
