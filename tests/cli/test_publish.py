"""What goes up to a host: what changed, what is to go there, and never what nobody should read."""

from __future__ import annotations

import os
import zipfile
from pathlib import Path

import pytest

from proofgen.signoff import Records
from tests.cli.small import files, make_shop, run, write


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    made = make_shop(tmp_path / "shop", "fenn", season=True)
    run(made, "-q", "build").ended(0)
    return made


def copies(shop: Path) -> dict[str, bytes]:
    return files(shop / "workroom" / "upload" / "changed")


def listed(shop: Path, name: str) -> list[str]:
    return (shop / "workroom" / "upload" / name).read_text("utf-8").splitlines()


def test_all_goes_up_once_then_only_what_changed(shop: Path) -> None:
    told = run(shop, "publish").ended(0).out
    site = files(shop / "site")
    assert copies(shop) == site and set(listed(shop, "upload.txt")) == set(site)
    assert listed(shop, "upload.txt")[-1] == "index.html", "pages after what they show"
    assert listed(shop, "delete.txt") == [] and f"{len(site)} files to upload" in told
    assert any(name.startswith("p/") and name.endswith("index.html") for name in site)
    run(shop, "publish", "--done").ended(0)
    assert "Nothing changed" in run(shop, "publish").ended(0).out

    (season,) = (shop / "seasons").iterdir()
    text = season.read_text("utf-8")
    title = next(line for line in text.splitlines() if line.startswith("title:"))
    write(season, text.replace(title, "title: Another name"))
    write(shop / "words" / "extra.md", "A text of its own.\n")
    run(shop, "-q", "build").ended(0)
    run(shop, "publish").ended(0)
    now = files(shop / "site")
    assert set(listed(shop, "upload.txt")) == {n for n in now if now[n] != site.get(n)}
    assert "words/extra.html" in copies(shop)
    assert not [name for name in copies(shop) if name.startswith("p/")], "no proof changed"
    run(shop, "publish", "--done").ended(0)

    (shop / "words" / "extra.md").unlink()
    run(shop, "-q", "build").ended(0)
    assert "to delete there, after that" in run(shop, "publish").ended(0).out
    assert listed(shop, "delete.txt") == ["words/extra.html"]


def test_a_catalogue_older_than_its_files_is_told(shop: Path) -> None:
    """After a blank was renamed 175 pages with the old name went up without a word."""
    assert "older than" not in run(shop, "publish").ended(0).err
    design = shop / "designs" / "tag" / "design.md"
    write(design, design.read_text("utf-8").replace("Plain tag", "Plainer tag"))
    (shop.parent / "host").mkdir()
    for how in ((), ("--into", shop.parent / "host")):
        assert "proofgen build; then: proofgen publish" in run(shop, "publish", *how).ended(0).err
    write(shop / "orders" / "fenn" / "notes.txt", "An order is none of it.\n")
    run(shop, "-q", "catalogue").ended(0)
    assert "older than" not in run(shop, "publish").ended(0).err
    run(shop, "-q", "build").ended(0)
    os.utime(design, (1, 1))
    assert "older than" not in run(shop, "publish").ended(0).err


def test_until_it_is_done_it_waits(shop: Path) -> None:
    run(shop, "publish").ended(0)
    first = copies(shop)
    run(shop, "publish").ended(0)
    assert copies(shop) == first
    told = run(shop, "publish", "--done").ended(0)
    assert "Noted" in told.out
    assert not (shop / "workroom" / "upload" / "changed").exists()
    assert "first: proofgen" in run(shop, "publish", "--done").ended(2).err


def test_a_zip_holds_the_same_and_is_the_same_twice(shop: Path, tmp_path: Path) -> None:
    run(shop, "publish", "--zip", tmp_path / "up.zip").ended(0)
    with zipfile.ZipFile(tmp_path / "up.zip") as archive:
        packed = {name: archive.read(name) for name in archive.namelist()}
    assert packed == files(shop / "site") and copies(shop) == {}
    before = (tmp_path / "up.zip").read_bytes()
    run(shop, "publish", "--zip", tmp_path / "up.zip").ended(0)
    assert (tmp_path / "up.zip").read_bytes() == before


def test_a_folder_is_filled_and_what_is_not_ours_stays(shop: Path, tmp_path: Path) -> None:
    target = tmp_path / "host"
    write(target / "own" / "diary.html", "mine")
    write(target / ".git" / "HEAD", "ref")
    told = run(shop, "publish", "--into", target).ended(0).out
    site = files(shop / "site")
    assert files(target) == {**site, "own/diary.html": b"mine", ".git/HEAD": b"ref"}
    assert f"{len(site)} in all" in told
    (target / "index.html").write_text("somebody changed it", "utf-8")
    (shop / "words").mkdir(exist_ok=True)
    for path in (shop / "words").glob("*.md"):
        path.unlink()
    run(shop, "-q", "build").ended(0)
    run(shop, "publish", "--into", target).ended(0)
    assert files(target) == {
        **files(shop / "site"), "own/diary.html": b"mine", ".git/HEAD": b"ref",
    }  # fmt: skip
    assert not (target / "words").exists(), "a folder left empty goes too"


