"""What the type checker must refuse and must accept: one run over one file, and each line is looked up.

That quantities of pint fit the signatures is checked where they are used, in ``test_pint_door.py``.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from mypy import api

HEAD = """\
from fractions import Fraction
import turnback.quantities as q
length, torque, force = q.Length(5), q.Torque(65, "lbf·ft"), q.Force(5.0)
mass, rope, angle = q.Mass(5.0), q.MassPerLength(5.0), q.Angle(1.0)
def needs_length(value: q.Length) -> None: ...
def needs_force(value: q.Force) -> None: ...
"""

WRONG = [
    "length + torque",
    "length - force",
    "length + 5",
    "5 + length",
    "length + '5 mm'",
    "length * 2.0",
    "2.0 * length",
    "length * Fraction(1, 2)",
    "length * length",
    "length / 2",
    "length / torque",
    "length < torque",
    "length < 5",
    "length >= force",
    "length.nanometres = 6",
    "length.inch",
    "length.inches + length",
    "length.text('cm')",
    "length.times(0.8, 'up')",
    "length.times(Fraction(4, 5), 'even')",
    "length.times(Fraction(4, 5))",
    "length.tape('1/16 in', 'up')",
    "length.tape(torque, 'up')",
    "q.Length(5.0)",
    "q.Length('5 mm')",
    "q.Length.of(5)",
    "q.Length.of(0.75)",
    "q.Length.of(torque)",
    "q.Length.of(None)",
    "q.Length.up(0.5)",
    "q.Length.nearest('5')",
    "needs_length(torque)",
    "needs_length(force)",
    "needs_length('5 mm')",
    "needs_length(5)",
    "needs_length(length / length)",
    "q.Torque(65.0, 'lbf·ft')",
    "q.Torque(65, 'lbf·ft', 88)",
    "q.Torque(65, 'lbf·ft', (88.0, 'N·m'))",
    "q.Torque.of(length)",
    "torque + torque",
    "torque < torque",
    "torque.value = Fraction(66)",
    "torque.same_as('88 N·m')",
    "force + mass",
    "force < mass",
    "force + 5.0",
    "force * force",
    "force / mass",
    "1.0 / force",
    "force.newtons = 6.0",
    "force.text('N')",
    "q.Force('5 kN')",
    "q.Force.of(5.0)",
    "q.Force.of(mass)",
    "needs_force(mass)",
    "needs_force(force / force)",
    "mass + rope",
    "rope.of_length(5)",
    "angle + length",
    "q.Angle.of(60)",
    "class Longer(q.Length): ...",
    "class Stronger(q.Force): ...",
]

RIGHT = [
    "needs_length(length + length - length)",
    "needs_length(3 * length)",
    "needs_length(sum([length, length], q.Length(0)))",
    "needs_length(q.Length.of('1-1/2 in'))",
    "needs_length(max(length, length))",
    "needs_length(length.times(Fraction(4, 5), 'up').tape(q.SIXTEENTH, 'up'))",
    "ratio: Fraction = length / length",
    "share: float = force / force",
    "needs_force(force * 0.8 + force / 2 - 2 * force * Fraction(4, 5))",
    "weight: q.Mass = rope.of_length(length)",
    "likes: list[q.LengthLike] = [length, '5 mm']",
]


@pytest.fixture(scope="module")
def reported(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """Run the type checker once and collect the lines with an error."""
    folder: Path = tmp_path_factory.mktemp("typing")
    lines = [*HEAD.splitlines(), *WRONG, *RIGHT]
    snippets = folder / "snippets.py"
    snippets.write_text("\n".join(lines) + "\n", encoding="utf-8")
    out, err, _ = api.run(["--strict", "--config-file=", f"--cache-dir={folder}", "--no-error-summary", str(snippets)])
    assert not err
    errors = [line.split(":") for line in out.splitlines() if ": error:" in line]
    assert errors
    return {lines[int(error[1]) - 1] for error in errors}


@pytest.mark.parametrize("line", WRONG)
def test_wrong_lines_are_reported(reported: set[str], line: str) -> None:
    assert line in reported


@pytest.mark.parametrize("line", [*HEAD.splitlines(), *RIGHT])
def test_right_lines_are_not(reported: set[str], line: str) -> None:
    assert line not in reported
