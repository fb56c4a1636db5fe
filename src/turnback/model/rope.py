"""The rope of a termination, as its tag and its certificate describe it."""

from __future__ import annotations

import re
from typing import Final

import attrs

from turnback.errors import InputError
from turnback.model.designation import normal_construction, normal_word, read_designation
from turnback.quantities import SIXTY_FOURTH, Force, ForceLike, Length, LengthLike, MassPerLength, MassPerLengthLike

__all__ = ["Coating", "Rope"]

_GREATEST_MILLIMETRES: Final = 300
_LONGEST_CERTIFICATE: Final = 200
_SEALE: Final = re.compile(r"xK?[0-9]+S$")


# One converter a field, for a converter does not learn the name of its field, and a type checker reads from it
# what the constructor accepts.
def _diameter(value: LengthLike) -> Length:
    return Length.of(value, "rope.diameter")


def _measured(value: LengthLike | None) -> Length | None:
    return None if value is None else Length.of(value, "rope.measured_diameter")


def _finished(value: LengthLike) -> Length:
    return Length.of(value, "coating.finished_diameter")


def _minimum(value: ForceLike | None) -> Force | None:
    return None if value is None else Force.of(value, "rope.minimum_breaking_force")


def _actual(value: ForceLike | None) -> Force | None:
    return None if value is None else Force.of(value, "rope.actual_breaking_force")


def _mass(value: MassPerLengthLike | None) -> MassPerLength | None:
    return None if value is None else MassPerLength.of(value, "rope.mass_per_length")


def _core(value: str) -> str:
    return normal_word("core", value)


def _grade(value: str) -> str:
    return normal_word("grade", value)


def _lay(value: str) -> str:
    return normal_word("lay", value)


def _outer_wires(value: str) -> str:
    return normal_word("outer_wires", value)


def _finish(value: str) -> str:
    return normal_word("finish", value)


def _condition(value: str) -> str:
    return normal_word("condition", value)


def _certificate(value: str) -> str:
    _check_text(value)
    return value.strip()


def _check_text(value: object) -> None:
    if not isinstance(value, str) or len(value) > _LONGEST_CERTIFICATE:
        raise InputError(
            "the name of the certificate is no text, or too long",
            field="rope.certificate",
            value=repr(value)[:80],
            bound=f"text, at most {_LONGEST_CERTIFICATE} characters",
        )


def _check_flag(value: object, field: str, *, optional: bool) -> None:
    if not (isinstance(value, bool) or (optional and value is None)):
        raise InputError(
            "this is neither True nor False",
            field=field,
            value=repr(value)[:80],
            bound="True or False" + (", or None when not given" if optional else ""),
        )


def _check_diameter(value: Length, field: str) -> None:
    if value.millimetres > _GREATEST_MILLIMETRES:
        raise InputError(
            "no rope is that thick",
            field=field,
            value=str(value),
            bound=f"at most {_GREATEST_MILLIMETRES} mm (a limit of this library against slips, no source)",
            instead="Check the unit.",
        )


def _written(length: Length) -> str:
    """Write a length so that it reads back exactly: as a tape fraction where it is one, else in millimetres."""
    return length.text("mm" if length.nanometres % SIXTY_FOURTH.nanometres else "in")


@attrs.frozen
class Coating:
    """The coating of a cable, and where it is taken off.

    Args:
        finished_diameter: Diameter over the coating [length]; greater than the rope's own.
        stripped: True where the coating comes off where the clips sit; False where it stays on.
        eye_stripped: With `stripped`: True where the eye is stripped too, in one run with the clips; False where the
            eye stays coated, which makes two runs.

    Raises:
        InputError: The diameter cannot be read or is out of bounds, or a flag is neither True nor False.
    """

    finished_diameter: Length = attrs.field(converter=_finished)
    stripped: bool
    eye_stripped: bool = True

    def __attrs_post_init__(self) -> None:
        _check_diameter(self.finished_diameter, "coating.finished_diameter")
        _check_flag(self.stripped, "coating.stripped", optional=False)
        _check_flag(self.eye_stripped, "coating.eye_stripped", optional=False)

    def __str__(self) -> str:
        under_clips = "stripped" if self.stripped else "coating left on"
        return f"coated {_written(self.finished_diameter)}, {under_clips}" + (
            "" if self.eye_stripped else ", eye left coated"
        )


