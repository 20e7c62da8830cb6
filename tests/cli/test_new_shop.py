"""A first day: a new folder, filled in, with one order through it."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import quote

import pytest

from proofgen.desk.dragged import typed_path
from proofgen.shop import read_shop
from tests.cli import small
from tests.cli.small import DESIGNS, files, make_shop, page, paint, run, state, write


def test_new_shop_from_nothing_to_a_proof(tmp_path):
    shop = tmp_path / "mine"
    told = run(tmp_path, "start", shop, "--name", "Wren & Daughters").ended(0)
    assert f"cd {shop}" in told.out and "proofgen order" in told.out
    for command in ("check", "orders", "build"):
        told = run(shop, command).ended(0)
        assert "There are no orders yet. Next: proofgen order" in told.out
    write(shop / "designs" / "tag" / "design.md", DESIGNS["tag"])
    run(
        shop, "order", "--customer", "Jo", "--design", "tag", "--blank", "coaster-round",
        "--cloth", "white", "--words", "Jo", "--quantity", "1",
    ).ended(0)  # fmt: skip
    # Nobody's answer may be lost in a mailbox that is not there.
    told = run(shop, "proof", "jo").ended(3)
    assert "shop.yaml" in told.err and "write your own mail address" in told.err
    assert not [*(shop / "site" / "p").glob("*/")]
    text = (shop / "shop.yaml").read_text("utf-8")
    write(shop / "shop.yaml", text.replace("you@your-shop.example", "wren@wren.example"))
    run(shop, "proof", "jo").ended(0)
    assert state(shop, "jo")["state"] == "ready"
    assert "wren@wren.example" in page(shop, "jo") and "Wren &amp; Daughters" in page(shop, "jo")


def test_the_first_order_needs_no_design_of_ones_own(tmp_path):
    shop = tmp_path / "mine"
    run(tmp_path, "start", shop, "--contact", "wren@wren.example").ended(0)
    for blank in ("can-wrap-linen", "coaster-round"):
        photo = paint(tmp_path / f"{blank}.png", lot=len(blank))
        run(
            shop, "order", "--customer", blank, "--blank", blank, "--cloth", "white", "--words",
            "Wren & Bo", "--photo", photo, "--quantity", "1",
        ).ended(0)  # fmt: skip
    found = run(shop, "check", "--json").ended(0).document["orders"]
    wrong = {f["check"] for o in found for f in o["findings"] if f["status"] in ("stop", "warn")}
    assert len(found) == 2 and not [
        w for w in wrong if not w.startswith(("photo/", "order/rights"))
    ], wrong


def test_start_writes_telephone_and_days(tmp_path):
    for name, options in (("none", []), ("both", ["--telephone", "020 913 0148", "--keep", "30"])):
        run(tmp_path, "start", tmp_path / name, "--contact", "a@b.example", *options).ended(0)
        settings = read_shop(tmp_path / name).settings
        wants = ("020 913 0148", 30) if options else ("", None)
        assert (settings.telephone, settings.keep_days) == wants
    told = run(tmp_path, "start", tmp_path / "x", "--keep", "long").ended(2)
    assert "write it like 90 days" in told.err and not (tmp_path / "x").exists()


def test_start_refuses_what_is_there_or_unknown(tmp_path):
    shop = tmp_path / "mine"
    told = run(tmp_path, "start", shop, "--theme", "quai").ended(2)
    assert "did you mean quay?" in told.err and not shop.exists()
    told = run(tmp_path, "start", shop, "--contact", "nobody").ended(2)
    assert not shop.exists()
    run(tmp_path, "start", shop, "--contact", "a@b.example").ended(0)
    before = (shop / "shop.yaml").read_bytes()
    told = run(tmp_path, "start", shop).ended(2)
    assert "is a shop already" in told.err and (shop / "shop.yaml").read_bytes() == before


def test_demo_keeps_its_hands_off_other_folders(tmp_path):
    shop = make_shop(tmp_path / "shop", "fenn", demo=False)
    before = files(shop)
    told = run(tmp_path, "demo", shop).ended(2)
    assert "a shop of your own" in told.err and files(shop) == before
    other = tmp_path / "papers"
    write(other / "letter.txt", "Dear")
    told = run(tmp_path, "demo", other).ended(2)
    assert "something else" in told.err and [p.name for p in other.iterdir()] == ["letter.txt"]


def test_start_with_a_photo_ends_with_what_was_found_in_it(tmp_path):
    """All answers as options; nothing is asked where nobody can answer; what the walk's next lines
    say works as it stands."""
    photo, shop = paint(tmp_path / "my pier.jpg", 1600), tmp_path / "my shop"
    told = run(
        tmp_path, "start", shop, "--name", "Wren", "--contact", "w@wren.example", "--photo", photo,
        "--site", "https://wren.example", "--language", "de", "--theme", "kite", "--keep", "60",
    ).ended(0)  # fmt: skip
    assert "\nfirst-try: " in told.out
    assert f'cd "{shop}"' in told.out and str(shop / "workroom" / "findings.html") in told.out
    page_ = (shop / "workroom" / "findings.html").read_text("utf-8")
    assert "first-try" in page_ and "data:image" in page_
    read = read_shop(shop)
    assert read.faults == () and read.orders["first-try"].rights.print is True
    settings = read.settings
    assert (settings.language, settings.theme, settings.site, settings.keep_days) == (
        "de", "kite", "https://wren.example", 60,
    )  # fmt: skip
    assert "(1 design)" in run(shop, "catalogue").ended(0).out
    front = (shop / "site" / "index.html").read_text("utf-8")
    assert "Das ganze Jahr" in front and "Foto und Name" in front
    told = run(shop, "proof", "first-try").ended(0)
    assert "proof 1 is at" in told.out and "site: yet" not in told.err
    assert state(shop, "first-try")["state"] == "ready"


def test_the_catalogue_shows_the_makers_photo_only_where_they_say_so(tmp_path):
    photo = paint(tmp_path / "my pier.JPG", 1600, format="JPEG")
    begin = ("start", tmp_path / "plain", "--contact", "a@b.example", "--photo", photo)
    run(tmp_path, *begin).ended(0)
    assert "first-design has no sample photo" in run(tmp_path / "plain", "catalogue").out
    shop = tmp_path / "shown"
    run(tmp_path, "start", shop, *begin[2:], "--show").ended(0)
    design = read_shop(shop).designs["first-design"]
    assert design.sample_photos["photo"].read_bytes() == photo.read_bytes()
    told = run(shop, "catalogue").ended(0)
    assert "(1 design)" in told.out and "sample photo" not in told.out + told.err
    assert "--photo" in run(tmp_path, "start", tmp_path / "x", "--show").ended(2).err


def test_the_samples_words_are_not_pressed_in_silence(tmp_path):
    """A first order may keep them, and its findings say so; words of one's own are no finding."""
    photo = paint(tmp_path / "pier.jpg", 1600)
    for name, words in (("plain", ()), ("own", ("--words", "Wren = Bo"))):
        begin = ("start", tmp_path / name, "--contact", "a@b.example", "--photo", photo, *words)
        told = run(tmp_path, *begin).ended(0).out
        assert ("“Your name” is what the design’s sample says." in told) is (name == "plain")
    assert read_shop(tmp_path / "own").orders["first-try"].lines[0].words == {"name": "Wren = Bo"}
    told = run(tmp_path, "start", tmp_path / "x", "--words", "Wren").ended(2)
    assert "--words goes with --photo" in told.err


