"""A theme: templates, style and script of one folder, put together as pages that load nothing."""

from __future__ import annotations

import base64
import functools
import hashlib
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from proofgen.errors import Place, ShopError
from proofgen.render.compiled import Compiled
from proofgen.render.house_text import safe_markdown
from proofgen.render.layers import GuardedEnvironment, LayeredEnvironment, Layers, fault_in, text_of
from proofgen.render.look import (
    DRAWN_IN,
    FACTS,
    Look,
    Medium,
    in_season,
    read_look,
    style_of,
    written_out,
)
from proofgen.render.saying import counting, saying
from proofgen.render.shipped import carried
from proofgen.render.tight import tight_script, tight_style
from proofgen.render.webfonts import Face, faces_of, large_letters
from proofgen.say.safe import for_letter, for_page
from proofgen.say.tongue import Tongue
from proofgen.say.ways import way_of
from proofgen.store import Store

# Where a page has the theme's typefaces from: "none" (those of the reader's device), "inside" (in
# its style), else the way to their folder, "" beside it.
Fonts = str
# What a page may load: its own pictures, and the very style and script that stand in it.
_POLICY = {
    "default-src": "'none'",
    "img-src": "'self' data:",
    "base-uri": "'none'",
    "form-action": "'none'",
}


def _source_of(text: str) -> str:
    """The CSP source expression for one inline block (CSP level 3, section 6.7.3.3)."""
    value = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
    return f"'sha256-{value}'"


def _inline(text: str, tag: str) -> Markup:
    if f"</{tag}" in text.lower():
        raise ValueError(f"a {tag} block may not contain its own end")
    return Markup(text)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Worn:
    """What a page has over its bare words: look, style, script, and what its policy says of
    these."""

    look: Look
    style: Markup
    script: Markup
    sources: Mapping[str, str]
    allowed: Mapping[str, str]


_BASE = "base"  # what every theme stands on


def theme_names() -> list[str]:
    """The names of the themes that ship."""
    found = (p.parent.name for p in carried("themes").glob(f"*/{FACTS}"))
    return sorted(name for name in found if name != _BASE)


@functools.cache
def _shipped(name: str) -> Look:
    below = None if name == _BASE else _shipped(_BASE)
    return read_look(carried("themes") / name / FACTS, f"themes/{name}/{FACTS}", below)


@contextmanager
def _told(own: Path | None) -> Iterator[None]:
    """What goes wrong in a shop's own templates is told with file and line; what goes wrong in
    ours is a fault of ours and comes as it is."""
    try:
        yield
    except ShopError:  # told already
        raise
    except Exception as error:
        if own is None or not (place := fault_in(error, own)):
            raise
        raise ShopError(
            f"this template cannot be used ({' '.join(str(error).split())[:200] or 'no reason'})",
            "mend the line, or take the file away; what a template may use stands in "
            "DEVELOPERS.md, “Themes”",
            place,
        ) from error


def _sheet(path: Path, theme: Path) -> str:
    """A style sheet. ShopError where it is no text, or would end the style of a page."""
    text = text_of(path, theme)
    end = text.lower().find("</style")
    if end >= 0:
        place = Place(f"{theme.name}/{path.name}", text.count("\n", 0, end) + 1)
        raise ShopError("a style sheet cannot hold “</style”", "take it out", place)
    return text.strip()


OWN = "theme"  # the folder of a shop that goes over the theme it chose


def _look_of(name: str, own: Path | None) -> Look:
    known = theme_names()
    if name not in known:
        raise ShopError(f"there is no theme “{name}”", f"choose one of: {', '.join(known)}")
    if own is None or not (own / FACTS).exists():
        return _shipped(name)
    return read_look(own / FACTS, f"{own.name}/{FACTS}", _shipped(name))


