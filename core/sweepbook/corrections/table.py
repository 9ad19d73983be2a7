"""corrections.csv: the form in which corrections are kept, and in which people may write them."""

import csv
import io
from collections.abc import Iterator, Mapping

from sweepbook.corrections.model import Correction, NotCorrectable, check_value, field_of
from sweepbook.errors import ReadProblem

NAME = "corrections.csv"
TITLES = ("record", "field", "from", "to", "who", "when", "why")
_GUARDED = ("=", "+", "-", "@", "'")
"""How a text begins that a spreadsheet would take for a formula, and its own mark of a text. An
apostrophe goes before it in the table, and one is taken off when it is read."""
_MUST = ("record", "field", "who", "when", "why")


def parse(raw: bytes) -> Iterator[Correction | ReadProblem]:
    """Read the table; a line that cannot be used gives a problem and stops nothing.

    Args:
        raw: the bytes of the file: CSV in UTF-8, the titles in its first line, parted by commas or,
            as spreadsheets of some countries save it, by semicolons.
    """
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        yield _problem(line, "The text is not UTF-8. Save the table as CSV in UTF-8.")
        return
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter(raw), strict=True)
    try:
        titles = next(reader, list(TITLES))
        if tuple(titles) != TITLES:
            titled = ",".join(TITLES)
            message = f"The first line is not {titled}, so no correction was applied. Mend it."
            yield _problem(1, message)
            return
        line = reader.line_num + 1
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield _correction(line, cells)
            line = reader.line_num + 1
    except csv.Error as error:
        message = f"The row cannot be taken apart ({error}), nor can what follows. Mend its quotes."
        yield _problem(reader.line_num, message)


def delimiter(raw: bytes) -> str:
    """What parts the cells of a table, by its first line."""
    first = raw.partition(b"\n")[0]
    return ";" if b";" in first and b"," not in first else ","


def row(correction: Correction, mark: str = ",") -> bytes:
    """The line of a correction, its cells parted by a mark."""
    return _row(texts(correction), mark)


def with_row(raw: bytes | None, told: Mapping[str, str]) -> bytes:
    """The table with a row more.

    Args:
        raw: its bytes, in the form that whoever wrote into it last gave it; None for none yet.
        told: the texts of a correction by the titles.
    """
    raw = raw or (",".join(TITLES) + "\n").encode()
    return raw + (b"" if raw.endswith(b"\n") else b"\n") + _row(told, delimiter(raw))


def _row(told: Mapping[str, str], mark: str) -> bytes:
    out = io.StringIO()
    writer = csv.writer(out, delimiter=mark, lineterminator="\n")
    writer.writerow(_guarded(told[title]) for title in TITLES)
    return out.getvalue().encode()


def _guarded(text: str) -> str:
    return f"'{text}" if text.startswith(_GUARDED) else text


def texts(correction: Correction) -> dict[str, str]:
    """The texts of a correction by the titles of the table."""
    return {
        "record": correction.record,
        "field": correction.field,
        "from": correction.old,
        "to": correction.new,
        "who": correction.who,
        "when": correction.when,
        "why": correction.why,
    }


def _correction(line: int, cells: list[str]) -> Correction | ReadProblem:
    if len(cells) != len(TITLES):
        wanted = ", ".join(TITLES)
        return _problem(line, f"There are {len(cells)} cells where 7 are wanted: {wanted}.")
    plain = (cell.strip().removeprefix("'") for cell in cells)
    told = dict(zip(TITLES, plain, strict=True))
    if missing := [name for name in _MUST if not told[name]]:
        return _problem(line, f"Nothing stands under {', '.join(missing)}; all of that is needed.")
    try:
        told["field"] = field_of(told["field"])
        check_value(told["field"], told["to"])
    except NotCorrectable as error:
        return _problem(line, str(error))
    return _of(told, line)


def _of(told: Mapping[str, str], line: int) -> Correction:
    return Correction(
        record=told["record"],
        field=told["field"],
        old=told["from"],
        new=told["to"],
        who=told["who"],
        when=told["when"],
        why=told["why"],
        line=line,
    )


def _problem(line: int, message: str) -> ReadProblem:
    return ReadProblem(NAME, f"line {line}", message, lost_record=False)
