"""What verifying a bag came to: for people, and as a document by the schema verification-0."""

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from sweepbook import __version__
from sweepbook.bag import layout
from sweepbook.cli.in_part import in_part
from sweepbook.cli.wording import counted, let_stand, scheduled
from sweepbook.schedule.standing import State
from sweepbook.text import printable

if TYPE_CHECKING:
    from sweepbook.bag.differences import Difference
    from sweepbook.bag.reconciled import Reconciled
    from sweepbook.bag.repeat import Repeated
    from sweepbook.bag.verify import Verified

SCHEMA = "urn:sweepbook:verification-0"
_MOST_WORDS = 3
"""Reasons in other words that are shown; another version may have them all otherwise."""
_KINDS = {
    "judgement": "another judgement",
    "limit": "another limit",
    "figure": "another figure",
    "finding": "another finding",
    "record": "not in both",
    "problem": "another problem",
    "schedule": "another schedule",
    "link": "the link stands elsewhere",
    "part": "another part of the document",
    "words": "other words for the same",
}


def of(found: "Verified") -> Iterator[str]:
    """What was found, a paragraph each."""
    files = ((one.kind, f"{one.path}: {one.message}") for one in found.files.faults)
    yield from map(printable, in_part(files))
    fit = "though the bag's lists fit" if found.files.listed_safely else "by the book's own digests"
    book = ((f"damaged, {fit}", f"{layout.BOOK}/{one.place}: {one.message}") for one in found.book)
    yield from map(printable, in_part(book))
    yield from map(printable, _differences(found))
    for remark in found.repeated.remarks if found.repeated else ():
        yield printable(f"to know: {remark}")
    yield _files(found)
    if found.noted:
        yield _digest(found)
    yield printable(_audit(found))
    yield from map(printable, _of_schedule(found))
    if not found.noted:
        yield _digest(found)
    yield from _to_do(found)


def _to_do(found: "Verified") -> Iterator[str]:
    """What puts the files right, as far as anything is wrong with them."""
    kinds = {fault.kind for fault in found.files.faults}
    bad: list[str] = [kind for kind in ("changed", "missing") if kind in kinds]
    bad += ["damaged"] if found.book else []
    what = " or ".join(filter(None, (", ".join(bad[:-1]), *bad[-1:])))
    steps = [f"put a good copy of what is {what} in its place"] if bad else []
    steps += ["take out what is extra"] if "extra" in kinds else []
    if steps:
        said = ", ".join(steps)
        yield f"{said[0].upper()}{said[1:]}, and verify again."


def _differences(found: "Verified") -> Iterator[str]:
    """Differences in words, last those that can follow from a test that cannot be read."""
    both = [one.differences for one in (found.repeated, found.reconciled) if one is not None]
    shown = [one for differences in both for one in _shown(differences)]
    yield from in_part(_difference(one) for one in shown if not one.follows)
    follow = [_difference(one) for one in shown if one.follows]
    if follow and found.repeated is not None:
        lost = counted(len(found.repeated.lost), "test")
        them = counted(len(follow), "difference")
        yield f"{lost} cannot be read now, and {them} told next can come of that alone:"
        yield from in_part(follow)


def _shown(differences: "Sequence[Difference]") -> "Iterator[Difference]":
    """Differences that are told; of those in words alone the first ones."""
    words = [one for one in differences if not one.grave][:_MOST_WORDS]
    yield from (one for one in differences if one.grave or one in words)


def _difference(one: "Difference") -> tuple[str, str]:
    """Its kind, and what differs for whom."""
    whom = "all links" if one.kind == "schedule" else "all tests"
    if one.kind == "link":
        whom = one.label or "no label"
    elif one.record_id:
        whom = f"{one.label or 'no label'} ({one.record_id[:12]}…)"
    return _KINDS[one.kind], f"{whom}: {one.message}"


def _files(found: "Verified") -> str:
    files = found.files
    kinds = [fault.kind for fault in files.faults]
    counts = ", ".join(f"{kinds.count(kind)} {kind}" for kind in dict.fromkeys(kinds))
    there = counted(files.count, "file")
    if files.count and not files.held:
        which = f"which of {there} are as they were is not known"
        end = f" Told above: {counts}." if counts else ""
        return f"No file of {layout.PAYLOAD}/ was held against a digest: {which}.{end}"
    said = there if files.held == files.count else f"{files.held} of {there}"
    by = "their digests" if files.listed_safely else "digests that nothing proves"
    size = f"{files.size / 1e6:.1f} MB"
    counts = counts or "nothing changed, missing or extra"
    return f"{said} of {size} held against {by}: {counts}."


