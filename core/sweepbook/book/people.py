"""The names of people that lie in a book; they are no evidence, and may be left out of it."""

from sweepbook.book.layout import MOST_TABLE, Book
from sweepbook.errors import SweepbookError
from sweepbook.inputs import small_file
from sweepbook.people.names import NOBODY, People
from sweepbook.people.table import parse


def load(book: Book) -> People:
    """Read them; nobody where there is no such file.

    Raises:
        SweepbookError: the file is there and cannot be opened.
    """
    try:
        return parse(small_file(book.people, MOST_TABLE))
    except FileNotFoundError:
        return NOBODY
    except OSError as error:
        raise SweepbookError(
            f"{book.people}: cannot be read: {error.strerror or error}.",
            "Check that you may read the book, or take the file out of it.",
        ) from error
