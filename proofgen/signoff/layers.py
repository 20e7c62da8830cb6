"""What differs between the layers of two pieces: photos, art, patterns, words, plain colours."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from proofgen.model.artwork_document import LayerDocument, VariantDocument
from proofgen.say import quoted
from proofgen.signoff.editions import MOST_QUOTED

T = TypeVar("T")
_NAMES = {"colour": "plain colour", "pattern": "pattern", "art": "art", "photo": "photo"}


def number(value: object) -> str:
    """A measure without needless noughts; 'none' for none."""
    return f"{value:g}" if isinstance(value, int | float) else "none"


def mm(value: object) -> str:
    return f"{number(value)} mm"


def text(value: object) -> str:
    """A text in quotation marks; an empty one is said as such."""
    return quoted(str(value), MOST_QUOTED) if value not in (None, "") else "empty"


def was(what: str, old: T, new: T, how: Callable[[T], str] = str, be: str = "was is") -> list[str]:
    """'the bleed was 6 mm, is now 5 mm'; nothing where nothing changed."""
    before, now = be.split()
    return [] if old == new else [f"{what} {before} {how(old)}, {now} now {how(new)}"]


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
    what = name if old["kind"] == "colour" else f"the colour of {name}"
    clauses += was(what, old.get("colour"), new.get("colour"))
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
    clauses += was(name, old.get("lay", "straight"), new.get("lay", "straight"), "laid {}".format)
    clauses += was(f"the zoom of {name}", old.get("zoom"), new.get("zoom"), number)
    clauses += was(f"the repeat of {name}", old.get("repeat"), new.get("repeat"), mm)
    return clauses


def _words(old: LayerDocument, new: LayerDocument, name: str) -> list[str]:
    clauses = []
    same_text = old.get("text") == new.get("text")
    if not old.get("slot"):
        clauses += was(name, old.get("text"), new.get("text"), text, "were are")
    clauses += was(f"the font of {name}", old.get("font"), new.get("font"))
    if old.get("font") == new.get("font") and old.get("font_file") != new.get("font_file"):
        clauses.append(f"the font of {name} is another version of {old.get('font')}")
    if same_text and old.get("size") != new.get("size"):
        sizes = mm(old.get("size")), mm(new.get("size"))
        clauses.append(f"the letters of {name} were set {sizes[0]} high, are now {sizes[1]}")
    clauses += was(name, old.get("align"), new.get("align"), "set {}".format, "were are")
    return clauses
