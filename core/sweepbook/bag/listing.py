"""Manifests: the files of a bag with their digests, one a line, as `sha256sum` reads them too."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath

from sweepbook.text import utf8_safe

_LINE = re.compile(r"([0-9A-Fa-f]+)[ \t]+\*?([^\s].*)", re.DOTALL)
_ESCAPED = {"%0A": "\n", "%0D": "\r", "%25": "%"}
_ESCAPE = re.compile("%(?:0A|0D|25)", re.IGNORECASE)
_TO_ESCAPE = {ord(char): escape for escape, char in _ESCAPED.items()}
_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Listed:
    """A line of a manifest.

    Attributes:
        line: its number, from 1.
        path: of the file, below the bag.
        digest: in small digits.
        plain: whether the line is written as this program writes it.
    """

    line: int
    path: str
    digest: str
    plain: bool


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A line that is none of a manifest: its number, and what is wrong with it."""

    line: int
    why: str


def written(digests: Mapping[str, str]) -> bytes:
    """A manifest, by path; a line feed, a return and % in a path as RFC 8493, 2.1.3, says."""
    lines = [f"{digests[path]}  {path.translate(_TO_ESCAPE)}\n" for path in sorted(digests)]
    return "".join(lines).encode()


def lines_of(raw: bytes, digits: int) -> Iterator[Listed | Unreadable]:
    """The lines of a manifest, those that can be read and those that cannot.

    Args:
        raw: what is written in it.
        digits: how many a digest has.
    """
    for number, line in enumerate(raw.removesuffix(b"\n").split(b"\n"), start=1):
        yield _line(number, line, digits)


def _line(number: int, raw: bytes, digits: int) -> Listed | Unreadable:
    try:
        text = raw.removesuffix(b"\r").decode()
    except UnicodeDecodeError:
        return Unreadable(number, "is no UTF-8 text")
    found = _LINE.fullmatch(text)
    if not found or len(found[1]) != digits:
        shown = utf8_safe(text[:_SHOWN])
        return Unreadable(number, f"is no digest with a path: {shown!r}")
    digest, path = found[1], _unescaped(found[2])
    if _leads_out(path):
        return Unreadable(number, f"names {path[:_SHOWN]!r}, which leads out of the bag")
    plain = raw == f"{digest.lower()}  {path.translate(_TO_ESCAPE)}".encode()
    return Listed(number, path, digest.lower(), plain)


def _unescaped(path: str) -> str:
    return _ESCAPE.sub(lambda found: _ESCAPED[found[0].upper()], path)


def _leads_out(path: str) -> bool:
    """Whether a path is none to a file below the bag."""
    parts = PurePosixPath(path).parts
    return path.startswith("/") or ".." in parts or "\\" in path or "\0" in path or not parts
