"""Set-up on a fresh machine, with stand-ins for apt-get, sudo and Python: nothing is installed."""

from __future__ import annotations

import ast
import importlib.util
import json
import os
import platform
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parent.parent / "proofgen" / "bootstrap.py"
PANGO, SUBSET = "libpango-1.0.so.0", "libharfbuzz-subset.so.0"

pytestmark = pytest.mark.skipif(os.name == "nt", reason="the stand-ins are scripts with #!")

# Notes how it was called; plays `venv`, `pip install` and every other module of the room.
STAND_IN = """#!{python} -S
import json, os, shutil, sys
from pathlib import Path
me, said = Path(sys.argv[0]), sys.argv[1:]
with open({log!r}, "a") as log:
    log.write(json.dumps([me.name, *said]) + "\\n")
if me.name == "sudo":
    os.execvp(said[0], said)
if said[:2] == ["-m", "venv"]:
    room = Path(said[-1])
    shutil.rmtree(room, ignore_errors=True)
    (room / "bin").mkdir(parents=True)
    (room / "bin/python").symlink_to(Path({folder!r}) / "python")
elif said[:3] == ["-m", "pip", "install"]:
    base = Path({base!r})
    note = base / "thing-1.dist-info"
    note.mkdir(parents=True, exist_ok=True)
    (base / "thing.py").write_text("x = 1\\n")
    (note / "RECORD").write_text("thing.py,sha256=x,6\\n__pycache__/thing.pyc,,\\n"
                                 "thing-1.dist-info/RECORD,,\\n")
word = " ".join([me.name, *said])
print(os.environ.get("TELLS", ""), file=sys.stderr)
sys.exit(any(bad in word for bad in os.environ.get("FAILS", "").split(",") if bad))
"""


