"""Texts by key about one test, and the parts of a test put together."""

from sweepbook.dialect.model import Meaning
from sweepbook.dialect.raw import Cell, Fault

MOST_FAULTS = 100

MOST_STRAY = 20_000
"""Lines of one test that no table and no key takes, before the reading of the file ends."""


class TooManyLines(Exception):
    """A file goes on and on with lines that nothing takes, and is not read further.

    Args:
        line: number of the line that is one too many.
        what: these lines, with the most that there may be.
        see: the keys of the dialect that would take them.
        first: what else they may be, and what is to be done then; "" for nothing.
    """

    def __init__(self, line: int, what: str, see: str, first: str = "") -> None:
        self.fault = Fault(
            f"line {line}",
            f"{what}, and nothing behind this line was read; {first}remove them from the file, or "
            f"see {see}",
        )
        super().__init__(what)


class Findings:
    """Faults and notes of one test; of very many the first hundred will do."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []
        self.notes: list[Fault] = []

    def fault(self, fault: Fault) -> None:
        """Note what loses the test."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(fault)

    def note(self, note: Fault) -> None:
        """Note what does not."""
        if len(self.notes) < MOST_FAULTS:
            self.notes.append(note)


class Keys:
    """Texts by key. The same key with another text loses the test if it has a meaning."""

    def __init__(self, meaning: Meaning, findings: Findings) -> None:
        self.properties: dict[str, Cell] = {}
        self.left: dict[str, list[str]] = {}
        self.known = meaning.known_keys
        self._findings = findings

    def put(self, key: str, cell: Cell) -> None:
        """Take one text."""
        known = self.properties.setdefault(key, cell)
        if known.text == cell.text:
            return
        message = f"the key {key!r} comes a second time ({known.text!r}, then {cell.text!r})"
        if key in self.known:
            hint = f"{message}; if a new test begins there, see csv.test"
            self._findings.fault(Fault(cell.place, hint))
        else:
            self.keep(key, cell.text)
            self._findings.note(Fault(cell.place, f"{message}; both are kept in extra"))

    def put_wires(self, key: str, cell: Cell) -> None:
        """Take one text of a wire map; further ones under its key are further parts of it."""
        if known := self.properties.get(key):
            cell = known._replace(more=(*known.more, cell.text))
        self.properties[key] = cell

    def keep(self, key: str, text: str) -> None:
        """Keep a text that nothing takes."""
        self.left.setdefault(key, []).append(text)

    def extra(self) -> dict[str, str]:
        """What was kept."""
        return {key: "\n".join(texts) for key, texts in self.left.items()}
