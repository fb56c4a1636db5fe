"""The U-bolt plan of the benchmark done with pint quantities throughout: what a library pays that stores quantities.

It computes the same numbers as the plan (count, turn-back, spacing, positions, eye, breaking force) and none of its
findings. Data: one row of 8 CCR 8497 Table 1 (3/4 in: 4 clips, 18 in, 130 lbf·ft) and the 80 % of common practice.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import pint

ureg: pint.UnitRegistry[float] = pint.UnitRegistry()
Quantity = ureg.Quantity


class PintPlan(NamedTuple):
    """The numbers of the plan, each a quantity."""

    clip_count: int
    turn_back: object
    spacing: object
    edges: list[tuple[object, object, object]]
    rope_in_eye: object
    torque: object
    breaking_force: object


ROWS = {19.05: (4, Quantity(18, "inch"), Quantity(130, "foot * pound_force"))}
STRENGTH = {19.05: Quantity(29.4 * 2000, "pound_force")}


def pint_plan(
    diameter: object, inside_length: object, inside_width: object, groove_offset: object, base_width: object
) -> PintPlan:
    """Plan the eye with quantities in every step.

    Args:
        diameter: Rope diameter [length quantity].
        inside_length: Inside length of the thimble [length quantity].
        inside_width: Inside width of the thimble [length quantity].
        groove_offset: Bearing surface to bottom of the groove [length quantity].
        base_width: Base width of the clip [length quantity].

    Returns:
        The plan's numbers.
    """
    d, length, width, groove, b = (
        Quantity(q) for q in (diameter, inside_length, inside_width, groove_offset, base_width)
    )
    count, turn_back, torque = ROWS[round(d.m_as("mm"), 4)]
    spacing = (turn_back - 2 * b) / (count - 1)
    if spacing < 2 * b:
        turn_back = 2 * b + (count - 1) * 2 * b
        spacing = (turn_back - 2 * b) / (count - 1)
    edges = [(b + i * spacing, b + i * spacing + b / 2, 2 * b + i * spacing) for i in range(count)]
    radius = width / 2 + groove + d / 2
    a = length - width / 2
    q = (a * a + d * d / 4) ** 0.5
    leg = (q * q - radius * radius) ** 0.5
    arc = math.pi - math.atan((d / (2 * a)).m_as("")) - math.acos((radius / q).m_as(""))
    rope_in_eye = 2 * leg + 2 * radius * arc
    breaking = STRENGTH[round(d.m_as("mm"), 4)] * 0.8
    return PintPlan(count, turn_back, spacing, edges, rope_in_eye, torque, breaking)
