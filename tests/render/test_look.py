"""What themes decide: contrasts of all their tokens, by day, by night and printed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from proofgen.colour import contrast_ratio, hex_to_rgb8
from proofgen.errors import ShopError
from proofgen.render import Theme, carried, theme_names
from proofgen.render.look import Look, family, in_season, read_look, style_of
from proofgen.render.mood import Mood

# Words and the ground they stand on: at least 4.5, WCAG 2.2, 1.4.3. Large words of a cover too.
WORDS = [
    ("ink", "paper"),
    ("quiet", "paper"),
    ("accent", "paper"),
    ("on-panel", "panel"),
    ("accent", "panel"),
    ("on-season", "season"),
]
# Lines and edges of fields and buttons: at least 3, WCAG 2.2, 1.4.11.
LINES = [("rule", "paper"), ("season", "paper"), ("accent", "paper")]


def colours(look: Look) -> dict[str, dict[str, str]]:
    """Every colour by day, by night and printed by a browser."""
    day = {name: value for name, value in look.tokens.items() if value.startswith("#")}
    return {"day": day, "night": {**day, **look.dark}, "printed": {**day, **look.printed}}


def ratio(one: str, other: str) -> float:
    return float(contrast_ratio(hex_to_rgb8(one), hex_to_rgb8(other)))


@pytest.mark.parametrize("name", theme_names())
@pytest.mark.parametrize("when", ["day", "night", "printed"])
def test_words_and_lines_keep_their_contrast(name: str, when: str) -> None:
    look = Theme(name).look
    tokens = colours(look)[when]
    low = {
        (front, ground): round(ratio(tokens[front], tokens[ground]), 2)
        for pairs, least in ((WORDS, 4.5), (LINES, 3.0))
        for front, ground in pairs
        if ratio(tokens[front], tokens[ground]) < least
    }
    assert low == {}
    for plate in (look.plate, *look.plates):  # the same by day and night
        assert ratio(tokens["on-plate"], plate) >= 4.5


@pytest.mark.parametrize("name", theme_names())
def test_letters_that_the_large_face_lacks_come_as_bold_from_the_face_that_is_read(
    name: str,
) -> None:
    look = Theme(name).look
    weight = look.tokens["display-weight"]
    assert weight in look.fonts["display"] and weight in look.fonts["text"]
    own = ", ".join(f'"{family(role)}"' for role in ("display", "text"))
    assert look.value("display").startswith(f"{own}, ")
    assert f"--display: {own}, " in style_of(look, "paper")


@pytest.mark.parametrize("name", theme_names())
def test_every_colour_is_in_a_pair_that_is_reckoned(name: str) -> None:
    paired = {one for pair in WORDS + LINES for one in pair} | {"on-plate"}
    assert set(colours(Theme(name).look)["day"]) == paired


@pytest.mark.parametrize("name", theme_names())
def test_contrasts_written_beside_a_colour_are_those_it_has(name: str) -> None:
    look = Theme(name).look
    text = (carried("themes") / name / "theme.yaml").read_text("utf-8")
    day, _, night = text.partition("\ndark:")
    for part, when in ((day, "day"), (night, "night")):
        tokens = colours(look)[when]
        for token, colour, says in re.findall(r'  ([\w-]+): "(#\w{6})" # ([\d.]+)', part):
            assert tokens[token] == colour
            ground = next(g for f, g in WORDS + LINES if f == token)
            assert ratio(colour, tokens[ground]) == pytest.approx(float(says), abs=0.06), token


def test_pictures_of_quay_stand_on_its_own_paper() -> None:
    look = Theme("quay").look
    assert look.plates == (look.tokens["paper"],) == (look.plate,)


def test_styles_ask_for_no_token_that_themes_lack() -> None:
    known = set(Theme("quay").look.tokens) | {"plate", *(f"plate-{n}" for n in range(1, 9))}
    for sheet in sorted(carried("themes").glob("*/*.css")):
        text = sheet.read_text("utf-8")
        asked = {name.removeprefix("dark-") for name in re.findall(r"var\(--([\w-]+)", text)}
        assert asked <= known | set(re.findall(r"--([\w-]+):", text)), sheet


def test_no_style_writes_a_colour_but_those_of_the_press() -> None:
    black = {"press.css", "packing.css"}  # black on white, whatever the theme
    for sheet in sorted(carried("themes").glob("*/*.css")):
        found = re.findall(r"#[0-9a-fA-F]{3,8}\b|\brgba?\(|\bhsl", sheet.read_text("utf-8"))
        assert set(found) <= ({"#000", "#fff"} if sheet.name in black else set()), sheet


def test_answer_and_order_say_nothing_twice() -> None:
    """What both pages have composed looks alike by one sheet, `composed.css`."""
    rules = []
    for name in ("answer", "order-slip", "composed"):
        text = (carried("themes") / "base" / f"{name}.css").read_text("utf-8")
        bodies = re.findall(r"[^{}]+\{([^{}]*)\}", re.sub(r"/\*.*?\*/", "", text, flags=re.S))
        rules.append({body for body in bodies if body.count(";") >= 3})
    answer, order, both = rules
    assert not answer & order and not (answer | order) & both and len(both) >= 3


FAULTS = [
    ("tokens: {papper: red}", 1, "papper", "did you mean paper?"),
    ("says: x\ntokens:\n  paper: red", 3, "paper is no colour", "#0b4f8a"),
    ("tokens:\n  s1: '0.5rem; } body { color: red'", 2, "s1 is no length", "s1: 0.5rem"),
    ("tokens:\n\n  text: url(//a.example/x)", 3, "no list of typefaces", "text: "),
    ('plates: "#fff"', 1, "1 to 8 colours", "#f7f4ee"),
    ("plates: ['#fff']", 1, "no colour", "#0b4f8a"),
    ("drawing: {stroke: 14}", 1, "a stroke of “14” px", "0.5 to 4"),
    ("light: {from: above}", 1, "light from “above”", "left or right"),
    ("light:\n  strength: 3", 2, "a strength of “3”", "0.5 to 1.15"),
    ("light: {softness: soft}", 1, "a softness of “soft”", "0.6 to 1.6"),
    ("light: {form: left}", 1, "form", "did you mean from?"),
    ("framing: {margin: 2}", 1, "a margin of “2” mm", "9 to 24"),
    ("fonts: {display: {bold: Manrope}}", 1, "no weight", "up to 900"),
    ("fonts: {disply: {400: Manrope}}", 1, "disply", "did you mean display?"),
    ("tokens: [paper]", 1, "takes lines of its own", "name: value"),
    ("sayz: x", 1, "sayz", "did you mean says?"),
    ("says: 'x\ntokens: {}", 1, "not YAML", "quotes"),
    ("says: x\n  b: c: d", 2, "not YAML", "quotes"),
]


@pytest.mark.parametrize(("text", "line", "problem", "cure"), FAULTS)
def test_a_fault_tells_file_line_and_cure(
    text: str, line: int, problem: str, cure: str, tmp_path: Path
) -> None:
    file = tmp_path / "theme.yaml"
    file.write_text(text, "utf-8")
    with pytest.raises(ShopError) as told:
        read_look(file, "theme/theme.yaml", Theme("quay").look)
    assert str(told.value.place) == f"theme/theme.yaml:{line}"
    assert problem in told.value.problem and cure in told.value.cure


def test_what_a_theme_does_not_name_it_has_from_below(tmp_path: Path) -> None:
    file, quay = tmp_path / "theme.yaml", Theme("quay").look
    file.write_text('tokens: {paper: "#FFFFFF"}\nfonts: {display: {400: Fredoka One}}', "utf-8")
    look = read_look(file, "theme/theme.yaml", quay)
    assert look.tokens == {**quay.tokens, "paper": "#ffffff"}
    assert (look.dark, look.plate, look.plates) == (quay.dark, quay.plate, quay.plates)
    assert (look.strokes, look.mood) == (quay.strokes, quay.mood)
    file.write_text("light: {from: right}\nframing: {margin: 20}", "utf-8")
    assert read_look(file, "theme/theme.yaml", quay).mood == Mood(True, margin=20.0)
    file.write_text('tokens: {paper: "#FFFFFF"}\nfonts: {display: {400: Fredoka One}}', "utf-8")
    look = read_look(file, "theme/theme.yaml", quay)
    assert look.fonts == {**quay.fonts, "display": {"400": "Fredoka One"}}
    file.write_text("", "utf-8")
    assert read_look(file, "theme/theme.yaml", quay) == quay


# Seasons' own colours: hostile ones are those that no paper bears as they are.
SEASONS = ["#1f6b45", "#ffd964", "#fffdf7", "#000000", "#7f7f7f", "#f7f4ee", "#0000ff", "#00ff00"]


@pytest.mark.parametrize("name", theme_names())
@pytest.mark.parametrize("colour", SEASONS)
def test_a_seasons_colour_can_be_read_by_day_and_night(name: str, colour: str) -> None:
    look = in_season(Theme(name).look, colour)
    for when in ("day", "night"):
        tokens = colours(look)[when]
        assert ratio(tokens["season"], tokens["paper"]) >= 4.5
        assert ratio(tokens["on-season"], tokens["season"]) >= 4.5


def test_a_colour_that_can_be_read_stays_as_it_is_and_others_keep_their_hue() -> None:
    look = in_season(Theme("quay").look, "#1f6b45")
    assert look.tokens["season"] == "#1f6b45" != look.dark["season"]
    red, green, blue = hex_to_rgb8(look.dark["season"])
    assert green > max(red, blue)
    assert in_season(look, "") is look


@pytest.mark.parametrize("name", theme_names())
@pytest.mark.parametrize("colour", SEASONS)
def test_a_shops_own_colour_for_the_day_can_be_read_by_night(
    name: str, colour: str, tmp_path: Path
) -> None:
    file, below = tmp_path / "theme.yaml", Theme(name).look
    file.write_text(f'tokens: {{season: "{colour}"}}', "utf-8")
    look = read_look(file, "theme/theme.yaml", below)
    assert look.tokens["season"] == colour  # by day it is taken as it is written
    night = colours(look)["night"]
    assert night == colours(in_season(below, colour))["night"]
    assert ratio(night["season"], night["paper"]) >= 4.5
    assert ratio(night["on-season"], night["season"]) >= 4.5
    file.write_text(f'tokens: {{season: "{colour}"}}\ndark: {{season: "#ff9c85"}}', "utf-8")
    assert read_look(file, "theme/theme.yaml", below).dark["season"] == "#ff9c85"
