"""Service files: what regulations say of clips in a service, read from TOML.

A service file is format 1 of its own kind. It declares its sources once, names the services and jurisdictions that it
adds (``[services]``, ``[jurisdictions]``: id and description) and lists its rules under ``[[rules]]`` headers, whose
keys are the fields of :class:`turnback.rules.service.ServiceRule`. A rule's citation is ``source``, ``locator``,
``status`` and, where there is a misprint or a departure, ``note``. ``service`` may be a list: one rule for each.
What the core declares is known in every other file, and a name that nobody declares is refused.
"""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path
from typing import Final, Literal

import attrs

from turnback.errors import InputError
from turnback.model.designation import VOCABULARY
from turnback.model.sources import Citation
from turnback.model.terminations import TERMINATION_KINDS
from turnback.rules._service_parts import PLACE, Names, built, citation, names_in, needed, parsed, shipped
from turnback.rules._service_reading import Cells, nearest
from turnback.rules.ruleset import SpacingBound
from turnback.rules.service import ANY, RETORQUE_TIMES, RULE_KINDS, DesignFactor, ServiceRule

__all__ = [
    "core_names",
    "design_factors",
    "jurisdiction_names",
    "read_service_rules",
    "service_names",
    "service_rules",
]

_RULE: Final = tuple(f.name for f in attrs.fields(ServiceRule) if f.name not in ("citation", "use")) + PLACE
_FACTOR: Final = tuple(f.name for f in attrs.fields(DesignFactor) if f.name != "citation") + PLACE
_BOUNDS: Final[tuple[Literal["least", "greatest", "equal"], ...]] = ("least", "greatest", "equal")
_MEASURED: Final = ("centre to centre", "clear")
_GRADES: Final = tuple(dict.fromkeys(VOCABULARY["grade"].values()))


@attrs.frozen(eq=False)
class _Core:
    names: Names
    rules: tuple[ServiceRule, ...]


def service_rules() -> tuple[ServiceRule, ...]:
    """Return the service rules of the core.

    Returns:
        The rules in the order of their file, read once.
    """
    return _core().rules


def service_names() -> tuple[tuple[str, str], ...]:
    """Return the services that the core knows.

    Returns:
        Id and description of each.
    """
    return tuple(_core().names.services.items())


def jurisdiction_names() -> tuple[tuple[str, str], ...]:
    """Return the jurisdictions that the core knows.

    Returns:
        Id and name of each.
    """
    return tuple(_core().names.jurisdictions.items())


def core_names() -> Names:
    """Return the services, jurisdictions and sources of the core.

    Returns:
        What every other file may name without declaring it.
    """
    return _core().names


@cache
def design_factors() -> tuple[DesignFactor, ...]:
    """Return the design factors of the core.

    Returns:
        The factors in the order of their file, read once.
    """
    return parsed("design-factors.toml", shipped("design-factors.toml"), "factors", _factors)


def read_service_rules(path: str | os.PathLike[str]) -> tuple[ServiceRule, ...]:
    """Read the service rules of a plugin, or of your own.

    Args:
        path: The file.

    Returns:
        The rules in the order of the file.

    Raises:
        InputError: The file cannot be read, is no TOML, or a key or value in it is wrong; the message names the path
            in the file, such as ``rules[3].kind``.
    """
    file = Path(path)
    try:
        content = file.read_bytes()
    except OSError as error:
        raise InputError(
            f"the file cannot be read: {error.strerror}",
            field="path",
            value=str(file),
            instead="Give the path of a file.",
        ) from error
    return parsed(file.name, content, "rules", lambda cells: _rules(cells, names_in(cells, core_names())))


@cache
def _core() -> _Core:
    def read(cells: Cells) -> _Core:
        names = names_in(cells, Names({}, {}, {}))
        return _Core(names, _rules(cells, names))

    return parsed("services.toml", shipped("services.toml"), "rules", read)


def _rules(cells: Cells, names: Names) -> tuple[ServiceRule, ...]:
    found: list[ServiceRule] = []
    codes: set[str] = set()
    for each in cells.tables("rules", _RULE):
        found += [_rule(each, service, names) for service in each.texts_of("service")]
        if found[-1].code in codes:
            raise each.wrong("code", "another rule of this file has this code", instead="Each rule needs its own.")
        codes.add(found[-1].code)
    return tuple(found)


def _rule(cells: Cells, service: str, names: Names) -> ServiceRule:
    known = (*names.services, ANY)
    if service not in known:
        raise cells.wrong(
            "service",
            f"nobody declares the service {service}",
            "one of " + ", ".join(known),
            f'{nearest(service, known)} A new one is declared: [services], then {service} = "what it is".'.strip(),
        )
    kind = cells.word("kind", RULE_KINDS)
    place = citation(cells, names)
    return built(
        cells,
        lambda: ServiceRule(
            service=service,
            jurisdiction=cells.word("jurisdiction", (*names.jurisdictions, ANY)),
            kind=kind,
            text=cells.text("text"),
            citation=place,
            code=cells.text("code"),
            use=names.services.get(service, ""),
            styles=cells.words("styles"),
            terminations=cells.words("terminations", TERMINATION_KINDS),
            rule_sets=cells.words("rule_sets"),
            clip_count_at_least=cells.whole("clip_count_at_least"),
            rope_from=cells.length("rope_from"),
            rope_below=cells.length("rope_below"),
            spacing=_spacing(cells, place),
            retorque=cells.words("retorque", RETORQUE_TIMES),
            needs_thimble=cells.flag("needs_thimble", False),
            pin_under_diameters=cells.whole("pin_under_diameters"),
            refuses_terminations=cells.words("refuses_terminations", TERMINATION_KINDS),
            design_factor=cells.ratio("design_factor"),
            design_factor_rotation_resistant=cells.ratio("design_factor_rotation_resistant"),
            efficiency_at_least=cells.ratio("efficiency_at_least"),
            rope_at_least=cells.length("rope_at_least"),
            grades=cells.words("grades", _GRADES),
            forged_only_confirm=cells.flag("forged_only_confirm", False),
        ),
    )


def _spacing(cells: Cells, place: Citation) -> tuple[SpacingBound, ...]:
    if not cells.has("spacing"):
        return ()
    table = cells.table("spacing", ("measured", *_BOUNDS))
    clear = table.word("measured", _MEASURED) == "clear"
    found = tuple(SpacingBound(bound, clear, table.linear(bound), place) for bound in _BOUNDS if table.has(bound))
    if not found:
        raise cells.wrong("spacing", "it gives no bound", instead=f"Write any of {', '.join(_BOUNDS)}.")
    return found


def _factors(cells: Cells) -> tuple[DesignFactor, ...]:
    names = names_in(cells, core_names())
    return tuple(
        built(
            each,
            lambda each=each: DesignFactor(  # type: ignore[misc]  # mypy cannot infer a lambda with a default
                use=each.text("use"),
                services=each.words("services", tuple(names.services)),
                jurisdiction=each.word("jurisdiction", tuple(names.jurisdictions)),
                factor=needed(each, "factor"),
                text=each.text("text"),
                citation=citation(each, names),
            ),
        )
        for each in cells.tables("factors", _FACTOR)
    )
