"""The battery: every way in which a plugin misbehaves here, and what becomes of it.

Each way is a module under ``plugins/``, kept as text, because some are no Python and none should be imported by chance.
Its first line says in one sentence what is wrong with it. It is laid out as an installed distribution,
``hostile-NAME`` 6.6, with one entry point, ``Hostile``.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final, Literal, NamedTuple

__all__ = ["HOSTILE_WAYS", "VERSION", "Way", "install"]

VERSION: Final = "6.6"
ENTRY: Final = "Hostile"

Fate = Literal["refused", "put right", "told when it plans", "told when it draws", "harmless"]
"""``refused``: nothing that it brings is at hand, and the reason stands in ``catalogue.failures``. ``put right``: what
it changed in the process was put back, which stands in ``catalogue.slips``. ``told when it plans`` or ``draws``: a
``PluginError`` that names it. ``harmless``: it can do no harm with what it is given."""

_FOLDER: Final = Path(__file__).parent / "plugins"


class Way(NamedTuple):
    """One way to misbehave.

    Args:
        name: Name of the module.
        fate: What becomes of it.
        says: What the reason must say.
        attribute: What the entry point names in the module; empty for the module itself.
    """

    name: str
    fate: Fate
    says: str
    attribute: str = ""

    @property
    def sentence(self) -> str:
        """What is wrong with it."""
        return self.source.split('"""')[1]

    @property
    def source(self) -> str:
        """The module."""
        return (_FOLDER / f"{self.name}.txt").read_text(encoding="utf-8")

    @property
    def distribution(self) -> str:
        """Name of its distribution."""
        return f"hostile-{self.name}"


def _refused(*ways: tuple[str, str] | tuple[str, str, str]) -> tuple[Way, ...]:
    return tuple(Way(way[0], "refused", *way[1:]) for way in ways)


def _each(fate: Fate, *ways: tuple[str, str]) -> tuple[Way, ...]:
    return tuple(Way(name, fate, says) for name, says in ways)


