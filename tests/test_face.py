"""The public face: light to import, one list in three places, and errors that carry their facts."""

from __future__ import annotations

import ast
import copy
import importlib
import inspect
import pickle
import subprocess
import sys
from pathlib import Path

import pytest
from mypy import api

import turnback
from turnback import errors

HEAVY = ("pint", "numpy", "hypothesis", "sympy", "mpmath", "scipy")
SOURCE = Path(turnback.__file__)
FACE = sorted(turnback.__all__)


def loaded_after(program: str) -> set[str]:
    """Names of all modules that a fresh interpreter holds after a program."""
    command = [sys.executable, "-c", program + "\nimport sys; print(*sys.modules)"]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
    assert (0, "") == (done.returncode, done.stderr)
    return set(done.stdout.split())


# --- what it costs ---


@pytest.fixture(scope="module")
def bare() -> set[str]:
    """What any interpreter holds before a library is imported; ``__future__`` is no library."""
    return loaded_after("import __future__")


def test_importing_the_face_loads_nothing_else(bare: set[str]) -> None:
    assert {"turnback"} == loaded_after("import turnback") - bare


def test_listing_the_face_loads_nothing_either(bare: set[str]) -> None:
    assert {"turnback"} == loaded_after("import turnback; dir(turnback); turnback.__all__") - bare


@pytest.mark.parametrize("gone", ["Lenght", "plans", "_Length"])
def test_a_misspelt_name_loads_nothing_either(bare: set[str], gone: str) -> None:
    program = f"import turnback\ntry:\n    turnback.{gone}\nexcept AttributeError:\n    pass"
    assert {"turnback"} == loaded_after(program) - bare


WHOLE_PLAN = """
import turnback as tb
plan = tb.plan(
    "3/4 in 6x19 IWRC EIP", tb.ThimbleEye("4-1/2 in", "2-3/8 in", "1/8 in"), style="u-bolt",
    rules=tb.governing("us-ca-8-8497", "us-osha-1926-251"), clip_body="forged", base_width="2-1/4 in", service="guy",
    jurisdiction="US", load="5 kN",
)
# All of it: what is made on demand too.
str(plan), plan.marks, plan.procedure, plan.bill, tuple(plan.derivations), plan.citations, plan.tape
plan.working_load(), tb.breaches(plan.members[0].rules, plan.joint), tb.cut_length(span="40 ft", ends=(plan, plan))
assert plan.clip_count == 4 and plan.clips and not tb.Catalogue.installed().failures
"""


def test_a_whole_plan_without_quantities_loads_no_heavy_library() -> None:
    loaded = loaded_after(WHOLE_PLAN)
    assert {"turnback_ubolt", "turnback_mirrored_saddle", "turnback_plate"} <= loaded
    assert set() == {name.partition(".")[0] for name in loaded} & set(HEAVY)


# --- one list in three places ---


def type_checked_names() -> dict[str, str]:
    """Names that a type checker sees, with their modules, as the source is written."""
    tree = ast.parse(SOURCE.read_text(encoding="utf-8"))
    guarded = [
        node
        for node in tree.body
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
    ]
    assert 1 == len(guarded)
    found: dict[str, str] = {}
    for node in guarded[0].body:
        assert isinstance(node, ast.ImportFrom)
        for alias in node.names:
            # ``X as X`` is what makes an import public for a strict type checker.
            assert alias.name == alias.asname
            assert alias.name not in found
            assert node.module is not None
            found[alias.name] = node.module
    return found


def interpreted_names() -> dict[str, str]:
    """Names that the interpreter finds, with their modules, as the source is written."""
    tree = ast.parse(SOURCE.read_text(encoding="utf-8"))
    places = next(
        node.value for node in tree.body if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "_PLACES"
    )
    table: dict[str, tuple[str, ...]] = ast.literal_eval(places)
    names = [name for listed in table.values() for name in listed]
    assert len(names) == len(set(names))
    return {name: module for module, listed in table.items() for name in listed}


def test_type_checker_and_interpreter_see_the_same_names_in_the_same_modules() -> None:
    assert type_checked_names() == interpreted_names()


def test_all_and_dir_list_them() -> None:
    assert sorted(type_checked_names()) == list(turnback.__all__)
    assert set(turnback.__all__) <= set(dir(turnback))
    assert {"__version__"} <= set(dir(turnback))
    # Nothing public stands beside the list, whatever was used before in this process.
    others = {name for name in dir(turnback) if not name.startswith("_")} - set(turnback.__all__)
    submodules = {name for name in others if f"turnback.{name}" in sys.modules}
    assert {"annotations", "TYPE_CHECKING"} == others - submodules


def test_every_floor_that_people_use_from_python_is_on_the_face() -> None:
    """Names that the design promises (section 13); the list grows with the library and never shrinks."""
    promised = {
        "Rope", "plan", "ThimbleEye", "SoftEye", "PulleyEye", "LinkedEyes", "LapSplice", "PlateEye", "cut_length",
        "governing", "first_of", "Catalogue", "read_rules", "possible", "TurnbackError",
    }  # fmt: skip
    assert set() == promised - set(turnback.__all__)


