"""Design, section 9: whatever text is given, the answer is a plan or an error of the tree, and never a traceback."""

from __future__ import annotations

import contextlib
import io
from collections.abc import Callable, Iterator, Sequence

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from tests.strategies import BOOK, CATALOGUE

from turnback.cli.main import main
from turnback.errors import TurnbackError
from turnback.model.rope import Rope
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    ThimbleEye,
)
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures

LENGTHS = (
    "1/2 in",
    "2-1/4 in",
    '1 1/2"',
    "57.15 mm",
    "4 ft 6 in",
    "0.75 in",
    "1.2 m",
    "13 mm",
    "0 in",
    "2,25 in",
    "½ in",
)
ROPES = (
    "3/4 in 6x19 IWRC EIP",
    "13 mm 6x36WS-IWRC 1960 sZ",
    "1/8 in 7x19 galvanized coated 3/16 in stripped",
    "1/2 in 8x19 FC IPS right regular rotation-resistant",
    "1/2 in 1x19",
    "3/4 in 6x19 Seale IWRC EIP used",
)
FORCES = ("5 kN", "26600 lbf", "11.5 short tonf", "10 ton", "1e3 N", "500 lb")
TORQUES = ("65 lbf·ft", "88 N·m", "65 lbf·ft (88 N·m)", "65 ft-lb")
ANGLES = ("60 deg", "60°", "1.05 rad", "120 deg")
SHARES = ("80 %", "80%", "0.8", "101 %")
IDS = tuple(rules.id for rules in (*CATALOGUE.rule_sets, *CATALOGUE.bases))
STYLES = tuple(style.id for style in CATALOGUE.styles)
CHOICES = (*IDS, "us-ca-8-8497+us-osha-1926-251", "en-13411-5,us-navy-14026", "us-navy-14026+", ",", "a+b,c")

_ANY = st.text(max_size=90) | st.text(st.characters(codec="ascii"), max_size=20)
_PLACE = st.integers(0, 40)
_INSERT = st.sampled_from(
    (" ", "-", "/", ".", "0", "9", "in", "mm", "½", "٣", "²", "\0", "\n", "%", "{", "}", "é", "\ud800")
)


def bent(good: Sequence[str]) -> st.SearchStrategy[str]:
    """Good text, good text with something put into it, cut or doubled, and any text at all."""
    one = st.sampled_from(good)
    put = st.builds(lambda text, at, more: text[:at] + more + text[at:], one, _PLACE, _INSERT)
    cut = st.builds(lambda text, at: text[:at] + text[at + 1 :], one, _PLACE)
    return one | put | cut | st.builds(str.__add__, one, one) | _ANY


def maybe(good: Sequence[str]) -> st.SearchStrategy[str | None]:
    return st.none() | bent(good)


lengths = maybe(LENGTHS)


def answered(make: Callable[[], object]) -> bool:
    """Call, and tell whether there is an answer; anything but an error of the tree passes through."""
    try:
        found = make()
    except TurnbackError as refusal:
        error: Exception = refusal
    else:
        return found is not None
    assert str(error)
    assert isinstance(error, (ValueError, LookupError, ImportError, AttributeError))
    return False


eyes: st.SearchStrategy[Termination] = st.sampled_from(
    (
        ThimbleEye(),
        ThimbleEye("3-3/4 in", "2-3/8 in", "1/8 in"),
        SoftEye(),
        PulleyEye("12 in"),
        LinkedEyes(),
        LapSplice(),
        PlateEye(),
    )
)


@given(
    bent(ROPES), eyes, bent(STYLES), maybe(CHOICES), bent(("forged", "other", "not given")), lengths, lengths,
    maybe(("invented sheet 7",)), maybe(BOOK.services), maybe(BOOK.jurisdictions), maybe(FORCES), maybe(IDS),
)  # fmt: skip
def test_any_text_for_any_argument_of_a_plan_gives_a_plan_or_an_error_of_the_tree(
    rope: str,
    eye: Termination,
    style: str,
    rules: str | None,
    body: str,
    base_width: str | None,
    clip_size: str | None,
    word: str | None,
    service: str | None,
    jurisdiction: str | None,
    load: str | None,
    basis: str | None,
) -> None:
    """Fuzz: all text arguments of tb.plan at once."""

    def make() -> Plan:
        return plan(
            rope, eye, style=style, rules=rules, clip_body=body, base_width=base_width, clip_size=clip_size,
            clip_size_citation=word, service=service, jurisdiction=jurisdiction, load=load, efficiency_basis=basis,
            catalogue=CATALOGUE,
        )  # fmt: skip

    answered(make)


