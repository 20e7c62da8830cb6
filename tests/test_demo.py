"""The demo is what the real command builds from content/: text byte for byte, pictures nearly."""

from __future__ import annotations

import html
import io
import json
import re
import shutil
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from PIL import Image

from proofgen.cli import main
from proofgen.pipeline import standings, worked_out
from proofgen.render import look
from proofgen.signoff import Records, State
from proofgen.workshop import open_workshop
from tests.demo.carried import CARRIED, MOST_BYTES, left_out
from tests.demo.guide_pictures import MADE_FROM, SHOWN, digest

HOUSE = Path(__file__).parent.parent
SITE = HOUSE / "site_demo"
# Another version of a picture library rounds differently; a wrong picture is far outside this.
MEAN_CODES, WORST_SHARE = 1.5, 0.01

# A picture's name carries its digest, so names are compared without it.
NAMED = re.compile(r"\b[0-9a-f]{16}(?=\.(?:jpg|png|webp|pdf)\b)")


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo") / "demo"
    assert main(["--quiet", "demo", str(folder)]) == 0
    return folder


def by_plain_name(site: Path) -> dict[str, Path]:
    """All but typefaces, which the checkout does not carry (tests/demo/walk.py says why), and most
    private pages."""
    without = left_out(Records(HOUSE / "content" / "records"))
    files = [
        p
        for p in sorted(site.rglob("*"))
        if p.is_file() and p.suffix != ".woff2" and without.isdisjoint(p.parts)
    ]
    found: dict[str, Path] = {}
    for path in files:
        name = NAMED.sub("#", path.relative_to(site).as_posix())
        while name in found:  # the catalogue's pictures have nothing but their digest
            name += "+"
        found[name] = path
    return found


def pixels(content: bytes) -> np.ndarray:
    with Image.open(io.BytesIO(content)) as image:
        return np.asarray(image.convert("RGB"), dtype=float)


@pytest.mark.whole
def test_every_state_has_an_order(built):
    with open_workshop(built) as workshop:
        told = standings(workshop, worked_out(workshop))["orders"]
    assert {one["state"] for one in told} == set(State)


@pytest.mark.whole
def test_every_order_stands_in_the_workroom_with_its_state_and_a_picture(built):
    with open_workshop(built) as workshop:
        every = standings(workshop, worked_out(workshop))["orders"]
    told = [one for one in every if one["state"] != State.FORGOTTEN]  # which has no page
    index = (built / "workroom" / "index.html").read_text("utf-8")
    rows = dict(re.findall(r'(?s)<li class="order" id="order-([^"]+)">(.*?)</li>', index))
    assert set(rows) == {one["order"] for one in told}
    for one in told:
        page = (built / "workroom" / "orders" / f"{one['order']}.html").read_text("utf-8")
        for text in (rows[one["order"]], page):
            assert f"<strong>{one['state']}</strong>" in text
            assert "<img " in text
        for words in one["words"]:
            assert words in html.unescape(page)


@pytest.mark.whole
def test_site_demo_is_what_the_command_builds(built):
    fresh, kept = by_plain_name(built / "site"), by_plain_name(SITE)
    assert sorted(fresh) == sorted(kept)
    for name, path in fresh.items():
        if path.suffix in (".html", ".txt", ".xml", ".svg"):
            ours, theirs = (NAMED.sub("#", p.read_text("utf-8")) for p in (path, kept[name]))
            assert ours == theirs, name


@pytest.mark.whole
def test_pictures_of_site_demo_show_the_same(built):
    fresh, kept = by_plain_name(built / "site"), by_plain_name(SITE)
    proofs = [n for n in fresh if n.endswith(".jpg") and n.startswith("p/")]
    assert len(proofs) >= 8
    for name in proofs:
        ours, theirs = pixels(fresh[name].read_bytes()), pixels(kept[name].read_bytes())
        assert ours.shape == theirs.shape, name
        off = np.abs(ours - theirs).max(axis=2)
        assert off.mean() <= MEAN_CODES, name
        assert (off > 24).mean() <= WORST_SHARE, name
    # The catalogue's pictures carry no other name than their digest: page by page, in order.
    for page in sorted((SITE / "designs").glob("*.html")):
        shown = [
            re.findall(r'src="\.\./(pictures/[^"]+)"', p.read_text("utf-8"))
            for p in (built / "site/designs" / page.name, page)
        ]
        assert len(shown[0]) == len(shown[1])
        for new, old in zip(*shown, strict=True):
            ours = pixels((built / "site" / new).read_bytes())
            theirs = pixels((SITE / old).read_bytes())
            assert ours.shape == theirs.shape
            assert np.abs(ours - theirs).mean() <= MEAN_CODES, old


