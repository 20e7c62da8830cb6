"""What differs between two descriptions of an order's artwork, in plain sentences."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from proofgen.model.artwork_document import (
    ArtworkDocument,
    LineDocument,
    VariantDocument,
)
from proofgen.say import pieces
from proofgen.signoff.digests import canonical
from proofgen.signoff.layers import layer_changes, mm, number, text, was

_MOST = 12  # sentences about single pieces of one line; the rest is counted
_MEASURES = {
    "bleed": "ink beyond the edge",
    "safe": "margin inside the edge",
    "corner": "rounding of the corners",
    "way_round": "way round the can",
}


def changes(old_document: ArtworkDocument, new_document: ArtworkDocument) -> list[str]:
    """Sentences about everything that changed between two documents of schema proofgen/artwork/1.

    Empty only when the two are the same.
    """
    sentences = []
    if old_document.get("ppi") != new_document.get("ppi"):
        old, new = number(old_document.get("ppi")), number(new_document.get("ppi"))
        sentences.append(f"The press picture had {old} pixels per inch, now has {new}.")
    before = {line["line"]: line for line in old_document.get("lines", [])}
    now = {line["line"]: line for line in new_document.get("lines", [])}
    for at in sorted({*before, *now}):
        if at not in now:
            sentences.append(f"Line {at} was taken out ({_what(before[at])}).")
        elif at not in before:
            sentences.append(f"Line {at} is new ({_what(now[at])}).")
        else:
            sentences += [f"Line {at}{rest}" for rest in _line_changes(before[at], now[at])]
    if not sentences and canonical(old_document) != canonical(new_document):
        sentences.append("Something in how the artwork is described changed.")
    return sentences


def _what(line: LineDocument) -> str:
    return f"{line['quantity']} × {line['design']} on {line['blank']}, {line['cloth']}"


def _line_changes(old: LineDocument, new: LineDocument) -> list[str]:
    """The rest of each sentence, after 'Line 1'."""
    clauses = []
    for key in ("design", "blank", "cloth"):
        clauses += was(f"the {key}", old.get(key), new.get(key), text)
    if old["cloth"] == new["cloth"]:
        of_cloth = "the colour of the cloth"
        clauses += was(of_cloth, old["cloth_colour"], new["cloth_colour"], text)
    clauses += was("the quantity", old["quantity"], new["quantity"])
    rests = [f": {clause}." for clause in clauses]
    before, now = _by_piece(old), _by_piece(new)
    gone, added = before.keys() - now.keys(), now.keys() - before.keys()
    if gone:
        rests.append(f": {pieces(gone)} {'was' if len(gone) == 1 else 'were'} taken out.")
    if added:
        rests.append(f": {pieces(added)} {'is' if len(added) == 1 else 'are'} new.")
    both = sorted(before.keys() & now.keys())
    single = _grouped(both, {n: _word_changes(before[n], now[n]) for n in both})
    same_blank = old.get("blank") == new.get("blank")
    same_design = old.get("design") == new.get("design")
    drawn = {
        n: (_measure_changes(before[n], now[n]) if same_blank else [])
        + (layer_changes(before[n], now[n], places=same_blank) if same_design else [])
        for n in both
    }
    single += _grouped(both, drawn)
    if not rests and not single and canonical(old) != canonical(new):
        single.append(": something in its layout changed.")
    if len(single) > _MOST:
        single = [*single[:_MOST], f": and {len(single) - _MOST} more changes."]
    return rests + single


def _by_piece(line: LineDocument) -> dict[int, VariantDocument]:
    return {n: variant for variant in line.get("variants", []) for n in variant["pieces"]}


def _grouped(every: Sequence[int], clauses: Mapping[int, list[str]]) -> list[str]:
    """Like clauses of several pieces said once; no piece is named when all are meant."""
    groups: dict[str, list[int]] = {}
    for n in every:
        for clause in clauses[n]:
            groups.setdefault(clause, []).append(n)
    return [
        f": {clause}." if len(numbers) == len(every) > 1 else f", {pieces(numbers)}: {clause}."
        for clause, numbers in groups.items()
    ]


def _word_changes(old: VariantDocument, new: VariantDocument) -> list[str]:
    before, now = old.get("words", {}), new.get("words", {})
    slots = list(dict.fromkeys([*before, *now]))
    return [
        clause
        for slot in slots
        for clause in was(slot, before.get(slot, ""), now.get(slot, ""), text)
    ]


def _measure_changes(old: VariantDocument, new: VariantDocument) -> list[str]:
    """What the maker's new measures did to panels, zones and margins, mm."""
    before, now = old["geometry"], new["geometry"]
    if before == now:
        return []
    clauses = []
    panels = [p for p in before.get("panels", {}) if p in now.get("panels", {})]
    for panel in panels:
        named = f" of its part “{panel}”" if len(panels) > 1 else ""
        sizes = before["panels"][panel], now["panels"][panel]
        clauses += was(f"the blank's size{named}", *sizes, _by)
    for key, name in _MEASURES.items():
        clauses += was(f"the {name}", before.get(key), now.get(key), mm)
    clauses += was("the end on top", before.get("on_top"), now.get("on_top"), text)
    zones, zones_now = before.get("zones", []), now.get("zones", [])
    if zones != zones_now:
        kinds = [z["kind"] for z in [*zones, *zones_now] if z not in zones or z not in zones_now]
        named = " and ".join(dict.fromkeys(kinds)) or "hidden"
        clauses.append(f"the {named} strip moved or resized")
    return clauses or ["the measures of the blank changed"]


def _by(size: Sequence[float]) -> str:
    return f"{number(size[0])} × {number(size[1])} mm"
