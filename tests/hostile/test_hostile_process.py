"""All ways installed at once in a fresh process, which writes JSON to its standard output and nothing else."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import pytest
from tests.hostile.plans import PLANS, all_but_what_is_said, written
from tests.hostile.test_hostile import TAKEN
from tests.hostile.ways import HOSTILE_WAYS, VERSION, Way, install

from turnback.rules.catalogue import Catalogue

ROOT = Path(__file__).parents[2]

ASK = """
import json
from tests.hostile.plans import written
from turnback.rules.catalogue import Catalogue
catalogue = Catalogue.installed()
listed = lambda found: [[e.origin.distribution, e.origin.version, e.origin.entry_point, e.reason] for e in found]
print(json.dumps({
    "failures": listed(catalogue.failures), "slips": listed(catalogue.slips), "plans": list(written(catalogue).values())
}))
"""


class Told(NamedTuple):
    """What the process says: failures and slips as distribution, version, entry point and reason, and the plans."""

    failures: list[list[str]]
    slips: list[list[str]]
    plans: list[str]


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """What the process says."""
    site = tmp_path_factory.mktemp("site")
    for way in HOSTILE_WAYS:
        install(site, way)
    places = os.pathsep.join([str(site), str(ROOT)])
    done = subprocess.run(
        [sys.executable, "-c", ASK],
        capture_output=True, text=True, check=True, timeout=120, cwd=site,
        env={**os.environ, "PYTHONPATH": places, "PYTHONDONTWRITEBYTECODE": "1"},
    )  # fmt: skip
    assert "a warning from a plugin\n" in done.stderr
    found = json.loads(done.stdout)
    return Told(found["failures"], found["slips"], found["plans"])


@pytest.mark.parametrize("way", [way for way in HOSTILE_WAYS if way.fate == "refused"], ids=lambda way: way.name)
def test_each_is_refused_with_its_reason(told: Told, way: Way) -> None:
    distribution, version = ("unknown distribution", "?") if way.name == "no-metadata" else (way.distribution, VERSION)
    reasons = [reason for name, known, _, reason in told.failures if (name, known) == (distribution, version)]
    assert any(way.says in reason for reason in reasons)


@pytest.mark.parametrize("way", [way for way in HOSTILE_WAYS if way.fate == "put right"], ids=lambda way: way.name)
def test_each_slip_is_told(told: Told, way: Way) -> None:
    reasons = [reason for name, known, _, reason in told.slips if (name, known) == (way.distribution, VERSION)]
    assert any(way.says in reason for reason in reasons)


def test_the_plans_are_the_same_to_the_bit(told: Told) -> None:
    clean = written(Catalogue.installed())
    for place, text in enumerate(told.plans):
        if {*TAKEN.values()} & {*PLANS[place][1:3]}:
            assert text.startswith("PluginError: ")
        else:
            assert all_but_what_is_said(clean[place]) == all_but_what_is_said(text)