@pytest.mark.whole
def test_pdfs_of_site_demo_have_the_same_pages(built):
    fresh, kept = by_plain_name(built / "site"), by_plain_name(SITE)
    names = [n for n in fresh if n.endswith(".pdf")]
    assert len(names) >= 3
    for name in names:
        with pikepdf.open(fresh[name]) as ours, pikepdf.open(kept[name]) as theirs:
            assert len(ours.pages) == len(theirs.pages), name
            assert ours.docinfo.get("/Title") == theirs.docinfo.get("/Title"), name


@pytest.mark.whole
def test_pdfs_of_the_demo_are_set_in_our_own_fonts(built):
    """A font of the machine would make the same proof look different on the next machine."""
    css = "".join(p.read_text("utf-8") for p in (HOUSE / "themes").rglob("*.css"))
    faces = re.findall(r'@font-face \{\s*font-family: "?([^";]+)', css)
    faces += [look.ARABIC, *(look.family(role) for role in look.ROLES)]
    ours = {face.replace(" ", "-") for face in faces}
    paths = sorted(built.rglob("*.pdf"))
    assert len(paths) > 10
    for path in paths:
        with pikepdf.open(path) as pdf:
            fonts = [o for o in pdf.objects if isinstance(o, pikepdf.Dictionary)]
            names = {str(o.BaseFont).lstrip("/") for o in fonts if "/BaseFont" in o}
        for name in names:
            family = name.split("+")[-1]
            assert any(family == one or family.startswith(f"{one}-") for one in ours), (path, name)


@pytest.mark.whole
def test_sheets_are_made_for_signed_orders_alone(built):
    with open_workshop(built) as workshop:
        told = standings(workshop, worked_out(workshop))["orders"]
    signed = {one["order"] for one in told if one["state"] == "signed"}
    sheets = sorted(p.name for p in (built / "workroom" / "press").iterdir())
    assert sheets
    assert {n.removesuffix("-ticket.pdf") for n in sheets if "ticket" in n} == signed
    for name in sheets:
        assert name.startswith((*signed, "shared-")), name


@pytest.mark.whole
def test_building_again_changes_nothing(built):
    def times() -> dict[Path, int]:
        """Of all that was made; memory of how files stood is noted anew once they have settled."""
        room = built / "workroom"
        memory = {*(room / "store").rglob("*"), *(room / "orders").glob("*.json")}
        files = (p for p in built.rglob("*") if p.is_file() and p not in memory)
        return {p: p.stat().st_mtime_ns for p in files}

    before = times()
    assert len(before) > 100
    assert main(["--quiet", "demo", str(built)]) == 0
    after = times()
    changed = [p for p in after if before.get(p) != after[p] and p.name != ".lock"]
    assert not changed
    assert set(before) == set(after)


@pytest.mark.whole
@pytest.mark.parametrize("name", SHOWN)
def test_a_picture_of_the_guide_is_no_older_than_what_it_shows(built, name):
    if name == "sheet.jpg" and shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not here to read the sheet")
    made = json.loads(MADE_FROM.read_text("utf-8"))
    assert made[name] == digest(SHOWN[name](built)), "python tests/demo/guide_pictures.py"


def test_site_demo_is_small_and_holds_no_fonts():
    files = [p for p in SITE.rglob("*") if p.is_file()]
    assert sum(p.stat().st_size for p in files) <= MOST_BYTES
    for_hosts = {"_headers", ".htaccess"}
    kinds = {p.suffix for p in files if p.name not in for_hosts}
    assert kinds <= {".html", ".jpg", ".png", ".pdf", ".svg", ".webp", ".xml", ".txt"}


def test_some_private_pages_are_carried():
    records = Records(HOUSE / "content" / "records")
    there = {p.name for p in (SITE / "p").iterdir() if p.is_dir()}
    assert there == {records.token(order) for order in CARRIED}
    assert len(left_out(records)) >= 6


def test_the_carried_records_are_whole():
    assert open_workshop(HOUSE / "content").records.verify() == []
