"""Photos opened strictly: what a file is and whether it can be used, and its upright sRGB pixels.

The order never changes: bytes counted, kind told by content, header read, size and memory priced,
and only then decoded, by a small process of its own with limits. The bytes are read once; what is
digested is what is decoded. Pixels come back bare, so that nothing hidden in a file travels on.
"""

from __future__ import annotations

import json
import stat
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Any

import PIL
from PIL import Image

from proofgen.errors import ProofgenError
from proofgen.model.photo import PhotoFacts
from proofgen.photo import troubles as words
from proofgen.photo.contents import missing_share
from proofgen.photo.header import MAX_PIXELS, RefusedError, read_header
from proofgen.photo.kinds import kind_of
from proofgen.photo.pixels import choose_scale
from proofgen.photo.worker import Reply, WorkerLostError, ask, photo_worker
from proofgen.store import NoStore, Store, dump_json

__all__ = ["MAX_BYTES", "MAX_PIXELS", "MAX_SIDE", "inspect", "open_pixels", "photo_worker"]

MAX_BYTES = 200_000_000
MAX_SIDE = 60_000
# Their headers are read by Python code; all others open by C code, which stays in the child.
_HEADER_HERE = ("JPEG", "PNG")


class _ProblemError(Exception):
    """Why a photo cannot be used: code, plain words, cure."""

    def __init__(self, code: str, problem: str, cure: str) -> None:
        self.code, self.problem, self.cure = code, problem, cure
        super().__init__(problem)


def inspect(path: Path, store: Store = NoStore(), *, decode: bool = True) -> PhotoFacts:
    """What a photo's file tells, never raising for what its bytes are.

    decode=True also proves that every row of pixels decodes (in a child process, which keeps them
    for what comes next), counts colours outside sRGB and sees whether anything is really clear; the
    store remembers this by the content's digest. decode=False reads the header alone.
    Errors: MachineError when the child cannot be started.
    """
    facts = PhotoFacts(file=path)
    try:
        data = _read(path)
        facts = replace(facts, sha256=sha256(data).hexdigest(), bytes=len(data))
        kind = kind_of(data)
        if not kind.format:
            code = "unsupported" if kind.picture else "not-a-picture"
            raise _ProblemError(code, *words.not_opened(path, kind))
        known = _content(data, kind.format, facts.sha256, store, decode=decode)
    except _ProblemError as problem:
        return replace(facts, problem=problem.problem, problem_code=problem.code, cure=problem.cure)
    return _as_facts(facts, kind.format, known)


def _read(path: Path) -> bytes:
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            raise _ProblemError("not-a-picture", *words.no_file(path))
        if about.st_size > MAX_BYTES:
            raise _ProblemError("too-big", *words.too_many_bytes(path, about.st_size, MAX_BYTES))
        with path.open("rb") as stream:
            data = stream.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise _ProblemError("missing", *words.missing(path)) from None
    except (OSError, ValueError) as error:  # ValueError: a NUL in the name
        raise _ProblemError("unreadable", *words.unreadable(path, error)) from None
    if len(data) > MAX_BYTES:
        raise _ProblemError("too-big", *words.too_many_bytes(path, len(data), MAX_BYTES))
    if not data:
        raise _ProblemError("empty", *words.empty(path))
    return data


def _content(data: bytes, format: str, sha: str, store: Store, *, decode: bool) -> dict[str, Any]:
    """Everything that depends on the bytes alone, remembered; a trouble is remembered too."""

    def load(content: bytes) -> dict[str, Any]:
        known: dict[str, Any] = json.loads(content)
        if decode and not known["verified"]:
            raise ValueError("the header alone was read")
        return known

    return store.remember(
        "photo-facts/3",
        f"{PIL.__version__} {sha}",
        lambda: _examine(data, format, decode=decode),
        load,
        lambda known: None if known.get("passing") else dump_json(known),
    )


def _examine(data: bytes, format: str, *, decode: bool) -> dict[str, Any]:
    """Header, limits, ending, and all pixels; stops at the first trouble."""
    known: dict[str, Any] = {"verified": decode, "notes": []}
    try:
        with photo_worker():
            known["header"] = header = _header_or_missing(data, format)
            scale = _within_limits(header)
            share = missing_share(data, header["format"])
            if share:
                raise RefusedError("damaged", "ends", share)
            if decode:
                known |= _verify(data, format, scale, ends=share is None)
            if share is not None:
                raise RefusedError("damaged", "ends")
    except RefusedError as refused:
        known["refused"] = [refused.code, refused.why, refused.share]
        known["passing"] = refused.why in ("slow", "memory", "library")  # may go well another day
    return known


