"""Measures the detection power of the conformance kit: ``python -m tests.conformance.power --effort quick``.

- ``--effort quick|full``: full measures quick too;
- ``--sample N``: N faults, the first of every class, then the second; ``--seed S``: of all draws;
- ``--matrix N``: examples where every law is asked of a fault; ``--each-of N``: of how many faults, by turns of the
  classes, and of those that a law is meant to notice alone;
- ``--again N``: so many faults of each law alone are put to every law again at quick effort;
- ``--alarms N``: seeds for each built-in rule set, each examined whole at quick effort;
- ``--kept FILE``: results so far, one a line, so that a run that was cut goes on; stale once a fault or law changes;
- ``--write PAGE``: writes the page of the figures.
"""

from __future__ import annotations

import argparse
import datetime
import json
import multiprocessing
import os
import platform
import resource
import statistics
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from itertools import zip_longest
from pathlib import Path
from typing import Final, TypeVar

import attrs
from tests.companies import CATALOGUE
from tests.conformance.faults.figures import Alarms, Figures, page, told
from tests.conformance.faults.index import FAULTS, KINDS, OWN, Fault, fault_named
from tests.conformance.faults.measuring import CHECK_VALUES, Measured, hinted, measured

from turnback.conformance.checking import check_subject
from turnback.conformance.effort import QUICK, Effort, effort_named
from turnback.conformance.laws import LAWS
from turnback.conformance.subject import subject_of

__all__ = ["Amounts", "Runs", "main", "measure", "sample"]

PROCESSES: Final = 2
MATRIX_ORACLE: Final = 200
"""Cases of the oracle where every law is asked of every fault [-]."""

WARM: Final = "us-ca-8-8497"
"""Any rule set that is right."""
MEMORY: Final = 2 << 30
"""Most that one examination may take [bytes]."""
LIKELY: Final = 6
"""Laws that noticed others of a class and are asked first of a fault that was not put to every law [-]."""

T = TypeVar("T")
Task = tuple[str, str, int, int, int, tuple[str, ...]]
"""What is measured, of which fault or rule set, examples, oracle cases, seed, laws to ask first."""


def sample(size: int) -> tuple[Fault, ...]:
    """Take the first fault of every class, then the second, until there are so many."""
    by_kind = [[fault for fault in FAULTS if fault.kind == kind] for kind in KINDS]
    turns = [fault for turn in zip_longest(*by_kind) for fault in turn if fault is not None]
    return tuple(turns[:size])


def _done(task: Task) -> tuple[Task, dict[str, object]]:
    # A fault may ask for more memory than there is; it is to fail alone.
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    what, name, examples, oracle, seed, hints = task
    effort = Effort(what, examples, oracle)
    if what == "alarm":
        begun = time.process_time()
        report = check_subject(subject_of(name, CATALOGUE), effort, seed)
        said = "" if report.passed else str(report)[:500]
        return task, {"said": said, "seconds": time.process_time() - begun}
    fault = fault_named(name)
    found = hinted(fault, effort, seed, hints) if hints else measured(fault, effort, seed)
    return task, attrs.asdict(found)


@attrs.define
class Runs:
    """Runs tasks in two processes and keeps what came of them.

    Args:
        file: Where it is kept; None for nowhere.
        held: What was kept before, by task.
    """

    file: Path | None
    held: dict[str, dict[str, object]] = attrs.field(factory=dict)

    def __attrs_post_init__(self) -> None:
        if self.file is not None and self.file.is_file():
            for line in self.file.read_text().splitlines():
                key, found = json.loads(line)
                self.held[key] = found

    def run(self, tasks: Iterable[Task]) -> Iterator[dict[str, object]]:
        wanted = tuple(tasks)
        missing = [task for task in wanted if _key(task) not in self.held]
        if missing:
            # What is looked up once in a process is looked up here, and not in each of those that are forked off.
            check_subject(subject_of(WARM, CATALOGUE), Effort("warm", 1, 1))
        # Each in a process of its own, for some faults change what lies around them in ways that nobody can put back.
        with multiprocessing.get_context("fork").Pool(PROCESSES, maxtasksperchild=1) as pool:
            for number, (task, found) in enumerate(pool.imap_unordered(_done, missing), 1):
                self.held[_key(task)] = found
                if self.file is not None:
                    with self.file.open("a") as file:
                        file.write(json.dumps([_key(task), found]) + "\n")
                print(f"\r{task[0]}: {number} of {len(missing)}", end="", file=sys.stderr, flush=True)
        if missing:
            print(file=sys.stderr)
        return iter([self.held[_key(task)] for task in wanted])


def _key(task: Task) -> str:
    return "|".join(map(str, task[:5]))


def _read(found: dict[str, object]) -> Measured:
    def words(name: str) -> tuple[str, ...]:
        value = found[name]
        assert isinstance(value, list | tuple)
        return tuple(map(str, value))

    return Measured(str(found["id"]), str(found["door"]), words("laws"), words("blocked"), words("others"))


def _several(runs: Runs, tasks: Iterable[Task], read: Callable[[dict[str, object]], T]) -> tuple[T, ...]:
    return tuple(read(found) for found in runs.run(tasks))


def _alarms(runs: Runs, seeds: int) -> Alarms | None:
    if not seeds:
        return None
    names = [rules.id for rules in (*CATALOGUE.rule_sets, *CATALOGUE.core_bases)]
    tasks: list[Task] = [
        ("alarm", name, QUICK.examples, QUICK.oracle, seed, ()) for seed in range(seeds) for name in names
    ]
    found = list(runs.run(tasks))
    false = tuple(f"{task[1]}, seed {task[4]}: {each['said']}" for task, each in zip(tasks, found, strict=True)
                  if each["said"])  # fmt: skip
    times = [float(str(each["seconds"])) for each in found]
    return Alarms(len(names), seeds, false, (statistics.median(times), max(times)))


