"""Elements that judge a parameter beside its worst margin: a form for each, on the same path."""

from collections.abc import Mapping, Sequence

from sweepbook.draft.document import Table
from sweepbook.draft.row_names import Subject, parted

_PATH = "path"


def apart(table: Table, subjects: Sequence[Subject]) -> list[Table]:
    """The form of such elements as two, so that no verdict is said of the worst pair alone.

    Args:
        table: a table `xml.figures`.
        subjects: the test and the parameter of each of its elements.

    Returns:
        that of the verdict, named without pairs and end, and that of the margin; else the table.
    """
    lines = {line.key: line for line in table.lines}
    name = lines.get("name")
    if name is None or not isinstance(name.value, Mapping):
        return [table]
    roles = [key for key in lines if key not in (_PATH, "name")]
    names = {_PATH: lines[_PATH].value, **name.value}
    found = parted(names, roles, subjects)
    left = found.judged or (found.names if found.beside else {})
    if not left:
        return [table]
    judged = Table(table.name)
    judged.add(_PATH, lines[_PATH].value)
    if named := {slot: of for slot, of in left.items() if slot != _PATH}:
        judged.add("name", named)
    judged.lines.append(lines["verdict"])
    rest = [line for line in table.lines if line.key != "verdict"]
    return [judged, Table(table.name, rest, table.notes)]
