"""A stop let through with a reason: seen by the customer and the maker, and void with its photo."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest

from tests.cli.small import files, make_shop, order_text, page, paint, run, state, write

WHY = "She knows it is her only picture of him"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A shop with one order whose photo is too coarse."""
    shop = make_shop(tmp_path / "shop")
    write(shop / "orders" / "pic" / "order.yaml", order_text(design="snap"))
    paint(shop / "orders" / "pic" / "photos" / "pier.jpg", 300)
    return shop


def stop_key(shop: Path) -> str:
    found = run(shop, "check", "pic", "--json").document["orders"][0]["findings"]
    first = next(f for f in found if f["status"] == "stop")
    return str(first["check"])


def text_of(pdf: bytes, tmp_path: Path) -> str:
    import shutil
    import subprocess

    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not here to read the ticket")
    path = tmp_path / "x.pdf"
    path.write_bytes(pdf)
    done = subprocess.run(["pdftotext", str(path), "-"], capture_output=True, check=True)
    return " ".join(done.stdout.decode().split())


def test_accepting_opens_the_gate_and_tells_both(shop, tmp_path):
    refused = run(shop, "proof", "pic").ended(1)
    assert "--accept effective-resolution" in refused.err
    told = run(shop, "check", "pic", "--accept", stop_key(shop), "--because", WHY).ended(0)
    assert "proofgen proof pic" in told.out
    checked = run(shop, "check", "pic").ended(0)
    assert WHY in " ".join(checked.out.split())
    run(shop, "proof", "pic").ended(0)
    assert WHY in page(shop, "pic")
    run(shop, "answer", "pic", "--in-person", "Odalys").ended(0)
    run(shop, "press", "pic").ended(0)
    ticket = (shop / "workroom" / "press" / "pic-ticket.pdf").read_bytes()
    assert WHY in text_of(ticket, tmp_path)
    with pikepdf.open(io.BytesIO(ticket)) as pdf:
        assert len(pdf.pages) >= 1


def test_a_worse_measure_voids_the_acceptance(shop):
    order = shop / "orders" / "pic" / "order.yaml"
    before = order.read_text("utf-8")
    run(shop, "check", "pic", "--accept", stop_key(shop), "--because", WHY).ended(0)
    line = "file: photos/pier.jpg"
    assert line in before
    order.write_text(before.replace(line, f"{line}, zoom: 3"), "utf-8")
    refused = run(shop, "proof", "pic").ended(1)
    assert "It was accepted at" in refused.err
    order.write_text(before, "utf-8")
    run(shop, "proof", "pic").ended(0)


def test_a_slip_in_a_limit_shuts_proof_and_press(shop):
    run(shop, "check", "pic", "--accept", stop_key(shop), "--because", WHY).ended(0)
    settings = shop / "shop.yaml"
    sound = settings.read_text("utf-8")
    settings.write_text(f"{sound}limits: {{letter_hight: 20 mm}}\n", "utf-8")
    refused = run(shop, "proof", "pic")
    assert refused.code != 0 and "slip in the limits" in refused.err
    assert not list(shop.glob("site/p/*/index.html"))
    settings.write_text(sound, "utf-8")
    run(shop, "proof", "pic").ended(0)


def test_another_photo_voids_the_acceptance(shop):
    run(shop, "check", "pic", "--accept", stop_key(shop), "--because", WHY).ended(0)
    run(shop, "proof", "pic").ended(0)
    run(shop, "answer", "pic", "--in-person", "Odalys").ended(0)
    assert state(shop, "pic")["state"] == "signed"
    photo = shop / "orders" / "pic" / "photos" / "pier.jpg"
    before = photo.read_bytes()
    paint(photo, 300, lot=8)
    assert state(shop, "pic")["state"] == "stopped"
    run(shop, "check", "pic").ended(1)
    run(shop, "proof", "pic").ended(1)
    run(shop, "press", "pic").ended(1)
    assert files(shop / "workroom" / "press") == {}
    photo.write_bytes(before)
    assert state(shop, "pic")["state"] == "signed"
    run(shop, "press", "pic").ended(0)


