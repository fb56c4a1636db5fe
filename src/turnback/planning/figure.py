"""The drawing of a plan, as a value: the termination to scale, its dimensions, its marks, and what must be said of it.

Nothing of it is loaded before somebody asks for a drawing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from turnback.model.figures import Figure
from turnback.planning._figure_head import head_of, title_of
from turnback.planning._figure_lengths import lengths_of
from turnback.planning._figure_marks import strips_of
from turnback.planning._figure_notes import description, foot_of
from turnback.planning._figure_scene import scene_of
from turnback.planning._figure_sheet import PAGE, sheet_of
from turnback.planning._figure_sizes import ROWS_ABOVE, sizes_of

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["figure_of"]


def figure_of(plan: Plan) -> Figure:
    """Draw a plan.

    The dead end is on the left, the eye on the right, the dead part above the live part. Lengths along the rope are to
    scale; a break line stands where something is left out, and words stand where something is not to scale. Of linked
    eyes it is the first; the second has its own drawing in ``plan.other_eye``.

    Args:
        plan: The plan.

    Returns:
        The figure. What is forbidden or must be fixed stands first in it.
    """
    sheet = sheet_of(lengths_of(plan))
    head, y = head_of(plan)
    scene = scene_of(plan, sheet, y, ROWS_ABOVE)
    sizes, y = sizes_of(plan, sheet, scene)
    strips, y = strips_of(plan, sheet, y + 16)
    foot, y = foot_of(plan, sheet, y + 4)
    return Figure(
        width=PAGE,
        height=float(int(y) + 12),
        title=title_of(plan),
        desc=description(plan, sheet),
        shapes=(*head, *scene.shapes, *sizes, *strips, *foot),
        units_per_millimetre=sheet.unit if sheet.to_scale else None,
    )
