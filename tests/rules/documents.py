"""The audit document of a run, and a strict look at its JSON."""

import io
import json
from collections.abc import Iterable
from typing import Any

from sweepbook.audit import document
from sweepbook.audit.run import Run
from sweepbook.judging.assessment import Assessment


def written(run: Run, assessments: Iterable[Assessment]) -> bytes:
    """The document of what a run makes of some records."""
    stream = io.BytesIO()
    with document.Writer(run) as out:
        for assessment in assessments:
            out.add(assessment)
        out.write_to(stream)
    return stream.getvalue()


def read(data: bytes) -> dict[str, Any]:
    """A document in which no key comes twice and no number is none."""

    def once(members: list[tuple[str, Any]]) -> dict[str, Any]:
        assert len({name for name, _ in members}) == len(members)
        return dict(members)

    def refuse(word: str) -> None:
        raise AssertionError(word)

    parsed: dict[str, Any] = json.loads(data, object_pairs_hook=once, parse_constant=refuse)
    return parsed
