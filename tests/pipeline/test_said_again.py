"""Nothing is said from memory that does not hold any more, or that somebody was asked about."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from proofgen import again
from proofgen.cli import running
from tests.cli.small import make_shop, order_text, run, write

HOUSE = Path(__file__).resolve().parents[2]
pytestmark = pytest.mark.usefixtures("remembers")


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    return make_shop(tmp_path / "shop", "fenn")


def known(shop: Path, *typed: str) -> bool:
    """Whether it would be said again."""
    return (
        shop / again.HOME / again.file_of(again.key_of(["--shop", str(shop), *typed]))
    ).is_file()


def ran(shop: Path, house: Path, **named: object) -> subprocess.CompletedProcess[str]:
    """`orders` by the proofgen in `house`, in a process of its own."""
    paths = os.pathsep.join(path for path in [str(house), *sys.path] if path)
    return subprocess.run(
        [sys.executable, "-c", "import sys; from proofgen.cli import main; sys.exit(main())",
         "--shop", str(shop), "orders"],
        cwd=shop,
        env={**os.environ, "PYTHONPATH": paths},
        text=True,
        stderr=subprocess.PIPE,
        check=False,
        **({"stdout": subprocess.PIPE} | named),  # type: ignore[call-overload]
    )  # fmt: skip


def test_another_proofgen_answers_for_itself(shop: Path, tmp_path: Path) -> None:
    for _ in range(2):
        one = ran(shop, HOUSE)
    shutil.copytree(HOUSE / "proofgen", tmp_path / "new" / "proofgen")
    shutil.copytree(HOUSE / "themes", tmp_path / "new" / "themes")
    printing = tmp_path / "new" / "proofgen" / "cli" / "printing.py"
    text = printing.read_text("utf-8")
    printing.write_text(text.replace("print(text, file", "print('other ' + text, file"), "utf-8")
    assert one.stdout in ran(shop, HOUSE).stdout
    assert ran(shop, tmp_path / "new").stdout.startswith("other ")


def test_what_nobody_can_take_is_told_plainly(shop: Path) -> None:
    for _ in range(2):
        ran(shop, HOUSE)
    closed = ran(shop, HOUSE, stdout=None, preexec_fn=lambda: os.close(1))
    assert (closed.returncode, closed.stderr) == (0, "")
    if Path("/dev/full").exists():
        with Path("/dev/full").open("w") as full:
            refused = ran(shop, HOUSE, stdout=full)
        assert refused.returncode == 5 and "the system refused it" in refused.stderr
        assert "Traceback" not in refused.stderr
    reading, writing = os.pipe()
    os.close(reading)
    try:
        gone = ran(shop, HOUSE, stdout=writing)
    finally:
        os.close(writing)
    assert (gone.returncode, gone.stderr) == (0, "")


def test_what_somebody_was_asked_about_is_asked_again(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    run(shop, "proof").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    run(shop, "press", "fenn").ended(0)
    run(shop, "press", "fenn", "--done").ended(0)
    asked: list[str] = []

    def typed() -> str:
        asked.append("yes")
        return "yes\n"

    monkeypatch.setattr(running, "ask", lambda: running._answer)
    monkeypatch.setattr("tests.cli.small._Pipe.readline", lambda _: typed(), raising=False)
    for times in range(1, 5):
        run(shop, "press", "fenn").ended(0)
        assert len(asked) == times


def test_a_folder_that_nobody_can_read_any_more_is_mended(shop: Path) -> None:
    """Its permission is in no file's signature, and another command noted how it stands."""
    for command in ("build", "build", "build"):
        run(shop, "-q", command)
    assert known(shop, "-q", "build")
    (folder,) = (one for one in (shop / "site" / "p").iterdir() if one.is_dir())
    folder.chmod(0o700)
    for _ in range(2):
        run(shop, "orders")
    run(shop, "-q", "build")
    assert folder.stat().st_mode & 0o777 == 0o755


