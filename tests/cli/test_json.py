"""What `--json` prints: one document with the fields that programs rely on, and nothing else."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.cli.small import make_shop, order_text, paint, run, write

HOUSE = Path(__file__).parents[2]
TEXT, NUMBER, WHOLE, TRUTH = str, (int, float), int, bool

# Every field of the published formats and what it holds; more fields may be added, none may go.
FINDING = {
    "check": TEXT, "code": TEXT, "status": TEXT, "where": TEXT, "says": TEXT,
    "measure": None, "limit": None, "cure": TEXT,
}  # fmt: skip
LOOK = {"schema": TEXT, "photo": dict, "fits": list, "findings": list}
LOOK_PHOTO = {"file": TEXT, "format": TEXT, "width_px": WHOLE, "height_px": WHOLE}
FIT = {
    "blank": TEXT, "face": TEXT, "width_mm": NUMBER, "height_mm": NUMBER, "ppi": NUMBER,
    "verdict": TEXT,
}  # fmt: skip
FINDINGS = {"schema": TEXT, "worst": TEXT, "orders": list}
ORDER_FINDINGS = {"order": TEXT, "edition": WHOLE, "findings": list}
BLANK = {
    "schema": TEXT, "name": TEXT, "construction": TEXT, "width_mm": NUMBER, "height_mm": NUMBER,
    "way_round_mm": None, "overlap_mm": None, "faces": list, "zones": list,
}  # fmt: skip
FACE = {
    "name": TEXT, "x_mm": NUMBER, "y_mm": NUMBER, "width_mm": NUMBER, "height_mm": NUMBER,
    "turn_deg": NUMBER, "centre_x_mm": NUMBER,
}  # fmt: skip
ZONE = {
    "kind": TEXT, "face": None, "x_mm": NUMBER, "y_mm": NUMBER, "width_mm": NUMBER,
    "height_mm": NUMBER,
}  # fmt: skip
ORDERS = {"schema": TEXT, "orders": list}
ORDER = {
    "order": TEXT, "state": TEXT, "edition": WHOLE, "fingerprint": TEXT, "link": TEXT, "next": TEXT,
    "words": list, "customer": TEXT, "due": None, "days_left": None, "waits_for": TEXT,
    "waits_since": None,
    "forget_since": None,
}  # fmt: skip
PRESS = {
    "schema": TEXT, "sheets": list, "tickets": list, "batches": list, "pictures": list,
    "contacts": list,
    "packing": list,
}  # fmt: skip
SHEET = {
    "file": TEXT, "page": WHOLE, "numbers": list, "paper": TEXT,
    "width_mm": NUMBER, "height_mm": NUMBER, "pieces": list,
}  # fmt: skip
PIECE = {
    "order": TEXT, "piece": WHOLE, "face": TEXT, "raster": TEXT, "x_mm": NUMBER, "y_mm": NUMBER,
    "width_mm": NUMBER, "height_mm": NUMBER, "turned": TRUTH,
}  # fmt: skip
BATCH = {"heat_c": NUMBER, "time_s": NUMBER, "pressings": WHOLE, "minutes": NUMBER}
STATUSES = {"stop", "broken", "warn", "skipped", "note", "pass"}


def has(document: dict[str, Any], fields: dict[str, Any]) -> None:
    """Every field is there and holds what it should."""
    assert set(fields) <= set(document), sorted(set(fields) - set(document))
    for name, kind in fields.items():
        value = document[name]
        if kind is None:
            assert value is None or isinstance(value, str | int | float | list), (name, value)
        else:
            assert isinstance(value, kind), (name, value)
        if kind in (NUMBER, WHOLE):
            assert not isinstance(value, bool), (name, value)


@pytest.fixture
def signed(tmp_path: Path) -> Path:
    """A shop with a signed order, one with a photo and one that stops."""
    shop = make_shop(tmp_path / "shop", "fenn")
    for name, side in (("pic", 1000), ("poor", 200)):
        write(shop / "orders" / name / "order.yaml", order_text(design="snap"))
        paint(shop / "orders" / name / "photos" / "pier.jpg", side)
    run(shop, "proof", "fenn").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0)
    return shop


def test_look(signed):
    photo = signed / "orders" / "pic" / "photos" / "pier.jpg"
    document = run(signed, "look", photo, "--json").ended(0).document
    assert document["schema"] == "proofgen/look/1" and next(iter(document)) == "schema"
    has(document, LOOK)
    has(document["photo"], LOOK_PHOTO)
    assert document["photo"]["file"] == "pier.jpg" and document["photo"]["width_px"] == 1000
    for fit in document["fits"]:
        has(fit, FIT)
        assert fit["verdict"] in ("good", "soft", "coarse")
    coaster = next(f for f in document["fits"] if f["blank"] == "coaster-round")
    assert coaster["face"] == "front" and coaster["verdict"] == "good"
    # 1000 px over the 100 mm face and its bleed on both sides
    assert coaster["ppi"] == pytest.approx(1000 * 25.4 / 108, abs=1)
    for finding in document["findings"]:
        has(finding, FINDING)
    alone = run(signed, "look", photo, "--blank", "pouch-flat", "--json").document
    assert {f["blank"] for f in alone["fits"]} == {"pouch-flat"}


def test_check(signed):
    told = run(signed, "check", "--json").ended(1)
    document = told.document
    assert document["schema"] == "proofgen/findings/1" and next(iter(document)) == "schema"
    has(document, FINDINGS)
    assert document["worst"] == "stop"
    assert [o["order"] for o in document["orders"]] == ["fenn", "pic", "poor"]
    for order in document["orders"]:
        has(order, ORDER_FINDINGS)
        assert order["edition"] == (1 if order["order"] == "fenn" else 0)
        assert order["findings"]
        for finding in order["findings"]:
            has(finding, FINDING)
            assert finding["status"] in STATUSES and finding["says"]
    assert run(signed, "check", "fenn", "--json").ended(0).document["worst"] not in ("stop", "warn")
    run(signed, "build").ended(1)
    kept = json.loads((signed / "workroom" / "findings.json").read_text("utf-8"))
    assert [o["order"] for o in kept["orders"]] == ["fenn", "pic", "poor"]
    assert kept["orders"][2] == document["orders"][2]


def test_blanks(signed):
    document = run(signed, "blanks", "can-wrap-linen", "--json").ended(0).document
    assert document["schema"] == "proofgen/blank/1" and next(iter(document)) == "schema"
    has(document, BLANK)
    assert document["name"] == "can-wrap-linen" and document["construction"] == "wrap"
    assert isinstance(document["way_round_mm"], float)
    assert document["overlap_mm"] == pytest.approx(
        document["width_mm"] - document["way_round_mm"], abs=1e-6
    )
    assert {f["name"] for f in document["faces"]} == {"round", "front"}
    for face in document["faces"]:
        has(face, FACE)
    assert "closure" in {z["kind"] for z in document["zones"]}
    for zone in document["zones"]:
        has(zone, ZONE)
    fold = run(signed, "blanks", "can-fold", "--json").ended(0).document
    back = next(f for f in fold["faces"] if f["name"] == "back")
    assert back["turn_deg"] == 180
    every = run(signed, "blanks", "--json").ended(0).document
    for one in every["blanks"]:
        has(one, BLANK)


def test_orders(signed):
    document = run(signed, "orders", "--json").ended(0).document
    assert document["schema"] == "proofgen/orders/1" and next(iter(document)) == "schema"
    has(document, ORDERS)
    for order in document["orders"]:
        has(order, ORDER)
    states = {o["order"]: o["state"] for o in document["orders"]}
    assert states == {"fenn": "signed", "pic": "draft", "poor": "stopped"}
    fenn = document["orders"][0]
    assert (fenn["due"], fenn["days_left"], fenn["waits_for"]) == ("2026-12-20", 25, "maker")
    assert len(fenn["fingerprint"]) == 64 and fenn["link"].endswith("/")


def test_press(signed):
    document = run(signed, "press", "--json").ended(0).document
    assert document["schema"] == "proofgen/press/1" and next(iter(document)) == "schema"
    has(document, PRESS)
    assert document["tickets"] == ["workroom/press/fenn-ticket.pdf"]
    (sheet,) = document["sheets"]
    has(sheet, SHEET)
    assert sheet["paper"] == "A4" and sorted((sheet["width_mm"], sheet["height_mm"])) == [210, 297]
    assert [p["piece"] for p in sheet["pieces"]] == [1, 2]
    for piece in sheet["pieces"]:
        has(piece, PIECE)
        # a coaster of 100 mm with 4 mm of bleed all round lies whole on its page
        assert piece["x_mm"] >= 0 and piece["x_mm"] + piece["width_mm"] <= sheet["width_mm"]
        assert piece["y_mm"] >= 0 and piece["y_mm"] + piece["height_mm"] <= sheet["height_mm"]
        assert piece["width_mm"] == pytest.approx(108, abs=2)
        assert "/rasters/" in piece["raster"] and (signed / piece["raster"]).is_file()
    for batch in document["batches"]:
        has(batch, BATCH)
    for file in (sheet["file"], *document["tickets"]):
        assert (signed / file).is_file()
    none = run(signed, "press", "pic", "--json").ended(4).document
    assert none["sheets"] == [] and none["tickets"] == []


# stdout holds results, stderr the rest


@pytest.mark.parametrize("command", ["check", "orders", "press", "blanks"])
def test_stdout_is_the_document_alone(signed, command):
    told = run(signed, command, "--json")
    assert told.out.startswith("{") and told.out.endswith("}\n")
    json.loads(told.out)
    assert str(signed) not in told.out


def test_faults_and_progress_go_to_stderr(signed):
    write(signed / "orders" / "torn" / "order.yaml", "lines: 3\n")
    told = run(signed, "check", "--json").ended(3)
    assert json.loads(told.out)["orders"]
    assert "checking fenn" in told.err and "orders/torn/order.yaml" in told.err
    quiet = run(signed, "-q", "check", "--json").ended(3)
    assert "checking" not in quiet.err and quiet.out == told.out


def test_colour_only_where_a_person_looks(signed, tmp_path):
    pty = pytest.importorskip("pty", reason="no terminals to play with on this system")
    for forbid in (False, True):
        ours, theirs = pty.openpty()
        env = {k: v for k, v in os.environ.items() if k != "NO_COLOR"}
        env |= {"PYTHONPATH": str(HOUSE), "TERM": "xterm"}
        env |= {"NO_COLOR": "1"} if forbid else {}
        child = subprocess.Popen(
            [sys.executable, "-m", "proofgen", "--shop", str(signed), "-q", "check", "poor"],
            stdin=theirs, stdout=theirs, stderr=subprocess.DEVNULL, env=env, cwd=HOUSE,
        )  # fmt: skip
        os.close(theirs)
        heard = b""
        while True:
            try:
                part = os.read(ours, 4096)
            except OSError:
                break
            if not part:
                break
            heard += part
        os.close(ours)
        assert child.wait(timeout=30) == 1
        assert b"coarse" in heard
        assert (b"\x1b[" in heard) is not forbid
    assert "\x1b[" not in run(signed, "check").out


def test_a_reader_that_went_away_is_no_fault(signed):
    child = subprocess.Popen(
        [sys.executable, "-m", "proofgen", "--shop", str(signed), "-q", "check", "-v"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=HOUSE,
    )  # fmt: skip
    assert child.stdout is not None and child.stderr is not None
    child.stdout.close()
    with child.stderr as told:
        assert told.read() == b""
    assert child.wait(timeout=30) in (0, 1)
