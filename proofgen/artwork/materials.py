"""What one run makes artwork with: pictures, fonts and what was drawn of them, each opened once."""

from __future__ import annotations

from pathlib import Path
from typing import Self

from PIL import Image

from proofgen.artwork.typeface import Typeface
from proofgen.photo.opening import Pictures
from proofgen.render.fonts import Fonts
from proofgen.store import Recent, Store

# How many of each are kept in memory: a piece can have the size of a press raster (60 MB), a tile
# has some thousand pixels, a ground a megabyte.
_PIECES, _TILES, _GROUNDS = 4, 16, 8


class Materials:
    """Made for a shop folder, whose fonts come first. `close` ends the process that opens photos;
    a context manager does so too."""

    def __init__(self, folder: Path, store: Store) -> None:
        self.store = store
        self.pictures = Pictures(store)
        self.fonts = Fonts(folder)
        # The names of a list share all that is not their words: parts of pictures as they are
        # drawn, single repeats of patterns, what lies behind words.
        self.pieces: Recent[Image.Image] = Recent(_PIECES)
        self.tiles: Recent[Image.Image] = Recent(_TILES)
        self.grounds: Recent[Image.Image] = Recent(_GROUNDS)
        self._typefaces: dict[Path, Typeface] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """End the process that opens photos; it is started again if another one is asked for."""
        self.pictures.close()

    def typeface(self, file: Path) -> Typeface:
        """The font of a file, opened once."""
        if file not in self._typefaces:
            self._typefaces[file] = Typeface(file)
        return self._typefaces[file]
