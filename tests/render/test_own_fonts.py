"""Fonts a shop brings itself: found by name, opened with care, refused with a sentence."""

from __future__ import annotations

import os
import struct
from pathlib import Path

import pytest
from PIL import ImageFont

from proofgen.render.font_faults import MOST_BYTES, fault_of
from proofgen.render.fonts import Fonts, find_font, own_fonts
from proofgen.say import near_names
from tests.made_fonts import made_font, put_font
from tests.real_fonts import real_font

SOUND = made_font("ABHabö")


def _row(data: bytes, tag: bytes) -> int:
    """Where the table's row begins in the directory."""
    return data.index(tag, 12)


def _patched(data: bytes, at: int, value: bytes) -> bytes:
    return data[:at] + value + data[at + len(value) :]


def _table(data: bytes, tag: bytes) -> int:
    return int(struct.unpack(">I", data[_row(data, tag) + 8 : _row(data, tag) + 12])[0])


def test_a_font_is_found_by_name_beside_the_packaged_ones(tmp_path: Path) -> None:
    file = put_font(tmp_path, SOUND)
    assert Fonts(tmp_path).find("demo blocks") == file
    assert find_font("Demo Blocks") is None
    assert Fonts(tmp_path).find("Caladea") == Fonts().files["Caladea"]
    assert set(Fonts(tmp_path).files) == {*Fonts().files, "Demo Blocks"}
    assert near_names("Demo Blokcs", Fonts(tmp_path).files) == ["Demo Blocks"]
    assert fault_of(file) == ""


def test_the_shops_own_comes_before_a_packaged_one(tmp_path: Path) -> None:
    file = put_font(tmp_path, made_font("A", "Caladea"))
    assert Fonts(tmp_path).find("Caladea") == file


def test_a_shop_without_fonts_has_none(tmp_path: Path) -> None:
    assert own_fonts(tmp_path) == ({}, {})
    (tmp_path / "fonts").write_text("a file where a folder should be")
    assert own_fonts(tmp_path) == ({}, {})


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "not a TrueType or OpenType font"),
        (b"GIF89a" + bytes(50), "not a TrueType or OpenType font"),
        (b"ttcf" + bytes(50), "several fonts in one file"),
        (b"wOFF" + bytes(50), "font for web pages (WOFF)"),
        (SOUND[:40], "damaged"),
        (SOUND[: len(SOUND) // 3], "damaged"),
        (made_font("A", "Demo\nBlocks") , ""),
        (made_font("A", "\u200b"), "does not say what it is called"),
        (made_font("A", ""), "does not say what it is called"),
    ],
)  # fmt: skip
def test_what_is_no_font_is_left_out_with_a_reason(
    tmp_path: Path, data: bytes, reason: str
) -> None:
    file = put_font(tmp_path, data)
    good, refused = own_fonts(tmp_path)
    if reason:
        assert good == {} and reason in refused[file]
    else:
        assert good == {"Demo Blocks": file} and refused == {}


def test_sizes_links_and_doubles(tmp_path: Path) -> None:
    huge = put_font(tmp_path, SOUND, "huge.ttf")
    os.truncate(huge, MOST_BYTES + 1)  # a hole: no disk is used
    first, second = (put_font(tmp_path, SOUND, n) for n in ("one.ttf", "two.ttf"))
    link = tmp_path / "fonts" / "zlink.ttf"
    link.symlink_to(first)
    put_font(tmp_path, b"a licence", "OFL.txt")
    good, refused = own_fonts(tmp_path)
    assert good == {"Demo Blocks": first}
    assert refused == {
        huge: "it is larger than 32 MB",
        second: "one.ttf has the same name, “Demo Blocks”",
        link: "it is not a file of its own",
    }


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (_patched(SOUND, _row(SOUND, b"glyf") + 12, b"\x7f\xff\xff\xff"), "cut short"),
        (_patched(SOUND, _row(SOUND, b"glyf"), b"glyx"), "parts of it are missing"),
        (_patched(SOUND, _row(SOUND, b"hmtx"), b"head"), "one part twice"),
        (_patched(SOUND, _table(SOUND, b"head") + 18, b"\x00\x01"), "measures make no sense"),
        (made_font("A", units=16, height=30_000), "far larger than its type size"),
        (made_font(""), "it has no letters"),
        (_patched(SOUND, 4, b"\xff\xff"), "damaged"),
    ],
    ids=["length", "no outlines", "double", "units", "monster", "empty", "directory"],
)
def test_a_hostile_font_is_not_used(tmp_path: Path, data: bytes, reason: str) -> None:
    assert reason in fault_of(put_font(tmp_path, data))


def test_a_font_is_looked_at_again_when_it_changes(tmp_path: Path) -> None:
    file = put_font(tmp_path, SOUND)
    assert fault_of(file) == ""
    file.write_bytes(SOUND[: len(SOUND) // 2])
    assert fault_of(file) != ""
    file.unlink()
    assert fault_of(file) == "it is no longer there"


def test_no_cut_and_no_flipped_byte_of_a_font_makes_trouble(tmp_path: Path) -> None:
    cut_faults = {"it is cut short", "it is damaged"}
    for at in range(0, len(SOUND), 41):
        assert fault_of(put_font(tmp_path, SOUND[:at], f"cut{at}.ttf")) in cut_faults
        file = put_font(tmp_path, _patched(SOUND, at, b"\xff"), f"flipped{at}.ttf")
        fault = fault_of(file)
        assert fault in {"", "its letters cannot be drawn", *cut_faults}
        if not fault:  # what is trusted can be drawn
            face = ImageFont.truetype(str(file), 24, layout_engine=ImageFont.Layout.BASIC)
            for letter in "ABHabö":
                face.getmask(letter)
    good, refused = own_fonts(tmp_path)
    assert {*good.values(), *refused} == set((tmp_path / "fonts").iterdir())


@pytest.mark.photos
def test_fonts_made_to_harm_and_real_ones(tmp_path: Path) -> None:
    bad = put_font(tmp_path, real_font("hostile").read_bytes(), "bad.ttf")
    good = put_font(tmp_path, real_font("Noto Sans JP").read_bytes(), "jp.otf")
    found, refused = own_fonts(tmp_path)
    assert found == {"Noto Sans JP": good} and refused == {bad: "it is damaged"}
    assert fault_of(good) == "" and fault_of(bad) != ""
