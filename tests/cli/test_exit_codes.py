"""Every exit code a script may lean on, shown by a run that deserves it."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from proofgen import store
from proofgen.render.systems import line_for
from proofgen.store import holding
from tests.cli.small import Ran, files, make_shop, order_text, paint, run, state, write
from tests.lacking import small_disk

HOUSE = Path(__file__).parents[2]
ROOT = os.name == "posix" and os.getuid() == 0
NOBODY = 65534


def child(
    *arguments: object, before: tuple[str, ...] = (), path: Path | None = None, **env: str
) -> Ran:
    """The command in a process of its own; `path` comes first where modules are looked for."""
    places = [str(p) for p in (path, HOUSE) if p]
    done = subprocess.run(
        [*before, sys.executable, "-m", "proofgen", *map(str, arguments)],
        capture_output=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(places), "NO_COLOR": "1", **env},
        cwd=HOUSE,
        timeout=60,
        check=False,
    )
    return Ran(done.returncode, done.stdout.decode(), done.stderr.decode())


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A temporary folder that other users of this machine can enter."""
    folder = Path(tempfile.mkdtemp(prefix="proofgen-test-"))
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


def soft(shop: Path, side: int) -> None:
    """An order whose photo has only `side` pixels across a coaster."""
    write(shop / "orders" / "pic" / "order.yaml", order_text(design="snap"))
    paint(shop / "orders" / "pic" / "photos" / "pier.jpg", side)


# 0 and 1


def test_clean_orders_end_with_0(shop):
    for command in ("check", "proof", "orders", "build", "blanks"):
        run(shop, command).ended(0)


def test_stop_ends_with_1_and_blocks_the_proof(shop):
    soft(shop, 200)
    told = run(shop, "check").ended(1)
    assert "pic: 1 stop" in told.out
    refused = run(shop, "proof", "pic").ended(1)
    assert "proofgen check pic --accept" in refused.err
    assert not (shop / "site" / "p").exists()
    assert run(shop, "build").ended(1)
    assert state(shop, "fenn")["state"] == "ready"
    assert state(shop, "pic")["state"] == "stopped"


def test_fail_on_sets_the_bar(shop):
    soft(shop, 700)
    run(shop, "check").ended(0)
    run(shop, "check", "--fail-on", "warn").ended(1)
    run(shop, "check", "fenn", "--fail-on", "warn").ended(0)
    run(shop, "check", "fenn", "--fail-on", "note").ended(1)


# 2


@pytest.mark.parametrize(
    ("arguments", "cure"),
    [
        (["polish"], "did you mean proofgen publish?"),
        (["xylem"], "--help"),
        ([], "--help"),
        (["check", "fen"], "did you mean fenn?"),
        (["blanks", "coaster-rond"], "did you mean coaster-round?"),
        (["answer", "reply.eml"], "name a mail"),
        (["answer", "-", "--on", "tomorrow"], "2026-11-25"),
        (["check", "--accept", "x"], "--because"),
        (["check", "fenn", "--accept", "x", "--because", "…"], "--because"),
        (["check", "fenn", "--accept", "photo/blur:x", "--because", "y"], "fenn has no finding"),
        (["look", "no-such.jpg"], "check the name"),
        (["press", "--done"], "proofgen press ORDER --done"),
        (["serve", "--port", "99999"], "--port"),
    ],
)
def test_what_cannot_be_meant_ends_with_2(shop, arguments, cure):
    told = run(shop, *arguments).ended(2)
    assert cure in told.err and told.out == ""


# 3


def test_folder_that_is_no_shop_ends_with_3(tmp_path):
    for command in ("check", "build", "orders", "proof", "press", "catalogue"):
        told = run(tmp_path, command).ended(3)
        assert told.err.count("\n") == 2 and "proofgen start my-shop" in told.err
    assert list(tmp_path.iterdir()) == []
    run(tmp_path / "nowhere", "check").ended(3)
    told = run(tmp_path, "serve").ended(3)
    assert "proofgen build" in told.err


