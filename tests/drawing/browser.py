"""Measures figures in a headless Chromium: where every text and every named part really comes to lie.

Debian's packages ``chromium`` and ``chromium-driver`` bring it. It is started with a fresh profile and without the
network, reads one page of figures and a script that writes what it measured into the page, and prints that page.
"""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final, NamedTuple

__all__ = ["MISSING", "Box", "Measured", "Written", "browser", "measure"]

MISSING: Final = "chromium is not installed (apt-get install chromium chromium-driver), so nothing can be measured"
_FLAGS: Final = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
_SCRIPT: Final = """
const out = {};
for (const svg of document.querySelectorAll("main > div > svg")) {
  const page = svg.getBoundingClientRect();
  const box = (e) => { const r = e.getBoundingClientRect();
    return [r.left - page.left, r.top - page.top, r.right - page.left, r.bottom - page.top]; };
  out[svg.parentNode.id] = {
    page: [page.width, page.height],
    scripts: document.querySelectorAll("main script, main iframe, main image, main a, main foreignObject").length,
    texts: [...svg.querySelectorAll("text")].map((e) => ({
      text: e.textContent, box: box(e), size: parseFloat(e.getAttribute("font-size")),
      bold: e.getAttribute("font-weight") === "bold", length: e.getComputedTextLength(),
      fill: getComputedStyle(e).fill, parts: parts(e) })),
    parts: [...svg.querySelectorAll("[data-part]")].map((e) => ({ part: e.dataset.part, box: box(e) })),
    ground: getComputedStyle(svg.querySelector("rect")).fill,
  };
}
function parts(e) { const found = []; for (let g = e.parentNode; g && g.dataset; g = g.parentNode)
  if (g.dataset.part) found.push(g.dataset.part); return found; }
document.querySelector("pre").textContent = JSON.stringify(out);
"""


class Box(NamedTuple):
    """Left, top, right and bottom [drawing units]."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box, tolerance: float) -> bool:
        """Whether two boxes share more than a strip of the tolerance."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.bottom, other.bottom) - max(self.top, other.top)
        return wide > tolerance and high > tolerance


class Written(NamedTuple):
    """One text as the browser drew it, with its length without any turning, and the parts that it belongs to."""

    text: str
    box: Box
    size: float
    bold: bool
    length: float
    fill: str
    parts: tuple[str, ...]


class Measured(NamedTuple):
    """One figure as the browser drew it."""

    page: tuple[float, float]
    texts: tuple[Written, ...]
    parts: tuple[tuple[str, Box], ...]
    ground: str
    foreign: int

    def part(self, name: str) -> Box:
        """Return the box of the one part of this name."""
        (found,) = [box for part, box in self.parts if part == name]
        return found


def browser() -> str | None:
    """Return where Chromium is, or None."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


def measure(figures: Mapping[str, str], *, dark: bool = False) -> dict[str, Measured]:
    """Measure figures, all in one run.

    Args:
        figures: SVG by name.
        dark: Whether the page prefers a dark scheme.

    Returns:
        What was measured, by name.
    """
    program = browser()
    assert program is not None, MISSING
    divs = "\n".join(f'<div id="{html.escape(name)}">{svg}</div>' for name, svg in figures.items())
    page = (
        '<!doctype html><meta charset="utf-8"><style>body{margin:0}</style>'
        f"<main>{divs}</main><pre></pre><script>{_SCRIPT}</script>"
    )
    scheme = [f"--blink-settings=preferredColorScheme={0 if dark else 1}"]
    with tempfile.TemporaryDirectory() as profile:
        path = Path(profile) / "figures.html"
        path.write_text(page, encoding="utf-8")
        command: Sequence[str] = (
            program, *_FLAGS, *scheme, f"--user-data-dir={profile}/profile", "--window-size=1200,900", "--dump-dom",
            path.as_uri(),
        )  # fmt: skip
        done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=120)
    found = re.search(r"<pre>(.*?)</pre>", done.stdout, flags=re.DOTALL)
    assert found is not None, done.stderr
    return {name: _measured(each) for name, each in json.loads(html.unescape(found[1])).items()}


def _measured(each: dict[str, object]) -> Measured:
    texts, parts, page = each["texts"], each["parts"], each["page"]
    assert isinstance(texts, list)
    assert isinstance(parts, list)
    assert isinstance(page, list)
    return Measured(
        (page[0], page[1]),
        tuple(
            Written(t["text"], Box(*t["box"]), t["size"], t["bold"], t["length"], t["fill"], tuple(t["parts"]))
            for t in texts
        ),
        tuple((p["part"], Box(*p["box"])) for p in parts),
        str(each["ground"]),
        int(str(each["scripts"])),
    )
