"""Photos opened strictly: what a file is and whether it can be used, and its upright sRGB pixels.

The order never changes: bytes counted, kind told by content, parts counted, header read, size and
memory priced, and only then decoded; all but the first two by a small process of its own, which may
open nothing else. The bytes are read once; what is digested is what is decoded. Pixels come back
bare, so that nothing hidden in a file travels on.
"""

from __future__ import annotations

import json
import stat
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Self

import PIL
from PIL import Image

from proofgen.errors import ProofgenError
from proofgen.model.photo import PhotoFacts, PhotoFormat
from proofgen.photo import parts, pixels, troubles
from proofgen.photo.exchange import (
    MAX_PIXELS,
    MAX_SIDE,
    Bar,
    Content,
    Part,
    RefusedError,
    request_for,
)
from proofgen.photo.kinds import kind_of
from proofgen.photo.sound import sound
from proofgen.photo.troubles import Trouble
from proofgen.photo.worker import CLOCK, SECONDS, Worker
from proofgen.store import Store, dump_json

MAX_BYTES = 200_000_000
_LYING = 5  # from this turn on (EXIF, tag 0x0112) width and height change places


class _TroubleError(Exception):
    def __init__(self, trouble: Trouble) -> None:
        self.trouble = trouble
        super().__init__(trouble.problem)


class Told(Content):
    """What is remembered of a photo's bytes; a refusal too, so that no bad file is tried again."""

    verified: bool  # all pixels were decoded, not the header alone read


# Another day these may go well: the machine has more memory free, the library is there.
_PASSING = ("memory", "library")
# Whatever a limit refused is asked for anew once the limit is another.
_LIMITS = (
    MAX_PIXELS, MAX_SIDE, pixels.MEMORY, pixels.JPEG_MEMORY, SECONDS, CLOCK, parts.MAX_CHUNKS,
    parts.MAX_SEGMENTS, parts.MAX_EXIF, parts.MAX_SETTINGS, parts.MAX_SCANS, parts.MAX_BETWEEN,
    parts.MAX_BOXES, parts.MAX_BLOCKS, parts.MAX_CODES,
)  # fmt: skip


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

    def let_go(self, *, everything: bool = False) -> None:
        """Drop the photos that the process keeps decoded: another order has others. A small one
        stays, unless `everything` is asked for: what shows the order may come after."""
        self._worker.forget(everything=everything)

    def bars(self) -> list[Bar]:
        """What keeps that process from harm on this system. Errors: RefusedError; MachineError."""
        return self._worker.bars()

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
        told = self._told(data, kind.format, facts.sha256, decode)
        return _as_facts(facts, kind.format, told)

    def open_pixels(self, facts: PhotoFacts, wanted: tuple[int, int] | None = None) -> Image.Image:
        """The upright picture in sRGB, mode RGB or RGBA, rebuilt from bare pixels, turned as the
        facts say.

        `wanted` is the smallest (width, height) in upright px that serves: the result is at least
        that, or the full size where that is less, and has the photo's proportions (to a pixel).
        None asks for all pixels; a picture too large for the memory limit comes at a half or a
        quarter. Errors: ProofgenError for a photo with a problem, or whose file changed since it
        was looked at.
        """
        return self._pixels(facts, wanted, None)

    def open_part(self, facts: PhotoFacts, wanted: tuple[int, int], part: Part) -> Image.Image:
        """A part of the same at a size, without the whole ever being here. Errors: the same."""
        return self._pixels(facts, wanted, part)

    def _pixels(
        self, facts: PhotoFacts, wanted: tuple[int, int] | None, part: Part | None
    ) -> Image.Image:
        if not facts.usable or not facts.format:
            raise ProofgenError(facts.problem, facts.cure)
        asked = request_for(
            "pixels", facts.format, facts.sha256, wanted=wanted, turn=facts.turn, part=part
        )
        try:
            data = _read(facts.file)
            if sha256(data).hexdigest() != facts.sha256:
                raise troubles.changed(facts.file)
            _, picture = self._worker.ask(asked, data)
            if picture is None or not (
                picture.size == part["size"] if part else _same_shape(picture, facts)
            ):
                raise RefusedError("crashed")
            return picture
        except _TroubleError as error:
            trouble = error.trouble
        except RefusedError as refused:
            trouble = troubles.refused(facts, facts.format, refused.why, refused.share)
        raise ProofgenError(trouble.problem, trouble.cure)

    def _told(self, data: bytes, format: PhotoFormat, sha: str, decode: bool) -> Told:
        """Everything that depends on the bytes alone, remembered."""

        def make() -> Told:
            asked = request_for("verify" if decode else "header", format, sha)
            try:
                content = sound(self._worker.ask(asked, data)[0]["content"], decoded=decode)
            except RefusedError as refused:
                content = {"refused": refused.why, "share": refused.share}
            return {**content, "verified": decode}

        def load(kept: bytes) -> Told:
            told: Told = json.loads(kept)
            if decode and not told["verified"] and "refused" not in told:
                raise ValueError("the header alone was read")
            return told

        def dump(told: Told) -> bytes | None:
            return None if told.get("refused") in _PASSING else dump_json(told)

        key = f"{PIL.__version__} {_LIMITS} {sha}"
        return self.store.remember("photo-facts/7", key, make, load, dump)


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


def _as_facts(facts: PhotoFacts, format: PhotoFormat, content: Told) -> PhotoFacts:
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
