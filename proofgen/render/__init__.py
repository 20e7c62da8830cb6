"""Pages, PDFs and words for people: themes, dates, money, fonts and drawings."""

from proofgen.render.carried import carried
from proofgen.render.fonts import find_font, font_files
from proofgen.render.pdf import html_to_pdf, pdf_ready
from proofgen.render.say import safe_markdown, say_date, say_day, say_money, say_number
from proofgen.render.theme import Theme, theme_names

__all__ = [
    "Theme",
    "carried",
    "find_font",
    "font_files",
    "html_to_pdf",
    "pdf_ready",
    "safe_markdown",
    "say_date",
    "say_day",
    "say_money",
    "say_number",
    "theme_names",
]
