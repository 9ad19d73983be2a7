"""Files of one kind beside those with curves, one a test, that say what else is known of it."""

from collections.abc import Sequence
from typing import NamedTuple

from sweepbook.draft.document import Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joins import may_lack_files
from sweepbook.draft.reading import Understood
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import keys, sections
from sweepbook_plugins.csv.draft.file_lines import of_file
from sweepbook_plugins.csv.draft.kinds import Kinds
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.told_apart import Forms

_WHERE = "join.csv"


class Beside(NamedTuple):
    """Such files.

    Attributes:
        form: of their names, as `join.other` has it.
        looked: the files, those with most tables ahead.
        kinds: the tables of the first; None where none holds any.
    """

    form: str
    looked: Sequence[Looked]
    kinds: Kinds | None

    def tables(self, evidence: Evidence, found: Understood) -> list[Table]:
        """The tables `join.csv` and below."""
        top = of_file(self.looked, "sections" if self.kinds else "key-lines", _WHERE)
        if self.kinds is None:
            return top
        made, _ = sections.tables(self.looked, self.kinds, evidence, found)
        for table in made:
            table.name = table.name.replace("[csv.", f"[{_WHERE}.", 1)
        return [*top, *made]


def hand_over(form: str, beside: Sequence[tuple[Source, Looked]], evidence: Evidence) -> Beside:
    """Hand over the keys of such files, and the words of their tables.

    Args:
        form: of their names.
        beside: the files.
        evidence: takes what they say.
    """
    looked = sorted((one for _, one in beside), key=lambda one: -len(one[1].tables))
    keys.hand_over([shape for _, shape in looked], evidence)
    kinds = sections.hand_over(looked, evidence) if looked[0][1].tables else None
    return Beside(form, looked, kinds)


def joins(
    forms: Forms,
    beside: Sequence[Beside],
    tables: Sequence[Sequence[Table]],
    file: tuple[object, Note],
) -> list[Table]:
    """The tables `join` and below, one for each file beside those of the curves.

    Args:
        forms: of the names of all.
        beside: the files, by form.
        tables: what says how each of them is read.
        file: the form of names of files with curves, or its forms, and what they rest on.
    """
    made: list[Table] = []
    for number, (of, own) in enumerate(zip(beside, tables, strict=True)):
        join = Table("[join]" if len(beside) == 1 else "[[join]]")
        if number == 0:
            join.add("file", *file)
        join.add("other", of.form)
        lacking = [*forms.lacking[of.form], *(forms.lacking[forms.curves] if number == 0 else ())]
        if lacking:
            may_lack_files(join, lacking)
        made += [join, *own]
    return made
