"""The letter that asks a customer for a better photo."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from proofgen.geometry import Size
from proofgen.proof.correspondence import Post
from proofgen.proof.mails import Letter, Part, points, says
from proofgen.proof.wishes import ITSELF, SMALLER, WITHOUT_BARS
from proofgen.say.tongue import Tongue

# A picture of which less is seen has lost more than it shows: common practice, no source.
_MOST_SEEN = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedPhoto:
    """A photo to ask for: the file's name as the customer knows it ('' if none came), what is wrong
    with it, the wishes (still to be said in the customer's language), and where its size is asked
    for: its size on the finished piece (mm), the pixels it needs, may have and has (width and
    height, upright; None: not known or not asked), and the bytes it may have where it has more.
    `wider` is how many times as wide for its height as its place the picture is (1: the same, less:
    taller), so that its part beyond that is cut away.
    `smaller_helps`: it lacks nothing but pixels, and its piece could show it smaller."""

    name: str
    says: tuple[str, ...]
    on_piece: Size
    wishes: tuple[str, ...] = ()
    came: bool = True  # some file, whatever is wrong with it
    opened: bool = True
    least_px: tuple[int, int] | None = None
    most_px: tuple[int, int] | None = None
    has_px: tuple[int, int] | None = None
    most_bytes: int | None = None
    wider: float = 1.0
    smaller_helps: bool = False


def photo_letter(post: Post, photos: Sequence[AskedPhoto], how: str) -> Letter:
    """The letter that asks for better photos; `how` is the shop's own text on sending them."""
    tongue = post.tongue
    parts: list[Part] = []
    for photo in photos:
        wishes = (tongue(wish) for wish in photo.wishes if wish != SMALLER)
        parts.append(Part(kind="head", text=photo.name))
        parts.append(points(*photo.says, *wishes, *_sizes(photo, tongue), *_shape(photo, tongue)))
    subject, begins = _beginning(post, photos)
    advice = Part(kind="house", text=how) if how.strip() else points(*_how(photos, tongue))
    return post.letter(
        subject,
        says(begins),
        *parts,
        Part(kind="head", text=tongue("How to send it:")),
        advice,
        *(says(text) for text in _else(photos, tongue)),
        says(tongue("Nothing is pressed until you have seen the proof and agreed to it.")),
    )


def _beginning(post: Post, photos: Sequence[AskedPhoto]) -> tuple[str, str]:
    """What the letter is called, and what it says first."""
    tongue, order, many = post.tongue, post.order.id, len(photos)
    if not any(photo.came for photo in photos):
        return tongue("A photo is still missing for your order, {order}", order=order), (
            tongue.several(
                "thank you for your order. Before we can begin, we need this photo from you.",
                "thank you for your order. Before we can begin, we need these photos from you.",
                many,
            )
        )
    if not any(photo.opened for photo in photos):
        return tongue("May we have your photo once more for your order, {order}?", order=order), (
            tongue.several(
                "thank you for your order. We cannot use the file of your photo as it came.",
                "thank you for your order. We cannot use the files of your photos as they came.",
                many,
            )
        )
    return tongue("May we have a better photo for your order, {order}?", order=order), (
        tongue.several(
            "thank you for your order. Before anything is made we look at how each photo would "
            "come out on the cloth, and with this one we would rather ask you first.",
            "thank you for your order. Before anything is made we look at how each photo would "
            "come out on the cloth, and with these we would rather ask you first.",
            many,
        )
    )


def _how(photos: Sequence[AskedPhoto], tongue: Tongue) -> Iterator[str]:
    """Advice that holds for all of these photos."""
    wishes = {wish for photo in photos for wish in photo.wishes}
    if SMALLER not in wishes:
        yield tongue("From a telephone, share it by mail at its original size, or as a file.")
    if WITHOUT_BARS not in wishes:
        yield tongue("Do not crop it; tell us what matters, and we place it.")
    else:
        yield tongue("Tell us what matters in it, and we place it.")


def _else(photos: Sequence[AskedPhoto], tongue: Tongue) -> Iterator[str]:
    """What can be done where there is no better photo."""
    if all(photo.smaller_helps for photo in photos):
        yield tongue(
            "If there is no other, write to us all the same: a small photo can often be used "
            "smaller."
        )
    elif any(photo.opened for photo in photos):
        yield tongue(
            "If there is no better one, write to us all the same, and we see together what can be "
            "done."
        )


def _shape(photo: AskedPhoto, tongue: Tongue) -> Iterator[str]:
    """What the picture's shape has to do with it: a strip has plenty of pixels one way only."""
    has, least = photo.has_px, photo.least_px
    if has and least and has[0] >= least[0] and has[1] < least[1]:
        yield tongue("It is wide enough for that, but not high enough.")
    elif has and least and has[0] < least[0] and has[1] >= least[1]:
        yield tongue("It is high enough for that, but not wide enough.")
    seen = min(photo.wider, 1 / photo.wider)
    if seen >= _MOST_SEEN or ITSELF in photo.wishes or WITHOUT_BARS in photo.wishes:
        return
    share = tongue.number(max(5 * round(seen * 20), 5), 0)
    if photo.wider > 1:
        yield tongue(
            "Of this picture only about {share} % would be seen, because it is much wider than its "
            "place on the piece. If it was cut out of a larger one, please send us that.",
            share=share,
        )
    else:
        yield tongue(
            "Of this picture only about {share} % would be seen, because it is much taller than "
            "its place on the piece. If it was cut out of a larger one, please send us that.",
            share=share,
        )


def _sizes(photo: AskedPhoto, tongue: Tongue) -> Iterator[str]:
    """How large it will be, and the pixels to send for that."""

    def said(wide: float, high: float, places: int = 0) -> str:
        return f"{tongue.number(wide, places)} × {tongue.number(high, places)}"

    if photo.most_px and photo.has_px:
        yield tongue(
            "Please send a smaller copy, of at most {most} pixels (the dots a picture is made of); "
            "this one has {has}.",
            most=said(*photo.most_px),
            has=said(*photo.has_px),
        )
    elif photo.most_bytes:
        yield tongue(
            "Please send it as a JPEG file of at most {most} MB.",
            most=tongue.number(photo.most_bytes / 1e6, 0),
        )
    elif SMALLER in photo.wishes:
        yield tongue(SMALLER)
    elif photo.least_px and photo.has_px:
        yield tongue(
            "On the finished piece it is {size} cm. For that it needs at least {least} pixels (the "
            "dots a picture is made of); this one has {has}.",
            size=said(photo.on_piece.width / 10, photo.on_piece.height / 10, 1),
            least=said(*photo.least_px),
            has=said(*photo.has_px),
        )
    elif photo.least_px:
        yield tongue(
            "On the finished piece it will be {size} cm. For that it needs at least {least} pixels "
            "(the dots a picture is made of).",
            size=said(photo.on_piece.width / 10, photo.on_piece.height / 10, 1),
            least=said(*photo.least_px),
        )
