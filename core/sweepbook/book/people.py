"""The names of people that lie in a book; they are no evidence, and may be left out of it."""

from sweepbook.book.layout import Book
from sweepbook.errors import SweepbookError
from sweepbook.people.names import NOBODY, People
from sweepbook.people.table import parse


def load(book: Book) -> People:
    """Read them; nobody where there is no such file.

    Raises:
        SweepbookError: the file is there and cannot be opened.
    """
    try:
        return parse(book.people.read_bytes())
    except FileNotFoundError:
        return NOBODY
    except OSError as error:
        raise SweepbookError(
            f"{book.people}: cannot be read: {error.strerror or error}.",
            "Check that you may read the book, or take the file out of it.",
        ) from error
