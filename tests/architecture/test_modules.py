"""What every module of the house keeps to, read from its source: sizes, and what may not stand in it."""

from __future__ import annotations

import ast
import builtins
import functools
from collections.abc import Iterator
from pathlib import Path
from statistics import median

import pytest

ROOT = Path(__file__).parents[2]
CORE = ROOT / "src" / "turnback"
MODULES = sorted([*CORE.rglob("*.py"), *ROOT.glob("plugins/*/src/**/*.py")])


def place(file: Path, node: ast.AST | None = None) -> str:
    line = getattr(node, "lineno", None)
    return f"{file.relative_to(ROOT)}" + ("" if line is None else f":{line}")


@functools.cache
def tree(file: Path) -> ast.Module:
    return ast.parse(file.read_text(encoding="utf-8"))


def lines(file: Path) -> int:
    return len(file.read_text(encoding="utf-8").splitlines())


def found(*kinds: type[ast.AST]) -> Iterator[tuple[Path, ast.AST]]:
    for file in MODULES:
        for node in ast.walk(tree(file)):
            if isinstance(node, kinds):
                yield file, node


def dotted(node: ast.expr) -> str:
    """Name of what is called, as it is written, such as ``sys.setrecursionlimit``."""
    return ast.unparse(node) if isinstance(node, (ast.Name, ast.Attribute)) else ""


# --- sizes ---


def test_no_module_is_longer_than_four_hundred_lines() -> None:
    assert {} == {place(file): lines(file) for file in MODULES if lines(file) > 400}


def test_the_median_module_has_a_hundred_and_fifty_lines_at_most() -> None:
    assert median(lines(file) for file in MODULES) <= 150


def test_the_top_level_holds_nothing_else() -> None:
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "src", "plugins", "tests", "docs", "benchmarks"}
    built = {"dist"}  # left behind by a build, and ignored by git
    assert allowed == {each.name for each in ROOT.iterdir() if each.name[0] != "."} - built


@pytest.mark.parametrize("file", [file for file in MODULES if file.name == "__init__.py"], ids=place)
def test_a_package_is_the_flat_list_of_its_room(file: Path) -> None:
    if file == CORE / "__init__.py":
        return  # the face: tests/test_face.py
    if file == CORE / "conformance" / "__init__.py":
        return  # lazy like the face, so that no rule file needs hypothesis: tests/conformance/test_doors.py
    body = tree(file).body
    taken = [node for node in body if isinstance(node, ast.ImportFrom) and node.module != "__future__"]
    names = [alias.asname or alias.name for node in taken for alias in node.names]
    for node in body:
        docstring = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        listed = isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__"
        assert docstring or listed or isinstance(node, ast.ImportFrom), place(file, node)
        if isinstance(node, ast.Assign):
            assert sorted(names) == sorted(ast.literal_eval(node.value))
    assert ast.get_docstring(tree(file))


# --- what may not stand in a module ---


def test_no_signature_swallows_misspelt_names() -> None:
    functions = (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda)
    assert [] == [
        place(file, node) for file, node in found(*functions) if isinstance(node, functions) and node.args.kwarg
    ]


def test_nothing_is_evaluated() -> None:
    evaluating = {"eval", "exec", "compile", "__import__", "builtins.eval", "builtins.exec", "pickle.loads"}
    assert [] == [
        place(file, node)
        for file, node in found(ast.Call)
        if isinstance(node, ast.Call) and dotted(node.func) in evaluating
    ]


def test_mechanics_multiplies_and_never_raises_to_a_power() -> None:
    powers = []
    for file in (CORE / "mechanics").glob("*.py"):
        for node in ast.walk(tree(file)):
            is_power = isinstance(getattr(node, "op", None), ast.Pow)
            is_call = isinstance(node, ast.Call) and dotted(node.func).rpartition(".")[2] in ("pow", "power", "square")
            if is_power or is_call:
                powers.append(place(file, node))
    assert [] == powers


# 1 in, 1 ft, 1/mm in inches, 1 lbf, 1/N, 1 lbf·ft and lbf·in in N·m and back, 1 lb and back, 1 lb/ft, standard gravity,
# 1 short and 1 long tonf in newtons (NIST SP 811, Appendix B): leading figures, whatever the power of ten.
FACTORS = (
    2.54, 3.048, 3.937008, 4.448222, 2.248089, 1.355818, 7.375621, 1.129848, 8.850746, 4.535924, 2.204623, 1.488164,
    9.80665, 8.896443, 9.964016,
)  # fmt: skip


def is_a_unit_factor(value: object) -> bool:
    if isinstance(value, str):
        try:
            value = float(value)
        except ValueError:
            return False
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 < abs(value) < 1e15:
        return False
    figures = f"{float(abs(value)):.15e}".partition("e")[0]
    # Three figures at least: 25 and 98 are counts, 25.4 and 9.81 are not.
    return len(figures.rstrip("0").replace(".", "")) >= 3 and any(
        abs(float(figures) - each) <= 5e-4 * each for each in FACTORS
    )


@pytest.mark.parametrize(
    ("number", "told"),
    [(25.4, True), ("25.4", True), (304.8, True), (0.45359237, True), (9.81, True), (25, False), (60, False)],
)
def test_the_next_test_tells_a_factor_from_a_count(number: object, told: bool) -> None:
    assert told is is_a_unit_factor(number)


def test_unit_factors_stand_in_quantities_alone() -> None:
    assert [] == [
        f"{place(file, node)}: {node.value!r}"
        for file, node in found(ast.Constant)
        if isinstance(node, ast.Constant)
        and file.parent != CORE / "quantities"
        and is_a_unit_factor(node.value)
        and file.name != "lettering.py"  # widths of letters
    ]


