"""A draft as plain data, and its text: TOML with what was found beside each key."""

import json
import re
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from sweepbook.text import printable

UNSETTLED = "TO-BE-SETTLED"
"""Stands where only a person can say it; nothing is read rightly by it."""

FOUND, ASSUMED, UNTOLD = "worked out", "ASSUMED", "COULD NOT TELL"
PARAMETER = "{parameter}"
NAMELESS = (
    f"no known word says what is measured here; see that {PARAMETER} stands where its word is"
)
"""What is told where a name had to be given its parameter by a guess at the place."""
_SAMPLES = 3
_LONGEST_SAMPLE = 60
_WIDTH = 100
_LEFT = 12
"""So many keys without a field are called by their names."""
_JOINING = (("join", "key"), ("", "pieces_by"))
"""Table and key of what joins the parts of a test."""


HEAD = (
    "A draft, made from examples. Look at every line before you trust it, the marked ones first:",
    f"{FOUND}: the examples show it. {ASSUMED}: usual, and not shown. {UNTOLD}: only a person can.",
    f"Where {UNSETTLED!r} stands put in what only you can tell, before you gather by this file.",
    "Then: sweepbook dialect try THIS-FILE EXPORT. The keys: sweepbook formats --guide.",
)


class Note(NamedTuple):
    """What a value rests on.

    Attributes:
        how: FOUND, ASSUMED or UNTOLD.
        text: one sentence without a full stop; "" where the samples say it all.
        samples: texts of the export it was seen in; three are shown.
        head: what the head of the draft says of it besides, as a sentence; "" for nothing.
    """

    how: str
    text: str
    samples: Sequence[str] = ()
    head: str = ""


class Line(NamedTuple):
    """A key, its value (a text, list, table of these) and what it rests on.

    Attributes:
        key: dotted, each part as it is to be written in TOML.
        value: what stands behind the equals sign.
        notes: written above the line.
        asleep: the line is written as a comment, for a person to wake.
    """

    key: str
    value: object
    notes: Sequence[Note] = ()
    asleep: bool = False


@dataclass
class Table:
    """One table.

    Attributes:
        name: as written between brackets, "" for the top.
        lines: of the table.
        notes: on the table as a whole.
        left: keys of the export that nothing in the table is filled by.
    """

    name: str
    lines: list[Line] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    left: list[str] = field(default_factory=list)

    def add(self, key: str, value: object, *notes: Note, asleep: bool = False) -> None:
        """Add a line."""
        self.lines.append(Line(key, value, notes, asleep))


def compose(reader: str, examples: Sequence[str], tables: Sequence[Table]) -> str:
    """Put head, name and tables together.

    Args:
        reader: the format it is for.
        examples: names of the files it was made from.
        tables: of both halves.
    """
    top = Table("")
    top.add("schema", "urn:sweepbook:dialect-0")
    note = Note(ASSUMED, "from the name of the file; call it after maker and model", examples)
    top.add("name", _name(examples[0]), note)
    top.add("title", f"Draft from {examples[0]}")
    top.add("format", reader)
    _tell_left(tables)
    waits = waiting(tables)
    left = f"Only you can say these, each told where it stands: {', '.join(waits)}."
    return render([*HEAD, *_of_head(tables), *([left] if waits else [])], [top, *tables])


def said_of_itself(draft: str) -> str:
    """What the head of a draft says of it: what it does not read, and what waits for a person.

    Args:
        draft: its text.
    """
    lines = draft.partition("\n\n")[0].splitlines()
    head = " ".join(line.removeprefix("# ") for line in lines)
    return head.removeprefix(" ".join(HEAD)).strip()


def with_head(draft: str, text: str) -> str:
    """The draft with one more text at the end of its head; as it is for an empty one."""
    head, _, rest = draft.partition("\n\n")
    return f"{head}\n{_comment(printable(text), '# ')}\n\n{rest}" if text else draft


