"""The letter that asks a customer for a better photo."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from proofgen.proof.correspondence import Post
from proofgen.proof.mails import Letter, Part, points, says
from proofgen.say.tongue import Tongue


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedPhoto:
    """A photo to ask for: the file's name as the customer knows it ('' if none came), what is
    wrong with it, its pixels and those it needs at least (0: not known), all upright."""

    name: str
    says: tuple[str, ...]
    width_px: int = 0
    height_px: int = 0
    needs_width_px: int = 0
    needs_height_px: int = 0


def photo_letter(post: Post, photos: Sequence[AskedPhoto], how: str) -> Letter:
    """The letter that asks for better photos; `how` is the shop's own text on sending them."""
    tongue = post.tongue
    parts: list[Part] = []
    for photo in photos:
        parts.append(Part(kind="head", text=photo.name))
        parts.append(points(*photo.says, *_pixels(photo, tongue)))
    advice = Part(kind="house", text=how) if how.strip() else points(
        tongue("The best file is the one your camera or telephone made. From a telephone, send it "
               "as a file or by mail at its original size; pictures passed on in a chat have "
               "usually been made small on the way."),
        tongue("A picture of a screen, or a copy saved from a web page, is nearly always too "
               "small."),
        tongue("Do not crop it; tell us what matters, and we place it. You see the result before "
               "anything is pressed."),
    )  # fmt: skip
    return post.letter(
        tongue("May we have a better photo for your order, {order}?", order=post.order.id),
        says(tongue.several(
            "thank you for your order. Before anything is made we look at how each photo would "
            "come out on the cloth, and with this one we would rather ask you first.",
            "thank you for your order. Before anything is made we look at how each photo would "
            "come out on the cloth, and with these we would rather ask you first.",
            len(photos),
        )),
        *parts,
        Part(kind="head", text=tongue("How to send it:")),
        advice,
        says(tongue("If there is no other, write to us all the same: a small photo can often be "
                    "used smaller.")),
        says(tongue("Nothing is pressed until you have seen the proof and agreed to it.")),
    )  # fmt: skip


def _pixels(photo: AskedPhoto, tongue: Tongue) -> list[str]:
    if not photo.needs_width_px:
        return []
    wide, high = (tongue.number(n, 0) for n in (photo.needs_width_px, photo.needs_height_px))
    if not photo.width_px:
        return [tongue("Please send one that is at least {wide} pixels wide and {high} pixels "
                       "high.", wide=wide, high=high)]  # fmt: skip
    return [
        tongue(
            "Please send one that is at least {wide} pixels wide and {high} pixels high; this one "
            "is {width} × {height}.",
            wide=wide,
            high=high,
            width=tongue.number(photo.width_px, 0),
            height=tongue.number(photo.height_px, 0),
        )
    ]
