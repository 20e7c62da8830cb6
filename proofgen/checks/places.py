"""Where in the shop folder a finding points."""

from __future__ import annotations

from proofgen.errors import Place
from proofgen.model import Line


def photo_where(line: Line, slot: str) -> str:
    """'orders/fenn/order.yaml:9, photo'."""
    use = line.photos.get(slot)
    if use is not None and use.place.file:
        return f"{use.place}, {slot}"
    return f"{line.place_of(f'photos.{slot}', 'photos')}, {slot}"


def words_where(
    line: Line, slot: str, pieces: tuple[int, ...] = (), fallback: Place | None = None
) -> str:
    """The row of the list for a single piece of one, else the line's words, else the design."""
    if not slot:
        return str(fallback) if fallback is not None and fallback.file else str(line.place)
    if line.list_file is not None and len(pieces) == 1:
        # Pieces are numbered one after the other, so this row is found without a search.
        at = pieces[0] - line.pieces[0].number if line.pieces else 0
        piece = line.pieces[at] if 0 <= at < len(line.pieces) else None
        if piece and piece.place.file and piece.words.get(slot) != line.words.get(slot):
            return f"{piece.place}, {slot}"
    return f"{line.place_of(f'words.{slot}', 'words')}, {slot}"
