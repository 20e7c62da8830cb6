"""What arrives broken gets one clear sentence, and never keeps another order from its proof."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.small import id_of, make_shop, order_text, page, paint, run, state, write


def _text(path: Path) -> None:
    path.write_text("Dear shop, the picture is in the other mail.", "utf-8")


def _empty(path: Path) -> None:
    path.write_bytes(b"")


def _half(path: Path) -> None:
    whole = paint(path).read_bytes()
    path.write_bytes(whole[: len(whole) // 2])


def _huge(path: Path) -> None:
    """A true PNG header of 50,000 by 50,000 pixels with next to nothing behind it."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    header = struct.pack(">IIBBBBB", 50_000, 50_000, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes(1000))
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", body) + chunk(b"IEND", b"")
    )


PHOTOS: dict[str, tuple[Callable[[Path], None], str]] = {
    "text": (_text, "not a picture"),
    "nothing": (_empty, "empty"),
    "half": (_half, "half of it is missing"),
    "huge": (_huge, "50,000"),
}


def spoilt(shop: Path, name: str) -> Path:
    """An order with a photo of this kind; the photo."""
    write(shop / "orders" / name / "order.yaml", order_text(design="snap"))
    photo = shop / "orders" / name / "photos" / "pier.jpg"
    photo.parent.mkdir()
    PHOTOS[name][0](photo)
    return photo


def test_bad_photos_keep_no_other_order_from_its_proof(shop):
    for name in PHOTOS:
        spoilt(shop, name)
    told = run(shop, "build").ended(1)
    for good in ("fenn", "quill"):
        assert "Odalys" in page(shop, good)
    for name in PHOTOS:
        assert state(shop, name)["state"] == "stopped"
        assert f"proofgen check {name}" in told.out
        refused = run(shop, "-q", "proof", name).ended(1)
        assert "pier.jpg" in refused.err and refused.err.count("\n") == 2


@pytest.mark.parametrize("kind", PHOTOS)
def test_bad_photo_is_a_finding(shop, kind):
    photo, words = spoilt(shop, kind), PHOTOS[kind][1]
    document = run(shop, "check", "--json").ended(1).document
    bad = next(o for o in document["orders"] if o["order"] == kind)
    stops = [f for f in bad["findings"] if f["status"] == "stop"]
    assert len(stops) == 1, [f["says"] for f in stops]
    assert words in stops[0]["says"].lower() and stops[0]["cure"]
    assert "pier.jpg" in stops[0]["where"] + stops[0]["says"]
    assert str(shop) not in str(document)
    clean = [o["order"] for o in document["orders"] if o["findings"][0]["status"] != "stop"]
    assert clean == ["fenn", "quill"]
    look = run(shop, "look", photo, "--json").ended(1).document
    assert look["fits"] == [] and words in look["findings"][0]["says"].lower()


TAB = order_text().replace("    blank:", "\tblank:")
UNKNOWN = order_text().replace("    quantity: 2", "    quantity: 2\n    remark: hurry")
DOUBLE = order_text() + "due: 2026-12-24\n"
NO_PHOTO = order_text(design="snap")
LETTERS = order_text().replace("quantity: 2", "quantity: two")


YAML: dict[str, tuple[str | None, int, str]] = {  # text, line of the fault, a word of the sentence
    "tab": (TAB, 5, "tab"),
    "unknown-key": (UNKNOWN, 8, "remark"),
    "double-key": (DOUBLE, 9, "due"),
    "missing-photo": (NO_PHOTO, 8, "pier.jpg"),
    "no-number": (LETTERS, 7, "two"),
    "empty": ("", 1, "empty"),
    "no-file": (None, 0, "file"),
}


def torn(shop: Path, name: str) -> str:
    """An order whose order.yaml has this fault; the place that must be named."""
    text, line, _ = YAML[name]
    (shop / "orders" / name).mkdir()
    if text is not None:
        write(shop / "orders" / name / "order.yaml", text)
    return f"orders/{name}/order.yaml:{line}" if line else f"orders/{name}/order.yaml"


def test_bad_yaml_keeps_no_other_order_from_its_proof(shop):
    places = [torn(shop, name) for name in YAML]
    told = run(shop, "-q", "build").ended(3)
    for good in ("fenn", "quill"):
        assert "Odalys" in page(shop, good)
    for place in places:
        assert told.err.count(f"{place}: ") == 1, told.err
    assert told.err.count("To mend it:") == told.err.count("\n") / 2 == len(YAML)
    assert str(shop) not in told.err


@pytest.mark.parametrize("kind", YAML)
def test_bad_yaml_ends_with_3_and_one_sentence(shop, kind):
    place, words = torn(shop, kind), YAML[kind][2]
    told = run(shop, "-q", "check").ended(3)
    assert told.err.startswith(f"{place}: ") and words in told.err.lower(), told.err
    assert told.err.count("\n") == 2 and "    To mend it: " in told.err
    assert "fenn" in told.out and "quill" in told.out
    for command in ("check", "proof", "press", "letter"):
        again = run(shop, "-q", command, kind).ended(3)
        assert again.err == told.err
    told = run(shop, "-q", "check", kind, "fenn").ended(3)
    assert "fenn" in told.out  # the other one that was named is still looked at


def test_all_faults_of_all_files_at_once_each_once(shop):
    write(shop / "orders" / "one" / "order.yaml", TAB)
    write(shop / "orders" / "two" / "order.yaml", UNKNOWN.replace("cloth: white", "cloth: whit"))
    write(shop / "designs" / "odd" / "design.md", "---\ntitle: Odd\nfaces: {}\n---\n")
    told = run(shop, "-q", "build").ended(3)
    lines = [line for line in told.err.splitlines() if not line.startswith("    ")]
    places = [line.split(": ")[0] for line in lines]
    assert "orders/one/order.yaml:5" in places
    assert {"orders/two/order.yaml:6", "orders/two/order.yaml:8"} <= set(places)
    assert any(p.startswith("designs/odd/design.md") for p in places)
    assert len(lines) == len(set(lines))
    assert "did you mean" in told.err


