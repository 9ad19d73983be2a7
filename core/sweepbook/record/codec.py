"""A record to bytes and back, without loss."""

from dataclasses import replace
from typing import Any

from sweepbook.record import layout, quick, schema, strict
from sweepbook.record.canonical import NoCanonicalText
from sweepbook.record.model import Record
from sweepbook.record.strict import NotARecord as NotARecord


def loads(data: bytes, proven_id: str = "") -> Record:
    """Read a record. Whether it follows its schema is for `validate` to say.

    Args:
        data: UTF-8 text of one JSON object.
        proven_id: the identity, where the bytes are known to be those that were written under it;
            otherwise it is worked out where that is quick.

    Raises:
        NotARecord: the text is no JSON, or JSON that two programs might read in two ways.
    """
    quick_one = quick.parsed(data, identify=not proven_id)
    if quick_one is not None:
        return Record(
            quick_one.document,
            proven_id=proven_id or quick_one.record_id,
            skeleton=quick_one.skeleton,
        )
    return replace(from_json(strict.parsed(data)), proven_id=proven_id)


def parsed(data: bytes) -> Any:  # noqa: ANN401 - any JSON value
    """The JSON value of UTF-8 text; long arrays of a record's numbers may be float64[n].

    Raises:
        NotARecord: as `strict.parsed` says.
    """
    quick_one = quick.parsed(data)
    return strict.parsed(data) if quick_one is None else quick_one.document


def from_json(value: Any) -> Record:  # noqa: ANN401 - any JSON value
    """Make a record of a value that `parsed` gave, or of a part of it.

    Raises:
        NotARecord: it is no object, nested too deep, or holds half of a surrogate pair or a
            number beyond all doubles.
    """
    if not isinstance(value, dict):
        raise NotARecord(
            "This is no record that can be read: it is JSON, but no object.",
            "A record is one JSON object with a member `schema`.",
        )
    record = Record.of(value)
    strict.check(record.document)
    return record


def dumps(record: Record) -> bytes:
    """Write a record: UTF-8, in the schema's order, one array of numbers a line.

    The same content gives the same bytes.

    Raises:
        NoCanonicalText: the document holds something that is not of JSON.
    """
    try:
        return f"{layout.laid_out(record.document, schema.order())}\n".encode()
    except (ValueError, TypeError, RecursionError) as error:
        raise NoCanonicalText(
            f"Record {record.record_id[:16]} cannot be written: {error}.",
            "Every value must be one of JSON: finite numbers, integers up to 2^53-1, proper text.",
        ) from error
