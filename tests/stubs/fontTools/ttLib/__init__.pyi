# The part of fontTools that render.fonts, render.font_faults and artwork.words use.
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import TracebackType
from typing import BinaryIO, Literal, Protocol, Self, overload

class TTLibError(Exception): ...

class _Names(Protocol):
    def getDebugName(self, id: int) -> str | None: ...  # noqa: N802

class _Head(Protocol):
    unitsPerEm: int  # noqa: N815

class _Metrics(Protocol):
    metrics: Mapping[str, tuple[int, int]]

class _Glyphs(Protocol):
    glyphs: Mapping[str, object]

class _TopDict(Protocol):
    FontBBox: Sequence[float]

class _FontSet(Protocol):
    topDictIndex: Sequence[_TopDict]  # noqa: N815

class _Outlines(Protocol):
    cff: _FontSet

class TTFont:
    def __init__(self, file: Path | BinaryIO, *, lazy: bool = ...) -> None: ...
    def __enter__(self) -> Self: ...
    def __exit__(
        self, kind: type[BaseException] | None, error: object, trace: TracebackType | None
    ) -> None: ...
    def __contains__(self, tag: str) -> bool: ...
    @overload
    def __getitem__(self, tag: Literal["name"]) -> _Names: ...
    @overload
    def __getitem__(self, tag: Literal["head"]) -> _Head: ...
    @overload
    def __getitem__(self, tag: Literal["hmtx"]) -> _Metrics: ...
    @overload
    def __getitem__(self, tag: Literal["glyf"]) -> _Glyphs: ...
    @overload
    def __getitem__(self, tag: Literal["CFF "]) -> _Outlines: ...
    def getBestCmap(self) -> dict[int, str]: ...  # noqa: N802
