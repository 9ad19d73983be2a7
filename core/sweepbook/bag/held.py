"""One list of a bag held against the files that it is about."""

import hashlib
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Literal

from sweepbook.bag import layout, listing
from sweepbook.bag.digests import digest_of
from sweepbook.bag.listing import Listed, Unreadable

Kind = Literal["changed", "missing", "extra", "doubtful"]
_MORE_LINES = 50_000
"""Lines of a list beyond two for each file that is there: nobody reads of more that are missing."""
_ALIKE = 0.75
"""Part of the digits of two digests that agree only where one of them was altered: of the digests
of two different files one digit in 16 agrees."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A file of a bag that is not as its lists say.

    Attributes:
        kind: changed, missing, extra; or doubtful, where the list that says so was itself changed.
        path: of the file, below the bag.
        message: what is wrong, a sentence.
    """

    kind: Kind
    path: str
    message: str


@dataclass
class Digests:
    """The digests of the files of a bag, each computed once.

    Attributes:
        there: the files by path.
        on_file: called with each path before its digest is computed.
        compared: paths of the files that were held against a digest in a list.
    """

    there: dict[str, Path]
    on_file: Callable[[str], None]
    compared: set[str] = field(default_factory=set)
    _known: dict[tuple[str, str], str] = field(default_factory=dict)

    def of(self, path: str, algorithm: str) -> str:
        """Digest of a file; what hinders it, in words, where it cannot be read."""
        key = path, algorithm
        if key not in self._known:
            self.on_file(path)
            try:
                self._known[key] = digest_of(self.there[path], algorithm)
            except OSError as error:
                self._known[key] = f"not to be had ({error.strerror or error})"
        return self._known[key]


@dataclass(frozen=True, slots=True)
class Held:
    """A list, and what it is about.

    Attributes:
        name: of the list's file.
        algorithm: of its digests.
        about: paths of the files that it has to list.
        trusted: whether it is not known to be changed.
        strict: whether its lines must be written as this program writes them.
        digests: of the bag's files.
    """

    name: str
    algorithm: str
    about: frozenset[str]
    trusted: bool
    strict: bool
    digests: Digests

    def faults(self, raw: bytes) -> Iterator[Fault]:
        """What is wrong with the list, and with the files by it.

        A list has each of its files exactly once (RFC 8493, 2.1.3, as recalled).

        Args:
            raw: what is written in the list.
        """
        digits = 2 * hashlib.new(self.algorithm).digest_size
        most = 2 * len(self.about) + _MORE_LINES
        lines = list(islice(listing.lines_of(raw, digits), most + 1))
        if len(lines) > most:
            lines.pop()
            yield self._own(most + 1, "and what follows are far more than there are files")
        listed = [line for line in lines if isinstance(line, Listed)]
        bad = [line for line in lines if isinstance(line, Unreadable)]
        for none in bad:
            yield self._own(none.line, none.why)
        by_form = {unicodedata.normalize("NFC", path): path for path in self.about}
        found = {line: self._meant(line.path, by_form) for line in listed}
        left = self.about - set(filter(None, found.values()))
        by_digest = cache(lambda: self._by_digest(left))
        altered = bool(bad)
        first: dict[str, int] = {}
        for line, path in found.items():
            if path is not None:
                before = first.setdefault(path, line.line)
                if before != line.line:
                    altered = True
                    yield self._own(line.line, f"lists {path} again, as line {before} does")
                yield from self._compared(line, path)
                continue
            twin = next((one for one in by_digest().get(line.digest, ()) if one in left), None)
            if twin in layout.TAG_FILES:
                left, altered = left - {twin}, True
                yield self._own(line.line, f"names {line.path!r}, which is {twin} by its digest")
            else:
                also = f" What was in it is in {twin}." if twin else ""
                yield self._of("missing", line.path, f"It is listed and is not there.{also}")
        kind: Kind = "doubtful" if altered else "extra"
        for path in sorted(left):
            yield self._of(kind, path, f"No line of {self.name} lists it.")

    def _meant(self, path: str, by_form: Mapping[str, str]) -> str | None:
        """The file that a line lists, be its name composed as on the disk or otherwise."""
        return path if path in self.about else by_form.get(unicodedata.normalize("NFC", path))

    def _compared(self, line: Listed, path: str) -> Iterator[Fault]:
        digest = self._digest(path)
        self.digests.compared.add(path)
        if digest == line.digest:
            if self.strict and not line.plain:
                yield self._own(line.line, "is not written as it was made")
            return
        same = sum(a == b for a, b in zip(line.digest, digest, strict=False))
        if same >= _ALIKE * len(digest):
            digits = len(digest)
            why = f"gives a digest that is not that of {path} in {digits - same} of {digits} digits"
            yield self._own(line.line, f"{why}: the list was altered, and not the file")
        else:
            why = f"Its {self.algorithm} is {digest}, and {self.name} has {line.digest}."
            yield self._of("changed", path, why)

    def _digest(self, path: str) -> str:
        return self.digests.of(path, self.algorithm)

    def _by_digest(self, paths: Iterable[str]) -> dict[str, list[str]]:
        """Files by their digests, those of one in order."""
        found: dict[str, list[str]] = {}
        for path in sorted(paths):
            found.setdefault(self._digest(path), []).append(path)
        return found

    def _own(self, line: int, why: str) -> Fault:
        return Fault("changed", self.name, f"Line {line} {why}.")

    def _of(self, kind: Kind, path: str, why: str) -> Fault:
        if self.trusted:
            return Fault(kind, path, why)
        return Fault("doubtful", path, f"{why} But {self.name} was itself changed.")