def test_the_command_a_stop_names_is_the_one_that_works(shop):
    import re
    import shlex

    refused = run(shop, "proof", "pic").ended(1)
    command = re.search(r"proofgen (check pic --accept \S+ --because) ", refused.err)
    assert command
    run(shop, *shlex.split(command[1]), WHY).ended(0)
    run(shop, "proof", "pic").ended(0)


def test_accepting_needs_a_reason_and_the_right_name(shop):
    run(shop, "check", "pic", "--accept", stop_key(shop)).ended(2)
    run(shop, "check", "pic", "--accept", stop_key(shop), "--because", "  ").ended(2)
    told = run(shop, "check", "pic", "--accept", "photo/nothing", "--because", WHY).ended(2)
    assert "are: effective-resolution" in told.err
    assert state(shop, "pic")["state"] == "stopped"


def test_what_is_no_obstacle_needs_no_reason(shop):
    told = run(shop, "check", "pic", "--accept", "words/glyphs", "--because", WHY).ended(2)
    assert "no finding called" in told.err


def test_an_acceptance_is_taken_back_and_the_records_keep_both(shop):
    key = stop_key(shop)
    run(shop, "check", "pic", "--accept", key, "--because", WHY).ended(0)
    run(shop, "proof", "pic").ended(0)
    run(shop, "answer", "pic", "--in-person", "Odalys").ended(0)
    assert state(shop, "pic")["state"] == "signed"
    run(shop, "check", "pic", "--not-accept", "layout/none").ended(2)
    told = run(shop, "check", "pic", "--not-accept", key).ended(0)
    assert "The records keep both" in told.out
    assert state(shop, "pic")["state"] == "stopped"
    run(shop, "press", "pic").ended(1)
    run(shop, "check", "pic", "--not-accept", key).ended(2)  # nothing stands any more
    run(shop, "records", "verify").ended(0)
    run(shop, "check", "pic", "--accept", key, "--because", WHY).ended(0)
    assert state(shop, "pic")["state"] in ("signed", "voided")


@pytest.mark.parametrize(
    "said",
    ["effective-resolution", "Effective resolution line 1", "photo/effective", "pixels per inch"],
)
def test_a_finding_is_meant_by_its_short_name_or_its_words(shop: Path, said: str) -> None:
    told = run(shop, "check", "pic", "--accept", said, "--because", WHY).ended(0)
    assert "pixels per inch" in told.out
    assert state(shop, "pic")["state"] != "stopped"
    run(shop, "check", "pic", "--not-accept", said).ended(0)
    assert state(shop, "pic")["state"] == "stopped"


def test_no_reason_lets_through_what_could_not_be_pressed(shop):
    photo = shop / "orders" / "pic" / "photos" / "pier.jpg"
    photo.write_bytes(photo.read_bytes()[:2000])
    for said in (
        run(shop, "check", "pic").ended(1).out,
        run(shop, "proof", "pic").ended(1).err,
    ):
        assert "ends too early" in " ".join(said.split())
        assert "--accept" not in said
    refused = run(shop, "check", "pic", "--accept", "readable", "--because", WHY).ended(2)
    assert "no reason lets this through" in refused.err and "Ask for the photo" in refused.err
    run(shop, "check", "pic", "--accept", "blur", "--because", WHY).ended(2)
    run(shop, "proof", "pic").ended(1)
    settings = shop / "shop.yaml"
    small = "paper: [{name: small, width: 60 mm, height: 60 mm}]"
    settings.write_text(settings.read_text("utf-8").replace("paper: [A4]", small), "utf-8")
    told = run(shop, "check", "pic").ended(1).out
    assert "paper of" in told and "fits-press" not in told
    run(shop, "check", "pic", "--accept", "fits-press", "--because", WHY).ended(2)