def _hints(faults: tuple[Fault, ...], asked: tuple[Measured, ...]) -> dict[str, tuple[str, ...]]:
    """What is likely to notice each fault: what noticed it, then what noticed others of its class, the usual first."""
    own = {each.id: each.laws for each in asked}
    usual: dict[str, Counter[str]] = {kind: Counter() for kind in KINDS}
    for each in asked:
        usual[fault_named(each.id).kind].update((*each.laws, *each.others))
    found = {}
    for fault in faults:
        others = [name for name, _ in usual[fault.kind].most_common(LIKELY)]
        found[fault.id] = tuple(dict.fromkeys((CHECK_VALUES, *own.get(fault.id, ()), *others)))
    return found


PROVED: Final = frozenset(law.id for law in LAWS if law.proof is not None)


def _drew_nothing(found: Measured) -> bool:
    """Whether a fault was noticed without any draw, so that another effort comes to the same."""
    return bool(found.door) or CHECK_VALUES in found.others or bool(PROVED & set(found.laws))


def _first(before: Measured | None, hints: tuple[str, ...]) -> tuple[str, ...]:
    return hints if before is None else tuple(dict.fromkeys((*before.laws, *before.others, *hints)))


def _again(asked: tuple[Measured, ...], law: str, number: int) -> list[str]:
    """Faults that a law noticed alone, or that it should and the few examples missed."""
    found = [each.id for each in asked if each.laws == (law,) and not each.blocked]
    found += [each.id for each in asked if each.laws == (law,) and each.blocked]
    return found[:number] or [each.id for each in asked if number and each.id == OWN.get(law)]


@attrs.frozen
class Amounts:
    """How much is measured beside whether a fault is noticed.

    Args:
        matrix: Examples where every law is asked of a fault [-].
        each_of: Of how many faults every law is asked, beside those that a law is meant to notice alone [-].
        again: Faults of each law alone that every law is asked of again, at quick effort [-].
        alarms: Seeds for each built-in rule set [-].
    """

    matrix: int
    each_of: int
    again: int = 0
    alarms: int = 0


def measure(faults: tuple[Fault, ...], efforts: tuple[Effort, ...], seed: int, amounts: Amounts, runs: Runs) -> Figures:
    """Measure everything.

    Args:
        faults: The faults.
        efforts: Efforts at which it is said whether a fault is noticed.
        seed: Seed of the draws [-].
        amounts: How much is measured.
        runs: Runs it, and knows what was run before.

    Returns:
        The figures.
    """
    begun = time.perf_counter()
    matrix = amounts.matrix
    chosen = dict.fromkeys((*faults[: amounts.each_of], *(fault for fault in faults if fault.id in OWN.values())))
    asked = _several(runs, [("matrix", fault.id, matrix, MATRIX_ORACLE, seed, ()) for fault in chosen], _read)
    hints = _hints(faults, asked)
    kills: list[tuple[str, tuple[Measured, ...]]] = []
    for effort in efforts:
        before = {each.id: each for each in kills[-1][1]} if kills else {}
        certain = {name: each for name, each in before.items() if _drew_nothing(each)}
        tasks = [
            (effort.name, fault.id, effort.examples, effort.oracle, seed, _first(before.get(fault.id), hints[fault.id]))
            for fault in faults
            if fault.id not in certain
        ]
        found = {each.id: each for each in _several(runs, tasks, _read)}
        kills.append((effort.name, tuple({**certain, **found}[fault.id] for fault in faults)))
    names = [name for law in LAWS for name in _again(asked, law.id, amounts.again)]
    repeated: list[Task] = [("again", name, QUICK.examples, QUICK.oracle, seed, ()) for name in dict.fromkeys(names)]
    confirmed = _several(runs, repeated, _read)
    when = datetime.datetime.now(tz=datetime.UTC).date().isoformat()
    machine = f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}, {when}"
    alarms = _alarms(runs, amounts.alarms)
    return Figures(seed, matrix, asked, tuple(kills), confirmed, alarms, machine, time.perf_counter() - begun)


def main(arguments: list[str] | None = None) -> int:
    """Measure, print and write the page.

    Args:
        arguments: Those of the command line.

    Returns:
        1 where a right rule set did not pass, or a law has no fault of its own and says nothing of it, or has one and
        says that it has none; otherwise 0.
    """
    parser = argparse.ArgumentParser(prog="python -m tests.conformance.power", description=__doc__)
    parser.add_argument("--effort", choices=("quick", "full"), default="quick")
    parser.add_argument("--sample", type=int, default=len(FAULTS))
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--matrix", type=int, default=15)
    parser.add_argument("--each-of", type=int, default=len(FAULTS))
    parser.add_argument("--again", type=int, default=0)
    parser.add_argument("--alarms", type=int, default=0)
    parser.add_argument("--kept", type=Path)
    parser.add_argument("--write", type=Path)
    given = parser.parse_args(arguments)
    efforts = tuple(effort_named(name) for name in ("quick", "full")[: 1 + (given.effort == "full")])
    amounts = Amounts(given.matrix, given.each_of, given.again, given.alarms)
    figures = measure(sample(given.sample), efforts, given.seed, amounts, Runs(given.kept))
    print(told(figures))
    wrong = bool(figures.idle or figures.busy or (figures.alarms is not None and figures.alarms.false))
    if given.write is not None:
        given.write.write_text(page(figures), encoding="utf-8")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