@pytest.mark.parametrize("language", ["en", "de", "es", "ar"])
def test_a_new_shop_has_a_catalogue_at_once(tmp_path, language):
    shop = tmp_path / "shop"
    run(tmp_path, "start", shop, "--contact", "a@b.example", "--language", language).ended(0)
    assert read_shop(shop).faults == ()
    assert "(1 design)" in run(shop, "catalogue").ended(0).out
    texts = [p.read_text("utf-8") for p in sorted(shop.rglob("*.md"))]
    assert len(texts) == 3 and not any(re.search(r"\b[A-Z]{4,}\b", text) for text in texts)


@pytest.mark.parametrize(
    ("option", "says"),
    [
        (("--language", "fr"), "write en, ar, de or es"),
        (("--site", "wren.example"), "https://wren.example"),
        (("--theme", "kit"), "did you mean kite?"),
        (("--photo", "nix.jpg"), "no file “nix.jpg”"),
        (("--contact", "wren"), "not a mail address"),
    ],
)
def test_a_slip_in_an_answer_makes_no_shop(tmp_path, option, says):
    told = run(tmp_path, "start", tmp_path / "x", *option).ended(2)
    assert says in told.err and not (tmp_path / "x").exists()


def test_without_a_site_a_proof_says_that_letters_carry_it(tmp_path):
    shop = tmp_path / "shop"
    photo = paint(tmp_path / "a.jpg", 1600)
    run(tmp_path, "start", shop, "--contact", "a@b.example", "--photo", photo).ended(0)
    told = run(shop, "proof", "first-try").ended(0)
    assert "shop.yaml names no site: yet" in told.err and "write site: there first" in told.err


