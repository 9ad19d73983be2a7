"""Copies of the demo's exports, made as somebody would who has the file and an editor."""

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass, replace
from importlib.resources import files
from pathlib import Path
from random import Random
from typing import Self

from lxml import etree

EXPORTS = Path(str(files("sweepbook_demo"))) / "exports"
DIALECTS = Path(str(files("sweepbook_demo"))) / "dialects"
TRACE = "{urn:thrennoby:trace:2}trace"
ENTRY = "{urn:thrennoby:roll:2}entry"
QUANTITIES = {
    "attenuation": "IL",
    "reflection": "RL",
    "back-coupling": "NEXT",
    "forth-coupling": "FEXT",
}
PAIRS = {"1": "4-5", "2": "1-2", "3": "3-6", "4": "7-8"}


@dataclass(frozen=True)
class Sheet:
    """One Heron export: lines of the head, and the table with its titles."""

    head: tuple[tuple[str, ...], ...]
    table: tuple[tuple[str, ...], ...]

    @classmethod
    def of(cls, name: str) -> Self:
        """Take one from the demo."""
        text = (EXPORTS / name).read_text(encoding="utf-8")
        rows = [tuple(row) for row in csv.reader(io.StringIO(text))]
        blank = rows.index(())
        return cls(tuple(rows[:blank]), tuple(rows[blank + 1 :]))

    def fact(self, key: str, value: str) -> Self:
        """The same with another line of the head."""
        assert any(row[0] == key for row in self.head), key
        head = tuple((key, value) if row[0] == key else row for row in self.head)
        return replace(self, head=head)

    def link(self, label: str, minute: int = 0) -> Self:
        """The same under another label, begun at another minute after three."""
        named = self.fact("link", label).fact("end B termination", f"OUT-{label}")
        return named.fact("started", f"2023-03-07T15:{minute:02d}:10+01:00").fact(
            "ended", f"2023-03-07T15:{minute:02d}:29+01:00"
        )

    def titled(self, to: Callable[[str], str]) -> Self:
        """The same with other column titles."""
        titles, *rows = self.table
        return replace(self, table=(tuple(to(title) for title in titles), *rows))

    def valued(self, to: Callable[[float], str]) -> Self:
        """The same with other readings; clipped ones stay."""

        def cell(text: str) -> str:
            return to(float(text)) if text[0].isdigit() else text

        titles, *rows = self.table
        return replace(self, table=(titles, *((r[0], *map(cell, r[1:])) for r in rows)))

    def every(self, step: int, first: int = 0) -> Self:
        """The same at fewer frequencies."""
        titles, *rows = self.table
        return replace(self, table=(titles, *rows[first::step]))

    def column(self, title: str, to: Callable[[float], str], of: str = "") -> Self:
        """The same with one column made from another, or from itself."""
        titles, *rows = self.table
        place, source = titles.index(title), titles.index(of or title)
        made = (
            (
                *r[:place],
                to(float(r[source])) if r[source][0].isdigit() else r[source],
                *r[place + 1 :],
            )
            for r in rows
        )
        return replace(self, table=(titles, *made))

    def with_curves(self, curves: dict[str, list[str]]) -> Self:
        """The same with some columns replaced, title by title."""
        titles, *rows = self.table
        columns = [list(column) for column in zip(*rows, strict=True)]
        for title, texts in curves.items():
            columns[titles.index(title)] = texts
        return replace(self, table=(titles, *zip(*columns, strict=True)))

    def save(self, folder: Path, name: str) -> Path:
        """Write it as the tester would."""
        text = io.StringIO()
        out = csv.writer(text, lineterminator="\n")
        out.writerows(self.head)
        text.write("\n")
        out.writerows(self.table)
        path = folder / name
        path.write_text(text.getvalue(), encoding="utf-8", newline="")
        return path


def noise(seed: int, most_db: float) -> Callable[[float], str]:
    """Adds up to so many dB."""
    random = Random(seed)
    return lambda value: f"{value + random.uniform(-most_db, most_db):.2f}"


def ends_swapped(title: str) -> str:
    """End A for end B in the columns that name an end measured at both."""
    word, *rest = title.split(" ")
    if word not in ("RL", "NEXT"):
        return title
    return " ".join([word, {"A": "B", "B": "A"}[rest[0]], *rest[1:]])


def pairs_swapped(title: str) -> str:
    """1-2 for 3-6 and 4-5 for 7-8."""
    moved = {"1-2": "3-6", "3-6": "1-2", "4-5": "7-8", "7-8": "4-5"}
    where, _, pairs = title.rpartition(" ")
    if title == "MHz":
        return title
    mark = ">" if ">" in pairs else "/"
    named = [moved[pair] for pair in pairs.split(mark)]
    if where.startswith("NEXT"):
        named.sort()
    return f"{where} {mark.join(named)}"


def erruk_curves(number: int) -> dict[str, list[str]]:
    """Curves of one test of the demo's first XML export, under the titles and signs of a Heron."""
    root = etree.parse(str(EXPORTS / "erruk-printworks-1.xml")).getroot()
    found = {}
    for trace in root.findall(ENTRY)[number].findall(TRACE):
        title = _title(trace)
        if title:
            found[title] = [
                text.replace("<-", ">").lstrip("-") for text in (trace.text or "").split()
            ]
    return found


def _title(trace: "etree._Element") -> str:
    """The Heron's title of a trace; "" for the delay, of which it has no column."""
    word = QUANTITIES.get(str(trace.get("of")), "")
    end = {"head": " A", "tail": " B"}.get(str(trace.get("end")), "")
    driven = (
        f"{PAIRS[trace.get('from')]}{'>' if word == 'FEXT' else '/'}" if trace.get("from") else ""
    )
    return f"{word}{end} {driven}{PAIRS[trace.get('pair')]}" if word else ""
