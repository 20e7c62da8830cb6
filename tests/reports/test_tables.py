"""Photos, orders and blanks as text, from their documents."""

from __future__ import annotations

from proofgen.reports import blanks_text, look_text, orders_text

F = {"check": "a/b", "code": "c", "measure": None, "limit": None}


def test_look():
    document = {
        "schema": "proofgen/look/1",
        "photo": {"file": "pier.jpg", "format": "JPEG", "width_px": 1600, "height_px": 1200},
        "fits": [
            {"blank": "can-wrap", "face": "round", "width_mm": 252.0, "height_mm": 112.0,
             "ppi": 161.27, "verdict": "soft", "sharp_width_mm": 203.2, "sharp_height_mm": 90.3,
             "largest_zoom": None, "needs_width_px": 1985, "needs_height_px": 882},
            {"blank": "coaster", "face": "front", "width_mm": 9.5, "height_mm": 9.5,
             "ppi": 1604.2, "verdict": "poor", "sharp_width_mm": 76.2, "sharp_height_mm": 76.2,
             "largest_zoom": 8.02, "needs_width_px": 75, "needs_height_px": 75},
            {"blank": "banner", "face": "front", "width_mm": 900.0, "height_mm": 600.0,
             "ppi": 119.9, "verdict": "coarse", "sharp_width_mm": 539.5, "sharp_height_mm": 359.7,
             "largest_zoom": None, "needs_width_px": 7087, "needs_height_px": 4725},
        ],
        "findings": [
            {**F, "status": "note", "where": "pier.jpg", "says": "It was turned.", "cure": ""},
            {**F, "status": "warn", "where": "", "says": "It is dim.", "cure": "Ask for light."},
            {**F, "status": "pass", "where": "", "says": "It opens.", "cure": ""},
        ],
    }  # fmt: skip
    assert (
        look_text(document)
        == """\
pier.jpg: JPEG, 1,600 × 1,200 pixels

  can-wrap  all the way round  252 × 112 mm    161 ppi  few pixels             needs 1,985 × 882
  coaster   front              9.5 × 9.5 mm  1,604 ppi  enough, but see below  up to zoom 8.02
  banner    front              900 × 600 mm    119 ppi  too few pixels         needs 7,087 × 4,725

  ppi: pixels per printed inch. Zoom: how far in a part of it can be shown and still has
  enough pixels. Needs: the pixels to ask for.

  · note    pier.jpg
            It was turned.

  ▲ warn    It is dim.
            → Ask for light."""
    )


def test_look_says_the_rest_in_a_sentence():
    """Of a shop that has blanks of its own, those alone stand in rows."""

    def fit(blank, verdict):
        return {
            "blank": blank,
            "face": "front",
            "width_mm": 96.0,
            "height_mm": 96.0,
            "ppi": 238.1,
            "verdict": verdict,
            "largest_zoom": 1.19,
            "needs_width_px": 756,
            "needs_height_px": 756,
            "sharp_width_mm": 114.0,
            "sharp_height_mm": 114.0,
        }

    photo = {"file": "a.jpg", "format": "JPEG", "width_px": 900, "height_px": 1200}
    fits = [fit("mine", "good"), fit("one", "good"), fit("two", "soft"), fit("two", "good")]
    fits.append(fit("three", "coarse"))
    document = {"schema": "proofgen/look/1", "photo": photo, "fits": fits, "findings": []}
    told = look_text(document, {"mine"})
    assert "  mine  front" in told and "\n  one" not in told
    whole = " ".join(told.split())
    assert "Of 3 more built-in blanks, 2 have a face on which it has enough pixels." in whole
    assert "\n  one" in look_text(document) and "more built-in" not in look_text(document)


def test_look_at_what_is_no_photo():
    photo = {"file": "a\x1b.jpg", "format": "", "width_px": 0, "height_px": 0}
    stop = {**F, "status": "stop", "where": "a.jpg", "says": "It is empty.", "cure": ""}
    told = look_text({"photo": photo, "fits": [], "findings": [stop]})
    assert told.startswith("a⟨U+001B⟩.jpg: not a photo we can use\n") and "It is empty." in told


