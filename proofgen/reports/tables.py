"""How photos, orders and blanks read in a terminal; each from its JSON document."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date

from proofgen.model import FindingDocument
from proofgen.model.documents import (
    BlankDocument,
    BlanksDocument,
    FaceEntry,
    Fit,
    LookDocument,
    LookVerdict,
    OrdersDocument,
    StandingEntry,
    ZoneEntry,
)
from proofgen.reports.allowance import allowance_sentences
from proofgen.reports.lines import STYLES, columns, since_lines, wrapped
from proofgen.say import joined, number, plural, quoted_whole, sentences, visible
from proofgen.say.local import say_date
from proofgen.say.parts import CONSTRUCTIONS, FACES, ZONES

_VERDICTS: dict[LookVerdict, str] = {
    "good": "enough pixels",
    "soft": "few pixels",
    "coarse": "too few pixels",
    "poor": "enough, but see below",
}


def _size(row: BlankDocument | FaceEntry | Fit | ZoneEntry, places: int = 1) -> str:
    return f"{number(row['width_mm'], places)} × {number(row['height_mm'], places)} mm"


def _ppi(value: float) -> str:
    """Whole pixels per inch, rounded down: 199.9 is not 200."""
    return f"{int(value):,} ppi"


def _room(fit: Fit) -> str:
    """How much more, or how much too little: the largest zoom, or the pixels to ask for."""
    if fit["largest_zoom"]:
        return f"up to zoom {number(fit['largest_zoom'], 1 if fit['largest_zoom'] >= 10 else 2)}"
    return f"needs {fit['needs_width_px']:,} × {fit['needs_height_px']:,}"


def _legend(fits: Sequence[Fit]) -> list[str]:
    """What the table's short words mean, as far as they stand in it."""
    says = ["ppi: pixels per printed inch."]
    if any(fit["largest_zoom"] for fit in fits):
        says.append("Zoom: how far in a part of it can be shown and still has enough pixels.")
    short = [fit for fit in fits if not fit["largest_zoom"]]
    if short:
        says.append("Needs: the pixels to ask for.")
    if len(short) == 1 and short[0]["face"] != "round":  # a way round is what it is
        whole = (int(short[0]["sharp_width_mm"]), int(short[0]["sharp_height_mm"]))
        says.append(f"As it is it has enough for {whole[0]:,} × {whole[1]:,} mm.")
    return wrapped(" ".join(says), "  ")


def _others(rest: Sequence[Fit]) -> list[str]:
    """What is told of the blanks that the shop does not use."""
    named = dict.fromkeys(fit["blank"] for fit in rest)
    enough = {fit["blank"] for fit in rest if fit["verdict"] == "good"}
    says = (
        f"Of {len(named)} more built-in blanks, {len(enough)} have a face on which it has enough "
        "pixels. One of them: proofgen look PHOTO --blank NAME; `proofgen blanks` lists them."
    )
    return ["", *wrapped(says, "  ")]


def look_text(document: LookDocument, used: Collection[str] = ()) -> str:
    """A photo on blanks, from `proofgen/look/1`: on those that the shop uses one by one, on all
    others in a sentence; on all one by one where it uses none."""
    photo = document["photo"]
    name = visible(photo["file"])
    if not photo["width_px"]:
        lines = [f"{name}: not a photo we can use"]
    else:
        lines = [
            f"{name}: {photo['format']}, {photo['width_px']:,} × {photo['height_px']:,} pixels"
        ]
    shown = [fit for fit in document["fits"] if not used or fit["blank"] in used]
    rest = [fit for fit in document["fits"] if used and fit["blank"] not in used]
    rows = [
        (
            f"  {visible(fit['blank'])}",
            FACES[fit["face"]],
            _size(fit),
            _ppi(fit["ppi"]),
            _VERDICTS[fit["verdict"]],
            _room(fit),
        )
        for fit in shown
    ]
    if rows:
        lines += ["", *columns(rows, right=frozenset({2, 3}))]
        lines += ["", *_legend(shown)]
    if rest:
        lines += _others(rest)
    for finding in document["findings"]:
        if finding["status"] != "pass":
            lines += ["", *_finding(finding)]
    return "\n".join(lines)


def _finding(finding: FindingDocument) -> list[str]:
    indent = " " * 12
    head = f"  {STYLES[finding['status']][0]} {finding['status']:<8}"
    lines = []
    if finding["where"]:
        lines += wrapped(finding["where"], indent)
    lines += wrapped(finding["says"], indent)
    if finding["cure"]:
        lines += wrapped(finding["cure"], indent + "  ", indent + "→ ")
    lines[0] = f"{head}{lines[0][len(indent) :]}"
    return lines


