"""Was a photo squeezed hard before it was last saved?"""

from __future__ import annotations

from proofgen.checks.frame import Remarks, check, note, skipped, warn
from proofgen.checks.subjects import PrintedPhoto, printed_pictures
from proofgen.model import Limits
from proofgen.model.limits import PRACTICE
from proofgen.photo.measures import coarse_quality, quality_of

_NOT_LOOKED_AT = skipped(
    "not-looked-at", "The pixels of this photo were not looked at in this run."
)
# By so much the quality that pixels tell may be read too low, and by so much it lies under the
# limit where the traces are sure to be seen.
_READ_LOW, _FAR_UNDER = 5, 20


@check(
    "photo/compressed-before",
    printed_pictures,
    why="A photo that was squeezed hard and then saved again in good quality looks well by its "
    "file; its blocks and halos are pressed all the same.",
    source="whole steps of the waves of JPEG's blocks (Fan and de Queiroz 2003, IEEE Trans. Image "
    f"Processing 12(2), from memory); the limits are {PRACTICE}",
    codes={
        "squeezed": "the pixels show an earlier compression of a very low quality",
        "rather-squeezed": "the pixels show an earlier compression of a low quality",
        _NOT_LOOKED_AT.code: "the pixels were not looked at",
    },
)
def compressed_before(photo: PrintedPhoto, limits: Limits) -> Remarks:
    """No photo was squeezed hard before it was last saved."""
    if photo.measures is None:
        yield _NOT_LOOKED_AT
        return
    before = photo.measures.traces.before if photo.measures.traces else None
    tables = photo.facts.jpeg_tables
    own, coarse = quality_of(tables), coarse_quality(tables)
    if before is None or (own is not None and own < limits.jpeg_quality):
        return  # photo/jpeg-quality tells of its own
    if coarse is not None and before >= coarse - _READ_LOW:
        return
    if before < limits.jpeg_quality - _FAR_UNDER:
        yield warn(
            "squeezed",
            "This photo was squeezed hard before it was last saved, as messengers do; blocks may "
            "show in skies and around faces.",
            "Ask for the original, sent by mail or as a file.",
            measure=before,
            limit=limits.jpeg_quality,
        )
    elif before < limits.jpeg_quality - _READ_LOW:
        yield note(
            "rather-squeezed",
            "This photo was squeezed before it was last saved; a few blocks may show in skies.",
            "Look at the real-size part on the proof; if it shows there, ask for the original.",
            measure=before,
            limit=limits.jpeg_quality,
        )