def test_somebody_elses_file_is_not_written_over_unasked(shop: Path, tmp_path: Path) -> None:
    target = tmp_path / "host"
    write(target / "index.html", "their own front")
    told = run(shop, "publish", "--into", target).ended(2).err
    assert "index.html" in told and "--over" in told
    assert files(target) == {"index.html": b"their own front"}, "nothing was written"
    run(shop, "publish", "--into", target, "--over").ended(0)
    assert files(target) == files(shop / "site")


@pytest.mark.parametrize("place", [".", "site", "records", "orders", "..", "nowhere"])
def test_a_place_that_would_show_the_shop_is_refused(shop: Path, place: str) -> None:
    before = files(shop)
    run(shop, "publish", "--into", shop / place).ended(2)
    after = {n: c for n, c in files(shop).items() if not n.startswith("workroom/")}
    assert after == {n: c for n, c in before.items() if not n.startswith("workroom/")}


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_no_link_leads_out(shop: Path, tmp_path: Path) -> None:
    target, away = tmp_path / "host", tmp_path / "away"
    target.mkdir()
    away.mkdir()
    (target / "designs").symlink_to(away)
    assert "is a link" in run(shop, "publish", "--into", target).ended(2).err
    assert files(away) == {}
    (shop / "site" / "pictures" / "secret.jpg").symlink_to(shop / "shop.yaml")
    run(shop, "publish").ended(0)
    assert not [name for name in copies(shop) if "secret" in name]


def test_what_proofgen_did_not_make_stays_here(shop: Path) -> None:
    write(shop / "site" / "customers.csv", "names")
    write(shop / "site" / "records" / "journal.jsonl", "{}")
    write(shop / "site" / "p" / "strange" / "index.html", "whose?")
    write(shop / "site" / "favicon.ico", "meant")
    told = run(shop, "publish").ended(0).err
    for name in ("customers.csv", "records", "strange"):
        assert name in told
        assert not [path for path in copies(shop) if name in path]
    assert "favicon.ico" in copies(shop)


def test_a_damaged_private_page_waits_for_a_build(shop: Path) -> None:
    token = Records(shop / "records").token("fenn")
    page = shop / "site" / "p" / str(token) / "index.html"
    page.write_text("not what was shown", "utf-8")
    assert "the page of fenn" in run(shop, "publish").ended(1).err
    assert not [name for name in copies(shop) if str(token) in name]


@pytest.mark.parametrize("event", ["withdraw", "forget"])
def test_no_copy_of_a_page_outlives_it(shop: Path, event: str) -> None:
    run(shop, "publish").ended(0)
    token = str(Records(shop / "records").token("fenn"))
    assert [name for name in copies(shop) if token in name]
    run(shop, event, "fenn", "--sure", "fenn").ended(0)
    assert not [name for name in copies(shop) if token in name]


def test_options_that_do_not_go_together_are_told(shop: Path, tmp_path: Path) -> None:
    run(shop, "publish", "--done", "--zip", tmp_path / "x.zip").ended(2)
    run(shop, "publish", "--over").ended(2)
    run(shop, "publish", "--zip", shop / "site" / "x.zip").ended(2)


def _without_site(shop: Path) -> str:
    text = (shop / "shop.yaml").read_text("utf-8")
    (line,) = (one for one in text.splitlines(keepends=True) if one.startswith("site:"))
    write(shop / "shop.yaml", text.replace(line, ""))
    return line


def test_private_pages_go_up_only_where_letters_lead_to_them(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "own", "fenn", season=True, demo=False)
    line = _without_site(shop)
    told = run(shop, "build").ended(0).out
    assert "Upload the folder" in told and "but not p/ in it" in told
    told = run(shop, "publish").ended(0).err
    assert "Not uploaded: 1 private proof page. shop.yaml has no site:" in told
    assert "index.html" in copies(shop)
    assert not [name for name in copies(shop) if name.startswith("p/")]
    (tmp_path / "host").mkdir()
    run(shop, "publish", "--into", tmp_path / "host").ended(0)
    assert not (tmp_path / "host" / "p").exists()
    write(shop / "shop.yaml", (shop / "shop.yaml").read_text("utf-8") + line)
    told = run(shop, "build").ended(0).out
    assert "but not p/" not in told
    told = run(shop, "publish").ended(0).err
    assert "private proof page" not in told
    assert [name for name in copies(shop) if name.startswith("p/")]


def test_the_demo_asks_for_no_upload(shop: Path) -> None:
    told = run(shop, "build").ended(0).out
    assert "Upload the folder" not in told and "proofgen start my-shop" in told


def test_private_pages_that_lie_at_the_host_are_deleted_there(shop: Path) -> None:
    run(shop, "publish").ended(0)
    run(shop, "publish", "--done").ended(0)
    _without_site(shop)
    run(shop, "publish").ended(0)
    assert [name for name in listed(shop, "delete.txt") if name.startswith("p/")]