def test_broken_season_and_design_leave_the_orders_alone(shop):
    write(shop / "seasons" / "winter.md", "---\ntitle: [\n---\n")
    write(shop / "designs" / "snap" / "design.md", "no front matter\n")
    run(shop, "build").ended(3)
    assert "Odalys" in page(shop, "fenn")


def test_a_design_with_a_fault_keeps_no_order_that_does_not_use_it(shop):
    """It is told with its file and line; who named the order got exit code 3 for that."""
    write(shop / "designs" / "odd" / "design.md", "---\ntitle: Odd\nfaces: {}\n---\n")
    write(shop / "blanks" / "odd.yaml", "name: [\n")
    write(shop / "seasons" / "odd.md", "---\ntitle: [\n---\n")
    write(shop / "orders" / "user" / "order.yaml", order_text(design="odd"))
    places = ("designs/odd/design.md:", "blanks/odd.yaml:", "orders/user/order.yaml:")

    def went_on(*command):
        told = run(shop, "-q", *command).ended(0)
        assert all(told.err.count(place) in (1, 2) for place in places), told.err
        assert "so the work went on" in told.err
        return told

    assert "fenn" in went_on("check", "fenn").out
    assert "fenn" in went_on("check", "fenn").out, "said again as it was"
    assert "proof 1" in went_on("proof", "fenn").out
    went_on("letter", "fenn")
    run(shop, "answer", "fenn", "--in-person", "Odalys")
    assert "press" in went_on("press", "fenn").out
    for command in ("check", "proof", "press"):
        told = run(shop, "-q", command, "user").ended(3)
        assert "designs/odd/design.md:" in told.err and "went on" not in told.err
    told = run(shop, "-q", "check", "fenn", "user").ended(3)
    assert "fenn" in told.out and "went on" not in told.err
    for command in (["check"], ["proof"], ["build"]):
        run(shop, "-q", *command).ended(3)
    write(shop / "designs" / "odd" / "design.md", "---\n")
    run(shop, "-q", "check", "fenn").ended(0)
    write(shop / "shop.yaml", (shop / "shop.yaml").read_text("utf-8") + "\nseason: gone\n")
    run(shop, "-q", "check", "fenn").ended(3)


def test_two_bad_orders_and_a_bad_photo_end_with_the_worst(shop):
    write(shop / "orders" / "bad" / "order.yaml", order_text(design="snap"))
    photo = shop / "orders" / "bad" / "photos" / "pier.jpg"
    photo.parent.mkdir()
    _text(photo)
    write(shop / "orders" / "torn" / "order.yaml", TAB)
    told = run(shop, "build").ended(3)
    assert "orders/torn/order.yaml:5" in told.err
    assert state(shop, "fenn")["state"] == state(shop, "quill")["state"] == "ready"
    told = run(shop, "orders").ended(3)


def test_signed_order_that_became_unreadable_tells_what_to_mend(shop):
    run(shop, "proof", "fenn").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0)
    run(shop, "press", "fenn").ended(0)
    write(shop / "orders" / "fenn" / "order.yaml", UNKNOWN)
    now = state(shop, "fenn")
    assert "cannot be" in now["why"][0]  # the records alone tell that it is signed
    assert "orders/fenn/order.yaml:8" in now["next"] and "proofgen check fenn" in now["next"]
    run(shop, "press", "fenn").ended(3)
    assert not list((shop / "workroom" / "press").iterdir())


def test_order_whose_folder_is_gone_tells_what_to_do(shop):
    import shutil

    run(shop, "proof", "fenn").ended(0)
    shutil.rmtree(shop / "orders" / "fenn")
    now = state(shop, "fenn")
    assert "orders/fenn/" in now["next"] and "proofgen forget fenn" in now["next"]
    run(shop, "build").ended(0)
    one = id_of(shop, "fenn")
    run(shop, "forget", "fenn", "--sure", "fenn").ended(0)
    assert state(shop, one)["state"] == "forgotten"


def test_answers_that_cannot_be_read_are_refused_plainly(shop, tmp_path):
    run(shop, "proof").ended(0)
    box = tmp_path / "mails"
    box.mkdir()
    (box / "noise.eml").write_bytes(bytes(range(256)) * 40)
    (box / "empty.txt").write_bytes(b"")
    (box / "wide.txt").write_bytes("Guten Tag, schön".encode("utf-16"))
    told = run(shop, "answer", box).ended(4)
    for name in ("noise.eml", "empty.txt", "wide.txt"):
        assert f"{name}: " in told.err
    assert told.out == ""
    run(shop, "answer", "-", typed="").ended(4)


def test_stdin_that_is_no_text_is_refused_plainly(shop, monkeypatch):
    import io
    import sys

    run(shop, "proof").ended(0)
    noise = io.TextIOWrapper(io.BytesIO(bytes(range(128, 256)) * 9), encoding="utf-8")
    monkeypatch.setattr("tests.cli.small._Pipe", lambda _: noise)
    run(shop, "answer", "-").ended(4)
    assert sys.stdin is not noise


def test_odd_designs_and_shops(tmp_path):
    shop = make_shop(tmp_path / "shop", "fenn")
    text = (shop / "shop.yaml").read_text()
    write(shop / "shop.yaml", text + "theme: quai\n")
    told = run(shop, "build").ended(3)
    assert "there is no theme “quai”" in told.err and "did you mean quay?" in told.err