class Theme:
    """One theme for one shop's language and currency, in three layers: the shop's own folder, the
    theme's, and the one that all themes stand on. Of a file the first layer that has it counts; a
    template may extend the next of its name (`below/NAME`) and change some of its blocks.

    `own` is the shop's folder `theme`, which may lack anything or be absent; `kept` remembers what
    takes long; `wordmark` is the shop's name as a safe drawing. Errors: ShopError for
    a name that no theme has and for a fault in a theme.yaml, with its line.
    """

    def __init__(
        self,
        name: str,
        language: str = "en",
        currency: str = "EUR",
        own: Path | None = None,
        kept: Store | None = None,
        wordmark: str = "",
    ) -> None:
        self.name, self.currency, self.kept = name, currency, kept
        self._wordmark = Markup(wordmark)
        self._own = own if own and own.is_dir() else None
        self.look = _look_of(name, self._own)
        self._folders = [carried("themes") / name, carried("themes") / _BASE]
        if self._own:
            self._folders.insert(0, self._own)
        self.tongue = Tongue.of(language)  # sentences, dates and numbers follow it
        self.language = self.tongue.tag
        self._pages = self._environment(self._folders)
        self._wardrobe: dict[tuple[object, ...], _Worn] = {}

    @property
    def plate(self) -> str:
        """The ground, '#rrggbb', that pictures in the round stand on, by day and by night, where
        somebody judges their colours."""
        return self.look.plate

    @property
    def ground(self) -> str:
        """What a kept picture in the round depends on beside its thing: ground, light, framing."""
        return f"{self.look.plate} {self.look.mood}"

    @functools.cached_property
    def _sheets(self) -> Environment:
        """The templates of what goes under the press, which no theme changes."""
        return self._environment(self._folders[-1:])

    def _environment(self, folders: Sequence[Path]) -> Environment:
        kind = GuardedEnvironment if self._own in folders else LayeredEnvironment
        environment = kind(
            loader=Layers([folder / "templates" for folder in folders]),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
            finalize=for_page,
            # What is compiled for one kind does not run in the other.
            bytecode_cache=Compiled(
                *(self.name, self.language, self.currency, self.tongue.digest, kind.__name__)
            ),
            extensions=["jinja2.ext.i18n"],
            cache_size=-1,  # all of them
            auto_reload=False,  # as they stood when a theme was opened
        )
        environment.install_gettext_callables(  # type: ignore[attr-defined]
            self.tongue.message, self.tongue.messages, newstyle=True
        )
        environment.globals["gettext"] = environment.globals["_"] = saying(self.tongue)
        environment.globals["ngettext"] = counting(self.tongue)
        environment.globals["wordmark"] = self._wordmark
        environment.globals["lacks_large"] = self.lacks_large
        environment.globals["drawn_in"] = DRAWN_IN
        environment.filters.update(
            date=self.date,
            day=self.tongue.day,
            money=self.money,
            number=self.tongue.number,
            mm=self.mm,
            markdown=safe_markdown,
            way=way_of,
            one_line=lambda text: for_letter(str(text)),
        )
        return environment

    @functools.cached_property
    def faces(self) -> tuple[Face, ...]:
        """The theme's typefaces for pages."""
        return tuple(faces_of(self.look, self.kept))

    @functools.cached_property
    def _large(self) -> frozenset[str]:
        return large_letters(self.look, self.kept)

    def lacks_large(self, text: str) -> bool:
        """Whether the typeface of large words lacks a letter of a text, so that it would stand in
        two typefaces."""
        said = unicodedata.normalize("NFC", text)
        return bool(self._large) and not self._large.issuperset(said)

    @property
    def font_files(self) -> dict[str, bytes]:
        """The files of these, by the names that pages know them by."""
        return {face.name: face.content for face in self.faces}

    def check(self) -> None:
        """ShopError for the first of the shop's own sheets and templates that cannot be used."""
        if self._own:
            for sheet in sorted(self._own.glob("*.css")):
                _sheet(sheet, self._own)
            for path in sorted(self._own.glob("templates/**/*.html")):
                name = path.relative_to(self._own / "templates").as_posix()
                with _told(self._own):
                    self._pages.get_template(name)

    @functools.cached_property
    def digest(self) -> str:
        """SHA-256 over every file of the theme, hex: changes when a page might."""
        total = hashlib.sha256(self.language.encode() + self.currency.encode())
        for folder in self._folders:
            for path in sorted(p for p in folder.rglob("*") if p.is_file()):
                total.update(path.read_bytes())
        total.update(self.tongue.catalogue + self._wordmark.encode())
        return total.hexdigest()

    def date(self, day: date, long: bool = True) -> str:
        """A date in the theme's language."""
        return self.tongue.date(day, long)

    def money(self, amount: Decimal, currency: str | None = None) -> str:
        """An amount in the shop's currency, or in `currency`."""
        return self.tongue.money(amount, currency or self.currency)

    def mm(self, value: float, places: int = 1) -> str:
        """A length in mm."""
        return self.tongue.mm(value, places)

    def _styles(self, names: Sequence[str], medium: Medium) -> str:
        """Sheets of all layers: the theme's own stand after those that they go over."""
        folders = self._folders[-1:] if medium == "sheet" else reversed(self._folders)
        texts = [
            _sheet(file, folder)
            for folder in folders
            for name in names
            if (file := folder / f"{name}.css").is_file()
        ]
        return "\n".join(texts) + "\n"

    def _scripts(self, names: Sequence[str]) -> str:
        """Scripts, which are the same in every theme: an answer hangs on them."""
        texts = ((self._folders[-1] / f"{n}.js").read_text("utf-8").strip() for n in names)
        return "\n".join(texts) + "\n"

    def render(
        self,
        template: str,
        *,
        medium: Medium = "page",
        styles: Sequence[str] = ("base",),
        own_style: str = "",
        scripts: Sequence[str] = (),
        private: bool = False,
        allow: Mapping[str, str] | None = None,
        fonts: Fonts = "none",
        season_colour: str = "",
        **context: object,
    ) -> str:
        """A page from a template that extends `page.html` (or, for a PDF, `sheet.html`).

        `medium` says what stands before its style: the theme's tokens, on paper its typefaces as
        well, nothing on what goes under the press. `own_style` is style of this one page, after the
        sheets `styles`. `private` keeps it out of search engines. `allow` adds to the policy of
        what the page may load, for example {"img-src": "blob:"}. `fonts` is the folder of the
        theme's typefaces, seen from the page. `season_colour`, '#rrggbb', goes over the
        theme's.
        """
        worn = self._worn(medium, tuple(styles), own_style, tuple(scripts), fonts, season_colour)
        pages = self._sheets if medium == "sheet" else self._pages
        with _told(self._own):
            return pages.get_template(template).render(
                style=worn.style,
                script=worn.script,
                policy=_policy(worn.sources, {**worn.allowed, **(allow or {})}),
                private=private,
                language=self.language,
                runs=self.tongue.runs,
                theme=self.name,
                look=worn.look,
                **context,
            )

    def _worn(
        self,
        medium: Medium,
        styles: tuple[str, ...],
        own_style: str,
        scripts: tuple[str, ...],
        fonts: Fonts,
        season_colour: str,
    ) -> _Worn:
        """What pages wear that ask for the same; put together once, since a site has thousands."""
        asked = (medium, styles, own_style, scripts, fonts, season_colour)
        if asked in self._wardrobe:
            return self._wardrobe[asked]
        faces = self.faces if medium == "page" and fonts != "none" else ()
        folder = None if fonts == "inside" else fonts
        style = "".join(f"{face.rule(folder)}\n" for face in faces)
        look = in_season(self.look, season_colour)
        style += style_of(look, medium) + self._styles(styles, medium) + own_style
        if medium == "mail":
            style = written_out(style, look)
        elif medium == "page":
            style = tight_style(style)
        script = tight_script(self._scripts(scripts)) if scripts else ""
        worn = _Worn(
            look=look,
            style=_inline(style, "style"),
            script=_inline(script, "script"),
            sources=_sources(style, script),
            allowed={"font-src": "data:" if fonts == "inside" else "'self'"} if faces else {},
        )
        if not own_style:  # that of one page
            self._wardrobe[asked] = worn
        return worn


def _sources(style: str, script: str) -> dict[str, str]:
    sources = {"style-src": _source_of(style)}
    return {**sources, "script-src": _source_of(script)} if script else sources


def _policy(sources: Mapping[str, str], allow: Mapping[str, str]) -> str:
    policy = {**_POLICY, **sources}
    for kind, more in allow.items():
        before = policy.get(kind, "'none'")
        policy[kind] = more if before == "'none'" else f"{before} {more}"
    return "; ".join(f"{kind} {value}" for kind, value in policy.items())
