"""A line on stderr that says how far a long job is; silent in a pipe and in the first second."""

import sys
import time
from collections.abc import Iterable, Iterator
from typing import TypeVar

import click

from sweepbook.text import printable, width

Item = TypeVar("Item")
_FIRST_S = 1.0
_EVERY_S = 0.1


class Progress:
    """Shows a count; use as a context manager, which wipes the line in the end.

    Args:
        doing: what is being done: "gathered", "checked".
        total: how many there are, None where nobody knows.
    """

    def __init__(self, doing: str, total: int | None = None) -> None:
        self._doing = doing
        self._total = total
        self._count = 0
        self._shown = 0
        self._seen = sys.stderr.isatty()
        self._next = time.monotonic() + _FIRST_S

    def __enter__(self) -> "Progress":
        return self

    def __exit__(self, *_: object) -> None:
        self.wipe()

    def step(self, what: str = "") -> None:
        """Count one more."""
        self._count += 1
        if self._seen and time.monotonic() >= self._next:
            self._show(what)
            self._next = time.monotonic() + _EVERY_S

    def wipe(self) -> None:
        """Clear the line, so that something else can be printed."""
        if self._shown:
            sys.stderr.write("\r" + " " * self._shown + "\r")
            sys.stderr.flush()
            self._shown = 0

    def over(self, items: Iterable[Item]) -> Iterator[Item]:
        """Pass items on and count them."""
        for item in items:
            yield item
            self.step()

    def _show(self, what: str) -> None:
        count = f"{self._count}" if self._total is None else f"{self._count} of {self._total}"
        text = f"{count} {self._doing} {printable(what)}"[:78].rstrip()
        self.wipe()
        sys.stderr.write(f"\r{text}")
        sys.stderr.flush()
        self._shown = width(text)


def say_waiting() -> None:
    """Tell that the book is in use, once; the command waits."""
    click.echo("Waiting for another program that is writing to this book.", err=True)
