"""The real commands stopped at any moment, or told that the disk will not: what each has to do, in
a small shop that is ready for it; and what must be true of the shop afterwards.

A warm process forks one child for each try, so that a fault falls into the work and not into the
imports. `PROOFGEN_FAULTS=full` tries 300 kills and every fault there is; else a few dozen.
"""

from __future__ import annotations

import io
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

import pikepdf
from PIL import Image

from tests.cli.small import files, make_shop, order_text, paint, run, state, write

HOUSE = Path(__file__).parents[2]
FULL = os.environ.get("PROOFGEN_FAULTS") == "full"

STABLE = '''
import contextlib, json, os, pytest, signal, sys, time
sys.path.insert(0, sys.argv[1])
from pathlib import Path
from proofgen import cli, store
from proofgen.cli import customers, folders, looking, making
from proofgen.render import html_to_pdf
from proofgen.render.theme import Theme
from tests import once
with contextlib.suppress(Exception):
    html_to_pdf("<!doctype html><html lang=en><title>x</title><p>x</p>", {}, page_title="x")

# Templates are compiled, pages set and pictures drawn once for all tries.
once.begin(Path(sys.argv[2]))
patch = pytest.MonkeyPatch()
once.remember_pdfs(patch)
once.remember_drawings(patch)
theme = Theme("quay")
for folder in theme._folders:
    for path in (folder / "templates").glob("*.html"):
        for pages in (theme._pages, theme._sheets):
            with contextlib.suppress(Exception):
                pages.get_template(path.name)

def careless(path, content, **_):
    """Writes straight into the file, bit by bit, as most programs do, onto a slow stick."""
    data = content.encode() if isinstance(content, str) else content
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("wb", buffering=0) as stream:
        for at in range(0, len(data), 2048):
            stream.write(data[at:at + 2048])
            time.sleep(0.01)
    return True

def careless_saved(path, save, **_):
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("w+b") as stream:
        save(stream)
    return True

def child(asked):
    os.setsid()
    signal.signal(signal.SIGINT, signal.default_int_handler)
    out = os.open(asked["out"], os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    for number in (1, 2):
        os.dup2(out, number)
    sys.stdout = open(1, "w", buffering=1, closefd=False)
    sys.stderr = open(2, "w", buffering=1, closefd=False)
    if asked["careless"]:
        store.write = store.files.write = careless
        store.saved = store.files.saved = careless_saved
    with open(asked["gate"]) as gate:
        gate.read()
    os._exit(cli.main(asked["arguments"]) or 0)

for line in sys.stdin:
    pid = os.fork()
    if pid == 0:
        try:
            child(json.loads(line))
        finally:
            os._exit(99)
    print(pid, flush=True)
    print(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]), flush=True)
'''


@dataclass(frozen=True, slots=True)
class Try:
    """How one try ended: its exit code (negative: a signal), what it had said by then, how long it
    took (s), and how many faults were put in its way."""

    code: int
    told: str
    took: float
    faults: int = 0


