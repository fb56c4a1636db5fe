"""One full U-bolt plan on a thimble, derivations unbuilt; the same with pint throughout beside it.

Run by hand: ``pytest benchmarks --benchmark-enable``. The table's bracketed multiples are the ratios within the run. In
CI the functions run once, so that they stay true.
"""

from __future__ import annotations

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

import turnback as tb
from turnback.planning import case

ROPE = tb.Rope("3/4 in", construction="6x19", core="IWRC", grade="EIP", condition="new")
EYE = tb.ThimbleEye(inside_length="4-1/2 in", inside_width="2-3/8 in", groove_offset="1/8 in")


def full_plan() -> tb.Plan:
    """Plan, and look at every number that is not built on demand."""
    plan = tb.plan(
        ROPE,
        EYE,
        style="u-bolt",
        rules="us-ca-8-8497",
        clip_body="forged",
        base_width="2-1/4 in",
        service="guy",
        jurisdiction="US",
    )
    assert plan.usable
    assert (plan.clip_count, plan.clip_size, plan.torque) is not None
    assert tb.Length.of("18 in") == plan.turn_back
    numbers = (plan.spacing, plan.rope_in_eye, plan.termination_breaking_force, plan.efficiency)
    assert not any(isinstance(number, tb.Absent) for number in numbers)
    assert len(plan.clips) == 4
    return plan


@pytest.mark.benchmark(group="one plan")
def test_full_plan(benchmark: BenchmarkFixture) -> None:
    plan = benchmark(full_plan)
    assert tb.Length.of("18 in") == plan.turn_back


@pytest.mark.benchmark(group="one plan")
def test_full_plan_of_a_case_never_seen(benchmark: BenchmarkFixture) -> None:
    def forgotten() -> tb.Plan:
        case._case.cache_clear()
        return full_plan()

    plan = benchmark(forgotten)
    assert tb.Length.of("18 in") == plan.turn_back


@pytest.mark.benchmark(group="one plan")
def test_the_same_numbers_with_pint_throughout(benchmark: BenchmarkFixture) -> None:
    from benchmarks.pint_plan import Quantity, pint_plan

    given = [Quantity(value, "inch") for value in (0.75, 4.5, 2.375, 0.125, 2.25)]
    plan = benchmark(pint_plan, *given)
    ours = full_plan()
    assert ours.clip_count == plan.clip_count
    assert float(ours.rope_in_eye.millimetres) == pytest.approx(Quantity(plan.rope_in_eye).m_as("mm"), abs=1e-6)
    assert float(ours.spacing.millimetres) == pytest.approx(Quantity(plan.spacing).m_as("mm"), abs=1e-6)
    assert ours.termination_breaking_force.newtons == pytest.approx(Quantity(plan.breaking_force).m_as("N"))


@pytest.mark.benchmark(group="parts of a plan built on demand")
@pytest.mark.parametrize("part", ["derivations", "marks", "procedure", "bill", "citations"])
def test_part(benchmark: BenchmarkFixture, part: str) -> None:
    assert benchmark(lambda: getattr(full_plan(), part))