def _tell_left(tables: Sequence[Table]) -> None:
    """Note the keys that have no field; one that joins the parts of a test is not left over."""
    joining = {
        line.value
        for table in tables
        for line in table.lines
        if (table.name.strip("[]"), line.key) in _JOINING and isinstance(line.value, str)
    }
    for table in tables:
        if left := [f"'{printable(key)}'" for key in table.left if key not in joining]:
            said = f"no field for these keys, which go to extra: {listed(left, _LEFT)}"
            table.notes.append(Note(UNTOLD, said))


def _of_head(tables: Sequence[Table]) -> list[str]:
    """What notes say at the head, each once."""
    notes = (
        note for table in tables for some in (table.notes, *(of.notes for of in table.lines))
        for note in some
    )  # fmt: skip
    return list(dict.fromkeys(note.head for note in notes if note.head))


def waiting(tables: Sequence[Table]) -> list[str]:
    """The keys that only a person can settle, each once; of names in quotes their table."""
    found: list[str] = []
    for table in tables:
        name = table.name.strip("[]")
        for line in table.lines:
            if any(note.how == UNTOLD for note in line.notes) or UNSETTLED in str(line.value):
                found.append(name if line.key.startswith('"') else f"{name}.{line.key}")
    return list(dict.fromkeys(found))


def _name(example: str) -> str:
    stem = example.partition(".")[0].casefold()
    return re.sub(r"[^a-z0-9]+", "-", stem).strip("-") or "draft"


def render(head: Sequence[str], tables: Sequence[Table]) -> str:
    """The text of a draft; a table without lines and notes is left out, but not one of several."""
    written = ["\n".join(_comment(text, "# ") for text in head)]
    for table in tables:
        lines = list(_table(table)) or ([table.name] if table.name.startswith("[[") else [])
        if lines:
            written.append("\n".join(lines))
    return "\n\n".join(written) + "\n"


def quoted(text: str) -> str:
    """A text as a basic string of TOML; blanks that look like the common one are spelled out."""
    shown = json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
    return "".join(c if c == " " or not c.isspace() else f"\\u{ord(c):04x}" for c in shown)


def listed(texts: Sequence[str], most: int) -> str:
    """Texts one after another, and how many there are besides where they are more than so many."""
    more = f" and {len(texts) - most} more" if len(texts) > most else ""
    return ", ".join(texts[:most]) + more


def bare(key: str) -> str:
    """One part of a key, in quotes where TOML asks for them."""
    plain = key.replace("-", "").replace("_", "")
    return key if plain.isascii() and plain.isalnum() else quoted(key)


def value_text(value: object) -> str:
    """A value as TOML writes it."""
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, Mapping):
        inside = ", ".join(f"{bare(key)} = {value_text(of)}" for key, of in value.items())
        return f"{{ {inside} }}"
    if isinstance(value, Sequence):
        return f"[{', '.join(map(value_text, value))}]"
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value)


def one_of(words: Sequence[str]) -> object:
    """One word by itself, several as a list."""
    return words[0] if len(words) == 1 else list(words)


def _table(table: Table) -> Iterator[str]:
    for note in table.notes:
        yield from _note(note)
    if table.name and (table.lines or table.notes):
        yield table.name
    for line in table.lines:
        for note in line.notes:
            yield from _note(note)
        text = f"{line.key} = {value_text(line.value)}"
        yield f"# {text}" if line.asleep else text


def _note(note: Note) -> Iterator[str]:
    shown = list(dict.fromkeys(_sample(text) for text in note.samples))[:_SAMPLES]
    seen = f"; seen: {', '.join(shown)}" if shown else ""
    if note.text or note.how != FOUND:
        yield _comment(f"{note.how}: {note.text}{seen}.", "# ")
    elif shown:
        yield _comment(f"seen: {', '.join(shown)}", "# ")


def _sample(text: str) -> str:
    short = text if len(text) <= _LONGEST_SAMPLE else f"{text[: _LONGEST_SAMPLE - 3]}..."
    return f"'{printable(short)}'"


def _comment(text: str, mark: str) -> str:
    lines = textwrap.wrap(text, _WIDTH - len(mark), break_long_words=False, break_on_hyphens=False)
    return "\n".join(f"{mark}{line}" for line in lines) or mark.rstrip()
