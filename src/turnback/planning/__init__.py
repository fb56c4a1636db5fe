"""From a request to a plan. ``plan`` and ``possible`` are on the face alone: here their names are those of modules."""

from turnback.planning.build import plan_request, service_book
from turnback.planning.derivations import Derivation, Derivations, citations_of, derivations_of
from turnback.planning.plan import Plan
from turnback.planning.possible import Candidate
from turnback.planning.request import MakerFigures, Request
from turnback.planning.tape import TapeLayout, tape_layout, tape_steps

__all__ = [
    "Candidate",
    "Derivation",
    "Derivations",
    "MakerFigures",
    "Plan",
    "Request",
    "TapeLayout",
    "citations_of",
    "derivations_of",
    "plan_request",
    "service_book",
    "tape_layout",
    "tape_steps",
]
