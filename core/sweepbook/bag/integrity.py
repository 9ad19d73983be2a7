"""The files of a bag held against its lists: every one that is changed, missing or extra."""

import hashlib
import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from sweepbook.bag import info, layout
from sweepbook.bag.digests import files_below
from sweepbook.bag.held import Digests, Fault, Held
from sweepbook.text import utf8_safe

_LIST = re.compile(r"(tag)?manifest-([a-z0-9]+)\.txt")
_DECLARED = re.compile(rb"BagIt-Version: [0-9]+\.[0-9]+\r?\nTag-File-Character-Encoding: UTF-8\s*")
_GRAVEST = ("changed", "missing", "extra", "doubtful")


@dataclass(frozen=True, slots=True)
class Files:
    """What was found of a bag's files.

    Attributes:
        count, size: of the payload; bytes.
        held: how many files of the payload were held against a digest in a list.
        listed_safely: whether a list of the payload is itself as a list of tag files says: without
            it the digest of the bag proves nothing of the payload.
        faults: one a file, by path.
        says: fields of bag-info.txt.
        ours: whether it holds what a bag of this program holds.
        digest: SHA-256 of its list of tag files, by which all of it is proved; "" without one.
    """

    count: int
    size: int
    held: int
    listed_safely: bool
    faults: tuple[Fault, ...]
    says: dict[str, str]
    ours: bool
    digest: str


def hold(root: Path, on_file: Callable[[str], None] = lambda _: None) -> Files:
    """Hold every file of a bag against the lists in it.

    Args:
        root: the bag's folder.
        on_file: called with each path before its digest is computed.

    Raises:
        NotABag: it is no bag: there is no payload, or nothing that a bag has beside it.
    """
    entries = dict(files_below(root))
    there = {p: file for p, file in entries.items() if file.is_file() and not file.is_symlink()}
    lists = sorted((p for p in there if _LIST.fullmatch(p)), key=lambda p: (p[0] != "t", p))
    if not (root / layout.PAYLOAD).is_dir() or not (lists or layout.DECLARATION in there):
        raise layout.NotABag(
            f"{utf8_safe(str(root))} is no bag: it has no {layout.DECLARATION}, or no folder "
            f"{layout.PAYLOAD}.",
            "Give what `sweepbook archive make` made.",
        )
    ours = layout.AUDIT in there
    faults = [Fault("extra", p, "It is no plain file.") for p in entries.keys() - there.keys()]
    digests = Digests(there, on_file)
    safe: list[str] = []
    for name in lists:
        changed = name in {fault.path for fault in faults if fault.kind == "changed"}
        listed = name in digests.compared and name not in {fault.path for fault in faults}
        if listed and _known(_algorithm(name)):
            safe.append(name)
        faults += _by_list(name, digests, trusted=not changed, strict=ours)
    inside = [file for path, file in there.items() if _is_payload(path)]
    size = sum(file.stat().st_size for file in inside)
    says = info.read(there[layout.INFO].read_bytes()) if layout.INFO in there else {}
    faults += _beside(there, lists, ours=ours)
    held = sum(map(_is_payload, digests.compared))
    faults += _counted(says, f"{size}.{len(inside)}", faults, held)
    digest = digests.of(layout.TAG_MANIFEST, "sha256") if layout.TAG_MANIFEST in there else ""
    found = tuple(_one_each(faults))
    return Files(len(inside), size, held, held > 0 and bool(safe), found, says, ours, digest)


def _by_list(name: str, digests: Digests, *, trusted: bool, strict: bool) -> Iterator[Fault]:
    """What a list says of the files that it is about."""
    tag, algorithm = name.startswith("tag"), _algorithm(name)
    if not _known(algorithm):
        yield Fault("doubtful", name, f"{algorithm} is not known here, so it was not used.")
        return
    payload = {path for path in digests.there if _is_payload(path)}
    beside = {path for path in digests.there.keys() - payload if not path.startswith("tagmanifest")}
    about = frozenset(beside if tag else payload)
    held = Held(name, algorithm, about, trusted, strict, digests)
    yield from held.faults(digests.there[name].read_bytes())


def _algorithm(name: str) -> str:
    """The algorithm of the digests of a list, by the name of its file."""
    found = _LIST.fullmatch(name)
    assert found is not None  # it is a list by its name
    return found[2]


def _known(algorithm: str) -> bool:
    return algorithm in hashlib.algorithms_available and not algorithm.startswith("shake")


def _beside(there: dict[str, Path], lists: list[str], *, ours: bool) -> Iterator[Fault]:
    """What a bag must have beside its payload, whatever the lists say."""
    if not any(name.startswith("manifest-") for name in lists):
        yield Fault("missing", layout.MANIFEST, "Without it nothing of the payload is proved.")
    if ours and not any(name.startswith("tag") for name in lists):
        why = f"Without it {' and '.join(layout.TAG_FILES)} are not proved."
        yield Fault("missing", layout.TAG_MANIFEST, why)
    if layout.DECLARATION not in there:
        yield Fault("missing", layout.DECLARATION, "Every bag has it.")
        return
    raw = there[layout.DECLARATION].read_bytes()
    if raw != layout.DECLARED if ours else not _DECLARED.fullmatch(raw):
        yield Fault("changed", layout.DECLARATION, "It does not say what that of every bag says.")


def _counted(
    says: dict[str, str], oxum: str, faults: Iterable[Fault], held: int
) -> Iterator[Fault]:
    """The payload by its count, where nothing tells better what is wrong with it."""
    told = says.get(info.OXUM, oxum)
    if told != oxum and not any(_is_payload(fault.path) for fault in faults):
        said = f"{info.OXUM} {utf8_safe(told)} (bytes.files), and there are {oxum}."
        if held:
            yield Fault("changed", layout.INFO, f"It says {said}")
        else:
            why = f"{layout.INFO} says {said} No list says which of its files it is."
            yield Fault("changed", layout.PAYLOAD, why)


def _one_each(faults: Iterable[Fault]) -> Iterator[Fault]:
    """The gravest fault of each file."""
    gravest: dict[str, Fault] = {}
    for fault in sorted(faults, key=lambda fault: _GRAVEST.index(fault.kind)):
        gravest.setdefault(fault.path, fault)
    yield from (gravest[path] for path in sorted(gravest))


def _is_payload(path: str) -> bool:
    return path.startswith(f"{layout.PAYLOAD}/")
