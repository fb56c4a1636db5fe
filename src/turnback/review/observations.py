"""What an inspection observes: each with a stable code, the measured value, the bound, who says so and what to do."""

from __future__ import annotations

from typing import Final, NamedTuple

import attrs

from turnback.errors import InputError
from turnback.model.findings import Finding, Kind
from turnback.model.sources import Citation
from turnback.rules.ropecarefile import discard_rules

__all__ = ["OBSERVATION_CODES", "Observation", "ObservationCode"]


class ObservationCode(NamedTuple):
    """One code of an observation.

    Args:
        code: Stable name, lower case with hyphens.
        kinds: Kinds that it comes in.
        deviates: Whether it is something measured that is not as it should be; otherwise it informs.
        when: When it is made.
    """

    code: str
    kinds: tuple[Kind, ...]
    deviates: bool
    when: str


def _code(code: str, kinds: str, when: str, deviates: bool = True) -> ObservationCode:
    words: dict[str, Kind] = {"fix": "must-fix", "do": "must-do", "confirm": "confirm", "note": "note"}
    return ObservationCode(code, tuple(words[kind] for kind in kinds.split()), deviates, when)


OBSERVATION_CODES: Final = (
    _code("attachment-cut-off", "fix", "the paragraph on mine hoists cuts the rope off at the attachment"),
    _code("base-width-differs", "do", "the clips have another base width than the plan was made with"),
    _code("check-at-intervals", "note", "the joint is looked at again at intervals", deviates=False),
    _code("check-each-shift", "do", "the service asks for a look and a wrench at each shift", deviates=False),
    _code("clip-off-the-base", "fix", "the clip nearest the eye stands away from the base of the eye"),
    _code("clip-over-torqued", "fix", "a clip was left above the torque"),
    _code("clip-past-the-base", "fix", "the clip nearest the eye stands past the base of the eye"),
    _code("clip-reversed", "fix", "a saddle bears on the dead part, or on the wrong rope of a lap splice"),
    _code("clip-size-differs", "fix", "the clips are of another size than planned"),
    _code("clip-under-torqued", "fix", "a clip was left, or found before any load, under the torque"),
    _code("clips-missing", "fix", "there are fewer clips than planned"),
    _code("clips-mixed", "fix", "clips of different sizes, makes or styles stand on one joint"),
    _code("clips-more-than-planned", "confirm", "there are more clips than planned"),
    _code("dead-end-short", "fix", "a dead end stands out by less than it must"),
    _code("first-load-to-come", "do", "the first load was not put on"),
    _code("first-load-too-great", "fix", "the first load was above the working load"),
    _code("first-load-too-small", "do", "the first load was under the load expected in service"),
    _code("not-torqued-again", "do", "no clip was torqued again after the first load"),
    _code("off-plan", "note", "a clip stands at another place than planned"),
    _code("planned-here", "note", "the joint had no plan, and was planned for this inspection", deviates=False),
    _code("readings-disagree", "confirm", "two readings of the same distance differ"),
    _code("rope-corroded", "fix", "there is corrosion, for which no source here prints a limit"),
    _code("slipped", "fix", "the rope has slipped at a witness mark"),
    _code("spacing-off", "fix", "two neighbouring clips break a bound on their distance"),
    _code("thimble-missing", "fix", "a thimble is planned and none lies in the eye"),
    _code("thimble-not-planned", "note", "a thimble lies in an eye that is planned without one"),
    _code("threads-differ", "fix", "the threads are in another condition than the torque belongs to"),
    _code("torque-high-as-found", "confirm", "a clip was found above the torque"),
    _code("torque-low-as-found", "do note", "a clip was found under the torque after a load, which is normal"),
    _code("torque-was-off", "confirm", "a clip was left off the torque, and was put right at a later pass"),
    _code("turn-back-longer", "note", "the turn-back is longer than planned"),
    _code("turn-back-short", "fix", "the turn-back is shorter than the rule set or the plan asks for"),
    _code("within-tolerance", "note", "a value misses its bound and passes by the tolerance that was given"),
)
"""Every code that an inspection makes, by name, but those of the rules of discard, which are the rules' own."""

_KNOWN: Final = {entry.code: entry for entry in OBSERVATION_CODES}


def _entry(code: str) -> ObservationCode | None:
    if code not in _KNOWN and any(rule.code == code for rule in discard_rules()):
        return ObservationCode(code, ("must-fix",), True, "a rule of discard is reached")
    return _KNOWN.get(code)


@attrs.frozen
class Observation:
    """One thing that an inspection observes.

    Args:
        code: One of :data:`OBSERVATION_CODES`, or the code of a rule of discard.
        kind: One of the code's kinds.
        item: What it is about: ``clip 2``, ``clips 1 and 2``, ``turn-back``, ``rope`` ...
        text: What was observed, in one or two plain sentences.
        measured: The measured value, as text; empty where nothing was measured.
        bound: What it should be, as text; empty where nothing bounds it.
        do: What to do.
        citations: Who says so; at least one.
        out_of_service: Whether the joint is taken out of service for it.

    Raises:
        InputError: The code is not known, or the kind is none of its kinds.
    """

    code: str
    kind: Kind
    item: str
    text: str
    measured: str
    bound: str
    do: str
    citations: tuple[Citation, ...]
    out_of_service: bool = False

    def __attrs_post_init__(self) -> None:
        entry = _entry(self.code)
        if entry is None or self.kind not in entry.kinds:
            bound = "one of the codes of review" if entry is None else "one of " + ", ".join(entry.kinds)
            raise InputError(
                "this is no code of an observation, or not of this kind",
                field="observation.code",
                value=f"{self.code}, {self.kind}",
                bound=bound,
            )
        if not self.citations:
            raise InputError("an observation needs a citation", field="observation.citations", value=self.code)

    @property
    def deviates(self) -> bool:
        """Whether something measured is not as it should be; otherwise it informs."""
        entry = _entry(self.code)
        return entry is None or entry.deviates

    @property
    def finding(self) -> Finding:
        """The same as a finding, for whoever shows findings."""
        values = (("item", self.item), ("measured", self.measured), ("bound", self.bound), ("do", self.do))
        text = f"{self.item[:1].upper()}{self.item[1:]}: {self.text} {self.do}".strip()
        return Finding(self.code, self.kind, text, self.citations, tuple(pair for pair in values if pair[1]))

    def __str__(self) -> str:
        return str(self.finding)
