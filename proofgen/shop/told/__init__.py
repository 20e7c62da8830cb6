"""What each line of the maker's files is for: the guide, its examples and the readers' “did you
mean” are made from this, and a test holds it to what the readers ask for."""

from proofgen.shop.told.files import FILES, FileTold, meaning_of
from proofgen.shop.told.line import LineTold

__all__ = ["FILES", "FileTold", "LineTold", "meaning_of"]
