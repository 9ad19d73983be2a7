"""A project file with one more finding accepted; what people wrote into it stays as it is."""

import json
from collections.abc import Iterator
from pathlib import Path

from sweepbook.files import write_bytes
from sweepbook.inputs import small_file
from sweepbook.project.load import MOST_BYTES, BadProject, parsed
from sweepbook.project.model import Acceptance

_HEAD = """\
# What this job is, and what it decided for itself. Nothing in here changes a judgement.
schema = "urn:sweepbook:project-0"
"""


def accept(path: Path, acceptance: Acceptance) -> bool:
    """Add an accepted finding to a project file, which is begun where there is none.

    Returns:
        False where it was in there already, to the letter, and nothing was written.

    Raises:
        BadProject: the file that is there cannot be used.
        SweepbookError: it cannot be written, or is a link.
    """
    there = _bytes(path)
    if there is not None and acceptance in parsed(there, path).acceptances:
        return False
    there = _HEAD.encode() if there is None else there
    end = "\r\n" if b"\r\n" in there else "\n"
    gap = "" if there.endswith(b"\n") else end
    entry = end.join(("", "[[accept]]", *_lines(acceptance), ""))
    whole = there + f"{gap}{entry}".encode()
    parsed(whole, path)  # what people wrote may leave no place for one more
    write_bytes(path, whole, path.parent)
    return True


def _bytes(path: Path) -> bytes | None:
    """What is in the file; None where there is none."""
    try:
        return small_file(path, MOST_BYTES)
    except FileNotFoundError:
        return None
    except OSError as error:
        why = f"it cannot be read: {error.strerror or error}"
        raise BadProject(
            path, why, "Put the file in its place, or remove what lies there."
        ) from error


def _lines(acceptance: Acceptance) -> Iterator[str]:
    yield f"rule = {_text(acceptance.rule)}"
    if acceptance.label is not None:
        yield f"label = {_text(acceptance.label)}"
    if acceptance.labels:
        yield f"labels = [{', '.join(map(_text, acceptance.labels))}]"
    if acceptance.record is not None:
        yield f"record = {_text(acceptance.record)}"
    if acceptance.everywhere:
        yield "everywhere = true"
    if acceptance.path is not None:
        yield f"path = {_text(acceptance.path)}"
    yield f"who = {_text(acceptance.accepted.who)}"
    yield f"when = {_text(acceptance.accepted.when)}"
    yield f"why = {_text(acceptance.accepted.why)}"


def _text(text: str) -> str:
    """A basic string of TOML, which has the escapes of JSON; DEL has to be one, too."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
