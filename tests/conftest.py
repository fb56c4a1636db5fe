"""Profiles of hypothesis for the whole suite.

``ci`` is fixed: the same examples on every machine, so that a red build is red again at home.
``deep`` is for hand runs: ``TURNBACK_HYPOTHESIS_PROFILE=deep pytest tests/properties`` draws thousands of new ones.
"""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

settings.register_profile("ci", derandomize=True, deadline=None, max_examples=100, database=None, print_blob=True)
settings.register_profile(
    "deep", deadline=None, max_examples=4000, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile(os.environ.get("TURNBACK_HYPOTHESIS_PROFILE", "ci"))
