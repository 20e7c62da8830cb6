"""A private page that was damaged is put back as its customer was shown it, byte for byte."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import IO, Any

import pytest

from proofgen.pipeline.builds import build
from proofgen.signoff import Records
from proofgen.workshop import at_work, open_workshop
from tests.cli.small import files, make_shop, order_text, run, state, write

PRICE = ("{1: 5.00, ", "{1: 99.00, ")


def home(shop: Path, order: str = "fenn") -> Path:
    return shop / "site" / "p" / str(Records(shop / "records").token(order))


def one_of(folder: Path, ending: str) -> Path:
    return sorted(folder.glob(f"*.{ending}"))[0]


def _readdressed(folder: Path) -> None:
    page = folder / "index.html"
    text = page.read_text("utf-8")
    assert "hello@puffinyard.example" in text
    page.write_text(text.replace("hello@puffinyard.example", "x@elsewhere.example"), "utf-8")


def _halved(path: Path) -> None:
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


def _one_bit(path: Path) -> None:
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 1
    about = path.stat()
    path.write_bytes(data)
    import os

    os.utime(path, ns=(about.st_atime_ns, about.st_mtime_ns))  # as a copying program leaves it


def _linked(folder: Path) -> None:
    page = folder / "index.html"
    page.rename(folder.parent.parent / "elsewhere.html")
    page.symlink_to(folder.parent.parent / "elsewhere.html")


def _a_folder_instead(path: Path) -> None:
    path.unlink()
    write(path / "within.txt", "foreign")


DAMAGES: dict[str, Callable[[Path], object]] = {
    "page emptied": lambda f: (f / "index.html").write_bytes(b""),
    "page halved": lambda f: _halved(f / "index.html"),
    "answers go elsewhere": _readdressed,
    "page deleted": lambda f: (f / "index.html").unlink(),
    "picture gone": lambda f: one_of(f, "jpg").unlink(),
    "picture empty": lambda f: one_of(f, "jpg").write_bytes(b""),
    "PDF gone": lambda f: one_of(f, "pdf").unlink(),
    "PDF empty": lambda f: one_of(f, "pdf").write_bytes(b""),
    "one bit of a picture, its time kept": lambda f: _one_bit(one_of(f, "jpg")),
    "foreign file": lambda f: write(f / "foreign.html", "not ours"),
    "foreign folder": lambda f: write(f / "more" / "foreign.html", "not ours"),
    "all of it deleted": shutil.rmtree,
    "a link in the page's place": _linked,
    "a folder in a picture's place": lambda f: _a_folder_instead(one_of(f, "jpg")),
    "closed to the host": lambda f: (f / "index.html").chmod(0o600),
    "the folder closed to the host": lambda f: f.chmod(0o700),
}


@pytest.fixture(scope="module")
def signed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A signed order, another that is out, and a third that is pressed."""
    shop = make_shop(tmp_path_factory.mktemp("mended") / "shop", "fenn", "out", "done")
    run(shop, "proof").ended(0)
    for name in ("fenn", "done"):
        run(shop, "answer", name, "--in-person", "Odalys Fenn").ended(0)
    run(shop, "letter", "out", "--sent").ended(0)
    run(shop, "press", "done").ended(0)
    run(shop, "press", "done", "--done").ended(0)
    run(shop, "-q", "build").ended(0)
    return shop


@pytest.fixture
def shop(signed: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(signed, tmp_path / "shop", symlinks=True))


def whole(folder: Path) -> dict[str, bytes]:
    """What lies there, each a plain file that everybody may read."""
    assert folder.stat().st_mode & 0o777 == 0o755
    for path in folder.iterdir():
        assert path.is_file() and not path.is_symlink(), path
        assert path.stat().st_mode & 0o777 == 0o644, path
    return files(folder)


def told(order: str, damage: str) -> str:
    """How the sentence about a mended page begins; one that was not there was not damaged."""
    if damage == "all of it deleted":
        return f"Set again from what was signed, because it was not in site/p/: the page of {order}"
    return f"The page of {order}"


