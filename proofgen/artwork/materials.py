"""What one run makes artwork with: pictures, fonts and what was drawn of them, each opened once."""

from __future__ import annotations

from pathlib import Path
from typing import Self

from PIL import Image

from proofgen.artwork.typeface import Typeface
from proofgen.photo.opening import Pictures
from proofgen.render.fonts import Fonts
from proofgen.store import Recent, Store

# A piece of a picture as it is drawn can have the size of a press raster: 60 MB.
_PIECES, _TILES = 4, 16


class Materials:
    """Made for a shop folder, whose fonts come first. `close` ends the process that opens photos;
    a context manager does so too."""

    def __init__(self, folder: Path, store: Store) -> None:
        self.store = store
        self.pictures = Pictures(store)
        self.fonts = Fonts(folder)
        # The pieces of a list of names differ in their words alone.
        self.pieces: Recent[Image.Image] = Recent(_PIECES)
        self.tiles: Recent[Image.Image] = Recent(_TILES)
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
