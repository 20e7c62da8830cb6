from collections.abc import Iterable
from typing import BinaryIO

from fontTools.ttLib import TTFont

class Options:
    flavor: str | None
    hinting: bool
    recalc_timestamp: bool
    desubroutinize: bool
    layout_features: list[str]
    name_IDs: list[int]  # noqa: N815 - its own name

class Subsetter:
    def __init__(self, options: Options) -> None: ...
    def populate(self, *, unicodes: Iterable[int]) -> None: ...
    def subset(self, font: TTFont) -> None: ...

def load_font(font: BinaryIO, options: Options) -> TTFont: ...
def save_font(font: TTFont, outfile: BinaryIO, options: Options) -> None: ...
