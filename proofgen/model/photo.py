"""What a photo's file tells before its pixels are read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

from proofgen.geometry import Size

PhotoFormat = Literal["JPEG", "PNG", "WEBP", "TIFF", "HEIF", "AVIF", "GIF", "MPO"]
FORMAT_NAMES: Mapping[PhotoFormat, str] = {
    "JPEG": "JPEG",
    "MPO": "JPEG",  # of which it holds several
    "PNG": "PNG",
    "WEBP": "WebP",
    "TIFF": "TIFF",
    "HEIF": "HEIC",
    "AVIF": "AVIF",
    "GIF": "GIF",
}
FORMAT_ENDINGS: Mapping[PhotoFormat, tuple[str, ...]] = {
    "JPEG": (".jpg", ".jpeg", ".jpe", ".jfif"),
    "PNG": (".png",),
    "WEBP": (".webp",),
    "TIFF": (".tif", ".tiff"),
    "HEIF": (".heic", ".heif", ".hif"),
    "AVIF": (".avif", ".avifs"),
    "GIF": (".gif",),
    "MPO": (".mpo", ".jpg", ".jpeg"),
}
PhotoProblem = Literal[
    "missing",
    "unreadable",
    "empty",
    "not-a-picture",
    "unsupported",
    "too-big",
    "damaged",
    "slow",
]
# Why a colour profile was left out.
ProfileFault = Literal["", "broken", "oversized"]
# A picture in printing inks without their maker's mark, so that it may be a negative; in inks that
# no profile names, so that their colours are a guess.
InkDoubt = Literal["unmarked", "unknown"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoFacts:
    """Read from the header. Width and height are upright (after orientation), and as the order
    turns it by `turn` degrees clockwise. `problem` is empty for a photo that can be used; otherwise
    it says in plain words why not, and `cure` what to do.
    """

    file: Path
    sha256: str = ""
    bytes: int = 0
    format: PhotoFormat | Literal[""] = ""
    width_px: int = 0
    height_px: int = 0
    mode: str = ""
    orientation: int = 1  # the mark in its file, 0 for none
    profile: str = ""  # description of the embedded colour profile, '' for none
    profile_fault: ProfileFault = ""
    ink_doubts: tuple[InkDoubt, ...] = ()
    frames: int = 1
    has_alpha: bool = False
    private: tuple[str, ...] = ()  # plain names of private data inside: 'place', 'camera', 'time'
    jpeg_tables: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    problem: str = ""
    problem_code: PhotoProblem | Literal[""] = ""
    cure: str = ""
    clipped: float | None = None  # share of colours outside sRGB; None where not counted
    zoom: float | None = None  # by how much the camera says it enlarged, 1.0 for not at all
    turn: int = 0

    def turned(self, degrees: int) -> PhotoFacts:
        """The photo as it is when turned by so many degrees (a quarter turn or several)
        clockwise."""
        size = (self.width_px, self.height_px)
        width, height = size if degrees % 180 == 0 else size[::-1]
        turn = (self.turn + degrees) % 360
        return replace(self, width_px=width, height_px=height, turn=turn)

    @property
    def pixels(self) -> str:
        """Names its pixels in keys: by the bytes, and by how they are turned."""
        return f"{self.sha256}, turned by {self.turn}" if self.turn else self.sha256

    @property
    def has_location(self) -> bool:
        return "place" in self.private

    @property
    def size_px(self) -> Size:
        """Width and height of the upright picture."""
        return Size(float(self.width_px), float(self.height_px))

    @property
    def usable(self) -> bool:
        return not self.problem
