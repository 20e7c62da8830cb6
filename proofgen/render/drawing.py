"""Drawings in mm: a blank with its edges, folds and hidden strips, marked in one ink."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from html import escape

from proofgen.geometry import Plan, Rect, Size, Zone
from proofgen.render.callouts import LINE, Callout, placed_callouts

# What is written on the drawing; a caller may give its own words for any of these.
LABELS: Mapping[str, str] = {
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
_STROKE = 1.4
_ON_PICTURE = "#1d2733"  # over a photo the ink cannot follow the page; it lies on a pale wash
_WASH = "#ffffff"
_LONG = "13 6"
_SHORT = "4.5 4"


@dataclass(frozen=True, slots=True)
class Pen:
    """How lines are drawn: `mm` None for 1.4 px whatever the size, else so many mm thick (print
    engines that do not know non-scaling strokes). `ink` is a colour or currentColor."""

    ink: str
    mm: float | None = None

    def path(
        self, data: str, *, dash: str = "", weight: float = 1.0, round_ends: bool = False
    ) -> str:
        stroke = weight * (_STROKE if self.mm is None else self.mm)
        marks = f' stroke="{self.ink}" stroke-width="{_n(stroke)}"'
        if dash:
            k = 1.0 if self.mm is None else self.mm / _STROKE
            marks += f' stroke-dasharray="{" ".join(_n(float(d) * k) for d in dash.split())}"'
        if round_ends:
            marks += ' stroke-linecap="round"'
        if self.mm is None:
            marks += ' vector-effect="non-scaling-stroke"'
        return f'<path d="{data}"{marks}/>'

    def with_ink(self, ink: str) -> Pen:
        return Pen(ink, self.mm)


def _n(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _box(rect: Rect) -> str:
    return f"M{_n(rect.x)} {_n(rect.y)}H{_n(rect.right)}V{_n(rect.bottom)}H{_n(rect.x)}Z"


def outline(rect: Rect, shape: str = "rectangle", corner: float = 0.0) -> str:
    """Path data of a rectangle, a rounded rectangle or an ellipse that fills `rect`."""
    if shape == "round":
        rx, ry = rect.width / 2, rect.height / 2
        arc = f"A{_n(rx)} {_n(ry)} 0 1 1"
        return (
            f"M{_n(rect.x)} {_n(rect.centre_y)}{arc} {_n(rect.right)} {_n(rect.centre_y)}"
            f"{arc} {_n(rect.x)} {_n(rect.centre_y)}Z"
        )
    r = min(corner, rect.width / 2, rect.height / 2) if shape == "rounded" else 0.0
    if r <= 0:
        return _box(rect)
    arc = f"a{_n(r)} {_n(r)} 0 0 1"
    return (
        f"M{_n(rect.x + r)} {_n(rect.y)}H{_n(rect.right - r)}{arc} {_n(r)} {_n(r)}"
        f"V{_n(rect.bottom - r)}{arc} {_n(-r)} {_n(r)}H{_n(rect.x + r)}{arc} {_n(-r)} {_n(-r)}"
        f"V{_n(rect.y + r)}{arc} {_n(r)} {_n(-r)}Z"
    )


def hatch(rect: Rect, step: float, *, falling: bool = False) -> str:
    """Path data of lines at 45° through `rect`, `step` mm apart across the lines, cut to it."""
    pitch = step * math.sqrt(2)
    data = []
    count = math.floor((rect.width + rect.height) / pitch)
    for i in range(1, count + 1):
        c = i * pitch  # the line x + y = c from the corner
        x0, x1 = max(0.0, c - rect.height), min(c, rect.width)
        if x1 - x0 < 1e-6:
            continue
        y0, y1 = c - x0, c - x1
        if falling:
            y0, y1 = rect.height - y0, rect.height - y1
        data.append(f"M{_n(rect.x + x0)} {_n(rect.y + y0)}L{_n(rect.x + x1)} {_n(rect.y + y1)}")
    return "".join(data)


def dots(rect: Rect, step: float) -> str:
    """Path data of dots `step` mm apart, evenly inside `rect` (drawn with round line ends)."""
    across, down = max(1, round(rect.width / step)), max(1, round(rect.height / step))
    return "".join(
        f"M{_n(rect.x + (i + 0.5) * rect.width / across)} "
        f"{_n(rect.y + (j + 0.5) * rect.height / down)}h0.01"
        for j in range(down)
        for i in range(across)
    )


def rules(rect: Rect, step: float) -> str:
    """Path data of level lines through `rect`, about `step` mm apart, none on its own border."""
    count = max(2, round(rect.height / step) + 1)
    return "".join(
        f"M{_n(rect.x)} {_n(rect.y + i * rect.height / count)}h{_n(rect.width)}"
        for i in range(1, count)
    )


def _border(zone: Zone, panel: Size, folds: Iterable[Rect]) -> str:
    """Path data of a level strip's own edges: not those on the panel's edge or on a fold."""
    rect = zone.rect
    drawn_already = [0.0, panel.height, *(y for f in folds for y in (f.y, f.bottom))]
    return "".join(
        f"M{_n(rect.x)} {_n(y)}h{_n(rect.width)}"
        for y in (rect.y, rect.bottom)
        if all(abs(y - other) > 1e-6 for other in drawn_already)
    )


def _zone_marks(zone: Zone, pen: Pen, step: float) -> str:
    rect = zone.rect
    if zone.kind == "fold":
        return pen.path(
            f"M{_n(rect.x)} {_n(rect.y)}h{_n(rect.width)}"
            f"M{_n(rect.x)} {_n(rect.bottom)}h{_n(rect.width)}",
            dash=_LONG,
        )
    edge = pen.path(_box(rect), weight=0.7)
    if zone.kind == "closure":
        return edge + pen.path(hatch(rect, step))
    if zone.kind == "gap":
        return edge + pen.path(
            hatch(rect, step * 0.7) + hatch(rect, step * 0.7, falling=True), weight=0.8
        )
    if zone.kind == "seam":
        return pen.path(dots(rect, step * 0.75), weight=1.7, round_ends=True)
    return pen.path(rules(rect, step * 0.7), weight=0.7)


def _safe_lines(plan: Plan, panel: str) -> list[str]:
    """Path data of the safe line of each face on the panel (of a wrap: of the face all round)."""
    found = []
    for face in plan.faces:
        inner = face.rect.inset(plan.safe)
        if face.panel != panel or inner.width <= 0 or inner.height <= 0:
            continue
        if plan.construction == "wrap" and face.name != "round":
            continue
        found.append(outline(inner, plan.shape, max(plan.corner - plan.safe, 0.0)))
    return found


def _callouts(plan: Plan, panel: str, words: Mapping[str, str]) -> list[Callout]:
    """What to say about the panel, and at which point of it."""
    size = plan.panels[panel]
    cut = size.width * (0.5 if plan.shape == "round" else 0.12)
    found = [Callout(words["edge"], cut, 0.0, "top")]
    if plan.safe > 0 and _safe_lines(plan, panel):
        at = size.width * (0.5 if size.width < 1.6 * size.height else 0.62)
        rect = next(f.rect for f in plan.faces if f.panel == panel)
        if plan.shape == "round":
            found.append(Callout(words["safe"], at, size.height - plan.safe, "bottom"))
        else:
            found.append(Callout(words["safe"], at, rect.y + plan.safe, "top"))
    told: set[str] = set()
    for zone in plan.zones_on(panel):
        rect = zone.rect
        upright = rect.height > rect.width
        if upright and zone.kind in told:
            continue  # the second of a pair looks like the first
        told.add(zone.kind)
        if upright:
            point = (rect.centre_x, rect.bottom - min(3.0, rect.height / 4), "bottom")
        else:
            point = (rect.right - min(3.0, rect.width / 4), rect.centre_y, "right")
        found.append(Callout(words[zone.kind], *point))
    if plan.front_centre is not None:
        found.append(Callout(words["middle"], plan.front_centre, size.height, "bottom"))
    for face in plan.faces:
        if plan.construction == "fold" and face.panel == panel:
            found.append(
                Callout(words[face.name], face.rect.right - 4, face.rect.centre_y, "right")
            )
    return found


def _leader(callout: Callout, pen: Pen, over: Pen | None, inside: Rect, dot: float) -> str:
    """The line from a point of the drawing to its words; `over` draws what lies on a picture."""
    x, y = callout.x, callout.y
    stop_x, stop_y = callout.stop
    border_x = min(max(stop_x, inside.x), inside.right)
    border_y = min(max(stop_y, inside.y), inside.bottom)
    near = f"M{_n(x)} {_n(y)}L{_n(border_x)} {_n(border_y)}"
    far = f"M{_n(border_x)} {_n(border_y)}L{_n(stop_x)} {_n(stop_y)}"
    if callout.bend is not None:
        far = (
            f"M{_n(border_x)} {_n(border_y)}L{_n(callout.bend[0])} {_n(callout.bend[1])}"
            f"L{_n(stop_x)} {_n(stop_y)}"
        )
    drawn = ""
    if over is not None:
        drawn += over.with_ink(_WASH).path(near, weight=2.6)
    on_edge = y in (inside.y, inside.bottom)
    inner = pen if over is None or on_edge else over
    drawn += inner.path(near, weight=0.7) + pen.path(far, weight=0.7)
    return drawn + (
        f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(dot)}" fill="{inner.ink}" stroke="none"/>'
    )


def _text(callout: Callout, size: float) -> str:
    spans = "".join(
        f'<tspan x="{_n(callout.text_x)}" y="{_n(callout.text_y + i * size * LINE)}">'
        f"{escape(line)}</tspan>"
        for i, line in enumerate(callout.lines)
    )
    return f'<text text-anchor="{callout.anchor}">{spans}</text>'


def _wash(zones: tuple[Zone, ...]) -> str:
    """A pale ground under the marks, so that they show on any photo."""
    return "".join(
        f'<path d="{_box(z.rect)}" fill="{_WASH}" fill-opacity="0.62" stroke="none"/>'
        for z in zones
    )


def _marks(plan: Plan, panel: str, pen: Pen, over: Pen | None, step: float) -> str:
    inner = over or pen
    zones = plan.zones_on(panel)
    parts = [_wash(zones)] if over else []
    for line in _safe_lines(plan, panel):
        if over:
            parts.append(over.with_ink(_WASH).path(line, weight=2.4))
        parts.append(inner.path(line, dash=_SHORT))
    parts += [_zone_marks(zone, inner, step) for zone in zones]
    folds = [z.rect for z in zones if z.kind == "fold"]
    level = (z for z in zones if z.kind in ("hem", "base"))
    borders = "".join(_border(z, plan.panels[panel], folds) for z in level)
    if borders:
        parts.append(inner.path(borders))
    if plan.front_centre is not None:
        x, high = plan.front_centre, plan.panels[panel].height
        tick = f"M{_n(x)} 0v{_n(step)}M{_n(x)} {_n(high)}v{_n(-step)}"
        if over:
            parts.append(over.with_ink(_WASH).path(tick, weight=2.6))
        parts.append(inner.path(tick))
    return "".join(parts)


def blank_svg(
    plan: Plan,
    panel: str,
    *,
    title: str,
    desc: str,
    picture_href: str | None = None,
    labels: Mapping[str, str] | None = None,
    prefix: str = "blank",
    line_mm: float | None = None,
    letter_mm: float | None = None,
) -> str:
    """One panel of a blank as SVG, 1 unit = 1 mm, the panel's top left at (0, 0).

    Solid line: edge; long dashes: fold; short dashes: safe; hatch: hidden by the closure; dots:
    seam; cross-hatch: no ink; level lines: hem and the strip under the can. `picture_href` is laid
    under the marks (a picture of the panel without bleed). `prefix` keeps ids apart on one page.
    `line_mm` draws lines so thick instead of 1.4 px, `letter_mm` is the size of type (None: in
    proportion to the panel). No style attribute is used.
    """
    body, view = blank_marks(
        plan,
        panel,
        picture_href=picture_href,
        labels=labels,
        prefix=prefix,
        line_mm=line_mm,
        letter_mm=letter_mm,
    )
    return _svg(view, title, desc, prefix, body)


def blank_marks(
    plan: Plan,
    panel: str,
    *,
    picture_href: str | None = None,
    labels: Mapping[str, str] | None = None,
    prefix: str = "blank",
    line_mm: float | None = None,
    letter_mm: float | None = None,
) -> tuple[str, Rect]:
    """What blank_svg draws, without the svg round it, and the part of the plane (mm) it takes."""
    words = {**LABELS, **(labels or {})}
    size = plan.panels[panel]
    whole = Rect(0.0, 0.0, size.width, size.height)
    letter = letter_mm or (size.width + size.height) / 52
    callouts, view = placed_callouts(_callouts(plan, panel, words), whole, letter)
    pen = Pen("currentColor", line_mm)
    over = Pen(_ON_PICTURE, line_mm) if picture_href else None
    edge = outline(whole, plan.shape, plan.corner)
    parts = []
    if picture_href:
        parts.append(
            f'<clipPath id="{prefix}-cut"><path d="{edge}"/></clipPath>'
            f'<image href="{escape(picture_href, quote=True)}" x="0" y="0" '
            f'width="{_n(size.width)}" height="{_n(size.height)}" preserveAspectRatio="none" '
            f'clip-path="url(#{prefix}-cut)"/>'
        )
    parts.append(_marks(plan, panel, pen, over, letter * 0.62))
    parts.append(pen.path(edge))
    parts += [_leader(c, pen, over, whole, letter * 0.13) for c in callouts]
    parts.append(
        f'<g fill="currentColor" stroke="none" font-size="{_n(letter)}">'
        + "".join(_text(c, letter) for c in callouts)
        + "</g>"
    )
    return "".join(parts), view


def _svg(view: Rect, title: str, desc: str, prefix: str, body: str, extra: str = "") -> str:
    box = " ".join(_n(v) for v in (view.x, view.y, view.width, view.height))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}"{extra} role="img" '
        f'aria-labelledby="{prefix}-title {prefix}-desc" fill="none">'
        f'<title id="{prefix}-title">{escape(title)}</title>'
        f'<desc id="{prefix}-desc">{escape(desc)}</desc>{body}</svg>'
    )


def ruler_svg(
    length_mm: float,
    *,
    title: str = "Ruler",
    desc: str = "",
    prefix: str = "ruler",
    line_mm: float = 0.2,
) -> str:
    """A ruler at its real size: a tick each mm, longer at 5 and 10, figures in cm.

    It says its own width in mm, so paper and a screen that knows its scale show it true.
    """
    ticks = []
    for mm in range(math.floor(length_mm + 1e-9) + 1):
        high = 5.0 if mm % 10 == 0 else 3.6 if mm % 5 == 0 else 2.2
        ticks.append(f"M{mm} 0v{_n(high)}")
    figures = "".join(
        f'<text x="{mm}" y="8.6" text-anchor="middle">{mm // 10}</text>'
        for mm in range(0, math.floor(length_mm + 1e-9) + 1, 10)
    )
    body = (
        f'<path d="M0 0H{_n(length_mm)}{"".join(ticks)}" stroke="currentColor" '
        f'stroke-width="{_n(line_mm)}"/>'
        f'<g fill="currentColor" stroke="none" font-size="3.4">{figures}</g>'
    )
    view = Rect(-2.0, -0.5, length_mm + 4.0, 10.0)
    said = desc or f"A ruler {_n(length_mm)} mm long, to check the scale."
    extra = f' width="{_n(view.width)}mm" height="{_n(view.height)}mm"'
    return _svg(view, title, said, prefix, body, extra)
