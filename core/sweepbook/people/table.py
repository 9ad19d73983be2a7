"""people.csv: a line for each person, written by people and left out where names must not go."""

import csv
import io
from collections.abc import Iterator

from sweepbook.corrections.table import delimiter
from sweepbook.errors import ReadProblem
from sweepbook.people.names import People

NAME = "people.csv"
TITLES = ("id", "name")


def parse(raw: bytes) -> People:
    """Read the table; a line that cannot be used gives a problem and stops nothing.

    Args:
        raw: the bytes of the file: CSV in UTF-8, the titles "id" and "name" in its first line, in
            any order and among others, parted by commas or semicolons.
    """
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        return People({}, (_problem(line, "The text is not UTF-8. Save the table so."),))
    names: dict[str, str] = {}
    problems: list[ReadProblem] = []
    for item in _rows(text, delimiter(raw)):
        if isinstance(item, ReadProblem):
            problems.append(item)
            continue
        line, who, name = item
        if names.setdefault(who, name) != name:
            told = f"{who!r} stands for {names[who]!r} above, and for {name!r} here, which is not"
            problems.append(_problem(line, f"{told} used. Leave one of them."))
    return People(names, tuple(problems))


def _rows(text: str, mark: str) -> Iterator[tuple[int, str, str] | ReadProblem]:
    """Line, id and name of each row that has both."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    try:
        titles = [title.strip().casefold() for title in next(reader, list(TITLES))]
        if missing := [title for title in TITLES if titles.count(title) != 1]:
            wanted = " and ".join(missing)
            yield _problem(1, f"The titles lack {wanted}, once each, so nobody was named.")
            return
        places = [titles.index(title) for title in TITLES]
        for cells in reader:
            if not any(map(str.strip, cells)):
                continue
            who, name = (cells[at].strip() if at < len(cells) else "" for at in places)
            if who and name:
                yield reader.line_num, who, name
            else:
                yield _problem(reader.line_num, "A line takes an id and a name.")
    except csv.Error as error:
        message = f"The row cannot be taken apart ({error}), nor can what follows. Mend its quotes."
        yield _problem(reader.line_num, message)


def _problem(line: int, message: str) -> ReadProblem:
    return ReadProblem(NAME, f"line {line}", message, lost_record=False)
