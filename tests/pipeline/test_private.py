"""Nothing of a customer reaches a place it should not: paths, places, mail addresses, links."""

from __future__ import annotations

import email
import io
import re
import zipfile
from pathlib import Path

import pikepdf
import pytest
from PIL import Image, PngImagePlugin

from proofgen.signoff import Records
from tests.cli.small import DESIGNS, files, make_shop, order_text, page, paint, run, write

CANARY = b"CANARY-77-KEPT-INSIDE"
MAIL = b"someone@fenn.example"
NAMES = {"pic": b"Odalys Fenn", "scan": b"Maren Quill"}


def loaded_jpeg(path: Path, lot: int = 1) -> None:
    """A photo with a place, an owner, a comment and something behind its end."""
    exif = Image.Exif()
    exif[0x013B] = CANARY.decode()  # artist
    exif[0x010E] = CANARY.decode()  # description
    place = exif.get_ifd(0x8825)
    place.update({1: "N", 2: (53.0, 20.0, 41.7), 3: "W", 4: (6.0, 15.0, 37.0), 29: CANARY.decode()})
    paint(path, lot=lot, exif=exif, comment=CANARY)
    path.write_bytes(path.read_bytes() + CANARY)


def loaded_png(path: Path) -> None:
    text = PngImagePlugin.PngInfo()
    text.add_text("Comment", CANARY.decode())
    text.add_itxt("XML:com.adobe.xmp", f"<x>{CANARY.decode()}</x>")
    paint(path, lot=5, pnginfo=text)


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A real shop (no demo) with two customers' photos, everything built and one order pressed."""
    shop = make_shop(tmp_path_factory.mktemp("private") / "a-shop-of-mine", season=True, demo=False)
    pic, scan = shop / "orders" / "pic", shop / "orders" / "scan"
    write(pic / "order.yaml", order_text(design="snap"))
    loaded_jpeg(pic / "photos" / "pier.jpg")
    text = order_text(design="snap", customer="Maren Quill").replace("pier.jpg", "pier.png")
    write(scan / "order.yaml", text)
    loaded_png(scan / "photos" / "pier.png")
    # A sample picture of the maker's own goes to the catalogue, but not what hides in it.
    loaded_jpeg(shop / "designs" / "snap" / "sample.jpg", lot=9)
    design = DESIGNS["snap"].replace(
        "sample:\n  words: {}", "sample:\n  photos: {photo: sample.jpg}"
    )
    write(shop / "designs" / "snap" / "design.md", design)
    season = (shop / "seasons" / "winter.md").read_text()
    write(shop / "seasons" / "winter.md", season.replace("[tag]", "[tag, snap]"))
    assert CANARY in (pic / "photos" / "pier.jpg").read_bytes()
    assert CANARY in (scan / "photos" / "pier.png").read_bytes()
    run(shop, "build").ended(0)
    run(shop, "answer", "pic", "--in-person", "Odalys Fenn").ended(0)
    run(shop, "proof", "scan", "--one-file").ended(0)
    run(shop, "build").ended(0)
    return shop


def unpacked(name: str, content: bytes) -> bytes:
    """A file's bytes; of a PDF all its objects with every stream unpacked, of a mail its parts."""
    if name.endswith(".eml"):
        parts = email.message_from_bytes(content).walk()
        return content + b"".join(bytes(p.get_payload(decode=True) or b"") for p in parts)
    if not name.endswith(".pdf"):
        return content
    parts = [content]
    with pikepdf.open(io.BytesIO(content)) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Stream):
                parts.append(bytes(thing.read_raw_bytes()))
                try:
                    parts.append(bytes(thing.read_bytes()))
                except pikepdf.PdfError:
                    continue  # a JPEG is its own raw bytes
            else:
                parts.append(repr(thing).encode())
        parts.append(repr(pdf.docinfo).encode())
    return b"\n".join(parts)


def all_of(folder: Path) -> dict[str, bytes]:
    return {name: unpacked(name, content) for name, content in files(folder).items()}


def token_of(shop: Path, order: str) -> str:
    token = Records(shop / "records").token(order)
    assert token
    return token


