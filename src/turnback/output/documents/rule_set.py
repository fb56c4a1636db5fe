"""The document of a rule set: everything that its file says, so that a plan can be made again elsewhere.

The numbers are held to the bounds that a rule file is held to, for a document may come from anybody. The hash of the
rule file goes with it; it is the hash of the file's own bytes and not of this document.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from typing import Final

from turnback.errors import InputError
from turnback.output._annotations import cited, shape_of, with_special
from turnback.output._composite import Object, Optional, closed
from turnback.output._shapes import TEXT, Defs, Lengths, Ratios, Shape, Whole
from turnback.output.json_text import Json, with_head
from turnback.quantities import Length
from turnback.rules.ruleset import (
    Adjustments,
    CountRule,
    EfficiencyBand,
    Floor,
    LargeWires,
    LinearLength,
    Row,
    RuleSet,
)

__all__ = ["KIND", "document", "rule_set_shape", "schema", "value"]

KIND: Final = "rule-set"

_MOST_CLIPS: Final = 99
_MOST_ADDED: Final = 9
_MOST_FACTOR: Final = 1000
_SIZE: Final = Lengths(1, 10**15)
_ORIGIN: Final = {
    "distribution": "Distribution that it was found in. It is told and not read back.",
    "version": "Version of that distribution. It is told and not read back.",
}


@functools.cache
def rule_set_shape() -> Object:
    """Return the shape of a rule set.

    Returns:
        An object with one key for each field, its numbers bounded as those of a rule file.
    """
    clips = Optional(cited(Whole(1, _MOST_CLIPS), "cited_clips"))
    added = Optional(cited(Whole(1, _MOST_ADDED), "cited_clips_added"))
    factor, share = Ratios(0, _MOST_FACTOR), Ratios(0, 1)
    parts: dict[object, Shape] = {
        Length: _SIZE,
        LinearLength: with_special(
            LinearLength, {}, {"diameters": factor, "base_widths": factor, "constant": Lengths(0, 10**15)}
        ),
    }
    parts[Row] = with_special(Row, parts, dict.fromkeys(("count", "count_forged", "count_other"), clips))
    parts[CountRule] = with_special(CountRule, parts, {"per_inch": Ratios(0, _MOST_CLIPS), "plus": Whole(0, 99)})
    parts[LargeWires] = with_special(LargeWires, parts, {"add": Whole(1, _MOST_ADDED)})
    parts[Adjustments] = with_special(Adjustments, parts, {"pulley": added, "lap_factor": added})
    parts[Floor] = with_special(Floor, parts, {"count": Whole(1, _MOST_CLIPS)})
    parts[EfficiencyBand] = with_special(EfficiencyBand, parts, {"value": share})
    return with_special(RuleSet, parts, {"efficiency_at_most": Optional(cited(share, "cited_share"))})


def document(rules: RuleSet) -> dict[str, Json]:
    """Write a rule set.

    Args:
        rules: The rule set.

    Returns:
        The document.
    """
    return with_head(KIND, rule_set_shape().write(rules))


def value(found: Mapping[str, Json], path: str = "") -> RuleSet:
    """Read a rule set.

    Args:
        found: The document, without its head.
        path: Where it stands; empty for a document of its own.

    Returns:
        The rule set.

    Raises:
        InputError: A key is unknown or missing, a value cannot be read or is out of bounds.
    """
    shape = rule_set_shape()
    given = closed(dict(found), path, [*_ORIGIN, *(field.key for field in shape.fields)])
    for key in _ORIGIN:
        Optional(TEXT).read(given.get(key), key)
    made = shape.made(given, path)
    if isinstance(made, RuleSet):
        return made
    raise InputError("this is no rule set", field=path)


def schema(defs: Defs) -> dict[str, Json]:
    """Describe the document.

    Args:
        defs: Where the schemas of objects are put.

    Returns:
        Its schema, without its head.
    """
    own = rule_set_shape().own_schema(defs)
    words = shape_of(str | None).schema(defs)
    own["properties"] = {
        **(own["properties"] if isinstance(own["properties"], dict) else {}),
        **{key: {**words, "description": about} for key, about in _ORIGIN.items()},
    }
    return own
