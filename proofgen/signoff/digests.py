"""One way to write a document down as bytes, and the digest of everything that is pressed."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping

import rfc8785


def canonical(document: object) -> bytes:
    """The document as RFC 8785 JSON: the same bytes on every machine and in the page's script.

    Errors: ValueError for what JSON cannot hold (NaN, whole numbers past 2**53, lone surrogates).
    """
    return rfc8785.dumps(document)  # type: ignore[arg-type]  # it raises for what JSON cannot hold


def digest_of(content: bytes) -> str:
    """SHA-256 of some bytes, hex."""
    return hashlib.sha256(content).hexdigest()


def fingerprint(document: Mapping[str, object], rasters: Mapping[str, str]) -> str:
    """SHA-256, hex, over the artwork's description and the pixel digest of every raster by name.

    Errors: ValueError when the description already has a `rasters` of its own.
    """
    if "rasters" in document:
        raise ValueError("the description must not name rasters itself")
    return digest_of(canonical({**document, "rasters": dict(rasters)}))


def read_canonical(content: bytes) -> object:
    """The document in canonical bytes. Errors: ValueError when they are anything else."""
    try:
        document: object = json.loads(content)
        if canonical(document) != content:
            raise ValueError("not in canonical form")
    except RecursionError as error:
        raise ValueError("nested too deeply") from error
    return document
