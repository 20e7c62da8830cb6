"""What differs between the layers of two pieces: photos, art, patterns, words, plain colours."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple, TypeVar

from proofgen.model.artwork_document import LayerDocument, VariantDocument
from proofgen.say import capital
from proofgen.say.tongue import Tongue, to_say
from proofgen.signoff.editions import MOST_QUOTED
from proofgen.signoff.unseen import told_apart

T = TypeVar("T")
_NAMES = {
    "colour": to_say("Plain colour"),
    "pattern": to_say("Pattern"),
    "art": to_say("Drawing"),
    "photo": to_say("Photo"),
    "words": to_say("Text of the design"),
}
_FACES = {
    "front": to_say("front"),
    "back": to_say("back"),
    "round": to_say("all the way round"),
}
# Ways to lay a pattern, and to set words.
_WAYS = {
    "straight": to_say("straight"),
    "mirrored": to_say("mirrored"),
    "half-drop": to_say("half-drop"),
    "brick": to_say("brick"),
    "left": to_say("left"),
    "centre": to_say("centred"),
    "right": to_say("right"),
    "neither": to_say("neither"),
}


class Clause(NamedTuple):
    """A whole sentence without its pieces; where it is about a text, its place and both texts."""

    says: str
    slot: str = ""
    old: str = ""
    new: str = ""


def number(tongue: Tongue, value: object) -> str:
    """A measure as the language writes it; a dash for none."""
    return tongue.number(value, 4) if isinstance(value, int | float) else "—"


def mm(tongue: Tongue, value: object) -> str:
    return tongue.mm(value, 4) if isinstance(value, int | float) else "—"


def way(tongue: Tongue, value: object) -> str:
    known = _WAYS.get(str(value))
    return tongue(known) if known else str(value)


def was(tongue: Tongue, what: str, old: T, new: T, how: Callable[[Tongue, T], str]) -> list[Clause]:
    """'The zoom was 1.2, is now 1.5.'; nothing where nothing changed. `what` is in the tongue."""
    if old == new:
        return []
    return [_was(tongue, capital(what), how(tongue, old), how(tongue, new))]


def text_was(tongue: Tongue, what: str, old: str, new: str) -> list[Clause]:
    """The same for a text, in quotation marks; what cannot be seen is written out."""
    what = capital(what)
    before, now = told_apart(tongue, old, new, MOST_QUOTED)
    if old == new:
        return []
    if not new:
        return [Clause(tongue("{what} was {old}, is empty now.", what=what, old=before))]
    if not old:
        return [Clause(tongue("{what} was empty, is now {new}.", what=what, new=now))]
    return [_was(tongue, what, before, now)]


def _was(tongue: Tongue, what: str, old: str, new: str) -> Clause:
    return Clause(tongue("{what} was {old}, is now {new}.", what=what, old=old, new=new))


def layer_changes(
    old: VariantDocument, new: VariantDocument, tongue: Tongue, *, places: bool
) -> list[Clause]:
    """Sentences such as 'Photo: another picture.' `places` False: the blank is another one, so
    where things lie is not worth telling."""
    clauses: list[Clause] = []
    faces = list(dict.fromkeys([*old.get("faces", {}), *new.get("faces", {})]))
    for face in faces:
        before, now = old["faces"].get(face, []), new["faces"].get(face, [])
        on = tongue(_FACES.get(face, face)) if len(faces) > 1 else ""
        if [_key(layer) for layer in before] != [_key(layer) for layer in now]:
            clauses += _moved(tongue, before, now, on)
            continue
        for a, b in zip(before, now, strict=True):
            clauses += _one(tongue, a, b, on, places)
    if not clauses and old.get("drawn") != new.get("drawn"):
        clauses.append(Clause(tongue("The order in which its faces are drawn changed.")))
    return clauses


def _key(layer: LayerDocument) -> tuple[str, str]:
    return layer["kind"], layer.get("slot") or ""


def _moved(
    tongue: Tongue, before: Sequence[LayerDocument], now: Sequence[LayerDocument], on: str
) -> list[Clause]:
    """Layers that are gone or new, or lie in another order."""
    old, new = [_key(x) for x in before], [_key(x) for x in now]
    gone = [k for k in dict.fromkeys(old) if old.count(k) > new.count(k)]
    added = [k for k in dict.fromkeys(new) if new.count(k) > old.count(k)]
    says = [tongue("{what}: taken out.", what=_name(tongue, *k, on)) for k in gone]
    says += [tongue("{what}: new.", what=_name(tongue, *k, on)) for k in added]
    return [Clause(one) for one in says or [tongue("What lies over what changed.")]]


def _name(tongue: Tongue, kind: str, slot: str, on: str) -> str:
    """A layer as a label: what its place is called, or what it is; and its face of several."""
    name = capital(slot) if slot else tongue(_NAMES.get(kind, kind))
    return tongue("{what} ({face})", what=name, face=on) if on else name


def _one(
    tongue: Tongue, old: LayerDocument, new: LayerDocument, on: str, places: bool
) -> list[Clause]:
    """Sentences about one layer, the most telling ones only."""
    if old == new:
        return []
    name = _name(tongue, *_key(old), on)
    tell = _words if old["kind"] == "words" else _picture
    clauses = tell(tongue, old, new, name)
    colour = name if old["kind"] == "colour" else tongue("{what}: the colour", what=name)
    clauses += was(tongue, colour, old.get("colour"), new.get("colour"), _as_it_is)
    if places and (old.get("rect"), old.get("fill")) != (new.get("rect"), new.get("fill")):
        clauses.append(Clause(tongue("{what}: another place or size.", what=name)))
    if clauses or not places or old.get("text") != new.get("text"):
        return clauses  # new words of a slot are told with their piece
    return [Clause(tongue("{what}: set a little differently.", what=name))]


def _as_it_is(_: Tongue, value: object) -> str:
    return str(value)


def _picture(tongue: Tongue, old: LayerDocument, new: LayerDocument, name: str) -> list[Clause]:
    clauses = []
    a, b = old.get("picture"), new.get("picture")
    if a != b:
        says = to_say("{what}: another picture than before.")
        if not a or not b:
            says = to_say("{what}: missing.") if a else to_say("{what}: new.")
        clauses.append(Clause(tongue(says, what=name)))
    elif old.get("turn") != new.get("turn"):
        clauses.append(Clause(tongue("{what}: turned another way.", what=name)))
    elif [old.get(k) for k in ("crop", "focus")] != [new.get(k) for k in ("crop", "focus")]:
        clauses.append(Clause(tongue("{what}: cut differently.", what=name)))
    lay = tongue("{what}: the way it is laid", what=name)
    clauses += was(tongue, lay, old.get("lay", "straight"), new.get("lay", "straight"), way)
    zoom = tongue("{what}: the zoom", what=name)
    clauses += was(tongue, zoom, old.get("zoom"), new.get("zoom"), number)
    repeat = tongue("{what}: the repeat", what=name)
    return clauses + was(tongue, repeat, old.get("repeat"), new.get("repeat"), mm)


def _words(tongue: Tongue, old: LayerDocument, new: LayerDocument, name: str) -> list[Clause]:
    clauses = []
    if not old.get("slot"):
        clauses += text_was(tongue, name, old.get("text", ""), new.get("text", ""))
    font = tongue("{what}: the font", what=name)
    clauses += was(tongue, font, old.get("font"), new.get("font"), _as_it_is)
    if old.get("font") == new.get("font") and old.get("font_file") != new.get("font_file"):
        other = tongue(
            "{what}: another version of the font {font}.", what=name, font=old.get("font")
        )
        clauses.append(Clause(other))
    if old.get("text") == new.get("text"):
        size = tongue("{what}: the size of its letters", what=name)
        clauses += was(tongue, size, old.get("size"), new.get("size"), mm)
    align = tongue("{what}: the side it is set to", what=name)
    return clauses + was(tongue, align, old.get("align"), new.get("align"), way)
