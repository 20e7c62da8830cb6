"""All checks, by family: a check that does not stand here does not run."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from proofgen.checks import (
    all_round,
    blank,
    blur,
    edges,
    faces,
    hidden_parts,
    letters,
    order,
    photo_file,
    photo_pixels,
    resolution,
    words_seen,
    words_written,
)
from proofgen.checks.frame import Check

LISTED: tuple[Check[Any], ...] = (
    order.limits_read,
    order.due,
    order.stock,
    order.same_photo,
    order.language,
    order.rights,
    order.list_length,
    order.price,
    order.face_there,
    order.present,
    order.empty,
    blank.closes,
    blank.dye_takes,
    blank.heat,
    blank.heat_agrees,
    blank.two_sides_foam,
    blank.strong_cloth,
    blank.cloth_suits,
    photo_file.readable,
    photo_file.file_name,
    photo_file.frames,
    photo_file.orientation,
    photo_file.location,
    photo_file.clear_areas,
    photo_file.profile,
    photo_file.strong_colours,
    photo_file.jpeg_quality,
    resolution.effective_resolution,
    resolution.picture_resolution,
    blur.blur,
    photo_pixels.enlarged,
    photo_pixels.exposure,
    photo_pixels.screenshot,
    edges.bleed,
    edges.safe,
    hidden_parts.zones,
    hidden_parts.focus,
    faces.faces,
    all_round.across_seam,
    all_round.join,
    all_round.pattern,
    words_seen.words_fit,
    words_seen.letter_height,
    words_seen.missing_letters,
    words_seen.contrast,
    letters.hidden_characters,
    letters.look_alikes,
    letters.quotes,
    words_written.repeated,
    words_written.spelling,
    words_written.weekday,
)

CHECKS: Mapping[str, Check[Any]] = {one.id: one for one in LISTED}
