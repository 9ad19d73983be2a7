"""Names of files that hold a test together: what they share, and what each says of its curves."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import PurePath

from sweepbook.dialect import names
from sweepbook.dialect.names import Grammar, Namer
from sweepbook.dialect.paired_names import unpacked

SHARED = "{}"
"""Stands for what the names of the files of one test share."""

_MARKS = {SHARED: "\x01", "{number}": "\x02", "{any}": "\x03"}
_FITS = {"\x01": "([^/]+)", "\x02": "[0-9]+", "\x03": "[^/]+"}
_MOST_KNOWN = 100_000


@dataclass(frozen=True, slots=True)
class Told:
    """What the name of a file says.

    Attributes:
        shared: what stands for {}; "" where the form has none.
        templates: the forms, with marks for what is not told by words.
        text: the name as one of the texts that the templates stand for.
    """

    shared: str
    templates: tuple[str, ...]
    text: str

    @property
    def names_curves(self) -> bool:
        """Whether such names say anything of the curves in their files."""
        return any(map(names.placeholders, self.templates))


@dataclass
class FileForm:
    """The forms of the names of files with curves, where a test is spread over several.

    Args:
        forms: with {} for what they share, {parameter}, {pairs}, {end} and so on for what each is
            of, {number} and {any} for what says nothing; `/` parts a file from its folder.
        grammar: the words that these stand for.

    Attributes:
        depth: how many folders above a file the forms name.

    Raises:
        ValueError: a placeholder is unknown, the forms name other numbers of folders or do not all
            have {}, or there are too many words.
    """

    forms: tuple[str, ...]
    grammar: Grammar
    depth: int = field(init=False)
    _fits: Sequence[tuple[re.Pattern[str], str]] = field(init=False)
    _known: dict[str, Told | None] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.depth = self.forms[0].count("/")
        for form in self.forms:
            if form.count(SHARED) > 1:
                raise ValueError(f"{form!r} has {SHARED} twice")
            if form.count("/") != self.depth or (SHARED in form) != (SHARED in self.forms[0]):
                raise ValueError(f"all forms have {SHARED} and `/` as often as {self.forms[0]!r}")
            if fault := names.check(marked(form)):
                raise ValueError(fault.replace(repr(marked(form)), repr(form)))
        texts = Namer([self.templates, [""]], self.grammar).texts()[0]
        by_length = sorted(texts, key=lambda text: (-len(text), text))
        self._fits = [(re.compile(_pattern(text)), text) for text in by_length]

    def __str__(self) -> str:
        """The forms, for messages."""
        return " or ".join(map(repr, self.forms))

    @property
    def has_shared(self) -> bool:
        """Whether the names share anything with those of other files of their test only."""
        return SHARED in self.forms[0]

    @property
    def templates(self) -> tuple[str, ...]:
        """The forms as templates of names."""
        return tuple(map(marked, self.forms))

    def name_of(self, path: PurePath) -> str:
        """The part of a path that the forms are of, without the ending of a packed file."""
        return unpacked("/".join(path.parts[-1 - self.depth :]))

    def told(self, path: PurePath) -> Told | None:
        """What the name of a file says; None where it is of no form.

        Of words that both fit the longer one counts.
        """
        name = self.name_of(path)
        if name not in self._known:
            if len(self._known) >= _MOST_KNOWN:
                self._known.clear()
            found = ((fits.fullmatch(name), text) for fits, text in self._fits)
            told = next(((of, text) for of, text in found if of), None)
            shared = told[0][1] if told and self.has_shared else ""
            self._known[name] = Told(shared, self.templates, told[1]) if told else None
        return self._known[name]


def is_form(file: str | Sequence[str]) -> bool:
    """Whether the names of files are told by more than what two of them share."""
    forms = [file] if isinstance(file, str) else file
    return len(forms) > 1 or any(names.placeholders(of) or "/" in of for of in forms)


def marked(template: str) -> str:
    """A template with marks for what is not told by words."""
    for piece, mark in _MARKS.items():
        template = template.replace(piece, mark)
    return template


def shown(text: str) -> str:
    """A text with marks, as the dialect writes it."""
    for piece, mark in _MARKS.items():
        text = text.replace(mark, piece)
    return text


def _pattern(text: str) -> str:
    return "".join(_FITS.get(char, re.escape(char)) for char in text)
