"""A proof's pictures as its PDF carries them: those in the round with the pixels paper shows."""

from __future__ import annotations

import io

from PIL import Image

from proofgen.proof.content import Picture, ProofContent
from proofgen.views.pictures import fitted, jpeg

# px: 52 and 41 mm wide on the sheet (proof_pdf.css), 205 ppi; common practice, no source.
_FIRST_PX, _OTHER_PX = 420, 332
_QUALITY = 68  # of JPEG, made smaller from what the page shows


def _smaller(picture: Picture, width_px: int) -> bytes:
    """A picture at most so wide, as a JPEG, which a PDF holds as it is; a JPEG that would not get
    lighter by it stays."""
    with Image.open(io.BytesIO(picture.data)) as image:
        made = jpeg(fitted(image.convert("RGB"), width_px), _QUALITY)
        is_whole = image.format == "JPEG" and len(made) >= len(picture.data)
    return picture.data if is_whole else made


def on_paper(content: ProofContent) -> dict[str, bytes]:
    """What to set of each picture, by its name. Flat pictures, which colours and letters are signed
    by, are those of the page to the byte."""
    files = {picture.name: picture.data for picture in content.pictures}
    for work in content.works:
        for at, view in enumerate(work.views):
            files[view.name] = _smaller(view, _OTHER_PX if at else _FIRST_PX)
    return files
