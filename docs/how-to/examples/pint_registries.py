"""Two hosts with pint registries of their own: one that redefines nothing, one that redefines the inch.

A quantity goes in from any registry and comes back in the caller's. The number and the name of the unit are read, and
the factors are the library's own, so that a host cannot change what an inch is.
"""

from __future__ import annotations

import pint

import turnback as tb


def main() -> str:
    """Plan the same eye from both hosts."""
    plain: pint.UnitRegistry[float] = pint.UnitRegistry()
    strange: pint.UnitRegistry[float] = pint.UnitRegistry()
    strange.define("inch = 26 * millimeter = in")
    found = []
    for registry in (plain, strange):
        rope = tb.Rope(registry.Quantity(0.75, "inch"), construction="6x19", core="IWRC", grade="EIP")
        width = registry.Quantity(2.25, "inch")
        plan = tb.plan(rope, tb.ThimbleEye(), style="u-bolt", rules="us-ca-8-8497", base_width=width)
        assert not isinstance(plan.turn_back, tb.Absent)
        found.append(plan.turn_back.to_pint(registry, "mm").magnitude)
    return f"turn-back {found[0]:g} mm and {found[1]:g} mm"


if __name__ == "__main__":
    print(main())
