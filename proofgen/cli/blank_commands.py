"""The commands about a blank: the list, a tape's measures, its true size, swatches, a trial."""

from __future__ import annotations

from pathlib import Path

from proofgen.cli.options import JSON, Given, command, operand, option


def _tape(says: str) -> str | None:
    return option(None, says, "LENGTH", apart=True)


@command(
    "blanks",
    "blanks",
    "the blanks there are, or one of them in numbers",
    "proofgen blanks",
    "proofgen blanks can-wrap-linen",
    "proofgen blanks can-wrap-linen --count white=40",
)
class Blanks(Given):
    name: str | None = operand("BLANK", "its short name, as the list shows it", nargs="?")
    count: tuple[str, ...] = option(
        (), "write down how many lie there now; can be repeated", "CLOTH=PIECES"
    )
    json: bool = option(False, JSON)


@command(
    "measure",
    "blanks",
    "write down a blank of your own, measured with a tape; asks for what you leave out",
    "proofgen measure stall-mat --construction flat --width 200mm --height 130mm",
)
class Measure(Given):
    group = (
        "what a tape shows, and what the press needs",
        "LENGTH has its unit: 66.1mm, 6.6cm, 9.5in, 9 1/2 in. For flat blanks --shape says which.",
    )
    name: str | None = operand(
        "NAME",
        "the short name it will have; its file is blanks/NAME.yaml",
        nargs="?",
    )
    json: bool = option(False, JSON)
    construction: str | None = option(None, "wrap, fold, sewn or flat", "KIND", apart=True)
    title: str | None = option(
        None, "what you call it, in your own words", "TEXT", named=("--name",), apart=True
    )
    called: str | None = option(None, "what your customers call it", "NAME", apart=True)
    # The lengths of desk.BLANK_LENGTHS (a test holds them together).
    vessel: str | None = _tape("across the can, or “round 207.6 mm” for a tape laid round it")
    length: str | None = _tape("of a wrap, lying flat, from end to end")
    width: str | None = _tape("of the flat cloth, or of a face")
    height: str | None = _tape("of the cloth; of a fold, front and back together")
    thickness: str | None = _tape("of the cloth")
    closure: str | None = _tape("of the hook-and-loop strip, across it")
    shortest: str | None = _tape("least overlap that holds")
    seam: str | None = _tape("of a fold, at each side")
    fold: str | None = _tape("of a fold, the strip round the bottom")
    hem: str | None = _tape("of a fold, turned over at each opening")
    base: str | None = _tape("of a fold, the part of a face under the can")
    gap: str | None = _tape("of a sewn blank, where the press stops short of the seam")
    corner: str | None = _tape("radius of a rounded corner")
    diameter: str | None = _tape("of a round blank")
    hole: tuple[str, ...] = option(
        (),
        "punched: its middle from the left, from the top, and how wide; can be repeated",
        "X,Y,SIZE",
        apart=True,
    )
    bleed: str | None = _tape("ink past the edge")
    safe: str | None = _tape("from the edge to the nearest word")
    # The figures of desk.PRESS_FIGURES.
    polyester: str | None = option(None, "share of the fibre, as 100%%", "SHARE", apart=True)
    heat: str | None = option(None, "of the press (practice if left out)", "HEAT", apart=True)
    time: str | None = option(None, "under the press (practice if left out)", "TIME", apart=True)
    pressure: str | None = option(None, "light, medium or firm", "TEXT", apart=True)
    sides: str | None = option(None, "how many are pressed, 1 or 2", "N", apart=True)
    preheat: str | None = option(None, "bare cloth under the press, before", "TIME", apart=True)
    peel: str | None = option(None, "the paper comes off hot or cold", "HOW", apart=True)
    edge: str | None = option(None, "of the paper: torn or cut", "HOW", apart=True)
    hold: str | None = option(None, "of the paper: spray or tape", "HOW", apart=True)
    source: str | None = option(
        None,
        "of the heat and time given: maker, ink (the ink's maker), trial or practice",
        "WHO",
        named=("--from",),
        apart=True,
    )
    strip: str | None = option(
        None, "of a wrap, hook-and-loop seen print side up: back or front", "SIDE", apart=True
    )
    shape: str | None = option(
        None, "of a flat blank: rectangle, rounded or round", "SHAPE", apart=True
    )
    on_top: str | None = option(None, "of a wrap: right, left or neither", "END", apart=True)
    finish: str | None = option(None, "linen-look, foam or smooth", "LOOK", apart=True)
    colour: tuple[str, ...] = option(
        (), "of the cloth; can be repeated (white if none)", "NAME=#RRGGBB", apart=True
    )


@command(
    "truesize",
    "blanks",
    "a page with a blank at its true size, to lay the real one on",
    "proofgen truesize can-wrap-linen wrap.pdf",
)
class Truesize(Given):
    name: str = operand("BLANK", "its short name; `proofgen blanks` lists them")
    file: Path | None = operand("FILE", "the PDF to write (BLANK.pdf if none)", nargs="?")


@command(
    "swatches",
    "blanks",
    "colours to press on a blank's cloth and read; takes what was read",
    "proofgen swatches can-wrap-linen swatches.pdf",
)
class Swatches(Given):
    name: str = operand("BLANK", "its short name; `proofgen blanks` lists them")
    file: Path | None = operand("FILE", "the PDF to write (BLANK-swatches.pdf if none)", nargs="?")
    readings: Path | None = option(
        None, "a CSV of what was read off the swatches: number,L,a,b or number,hex", "CSV"
    )
    cloth: str | None = option(None, "the cloth they are pressed on (the first if none)", "COLOUR")
    leave_out: str | None = option(
        None, "with --readings: swatches not to be believed, like 9,14", "NUMBERS"
    )


@command(
    "trial",
    "blanks",
    "sheets that show a blank's best heat and time and how much it shrinks; takes what they showed",
    "proofgen trial can-wrap-linen",
    "proofgen trial can-wrap-linen --heat 400F --time 60s",
)
class Trial(Given):
    blank: str = operand("BLANK", "its short name; `proofgen blanks` lists them")
    heat: str | None = option(None, "of the cell that took best, as 400F or 204C", "HEAT")
    time: str | None = option(None, "of the cell that took best, as 60s", "TIME")
    along: str | None = option(
        None, "what the ruler shows on the cloth of the lines along it, in mm", "224.5,224,…"
    )
    across: str | None = option(None, "the same of the lines across it", "89,88.5,…")