def _verify(data: bytes, format: str, scale: int, *, ends: bool) -> dict[str, Any]:
    """All pixels decoded once; what they told. A missing end explains pixels that do not come."""
    try:
        reply = _ask({"job": "verify", "format": format, "scale": scale}, data)
    except RefusedError as refused:
        if not ends and refused.why == "pixels" and not refused.share:
            raise RefusedError("damaged", "ends") from refused
        raise
    return {key: reply[key] for key in ("notes", "clear", "clipped")}


def _header_or_missing(data: bytes, format: str) -> dict[str, Any]:
    """The header; where it cannot be read because the end is missing, that is said instead."""
    try:
        return _header(data, format)
    except RefusedError as refused:
        share = missing_share(data, format)
        if refused.why == "header" and share:
            raise RefusedError("damaged", "ends", share) from refused
        raise


def _header(data: bytes, format: str) -> dict[str, Any]:
    if format in _HEADER_HERE:
        return read_header(data, format)
    header: dict[str, Any] = _ask({"job": "header", "format": format}, data)["header"]
    return header


def _ask(request: dict[str, Any], data: bytes) -> dict[str, Any]:
    reply, _ = _ask_pixels(request, data)
    return reply


def _ask_pixels(request: dict[str, Any], data: bytes) -> Reply:
    try:
        reply, picture = ask(request, data)
    except WorkerLostError as lost:
        raise RefusedError("damaged", lost.why) from lost
    if "refused" in reply:
        raise RefusedError(reply["refused"], reply["why"], reply["share"])
    return reply, picture


def _within_limits(header: dict[str, Any]) -> int:
    """The scale at which all pixels fit the memory. Errors: RefusedError 'too-big'."""
    width, height = header["width"], header["height"]
    if width < 1 or height < 1:
        raise RefusedError("damaged", "header")
    if max(width, height) > MAX_SIDE or width * height > MAX_PIXELS:
        raise RefusedError("too-big", "pixels")
    scale = choose_scale(header, None)
    if scale is None:
        raise RefusedError("too-big", "pixels")
    return scale


def _as_facts(facts: PhotoFacts, format: str, known: dict[str, Any]) -> PhotoFacts:
    header = known.get("header")
    if header:
        size = (header["width"], header["height"])
        width, height = size[::-1] if header["turn"] >= 5 else size
        facts = replace(
            facts,
            format=header["format"],
            width_px=width,
            height_px=height,
            mode=header["mode"],
            orientation=header["orientation"],
            profile=header["profile"],
            frames=header["frames"],
            has_alpha=known.get("clear", header["alpha"]),
            has_location=header["location"],
            private=tuple(header["private"]),
            jpeg_tables={int(n): tuple(t) for n, t in header["tables"].items()},
            clipped=known.get("clipped"),
            notes=words.notes(facts.file, format, header, known["notes"]),
        )
    if "refused" in known:
        code, why, share = known["refused"]
        problem, cure = words.refused(facts, format, code, why, share)
        facts = replace(facts, problem=problem, problem_code=code, cure=cure)
    return facts


def open_pixels(facts: PhotoFacts, wanted: tuple[int, int] | None = None) -> Image.Image:
    """The upright picture in sRGB, mode RGB or RGBA, rebuilt from bare pixels.

    `wanted` is the smallest (width, height) in upright px that serves: the result is at least
    that, or the full size where that is less, and has the photo's proportions (to a pixel). None
    asks for all pixels; a picture too large for the memory limit comes at a half or a quarter.
    Errors: ProofgenError for a photo with a problem, or whose file changed since it was looked at.
    """
    if not facts.usable:
        raise ProofgenError(facts.problem, facts.cure)
    try:
        data = _read(facts.file)
        if sha256(data).hexdigest() != facts.sha256:
            raise ProofgenError(*words.changed(facts.file))
        return _pixels(data, facts, wanted)
    except _ProblemError as problem:
        raise ProofgenError(problem.problem, problem.cure) from problem
    except RefusedError as refused:
        said = words.refused(facts, facts.format, refused.code, refused.why, refused.share)
        raise ProofgenError(*said) from refused


def _pixels(data: bytes, facts: PhotoFacts, wanted: tuple[int, int] | None) -> Image.Image:
    format = kind_of(data).format
    with photo_worker():
        header = _header(data, format)
        _within_limits(header)
        stored = wanted[::-1] if wanted and header["turn"] >= 5 else wanted
        scale = choose_scale(header, stored)
        request = {"job": "pixels", "format": format, "scale": scale}
        _, picture = _ask_pixels(request, data)
    if picture is None or not _same_shape(picture, facts):
        raise RefusedError("damaged", "crashed")
    return picture


def _same_shape(picture: Image.Image, facts: PhotoFacts) -> bool:
    """Whether the picture has the photo's proportions, but for rows and columns rounded up."""
    slack = 8 * max(facts.width_px, facts.height_px)
    return abs(picture.width * facts.height_px - picture.height * facts.width_px) <= slack
