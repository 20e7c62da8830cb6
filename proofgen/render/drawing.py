"""Drawings in mm: a blank with its edges, folds and hidden strips, marked in one ink."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from html import escape
from typing import TypedDict, Unpack, assert_never

from proofgen.geometry import Plan, Rect, Size, Zone, ZoneKind
from proofgen.render.callouts import LINE, Callout, placed_callouts
from proofgen.render.look import USUAL_STROKES, Strokes
from proofgen.say.parts import ON_DRAWINGS

_DASHES_PX = 1.4  # the line that these dashes are drawn for
_LONG = "13 6"
_SHORT = "4.5 4"
_DOTS_PX = 6.8


@dataclass(frozen=True, slots=True)
class _Pen:
    """How lines are drawn: `mm` None for `px` whatever the size, else so many mm thick (print
    engines that do not know non-scaling strokes). `ink` is a colour or currentColor; `heavy` times
    as thick as others draw the same."""

    ink: str
    mm: float | None = None
    heavy: float = 1.0
    px: float = USUAL_STROKES.px

    def path(
        self, data: str, *, dash: str = "", weight: float = 1.0, round_ends: bool = False
    ) -> str:
        stroke = self.heavy * weight * (self.px if self.mm is None else self.mm)
        marks = f' stroke="{self.ink}" stroke-width="{_n(stroke)}"'
        if dash:
            k = 1.0 if self.mm is None else self.mm / _DASHES_PX
            marks += f' stroke-dasharray="{" ".join(_n(float(d) * k) for d in dash.split())}"'
        if round_ends:
            marks += ' stroke-linecap="round"'
        if self.mm is None:
            marks += ' vector-effect="non-scaling-stroke"'
        return f'<path d="{data}"{marks}/>'


@dataclass(frozen=True, slots=True)
class _Pens:
    """The pen for what stands beside the cloth, and the same for what lies on it."""

    beside: _Pen
    on_picture: bool
    strokes: Strokes

    @property
    def inside(self) -> _Pen:
        return replace(self.beside, ink=self.strokes.on_picture) if self.on_picture else self.beside

    @property
    def under(self) -> _Pen:
        """For the pale lines under those that would be lost on a photo. A pale ground under them
        would hide pale words."""
        return replace(self.beside, ink=self.strokes.under, heavy=2.0)

    def halo(self, data: str) -> str:
        """A pale line under one on a photo; without one, nothing."""
        return self.under.path(data) if self.on_picture else ""


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


def _dotted(rect: Rect, step: float, pen: _Pen) -> str:
    """Rows of dots along `rect`, the rows about `step` mm apart, by dashes of no length with round
    ends: drawn one by one they were half of what a fold's page weighs. Dots of a pen in mm are
    about `step` apart, evenly; those of one in px as far apart at every size."""
    upright = rect.height > rect.width
    long, wide = (rect.height, rect.width) if upright else (rect.width, rect.height)
    rows, count = max(1, round(wide / step)), max(1, round(long / step))
    gap = long / count
    run = f"{'v' if upright else 'h'}{_n(long - gap + 0.01)}"  # with the last dot, rounded or not
    lines = []
    for i in range(rows):
        beside = (i + 0.5) * wide / rows
        x, y = (beside, gap / 2) if upright else (gap / 2, beside)
        lines.append(f"M{_n(rect.x + x)} {_n(rect.y + y)}{run}")
    apart = _DOTS_PX if pen.mm is None else gap * _DASHES_PX / pen.mm
    return pen.path("".join(lines), dash=f"0 {apart}", weight=1.7, round_ends=True)


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


def _zone_marks(kind: ZoneKind, rect: Rect, pen: _Pen, step: float) -> str:
    """How a strip of that kind looks; a new kind needs its words in LABELS too."""
    match kind:
        case "fold":
            lines = "".join(
                f"M{_n(rect.x)} {_n(y)}h{_n(rect.width)}" for y in (rect.y, rect.bottom)
            )
            return pen.path(lines, dash=_LONG)
        case "hole":
            cross = min(rect.width, rect.height) / 4
            x, y = rect.centre_x, rect.centre_y
            middle = (
                f"M{_n(x - cross)} {_n(y)}h{_n(2 * cross)}M{_n(x)} {_n(y - cross)}v{_n(2 * cross)}"
            )
            return pen.path(outline(rect, "round")) + pen.path(middle, weight=0.7)
        case "closure":
            return pen.path(_box(rect), weight=0.7) + pen.path(hatch(rect, step))
        case "gap":
            both = hatch(rect, step * 0.7) + hatch(rect, step * 0.7, falling=True)
            return pen.path(_box(rect), weight=0.7) + pen.path(both, weight=0.8)
        case "seam":
            return _dotted(rect, step * 0.75, pen)
        case "hem" | "base":
            return pen.path(rules(rect, step * 0.7), weight=0.7)
        case _:
            assert_never(kind)


def _safe_lines(plan: Plan, panel: str) -> list[str]:
    """Path data of the safe line of each face on the panel (of a wrap: of the face all round)."""
    lines = []
    for face in plan.faces:
        inner = plan.clear(panel, face.rect).inset(plan.safe)
        if face.panel != panel or inner.width <= 0 or inner.height <= 0:
            continue
        if plan.construction == "wrap" and face.name != "round":
            continue
        lines.append(outline(inner, plan.shape, max(plan.corner - plan.safe, 0.0)))
    return lines


def _callouts(plan: Plan, panel: str, words: Mapping[str, str]) -> list[Callout]:
    """What to say about the panel, and at which point of it."""
    size = plan.panels[panel]
    cut = size.width * (0.5 if plan.shape == "round" else 0.12)
    callouts = [Callout(words["edge"], cut, 0.0, "top")]
    if plan.safe > 0 and _safe_lines(plan, panel):
        at = size.width * (0.5 if size.width < 1.6 * size.height else 0.62)
        rect = next(f.rect for f in plan.faces if f.panel == panel)
        if plan.shape == "round":
            callouts.append(Callout(words["safe"], at, size.height - plan.safe, "bottom"))
        else:
            callouts.append(Callout(words["safe"], at, rect.y + plan.safe, "top"))
    named: set[ZoneKind] = set()
    for zone in plan.zones_on(panel):
        rect = zone.rect
        upright = rect.height > rect.width
        if (upright or zone.kind == "hole") and zone.kind in named:
            continue  # the second of a pair looks like the first
        named.add(zone.kind)
        if upright:
            x, y = rect.centre_x, rect.bottom - min(3.0, rect.height / 4)
        else:
            x, y = rect.right - min(3.0, rect.width / 4), rect.centre_y
        callouts.append(Callout(words[zone.kind], x, y, "bottom" if upright else "right"))
    if plan.front_centre is not None:
        callouts.append(Callout(words["middle"], plan.front_centre, size.height, "bottom"))
    on_it = [face for face in plan.faces if face.panel == panel]
    if plan.construction == "fold" and len(on_it) > 1:  # the sheet before it is folded
        callouts += [
            Callout(words[face.name], face.rect.right - 4, face.rect.centre_y, "right")
            for face in on_it
        ]
    return callouts


def _leader(callout: Callout, pens: _Pens, inside: Rect, dot: float) -> str:
    """The line from a point of the drawing to its words."""
    border = (
        min(max(callout.stop[0], inside.x), inside.right),
        min(max(callout.stop[1], inside.y), inside.bottom),
    )
    bend = [callout.bend] if callout.bend is not None else []
    near = _line((callout.x, callout.y), border)
    far = _line(border, *bend, callout.stop)
    on_edge = callout.y in (inside.y, inside.bottom)
    pen = pens.beside if on_edge else pens.inside
    return (
        f"{pens.halo(near)}{pen.path(near, weight=0.7)}{pens.beside.path(far, weight=0.7)}"
        f'<circle cx="{_n(callout.x)}" cy="{_n(callout.y)}" r="{_n(dot)}" fill="{pen.ink}" '
        'stroke="none"/>'
    )


def _line(start: tuple[float, float], *others: tuple[float, float]) -> str:
    return f"M{_n(start[0])} {_n(start[1])}" + "".join(f"L{_n(x)} {_n(y)}" for x, y in others)


def _text(callout: Callout, size: float) -> str:
    spans = "".join(
        f'<tspan x="{_n(callout.text_x)}" y="{_n(callout.text_y + i * size * LINE)}">'
        f"{escape(line)}</tspan>"
        for i, line in enumerate(callout.lines)
    )
    return f'<text text-anchor="{callout.anchor}">{spans}</text>'


def _marks(plan: Plan, panel: str, pens: _Pens, step: float) -> str:
    zones, size = plan.zones_on(panel), plan.panels[panel]
    parts: list[str] = []
    for line in _safe_lines(plan, panel):
        parts += [pens.halo(line), pens.inside.path(line, dash=_SHORT)]
    for zone in zones:
        under = [pens.under] if pens.on_picture else []
        parts += [_zone_marks(zone.kind, zone.rect, p, step) for p in (*under, pens.inside)]
    folds = [z.rect for z in zones if z.kind == "fold"]
    level = (z for z in zones if z.kind in ("hem", "base"))
    if borders := "".join(_border(z, size, folds) for z in level):
        parts.append(pens.inside.path(borders))
    if plan.front_centre is not None:
        x, high = plan.front_centre, size.height
        tick = f"M{_n(x)} 0v{_n(step)}M{_n(x)} {_n(high)}v{_n(-step)}"
        parts += [pens.halo(tick), pens.inside.path(tick)]
    return "".join(parts)


class Look(TypedDict, total=False):
    """How a blank is drawn, beside what it is.

    `picture_href` is laid under the marks (a picture of the panel without bleed); `labels` replace
    some of ON_DRAWINGS; `prefix` keeps ids apart on one page; `strokes` are a theme's; `line_mm`
    draws lines so thick instead; `letter_mm` is the size of type (else in proportion to the panel).
    """

    picture_href: str | None
    labels: Mapping[str, str] | None
    prefix: str
    line_mm: float | None
    letter_mm: float | None
    strokes: Strokes


def blank_svg(plan: Plan, panel: str, *, title: str, desc: str, **look: Unpack[Look]) -> str:
    """One panel of a blank as SVG, 1 unit = 1 mm, the panel's top left at (0, 0).

    Solid line: edge; long dashes: fold; short dashes: safe; hatch: hidden by the closure; dots:
    seam; cross-hatch: no ink; level lines: hem and the strip under the can. No style attribute is
    used.
    """
    prefix = look.setdefault("prefix", "blank")
    body, view = blank_marks(plan, panel, **look)
    box = " ".join(_n(v) for v in (view.x, view.y, view.width, view.height))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" role="img" '
        f'aria-labelledby="{prefix}-title {prefix}-desc" fill="none">'
        f'<title id="{prefix}-title">{escape(title)}</title>'
        f'<desc id="{prefix}-desc">{escape(desc)}</desc>{body}</svg>'
    )


def blank_marks(plan: Plan, panel: str, **look: Unpack[Look]) -> tuple[str, Rect]:
    """What blank_svg draws, without the svg round it, and the part of the plane (mm) it takes."""
    words = {**ON_DRAWINGS, **(look.get("labels") or {})}
    picture, prefix = look.get("picture_href"), look.get("prefix", "blank")
    size = plan.panels[panel]
    whole = size.rect
    letter = look.get("letter_mm") or (size.width + size.height) / 52
    callouts, view = placed_callouts(_callouts(plan, panel, words), whole, letter)
    strokes = look.get("strokes", USUAL_STROKES)
    pen = _Pen("currentColor", look.get("line_mm"), px=strokes.px)
    pens = _Pens(pen, on_picture=bool(picture), strokes=strokes)
    edge = outline(whole, plan.shape, plan.corner)
    parts = []
    if picture:
        parts.append(
            f'<clipPath id="{prefix}-cut"><path d="{edge}"/></clipPath>'
            f'<image href="{escape(picture, quote=True)}" x="0" y="0" '
            f'width="{_n(size.width)}" height="{_n(size.height)}" preserveAspectRatio="none" '
            f'clip-path="url(#{prefix}-cut)"/>'
        )
    parts.append(_marks(plan, panel, pens, letter * 0.62))
    parts.append(pens.beside.path(edge))
    parts += [_leader(c, pens, whole, letter * 0.13) for c in callouts]
    parts.append(
        f'<g fill="currentColor" stroke="none" font-size="{_n(letter)}">'
        + "".join(_text(c, letter) for c in callouts)
        + "</g>"
    )
    return "".join(parts), view
