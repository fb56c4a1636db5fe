"""Installed distributions that are broken, all of them at once: what a fresh process finds and says of each."""

from __future__ import annotations

import base64
import json
import os
import pickle
import subprocess
import sys
from pathlib import Path

import attrs
import pytest

from turnback.rules.catalogue import Catalogue
from turnback.rules.loading import Origin, Supplied, load_installed
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet

INVENTED = Path(__file__).parent / "data" / "invented-rule.toml"


def invented(rules_id: str) -> RuleSet:
    """An invented rule set under another name."""
    return parse_rules(INVENTED.read_text(encoding="utf-8").replace("invented-rule", rules_id, 1), "invented")


HEAD = "from turnback.rules.hookspecs import hookimpl\n"


def hook(result: str, name: str = "turnback_rule_sets") -> str:
    return f"{HEAD}@hookimpl\ndef {name}():\n    return {result}\n"


def rule_set(rules_id: str) -> str:
    text = repr(INVENTED.read_text(encoding="utf-8").replace("invented-rule", rules_id, 1))
    return f"from turnback.rules.rulefile import parse_rules\n{hook(f'(parse_rules({text}),)')}"


# Name of the distribution: the module, what its entry point names in it, what the reason must say.
BROKEN: dict[str, tuple[str, str, str]] = {
    "import-error": ("import no_such_module_anywhere", "", "no_such_module_anywhere"),
    "syntax-error": ("def broken(:", "", "SyntaxError"),
    "no-such-attribute": (hook("()"), ":nothing_of_this_name", "nothing_of_this_name"),
    "system-exit": ("raise SystemExit('leaving')", "", "SystemExit: leaving"),
    "quiet-exit": ("import sys\nsys.exit()", "", "SystemExit"),
    "base-exception": ("class Odd(BaseException): pass\nraise Odd('odd')", "", "Odd: odd"),
    "recursion": ("def f(): return f()\nf()", "", "RecursionError"),
    "memory": ("raise MemoryError", "", "MemoryError: no message"),
    "returns-list": (hook("[]"), "", "turnback_rule_sets returned list; it must return a tuple of RuleSet"),
    "returns-text": (hook("'us-ca-8-8497'"), "", "turnback_rule_sets returned str"),
    "returns-generator": (hook("(x for x in ())"), "", "turnback_rule_sets returned generator"),
    "returns-one-style": (hook("5", "turnback_styles"), "", "turnback_styles returned int"),
    "wrong-items": (hook("('us-ca-8-8497',)"), "", "turnback_rule_sets returned a tuple with str"),
    "wrong-kind-of-item": (
        f"from turnback_ubolt.styles import U_BOLT\n{hook('(U_BOLT,)', 'turnback_service_rules')}",
        "",
        "turnback_service_rules returned a tuple with SeriesStyle; each must be a ServiceRule",
    ),
    "class-not-instance": (
        f"{HEAD}class Plugin:\n    @hookimpl\n    def turnback_styles(self):\n        return ()\n",
        ":Plugin",
        "names a class",
    ),
    "no-hook": ("def turnback_styles():\n    return ()\n", "", "implements no hook"),
    "misspelt-hook": (hook("()", "turnback_style"), "", "unknown hook 'turnback_style'"),
    # One hook that is right does not hide another that is not.
    "half-misspelt-hooks": (hook("()") + hook("()", "turnback_servicerules"), "", "'turnback_servicerules'"),
    "hook-with-argument": (
        f"{HEAD}@hookimpl\ndef turnback_styles(catalogue):\n    return ()\n",
        "",
        "catalogue",
    ),
    "hook-raises": (f"{HEAD}@hookimpl\ndef turnback_styles():\n    raise OSError('no disk')\n", "", "OSError: no disk"),
    "hook-leaves": (f"{HEAD}@hookimpl\ndef turnback_styles():\n    raise SystemExit(3)\n", "", "SystemExit: 3"),
    "unreadable-error": (
        "class Mute(Exception):\n    def __str__(self): raise RuntimeError('no')\nraise Mute",
        "",
        "Mute: its message cannot be read",
    ),
    "many-lines": ("raise ValueError('one\\n\\ntwo\\tthree')", "", "ValueError: one two three"),
    "endless-message": ("raise ValueError('x' * 10**6)", "", "ValueError: xxx"),
    "broken-rule-file": (
        "from turnback.rules.rulefile import parse_rules\n" + hook("(parse_rules('format = 1'),)"),
        "",
        "InputError",
    ),
    "takes-the-name-of-a-basis": (rule_set("common-practice-efficiency"), "", "common-practice-efficiency"),
    "claims-the-same-one": (rule_set("claimed-twice"), "", "claimed-twice"),
    "claims-the-same-two": (rule_set("claimed-twice"), "", "claimed-twice"),
    "claims-an-installed-one": (rule_set("us-navy-14026"), "", "us-navy-14026"),
}  # fmt: skip
ENTRY = "Broken"

ASK = """
import base64, json, pickle, sys
import turnback as tb
catalogue = tb.Catalogue.installed()
asked = {}
for name in ("claimed-twice", "us-navy-14026", "nowhere"):
    try:
        asked[name] = str(catalogue.rule_set(name))
    except tb.TurnbackError as error:
        asked[name] = [type(error).__name__, str(error)]
plan = tb.plan("3/4 in 6x19 IWRC EIP", tb.ThimbleEye(), style="u-bolt", rules="us-ca-8-8497", clip_body="forged")
print(json.dumps({
    "failures": [[f.origin.distribution, f.origin.version, f.origin.entry_point, f.reason] for f in catalogue.failures],
    "asked": asked,
    "clips": plan.clip_count,
    "parts": base64.b64encode(pickle.dumps((catalogue.styles, catalogue.rule_sets, catalogue.bases))).decode(),
}))
"""


