"""What is said about photos: troubles with their cures, and remarks, in plain words."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

from proofgen.model.photo import PhotoFacts
from proofgen.photo.kinds import Kind

_SEND_AGAIN = (
    "Ask for the photo again, sent as a file or by a link; chats and broken transfers cut photos"
)
_ALWAYS = 60_000_000  # pixels that are opened in every kind, printing inks in several scans too
_USUAL = "Ask for the photo itself, as JPEG, PNG or HEIC"
_NAMES = {
    "JPEG": (".jpg", ".jpeg", ".jpe", ".jfif"),
    "PNG": (".png",),
    "WEBP": (".webp",),
    "TIFF": (".tif", ".tiff"),
    "HEIF": (".heic", ".heif", ".hif"),
    "AVIF": (".avif", ".avifs"),
    "GIF": (".gif",),
    "MPO": (".mpo", ".jpg", ".jpeg"),
}
_PLAIN = {"WEBP": "WebP", "HEIF": "HEIC"}
_SHARES = (
    (0.17, "the last part of it is missing"),
    (0.29, "about a quarter of it is missing"),
    (0.42, "about a third of it is missing"),
    (0.58, "about half of it is missing"),
    (0.71, "about two thirds of it are missing"),
    (1.0, "most of it is missing"),
)

Said = tuple[str, str]  # problem and cure


def shown(path: Path) -> str:
    """A file's name for a sentence: in quotes, invisible characters replaced, not too long."""
    name = "".join(c if c.isprintable() else "?" for c in path.name)
    return f"“{name if len(name) <= 60 else name[:40] + '…' + name[-15:]}”"


def not_opened(path: Path, kind: Kind) -> Said:
    if kind.picture:
        return f"{shown(path)} is {kind.words}, which is not opened here", kind.cure or _USUAL
    start = "it is" if kind.words.startswith("no kind") else "it begins like"
    return f"{shown(path)} is not a picture: {start} {kind.words}", kind.cure or _USUAL


def no_file(path: Path) -> Said:
    return f"{shown(path)} is not a file but a folder or a device", "Name the photo’s file itself"


def missing(path: Path) -> Said:
    return (
        f"there is no file {shown(path)}",
        "Put the photo there, or correct its name in the order",
    )


def unreadable(path: Path, error: Exception) -> Said:
    reason = getattr(error, "strerror", None) or "its name cannot be used"
    return (
        f"{shown(path)} cannot be read ({reason.lower()})",
        "Check the file’s permissions, or copy it anew",
    )


def empty(path: Path) -> Said:
    return f"{shown(path)} is empty", _SEND_AGAIN


def too_many_bytes(path: Path, size: int, most: int) -> Said:
    return (
        f"{shown(path)} has {size / 1e6:,.0f} MB; more than {most / 1e6:,.0f} MB is not opened",
        f"Ask for it as a JPEG of at most {most / 1e6:,.0f} MB",
    )


def changed(path: Path) -> Said:
    return (
        f"{shown(path)} has changed since it was looked at",
        "Run the same again, so that the new photo is checked first",
    )


def _largest(width: int, height: int) -> tuple[int, int]:
    """The largest size of these proportions that is always opened, in whole hundreds of px."""
    factor = math.sqrt(_ALWAYS / (width * height))
    factor = min(factor, 20_000 / max(width, height), 1.0)
    sides = [max(1, int(side * factor)) for side in (width, height)]
    return sides[0] - sides[0] % 100 or sides[0], sides[1] - sides[1] % 100 or sides[1]


def refused(facts: PhotoFacts, format: str, code: str, why: str, share: float) -> Said:
    """Problem and cure for bytes that were refused on the way to their pixels."""
    name = shown(facts.file)
    kind = _PLAIN.get(format, format)
    a_kind = f"{'an' if kind == 'AVIF' else 'a'} {kind}"
    if code == "too-big":
        width, height = facts.width_px, facts.height_px
        if not width:
            return f"{name} has more pixels than this machine should open", _USUAL
        w, h = _largest(width, height)
        return (
            f"{name} is {width:,} × {height:,} pixels; more than this machine should open",
            f"Ask for a copy of at most {w:,} × {h:,} pixels",
        )
    if code == "unsupported" and why == "library":
        return (
            f"{name} is {a_kind} picture, and the part that opens these is not installed",
            "Type: python -m pip install pillow-heif; or ask for the photo as JPEG",
        )
    if code == "unsupported":
        return f"{name} holds a kind of {kind} picture that is not opened here", _USUAL
    if why == "slow":
        return f"{name} took longer than a minute to open and was given up", _SEND_AGAIN
    if why == "crashed":
        return f"{name} is damaged: the picture reader broke off over it", _SEND_AGAIN
    if why == "header":
        return f"{name} begins like {a_kind} picture, but cannot be read any further", _SEND_AGAIN
    if why == "ends" and not share:
        return f"{name} ends too early: its last bytes are missing", _SEND_AGAIN
    if share:
        part = next(text for most, text in _SHARES if share <= most)
        return f"{name} ends too early: {part}", _SEND_AGAIN
    return f"{name} is damaged: not all of its pixels can be read", _SEND_AGAIN


def notes(path: Path, format: str, header: dict[str, Any], found: list[str]) -> tuple[str, ...]:
    """Remarks on a photo that can be used."""
    said = []
    if path.suffix.lower() not in _NAMES[header["format"]]:
        kind = _PLAIN.get(format, format)
        said.append(f"it is really a {kind} picture whatever its name says; that does no harm")
    if header["frames"] > 1:
        many = "a thousand or more" if header["frames"] >= 1000 else f"{header['frames']:,}"
        said.append(f"it holds {many} pictures; the first is used")
    said += found
    if header["profile_fault"] and not any("profile" in note for note in said):
        said.append(f"its colour profile is {header['profile_fault']} and was left out")
    return tuple(said)
