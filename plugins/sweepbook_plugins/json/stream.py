"""JSON documents one after another in a file, told apart line by line, in bounded memory."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import BinaryIO

MOST_BYTES = 64 << 20
"""Size of one document, or of an array that is not laid out one element after another."""

_STRING = re.compile(rb'"[^"\\]*+(?:\\.[^"\\]*+)*+"')
_LONG = 1 << 20
"""Bytes of a line for which a regular expression would keep too many pieces."""
_BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class Part:
    """One document.

    Attributes:
        first, last: its lines, counted from 1.
        text: its bytes; empty where it is too large.
        whole_array: whether the text is the whole array of the file, not one element of it.
    """

    first: int
    last: int
    text: bytes
    whole_array: bool = False


def parts(stream: BinaryIO) -> Iterator[Part]:
    """Yield the documents of a file: one, several one after another, or the elements of an array.

    A line that consists of "[", "]" or "," alone, between documents, belongs to an array. An
    array written otherwise comes as one part.
    """
    kept: list[bytes] = []
    size = depth = first = 0
    for number, line in enumerate(_lines(stream), 1):
        bare = line.strip()
        if not kept and bare in (b"", b"[", b"]", b","):
            continue
        if not kept:
            first = number
        depth += _opened(line)
        size += len(line)
        if size <= MOST_BYTES:
            kept.append(line)
        if depth <= 0:
            yield _part(first, number, kept, size)
            kept, size, depth = [], 0, 0
    if kept:
        yield _part(first, first + len(kept) - 1, kept, size)


def _part(first: int, last: int, kept: list[bytes], size: int) -> Part:
    text = b"".join(kept).strip() if size <= MOST_BYTES else b""
    return Part(first, last, text.removesuffix(b","), whole_array=text.startswith(b"["))


def _lines(stream: BinaryIO) -> Iterator[bytes]:
    """Lines of bounded length; a longer one comes in pieces."""
    start = True
    while line := stream.readline(MOST_BYTES + 1):
        yield line.removeprefix(_BOM) if start else line
        start = False


def _opened(line: bytes) -> int:
    """How many objects and arrays a line opens more than it closes, texts left out."""
    bare = line
    if b'"' in line:
        bare = _STRING.sub(b"", line) if len(line) < _LONG else _without_texts(line)
    opened = bare.count(b"{") + bare.count(b"[")
    return opened - bare.count(b"}") - bare.count(b"]")


def _without_texts(line: bytes) -> bytes:
    """A line of very many texts without them, at a few bytes of memory for each of its own."""
    import numpy as np

    marks = line.replace(b"\\\\", b"").replace(b'\\"', b"")
    every = np.frombuffer(marks, dtype=np.uint8)
    odd = np.cumsum(every == ord('"'), dtype=np.uint8) & 1  # wraps at 256, which is even
    kept: bytes = every[odd == 0].tobytes()
    return kept
