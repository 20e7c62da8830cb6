"""Canonical JSON, HMAC, base 32 and base64url against their published vectors."""

from __future__ import annotations

import base64
import json
from pathlib import Path

import pytest

from proofgen.signoff import canonical, three_codes
from proofgen.signoff.codes import ALPHABET, crockford, distance, read_code
from proofgen.signoff.digests import fingerprint, read_canonical
from proofgen.signoff.slip import mac_of, read_blocks
from tests.slips import coded_block

DATA = Path(__file__).parent.parent / "data"


@pytest.mark.parametrize("name", ["arrays", "french", "structures", "unicode", "values", "weird"])
def test_canonical_json_is_that_of_rfc_8785(name):
    """cyberphone/json-canonicalization, testdata; see tests/data/jcs/SOURCE.md."""
    given = json.loads((DATA / "jcs/input" / f"{name}.json").read_bytes())
    wanted = bytes.fromhex((DATA / "jcs/outhex" / f"{name}.txt").read_text())
    assert canonical(given) == wanted
    assert (DATA / "jcs/output" / f"{name}.json").read_bytes().rstrip(b"\n") == wanted
    assert canonical(read_canonical(wanted)) == wanted


@pytest.mark.parametrize("case", json.loads((DATA / "rfc4231_sha256.json").read_bytes()))
def test_code_over_an_answer_is_hmac_sha_256_of_rfc_4231(case):
    got = mac_of(bytes.fromhex(case["key_hex"]), bytes.fromhex(case["data_hex"])).hex()
    length = len(case["hmac_sha256"])
    assert length == (32 if case["truncated_to_128_bits"] else 64)
    assert got[:length] == case["hmac_sha256"]


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


def test_block_is_base64url_without_padding():
    """RFC 4648 section 5; every letter of its alphabet, and none that mail escapes."""
    signed = bytes(range(256))
    inner = coded_block(signed, bytes(32)).splitlines()[1:-1]
    assert max(map(len, inner)) == 60
    first, last = "".join(inner).split(".")
    assert base64.urlsafe_b64decode(first + "==") == signed
    assert set(first + last) <= set(
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
    )


def test_crockford_takes_whole_groups_only():
    with pytest.raises(ValueError, match="five bytes"):
        crockford(b"four")


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


def test_the_shared_vector_holds(proof):
    """The page's script is held to the same file."""
    vector = json.loads((Path(__file__).parent / "slip_vector.json").read_bytes())
    assert vector["codes"] == three_codes(proof)
    for one in vector["vectors"]:
        signed = canonical(one["payload"])
        mac = mac_of(bytes.fromhex(vector["key_hex"]), signed)
        assert signed.hex() == one["canonical_hex"]
        assert signed.decode() == one["canonical"]
        assert mac.hex() == one["mac_hex"]
        assert coded_block(signed, mac) == one["block"]
        (block,) = read_blocks(one["slip"])
        assert block.payload() == one["payload"]


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
