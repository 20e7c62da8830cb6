"""What travels by pipe between our process and the small one that opens strangers' pictures.

A request is one line of JSON and the photo's bytes; a reply one line of JSON and, where it has
`size` and `mode`, the raw pixels. Both ends are written here.
"""

from __future__ import annotations

import json
from typing import IO, TYPE_CHECKING, Literal, TypedDict, get_args

from PIL import Image

if TYPE_CHECKING:  # the small process starts without what the model needs
    from proofgen.model.photo import InkDoubt, PhotoFormat, ProfileFault

MAX_PIXELS = 250_000_000  # phones of today reach 200 million
MAX_SIDE = 60_000  # px
TOO_SLOW = 75  # how the small process ends where it counts its processor time by itself
_STRIP = 1 << 17  # pixels sent at a time: small enough to stay in the processor's cache

# Why bytes are not opened. `ends`: the end of the file is missing; `header`, `pixels`: that part
# cannot be read; `parts`: there are too many; `kind`: not one of ours; `library`: what opens them
# is not installed; `size`, `memory`: too large; `slow`, `crashed`: the small process was lost over
# them.
Refusal = Literal[
    "ends", "header", "pixels", "parts", "kind", "library", "size", "memory", "slow", "crashed"
]
# What keeps the small process from harm: Linux's promise of no new privileges, its rules for files
# and for calls; and limits of a process.
Bar = Literal["privileges", "landlock", "seccomp", "memory", "dumps", "writing", "descriptors"]


class RefusedError(Exception):
    """These bytes are not opened; `share` (0 to 1) of them is missing, 0.0 where nobody knows."""

    def __init__(self, why: Refusal, share: float = 0.0) -> None:
        self.why, self.share = why, share
        super().__init__(why)


class Header(TypedDict):
    """Everything known before decoding."""

    format: PhotoFormat
    width: int  # px, before `turn`
    height: int
    mode: str
    orientation: int  # as written, 0 for none
    turn: int  # what is left to do: Pillow turns TIFF by itself, and HEIC comes turned
    profile: str  # its name, '' for none
    profile_fault: ProfileFault
    frames: int
    alpha: bool
    private: list[str]  # plain names of what it tells about people beside the picture
    tables: dict[str, list[int]]  # of a JPEG's quantisation, by number
    samples: float  # a pixel, over all channels, for pricing
    progressive: bool  # or in several scans for another reason
    bytes: int  # of the file
    adobe: bool  # a JPEG that carries Adobe's marker
    zoom: float | None  # by how much the camera says it enlarged, 1.0 for not at all


class Content(TypedDict, total=False):
    """All that the bytes alone tell; `refused` where they are not opened any further."""

    header: Header
    profile_fault: ProfileFault
    ink_doubts: list[InkDoubt]
    clear: bool  # some pixel is not fully inked
    clipped: float | None  # share of colours outside sRGB; None where not counted
    refused: Refusal
    share: float


Job = Literal["header", "verify", "pixels", "forget", "bars"]


EVERYTHING = "everything"


class Part(TypedDict):
    """The part of a picture between left, top, right and bottom (shares of its sides), fitted to a
    size (px)."""

    box: tuple[float, float, float, float]
    size: tuple[int, int]


class Request(TypedDict):
    """`header` reads that alone, `verify` decodes and sends no pixels, `pixels` sends them: at
    least `wanted` (px, upright), all for None, turned by so many degrees clockwise; or a `part` of
    that. `forget` lets go of what was kept decoded: an order is done; `bars` tells what holds.
    These two need no photo. `key` names its bytes, or that nothing at all may stay (`EVERYTHING`).
    """

    job: Job
    format: PhotoFormat
    key: str
    wanted: tuple[int, int] | None
    turn: int
    part: Part | None


class Reply(TypedDict, total=False):
    """A refusal, or what was asked; for pixels their mode and size (px)."""

    refused: Refusal
    share: float
    content: Content
    bars: list[Bar]
    fresh: bool  # decoded for this request, not kept from one before
    mode: str
    size: tuple[int, int]


# What a reply to each job must hold, if it is no refusal.
_ANSWERS: dict[Job, set[str]] = {
    "header": {"content"},
    "verify": {"content"},
    "pixels": {"mode", "size"},
    "forget": set(),
    "bars": {"bars"},
}


def request_for(
    job: Job,
    format: PhotoFormat = "JPEG",
    key: str = "",
    *,
    wanted: tuple[int, int] | None = None,
    turn: int = 0,
    part: Part | None = None,
) -> Request:
    return {
        "job": job, "format": format, "key": key, "wanted": wanted, "turn": turn, "part": part,
    }  # fmt: skip


def send_request(stream: IO[bytes], request: Request, data: bytes) -> None:
    """Ours to the small process. Errors: OSError when it is gone."""
    stream.write(json.dumps({**request, "bytes": len(data)}).encode() + b"\n")
    stream.write(data)
    stream.flush()


def next_request(stream: IO[bytes]) -> tuple[Request, bytes] | None:
    """The next request and the photo's bytes; None when no more will come."""
    line = stream.readline()
    if not line:
        return None
    request = json.loads(line)
    return request, stream.read(request["bytes"])


def send_reply(stream: IO[bytes], reply: Reply, picture: Image.Image | None = None) -> None:
    """The small process's to us; the picture goes from the top, some rows at a time."""
    if picture is not None:
        reply |= {"mode": picture.mode, "size": picture.size}
    stream.write(json.dumps(reply).encode() + b"\n")
    if picture is not None:
        rows = max(1, _STRIP // picture.width)
        for top in range(0, picture.height, rows):
            bottom = min(top + rows, picture.height)
            stream.write(picture.crop((0, top, picture.width, bottom)).tobytes())
    stream.flush()


def next_reply(stream: IO[bytes], job: Job) -> tuple[Reply, Image.Image | None]:
    """The reply to a job and its picture, built from raw pixels as they arrive.

    Errors: RefusedError for a refusal; EOFError, ValueError, KeyError or TypeError for what is no
    whole reply, or announces an impossible picture: nothing in it is taken on trust.
    """
    line = stream.readline(1 << 20)
    if not line.endswith(b"\n"):
        raise EOFError
    reply: Reply = json.loads(line)
    if not isinstance(reply, dict):
        raise TypeError("a reply that is no mapping")
    if "refused" in reply:
        if reply["refused"] not in get_args(Refusal):
            raise ValueError("a reply that refuses for no reason")
        if not 0 <= reply["share"] <= 1:
            raise ValueError("a reply that announces an impossible share")
        raise RefusedError(reply["refused"], reply["share"])
    if missing := _ANSWERS[job] - reply.keys():
        raise KeyError(*missing)
    if job != "pixels":
        return reply, None
    mode, (width, height) = reply["mode"], reply["size"]
    if mode not in ("RGB", "RGBA") or not 0 < width * height <= MAX_PIXELS:
        raise ValueError("a reply that announces an impossible picture")
    picture = Image.new(mode, (width, height))
    rows = max(1, _STRIP // width)
    for top in range(0, height, rows):
        size = (width, min(rows, height - top))
        strip = stream.read(size[0] * size[1] * len(mode))
        picture.paste(Image.frombytes(mode, size, strip), (0, top))  # ValueError if cut short
    return reply, picture
