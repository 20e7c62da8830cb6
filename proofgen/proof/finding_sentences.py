"""The sentence in which a customer is told of each finding, by check and code.

`tests/proof/test_customer_findings.py` holds that every code of every check has one here, or a
reason there why it has none. {known} is how the same is written elsewhere, as a finding measured.
"""

from __future__ import annotations

from collections.abc import Mapping

from proofgen.say.tongue import to_say

_LESS_DETAIL = to_say(
    "Your photo holds less detail than its size promises: it may look a little soft."
)
_SHAKEN = to_say("Your photo looks a little shaken. Please look at it at its real size.")
_A_LITTLE_SHAKEN = to_say("Your photo looks a little shaken.")
_BLURRED = to_say("No part of your photo is sharp: it will look blurred.")
_MOSTLY_DARK = to_say("Most of your photo is dark: on cloth its dark parts run together.")
_VERY_DARK = to_say("Your photo is very dark: on cloth little of it will be seen.")
_SQUEEZED = to_say(
    "Your photo was made small on its way, as messengers do; little blocks may show in skies "
    "and around faces."
)

SAYS: Mapping[str, str] = {
    # The order
    "order/list-length:differs": to_say(
        "The list does not have as many names as there are pieces. Please look at both numbers."
    ),
    "order/as-ordered:design": to_say(
        "This is not the design that you ordered. Please look at what you ordered."
    ),
    "order/as-ordered:blank": to_say(
        "This is not the piece that you ordered. Please look at what you ordered."
    ),
    "order/as-ordered:cloth": to_say(
        "The cloth has not the colour that you ordered. Please look at what you ordered."
    ),
    "order/as-ordered:quantity": to_say(
        "There are not as many pieces as you ordered. Please look at what you ordered."
    ),
    "words/ordered:differs": to_say("When you ordered, you wrote “{known}”."),
    "words/ordered:lacking": to_say("You ordered these words, and they stand on no piece."),
    "words/ordered:more": to_say(
        "More words are not as you ordered them. Please look at what you ordered."
    ),
    "layout/face-there:lacking": to_say(
        "One side of this design has no place on this piece and is not pressed."
    ),
    "photo/present:no-photo": to_say(
        "A place for a photo is still empty. As it is shown here, the cloth stays bare there."
    ),
    "words/empty:no-words": to_say(
        "A place for words is still empty. As it is shown here, the cloth stays bare there."
    ),
    # A photo's file
    "photo/readable:missing": to_say("A photo of yours has not reached us yet."),
    "photo/readable:unreadable": to_say("Your photo has come, but we cannot open it."),
    "photo/readable:slow": to_say("Your photo has come, but it takes too long to open."),
    "photo/readable:empty": to_say("Your photo came as an empty file."),
    "photo/readable:not-a-picture": to_say("What came in place of your photo is no picture."),
    "photo/readable:too-big": to_say("Your photo is larger than we can open."),
    "photo/readable:damaged": to_say(
        "Your photo may look whole on your screen, but its file is damaged or ends too early."
    ),
    "photo/readable:unsupported": to_say("Your photo is of a kind that we cannot open."),
    "photo/readable:unusable": to_say("Your photo has come, but we cannot use it."),
    "photo/frames:several": to_say("Your file holds several pictures; this is the first of them."),
    "photo/orientation:turned": to_say("Your photo was stored sideways; we turned it."),
    "photo/orientation:mirrored": to_say(
        "Your photo was stored as in a mirror, and we turned it round. If there is writing in it, "
        "please look whether it reads the right way."
    ),
    "photo/location:location": to_say(
        "Your photo's file says where it was taken. Nothing that we print or show carries that."
    ),
    "photo/location:private": to_say(
        "Your photo's file carries details beside the picture, such as when it was taken or with "
        "which camera. Nothing that we print or show carries them."
    ),
    "photo/clear-areas:clear": to_say(
        "Where your picture is see-through, no ink goes and the cloth stays bare."
    ),
    "photo/profile:converted": to_say(
        "Very strong colours of your photo may come out a little calmer."
    ),
    "photo/profile:broken-profile": to_say(
        "Your photo does not say quite clearly which colours it means. Please look at them here."
    ),
    "photo/profile:four-inks": to_say(
        "Your photo was saved for printing on paper, so its colours may come out differently from "
        "those you know."
    ),
    "photo/strong-colours:clipped": to_say(
        "Some colours of your photo are stronger than ink can be; they come out a little calmer."
    ),
    "photo/jpeg-quality:strongly-compressed": _SQUEEZED,
    "photo/compressed-before:squeezed": _SQUEEZED,
    "photo/compressed-before:rather-squeezed": _SQUEEZED,
    # How sharp it is
    "photo/effective-resolution:too-coarse": to_say(
        "Your photo is too small for this piece: it will look coarse."
    ),
    "photo/effective-resolution:soft": to_say(
        "Your photo is a little small for this piece: it may look soft."
    ),
    "photo/blur:beyond-use": _BLURRED,
    "photo/blur:blurred": _BLURRED,
    "photo/blur:no-edge": to_say("Nothing in your photo has a clear edge: it will look blurred."),
    "photo/blur:under-grain": to_say(
        "Your photo is grainy, and no part of it is sharp: it will look blurred."
    ),
    "photo/blur:soft": to_say("Your photo is a little soft. Please look at it at its real size."),
    "photo/blur:one-way": to_say(
        "Your photo looks as if the camera had moved. If that is meant, all is well."
    ),
    "photo/blur:shaken": _SHAKEN,
    "photo/blur:moved": _SHAKEN,
    "photo/blur:soft-throughout": to_say(
        "Nothing in your photo has a sharp edge, as in clouds or mist. If that is meant, all is "
        "well."
    ),
    "photo/blur:soft-part": to_say(
        "The part of your photo that is shown is soft; other parts of it are sharp."
    ),
    "photo/blur:beside": to_say(
        "Only what stands near the sides of your photo is sharp. Please look at the rest at its "
        "real size."
    ),
    "photo/enlarged:enlarged": to_say(
        "Your photo seems to have been made larger before it came to us: it may look soft."
    ),
    "photo/enlarged:resized": to_say(
        "Your photo seems not to be quite as the camera took it: it may look soft."
    ),
    "photo/enlarged:repeated": to_say(
        "Your photo seems to have been made larger before it came to us: little squares may show."
    ),
    "photo/enlarged:zoomed": _LESS_DETAIL,
    "photo/enlarged:made-larger": _LESS_DETAIL,
    "photo/enlarged:digital-zoom": to_say(
        "Your camera zoomed in by enlarging the picture, so your photo may look a little soft."
    ),
    # Its light
    "photo/exposure:nearly-black": _VERY_DARK,
    "photo/exposure:too-dark": _VERY_DARK,
    "photo/exposure:dark": _MOSTLY_DARK,
    "photo/exposure:dim": _MOSTLY_DARK,
    "photo/exposure:too-pale": to_say(
        "Your photo is very pale: on cloth little of it will be seen."
    ),
    "photo/exposure:pale": to_say(
        "Most of your photo is very light: on cloth its pale parts hardly show."
    ),
    "photo/exposure:flat": to_say(
        "Light and dark hardly differ in your photo: on cloth it will look like one even patch."
    ),
    "photo/exposure:plain-surface": to_say(
        "Light and dark hardly differ in your photo: on cloth it will look nearly even."
    ),
    "photo/exposure:dull": to_say(
        "Light and dark differ little in your photo, and on cloth a little less."
    ),
    "photo/exposure:bare": to_say(
        "A large part of your photo is plain white. No ink goes there: the cloth stays bare."
    ),
    "photo/exposure:black": to_say(
        "A large part of your photo is plain black, and nothing can be made out there."
    ),
    "photo/screenshot:screenshot": to_say(
        "Your picture looks like one of a telephone's screen, with the small signs along its top."
    ),
    "photo/screenshot:of-a-screen": to_say(
        "Your photo seems to be a picture of a screen: a fine grid lies all over it, and may show "
        "in print."
    ),
    "photo/screenshot:bars": to_say(
        "Your picture has plain bars along its sides; they are pressed with it."
    ),
    "photo/old-print:grainy": to_say(
        "Your photo has some grain, as film and old prints have it; it is pressed with it."
    ),
    "photo/old-print:blotchy": to_say(
        "Little blotches of colour lie over your photo, as in weak light. Please look at it at its "
        "real size."
    ),
    "photo/old-print:haloed": to_say(
        "Light and dark rims run along edges in your photo; they are pressed with it."
    ),
    "photo/old-print:smeared": to_say(
        "Fine texture was smoothed away in your photo, so that skin, hair or grass may look "
        "painted. Please look at it at its real size."
    ),
    "photo/old-print:toned": to_say(
        "A warm tint lies over all of your photo, as on old prints. If you like it so, all is well."
    ),
    "photo/old-print:filtered": to_say(
        "Your photo has the tints of a filter, one in its light parts and another in its dark "
        "ones. If that is meant, all is well."
    ),
    "photo/old-print:around-print": to_say(
        "Your photo shows a print or card with its border or what it lay on; that is pressed with "
        "it."
    ),
    "photo/old-print:edge-line": to_say(
        "A thin plain line runs along a side of your photo; it may be pressed with it."
    ),
    # Where the photo lies
    "layout/focus:hidden": to_say(
        "What seems to be the main thing in your photo comes to lie where it is hidden or folded."
    ),
    "layout/focus:cut-off": to_say(
        "What seems to be the main thing in your photo is cut off at the edge."
    ),
    "layout/faces:hidden": to_say("A face comes to lie where it is hidden or folded."),
    "layout/faces:cut": to_say("A face is cut by an edge or a seam."),
    "layout/faces:outside": to_say("A face of your photo lies outside what is shown."),
    "layout/faces:behind": to_say("A face lies behind words, or behind what is drawn over it."),
    "layout/faces:not-looked": to_say(
        "We looked at the size, the sharpness and the light of your photo, but not for faces. "
        "Please look yourself whether a face is cut or covered."
    ),
    "layout/faces:way-up-unknown": to_say(
        "Is your photo the right way up, and is no face cut or covered? Please look yourself: its "
        "file does not tell which way up it is, and we did not look for faces."
    ),
    "layout/faces:lying": to_say(
        "Your photo seems to lie on its side or to stand on its head. If that is not meant, tell "
        "us, and we turn it upright."
    ),
    "layout/base:under": to_say(
        "The lowest part of your photo comes to lie under the can, where nobody sees it."
    ),
    "layout/base:busy": to_say(
        "A good part of what your photo shows comes to lie under the can. Please look at the "
        "lowest part of your photo."
    ),
    "layout/across-seam:line": to_say(
        "The picture goes all the way round, and a thin bare line stays at the seams."
    ),
    "layout/across-seam:meets": to_say(
        "The picture goes all the way round and meets in the seams at the sides; sewing may shift "
        "it there by a millimetre."
    ),
    "layout/join:meets": to_say(
        "Where the ends close, one end of your photo lies hidden under the other; the picture does "
        "not run on there."
    ),
    "layout/join:covered": to_say(
        "Where the ends meet, a strip closes them: what of your photo lies under it is not seen."
    ),
    "layout/join:busy": to_say(
        "Where the ends close, a good part of what your photo shows is hidden or cut. Please look "
        "at that side."
    ),
    "layout/pattern:does-not-meet": to_say(
        "The pattern does not quite meet itself where the ends close."
    ),
    "layout/pattern:both-upright": to_say(
        "The pattern stands upright on the front and on the back; at the bottom it does not run on."
    ),
    "layout/pattern:may-shift": to_say(
        "The pattern meets itself in the seams at the sides; sewing may shift it there by a "
        "millimetre."
    ),
    # Where the words lie
    "layout/safe:near-edge": to_say("These words come very close to the edge."),
    "layout/safe:near-hidden": to_say("These words come very close to a part that is not seen."),
    "layout/safe:near-hole": to_say("These words come very close to the hole."),
    "layout/safe:off-edge": to_say("These words run over the edge, and a part of them is lost."),
    "layout/zones:in-closure": to_say("A part of these words is hidden where the piece closes."),
    "layout/zones:in-seam": to_say("A part of these words is sewn into the seam and hidden."),
    "layout/zones:in-gap": to_say("A part of these words lies where no ink can reach."),
    "layout/zones:in-hole": to_say("A part of these words lies where the hole is."),
    "layout/zones:in-fold": to_say("These words lie on the fold and turn round the bottom."),
    "layout/zones:in-hem": to_say("A part of these words is turned in at the hem and hidden."),
    "layout/zones:in-base": to_say("A part of these words lies underneath, where nobody looks."),
    # How the words look
    "layout/words-fit:too-long": to_say("These words are too long for their place."),
    "layout/words-fit:made-smaller": to_say("These words are set smaller so that they fit."),
    "words/letter-height:small": to_say(
        "These letters are small and may be hard to read on cloth."
    ),
    "words/letter-height:tiny": to_say(
        "These letters are so small that cloth can hardly show them."
    ),
    "words/missing-letters:missing": to_say(
        "The typeface of this design lacks a letter of these words: it is not printed. Its place "
        "stays empty, or an empty box stands there, as the pictures show."
    ),
    "words/contrast:weak": to_say("These words are hard to read on this cloth."),
    "words/contrast:vanishing": to_say(
        "These words have nearly the colour of what is behind them and can hardly be seen."
    ),
    # How the words are written
    "words/hidden-characters:control": to_say("These words hold a sign that nobody can see."),
    "words/hidden-characters:direction": to_say(
        "These words hold a hidden sign that turns the direction of writing."
    ),
    "words/hidden-characters:invisible": to_say("These words hold a sign that nobody can see."),
    "words/hidden-characters:private": to_say(
        "These words hold a sign that only some programs know."
    ),
    "words/hidden-characters:unassigned": to_say("These words hold a sign that does not exist."),
    "words/hidden-characters:stacked-marks": to_say(
        "A letter of these words carries more accents than any language asks."
    ),
    "words/hidden-characters:double-space": to_say(
        "These words have two spaces in a row. If that is meant, all is well."
    ),
    "words/hidden-characters:stray-space": to_say(
        "These words have a space where none seems to belong. If it is meant, all is well."
    ),
    "words/look-alikes:mixed": to_say(
        "One of these words mixes letters of two alphabets that look alike."
    ),
    "words/look-alikes:other-alphabet": to_say(
        "One of these words is written in another alphabet than it seems."
    ),
    "words/look-alikes:odd-form": to_say("These words hold letters of an unusual form."),
    "words/look-alikes:digit": to_say(
        "Here a digit stands among letters, or a letter among digits, that looks like its "
        "neighbours. Please look which is meant."
    ),
    "words/quotes:unclosed": to_say(
        "A quotation mark or bracket opens here, and nothing closes it."
    ),
    "words/quotes:unopened": to_say(
        "A quotation mark or bracket closes here, and nothing opened it."
    ),
    "words/quotes:turned-apostrophe": to_say("An apostrophe seems to be turned the wrong way."),
    "words/quotes:accent": to_say("An accent stands where an apostrophe seems to belong."),
    "words/repeated:twice": to_say("This name stands on more than one piece."),
    "words/repeated:alike": to_say("Two names differ only in an accent or a hyphen."),
    "words/sample:unchanged": to_say(
        "Please look whether these words are yours: they are those of our sample."
    ),
    "words/names:customer": to_say(
        "Your own name is written “{known}” with us. If this is meant to be it, please look which "
        "of the two is right."
    ),
    "words/names:accents": to_say(
        "Elsewhere in this order the name is written “{known}”. Please look whether both are right."
    ),
    "words/weekday:mismatch": to_say("The day of the week does not go with the date."),
    "words/weekday:no-such-day": to_say("The calendar has no such day."),
}

# The same in a letter, where no page shows the photo and the maker looked at it already.
IN_A_LETTER: Mapping[str, str] = {
    "photo/blur:soft": to_say("Your photo is a little soft."),
    "photo/blur:one-way": to_say("Your photo looks as if the camera had moved."),
    "photo/blur:shaken": _A_LITTLE_SHAKEN,
    "photo/blur:moved": _A_LITTLE_SHAKEN,
    "photo/blur:beside": to_say("Only what stands near the sides of your photo is sharp."),
    "photo/blur:soft-throughout": to_say(
        "Nothing in your photo has a sharp edge, as in clouds or mist."
    ),
    "photo/old-print:blotchy": to_say(
        "Little blotches of colour lie over your photo, as in weak light."
    ),
    "photo/old-print:smeared": to_say(
        "Fine texture was smoothed away in your photo, so that skin, hair or grass may look "
        "painted."
    ),
    "photo/old-print:toned": to_say("A warm tint lies over all of your photo, as on old prints."),
    "photo/old-print:filtered": to_say(
        "Your photo has the tints of a filter, one in its light parts and another in its dark ones."
    ),
}
