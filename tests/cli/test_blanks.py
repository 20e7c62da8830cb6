"""The command `blanks`: wrong blanks told at their line, new ones measured, sheets at true size."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from proofgen.cli import running
from proofgen.shop import read_shop
from tests.cli import small
from tests.cli.small import files, make_shop, run, write

WRAP = """\
name: Market wrap
construction: wrap
vessel: {diameter: 66.1 mm}
length: 240 mm
height: 100 mm
thickness: 3 mm
closure: {width: 30 mm, shortest: 10 mm, on_top: right}
bleed: 6 mm
safe: 5 mm
cloth: {finish: foam, colours: {white: "#ffffff"}}
"""
FOLD = """\
name: Market sleeve
construction: fold
width: 120 mm
height: 214 mm
seam: 6 mm
fold: 4 mm
hem: 5 mm
bleed: 6 mm
safe: 5 mm
cloth: {finish: foam, colours: {white: "#ffffff"}}
"""
SEWN = """\
name: Market sewn
construction: sewn
width: 108 mm
height: 100 mm
gap: 4 mm
bleed: 6 mm
safe: 5 mm
cloth: {finish: foam, colours: {white: "#ffffff"}}
"""


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """A shop without orders."""
    return make_shop(tmp_path / "shop")


WRONG = [
    # text, what is written instead, line, words of the sentence and its cure
    (WRAP, "thickness: 3 mm", "thickness: 0 mm", 6, "more than 0 mm"),
    (WRAP, "diameter: 66.1 mm", "diameter: 40 m", 3, "at most 400 mm"),
    (WRAP, "width: 30 mm", "width: 250 mm", 7, "across, not along"),
    (WRAP, "shortest: 10 mm", "shortest: 40 mm", 7, "more than closure.width"),
    (WRAP, "safe: 5 mm", "safe: 51 mm", 9, "has no room for words"),
    (WRAP, "length: 240 mm", "length: 240", 4, "needs a unit"),
    (FOLD, "seam: 6 mm", "seam: 61 mm", 5, "whole width"),
    (FOLD, "hem: 5 mm", "hem: 105 mm", 7, "whole height"),
    (FOLD, "fold: 4 mm", "fold: 220 mm", 6, "whole height"),
    (FOLD, "hem: 5 mm", "base: 105 mm", 7, "whole face"),
    (SEWN, "gap: 4 mm", "gap: 54 mm", 5, "whole face"),
    (SEWN, "gap: 4 mm", "gap: 60 mm", 5, "whole face"),
    (SEWN, "width: 108 mm", "width: -108 mm", 3, "more than 0 mm"),
]


@pytest.mark.parametrize(("text", "old", "new", "line", "words"), WRONG)
def test_a_blank_that_cannot_be_is_told_at_its_line(
    bare: Path, text: str, old: str, new: str, line: int, words: str
) -> None:
    assert old in text
    write(bare / "blanks" / "odd.yaml", text.replace(old, new))
    ran = run(bare, "blanks", "odd").ended(3)
    assert f"blanks/odd.yaml:{line}: " in ran.err
    assert words in ran.err and "To mend it: " in ran.err
    assert ran.out == ""
    assert run(bare, "truesize", "odd", bare / "odd.pdf").ended(3).err == ran.err
    # The others are shown all the same, and the list says what is left out.
    assert "can-wrap-linen" in run(bare, "blanks").ended(3).out
    run(bare, "blanks", "can-wrap-linen").ended(0)


def test_two_faults_of_one_blank_are_told_together(bare: Path) -> None:
    text = WRAP.replace("thickness: 3 mm", "thickness: 0 mm").replace("safe: 5 mm", "safe: 5")
    write(bare / "blanks" / "odd.yaml", text)
    told = run(bare, "blanks", "odd").ended(3).err
    assert "odd.yaml:6" in told and "odd.yaml:9" in told


@pytest.mark.parametrize(
    ("length", "said", "fits"),
    [
        # pi x 69.1 = 217.084 once round
        ("200 mm", "do not meet: 17.1 mm are missing", "at least 227.1 mm"),
        ("220 mm", "7.1 mm too short", "at least 227.1 mm"),
        ("300 mm", "53.0 mm too long", "227.1 to 247.0 mm"),  # 300 - 247.084 = 52.916, rounded up
    ],
)
def test_a_wrap_that_does_not_close_is_a_stop_with_the_length_that_would(
    bare: Path, length: str, said: str, fits: str
) -> None:
    write(bare / "blanks" / "odd.yaml", WRAP.replace("240 mm", length))
    ran = run(bare, "blanks", "odd").ended(1)
    assert ran.err.startswith("blanks/odd.yaml:4: ")
    assert said in ran.err and fits in ran.err


def test_a_blank_says_what_a_millimetre_moves(bare: Path) -> None:
    write(bare / "blanks" / "market.yaml", WRAP)
    told = " ".join(run(bare, "blanks", "market").ended(0).out.split())
    assert (
        "1 mm thicker than measured, the way round grows by 3.1 mm, the ends overlap by 3.1 mm "
        "less, and the middle of the front lies 1.6 mm further to the left"
    ) in told
    assert "0.18 mm across" in told and "0.6 mm the way round" in told
    # 22.916 -/+ (3.142 + 0.559)
    assert "between 19.2 and 26.6 mm; 10 to 30 mm hold." in told
    assert "cans from 63.8 to 70.2 mm across" in told
    write(bare / "blanks" / "market.yaml", WRAP.replace("240 mm", "229 mm"))
    assert "it can fail, so try one" in " ".join(run(bare, "blanks", "market").out.split())
    numbers = run(bare, "blanks", "market", "--json").document["allowance"]
    assert numbers["thicker"]["front_centre_mm"] == pytest.approx(-1.5708, abs=1e-4)


# Measuring a new one

MEASURES = [
    (
        "wrap --vessel 66.1mm --length 9.5in --height 4in --thickness 3mm --closure 30mm",
        {"construction: wrap", "length: 241.3 mm", "height: 101.6 mm"},
    ),
    (
        "fold --width 120mm --height 214mm --seam 6mm --fold 4mm --hem 5mm",
        {"width: 120 mm", "seam: 6 mm", "base: 0 mm"},
    ),
    ("sewn --width 10.8cm --height 100mm --gap 4mm", {"width: 108 mm", "gap: 4 mm"}),
    ("flat --width 200mm --height 130mm", {"shape: rectangle", "bleed: 6 mm"}),
    ("flat --shape round --diameter 95mm --bleed 3mm", {"diameter: 95 mm", "bleed: 3 mm"}),
    ("flat --shape rounded --width 9cm --height 9cm --corner 8mm", {"corner: 8 mm"}),
]


@pytest.mark.parametrize(("said", "lines"), MEASURES)
def test_measures_become_a_blank_and_a_drawing(bare: Path, said: str, lines: set[str]) -> None:
    ran = run(bare, "measure", "mine", "--name", "Ours: #1", "--construction", *said.split()).ended(
        0
    )
    text = (bare / "blanks" / "mine.yaml").read_text("utf-8")
    assert lines <= set(text.splitlines())
    assert text.startswith("# Measured with a tape on 2026-11-25")
    # What nobody said is common practice, and the file says so.
    assert re.search(r"^press: \{heat: \d+ F, time: \d+ s, .* from: practice\}$", text, re.M)
    assert "# Heat and time are common practice, no source" in text and "trial mine" in text
    assert "# To be written under cloth, from its label: polyester: 100 %" in text
    drawing = ET.parse(bare / "workroom" / "blanks" / "mine.svg").getroot()
    assert drawing.tag.endswith("svg")
    # What is said after measuring is what the file says from now on.
    again = run(bare, "blanks", "mine").ended(0).out
    assert ran.out.startswith(again.rstrip("\n"))
    shown = run(bare, "blanks", "mine", "--json").document
    assert shown["title"] == "Ours: #1"


def test_a_tape_round_the_can_will_do(bare: Path) -> None:
    said = "--construction wrap --length 240mm --height 100mm --thickness 3mm --closure 30mm"
    run(bare, "measure", "m", *said.split(), "--vessel", "round 207.66 mm").ended(0)
    # 207.66 / pi = 66.1002
    # The file keeps what the tape showed, and is read as the same can.
    assert "vessel: {diameter: round 207.66 mm}" in (bare / "blanks" / "m.yaml").read_text("utf-8")
    assert read_shop(bare).blanks["m"].vessel_mm == pytest.approx(66.1, abs=0.001)


def test_a_short_shade_is_taken(bare: Path) -> None:
    """“#6ae” was refused, with the wish to report it: it reads back as “#66aaee”."""
    said = "--construction flat --width 90mm --height 90mm --colour sky=#6ae"
    run(bare, "measure", "m", *said.split()).ended(0)
    assert '{"sky": "#66aaee"}' in (bare / "blanks" / "m.yaml").read_text("utf-8")


