"""A file in the folder of each test that says what is known of it, beside files with its curves."""

from collections.abc import Sequence
from typing import NamedTuple

from sweepbook.draft.document import FOUND, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joins import SHARED
from sweepbook.draft.reading import Understood
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import keys, sections
from sweepbook_plugins.csv.draft.file_lines import of_file
from sweepbook_plugins.csv.draft.kinds import Kinds
from sweepbook_plugins.csv.draft.sections import Looked

_WHERE = "join.csv"


class FolderHeads(NamedTuple):
    """Files of one name, one in each folder.

    Attributes:
        name: of each.
        looked: the files, those with tables ahead.
        kinds: the tables of the first; None where none holds any.
    """

    name: str
    looked: Sequence[Looked]
    kinds: Kinds | None

    def tables(self, evidence: Evidence, found: Understood) -> list[Table]:
        """The tables `join.csv` and below, and what joins them."""
        top = of_file(self.looked, "sections" if self.kinds else "key-lines", _WHERE)
        if self.kinds is None:
            headings = self.looked[0][1].headings
            if headings:
                top[0].add("preamble.headings", headings)
            return top
        made, _ = sections.tables(self.looked, self.kinds, evidence, found)
        for table in made:
            table.name = table.name.replace("[csv.", f"[{_WHERE}.", 1)
        return [*top, *made]

    def join(self, table: Table) -> None:
        """Say where the file is."""
        how = Note(FOUND, "each folder has one of this name, with what is known of the test")
        table.add("other", f"{SHARED}/{self.name}", how)


def find(beside: Sequence[tuple[Source, Looked]], evidence: Evidence) -> FolderHeads | None:
    """The files that are such heads; None where they are not all of one name in as many folders.

    Args:
        beside: files without curves, from several folders, looked at.
        evidence: takes their keys, and the words of their tables.
    """
    names = {source.file_name for source, _ in beside}
    folders = {source.folder for source, _ in beside}
    if len(names) != 1 or len(folders) < len(beside):
        return None
    looked = [one for _, one in beside]
    keys.hand_over([shape for _, shape in looked], evidence)
    tabled = [one for one in looked if one[1].tables]
    kinds = sections.hand_over(tabled, evidence) if tabled else None
    return FolderHeads(names.pop(), tabled or looked, kinds)
