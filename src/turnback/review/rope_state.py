"""The state of the rope itself, as far as somebody looked."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal, get_args

import attrs

from turnback.errors import InputError
from turnback.quantities import Length, LengthLike
from turnback.review.readings import flag, known_word, length, share, whole
from turnback.rules.ropecare import DiscardMeasure

__all__ = ["DAMAGES", "Damage", "RopeState", "RopeUse"]

RopeUse = Literal["running", "standing"]
"""Whether the rope runs over a drum or a pulley in service, or stands."""
Damage = Literal["kink", "crushing", "bird-cage", "heat"]
DAMAGES: Final[tuple[Damage, ...]] = get_args(Damage)

_USES: Final[dict[str, RopeUse]] = {"running": "running", "standing": "standing"}
_SEEN: Final[dict[str, Damage]] = {damage: damage for damage in DAMAGES}
_MOST_WIRES: Final = 10_000


@attrs.frozen(init=False)
class RopeState:
    """What was seen and measured on the rope. Everything may be left out; what is left out is still to be looked at.

    Args:
        use: ``running`` or ``standing``.
        diameter: Diameter as measured, bare [length].
        broken_wires_in_lay: Broken wires in the worst length of one lay, beyond the end connection [-].
        broken_wires_in_strand: Broken wires in one strand in one lay, the worst [-].
        broken_wires_at_end: Broken wires at the end connection, which is the clips and the eye [-].
        share_broken: Share of all wires of the rope that are visibly broken in 8 diameters, such as ``"5 %"`` [-].
        wear: Share of the outer wires' diameter that is worn away, such as ``"1/4"`` [-].
        damage: ``kink``, ``crushing``, ``bird-cage``, ``heat``; an empty list where somebody looked and saw none.
        corrosion: Whether there is corrosion.

    Raises:
        InputError: A value cannot be read, or there are more broken wires in one strand than in the lay.
    """

    use: RopeUse | None
    diameter: Length | None
    broken_wires_in_lay: int | None
    broken_wires_in_strand: int | None
    broken_wires_at_end: int | None
    share_broken: Fraction | None
    wear: Fraction | None
    damage: tuple[Damage, ...] | None
    corrosion: bool | None

    def __init__(
        self,
        use: str | None = None,
        diameter: LengthLike | None = None,
        broken_wires_in_lay: int | None = None,
        broken_wires_in_strand: int | None = None,
        broken_wires_at_end: int | None = None,
        share_broken: str | Fraction | None = None,
        wear: str | Fraction | None = None,
        damage: list[str] | tuple[str, ...] | None = None,
        corrosion: bool | None = None,
    ) -> None:
        self.__attrs_init__(
            known_word(use, "rope.use", _USES),
            length(diameter, "rope.diameter"),
            whole(broken_wires_in_lay, "rope.broken_wires_in_lay", _MOST_WIRES),
            whole(broken_wires_in_strand, "rope.broken_wires_in_strand", _MOST_WIRES),
            whole(broken_wires_at_end, "rope.broken_wires_at_end", _MOST_WIRES),
            share(share_broken, "rope.share_broken"),
            share(wear, "rope.wear"),
            _damage(damage),
            flag(corrosion, "rope.corrosion"),
        )

    def __attrs_post_init__(self) -> None:
        lay, strand = self.broken_wires_in_lay, self.broken_wires_in_strand
        if lay is not None and strand is not None and strand > lay:
            raise InputError(
                "one strand has no more broken wires than all of them together",
                field="rope.broken_wires_in_strand",
                value=str(strand),
                bound=f"at most {lay}, the broken wires in the lay",
                instead="Count both in the same length of one lay.",
            )

    def measured(self, measure: DiscardMeasure) -> Fraction | int | None:
        """Return the reading that a rule of discard asks for.

        Args:
            measure: What the rule counts or measures.

        Returns:
            Number of wires, or a share [-]; None where it was not read, and for the loss of diameter, which goes by
            size, and damage, which is seen.
        """
        readings: dict[str, Fraction | int | None] = {
            "broken wires in one lay": self.broken_wires_in_lay,
            "broken wires in one strand in one lay": self.broken_wires_in_strand,
            "broken wires at an end connection": self.broken_wires_at_end,
            "share of all wires broken in 8 diameters": self.share_broken,
            "share of the outer wires' diameter worn away": self.wear,
        }
        return readings.get(measure)


def _damage(seen: object) -> tuple[Damage, ...] | None:
    if seen is None:
        return None
    if not isinstance(seen, (list, tuple)) or len(seen) > len(DAMAGES):
        raise InputError(
            "damage is a list of words",
            field="rope.damage",
            value=repr(seen)[:80],
            bound="any of " + ", ".join(DAMAGES),
            instead="Write an empty list where somebody looked and saw none.",
        )
    read = (known_word("" if word is None else word, f"rope.damage[{i}]", _SEEN) for i, word in enumerate(seen))
    found = {word for word in read if word is not None}
    return tuple(damage for damage in DAMAGES if damage in found)