def test_your_own_measures_of_a_built_in_blank(bare: Path) -> None:
    """“Measure yours”: what is not measured again is taken over."""
    told = run(bare, "measure", "can-wrap-foam", "--length", "243 mm").ended(0)
    assert "in the place of the built-in one" in told.out and "copied from it" in told.out
    text = (bare / "blanks" / "can-wrap-foam.yaml").read_text("utf-8")
    for line in ("length: 243 mm", "thickness: 4 mm", "height: 100 mm"):
        assert line in text
    assert "heat: 400 F" in text and "sand" in text
    assert "worked out" not in text  # it is measured now
    shown = run(bare, "blanks", "can-wrap-foam", "--json").document
    assert shown["width_mm"] == 243
    told = run(bare, "measure", "can-wrap-foam").ended(2).err
    assert "already" in told


@pytest.mark.parametrize(
    ("said", "code", "words"),
    [
        # too short for its can: by how much, what fits, and which cans it is for
        (
            "wrap --vessel 66.1mm --length 220mm --height 100mm --thickness 3mm --closure 30mm",
            2,
            ["7.1 mm too short", "at least 227.1 mm", "cans from 57.5 to 63.8 mm across"],
        ),
        ("wrap --vessel 66.1mm", 2, ["add --length LENGTH"]),
        ("fold --width 120mm --height 214mm --seam 60mm", 2, ["whole width"]),
        ("fold --width 120mm --height 214mm --seam 6mm --gap 2mm", 2, ["fold has no --gap"]),
        ("sewn --width 108 --height 100mm --gap 4mm", 2, ["--width", "needs a unit"]),
        ("sewn --width 108mm --height 100mm --gap 54mm", 2, ["whole face"]),
        ("sewed --width 108mm", 2, ["did you mean sewn?"]),
        ("flat --shape oval", 2, ["rectangle, rounded, round"]),
        ("flat --width 9cm --height 9cm --colour sky", 2, ["sky=#rrggbb"]),
        ("flat --width 9cm --height 9cm --colour sky=blue", 2, ["not a colour"]),
        ("flat --width 9cm --height 9cm --finish linen", 2, ["did you mean linen-look?"]),
        ("flat --width 9cm --height 9cm --polyester 100", 2, ["like 100 %"]),
        ("flat --width 9cm --height 9cm --safe 45mm", 2, ["has no room for words"]),
    ],
)
def test_measures_without_sense_write_nothing(
    bare: Path, said: str, code: int, words: list[str]
) -> None:
    before = files(bare)
    ran = run(bare, "measure", "mine", "--construction", *said.split()).ended(code)
    for word in words:
        assert word in ran.err, ran.err
    own = ("workroom/", "records/.lock")
    after = {k: v for k, v in files(bare).items() if not k.startswith(own)}
    assert after == before and not (bare / "workroom" / "blanks").exists()


