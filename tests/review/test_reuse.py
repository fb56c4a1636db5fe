"""Clips to be used again: common practice of the trade, no source."""

from __future__ import annotations

import pytest

from turnback.errors import InputError
from turnback.review.reuse import ClipVerdict, inspect_clip

ITEMS = {
    "drops_in": "fit",
    "threads_sound": "threads",
    "nuts_run_freely": "nuts",
    "ridges_unworn": "ridges",
    "ridges_ungouged": "gouges",
    "uncorroded": "corrosion",
    "takes_torque": "torque",
}


def asked(**changed: bool | None) -> ClipVerdict:
    return inspect_clip(**{**dict.fromkeys(ITEMS, True), **changed})


def test_a_clip_that_passes_everything_is_kept() -> None:
    assert ("keep", ()) == (asked().answer, asked().reasons)


@pytest.mark.parametrize("field", ITEMS)
def test_one_no_discards_it_and_names_the_reason(field: str) -> None:
    verdict = asked(**{field: False})
    assert ("discard", [(f"clip-{ITEMS[field]}", ITEMS[field], "discard")]) == (
        verdict.answer,
        [(reason.code, reason.item, reason.answer) for reason in verdict.reasons],
    )
    assert "common practice" == verdict.reasons[0].citation.status


@pytest.mark.parametrize("field", ITEMS)
def test_one_question_that_nobody_answered_is_measured_first(field: str) -> None:
    verdict = asked(**{field: None})
    assert ("measure first", [ITEMS[field]]) == (verdict.answer, [reason.item for reason in verdict.reasons])
    assert "nobody has looked" in verdict.reasons[0].text


def test_a_no_outweighs_what_nobody_looked_at_and_comes_first() -> None:
    verdict = inspect_clip(takes_torque=False)
    assert "discard" == verdict.answer
    assert "torque" == verdict.reasons[0].item
    assert set(ITEMS.values()) == {reason.item for reason in verdict.reasons}
    assert str(verdict).startswith(
        "discard\n  discard: torque: the clip does not take its full torque [common practice"
    )


def test_nothing_looked_at_is_never_kept() -> None:
    assert "measure first" == inspect_clip().answer


def test_an_answer_is_yes_no_or_none() -> None:
    with pytest.raises(InputError) as caught:
        inspect_clip(threads_sound="good")  # type: ignore[arg-type]  # wrong on purpose
    assert "threads_sound" == caught.value.field