@attrs.frozen(cache_hash=True)
class Rope:
    """A wire rope or cable. What is not given is not known: no default stands for a choice.

    Every word comes from a closed list and is kept in one spelling (:data:`turnback.model.designation.VOCABULARY`).
    Table grades (IPS, EIP, EEIP) and grades in N/mm² are different systems and are never turned into one another.

    Args:
        diameter: Nominal diameter of the bare rope [length].
        construction: Strands, wires and pattern: ``"6x19"``, ``"6x36WS"``, ``"7x19"``, ``"6x19 class"``.
        core: ``"FC"`` (fibre), ``"IWRC"`` (independent wire rope) or ``"WSC"`` (wire strand).
        grade: ``"IPS"``, ``"EIP"``, ``"EEIP"``, or ``"1570"``, ``"1770"``, ``"1960"``, ``"2160"`` [N/mm²]. The list of
            the grades in N/mm² is from memory.
        lay: ``"right regular"``, ``"left regular"``, ``"right Lang"`` or ``"left Lang"``.
        outer_wires: ``"large"`` for Seale and the like, ``"ordinary"`` for others.
        finish: ``"bright"``, ``"galvanized"`` or ``"stainless"``.
        condition: ``"new"``, ``"used"`` or ``"worn"``.
        rotation_resistant: Whether it is; None leaves it to the construction
            (:func:`turnback.model.classes.is_rotation_resistant`).
        preformed: Whether it is; None when not given.
        measured_diameter: Diameter as measured, the mean of three [length].
        coating: The coating; None for a bare rope.
        minimum_breaking_force: Minimum breaking force on the certificate [force].
        actual_breaking_force: Actual breaking force on the certificate [force]: recorded, never used upward.
        mass_per_length: Mass per length on the certificate [mass per length].
        certificate: What these three were read in.

    Raises:
        InputError: A value cannot be read, is out of bounds or is not in its closed list; a value of a certificate
            comes without the certificate; an actual breaking force is below the minimum; the coating is not thicker
            than the rope; the outer wires of a Seale construction are called ordinary.
    """

    diameter: Length = attrs.field(converter=_diameter)
    construction: str = attrs.field(default="", converter=normal_construction)
    core: str = attrs.field(default="", converter=_core)
    grade: str = attrs.field(default="", converter=_grade)
    lay: str = attrs.field(default="", converter=_lay)
    outer_wires: str = attrs.field(default="", converter=_outer_wires)
    finish: str = attrs.field(default="", converter=_finish)
    condition: str = attrs.field(default="", converter=_condition)
    rotation_resistant: bool | None = None
    preformed: bool | None = None
    measured_diameter: Length | None = attrs.field(default=None, converter=_measured)
    coating: Coating | None = None
    minimum_breaking_force: Force | None = attrs.field(default=None, converter=_minimum)
    actual_breaking_force: Force | None = attrs.field(default=None, converter=_actual)
    mass_per_length: MassPerLength | None = attrs.field(default=None, converter=_mass)
    certificate: str = attrs.field(default="", converter=_certificate)

    def __attrs_post_init__(self) -> None:
        _check_diameter(self.diameter, "rope.diameter")
        if self.measured_diameter is not None:
            _check_diameter(self.measured_diameter, "rope.measured_diameter")
        _check_flag(self.rotation_resistant, "rope.rotation_resistant", optional=True)
        _check_flag(self.preformed, "rope.preformed", optional=True)
        if self.outer_wires == "ordinary" and _SEALE.search(self.construction):
            raise InputError(
                "a Seale construction has large outer wires",
                field="rope.outer_wires",
                value=f'"ordinary" with {self.construction}',
                instead="Correct the one or the other, or leave the outer wires out.",
            )
        self._check_coating()
        self._check_certificate()

    def _check_coating(self) -> None:
        if self.coating is None:
            return
        if not isinstance(self.coating, Coating):
            raise InputError(
                "this is no coating",
                field="rope.coating",
                value=repr(self.coating)[:80],
                instead='Write Coating("3/16 in", stripped=True) or Coating("3/16 in", stripped=False).',
            )
        if self.coating.finished_diameter <= self.diameter:
            raise InputError(
                "the diameter over the coating is greater than that of the bare rope",
                field="rope.coating.finished_diameter",
                value=str(self.coating.finished_diameter),
                bound=f"greater than {self.diameter}",
                instead="The rope's diameter is the bare one, the coating's the finished one.",
            )

    def _check_certificate(self) -> None:
        minimum, actual = self.minimum_breaking_force, self.actual_breaking_force
        given = [
            name
            for name in ("minimum_breaking_force", "actual_breaking_force", "mass_per_length")
            if getattr(self, name) is not None
        ]
        if given and not self.certificate:
            raise InputError(
                "a value of the certificate needs the certificate",
                field=f"rope.{given[0]}",
                value=str(getattr(self, given[0])),
                instead='Name what it was read in, such as certificate="number and date of the rope\'s certificate".',
            )
        if minimum is not None and actual is not None and actual < minimum:
            raise InputError(
                "the actual breaking force is below the minimum, so this rope failed its test or the two are swapped",
                field="rope.actual_breaking_force",
                value=str(actual),
                bound=f"at least {minimum}",
                instead="Ask the supplier of the rope; do not use it before this is settled.",
            )

    @classmethod
    def parse(cls, text: str) -> Rope:
        """Read a rope from its designation.

        Args:
            text: The diameter with its unit, then any of construction, core, grade, lay, outer wires, finish,
                condition, rotation resistance, preforming and coating, at most 200 characters, such as
                ``"3/4 in 6x19 IWRC EIP"``, ``"13 mm 6x36WS-IWRC 1960 sZ"`` or
                ``"1/8 in 7x19 galvanized coated 3/16 in stripped"``.

        Returns:
            The rope; a measured diameter and what a certificate says are added with ``attrs.evolve``.

        Raises:
            InputError: A word cannot be read, a part is given twice, the text does not begin with a diameter, or the
                parts do not make a rope.
        """
        words = read_designation(text)
        coating = words.get("coating")
        return cls(
            diameter=words["diameter"],
            construction=words.get("construction", ""),
            core=words.get("core", ""),
            grade=words.get("grade", ""),
            lay=words.get("lay", ""),
            outer_wires=words.get("outer_wires", ""),
            finish=words.get("finish", ""),
            condition=words.get("condition", ""),
            rotation_resistant=words.get("rotation_resistant"),
            preformed=words.get("preformed"),
            coating=None if coating is None else Coating(**coating),
        )

    def __str__(self) -> str:
        negation = {True: "", False: "not "}
        parts = [
            _written(self.diameter),
            self.construction,
            self.core,
            self.grade,
            self.lay,
            f"{self.outer_wires} outer wires" if self.outer_wires else "",
            self.finish,
            self.condition,
            "" if self.rotation_resistant is None else f"{negation[self.rotation_resistant]}rotation-resistant",
            "" if self.preformed is None else f"{negation[self.preformed]}preformed",
            "" if self.coating is None else str(self.coating),
        ]
        return " ".join(part for part in parts if part)
