"""A list of names that a customer mailed: kept beside the order that is there, and compared."""

from __future__ import annotations

import json
import shlex
from pathlib import Path

import pytest

from proofgen.signoff.asked import came_with
from proofgen.signoff.name_lines import lists_in, lists_in_sentences
from tests.cli.small import make_shop, order_text, run, write
from tests.intake.test_letters import mail
from tests.order_slips import order_slip
from tests.photo.picture_files import saved, scene

NAMES = ["Zoë Pemberley", "Jana Dhal", "Nguyễn Minh Anh", "Bram", "Łucja Wiśniewska", "Ada"]
LATIN = ["Björn", "Zoë", "Céline", "Jürg", "“Göpf”", "Aurelia"]
BODY = "Hello,\n\nhere are our names:\n\n" + "\n".join(NAMES) + "\n\nThanks\nOdalys Fenn\n"
NO_GLITTER = "No glitter, please; it is for the terrace."


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    folder = make_shop(tmp_path / "shop", "fenn")
    pressed = [name.replace("Dhal", "Dahl") for name in NAMES]
    write(folder / "orders" / "fenn" / "guests.csv", "\n".join(["name", *pressed, ""]))
    text = order_text().replace("quantity: 2", "list: guests.csv")
    write(folder / "orders" / "fenn" / "order.yaml", text)
    return folder


def found(shop: Path) -> list[dict[str, str]]:
    orders = json.loads(run(shop, "check", "fenn", "--json").out)["orders"]
    every = [one for order in orders for one in order["findings"]]
    return [f for f in every if f["check"] == "words/as-written" and f["status"] != "pass"]


def test_a_mailed_list_is_kept_once_and_compared(shop: Path, tmp_path: Path) -> None:
    file = tmp_path / "list.eml"
    file.write_bytes(bytes(mail("Our names", BODY)))
    assert "proofgen take FILE --for ORDER" in run(shop, "take", file).ended(2 + 2).err
    assert found(shop) == []
    said = run(shop, "take", file, "--for", "fenn").ended(0).out
    assert "orders/fenn/asked.txt" in said and "Next: proofgen check fenn" in said
    home = shop / "orders" / "fenn"
    (kept,) = came_with(home).written
    assert kept.strip() == BODY.strip()
    before = (home / "asked.txt").read_bytes()
    assert "Nothing new" in run(shop, "take", file, "--for", "fenn").ended(0).out
    assert (home / "asked.txt").read_bytes() == before
    (differs,) = found(shop)
    assert differs["code"] == "differs" and "“Jana Dhal”" in differs["says"]
    typed = differs["cure"].partition("proofgen ")[2]
    run(shop, *shlex.split(typed)).ended(0)
    assert found(shop) == []


def test_slip_and_remarks_stay_what_they_are(shop: Path, tmp_path: Path) -> None:
    home = shop / "orders" / "fenn"
    (tmp_path / "slip.txt").write_text(
        order_slip(design="tag", blank="coaster-round", photos=None, words={"name": "Ada"}), "utf-8"
    )
    run(shop, "take", tmp_path / "slip.txt")
    (taken,) = [one for one in (shop / "orders").iterdir() if one.name != "fenn"]
    slip, remarks = came_with(taken).slip, [*came_with(taken).remarks]
    assert slip and remarks
    (tmp_path / "names.txt").write_text(f"{BODY}\n{NO_GLITTER}\n", "utf-8")
    run(shop, "take", tmp_path / "names.txt", "--for", taken.name).ended(0)
    assert came_with(taken).slip == slip
    assert [*came_with(taken).remarks][: len(remarks)] == remarks
    new = [*came_with(taken).remarks][len(remarks) :]
    assert any(NO_GLITTER in one for one in new) and not any("Jana" in one for one in new)
    assert came_with(home).written == () and len(came_with(taken).written) == 1


def test_what_a_person_kept_in_that_file_is_not_lost(shop: Path, tmp_path: Path) -> None:
    kept = shop / "orders" / "fenn" / "asked.txt"
    write(kept, "By telephone:\n\nthe blue ones\n")
    (tmp_path / "names.txt").write_text(BODY, "utf-8")
    run(shop, "take", tmp_path / "names.txt", "--for", "fenn").ended(0)
    assert kept.read_text("utf-8").endswith("\n\nBy telephone:\n\nthe blue ones\n")
    assert len(came_with(kept.parent).written) == 1


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("Yes.\n\nBEGIN ANSWER CODE\n0000 0000\nEND ANSWER CODE", "an answer to a proof"),
        (order_slip(), "an order slip is in this"),
    ],
)
def test_what_belongs_elsewhere_is_refused(
    shop: Path, tmp_path: Path, text: str, says: str
) -> None:
    (tmp_path / "a.txt").write_text(text, "utf-8")
    assert says in run(shop, "take", tmp_path / "a.txt", "--for", "fenn").ended(4).err
    assert not (shop / "orders" / "fenn" / "asked.txt").exists()


