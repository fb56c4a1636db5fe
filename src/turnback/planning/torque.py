"""The torque that every source which prints one shares, and the condition of the threads that goes with it."""

from __future__ import annotations

from typing import TypeAlias

from turnback.errors import Conflict
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.planning.request import Request
from turnback.planning.resolve import Member
from turnback.quantities import Torque

__all__ = ["torque_of"]


def torque_of(request: Request, members: tuple[Member, ...]) -> tuple[Cited[Torque] | Absent, Cited[str] | Absent]:
    """Return the torque of a plan.

    Args:
        request: The request, with the clip maker's figures if there are any.
        members: The rule sets that govern.

    Returns:
        The torque and the condition of the threads, or why there is none.

    Raises:
        Conflict: The sources print different torques.
    """
    maker = request.maker
    if maker is not None and maker.torque is not None:
        return Cited(maker.torque, (maker.citation,), "the clip maker's figure"), Cited(
            maker.threads, (maker.citation,)
        )
    printing = [(m, m.row.torque) for m in members if m.row.torque is not None and not m.verdict.counts_only]
    if not printing:
        only_counts = any(m.row.torque is not None for m in members)
        reason = (
            "the source gives the number of clips alone for this rope" if only_counts else "no source here gives one"
        )
        reason += "; take the clip maker's (maker=MakerFigures(...), --maker-torque)"
        return Absent("torque", reason), Absent("thread_condition", reason)
    shared = next((pair for pair in printing if all(_same(pair, other) for other in printing)), None)
    if shared is None:
        raise _torques_differ(printing)
    torque = Cited(shared[1].value, tuple(citation for _, each in printing for citation in each.citations))
    threads = shared[0].rules.threads
    if threads is None:
        return torque, Absent("thread_condition", "the source does not say; ask the clip maker")
    return torque, threads


_Printing: TypeAlias = tuple[Member, Cited[Torque]]


def _threads(member: Member) -> str:
    return member.rules.threads.value if member.rules.threads is not None else "threads not stated"


def _same(one: _Printing, other: _Printing) -> bool:
    return one[1].value.same_as(other[1].value) and _threads(one[0]) == _threads(other[0])


def _torques_differ(printing: list[_Printing]) -> Conflict:
    one = printing[0]
    other = next((pair for pair in printing if not _same(one, pair)), printing[-1])
    return Conflict(
        "the sources print different torques, and a torque is never mixed or averaged",
        field="torque",
        value=f"{one[1].value}, {_threads(one[0])} ({one[0].rules.id})",
        bound=f"{other[1].value}, {_threads(other[0])} ({other[0].rules.id})",
        citation=f"{one[1].citations[0]} and {other[1].citations[0]}",
        instead="Take one of the rule sets alone, or give the clip maker's torque with maker=MakerFigures(...).",
    )
