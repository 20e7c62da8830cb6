"""Parts of a blank in words, by their names: faces, panels, zones, what is drawn of them."""

from __future__ import annotations

from collections.abc import Mapping

Words = Mapping[str, str]

# A face or a panel as a label; `ON_FACES`: what a design draws on.
FACES: Words = {"front": "front", "back": "back", "round": "all the way round"}
ON_FACES: Words = {"front": "the front", "back": "the back", "round": "all the way round"}
PANELS: Words = {**FACES, "front and back": "front and back in one"}

# A piece seen in the round, by the side that is turned to the eye.
VIEWS: Words = {
    "front": "Front",
    "left": "Left side",
    "right": "Right side",
    "closure": "Back, where it closes",
    "back": "Back",
}

# What a blank is, and its hidden strips, for the maker.
CONSTRUCTIONS: Words = {
    "wrap": "wrap: one flat piece, closed by hook-and-loop",
    "fold": "fold: pressed flat, folded, sewn at both sides, turned",
    "sewn": "sewn: already sewn, two faces",
    "flat": "flat: one face",
}
ZONES: Words = {
    "closure": "closure (hidden under the overlap)",
    "seam": "seam allowance",
    "fold": "fold at the bottom",
    "hem": "hem",
    "base": "base (under the can)",
    "gap": "gap (no ink can reach)",
}

# Where a picture would lie in a zone, what that is called, and what would happen to letters there.
IN_ZONES: Words = {
    "closure": "under the closure",
    "seam": "in the seam",
    "gap": "beside the seam, where no ink can reach",
    "fold": "on the fold",
    "hem": "in the hem",
    "base": "under the can",
}
STRIPS: Words = {
    "closure": "the closure",
    "seam": "the seam",
    "gap": "the strip beside the seam that no ink reaches",
    "fold": "the fold",
    "hem": "the hem",
    "base": "the part that lies under the can",
}
LETTERS_IN_ZONES: Words = {
    "closure": "under the closure, where the other end of the cloth hides them",
    "seam": "in the seam, where they are sewn in",
    "gap": "beside the seam, where no ink can reach",
    "fold": "on the fold, where they turn round the bottom",
    "hem": "in the hem, where the cloth is turned in",
    "base": "under the can, where nobody looks",
}

# What is written on a drawing of the whole blank, for the maker; what differs on a small outline.
ON_DRAWINGS: Words = {
    "edge": "Edge of the cloth",
    "safe": "Words and faces stay inside this line",
    "closure": "Hidden where it closes",
    "seam": "Inside the seam",
    "fold": "Fold",
    "hem": "Turned over at the opening",
    "base": "Under the can",
    "gap": "No ink reaches here",
    "middle": "Middle of the front",
    "front": "Front",
    "back": "Back, upside down until it is folded",
}
ON_OUTLINES: Words = {
    "edge": "Edge",
    "safe": "Words stay inside this line",
    "closure": "Hidden when closed",
    "seam": "In the seam",
    "hem": "Turned over",
    "gap": "No colour here",
    "back": "Back",
}
