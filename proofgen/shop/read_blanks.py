"""blanks/NAME.yaml: the maker's measures of a blank, and whether such a thing can exist."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from proofgen.colour import correction_from
from proofgen.geometry import CONSTRUCTIONS, SHAPES, SIDES
from proofgen.model import FINISHES, HEAT_SOURCES, Blank, Closure, Cloth, PressSetting
from proofgen.shop.getters import Record, named, root
from proofgen.shop.nodes import Source, parse, read_text, show
from proofgen.shop.paths import suggest

BUILT_IN = Path(__file__).parent / "blanks"

# mm. Beyond these a unit was mistaken: a 40 m can, a 3 m sleeve.
_MOST_SIDE = 2000.0
_MOST_VESSEL = 400.0
_MOST_THICK = 50.0
# °C. Disperse dye begins to move at about 150 °C and polyester melts at 250 to 260 °C (Miles,
# Textile Printing, from memory); anything outside is a slip of the pen.
_HEATS = (100.0, 260.0)


def _cloth(blank: Record) -> Cloth:
    with blank.map("cloth", "the cloth", needed=True) as cloth:
        finish = cloth.choice("finish", FINISHES)
        polyester = cloth.share("polyester") if cloth.has("polyester") else None
        with cloth.map("colours", "the colours", needed=True) as shades:
            colours = {name: shades.colour(name) for name in shades.names()}
        _names(shades)
        if shades.there and not colours:
            cloth.fault("colours", "cloth.colours is empty", 'add one, like white: "#ffffff"')
        readings = _readings(cloth, colours)
    return Cloth(finish=finish, polyester=polyester, colours=colours, readings=readings)


def _readings(cloth: Record, colours: dict[str, str]) -> dict[str, tuple[tuple[str, str], ...]]:
    """`correction`: for a colour of the cloth, each swatch's colour asked for and read."""
    found = {}
    with cloth.map("correction", "the correction") as shades:
        for name in shades.names():
            with shades.map(name, "the swatches of a colour", needed=True) as swatches:
                pairs = tuple((asked, swatches.colour(asked)) for asked in swatches.names())
            if colours and name not in colours:
                meant = suggest(name, colours)
                hint = f"did you mean “{meant}”? " if meant else ""
                shades.fault(
                    name,
                    f"correction names {show(name)}, which is not a colour of this cloth",
                    f"{hint}Colours: {named(colours)}",
                )
            elif swatches.there:
                _proves_something(shades, name, pairs, colours.get(name, "#ffffff"))
                found[name] = pairs
    return found


def _proves_something(
    shades: Record, name: str, pairs: tuple[tuple[str, str], ...], cloth: str
) -> None:
    try:
        correction_from(pairs, cloth)
    except ValueError as error:
        shades.fault(
            name,
            f"correction.{name}: {error}",
            'write each swatch as asked and read, like "#c80000": "#7a1f2a"',
        )


def _names(shades: Record) -> None:
    seen: dict[str, str] = {}
    for name in shades.names():
        if not name.strip() or len(name) > 40 or not name.isprintable():
            shades.fault(name, f"{show(name)} cannot be a colour's name", "give it a short name")
        elif name.casefold() in seen:
            shades.fault(
                name, f"{show(name)} and {show(seen[name.casefold()])} are the same", "keep one"
            )
        seen[name.casefold()] = name


def _press(blank: Record) -> PressSetting | None:
    if not blank.has("press"):
        return None
    with blank.map("press", "the press setting") as press:
        heat = press.temperature("heat", least=_HEATS[0], most=_HEATS[1])
        return PressSetting(
            heat_c=heat.celsius,
            heat_f_written=heat.fahrenheit,
            time_s=press.seconds("time", above=0, most=600),
            pressure=press.text("pressure", "medium", most=40),
            sides=press.whole("sides", 1, least=1, most=2),
            preheat_s=press.seconds("preheat", 0.0, least=0, most=600),
            source=press.choice("from", HEAT_SOURCES, "practice"),
        )


def _closure(blank: Record, is_wrap: bool) -> Closure | None:
    if not blank.has("closure") and not is_wrap:
        return None
    with blank.map("closure", "the closure", needed=is_wrap) as closure:
        return Closure(
            width_mm=closure.length("width", above=0, most=_MOST_SIDE),
            shortest_mm=closure.length("shortest", least=0, most=_MOST_SIDE),
            on_top=closure.choice("on_top", SIDES),
        )


def _sides(blank: Record, construction: str, shape: str) -> tuple[float, float]:
    """Raw width and height, under the names this construction gives them."""

    def side(key: str) -> float:
        return blank.length(key, above=0, most=_MOST_SIDE)

    if construction == "flat" and shape == "round":
        for key in ("width", "height"):
            if blank.has(key):
                blank.fault(key, f"a round blank has no {key}", "say diameter: instead")
        across = side("diameter")
        return across, across
    along, other = ("length", "width") if construction == "wrap" else ("width", "length")
    if blank.has(other) and not blank.has(along):
        blank.fault(other, f"a {construction} has no {other}", f"say {along}: instead")
        return 1.0, side("height")
    if blank.has(other):
        blank.fault(other, f"a {construction} has no {other}", f"keep {along}: alone")
    return side(along), side("height")


def _stock(blank: Record, cloth: Cloth) -> dict[str, int]:
    found = {}
    with blank.map("stock", "the stock") as stock:
        for name in stock.names():
            found[name] = stock.whole(name, least=0, most=1_000_000)
            if cloth.colours and name not in cloth.colours:
                meant = suggest(name, cloth.colours)
                hint = f"did you mean “{meant}”? " if meant else ""
                stock.fault(
                    name,
                    f"stock names {show(name)}, which is not a colour of this cloth",
                    f"{hint}Colours: {named(cloth.colours)}",
                )
    return found