def test_shop_yaml_in_pieces_tells_all_faults_at_once(shop):
    write(shop / "shop.yaml", "name: X\ncontact: here\npaper: [A9]\n\tbad: 1\n")
    told = run(shop, "check").ended(3)
    assert "shop.yaml:4" in told.err
    write(shop / "shop.yaml", "name: X\ncontact: a@b.example\npaper: [A9]\nspares: many\n")
    told = run(shop, "check").ended(3)
    assert "shop.yaml:3" in told.err and "shop.yaml:4" in told.err


# 4


def test_unsigned_and_refused_end_with_4(shop):
    told = run(shop, "press", "fenn").ended(4)
    assert "proofgen proof fenn" in told.err
    run(shop, "proof", "fenn").ended(0)
    told = run(shop, "press", "fenn").ended(4)
    assert "not answered yet" in told.err
    assert files(shop / "workroom" / "press") == {}
    told = run(shop, "answer", "-", typed="Looks lovely, go ahead!").ended(4)
    assert "nothing was recorded" in told.err and told.out == ""
    for command in (["press", "fenn", "--done"], ["handed-over", "fenn"]):
        told = run(shop, *command).ended(4)
        assert "proofgen orders" in told.err
    told = run(shop, "letter", "quill").ended(4)
    assert "proofgen proof quill" in told.err


# 5


def test_another_run_at_work_ends_with_5(shop):
    with store.lock(shop / "records"):
        for command in (["build"], ["proof"], ["press"], ["answer", "fenn", "--in-person", "O"]):
            told = run(shop, *command).ended(5)
            assert "another run is at work" in told.err and told.err.count("\n") == 2
        run(shop, "check").ended(0)  # looking is always allowed
    run(shop, "build").ended(0)


def test_which_command_holds_the_folder_is_told(shop, monkeypatch):
    """Who ran `build` in another window and forgot it waited for nothing he could name."""
    noted, note = [], holding._note
    monkeypatch.setattr(holding, "_note", lambda *args: (noted.append(args[1]), note(*args)))
    run(shop, "build").ended(0)
    assert '"command": "build"' in noted[0] and noted[-1] == ""
    with store.lock(shop / "records", "build"):
        told = run(shop, "proof").ended(5).err
        assert re.search(r"`proofgen build`, since \d\d:\d\d \(process \d+\)", told), told
        assert told.count("\n") == 2


def test_costs_are_told_while_another_run_is_at_work_but_no_table_is_written(shop, tmp_path):
    table = tmp_path / "sold.csv"
    with store.lock(shop / "records"):
        told = run(shop, "orders", "--tally").ended(5)  # its page must wait, the figures need not
        assert "another run is at work" in told.err and "order, line" in told.out
        told = run(shop, "orders", "--sold", str(table)).ended(5)
        assert "another run is at work" in told.err and not table.exists()
    run(shop, "orders", "--sold", str(table)).ended(0)
    assert table.exists()


