"""What services forbid and ask for, and the design factors, written from the loaded rules when the site is built.

Directives: ``forbidden-uses``, ``service-rules``, ``design-factors``, ``service-codes``, ``inspection-codes``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

from turnback.planning.build import service_book
from turnback.quantities import number_text, percent_text
from turnback.review.observations import OBSERVATION_CODES
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import SpacingBound
from turnback.rules.service import ANY, ServiceRule
from turnback.rules.servicefile import jurisdiction_names, service_names
from turnback.sphinxext.nodes import Cell, aside, cited, code, doc_link, section, table, where
from turnback.sphinxext.settings import chosen_rule_sets

__all__ = ["add_service_pages"]

_BOUND = {"least": "at least", "greatest": "at most", "equal": "exactly"}


def _rules() -> tuple[ServiceRule, ...]:
    return service_book(Catalogue.installed()).rules


def _use(service: str, rule: ServiceRule | None = None) -> str:
    named = dict(service_names()).get(service, rule.use if rule is not None else "")
    return "every service" if service == ANY else named


def _place(jurisdiction: str) -> Cell:
    if jurisdiction == ANY:
        return "any"
    name = dict(jurisdiction_names()).get(jurisdiction, "")
    return [code(jurisdiction), aside(name)]


class _ForbiddenUses(SphinxDirective):
    """Every use that a paragraph forbids, and every service that a rule set excludes for itself."""

    def run(self) -> list[nodes.Node]:
        """Build two tables."""
        rows: list[list[Cell]] = [
            [
                [code(rule.service), aside(_use(rule.service, rule))],
                _place(rule.jurisdiction),
                [*cited(rule.text, (rule.citation,)), *_named_styles(rule)],
                where(rule.citation),
            ]
            for rule in _rules()
            if rule.kind == "forbidden"
        ]
        head = ("service", "jurisdiction", "what it says, restated", "paragraph")
        found: list[nodes.Node] = [table("Forbidden by a paragraph", head, rows, classes=["prose"])]
        excluded: list[list[Cell]] = [
            [
                [code(service), aside(_use(service))],
                doc_link(self.env.docname, f"rule-sets/{rules.id}", code(rules.id)),
                cited(text.value, text.citations),
                where(text.citations[0]),
            ]
            for rules in chosen_rule_sets(self.config)
            for service, text in rules.excluded_services
        ]
        if excluded:
            words = ("service", "rule set", "what it says, restated", "place")
            found.append(table("Excluded by a rule set for itself", words, excluded, classes=["prose"]))
        return found


class _ServiceRules(SphinxDirective):
    """Every rule, service by service."""

    def run(self) -> list[nodes.Node]:
        """Build a section for each service."""
        book = service_book(Catalogue.installed())
        listed = [*book.services, ANY]
        found: list[nodes.Node] = []
        for service in listed:
            rules = [rule for rule in book.rules if rule.service == service]
            title = "Every service" if service == ANY else f"{service}: {_use(service, rules[0] if rules else None)}"
            found.append(section(self.state.document, title, self._body(rules)))
        return found

    @staticmethod
    def _body(rules: list[ServiceRule]) -> nodes.Node:
        if not rules:
            words = "No paragraph on clips for this service was read. That does not mean that there is none."
            return nodes.paragraph(words, words)
        head = ("kind", "jurisdiction", "what it says, restated", "asks for", "code of the finding")
        rows: list[list[Cell]] = [
            [
                rule.kind,
                _place(rule.jurisdiction),
                [*cited(rule.text, (rule.citation,)), *_named_styles(rule), aside(where(rule.citation))],
                "; ".join(_asks(rule)) or "—",
                code(rule.code),
            ]
            for rule in rules
        ]
        return table("", head, rows, classes=["prose"])


def _named_styles(rule: ServiceRule) -> list[nodes.Node]:
    return [aside("names the style ", code(style)) for style in rule.styles]


def _asks(rule: ServiceRule) -> Iterator[str]:
    if rule.clip_count_at_least is not None:
        exception = " in the exception that it makes" if rule.kind == "forbidden" else ""
        yield f"at least {rule.clip_count_at_least} clips{exception}"
    yield from (_distance(bound) for bound in rule.spacing)
    if rule.needs_thimble:
        yield "a thimble"
    if rule.pin_under_diameters is not None:
        yield f"a thimble on a pin under {rule.pin_under_diameters} rope diameters"
    if rule.refuses_terminations:
        yield "no " + ", no ".join(rule.refuses_terminations)
    if rule.design_factor is not None:
        yield f"design factor {number_text(rule.design_factor)}"
    if rule.design_factor_rotation_resistant is not None:
        yield f"{number_text(rule.design_factor_rotation_resistant)} for rotation-resistant rope"
    if rule.efficiency_at_least is not None:
        yield f"efficiency of at least {percent_text(rule.efficiency_at_least)}"
    yield from _of_the_rope(rule)


def _of_the_rope(rule: ServiceRule) -> Iterator[str]:
    if rule.rope_at_least is not None:
        yield f"rope of at least {rule.rope_at_least}"
    if rule.rope_from is not None:
        yield f"holds for rope from {rule.rope_from}"
    if rule.rope_below is not None:
        yield f"holds for rope below {rule.rope_below}"
    if rule.grades:
        yield "grade " + " or ".join(rule.grades)
    if rule.rule_sets:
        yield "count and spacing by " + " or ".join(rule.rule_sets)
    if rule.retorque:
        yield "tighten again " + ", ".join(rule.retorque)
    if rule.forged_only_confirm:
        yield "confirm that the clips are forged"


def _distance(bound: SpacingBound) -> str:
    how = "clear" if bound.clear else "between centres"
    return f"{_BOUND[bound.bound]} {bound.length.text if bound.length is not None else 'as printed'} {how}"


class _DesignFactors(SphinxDirective):
    """The design factors as printed."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        head = ("printed for", "jurisdiction", "factor", "taken for the services", "paragraph")
        rows: list[list[Cell]] = [
            [
                [factor.use, aside(factor.text)],
                _place(factor.jurisdiction),
                cited(number_text(factor.factor), (factor.citation,)),
                _codes(factor.services) or "none: it stands for itself alone",
                where(factor.citation),
            ]
            for factor in service_book(Catalogue.installed()).factors
        ]
        return [table("Breaking force over working load", head, rows)]


