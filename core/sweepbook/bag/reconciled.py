"""The reconciliation of a bag repeated: its schedule held against the tests as judged anew."""

import json
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from sweepbook.audit.context import Context
from sweepbook.bag import layout, whole
from sweepbook.bag.differences import Difference, Kind
from sweepbook.book.plain_name import plain_name
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.formats import Format
from sweepbook.schedule import asked, document, label_scheme, reading
from sweepbook.schedule.attempt import Attempt
from sweepbook.schedule.reconcile import Reconciliation, reconcile
from sweepbook.source import Source

Json = Mapping[str, Any]
_OF_LINK = ("state", "open", "limit_asked", "place", "tests")
_OF_SCHEDULE = ("sha256", "links", "asks_for_limits", "columns_not_used", "titles_again")
_TOTALS = ("summary", "open")
_TOLD_APART = ("tool", "links", *_TOTALS)
_WORDS = ("reason", "remarks", "near_misses")
_TODO = "Restore it from a copy."


@dataclass(frozen=True, slots=True)
class Reconciled:
    """What came of repeating a reconciliation.

    Attributes:
        links: how many the schedule has, with what is not on it.
        states: how many of them stand where.
        let_stand: how many of them would be open, had nobody let them stand.
        differences: between then and now, in the order of the links.
    """

    links: int
    states: dict[str, int]
    let_stand: int
    differences: tuple[Difference, ...]

    @property
    def same(self) -> bool:
        """Whether nothing but words differs."""
        return not any(one.grave for one in self.differences)


def held(root: Path) -> bool:
    """Whether a bag holds a reconciliation."""
    return (root / layout.RECONCILIATION).is_file()


def lost(root: Path) -> str:
    """That a bag has a schedule and no reconciliation with it; "" where that is not so."""
    if held(root) or not (root / layout.SCHEDULE).exists():
        return ""
    return (
        f"{layout.RECONCILIATION} is missing, and the bag has a cable schedule that it was made "
        f"with. {_TODO}"
    )


def repeat(
    root: Path,
    context: Context,
    tests: Sequence[Attempt],
    formats: Mapping[str, Format],
    problems: Sequence[ReadProblem] = (),
    lost: Collection[str] = (),
) -> Reconciled:
    """Hold the schedule of a bag against its tests, and that against what the bag says of it.

    Args:
        root: the bag's folder.
        context: what its tests were judged by anew.
        tests: what came of that.
        formats: those that read tables are asked.
        problems: in reading the tests anew.
        lost: ids of tests that cannot be read any more.

    Raises:
        SweepbookError: the schedule, the label scheme or the document is missing or cannot be read.
    """
    then = _then(root / layout.RECONCILIATION)
    result = _reconciled(root, then, context, tests, formats)
    not_known = asked.not_known(result.schedule, context.library)
    now = json.loads(json.dumps(document.of(result, problems, not_known)))
    states = {state.value: count for state, count in result.counts().items()}
    stand = len(result.let_stand)
    return Reconciled(len(result.items), states, stand, tuple(_differences(then, now, lost)))


def _reconciled(
    root: Path,
    then: Json,
    context: Context,
    tests: Sequence[Attempt],
    formats: Mapping[str, Format],
) -> Reconciliation:
    about, folder = then["schedule"], root / layout.SCHEDULE
    source = Source(folder / plain_name(about["name"]))
    schedule = reading.read(source, formats, about.get("columns_named", {}), context.project)
    file = _scheme_file(folder, then, source.path)
    scheme = label_scheme.load(file) if file else None
    site, accepts = context.job.site, context.accepts()
    return reconcile(schedule, tests, context.library, scheme, site, accepts)


def _scheme_file(folder: Path, then: Json, schedule: Path) -> Path | None:
    """The file of the label scheme; None where there was none.

    A document of before it told whether there was one has the file of one beside the schedule.
    """
    if then.get("label_scheme", ...) is None:
        return None
    return next((file for file in sorted(folder.glob("*.toml")) if file != schedule), None)


