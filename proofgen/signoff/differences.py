"""What differs between two descriptions of an order's artwork, in the language of who reads it."""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from proofgen.model import Shop
from proofgen.model.artwork_document import (
    ArtworkDocument,
    LineDocument,
    VariantDocument,
)
from proofgen.model.blank_names import called_in
from proofgen.say.tongue import Tongue, to_say
from proofgen.signoff.digests import canonical
from proofgen.signoff.layers import Clause, layer_changes, mm, number, text_was, was, way

_MOST = 12  # sentences about single pieces of one line; the rest is counted
_LINE = {
    "design": to_say("The design"),
    "blank": to_say("The blank"),
    "cloth": to_say("The cloth"),
}
_MEASURES = {
    "bleed": to_say("The ink beyond the edge"),
    "safe": to_say("The margin inside the edge"),
    "corner": to_say("The rounding of the corners"),
    "way_round": to_say("The way round the can"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One thing that differs: a whole sentence, and where it is about one text in a place for
    words, that place, and the text as it was and as it is. `pieces` empty: all of the line;
    `line` 0: the whole order."""

    says: str
    line: int = 0
    pieces: tuple[int, ...] = ()
    slot: str = ""
    old: str = ""
    new: str = ""


def in_words(
    document: ArtworkDocument, shop: Shop, tongue: Tongue | None = None
) -> ArtworkDocument:
    """A description with titles and labels where it has ids: for people, not for a fingerprint.
    With a customer's `tongue` blanks are called as customers know them."""
    worded = copy.deepcopy(document)
    for line in worded["lines"]:
        design, blank = shop.designs.get(line["design"]), shop.blanks.get(line["blank"])
        if blank:
            line["blank"] = called_in(blank, tongue) if tongue else blank.name
        if design is None:
            continue
        line["design"] = design.title
        for variant in line["variants"]:
            variant["words"] = {design.label(s): text for s, text in variant["words"].items()}
            for layer in (x for layers in variant["faces"].values() for x in layers):
                if layer.get("slot"):
                    layer["slot"] = design.label(layer["slot"])
    return worded


def changes(then: ArtworkDocument, now: ArtworkDocument, tongue: Tongue) -> list[str]:
    """Sentences about everything that differs; see `differences`."""
    return [one.says for one in differences(then, now, tongue)]


def differences(then: ArtworkDocument, now: ArtworkDocument, tongue: Tongue) -> list[Difference]:
    """Everything that changed between two documents of schema proofgen/artwork/1.

    Empty only when the two are the same.
    """
    found = []
    if then.get("ppi") != now.get("ppi"):
        found += _plain(was(tongue, tongue(_PPI), then.get("ppi"), now.get("ppi"), number))
    before = {line["line"]: line for line in then.get("lines", [])}
    after = {line["line"]: line for line in now.get("lines", [])}
    several = len({*before, *after}) > 1
    for at in sorted({*before, *after}):
        if at not in after:
            taken = tongue(
                "Line {line} was taken out: {what}.", line=at, what=_what(tongue, before[at])
            )
            found.append(Difference(says=taken, line=at))
        elif at not in before:
            new = tongue("Line {line} is new: {what}.", line=at, what=_what(tongue, after[at]))
            found.append(Difference(says=new, line=at))
        else:
            found += _line_changes(before[at], after[at], tongue, several)
    if not found and canonical(then) != canonical(now):
        found.append(Difference(says=tongue("Something in how the artwork is described changed.")))
    return found


_PPI = to_say("The number of pixels per inch")


def _plain(clauses: Sequence[Clause]) -> list[Difference]:
    return [Difference(says=clause.says) for clause in clauses]


def _what(tongue: Tongue, line: LineDocument) -> str:
    return tongue(
        "{n} × {design} on {blank}, {cloth}",
        n=line["quantity"],
        design=line["design"],
        blank=line["blank"],
        cloth=line["cloth"],
    )


def _line_changes(
    old: LineDocument, new: LineDocument, tongue: Tongue, several: bool
) -> list[Difference]:
    found = [
        _placed(clause, (), old["line"], tongue, several) for clause in _whole(old, new, tongue)
    ]
    single = _single(old, new, tongue, several)
    if not found and not single and canonical(old) != canonical(new):
        clause = Clause(tongue("Something in its layout changed."))
        single.append(_placed(clause, (), old["line"], tongue, several))
    more = len(single) - _MOST
    if more > 0:
        rest = Clause(tongue.several("And {n} more change.", "And {n} more changes.", more))
        single = [*single[:_MOST], _placed(rest, (), old["line"], tongue, several)]
    return found + single


def _whole(old: LineDocument, new: LineDocument, tongue: Tongue) -> list[Clause]:
    """What changed for the line as a whole."""
    clauses = []
    for key, name in _LINE.items():
        clauses += text_was(tongue, tongue(name), str(old.get(key)), str(new.get(key)))
    if old["cloth"] == new["cloth"]:
        shades = str(old["cloth_colour"]), str(new["cloth_colour"])
        clauses += text_was(tongue, tongue("The colour of the cloth"), *shades)
    pieces = tongue("The number of pieces")
    clauses += was(tongue, pieces, old["quantity"], new["quantity"], number)
    before, after = _by_piece(old), _by_piece(new)
    gone, added = before.keys() - after.keys(), after.keys() - before.keys()
    if gone:
        clauses.append(Clause(tongue("{pieces}: taken out.", pieces=tongue.pieces(gone))))
    if added:
        clauses.append(Clause(tongue("{pieces}: new.", pieces=tongue.pieces(added))))
    return clauses


def _single(
    old: LineDocument, new: LineDocument, tongue: Tongue, several: bool
) -> list[Difference]:
    """What changed for single pieces, or for all of them alike: words first."""
    before, after = _by_piece(old), _by_piece(new)
    both = sorted(before.keys() & after.keys())
    same_blank = old.get("blank") == new.get("blank")
    same_design = old.get("design") == new.get("design")
    words = {n: _word_changes(before[n], after[n], tongue) for n in both}
    drawn = {
        n: (_measure_changes(before[n], after[n], tongue) if same_blank else [])
        + (layer_changes(before[n], after[n], tongue, places=same_blank) if same_design else [])
        for n in both
    }
    return [
        _placed(clause, numbers if len(numbers) < len(both) else (), old["line"], tongue, several)
        for clauses in (words, drawn)
        for clause, numbers in _grouped(clauses).items()
    ]


def _grouped(clauses: Mapping[int, Sequence[Clause]]) -> dict[Clause, tuple[int, ...]]:
    """Like clauses with the pieces that they hold for."""
    groups: dict[Clause, tuple[int, ...]] = {}
    for piece, some in clauses.items():
        for clause in some:
            groups[clause] = (*groups.get(clause, ()), piece)
    return groups


def _placed(
    clause: Clause, pieces: Sequence[int], line: int, tongue: Tongue, several: bool
) -> Difference:
    """A clause as a sentence that says which pieces it is about, and which line of several."""
    if pieces:
        where = tongue.pieces(pieces)
        if several:
            where = tongue("Line {line}, {pieces}", line=line, pieces=where)
    else:
        where = tongue("Line {line}", line=line) if several else ""
    says = tongue("{where} · {says}", where=where, says=clause.says) if where else clause.says
    return Difference(
        says=says, line=line, pieces=tuple(pieces), slot=clause.slot, old=clause.old, new=clause.new
    )


def _by_piece(line: LineDocument) -> dict[int, VariantDocument]:
    return {n: variant for variant in line.get("variants", []) for n in variant["pieces"]}


def _word_changes(old: VariantDocument, new: VariantDocument, tongue: Tongue) -> list[Clause]:
    before, after = old.get("words", {}), new.get("words", {})
    clauses = []
    for slot in dict.fromkeys([*before, *after]):
        texts = before.get(slot, ""), after.get(slot, "")
        said = text_was(tongue, slot, *texts)
        clauses += [Clause(clause.says, slot, *texts) for clause in said]
    return clauses


def _measure_changes(old: VariantDocument, new: VariantDocument, tongue: Tongue) -> list[Clause]:
    """What the maker's new measures did to panels, zones and margins, mm."""
    before, after = old["geometry"], new["geometry"]
    if before == after:
        return []
    clauses = []
    for panel in (p for p in before.get("panels", {}) if p in after.get("panels", {})):
        sizes = before["panels"][panel], after["panels"][panel]
        clauses += was(tongue, tongue("The size of the blank"), *sizes, _by)
    for key, name in _MEASURES.items():
        clauses += was(tongue, tongue(name), before.get(key), after.get(key), mm)
    ends = before.get("on_top"), after.get("on_top")
    clauses += was(tongue, tongue("The end on top"), *ends, way)
    if before.get("zones", []) != after.get("zones", []):
        moved = tongue("A strip that no eye sees later lies elsewhere or has another size.")
        clauses.append(Clause(moved))
    return clauses or [Clause(tongue("The measures of the blank changed."))]


def _by(tongue: Tongue, size: Sequence[float]) -> str:
    wide, high = (tongue.number(side, 2) for side in size)
    return tongue("{wide} × {high} mm", wide=wide, high=high)
