"""What differs between the layers of two pieces: photos, art, patterns, words, plain colours."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen.say import quoted
from proofgen.signoff.documents import LayerDocument, VariantDocument
from proofgen.signoff.editions import MOST_QUOTED

_NAMES = {"colour": "plain colour", "pattern": "pattern", "art": "art", "photo": "photo"}


def layer_changes(old: VariantDocument, new: VariantDocument, *, places: bool) -> list[str]:
    """Clauses such as 'the photo is another file'. `places` False: the blank is another one, so
    where things lie is not worth telling."""
    clauses: list[str] = []
    faces = list(dict.fromkeys([*old.get("faces", {}), *new.get("faces", {})]))
    for face in faces:
        before, now = old["faces"].get(face, []), new["faces"].get(face, [])
        on = f" on the face “{face}”" if len(faces) > 1 else ""
        kinds = [[_key(layer) for layer in layers] for layers in (before, now)]
        if kinds[0] != kinds[1]:
            clauses += _layers_moved(kinds[0], kinds[1], on)
            continue
        for a, b in zip(before, now, strict=True):
            clauses += [clause + on for clause in _one(a, b, places)]
    if not clauses and old.get("drawn") != new.get("drawn"):
        clauses.append("the order in which its faces are drawn changed")
    return clauses


def _key(layer: LayerDocument) -> tuple[str, str]:
    return layer["kind"], layer.get("slot") or ""


def _layers_moved(
    old: Sequence[tuple[str, str]], new: Sequence[tuple[str, str]], on: str
) -> list[str]:
    gone = [k for k in old if old.count(k) > new.count(k)]
    added = [k for k in new if new.count(k) > old.count(k)]
    clauses = [f"{_name(*k)} {_verb(k, 'was', 'were')} taken out{on}" for k in dict.fromkeys(gone)]
    clauses += [f"{_name(*k)} {_verb(k, 'is', 'are')} new{on}" for k in dict.fromkeys(added)]
    return clauses or [f"what lies over what changed{on}"]


def _name(kind: str, slot: str) -> str:
    if kind == "words":
        return f"the words “{slot}”" if slot else "the words of the design"
    name = f"the {_NAMES.get(kind, kind)}"
    return f"{name} “{slot}”" if slot and slot != kind else name


def _verb(key: tuple[str, str], one: str, several: str) -> str:
    return several if key[0] == "words" else one


def _one(old: LayerDocument, new: LayerDocument, places: bool) -> list[str]:
    """Clauses about one layer, the most telling ones only."""
    if old == new:
        return []
    name = _name(*_key(old))
    clauses = _words(old, new, name) if old["kind"] == "words" else _picture(old, new, name)
    colours = (old.get("colour"), new.get("colour"))
    if colours[0] != colours[1]:
        what = name if old["kind"] == "colour" else f"the colour of {name}"
        clauses.append(f"{what} was {colours[0]}, is now {colours[1]}")
    lies = _verb(_key(old), "lies", "lie")
    if places and (old.get("rect"), old.get("fill")) != (new.get("rect"), new.get("fill")):
        has = _verb(_key(old), "has", "have")
        clauses.append(f"{name} {lies} elsewhere or {has} another size")
    if clauses or not places or old.get("text") != new.get("text"):
        return clauses  # new words of a slot are told with their piece
    return [f"{name} {lies} a little differently"]


def _picture(old: LayerDocument, new: LayerDocument, name: str) -> list[str]:
    clauses = []
    a, b = old.get("picture"), new.get("picture")
    if a != b:
        clauses.append(
            f"{name} is new" if not a else f"{name} is missing" if not b else
            f"{name} is another picture"
        )  # fmt: skip
    elif [old.get(k) for k in ("crop", "focus")] != [new.get(k) for k in ("crop", "focus")]:
        clauses.append(f"{name} is cut differently")
    lays = [layer.get("lay", "straight") for layer in (old, new)]
    if lays[0] != lays[1]:
        clauses.append(f"{name} was laid {lays[0]}, is now laid {lays[1]}")
    for key, what in (("zoom", "zoom"), ("repeat", "repeat")):
        if old.get(key) != new.get(key):
            unit = " mm" if key == "repeat" else ""
            clauses.append(
                f"the {what} of {name} was {old.get(key):g}{unit}, is now {new.get(key):g}{unit}"
            )
    return clauses


def _words(old: LayerDocument, new: LayerDocument, name: str) -> list[str]:
    clauses = []
    same_text = old.get("text") == new.get("text")
    if not same_text and not old.get("slot"):
        clauses.append(
            f"{name} were {quoted(str(old.get('text')), MOST_QUOTED)}, "
            f"are now {quoted(str(new.get('text')), MOST_QUOTED)}"
        )
    if old.get("font") != new.get("font"):
        clauses.append(f"the font of {name} was {old.get('font')}, is now {new.get('font')}")
    elif old.get("font_file") != new.get("font_file"):
        clauses.append(f"the font of {name} is another version of {old.get('font')}")
    if same_text and old.get("size") != new.get("size"):
        clauses.append(
            f"the letters of {name} were set {old.get('size'):g} mm high, "
            f"are now {new.get('size'):g} mm"
        )
    if old.get("align") != new.get("align"):
        clauses.append(f"{name} were set {old.get('align')}, are now set {new.get('align')}")
    return clauses