def test_orders():
    document = {
        "schema": "proofgen/orders/1",
        "orders": [
            {"order": "fenn", "state": "out", "customer": "Gerda\x1b[2J", "due": "2026-12-04",
             "days_left": 9, "waits_for": "customer", "waits_since": "2026-11-12",
             "forget_since": None, "edition": 2, "fingerprint": "", "link": "",
             "next": "Wait for the answer until 4 December.", "words": [],
             "asked": ["name, piece 2: “Odalis” → “Odalys”"], "why": [], "told": [], "since": [],
             "earlier": [], "unmarked": "Of the 4 texts no spelling was ticked on the page.",
             "clear": "site/p/secret/"},
            {"order": "lamp", "state": "pressed", "customer": "", "due": "2026-11-24",
             "days_left": -1, "waits_for": "maker", "waits_since": None, "edition": 1,
             "forget_since": None, "fingerprint": "", "link": "", "next": "Hand it over.",
             "words": [], "asked": [], "why": [], "told": [], "since": [], "earlier": [],
             "unmarked": "", "clear": ""},
            {"order": "quill", "state": "handed over", "customer": "Maren", "due": "2026-11-20",
             "days_left": None, "waits_for": "", "waits_since": None, "forget_since": "2026-11-24",
             "edition": 0, "fingerprint": "",
             "link": "", "next": "", "words": ["with y\nplease\x1b[2J"],
             "asked": [], "why": [], "told": [], "since": [], "earlier": [],
             "unmarked": "", "clear": ""},
        ],
    }  # fmt: skip
    assert (
        orders_text(document)
        == """\
out          fenn, proof 2  due 4 December 2026, in 9 days
    Waits for Gerda⟨U+001B⟩[2J since 12 November 2026. Wait for the answer until 4
    December.
    Still at your host, unless you cleared it: upload site/p/secret/ and delete its
    other files there; then: proofgen orders --cleared fenn
    To change: name, piece 2: “Odalis” → “Odalys”
    Of the 4 texts no spelling was ticked on the page.
pressed      lamp, proof 1  due 24 November 2026, 1 day late
    Waits for you. Hand it over.
handed over  quill
    The customer wrote: “with y / please⟨U+001B⟩[2J”
The days of keep: are over for quill. Next: proofgen forget quill"""
    )
    assert "proofgen order" in orders_text({"orders": []})


def test_one_blank():
    face = {"x_mm": 22.916, "y_mm": 0.0, "width_mm": 217.084, "height_mm": 100.0}
    document = {
        "schema": "proofgen/blank/1", "name": "Can wrap", "title": "Can wrap",
        "construction": "wrap", "allowance": None,
        "width_mm": 240.0, "height_mm": 100.0, "way_round_mm": 217.084, "overlap_mm": 22.916,
        "faces": [{"name": "round", **face, "turn_deg": 0, "centre_x_mm": 131.458}],
        "zones": [{"kind": "closure", "face": "round", "x_mm": 0.0, "y_mm": 0.0,
                   "width_mm": 22.916, "height_mm": 100.0}],
    }  # fmt: skip
    assert (
        blanks_text(document)
        == """\
Can wrap
  wrap: one flat piece, closed by hook-and-loop
  240 × 100 mm finished (after the press)
  way round 217.1 mm
  ends overlap by 22.9 mm
  faces, mm from the top left, print side up
    round  from 22.9, 0  217.1 × 100 mm  centre 131.5 mm
  zones, mm from the top left, print side up
    closure (hidden where it closes)  from 0, 0  22.9 × 100 mm  on the round"""
    )


def test_list_of_blanks():
    row = {"construction": "flat", "width_mm": 90.0, "height_mm": 100.5}
    told = blanks_text({"blanks": [{"name": "coaster", "title": "Coaster", **row}]})
    assert told == "coaster  Coaster  flat  90 × 100.5 mm"
