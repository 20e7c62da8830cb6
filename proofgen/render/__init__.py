"""Pages and PDFs: themes, fonts and drawings."""

from proofgen.render.at_scale import AtRealSize
from proofgen.render.pdf import Alike, html_to_pdf, pdf_ready, set_once
from proofgen.render.shipped import carried
from proofgen.render.theme import OWN, Theme, theme_names

__all__ = [
    "OWN",
    "Alike",
    "AtRealSize",
    "Theme",
    "carried",
    "html_to_pdf",
    "pdf_ready",
    "set_once",
    "theme_names",
]