GOOD = {
    "rope": "3/4 in 6x19 IWRC EIP",
    "style": "u-bolt",
    "rules": "us-ca-8-8497",
    "clip_body": "forged",
    "base_width": "2-1/4 in",
    "service": "guy",
    "jurisdiction": "US",
    "load": "5 kN",
    "efficiency_basis": "common-practice-efficiency",
}
WORDS = {
    "rope": ROPES,
    "style": STYLES,
    "rules": CHOICES,
    "clip_body": ("forged", "other", "not given"),
    "base_width": LENGTHS,
    "service": BOOK.services,
    "jurisdiction": BOOK.jurisdictions,
    "load": FORCES,
    "efficiency_basis": IDS,
}


@pytest.mark.parametrize("field", GOOD)
def test_any_text_for_one_argument_of_a_good_plan_gives_a_plan_or_an_error_of_the_tree(field: str) -> None:
    """Fuzz: one text argument of tb.plan at a time, the others good, so that its own text decides."""

    def made(words: dict[str, str]) -> Plan:
        return plan(
            words["rope"], ThimbleEye(), style=words["style"], rules=words["rules"], clip_body=words["clip_body"],
            base_width=words["base_width"], service=words["service"], jurisdiction=words["jurisdiction"],
            load=words["load"], efficiency_basis=words["efficiency_basis"], catalogue=CATALOGUE,
        )  # fmt: skip

    @given(bent(WORDS[field]))
    def law(text: str) -> None:
        answered(lambda: made({**GOOD, field: text}))

    assert answered(lambda: made(GOOD))
    law()


@given(lengths, lengths, lengths, maybe(ANGLES))
def test_any_text_for_a_dimension_gives_an_eye_or_an_error_of_the_tree(
    one: str | None, two: str | None, three: str | None, angle: str | None
) -> None:
    """Fuzz: the dimensions of every kind of eye."""
    answered(lambda: ThimbleEye(one, two, three))
    answered(lambda: SoftEye(one, two))
    answered(lambda: PulleyEye(one, angle))
    answered(lambda: PlateEye(None, one))


@given(bent(("invented sheet 8",)), maybe(TORQUES), bent(("dry", "greased", "")), maybe(SHARES))
def test_any_text_of_the_clip_maker_gives_figures_or_an_error_of_the_tree(
    word: str, torque: str | None, threads: str, share: str | None
) -> None:
    """Fuzz: what a user copies from the clip maker's sheet."""
    answered(lambda: MakerFigures(word, torque, threads, share))


@given(bent(ROPES))
def test_a_rope_that_was_read_is_read_back_from_its_own_text(text: str) -> None:
    """Fuzz: what is taken as a rope is written so that it reads back as the same rope."""
    try:
        rope = Rope.parse(text)
    except TurnbackError:
        return
    assert rope == Rope.parse(str(rope))


# --- the command line ---

FLAGS: dict[str, Sequence[str]] = {
    "--style": STYLES, "--rules": CHOICES, "--eye": ("thimble", "soft", "pulley", "linked", "lap", "plate", "round"),
    "--thimble-length": LENGTHS, "--thimble-width": LENGTHS, "--groove-offset": LENGTHS, "--pin": LENGTHS,
    "--eye-length": LENGTHS, "--tread-diameter": LENGTHS, "--included-angle": ANGLES, "--parts-apart": LENGTHS,
    "--clip-body": ("forged", "other", "not given"), "--base-width": LENGTHS, "--clip-size": LENGTHS,
    "--clip-size-citation": ("invented sheet 9",), "--extra-clips": ("0", "3", "-1", "1.5", "101", "9" * 5000),
    "--maker-citation": ("invented sheet 9",), "--maker-torque": TORQUES, "--maker-threads": ("dry", "greased"),
    "--maker-efficiency": SHARES, "--service": BOOK.services, "--jurisdiction": BOOK.jurisdictions, "--load": FORCES,
    "--efficiency-basis": IDS, "--breaking-force": FORCES, "--mass-per-length": ("0.9 kg/m", "0.59 lb/ft"),
    "--certificate": ("certificate 7",), "--measured-diameter": LENGTHS,
}  # fmt: skip
PLANNED = ["plan", "3/4 in 6x19 IWRC EIP", "--style", "u-bolt", "--rules", "us-ca-8-8497"]
CODES = {0, 2, 3, 4, 5, 6, 7}

