"""`demo: yes` makes keys and links that anybody can work out: a shop that is no demo may not say
it, and what was made while it did counts for nothing."""

from __future__ import annotations

import base64
import hashlib
from pathlib import Path

import pytest

from proofgen.signoff import Records
from tests.cli.small import files, make_shop, run, state


def worked_out(what: str, *of: object) -> bytes:
    """What whoever has read the program knows of any order."""
    return hashlib.sha256(f"demonstration only: {what} {' '.join(map(str, of))}".encode()).digest()


def change(shop: Path, name: str, old: str, new: str) -> None:
    text = (shop / name).read_text("utf-8")
    assert old in text
    (shop / name).write_text(text.replace(old, new), "utf-8")


REAL = {
    "a contact": ("shop.yaml", "hello@puffinyard.example", "hello@puffinyard.ie"),
    "a contact that looks like none": ("shop.yaml", "yard.example\n", "yardexample.com\n"),
    "a site": ("shop.yaml", "https://puffinyard.example", "https://puffinyard.ie"),
    "a customer": ("orders/fenn/order.yaml", "someone@fenn.example", "someone@fenn.ie"),
    "a calendar": ("shop.yaml", "today: 2026-11-25\n", ""),
}


@pytest.mark.parametrize("what", REAL)
def test_a_shop_with_somebody_in_it_is_no_demo(tmp_path: Path, what: str) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    change(shop, *REAL[what])
    before = files(shop)
    for command in ("proof", "build", "orders", "check"):
        told = run(shop, "-q", command).ended(3)
        assert told.err.startswith("shop.yaml:"), told.err
        assert "demo: yes makes keys and links that anybody can work out" in told.err
    assert files(shop) == before
    change(shop, "shop.yaml", "demo: true\n", "")
    run(shop, "proof").ended(0)
    key = Records(shop / "records").heads("fenn")[-1]["key"]
    assert key != worked_out("key", "fenn", 1).hex()


def test_what_was_made_as_a_demo_is_made_anew(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn", "done")
    run(shop, "proof").ended(0)
    for name in ("fenn", "done"):
        run(shop, "answer", name, "--in-person", "Odalys Fenn").ended(0)
    run(shop, "press", "done").ended(0)
    run(shop, "press", "done", "--done").ended(0)
    records = Records(shop / "records")
    assert records.heads("fenn")[-1]["key"] == worked_out("key", "fenn", 1).hex()
    old = base64.b32encode(worked_out("token", "fenn", 0)[:20]).decode().lower()
    assert (shop / "site" / "p" / old / "index.html").is_file()
    change(shop, "shop.yaml", "demo: true\n", "")

    told = run(shop, "orders").ended(0).out
    assert "Anybody can work out the key of proof 1" in " ".join(told.split())
    assert state(shop, "fenn")["state"] == "voided"
    assert state(shop, "done")["state"] == "pressed", "what is done is done"
    refused = run(shop, "press", "fenn").ended(4)
    assert "Anybody can work out" in refused.err
    made = run(shop, "proof", "fenn").ended(0).out
    assert f"Delete site/p/{old}/ at your host" in made
    records = Records(shop / "records")
    assert not (shop / "site" / "p" / old).exists() and records.token("fenn") != old
    assert (shop / "site" / "p" / str(records.token("fenn")) / "index.html").is_file()
    assert records.heads("fenn")[-1]["key"] != worked_out("key", "fenn", 2).hex()
    run(shop, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    run(shop, "press", "fenn").ended(0)
    run(shop, "records", "verify").ended(0)
    again = run(shop, "proof").ended(0).out
    assert "Delete site" not in again
