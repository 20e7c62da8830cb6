"""Sets up a fresh machine, then builds the demo shop or runs the tests; standard library only.

python3 proofgen/bootstrap.py demo [DIR]
python3 proofgen/bootstrap.py test [pytest options]
"""

# An old Python must get far enough to say so: hence no future import and quoted types.

import contextlib
import csv
import ctypes
import hashlib
import importlib.util
import os
import platform
import re
import shutil
import subprocess
import sys
import sysconfig
import tempfile
from collections.abc import Iterator
from pathlib import Path

HOUSE = Path(__file__).resolve().parent.parent
ROOM = HOUSE / ".venv"
LOCKED, FOR_TESTS = "proofgen/locked.txt", "tests/locked.txt"
EXIT_USAGE, EXIT_MACHINE, EXIT_STOPPED = 2, 5, 130
OLDEST, NEWEST_TO_LOOK_FOR = (3, 11), 19

# What the PDF engine (WeasyPrint, Pango >= 1.44) and the shaping of names load at run time.
LIBRARIES = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
    "libfribidi.so.0": "libfribidi0",
}
# What only the tests use: a browser, PDF tools as outside judges, letters for the browser, and
# what the program that steers the browser is linked with.
TEST_LIBRARIES = {"libatomic.so.1": "libatomic1"}
TEST_PROGRAMS = {"chromium": "chromium", "pdfimages": "poppler-utils", "git": "git"}
TEST_FONT = (Path("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"), "fonts-dejavu-core")

MEMORY, MEMORY_LEAST = Path("/dev/shm"), 8_000_000_000  # bytes: three times what tests write
MEMORY_TOLD = Path("/proc/meminfo")

# The lines for macOS and Windows are those of WeasyPrint's own guide ("First steps"); those for
# Linux other than Debian are from memory. None of them was tried.
PANGO_ELSEWHERE = {
    "Darwin": "brew install pango\n"
    "    With a Python that is not Homebrew's, type this too before each use:\n"
    "    export DYLD_FALLBACK_LIBRARY_PATH=$(brew --prefix)/lib",
    "Windows": "pacman -S mingw-w64-ucrt-x86_64-pango\n"
    "    in the MSYS2 UCRT64 window (MSYS2 comes from msys2.org)",
}
PANGO_LINUX = {"dnf": "sudo dnf install pango", "pacman": "sudo pacman -S pango"}


def say(sentence: str) -> None:
    print(sentence, file=sys.stderr, flush=True)


def give_up(sentence: str, line: str = "") -> int:
    say(sentence)
    if line:
        say(f"    Type this, then run the same command again:\n    {line}")
    return EXIT_MACHINE


# The system


def loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def has_program(name: str) -> bool:
    # The tests take either browser.
    return bool(shutil.which(name) or (name == "chromium" and shutil.which("google-chrome")))


def debian_packages(for_tests: bool) -> "list[str]":
    """Names of the Debian packages this machine still needs."""
    wanted = []
    if importlib.util.find_spec("ensurepip") is None or importlib.util.find_spec("venv") is None:
        wanted.append("python3-venv")
    libraries = {**LIBRARIES, **TEST_LIBRARIES} if for_tests else LIBRARIES
    wanted += [package for library, package in libraries.items() if not loads(library)]
    if for_tests:
        wanted += [p for program, p in TEST_PROGRAMS.items() if not has_program(program)]
        if not TEST_FONT[0].exists():
            wanted.append(TEST_FONT[1])
    return wanted


def install_system(for_tests: bool) -> int:
    """Install what the system lacks where we can; say what to type where we cannot."""
    if not shutil.which("apt-get"):
        return ask_elsewhere(for_tests)
    wanted = debian_packages(for_tests)
    if not wanted:
        return 0
    line = f"apt-get install -y --no-install-recommends {' '.join(wanted)}"
    both = f"apt-get update && {line}"
    front = []
    if os.geteuid() != 0:
        if not shutil.which("sudo"):
            return give_up(
                "Some system packages are missing, and only root may install them.",
                f"su - -c '{both}'",
            )
        front = ["sudo"]
        both = f"sudo apt-get update && sudo {line}"
    say(f"Installing with {' '.join([*front, 'apt-get'])}: {' '.join(wanted)}")
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (
        ["apt-get", "update", "-qq"],
        line.replace("install", "install -qq", 1).split(),
    ):
        done = subprocess.run([*front, *command], env=quiet, check=False, stdout=subprocess.DEVNULL)
        if done.returncode:
            return give_up(
                "apt-get could not install them; the lines above say why (often: no internet).",
                both,
            )
    return 0


