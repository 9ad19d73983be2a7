"""An audit document that was put aside, read a record at a time."""

import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO, Any

from sweepbook.errors import SweepbookError

_RECORDS = b'"records": ['


class BadDocument(SweepbookError):
    """A file is no audit document as this program writes it."""

    def __init__(self, name: str, why: str) -> None:
        super().__init__(f"{name} is no audit document: {why}.", "Restore it from a copy.")


@dataclass
class Kept:
    """An audit document on disk.

    Attributes:
        path: of the file.
        head: its members before the records.
        tail: those after the records; complete once these were walked.
    """

    path: Path
    head: dict[str, Any] = field(default_factory=dict)
    tail: dict[str, Any] = field(default_factory=dict)

    def records(self) -> Iterator[dict[str, Any]]:
        """The records, in the order of the document; `head` is complete before the first.

        Raises:
            BadDocument: it cannot be read, or is none.
        """
        try:
            with self.path.open("rb") as stream:
                yield from self._walk(stream)
        except OSError as error:
            raise BadDocument(self.path.name, error.strerror or str(error)) from error
        except (ValueError, RecursionError) as error:
            raise BadDocument(self.path.name, str(error).rstrip(".")) from error

    def _walk(self, stream: IO[bytes]) -> Iterator[dict[str, Any]]:
        if next(stream, b"") != b"{\n":
            raise ValueError("it does not begin with a line of { alone")
        for line in stream:
            if line.startswith(_RECORDS):
                break
            self.head |= _member(line)
        if b"]" not in line[len(_RECORDS) :]:
            for line in stream:
                if line.startswith(b"]"):
                    break
                record = json.loads(line.rstrip(b",\n"))
                if not isinstance(record, dict):
                    raise ValueError("a record is no object")
                yield record
        for line in stream:
            if line != b"}\n":
                self.tail |= _member(line)


def load(path: Path) -> Kept:
    """Open a document and read its head.

    Raises:
        BadDocument: it cannot be read, or is none.
    """
    kept = Kept(path)
    next(kept.records(), None)
    return kept


def _member(line: bytes) -> dict[str, Any]:
    member: dict[str, Any] = json.loads(b"{" + line.rstrip(b",\n") + b"}")
    return member
