"""Photos that hang on a slip's mail or come later: which is which, and the crop that was tried."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from proofgen.errors import UsageError
from proofgen.intake import Taken, add_photo, photo_from
from proofgen.intake.adding import Brought
from proofgen.intake.asked import TurnedAway
from proofgen.shop import read_shop
from proofgen.signoff.mail import Attached
from proofgen.workshop import Workshop, open_workshop
from tests.intake.conftest import one_of, order_of
from tests.intake.test_letters import mail, with_photos
from tests.order_slips import GOOD, order_slip
from tests.photo.picture_files import saved, scene

BIG, SMALL = (806, 604), (320, 240)
TRIED = {**GOOD["photos"]["photo"], "width": BIG[0], "height": BIG[1]}
CROP = {"focus": ["0.5123", "0.4"], "zoom": "1.25"}


def jpeg(size: tuple[int, int], **how: Any) -> bytes:
    return saved(scene(*size), "JPEG", **how)


def slip_mail(*photos: tuple[bytes, str], **changed: Any) -> bytes:
    return with_photos(mail("Order", order_slip(photos={"photo": TRIED}, **changed)), *photos)


def use_of(workshop: Workshop, order: str) -> Any:
    (line,) = order_of(workshop, order)["lines"]  # type: ignore[misc]
    return line.get("photos", {}).get("photo")


def added(
    shop: Path, order: str, content: bytes, name: str = "WA0007.jpg", place: str = ""
) -> Taken:
    with open_workshop(shop) as opened:  # another run; the lock is the fixture’s
        return add_photo(opened, order, Brought(Attached(name, content)), place)


def test_what_hangs_on_the_mail_is_the_photo(workshop: Workshop) -> None:
    taken = one_of(workshop, slip_mail((jpeg(BIG), "pier.jpg")))
    assert not taken.missing and not taken.asks and taken.step == "proofgen check odalys-fenn"
    assert use_of(workshop, taken.order) == {"file": "photos/pier.jpg", **CROP}
    assert read_shop(workshop.folder).faults == ()


@pytest.mark.parametrize(
    ("kind", "named", "ends"),
    [
        ("HEIF", "IMG_1.HEIC", ".heic"),
        ("HEIF", "pier.hif", ".hif"),
        ("PNG", "pier.jpg", ".png"),
        ("JPEG", "pier.jfif", ".jfif"),
        ("JPEG", "pier", ".jpg"),
    ],
)
def test_its_name_ends_as_its_kind_does(
    workshop: Workshop, kind: str, named: str, ends: str
) -> None:
    taken = one_of(workshop, slip_mail((saved(scene(400, 300), kind), named)))
    assert Path(use_of(workshop, taken.order)["file"]).suffix == ends


def test_a_messengers_copy_is_told_from_the_one_that_was_tried(workshop: Workshop) -> None:
    small = jpeg(SMALL, quality=40)
    taken = one_of(workshop, slip_mail((small, "IMG-20261126-WA0007.jpg")))
    assert (
        "the photo tried was 806 × 604, this one is 320 × 240: ask for the original" in taken.told
    )
    assert taken.asks and taken.step == "proofgen take PHOTO --for odalys-fenn"
    assert use_of(workshop, taken.order) == {"file": "photos/img-20261126-wa0007.jpg", **CROP}


def test_the_original_takes_the_copys_place(workshop: Workshop) -> None:
    order = one_of(workshop, slip_mail((jpeg(SMALL), "WA7.jpg"))).order
    taken = added(workshop.folder, order, jpeg(BIG), "pier.jpg")
    assert taken.is_new and not taken.asks
    assert use_of(workshop, order) == {"file": "photos/pier.jpg", **CROP}
    folder = workshop.folder / "orders" / order / "photos"
    assert sorted(path.name for path in folder.iterdir()) == ["pier.jpg", "wa7.jpg"]
    assert not added(workshop.folder, order, jpeg(BIG), "again.jpg").is_new


@pytest.mark.parametrize("size", ["40 mm", "[40 mm, 30 mm]"])
def test_another_photo_is_printed_as_large_as_the_one_before(workshop: Workshop, size: str) -> None:
    """What the maker wrote of its size is of the place; that it stays is told with the way out."""
    order = one_of(workshop, slip_mail((jpeg(SMALL), "WA7.jpg"))).order
    path = workshop.folder / "orders" / order / "order.yaml"
    text = path.read_text("utf-8")
    file = 'file: "photos/wa7.jpg"'
    assert text.count(file) == 1
    path.write_text(text.replace(file, f"{file}, size: {size}"), "utf-8")
    before = read_shop(workshop.folder).orders[order].lines[0].photos["photo"]
    assert before.size_mm == ((40.0, 30.0) if "[" in size else (40.0, None))
    taken = added(workshop.folder, order, jpeg(BIG), "pier.jpg")
    assert any("take size: out of order.yaml" in line for line in taken.told)
    use = read_shop(workshop.folder).orders[order].lines[0].photos["photo"]
    assert (use.file.name, use.size_mm) == ("pier.jpg", before.size_mm)
    # As it says: the line taken out, the photo fills its place.
    mended = re.sub(r", size: (?:\[.*?\]|[^,}\n]+)", "", path.read_text("utf-8"))
    assert mended != path.read_text("utf-8")
    path.write_text(mended, "utf-8")
    assert read_shop(workshop.folder).orders[order].lines[0].photos["photo"].size_mm is None


def test_another_shape_is_another_photo(workshop: Workshop) -> None:
    taken = one_of(workshop, slip_mail((jpeg((600, 600)), "square.jpg")))
    assert any("another shape" in line for line in taken.told)
    assert use_of(workshop, taken.order) == {"file": "photos/square.jpg"}


def test_the_crop_waits_for_a_photo_that_comes_later(workshop: Workshop) -> None:
    order = one_of(workshop, order_slip(photos={"photo": {**TRIED, "turn": 90}})).order
    added(workshop.folder, order, jpeg(BIG))
    assert use_of(workshop, order) == {"file": "photos/wa0007.jpg", **CROP, "turn": "90"}
    assert read_shop(workshop.folder).faults == ()


def test_upright_size_is_what_counts(workshop: Workshop) -> None:
    """A camera that lay on its side: stored 604 × 806, seen 806 × 604."""
    exif = Image.Exif()
    exif[0x0112] = 6
    side = jpeg((BIG[1], BIG[0]), exif=exif)
    taken = one_of(workshop, slip_mail((side, "x.jpg")))
    assert not taken.asks and use_of(workshop, taken.order) == {"file": "photos/x.jpg", **CROP}


def test_of_two_photos_the_one_that_was_tried(workshop: Workshop) -> None:
    taken = one_of(workshop, slip_mail((jpeg((64, 64)), "logo.jpg"), (jpeg(BIG), "renamed.jpg")))
    assert use_of(workshop, taken.order)["file"] == "photos/renamed.jpg"
    assert "1 photo came that no place is known for: photos/" in taken.told


HOSTILE = {
    "a program": (b"MZ\x90\0" + b"x" * 90_000, "pier.jpg", "is a program and was not taken"),
    "a document": (b"%PDF-1.7\n" + b"x" * 90_000, "pier.jpg", "a PDF document"),
    "half a photo": (jpeg(BIG)[:9000], "pier.jpg", "was not taken:"),
    "nothing": (b"", "pier.jpg", "was not taken"),
}


@pytest.mark.parametrize("case", HOSTILE)
def test_what_is_no_usable_photo_is_not_taken(workshop: Workshop, case: str) -> None:
    content, name, says = HOSTILE[case]
    taken = one_of(workshop, slip_mail((content, name)))
    assert any(says in line for line in taken.told), taken.told
    assert taken.missing == ("the photo for “photo”",) and use_of(workshop, taken.order) is None
    assert not (workshop.folder / "orders" / taken.order / "photos").exists()
    with pytest.raises(TurnedAway):
        added(workshop.folder, taken.order, content, name)


@pytest.mark.parametrize(
    "name", ["../../../shop.yaml", "C:\\x\\con.jpg", "\u202egpj.exe", "", "." * 300]
)
def test_a_photos_name_is_never_a_path(workshop: Workshop, name: str) -> None:
    before = (workshop.folder / "shop.yaml").read_bytes()
    taken = one_of(workshop, slip_mail((jpeg(BIG), name or "x")))
    file = use_of(workshop, taken.order)["file"]
    assert file.startswith("photos/") and file.endswith(".jpg") and file.count("/") == 1
    assert file.isascii() and (workshop.folder / "shop.yaml").read_bytes() == before
    left = [p for p in workshop.workroom.iterdir() if p.name.startswith(".")]
    assert not [p for p in left if "arrived" in p.name]


def test_every_other_letter_of_the_order_is_kept(workshop: Workshop) -> None:
    order = one_of(workshop, order_slip(photos=None)).order
    file = workshop.folder / "orders" / order / "order.yaml"
    text = file.read_text("utf-8").replace("draft: yes", "draft: yes  # she telephones on Friday")
    file.write_text(text, "utf-8")
    added(workshop.folder, order, jpeg(BIG))
    now = file.read_text("utf-8")
    assert now.replace('    photos: {"photo": {file: "photos/wa0007.jpg"}}\n', "") == text


def test_a_place_that_is_none_is_told(workshop: Workshop) -> None:
    order = one_of(workshop, order_slip()).order
    with pytest.raises(UsageError, match="no place “sky”"):
        added(workshop.folder, order, jpeg(BIG), place="sky")
    with pytest.raises(UsageError, match="there is no file"):
        photo_from(Path("nowhere.jpg"))


def test_a_mail_that_brings_a_photo_for_an_order(workshop: Workshop, tmp_path: Path) -> None:
    order = one_of(workshop, order_slip()).order
    raw = with_photos(mail("The photo", "Here it is."), (jpeg(BIG), "pier.jpg"))
    with open_workshop(workshop.folder) as opened:
        from tests.intake.conftest import all_of

        (error,) = all_of(opened, raw)
    assert isinstance(error, TurnedAway) and f"--for {order}" in error.cure
    file = tmp_path / "mail.eml"
    file.write_bytes(raw)
    got = photo_from(file).photo
    assert (got.name, got.content) == ("pier.jpg", jpeg(BIG))
