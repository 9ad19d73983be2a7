"""A draft for tests with a file a parameter each, told by its name alone, whose rows hold curves.

Folders or names tell the tests, and which files beside belong to each.
"""

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import FOUND, Note, Table, one_of
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joins import label_by_name
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.reading import understand
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import beside_curves, keys
from sweepbook_plugins.csv.draft.beside_curves import joins
from sweepbook_plugins.csv.draft.file_lines import of_file
from sweepbook_plugins.csv.draft.file_names import form_of
from sweepbook_plugins.csv.draft.joined import a_table_each
from sweepbook_plugins.csv.draft.named_files import find_by_test
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.spread import Drafted
from sweepbook_plugins.csv.draft.table_words import take_words
from sweepbook_plugins.csv.draft.told_apart import forms_of

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_HOW = "names tell the parameter; {} is what those of a test share"


def draft(
    sources: Sequence[Source],
    looked: Sequence[Looked],
    bare: Sequence[tuple[Source, Looked]],
    limits: "Library",
) -> Drafted | None:
    """The tables of files that belong together so; None for others.

    Args:
        sources: the files with tables.
        looked: the same, looked at.
        bare: files without, which may say what is known of each test.
        limits: where names of limits are looked up.
    """
    found_in = find_by_test(sources, a_table_each(sources, looked))
    if found_in is None:
        return None
    files, tests = found_in
    every = {at for some in tests.values() for at in some}
    others = [one for at, one in enumerate(zip(sources, looked, strict=True)) if at not in every]
    others += bare
    names = Counter(sources[at].file_name for at in every)
    ((most, _),) = names.most_common(1)
    one_each = [sources[at] for at in sorted(every) if sources[at].file_name == most]
    forms = forms_of(one_each, [source for source, _ in others]) if others else None
    taken = [source for some in forms.beside.values() for source in some] if forms else []
    if any(source not in taken for source, (_, shape) in others if shape.tables):
        return None
    evidence = Evidence(tests=len(tests), legend=files.part.shape.legend)
    evidence.delimiter = files.part.text.delimiter
    mine = [looked[at] for at in files.at]
    take_words([*(looked[at] for at in sorted(every)), *(one for _, one in others)], evidence)
    own = files.layout("", evidence)
    keys.hand_over([looked[at][1] for at in sorted(every)], evidence)
    beside = [
        beside_curves.hand_over(form, [one for one in others if one[0] in some], evidence)
        for form, some in (forms.beside if forms else {}).items()
    ]
    found = understand(evidence)
    lines = own.later(found)
    file = one_of(list(dict.fromkeys(form_of(told, found) for told in files.told)))
    how = Note(FOUND, _HOW, [*tests])
    if forms:
        lines += joins(forms, beside, [of.tables(evidence, found) for of in beside], (file, how))
    else:
        join = Table("[join]")
        join.add("file", file, how)
        lines.append(join)
    core = core_tables(evidence, found, limits)
    label_by_name(core, [*tests])
    return Drafted([*of_file(mine, own.name), *lines, *core], taken)