def test_names_that_cannot_be(bare: Path) -> None:
    said = ["--construction", "flat", "--width", "9cm", "--height", "9cm"]
    for name in ("../mine", "con", "my mat"):
        assert "cannot be a blank" in run(bare, "measure", name, *said).ended(2).err
    assert not (bare / "blanks").exists()
    run(bare, "measure", *said, "--name", "Mat for the stall").ended(0)
    assert (bare / "blanks" / "mat-for-the-stall.yaml").is_file()


def test_a_terminal_is_asked_and_may_mend_a_slip(
    bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    answers = [
        "wrapped",  # none of them: the question alone is put again
        "wrap",
        "Garden wrap",
        "Garden sleeve",  # what customers call it
        "round 207.66 mm",
        "220",  # no unit: asked again
        "220 mm",
        "225 mm",  # tall: asked at once whether it is right
        "100 mm",
        "3 mm",
        "30 mm",
        "",  # the least overlap: 10 mm
        "",
        "",  # bleed and safe
        "",  # right end on top
        "back",  # the strip
        "24 cm",  # 220 was too short: measured again, before anything else is asked
        "",  # no hole is punched
        "foam",
        "plum=#7a2a5a, grey, rust",  # no shade: asked again
        "plum=#7a2a5a, grey",
        "100 %",
        "200 C",
        "sixty",  # no time: asked again
        "60 s",
        *[""] * 3,  # pressure, sides, preheat
        "warm",  # neither hot nor cold: asked again
        "hot",
        "",
        "",  # edge and hold
        "",  # whose figures: the maker's
    ]
    ran = run(bare, "measure", typed="\n".join(answers) + "\n").ended(0)
    assert "needs a unit; write it like 66.1 mm" in ran.err
    assert "unusually tall for a can sleeve: is it right?" in ran.err
    assert "7.1 mm too short" in ran.err and "measured again?" in ran.err
    text = (bare / "blanks" / "garden-wrap.yaml").read_text("utf-8")
    assert "length: 240 mm" in text and "finish: foam" in text
    assert 'called: "Garden sleeve"' in text
    assert "on_top: right, on: back}" in text and "polyester: 100 %" in text
    assert (
        'press: {heat: 200 C, time: 60 s, pressure: "medium", sides: 1, preheat: 10 s, '
        "from: maker, peel: hot}"
    ) in text
    assert 'colours: {"plum": "#7a2a5a", "grey": "#808080"}' in text
    assert "rust has no shade" in ran.err
    for option in ("--colour", "--time", "--peel"):  # a person was asked in words
        assert option not in ran.err
    assert not list((bare / "workroom" / "drafts").iterdir())  # all is written
    assert ran.err.count("closed round the can; fold:") == 1 == ran.err.count("“wrapped” is none")
    assert "“sixty”" in ran.err and "“warm” is not one of hot, cold" in ran.err


def test_each_figure_of_a_press_can_be_given(bare: Path) -> None:
    """One of heat and time that nobody said leaves both of them practice."""
    size = ("--construction", "sewn", "--width", "108mm", "--height", "100mm", "--gap", "4mm")
    every = (
        "--heat", "400F", "--time", "65s", "--pressure", "light", "--sides", "2", "--preheat", "5s",
        "--peel", "cold", "--edge", "torn", "--hold", "spray", "--from", "trial",
        "--polyester", "95%",
    )  # fmt: skip
    run(bare, "measure", "one", *size, *every).ended(0)
    text = (bare / "blanks" / "one.yaml").read_text("utf-8")
    assert "# Heat" not in text and "polyester: 95 %" in text
    assert (
        'press: {heat: 400 F, time: 65 s, pressure: "light", sides: 2, preheat: 5 s, from: trial, '
        "peel: cold, edge: torn, hold: spray}"
    ) in text
    run(bare, "measure", "two", *size, "--heat", "390F").ended(0)
    half = (bare / "blanks" / "two.yaml").read_text("utf-8")
    assert "heat: 390 F, time: 60 s" in half and "from: practice" in half
    for wrong in (
        ("--heat", "424"),
        ("--sides", "3"),
        ("--edge", "bent"),
        ("--from", "me"),
        ("--heat", "200 C (424 F)"),
    ):
        told = run(bare, "measure", "three", *size, *wrong).ended(2).err
        assert wrong[0] in told and not (bare / "blanks" / "three.yaml").exists()


def test_a_flat_blank_is_pressed_on_its_one_face(
    bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    size = ("measure", "mark", "--construction", "flat", "--width", "50mm", "--height", "150mm")
    two = "to print front and back, measure two blanks, one for each"
    told = run(bare, *size, "--sides", "2").ended(2).err
    assert "--sides: a flat blank has one face" in told and two in told
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    # An option that will not do is told before anything is asked.
    told = run(bare, *size, "--sides", "2", typed="Mark\n").ended(2).err
    assert two in told and "What do you call it" not in told
    assert not (bare / "blanks" / "mark.yaml").exists()
    options = ("--shape", "rectangle", "--name", "Mark", "--bleed", "3mm", "--safe", "3mm")
    # What it is called, holes, look, cloth; then fibre to pressure.
    typed = [*[""] * 4, *[""] * 4, "2", *[""] * 8]
    asked = run(bare, *size, *options, typed="\n".join(typed) + "\n").ended(0).err
    assert asked.count("On how many sides") == 2
    assert f"one face, and nothing is printed on its back; press Enter; {two}." in asked
    assert "sides: 1" in (bare / "blanks" / "mark.yaml").read_text("utf-8")


def test_punched_holes_are_given_or_asked_for(bare: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    size = ("--construction", "flat", "--width", "50mm", "--height", "150mm")
    both = ("--hole", "25mm,8mm,5mm", "--hole", "2,5 cm, 142 mm, 0.25 in")
    run(bare, "measure", "mark", *size, *both).ended(0)
    holes = "holes: [{x: 25 mm, y: 8 mm, diameter: 5 mm}, {x: 25 mm, y: 142 mm, diameter: 6.35 mm}]"
    assert holes in (bare / "blanks" / "mark.yaml").read_text("utf-8")
    for wrong, words in (
        ("25,8,5", '"25mm,8mm,5mm"'),
        ("round", 'like "45mm,12mm,5mm"'),
        ("25mm,8mm,5", "“5” needs a unit"),
        ("25mm,8mm,500mm", "at most 100 mm"),
        ("1mm,8mm,5mm", "does not lie on 50 × 150 mm"),
    ):
        told = run(bare, "measure", "other", *size, "--hole", wrong).ended(2).err
        assert words in told and not (bare / "blanks" / "other.yaml").exists()
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    options = ("--shape", "rectangle", "--name", "Mark", "--bleed", "3mm", "--safe", "3mm")
    for name, answer in (("two", "25mm,8mm,5mm; 2,5 cm, 142 mm, 0.25 in"), ("none", "no")):
        typed = ["", "8mm", "1mm,8mm,5mm", answer, *[""] * 15]
        told = run(bare, "measure", name, *size, *options, typed="\n".join(typed) + "\n").ended(0)
        assert told.err.count("Are there punched holes?") == 3
        assert "“8mm” is not a hole" in told.err and "does not lie on 50 × 150 mm" in told.err
        assert (holes in (bare / "blanks" / f"{name}.yaml").read_text("utf-8")) == (name == "two")


def test_a_person_who_stops_answering_writes_nothing(
    bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    for typed in ("", "wrap\n", "\nwrap\nGarden\n\n66.1 mm\n"):
        told = run(bare, "measure", typed=typed).ended(2).err
    assert not (bare / "blanks").exists()
    assert "what you answered is kept" in told and "You began this before" in told


def test_a_sewn_sleeve_is_asked_how_thick_it_is(
    bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    for name, thick in (("one", "3 mm"), ("two", "")):
        typed = ["sewn", name, "", "108 mm", "100 mm", thick, "4 mm", *[""] * 30]
        told = run(bare, "measure", typed="\n".join(typed) + "\n").ended(0)
        assert "take a quarter. (like 5 mm, 0.5 cm or 1/4 in; Enter: not known)" in told.err
        text = (bare / "blanks" / f"{name}.yaml").read_text("utf-8")
        assert ("thickness: 3 mm" in text) == bool(thick)
        assert "gap: 4 mm" in text and "height: 100 mm" in text


def test_measures_that_cannot_be_are_not_asked_for_in_a_circle(
    bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A height of 4 mm: doubted at once; whoever says it again hears what is wrong, may go through
    the measures once more, and ends where nothing changed."""
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    begun = ["flat", "rectangle", "Mat", "", "90 mm", "4 mm", "4 mm", "", ""]
    again = ["", "4 mm", "4 mm", "", ""]
    told = run(bare, "measure", typed="\n".join([*begun, *again]) + "\n").ended(2).err
    assert "4 mm is unusually small for a side of a piece: is it right?" in told
    assert "4.0 mm on its short side has no room for words that stay 5 mm from each edge" in told
    assert "asked once more" in told and told.count("How wide is it?") == 2
    fixed = [*begun, "", "90 mm", *[""] * 30]
    run(bare, "measure", typed="no\n" + "\n".join(fixed) + "\n").ended(0)
    assert "height: 90 mm" in (bare / "blanks" / "mat.yaml").read_text("utf-8")


def test_nothing_that_was_answered_is_asked_twice(
    bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What makes no sense together is told once the last of it is known, not after twenty questions
    more; and whoever stops goes on with Enter alone."""
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    begun = ["fold", "Pocket", "", "120 mm", "214 mm", "60 mm", "", "", "", "", ""]
    told = run(bare, "measure", typed="\n".join(begun) + "\n").ended(2)
    assert "whole width" in told.err and "How much of the fibre" not in told.err

    def stop(_: str) -> str:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(running, "_answer", stop)
        assert "go on" in run(bare, "measure").ended(130).err
    typed = [*[""] * 6, "6 mm", *[""] * 30]
    told = run(bare, "measure", typed="\n".join(typed)).ended(0)
    assert "Enter: Pocket as before" in told.err
    text = (bare / "blanks" / "pocket.yaml").read_text("utf-8")
    assert "width: 120 mm" in text and "seam: 6 mm" in text


def test_answers_that_were_stopped_belong_to_their_blank(
    bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    run(bare, "measure", "stall-mat", typed="flat\n").ended(2)
    told = run(bare, "measure", "beer-mat", typed="").ended(2).err
    assert "You began this before" not in told
    assert "You began this before" in run(bare, "measure", "stall-mat", typed="").ended(2).err


def test_a_measure_is_no_name(bare: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    typed = ["flat", "rectangle", "66.1 mm", "Mat", "9 in", "", "90 mm", "90 mm", *[""] * 30]
    told = run(bare, "measure", typed="\n".join(typed) + "\n").ended(0).err
    assert "“66.1 mm” is a measure, not a name" in told and "“9 in” is a measure" in told
    assert (bare / "blanks" / "mat.yaml").exists()


def test_whose_heat_it_is_has_to_be_said(bare: Path) -> None:
    size = ("--construction", "sewn", "--width", "108mm", "--height", "100mm", "--gap", "4mm")
    said = ("--heat", "390F", "--time", "50s")
    told = run(bare, "measure", "one", *size, *said).ended(2).err
    assert "--heat and --time: whose they are was not said" in told and "--from maker" in told
    assert not (bare / "blanks").exists()
    run(bare, "measure", "one", *size, *said, "--from", "maker").ended(0)
    assert "from: maker" in (bare / "blanks" / "one.yaml").read_text("utf-8")


def test_a_wrap_that_does_not_close_is_refused_like_any_other(bare: Path) -> None:
    size = ("--vessel", "66.1mm", "--height", "100mm", "--thickness", "3mm", "--closure", "30mm")
    run(bare, "measure", "--construction", "wrap", *size, "--length", "300mm").ended(2)


def test_a_tape_of_inches(bare: Path) -> None:
    size = ("--width", "10 7/8 in", "--height", '9 1/2"')
    run(bare, "measure", "mat", "--construction", "flat", *size).ended(0)
    text = (bare / "blanks" / "mat.yaml").read_text("utf-8")
    # An inch is 25.4 mm: 10.875 × 25.4 and 9.5 × 25.4.
    assert "width: 276.225 mm" in text and "height: 241.3 mm" in text
    # Nobody said how it looks: the file says so, and no word of it (a guess was written before).
    assert "# finish: is not said" in text and "cloth: {colours: " in text


def test_an_option_of_another_command_says_whose_it_is(bare: Path) -> None:
    for option in ("--length", "--colour", "--heat"):
        told = run(bare, "blanks", "can-wrap-linen", option, "x=1").ended(2).err
        assert f"no option {option} here" in told and "it belongs to proofgen" in told
    told = run(bare, "blanks", "--measure").ended(2).err
    assert "it is a command: proofgen measure --help" in told


# The measuring sheet


@pytest.mark.parametrize("name", ["can-wrap-linen", "can-fold", "can-sewn-foam", "coaster-round"])
def test_any_blank_at_its_true_size(bare: Path, tmp_path: Path, name: str) -> None:
    ran = run(bare, "truesize", name, tmp_path / "sheet.pdf").ended(0)
    assert "One sheet of A4" in ran.out and "100 %" in ran.out
    assert (tmp_path / "sheet.pdf").read_bytes().startswith(b"%PDF-")


def test_a_sheet_says_when_no_paper_holds_the_blank(bare: Path, tmp_path: Path) -> None:
    write(bare / "blanks" / "runner.yaml", SEWN.replace("108 mm", "420 mm"))
    told = run(bare, "truesize", "runner", tmp_path / "r.pdf").ended(0).out
    assert re.search(r"None of your papers \(A4\) holds 420 × 100 mm .* over 2 sheets of A4", told)
    assert run(tmp_path, "truesize", "can-fold", tmp_path / "f.pdf").ended(0)
    before = files(bare)
    for wrong, words in (
        (["can-fold", "sheet.txt"], "write sheet.pdf"),
        (["can-flod", "sheet.pdf"], "did you mean can-fold?"),
        ([], "BLANK is missing"),
    ):
        assert words in run(bare, "truesize", *wrong).ended(2).err
    assert files(bare) == before


def test_a_wrap_that_does_not_close_is_drawn_and_told(bare: Path, tmp_path: Path) -> None:
    write(bare / "blanks" / "odd.yaml", WRAP.replace("240 mm", "220 mm"))
    ran = run(bare, "truesize", "odd", tmp_path / "odd.pdf").ended(1)
    assert "7.1 mm too short" in ran.err and (tmp_path / "odd.pdf").is_file()


@pytest.mark.parametrize(("typed", "thick"), [("", "3 mm"), ("2.5 mm", "2.5 mm")])
def test_the_thickness_that_a_built_in_blank_says_is_asked_about(
    bare: Path, monkeypatch: pytest.MonkeyPatch, typed: str, thick: str
) -> None:
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)
    lines = ["", "", typed, *[""] * 30]
    told = run(bare, "measure", "can-sewn-foam", typed="\n".join(lines) + "\n").ended(0)
    assert "take a quarter. (Enter: 3 mm)" in told.err
    text = (bare / "blanks" / "can-sewn-foam.yaml").read_text("utf-8")
    assert f"thickness: {thick}\n" in text
    assert "From the built-in blank: vessel 66.1 mm (--vessel gives another)." in told.err


def test_what_customers_call_it_is_given_as_an_option(bare: Path) -> None:
    line = "measure one --construction flat --shape round --diameter 100mm"
    run(bare, *line.split(), "--called", "Untersetzer").ended(0)
    assert 'called: "Untersetzer"' in (bare / "blanks/one.yaml").read_text("utf-8")


@pytest.mark.parametrize("word", ["weiß", "Weiß", "blanco", "white"])
def test_plain_words_for_colours_have_their_shade(bare: Path, word: str) -> None:
    line = "measure one --construction flat --shape round --diameter 100mm"
    run(bare, *line.split(), "--colour", word).ended(0)
    assert "#ffffff" in (bare / "blanks/one.yaml").read_text("utf-8")


def test_a_colour_without_a_shade_is_offered_no_other_one(bare: Path) -> None:
    line = "measure one --construction flat --shape round --diameter 100mm --colour altrosa"
    said = run(bare, *line.split()).ended(2).err
    assert "altrosa=#rrggbb" in said and "6fb7e9" not in said


def test_another_shape_is_measured_as_the_box_round_it(bare: Path) -> None:
    line = "measure one --construction flat --shape triangle --width 100mm --height 80mm"
    assert "the rectangle round it" in run(bare, *line.split()).ended(2).err
