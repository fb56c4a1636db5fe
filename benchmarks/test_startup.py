"""Start-up beside a bare interpreter: import, catalogue and rule files ready, first plan. Whole processes are timed."""

from __future__ import annotations

import subprocess
import sys

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

READY = "import turnback; turnback.Catalogue.installed()"
FIRST = (
    'import turnback as tb; tb.plan("3/4 in 6x19 IWRC EIP", tb.ThimbleEye(), style="u-bolt", rules="us-ca-8-8497", '
    'clip_body="forged", base_width="2-1/4 in")'
)


@pytest.mark.benchmark(group="start-up, whole process")
@pytest.mark.parametrize(
    "code",
    ["pass", "import turnback", READY, FIRST],
    ids=["bare interpreter", "import turnback", "catalogue ready", "first plan made"],
)
def test_startup(benchmark: BenchmarkFixture, code: str) -> None:
    done = benchmark(subprocess.run, [sys.executable, "-c", code], check=True)
    assert done.returncode == 0
