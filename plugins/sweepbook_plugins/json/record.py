"""The format "json": records as they are, one a file, in an array, or one after another."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.formats import Claim, Format, ReadSetting, Strength
from sweepbook.hookspecs import hookimpl
from sweepbook_plugins.json.stream import MOST_BYTES, Part, parts

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
    from sweepbook.record.model import Record
    from sweepbook.source import Source

URN = "urn:sweepbook:record-"
_SCHEMA_NAMED = re.compile(rb'"schema"\s*:\s*"urn:sweepbook:(\w*)')
_ID = re.compile(rb'"record_id"\s*:\s*"sb0-[0-9a-f]{64}"')


@hookimpl
def describe_formats() -> Sequence[Format]:
    """Give the format "json"."""
    return [
        Format(
            name="json",
            title="records as JSON: one, an array (.json), one a line (.jsonl), or one a file",
            suffixes=(".json", ".jsonl"),
            identify=identify,
            read=read,
            write=write,
            writes_records=True,
        )
    ]


def identify(source: "Source", setting: ReadSetting) -> Iterator[Claim]:
    """Claim what begins as JSON and names the schema of a record in its head, or else its id.

    In canonical text the schema comes after the results, far beyond the head.

    Raises:
        UnreadableSource: the file cannot be opened.
    """
    del setting
    head = source.head.removeprefix(b"\xef\xbb\xbf").lstrip()
    if head[:1] not in (b"{", b"["):
        return
    named = _SCHEMA_NAMED.search(head)
    if named and named[1] == b"record":
        yield Claim(Strength.SIGNATURE, f"it names the schema {URN}...")
    elif not named and _ID.search(head):
        yield Claim(Strength.SIGNATURE, "it names the id of a record")


def read(source: "Source", setting: ReadSetting) -> "Iterator[Record | ReadProblem]":
    """Yield each record as it is, origin and provenance included; one bad record ends nothing.

    Raises:
        UnreadableSource: the file cannot be opened or its compression is damaged.
    """
    del setting
    any_part = False
    with source.open() as stream:
        for part in parts(stream):
            any_part = True
            yield from _records(part, source)
    if not any_part:
        yield ReadProblem(source.name, "", "The file is empty; a record was expected.")


def write(delivery: "Delivery", target: Path) -> None:
    """Write the records of a delivery.

    A target that ends in .jsonl gets one canonical record a line. Another ending gets the record
    as the book keeps it, or an array of such. A folder, or a target without an ending, gets one
    file a record, named by its id.

    Raises:
        SweepbookError: the target cannot be written.
    """
    from sweepbook import files

    records = (entry.record.evidence for entry in delivery.entries)
    if target.is_dir() or not target.suffix:
        _write_folder(records, target)
        return
    with files.replaced(target) as part, part.open("wb") as stream:
        if target.suffix == ".jsonl":
            _write_lines(records, stream)
        else:
            _write_array(records, stream)


def _records(part: Part, source: "Source") -> "Iterator[Record | ReadProblem]":
    """The records of one document: itself, or the elements of an array."""
    from sweepbook.record import codec

    one = part.first == part.last
    place = f"line {part.first}" if one else f"lines {part.first}-{part.last}"
    if not part.text:
        message = (
            f"One JSON document is larger than {MOST_BYTES >> 20} MiB. Write one record a line."
        )
        yield ReadProblem(source.name, place, message)
        return
    try:
        if not part.whole_array:
            yield _checked(codec.loads(part.text))
            return
        value = codec.parsed(part.text)
    except SweepbookError as error:
        yield ReadProblem(source.name, place, str(error))
        return
    elements = value if isinstance(value, list) else [value]
    for position, element in enumerate(elements):
        where = place if len(elements) == 1 else f"{place}, element {position}"
        try:
            yield _checked(codec.from_json(element))
        except SweepbookError as error:
            yield ReadProblem(source.name, where, str(error))


def _checked(record: "Record") -> "Record":
    """The record, if it is of a schema that this program reads and its id is its own.

    Its identity is worked out here, if the reading has not, and goes on with it as proven.

    Raises:
        SweepbookError: it is of another schema, or its content is not what its id says.
    """
    from sweepbook.record import identity, schema

    named = record.document.get("schema")
    if named not in schema.READ:
        raise SweepbookError(
            f"The schema is {named!r}, and this version of sweepbook reads {schema.NAME!r}.",
            "Use the version of sweepbook that wrote it, or a newer one.",
        )
    rightly = record.proven_id or identity.record_id(record.document)
    if record.document.get("record_id") != rightly:
        raise SweepbookError(
            "The content is not the one that record_id was computed from.",
            "It was changed after it was made; take the record from the book or export it again.",
        )
    return replace(record, proven_id=rightly)


def _write_folder(records: "Iterator[Record]", folder: Path) -> None:
    from sweepbook import files
    from sweepbook.record import codec

    for record in records:
        files.write_bytes(folder / f"{record.record_id}.json", codec.dumps(record))


def _write_lines(records: "Iterator[Record]", stream: BinaryIO) -> None:
    from sweepbook.record import canonical

    for record in records:
        stream.write(canonical.text(record.document) + b"\n")


def _write_array(records: "Iterator[Record]", stream: BinaryIO) -> None:
    """One record as it is; several as an array, each "[", "," and "]" on a line of its own."""
    from sweepbook.record import codec

    first = next(records, None)
    if first is None:
        stream.write(b"[\n]\n")
        return
    second = next(records, None)
    if second is None:
        stream.write(codec.dumps(first))
        return
    stream.write(b"[\n" + codec.dumps(first) + b",\n" + codec.dumps(second))
    for record in records:
        stream.write(b",\n" + codec.dumps(record))
    stream.write(b"]\n")
