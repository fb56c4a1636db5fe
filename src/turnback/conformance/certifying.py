"""The certificate: what was run on what, and what came of it; the same bytes for the same inputs."""

from __future__ import annotations

import os
from collections.abc import Iterator
from importlib import metadata

import attrs

from turnback import __version__
from turnback.conformance.check_values import CheckValues
from turnback.conformance.checking import check_subject
from turnback.conformance.effort import effort_named
from turnback.conformance.packages import package_hash
from turnback.conformance.report import Report
from turnback.conformance.report_json import examined_document
from turnback.conformance.subject import Subject, subject_of
from turnback.errors import InputError, UnknownRuleSet
from turnback.output.json_text import FORMAT, Json, at, entry, to_text, with_head
from turnback.output.reading import read_document
from turnback.quantities.grammar import shown
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet

__all__ = ["KIND", "CertificateCheck", "certificate", "verify_certificate"]

KIND = "certificate"
_PRINTED = 20


def certificate(report: Report) -> str:
    """Write the certificate of a run.

    Args:
        report: The report.

    Returns:
        JSON text; the same bytes for the same rule set, kit, effort and seed.
    """
    return to_text(_document(report))


def _document(report: Report) -> dict[str, Json]:
    return with_head(KIND, {**_inputs(report.subject), **examined_document(report)})


def _inputs(subject: Subject) -> dict[str, Json]:
    rules, origin = subject.rules, subject.origin
    module = "" if origin is None else _module(origin.entry_point)
    return {
        "rules": rules.id,
        "title": rules.title,
        "style": rules.style,
        "document": rules.source.document,
        "edition": rules.source.edition,
        "rule_file_sha256": rules.sha256,
        "check_values_sha256": "" if subject.values is None else subject.values.sha256,
        "distribution": "" if origin is None else origin.distribution,
        "distribution_version": "" if origin is None else origin.version,
        "package_sha256": package_hash(module) if module else "",
        "library_version": __version__,
        "library_sha256": package_hash("turnback"),
        "drawn_by": f"hypothesis {metadata.version('hypothesis')}",
        # Laws of governing are searched together with what else is at hand.
        "beside": {each.id: each.sha256 for each in _beside(subject.catalogue) if each.id != rules.id},
    }


def _beside(catalogue: Catalogue) -> list[RuleSet]:
    return sorted((*catalogue.rule_sets, *catalogue.added_bases), key=lambda each: each.id)


def _as_certified(catalogue: Catalogue, own: str, beside: Json) -> Catalogue:
    """Leave out what has been installed since: the draws of the laws of governing would be others."""
    if not isinstance(beside, dict):
        return catalogue
    return attrs.evolve(
        catalogue,
        rule_sets=tuple(each for each in catalogue.rule_sets if each.id == own or each.id in beside),
        added_bases=tuple(each for each in catalogue.added_bases if each.id == own or each.id in beside),
    )


def _module(entry_point: str) -> str:
    from turnback.rules.hookspecs import ENTRY_POINT_GROUP

    named = [each.value for each in metadata.entry_points(group=ENTRY_POINT_GROUP) if each.name == entry_point]
    return named[0].partition(":")[0] if named else entry_point


@attrs.frozen
class CertificateCheck:
    """What came of checking a certificate.

    Args:
        same: Whether everything in it comes out again.
        differences: What does not: place, what was certified, what comes out now.
        report: The run that it was held against.
    """

    same: bool
    differences: tuple[tuple[str, str, str], ...]
    report: Report = attrs.field(repr=False)

    def __str__(self) -> str:
        if self.same:
            return f"the same: {self.report.subject.rules.id} still reaches the level {self.report.level.name}"
        lines = ["NOT THE SAME"]
        lines += [f"{place}: certified {then}, now {now}" for place, then, now in self.differences[:_PRINTED]]
        if len(self.differences) > _PRINTED:
            lines.append(f"and {len(self.differences) - _PRINTED} more differences")
        return "\n".join(lines)


def verify_certificate(
    text: str | bytes,
    rules: RuleSet | str | os.PathLike[str] | None = None,
    *,
    check_values: CheckValues | str | os.PathLike[str] | None = None,
    catalogue: Catalogue | None = None,
) -> CertificateCheck:
    """Check a certificate: run again what it says was run, and compare.

    Args:
        text: The certificate, or its bytes in UTF-8.
        rules: The rule set or the path of its file; the installed one of its id when not given.
        check_values: The check values or the path of their file; the file beside the rule file when not given.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The same, or what differs.

    Raises:
        InputError: It cannot be read, or is no certificate.
        UnknownRuleSet: Its rule set is not at hand.
    """
    recorded = read_document(text)
    if recorded.get("kind") != KIND or recorded.get("format") != FORMAT:
        raise InputError(
            "this is no certificate that this library reads",
            field="kind",
            value=shown(recorded.get("kind")),
            bound=f"{KIND}, format {FORMAT}",
            instead="turnback conform ID --certificate FILE writes one.",
        )
    name, effort, seed = recorded.get("rules"), recorded.get("effort"), recorded.get("seed")
    if not isinstance(name, str) or not isinstance(effort, str) or not isinstance(seed, int):
        raise InputError("a certificate names the rule set, the effort and the seed", field="rules, effort, seed")
    at_hand = _as_certified(Catalogue.installed() if catalogue is None else catalogue, name, recorded.get("beside"))
    if rules is None and at_hand.find(name) is None and not at_hand.failures:
        raise UnknownRuleSet(
            "the rule set of this certificate is not installed",
            field="rules",
            value=name,
            instead="Install its distribution; or name the rule file: turnback conform FILE --verify CERTIFICATE.",
        )
    report = check_subject(
        subject_of(name if rules is None else rules, at_hand, check_values), effort_named(effort), seed
    )
    differences = tuple(_unlike(recorded, _document(report), ""))
    return CertificateCheck(not differences, differences, report)


def _unlike(then: Json, now: Json, path: str) -> Iterator[tuple[str, str, str]]:
    if isinstance(then, dict) and isinstance(now, dict):
        for key in dict.fromkeys([*then, *now]):
            yield from _unlike(then.get(key), now.get(key), at(path, key))
    elif isinstance(then, list) and isinstance(now, list) and len(then) == len(now):
        for number, (one, other) in enumerate(zip(then, now, strict=True)):
            yield from _unlike(one, other, entry(path, number))
    elif type(then) is not type(now) or then != now:
        yield path, shown(then), shown(now)
