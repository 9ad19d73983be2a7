"""Files of one kind beside those with curves, one a test, that say what else is known of it."""

from collections.abc import Sequence
from typing import NamedTuple

from sweepbook.draft.document import Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.reading import Understood
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import keys, sections
from sweepbook_plugins.csv.draft.file_lines import of_file
from sweepbook_plugins.csv.draft.kinds import Kinds
from sweepbook_plugins.csv.draft.sections import Looked

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
