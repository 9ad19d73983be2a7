"""Templates of labels: a label taken apart from left to right, without going back."""

import itertools
import re
from collections.abc import Mapping
from dataclasses import dataclass

_BRACED = re.compile(r"\{([^{}]*)\}")
_PIECE = re.compile(r"([a-z][a-z0-9_]*)(?::(?:([1-9][0-9]?) )?(digits?|letters?|characters?))?")

_MANY = {
    "digit": "digits",
    "letter": "letters",
    "character": "characters",
    "": "letters or digits",
}


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of a label.

    Attributes:
        name: what the template calls it.
        kind: digit, letter or character; "" for letters and digits.
        count: how many; 0 for as many as there are.
    """

    name: str
    kind: str = ""
    count: int = 0

    def __str__(self) -> str:
        kind = self.kind or "letter or digit"
        if not self.count:
            return f"a {kind}"
        return f"{self.count} {kind if self.count == 1 else _MANY[self.kind]}"


@dataclass(frozen=True, slots=True)
class Misfit:
    """Where a label stops fitting a template.

    Attributes:
        at: place in the label, counted from 0.
        expected: in words.
    """

    at: int
    expected: str


Part = str | Piece
Template = tuple[Part, ...]


def template(text: str) -> Template:
    """Take a template apart: fixed texts and pieces, in order.

    Raises:
        ValueError: a brace or a piece is not well written, or two pieces cannot be told apart.
    """
    parts: list[Part] = []
    at = 0
    for found in _BRACED.finditer(text):
        parts += [text[at : found.start()], _piece(found[1])]
        at = found.end()
    parts = [part for part in (*parts, text[at:]) if part != ""]
    if any(isinstance(part, str) and ("{" in part or "}" in part) for part in parts):
        raise ValueError("a brace that is not closed, or not opened")
    names = [part.name for part in parts if isinstance(part, Piece)]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise ValueError(f"the piece {twice!r} comes twice")
    for one, other in itertools.pairwise(parts):
        if isinstance(one, Piece) and isinstance(other, Piece):
            _tell_apart(one, other)
    return tuple(parts)


def names(parts: Template) -> tuple[str, ...]:
    """The names of its pieces."""
    return tuple(part.name for part in parts if isinstance(part, Piece))


def taken_apart(parts: Template, label: str) -> dict[str, str] | Misfit:
    """The pieces of a label by name, or where it stops fitting.

    A piece takes as many digits, letters, or letters and digits as there are; one of characters
    takes all up to the fixed text that follows, or to the end. Right before another piece, one of
    no kind takes the digits, or the letters, that stand there.
    """
    pieces: dict[str, str] = {}
    at = 0
    for n, part in enumerate(parts):
        if isinstance(part, str):
            if not label.startswith(part, at):
                return Misfit(at, repr(part))
            at += len(part)
            continue
        follows = parts[n + 1] if n + 1 < len(parts) else None
        end = _end(part, follows, label, at)
        if end - at < (part.count or 1):
            return Misfit(at, str(part))
        pieces[part.name] = label[at:end]
        at = end
    return pieces if at == len(label) else Misfit(at, "the end of the label")


def filled(parts: Template, pieces: Mapping[str, str]) -> str:
    """A text with its pieces put in."""
    return "".join(part if isinstance(part, str) else pieces[part.name] for part in parts)


def _piece(text: str) -> Piece:
    told = _PIECE.fullmatch(text)
    if told is None:
        raise ValueError(
            f"{{{text}}} is no piece; write {{name}}, {{name:digits}}, {{name:letters}}, or with a "
            "number {name:2 digits}, {name:1 letter}, {name:3 characters}"
        )
    name, count, kind = told.groups()
    return Piece(name, (kind or "").rstrip("s"), int(count or 0))


def _tell_apart(one: Piece, other: Piece) -> None:
    """Hold two pieces that stand side by side against each other.

    Raises:
        ValueError: nothing says where the first one ends.
    """
    if one.count or (one.kind in ("digit", "letter") and other.kind != one.kind):
        return
    if not one.kind:
        return  # it ends where digits become letters, or letters digits
    raise ValueError(
        f"nothing says where {one.name!r} ends and {other.name!r} begins; give {one.name!r} a "
        f"number, such as {{{one.name}:2 {one.kind}s}}"
    )


def _end(piece: Piece, follows: Part | None, label: str, at: int) -> int:
    """Where a piece ends; at `at` where nothing there fits it."""
    text = label[at : at + piece.count] if piece.count else label[at:]
    if piece.kind == "character":
        known = isinstance(follows, str) and not piece.count
        found = text.find(str(follows)) if known else -1
        return at + (found if found >= 0 else len(text))
    wanted = {piece.kind} if piece.kind else {"digit", "letter"}
    if not piece.kind and not piece.count and isinstance(follows, Piece):
        first = _kind(text[:1])
        wanted = {first} if first else set()
    fitting = itertools.takewhile(lambda char: _kind(char) in wanted, text)
    return at + sum(1 for _ in fitting)


def _kind(char: str) -> str | None:
    """What a character is: digit, letter, or None for a mark, a blank and nothing."""
    if char.isascii() and char.isdigit():
        return "digit"
    return "letter" if char.isalpha() else None
