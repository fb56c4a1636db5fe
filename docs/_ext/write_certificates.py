"""Writes ``docs/certificates/ID.json`` for every installed rule set and basis, and takes away those of others.

Run ``python docs/_ext/write_certificates.py`` from the top of the tree, last of all, when rule files, check values,
laws and library stand as they are to be committed. It takes minutes; ``turnback conform --verify FILE`` checks one.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Final

from turnback.conformance.certifying import certificate
from turnback.conformance.checking import check
from turnback.rules.catalogue import Catalogue

__all__ = ["FOLDER", "write_certificates"]

FOLDER: Final = Path(__file__).parents[1] / "certificates"
"""Where the site looks for them."""


def write_certificates(folder: Path = FOLDER) -> tuple[str, ...]:
    """Examine everything with quick effort and seed 0, and write what came of it.

    Args:
        folder: Where the certificates go to.

    Returns:
        Ids of the rule sets that do not pass; their certificates say so.
    """
    catalogue = Catalogue.installed()
    everything = (*catalogue.rule_sets, *catalogue.bases)
    failed: list[str] = []
    for rules in everything:
        report = check(rules.id, effort="quick", seed=0)
        (folder / f"{rules.id}.json").write_text(certificate(report), encoding="utf-8", newline="\n")
        print(f"{rules.id}: {report.level.name}", flush=True)
        failed += [] if report.passed else [rules.id]
    for path in folder.glob("*.json"):
        if path.stem not in {rules.id for rules in everything}:
            path.unlink()
    return tuple(failed)


if __name__ == "__main__":
    if failing := write_certificates():
        sys.exit(f"do not pass: {', '.join(failing)}")
