"""What a layout says of a file as a whole: its encoding, what parts cells, what its lines mean."""

from collections.abc import Sequence

from sweepbook.draft.code_pages import Guess
from sweepbook.draft.document import ASSUMED, FOUND, UNTOLD, Note, Table, listed, one_of
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Text, parted

LONGEST_SKIPPED = 500
"""Longer lines that mean nothing are counted: no dialect names one, and a file may be one line."""


def of_file(
    looked: Sequence[Looked], layout: str, where: str = "csv", besides: Sequence[str] = ()
) -> list[Table]:
    """The table `csv`: layout, encoding, delimiter, signature, and how tests follow one another.

    Args:
        looked: the files.
        layout: as a dialect has it.
        where: the table; below `join` for files that are joined, which need no signature.
        besides: lines that hold nothing for this layout, such as the heading of its part.
    """
    text, shape = looked[0]
    table = Table(f"[{where}]")
    table.add("layout", layout)
    if text.encoding != "utf-8":
        table.add("encoding", text.encoding, _encoding_note(text.guessed))
    table.add(*parted(text))
    if text.cut:
        table.notes.append(Note(UNTOLD, "what stands behind the first 8 MiB of the file"))
    openings = {shape.opening for _, shape in looked}
    if where == "csv" and len(openings) == 1 and len(shape.opening) >= 4:
        sure = FOUND if len(looked) > 1 else ASSUMED
        note = Note(sure, "each file of this make begins so, and no other make's")
        table.add("signature", shape.opening, note)
    noise = _noise([shape for _, shape in looked])
    comments = list(dict.fromkeys(line for _, shape in looked for line in shape.comments))
    if comments:
        table.add("comment", one_of(comments), Note(FOUND, "these lines hold no data"))
    short = [line for line in noise if len(line) <= LONGEST_SKIPPED]
    if left := len(noise) - len(short):
        lines = "a line" if left == 1 else f"{left} lines"
        said = (
            f"what {lines} of more than {LONGEST_SKIPPED} characters may mean, and how to skip it"
        )
        table.notes.append(Note(UNTOLD, said))
    if short:
        table.add("skip", [*short, *besides], Note(ASSUMED, "these lines mean nothing"))
    elif besides:
        table.add("skip", list(besides))
    upper = list(dict.fromkeys(line for _, shape in looked for line in shape.upper))
    _lines(table, text, shape, upper, layout)
    return [table]


def _encoding_note(guessed: Guess | None) -> Note:
    """What the encoding rests on, with what other pages would read."""
    if guessed is None:
        return Note(FOUND, "by the bytes of the file")
    said = "by the letters that it makes of the bytes"
    if guessed.others:
        others = [f"{page} ({word!r})" for page, word in guessed.others]
        said += f"; the next likely ones are {listed(others, len(others))}"
    return Note(ASSUMED, said, guessed.words)


def _noise(shapes: Sequence[Shape]) -> list[str]:
    """Lines that mean nothing in any file: a heading may lack its table in one, and not in all.

    One that reads as a key and a value says something, be it that nobody asks for it.
    """
    above = {line for shape in shapes for of in shape.tables for line in (of.heading, of.outer)}
    above |= {line for shape in shapes for line in shape.headings}
    lines = dict.fromkeys(
        line for of in shapes for line in of.noise if not _states(line, of.separator)
    )
    return [line for line in lines if line not in above]


def _states(line: str, separator: str) -> bool:
    """Whether a line is a key and a value, by what parts these in the others."""
    key, mark, value = line.partition(separator) if separator.strip() else (line, "", "")
    return bool(mark and value.strip()) and any(map(str.isalpha, key))


def _lines(table: Table, text: Text, shape: Shape, upper: Sequence[str], layout: str) -> None:
    """What `csv` says of the lines in and above tables."""
    if shape.separator:
        both = [text.delimiter, shape.separator]
        table.add("preamble.separator", both if shape.mixed else shape.separator)
    if text.turned:
        note = Note(FOUND, "the first column holds the titles; what is a row elsewhere is a column")
        table.add("transposed", one_of(text.turned), note)
    if upper:
        said = "titles go on in the line below, where some come again and again, or in one of units"
        note = Note(FOUND, said)
        table.add("upper_titles", upper, note)
    if shape.titles:
        note = Note(FOUND, "the line below one that begins so holds its values")
        table.add("preamble.titles", shape.titles, note)
    if shape.names:
        note = Note(FOUND, "within key lines; each names the cell behind it")
        table.add("preamble.names", shape.names, note)
    if shape.headings and layout != "sections":
        table.add("preamble.headings", shape.headings)
    if shape.first_line:
        count = len(shape.starts)
        note = Note(FOUND, f"{count} lines begin so, one for each test")
        if count < 2:  # which only rows with marks show
            note = Note(ASSUMED, "the examples hold one test; a row of this kind stands before all")
        table.add("test.first_line", shape.first_line, note)