class Machine:
    """A pretended machine: its programs, its libraries, and a log of what was called."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.house, self.programs = folder / "house", folder / "programs"
        self.log = folder / "log"
        self.monkeypatch = monkeypatch
        (self.house / "proofgen").mkdir(parents=True)
        self.programs.mkdir()
        shutil.copy(SOURCE, self.house / "proofgen")
        (self.house / "pyproject.toml").write_text("[project]\n")
        (self.house / "tests").mkdir()
        for room in ("proofgen", "tests"):
            (self.house / room / "locked.txt").write_text("a==1 --hash=sha256:0\n")
        spec = importlib.util.spec_from_file_location(
            "bootstrap_tried", self.house / "proofgen/bootstrap.py"
        )
        assert spec and spec.loader
        self.bootstrap = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(self.bootstrap)
        self.room = self.house / ".venv"
        version = f"python{sys.version_info[0]}.{sys.version_info[1]}"
        self.packages = self.room / "lib" / version / "site-packages"
        real = sys.executable
        for name in ("python", "apt-get"):
            self.has(name, real)
        monkeypatch.setenv("PATH", str(self.programs))
        monkeypatch.setattr(sys, "executable", str(self.programs / "python"))
        monkeypatch.setattr(self.bootstrap, "loads", lambda name: name not in self.missing)
        monkeypatch.setattr(os, "geteuid", lambda: 0)
        monkeypatch.setattr(platform, "system", lambda: "Linux")
        monkeypatch.chdir(self.house)
        self.missing: set[str] = set()

    def has(self, name: str, python: str = "") -> None:
        """Puts a program on the PATH."""
        path = self.programs / name
        self.python = python or self.python
        path.write_text(
            STAND_IN.format(
                python=self.python,
                log=str(self.log),
                folder=str(self.programs),
                base=str(self.packages),
            )
        )
        path.chmod(0o755)

    def lacks(self, name: str) -> None:
        (self.programs / name).unlink()

    def run(self, *arguments: str, fails: str = "") -> int:
        self.log.write_text("")
        self.monkeypatch.setenv("FAILS", fails)
        code: int = self.bootstrap.main(list(arguments))
        return code

    def called(self) -> list[str]:
        return [" ".join(json.loads(line)) for line in self.log.read_text().splitlines()]

    def steps(self) -> list[str]:
        """What was called, in one word each."""
        words = {"-m venv": "venv", "-m pip": "pip", "-m proofgen": "demo", "-m pytest": "test"}
        return [
            next((short for long, short in words.items() if f"python {long}" in call), call)
            for call in self.called()
        ]


@pytest.fixture
def machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Machine]:
    yield Machine(tmp_path, monkeypatch)


# The system's packages


def test_debian_installs_what_is_missing_and_nothing_else(machine, monkeypatch):
    machine.missing = {PANGO, SUBSET}
    find = importlib.util.find_spec
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name: None if name == "ensurepip" else find(name)
    )
    assert machine.run("demo") == 0
    assert machine.called()[:2] == [
        "apt-get update -qq",
        "apt-get install -qq -y --no-install-recommends"
        " python3-venv libpango-1.0-0 libharfbuzz-subset0",
    ]
    assert machine.steps()[2:] == ["venv", "pip", "pip", "demo"]


def test_only_the_tests_ask_for_a_browser(machine, monkeypatch):
    monkeypatch.setattr(machine.bootstrap, "TEST_FONT", (machine.house / "none", "fonts-some"))
    machine.missing = {"libatomic.so.1"}
    machine.has("git")
    assert machine.run("demo") == 0
    assert "apt-get" not in " ".join(machine.called())
    assert machine.run("test") == 0
    line = machine.called()[1]
    assert line.endswith("libatomic1 chromium poppler-utils fonts-some")


@pytest.mark.parametrize("browser", ["chromium", "google-chrome"])
def test_either_browser_will_do(machine, browser):
    machine.has(browser)
    assert "chromium" not in machine.bootstrap.debian_packages(True)


def test_a_user_installs_with_sudo(machine, monkeypatch, capfd):
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    machine.missing = {PANGO}
    machine.has("sudo")
    assert machine.run("demo") == 0
    calls = machine.called()
    assert calls[0] == "sudo apt-get update -qq"
    assert calls[2].startswith("sudo apt-get install") and calls[3].endswith("libpango-1.0-0")
    assert "Installing with sudo apt-get: libpango-1.0-0" in capfd.readouterr().err


def test_a_user_without_sudo_is_told_the_line(machine, monkeypatch, capfd):
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    machine.missing = {PANGO}
    assert machine.run("demo") == 5
    assert machine.called() == []
    assert not machine.room.exists()
    said = capfd.readouterr().err
    assert "only root may install them" in said
    assert (
        "su - -c 'apt-get update && apt-get install -y --no-install-recommends libpango-1.0-0'"
        in said
    )


def test_a_user_of_a_complete_machine_needs_no_root(machine, monkeypatch):
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    assert machine.run("demo") == 0
    assert machine.steps() == ["venv", "pip", "pip", "demo"]


@pytest.mark.parametrize("fails", ["apt-get update", "apt-get install"])
def test_apt_that_fails_is_said(machine, capfd, fails):
    machine.missing = {PANGO}
    assert machine.run("demo", fails=fails) == 5
    said = capfd.readouterr().err
    assert "could not install them" in said
    assert "apt-get update && apt-get install -y" in said
    assert "venv" not in machine.steps()


@pytest.mark.skipif(not shutil.which("dpkg"), reason="only dpkg knows which files a package has")
def test_debian_itself_says_the_same_package_names():
    spec = importlib.util.spec_from_file_location("bootstrap_read", SOURCE)
    assert spec and spec.loader
    bootstrap = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(bootstrap)
    asked = 0
    for library, package in {**bootstrap.LIBRARIES, **bootstrap.TEST_LIBRARIES}.items():
        told = subprocess.run(["dpkg", "-L", package], capture_output=True, text=True, check=False)
        if told.returncode == 0:
            assert library in {Path(line).name for line in told.stdout.splitlines()}
            asked += 1
    assert asked or not bootstrap.loads(PANGO)


# Other systems


def test_another_linux_is_told_its_own_line(machine, capfd):
    machine.lacks("apt-get")
    machine.missing = {PANGO}
    assert machine.run("demo") == 5
    assert "with this system's own package tool" in capfd.readouterr().err
    machine.has("dnf")
    assert machine.run("demo") == 5
    said = capfd.readouterr().err
    assert PANGO in said and "sudo dnf install pango" in said
    machine.missing = set()
    assert machine.run("demo") == 0
    assert machine.steps() == ["venv", "pip", "pip", "demo"]


@pytest.mark.parametrize(
    ("system", "line"),
    [("Darwin", "brew install pango"), ("Windows", "pacman -S mingw-w64-ucrt-x86_64-pango")],
)
def test_where_pdfs_cannot_be_made_the_demo_is_built_all_the_same(machine, capfd, system, line):
    machine.monkeypatch.setattr(platform, "system", lambda: system)
    machine.lacks("apt-get")
    assert machine.run("demo", fails="pdf_ready") == 0
    assert machine.steps()[-1] == "demo"
    said = capfd.readouterr().err
    assert line in said and "Everything else works without it" in said
    assert machine.run("demo") == 0
    assert line not in capfd.readouterr().err


def test_tests_that_must_be_left_out_are_named(machine, capfd):
    machine.lacks("apt-get")
    machine.has("git")
    assert machine.run("test") == 0
    assert "left out: chromium, pdfimages." in capfd.readouterr().err


# Python


def test_an_old_python_is_told_in_words(machine, monkeypatch, capfd):
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    monkeypatch.setattr(platform, "python_version", lambda: "3.9.2")
    assert machine.run("demo") == 5
    said = capfd.readouterr().err
    assert "needs Python 3.11 or newer; this is 3.9.2" in said and "python.org" in said
    assert said.isascii()
    monkeypatch.setattr(sys, "argv", ["proofgen/bootstrap.py"])
    machine.has("python3.12")
    assert machine.run("demo", "shop") == 5
    assert "    python3.12 proofgen/bootstrap.py demo shop\n" in capfd.readouterr().err
    assert machine.called() == []


def test_an_old_python_can_read_the_file():
    """Python 3.6 knows neither the future import nor list[str] in an annotation."""
    tree = ast.parse(SOURCE.read_text("utf-8"), feature_version=(3, 6))
    for node in ast.walk(tree):
        assert not isinstance(node, ast.NamedExpr | ast.Match)
        if isinstance(node, ast.ImportFrom):
            assert node.module != "__future__"
        if isinstance(node, ast.FunctionDef):
            notes = [a.annotation for a in node.args.args] + [node.returns]
            assert all(isinstance(n, ast.Name | ast.Constant | None) for n in notes), node.name


# The private room


def test_the_second_run_is_quick(machine):
    assert machine.run("demo") == 0
    assert machine.steps() == ["venv", "pip", "pip", "demo"]
    assert machine.run("demo") == 0
    assert machine.steps() == ["demo"]


def test_the_tests_add_to_the_room_and_the_demo_is_content_with_more(machine):
    machine.run("demo")
    machine.run("test")
    assert machine.steps()[-2:] == ["pip", "test"] and "venv" not in machine.steps()
    assert any(call.endswith("--editable .[test]") for call in machine.called())
    machine.run("demo")
    assert machine.steps() == ["demo"]
    machine.run("test")
    assert machine.steps()[-1:] == ["test"] and "pip" not in machine.steps()


def test_a_run_cut_short_is_begun_afresh(machine, capfd):
    assert machine.run("demo", fails="pip install") == 5
    assert "run the same command again" in capfd.readouterr().err
    assert machine.run("demo") == 0
    assert machine.steps() == ["venv", "pip", "pip", "demo"]
    assert any("venv --clear" in call for call in machine.called())


def test_adding_the_tests_cut_short_is_begun_afresh(machine):
    machine.run("demo")
    assert machine.run("test", fails="pip install") == 5
    assert machine.run("demo") == 0
    assert machine.steps() == ["venv", "pip", "pip", "demo"]


def cut(machine: Machine) -> None:
    (machine.packages / "thing.py").write_text("x")


def lose(machine: Machine) -> None:
    (machine.packages / "thing.py").unlink()


def lose_python(machine: Machine) -> None:
    (machine.room / "bin/python").unlink()


def lose_all_packages(machine: Machine) -> None:
    shutil.rmtree(machine.packages)


def lock_others(machine: Machine) -> None:
    (machine.house / "proofgen/locked.txt").write_text("a==2 --hash=sha256:0\n")


def ask_for_more(machine: Machine) -> None:
    (machine.house / "pyproject.toml").write_text("[project]\nname = 'more'\n")


@pytest.mark.parametrize(
    "harm", [cut, lose, lose_python, lose_all_packages, ask_for_more, lock_others]
)
def test_a_damaged_or_outdated_room_is_made_anew(machine, harm):
    machine.run("demo")
    harm(machine)
    assert machine.run("demo") == 0
    assert machine.steps() == ["venv", "pip", "pip", "demo"]
    assert machine.run("demo") == 0
    assert machine.steps() == ["demo"]


def test_a_room_that_was_moved_is_made_anew(machine):
    """Its programs and its link to the checkout name the old place."""
    machine.run("demo")
    machine.monkeypatch.setattr(machine.bootstrap, "HOUSE", machine.house / "proofgen/..")
    machine.run("demo")
    assert machine.steps() == ["venv", "pip", "pip", "demo"]


# What is installed


def test_what_is_written_down_is_installed_by_its_digests_and_nothing_beside_it(machine):
    machine.run("test")
    first, second = (call for call in machine.called() if "-m pip" in call)
    assert first.endswith("--require-hashes -r proofgen/locked.txt -r tests/locked.txt")
    assert second.endswith("--no-deps --no-build-isolation --editable .[test]")
    machine.run("demo")
    assert machine.steps() == ["demo"]


def test_the_demo_installs_nothing_of_the_tests(machine):
    machine.run("demo")
    assert not any("tests/locked.txt" in call for call in machine.called())


def test_where_the_very_releases_cannot_be_had_the_newest_are_taken_and_said(machine, capfd):
    assert machine.run("test", fails="--require-hashes") == 0
    assert "Taking the newest that fit instead" in capfd.readouterr().err
    assert machine.steps()[-5:] == ["venv", "pip", "venv", "pip", "test"]
    assert machine.called()[-2].endswith("--use-pep517 --editable .[test]")
    machine.run("demo")
    assert machine.steps() == ["demo"]


def test_another_file_than_the_one_written_down_is_not_installed(machine, capfd, monkeypatch):
    """That is no lack of an index, and nothing else is tried."""
    monkeypatch.setenv("TELLS", "ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE …")
    assert machine.run("demo", fails="--require-hashes") == 5
    assert "is not the file that is written down" in capfd.readouterr().err
    assert machine.steps() == ["venv", "pip"]


# The two commands


def test_the_demo_says_where_the_command_is(machine, capfd, tmp_path):
    assert machine.run("demo", "my shop") == 0
    assert machine.called()[-1].endswith("python -m proofgen demo my shop")
    assert capfd.readouterr().err.endswith("Where it says “proofgen”, type .venv/bin/proofgen\n")
    machine.monkeypatch.chdir(tmp_path)
    machine.run("demo")
    assert f"type {machine.room}/bin/proofgen\n" in capfd.readouterr().err


def test_a_demo_that_fails_keeps_its_exit_code(machine, capfd):
    assert machine.run("demo", fails="proofgen demo") == 1
    assert "Where it says" not in capfd.readouterr().err


def test_options_go_to_pytest(machine):
    assert machine.run("test", "-k", "mirror") == 0
    assert machine.called()[-1].endswith("python -m pytest -q -n auto --dist loadfile -k mirror")
    assert machine.run("test", "-n", "0") == 0
    assert machine.called()[-1].endswith("python -m pytest -q -n 0")
    assert machine.run("test", fails="pytest") == 1


def test_what_tests_write_lies_in_memory_and_goes_with_them(machine, monkeypatch, tmp_path):
    monkeypatch.delenv("TMPDIR", raising=False)
    monkeypatch.setattr(machine.bootstrap, "MEMORY", tmp_path)
    monkeypatch.setattr(machine.bootstrap, "MEMORY_LEAST", 0)
    with machine.bootstrap.room_to_test_in() as folder:
        assert Path(folder).parent == tmp_path and Path(folder).is_dir()
        assert Path(folder).stat().st_mode & 0o777 == 0o755, "other users may enter it"
    assert not Path(folder).exists()


def test_memory_that_others_hold_is_not_free(machine, monkeypatch, tmp_path):
    monkeypatch.setattr(machine.bootstrap, "MEMORY", tmp_path)
    monkeypatch.setattr(machine.bootstrap, "MEMORY_TOLD", tmp_path / "told")
    (tmp_path / "told").write_text("MemTotal:  24000000 kB\nMemAvailable:     12 kB\n")
    assert machine.bootstrap.memory_free() == 12 * 1024


@pytest.mark.parametrize("why", ["said", "short", "lacking"])
def test_where_memory_is_not_to_be_had_the_usual_folder_does(machine, monkeypatch, tmp_path, why):
    monkeypatch.setattr(machine.bootstrap, "MEMORY", tmp_path / ("gone" * (why == "lacking")))
    monkeypatch.setattr(machine.bootstrap, "MEMORY_LEAST", 10**18 if why == "short" else 0)
    monkeypatch.setenv("TMPDIR", str(tmp_path) if why == "said" else "")
    with machine.bootstrap.room_to_test_in() as folder:
        assert folder == ""


@pytest.mark.parametrize("arguments", [[], ["dmo"], ["--help"]])
def test_anything_else_shows_the_two_commands(machine, capfd, arguments):
    assert machine.run(*arguments) == 2
    said = capfd.readouterr().err
    assert "bootstrap.py demo [DIR]" in said and "bootstrap.py test [pytest options]" in said


def test_stopping_it_is_no_traceback(machine, monkeypatch, capfd):
    def stopped(_for_tests: bool) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(machine.bootstrap, "install_python", stopped)
    assert machine.run("demo") == 130
    assert capfd.readouterr().err == "Stopped. Run the same command again to go on.\n"