@pytest.mark.parametrize("damage", DAMAGES)
@pytest.mark.parametrize("order", ["fenn", "out", "done"])
def test_build_mends_it(shop: Path, order: str, damage: str) -> None:
    before = whole(home(shop, order))
    lines = (shop / "records" / "journal.jsonl").read_bytes()
    DAMAGES[damage](home(shop, order))
    assert told(order, damage) in run(shop, "-q", "build").ended(0).out
    assert whole(home(shop, order)) == before
    assert (shop / "records" / "journal.jsonl").read_bytes() == lines, "nothing new was shown"
    again = run(shop, "-q", "build").ended(0).out
    assert "The page of" not in again and "Set again" not in again, "said once"


@pytest.mark.parametrize("damage", DAMAGES)
def test_proof_mends_it(shop: Path, damage: str) -> None:
    before = whole(home(shop))
    DAMAGES[damage](home(shop))
    assert told("fenn", damage) in run(shop, "proof").ended(0).out
    assert whole(home(shop)) == before


@pytest.mark.parametrize("change", ["voided", "stopped", "unreadable", "no folder"])
@pytest.mark.parametrize("damage", ["answers go elsewhere", "all of it deleted"])
def test_it_is_mended_whatever_became_of_the_order(shop: Path, change: str, damage: str) -> None:
    """What is in the folder today is not what was shown, and is not needed for it."""
    order = shop / "orders" / "fenn"
    if change == "voided":
        write(order / "order.yaml", order_text("Odalys & Bran"))
    elif change == "stopped":
        write(order / "order.yaml", order_text("漢"))
    elif change == "unreadable":
        write(order / "order.yaml", "lines: [")
    else:
        shutil.rmtree(order)
    run(shop, "-q", "build")
    before = whole(home(shop))
    DAMAGES[damage](home(shop))
    run(shop, "-q", "build")
    assert whole(home(shop)) == before


def test_a_page_that_is_not_here_and_cannot_be_set_again_is_told_and_is_no_fault(
    shop: Path,
) -> None:
    """On another computer the site is not there, and an order may have changed since its proof."""
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Odalys & Bran"))
    shutil.rmtree(shop / "site")
    shutil.rmtree(shop / "workroom")
    said = run(shop, "-q", "build").ended(0).out
    assert "The page of fenn is not in site/p/" in said
    assert "proofgen proof fenn" in said
    assert "the pages of out and done" in said or "the pages of done and out" in said


def test_a_new_proof_is_not_said_to_be_the_page_of_before(shop: Path) -> None:
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Odalys & Bran"))
    shutil.rmtree(shop / "site")
    shutil.rmtree(shop / "workroom")
    said = run(shop, "-q", "proof", "fenn").ended(0).out
    assert "proof 2" in said and "Set again" not in said


def test_proof_leaves_the_page_of_what_is_pressed_to_build(shop: Path) -> None:
    """`proof` does not look at a pressed order, so it cannot say that its folder changed."""
    before = whole(home(shop, "done"))
    shutil.rmtree(shop / "site")
    shutil.rmtree(shop / "workroom")
    said = run(shop, "-q", "proof").ended(0).out
    assert "To set the page of done again, type: proofgen build" in said
    assert "no longer in" not in said
    run(shop, "-q", "build").ended(0)
    assert whole(home(shop, "done")) == before


def test_it_is_never_mended_with_todays_prices(shop: Path) -> None:
    before = whole(home(shop))
    design = shop / "designs" / "tag" / "design.md"
    write(design, design.read_text("utf-8").replace(*PRICE))
    for lost in (None, shop / "workroom"):
        if lost:  # with what is kept beside; and without it, from its terms and rasters
            shutil.rmtree(lost)
        _halved(home(shop) / "index.html")
        run(shop, "-q", "build").ended(0)
        assert whole(home(shop)) == before
    assert state(shop, "fenn")["state"] == "signed"


def test_what_cannot_be_mended_is_told(shop: Path) -> None:
    shutil.rmtree(shop / "workroom")
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Odalys & Bran"))
    _readdressed(home(shop))
    told = run(shop, "-q", "build")
    assert told.code == 4
    assert re.search(r"page of fenn .*\n    To mend it: ", told.err), told.err
    assert "index.html" in told.err


