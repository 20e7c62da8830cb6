"""Photos that cannot be used: why, and what to do."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from proofgen.errors import READ_CURE, ProofgenError
from proofgen.model.photo import FORMAT_NAMES, PhotoFacts, PhotoFormat, PhotoProblem
from proofgen.photo.exchange import Refusal
from proofgen.photo.kinds import Kind
from proofgen.say import capital, quoted_file

_SEND_AGAIN = (
    "Ask for the photo again, sent as a file or by a link; chats and broken transfers cut photos"
)
_ALWAYS = 60_000_000  # pixels that are opened in every kind, printing inks in several scans too
_SAVED_ANEW = "Ask for the photo itself; or open it in a picture program, and save it anew as PNG"
_USUAL = "Ask for the photo itself, as JPEG, PNG or HEIC"
_SHARES = (
    (0.17, "the last part of it is missing"),
    (0.29, "about a quarter of it is missing"),
    (0.42, "about a third of it is missing"),
    (0.58, "about half of it is missing"),
    (0.71, "about two thirds of it are missing"),
    (1.0, "most of it is missing"),
)


@dataclass(frozen=True, slots=True)
class Trouble:
    """Why a photo cannot be used: a code, plain words, and what to do."""

    code: PhotoProblem
    problem: str
    cure: str


def not_opened(path: Path, kind: Kind) -> Trouble:
    name, cure = quoted_file(path), kind.cure or _USUAL
    if kind.picture:
        return Trouble("unsupported", f"{name} is {kind.words}, which is not opened here", cure)
    start = "it is" if kind.words.startswith("no kind") else "it begins like"
    return Trouble("not-a-picture", f"{name} is not a picture: {start} {kind.words}", cure)


def no_file(path: Path) -> Trouble:
    return Trouble(
        "not-a-picture",
        f"{quoted_file(path)} is not a file but a folder or a device",
        "Name the photo’s file itself",
    )


def missing(path: Path) -> Trouble:
    return Trouble(
        "missing",
        f"there is no file {quoted_file(path)}",
        "Put the photo there, or correct its name in the order",
    )


def unreadable(path: Path, error: Exception) -> Trouble:
    reason = getattr(error, "strerror", None) or "its name cannot be used"
    return Trouble(
        "unreadable",
        f"{quoted_file(path)} cannot be read ({reason.lower()})",
        capital(READ_CURE),
    )


def empty(path: Path) -> Trouble:
    return Trouble("empty", f"{quoted_file(path)} is empty", _SEND_AGAIN)


def too_many_bytes(path: Path, size: int, most: int) -> Trouble:
    return Trouble(
        "too-big",
        f"{quoted_file(path)} has {size / 1e6:,.0f} MB; more than {most / 1e6:,.0f} MB is not "
        "opened",
        f"Ask for it as a JPEG of at most {most / 1e6:,.0f} MB",
    )


def changed(path: Path) -> ProofgenError:
    return ProofgenError(
        f"{quoted_file(path)} has changed since it was looked at",
        "Run the same again, so that the new photo is checked first",
    )


def largest(width: int, height: int) -> tuple[int, int]:
    """The largest size of these proportions that is always opened, in whole hundreds of px."""
    factor = math.sqrt(_ALWAYS / (width * height))
    factor = min(factor, 20_000 / max(width, height), 1.0)
    sides = [max(1, int(side * factor)) for side in (width, height)]
    return sides[0] - sides[0] % 100 or sides[0], sides[1] - sides[1] % 100 or sides[1]


def refused(facts: PhotoFacts, format: PhotoFormat, why: Refusal, share: float) -> Trouble:
    """For bytes that were refused on the way to their pixels, of which `share` is missing."""
    name, kind = quoted_file(facts.file), FORMAT_NAMES[format]
    a_kind = f"{'an' if kind == 'AVIF' else 'a'} {kind}"
    if why in ("size", "memory"):
        return _too_large(name, facts)
    if why == "library":
        return Trouble(
            "unsupported",
            f"{name} is {a_kind} picture, and the part that opens these is not installed",
            "Type: python -m pip install pillow-heif; or ask for the photo as JPEG",
        )
    if why == "kind":
        problem = f"{name} holds a kind of {kind} picture that is not opened here"
        return Trouble("unsupported", problem, _USUAL)
    if why == "parts":
        problem = f"{name} is made of many more parts than any camera makes"
        return Trouble("unsupported", problem, _SAVED_ANEW)
    if why == "slow":
        problem = f"{name} takes too long to open and was given up"
        return Trouble("slow", problem, _USUAL)
    if why == "crashed":
        problem = f"{name} is damaged: the picture reader broke off over it"
    elif why == "header":
        problem = f"{name} begins like {a_kind} picture, but cannot be read any further"
    elif share:
        part = next(text for most, text in _SHARES if share <= most)
        problem = f"{name} ends too early: {part}"
    elif why == "ends":
        problem = f"{name} ends too early: its last bytes are missing"
    else:
        problem = f"{name} is damaged: not all of its pixels can be read"
    return Trouble("damaged", problem, _SEND_AGAIN)


def _too_large(name: str, facts: PhotoFacts) -> Trouble:
    width, height = facts.width_px, facts.height_px
    if not width:
        problem = f"{name} has more pixels than this machine should open"
        return Trouble("too-big", problem, _USUAL)
    w, h = largest(width, height)
    return Trouble(
        "too-big",
        f"{name} is {width:,} × {height:,} pixels; more than this machine should open",
        f"Ask for a copy of at most {w:,} × {h:,} pixels",
    )
