"""Photos and words laid onto blanks, painted once as press rasters, and shown as views."""

from proofgen.artwork.colours import colour_report, kept_report
from proofgen.artwork.description import describe
from proofgen.artwork.faces import find_faces
from proofgen.artwork.gamut import hatched
from proofgen.artwork.grounds import Contrast, contrast_on, ground_of, small_rasters
from proofgen.artwork.ink import on_cloth
from proofgen.artwork.layout import lay_out, variants
from proofgen.artwork.measures import measure, measure_all, quality_of
from proofgen.artwork.photos import inspect, open_pixels, photo_worker
from proofgen.artwork.raster import (
    paint,
    pixel_digest,
    raster_name,
    raster_names,
    raster_png,
    read_raster,
)
from proofgen.artwork.views import (
    View,
    face_picture,
    flat_svg,
    flat_view,
    real_size_crop,
    round_views,
)

__all__ = [
    "Contrast",
    "View",
    "colour_report",
    "contrast_on",
    "describe",
    "face_picture",
    "find_faces",
    "flat_svg",
    "flat_view",
    "ground_of",
    "hatched",
    "inspect",
    "kept_report",
    "lay_out",
    "measure",
    "measure_all",
    "on_cloth",
    "open_pixels",
    "paint",
    "photo_worker",
    "pixel_digest",
    "quality_of",
    "raster_name",
    "raster_names",
    "raster_png",
    "read_raster",
    "real_size_crop",
    "round_views",
    "small_rasters",
    "variants",
]
