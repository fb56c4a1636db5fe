"""The page that leads from an empty folder to a certificate, walked in a clean environment as it stands there.

Its commands and files are lifted out of the page. A block of text that begins with ``$`` is a command with the lines
that it prints; ``...`` stands for lines that are not shown. Three comments of the page say what the reader is told in
words: ``% exit: N`` above a command, ``% replaces: FILE`` and ``% appended to: FILE`` above a piece of a file.

The environment is new, with ``turnback`` and the plugin of the style installed from this tree. What they need is copied
from the environment that runs the tests, so that no network is needed where the build tool is at hand; where it is not,
pip fetches the build tool.
"""

from __future__ import annotations

import json
import os
import re
import shlex
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path
from typing import Final

import attrs
import pytest

ROOT: Final = Path(__file__).parents[2]
PAGE: Final = ROOT / "docs" / "how-to" / "prove-a-rule-set.md"
BLOCK: Final = re.compile(
    r"(?:^% (?P<told>[^\n]*)\n)?^```(?P<kind>text|\{code-block\} toml|toml)\n(?::caption: (?P<file>[^\n]*)\n\n?)?"
    r"(?P<body>.*?)^```$",
    re.MULTILINE | re.DOTALL,
)
NEEDED: Final = ("attrs", "pluggy", "pint", "hypothesis", "pytest", "pip")
BUILDS: Final = ("hatchling", "editables")


@attrs.frozen
class Step:
    """One step of the page: a command with what it prints, or a file with what stands in it."""

    kind: str
    told: str
    file: str
    body: str

    @property
    def command(self) -> list[str]:
        return shlex.split(self.body.replace("\\\n", " ").splitlines()[0].removeprefix("$ "))

    @property
    def shown(self) -> list[list[str]]:
        """The printed lines that the page shows, in runs without a gap."""
        runs: list[list[str]] = [[]]
        for line in self.body.replace("\\\n", " ").splitlines()[1:]:
            if line == "...":
                runs.append([])
            else:
                runs[-1].append(line)
        return [run for run in runs if run]


def steps() -> Iterator[Step]:
    for found in BLOCK.finditer(PAGE.read_text(encoding="utf-8")):
        body, told = found["body"], found["told"] or ""
        if found["kind"] == "text" and body.startswith("$ "):
            yield Step("command", told, "", body)
        elif found["file"]:
            yield Step("file", told, found["file"], body)
        elif told.startswith(("replaces: ", "appended to: ")):
            yield Step("piece", told, told.partition(": ")[2], body)


def distributions(names: tuple[str, ...]) -> dict[str, metadata.Distribution]:
    """Return the distributions of these names and all that they need here."""
    from packaging.requirements import Requirement

    found: dict[str, metadata.Distribution] = {}
    waiting = list(names)
    while waiting:
        name = re.sub(r"[-_.]+", "-", waiting.pop()).lower()
        if name not in found:
            found[name] = metadata.distribution(name)
            needs = map(Requirement, found[name].requires or ())
            waiting += [need.name for need in needs if need.marker is None or need.marker.evaluate({"extra": ""})]
    return found


def copy(each: metadata.Distribution, site: Path) -> None:
    for file in each.files or ():
        if ".." not in file.parts and file.suffix != ".pyc":
            (site / file).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(str(each.locate_file(file)), site / file)


