"""Parts of a blank in words, by their names: faces, panels, zones, what is drawn of them."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen.say.tongue import to_say

Words = Mapping[str, str]

# A face or a panel as a label; `ON_FACES`: what a design draws on.
FACES: Words = {"front": "front", "back": "back", "round": "all the way round"}
ON_FACES: Words = {"front": "the front", "back": "the back", "round": "all the way round"}
PANELS: Words = {**FACES, "front and back": "front and back in one"}

# A face, or a piece seen in the round by the side that is turned to the eye: the same words on
# pages and paper, in each customer's language.
VIEWS: Words = {
    "front": to_say("Front"),
    "left": to_say("Left side"),
    "right": to_say("Right side"),
    "closure": to_say("Back, where it closes"),
    "back": to_say("Back"),
    "round": to_say("All the way round"),
}

# What a blank is, and its hidden strips, for the maker.
CONSTRUCTIONS: Words = {
    "wrap": "wrap: one flat piece, closed by hook-and-loop",
    "fold": "fold: pressed flat, folded, sewn at both sides, turned",
    "sewn": "sewn: already sewn, two faces",
    "flat": "flat: one face",
}
ZONES: Words = {
    "closure": "closure (hidden where it closes)",
    "seam": "seam allowance",
    "fold": "fold at the bottom",
    "hem": "hem",
    "base": "base (under the can)",
    "gap": "gap (no ink can reach)",
    "hole": "hole",
}

# Where a picture would lie in a zone, what that is called, and what would happen to letters there.
IN_ZONES: Words = {
    "closure": "under the closure",
    "seam": "in the seam",
    "gap": "where no ink can reach",
    "hole": "where the hole is punched",
    "fold": "on the fold",
    "hem": "in the hem",
    "base": "under the can",
}
STRIPS: Words = {
    "closure": "the closure",
    "seam": "the seam",
    "gap": "the strip that no ink reaches",
    "hole": "the hole",
    "fold": "the fold",
    "hem": "the hem",
    "base": "the part that lies under the can",
}
LETTERS_IN_ZONES: Words = {
    "closure": "under the closure, which hides them",
    "seam": "in the seam, where they are sewn in",
    "gap": "where no ink can reach",
    "hole": "where the hole is punched",
    "fold": "on the fold, where they turn round the bottom",
    "hem": "in the hem, where the cloth is turned in",
    "base": "under the can, where nobody looks",
}

# What is written on a drawing of a blank: the same words on page, paper and sheet, in each reader's
# language.
ON_DRAWINGS: Words = {
    "edge": to_say("Edge of the cloth"),
    "safe": to_say("Words and faces stay inside this line"),
    "closure": to_say("Hidden where it closes"),
    "seam": to_say("Inside the seam"),
    "fold": to_say("Fold at the bottom"),
    "hem": to_say("Turned over at the opening"),
    "base": to_say("Under the can"),
    "gap": to_say("No ink reaches here"),
    "hole": to_say("Punched hole"),
    "middle": to_say("Middle of the front"),
    "front": to_say("Front"),
    "back": to_say("Back, upside down until it is folded"),
}

# What customers call a piece whose maker gave it no name, and its cloth.
PIECES: Words = {
    "wrap": to_say("Wrap sleeve"),
    "slim": to_say("Slim wrap sleeve"),
    "tall": to_say("Tall wrap sleeve"),
    "fold": to_say("Folded sleeve"),
    "sewn": to_say("Sewn sleeve"),
    "rectangle": to_say("Flat piece"),
    "rounded": to_say("Flat piece with round corners"),
    "round": to_say("Round piece"),
}
FINISH_WORDS: Words = {
    "linen-look": to_say("linen-look"),
    "foam": to_say("foam"),
    "smooth": to_say("smooth"),
}
# The names and colours that built-in blanks have, for other languages; a maker's own stay as
# they are.
BUILT_IN = (
    to_say("Wrap sleeve, linen-look"),
    to_say("Wrap sleeve, foam"),
    to_say("Slim wrap sleeve, linen-look"),
    to_say("Tall wrap sleeve, linen-look"),
    to_say("Folded sleeve, smooth"),
    to_say("Folded sleeve, linen-look"),
    to_say("Folded sleeve, foam"),
    to_say("Sewn sleeve, linen-look"),
    to_say("Sewn sleeve, foam"),
    to_say("Flat pouch, linen-look"),
    to_say("Round coaster"),
)
CLOTHS = (
    to_say("white"),
    to_say("natural"),
    to_say("sky"),
    to_say("mint"),
    to_say("coral"),
    to_say("sand"),
    to_say("grey"),
)
