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
from typing import Required, Self, TypedDict

import PIL
from PIL import Image

from proofgen.errors import ProofgenError
from proofgen.model.photo import InkDoubt, PhotoFacts, PhotoFormat, ProfileFault
from proofgen.photo import troubles
from proofgen.photo.containers import missing_share
from proofgen.photo.exchange import MAX_PIXELS, Header, Refusal, RefusedError
from proofgen.photo.header import read_header
from proofgen.photo.kinds import kind_of
from proofgen.photo.pixels import choose_scale
from proofgen.photo.troubles import Trouble
from proofgen.photo.worker import Worker
from proofgen.store import Store, dump_json

MAX_BYTES = 200_000_000
MAX_SIDE = 60_000
# Their headers are read by Python code; all others open by C code, which stays in the child.
_HEADER_HERE = ("JPEG", "PNG")
_LYING = 5  # from this turn on (EXIF, tag 0x0112) width and height change places


class _TroubleError(Exception):
    def __init__(self, trouble: Trouble) -> None:
        self.trouble = trouble
        super().__init__(trouble.problem)


class Content(TypedDict, total=False):
    """All that the bytes alone tell, as it is remembered; a refusal is remembered too."""

    verified: Required[bool]  # all pixels were decoded, not the header alone read
    header: Header
    profile_fault: ProfileFault
    ink_doubts: list[InkDoubt]
    clear: bool
    clipped: float | None
    refused: Refusal
    share: float


class Pictures:
    """The pictures of one run: opened by one small process, so that each is decoded once, and
    looked at once while a file keeps its size and times. What is told of them is remembered in
    `store`. `close` ends the process; a context manager does so too.
    """

    def __init__(self, store: Store) -> None:
        self.store = store
        self._worker = Worker()
        self._seen: dict[tuple[Path, bool, tuple[int, ...]], PhotoFacts] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """End the process; it is started again if another photo is asked for."""
        self._worker.close()

    def let_go(self) -> None:
        """Drop the photos that the process keeps decoded: another order has others."""
        self._worker.forget()

    def inspect(self, path: Path, *, decode: bool = True) -> PhotoFacts:
        """What a photo's file tells, never raising for what its bytes are.

        decode=True also proves that every row of pixels decodes (in the process, which keeps them
        for what comes next), counts colours outside sRGB and sees whether anything is really
        clear; the store remembers this by the content's digest. decode=False reads the header
        alone. Errors: MachineError when the process cannot be started.
        """
        try:
            about = path.stat()
        except (OSError, ValueError):  # ValueError: a NUL in the name
            return self._inspect(path, decode)  # it tells what is wrong
        stamp = (about.st_ino, about.st_size, about.st_mtime_ns, about.st_ctime_ns)
        key = (path, decode, stamp)
        if key not in self._seen:
            self._seen[key] = self._inspect(path, decode)
        return self._seen[key]

    def _inspect(self, path: Path, decode: bool) -> PhotoFacts:
        facts = PhotoFacts(file=path)
        try:
            data = _read(path)
        except _TroubleError as error:
            return _with_trouble(facts, error.trouble)
        facts = replace(facts, sha256=sha256(data).hexdigest(), bytes=len(data))
        kind = kind_of(data)
        if kind.format is None:
            return _with_trouble(facts, troubles.not_opened(path, kind))
        content = self._content(data, kind.format, facts.sha256, decode)
        return _as_facts(facts, kind.format, content)

    def open_pixels(self, facts: PhotoFacts, wanted: tuple[int, int] | None = None) -> Image.Image:
        """The upright picture in sRGB, mode RGB or RGBA, rebuilt from bare pixels.

        `wanted` is the smallest (width, height) in upright px that serves: the result is at least
        that, or the full size where that is less, and has the photo's proportions (to a pixel).
        None asks for all pixels; a picture too large for the memory limit comes at a half or a
        quarter. Errors: ProofgenError for a photo with a problem, or whose file changed since it
        was looked at.
        """
        if not facts.usable or not facts.format:
            raise ProofgenError(facts.problem, facts.cure)
        try:
            data = _read(facts.file)
            if sha256(data).hexdigest() != facts.sha256:
                raise troubles.changed(facts.file)
            return self._pixels(data, facts, wanted)
        except _TroubleError as error:
            trouble = error.trouble
        except RefusedError as refused:
            trouble = troubles.refused(facts, facts.format, refused.why, refused.share)
        raise ProofgenError(trouble.problem, trouble.cure)

    def _pixels(
        self, data: bytes, facts: PhotoFacts, wanted: tuple[int, int] | None
    ) -> Image.Image:
        format = kind_of(data).format
        assert format is not None  # the same bytes were told before
        header = self._header(data, format)
        _within_limits(header)
        stored = wanted[::-1] if wanted and header["turn"] >= _LYING else wanted
        scale = choose_scale(header, stored)
        _, picture = self._worker.ask({"job": "pixels", "format": format, "scale": scale}, data)
        if picture is None or not _same_shape(picture, facts):
            raise RefusedError("crashed")
        return picture

    def _content(self, data: bytes, format: PhotoFormat, sha: str, decode: bool) -> Content:
        """Everything that depends on the bytes alone, remembered; a refusal is remembered too."""

        def load(kept: bytes) -> Content:
            content: Content = json.loads(kept)
            if decode and not content["verified"]:
                raise ValueError("the header alone was read")
            return content

        def dump(content: Content) -> bytes | None:
            passing = content.get("refused") in ("slow", "memory", "library")  # well another day
            return None if passing else dump_json(content)

        return self.store.remember(
            "photo-facts/5",
            f"{PIL.__version__} {sha}",
            lambda: self._examine(data, format, decode),
            load,
            dump,
        )

    def _examine(self, data: bytes, format: PhotoFormat, decode: bool) -> Content:
        """Header, limits, ending, and all pixels; stops at the first refusal."""
        content: Content = {"verified": decode}
        try:
            content["header"] = header = self._header_or_missing(data, format)
            scale = _within_limits(header)
            share = missing_share(data, header["format"])
            if share:
                raise RefusedError("ends", share)
            if decode:
                content |= self._verify(data, format, scale, ends=share is None)
            if share is not None:
                raise RefusedError("ends")
        except RefusedError as refused:
            content |= {"refused": refused.why, "share": refused.share}
        return content

    def _verify(self, data: bytes, format: PhotoFormat, scale: int, *, ends: bool) -> Content:
        """All pixels decoded once; what they told. A missing end explains missing pixels."""
        try:
            reply, _ = self._worker.ask({"job": "verify", "format": format, "scale": scale}, data)
        except RefusedError as refused:
            if not ends and refused.why == "pixels" and not refused.share:
                raise RefusedError("ends") from refused
            raise
        return {
            "verified": True,
            "profile_fault": reply["profile_fault"],
            "ink_doubts": reply["ink_doubts"],
            "clear": reply["clear"],
            "clipped": reply["clipped"],
        }

    def _header_or_missing(self, data: bytes, format: PhotoFormat) -> Header:
        """The header; where it cannot be read because the end is missing, that is said instead."""
        try:
            return self._header(data, format)
        except RefusedError as refused:
            share = missing_share(data, format)
            if refused.why == "header" and share:
                raise RefusedError("ends", share) from refused
            raise

    def _header(self, data: bytes, format: PhotoFormat) -> Header:
        if format in _HEADER_HERE:
            return read_header(data, format)
        reply, _ = self._worker.ask({"job": "header", "format": format, "scale": 1}, data)
        return reply["header"]


