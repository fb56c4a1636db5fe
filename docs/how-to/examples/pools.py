"""Plans in a pool of processes and in a pool of threads: values pickle, and nothing is shared that could be changed."""

from __future__ import annotations

from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context

import turnback as tb

SIZES = ("1/2 in", "5/8 in", "3/4 in", "7/8 in", "1 in")


def plan(size: str) -> tb.Plan:
    """Plan one eye."""
    return tb.plan(f"{size} 6x25F IWRC EIP", tb.ThimbleEye(), style="u-bolt", rules="us-ca-8-8497", service="guy")


def main() -> str:
    """Plan every size in both pools and here, and compare."""
    here = [plan(size) for size in SIZES]
    pools: tuple[Executor, ...] = (ThreadPoolExecutor(4), ProcessPoolExecutor(2, mp_context=get_context("spawn")))
    for pool in pools:
        with pool:
            assert here == list(pool.map(plan, SIZES))
    return " ".join(str(made.clip_count) for made in here)


if __name__ == "__main__":
    print(main())
