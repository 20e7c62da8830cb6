"""Typefaces on pages: what they hold, whose they are, and what the policy lets load."""

from __future__ import annotations

import io
import re
import sys
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from proofgen.render import Theme, theme_names, webfonts
from proofgen.render.fonts import find_font
from proofgen.store import Store

READ = "Łukasz & Zoë: 1,985 × 882 – “Yes”, €11.50 → ✓ Nguyễn"


@pytest.mark.parametrize("name", theme_names())
def test_letters_licence_and_weight(name: str) -> None:
    theme = Theme(name)
    assert {face.family for face in theme.faces} == {"House Display", "House Text", "House Plain"}
    for face in theme.faces:
        assert face.content[:4] == b"wOF2" and len(face.content) < 30_000
        font = TTFont(io.BytesIO(face.content))
        file = find_font(theme.look.fonts[face.family.split()[1].lower()][face.weight])
        assert file
        whole = TTFont(io.BytesIO(file.read_bytes()))
        has, had = font.getBestCmap(), whole.getBestCmap()
        assert {c for c in READ if ord(c) in had} == {c for c in READ if ord(c) in has}
        # The licence travels with a part of a typeface; its reserved name does not (OFL 1.1, 3).
        names = {record.nameID for record in font["name"].names}
        assert not names & {1, 3, 4, 6, 16} and names & {13, 14}


def test_they_are_made_once_and_alike(tmp_path: Path) -> None:
    kept = Store(tmp_path)
    first = Theme("kite", kept=kept).font_files
    assert first == Theme("kite", kept=kept).font_files == Theme("kite").font_files
    assert len(first) == 3  # one file for each style, however many names it has


@pytest.mark.parametrize(
    ("fonts", "allowed", "at"),
    [("none", None, None), ("", "'self'", "letters-"), ("../fonts/", "'self'", "../fonts/letters-"),
     ("inside", "data:", "data:font/woff2;base64,")],
)  # fmt: skip
def test_the_policy_lets_in_what_the_style_asks_for(
    fonts: str, allowed: str | None, at: str | None
) -> None:
    page = Theme("quay").render("blank.html", fonts=fonts)
    policy = re.search(r'content="(default-src[^"]*)"', page)
    assert policy
    found = re.search(r"font-src ([^;]+)", policy[1].replace("&#39;", "'"))
    assert (found and found[1]) == allowed
    urls = re.findall(r'url\("([^"]*)"\)', page)
    assert bool(urls) == bool(at) and all(url.startswith(at or "") for url in urls)
    assert "swap" not in page  # what comes late moves what is read


def test_a_machine_makes_them_once_for_all_shops(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "compiled"))
    made: list[Path] = []
    plain = webfonts._subset.__wrapped__

    def told(file: Path) -> bytes:
        made.append(file)
        return plain(file)

    monkeypatch.setattr(webfonts, "_subset", told)
    first = Theme("kite", kept=Store(tmp_path / "one")).font_files
    assert len(made) == len(first)
    assert Theme("kite", kept=Store(tmp_path / "two")).font_files == first
    assert len(made) == len(first), "a second shop makes none"
    kept = [*(tmp_path / "compiled").rglob("letters-*")]
    assert len(kept) == len(first) and all(path.stat().st_mode & 0o077 == 0 for path in kept)
    for path in kept:
        path.write_bytes(path.read_bytes()[:-1])
    assert Theme("kite", kept=Store(tmp_path / "three")).font_files == first
    assert len(made) == 2 * len(first), "what is damaged is made again"