def test_a_link_that_leads_somewhere_now_is_followed(shop: Path, tmp_path: Path) -> None:
    stick = tmp_path / "stick"
    (shop / "orders" / "reed").symlink_to(stick, target_is_directory=True)
    for _ in range(3):
        assert "reed" not in run(shop, "orders").out
    write(stick / "order.yaml", order_text("Reed"))
    assert "reed" in run(shop, "orders").out


def test_two_links_to_one_folder_are_both_looked_at(shop: Path, tmp_path: Path) -> None:
    write(tmp_path / "far" / "order.yaml", order_text("Reed"))
    for name in ("one", "two"):
        (shop / "orders" / name).symlink_to(tmp_path / "far", target_is_directory=True)
    assert run(shop, "check", "one", "two").code == 0
    write(tmp_path / "far" / "order.yaml", order_text("Reed \U00010330"))  # no font has it
    for name in ("one", "two"):
        assert run(shop, "check", name).code == 1


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with names")
def test_what_is_no_file_is_not_waited_for(tmp_path: Path) -> None:
    """Opening a pipe that nobody writes into would wait for ever."""
    home = make_shop(tmp_path / "shop", "fenn")
    for folder in ("", "orders/fenn", "orders/fenn/photos", "designs/tag", "site/p", "workroom"):
        (home / folder).mkdir(parents=True, exist_ok=True)
        os.mkfifo(home / folder / "pipe")
    for command in ("orders", "check", "build", "build", "orders"):
        line = [sys.executable, "-m", "proofgen", "--shop", str(home), command]
        ran = subprocess.run(line, cwd=HOUSE, capture_output=True, text=True, timeout=60)
        assert ran.returncode in (0, 1), ran.stderr


def test_copies_that_nothing_said_hangs_on_are_not_looked_at(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of a season they are half of all files, and each costs a look-up."""
    run(shop, "proof").ended(0)
    for _ in range(2):
        run(shop, "build").ended(0)
    looked, plain, here = [], os.stat, Path.cwd()

    def stat(path: bytes, **how: bool) -> os.stat_result:
        looked.append(os.fsdecode(path))
        return plain(path, **how)

    with monkeypatch.context() as patch:
        patch.setattr(again.os, "stat", stat)
        assert again.say_again(["--shop", str(shop), "build"]) == 0
    assert Path.cwd() == here
    below = {path.replace(os.sep, "/") for path in looked}
    assert "orders/fenn/order.yaml" in below and any(one.startswith("site/p/") for one in below)
    assert any(one.startswith("records/") and one.endswith(".json") for one in below)
    assert not [one for one in below if one.startswith(("workroom/pages/", "workroom/orders/"))]
    kept = next(one for one in (shop / "records").rglob("*.png"))
    kept.write_bytes(kept.read_bytes() + b"!")
    assert again.say_again(["--shop", str(shop), "build"]) is None, "a record is no copy"


def test_what_was_deleted_of_the_makers_pages_and_of_copies_is_there_again(shop: Path) -> None:
    """Neither folder is gone into; but the pages lie in theirs, and copies are missed when they are
    wanted."""
    for _ in range(3):
        run(shop, "build").ended(0)
    assert known(shop, "build")
    rooms, copies = shop / "workroom" / "orders", shop / "workroom" / "pages" / "fenn"
    for path in sorted(rooms.iterdir()):
        path.unlink()
        run(shop, "build").ended(0)
        assert path.is_file(), path.name
    run(shop, "build").ended(0)
    (page,) = (one for one in (shop / "site" / "p").iterdir() if one.is_dir())
    picture = next(page.glob("view-*"))
    before = picture.read_bytes()
    (copies / picture.name).unlink()
    run(shop, "build").ended(0)
    picture.unlink()
    run(shop, "build").ended(0)
    assert picture.read_bytes() == before and (copies / picture.name).read_bytes() == before
