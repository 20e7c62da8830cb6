"""What the small process told, held to its form before anything is made of it.

It works on strangers' bytes, so that its words are theirs as soon as one of them takes it over.
"""

from __future__ import annotations

import math
from types import NoneType, UnionType
from typing import Any, Literal, get_args, get_origin, get_type_hints, is_typeddict

from proofgen.model import photo
from proofgen.photo.exchange import Content, RefusedError

_OF_PIXELS = {"profile_fault", "ink_doubts", "clear", "clipped"}
_ANY_SIDE = 1 << 32  # px: what a header can say before it is refused
_LETTERS, _MANY = 200, 1_000  # of a text, of a list


def sound(content: Any, *, decoded: bool) -> Content:
    """The same. Errors: RefusedError 'crashed' for what is none."""
    if not _fits(content, Content):
        raise RefusedError("crashed")
    told: Content = content
    if "refused" in told:
        whole = 0 <= told.get("share", -1) <= 1
    else:
        whole = "header" in told and (not decoded or told.keys() >= _OF_PIXELS)
    if "header" in told:
        sides = told["header"]["width"], told["header"]["height"]
        whole = whole and all(0 <= side < _ANY_SIDE for side in sides)
    if not whole:
        raise RefusedError("crashed")
    return told


def _fits(value: Any, form: Any) -> bool:
    kind, inside = get_origin(form), get_args(form)
    if is_typeddict(form):
        fields = get_type_hints(form, localns=vars(photo))
        return (
            isinstance(value, dict)
            and form.__required_keys__ <= value.keys() <= fields.keys()
            and all(_fits(each, fields[name]) for name, each in value.items())
        )
    if kind is Literal:
        return isinstance(value, str) and value in inside
    if kind is UnionType:
        return any(_fits(value, each) for each in inside)
    if kind is list:
        return _few(value, list) and all(_fits(each, inside[0]) for each in value)
    if kind is dict:
        pairs = value.items() if _few(value, dict) else [(None, None)]
        return all(_fits(name, inside[0]) and _fits(each, inside[1]) for name, each in pairs)
    if form is float:
        return type(value) in (int, float) and math.isfinite(value)
    if form is str:
        return isinstance(value, str) and len(value) <= _LETTERS
    return type(value) is form if form is not NoneType else value is None


def _few(value: Any, kind: type[list[Any]] | type[dict[Any, Any]]) -> bool:
    return isinstance(value, kind) and len(value) <= _MANY