def _then(path: Path) -> Json:
    """The document in the bag.

    Raises:
        SweepbookError: it is none.
    """
    place = layout.RECONCILIATION
    try:
        found = json.loads(path.read_bytes())
    except (OSError, ValueError, RecursionError) as error:
        raise SweepbookError(f"{place} cannot be read: {error}.", _TODO) from error
    if why := next(document.problems(found), ""):
        raise SweepbookError(f"{place} is no reconciliation: {why}.", _TODO)
    return dict(found)


def _differences(then: Json, now: Json, lost: Collection[str]) -> Iterator[Difference]:
    for name in _OF_SCHEDULE:
        if then["schedule"][name] != now["schedule"][name]:
            was, is_ = then["schedule"][name], now["schedule"][name]
            yield Difference("schedule", "", "", f"Its {name} was {was} and is {is_}.")
    for name in ("faults", "limits_not_known"):
        yield from _rows_told(name, then, now)
    yield from whole.of_members(_rest(then), _rest(now), _kind, lacking=False)
    were, are = ({name: each[name] for name in _TOTALS} for each in (then, now))
    for total in whole.of_members(were, are, _kind, lacking=False):
        yield replace(total, follows=bool(lost))
    old, new = (_by_row(each["links"]) for each in (then, now))
    for row, link in old.items():
        if row in new:
            follows = any(test["record_id"] in lost for test in link["tests"])
            for one in _of_link(link, new[row]):
                yield replace(one, follows=follows)
        else:
            follows = any(test["record_id"] in lost for test in link["tests"])
            gone = _alone(link, "It stood in the reconciliation then, and does not now.")
            yield replace(gone, follows=follows)
    for row, link in new.items():
        if row not in old:
            yield _alone(link, "It stands in the reconciliation only now.")


def _rows_told(name: str, then: Json, now: Json) -> Iterator[Difference]:
    """Rows of the schedule that were told of then or are now, and not both."""
    was, is_ = ({fault["line"] for fault in each["schedule"][name]} for each in (then, now))
    for line in sorted(was ^ is_):
        when = "was told then and is not now" if line in was else "is told only now"
        said = f"Line {line} ({name.replace('_', ' ')}) {when}."
        yield Difference("schedule", "", "", said)


def _of_link(old: Json, new: Json) -> Iterator[Difference]:
    label = str(new["label"])
    apart = [name for name in _OF_LINK if old[name] != new[name]]
    if apart:
        said = "; ".join(
            f"{name} was {_told(old[name])} and is {_told(new[name])}" for name in apart
        )
        yield Difference("link", "", label, f"{said}. {new['reason']}".rstrip())
    elif any(old[name] != new[name] for name in _WORDS):
        was, is_ = (" ".join((each["reason"], *each["remarks"])) for each in (old, new))
        yield Difference("words", "", label, f"It read: {was} It reads now: {is_}")


def _told(value: object) -> str:
    """A value in words; of tests what they came to."""
    if isinstance(value, list):
        tests = (f"{one['record_id'][:12]}… {one['judgement']}" for one in value)
        return ", ".join(tests) or "none"
    return str(value)


def _alone(link: Json, message: str) -> Difference:
    return Difference("link", "", str(link["label"]), f"{message} ({link['state']})")


def _by_row(links: Sequence[Json]) -> dict[tuple[str, object, int], Json]:
    """Links by label, row of the schedule, and how often both were there before."""
    found: dict[tuple[str, object, int], Json] = {}
    met = Counter[tuple[str, object]]()
    for link in links:
        row = link["label"], link["line"]
        found[*row, met[row]] = link
        met[row] += 1
    return found


def _rest(document: Json) -> Json:
    """What of a document is not told of row by row, nor for each link."""
    about = {name: text for name, text in document["schedule"].items() if name not in _OF_SCHEDULE}
    about["name"] = plain_name(about["name"])
    left = {name: part for name, part in document.items() if name not in _TOLD_APART}
    return {**left, "schedule": about}


def _kind(place: str) -> Kind:
    return "schedule" if place.startswith("schedule.") else "part"