SETTERS = {
    "locale.setlocale", "decimal.setcontext", "decimal.getcontext", "getcontext", "setcontext",
    "sys.setrecursionlimit", "sys.set_int_max_str_digits", "sys.setswitchinterval", "sys.settrace", "sys.setprofile",
    "warnings.filterwarnings", "warnings.simplefilter", "os.chdir", "os.putenv", "os.umask", "signal.signal",
    "logging.basicConfig", "logging.disable", "random.seed", "gc.disable", "gc.freeze", "atexit.register",
    "faulthandler.enable", "threading.settrace", "time.tzset", "socket.setdefaulttimeout",
    "pint.set_application_registry", "set_application_registry", "numpy.seterr", "np.seterr", "numpy.set_printoptions",
    "attr.set_run_validators", "attrs.validators.set_disabled", "setattr",
}  # fmt: skip


def test_nothing_sets_the_state_of_the_process() -> None:
    calls = [
        place(file, node)
        for file, node in found(ast.Call)
        if isinstance(node, ast.Call) and dotted(node.func) in SETTERS
    ]
    named_global = [place(file, node) for file, node in found(ast.Global)]
    assert ([], []) == (calls, named_global)


def test_nothing_writes_into_a_module() -> None:
    """Neither into another module (``sys.path = ...``) nor into a list or table of its own."""
    written = []
    for file in MODULES:
        if file == CORE / "__init__.py":
            continue  # the lazy face keeps what it has looked up
        module = tree(file)
        mine = {name for node in module.body for name in _assigned(node)}
        modules = {
            (alias.asname or alias.name).split(".")[0]
            for node in ast.walk(module)
            if isinstance(node, ast.Import)
            for alias in node.names
        }
        for function in ast.walk(module):
            if isinstance(function, ast.FunctionDef):
                reached = mine - _local(function)
                written += [place(file, node) for node in ast.walk(function) if _writes(node, reached, modules)]
    assert [] == written


def _assigned(node: ast.stmt) -> set[str]:
    targets = node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AnnAssign) else []
    return {each.id for target in targets for each in ast.walk(target) if isinstance(each, ast.Name)}


def _local(function: ast.FunctionDef) -> set[str]:
    stored = {n.id for n in ast.walk(function) if isinstance(n, ast.Name) and isinstance(n.ctx, ast.Store)}
    return stored | {argument.arg for argument in ast.walk(function) if isinstance(argument, ast.arg)}


MUTATING = {"append", "extend", "insert", "remove", "pop", "clear", "update", "setdefault", "add", "discard", "popitem"}


def _writes(node: ast.AST, mine: set[str], modules: set[str]) -> bool:
    if isinstance(node, (ast.Assign, ast.AugAssign, ast.AnnAssign, ast.Delete)):
        targets = node.targets if isinstance(node, (ast.Assign, ast.Delete)) else [node.target]
        for target in targets:
            if isinstance(target, (ast.Attribute, ast.Subscript)) and isinstance(target.value, ast.Name):
                known = mine | modules if isinstance(target, ast.Attribute) else mine
                if target.value.id in known:
                    return True
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and isinstance(node.func.value, ast.Name):
        return node.func.attr in MUTATING and node.func.value.id in mine
    return False


@pytest.mark.parametrize("line", ["TABLE[1] = 2", "TABLE.update(a)", "sys.path = []", "del TABLE[1]", "TABLE[1] += 2"])
def test_the_test_above_sees_a_writing_line(line: str) -> None:
    assert any(_writes(node, {"TABLE"}, {"sys"}) for node in ast.walk(ast.parse(line)))


@pytest.mark.parametrize("line", ["a.update(TABLE)", "a[1] = TABLE[1]", "TABLE.get(1)", "TABLE = 2", "self.path = 1"])
def test_the_test_above_lets_a_reading_line_pass(line: str) -> None:
    assert not any(_writes(node, {"TABLE"}, {"sys"}) for node in ast.walk(ast.parse(line)))


def test_every_error_of_our_own_stands_in_the_tree() -> None:
    known = {
        name for name, each in vars(builtins).items() if isinstance(each, type) and issubclass(each, BaseException)
    }
    strange = [
        place(file, node)
        for file, node in found(ast.ClassDef)
        if isinstance(node, ast.ClassDef)
        and file != CORE / "errors.py"
        and node.name[0] != "_"  # caught in its own module
        and any(dotted(base).rpartition(".")[2] in known for base in node.bases)
    ]
    assert [] == strange


def test_a_bare_built_in_error_is_raised_only_where_python_itself_expects_it() -> None:
    """AttributeError and TypeError of special methods; the loader's own TypeErrors, which it catches itself."""
    strange = []
    for file in MODULES:
        for function in ast.walk(tree(file)):
            if file == CORE / "conformance" / "pytest_door.py":
                continue  # a test that fails raises what every runner of tests expects
            if not isinstance(function, ast.FunctionDef) or function.name.startswith("__"):
                continue
            for node in ast.walk(function):
                if not isinstance(node, ast.Raise) or not isinstance(node.exc, ast.Call):
                    continue
                name = dotted(node.exc.func)
                caught = file == CORE / "rules" / "loading.py" and name == "TypeError"
                # A shape is missing only where a type of the library itself was forgotten: our slip, not a caller's.
                caught = caught or (file == CORE / "output" / "_annotations.py" and name == "TypeError")
                if hasattr(builtins, name) and name != "NotImplementedError" and not caught:
                    strange.append(f"{place(file, node)}: {name}")
    assert [] == strange
