"""The maker's guide: chapters written by us, and a reference made from what the code declares."""

from __future__ import annotations

from proofgen.guide.book import FIRST, book, write_book
from proofgen.guide.commands import CommandTold, OptionTold

__all__ = ["FIRST", "CommandTold", "OptionTold", "book", "write_book"]
