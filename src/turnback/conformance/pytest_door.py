"""The door for pytest: a plugin's whole test file is two lines."""

from __future__ import annotations

import os
from collections.abc import Callable

from turnback.conformance.checking import check
from turnback.conformance.effort import Effort
from turnback.conformance.level import LevelName, level_named
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet

__all__ = ["conformance_test"]


def conformance_test(
    rules: RuleSet | str | os.PathLike[str],
    *,
    level: LevelName = "lawful",
    effort: Effort | str = "quick",
    seed: int = 0,
    check_values: str | os.PathLike[str] | None = None,
    catalogue: Catalogue | None = None,
) -> Callable[[], None]:
    """Make a test that examines a rule set.

    Write ``test_conforms = conformance_test("my-standard")`` in a test module; any runner that calls functions whose
    names begin with ``test`` will do.

    Args:
        rules: A rule set, the id of an installed one, or the path of a rule file.
        level: The level that it must reach.
        effort: How much is drawn.
        seed: Seed of the draws [-].
        check_values: Path of the check values; the file beside the rule file when not given.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        A function without arguments that raises an assertion with the whole report where the rule set does not pass
        or does not reach the level.

    Raises:
        InputError: There is no such level.
    """
    wanted = level_named(level)

    def test_conformance() -> None:
        report = check(rules, effort=effort, seed=seed, check_values=check_values, at_least=wanted, catalogue=catalogue)
        if not report.passed:
            raise AssertionError(f"{report.level} (wanted: {wanted})\n\n{report}")

    return test_conformance
