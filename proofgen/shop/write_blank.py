"""A measured blank as blanks/NAME.yaml: whole or not at all, and it reads back as it was."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

from proofgen import store
from proofgen.errors import Place, ShopError, ShopFaults, UsageError
from proofgen.model import Blank, PressSetting
from proofgen.shop.nodes import Source, show
from proofgen.shop.paths import is_id
from proofgen.shop.read_blanks import blank_of
from proofgen.shop.writing import quoted
from proofgen.units import f_to_c

_FOLD = (("seam", "seam_mm"), ("fold", "fold_mm"), ("hem", "hem_mm"), ("base", "base_mm"))


def blank_text(blank: Blank, remarks: tuple[str, ...] = ()) -> str:
    """The YAML of a blank, lengths in mm; `remarks` stand at its top behind #.

    ShopError for a text that no file can hold.
    """
    head = [f"# {' '.join(remark.split())}" for remark in remarks]
    return "\n".join([*head, *_lines(blank)]) + "\n"


def check_blank(text: str, name: str) -> Blank:
    """The blank a text says. ShopFaults with every fault; their lines are those of the text."""
    source = Source(f"blanks/{name}.yaml")
    blank: Blank | None = None
    try:
        blank = blank_of(text, name, source)
    except ShopError as error:
        source.faults.append(error)
    if blank is None or source.faults:
        raise ShopFaults(source.faults)
    return blank


def write_blank(folder: Path, blank: Blank, remarks: tuple[str, ...] = ()) -> Path:
    """Write a new blank into the shop `folder`; its path. It is read back before it is written.

    Errors: UsageError when a blank of that name is there or the name cannot stand in a file name,
    ShopFaults when the measures leave nothing to press.
    """
    if not is_id(blank.id):
        raise UsageError(
            f"{show(blank.id)} cannot be a blank's name", "use letters a to z, digits and hyphens"
        )
    home = folder / "blanks"
    taken = {p.stem.casefold() for p in home.iterdir()} if home.is_dir() else set()
    if blank.id.casefold() in taken:
        raise UsageError(
            f"there is a blank called “{blank.id}” already",
            "choose another name, or change its file in blanks/",
        )
    text = blank_text(blank, remarks)
    again = check_blank(text, blank.id)
    if _bare(again) != _bare(blank):
        raise ShopError("the measures would not read back as they were given", "report this")
    path = home / f"{blank.id}.yaml"
    store.write(path, text, durable=True)
    return path


def _bare(blank: Blank) -> Blank:
    """The blank without where it was read."""
    colours, stock = dict(blank.cloth.colours), dict(blank.stock)
    return replace(
        blank,
        cloth=replace(blank.cloth, colours=colours),
        stock=stock,
        place=Place(""),
        lines={},
        built_in=False,
    )


def _number(value: float, times: int = 1) -> str:
    """The shortest text that reads back as the very number (times a whole one), never as 1e-07."""
    text = f"{Decimal(repr(value)) * times:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _mm(value: float) -> str:
    return f"{_number(value)} mm"


def _share(value: float) -> str:
    return f"{_number(value, 100)} %"


def _map(entries: Mapping[str, str]) -> str:
    return "{" + ", ".join(f"{key}: {value}" for key, value in entries.items()) + "}"


def _lines(blank: Blank) -> Iterator[str]:
    yield f"name: {quoted(blank.name)}"
    yield f"construction: {blank.construction}"
    yield from _measures(blank)
    yield f"bleed: {_mm(blank.bleed_mm)}"
    yield f"safe: {_mm(blank.safe_mm)}"
    if any(blank.shrink):
        yield f"shrink: {_map({'x': _share(blank.shrink[0]), 'y': _share(blank.shrink[1])})}"
    yield from _cloth(blank)
    if blank.press:
        yield f"press: {_map(_press(blank.press))}"
    if blank.cost is not None:
        yield f"cost: {blank.cost}"
    if blank.stock:
        yield f"stock: {_map({quoted(k): str(n) for k, n in blank.stock.items()})}"
    if blank.note:
        yield f"note: {quoted(blank.note)}"


def _measures(blank: Blank) -> Iterator[str]:
    if blank.vessel_mm is not None:
        yield f"vessel: {_map({'diameter': _mm(blank.vessel_mm)})}"
    round_one = blank.construction == "flat" and blank.shape == "round"
    if blank.construction == "flat":
        yield f"shape: {blank.shape}"
    if round_one:
        yield f"diameter: {_mm(blank.width_mm)}"
    else:
        yield f"{'length' if blank.construction == 'wrap' else 'width'}: {_mm(blank.width_mm)}"
        yield f"height: {_mm(blank.height_mm)}"
    if blank.corner_mm:
        yield f"corner: {_mm(blank.corner_mm)}"
    if blank.thickness_mm:
        yield f"thickness: {_mm(blank.thickness_mm)}"
    if blank.closure:
        strip = {"width": _mm(blank.closure.width_mm), "shortest": _mm(blank.closure.shortest_mm)}
        yield f"closure: {_map({**strip, 'on_top': blank.closure.on_top})}"
    for key, field in _FOLD:
        if getattr(blank, field) or blank.construction == "fold":
            yield f"{key}: {_mm(getattr(blank, field))}"
    if blank.gap_mm or blank.construction == "sewn":
        yield f"gap: {_mm(blank.gap_mm)}"


def _cloth(blank: Blank) -> Iterator[str]:
    cloth = {"finish": blank.cloth.finish}
    if blank.cloth.polyester is not None:
        cloth["polyester"] = _share(blank.cloth.polyester)
    colours = {quoted(name): quoted(shade) for name, shade in blank.cloth.colours.items()}
    yield f"cloth: {_map({**cloth, 'colours': _map(colours)})}"


def _press(press: PressSetting) -> dict[str, str]:
    written = press.heat_f_written
    heat = f"{_number(press.heat_c)} C"
    if written is not None:
        alone = f_to_c(written) == press.heat_c
        heat = f"{_number(written)} F" if alone else f"{heat} ({_number(written)} F)"
    return {
        "heat": heat,
        "time": f"{_number(press.time_s)} s",
        "pressure": quoted(press.pressure),
        "sides": str(press.sides),
        "preheat": f"{_number(press.preheat_s)} s",
        "from": press.source,
    }
