"""Feed a reader with files that a fuzzer makes from good ones, and keep what it could not stand.

    python -m tests.by_hand.fuzz READER SECONDS FOLDER

READER is csv, xml, touchstone, json, draft or dialect. What a file may do: give records that follow
their schema and can be judged, or problems that say what is wrong, within 5 s. Whatever does
something else is kept in FOLDER, one file a fault, with what happened beside it.
"""

import hashlib
import sys
import tempfile
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import atheris
from tests.guide import examples

OURS = ["sweepbook", "sweepbook_plugins"]

with atheris.instrument_imports(include=OURS):
    from tests.record import samples

    from sweepbook import registry
    from sweepbook.audit.context import installed
    from sweepbook.audit.run import assessed
    from sweepbook.dialect.load import parse
    from sweepbook.errors import ReadProblem, SweepbookError
    from sweepbook.formats import ReadSetting
    from sweepbook.record import codec, validate
    from sweepbook.source import Source

DIALECT_READERS = ("csv", "xml", "touchstone")
SECONDS = 5.0
FORMATS = registry.load().formats
CONTEXT = installed()
Try = Callable[[bytes], None]


@dataclass
class Faults:
    """What went wrong so far, once each.

    Attributes:
        folder: where the files lie that did it.
        runs: files that were tried.
    """

    folder: Path
    runs: int = 0
    seen: set[str] = field(default_factory=set)

    def keep(self, data: bytes, told: str, place: str) -> None:
        """Keep a file, unless another one did the same before."""
        if place in self.seen:
            return
        self.seen.add(place)
        name = hashlib.sha256(data).hexdigest()[:12]
        (self.folder / name).write_bytes(data)
        (self.folder / f"{name}.txt").write_text(f"{place}\n\n{told}", encoding="utf-8")
        print(f"fault {len(self.seen)} after {self.runs} files: {place}", flush=True)

    def watched(self, work: Try) -> Try:
        """Do the work on a file and keep the file if that went wrong."""

        def run(data: bytes) -> None:
            self.runs += 1
            begun = time.process_time()
            try:
                work(data)
            except SweepbookError:
                pass
            except Exception as error:  # noqa: BLE001 - whatever it is, it is what is looked for
                last = traceback.extract_tb(error.__traceback__)[-1]
                place = f"{type(error).__name__} in {Path(last.filename).name}:{last.lineno}"
                self.keep(data, traceback.format_exc(), place)
            if (seconds := time.process_time() - begun) > SECONDS:
                self.keep(data, f"{seconds:.1f} s", "slow")

        return run


def target(reader: str, folder: Path) -> tuple[Try, list[bytes]]:
    """What is done with a file, and the good files to begin with."""
    if reader == "json":
        return _json(folder / "file.json"), [codec.dumps(samples.record())]
    found = {name: examples(name) for name in DIALECT_READERS}
    every = [example for some in found.values() for example in some]
    if reader == "dialect":
        return lambda data: _load(data), [example.dialect.encode() for example in every]
    if reader == "draft":
        return _draft(folder / "file"), [example.content.encode() for example in every]
    some = found[reader]
    seeds = [bytes([at]) + example.content.encode() for at, example in enumerate(some)]
    settings = [
        ReadSetting(CONTEXT.library, {}, parse(example.dialect.encode(), "of-the-guide.toml"))
        for example in some
    ]
    return _by_dialect(reader, folder / "file", settings), seeds


def _by_dialect(reader: str, path: Path, settings: list[ReadSetting]) -> Try:
    def run(data: bytes) -> None:
        setting = settings[data[0] % len(settings)] if data else settings[0]
        path.write_bytes(data[1:])
        _read(reader, path, setting)

    return run


def _json(path: Path) -> Try:
    def run(data: bytes) -> None:
        path.write_bytes(data)
        _read("json", path, ReadSetting(CONTEXT.library))

    return run


def _read(reader: str, path: Path, setting: ReadSetting) -> None:
    read = FORMATS[reader].read
    assert read is not None
    for item in read(Source(path), setting):
        if isinstance(item, ReadProblem):
            assert item.message
        else:
            assert reader == "json" or validate.problems(item.document) == ()
            assessed(item, CONTEXT)


def _draft(path: Path) -> Try:
    def run(data: bytes) -> None:
        path.write_bytes(data)
        for name in DIALECT_READERS:
            draft = FORMATS[name].draft
            assert draft is not None
            try:
                draft([Source(path)], CONTEXT.library)
            except SweepbookError:
                continue

    return run


def _load(data: bytes) -> None:
    dialect = parse(data, "fuzzed.toml")
    check = FORMATS[dialect.format].check_dialect if dialect.format in FORMATS else None
    if check:
        check(dialect)


def main() -> None:
    """Fuzz one reader for so long."""
    reader, seconds, kept = sys.argv[1], int(sys.argv[2]), Path(sys.argv[3])
    kept.mkdir(parents=True, exist_ok=True)
    faults = Faults(kept)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        work, seeds = target(reader, folder)
        run = faults.watched(work)
        corpus = folder / "corpus"
        corpus.mkdir()
        for at, seed in enumerate(seeds):
            (corpus / str(at)).write_bytes(seed)
            with atheris.instrument_imports(include=OURS):  # much is imported when it is needed
                run(seed)
        atheris.Setup(
            [
                sys.argv[0],
                str(corpus),
                f"-max_total_time={seconds}",
                f"-artifact_prefix={kept}/",
                "-max_len=65536",
                "-len_control=0",
            ],
            run,
        )
        atheris.Fuzz()


if __name__ == "__main__":
    main()
