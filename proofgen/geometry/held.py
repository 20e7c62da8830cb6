"""The blank as it is held: a fold's sheet parted at its fold, the back turned upright."""

from __future__ import annotations

from dataclasses import replace

from proofgen.geometry.plan import Face, Part, Plan, Zone
from proofgen.geometry.plane import Rect


def held_parts(plan: Plan) -> dict[str, Part]:
    """What is seen at once when the thing is held, by name, and where it lies on the sheet: each
    panel; of a fold each face with its half of the fold strip, the back upright."""
    if plan.construction != "fold":
        return {
            name: Part(panel=name, source=size.rect, target=size.rect)
            for name, size in plan.panels.items()
        }
    parts: dict[str, Part] = {}
    for face in plan.faces:
        sheet = plan.panels[face.panel]
        top = 0.0 if face.turn == 0 else sheet.height / 2
        half = Rect(0.0, top, sheet.width, sheet.height / 2)
        parts[face.name] = Part(
            panel=face.panel, source=half.size.rect, target=half, turn=face.turn
        )
    return parts


def held(plan: Plan) -> Plan:
    """The plan with its panels as they are held; nothing can be drawn on it (it has no canvases).
    What is pressed keeps to the sheet's own way round."""
    parts = held_parts(plan)
    faces: list[Face] = []
    zones: list[Zone] = []
    for name, part in parts.items():
        for face in plan.faces:
            if face.panel == part.panel and part.target.holds(face.rect):
                faces.append(Face(name=face.name, panel=name, rect=part.to_face(face.rect)))
        for zone in plan.zones_on(part.panel):
            strip = zone.rect.overlap(part.target)
            if strip is not None:
                rect = part.to_face(strip)
                zones.append(Zone(kind=zone.kind, panel=name, rect=rect, face=zone.face))
    return replace(
        plan,
        panels={name: part.source.size for name, part in parts.items()},
        faces=tuple(faces),
        zones=tuple(zones),
        canvases={},
    )