def _codes(names: Sequence[str]) -> list[str | nodes.Node]:
    found: list[str | nodes.Node] = []
    for name in names:
        found += [*([" "] if found else []), code(name)]
    return found


class _ServiceCodes(SphinxDirective):
    """The codes of findings that service rules lead to."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        found: dict[str, list[str]] = {}
        for rule in _rules():
            found.setdefault(rule.code, []).append(rule.service)
        rows: list[list[Cell]] = [[code(name), _codes(services)] for name, services in sorted(found.items())]
        return [table("Codes of the service rules at hand", ("code", "services"), rows)]


class _InspectionCodes(SphinxDirective):
    """The codes of what an inspection finds."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        rows: list[list[Cell]] = [
            [code(each.code), ", ".join(each.kinds), "yes" if each.deviates else "no", each.when]
            for each in OBSERVATION_CODES
        ]
        return [table("Codes of an inspection", ("code", "kind", "deviates", "when"), rows)]


def add_service_pages(app: Sphinx) -> None:
    """Register the directives.

    Args:
        app: The application.
    """
    app.add_directive("forbidden-uses", _ForbiddenUses)
    app.add_directive("service-rules", _ServiceRules)
    app.add_directive("design-factors", _DesignFactors)
    app.add_directive("service-codes", _ServiceCodes)
    app.add_directive("inspection-codes", _InspectionCodes)
