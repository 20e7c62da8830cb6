# The part of rectpack that press.packing uses; Way and SortOrder are names for its types.
from collections.abc import Callable, Sequence
from enum import Enum

from rectpack.guillotine import Guillotine

Way = Callable[..., Guillotine]
SortOrder = Callable[[list[tuple[int, int, int]]], list[tuple[int, int, int]]]

class PackingMode(Enum):
    Offline = ...

class PackingBin(Enum):
    BFF = ...

SORT_NONE: SortOrder
SORT_AREA: SortOrder
SORT_LSIDE: SortOrder

class Packer:
    def add_rect(self, width: int, height: int, rid: int) -> None: ...
    def add_bin(self, width: int, height: int, count: int = ...) -> None: ...
    def pack(self) -> None: ...
    # Bin, x, y, width, height, rid.
    def rect_list(self) -> Sequence[tuple[int, int, int, int, int, int]]: ...

def newPacker(  # noqa: N802
    *,
    mode: PackingMode,
    bin_algo: PackingBin,
    pack_algo: Way,
    sort_algo: SortOrder,
    rotation: bool,
) -> Packer: ...
