"""A frame of joints in, counts and turn-backs out; a row without a plan keeps its reason. The joints are invented."""

from __future__ import annotations

import pandas as pd

import turnback as tb

JOINTS = pd.DataFrame(
    {
        "joint": ["mast 1 north", "mast 1 south", "fence 4"],
        "rope": ["1/2 in 6x19 IWRC EIP", "3/4 in 6x19 IWRC EIP", "13 mm 6x19 IWRC"],
        "base_width": ["1-1/2 in", "2-1/4 in", "1-1/2 in"],
    }
)


def planned(row: pd.Series[str]) -> pd.Series[str]:
    """Plan one row; an error becomes text beside it, and nothing is dropped."""
    try:
        plan = tb.plan(
            row["rope"],
            tb.ThimbleEye(),
            style="u-bolt",
            rules="us-ca-8-8497",
            base_width=row["base_width"],
            service="guy",
        )
    except tb.TurnbackError as error:
        return pd.Series({"clips": "", "turn_back": "", "problem": error.problem})
    return pd.Series({"clips": str(plan.clip_count), "turn_back": str(plan.turn_back), "problem": ""})


def main() -> str:
    """Plan the frame."""
    frame = JOINTS.join(JOINTS.apply(planned, axis=1))
    assert len(frame) == len(JOINTS)
    told = frame["problem"].where(frame["problem"] != "", frame["turn_back"])
    return "; ".join(joint + ": " + text for joint, text in zip(frame["joint"], told, strict=True))


if __name__ == "__main__":
    print(main())
