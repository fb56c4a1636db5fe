"""What it costs to import the room, in modules: none of the heavy libraries."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = ("pint", "numpy", "hypothesis", "attr", "attrs", "pluggy", "sympy", "mpmath", "importlib.metadata", "tomllib")


def run(program: str) -> str:
    return subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, timeout=60
    ).stdout


@pytest.fixture(scope="module")
def loaded() -> set[str]:
    return set(run("import sys, turnback.quantities; print(*sys.modules)").split())


@pytest.mark.parametrize("module", HEAVY)
def test_heavy_libraries_stay_out(loaded: set[str], module: str) -> None:
    assert module not in loaded


def test_only_the_floor_below_is_loaded(loaded: set[str]) -> None:
    ours = {name for name in loaded if name.startswith("turnback.")}
    assert {"turnback.errors"} == {name for name in ours if not name.startswith("turnback.quantities")}


def test_reading_and_printing_load_nothing_more() -> None:
    program = """
import sys
import turnback.quantities as q
before = set(sys.modules)
for text, kind in (("1-1/2 in", q.Length), ("65 lbf·ft (88 N·m)", q.Torque), ("26.6 kip", q.Force)):
    str(kind.of(text))
print(*set(sys.modules) - before)
"""
    assert not run(program).split()


def test_everything_public_is_listed() -> None:
    import turnback.quantities as room

    assert sorted(room.__all__) == sorted(set(room.__all__))
    assert all(hasattr(room, name) for name in room.__all__)
