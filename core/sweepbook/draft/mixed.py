"""What a draft says of files of another format: how to join them by hand."""

from collections.abc import Sequence

from sweepbook.draft.document import UNSETTLED, UNTOLD, Note, Table
from sweepbook.draft.joins import left_out, patterns

_WHY = (
    "by what the tests of these files, of another format, are those of {own}; of each write a "
    "[join], or of several a [[join]] each, with its layout in [join.{format}], which has all keys "
    "of [{format}], and what it says of a test in [fields] beside the rest"
)
_SKETCH = (
    "which keys hold the same text in both; take the marks off these lines, put them in place of "
    "the words to be settled, and write the layout of the other file below, in [join.{format}]; "
    "where each of both files holds one test, leave both keys out"
)


def join_lines(own: Sequence[str], others: Sequence[tuple[str, str]]) -> list[Table]:
    """The lines for files of another format than those with the curves.

    Args:
        own: names of the files with the curves.
        others: name and format of each of the others.
    """
    form = others[0][1]
    told = Table("")
    names = [name for name, _ in others]
    told.notes.append(Note(UNTOLD, left_out(_WHY.format(own=own[0], format=form), names)))
    if len(others) > 1:
        return [told]
    file, other = patterns([own[0], names[0]])
    note = Note(UNTOLD, _SKETCH.format(format=form))
    told.add("join.file", file, note, asleep=True)
    told.add("join.other", other, asleep=True)
    told.add("join.key", UNSETTLED, asleep=True)
    told.add("join.other_key", UNSETTLED, asleep=True)
    told.add("join.format", form, asleep=True)
    return [told]
