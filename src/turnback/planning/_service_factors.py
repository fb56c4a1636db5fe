"""The design factor of a service: the strictest that is printed for it, or that of wire rope in general."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

import attrs

from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.findings import Finding
from turnback.model.sources import Citation
from turnback.quantities import number_text
from turnback.rules.service import GENERAL, DesignFactor, ServiceRule

__all__ = ["FactorBook"]


@attrs.frozen(eq=False)
class _Printed:
    """One factor, with the one that takes its place for rotation-resistant rope."""

    jurisdiction: str
    factor: Fraction
    rotation_resistant: Fraction | None
    text: str
    citation: Citation


@attrs.frozen(eq=False)
class FactorBook:
    """Design factors by service, those of service rules among them.

    Args:
        by_service: What is printed for each service.
        general: What is printed for wire rope in general.
    """

    by_service: Mapping[str, tuple[_Printed, ...]]
    general: tuple[_Printed, ...]

    @classmethod
    def of(cls, factors: Iterable[DesignFactor]) -> FactorBook:
        """Sort factors by service.

        Args:
            factors: The design factors.

        Returns:
            The book.
        """
        found: dict[str, list[_Printed]] = {}
        for factor in factors:
            printed = _Printed(factor.jurisdiction, factor.factor, None, factor.text, factor.citation)
            for service in factor.services:
                found.setdefault(service, []).append(printed)
        general = tuple(found.pop(GENERAL, ()))
        return cls({service: tuple(each) for service, each in found.items()}, general)

    def factor(
        self,
        service: str,
        jurisdiction: str | None,
        circle: frozenset[str],
        rules: Sequence[ServiceRule],
        resistant: bool | None,
    ) -> tuple[Cited[Fraction] | Absent, tuple[Finding, ...]]:
        """Return the design factor of a service.

        Within a jurisdiction it is the greatest that is printed there for the service. Failing that, it is that of wire
        rope in general there, or a greater one that is printed for the service elsewhere. Where no jurisdiction is
        given it is the greatest of all, that of wire rope in general among them.

        Args:
            service: Id of the service.
            jurisdiction: Id of the jurisdiction; None takes the strictest of all.
            circle: The jurisdictions whose rules hold there.
            rules: The service rules that hold, of which some give a factor of their own.
            resistant: Whether the rope is rotation-resistant; None when not known takes the stricter factor.

        Returns:
            The factor [-] or why there is none, and what must be confirmed about it.
        """
        specific = self.by_service.get(service, ())
        own = [each for each in specific if each.jurisdiction in circle]
        own += [_of_rule(rule, rule.design_factor) for rule in rules if rule.design_factor is not None]
        here = [each for each in self.general if each.jurisdiction in circle]
        asked = own + here if jurisdiction is None else own or here
        if not asked:
            reason = (
                f"no design factor for {service} was read for {jurisdiction or 'any place'}, so there is none to cite"
            )
            return Absent("design_factor", reason), ()
        if not own:
            # The factor of wire rope in general does not stand in for a use that is asked more elsewhere.
            most = max(_value(each, resistant) for each in here)
            asked = [*here, *(each for each in specific if _value(each, resistant) > most)]
        doubts = [each for each in own if each.rotation_resistant is not None]
        values = [_value(each, resistant) for each in asked]
        top = max(values)
        chosen = [each for each, value in zip(asked, values, strict=True) if value == top]
        texts = " ".join(dict.fromkeys(each.text for each in chosen))
        if own or (here and service == GENERAL):
            several = ", ".join(number_text(value) for value in sorted(set(values), reverse=True))
            how = texts if len(set(values)) == 1 else f"The greatest of {several}. {texts}"
        else:
            how = _fallback(service, jurisdiction, elsewhere=chosen[0] not in here)
        cited = tuple(dict.fromkeys(each.citation for each in chosen))
        return Cited(top, cited, how), _doubt(doubts) if resistant is None else ()


def _of_rule(rule: ServiceRule, factor: Fraction) -> _Printed:
    return _Printed(rule.jurisdiction, factor, rule.design_factor_rotation_resistant, rule.text, rule.citation)


def _value(printed: _Printed, resistant: bool | None) -> Fraction:
    if printed.rotation_resistant is None or resistant is False:
        return printed.factor
    return printed.rotation_resistant if resistant else max(printed.factor, printed.rotation_resistant)


def _fallback(service: str, jurisdiction: str | None, *, elsewhere: bool) -> str:
    where = "" if jurisdiction is None else f" for {jurisdiction}"
    if elsewhere:
        return f"No factor for {service} was read{where}; the greatest that is printed for it elsewhere stands."
    return (
        f"No factor for {service} was read{where}; that of wire rope in general stands, and the code may ask for more."
    )


def _doubt(doubts: Sequence[_Printed]) -> tuple[Finding, ...]:
    if not doubts:
        return ()
    text = "Confirm whether the rope is rotation-resistant; while it is not known, the stricter design factor stands."
    return (Finding("rotation-resistance-not-known", "confirm", text, tuple(each.citation for each in doubts)),)
