"""Steps of a procedure: what a style says of the order of work, and the numbered steps of one plan.

A style (and so a plugin) supplies :class:`StepTemplate` values. Planning chooses those whose conditions hold, fills in
the numbers and numbers them.
"""

from __future__ import annotations

import string
from typing import Final

import attrs

from turnback.errors import InputError
from turnback.model.sources import COMMON_PRACTICE, Citation

__all__ = ["STEP_CONDITIONS", "STEP_VALUES", "Step", "StepTemplate", "common_step"]

STEP_CONDITIONS: Final = frozenset(
    {
        "thimble eye", "soft eye", "pulley eye", "linked eyes", "lap splice", "plate eye", "eye",
        "measured", "unmeasured", "turn-back known", "turn-back unknown",
        "one clip", "two clips", "three or more clips",
        "stripped", "coating on", "rotation-resistant", "lang lay", "torque known", "torque unknown",
        "begin at the dead end", "begin at the eye", "wrong way round", "greased threads", "dry threads",
        "threads not stated", "each shift", "retorque loaded", "retorque unloaded", "retorque state not stated",
        "retorque before first use", "working load known", "working load unknown",
    }
)  # fmt: skip
"""The closed list of conditions that a template may ask for (``when``) or exclude (``unless``).

Exactly one of each group holds for a plan:

- the kind of termination; ``eye`` holds beside every kind but the lap splice;
- ``measured`` or ``unmeasured``: whether the base width of the clip (or length of the body) was given;
- ``turn-back known`` or ``turn-back unknown``: whether the plan has a turn-back (or overlap) at all;
- ``one clip``, ``two clips`` or ``three or more clips``: clips in one row, which is one eye or the whole lap splice;
- ``torque known`` or ``torque unknown``; ``working load known`` or ``working load unknown``;
- ``begin at the dead end`` or ``begin at the eye``; the first where no source says;
- ``dry threads``, ``greased threads`` or ``threads not stated``;
- ``retorque loaded``, ``retorque unloaded`` or ``retorque state not stated``.

The others hold or do not: ``stripped`` and ``coating on`` (one of them for a coated rope, none for a bare one),
``rotation-resistant``, ``lang lay``, ``wrong way round`` (the style has one), ``each shift`` and
``retorque before first use``.
"""

STEP_VALUES: Final = frozenset(
    {
        "count", "total", "clip_size", "rope", "turn_back", "positions", "edges", "base_width", "torque", "threads",
        "dead_end", "seizing", "spacing", "order", "strip", "working_load", "intervals", "rope_diameter", "eye",
    }
)  # fmt: skip
"""The closed list of values that a template may name in braces, each filled in as words that fit into a sentence.

- ``count``: clips on one eye, or on each half of a lap splice; ``total``: clips in the whole joint (both of two linked
  eyes); ``order``: the numbers of the clips in the order of tightening, counted from the dead end: ``1, 2, 3``;
- ``clip_size``, ``rope`` (its designation), ``rope_diameter`` (nominal, under the clip), ``eye`` (kind of termination);
- ``turn_back`` (or overlap), ``base_width``, ``spacing`` (centre to centre): lengths, only where they are known;
- ``positions`` (centres) and ``edges`` (near and far edge) of the clips from the dead end: lists, only where measured;
- ``dead_end``: from the dead end to the near edge of the first clip or of the body, only where it is known;
- ``torque``: in the source's units, or ``the clip maker's torque`` where none is known; ``threads``: their condition in
  the source's words; ``working_load``: only where it is known;
- ``seizing``: number, width and distance of the seizings on each side of a cut, as one phrase;
- ``strip``: the runs to strip, as one phrase, or why their length is not known;
- ``intervals``: when to look again, as a phrase: ``at intervals``, ``at the start of each shift``.
"""


@attrs.frozen
class StepTemplate:
    """One step as a style words it.

    Args:
        code: Stable name of the step, lower case with hyphens.
        text: The sentence, with ``{values}`` from :data:`STEP_VALUES`.
        citation: Who says so.
        when: Conditions that must all hold.
        unless: Conditions of which none may hold.
        hold: Whether nobody goes on before this step has been checked.
        reading: What is to be written down, empty when nothing is.

    Raises:
        InputError: A condition or value is not in the closed lists.
    """

    code: str
    text: str
    citation: Citation
    when: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    hold: bool = False
    reading: str = ""

    def __attrs_post_init__(self) -> None:
        unknown = [name for name in (*self.when, *self.unless) if name not in STEP_CONDITIONS]
        if unknown:
            raise InputError(
                "no such condition of a step",
                field=f"step {self.code}",
                value=", ".join(unknown),
                bound="one of " + ", ".join(sorted(STEP_CONDITIONS)),
            )
        values = [name for _, name, _, _ in string.Formatter().parse(self.text) if name is not None]
        strange = [name for name in values if name not in STEP_VALUES]
        if strange:
            raise InputError(
                "no such value for a step's text",
                field=f"step {self.code}",
                value=", ".join(strange),
                bound="one of " + ", ".join(sorted(STEP_VALUES)),
            )

    @property
    def values(self) -> tuple[str, ...]:
        """The names in braces, in the order of the text."""
        return tuple(name for _, name, _, _ in string.Formatter().parse(self.text) if name)


def common_step(
    code: str,
    about: str,
    text: str,
    *,
    when: tuple[str, ...] = (),
    unless: tuple[str, ...] = (),
    hold: bool = False,
    reading: str = "",
) -> StepTemplate:
    """Write a step that is common practice of the trade, without a source.

    Args:
        code: Stable name of the step, lower case with hyphens.
        about: What the practice is about, shown beside its label.
        text: The sentence, with ``{values}`` from :data:`STEP_VALUES`.
        when: Conditions that must all hold.
        unless: Conditions of which none may hold.
        hold: Whether nobody goes on before this step has been checked.
        reading: What is to be written down, empty when nothing is.

    Returns:
        The template.

    Raises:
        InputError: A condition or value is not in the closed lists.
    """
    return StepTemplate(code, text, Citation(COMMON_PRACTICE, about, "common practice"), when, unless, hold, reading)


@attrs.frozen
class Step:
    """One numbered step of a plan's procedure.

    Args:
        number: From 1 [-].
        code: The template's code.
        text: The sentence with its numbers.
        hold: Whether nobody goes on before it has been checked.
        citations: Who says so.
        reading: What is to be written down, empty when nothing is.
    """

    number: int
    code: str
    text: str
    hold: bool
    citations: tuple[Citation, ...]
    reading: str = ""