def test_names_in_a_letter() -> None:
    assert lists_in(BODY) == [NAMES]
    doubled = "Hi Bo,\n\n" + "\n\n".join(NAMES) + "\n\nKind regards\nOdalys\n"
    assert lists_in(doubled) == [NAMES]
    assert lists_in("\n".join(f"> {at}) {one}," for at, one in enumerate(NAMES, 1))) == [NAMES]
    assert lists_in("\n".join(NAMES[:4])) == []
    assert lists_in("Is it done?\nWe wait.\nPlease ring.\nThanks\nhello@fenn.example\nBo") == []


@pytest.mark.parametrize(
    "said",
    [
        "Our names: {}, {}, {}, {}, {} and {}.",
        "Our names are\n{}, {}, {},\n{}, {} und {}! We hope so.",
        "> {}; {}; {};\n> {}; {}, y {}",
        "{}, {}, {}, {}, {}, {}",
    ],
)
def test_names_in_a_sentence(said: str) -> None:
    (found,) = lists_in_sentences(f"Hello,\n\n{said.format(*NAMES)}\n\nThanks\nOdalys Fenn\n")
    assert [found[0].removeprefix("Our names are "), *found[1:]] == NAMES


def test_what_is_no_list_in_a_sentence() -> None:
    assert (
        lists_in_sentences("Dear Bo, we come on Friday, if it is fine, with the dog, or not.") == []
    )
    assert lists_in_sentences(BODY) == []


def test_numbers_and_a_lone_name_are_no_remark(shop: Path, tmp_path: Path) -> None:
    numbered = "\n".join(f"{at}) {name}" for at, name in enumerate(NAMES, 1))
    (tmp_path / "names.txt").write_text(f"Hello,\n\n{numbered}\n\nOdalys\n", "utf-8")
    run(shop, "take", tmp_path / "names.txt", "--for", "fenn").ended(0)
    assert [*came_with(shop / "orders" / "fenn").remarks] == []


def with_photo(body: str) -> bytes:
    made = mail("Our sleeve", body)
    content = saved(scene(640, 480), "JPEG")
    made.add_attachment(content, maintype="image", subtype="jpeg", filename="pier.jpg")
    return bytes(made)


def test_the_words_of_a_mail_with_a_photo_are_compared(shop: Path, tmp_path: Path) -> None:
    """Only lists and mails without a photo were: “Leonie” passed where the mail had “Léonie”."""
    file = tmp_path / "wish.eml"
    file.write_bytes(with_photo("Hello, one sleeve please.\nName: Léonie\n\nThanks\nOdalys Fenn\n"))
    assert "check compares" in run(shop, "take", file).out.lower()
    (taken,) = [one for one in (shop / "orders").iterdir() if one.name != "fenn"]
    (kept,) = came_with(taken).written
    assert "Name: Léonie" in kept
    home = shop / "orders" / "fenn"
    write(home / "asked.txt", (taken / "asked.txt").read_text("utf-8"))
    write(home / "order.yaml", order_text("Leonie"))
    (differs,) = found(shop)
    assert differs["code"] == "differs" and "“Léonie”" in differs["says"]


def test_they_are_where_the_mail_was_taken_before_as_well(shop: Path, tmp_path: Path) -> None:
    photo_shop = make_shop(tmp_path / "photos", "fenn")
    write(photo_shop / "orders" / "fenn" / "order.yaml", order_text(design="snap"))
    (photo_shop / "orders" / "fenn" / "photos").mkdir()
    (photo_shop / "orders" / "fenn" / "photos" / "pier.jpg").write_bytes(
        saved(scene(800, 640), "JPEG")
    )
    file = tmp_path / "wish.eml"
    file.write_bytes(with_photo("Hello, the photo.\nName: Léonie\n\nThanks\nOdalys Fenn\n"))
    for _ in range(2):
        run(photo_shop, "take", file, "--for", "fenn").ended(0)
        assert len(came_with(photo_shop / "orders" / "fenn").written) == 1


def test_a_table_as_windows_saves_it_is_read(shop: Path, tmp_path: Path) -> None:
    """Its letters were lost, and thirteen right names told as wrong."""
    made = mail("Our names", "The list hangs on.\n")
    rows = "\r\n".join(["Name;Table", *(f"{name};{at}" for at, name in enumerate(LATIN, 1))])
    for kind in ("text/csv", "application/vnd.ms-excel"):
        main, sub = kind.split("/")
        made = mail("Our names", "The list hangs on.\n")
        made.add_attachment(
            rows.encode("cp1252"), maintype=main, subtype=sub, filename="export.csv"
        )
        file = tmp_path / f"{sub}.eml"
        file.write_bytes(bytes(made))
        write(shop / "orders" / "fenn" / "guests.csv", "\n".join(["name", *LATIN, ""]))
        (shop / "orders" / "fenn" / "asked.txt").unlink(missing_ok=True)
        run(shop, "take", file, "--for", "fenn").ended(0)
        assert found(shop) == []
        wrong = [*LATIN[:2], "Celine", *LATIN[3:]]
        write(shop / "orders" / "fenn" / "guests.csv", "\n".join(["name", *wrong, ""]))
        (differs,) = found(shop)
        assert "nearest there is “Céline”" in differs["says"]
