"""What the lines of an order are for, and of the list beside it."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen.shop.told.line import LineTold, needed

ORDER: Mapping[str, LineTold] = {
    "customer": LineTold("who it is for; `none`: samples and stock of your own", "none"),
    "customer.name": needed("their name, as letters and proof say it", "Odalys Fenn"),
    "customer.email": LineTold("their mail address", "odalys@fenn.example"),
    "customer.language": LineTold("what their pages and letters are in", "de"),
    "due": LineTold("the day it must be ready", "2026-12-18"),
    "draft": LineTold("yes: it is not finished, and no proof is made", "yes", "no"),
    "paid": LineTold("what is paid already; the letter says what is left", "20.00"),
    "postage": LineTold("what sending costs, on the bill", "4.50"),
    "discount": LineTold("what is taken off the pieces, as money or as a share", "10 %"),
    "note": LineTold("a sentence of yours under the bill", "Collected at the stall"),
    "rights.print": LineTold("whether you may print their pictures", "yes"),
    "rights.show": LineTold("whether the work may be shown to others", "no"),
    "lines": needed("what is wanted: one entry for each design on each blank", ""),
    "lines.design": needed("a folder in `designs/`", "sample"),
    "lines.blank": needed("a blank that the design is offered on", "can-wrap-linen"),
    "lines.cloth": needed("the colour of its cloth", "white"),
    "lines.quantity": LineTold("how many pieces; with a list, its rows", "2"),
    "lines.price": LineTold("the price of one piece agreed on here, not the design’s", "12.00"),
    "lines.discount": LineTold(
        "what is taken off this line’s pieces, before the order’s own discount", "2.00"
    ),
    "lines.note": LineTold("a few words beside it on the bill", "as last year"),
    "lines.photos.*": LineTold("the photo for a slot of the design", "photos/pier.png"),
    "lines.photos.*.file": needed(
        "the photo’s file, seen from the order’s folder", "photos/pier.png"
    ),
    "lines.photos.*.focus": LineTold(
        "the point that stays in the middle, as shares from left and top; `auto`: chosen anew",
        "[0.5, 0.4]",
    ),
    "lines.photos.*.zoom": LineTold("how much nearer than the whole photo", "1.2", "1"),
    "lines.photos.*.turn": LineTold("degrees clockwise by which the photo is turned", "90", "0"),
    "lines.photos.*.size": LineTold(
        "how wide it is printed, or width and height; left out, it fills its place. Round it the "
        "design's own ground shows, else bare cloth",
        "80 mm",
    ),
    "lines.words.*": LineTold("the words for a slot of the design", '"Odalys & Bram"'),
    "lines.list": LineTold("a table of names, one piece a row", "guests.csv"),
}

GUESTS: Mapping[str, LineTold] = {
    "*": LineTold(
        "A column called like a slot of the design fills it, piece by piece; any other goes to "
        "the ticket, the contact sheet and the name tags",
        "guest,table",
    ),
}
