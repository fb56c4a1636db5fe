"""The loader of service files: what it reads, and that every wrong key or value is named with its path."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from turnback.errors import InputError
from turnback.quantities import Length
from turnback.rules.ropecarefile import discard_rules, seizing_rules
from turnback.rules.service import ServiceRule
from turnback.rules.servicefile import design_factors, read_service_rules, service_names, service_rules

# An invented service of an invented place.
FILE = """
format = 1

[services]
kite-line = "an invented line that holds a kite"

[jurisdictions]
XX = "an invented place"

[sources]
kite-code = { document = "Kite Code", edition = "second", issuer = "Invented Office", year = 2020 }

[[rules]]
code = "kite-line-clips"
service = ["kite-line", "guy"]
jurisdiction = "XX"
kind = "floor"
text = "At least 4 clips."
styles = ["u-bolt"]
terminations = ["soft eye"]
rule_sets = ["kite-table"]
clip_count_at_least = 4
rope_from = "1/8 in"
rope_below = "13 mm"
spacing = { measured = "clear", least = "1.5 base widths", greatest = "6 diameters + 1 in" }
retorque = ["before first use", "at intervals"]
needs_thimble = true
pin_under_diameters = 3
refuses_terminations = ["lap splice"]
design_factor = 3.5
design_factor_rotation_resistant = "15/2"
efficiency_at_least = "92.5 %"
rope_at_least = "6 mm"
grades = ["1770"]
forged_only_confirm = true
source = "kite-code"
locator = "article 3"
status = "memory"
note = "printed twice"
"""


def read(tmp_path: Path, text: str) -> tuple[ServiceRule, ...]:
    file = tmp_path / "kites.toml"
    file.write_text(text, encoding="utf-8")
    return read_service_rules(file)


def refusal(tmp_path: Path, text: str) -> InputError:
    with pytest.raises(InputError) as caught:
        read(tmp_path, text)
    return caught.value


def test_every_key_is_read_exactly(tmp_path: Path) -> None:
    line, guy = read(tmp_path, FILE)
    assert ("kite-line", "an invented line that holds a kite") == (line.service, line.use)
    assert ("guy", dict(service_names())["guy"]) == (guy.service, guy.use)
    assert ("XX", "floor", "kite-line-clips") == (line.jurisdiction, line.kind, line.code)
    assert (("u-bolt",), ("soft eye",), ("kite-table",)) == (line.styles, line.terminations, line.rule_sets)
    assert (4, 3) == (line.clip_count_at_least, line.pin_under_diameters)
    assert (Length(3_175_000), Length(13_000_000), Length(6_000_000)) == (
        line.rope_from,
        line.rope_below,
        line.rope_at_least,
    )
    assert ("before first use", "at intervals") == line.retorque
    assert (Fraction(7, 2), Fraction(15, 2)) == (line.design_factor, line.design_factor_rotation_resistant)
    assert Fraction(925, 1000) == line.efficiency_at_least
    assert (True, True) == (line.needs_thimble, line.forged_only_confirm)
    assert (("lap splice",), ("1770",)) == (line.refuses_terminations, line.grades)
    assert ("Kite Code", "second", "Invented Office", 2020) == (
        line.citation.source.document,
        line.citation.source.edition,
        line.citation.source.issuer,
        line.citation.source.year,
    )
    assert ("article 3", "memory", "printed twice") == (
        line.citation.locator,
        line.citation.status,
        line.citation.note,
    )


def test_both_bounds_of_a_distance_are_read_exactly(tmp_path: Path) -> None:
    least, greatest = read(tmp_path, FILE)[0].spacing
    assert (True, True) == (least.clear, greatest.clear)
    # On 10 mm rope with a base width of 20 mm: 1.5 x 20 mm; 6 x 10 mm + 25.4 mm.
    rope, base = Length.of("10 mm"), Length.of("20 mm")
    assert least.length is not None
    assert greatest.length is not None
    assert ["least", "greatest"] == [least.bound, greatest.bound]
    assert Fraction(30_000_000) == least.length.nanometres(rope, base)
    assert Fraction(85_400_000) == greatest.length.nanometres(rope, base)


@pytest.mark.parametrize(
    ("old", "new", "field", "hint"),
    [
        ('kind = "floor"', 'kind = "flor"', "rules[0].kind", "Did you mean floor?"),
        ('"kite-line", "guy"', '"kite-lin", "guy"', "rules[0].service", "Did you mean kite-line?"),
        ('jurisdiction = "XX"', 'jurisdiction = "XXX"', "rules[0].jurisdiction", "Did you mean XX?"),
        ("needs_thimble = true", "need_thimble = true", "rules[0].need_thimble", "Did you mean needs_thimble?"),
        ("needs_thimble = true", 'needs_thimble = "yes"', "rules[0].needs_thimble", ""),
        ("clip_count_at_least = 4", "clip_count_at_least = true", "rules[0].clip_count_at_least", ""),
        ("clip_count_at_least = 4", "clip_count_at_least = 4.0", "rules[0].clip_count_at_least", ""),
        ("design_factor = 3.5", "design_factor = 0.5", "rules[0].design_factor", ""),
        ("design_factor = 3.5", "design_factor = 3e1", "rules[0].design_factor", ""),
        ('"92.5 %"', '"192.5 %"', "rules[0].efficiency_at_least", ""),
        ('"13 mm"', '"13"', "rules[0].rope_below", ""),
        ('"13 mm"', '"1/16 in"', "rules[0].rope_below", ""),
        ('"clear"', '"edge to edge"', "rules[0].spacing.measured", ""),
        ('"1.5 base widths"', '"1.5 widths"', "rules[0].spacing.least", ""),
        ('{ measured = "clear", least', '{ measured = "clear", last', "rules[0].spacing.last", "Did you mean least?"),
        (
            '"before first use", "at',
            '"before the first use", "at',
            "rules[0].retorque",
            "Did you mean before first use?",
        ),
        ('["lap splice"]', '["lap splices"]', "rules[0].refuses_terminations", "Did you mean lap splice?"),
        ('["1770"]', '["1771"]', "rules[0].grades", "Did you mean 1770?"),
        ('status = "memory"', 'status = "recalled"', "rules[0].status", ""),
        ('source = "kite-code"', 'source = "kite-cod"', "rules[0].source", "Did you mean kite-code?"),
        ('locator = "article 3"', 'locator = ""', "rules[0].locator", ""),
        ('locator = "article 3"\n', "", "rules[0].locator", ""),
        ('text = "At least 4 clips."', "text = 4", "rules[0].text", ""),
        ("year = 2020", "year = -1", "sources.kite-code.year", ""),
        ("kite-code = {", "8-ccr = {", "sources.8-ccr", ""),
        ("kite-line = ", "guy = ", "services.guy", ""),
        ("XX = ", "any = ", "jurisdictions.any", ""),
        ("format = 1", "format = 2", "format", "Write format = 1"),
        ("format = 1", "", "format", "Write format = 1"),
        ("[services]", "[service]", "service", "Did you mean services?"),
        ("[[rules]]", "[[factors]]", "factors", ""),
    ],
)
def test_a_wrong_key_or_value_is_named_with_its_path(tmp_path: Path, old: str, new: str, field: str, hint: str) -> None:
    assert old in FILE
    error = refusal(tmp_path, FILE.replace(old, new, 1))
    assert field == error.field
    assert "kites.toml" in error.problem
    assert hint in error.instead


def test_a_code_belongs_to_one_rule(tmp_path: Path) -> None:
    rule = FILE[FILE.index("[[rules]]") :]
    assert "rules[1].code" == refusal(tmp_path, FILE + rule).field


def test_a_service_that_nobody_declares_is_refused_with_the_way_to_declare_it(tmp_path: Path) -> None:
    error = refusal(tmp_path, FILE.replace('"kite-line", "guy"', '"balloon"', 1))
    assert '[services], then balloon = "what it is".' in error.instead


def test_a_file_without_rules_is_refused(tmp_path: Path) -> None:
    head = FILE[: FILE.index("[[rules]]")]
    assert "rules" == refusal(tmp_path, head).field
    assert "rules" == refusal(tmp_path, "rules = []\n" + head).field


@pytest.mark.parametrize("text", ["format = ", "format = 1\nformat = 1", "rules = [[]"])
def test_what_is_no_toml_is_refused(tmp_path: Path, text: str) -> None:
    assert "kites.toml" == refusal(tmp_path, text).field


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        read_service_rules(tmp_path / "nowhere.toml")
    assert "nowhere.toml" in caught.value.value


def test_a_file_of_other_bytes_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "bytes.toml"
    file.write_bytes(b"\xff\xfe")
    with pytest.raises(InputError) as caught:
        read_service_rules(file)
    assert "bytes.toml" == caught.value.field


def test_the_codes_of_the_core_name_one_paragraph_each() -> None:
    places: dict[str, set[str]] = {}
    for rule in service_rules():
        places.setdefault(rule.code, set()).add(f"{rule.citation} {rule.text}")
    assert [1] * len(places) == [len(each) for each in places.values()]


def test_a_source_has_one_content_in_all_the_files_that_ship() -> None:
    citations = [rule.citation for rule in service_rules()] + [factor.citation for factor in design_factors()]
    citations += [rule.citation for rule in seizing_rules()] + [rule.citation for rule in discard_rules()]
    sources = {citation.source for citation in citations}
    assert len(sources) == len({source.id for source in sources})
