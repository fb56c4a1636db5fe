"""What stands on the page of a rule set, section by section, built from the loaded object."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from docutils import nodes

from turnback.model.sources import Citation
from turnback.quantities import percent_text
from turnback.rules.loading import Origin
from turnback.rules.ruleset import ANY_STYLE, CountRule, EfficiencyBand, RuleSet, ScopeEntry, SpacingBound
from turnback.sphinxext.cells import beside_the_table, table_cells, tally_text
from turnback.sphinxext.nodes import (
    Cell,
    bullets,
    caution,
    cited,
    code,
    paragraph,
    section,
    source_facts,
    table,
    tag,
    where,
)
from turnback.sphinxext.rows_table import row_name, row_remarks, rows_table

__all__ = ["page_nodes"]

_BOUND: Final = {"least": "at least", "greatest": "at most", "equal": "exactly"}
_GIVES: Final = {
    "everything": "everything that the rule set says",
    "counts": "the number of clips alone: no turn-back, no torque",
}


def page_nodes(rules: RuleSet, origin: Origin | None, document: nodes.document) -> list[nodes.Node]:
    """Build a whole page below its title.

    Args:
        rules: The rule set.
        origin: The distribution that brings it; None for what the core brings.
        document: The document that it goes into.

    Returns:
        Nodes in reading order; a section appears only where the rule set says something.
    """
    content: list[tuple[str, list[nodes.Node]]] = [
        ("Source", _source(rules, origin)),
        ("Table", _table(rules)),
        ("Rule", _rule(rules.count_rule) if rules.count_rule is not None else []),
        ("Single rows", [bullets(remarks)] if (remarks := row_remarks(rules)) else []),
        ("Spacing", _list(_spacing(bound) for bound in rules.spacing)),
        ("Threads", _threads(rules)),
        ("Efficiency", _efficiency(rules)),
        ("Scope", _scope(rules)),
        ("Adjustments", _list(_adjustments(rules))),
        ("Floors", _list(cited(f"{floor.text} ({floor.count} clips).", (floor.citation,)) for floor in rules.floors)),
        ("Services that it excludes", _excluded(rules)),
        ("Order of work", _list(_procedure(rules))),
        ("Notes", _list(cited(note.value, note.citations) for note in rules.notes)),
        ("What it does not say", _silent(rules)),
    ]
    return [*_lead(rules), *(section(document, title, *found) for title, found in content if found)]


def _list(items: Iterable[Cell]) -> list[nodes.Node]:
    listed = list(items)
    return [bullets(listed)] if listed else []


def _lead(rules: RuleSet) -> list[nodes.Node]:
    style: list[str | nodes.Node] = ["any style"] if rules.style == ANY_STYLE else ["style ", code(rules.style)]
    cells = tally_text(table_cells(rules))
    beside = tally_text(beside_the_table(rules))
    if rules.is_basis:
        counted = f"efficiencies and nothing else. Statements: {beside}."
    elif rules.count_rule is not None:
        counted = f"a rule in place of a table. The rule and its sizes: {cells}. Beside them: {beside}."
    else:
        sizes = "1 size" if len(rules.rows) == 1 else f"{len(rules.rows)} sizes"
        counted = f"{sizes}. Cells of the table: {cells}. Beside the table: {beside}."
    return [
        paragraph(f"What {rules.citation.source.document} says of ", *style, f": {counted}"),
        caution(
            "This page restates one source for looking up. The document itself, the clip maker's instructions, your "
            "local code and a qualified person stand above it."
        ),
    ]


def _source(rules: RuleSet, origin: Origin | None) -> list[nodes.Node]:
    facts: list[tuple[str, Cell]] = [
        *source_facts(rules.citation),
        ("status unless said otherwise", tag(rules.citation.status)),
        ("style", "any" if rules.style == ANY_STYLE else code(rules.style)),
        ("pattern of clip", code(rules.pattern) if rules.pattern else "none named"),
        ("distribution", f"{origin.distribution} {origin.version}" if origin else "turnback itself"),
        ("rule file", code(rules.origin)),
        ("SHA-256 of the file", nodes.literal(rules.sha256, rules.sha256, classes=["hash"])),
    ]
    return [table("", ("what", "as recorded"), facts, classes=["facts"])]


def _table(rules: RuleSet) -> list[nodes.Node]:
    if not rules.rows:
        return []
    alone = all(row.above is None for row in rules.rows)
    sizes = "Each row takes its own size alone. " if alone else ""
    return [
        paragraph(
            f"{sizes}Nothing is interpolated between rows. A printed value carries its status; the value in the other "
            "unit is converted from it, exactly, or rounded where it is marked with ≈. A dash means that nothing is "
            "printed there."
        ),
        rows_table(rules),
    ]


def _rule(rule: CountRule) -> list[nodes.Node]:
    if rule.least is None or rule.greatest is None or rule.sizes_citation is None:
        return [bullets([_said(f"Number of clips: {rule.text}.", rule.citation)])]
    clips = f"Number of clips: {rule.text}, of the rope's diameter in inches."
    sizes = f"For ropes of {rule.least} to {rule.greatest}."
    return [bullets([_said(clips, rule.citation), _said(sizes, rule.sizes_citation)])]


def _said(words: str, citation: Citation) -> Cell:
    return [*cited(words, (citation,)), f" {where(citation)}"]


def _spacing(bound: SpacingBound) -> Cell:
    how = "clear between saddles" if bound.clear else "between the centres of neighbouring clips"
    length = bound.length.text if bound.length is not None else "the distance that the table prints for the size"
    return _said(f"{_BOUND[bound.bound].capitalize()} {length}, {how}.", bound.citation)


def _threads(rules: RuleSet) -> list[nodes.Node]:
    if rules.threads is None:
        return []
    worded = f" ({rules.threads.how})" if rules.threads.how else ""
    words = f"The torque is for {rules.threads.value} threads{worded}."
    return [bullets([_said(words, rules.threads.citations[0])])]


def _efficiency(rules: RuleSet) -> list[nodes.Node]:
    items = [_said(f"{percent_text(band.value)} {_sizes(band)}.", band.citation) for band in rules.efficiency]
    most = rules.efficiency_at_most
    if most is not None:
        words = f"At best {percent_text(most.value)}: an upper bound, never used as a value."
        items.append(_said(words, most.citations[0]))
    if not items:
        return []
    held = ", ".join(rules.efficiency_terminations)
    lead = [paragraph(f"Share of the rope's minimum breaking force, for: {held}.")] if held else []
    return [*lead, bullets(items)]


def _sizes(entry: EfficiencyBand | ScopeEntry) -> str:
    below = entry.below if isinstance(entry, EfficiencyBand) else None
    parts = [f"from {entry.least}"] if entry.least is not None else []
    parts += [f"up to {entry.greatest}"] if entry.greatest is not None else []
    parts += [f"and below {below}" if parts else f"below {below}"] if below is not None else []
    return " ".join(parts) or "for every size"


def _scope(rules: RuleSet) -> list[nodes.Node]:
    if not rules.scope:
        return []
    lead = (
        "Any one entry is enough. What an entry does not name, it does not limit. An attribute that the request leaves "
        "out is asked for in a finding."
    )
    return [paragraph(lead), *(_entry(number, entry) for number, entry in enumerate(rules.scope, 1))]


def _entry(number: int, entry: ScopeEntry) -> nodes.table:
    facts: list[tuple[str, Cell]] = [("gives", _GIVES[entry.gives]), ("sizes", _sizes(entry))]
    for name in ("constructions", "cores", "grades", "lays", "terminations"):
        words = ", ".join(getattr(entry, name)) or "not limited"
        passed = "; another one is planned with a finding to confirm it" if name in entry.confirm else ""
        facts.append((name, words + passed))
    if entry.rotation_resistant is not None:
        facts.append(("rotation-resistant rope", "only" if entry.rotation_resistant else "not"))
    facts.append(("condition", "new rope" if entry.new_only else "not limited"))
    facts.append(("source", cited(where(entry.citation), (entry.citation,))))
    return table(f"Entry {number} of the scope", ("what", "as recorded"), facts, classes=["facts"])


def _adjustments(rules: RuleSet) -> Iterator[Cell]:
    more = rules.adjustments
    if more.large_wires is not None:
        wires = more.large_wires
        words = f"{wires.add} more for Seale and other ropes with large outer wires, from {wires.from_size} on."
        yield _said(words, wires.citation)
    if more.pulley is not None:
        yield _said(f"{more.pulley.value} more for a pulley in place of the thimble.", more.pulley.citations[0])
    if more.proportion is not None:
        yield _said("More clips lengthen the turn-back in proportion.", more.proportion)
    if more.lap_factor is not None:
        words = f"A lap splice has {more.lap_factor.value} times the clips of an eye."
        yield _said(words, more.lap_factor.citations[0])


def _excluded(rules: RuleSet) -> list[nodes.Node]:
    rows: list[list[Cell]] = [
        [code(service), cited(text.value, text.citations), where(text.citations[0])]
        for service, text in rules.excluded_services
    ]
    if not rows:
        return []
    words = "A plan for such a service says forbidden first and is not usable."
    return [paragraph(words), table("", ("service", "what it says", "place"), rows)]


def _procedure(rules: RuleSet) -> Iterator[Cell]:
    work = rules.procedure
    if work.begin_at and work.begin_citation is not None:
        yield _said(f"Begin at the {work.begin_at}.", work.begin_citation)
    if work.retorque and work.retorque_citation is not None:
        yield _said(f"Tighten again {', '.join(work.retorque)}.", work.retorque_citation)


def _silent(rules: RuleSet) -> list[nodes.Node]:
    if rules.is_basis:
        return []
    printed = {name for row in rules.rows for name in ("turn_back", "torque") if getattr(row, name) is not None}
    missing = [name.replace("_", "-") for name in ("turn_back", "torque") if name not in printed]
    missing += ["spacing"] if not rules.spacing else []
    missing += ["condition of the threads"] if rules.threads is None else []
    missing += ["termination efficiency"] if not rules.efficiency else []
    missing += ["scope"] if not rules.scope else []
    missing += ["order of work"] if not (rules.procedure.begin_at or rules.procedure.retorque) else []
    partly = [
        f"{name.replace('_', '-')} of {', '.join(sizes)}"
        for name in sorted(printed)
        if (sizes := [row_name(rules, row) for row in rules.rows if getattr(row, name) is None])
    ]
    if not missing and not partly:
        return []
    words = "It stays absent from this rule set. Where a plan takes it from elsewhere, it names that source beside it."
    return [paragraph(f"Nothing is recorded of: {', '.join([*missing, *partly])}. {words}")]
