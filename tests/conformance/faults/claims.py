"""Faults of what a rule set claims: its sources, its scope, its efficiencies, its distances and its waivers."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Final, Literal

import attrs
from tests.conformance.faults.making import (
    ARMY,
    BASIS,
    BRUNSWICK,
    EN,
    NAVY,
    OSHA,
    SADDLE,
    SADDLE_POINT,
    TABLE,
    Fault,
    departing,
    edited,
    first_row,
    forced,
    like,
    polite,
    retyped,
    rules_of,
)

from turnback.model.cited import Cited
from turnback.model.sources import Citation
from turnback.quantities import Length
from turnback.rules.ruleset import EfficiencyBand, LinearLength, RuleSet, SpacingBound

__all__ = ["CLAIM_FAULTS"]


@attrs.frozen
class AnySize(EfficiencyBand):
    """A band that takes ropes outside its own ends."""

    def takes(self, size: Length) -> bool:
        return True


class Longer(LinearLength):
    """A distance that comes out longer than it is written."""

    def nanometres(self, diameter: Length, base_width: Length | None) -> Fraction | None:
        found = LinearLength.nanometres(self, diameter, base_width)
        return None if found is None else found + 1


class Shorter(LinearLength):
    """A distance that comes out a nanometre shorter than it is written."""

    def nanometres(self, diameter: Length, base_width: Length | None) -> Fraction | None:
        found = LinearLength.nanometres(self, diameter, base_width)
        return None if found is None else found - 1


def cited(rules: RuleSet) -> Citation:
    return rules.citation


def first_count(rules: RuleSet, *citations: Citation) -> RuleSet:
    cell = rules.rows[0].count
    assert cell is not None
    return first_row(count=forced(cell, citations=citations))(rules)


def nowhere(rules: RuleSet) -> RuleSet:
    return first_count(rules, rules.citation.at(""))


def no_torque_citation(rules: RuleSet) -> RuleSet:
    rows = tuple(
        row if row.torque is None else attrs.evolve(row, torque=forced(row.torque, citations=())) for row in rules.rows
    )
    return forced(rules, rows=rows)


def issuer(rules: RuleSet) -> RuleSet:
    other = attrs.evolve(rules.source, issuer="Another issuer")
    return first_count(rules, attrs.evolve(rules.citation, source=other))


def other_name(rules: RuleSet) -> RuleSet:
    return first_count(rules, attrs.evolve(rules.citation, source=attrs.evolve(rules.source, id="another-id")))


def nameless(rules: RuleSet) -> RuleSet:
    return attrs.evolve(rules, citation=forced(rules.citation, source=forced(rules.source, document=" ")))


def band(value: object, low: str, high: str, kind: type[EfficiencyBand] = EfficiencyBand) -> EfficiencyBand:
    ends = EfficiencyBand(Fraction(1, 2), Length.of(low), Length.of(high), rules_of(TABLE).citation)
    return forced(like(kind, ends), value=value)


def banded(
    *bands: EfficiencyBand, kinds: object = ("thimble eye", "linked eyes"), most: str = "", rules_id: str = TABLE
) -> Callable[[RuleSet], RuleSet]:
    def change(rules: RuleSet) -> RuleSet:
        bound = Cited(Fraction(most), (rules.citation,)) if most else None
        return forced(rules, efficiency=bands, efficiency_terminations=kinds, efficiency_at_most=bound)

    return change


def spaced(
    *bounds: tuple[Literal["least", "greatest", "equal"], str, str, bool],
) -> Callable[[RuleSet], RuleSet]:
    def change(rules: RuleSet) -> RuleSet:
        made = tuple(
            SpacingBound(kind, clear, LinearLength(Fraction(d), Fraction(b), Length(0), text(d, b)), rules.citation)
            for kind, d, b, clear in bounds
        )
        return attrs.evolve(rules, spacing=made)

    return change


def text(diameters: str, base_widths: str) -> str:
    parts = ((diameters, "diameters"), (base_widths, "base widths"))
    return " + ".join(f"{number} {word}" for number, word in parts if number != "0") or "0 mm"


def longer(kind: type[LinearLength]) -> Callable[[RuleSet], RuleSet]:
    return lambda rules: attrs.evolve(
        rules, spacing=tuple(attrs.evolve(each, length=like(polite(kind), each.length)) for each in rules.spacing)
    )


def scoped(**fields: object) -> Callable[[RuleSet], RuleSet]:
    return lambda rules: attrs.evolve(rules, scope=tuple(forced(entry, **fields) for entry in rules.scope))


def misspelt_counts(rules: RuleSet) -> RuleSet:
    first, *others = rules.scope
    return attrs.evolve(rules, scope=(first, *(forced(entry, gives="count") for entry in others)))


def waiver(law: str, row: str = "") -> str:
    size = f'row = "{row}"\n' if row else ""
    return f'\n[[waivers]]\nlaw = "{law}"\n{size}reason = "The invented table prints it so."\nlocator = "row 3"\n'


def waived(law: str, row: str = "", *changes: tuple[str, str]) -> str:
    return edited(TABLE, *changes) + waiver(law, row)


UNCITED: Final = "missing citation"
SPELT: Final = "source spelt twice"
UNTHREADED: Final = "torque without the condition of its threads"
SERVICES: Final = "unknown or empty service excluded"
SCOPE: Final = "lying scope"
RATING: Final = "rating that nobody gives"
BOUNDS: Final = "bounds turned or mistaken"
WAIVERS: Final = "waiver that does not fit"

CLAIM_FAULTS: Final = (
    Fault("count-uncited", UNCITED, "A count has no citation.", departing(TABLE, first_count)),
    Fault("count-from-nowhere", UNCITED, "A count is cited from a document and no place in it.",
          departing(TABLE, nowhere)),
    Fault("count-no-cell", UNCITED, "A count is a bare number.", departing(TABLE, first_row(count=3))),
    Fault("torques-uncited", UNCITED, "The torques have no citation.", departing(TABLE, no_torque_citation)),
    Fault("order-uncited", UNCITED, "Nobody says that the work begins at the eye.",
          departing(EN, lambda r: attrs.evolve(r, procedure=attrs.evolve(r.procedure, begin_citation=None)))),
    Fault("source-without-a-name", UNCITED, "The document has no name.", departing(TABLE, nameless)),
    Fault("file-without-a-document", UNCITED, "A file names no document.",
          retyped(TABLE, ('document = "California Code of Regulations, Title 8, Section 8497"\n', ""))),
    Fault("file-without-a-place", UNCITED, "A file names no place in its document.",
          retyped(NAVY, ('locator = "page 1-8"\nstatus', "status"))),
    Fault("bound-uncited", UNCITED, "A distance has no citation.",
          departing(NAVY, lambda r: attrs.evolve(r, spacing=(forced(r.spacing[0], citation=None),)))),
    Fault("another-section", SPELT, "The document of a known id is spelt with another section.",
          retyped(TABLE, ("Title 8, Section 8497", "Title 8, Section 8479"))),
    Fault("another-issuer", SPELT, "One cell names another issuer of the same document.", departing(TABLE, issuer)),
    Fault("another-id", SPELT, "One cell names the same document under another id.", departing(TABLE, other_name)),
    Fault("cited-from-another", SPELT, "The rule set is cited from a document that is not its source.",
          departing(TABLE, lambda r: attrs.evolve(r, citation=rules_of(EN).citation))),
    Fault("threads-dropped", UNTHREADED, "A file has torques and not a word of the threads.",
          retyped(TABLE, (('[threads]\ncondition = "dry"\ntext = "clean and dry"\nlocator = "clean, dry threads unless '
                          'the source says greased"\nstatus = "common practice"\n'), ""))),
    Fault("threads-none", UNTHREADED, "A rule set has torques and nothing of the threads.",
          departing(TABLE, lambda r: forced(r, threads=None))),
    Fault("threads-empty", UNTHREADED, "The condition of the threads is a space.",
          departing(TABLE, lambda r: attrs.evolve(r, threads=Cited(" ", (r.citation,))))),
    Fault("torques-alone-empty-threads", UNTHREADED, "A table of torques alone has a space for the threads.",
          departing(TABLE, lambda r: attrs.evolve(
              r, id="invented-torques", threads=Cited(" ", (r.citation,)),
              rows=tuple(attrs.evolve(row, count=None, turn_back=None) for row in r.rows)))),
    Fault("service-misspelt", SERVICES, "A service is excluded under a name that nobody knows.",
          departing(TABLE, lambda r: attrs.evolve(
              r, excluded_services=(("mine-hoists", Cited("not for mines", (r.citation,))),)))),
    Fault("service-misspelt-typed", SERVICES, "A file excludes a service under a name that nobody knows.",
          retyped(EN, ('service = "hoist-rope"', 'service = "hoist-ropes"'))),
    Fault("service-twice", SERVICES, "A service is excluded twice, another is forgotten.",
          departing(EN, lambda r: attrs.evolve(r, excluded_services=(*r.excluded_services[:2],
                                                                    r.excluded_services[0])))),
    Fault("service-without-a-sentence", SERVICES, "A service is excluded with no sentence.",
          departing(EN, lambda r: attrs.evolve(r, excluded_services=(
              *r.excluded_services[:2], ("sling", Cited(" ", (r.citation,))))))),
    Fault("scope-stops-short", SCOPE, "The scope ends at 1 in, the table goes on.",
          retyped(TABLE, ('for = "everything"\n', 'for = "everything"\nsizes = "up to 1 in"\n'))),
    Fault("scope-begins-late", SCOPE, "The scope begins at 10 mm, the table at 5 mm.",
          retyped(EN, ('for = "everything"\n', 'for = "everything"\nsizes = "10 mm to 40 mm"\n'))),
    Fault("construction-misspelt", SCOPE, "The scope names a construction that no rope has.",
          retyped(TABLE, ('"6x19 class", "6x37 class"', '"six by nineteen", "6x37 class"'))),
    Fault("construction-mistyped", SCOPE, "The scope names 91 wires where the source names 19.",
          retyped(TABLE, ('"6x19 class", "6x37 class"', '"6x91 class", "6x37 class"'), valued=True)),
    Fault("counts-misspelt", SCOPE, "The scope gives count, and not counts, for some ropes.",
          departing(TABLE, misspelt_counts)),
    Fault("everything-for-counts", SCOPE, "The scope gives everything where the source gives counts alone.",
          retyped(SADDLE, ('for = "counts"', 'for = "everything"'), valued=True)),
    Fault("counts-for-everything", SCOPE, "The scope gives counts alone where the source gives everything.",
          retyped(SADDLE, ('for = "everything"', 'for = "counts"'), valued=True)),
    Fault("one-lay-more", SCOPE, "The scope takes a lay more than its file.",
          departing(TABLE, lambda r: attrs.evolve(r, scope=tuple(
              attrs.evolve(entry, lays=(*entry.lays, "left Lang")) for entry in r.scope)), text=True)),
    Fault("one-grade-more", SCOPE, "The scope takes a grade that the source does not name.",
          retyped(SADDLE, ('cores = ["FC", "IWRC"]\ngrades = ["IPS", "EIP"]',
                           'cores = ["FC", "IWRC"]\ngrades = ["IPS", "EIP", "EEIP"]'), valued=True)),
    Fault("one-core-less", SCOPE, "The scope leaves a core out.",
          retyped(TABLE, ('cores = ["FC", "IWRC"]', 'cores = ["IWRC"]'), valued=True)),
    Fault("used-rope-too", SCOPE, "The scope forgets that its ropes are new.",
          departing(TABLE, scoped(new_only=False), text=True)),
    Fault("pulleys-too", SCOPE, "The scope takes pulley eyes, which the source does not name.",
          retyped(SADDLE, (('terminations = ["thimble eye", "linked eyes"]\ncondition = "new"\nlocator = "notes to '
                           'Tables 1 and 2"\nstatus'), ('terminations = ["thimble eye", "linked eyes", "pulley eye"]\n'
                           'condition = "new"\nlocator = "notes to Tables 1 and 2"\nstatus')), valued=True)),
    Fault("confirm-forgotten", SCOPE, "A grade outside the table is refused where the file has it confirmed.",
          departing(OSHA, scoped(confirm=()), text=True)),
    Fault("share-above-one", RATING, "An efficiency is one and a half.",
          departing(TABLE, banded(band(Fraction(3, 2), "1/8 in", "4 in")))),
    Fault("share-above-one-typed", RATING, "A file gives an efficiency of 180 %.",
          retyped(EN, ('value = "80 %"', 'value = "180 %"'))),
    Fault("share-of-nothing", RATING, "An efficiency is nothing.",
          departing(TABLE, banded(band(Fraction(0), "1/8 in", "4 in")))),
    Fault("share-in-floats", RATING, "An efficiency is a float.",
          departing(TABLE, banded(band(0.8, "1/8 in", "4 in")))),
    Fault("share-above-its-bound", RATING, "An efficiency is above the source's own upper bound.",
          departing(TABLE, banded(band(Fraction(9, 10), "1/8 in", "4 in"), most="17/20"))),
    Fault("bound-for-a-value", RATING, "The upper bound of 85 % is given as the efficiency.",
          retyped(BRUNSWICK, ('at_most = "85 %"', 'value = "85 %"\nterminations = ["thimble eye", "linked eyes"]'),
                  valued=True)),
    Fault("bands-that-overlap", RATING, "A size has two efficiencies in a basis.",
          departing(BASIS, banded(band(Fraction(4, 5), "1/8 in", "1 in"), band(Fraction(9, 10), "1 in", "3 in")))),
    Fault("bands-with-a-hole", RATING, "Between two bands of a basis nothing is said.",
          retyped(BASIS, ('below = "1 in"', 'greatest = "7/8 in"'))),
    Fault("row-without-an-efficiency", RATING, "A printed size lies between two bands.",
          departing(TABLE, banded(band(Fraction(4, 5), "1/8 in", "7/8 in"),
                                  band(Fraction(9, 10), "1-1/8 in", "4 in")))),
    Fault("band-turned-round", RATING, "A band ends below its beginning.",
          departing(TABLE, banded(band(Fraction(4, 5), "2 in", "1 in")))),
    Fault("band-that-takes-all", RATING, "A band of large ropes takes small ones too.",
          departing(TABLE, banded(band(Fraction(9, 10), "2 in", "4 in", polite(AnySize)),
                                  band(Fraction(4, 5), "1/8 in", "1-15/16 in")))),
    Fault("rated-for-no-eye", RATING, "An efficiency is for no eye at all.",
          departing(TABLE, banded(band(Fraction(4, 5), "1/8 in", "4 in"), kinds=()))),
    Fault("rated-in-one-text", RATING, "The eyes stand in one text, in which a soft eye is found too.",
          departing(TABLE, lambda r: attrs.evolve(banded(
              band(Fraction(4, 5), "1/8 in", "4 in"), kinds="thimble eye, linked eyes, soft eye, lap splice")(r),
              scope=()))),
    Fault("least-for-greatest", BOUNDS, "Least and greatest distance stand in each other's place.",
          retyped(EN, ('least = "1.5 base widths"', 'least = "3 base widths" '),
                  ('greatest = "3 base widths"', 'greatest = "1.5 base widths"'))),
    Fault("greatest-for-least", BOUNDS, "Six diameters are the most and not the least.",
          retyped(NAVY, ('least = "6 diameters"', 'greatest = "6 diameters"'), valued=True)),
    Fault("equal-for-least", BOUNDS, "Six diameters are exact and not the least.",
          retyped(ARMY, ("least = ", "equal = "), valued=True)),
    Fault("centres-for-clear", BOUNDS, "Clear distances are measured from centre to centre.",
          retyped(EN, ('measured = "clear"', 'measured = "centre to centre"'), valued=True)),
    Fault("clear-for-centres", BOUNDS, "Distances between centres are measured clear.",
          retyped(NAVY, ('measured = "centre to centre"', 'measured = "clear"'), valued=True)),
    Fault("bounds-clash-in-diameters", BOUNDS, "At least six and at most four diameters.",
          departing(EN, spaced(("least", "6", "0", False), ("greatest", "4", "0", False)))),
    Fault("bounds-clash-for-wide-clips", BOUNDS, "At least two base widths and at most six diameters.",
          departing(EN, spaced(("least", "0", "2", False), ("greatest", "6", "0", False)))),
    Fault("bounds-clash-for-narrow-clips", BOUNDS, "At least six diameters and at most three base widths.",
          departing(EN, spaced(("least", "6", "0", False), ("greatest", "0", "3", False)))),
    Fault("bound-below-nothing", BOUNDS, "A least distance is below nothing.",
          departing(EN, spaced(("least", "-1", "0", False)))),
    Fault("distance-without-a-bound", BOUNDS, "Rows print distances, and no word says how they are meant.",
          departing(OSHA, lambda r: attrs.evolve(r, spacing=()))),
    Fault("bound-without-distances", BOUNDS, "A bound means printed distances, and no row prints one.",
          departing(EN, lambda r: attrs.evolve(r, spacing=(SpacingBound("least", False, None, r.citation),)))),
    Fault("bound-a-nanometre-more", BOUNDS, "A distance comes out a nanometre longer than it is written.",
          departing(NAVY, longer(Longer))),
    Fault("bound-a-nanometre-less", BOUNDS, "A distance comes out a nanometre shorter than it is written.",
          departing(NAVY, longer(Shorter))),
    Fault("bound-less-metric", BOUNDS, "Both bounds of a metric source come out a nanometre short.",
          departing(EN, longer(Shorter))),
    Fault("waiver-that-does-not-bite", WAIVERS, "A waiver of falling counts, which do not fall.",
          retyped(TABLE, text=waived("count-never-falls"))),
    Fault("waiver-of-the-wrong-row", WAIVERS, "The count falls at 1 in, and 2 in is waived.",
          retyped(TABLE, text=waived("count-never-falls", "2", ('size = "1", count = 5', 'size = "1", count = 3')))),
    Fault("waiver-of-one-of-two", WAIVERS, "The torque falls twice, and one row is waived.",
          retyped(TABLE, text=waived("torque-never-falls", "1-5/8", ("torque = 430", "torque = 43"),
                                     ('turn_back = "73", torque = 750', 'turn_back = "73", torque = 75')))),
    Fault("waiver-of-another-law", WAIVERS, "The count falls, and it is the torque that is waived.",
          retyped(TABLE, text=waived("torque-never-falls", "1", ('size = "1", count = 5', 'size = "1", count = 3')))),
    Fault("waiver-of-no-law", WAIVERS, "A waiver names a law that nobody knows.",
          retyped(TABLE, text=waived("count-never-fall"))),
    Fault("waiver-of-plans", WAIVERS, "A waiver names a law of plans.", retyped(TABLE, text=waived("admitted"))),
    Fault("one-scope-for-pulleys", SCOPE, "A scope takes every size where its source stops at 1-1/2 in.",
          retyped(SADDLE_POINT, ('sizes = "up to 1-1/2 in"\nconstructions = ["18x7"]', 'constructions = ["18x7"]'),
                  valued=True)),
)  # fmt: skip
