"""How far a rule set is proved: its mutants, counted while the page is built, and the level of its certificate."""

from __future__ import annotations

from docutils import nodes

from turnback.conformance.data_proof import data_proof
from turnback.rules.ruleset import RuleSet
from turnback.sphinxext.certificates import Certificate
from turnback.sphinxext.nodes import Cell, code, paragraph, table
from turnback.sphinxext.subjects import subject

__all__ = ["proof_nodes"]


def proof_nodes(rules: RuleSet, certificate: Certificate | None) -> list[nodes.Node]:
    """Build the section.

    Args:
        rules: The rule set.
        certificate: Its certificate; None where there is none.

    Returns:
        Nodes in reading order.
    """
    data = data_proof(subject(rules))
    mutants: list[tuple[str, Cell]] = [
        ("mutants of its data, counted when this page was built", str(data.total)),
        ("noticed by the check values", str(data.killed) if data.has_values else "there are no check values"),
        ("refused by the types", str(data.refused)),
        ("noticed by nobody", str(len(data.survivors)) if data.has_values else f"all {data.total - data.refused}"),
    ]
    lead = (
        "Every number and word of the rule file is damaged in turn, and a second typing of the source is asked each "
        "time whether it notices. The level says how far a run of the conformance kit got: loads, lawful, sourced, "
        "proved, each including those before it."
    )
    return [
        paragraph(lead),
        table("", ("what", "figure"), [*_certified(rules, certificate), *mutants], classes=["facts"]),
    ]


def _certified(rules: RuleSet, found: Certificate | None) -> list[tuple[str, Cell]]:
    if found is None:
        command = f"turnback conform {rules.id} --certificate {rules.id}.json"
        return [("certificate", ["none; ", code(command), " writes one"])]
    why = f"; not higher: {found.reason}" if found.reason else ""
    return [
        ("level of its certificate", [nodes.strong(found.level, found.level), why]),
        ("laws", f"{found.passed} passed, {found.waived} waived, {found.apart} do not apply"),
        ("effort and seed", f"{found.effort}: {found.examples} examples of each searched law, seed {found.seed}"),
        ("joints recomputed by the exact oracle", str(found.oracle)),
        ("check values typed by", found.typed_by or "nobody"),
        ("library", found.library),
    ]
