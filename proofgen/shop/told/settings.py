"""What the lines of shop.yaml are for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields

from proofgen.model import Limits
from proofgen.shop.limits_reader import KINDS, key_of, usual_text
from proofgen.shop.told.line import LineTold, needed

_LIMITS = {
    f"limits.{key_of(one.name)}": LineTold(
        f"{one.metadata['says']}; {KINDS[one.name].span}",
        usual_text(one.name)[1],
        usual_text(one.name)[1],
    )
    for one in fields(Limits)
}

SETTINGS: Mapping[str, LineTold] = {
    "name": needed("what your shop is called, on everything", "Tern Row Press Room"),
    "contact": needed("the mail address that answers come to", "hello@example.org"),
    "telephone": LineTold("the number where customers can read out a code", '"+353 20 913 0148"'),
    "keep": LineTold("how long a customer’s photos are kept after hand-over", "90 days"),
    "language": LineTold("what pages, dates and sums are in", "de", "en"),
    "zone": LineTold("your time zone: when a day begins and ends", "Europe/Dublin", "UTC"),
    "currency": LineTold("of all prices, by its code of three letters", "GBP", "EUR"),
    "site": LineTold("where you upload `site/`; letters link to it", "https://example.org"),
    "theme": LineTold("the look of your pages: quay (calm) or kite (festive)", "kite", "quay"),
    "wordmark": LineTold("your name as a drawing, an SVG file in the shop’s folder", "name.svg"),
    "models": LineTold(
        "no: pages lead to no model of a piece, even where it can be made", "no", "yes"
    ),
    "season": LineTold("the season that is shown, whatever the day", "winter"),
    "paper": LineTold("the papers you have: names, or sizes of your own", "[A4, A3]", "[A4]"),
    "paper.name": needed("what you call a paper of your own", "roll"),
    "paper.width": needed("how wide it is", "610 mm"),
    "paper.height": LineTold("how long it is; left out, it is a roll", "900 mm"),
    "printer.ppi": LineTold("pixels for each printed inch", "150", "300"),
    "printer.margin": LineTold("the edge your printer cannot reach", "4 mm", "5 mm"),
    "printer.scale.x": LineTold(
        "what the printed 100 mm ruler measures, across", "99.5 %", "100 %"
    ),
    "printer.scale.y": LineTold("the same, down", "99.5 %", "100 %"),
    "printer.profile": LineTold(
        "what to choose in the printer’s dialog; it stands on the sheets", "Sublimation matt"
    ),
    "printer.side": LineTold(
        "which side of the paper is printed; it stands on the sheets", "the white side"
    ),
    "printer.icc": LineTold("its profile, a file in the shop’s folder", "printer.icc"),
    "platen.width": LineTold("of the hot plate of your press", "400 mm", "380 mm"),
    "platen.height": LineTold("of the same", "500 mm", "380 mm"),
    "cover": LineTold("paper beyond the blank, at each side", "8 mm", "10 mm"),
    **_LIMITS,
    "days.answer": LineTold("how many days a customer has to answer a proof", "7", "5"),
    "days.lead": LineTold("days from the answer to the parcel", "14", "10"),
    "spares": LineTold("share of blanks that may spoil; the ticket adds them", "8 %", "5 %"),
    "evening.warm_up": LineTold("warming up and laying out", "12 min", "10 min"),
    "evening.change": LineTold("each change of heat", "6 min", "5 min"),
    "evening.handling": LineTold("changing blanks, at each pressing", "40 s", "45 s"),
    "evening.minutes": LineTold("how many minutes an evening has", "120", "180"),
    "rates.minute": LineTold("what a minute at the press costs you", "0.40"),
    "rates.sheet.*": LineTold("what a sheet of this paper costs you; of a roll: a metre", "0.18"),
    "store": LineTold("how much room memory of work done may take", "1 GB", "2 GB"),
    "today": LineTold("a day that is taken for today, for trying things out", "2026-11-25"),
    "demo": LineTold("yes: this shop is invented, and its keys are for show", "yes", "no"),
}
