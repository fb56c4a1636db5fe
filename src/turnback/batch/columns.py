"""The columns of an input: their names, their kinds, their units, and how a schema is matched against them.

A quantity may stand in either of two spellings. ``rope_diameter_nm`` holds whole nanometres, and so do all lengths of
that ending (whole floats too, as a frame keeps whole numbers of which some are missing); ``load_newton`` numbers of
newton; ``included_angle_radian`` numbers of radian. Without the ending the column holds text of the library's grammar
(``"3/4 in"``), or numbers whose unit stands in the field's metadata under ``unit``. Everything is checked against the
schema, before the first row.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal

import attrs
import pyarrow as pa

from turnback.batch.near_names import nearest_of
from turnback.batch.options import DEFAULT_BODY, DEFAULT_KIND, BatchOptions
from turnback.errors import InputError
from turnback.quantities import units

__all__ = ["EXAMPLES", "INPUT_COLUMNS", "Bound", "ColumnKind", "InputColumn", "bind"]

ColumnKind = Literal["length", "force", "angle", "number", "whole", "flag", "word"]
Form = Literal["text", "number", "flag", "nothing"]

_ENDINGS: Final[Mapping[str, str]] = MappingProxyType({"length": "_nm", "force": "_newton", "angle": "_radian"})
_OWN_UNITS: Final[Mapping[str, str]] = MappingProxyType({"length": "nm", "force": "N", "angle": "rad"})
_UNITS: Final[Mapping[str, Mapping[str, Fraction]]] = MappingProxyType(
    {
        "length": {"nm": Fraction(1), **{name: Fraction(each) for name, each in units.LENGTH_NANOMETRES.items()}},
        "force": units.FORCE_NEWTONS,
        "angle": units.ANGLE_RADIANS,
    }
)
_UNIT: Final = b"unit"
EXAMPLES: Final[Mapping[str, str]] = MappingProxyType({"length": "mm", "force": "kN", "angle": "deg"})
"""A unit of each kind of quantity, to show how a unit is given."""
_FORMS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "number": "numbers",
        "whole": "whole numbers",
        "flag": "true and false",
        "word": "text",
    }
)


@attrs.frozen
class InputColumn:
    """One column that the batch path knows.

    Args:
        name: Its name without the ending that names a unit.
        kind: What it holds.
        text: What it says, one sentence.
    """

    name: str
    kind: ColumnKind
    text: str

    @property
    def exact_name(self) -> str:
        """Its name with the ending that names its unit; the same name where it has none."""
        return self.name + _ENDINGS.get(self.kind, "")


INPUT_COLUMNS: Final[tuple[InputColumn, ...]] = (
    InputColumn("rope_diameter", "length", "Nominal diameter of the bare rope; the only column that must be there."),
    InputColumn("construction", "word", "Construction of the rope, such as 6x19."),
    InputColumn("core", "word", "FC, IWRC or WSC."),
    InputColumn("grade", "word", "IPS, EIP, EEIP, or a grade in N/mm²."),
    InputColumn("lay", "word", "Lay of the rope."),
    InputColumn("outer_wires", "word", "large or ordinary."),
    InputColumn("finish", "word", "bright, galvanized or stainless."),
    InputColumn("condition", "word", "new, used or worn."),
    InputColumn("rotation_resistant", "flag", "Whether the rope resists rotation."),
    InputColumn("preformed", "flag", "Whether the rope is preformed; no answer here depends on it."),
    InputColumn("measured_diameter", "length", "Diameter of the rope as measured."),
    InputColumn("coating_diameter", "length", "Diameter over the coating."),
    InputColumn("coating_stripped", "flag", "Whether the coating comes off where the clips sit; with a coating."),
    InputColumn("eye_stripped", "flag", "Whether the eye is stripped too; true when not given."),
    InputColumn(
        "minimum_breaking_force",
        "force",
        "Minimum breaking force on the rope's certificate; without one the register itself is cited.",
    ),
    InputColumn("rope_certificate", "word", "What the rope's force was read in."),
    InputColumn("termination", "word", "Kind of termination; that of the options when not given."),
    InputColumn("inside_length", "length", "Of the thimble, inside."),
    InputColumn("inside_width", "length", "Of the thimble, inside."),
    InputColumn("groove_offset", "length", "Of the thimble, from the bearing surface to the bottom of the groove."),
    InputColumn("second_inside_length", "length", "Of the second thimble of linked eyes."),
    InputColumn("second_inside_width", "length", "Of the second thimble of linked eyes."),
    InputColumn("second_groove_offset", "length", "Of the second thimble of linked eyes."),
    InputColumn("pin", "length", "Diameter of the pin of an eye without thimble."),
    InputColumn("eye_length", "length", "Inside length of an eye without thimble."),
    InputColumn("tread_diameter", "length", "Diameter of the pulley at the bottom of its groove."),
    InputColumn("included_angle", "angle", "Between the two parts at the base of a pulley eye; 60 degrees by default."),
    InputColumn("parts_apart", "length", "Between the two parts inside a plate clip."),
    InputColumn("style", "word", "Clip style; a row that names another than the options is not planned."),
    InputColumn("clip_body", "word", "forged, other or not given."),
    InputColumn("clip_size", "length", "Size of the clips; a row whose size is not its rope's own is not planned."),
    InputColumn("base_width", "length", "Length of one saddle along the rope, measured."),
    InputColumn("service", "word", "Id of the service."),
    InputColumn("jurisdiction", "word", "Where the joint is used."),
    InputColumn("extra_clips", "whole", "Clips added on each eye."),
    InputColumn("load", "force", "Load that the joint is to carry."),
    InputColumn("design_factor", "number", "Breaking force over working load; the service's cited factor when null."),
    InputColumn("span", "length", "Between the bearing points of two such ends of one rope."),
)
"""Every column that is read, in the order in which its cells are. Any other column passes through unchanged, among them
``rules``: the rule sets of the options hold for every row."""

_OPTIONS: Final = {"termination": DEFAULT_KIND, "clip_body": DEFAULT_BODY, "service": None, "jurisdiction": None}


@attrs.frozen
class Bound:
    """A known column as one schema holds it.

    Args:
        column: The column.
        index: Where it stands in the schema [-].
        name: Its name in the schema.
        form: Text, numbers, flags, or nothing but nulls.
        factor: From the column's numbers to nanometres, newton or radian, exact [-]; 1 for what has no unit.
        whole: Whether its numbers are whole by type.
        unit: The unit of its numbers, as it was written; empty for text and for what has none.
        counted: Whether its numbers are whole by their name and came as floats: one that is not a number is then no
            value, as frames write a whole number that is missing.
    """

    column: InputColumn
    index: int
    name: str
    form: Form
    factor: Fraction
    whole: bool
    unit: str = ""
    counted: bool = False


def bind(schema: pa.Schema, options: BatchOptions, output_names: Iterable[str]) -> tuple[Bound, ...]:
    """Match a schema against the known columns.

    Args:
        schema: The schema of the input.
        options: What holds for every row.
        output_names: Names that the output adds.

    Returns:
        The known columns that are there, in the order of :data:`INPUT_COLUMNS`.

    Raises:
        InputError: The size is missing, a column is there twice or in both spellings, its type or unit is none that is
            read, it goes against an option, or its name is one of the output's.
    """
    names = list(schema.names)
    for name in output_names:
        if name in names:
            raise InputError(
                "the output adds a column of this name, and the input has one",
                field=name,
                instead="Rename it or leave it out: what a plan answered before is not an input of the next.",
            )
    found = [bound for column in INPUT_COLUMNS if (bound := _bound(schema, names, column)) is not None]
    if not found or found[0].column is not INPUT_COLUMNS[0]:
        size = INPUT_COLUMNS[0]
        near = nearest_of(names, (size.name, size.exact_name))
        raise InputError(
            "the column with the rope's diameter is missing",
            field="rope_diameter",
            value="columns: " + (", ".join(map(str, names[:20])) or "none"),
            instead=(f"Was {near!r} meant? " if near else "")
            + "Name it rope_diameter_nm (whole nanometres), or rope_diameter (text such as '3/4 in', or numbers "
            "with their unit: --unit rope_diameter=mm, or in the field's metadata).",
        )
    for bound in found:
        default = _OPTIONS.get(bound.column.name, bound)
        if default is not bound and getattr(options, bound.column.name) != default:
            raise InputError(
                "this is given for all rows and as a column",
                field=bound.column.name,
                value=f"{getattr(options, bound.column.name)!r}, and a column",
                instead="Give the one or the other.",
            )
    return tuple(found)


def _bound(schema: pa.Schema, names: list[str], column: InputColumn) -> Bound | None:
    spellings = [name for name in dict.fromkeys((column.exact_name, column.name)) if name in names]
    if not spellings:
        return None
    if len(spellings) > 1 or names.count(spellings[0]) > 1:
        raise InputError(
            "one thing stands in two columns",
            field=column.name,
            value=", ".join(spellings if len(spellings) > 1 else spellings * 2),
            instead="Leave one of them out.",
        )
    name = spellings[0]
    index = names.index(name)
    field = schema.field(index)
    given = field.type
    while pa.types.is_dictionary(given):
        given = given.value_type
    if pa.types.is_null(given):
        return Bound(column, index, name, "nothing", Fraction(1), True)
    form = _form(column, name, given)
    whole = pa.types.is_integer(given)
    unit = (field.metadata or {}).get(_UNIT)
    factor = _factor(column, name, form, unit)
    own = "" if form == "text" else _OWN_UNITS.get(column.kind, "")
    counted = form == "number" and _is_counted(column, name) and not whole
    return Bound(column, index, name, form, factor, whole, own if unit is None else unit.decode(), counted)


def _is_counted(column: InputColumn, name: str) -> bool:
    return column.kind == "whole" or (column.kind == "length" and name == column.exact_name)


def _form(column: InputColumn, name: str, given: pa.DataType) -> Form:
    types = pa.types
    text = types.is_string(given) or types.is_large_string(given) or types.is_string_view(given)
    whole = types.is_integer(given)
    number = whole or types.is_floating(given) or types.is_decimal(given)
    if column.kind == "word":
        wanted, form = _FORMS["word"], "text" if text else None
    elif column.kind == "flag":
        wanted, form = _FORMS["flag"], "flag" if types.is_boolean(given) else None
    elif _is_counted(column, name):
        wanted, form = _FORMS["whole"], "number" if whole or types.is_floating(given) else None
    elif column.kind == "number" or name == column.exact_name:
        wanted, form = _FORMS["number"], "number" if number else None
    else:
        wanted = "text with units, or numbers with the unit in the field's metadata"
        form = "text" if text else "number" if number else None
    if form is None:
        hint = ""
        if name != column.name and number:
            hint = f"Name the column {column.name} and put the unit into the field's metadata: {{'unit': 'nm'}}."
        raise InputError(
            "the column is of another type", field=name, value=str(given), bound=wanted, instead=hint or "Cast it."
        )
    return "text" if form == "text" else "flag" if form == "flag" else "number"


def _factor(column: InputColumn, name: str, form: Form, unit: bytes | None) -> Fraction:
    own = _OWN_UNITS.get(column.kind)
    if own is None or (form == "text" and unit is None):
        return Fraction(1)
    if form == "text":
        raise InputError(
            "the column is text, and text carries its own units",
            field=name,
            value=f"unit {unit!r}",
            instead="Leave the unit out (--unit, or the field's metadata), or give numbers.",
        )
    known = _UNITS[column.kind]
    if unit is None:
        if name == column.exact_name:
            return Fraction(1)
        raise InputError(
            "a column of numbers without a unit",
            field=name,
            bound="one of " + ", ".join(known),
            instead=f"Name it: --unit {name}={EXAMPLES[column.kind]} on the command line, "
            f"pa.field(..., metadata={{'unit': '{EXAMPLES[column.kind]}'}}) in Python; or name the column "
            f"{column.exact_name}.",
        )
    text = unit.decode("utf-8", "replace")
    if text not in known or (name == column.exact_name and known[text] != 1):
        raise InputError(
            "the unit of the column is none that is read here",
            field=name,
            value=repr(text)[:80],
            bound="one of " + ", ".join(known) if name == column.name else f"{own}, by the column's name",
            instead="Correct the unit, after --unit or in the field's metadata.",
        )
    return known[text]