@pytest.fixture
def other() -> tuple[str, ...]:
    """What to put before a command to run it as somebody else."""
    if not ROOT or not shutil.which("setpriv"):
        pytest.skip("only root can run this as somebody else")
    said = ("setpriv", f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups")
    if child("--version", before=said).code:
        pytest.skip("others may not run this Python")
    return said


def test_read_only_folder_ends_with_5(open_folder, other):
    shop = make_shop(open_folder / "shop", "fenn")
    before = files(shop)
    for command in ("build", "proof", "order"):
        told = child("--shop", shop, command, before=other).ended(5)
        assert "may not be written to" in told.err and told.err.count("\n") == 2, told.err
    assert files(shop) == before
    told = child("start", open_folder / "new", before=other).ended(5)
    assert told.err.count("\n") == 2


@pytest.fixture
def small(open_folder: Path) -> Iterator[Path]:
    with small_disk(open_folder / "disk", "200k") as disk:
        yield disk


def test_full_disk_ends_with_5_and_the_next_run_goes_on(small):
    shop = make_shop(small / "shop", "fenn", "quill", season=True)
    told = run(shop, "build").ended(5)
    assert "the disk is full" in told.err and "free some space" in told.err
    assert not [name for name in files(shop) if ".part-" in name]
    run(shop, "records", "verify").ended(0)
    subprocess.run(["mount", "-o", "remount,size=20m", str(small)], check=True)
    run(shop, "build").ended(0)
    run(shop, "records", "verify").ended(0)
    assert state(shop, "fenn")["edition"] == 1
    assert state(shop, "quill")["state"] == "ready"


def test_looking_needs_no_right_to_write(small):
    """A shop on a stick that was switched to read-only can still be checked."""
    subprocess.run(["mount", "-o", "remount,size=20m", str(small)], check=True)
    shop = make_shop(small / "shop", "fenn")
    soft(shop, 1000)
    subprocess.run(["mount", "-o", "remount,ro", str(small)], check=True)
    told = run(shop, "check").ended(0)
    assert "fenn" in told.out and "pic" in told.out
    run(shop, "orders").ended(0)
    told = run(shop, "build").ended(5)
    assert "may not be written to" in told.err


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
def test_what_is_said_into_a_full_file_ends_with_5(shop):
    command = [sys.executable, "-m", "proofgen", "--shop", str(shop), "orders"]
    with Path("/dev/full").open("wb") as full:
        env = {**os.environ, "PYTHONPATH": str(HOUSE)}
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, env=env, check=False)
    told = Ran(done.returncode, "", done.stderr.decode()).ended(5)
    assert "no space left" in told.err and "To mend it" in told.err
    assert told.err.count("\n") == 2, told.err


NO_PANGO = '''
import sys
class Blocked:
    """What importing WeasyPrint does where its text library is not installed."""
    def find_spec(self, name, path=None, target=None):
        if name == "weasyprint":
            raise OSError("cannot load library 'libpango-1.0-0'")
sys.meta_path.insert(0, Blocked())
'''


def test_without_pango_all_but_pdfs_is_made_and_said(shop, tmp_path):
    write(shop / "seasons" / "winter.md", "---\ntitle: W\nsentence: S\ndesigns: [tag]\n---\nx\n")
    run(shop, "proof", "fenn").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0)
    for gone in ("site", "workroom/pages"):  # where what was made before would be put back from
        shutil.rmtree(shop / gone)
    write(tmp_path / "lame" / "sitecustomize.py", NO_PANGO)
    for _ in range(2):  # the second run must not forget that something is missing
        told = child("--shop", shop, "build", path=tmp_path / "lame").ended(5)
        assert told.err.count("PDFs cannot be made on this machine") == 1
        assert line_for("pango") in told.err
        made = files(shop / "site")
        assert "index.html" in made and "designs/tag.html" in made
        assert sum(n.startswith("p/") and n.endswith("/index.html") for n in made) == 3
        assert not [n for n in made if n.endswith(".pdf")]
        assert "quill" in told.out
    ready = child("--shop", shop, "ready", path=tmp_path / "lame").ended(5)
    assert re.search("^missing +PDF pages", ready.out, re.M)
    assert line_for("pango") in ready.out
    run(shop, "build").ended(0)  # Pango is back
    made = files(shop / "site")
    assert sum(n.startswith("p/") and n.endswith(".pdf") for n in made) == 2
    assert any("fenn-sheet" in n for n in files(shop / "workroom" / "press"))


# the worst of a build


def test_build_ends_with_the_worst_and_makes_the_rest(shop):
    soft(shop, 200)
    run(shop, "build").ended(1)
    run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0)
    raster = next((shop / "records" / "fenn" / "rasters").iterdir())
    kept = raster.read_bytes()
    raster.write_bytes(kept[:-1] + b"x")
    told = run(shop, "build").ended(4)
    assert "fenn" in told.err
    write(shop / "orders" / "torn" / "order.yaml", "customer: {name: [\n")
    told = run(shop, "build").ended(3)
    assert "orders/torn/order.yaml:2" in told.err or "orders/torn/order.yaml:1" in told.err
    with store.lock(shop / "records"):
        run(shop, "build").ended(5)
    raster.write_bytes(kept)
    shutil.rmtree(shop / "orders" / "torn")
    run(shop, "build").ended(1)
