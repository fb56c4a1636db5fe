"""How a paper looks: one style sheet for screens, light and dark, and for paper in black and white, A4 or Letter."""

from __future__ import annotations

from typing import Final

__all__ = ["STYLE", "page_heads"]

STYLE: Final = """\
:root{color-scheme:light dark;--ink:#1b2128;--faint:#59636e;--paper:#fff;--line:#9aa4ae;--shade:#eef1f4;--alarm:#b3001b}
@media (prefers-color-scheme:dark){:root{--ink:#e9edf1;--faint:#a4aeb9;--paper:#15191e;--line:#59636e;--shade:#20262d;
--alarm:#ff8a80}}
*{box-sizing:border-box}
body{margin:0 auto;padding:1rem;max-width:60rem;background:var(--paper);color:var(--ink);
font:15px/1.45 system-ui,sans-serif;overflow-wrap:anywhere}
h1{font-size:1.5em;line-height:1.2;margin:0 0 .2em}
h2{font-size:1.15em;line-height:1.2;margin:1.4em 0 .4em;border-bottom:2px solid var(--ink);padding-bottom:.15em}
p{margin:.3em 0}
.under{color:var(--faint)}
.ref{font-size:.85em;color:var(--faint);white-space:nowrap}
section.alarm{border:5px double var(--alarm);padding:.5em .8em;margin:.8em 0}
section.alarm h2{border:0;margin:0 0 .3em;font-size:1.5em;font-weight:800;color:var(--alarm);text-transform:uppercase}
section.alarm li{font-weight:600}
table{border-collapse:collapse;width:100%;font-size:.94em;font-variant-numeric:tabular-nums}
caption{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
th,td{border:1px solid var(--line);padding:.2em .4em;text-align:left;vertical-align:top;overflow-wrap:break-word}
thead th{background:var(--shade)}
tbody th{font-weight:600}
table.fill td:empty{min-width:3.2em;height:2em}
.box{display:inline-block;width:.95em;height:.95em;border:1.5px solid var(--ink);vertical-align:-.1em}
ul.points{list-style:none;margin:0;padding:0}
ul.points>li{display:grid;grid-template-columns:auto 1fr;gap:0 .5em;padding:.22em 0;
border-bottom:1px solid var(--shade)}
.lead{display:flex;gap:.4em;align-items:baseline;font-weight:600;min-width:1.1em;white-space:nowrap}
.lead .box+span{min-width:1.5em}
ul.small{font-size:.88em;columns:2 22em;column-gap:1.6em}
ul.small .lead{min-width:1.7em}
.said ul{margin:.15em 0;padding-left:1.1em}
.hold{border:2.5px solid var(--ink);padding:.3em .5em;margin:.1em 0}
.hold strong{letter-spacing:.04em}
.blank{display:flex;gap:.4em;align-items:baseline;margin:.35em 0 .1em;color:var(--faint)}
.blank>.rule{flex:1;border-bottom:1px solid var(--ink);min-width:6em;height:1.15em}
.blanks{display:grid;grid-template-columns:repeat(auto-fit,minmax(20em,1fr));gap:.1em 1.6em}
.notes{font-size:.9em;margin:.3em 0 0;padding-left:1.2em}
figure{margin:.4em 0}
figure svg{display:block;width:100%;height:auto}
footer{margin-top:1.6em;padding-top:.4em;border-top:1px solid var(--line);font-size:.85em;color:var(--faint);
overflow-wrap:anywhere}
@media print{
:root{color-scheme:light;--ink:#000;--faint:#333;--paper:#fff;--line:#777;--shade:#ececec;--alarm:#000}
body{max-width:none;padding:0;font-size:9.2pt;line-height:1.32}
h2{margin:1.1em 0 .35em;break-after:avoid}
section.alarm{border-width:6px;print-color-adjust:exact;-webkit-print-color-adjust:exact}
section.alarm h2{background:#000;color:#fff;padding:.15em .4em}
section.whole,ul.points>li,tr,figure,.hold,.blank,caption+thead{break-inside:avoid}
thead{display:table-header-group;break-after:avoid}
tbody tr:nth-child(-n+3){break-before:avoid}
tbody tr:nth-last-child(-n+2){break-before:avoid}
figure svg{max-height:150mm}
p{orphans:2;widows:2}
}
"""

_PAGE: Final = """\
@page{{size:auto;margin:14mm 12mm 15mm 14mm;
@top-left{{content:"{left}";font:700 9pt system-ui,sans-serif}}
@bottom-left{{content:"Defer to local codes, the clip maker's instructions and a qualified person.";
font:7.5pt system-ui,sans-serif}}
@bottom-right{{content:"page " counter(page) " of " counter(pages);font:7.5pt system-ui,sans-serif}}}}
"""


def page_heads(*, forbidden: bool) -> str:
    """Write what stands in the margins of every printed page.

    Args:
        forbidden: Whether what the paper describes may not be made or used.

    Returns:
        A rule for the style sheet. The paper's size is the printer's, A4 or Letter.
    """
    return _PAGE.format(left="NOT USABLE: do not make or load. See the first page." if forbidden else "")