def ask_elsewhere(for_tests: bool) -> int:
    """Say what is missing on a machine without apt-get; 0 when the work can go on."""
    if for_tests:
        absent = [program for program in TEST_PROGRAMS if not has_program(program)]
        if absent:
            say(f"Not found, so the tests that use them are left out: {', '.join(absent)}.")
    if platform.system() in PANGO_ELSEWHERE:
        return 0  # where a library lies there, only the room's own Python can tell
    missing = [library for library in LIBRARIES if not loads(library)]
    if not missing:
        return 0
    lines = [line for tool, line in PANGO_LINUX.items() if shutil.which(tool)]
    sentence = f"Missing: {', '.join(missing)}. They come with Pango 1.44 or newer."
    if lines:
        return give_up(sentence, lines[0])
    return give_up(f"{sentence} Please install it with this system's own package tool.")


def try_pdfs() -> None:
    """Where the system is not asked beforehand: say what to type if PDFs cannot be made."""
    line = PANGO_ELSEWHERE.get(platform.system())
    if not line:
        return
    ready = "import sys; from proofgen.render import pdf_ready; sys.exit(not pdf_ready())"
    if subprocess.run([str(python_of_room()), "-c", ready], cwd=HOUSE, check=False).returncode:
        say("PDFs and names need the Pango library. Everything else works without it. Type:")
        say(f"    {line}")


# The private Python room


def in_room(name: str) -> Path:
    """A program of the room."""
    return ROOM / (f"Scripts/{name}.exe" if os.name == "nt" else f"bin/{name}")


def python_of_room() -> Path:
    return in_room("python")


def is_whole() -> bool:
    """Whether every file that pip noted is there in its full length; about 0.2 s."""
    base = sysconfig.get_path("purelib", "venv", {"base": str(ROOM), "platbase": str(ROOM)})
    records = list(Path(base).glob("*.dist-info/RECORD"))
    for record in records:
        with record.open(newline="", encoding="utf-8") as lines:
            for name, _digest, length in csv.reader(lines):
                if name.endswith(".pyc"):
                    continue  # made again when needed
                try:
                    size = os.stat(os.path.join(base, name)).st_size  # noqa: PTH116, PTH118 (speed)
                except OSError:
                    return False
                if length and size != int(length):
                    return False
    return bool(records)


MISMATCH = "DO NOT MATCH THE HASHES"  # so pip says it


