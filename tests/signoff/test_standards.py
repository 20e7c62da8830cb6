"""Canonical JSON, HMAC, base 32 and base64url against their published vectors."""

from __future__ import annotations

import base64
import contextlib
import json
from dataclasses import replace
from pathlib import Path

import pytest

from proofgen.signoff import canonical, spoken_codes
from proofgen.signoff.blocks import read_blocks
from proofgen.signoff.codes import (
    ALPHABET,
    codes_of,
    crockford,
    distance,
    from_crockford,
    read_code,
)
from proofgen.signoff.digests import fingerprint, read_canonical
from tests.signoff.conftest import VECTORS

DATA = Path(__file__).parent.parent / "data"


@pytest.mark.parametrize("name", ["arrays", "french", "structures", "unicode", "values", "weird"])
def test_canonical_json_is_that_of_rfc_8785(name):
    """cyberphone/json-canonicalization, testdata; see tests/data/jcs/SOURCE.md."""
    given = json.loads((DATA / "jcs/input" / f"{name}.json").read_bytes())
    wanted = bytes.fromhex((DATA / "jcs/outhex" / f"{name}.txt").read_text())
    assert canonical(given) == wanted
    assert (DATA / "jcs/output" / f"{name}.json").read_bytes().rstrip(b"\n") == wanted
    assert canonical(read_canonical(wanted)) == wanted


@pytest.mark.parametrize(
    ("number", "checked"), [(32, "10*"), (1234, "16JD"), (2**40, "100000000G")]
)
def test_spoken_alphabet_is_crockfords(number, checked):
    """Computed with base32-crockford 0.3.0; the last letter is its check symbol, ours has none."""
    assert crockford(number.to_bytes(10, "big")).lstrip("0") == checked[:-1]


def test_crockfords_decoding_forgives_the_letters_that_are_misread():
    """The example of crockford's own table: 1O-iL reads 1011, which is 32801."""
    assert read_code("1O-iL") == "1011"
    assert sum(ALPHABET.index(c) * 32**i for i, c in enumerate(reversed("1011"))) == 32801


@pytest.mark.parametrize(
    ("plain", "coded"), [("fooba", "MZXW6YTB"), ("foobafooba", "MZXW6YTBMZXW6YTB")]
)
def test_bits_are_in_the_order_of_rfc_4648(plain, coded):
    """RFC 4648 section 10, whole groups; letter for letter in the other alphabet."""
    there = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"
    assert crockford(plain.encode()) == "".join(ALPHABET[there.index(c)] for c in coded)
    assert base64.b32decode(coded).decode() == plain


def test_every_length_has_one_spelling():
    """What is left of a last symbol is zero, and nothing else is taken (RFC 4648 section 3.5)."""
    for length in range(1, 40):
        content = bytes((length * 7 + n * 37) % 256 for n in range(length))
        symbols = crockford(content)
        assert len(symbols) == -(-length * 8 // 5) and from_crockford(symbols) == content
        taken = []
        for last in ALPHABET:
            with contextlib.suppress(ValueError):
                taken.append(from_crockford(symbols[:-1] + last))
        assert len(set(taken)) == len(taken)


@pytest.mark.parametrize("bad", ["U", "I0", "0", "000", "000000", "0É", "00 00"])
def test_what_crockford_would_not_write_is_refused(bad):
    with pytest.raises(ValueError):
        from_crockford(bad)


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), 2**53, "\ud800"])
def test_what_json_cannot_hold_is_refused(bad):
    with pytest.raises(ValueError):
        canonical({"a": bad})


@pytest.mark.parametrize("text", [b'{"b":1,"a":2}', b'{"a": 1}', b'{"a":1,"a":1}', b"[" * 9999])
def test_only_canonical_bytes_are_read(text):
    with pytest.raises(ValueError):
        read_canonical(text)


def test_fingerprint_hangs_on_words_and_on_pixels():
    one = fingerprint({"words": "Odalys"}, {"a.png": "00"})
    assert len(one) == 64
    assert one == fingerprint({"words": "Odalys"}, {"a.png": "00"})
    others = [
        fingerprint({"words": "Odalis"}, {"a.png": "00"}),
        fingerprint({"words": "Odalys"}, {"a.png": "01"}),
        fingerprint({"words": "Odalys"}, {"b.png": "00"}),
        fingerprint({"words": "Odalys"}, {}),
    ]
    assert len({one, *others}) == 5
    with pytest.raises(ValueError, match="rasters"):
        fingerprint({"rasters": {}}, {})


@pytest.mark.parametrize("packed", ["block", "deflated"])
@pytest.mark.parametrize("vector", VECTORS["vectors"], ids=lambda v: v["payload"]["answer"])
def test_the_published_slips_are_read(vector, packed):
    """vectors.json is made without proofgen; the page's script is held to it as well."""
    (block,) = read_blocks(vector[packed])
    assert block.payload == vector["payload"]
    assert (block.signed.decode(), block.mac.hex()) == (vector["canonical"], vector["mac_hex"])
    key, print_ = bytes.fromhex(VECTORS["key_hex"]), VECTORS["fingerprint"]
    assert block.fits(key, print_)
    assert not block.fits(bytes(32), print_) and not block.fits(key, "0" * 64)


def test_older_slips_and_codes_are_still_read(proof):
    """Version 1, as pages wrote it until November 2026."""
    old = json.loads((Path(__file__).parent / "old_slip_vector.json").read_bytes())
    key = bytes.fromhex(old["key_hex"])
    shown = spoken_codes(replace(proof, codes=1))
    assert shown == {"ok": old["codes"]["ok"], "change": old["codes"]["corrections"]}
    head = {"key": old["key_hex"], "order": "fenn", "edition": 1, "fingerprint": proof.fingerprint}
    taken = codes_of(head)
    assert {taken[old["codes"][word].replace("-", "")] for word in ("corrections", "again")} == {
        "change"
    }
    for one in old["vectors"]:
        (block,) = read_blocks(one["slip"])
        given = one["payload"]
        assert block.fits(key, old["fingerprint"]) and not block.fits(key, "0" * 64)
        assert one["slip"].startswith(block.summaries()[0])
        assert block.payload == {
            "v": 2,
            "answer": "ok" if given["answer"] == "ok" else "change",
            "edition": 1,
            "order": "fenn",
            "time": given["time"],
            "name": given["name"],
            "note": given["remarks"],
            "wrong": given["wrong"],
            "show": given["may_show"],
            **({"print": True} if "photo" in given["ticks"] else {}),
        }


@pytest.mark.parametrize(
    ("one", "other", "steps"),
    [
        ("ABCD", "ABCD", 0),
        ("ABCD", "ABXD", 1),
        ("ABCD", "ACBD", 1),
        ("ABCD", "ABD", 1),
        ("ABCD", "XABCD", 1),
        ("ABCD", "AXYD", 2),
        ("ABCD", "WXYZ", 3),
        ("", "ABCD", 3),
    ],
)
def test_distance_counts_slips_of_the_tongue(one, other, steps):
    assert distance(one, other) == steps == distance(other, one)