@pytest.mark.parametrize("name", FACE)
def test_every_name_is_there_and_is_the_same_object_as_in_its_module(name: str) -> None:
    module = importlib.import_module(interpreted_names()[name])
    assert getattr(module, name) is getattr(turnback, name)
    assert name in module.__all__
    # A second use does not go through the look-up any more.
    assert name in vars(turnback)


@pytest.mark.parametrize("name", FACE)
def test_every_name_goes_to_another_process_and_back(name: str) -> None:
    value = getattr(turnback, name)
    for protocol in range(pickle.HIGHEST_PROTOCOL + 1):
        assert value is pickle.loads(pickle.dumps(value, protocol))


@pytest.mark.parametrize("name", FACE)
def test_every_name_is_documented(name: str) -> None:
    assert inspect.getdoc(getattr(turnback, name))


@pytest.mark.parametrize("misspelt", ["Lenght", "palns", "Plans", "ThimbelEye", "plan_", "quantity"])
def test_a_misspelt_name_is_an_attribute_error(misspelt: str) -> None:
    with pytest.raises(AttributeError, match=misspelt):
        getattr(turnback, misspelt)
    assert not hasattr(turnback, misspelt)
    with pytest.raises(ImportError):
        exec(f"from turnback import {misspelt}", {})


def test_a_misspelt_name_is_a_type_error_and_a_right_one_has_its_type(tmp_path: Path) -> None:
    right = ["tb." + name for name in FACE]
    right += ["plan: tb.Plan", "plan.clip_count + 1", "tb.Length.of('1/2 in')", "tb.governing('a', 'b')"]
    wrong = ["tb.Lenght", "tb.palns()", "from turnback import Plans", "tb.Length.off('1/2 in')", "tb.plan('1/2 in')"]
    lines = ["import turnback as tb", *right, *wrong]
    snippet = tmp_path / "snippet.py"
    snippet.write_text("\n".join(lines) + "\n", encoding="utf-8")
    out, err, _ = api.run(
        ["--strict", "--config-file=", f"--cache-dir={tmp_path}", "--no-error-summary", "--no-pretty", str(snippet)]
    )
    assert not err
    reported = {lines[int(line.split(":")[1]) - 1] for line in out.splitlines() if ": error:" in line}
    assert set(wrong) == reported, out


# --- the error tree ---

TREE: dict[str, type[Exception]] = {
    "AbsentError": AttributeError,
    "Conflict": ValueError,
    "Forbidden": ValueError,
    "InputError": ValueError,
    "OutOfScope": ValueError,
    "OutOfTable": LookupError,
    "PluginError": ImportError,
    "UnknownRuleSet": LookupError,
    "UnknownStyle": LookupError,
}
FACTS = {
    "field": "turn_back",
    "value": "'5'",
    "bound": "at least 6 in",
    "citation": "29 CFR 1926.251, Table H-2",
    "instead": "Write '5 in'.",
}


def kinds() -> list[type[errors.TurnbackError]]:
    """Every class of error that the module defines."""
    defined = [each for each in vars(errors).values() if isinstance(each, type) and issubclass(each, BaseException)]
    tree = [each for each in defined if issubclass(each, errors.TurnbackError)]
    assert defined == tree
    return tree


def test_the_tree_is_whole_and_public() -> None:
    assert {*TREE, "TurnbackError"} == {kind.__name__ for kind in kinds()} == set(errors.__all__)
    assert set(errors.__all__) <= set(turnback.__all__)


@pytest.mark.parametrize("name", TREE)
def test_every_error_is_in_the_tree_and_a_built_in_too(name: str) -> None:
    kind = getattr(turnback, name)
    assert issubclass(kind, turnback.TurnbackError)
    assert issubclass(kind, TREE[name])
    with pytest.raises(TREE[name]):
        raise kind("it is too short")
    with pytest.raises(turnback.TurnbackError):
        raise kind("it is too short")


def facts_of(error: errors.TurnbackError) -> dict[str, str]:
    return {name: getattr(error, name) for name in ("problem", *FACTS)}


@pytest.mark.parametrize("kind", kinds(), ids=lambda kind: kind.__name__)
def test_every_error_carries_its_facts_through_pickle_and_copy(kind: type[errors.TurnbackError]) -> None:
    error = kind("it is too short", **FACTS)
    error.add_note("seen by the host")
    facts = {"problem": "it is too short", **FACTS}
    assert facts == facts_of(error)
    others = [pickle.loads(pickle.dumps(error, each)) for each in range(pickle.HIGHEST_PROTOCOL + 1)]
    for other in (*others, copy.copy(error), copy.deepcopy(error)):
        assert kind is type(other)
        assert facts == facts_of(other)
        assert (str(error), error.args, error.__notes__) == (str(other), other.args, other.__notes__)


@pytest.mark.parametrize("kind", kinds(), ids=lambda kind: kind.__name__)
def test_every_error_writes_all_that_it_knows_in_one_line(kind: type[errors.TurnbackError]) -> None:
    expected = (
        "turn_back: it is too short. Given: '5'. Bound: at least 6 in. Source: 29 CFR 1926.251, Table H-2. "
        "Write '5 in'."
    )
    assert expected == str(kind("it is too short", **FACTS))
    # What is not known leaves no gap.
    assert "it is too short." == str(kind("it is too short"))
    assert dict.fromkeys(FACTS, "") == {name: getattr(kind("it is too short"), name) for name in FACTS}