def pip_install(*what: str) -> "list[str]":
    pip = [str(python_of_room()), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    return [*pip, *what]


def editable(for_tests: bool) -> "list[str]":
    return ["--editable", ".[test]" if for_tests else "."]


def exact_steps(for_tests: bool) -> "list[list[str]]":
    """The releases that are written down, each file known by its digest, and nothing beside them;
    then proofgen itself, which has no digest and needs nothing more."""
    files = [LOCKED, FOR_TESTS] if for_tests else [LOCKED]
    asked = [part for file in files for part in ("-r", file)]
    return [
        pip_install("--require-hashes", *asked),
        pip_install("--no-deps", "--no-build-isolation", *editable(for_tests)),
    ]


def fill_room(steps: "list[list[str]]", empty: bool) -> str:
    """Run pip in the room, `empty` in a new one; '' when all went well, else what was told."""
    if empty:
        steps = [[sys.executable, "-m", "venv", "--clear", str(ROOM)], *steps]
    for step in steps:
        done = subprocess.run(
            step, cwd=HOUSE, check=False, stdout=sys.stderr, stderr=subprocess.PIPE
        )
        told = done.stderr.decode(errors="replace")
        if done.returncode:
            say(told)
            return told or "failed"
    return ""


def install_python(for_tests: bool) -> int:
    """A private Python room in .venv with the releases that locked.txt names, else with everything
    pyproject.toml asks for; quick when done.

    A room that was left half-way, is damaged, or was made for another Python, place or list of
    packages is made anew: pip takes a package that was cut short for an installed one.
    """
    identity = f"{sys.version} {HOUSE} ".encode()
    known = [HOUSE / name for name in ("pyproject.toml", LOCKED, FOR_TESTS)]
    identity += b"".join(file.read_bytes() for file in known if file.is_file())
    state = hashlib.sha256(identity).hexdigest()
    mark = ROOM / "ready"
    marked = mark.read_text().split() if mark.is_file() else []
    whole = marked[:1] == [state] and python_of_room().exists() and is_whole()
    if whole and (marked[1:] == ["test"] or not for_tests):
        return 0
    say("Setting up a private Python room in .venv (once; a minute or two) …")
    if mark.is_file():
        mark.unlink()
    told = fill_room(exact_steps(for_tests), empty=not whole)
    if MISMATCH in told:
        return give_up(
            "A package that came is not the file that is written down in locked.txt, so nothing "
            "of it was installed. Run the same command again; if it comes again, ask whoever keeps "
            "the package index, or, if the index is yours, `python3 tests/lock.py` writes down "
            "what it gives."
        )
    if told:
        say("The very packages that proofgen was tried with could not be had here (the lines above")
        say("say why). Taking the newest that fit instead: they may behave otherwise …")
        told = fill_room([pip_install("--use-pep517", *editable(for_tests))], empty=True)
    if told:
        return give_up(
            "Setting it up did not work; the lines above say why (often: no internet). "
            "When that is mended, run the same command again: it starts afresh."
        )
    mark.write_text(f"{state} {'test' if for_tests else 'shop'}\n")
    return 0


# The two commands


def refuse_old_python(arguments: "list[str]") -> int:
    # Plain letters only: an old Python may not print others.
    sentence = "proofgen needs Python {}.{} or newer; this is {}.".format(
        *OLDEST, platform.python_version()
    )
    for minor in range(NEWEST_TO_LOOK_FOR, OLDEST[1] - 1, -1):
        name = f"python3.{minor}"
        if shutil.which(name):
            say(sentence + " A newer one is on this machine. Type this:")
            say("    " + " ".join([name, sys.argv[0], *arguments]))
            return EXIT_MACHINE
    return give_up(sentence + " It can be had from python.org.")


def run_demo(arguments: "list[str]") -> int:
    command = [str(python_of_room()), "-m", "proofgen", "demo", *arguments]
    code = subprocess.run(command, check=False).returncode
    if code == 0:
        program = in_room("proofgen")
        if Path.cwd() == HOUSE:
            program = program.relative_to(HOUSE)
        say(f"Where it says “proofgen”, type {program}")
    return code


def memory_free() -> int:
    """Bytes that are free in the folder in memory, and in memory itself: what others left lying
    there, or hold, counts as well."""
    free = shutil.disk_usage(MEMORY).free
    said = MEMORY_TOLD.read_text() if MEMORY_TOLD.is_file() else ""
    told = re.search(r"^MemAvailable:\s+(\d+) kB", said, re.M)
    return min(free, int(told[1]) * 1024) if told else free


@contextlib.contextmanager
def room_to_test_in() -> "Iterator[str]":
    """A folder in memory for what tests write, gone afterwards: they flush every file they write,
    for which a slow disk takes ten times as long as they. '' where memory is short, where the
    system keeps no files in it, or where TMPDIR says where to."""
    if os.environ.get("TMPDIR") or not MEMORY.is_dir():
        yield ""
        return
    if memory_free() < MEMORY_LEAST or not os.access(MEMORY, os.W_OK):
        yield ""
        return
    folder = tempfile.mkdtemp(prefix="proofgen-", dir=MEMORY)
    Path(folder).chmod(0o755)  # some tests do what another user of the machine would
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def run_tests(arguments: "list[str]") -> int:
    command = [str(python_of_room()), "-m", "pytest", "-q"]
    if "-n" not in arguments:
        # A file's tests share what they set up, so each file stays on one core.
        command += ["-n", "auto", "--dist", "loadfile"]
    command += arguments
    with room_to_test_in() as folder:
        around = {**os.environ, "TMPDIR": folder} if folder else None
        return subprocess.run(command, cwd=HOUSE, check=False, env=around).returncode


def main(arguments: "list[str]") -> int:
    if not arguments or arguments[0] not in ("demo", "test"):
        say(__doc__ or "")
        return EXIT_USAGE
    if sys.version_info < OLDEST:
        return refuse_old_python(arguments)
    for_tests = arguments[0] == "test"
    try:
        code = install_system(for_tests) or install_python(for_tests)
        if code:
            return code
        try_pdfs()
        return (run_tests if for_tests else run_demo)(arguments[1:])
    except KeyboardInterrupt:
        say("Stopped. Run the same command again to go on.")
        return EXIT_STOPPED


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