def _vessel(blank: Record, is_wrap: bool) -> float | None:
    if not blank.has("vessel") and not is_wrap:
        return None
    with blank.map("vessel", "the can", needed=is_wrap) as vessel:
        return vessel.length("diameter", least=10, most=_MOST_VESSEL)


def _impossible(blank: Blank) -> Iterator[tuple[str, str, str]]:
    """Measures that leave nothing to press, as (key, problem, cure); a wrap that does not fit its
    can is none of them."""
    wide, high = blank.width_mm, blank.height_mm
    if blank.construction == "wrap" and blank.closure:
        if blank.closure.width_mm >= wide:
            yield (
                "closure.width",
                f"the closure ({blank.closure.width_mm:g} mm) is as wide as the blank is long",
                "measure the hook-and-loop strip across, not along",
            )
        if blank.closure.shortest_mm > blank.closure.width_mm:
            yield (
                "closure.shortest",
                "closure.shortest is more than closure.width",
                "write the least overlap that holds, at most the strip's width",
            )
    if blank.construction == "fold":
        yield from _impossible_fold(blank)
    if blank.construction == "sewn" and 2 * blank.gap_mm >= wide:
        yield "gap", "the gaps at both sides take the whole face", "write the gap of one side"
    if blank.shape == "rounded" and 2 * blank.corner_mm > min(wide, high):
        yield (
            "corner",
            f"corners of {blank.corner_mm:g} mm do not fit on {wide:g} × {high:g} mm",
            "write the radius of one corner",
        )


def _impossible_fold(blank: Blank) -> Iterator[tuple[str, str, str]]:
    face_high = (blank.height_mm - blank.fold_mm) / 2 - blank.hem_mm
    if 2 * blank.seam_mm >= blank.width_mm:
        yield "seam", "the two seams take the whole width", "write one side’s allowance"
    if face_high <= 0:
        yield (
            "fold" if blank.fold_mm >= blank.height_mm else "hem",
            "fold and hems take the whole height",
            "write the height of the whole flat sheet, front and back",
        )
    elif blank.base_mm >= face_high:
        yield "base", "the base takes the whole face", "write the strip under the can"


def _unsafe(blank: Blank) -> Iterator[tuple[str, str, str]]:
    least = min(min(f.rect.width, f.rect.height) for f in blank.plan().faces)
    if 2 * blank.safe_mm >= least:
        yield (
            "safe",
            f"safe leaves nothing of a face that is {least:.1f} mm on its short side",
            "write how far from the edge words must stay",
        )


def read_blank(path: Path, source: Source, *, built_in: bool = False) -> Blank | None:
    """One blank; None when it has a fault, which `source` then holds."""
    return blank_of(read_text(path, source.file), path.stem, source, built_in=built_in)


def blank_of(text: str, name: str, source: Source, *, built_in: bool = False) -> Blank | None:
    """The blank a text says, under the id `name`; None when it has a fault, as read_blank."""
    record = root(parse(text, source), source, "a blank")
    construction = record.choice("construction", CONSTRUCTIONS)
    if source.faults or record.missing:
        if not source.faults:
            source.fault(
                record.node.line,
                "a blank lacks construction",
                f"add a line construction: with one of {named(CONSTRUCTIONS)}",
            )
        return None  # which keys it needs hangs on the construction
    is_wrap = construction == "wrap"
    shape = record.choice("shape", SHAPES, "rectangle")
    width, height = _sides(record, construction, shape)
    rounded = construction == "flat" and shape == "rounded"

    def strip(key: str) -> float:
        return record.length(key, 0.0, least=0, most=_MOST_SIDE)

    thick: dict[str, float] = {"above": 0, "most": _MOST_THICK}
    with record.map("shrink", "the shrink") as shrink:
        shrunk = (shrink.share("x", 0.0, most=0.2), shrink.share("y", 0.0, most=0.2))
    cloth = _cloth(record)
    blank = Blank(
        id=name,
        name=record.text("name", most=80),
        construction=construction,
        width_mm=width,
        height_mm=height,
        cloth=cloth,
        bleed_mm=record.length("bleed", least=0, most=50),
        safe_mm=record.length("safe", least=0, most=200),
        thickness_mm=record.length("thickness", None if is_wrap else 0.0, **thick),
        vessel_mm=_vessel(record, is_wrap),
        closure=_closure(record, is_wrap),
        seam_mm=strip("seam"),
        fold_mm=strip("fold"),
        hem_mm=strip("hem"),
        base_mm=strip("base"),
        gap_mm=strip("gap"),
        shape=shape if construction == "flat" else "rectangle",
        corner_mm=record.length("corner", None if rounded else 0.0, least=0, most=_MOST_SIDE),
        shrink=shrunk,
        press=_press(record),
        cost=record.money("cost") if record.has("cost") else None,
        stock=_stock(record, cloth),
        note=record.text("note", "", most=400),
        built_in=built_in,
        place=source.place(None),
        lines=record.lines(),
    )
    record.finish()
    for judge in (_impossible, _unsafe):
        if not source.faults:
            for key, problem, cure in judge(blank):
                source.fault(blank.lines.get(key, 1), problem, cure)
    return None if source.faults else blank


def built_in_blanks() -> dict[str, Blank]:
    """The blanks that come with the tool, by id."""
    found = {}
    for path in sorted(BUILT_IN.glob("*.yaml")):
        source = Source(f"built-in blanks/{path.name}")
        blank = read_blank(path, source, built_in=True)
        if blank is None:
            raise source.faults[0]
        found[blank.id] = blank
    return found
