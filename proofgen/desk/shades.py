"""The colours of a cloth as they are typed or answered: names with their shades."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PIL import ImageColor

from proofgen.desk.questions import Asker, Question, Refused
from proofgen.errors import UsageError
from proofgen.shop.parsers import parse_colour

_ASKS = (
    "Which colours does the cloth come in? A name alone is enough for white, black, navy and the "
    "like; else with its shade, like sky=#6fb7e9 (part them with commas; Enter: white)"
)


# Plain words for colours in German and Spanish, as their names in CSS; English ones are those.
_WORDS: Mapping[str, str] = {
    word: name
    for name, words in {
        "white": "weiss blanco blanca",
        "black": "schwarz negro negra",
        "gray": "grau gris",
        "red": "rot rojo roja",
        "blue": "blau azul",
        "navy": "dunkelblau marineblau marine",
        "lightblue": "hellblau celeste",
        "skyblue": "himmelblau",
        "turquoise": "türkis turquesa",
        "green": "grün gruen verde",
        "yellow": "gelb amarillo amarilla",
        "orange": "naranja",
        "pink": "rosa",
        "purple": "lila violett violeta morado morada",
        "brown": "braun marrón marron",
        "beige": "beis",
        "ivory": "elfenbein marfil",
        "silver": "silber plata",
    }.items()
    for word in words.split()
}


def cloth_colours(asker: Asker, given: Sequence[str]) -> dict[str, str]:
    """Name to '#rrggbb', given as options or asked for; white where nobody says. UsageError for
    what is no colour."""

    def parse(text: str) -> dict[str, str]:
        try:
            return read_shades([one for one in text.split(",") if one.strip()])
        except UsageError as error:
            plain = error.problem.removeprefix("--colour ")
            raise Refused(error, f"{plain}; {error.cure}. ") from None

    if given:
        return read_shades(given)
    return asker.answer(Question(asks=_ASKS, parse=parse, enter="white"))


def _named(name: str) -> str:
    """The shade of a plain word for a colour, or of a name of CSS Color 4, as '#rrggbb'; '' of any
    other."""
    plain = name.casefold()
    known = _WORDS.get(plain, plain)
    if known not in ImageColor.colormap:
        return ""
    red, green, blue = ImageColor.getrgb(known)[:3]
    return f"#{red:02x}{green:02x}{blue:02x}"


def _like(name: str) -> str:
    """How a shade is written; never a shade that somebody could take for the right one."""
    return f'write "{name}=#rrggbb", its shade as a web colour; white is #ffffff, black #000000'


def read_shades(given: Sequence[str]) -> dict[str, str]:
    """'sky=#6fb7e9', or a name alone that is a plain colour's, also one of CSS Color 4 (section
    6.1, "Named Colors")."""
    shades = {}
    for item in map(str.strip, given):
        name, sign, shade = (part.strip() for part in item.partition("="))
        shade = shade if sign else _named(name)
        if not shade:
            raise UsageError(f"--colour {item} has no shade", _like(name))
        try:
            shades[name] = parse_colour(shade)
        except ValueError as error:
            problem, _, cure = str(error).partition("; ")
            raise UsageError(f"--colour {item}: {problem}", cure or _like(name)) from None
    return shades