@pytest.mark.parametrize(
    "typed",
    ["{}", "'{}'", '"{}"', "& '{}'", " {} ", "{spaced}", "file://{url}"],
)
def test_a_dragged_name_is_taken_as_every_terminal_writes_it(tmp_path, typed):
    photo = paint(tmp_path / "the pier (2) é.jpg")
    spaced = re.sub(r"([ ()])", r"\\\1", str(photo))
    text = typed.format(photo, spaced=spaced, url=quote(str(photo)))
    assert typed_path(text) == photo
    assert typed_path("'C:\\My photos\\a.jpg'") == Path("C:\\My photos\\a.jpg")


def test_zone_and_money_are_offered_as_the_machine_has_them(tmp_path, monkeypatch):
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    monkeypatch.setenv("TZ", "Europe/Warsaw")
    told = run(tmp_path, "start", tmp_path / "one", typed="\n" * 12).ended(0).err
    assert "(Enter: Europe/Warsaw)" in told and "(Enter: PLN)" in told
    text = (tmp_path / "one" / "shop.yaml").read_text("utf-8")
    assert 'zone: "Europe/Warsaw"' in text and 'currency: "PLN"' in text
    typed = ["", *[""] * 6, "Europe/Dublni", "Europe/Dublin", "gold", "gbp"]
    told = run(tmp_path, "start", tmp_path / "two", typed="\n".join(typed) + "\n").ended(0).err
    assert "did you mean Europe/Dublin?" in told and "“gold” is not known" in told
    text = (tmp_path / "two" / "shop.yaml").read_text("utf-8")
    assert 'zone: "Europe/Dublin"' in text and 'currency: "GBP"' in text


def test_zone_and_money_can_be_given(tmp_path, monkeypatch):
    monkeypatch.delenv("TZ", raising=False)
    shop = tmp_path / "shop"
    given = ("--zone", "Europe/London", "--currency", "GBP")
    run(tmp_path, "start", shop, *given).ended(0)
    text = (shop / "shop.yaml").read_text("utf-8")
    assert 'zone: "Europe/London"' in text and 'currency: "GBP"' in text
    told = run(tmp_path, "start", tmp_path / "b", "--currency", "gold").ended(2).err
    assert "“gold” is not known" in told


def test_a_mail_address_is_no_name_of_a_shop(tmp_path, monkeypatch):
    told = run(tmp_path, "start", tmp_path / "a", "--name", "bo@x.example").ended(2).err
    assert "“bo@x.example” is a mail address" in told and not (tmp_path / "a").exists()
    run(tmp_path, "start", tmp_path / "c", "--name", "Ink@Home").ended(0)
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    typed = "bo@x.example\nBo & Co\n" + "\n" * 12
    told = run(tmp_path, "start", tmp_path / "b", typed=typed).ended(0).err
    assert "is a mail address" in told and "design" not in told
    assert "Bo & Co" in (tmp_path / "b" / "shop.yaml").read_text("utf-8")
