"""What a customer asked for in their order slip, to stand beside what is printed."""

from __future__ import annotations

from datetime import datetime

from proofgen.model import Shop
from proofgen.model.blank_names import called_in, cloths_in
from proofgen.model.terms_document import OrderedSlip, OrderedWords
from proofgen.say.tongue import Tongue
from proofgen.signoff.order_slip import OrderPayload


def ordered_of(slip: OrderPayload, shop: Shop, tongue: Tongue) -> OrderedSlip:
    """A slip in the names that customers read; what the shop has no longer is called as the slip
    has it."""
    design, blank = shop.designs.get(slip["design"]), shop.blanks.get(slip["blank"])
    cloths = zip(blank.cloth.colours, cloths_in(blank, tongue), strict=True) if blank else ()
    called = {name: said for name, (said, _) in cloths}
    typed = {slot: [text] for slot, text in slip.get("words", {}).items()} | slip.get("lists", {})
    slots = [*(design.slots("words") if design else ()), *typed]
    ordered: OrderedSlip = {
        "day": datetime.fromisoformat(slip["time"]).date().isoformat(),
        "design": design.title if design else slip["design"],
        "blank": called_in(blank, tongue) if blank else slip["blank"],
        "cloth": called.get(slip["cloth"], slip["cloth"]),
        "quantity": slip["many"],
        "words": [
            OrderedWords(label=design.label(slot) if design else slot, texts=[*typed[slot]])
            for slot in dict.fromkeys(slots)
            if slot in typed
        ],
    }
    if note := slip.get("note", "").strip():
        ordered["note"] = note
    return ordered
