"""Sets up a fresh machine, then builds the demo shop or runs the tests; standard library only.

python3 proofgen/bootstrap.py demo [DIR]
python3 proofgen/bootstrap.py test [pytest options]
"""

from __future__ import annotations

import ctypes
import hashlib
import importlib.util
import os
import platform
import shutil
import subprocess
import sys
from pathlib import Path

HOUSE = Path(__file__).resolve().parent.parent
ROOM = HOUSE / ".venv"
EXIT_USAGE, EXIT_MACHINE = 2, 5
OLDEST = (3, 11)

# What the PDF engine (WeasyPrint, Pango >= 1.44) and the shaping of names load at run time.
LIBRARIES = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
    "libfribidi.so.0": "libfribidi0",
}
# What only the tests use: a browser, PDF tools as outside judges, letters for the browser.
TEST_PROGRAMS = {"chromium": "chromium", "pdfimages": "poppler-utils", "git": "git"}
TEST_FONT = (Path("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"), "fonts-dejavu-core")


def say(sentence: str) -> None:
    print(sentence, file=sys.stderr, flush=True)


def give_up(sentence: str, line: str = "") -> int:
    say(sentence)
    if line:
        say(f"    Type this, then run the same command again:\n    {line}")
    return EXIT_MACHINE


def loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def debian_packages(for_tests: bool) -> list[str]:
    """Names of the Debian packages this machine still needs."""
    wanted = []
    if importlib.util.find_spec("ensurepip") is None or importlib.util.find_spec("venv") is None:
        wanted.append("python3-venv")
    wanted += [package for library, package in LIBRARIES.items() if not loads(library)]
    if for_tests:
        wanted += [p for program, p in TEST_PROGRAMS.items() if not shutil.which(program)]
        if not TEST_FONT[0].exists():
            wanted.append(TEST_FONT[1])
    return wanted


def ask_elsewhere(for_tests: bool) -> int:
    """Say what to install on a machine without apt-get; 0 when nothing is missing."""
    system = platform.system()
    if system == "Darwin":
        if (
            shutil.which("brew")
            and not subprocess.run(
                ["brew", "list", "pango"], capture_output=True, check=False
            ).returncode
        ):
            pass
        else:
            say("PDFs and names need the Pango library. Everything else works without it.")
            say("    With Homebrew: brew install pango")
        if for_tests and not (shutil.which("chromium") and shutil.which("pdfimages")):
            return give_up(
                "The tests need Chromium and the Poppler tools.",
                "brew install poppler && brew install --cask chromium",
            )
    elif system == "Windows":
        say("PDFs and names need the Pango library. Everything else works without it.")
        say("    With MSYS2: pacman -S mingw-w64-x86_64-pango")
        if for_tests and not shutil.which("chromium"):
            return give_up("The tests need Chromium and the Poppler tools on the PATH.")
    else:
        missing = [name for name in LIBRARIES if not loads(name)]
        programs = [p for p in TEST_PROGRAMS if for_tests and not shutil.which(p)]
        if missing or programs:
            return give_up(
                "Please install, with this system's own package tool: Pango, FriBidi and the "
                f"HarfBuzz subset library ({', '.join(missing + programs)})."
            )
    return 0


def install_system(for_tests: bool) -> int:
    """Install what the system lacks where we can; say what to type where we cannot."""
    if not shutil.which("apt-get"):
        return ask_elsewhere(for_tests)
    wanted = debian_packages(for_tests)
    if not wanted:
        return 0
    line = f"apt-get install -y --no-install-recommends {' '.join(wanted)}"
    front: list[str] = []
    if hasattr(os, "geteuid") and os.geteuid() != 0:
        if not shutil.which("sudo"):
            return give_up("Some system packages are missing.", f"(as root) {line}")
        front = ["sudo"]
    say(f"Installing with apt-get: {' '.join(wanted)}")
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (
        ["apt-get", "update", "-qq"],
        line.replace("install", "install -qq", 1).split(),
    ):
        done = subprocess.run([*front, *command], env=quiet, check=False, stdout=subprocess.DEVNULL)
        if done.returncode:
            return give_up("apt-get could not install them.", " ".join([*front, *line.split()]))
    return 0


def python_of_room() -> Path:
    return ROOM / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def install_python(for_tests: bool) -> int:
    """A private Python room in .venv with everything pyproject.toml asks for; quick when done."""
    wanted = "test" if for_tests else "shop"
    state = hashlib.sha256((HOUSE / "pyproject.toml").read_bytes() + sys.version.encode())
    mark = ROOM / f"ready-{wanted}"
    if python_of_room().exists() and mark.exists() and mark.read_text() == state.hexdigest():
        return 0
    say("Setting up a private Python room in .venv (once; a minute or two) …")
    steps = [
        [sys.executable, "-m", "venv", str(ROOM)],
        [
            str(python_of_room()),
            "-m",
            "pip",
            "install",
            "--quiet",
            "--disable-pip-version-check",
            "--editable",
            f"{HOUSE}[test]" if for_tests else str(HOUSE),
        ],
    ]
    for step in steps:
        if subprocess.run(step, check=False, stdout=sys.stderr).returncode:
            return give_up(
                "Setting it up did not work; the lines above say why.",
                f"Check the internet connection. To start clean, delete the folder {ROOM.name}.",
            )
    for name in ("shop", "test") if for_tests else ("shop",):
        (ROOM / f"ready-{name}").write_text(state.hexdigest())
    return 0


def main(arguments: list[str]) -> int:
    if not arguments or arguments[0] not in ("demo", "test"):
        say(__doc__ or "")
        return EXIT_USAGE
    if sys.version_info < OLDEST:
        return give_up(
            f"proofgen needs Python {OLDEST[0]}.{OLDEST[1]} or newer; this is "
            f"{platform.python_version()}. It can be had from python.org."
        )
    for_tests = arguments[0] == "test"
    code = install_system(for_tests) or install_python(for_tests)
    if code:
        return code
    command = [str(python_of_room()), "-m"]
    if for_tests:
        command += ["pytest", "-q", *arguments[1:]]
        return subprocess.run(command, cwd=HOUSE, check=False).returncode
    return subprocess.run([*command, "proofgen", "demo", *arguments[1:]], check=False).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