def test_the_hunt_finds_what_is_there(tmp_path):
    """Otherwise the tests below would prove nothing."""
    pdf = pikepdf.new()
    pdf.add_blank_page()
    pdf.pages[0].Contents = pdf.make_stream(b"BT (" + CANARY + b") Tj ET" + b" " * 500)
    out = io.BytesIO()
    pdf.save(out, compress_streams=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    assert CANARY not in out.getvalue()
    assert CANARY in unpacked("x.pdf", out.getvalue())


def test_no_path_no_place_and_no_mail_address_is_published(shop):
    published = all_of(shop / "site")
    kinds = {Path(name).suffix for name in published}
    assert {".html", ".jpg", ".pdf"} <= kinds
    hidden = (CANARY, MAIL, b"a-shop-of-mine", str(shop.parent).encode(), b"/root/", b"pier.")
    for name, content in published.items():
        for bad in hidden:
            assert bad not in content, (name, bad)
        wide = CANARY.decode().encode("utf-16-be")
        assert wide not in content and wide[1:] not in content, name


def test_what_goes_to_the_press_and_into_letters_holds_no_path_either(shop):
    made = all_of(shop / "workroom" / "press") | all_of(shop / "workroom" / "letters")
    assert any(n.endswith("ticket.pdf") for n in made) and any(n.endswith(".html") for n in made)
    for name, content in made.items():
        for bad in (CANARY, str(shop.parent).encode(), b"a-shop-of-mine"):
            assert bad not in content, (name, bad)


def test_published_pictures_carry_nothing_but_pixels(shop):
    looked = 0
    for name, content in files(shop / "site").items():
        if name.endswith((".jpg", ".png", ".webp", ".avif")):
            with Image.open(io.BytesIO(content)) as image:
                known = {"jfif", "jfif_version", "jfif_unit", "jfif_density", "dpi", "srgb"}
                known |= {"progressive", "progression", "loop", "background", "timestamp"}
                known |= {"duration", "gamma"}
                assert set(image.info) <= known, (name, set(image.info))
                assert not image.getexif(), name
            looked += 1
    assert looked > 5


def test_pdfs_name_no_author_and_no_path(shop):
    looked = 0
    for folder in ("site", "workroom"):
        for name, content in files(shop / folder).items():
            if name.endswith(".pdf"):
                with pikepdf.open(io.BytesIO(content)) as pdf:
                    assert set(pdf.docinfo.keys()) <= {"/Title", "/Producer", "/Creator", "/Lang"}
                    assert "/Author" not in pdf.docinfo
                    names = pdf.Root.get("/Names", pikepdf.Dictionary())
                    assert "/EmbeddedFiles" not in names, name
                looked += 1
    assert looked >= 4


def test_links_stand_on_their_own_page_and_nowhere_else(shop):
    published = all_of(shop / "site")
    for order in NAMES:
        token = token_of(shop, order)
        assert len(token) >= 24
        for name, content in published.items():
            if not name.startswith(f"p/{token}/"):
                assert token.encode() not in content, (order, name)
                assert token not in name
        own = rf"site/p/{token}/.*|workroom/orders/{order}\.(html|json)"
        allowed = re.compile(rf"(records|workroom/letters|workroom/store)/.*|{own}")
        for name, content in files(shop).items():
            if token.encode() in content:
                assert allowed.fullmatch(name), (order, name)
    parent = published["p/index.html"]
    assert b"href" not in parent.split(b"<body", 1)[-1]
    for name in ("sitemap.xml", "robots.txt", "feed.xml", "index.html"):
        assert b"/p/" not in published.get(name, b""), name


def test_one_customer_is_not_on_the_page_of_another(shop):
    published = all_of(shop / "site")
    for order, name in NAMES.items():
        own = f"p/{token_of(shop, order)}/"
        assert any(name in c for n, c in published.items() if n.startswith(own))
        for file, content in published.items():
            if not file.startswith(own):
                assert name not in content, (order, file)


def test_the_same_photo_of_two_customers_is_told_to_the_maker_alone(tmp_path):
    shop = make_shop(tmp_path / "shop", demo=False)
    for name, customer in (("wren-tide", "Wren Tide"), ("bo-quill", "Bo Quill")):
        text = order_text(design="snap", customer=customer).replace("someone", name)
        write(shop / "orders" / name / "order.yaml", text)
        paint(shop / "orders" / name / "photos" / "pier.jpg")
    assert "another customer" in run(shop, "check", "wren-tide").ended(0).out
    run(shop, "proof").ended(0)
    letter = run(shop, "letter", "wren-tide").ended(0).out
    private = page(shop, "wren-tide")
    for text in (letter, private):
        assert "wren-tide" in text or "Wren Tide" in text
        assert "bo-quill" not in text and "another customer" not in text


def test_each_key_stands_in_its_page_what_is_kept_of_it_and_the_records(shop):
    for order in NAMES:
        latest = Records(shop / "records").latest(order)
        assert latest is not None
        key = latest.key.hex().encode()
        places = {n for n, c in all_of(shop).items() if key in c}
        others = {
            n
            for n in places
            if not n.startswith((f"records/{order}/", f"site/p/{token_of(shop, order)}/"))
        }
        beside = {f"workroom/letters/{order}-proof-1.html", f"workroom/pages/{order}/index.html"}
        assert others <= beside, others
        assert f"site/p/{token_of(shop, order)}/index.html" in places


def test_records_are_for_their_owner_alone(shop):
    kept = [
        p for p in (shop / "records").rglob("*") if p.is_file() and p.suffix in (".json", ".png")
    ]
    assert kept
    for path in kept:
        assert path.stat().st_mode & 0o077 == 0, path


def test_backup_is_for_its_owner_alone_and_can_be_unpacked(shop, tmp_path):
    target = tmp_path / "b.zip"
    run(shop, "backup", target).ended(0)
    assert target.stat().st_mode & 0o077 == 0
    with zipfile.ZipFile(target) as pack:
        assert pack.testzip() is None
        names = pack.namelist()
        assert not [n for n in names if n.startswith(("site/", "workroom/", "/"))]
        assert {"shop.yaml", "orders/pic/order.yaml", "records/journal.jsonl"} <= set(names)
        assert all(i.external_attr >> 16 == 0o600 for i in pack.infolist())
        assert any(i.compress_type == zipfile.ZIP_DEFLATED for i in pack.infolist())
        pack.extractall(tmp_path / "back")
    back = tmp_path / "back"
    run(back, "records", "verify").ended(0)
    old, new = run(shop, "orders", "--json").document, run(back, "orders", "--json").document
    for row in (*old["orders"], *new["orders"]):
        row.pop("next")  # sheets are made again: no workroom is in a backup
    assert old == new
    run(back, "build").ended(0)
    assert {n for n in files(back / "site") if n.startswith("p/")} == {
        n for n in files(shop / "site") if n.startswith("p/")
    }
    told = run(shop, "backup", target).ended(2)
    assert "is there already" in told.err
