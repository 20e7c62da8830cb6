"""What became of something that came in."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What became of one slip, mail or photo. `told` is what the maker should know, `missing` what
    nobody said, `step` the one next step; `asks`: something must be asked of the customer; `adds`:
    to an order that was there. `remarks` is what the customer wrote beside the order's fields, as
    it came; `kept_in` the file that has all of it."""

    order: str
    is_new: bool
    told: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    step: str = ""
    asks: bool = False
    adds: bool = False
    remarks: tuple[str, ...] = ()
    kept_in: str = ""