class Stable:
    """The warm process."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._process = subprocess.Popen(
            [sys.executable, "-c", STABLE, str(HOUSE), str(folder / "once")], stdin=subprocess.PIPE,
            stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True,
        )  # fmt: skip
        self._gate = folder / "gate"
        os.mkfifo(self._gate)

    def close(self) -> None:
        self._process.kill()
        self._process.communicate()

    def run(
        self,
        shop: Path,
        *arguments: object,
        careless: bool = False,
        after: float | None = None,
        inject: str = "",
    ) -> Try:
        """One command; killed `after` so many seconds, or with a fault that strace puts in."""
        assert self._process.stdin and self._process.stdout
        out = self.folder / "told"
        given = ["-q", "--shop", str(shop), *map(str, arguments)]
        asked = {"arguments": given, "out": str(out), "gate": str(self._gate), "careless": careless}
        self._process.stdin.write(json.dumps(asked) + "\n")
        self._process.stdin.flush()
        pid = int(self._process.stdout.readline())
        with _strace(pid, inject, self.folder) as log:
            with self._gate.open("w"):  # opens once the child waits there; closing lets it go
                begun = time.monotonic()
            if after is not None:
                time.sleep(after)
                with suppress(ProcessLookupError):  # it was done before
                    os.kill(pid, signal.SIGKILL)
            code = int(self._process.stdout.readline())
            took = time.monotonic() - begun
        _nobody_left(pid)
        faults = log.read_text().count("(INJECTED)") if inject else 0
        return Try(code, out.read_text(errors="replace"), took, faults)


@contextmanager
def _strace(pid: int, inject: str, folder: Path) -> Iterator[Path]:
    log = folder / "strace.log"
    if not inject:
        yield log
        return
    log.unlink(missing_ok=True)
    calls = inject.split(":")[0]
    tracer = subprocess.Popen(
        ["strace", "-f", "-o", str(log), "-e", f"trace={calls}", "-e", f"inject={inject}",
         "-p", str(pid)], stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert tracer.stderr
    assert "attached" in tracer.stderr.readline()
    yield log
    tracer.communicate(timeout=60)


def _nobody_left(session: int) -> None:
    """What the command started ends with it, however it ended."""
    for _ in range(400):
        try:
            os.killpg(session, 0)
        except ProcessLookupError:
            return
        time.sleep(0.05)
    os.killpg(session, signal.SIGKILL)
    raise AssertionError("a process of the command outlived it")


# What is done, and what must be true afterwards


def ready_shop(folder: Path) -> Path:
    """fenn's words changed since its proof, and pic's photo came: to build. quill waits for an
    answer, wed for the press; gone is signed, and is to be taken out."""
    shop = make_shop(folder, "fenn")
    for name, customer in (("quill", "Maren Quill"), ("wed", "Odile Wed"), ("gone", "Gudrun Gone")):
        write(
            shop / "orders" / name / "order.yaml",
            order_text(customer.split()[0], customer=customer),
        )
    run(shop, "proof").ended(0)
    for name in ("wed", "gone"):
        run(shop, "answer", name, "--in-person", "Somebody").ended(0)
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Odalys & Bram & Io"))
    write(shop / "orders" / "pic" / "order.yaml", order_text(design="snap"))
    paint(shop / "orders" / "pic" / "photos" / "pier.jpg")
    run(shop, "orders").ended(0)
    return shop


@dataclass(frozen=True, slots=True)
class Case:
    """A command, the words by which it says that it is done, and whether it is."""

    arguments: tuple[str, ...]
    says: str
    is_done: Callable[[Path], bool]


def _pages(shop: Path) -> bool:
    shown = [p.read_text("utf-8") for p in shop.glob("site/p/*/index.html")]
    return sum("Bram &amp; Io" in text for text in shown) == 1 and len(shown) == 5


def _gone(shop: Path) -> bool:
    """Listed under an id that means nothing, and nowhere else."""
    left = [name for name, content in files(shop).items() if b"Gudrun" in content]
    listed = run(shop, "orders", "--json").document["orders"]
    bare = [row for row in listed if row["state"] == "forgotten"]
    return len(bare) == 1 and not left and not any(row["order"] == "gone" for row in listed)


def _withdrawn(shop: Path) -> bool:
    shown = any(b"Gudrun" in p.read_bytes() for p in shop.glob("site/p/*/index.html"))
    return state(shop, "gone")["state"] == "withdrawn" and not shown


def _packed(shop: Path) -> bool:
    made = shop.parent / "b.zip"
    return made.is_file() and zipfile.ZipFile(made).testzip() is None


def _restored(shop: Path) -> bool:
    back = shop.parent / "back"
    return back.is_dir() and run(back, "records", "verify").code == 0


def _pressed(shop: Path) -> bool:
    return {"wed-ticket.pdf"} <= set(files(shop / "workroom" / "press"))


CASES = {
    "answer": Case(
        ("answer", "quill", "--in-person", "Maren"), r"is recorded",
        lambda shop: state(shop, "quill")["state"] == "signed",
    ),
    "press": Case(("press", "wed"), r"Next: print at actual size", _pressed),
    "build": Case(("build",), r"(?!)", _pages),  # it does all it can, then says what it could not
    "withdraw": Case(("withdraw", "gone", "--sure", "gone"), r"gone is withdrawn", _withdrawn),
    "forget": Case(("forget", "gone", "--sure", "gone"), r"gone is forgotten", _gone),
    "backup": Case(("backup", "../b.zip"), r"files are in", _packed),
    "restore": Case(("restore", "../a.zip", "../back"), r"are back in", _restored),
}  # fmt: skip


def whole(folder: Path) -> list[str]:
    """Published or kept files that are half a file."""
    return [name for name, content in files(folder).items() if not _is_whole(name, content)]


def _is_whole(name: str, content: bytes) -> bool:
    if any(part.startswith(".part-") for part in name.split("/")):
        return True  # of a run's own; it must be gone after the next
    try:
        if name.endswith(".html"):
            return content.rstrip().endswith(b"</html>")
        if name.endswith(".pdf"):
            with pikepdf.open(io.BytesIO(content)) as pdf:
                return len(pdf.pages) > 0
        if name.endswith((".png", ".jpg")):
            with Image.open(io.BytesIO(content)) as image:
                image.load()
        elif name.endswith(".json"):
            json.loads(content)
        elif name.endswith(".zip"):
            return zipfile.ZipFile(io.BytesIO(content)).testzip() is None
        elif name.endswith((".yaml", ".css", ".js", ".eml", ".txt", ".xml", ".svg")):
            return bool(content)
    except (ValueError, OSError, pikepdf.PdfError, zipfile.BadZipFile, SyntaxError):
        return False
    return True


class Scene:
    """A copy of the ready shop for each try."""

    def __init__(self, stable: Stable, ready: Path, folder: Path) -> None:
        self.stable, self.ready, self.folder = stable, ready, folder
        self.shop = folder / "scene" / "shop"

    def set_up(self) -> None:
        shutil.rmtree(self.shop.parent, ignore_errors=True)
        shutil.copytree(self.ready, self.shop)
        shutil.copy(self.ready.parent / "a.zip", self.shop.parent)

    def arguments(self, name: str) -> list[str]:
        """As typed, but with files beside the shop by their full path."""
        return [
            str(self.shop.parent / part[3:]) if part.startswith("../") else part
            for part in CASES[name].arguments
        ]

    def go(self, name: str, careless: bool = False, **how: object) -> Try:
        return self.stable.run(self.shop, *self.arguments(name), careless=careless, **how)  # type: ignore[arg-type]

    def complaints(self, name: str, tried: Try) -> list[str]:
        """What is wrong after a try: a half file, broken records, something acknowledged and not
        so, a fault of our own; then, after the same again, that it is not done or left things."""
        case, found = CASES[name], [f"half: {n}" for n in whole(self.shop.parent)]
        if "Traceback" in tried.told or "a fault in proofgen" in tried.told:
            found.append(f"no plain word: {tried.told}")
        if tried.code > 5:
            found.append(f"exit {tried.code}: {tried.told}")
        verified = run(self.shop, "records", "verify")
        # Half forgotten is told, by the command itself and here, until the same again.
        half = name == "forget" and tried.code and "yet files of it are left" in verified.out
        if verified.code and not half:
            found.append(f"records: {verified.out}{verified.err}")
        if found:
            return found
        if not case.is_done(self.shop):
            if re.search(case.says, tried.told) or tried.code == 0:
                found.append(f"said to be done and is not: {tried.told}")
            again = self.go(name)
            if again.code or not case.is_done(self.shop):
                found.append(f"the same again: exit {again.code}: {again.told}")
        # Any next run clears up; what lies beside the shop, the next of its kind.
        self.stable.run(self.shop, "backup", self.shop.parent / "c.zip")
        left = [n for n in files(self.shop.parent) if ".part-" in n]
        found += [f"left over: {n}" for n in left]
        after = run(self.shop, "records", "verify")
        found += [f"records later: {after.out}"] if after.code else []
        return found + [f"half later: {n}" for n in whole(self.shop.parent)]
