"""Measures the detection power of the conformance kit: ``python -m tests.conformance.power --effort quick``.

Options: ``--effort quick|full`` (full measures quick too), ``--sample N`` (the first of every class, then more, N in
all), ``--seed S``, ``--matrix N`` (examples where every law is asked of every fault), ``--alarms N`` (seeds for each
built-in rule set), ``--kept FILE`` (results so far, one a line, so that a run that was cut goes on), ``--write PAGE``.
"""

from __future__ import annotations

import argparse
import datetime
import json
import os
import platform
import statistics
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from itertools import zip_longest
from pathlib import Path
from typing import Final, TypeVar

import attrs
from tests.companies import CATALOGUE
from tests.conformance.faults.figures import Alarms, Figures, page, told
from tests.conformance.faults.index import FAULTS, KINDS, Fault, fault_named
from tests.conformance.faults.measuring import Measured, hinted, measured

from turnback.conformance.checking import check_subject
from turnback.conformance.effort import QUICK, Effort, effort_named
from turnback.conformance.laws import LAWS
from turnback.conformance.subject import subject_of

__all__ = ["main", "sample"]

PROCESSES: Final = 2
MATRIX_ORACLE: Final = 200
"""Cases of the oracle where every law is asked of every fault [-]."""
CONFIRMED: Final = 2
"""Faults of one law alone that are asked again of every law [-]."""

T = TypeVar("T")
Task = tuple[str, str, int, int, int, tuple[str, ...]]
"""What is measured, of which fault or rule set, examples, oracle cases, seed, laws to ask first."""


def sample(size: int) -> tuple[Fault, ...]:
    """Take the first fault of every class, then the second, until there are so many."""
    by_kind = [[fault for fault in FAULTS if fault.kind == kind] for kind in KINDS]
    turns = [fault for turn in zip_longest(*by_kind) for fault in turn if fault is not None]
    return tuple(turns[:size])


def _done(task: Task) -> tuple[Task, dict[str, object]]:
    what, name, examples, oracle, seed, hints = task
    effort = Effort(what, examples, oracle)
    if what == "alarm":
        report = check_subject(subject_of(name, CATALOGUE), effort, seed)
        said = "" if report.passed else str(report)[:500]
        return task, {"said": said, "seconds": report.seconds}
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
        with ProcessPoolExecutor(PROCESSES) as pool:
            for number, (task, found) in enumerate(pool.map(_done, missing), 1):
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


def measure(
    faults: tuple[Fault, ...], efforts: tuple[Effort, ...], seed: int, matrix: int, alarms: int, runs: Runs
) -> Figures:
    """Measure everything.

    Args:
        faults: The faults.
        efforts: Efforts at which it is said whether a fault is noticed.
        seed: Seed of the draws [-].
        matrix: Examples where every law is asked of every fault [-].
        alarms: Seeds for each built-in rule set [-].
        runs: Runs it, and knows what was run before.

    Returns:
        The figures.
    """
    begun = time.perf_counter()
    asked = _several(runs, [("matrix", fault.id, matrix, MATRIX_ORACLE, seed, ()) for fault in faults], _read)
    hints = {each.id: (*each.others, *each.laws) for each in asked}
    kills = tuple(
        (
            effort.name,
            _several(
                runs,
                [(effort.name, fault.id, effort.examples, effort.oracle, seed, hints[fault.id]) for fault in faults],
                _read,
            ),
        )
        for effort in efforts
    )
    own = {law.id: [each.id for each in asked if each.laws == (law.id,)][:CONFIRMED] for law in LAWS}
    again: list[Task] = [
        ("again", name, QUICK.examples, QUICK.oracle, seed, ()) for names in own.values() for name in names
    ]
    confirmed = _several(runs, again, _read)
    when = datetime.datetime.now(tz=datetime.UTC).date().isoformat()
    machine = f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}, {when}"
    found = _alarms(runs, alarms)
    return Figures(seed, matrix, asked, kills, confirmed, found, machine, time.perf_counter() - begun)


def main(arguments: list[str] | None = None) -> int:
    """Measure, print and write the page.

    Args:
        arguments: Those of the command line.

    Returns:
        1 where a right rule set did not pass, otherwise 0.
    """
    parser = argparse.ArgumentParser(prog="python -m tests.conformance.power", description=__doc__)
    parser.add_argument("--effort", choices=("quick", "full"), default="quick")
    parser.add_argument("--sample", type=int, default=len(FAULTS))
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--matrix", type=int, default=15)
    parser.add_argument("--alarms", type=int, default=0)
    parser.add_argument("--kept", type=Path)
    parser.add_argument("--write", type=Path)
    given = parser.parse_args(arguments)
    efforts = tuple(effort_named(name) for name in ("quick", "full")[: 1 + (given.effort == "full")])
    figures = measure(sample(given.sample), efforts, given.seed, given.matrix, given.alarms, Runs(given.kept))
    print(told(figures))
    if given.write is not None:
        given.write.write_text(page(figures), encoding="utf-8")
    return 1 if figures.alarms is not None and figures.alarms.false else 0


if __name__ == "__main__":
    sys.exit(main())
