"""Pages, PDFs and words for people: themes, dates, money, fonts and drawings."""

from proofgen.render.carried import carried
from proofgen.render.pdf import html_to_pdf
from proofgen.render.say import safe_markdown, say_date, say_day, say_money, say_number
from proofgen.render.theme import Theme, theme_names

__all__ = [
    "Theme",
    "carried",
    "html_to_pdf",
    "safe_markdown",
    "say_date",
    "say_day",
    "say_money",
    "say_number",
    "theme_names",
]
