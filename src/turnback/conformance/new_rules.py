"""A new rule set to begin with: a rule file with every key explained, or a whole distribution round it.

What is written holds at once and is marked as invented, so that whoever types a document in has something that works at
every step. Nothing that exists is ever written over.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping
from contextlib import suppress
from datetime import date
from importlib import metadata
from pathlib import Path
from string import Template
from typing import Final

import attrs

from turnback.errors import InputError
from turnback.model.styles import ClipStyle
from turnback.model.terminations import TerminationKind
from turnback.quantities.grammar import shown
from turnback.rules.catalogue import Catalogue
from turnback.rules.rulefile import parse_rules

__all__ = ["RESERVED", "NewFile", "plugin_files", "rule_file", "write_plugin", "write_rule_file"]

RESERVED: Final = frozenset({"new"})
"""Ids that no new rule set takes, for ``turnback rules`` means something else by them."""

_TEMPLATES: Final = os.path.join(os.path.dirname(__file__), "templates")
_EYES: Final[tuple[TerminationKind, ...]] = ("thimble eye", "linked eyes")
_ID_FORM: Final = "lower-case letters, digits and single hyphens, at most 64 characters"


@attrs.frozen
class NewFile:
    """A file that is to be written.

    Args:
        path: Where, with forward slashes, from the folder of the distribution.
        text: What it holds.
    """

    path: str
    text: str


def rule_file(rules_id: str, style_id: str, *, catalogue: Catalogue | None = None) -> NewFile:
    """Write the text of a new rule file: an invented table of three sizes that keeps every law, every key explained.

    Args:
        rules_id: Id of the new rule set: lower-case letters, digits and single hyphens.
        style_id: Id of the clip style.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The file ``ID.toml``.

    Raises:
        InputError: The id is no id, or is taken.
        UnknownStyle: No plugin brings the style; the nearest is named.
        PluginError: A plugin that failed to load may have brought it.
    """
    at_hand = Catalogue.installed() if catalogue is None else catalogue
    return _rule_file(_free_id(rules_id, at_hand), at_hand.style(style_id))


def plugin_files(
    rules_id: str, style_id: str, *, today: date | None = None, catalogue: Catalogue | None = None
) -> tuple[NewFile, ...]:
    """Write the texts of a whole distribution with one rule set, its check values and its test.

    Args:
        rules_id: Id of the new rule set: lower-case letters, digits and single hyphens.
        style_id: Id of the clip style.
        today: The day that the check values name; today's date when not given.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The files of the distribution ``turnback-ID``.

    Raises:
        InputError: The id is no id, or is taken.
        UnknownStyle: No plugin brings the style; the nearest is named.
        PluginError: A plugin that failed to load may have brought it.
    """
    at_hand = Catalogue.installed() if catalogue is None else catalogue
    name, style = _free_id(rules_id, at_hand), at_hand.style(style_id)
    distribution, package = f"turnback-{name}", f"turnback_{name.replace('-', '_')}"
    origin = at_hand.origin_of(style.id)
    needs = ["turnback>=0.1,<0.2"] + ([origin.distribution] if origin and _installed(origin.distribution) else [])
    words = {
        **_words(name, style),
        "distribution": distribution,
        "package": package,
        "needs": '", "'.join(needs),
        "style_from": style.id,
        "gives": "count, turn-back, least spacing, torque" if style.in_series else "count, torque",
        "today": (date.today() if today is None else today).isoformat(),
    }
    words["columns"] = _filled("check-values-in-series" if style.in_series else "check-values-of-one-body", words)
    source = f"src/{package}"
    return (
        NewFile("pyproject.toml", _filled("pyproject", words)),
        NewFile("README.md", _filled("readme", words)),
        NewFile(f"{source}/__init__.py", _filled("package", words)),
        NewFile(f"{source}/plugin.py", _filled("plugin", words)),
        NewFile(f"{source}/py.typed", ""),
        NewFile(f"{source}/rules/{name}.toml", _rule_file(name, style).text),
        NewFile(f"{source}/rules/{name}.check.toml", _filled("check-values", words)),
        NewFile("tests/test_conformance.py", _filled("test", words)),
    )


def write_rule_file(
    rules_id: str, style_id: str, folder: str | os.PathLike[str] = ".", *, catalogue: Catalogue | None = None
) -> Path:
    """Write a new rule file.

    Args:
        rules_id: Id of the new rule set.
        style_id: Id of the clip style.
        folder: The folder that it is written into; it must be there.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The file that was written.

    Raises:
        InputError: The id is no id or is taken, there is no such folder, or the file exists.
        UnknownStyle: No plugin brings the style.
        PluginError: A plugin that failed to load may have brought it.
        OSError: The file cannot be written.
    """
    new = rule_file(rules_id, style_id, catalogue=catalogue)
    path = _folder(folder) / new.path
    _write(path, new.text)
    return path


def write_plugin(
    rules_id: str, style_id: str, folder: str | os.PathLike[str] = ".", *, catalogue: Catalogue | None = None
) -> tuple[Path, ...]:
    """Write a whole distribution into a folder of its own, ``turnback-ID``.

    Args:
        rules_id: Id of the new rule set.
        style_id: Id of the clip style.
        folder: The folder that the new folder is made in; it must be there.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The files that were written.

    Raises:
        InputError: The id is no id or is taken, there is no such folder, or the new folder exists.
        UnknownStyle: No plugin brings the style.
        PluginError: A plugin that failed to load may have brought it.
        OSError: A file cannot be written; then nothing is left behind.
    """
    new = plugin_files(rules_id, style_id, catalogue=catalogue)
    home = _folder(folder) / f"turnback-{rules_id}"
    try:
        home.mkdir()
    except FileExistsError:
        raise _taken(home) from None
    try:
        for file in new:
            path = home / file.path
            path.parent.mkdir(parents=True, exist_ok=True)
            _write(path, file.text)
    except BaseException:
        shutil.rmtree(home, ignore_errors=True)  # it was made a moment ago, by this call
        raise
    return tuple(home / file.path for file in new)


def _rule_file(name: str, style: ClipStyle) -> NewFile:
    words = _words(name, style)
    kind = "in-series" if style.in_series else "of-one-body"
    words |= {part: _filled(f"{part}-{kind}", words).rstrip("\n") for part in ("rows", "bounds")}
    text = _filled("rule-file", words)
    parse_rules(text, f"{name}.toml")  # what is written holds, or it is not written
    return NewFile(f"{name}.toml", text)


def _words(name: str, style: ClipStyle) -> dict[str, str]:
    # Eyes on a thimble where the style makes them: the first table that anybody types in is one for eyes.
    kinds = tuple(kind for kind in _EYES if kind in style.terminations) or style.terminations
    return {
        "id": name,
        "style": style.id,
        "style_title": style.title,
        "terminations": ", ".join(f'"{kind}"' for kind in kinds),
    }


def _filled(template: str, words: Mapping[str, str]) -> str:
    with open(os.path.join(_TEMPLATES, f"{template}.txt"), encoding="utf-8") as file:
        return Template(file.read()).substitute(words)


def _free_id(name: object, catalogue: Catalogue) -> str:
    if not isinstance(name, str) or not _is_id(name):
        raise InputError(
            "this is no id of a rule set",
            field="NAME",
            value=shown(name),
            bound=_ID_FORM,
            instead="Write a name such as my-standard.",
        )
    if name in RESERVED:
        raise InputError(
            "this id is a word of the command line", field="NAME", value=name, instead="Take another name."
        )
    if catalogue.find(name) is not None:
        origin = catalogue.origin_of(name)
        raise InputError(
            "a rule set of this id is installed already, and two of one id are both refused",
            field="NAME",
            value=name,
            bound=f"brought by {origin}" if origin is not None else "brought by turnback itself",
            instead="Take another name.",
        )
    if _installed(f"turnback-{name}"):
        raise InputError(
            "a distribution of this name is installed already, and a new one would take its place",
            field="NAME",
            value=f"turnback-{name}",
            instead="Take another name.",
        )
    return name


def _is_id(name: str) -> bool:
    parts = name.split("-")
    return len(name) <= 64 and all(part.isascii() and part.isalnum() and part == part.lower() for part in parts)


def _installed(distribution: str) -> bool:
    with suppress(metadata.PackageNotFoundError):
        return bool(metadata.distribution(distribution))
    return False


def _folder(folder: str | os.PathLike[str]) -> Path:
    try:
        path = Path(folder)
        there = path.is_dir()
    except (TypeError, ValueError):
        path, there = Path(), False
    if not there:
        raise InputError(
            "there is no such folder",
            field="--into",
            value=shown(os.fspath(folder) if isinstance(folder, os.PathLike) else folder),
            instead="Make it first, or leave --into out to write here.",
        )
    return path


def _write(path: Path, text: str) -> None:
    try:
        file = path.open("x", encoding="utf-8", newline="\n")
    except FileExistsError:
        raise _taken(path) from None
    try:
        with file:
            file.write(text)
    except BaseException:
        path.unlink(missing_ok=True)  # half a rule file is none
        raise


def _taken(path: Path) -> InputError:
    return InputError(
        "this exists already, and nothing is written over it",
        field="NAME",
        value=shown(str(path)),
        instead="Take another name, or write into another folder with --into.",
    )
