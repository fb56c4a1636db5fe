"""A plan as a spreadsheet: numbers as numbers, each with its source in the row. openpyxl; the scenario is invented."""

from __future__ import annotations

import io

from openpyxl import Workbook, load_workbook

import turnback as tb


def workbook(plan: tb.Plan) -> bytes:
    """Write the derivations and the findings of a plan.

    Text from outside is written as text: a cell that begins with a sign that a spreadsheet computes stays a word.
    """
    book = Workbook()
    numbers = book.active
    assert numbers is not None
    numbers.title = "numbers"
    numbers.append(["number", "value", "formula", "status", "source"])
    for each in plan.derivations:
        numbers.append([each.name, each.value, each.formula, each.status, "; ".join(map(str, each.citations))])
    findings = book.create_sheet("findings")
    findings.append(["kind", "code", "text"])
    for finding in plan.findings:
        findings.append([finding.kind, finding.code, finding.text])
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                cell.data_type = "s"
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()


def main() -> str:
    """Write a workbook and read it again."""
    plan = tb.plan("3/4 in 6x19 IWRC EIP", tb.ThimbleEye(), style="u-bolt", rules="us-ca-8-8497", base_width="2-1/4 in")
    sheet = load_workbook(io.BytesIO(workbook(plan)))["numbers"]
    rows = {row[0]: row[1] for row in sheet.iter_rows(min_row=2, values_only=True)}
    return f"turn_back: {rows['turn_back']}"


if __name__ == "__main__":
    print(main())