def _digest(found: "Verified") -> str:
    """The digest of the bag, and what it says beside the one that was noted."""
    here = found.files.digest
    if not found.as_noted:
        have = f"that of this bag is {here}" if here else f"this bag has no {layout.TAG_MANIFEST}"
        return (
            f"not the bag that was noted: the digest given is {found.noted}, and {have}. The bag, "
            "or its lists, were changed after it was noted, or the digest is of another bag. See "
            "that the digest belongs to this bag; if it does, do not rely on this copy and fetch "
            "another one."
        )
    if not here:
        return f"The bag has no {layout.TAG_MANIFEST}, and so no digest."
    if not found.files.listed_safely:
        as_noted = ", as it was noted" if found.noted else ""
        return (
            f"Digest of the bag: {here}{as_noted}. It proves nothing of the files of "
            f"{layout.PAYLOAD}/, since no list of them is as it was."
        )
    if found.noted:
        return f"Digest of the bag: {here}, as it was noted."
    return (
        f"Digest of the bag: {here}. Hold it against the one that was noted when the bag was made "
        "(--digest): only that proves that nobody changed the bag and wrote its lists anew."
    )


def _audit(found: "Verified") -> str:
    if found.repeated is None:
        return f"The audit was not repeated. {found.not_repeated}"
    return _repeated(found.repeated)


def _repeated(repeated: "Repeated") -> str:
    counts = [f"{count} {word}" for word, count in repeated.judgements.items() if count]
    lost = len(repeated.lost)
    tests = counted(repeated.records + lost, "test")
    said = (
        f"The audit was repeated from the bag alone: "
        f"{f'{repeated.records} of {tests}' if lost else tests}"
        f"{': ' if counts else ''}{', '.join(counts)}"
        f"{f'; {lost} cannot be read' if lost else ''}."
    )
    grave = [one for one in repeated.differences if one.grave]
    words = len(repeated.differences) - len(grave)
    end = f" The reason of {counted(words, 'test')} has other words." if words else ""
    told = [one for one in grave if one.kind != "record" or one.record_id not in repeated.lost]
    of_judged = " of those judged" if lost else ""
    judgements = {one.record_id for one in told if one.kind in ("judgement", "record")}
    if judgements:
        return f"{said} Not the same judgement{of_judged}: {counted(len(judgements), 'test')}.{end}"
    if not repeated.records:
        return f"{said}{end}"
    if not told:
        return f"{said} The same judgements, figures and findings{of_judged}.{end}"
    others = f"{counted(len(told), 'difference')} in figures or findings"
    return f"{said} The same judgements{of_judged}, with {others}.{end}"


def _of_schedule(found: "Verified") -> Iterator[str]:
    """What became of the reconciliation; nothing where the bag has none."""
    if found.reconciled is not None:
        yield _of_links(found.reconciled)
    elif found.not_reconciled:
        yield f"The reconciliation was not repeated. {found.not_reconciled}"


def _of_links(found: "Reconciled") -> str:
    """What repeating the reconciliation came to."""
    counts = {State(state): count for state, count in found.states.items()}
    said = f"The schedule was held against them again: {scheduled(counts)}."
    said += let_stand(found.let_stand)
    apart = sum(one.grave for one in found.differences)
    words = len(found.differences) - apart
    end = f" What is said of {counted(words, 'link')} has other words." if words else ""
    if not apart:
        return f"{said} Each stands where it stood.{end}"
    return f"{said} {counted(apart, 'difference')} from what the bag says.{end}"


def document(found: "Verified") -> dict[str, Any]:
    """The document."""
    repeated = found.repeated
    return {
        "schema": SCHEMA,
        "tool": {"name": "sweepbook", "version": __version__},
        "bag": {"name": printable(found.name), "info": found.files.says},
        "fine": found.fine,
        "digest": found.files.digest or None,
        "digest_noted": found.noted or None,
        "files": found.files.count,
        "bytes": found.files.size,
        "files_held": found.files.held,
        "listed_safely": found.files.listed_safely,
        "faults": [asdict(fault) for fault in found.files.faults],
        "book": [{"place": one.place, "message": one.message} for one in found.book],
        "audit": None
        if repeated is None
        else {
            "records": repeated.records,
            "lost": len(repeated.lost),
            "judgements": repeated.judgements,
            "same": repeated.same,
            "differences": _rows(repeated.differences),
            "remarks": list(repeated.remarks),
        },
        "audit_not_repeated": found.not_repeated or None,
        "reconciliation": _reconciliation(found.reconciled),
        "reconciliation_not_repeated": found.not_reconciled or None,
    }


def _reconciliation(found: "Reconciled | None") -> dict[str, Any] | None:
    if found is None:
        return None
    return {
        "links": found.links,
        "states": found.states,
        "let_stand": found.let_stand,
        "same": found.same,
        "differences": _rows(found.differences),
    }


def _rows(differences: "Sequence[Difference]") -> list[dict[str, Any]]:
    return [{**asdict(one), "grave": one.grave} for one in differences]