def install(folder: Path, distribution: str, module: str, attribute: str) -> None:
    """Lay a distribution out as an installer does."""
    name = distribution.replace("-", "_")
    (folder / f"{name}_module.py").write_text(module, encoding="utf-8")
    info = folder / f"{name}-1.2.dist-info"
    info.mkdir()
    (info / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {distribution}\nVersion: 1.2\n", encoding="utf-8")
    (info / "entry_points.txt").write_text(
        f"[turnback.plugins]\n{ENTRY} = {name}_module{attribute}\n", encoding="utf-8"
    )


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, object]:
    """What a fresh process says in which all of them are installed beside the three good plugins."""
    folder = tmp_path_factory.mktemp("site")
    for name, (module, attribute, _) in BROKEN.items():
        install(folder, name, module, attribute)
    environment = {**os.environ, "PYTHONPATH": str(folder), "PYTHONDONTWRITEBYTECODE": "1"}
    done = subprocess.run(
        [sys.executable, "-c", ASK], capture_output=True, text=True, check=True, timeout=120, env=environment
    )
    found = json.loads(done.stdout)
    assert isinstance(found, dict)
    return found


@pytest.fixture(scope="module")
def failures(told: dict[str, object]) -> dict[str, list[str]]:
    """Reasons by distribution."""
    found: dict[str, list[str]] = {}
    listed = told["failures"]
    assert isinstance(listed, list)
    for distribution, version, entry_point, reason in listed:
        if distribution in BROKEN:
            assert ("1.2", ENTRY) == (version, entry_point)
        found.setdefault(distribution, []).append(reason)
    return found


@pytest.mark.parametrize("distribution", BROKEN)
def test_every_broken_distribution_is_named_with_its_reason(failures: dict[str, list[str]], distribution: str) -> None:
    reasons = failures[distribution]
    assert 1 == len(reasons)
    assert BROKEN[distribution][2] in reasons[0]
    assert "\n" not in reasons[0]
    assert len(reasons[0]) < 600


def test_nothing_else_is_refused(failures: dict[str, list[str]]) -> None:
    # One of the good ones is refused a rule set whose name another claims, and nothing but that.
    assert {*BROKEN, "turnback-ubolt"} == set(failures)
    assert 1 == len(failures["turnback-ubolt"])


@pytest.mark.parametrize(
    ("rules_id", "claimants"),
    [
        ("claimed-twice", ("claims-the-same-one", "claims-the-same-two")),
        ("us-navy-14026", ("claims-an-installed-one", "turnback-ubolt")),
    ],
)
def test_a_name_that_two_claim_belongs_to_neither_and_both_are_named(
    told: dict[str, object], failures: dict[str, list[str]], rules_id: str, claimants: tuple[str, str]
) -> None:
    for each in claimants:
        assert all(claimant in failures[each][0] for claimant in claimants)
    kind, message = dict(told["asked"])[rules_id]  # type: ignore[call-overload]  # it is JSON
    assert "PluginError" == kind
    assert all(claimant in message for claimant in claimants)


def test_what_a_broken_plugin_may_have_brought_is_an_error_with_its_reason(told: dict[str, object]) -> None:
    kind, message = dict(told["asked"])["nowhere"]  # type: ignore[call-overload]  # it is JSON
    assert "PluginError" == kind
    for text in ("import-error 1.2 (Broken)", "no_such_module_anywhere", "nowhere"):
        assert text in message


def test_the_other_plugins_bring_what_they_always_bring(told: dict[str, object]) -> None:
    styles, rule_sets, bases = pickle.loads(base64.b64decode(str(told["parts"])))
    healthy = Catalogue.installed()
    assert not healthy.failures
    assert healthy.styles == styles
    assert tuple(rules for rules in healthy.rule_sets if rules.id != "us-navy-14026") == rule_sets
    assert healthy.bases == bases
    # 8 CCR 8497, Table 1: 4 clips at 3/4 in.
    assert 4 == told["clips"]


def test_an_installed_plugin_is_found_by_the_loader_beside_the_others(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    install(tmp_path, "turnback-invented-by-a-test", rule_set("invented-by-a-test"), "")
    monkeypatch.syspath_prepend(tmp_path)
    found = load_installed()
    ours = [each for each in found if each.origin.distribution == "turnback-invented-by-a-test"]
    assert [Supplied(Origin("turnback-invented-by-a-test", "1.2", ENTRY), (), (invented("invented-by-a-test"),))] == [
        attrs.evolve(each, rule_sets=tuple(attrs.evolve(r, origin="invented") for r in each.rule_sets))
        for each in ours
        if isinstance(each, Supplied)
    ]
    assert {"turnback-ubolt", "turnback-mirrored-saddle", "turnback-plate"} <= {e.origin.distribution for e in found}


def test_a_backport_of_the_metadata_library_in_the_process_takes_no_plugin_away() -> None:
    """Some libraries bring importlib_metadata, whose entry points are of a class of their own."""
    pytest.importorskip("importlib_metadata", reason="the backport is not installed")
    script = "import importlib_metadata, turnback; print(turnback.Catalogue.installed().failures)"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert "()" == done.stdout.strip()
