"""Inventories of other sites, kept as short texts in this tree, so that nothing is fetched and every line can be read.

``docs/_inventories/NAME.txt``: first the address of the site, then a line for each thing that our pages refer to: its
name, its kind (``class``, ``function``, ``data`` ...) and where it stands on that site. Before a build they are packed
into the form that Sphinx reads, beside its own files.
"""

from __future__ import annotations

import zlib
from pathlib import Path
from typing import Final

from sphinx.application import Sphinx
from sphinx.config import Config
from sphinx.errors import ExtensionError
from sphinx.util.typing import ExtensionMetadata

__all__ = ["packed", "setup"]

_HEAD: Final = (
    "# Sphinx inventory version 2\n# Project: {}\n# Version: \n# The remainder of this file is compressed using zlib.\n"
)


def packed(name: str, lines: list[str]) -> bytes:
    """Pack the lines of an inventory.

    Args:
        name: Name of the site.
        lines: Name, kind and place of each thing.

    Returns:
        The inventory as Sphinx reads it.

    Raises:
        ExtensionError: A line does not have three parts.
    """
    body = []
    for line in lines:
        parts = line.split()
        if len(parts) != 3:
            raise ExtensionError(f"docs/_inventories/{name}.txt: not name, kind and place: {line!r}")
        body.append(f"{parts[0]} py:{parts[1]} 1 {parts[2]} -\n")
    return _HEAD.format(name).encode() + zlib.compress("".join(body).encode())


def pack(app: Sphinx, config: Config) -> None:
    """Pack every inventory and name it to intersphinx.

    Args:
        app: The application.
        config: The settings.
    """
    folder = Path(app.doctreedir) / "inventories"
    folder.mkdir(parents=True, exist_ok=True)
    for text in sorted((Path(app.srcdir) / "_inventories").glob("*.txt")):
        address, *lines = [line for line in text.read_text(encoding="utf-8").splitlines() if line.strip()]
        place = folder / f"{text.stem}.inv"
        place.write_bytes(packed(text.stem, lines))
        config.intersphinx_mapping[text.stem] = (address, str(place))


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the packing, ahead of intersphinx.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.setup_extension("sphinx.ext.intersphinx")
    app.connect("config-inited", pack, priority=400)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
