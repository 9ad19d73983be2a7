"""What is taken of a test while it goes by: words and texts, which cost little to keep.

What they mean (times, ends, a cable) is made of them where somebody asks: see `attempt`.
"""

from collections.abc import Sequence
from dataclasses import fields
from typing import TYPE_CHECKING, Any, NamedTuple

from sweepbook.looking import look_for
from sweepbook.record.links import Key, link_key
from sweepbook.schedule.cable import Cable
from sweepbook.schedule.model import LEVELS

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment
    from sweepbook.record.model import Record
    from sweepbook.schedule.attempt import Attempt

LABEL = "link.label"
_OF_TEST = (
    "test.purpose", "test.configuration.kind", "test.started.rfc3339", "provenance.read_at"
)  # fmt: skip
NOTED = ("REC005",)
"""Rules whose findings take nothing from a pass, but what vouches for it: the calibration."""
PATHS = (
    *_OF_TEST,
    *(f"link.near.{name}" for name in ("termination", *(f"place.{level}" for level in LEVELS))),
    *(f"link.far.{name}" for name in ("termination", *(f"place.{level}" for level in LEVELS))),
    *(f"link.cable.{entry.name}" for entry in fields(Cable)),
)
"""Where a record says what is kept of it."""
_NOTHING = ("",) * len(PATHS)
_NEAR = len(_OF_TEST)
_FAR = _NEAR + 1 + len(LEVELS)
_CABLE = _FAR + 1 + len(LEVELS)
_FLOOR = 1 + LEVELS.index("floor")
_look, _TEXT = look_for(PATHS, (str,)), frozenset((str,))


class Trace(NamedTuple):
    """One test; a text that is not known is "".

    Attributes:
        record_id: identity of the record.
        label: of the link.
        stated: verdict of the source.
        recomputed: what the sweeps prove: pass, fail or undecided.
        judgement: of the stated verdict.
        reason: of the judgement.
        limit_path: what it was judged under.
        again: why the quality plan has the link tested again though the test is a proved pass.
        own_label: the label as its record has it, where the job brings that to another one.
        said: what the record says of test, ends and cable.
        noted: what else to know of the test, in a sentence; "" for nothing.
        doubt: why it proves nothing of its link, whatever came of it; known only when all tests
            are, see `findings.OfTests`.
        export_of: record id of the test of which this is another export, which does not count; ""
            where it counts. Known only then too.
    """

    record_id: str
    label: str
    stated: str
    recomputed: str
    judgement: str
    reason: str
    limit_path: str
    again: str
    own_label: str
    said: tuple[str, ...] = _NOTHING
    noted: str = ""
    doubt: str = ""
    export_of: str = ""

    @property
    def test(self) -> tuple[str, ...]:
        """Purpose, configuration, and when the test was started and its export read (RFC 3339)."""
        return self.said[:_NEAR]

    @property
    def near(self) -> tuple[str, ...]:
        """Of the near end the termination, and a text for each of `LEVELS`."""
        return self.said[_NEAR:_FAR]

    @property
    def far(self) -> tuple[str, ...]:
        """Of the far end the same."""
        return self.said[_FAR:_CABLE]

    @property
    def cable(self) -> tuple[str, ...]:
        """A text for each member of `Cable`."""
        return self.said[_CABLE:]

    @property
    def passed(self) -> bool:
        """Whether it closes its link; see `closes`."""
        return closes(self.recomputed, self.judgement, self.again) and not self.doubt

    @property
    def why(self) -> str:
        """Why it does not close its link, or else the reason of its judgement."""
        return why(self)

    @property
    def place(self) -> tuple[tuple[str, str], ...]:
        """Levels of the near end, or of the far one where the near one has none."""
        for end in (self.near, self.far):
            if found := tuple([pair for pair in zip(LEVELS, end[1:], strict=True) if pair[1]]):
                return found
        return ()

    @property
    def link(self) -> Key:
        """What it says of its link; see `link_key`."""
        levels = zip(self.near[1:_FLOOR], self.far[1:_FLOOR], strict=True)
        return link_key(self.record_id, self.label, *(near or far for near, far in levels))


def trace_of(assessment: "Assessment", found: Sequence[Any] | None = None) -> Trace:
    """Take of an assessment what tells where its link stands; its record may break its schema.

    Args:
        assessment: of the test.
        found: what its record has at `PATHS`, where somebody has looked.
    """
    said = [one or "" for one in found or _look(assessment.record.document)]
    if not _TEXT.issuperset(map(type, said)):
        said = [one if isinstance(one, str) else "" for one in said]
    return bare_trace_of(assessment, tuple(said))


def bare_trace_of(assessment: "Assessment", said: tuple[str, ...] = _NOTHING) -> Trace:
    """The same of a record whose parts are not to be asked: what the judging made of it."""
    record = assessment.record
    return Trace(
        record.record_id,
        record.label.strip(),
        assessment.stated or "",
        assessment.recomputed.value,
        assessment.judgement.value,
        assessment.reason,
        assessment.limit_path or "",
        again(assessment),
        _own_label(record) if record.spelled else "",
        said,
        _noted(assessment),
    )


def why(test: "Trace | Attempt") -> str:
    """Why a test does not close its link, or else the reason of its judgement."""
    if test.doubt and closes(test.recomputed, test.judgement, ""):
        return f"{test.again} {test.doubt}".strip()
    return test.again or test.reason


def _noted(assessment: "Assessment") -> str:
    """What was found of a test that its curves do not show and that is to be known of a pass."""
    told = [
        one.message for one in assessment.findings if one.rule in NOTED and one.accepted is None
    ]
    return noted_words(told) if told else ""


def noted_words(messages: Sequence[str]) -> str:
    """The messages of such findings in a sentence."""
    return f"Not in force at the test: {'; '.join(messages)}."


def again(assessment: "Assessment") -> str:
    """Why the quality plan has a link tested again though its test passes, in a sentence."""
    if not assessment.again:
        return ""
    return (
        f"A marginal pass, which the quality plan asks to have tested again: {assessment.marginal}."
    )


def closes(recomputed: str, judgement: str, again: str) -> bool:
    """Whether a test closes its link: a pass by the sweeps, and nobody stated otherwise."""
    return recomputed == "pass" and judgement in ("upheld", "unstated") and not again


def _own_label(record: "Record") -> str:
    names = record.spelled.names if record.spelled else ()
    return next((one.said.strip() for one in names if one.field == LABEL), "")