a_flag = st.sampled_from(sorted(FLAGS)).flatmap(lambda flag: bent(FLAGS[flag]).map(lambda text: [flag, text]))
flags = st.lists(a_flag | st.sampled_from((["--json"], ["--help"], ["--version"], ["--nonsense"])), max_size=4)
WHOLE = ("plan", "rules", "--json", "--style", "--services", "--", "-", "--help", *IDS, *ROPES)
lists = st.lists(_ANY | st.sampled_from(WHOLE), max_size=6)


class Console(io.TextIOWrapper):
    """A terminal that shows nothing but ASCII and refuses the rest, as some still do."""

    def __init__(self) -> None:
        super().__init__(io.BytesIO(), encoding="ascii", errors="strict", newline="")

    def shown(self) -> str:
        self.flush()
        buffer = self.buffer
        assert isinstance(buffer, io.BytesIO)
        return buffer.getvalue().decode("ascii")


@contextlib.contextmanager
def consoles() -> Iterator[tuple[Console, Console]]:
    out, err = Console(), Console()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        yield out, err


def assert_calm(arguments: list[str]) -> int:
    with consoles() as (out, err):
        code = main(arguments)
    assert code in CODES
    assert "Traceback" not in err.shown()
    if code in (2, 3, 4, 7) and "--help" not in arguments:
        assert err.shown().strip() or out.shown().strip()
    return code


@given(flags)
@example([["--rules", "\0.toml"]])
@example([["--rules", "/"]])
@example([["--rules", "/dev/null"]])
@example([["--extra-clips", "٣"]])
def test_any_flag_of_a_plan_ends_in_an_exit_code_and_no_traceback(more: list[list[str]]) -> None:
    """Fuzz: flags of ``turnback plan`` with any text behind them, exit code 0 or 2 to 7."""
    assert_calm([*PLANNED, *(word for flag in more for word in flag)])


@given(lists)
def test_any_list_of_arguments_ends_in_an_exit_code_and_no_traceback(arguments: list[str]) -> None:
    """Fuzz: any list of arguments whatever, exit code 0 or 2 to 7."""
    assert_calm(arguments)


@given(st.lists(bent(("rules", "--style", *STYLES, *IDS, "--json", "--services", "us-ca-8-8497.toml")), max_size=3))
def test_any_arguments_of_the_rules_command_end_in_an_exit_code_and_no_traceback(more: list[str]) -> None:
    """Fuzz: ``turnback rules`` with anything behind it."""
    assert_calm(["rules", *more])


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ([], 0),
        (["--base-width", "2-1/4 in", "--json"], 0),
        (["--base-width", "2.25"], 2),
        (["--rules", "us-ca-8-8498"], 3),
        (["--rules", "us-ca-8-8497+en-13411-5"], 4),
        (["--service", "elevator", "--jurisdiction", "CA-QC", "--base-width", "2-1/4 in"], 0),
        (["--service", "elevator", "--jurisdiction", "CA-QC", "--base-width", "2 in"], 4),
        (["--service", "sling", "--jurisdiction", "US"], 5),
        (["--service", "wedge-socket", "--jurisdiction", "US"], 6),
    ],
)
def test_the_exit_code_says_what_came_of_it(more: list[str], code: int) -> None:
    """The laws above are not empty: each exit code but that of a broken plugin is reached."""
    assert code == assert_calm([*PLANNED, *more])
