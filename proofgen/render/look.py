"""What a theme decides, read from its theme.yaml: tokens, typefaces, grounds, light, strokes."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

import yaml
from yaml.reader import Reader

from proofgen.errors import Place, ShopError
from proofgen.render.mood import MARGINS, SOFTNESSES, STRENGTHS, USUAL_MOOD, Mood
from proofgen.say.near import did_you_mean
from proofgen.say.safe import quoted
from proofgen.say.wide import is_wide
from proofgen.say.yaml_slips import slip_of

FACTS = "theme.yaml"
ROLES = ("display", "text", "plain")  # large words; what is read; interface and figures
Medium = Literal["page", "paper", "sheet", "mail"]

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
_LENGTH = re.compile(
    r"-?\d*\.?\d+(?:rem|em|px|pt|mm|%)?|(?:clamp|calc|min|max)\([-+*/().,%\w ]{1,80}\)"
)
_WORDS = re.compile(r"""(?:[\w -]+|"[\w .-]+")(?:, ?(?:[\w -]+|"[\w .-]+"))*""")
_FACE = re.compile(r"[1-9]00(?: italic)?")
_MOST_PLATES = 8


@dataclass(frozen=True, slots=True)
class Strokes:
    """How blanks are drawn: a line's thickness in px whatever the drawing's size, its ink where it
    lies on a picture and the pale line under it there ('#rrggbb')."""

    px: float
    on_picture: str
    under: str


ARABIC = "Page Arabic"  # on paper, where no device has letters of its own
USUAL_STROKES = Strokes(1.4, "#000000", "#ffffff")


def family(role: str) -> str:
    """What a style calls the typeface of a role of ROLES."""
    return f"House {role.capitalize()}"


# What a drawing on paper is lettered in: a page's style does not reach into it.
DRAWN_IN = f"{family('plain')}, {ARABIC}, sans-serif"


@dataclass(frozen=True, slots=True)
class Look:
    """All that a theme decides beside its templates and style sheets.

    `tokens` are the custom properties of its style by name, `dark` and `printed` those that are
    otherwise by night and on a browser's own print; `fonts` names the typefaces of each of ROLES by
    weight and slant ('400', '400 italic'). Pictures in the round stand on `plate` where somebody
    judges their colours, and on `plates`, taken in turn, in a season ('#rrggbb'); `mood` is their
    light and framing.
    """

    says: str
    tokens: Mapping[str, str]
    dark: Mapping[str, str]
    printed: Mapping[str, str]
    fonts: Mapping[str, Mapping[str, str]]
    plate: str
    plates: tuple[str, ...]
    strokes: Strokes
    mood: Mood = USUAL_MOOD

    def value(self, name: str) -> str:
        """A token as a style has it."""
        return ", ".join((*self.families(name), self.tokens[name]))

    def families(self, name: str) -> tuple[str, ...]:
        """A role's own typefaces; letters that large words' one lacks come from that of text."""
        roles = (name, "text") if name == "display" else (name,)
        return tuple(f'"{family(role)}"' for role in roles if self.fonts.get(role))


@dataclass(frozen=True, slots=True)
class _Node:
    """A part of a theme.yaml and where it stands; `value` is a word, a list or a mapping."""

    value: str | list[_Node] | dict[str, _Node]
    place: Place

    def refuse(self, problem: str, cure: str) -> ShopError:
        return ShopError(problem, cure, self.place)

    def word(self, what: str) -> str:
        if not isinstance(self.value, str):
            raise self.refuse(f"{what} takes one value", f"write it like {what}: value")
        return self.value

    def entries(self, what: str, known: Sequence[str] = ()) -> Iterator[tuple[str, _Node]]:
        if self.value == "":
            return
        if not isinstance(self.value, dict):
            raise self.refuse(f"{what} takes lines of its own", "write name: value in each")
        for name, node in self.value.items():
            if known and name not in known:
                cure = did_you_mean(name, known, typed=True)
                raise node.refuse(
                    f"{quoted(name)} is nothing that a theme decides",
                    cure or f"choose from: {', '.join(known)}",
                )
            yield name, node


def _parsed(path: Path, shown: str) -> _Node:
    seen: set[int] = set()  # a part that an alias names is the same object once more

    def node(of: yaml.Node) -> _Node:
        place = Place(shown, of.start_mark.line + 1)
        if id(of) in seen:
            problem = "a part of this line is said again elsewhere, by an alias (*)"
            raise ShopError(problem, "write it out in full there, without & and *", place)
        seen.add(id(of))
        if isinstance(of, yaml.MappingNode):
            names = [str(key.value) for key, _ in of.value]
            for name, (key, _) in zip(names, of.value, strict=True):
                if names.count(name) > 1:
                    problem, twice = f"{quoted(name)} stands here twice", key.start_mark.line + 1
                    raise ShopError(problem, "keep one of the two", Place(shown, twice))
            return _Node({str(k.value): node(v) for k, v in of.value}, place)
        if isinstance(of, yaml.SequenceNode):
            return _Node([node(one) for one in of.value], place)
        return _Node(str(of.value), place)

    text = _text(path, shown)
    try:
        root = yaml.compose(text, Loader=_LOADER)
        return node(root) if root else _Node("", Place(shown, 1))
    except yaml.MarkedYAMLError as error:
        problem, before = slip_of(error)
        cure = (
            "check the colon and the space after it, the quotes and the indentation; a colour "
            'stands in quotes, "#0b4f8a"'
        )
        if "\t" in "".join(text.splitlines()[before : before + 1]):
            cure = "put spaces in the place of its tabs"
        raise ShopError(problem, cure, Place(shown, before + 1)) from None
    except (yaml.YAMLError, RecursionError):
        raise ShopError(
            "this file cannot be read", "write each thing on a line of its own", Place(shown)
        ) from None


def _text(path: Path, shown: str) -> str:
    """What stands in a theme.yaml. ShopError where it is no text."""
    no_text = ShopError("this is no UTF-8 text", "save it as plain text in UTF-8", Place(shown))
    try:
        data = path.read_bytes()
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise no_text from None
    except OSError as error:
        raise ShopError(
            f"this file cannot be read ({error.strerror})", "look whether it is there", Place(shown)
        ) from None
    if is_wide(data):
        raise no_text
    if unseen := Reader.NON_PRINTABLE.search(text):
        place = Place(shown, text.count("\n", 0, unseen.start()) + 1)
        problem = f"{quoted(unseen[0])} in this line is a sign that nobody can see"
        raise ShopError(problem, "type the line anew", place)
    return text


def _colour(node: _Node, name: str) -> str:
    text = node.word(name)
    if not _COLOUR.fullmatch(text):
        raise node.refuse(
            f"{name} is no colour: {quoted(text)}",
            'write # and six of 0 to 9 and a to f, in quotes, like "#0b4f8a"',
        )
    return text.lower()


def _token(node: _Node, name: str, usual: str) -> str:
    """A value of the kind that the token has: no other can say anything else in a style."""
    if _COLOUR.fullmatch(usual):
        return _colour(node, name)
    text = node.word(name)
    is_length = bool(_LENGTH.fullmatch(usual))
    if not (_LENGTH if is_length else _WORDS).fullmatch(text):
        what = "length" if is_length else "list of typefaces"
        like = f"'{usual}'" if "," in usual else usual  # between { and } a comma ends a value
        raise node.refuse(f"{name} is no {what}: {quoted(text)}", f"write it like {name}: {like}")
    return text


def _tokens(node: _Node, usual: Mapping[str, str], what: str) -> dict[str, str]:
    return {
        name: _token(value, name, usual[name]) for name, value in node.entries(what, list(usual))
    }


def _typefaces(node: _Node) -> dict[str, dict[str, str]]:
    fonts: dict[str, dict[str, str]] = {}
    for role, faces in node.entries("fonts", ROLES):
        fonts[role] = {}
        for face, name in faces.entries(role):
            if not _FACE.fullmatch(face):
                raise name.refuse(
                    f"{quoted(face)} is no weight of a typeface",
                    "write a weight, 100 or 200 and so on up to 900, with “italic” after it for a "
                    "slanted one",
                )
            fonts[role][face] = name.word(face)
    return fonts


def _plates(node: _Node) -> tuple[str, ...]:
    if not isinstance(node.value, list) or not 1 <= len(node.value) <= _MOST_PLATES:
        raise node.refuse(
            f"plates takes a list of 1 to {_MOST_PLATES} colours", 'write plates: ["#f7f4ee"]'
        )
    return tuple(_colour(one, "plates") for one in node.value)


def _strokes(node: _Node, usual: Strokes) -> Strokes:
    px, on_picture, under = usual.px, usual.on_picture, usual.under
    for name, value in node.entries("drawing", ("stroke", "on-picture", "under")):
        if name == "stroke":
            text = value.word(name)
            if not re.fullmatch(r"\d(?:\.\d{1,2})?", text) or not 0.5 <= float(text) <= 4:
                raise value.refuse(f"a stroke of {quoted(text)} px", "write 0.5 to 4, like 1.4")
            px = float(text)
        elif name == "on-picture":
            on_picture = _colour(value, name)
        else:
            under = _colour(value, name)
    return Strokes(px, on_picture, under)


def _number(node: _Node, name: str, within: tuple[float, float], unit: str = "") -> float:
    low, high = within
    text = node.word(name)
    if not re.fullmatch(r"\d{1,2}(?:\.\d{1,2})?", text) or not low <= float(text) <= high:
        raise node.refuse(f"a {name} of {quoted(text)}{unit}", f"write {low:g} to {high:g}")
    return float(text)


def _mood(light: _Node, framing: _Node, usual: Mood) -> Mood:
    from_right, strength, softness = usual.from_right, usual.strength, usual.softness
    for name, value in light.entries("light", ("from", "strength", "softness")):
        if name == "from":
            if value.word(name) not in ("left", "right"):
                raise value.refuse(f"light from {quoted(value.word(name))}", "write left or right")
            from_right = value.word(name) == "right"
        elif name == "strength":
            strength = _number(value, name, STRENGTHS)
        else:
            softness = _number(value, name, SOFTNESSES)
    margin = usual.margin
    for name, value in framing.entries("framing", ("margin",)):
        margin = _number(value, name, MARGINS, " mm")
    return Mood(from_right, strength, softness, margin)


_KEYS = (
    "says", "fonts", "tokens", "dark", "printed", "plate", "plates", "light", "framing", "drawing",
)  # fmt: skip
_BARE = Look("", {}, {}, {}, {role: {} for role in ROLES}, "", (), USUAL_STROKES)


def _bare_tokens(root: _Node) -> dict[str, str]:
    """Every token as the lowest theme has it: its kinds are told by these."""
    parts = dict(root.entries(FACTS))
    return {name: value.word(name) for name, value in parts["tokens"].entries("tokens")}


def read_look(path: Path, shown: str, below: Look | None) -> Look:
    """A theme.yaml over the look it stands on; without one it says everything.

    `shown` is what faults call the file. Errors: ShopError with file and line for a key, token or
    value that no theme has.
    """
    root = _parsed(path, shown)
    under = below or _BARE
    parts = dict(root.entries(FACTS, _KEYS))
    usual = below.tokens if below else _bare_tokens(root)
    nothing = _Node("", root.place)
    fonts = _typefaces(parts.get("fonts", nothing))
    mine = _tokens(parts.get("tokens", nothing), usual, "tokens")
    night = _tokens(parts.get("dark", nothing), usual, "dark")
    look = Look(
        says=parts["says"].word("says") if "says" in parts else under.says,
        tokens={**under.tokens, **mine},
        dark={**under.dark, **night},
        printed={**under.printed, **_tokens(parts.get("printed", nothing), usual, "printed")},
        fonts={role: fonts.get(role, under.fonts[role]) for role in ROLES},
        plate=_colour(parts["plate"], "plate") if "plate" in parts else under.plate,
        plates=_plates(parts["plates"]) if "plates" in parts else under.plates,
        strokes=_strokes(parts.get("drawing", nothing), under.strokes),
        mood=_mood(parts.get("light", nothing), parts.get("framing", nothing), under.mood),
    )
    own = below is not None and "season" in mine and not {"season", "on-season"} & night.keys()
    return _by_night_too(look) if own else look


_ARABIC = {"400": "Amiri", "600": "Amiri Bold"}


def _faces(family: str, faces: Mapping[str, str]) -> Iterator[str]:
    for face, name in faces.items():
        weight, _, slant = face.partition(" ")
        style = f"font-style: {slant}; " if slant else ""
        yield (
            f'@font-face {{ font-family: "{family}"; font-weight: {weight}; {style}'
            f'src: url("fonts/{name}"); }}'
        )


def _root(values: Mapping[str, str], more: str = "") -> str:
    return ":root { " + " ".join(f"--{k}: {v};" for k, v in values.items()) + more + " }"


def style_of(look: Look, medium: Medium) -> str:
    """The tokens as style, to stand before every sheet: for a page with its night, for a PDF with
    typefaces that travel with it. A sheet for the press and its
    tickets are the same in every theme, so nothing stands before them; nor before a mail, whose
    tokens are `written_out`."""
    if medium in ("sheet", "mail"):
        return ""
    values = {name: look.value(name) for name in look.tokens} | {"plate": look.plate}
    values |= {f"plate-{i + 1}": look.plates[i % len(look.plates)] for i in range(_MOST_PLATES)}
    if medium == "paper":
        own = {r: ", ".join((*look.families(r), f'"{ARABIC}"', look.tokens[r])) for r in ROLES}
        faces = [line for r in ROLES for line in _faces(family(r), look.fonts[r])]
        faces += _faces(ARABIC, _ARABIC)
        return "\n".join([*faces, _root(values | own)]) + "\n"
    return (
        "\n".join(
            (
                _root(values, " color-scheme: light dark;"),
                f"@media (prefers-color-scheme: dark) {{ {_root(look.dark)} }}",
                f"@media print {{ {_root(look.printed, ' color-scheme: light;')} }}",
            )
        )
        + "\n"
    )


def in_season(look: Look, colour: str) -> Look:
    """The look with a season's own colour, '#rrggbb', made as light or dark as its papers by day
    and night ask for; '' is the theme's."""
    if not colour:
        return look
    day, night = look.tokens, {**look.tokens, **look.dark}
    return replace(
        look,
        tokens={**day, **_season_on(day["paper"], colour)},
        dark={**look.dark, **_season_on(night["paper"], colour)},
    )


def _season_on(paper: str, colour: str) -> dict[str, str]:
    """The season's colour as this paper bears it, and black or white to stand on it."""
    from proofgen.colour import contrast_ratio, hex_to_rgb8, readable_on  # numpy, for seasons alone

    seen = readable_on(colour, paper)
    words = max(
        ("#ffffff", "#000000"),
        key=lambda one: float(contrast_ratio(hex_to_rgb8(one), hex_to_rgb8(seen))),
    )
    return {"season": seen, "on-season": words}


def _by_night_too(look: Look) -> Look:
    """A shop's own colour of the season, chosen for the day alone, made readable by night."""
    paper = look.dark.get("paper", look.tokens["paper"])
    return replace(look, dark={**look.dark, **_season_on(paper, look.tokens["season"])})


_VAR = re.compile(r"var\(--([\w-]+)\)")


def written_out(style: str, look: Look) -> str:
    """A style whose tokens are written out: many mail programs know no custom properties.
    `var(--dark-NAME)` is the token by night."""

    def value(found: re.Match[str]) -> str:
        name = found[1]
        if night := name.removeprefix("dark-") if name.startswith("dark-") else "":
            return look.dark.get(night, look.tokens[night])
        return look.tokens[name]

    return _VAR.sub(value, style)
