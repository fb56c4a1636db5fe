"""The kinds of eye and splice, as the trade names them.

Every dimension may be left out. What depends on a missing one is then absent from the plan, with the reason.
Lengths may be given as text (``"3-3/4 in"``), as :class:`~turnback.quantities.Length` or as a pint quantity.
"""

from __future__ import annotations

from typing import ClassVar, Final, Literal, TypeAlias, get_args

import attrs

from turnback.errors import InputError
from turnback.quantities import Angle, AngleLike, Length, LengthLike

__all__ = [
    "TERMINATION_KINDS",
    "LapSplice",
    "LinkedEyes",
    "PlateEye",
    "PulleyEye",
    "SoftEye",
    "Termination",
    "TerminationKind",
    "ThimbleEye",
]

TerminationKind = Literal["thimble eye", "soft eye", "pulley eye", "linked eyes", "lap splice", "plate eye"]
TERMINATION_KINDS: Final[tuple[TerminationKind, ...]] = get_args(TerminationKind)


_NUDGE: Final = 1e-12
"""Relative slack of an angle that was typed in degrees and kept in radians [-]."""


def _length(field: str, value: LengthLike | None) -> Length | None:
    return None if value is None else Length.of(value, field)


@attrs.frozen(init=False)
class ThimbleEye:
    """An eye laid round a thimble.

    Args:
        inside_length: From the bearing point of the thimble to its point, inside [length].
        inside_width: Greatest inside width [length].
        groove_offset: From the bearing surface to the bottom of the rope groove [length].

    Raises:
        InputError: A length cannot be read, or the thimble is shorter than it is wide.
    """

    kind: ClassVar[TerminationKind] = "thimble eye"
    inside_length: Length | None
    inside_width: Length | None
    groove_offset: Length | None

    def __init__(
        self,
        inside_length: LengthLike | None = None,
        inside_width: LengthLike | None = None,
        groove_offset: LengthLike | None = None,
    ) -> None:
        length, width = _length("inside_length", inside_length), _length("inside_width", inside_width)
        if length is not None and width is not None and length < width:
            raise InputError(
                "a thimble is at least as long as it is wide",
                field="inside_length",
                value=str(length),
                bound=f"at least the inside width, {width}",
                instead="Measure the inside length from the bearing point to the thimble's point.",
            )
        self.__attrs_init__(length, width, _length("groove_offset", groove_offset))


@attrs.frozen(init=False)
class SoftEye:
    """An eye without thimble or pulley, over a pin.

    Args:
        pin: Diameter of the pin [length].
        length: Inside length of the eye, from the bearing point on the pin to the base [length].

    Raises:
        InputError: A length cannot be read, or the eye is shorter than its pin allows.
    """

    kind: ClassVar[TerminationKind] = "soft eye"
    pin: Length | None
    length: Length | None

    def __init__(self, pin: LengthLike | None = None, length: LengthLike | None = None) -> None:
        pin_, length_ = _length("pin", pin), _length("length", length)
        if pin_ is not None and length_ is not None and length_ <= pin_:
            raise InputError(
                "the eye is shorter than its pin allows",
                field="length",
                value=str(length_),
                bound=f"more than the pin's diameter, {pin_}",
                instead="Measure from the bearing point on the pin to the base of the eye, or take a smaller pin.",
            )
        self.__attrs_init__(pin_, length_)


@attrs.frozen(init=False)
class PulleyEye:
    """An eye laid round a pulley in place of a thimble.

    Args:
        tread_diameter: Diameter at the bottom of the groove, D [length].
        included_angle: Angle between the two parts at the base [angle]; 60 degrees by common practice when not given.

    Raises:
        InputError: A dimension cannot be read, or the angle is outside 0 to 120 degrees.
    """

    kind: ClassVar[TerminationKind] = "pulley eye"
    tread_diameter: Length | None
    included_angle: Angle | None

    def __init__(self, tread_diameter: LengthLike | None = None, included_angle: AngleLike | None = None) -> None:
        angle = None if included_angle is None else Angle.of(included_angle, "included_angle")
        if angle is not None and not 0 < angle.degrees < 120 * (1 - _NUDGE):
            raise InputError(
                "no eye can be made at this angle",
                field="included_angle",
                value=str(angle),
                bound="above 0 and below 120 degrees; common practice is 60 degrees or less",
                instead="Give the angle between the live and the dead part at the base of the eye.",
            )
        self.__attrs_init__(_length("tread_diameter", tread_diameter), angle)


@attrs.frozen
class LinkedEyes:
    """Two ropes joined by two thimble eyes, one through the other: two terminations.

    Args:
        first: The eye of the first rope.
        second: The eye of the second rope.
    """

    kind: ClassVar[TerminationKind] = "linked eyes"
    first: ThimbleEye = attrs.field(factory=ThimbleEye)
    second: ThimbleEye = attrs.field(factory=ThimbleEye)


@attrs.frozen
class LapSplice:
    """Two ropes laid side by side and clipped together; for less critical work."""

    kind: ClassVar[TerminationKind] = "lap splice"


@attrs.frozen(init=False)
class PlateEye:
    """An eye held by one plate clip.

    Args:
        around: What the eye is laid round: a thimble or a pin.
        parts_apart: Distance between the centre lines of the two parts inside the clip [length]; one rope diameter when
            not given. A plate with a bolt between the parts holds them further apart.
    """

    kind: ClassVar[TerminationKind] = "plate eye"
    around: ThimbleEye | SoftEye
    parts_apart: Length | None

    def __init__(self, around: ThimbleEye | SoftEye | None = None, parts_apart: LengthLike | None = None) -> None:
        self.__attrs_init__(around or ThimbleEye(), _length("parts_apart", parts_apart))


Termination: TypeAlias = ThimbleEye | SoftEye | PulleyEye | LinkedEyes | LapSplice | PlateEye
