"""`proofgen take` as it is typed: what it says, and how it ends."""

from __future__ import annotations

from pathlib import Path

from proofgen.workshop import open_workshop
from tests.cli.small import run
from tests.intake.test_letters import filled, mail, photo, with_photos
from tests.order_slips import order_slip


def test_a_folder_of_all_kinds(shop: Path, tmp_path: Path) -> None:
    inbox = tmp_path / "inbox"
    inbox.mkdir()
    with open_workshop(shop) as opened:
        subject, body = filled(opened, "de")
    (inbox / "a.eml").write_bytes(bytes(mail(subject, body)))
    (inbox / "b.txt").write_text(order_slip(name="Bo Ny", price="9.00"), "utf-8")
    (inbox / "c.jpg").write_bytes(photo()[0])
    (inbox / "d.eml").write_bytes(bytes(mail("Hours", "When are you open?")))
    (inbox / "e.txt").write_text(order_slip(design="no-such"), "utf-8")
    (inbox / "f.eml").write_bytes(with_photos(mail("Hi", "One", "Cy <cy@example.org>"), photo()))
    said = run(shop, "take", inbox).ended(4)
    assert "a.eml: A draft of the order is in orders/odalys-fenn." in said.out
    assert "The slip names “9.00 EUR” each, today’s price is €14.50" in said.out
    assert "f.eml: A draft of the order is in orders/cy." in said.out
    for file, says in (
        ("c.jpg", "a photo"),
        ("d.eml", "no order is in this"),
        ("e.txt", "no design"),
    ):
        line = next(one for one in said.err.splitlines() if one.startswith(f"{file}: "))
        assert says in line
    again = run(shop, "take", inbox).ended(4)
    assert again.out.count("Nothing new") == 3 and "draft of the order" not in again.out


def test_what_is_typed_wrongly(shop: Path) -> None:
    assert "there is no file" in run(shop, "take", "nowhere.eml").ended(2).err
    (shop / "a.jpg").write_bytes(photo()[0])
    said = run(shop, "take", shop / "a.jpg", "--for", "nobody").ended(2).err
    assert "no order called" in said
    (shop / "b.eml").write_bytes(with_photos(mail("Hi", "One", "Cy <cy@example.org>"), photo()))
    run(shop, "take", shop / "b.eml").ended(0)
    said = run(shop, "take", shop / "a.jpg", "--for", "cy").ended(2).err
    assert "does not say yet what is ordered" in said


def test_a_draft_waits_and_is_not_built(shop: Path, tmp_path: Path) -> None:
    (tmp_path / "slip.txt").write_text(
        order_slip(
            design="gull-coaster", blank="coaster-round", photos=None, price="6.50",
            words={"name": "Gull Cottage"},
        ),
        "utf-8",
    )  # fmt: skip
    said = run(shop, "take", tmp_path / "slip.txt").ended(0)
    assert "Next: " in said.out and "check odalys-fenn" in said.out
    assert run(shop, "check", "odalys-fenn").ended(0)
    orders = run(shop, "orders", "--json").ended(0).document["orders"]
    assert [(one["order"], one["state"]) for one in orders] == [("odalys-fenn", "draft")]
    assert not (shop / "site").exists()


REMARK = "Please no face on the seam\x1b[2J\nand wrap them."
SAID = "wrote: “Please no face on the seam⟨U+001B⟩[2J / and wrap them.”"
PLAIN = {
    "design": "gull-coaster", "blank": "coaster-round", "photos": None, "price": "6.50",
    "words": {"name": "Gull Cottage"},
}  # fmt: skip


