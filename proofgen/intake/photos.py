"""Photos that hang on a mail: opened by the confined process alone, named by us, and compared with
the one that was tried on the page."""

from __future__ import annotations

import secrets
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from proofgen import store
from proofgen.model import PhotoFacts, PhotoUse
from proofgen.model.photo import FORMAT_ENDINGS
from proofgen.photo.kinds import kind_of
from proofgen.say import file_name, quoted
from proofgen.say.tongue import Tongue
from proofgen.signoff.mail import Attached
from proofgen.signoff.order_slip import Tried
from proofgen.workshop import Workshop

_MOST = 20  # of one mail
_SHAPE = 0.01  # of width to height; a rounded pixel is less, another crop is more


@dataclass(frozen=True, slots=True)
class Came:
    """A photo that can be used, as it was looked at."""

    name: str  # the sender's
    facts: PhotoFacts


@contextmanager
def looked_at(
    workshop: Workshop, attached: Sequence[Attached], told: list[str]
) -> Iterator[list[Came]]:
    """The usable photos of a mail, in files that are gone afterwards. What is no usable photo is
    told."""
    side = workshop.workroom / f"{store.TEMPORARY}arrived-{secrets.token_hex(6)}"
    came: list[Came] = []
    try:
        for number, one in enumerate(attached[:_MOST], 1):
            kind = kind_of(one.content)
            name = quoted(one.name or "a file without a name", ending=15)
            if kind.format is None:
                what = kind.words or "no photo"
                told.append(f"{name} is {what} and was not taken")
                continue
            named, fitting = Path(one.name.replace("\\", "/")), FORMAT_ENDINGS[kind.format]
            ending = named.suffix.lower() if named.suffix.lower() in fitting else fitting[0]
            path = side / f"{number}" / f"{file_name(named.stem, 'photo')}{ending}"
            store.write(path, one.content)
            facts = workshop.materials.pictures.inspect(path)
            if facts.usable:
                came.append(Came(one.name, facts))
            else:
                told.append(f"{name} was not taken: {facts.problem}")
        if len(attached) > _MOST:
            told.append(f"{len(attached) - _MOST} more files hang on the mail and were not taken")
        yield came
    finally:
        if side.is_dir():
            store.remove_folder(side)


def use_of(came: Came, tried: Tried | None, told: list[str]) -> tuple[PhotoUse, bool]:
    """How the order uses a photo: with the crop that was dragged where it is the photo that was
    tried, or a copy of it. True where the original should be asked for."""
    facts = came.facts
    if tried is None:
        return PhotoUse(file=facts.file), False
    now, then = (facts.width_px, facts.height_px), (tried["width"], tried["height"])
    if abs(now[0] * then[1] / (now[1] * then[0]) - 1) > _SHAPE:
        told.append(
            f"the photo tried was {_size(then)}, this one is {_size(now)}: another shape, so it is "
            "another photo or a part of it, and the crop that was tried is not used"
        )
        return PhotoUse(file=facts.file), False
    x, y = tried["focus"]
    use = PhotoUse(file=facts.file, focus=(x, y), zoom=float(tried["zoom"]), turn=tried["turn"])
    if now[0] < then[0]:
        told.append(
            f"the photo tried was {_size(then)}, this one is {_size(now)}: ask for the original"
        )
        return use, True
    return use, False


def _size(size: tuple[int, int]) -> str:
    tongue = Tongue()
    return f"{tongue.number(size[0], 0)} × {tongue.number(size[1], 0)}"


def for_slots(
    came: Sequence[Came], slots: Sequence[str], tried: Mapping[str, Tried]
) -> dict[str, Came]:
    """Which photo is meant for which slot, where there is no doubt."""
    rest, meant = list(came), dict[str, Came]()
    for slot in slots:
        like = tried.get(slot)
        same = [c for c in rest if like and _is_it(c, like)]
        if len(same) == 1:
            meant[slot] = same[0]
            rest.remove(same[0])
    left = [slot for slot in slots if slot not in meant]
    if len(left) == len(rest) == 1:
        meant[left[0]] = rest[0]
    return meant


def _is_it(came: Came, tried: Tried) -> bool:
    size = (came.facts.width_px, came.facts.height_px)
    return came.name == tried["name"] or size == (tried["width"], tried["height"])
