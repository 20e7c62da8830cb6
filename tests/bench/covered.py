"""Which branches of the core the tests take, room by room.

    pip install coverage
    python tests/bench/covered.py [--keep FOLDER] [--show ROOM] [what pytest is to run]

With --keep, what earlier runs into the same folder took counts as well, so that the suite can be
measured in pieces; --show lists the lines from which a branch was not taken. The small process that
opens photos starts with nothing and may write nothing: here it is started by way of a script that
sends what was taken to a process beside it before each reply. Processes that are killed in other
ways tell nothing, so that the shares are the least.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]
CORE = ("geometry", "colour", "model", "artwork", "press", "signoff", "photo", "checks")
SOURCE = [str(HOUSE / "proofgen" / room) for room in CORE]
_FOLDER = "PROOFGEN_COVERED"
_SETTINGS = """
[run]
branch = true
parallel = true
source = {source}
data_file = {folder}/taken
concurrency = thread,multiprocessing
patch = subprocess
disable_warnings = no-data-collected,module-not-measured
[report]
exclude_also =
    if TYPE_CHECKING
    assert_never
"""
_BY_WAY_OF = """
import os, runpy, sys
del sys.argv[0]
sys.path.extend([{house!r}, *sys.argv[2:]])
import coverage
come, go = os.pipe()
if os.fork() == 0:
    for handle in (0, 1, 2, go):
        os.close(handle)
    last, pipe = b"", os.fdopen(come, "rb")
    while len(head := pipe.read(8)) == 8 and len(body := pipe.read(int.from_bytes(head))) > 0:
        last = body
    if last:
        name = {folder!r} + "/taken.child.%d" % os.getpid()
        data = coverage.CoverageData(basename=name + ".part")
        data.loads(last)
        data.write()
        os.rename(name + ".part", name)
    os._exit(0)
os.close(come)
measuring = coverage.Coverage(
    data_file=None, branch=True, source={source!r}, config_file=False
)
measuring.set_option("run:disable_warnings", ["no-data-collected"])
measuring.start()
def told():
    body = measuring.get_data().dumps()
    os.write(go, len(body).to_bytes(8))
    while body:
        body = body[os.write(go, body):]
from proofgen.photo import exchange
plain, leave = exchange.send_reply, os._exit
told()  # loads what it needs while it may
exchange.send_reply = lambda *reply: (told(), plain(*reply))
os._exit = lambda code: (told(), leave(code))
try:
    runpy.run_path(sys.argv[0], run_name="__main__")
finally:
    told()
"""


def pytest_configure() -> None:
    """As a plugin of pytest: the process that opens photos is started by way of `_BY_WAY_OF`."""
    from proofgen.photo import worker

    folder = os.environ[_FOLDER]
    script = Path(folder, "by_way_of.py")
    script.write_text(_BY_WAY_OF.format(house=str(HOUSE), folder=folder, source=SOURCE))
    plain = worker.command

    def command() -> list[str]:
        whole = plain()
        at = whole.index(str(worker._CHILD))
        return [*whole[:at], str(script), *whole[at:]]

    worker._LIBRARIES = (*worker._LIBRARIES, "coverage")
    worker.command = command


def pytest_sessionfinish() -> None:
    """Kept before the end: who works for pytest may be ended in a hurry."""
    from coverage import Coverage

    if measuring := Coverage.current():
        measuring.save()


def run(folder: Path, what: list[str]) -> int:
    """pytest, measured; its exit code."""
    settings = folder / "settings.ini"
    settings.write_text(_SETTINGS.format(source=",".join(SOURCE), folder=folder))
    measured = [sys.executable, "-m", "coverage", "run", f"--rcfile={settings}", "-m", "pytest"]
    around = {**os.environ, _FOLDER: str(folder), "PYTHONPATH": str(HOUSE)}
    ended = subprocess.run([*measured, "-p", "tests.bench.covered", *what], cwd=HOUSE, env=around)
    time.sleep(2)  # what lies beside the processes that opened photos writes after their end
    return ended.returncode


def taken(folder: Path) -> Mapping[str, dict]:
    """By file below proofgen, what was taken."""
    rcfile = f"--rcfile={folder / 'settings.ini'}"
    coverage = [sys.executable, "-m", "coverage"]
    subprocess.run([*coverage, "combine", "-q", "--append", rcfile], cwd=HOUSE)
    told = folder / "told.json"
    subprocess.run([*coverage, "json", "-q", "-i", rcfile, "-o", told], cwd=HOUSE, check=True)
    files = json.loads(told.read_text())["files"]
    return {name.removeprefix("proofgen/"): files[name] for name in sorted(files)}


def say(files: Mapping[str, dict], shown: list[str]) -> None:
    """Prints a row for each room of the core, and what `shown` rooms lack."""
    print(f"{'room':9}  branches       %  lines          %")
    for room in CORE:
        of = Counter()
        for name, file in files.items():
            if name.startswith(f"{room}/"):
                of.update({key: n for key, n in file["summary"].items() if isinstance(n, int)})
        branches, lines = of["num_branches"] or 1, of["num_statements"] or 1
        print(
            f"{room:9} {of['covered_branches']:5}/{branches:5} "
            f"{100 * of['covered_branches'] / branches:6.1f} "
            f"{of['covered_lines']:5}/{lines:5} {100 * of['covered_lines'] / lines:6.1f}"
        )
    for name, file in files.items():
        if name.startswith(tuple(f"{room}/" for room in shown)) and file["missing_branches"]:
            missing = (f"{come}→{go}" for come, go in file["missing_branches"])
            print(f"{name}: {', '.join(missing)}")


def main() -> int:
    """Measures, prints; pytest's exit code."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--keep", type=Path)
    parser.add_argument("--show", action="append", default=[], choices=CORE)
    asked, what = parser.parse_known_args()
    with tempfile.TemporaryDirectory() as own:
        folder = (asked.keep or Path(own)).resolve()
        folder.mkdir(exist_ok=True)
        ended = run(folder, what)
        say(taken(folder), asked.show)
    return ended


if __name__ == "__main__":
    sys.exit(main())