def test_a_remark_is_shown_until_the_first_proof(shop: Path, tmp_path: Path) -> None:
    slip = tmp_path / "slip.txt"
    slip.write_text(order_slip(**PLAIN, note=REMARK), "utf-8")
    said = run(shop, "take", slip).ended(0).out
    assert f"The customer {SAID}" in " ".join(said.split())
    assert "orders/odalys-fenn/asked.txt" in said
    for command in (["orders"], ["orders", "odalys-fenn"]):
        shown = " ".join(run(shop, *command).ended(0).out.split())
        assert f"The customer {SAID}" in shown
    assert run(shop, "orders", "--json").ended(0).document["orders"][0]["words"] == [REMARK]

    page = shop / "workroom/orders/odalys-fenn.html"
    told = page.read_text("utf-8")
    assert told.count("no face on the seam") == 1, "as the customer’s words, and not as found too"
    assert "If it is to be sent, write what that costs" in told

    file = shop / "orders/odalys-fenn/order.yaml"
    text = file.read_text("utf-8")
    file.write_text("".join(x for x in text.splitlines(True) if "draft:" not in x), "utf-8")
    said = run(shop, "proof")
    assert f"The customer of odalys-fenn {SAID}" in " ".join(said.err.split())
    assert "proof 1 is at" in said.out
    assert "wrote with the order: “Please no face on the seam" in page.read_text("utf-8")
    checked = " ".join(run(shop, "check", "odalys-fenn").out.split())
    assert f"The customer {SAID.replace('wrote', 'wrote with the order')}." in checked
    assert SAID not in " ".join(run(shop, "proof", "odalys-fenn").err.split())
    assert "customer wrote" not in run(shop, "orders").ended(0).out


def test_words_as_they_were_taken_are_as_they_were_ordered(shop: Path, tmp_path: Path) -> None:
    lists = {"name": [" Zoe\u0308 ", "Bo", "O’Neil,  Ann"]}
    slips = [
        order_slip(**PLAIN, name="Ada Moss"),
        order_slip(**{**PLAIN, "words": None}, many=3, lists=lists, name="Bo Ny"),
    ]
    (tmp_path / "mail.txt").write_text("\n".join(slips), "utf-8")
    run(shop, "take", tmp_path / "mail.txt")
    checked = run(shop, "check", "--json").document["orders"]
    codes = [f["code"] for one in checked for f in one["findings"] if f["check"] == "words/ordered"]
    assert codes == ["pass", "pass"]

    (file,) = (f for f in (shop / "orders/bo-ny").iterdir() if f.suffix == ".csv")
    file.write_text(file.read_text("utf-8").replace("Bo", "Ob"), "utf-8")
    said = run(shop, "check", "bo-ny").out
    assert "The customer ordered “Bo”, and “Ob” would be pressed." in " ".join(said.split())
    assert f"{file.name}:3" in said and "proofgen change bo-ny Ob Bo" in said
    run(shop, "change", "bo-ny", "Ob", "Bo").ended(0)
    assert "customer ordered" not in run(shop, "check", "bo-ny").out


def test_of_two_slips_in_a_mail_each_has_its_own_remark(shop: Path, tmp_path: Path) -> None:
    both = [
        order_slip(**PLAIN, name="Ada Moss", note="mine is red"),
        order_slip(**PLAIN, name="Bo Ny", note=None),
    ]
    (tmp_path / "mail.txt").write_text("\n".join(both), "utf-8")
    run(shop, "take", tmp_path / "mail.txt")
    rows = run(shop, "orders", "--json").ended(0).document["orders"]
    assert {one["order"]: one["words"] for one in rows} == {
        "ada-moss": ["mine is red"],
        "bo-ny": [],
    }


def test_a_photo_whose_name_has_spaces_is_taken_without_quotes(shop: Path, tmp_path: Path) -> None:
    (tmp_path / "slip.txt").write_text(order_slip(), "utf-8")
    run(shop, "take", tmp_path / "slip.txt")
    folder = tmp_path / "My Photos"
    folder.mkdir()
    (folder / "at sea.jpg").write_bytes(photo()[0])
    words = str(folder / "at sea.jpg").split(" ")
    assert "is now photos/" in run(shop, "take", *words, "--for", "odalys-fenn").out
