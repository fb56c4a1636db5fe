"""From the cells of one row to a request, and what keeps them from being one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from turnback.batch.cells import Cell
from turnback.batch.options import BatchOptions
from turnback.errors import InputError
from turnback.model.rope import Coating, Rope
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    ThimbleEye,
)
from turnback.planning.request import Request
from turnback.quantities import Length

__all__ = ["DIMENSIONS", "kind_of", "of_another_kind", "request_from"]

_THIMBLE: Final = ("inside_length", "inside_width", "groove_offset")
_SECOND: Final = ("second_inside_length", "second_inside_width", "second_groove_offset")
_BARE: Final = ("pin", "eye_length")

DIMENSIONS: Final[Mapping[str, tuple[str, ...]]] = {
    "thimble eye": _THIMBLE,
    "soft eye": _BARE,
    "pulley eye": ("tread_diameter", "included_angle"),
    "linked eyes": (*_THIMBLE, *_SECOND),
    "lap splice": (),
    "plate eye": (*_THIMBLE, *_BARE, "parts_apart"),
}
"""The dimensions that each kind of termination has. A plate eye is laid round a thimble or round a pin, never both."""
_EVERY: Final = tuple(dict.fromkeys(name for names in DIMENSIONS.values() for name in names))
_UNCERTIFIED: Final = "as given in the register"
_WORDS: Final = ("construction", "core", "grade", "lay", "outer_wires", "finish", "condition")


def kind_of(cells: Mapping[str, Cell], options: BatchOptions) -> str:
    """Return the kind of termination of a row.

    Args:
        cells: The cells that were read.
        options: What holds for every row.

    Returns:
        The row's own kind, or that of the options.
    """
    return str(cells.get("termination") or options.termination)


def of_another_kind(cells: Mapping[str, Cell], options: BatchOptions) -> InputError | None:
    """Say which dimension of a row its termination does not have.

    Args:
        cells: The cells that were read.
        options: What holds for every row.

    Returns:
        The error, not raised; None where there is none.
    """
    kind = kind_of(cells, options)
    allowed = DIMENSIONS[kind]
    if kind == "plate eye" and any(cells.get(name) is not None for name in _BARE):
        allowed = (*_BARE, "parts_apart")
    for name in _EVERY:
        if cells.get(name) is not None and name not in allowed:
            return InputError(
                f"a {kind} has no such dimension" if name not in DIMENSIONS[kind] else "a thimble and a pin at once",
                field=name,
                value=str(cells[name]),
                bound="its dimensions: " + (", ".join(allowed) or "none"),
                instead="Correct the kind of termination, or leave the dimension out.",
            )
    return None


def request_from(cells: Mapping[str, Cell], options: BatchOptions) -> Request:
    """Build the request of a row.

    Args:
        cells: The cells that were read, by the column's name.
        options: What holds for every row.

    Returns:
        The request.

    Raises:
        InputError: The cells make no rope or no termination together.
    """
    get = cells.get
    body, service, place = get("clip_body"), get("service"), get("jurisdiction")
    extra = get("extra_clips")
    return Request(
        _rope(cells),
        _termination(cells, kind_of(cells, options)),
        options.style,
        options.rules,
        str(body) if body is not None else options.clip_body,
        base_width=_length(cells, "base_width"),
        maker=options.maker,
        service=str(service) if service is not None else options.service,
        jurisdiction=str(place) if place is not None else options.jurisdiction,
        extra_clips=extra if isinstance(extra, int) else 0,
        load=get("load"),  # type: ignore[arg-type]  # a force or None, as the column's kind says
        efficiency_basis=options.efficiency_basis,
    )


def _rope(cells: Mapping[str, Cell]) -> Rope:
    get = cells.get
    force = get("minimum_breaking_force")
    certificate = str(get("rope_certificate") or "")
    diameter = _length(cells, "rope_diameter")
    if diameter is None:
        raise InputError("the rope's diameter is not given", field="rope_diameter", instead="Every row needs it.")
    words = {name: str(get(name) or "") for name in _WORDS}
    return Rope(
        diameter,
        words["construction"],
        words["core"],
        words["grade"],
        words["lay"],
        words["outer_wires"],
        words["finish"],
        words["condition"],
        _flag(cells, "rotation_resistant"),
        _flag(cells, "preformed"),
        _length(cells, "measured_diameter"),
        _coating(cells),
        minimum_breaking_force=force,  # type: ignore[arg-type]  # a force or None, as the column's kind says
        certificate=certificate or (_UNCERTIFIED if force is not None else ""),
    )


def _coating(cells: Mapping[str, Cell]) -> Coating | None:
    over, stripped, eye = (
        _length(cells, "coating_diameter"),
        _flag(cells, "coating_stripped"),
        cells.get("eye_stripped"),
    )
    if over is None:
        if stripped is None and eye is None:
            return None
        raise InputError(
            "what is stripped of a coating goes with the diameter over it",
            field="coating_diameter",
            instead="Give the diameter over the coating, or leave coating_stripped and eye_stripped out.",
        )
    if stripped is None:
        raise InputError(
            "a coating comes off where the clips sit, or stays on",
            field="coating_stripped",
            bound="true or false",
            instead="Say which.",
        )
    return Coating(over, stripped, eye is not False)


def _termination(cells: Mapping[str, Cell], kind: str) -> Termination:
    if kind == "thimble eye":
        return _thimble(cells, "")
    if kind == "soft eye":
        return SoftEye(_length(cells, "pin"), _length(cells, "eye_length"))
    if kind == "pulley eye":
        angle = cells.get("included_angle")
        return PulleyEye(_length(cells, "tread_diameter"), angle)  # type: ignore[arg-type]  # an angle or None
    if kind == "linked eyes":
        return LinkedEyes(_thimble(cells, ""), _thimble(cells, "second_"))
    if kind == "lap splice":
        return LapSplice()
    bare = any(cells.get(name) is not None for name in _BARE)
    around = SoftEye(_length(cells, "pin"), _length(cells, "eye_length")) if bare else _thimble(cells, "")
    return PlateEye(around, _length(cells, "parts_apart"))


def _thimble(cells: Mapping[str, Cell], prefix: str) -> ThimbleEye:
    return ThimbleEye(*(_length(cells, prefix + name) for name in _THIMBLE))


def _length(cells: Mapping[str, Cell], name: str) -> Length | None:
    value = cells.get(name)
    return value if isinstance(value, Length) else None


def _flag(cells: Mapping[str, Cell], name: str) -> bool | None:
    value = cells.get(name)
    return value if isinstance(value, bool) else None
