"""What a rule file's author wrote, as findings say it."""

from __future__ import annotations

import pytest
from tests.sheets import sheet_text

import turnback as tb


@pytest.mark.parametrize("written", ["the maker asks for more", "the maker asks for more."])
def test_a_text_to_confirm_ends_with_one_full_stop(written: str) -> None:
    text = sheet_text("stops").replace("count = 3\n", f'count = 3\nconfirm = "{written}"\nconfirm_status = "read"\n')
    plan = tb.plan("1/2 in", tb.ThimbleEye(), style="u-bolt", rules=tb.parse_rules(text))
    said = [finding.text for finding in plan.findings if finding.code == "row-to-confirm"]
    assert ["stops: the maker asks for more."] == said