def test_a_withdrawn_page_is_a_notice_and_nothing_else(shop: Path) -> None:
    run(shop, "withdraw", "out").ended(0)
    folder = home(shop, "out")
    before = whole(folder)
    assert set(before) == {"index.html"}
    (folder / "index.html").write_bytes(b"")
    write(folder / "more" / "foreign.html", "not ours")
    run(shop, "-q", "build").ended(0)
    assert whole(folder) == before


def test_where_nothing_changed_no_page_is_read(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Size and times tell: contents are read only where these are in doubt."""
    import os
    import time

    past = time.time_ns() - 60 * 10**9
    for path in home(shop).parent.rglob("*"):
        os.utime(path, ns=(past, past))
    read: list[Path] = []
    plain = Path.open

    def noted(path: Path, *how: Any, **more: Any) -> IO[Any]:
        read.append(path)
        return plain(path, *how, **more)

    run(shop, "-q", "build").ended(0)
    time.sleep(2.1)  # a file changed in the last two seconds might be changed again unseen
    run(shop, "-q", "build").ended(0)
    run(shop, "-q", "build", "--explain").ended(0)  # what was read then is not said again only
    monkeypatch.setattr(Path, "open", noted)
    with open_workshop(shop) as workshop, at_work(workshop):
        built = build(workshop)
    assert not built.proofs and shop / "shop.yaml" in read
    folders = [home(shop, name) for name in ("fenn", "out", "done")]
    assert [path for path in read if path.parent in folders] == []


# -- what the records claim is on the disk ---------------------------------------------------


@pytest.fixture
def order_of_calls(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, str]]:
    """Every flush, rename and journal line, in order, by the path of what it was done to."""
    import os

    from proofgen.signoff.journal import Journal
    from proofgen.store import files as writer

    calls: list[tuple[str, str]] = []
    flush, replace, append = os.fsync, writer.replace, Journal.append

    def flushed(handle: int) -> None:
        calls.append(("flushed", str(Path(f"/proc/self/fd/{handle}").readlink())))
        flush(handle)

    def replaced(source: Path, target: Path) -> None:
        calls.append(("renamed", f"{source.absolute()} {target.absolute()}"))
        replace(source, target)

    def appended(journal: Journal, head: dict[str, object]) -> None:
        calls.append(("line", str(head["kind"])))
        append(journal, head)

    monkeypatch.setattr(os, "fsync", flushed)
    monkeypatch.setattr(writer, "replace", replaced)
    monkeypatch.setattr(Journal, "append", appended)
    return calls


@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="tells what is flushed by /proc")
@pytest.mark.parametrize("again", [False, True], ids=["new", "over an old one"])
def test_a_page_is_on_the_disk_before_the_journal_says_so(
    tmp_path: Path, again: bool, order_of_calls: list[tuple[str, str]]
) -> None:
    """Files, then their folder, then the folder's name, and only then the line."""
    shop = make_shop(tmp_path / "shop", "fenn")
    if again:
        run(shop, "proof").ended(0)
        write(shop / "orders" / "fenn" / "order.yaml", order_text("Odalys & Bran"))
        del order_of_calls[:]
    run(shop, "proof", "fenn").ended(0)
    folder = home(shop)
    calls = order_of_calls[: order_of_calls.index(("line", "shown"))]
    renames = {
        what.split(" ")[1]: (at, what.split(" ")[0])
        for at, (how, what) in enumerate(calls)
        if how == "renamed" and "/site/p/" in what and not what.endswith("/p/index.html")
    }
    assert len(renames) > 3
    for target, (at, source) in renames.items():
        assert ("flushed", source) in calls[:at], target
        assert ("flushed", str(Path(target).parent)) in calls[at:], target
    if again:  # what a page shows is there before it
        last, _ = renames.pop(str(folder / "index.html"))
        before = max(at for at, _ in renames.values())
        assert ("flushed", str(folder)) in calls[before:last]
    else:
        del renames[str(folder.parent / ".htaccess")]
        assert max(renames, key=lambda name: renames[name][0]) == str(folder)


def test_how_an_order_stands_is_flushed_too(
    shop: Path, order_of_calls: list[tuple[str, str]]
) -> None:
    run(shop, "answer", "out", "--in-person", "Odalys Fenn").ended(0)
    del order_of_calls[:]
    run(shop, "-q", "build").ended(0)
    page = home(shop, "out") / "index.html"
    at = next(i for i, c in enumerate(order_of_calls) if c[1].endswith(f" {page}"))
    assert order_of_calls[at - 1] == ("flushed", order_of_calls[at][1].partition(" ")[0])
    assert ("flushed", str(page.parent)) in order_of_calls[at:]


# -- what belongs to nobody ------------------------------------------------------------------


def test_a_page_of_no_order_is_told_and_goes_on_a_word(shop: Path) -> None:
    below = shop / "site" / "p"
    kept = files(below)
    stranger = write(below / "q7" / "index.html", "whose?").parent
    write(below / "notes‮.txt", "mine")
    for command in ("build", "orders"):
        ran = run(shop, "-q", command).ended(0)
        told = ran.out + ran.err
        assert "“q7”" in told and "⟨U+202E⟩" in told and "\u202e" not in told, command
        assert "orders --take-down all" in told
        assert stranger.is_dir(), "never by itself"
    assert "Delete it at your host" in run(shop, "orders", "--take-down", "q7").ended(0).out
    assert not stranger.exists()
    run(shop, "orders", "--take-down", "all").ended(0)
    assert files(below) == kept
    ran = run(shop, "-q", "build").ended(0)
    assert "know nothing of" not in ran.out + ran.err


@pytest.mark.parametrize("what", ["fenn", "index.html", "../../orders", "", "."])
def test_what_the_records_know_is_never_taken_down(shop: Path, what: str) -> None:
    write(shop / "site" / "p" / "q7" / "index.html", "whose?")
    before = files(shop)
    named = home(shop).name if what == "fenn" else what
    run(shop, "orders", "--take-down", "q7", "--take-down", named).ended(2)
    assert files(shop / "site") == {k[5:]: v for k, v in before.items() if k.startswith("site/")}


def test_pages_of_orders_that_were_let_go_are_known(shop: Path) -> None:
    run(shop, "withdraw", "out").ended(0)
    run(shop, "forget", "done", "--sure", "done").ended(0)
    shutil.rmtree(shop / "orders" / "fenn")
    ran = run(shop, "orders")
    assert "know nothing of" not in ran.out + ran.err
    run(shop, "orders", "--take-down", "all").ended(0)
    assert len([p for p in (shop / "site" / "p").iterdir() if p.is_dir()]) == 3


def test_an_older_backup_knows_less(shop: Path, tmp_path: Path) -> None:
    older = tmp_path / "older"
    shutil.copytree(shop / "records", older)
    write(shop / "orders" / "new" / "order.yaml", order_text("Nele & Ole"))
    run(shop, "proof").ended(0)
    page = home(shop, "new")
    shutil.rmtree(shop / "records")
    shutil.copytree(older, shop / "records")
    shutil.rmtree(shop / "orders" / "new")
    told = run(shop, "-q", "build").out
    assert page.name in told and "whether a newer one knows it" in told and page.is_dir()


def test_broken_records_take_nothing_down(shop: Path) -> None:
    """They do not tell whose a page is."""
    (payload, *_) = (shop / "records" / "out").glob("token-*.json")
    text = payload.read_text("utf-8")
    payload.write_text("{}", "utf-8")
    before = files(shop / "site")
    run(shop, "orders", "--take-down", "all").ended(4)
    payload.write_text(text, "utf-8")
    lines = (shop / "records" / "journal.jsonl").read_text("utf-8").splitlines(keepends=True)
    (shop / "records" / "journal.jsonl").write_text("".join(lines[:3] + lines[4:]), "utf-8")
    run(shop, "orders", "--take-down", home(shop, "out").name).ended(4)
    assert files(shop / "site") == before