AT_IMPORT: Final = _refused(
    ("import-error", "ModuleNotFoundError: No module named 'no_such_module_anywhere'"),
    ("syntax-error", "SyntaxError"),
    ("system-exit", "SystemExit: leaving"),
    ("quiet-exit", "SystemExit: no message"),
    ("base-exception", "Odd: odd"),
    ("false-interrupt", "Pressed: nobody did"),
    ("generator-exit", "GeneratorExit: the end"),
    ("grouped-errors", "BaseExceptionGroup: both"),
    ("import-recursion", "RecursionError"),
    ("missing-attribute", "nothing_of_this_name", ":nothing_of_this_name"),
    ("names-a-class", "names a class", ":Plugin"),
    ("names-a-number", "implements no hook", ":PLUGIN"),
    ("unreadable-error", "Mute: its message cannot be read"),
    ("unnamed-error", "Nameless: nameless"),
    ("endless-message", "ValueError: xxxxx"),
    ("terminal-codes", "ValueError: ?[2J?cleared and over?"),
    ("init-subclass", "RuntimeError: no subclass"),
    ("bad-reference", "which is no module:object", "?? no reference ??"),
    ("no-equals-sign", "its entry points cannot be read"),
    ("no-metadata", "turnback_rule_sets returned int"),
    ("one-name-twice", "the name stands for"),
)
CONTRACT: Final = _refused(
    ("another-contract", "it is written for contract 2 of the hooks, and this library speaks contract 1"),
    ("contract-of-text", "it is written for contract '1' of the hooks, and this library speaks contract 1"),
    ("contract-of-truth", "it is written for contract True of the hooks, and this library speaks contract 1"),
)
HOOKS: Final = _refused(
    ("misspelt-hook", "unknown hook 'turnback_rule_set'"),
    ("no-hook", "implements no hook"),
    ("hook-with-argument", "catalogue"),
    ("hook-raises", "OSError: no disk"),
    ("hook-leaves", "SystemExit: 3"),
    ("hook-recursion", "RecursionError"),
    ("returns-list", "turnback_rule_sets returned list"),
    ("returns-text", "turnback_rule_sets returned str"),
    ("returns-generator", "turnback_rule_sets returned generator"),
    ("returns-nothing", "a tuple with NoneType"),
    ("endless-tuple", "turnback_rule_sets returned Endless; it must return a tuple of RuleSet"),
    ("wrapped-hook", "the wrapper returned int"),
    ("lying-class", "a tuple with Liar; each must be a RuleSet"),
    ("raising-attributes", "RuntimeError: not ", ":PLUGIN"),
)
NAMES: Final = _refused(
    ("takes-a-rule-set", "us-navy-14026 is claimed more than once"),
    ("takes-a-style", "the style single-plate is claimed more than once"),
    ("takes-a-basis", "common-practice-efficiency"),
    ("claims-with-another", "claimed-twice is claimed more than once"),
    ("claims-with-one-other", "claimed-twice is claimed more than once"),
    ("claims-twice", "claimed-by-one is claimed more than once"),
    ("odd-text", "id: this is not what it should be"),
    ("id-with-a-plus", "id: this is not what it should be. Given: 'us-ca-8-8497+us-navy-14026'"),
    ("style-of-any-name", "this id stands for every style"),
)
HARMLESS: Final = (Way("rule-set-named-as-a-style", "harmless", ""), Way("lay-out-mutates", "harmless", ""))
VALUES: Final = _refused(
    ("not-a-number", "rows[0].count.value: this is not what it should be. Given: nan. Bound: a whole number from 1"),
    ("negative-count", "rows[0].count.value: this is not what it should be. Given: -4."),
    ("true-count", "rows[0].count.value: this is not what it should be. Given: True."),
    ("a-billion-clips", "rows[0].count.value: this is not what it should be. Given: 1000000000."),
    ("float-length", "rows[1].size: this is not what it should be. Given: 19050000.0."),
    ("negative-length", "rows[0].turn_back.value: this is not what it should be. Given: -1."),
    ("float-fraction", "rows[0].torque.value: this is not what it should be"),
    ("negative-torque", "rows[0].torque.value: this is not what it should be"),
    ("no-citation", "rows[0].count.cited: this is not what it should be. Given: an object of type tuple"),
    ("false-status", "rows[0].count.citations[0].status: this is not what it should be. Given: 'certain'."),
    ("rows-out-of-order", "rows are written by increasing size"),
    ("rows-in-a-list", "rows: this is not what it should be. Given: an object of type list."),
    ("half-a-row", "AttributeError"),
    ("endless-growth", "no count that grows without a declared range of sizes"),
    ("half-a-character", "text: this is not what it should be"),
    ("row-for-raises", "a RuleSet itself: it is a value"),
    ("row-for-recursion", "a RuleSet itself: it is a value"),
    ("row-for-changes", "a RuleSet itself: it is a value"),
    ("row-for-nothing", "a RuleSet itself: it is a value"),
    ("row-for-mutates", "a RuleSet itself: it is a value"),
    ("row-of-its-own", "rows[0]: this is not what it should be. Given: an object of type Any. Bound: a Row itself"),
    ("id-that-changes", "id: a subclass may not replace it"),
    ("in-series-by-chance", "in_series: it is computed"),
    ("unhashable-style", "TypeError: unhashable"),
    ("equal-to-everything", "it cannot be compared or looked up"),
    ("virtual-style", "a tuple with Virtual; each must be a ClipStyle"),
    ("answers-for-itself", "it answers for its own fields"),
)
PLANNING: Final = _each(
    "told when it plans",
    ("lay-out-raises", "RuntimeError: no room"),
    ("lay-out-recursion", "RecursionError"),
    ("lay-out-leaves", "SystemExit: leaving"),
    ("lay-out-false-interrupt", "Pressed: nobody did"),
    ("lay-out-nothing", "it returned NoneType; it must return a Layout"),
    ("lay-out-text", "its turn_back is neither a Length"),
    ("lay-out-not-a-number", "a place of clip 1 is no Length"),
    ("lay-out-disorder", "its clips do not stand in order from the dead end"),
    ("lay-out-too-few", "it placed 2 clips where 3 were asked for"),
    ("lay-out-beyond", "its last clip stands beyond the base of the eye"),
)
DRAWING: Final = _each(
    "told when it draws",
    ("drawing-raises", "ZeroDivisionError: no pen"),
    ("drawing-leaves", "SystemExit: leaving"),
    ("drawing-text", "it returned str"),
    ("drawing-nothing", "a tuple of at least one shape"),
    ("drawing-not-a-number", "a figure is drawn with finite numbers"),
    ("drawing-in-itself", "RecursionError"),
    ("drawing-numbers-for-words", "it wrote what is no text"),
)
PROCESS: Final = (
    *_each(
        "put right",
        ("prints", "it wrote 'hello from a plugin\\n' to standard output, which was kept from it"),
        ("prints-errors", "it wrote 'a warning from a plugin\\n' to standard error, which was let through"),
        ("changes-the-locale", "it changed the locale, which was put back"),
        ("changes-decimals", "it changed the context of decimal numbers, which was put back"),
        ("replaces-decimals", "it changed the context of decimal numbers, which was put back"),
        ("seeds-chance", "it changed the state of the random numbers, which was put back"),
        ("lowers-the-limit", "it changed the recursion limit, which was put back"),
        ("silences-warnings", "it changed the filters of warnings, which were put back"),
        ("sets-variables", "it changed variables of the environment (HOME, TZ), which were put back"),
        ("changes-the-folder", "it changed the current folder, which was put back"),
        ("switches-checks-off", "it changed the switch of attrs' validators, which was put back"),
        ("replaces-the-output", "it put another stream in the place of standard output, which was put back"),
        ("changes-in-a-hook", "it changed the current folder, which was put back"),
    ),
    *_refused(
        ("fails-and-changes", "OSError: no disk; it changed the current folder, which was put back; it wrote 'moved"),
        ("no-room-left", "it changed the recursion limit, which was put back"),
    ),
)

HOSTILE_WAYS: Final = (*AT_IMPORT, *CONTRACT, *HOOKS, *NAMES, *VALUES, *PLANNING, *DRAWING, *PROCESS, *HARMLESS)
"""Every way, with the sentence that says what is wrong and what becomes of it."""


def install(site: Path, way: Way) -> None:
    """Lay a way out in a folder as an installer does."""
    module = f"hostile_{way.name.replace('-', '_')}"
    (site / f"{module}.py").write_text(way.source, encoding="utf-8")
    info = site / f"{module}-{VERSION}.dist-info"
    info.mkdir()
    if way.name != "no-metadata":
        head = f"Metadata-Version: 2.1\nName: {way.distribution}\nVersion: {VERSION}\n"
        (info / "METADATA").write_text(head, encoding="utf-8")
    reference = way.attribute if way.name == "bad-reference" else f"{module}{way.attribute}"
    lines = ["[turnback.plugins]", f"{ENTRY} = {reference}"]
    if way.name == "no-equals-sign":
        lines.append("nothing of the kind")
    if way.name == "one-name-twice":
        lines.append(f"{ENTRY} = {module}:nothing")
    (info / "entry_points.txt").write_text("\n".join(lines) + "\n", encoding="utf-8")
