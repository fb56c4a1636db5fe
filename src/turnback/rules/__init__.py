"""What the sources say: rule sets and the files they are read from, plugins found, checked and refused."""

from turnback.rules.admission import Breach, Joint, breaches
from turnback.rules.catalogue import Catalogue
from turnback.rules.hookspecs import (
    CONTRACT,
    CONTRACT_NAME,
    ENTRY_POINT_GROUP,
    HOOK_NAMES,
    PROJECT,
    Hooks,
    hookimpl,
)
from turnback.rules.loading import Failure, Origin, Supplied, load, load_installed
from turnback.rules.rows import BodyOfClip, CountRule, LinearLength, Row, SpacingBound
from turnback.rules.rulefile import basis_rule_sets, parse_rules, read_rules
from turnback.rules.ruleset import (
    ANY_STYLE,
    Adjustments,
    EfficiencyBand,
    Floor,
    LargeWires,
    Procedure,
    RuleSet,
    ScopeEntry,
    Waiver,
)
from turnback.rules.scope import Verdict, scope_verdict
from turnback.rules.selection import FirstOf, Governing, RulesChoice, choice_text, first_of, governing, parse_choice
from turnback.rules.service import ANY, GENERAL, RETORQUE_TIMES, RULE_KINDS, DesignFactor, RuleKind, ServiceRule
from turnback.rules.servicefile import (
    core_names,
    design_factors,
    jurisdiction_names,
    read_service_rules,
    service_names,
    service_rules,
)

__all__ = [
    "ANY",
    "ANY_STYLE",
    "CONTRACT",
    "CONTRACT_NAME",
    "ENTRY_POINT_GROUP",
    "GENERAL",
    "HOOK_NAMES",
    "PROJECT",
    "RETORQUE_TIMES",
    "RULE_KINDS",
    "Adjustments",
    "BodyOfClip",
    "Breach",
    "Catalogue",
    "CountRule",
    "DesignFactor",
    "EfficiencyBand",
    "Failure",
    "FirstOf",
    "Floor",
    "Governing",
    "Hooks",
    "Joint",
    "LargeWires",
    "LinearLength",
    "Origin",
    "Procedure",
    "Row",
    "RuleKind",
    "RuleSet",
    "RulesChoice",
    "ScopeEntry",
    "ServiceRule",
    "SpacingBound",
    "Supplied",
    "Verdict",
    "Waiver",
    "basis_rule_sets",
    "breaches",
    "choice_text",
    "core_names",
    "design_factors",
    "first_of",
    "governing",
    "hookimpl",
    "jurisdiction_names",
    "load",
    "load_installed",
    "parse_choice",
    "parse_rules",
    "read_rules",
    "read_service_rules",
    "scope_verdict",
    "service_names",
    "service_rules",
]