def _with_trouble(facts: PhotoFacts, trouble: Trouble) -> PhotoFacts:
    return replace(facts, problem=trouble.problem, problem_code=trouble.code, cure=trouble.cure)


def _read(path: Path) -> bytes:
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            raise _TroubleError(troubles.no_file(path))
        size, data = about.st_size, b""
        if size <= MAX_BYTES:
            with path.open("rb") as stream:
                data = stream.read(MAX_BYTES + 1)
            size = len(data)
    except FileNotFoundError:
        raise _TroubleError(troubles.missing(path)) from None
    except (OSError, ValueError) as error:  # ValueError: a NUL in the name
        raise _TroubleError(troubles.unreadable(path, error)) from None
    if size > MAX_BYTES:
        raise _TroubleError(troubles.too_many_bytes(path, size, MAX_BYTES))
    if not data:
        raise _TroubleError(troubles.empty(path))
    return data


def _within_limits(header: Header) -> int:
    """The scale at which all pixels fit the memory. Errors: RefusedError 'header', 'size'."""
    width, height = header["width"], header["height"]
    if width < 1 or height < 1:
        raise RefusedError("header")
    if max(width, height) > MAX_SIDE or width * height > MAX_PIXELS:
        raise RefusedError("size")
    return choose_scale(header, None)


def _as_facts(facts: PhotoFacts, format: PhotoFormat, content: Content) -> PhotoFacts:
    if "header" in content:
        header = content["header"]
        width, height = header["width"], header["height"]
        if header["turn"] >= _LYING:
            width, height = height, width
        facts = replace(
            facts,
            format=header["format"],
            width_px=width,
            height_px=height,
            mode=header["mode"],
            orientation=header["orientation"],
            profile=header["profile"],
            profile_fault=content.get("profile_fault", header["profile_fault"]),
            ink_doubts=tuple(content.get("ink_doubts", [])),
            frames=header["frames"],
            has_alpha=content.get("clear", header["alpha"]),
            private=tuple(header["private"]),
            jpeg_tables={int(n): tuple(t) for n, t in header["tables"].items()},
            clipped=content.get("clipped"),
            zoom=header["zoom"],
        )
    if "refused" in content:
        trouble = troubles.refused(facts, format, content["refused"], content["share"])
        facts = _with_trouble(facts, trouble)
    return facts


def _same_shape(picture: Image.Image, facts: PhotoFacts) -> bool:
    """Whether the picture has the photo's proportions, but for rows and columns rounded up."""
    slack = 8 * max(facts.width_px, facts.height_px)
    return abs(picture.width * facts.height_px - picture.height * facts.width_px) <= slack
