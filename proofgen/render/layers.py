"""Templates of a theme in layers: a shop's own before the chosen theme's before the base's."""

from __future__ import annotations

import re
import traceback
from collections.abc import Callable, MutableMapping, Sequence
from pathlib import Path
from typing import Any

from jinja2 import BaseLoader, Environment, TemplateNotFound, TemplateSyntaxError
from jinja2.loaders import split_template_path
from jinja2.sandbox import SandboxedEnvironment

from proofgen.errors import Place, ShopError
from proofgen.render.settled import Said, Settled, printed

BELOW = "below/"
_LEVEL = re.compile(r"(\d+):(.+)")


def text_of(path: Path, theme: Path) -> str:
    """A file of a theme's folder. ShopError for one that is no text."""
    try:
        return path.read_text("utf-8-sig")
    except UnicodeDecodeError:
        place = Place(f"{theme.name}/{path.relative_to(theme).as_posix()}")
        raise ShopError(
            "this file cannot be read", "save it as plain text in UTF-8", place
        ) from None


class Layers(BaseLoader):
    """Folders of templates, the first that has one counts. `below/NAME` in a template is the next
    one of that name under it."""

    def __init__(self, folders: Sequence[Path]) -> None:
        self.folders = tuple(folders)

    def _found(self, name: str) -> tuple[int, Path]:
        levelled = _LEVEL.fullmatch(name)
        first, rest = (int(levelled[1]), levelled[2]) if levelled else (0, name)
        parts = split_template_path(rest)
        for level, folder in enumerate(self.folders[first:], first):
            path = folder.joinpath(*parts)
            if path.is_file():
                return level, path
        raise TemplateNotFound(rest)

    def get_source(
        self, environment: Environment, template: str
    ) -> tuple[str, str, Callable[[], bool]]:
        level, path = self._found(template)
        return text_of(path, self.folders[level].parent), str(path), lambda: True

    def under(self, name: str, asking: str) -> str:
        """What `below/NAME` means in the template `asking`."""
        level, _ = self._found(asking)
        return f"{level + 1}:{name}"


class LayeredEnvironment(Environment):
    """Jinja that knows `below/`, for templates of ours alone."""

    code_generator_class = Settled
    printed = staticmethod(printed)
    Macro = Said

    def make_globals(self, d: MutableMapping[str, Any] | None) -> MutableMapping[str, Any]:
        """All templates share those of the environment, which stand before the first is loaded.
        Jinja chains a template's own before them, and walks along that chain for each page."""
        return self.globals if d is None else super().make_globals(d)

    def join_path(self, template: str, parent: str) -> str:
        if template.startswith(BELOW) and isinstance(self.loader, Layers):
            return self.loader.under(template.removeprefix(BELOW), parent)
        return template


class GuardedEnvironment(LayeredEnvironment, SandboxedEnvironment):
    """The same where templates of a shop's own are among them. These say what a page looks like;
    the sandbox keeps them from doing anything else, and takes about a fifth of a page's time."""


def fault_in(error: Exception, own: Path) -> Place | None:
    """Where in a shop's own templates something went wrong, shown from the shop's folder; None
    where it was none of them."""
    if isinstance(error, TemplateSyntaxError):
        at = [(error.filename or "", error.lineno)]
    else:
        at = [(one.filename, one.lineno or 0) for one in traceback.extract_tb(error.__traceback__)]
    for file, line in reversed(at):
        if Path(file).is_relative_to(own):
            return Place(f"{own.name}/{Path(file).relative_to(own).as_posix()}", line)
    return None