def due_words(one: StandingEntry) -> str:
    """'due 19 December 2026, in 24 days'; of what is closed no day counts any more."""
    if not one["due"] or one["days_left"] is None:
        return "" if one["waits_for"] == "" else "no day"
    day, left = say_date(date.fromisoformat(one["due"]), "en", long=False), one["days_left"]
    if left <= 0:
        return f"due {day}, {plural(-left, 'day')} late" if left else f"due {day}, today"
    return f"due {day}, in {plural(left, 'day')}"


def waits_words(one: StandingEntry) -> str:
    """'Waits for Gerda Haugen since 12 November 2026.'"""
    if not one["waits_for"]:
        return ""
    who = "you" if one["waits_for"] == "maker" else one["customer"] or "the customer"
    began = one["waits_since"]
    since = f" since {say_date(date.fromisoformat(began), 'en', long=False)}" if began else ""
    return f"Waits for {who}{since}."


def orders_text(document: OrdersDocument) -> str:
    """Where each order stands, from `proofgen/orders/1`: state, name, day, then the next step."""
    orders = document["orders"]
    if not orders:
        return "There are no orders yet. Next: proofgen order"
    rows = [
        (
            visible(one["state"]),
            visible(one["order"]) + (f", proof {one['edition']}" if one["edition"] else ""),
            due_words(one),
        )
        for one in orders
    ]
    lines = []
    for head, one in zip(columns(rows), orders, strict=True):
        lines.append(head)
        if told := sentences(waits_words(one), one["next"]):
            lines += wrapped(told, "    ")
        if one["clear"]:
            clear = (
                f"Still at your host, unless you cleared it: upload {one['clear']} and delete its "
                f"other files there; then: proofgen orders --cleared {one['order']}"
            )
            lines += wrapped(clear, "    ")
        lines += since_lines(
            one["order"],
            one["edition"],
            why=one["why"],
            told=one["told"],
            since=one["since"],
            indent="    ",
        )
        for text in one["earlier"]:
            lines += wrapped(f"Asked at an earlier proof: {text}", "    ")
        for text in one["asked"]:
            lines += wrapped(f"To change: {text}", "    ")
        if one["unmarked"]:
            lines += wrapped(one["unmarked"], "    ")
        for text in one["words"]:
            lines += wrapped(f"The customer wrote: {quoted_whole(text)}", "    ")
    if old := [visible(one["order"]) for one in orders if one["forget_since"]]:
        said = f"The days of keep: are over for {joined(old)}. Next: proofgen forget {old[0]}"
        lines += wrapped(said, "")
    return "\n".join(lines)


def blanks_text(document: BlankDocument | BlanksDocument) -> str:
    """One blank in numbers (`proofgen/blank/1`), or a list of them under the key `blanks`."""
    if "blanks" not in document:
        return _one_blank(document)
    rows = [
        (
            visible(one["name"]),
            visible(one["title"]),
            one["construction"],
            _size(one),
        )
        for one in document["blanks"]
    ]
    return "\n".join(columns(rows, right=frozenset({3}))) or "There are no blanks."


def _one_blank(blank: BlankDocument) -> str:
    lines = [
        visible(blank["name"]),
        f"  {CONSTRUCTIONS[blank['construction']]}",
        f"  {_size(blank)} finished (after the press)",
    ]
    if blank["way_round_mm"] is not None:
        lines.append(f"  way round {number(blank['way_round_mm'])} mm")
    if blank["overlap_mm"] is not None:
        lines.append(f"  ends overlap by {number(blank['overlap_mm'])} mm")
    for sentence in allowance_sentences(blank):
        lines += wrapped(sentence, "  ")
    faces = [
        (
            f"    {face['name']}",
            f"from {number(face['x_mm'])}, {number(face['y_mm'])}",
            _size(face),
            f"centre {number(face['centre_x_mm'])} mm",
            "upside down on the sheet" if face["turn_deg"] == 180 else "",
        )
        for face in blank["faces"]
    ]
    zones = [
        (
            f"    {ZONES[zone['kind']]}",
            f"from {number(zone['x_mm'])}, {number(zone['y_mm'])}",
            _size(zone),
            f"on the {zone['face']}" if zone["face"] else "",
        )
        for zone in blank["zones"]
    ]
    tables: list[tuple[str, Sequence[tuple[str, ...]]]] = [("faces", faces), ("zones", zones)]
    for title, rows in tables:
        if rows:
            lines += [f"  {title}, mm from the top left, print side up", *columns(rows)]
    return "\n".join(lines)
