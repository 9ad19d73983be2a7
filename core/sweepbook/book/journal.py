"""The journal: one line an event, each line bound to the one before it by a digest.

A line is a JSON object whose last member is `digest`: the SHA-256 of the line's own UTF-8 text
up to, and without, the comma before that member. `previous` is the digest of the line before,
null in the first. So a changed, removed or inserted line shows, with `sha256sum` alone.

A line begins with `line`, `previous`, `at` and `event`, written without blanks and each once. A
line that is written otherwise is refused, so that what a look at the text finds (see `mentions`)
is what a reader finds.
"""

import hashlib
import json
import os
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, BinaryIO, NamedTuple

from sweepbook import files
from sweepbook.clock import now
from sweepbook.errors import SweepbookError
from sweepbook.inputs import check_regular

_MARK = b',"digest":"'
_ENCODE = json.JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode
"""Made once, not for each line: a journal may have a million."""
_BLOCK = 65_536
LONGEST = 64 << 20
"""Bytes of a line; one that tells of 100,000 tests of one file has half of that."""


class BrokenJournal(SweepbookError):
    """A line is not what was written, or lines are missing."""


class Line(NamedTuple):
    """One event.

    Attributes:
        number: of the line, counted from 1.
        event: what happened: "begun", "gathered"; others are kept and passed over.
        body: the whole object.
        digest: by which the next line names it.
    """

    number: int
    event: str
    body: Mapping[str, Any]
    digest: str


def read(path: Path) -> Iterator[Line]:
    """The lines in order, each proved against its digest and the line before.

    A last line without its end is what a killed program leaves: it is passed over, and cut off
    when the next line is added. A journal that is not there has no lines.

    Raises:
        BrokenJournal: at the first line that is not what was written.
        SweepbookError: the journal cannot be opened.
    """
    from orjson import loads

    previous: str | None = None
    try:
        check_regular(path)
        with path.open("rb") as stream:
            for number, raw in enumerate(iter(lambda: stream.readline(LONGEST + 1), b""), start=1):
                if len(raw) > LONGEST:
                    raise _broken(path, number, f"it is longer than {LONGEST >> 20} MiB")
                if not raw.endswith(b"\n"):
                    return
                line = _proved(path, number, raw[:-1], previous, loads)
                previous = line.digest
                yield line
    except FileNotFoundError:
        return
    except OSError as error:
        raise SweepbookError(
            f"{path}: cannot be read: {error.strerror or error}.",
            "Check that you may read the book.",
        ) from error


def mentions(path: Path, event: str) -> bool:
    """Whether a line may be of an event, by a quick look at the text; nothing is proved.

    No line that says so in another way is read (see `read`). A journal that cannot be opened
    mentions nothing: whoever reads it is told.
    """
    sign = f'"event":"{event}"'.encode()
    try:
        check_regular(path)
        with path.open("rb") as stream:
            return any(sign in raw for raw in iter(lambda: stream.readline(LONGEST), b""))
    except OSError:
        return False


def cut_off(path: Path) -> int:
    """How many bytes of a line without its end stand at the end of the journal."""
    try:
        check_regular(path)
        with path.open("rb") as stream:
            size = stream.seek(0, os.SEEK_END)
            return size - _end_of_last_line(stream)
    except OSError:
        return 0


def append(path: Path, last: Line | None, event: str, body: Mapping[str, Any]) -> Line:
    """Add one event and have it on the disk before returning. Call with the book locked.

    Args:
        path: the journal.
        last: the line that is now the last one, None in an empty journal.
        event: what happened.
        body: what there is to say about it; JSON values.

    Raises:
        SweepbookError: the journal cannot be written.
    """
    number = 1 if last is None else last.number + 1
    head = {
        "line": number,
        "previous": None if last is None else last.digest,
        "at": now(),
        "event": event,
    }
    whole = {**head, **body}
    open_end = _open_end(whole)
    digest = hashlib.sha256(open_end).hexdigest()
    try:
        _add(path, open_end + _MARK + digest.encode() + b'"}\n')
    except OSError as error:
        raise files.cannot_write(path, error) from error
    return Line(number, event, whole, digest)


def _add(path: Path, raw: bytes) -> None:
    """Write at the end, after cutting off what an interrupted write left there."""
    with files.added_to(path) as stream:
        end = _end_of_last_line(stream)
        if end != stream.seek(0, os.SEEK_END):
            stream.truncate(end)
        stream.write(raw)
        stream.flush()
        os.fsync(stream.fileno())


def _end_of_last_line(stream: BinaryIO) -> int:
    """Position after the last line end in the file; 0 where there is none."""
    place = stream.seek(0, os.SEEK_END)
    while place > 0:
        start = max(0, place - _BLOCK)
        stream.seek(start)
        found = stream.read(place - start).rfind(b"\n")
        if found >= 0:
            return start + found + 1
        place = start
    return 0


def _proved(
    path: Path, number: int, raw: bytes, previous: str | None, loads: Callable[[bytes], Any]
) -> Line:
    """The line, if it is what was written."""
    signed, mark, rest = raw.rpartition(_MARK)
    digest = hashlib.sha256(signed).hexdigest()
    if not mark or rest != digest.encode() + b'"}':
        raise _broken(path, number, "its digest does not fit its text")
    try:
        body = loads(signed + b"}")
    except ValueError as error:
        raise _broken(path, number, "it is no JSON object") from error
    if not isinstance(body, dict) or not isinstance(body.get("event"), str):
        raise _broken(path, number, "it names no event")
    if body.get("previous") != previous or body.get("line") != number:
        raise _broken(path, number, "it does not follow the line before it")
    if not _begins_as_written(signed, number, previous, body):
        raise _broken(path, number, "it does not begin as the program writes it")
    return Line(number, body["event"], body, digest)


def _open_end(body: Mapping[str, Any]) -> bytes:
    """An object as the program writes it, without the brace at its end."""
    return _ENCODE(body).encode()[:-1]


def _begins_as_written(
    signed: bytes, number: int, previous: str | None, body: Mapping[str, Any]
) -> bool:
    """Whether the text of a line begins with its number, link, time and event, each as read.

    A member that comes a second time would be the one that was read, and is seen by that too.
    """
    link = "null" if previous is None else f'"{previous}"'
    at, event = body.get("at"), body["event"]
    if not isinstance(at, str):
        return False
    begin = f'{{"line":{number},"previous":{link},"at":{_text(at)},"event":{_text(event)}'
    return signed.startswith(begin.encode())


@lru_cache(maxsize=256)
def _text(text: str) -> str:
    """A text as the program writes it; times and events come again."""
    return _ENCODE(text)


def _broken(path: Path, number: int, why: str) -> BrokenJournal:
    return BrokenJournal(
        f"{path.parent.name}/{path.name}, line {number}: {why}; it was changed after the event.",
        "Restore the journal from a copy; `sweepbook doctor` on the book says what else is wrong.",
    )