@pytest.fixture(scope="module")
def environment(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """A new environment with turnback and the plugin of U-bolt clips: the variables that a command runs under."""
    home = tmp_path_factory.mktemp("clean") / "env"
    venv = [sys.executable, "-m", "venv", "--without-pip", str(home)]
    subprocess.run(venv, check=True, capture_output=True, timeout=120)
    scripts = home / ("Scripts" if os.name == "nt" else "bin")
    python = str(scripts / Path(sys.executable).name)
    asked = [python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"]
    site = Path(subprocess.run(asked, check=True, capture_output=True, text=True, timeout=60).stdout.strip())
    try:
        found, offline = distributions((*NEEDED, *BUILDS)), True
    except metadata.PackageNotFoundError:
        found, offline = distributions(NEEDED), False
    for each in found.values():
        copy(each, site)
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "VIRTUAL_ENV"))}
    variables = {
        **kept,
        "PATH": os.pathsep.join((str(scripts), os.environ.get("PATH", ""))),
        "PIP_DISABLE_PIP_VERSION_CHECK": "1",
        "PYTHONIOENCODING": "utf-8",
        # False in pip's own spelling: the build tool that was copied is used.
        **({"PIP_NO_INDEX": "1", "PIP_NO_BUILD_ISOLATION": "0"} if offline else {}),
    }
    install = [python, "-m", "pip", "install", "--quiet", "--no-deps", str(ROOT), str(ROOT / "plugins/turnback-ubolt")]
    done = subprocess.run(install, capture_output=True, text=True, check=False, env=variables, timeout=300)
    if done.returncode and not offline:
        pytest.skip(f"there is no hatchling here, and pip cannot fetch it: {done.stderr.strip()[-300:]}")
    assert 0 == done.returncode, done.stderr
    return variables


def run(step: Step, folder: Path, variables: dict[str, str]) -> None:
    program, *arguments = step.command
    place = shutil.which(program, path=variables["PATH"].split(os.pathsep)[0])
    assert place is not None, f"there is no {program} in the environment"
    done = subprocess.run([place, *arguments], capture_output=True, check=False, cwd=folder, env=variables, timeout=300)
    out = done.stdout.decode("utf-8") + done.stderr.decode("utf-8")
    wanted = int(step.told.removeprefix("exit: ")) if step.told.startswith("exit: ") else 0
    assert wanted == done.returncode, f"$ {shlex.join(step.command)}\n{out}"
    printed, at = out.splitlines(), 0
    for shown in step.shown:
        places = [i for i in range(at, len(printed)) if printed[i : i + len(shown)] == shown]
        assert places, f"$ {shlex.join(step.command)}\nthe page shows\n" + "\n".join(shown) + f"\nprinted was\n{out}"
        at = places[0] + len(shown)


def write(step: Step, folder: Path) -> None:
    path = folder / step.file
    # The reader fills in what the first command wrote, and makes no file of another name.
    assert path.is_file(), f"{step.file} is not there yet"
    old = path.read_text(encoding="utf-8")
    if step.kind == "file":
        new = step.body
    elif step.told.startswith("appended to: "):
        new = f"{old}\n{step.body}"
    else:
        (key,) = tomllib.loads(step.body)
        piece = re.compile(rf"^{key} = \[\n.*?^\]\n", re.MULTILINE | re.DOTALL)
        assert 1 == len(piece.findall(old)), f"{step.file} has no list {key}, or more than one"
        new = piece.sub(lambda _: step.body, old)
    assert new != old
    path.write_text(new, encoding="utf-8")


def test_the_page_leads_from_an_empty_folder_to_a_certificate(environment: dict[str, str], tmp_path: Path) -> None:
    walked = list(steps())
    for step in walked:
        if step.kind == "command":
            run(step, tmp_path, environment)
        else:
            write(step, tmp_path)
    commands = [step.command for step in walked if step.kind == "command"]
    assert ["turnback", "rules", "new"] == commands[0][:3]
    (certificate,) = (command[command.index("--certificate") + 1] for command in commands if "--certificate" in command)
    assert ["turnback", "conform", "--verify", certificate] == commands[-1][:4]
    kept = json.loads((tmp_path / certificate).read_text(encoding="utf-8"))
    assert ("my-standard", "proved") == (kept["rules"], kept["level"])


def test_the_page_fails_and_passes_on_its_way() -> None:
    # A slip in the pattern above would find no steps, and the walk would pass.
    told = [step.told for step in steps() if step.kind == "command"]
    assert "exit: 11" in told
    assert "exit: 10" in told
    assert {"command", "file", "piece"} == {step.kind for step in steps()}
