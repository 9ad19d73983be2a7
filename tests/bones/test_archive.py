"""Files in a ZIP archive are sources of their own, as those of a folder; nothing climbs out."""

import time
import zipfile
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest

from sweepbook.archive import Member, sources_of
from sweepbook.errors import ReadProblem
from sweepbook.source import Bounds, Source, UnreadableSource


def archive(path: Path, *members: tuple[str | zipfile.ZipInfo, bytes]) -> Path:
    """An archive of these files."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in members:
            packed.writestr(name, content)
    return path


def sources(path: Path, bounds: Bounds | None = None) -> list[Source]:
    return [each for each in sources_of([path], bounds) if isinstance(each, Source)]


def problems(path: Path, bounds: Bounds | None = None) -> list[tuple[str, str]]:
    found = [each for each in sources_of([path], bounds) if isinstance(each, ReadProblem)]
    return [(each.source, each.message) for each in found]


def test_each_file_is_a_source_by_name_in_natural_order(tmp_path: Path) -> None:
    files = [("a10.csv", b"ten"), ("a2.csv", b"two"), ("f/", b""), ("f/b.csv", b"deep")]
    hidden = [(".x", b"-"), ("__MACOSX/a2.csv", b"-"), ("f/.y", b"-")]
    path = archive(tmp_path / "job.zip", *files, *hidden)
    found = sources(path)
    assert [of.name for of in found] == ["job.zip!a2.csv", "job.zip!a10.csv", "job.zip!f/b.csv"]
    assert [of.head for of in found] == [b"two", b"ten", b"deep"]
    assert found[2].sha256 == sha256(b"deep").hexdigest()
    assert b"".join(found[2].raw_chunks()) == b"deep"
    assert (found[2].file_name, problems(path)) == ("b.csv", [])


def test_an_archive_is_told_by_its_bytes(tmp_path: Path) -> None:
    assert len(sources(archive(tmp_path / "export.csv", ("a.csv", b"x"), ("b.csv", b"y")))) == 2
    (tmp_path / "no.zip").write_bytes(b"Link;1A-07\n")
    assert [of.name for of in sources(tmp_path / "no.zip")] == ["no.zip"]


def test_an_office_document_is_one_file(tmp_path: Path) -> None:
    path = archive(tmp_path / "book.xlsx", ("[Content_Types].xml", b"<x/>"), ("a.xml", b"<a/>"))
    (only,) = sources(path)
    assert not isinstance(only, Member)


def link() -> zipfile.ZipInfo:
    """A symbolic link, as programs for Unix pack it."""
    info = zipfile.ZipInfo("link.csv")
    info.external_attr = 0o120777 << 16
    return info


@pytest.mark.parametrize(
    ("name", "content", "message"),
    [
        ("../up.csv", b"x", "leads out of the archive"),
        ("/etc/x.csv", b"x", "leads out of the archive"),
        ("f\\..\\..\\x.csv", b"x", "leads out of the archive"),
        ("C:/x.csv", b"x", "leads out of the archive"),
        (link(), b"/etc/passwd", "is a link"),
    ],
)
def test_what_leads_out_is_refused_and_the_rest_read(
    name: str | zipfile.ZipInfo, content: bytes, message: str, tmp_path: Path
) -> None:
    path = archive(tmp_path / "job.zip", ("good.csv", b"x"), (name, content))
    assert [of.file_name for of in sources(path)] == ["good.csv"]
    ((_, told),) = problems(path)
    assert message in told


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_of_files_with_one_name_none_is_read(tmp_path: Path) -> None:
    """Which of them a program takes differs, and `zipfile` takes the last."""
    files = [("a.csv", b"first"), ("b.csv", b"x"), ("a.csv", b"second")]
    path = archive(tmp_path / "job.zip", *files)
    assert [of.name for of in sources(path)] == ["job.zip!b.csv"]
    ((name, message),) = problems(path)
    assert name == "job.zip!a.csv"
    assert "stands 2 times in the archive" in message


def test_archives_in_archives_are_not_opened(tmp_path: Path) -> None:
    inner = archive(tmp_path / "inner.zip", ("a.csv", b"x")).read_bytes()
    path = archive(tmp_path / "job.zip", ("inner.bin", inner))
    assert problems(path) == [
        (
            "job.zip!inner.bin",
            "The file is an archive in an archive. Unpack it yourself and give what comes out.",
        )
    ]


def test_an_encrypted_file_is_told(tmp_path: Path) -> None:
    """Bit 0 of the general purpose flags says so (APPNOTE.TXT 6.3.10, section 4.4.4)."""
    raw = bytearray(archive(tmp_path / "job.zip", ("a.csv", b"x")).read_bytes())
    raw[6] |= 1
    raw[raw.index(b"PK\x01\x02") + 8] |= 1
    (tmp_path / "job.zip").write_bytes(raw)
    ((name, message),) = problems(tmp_path / "job.zip")
    assert (name, "is encrypted" in message) == ("job.zip!a.csv", True)


def test_an_archive_that_expands_without_end_is_not_unpacked(tmp_path: Path) -> None:
    path = archive(tmp_path / "bomb.zip", ("a.csv", bytes(4 << 20)), ("b.csv", bytes(4 << 20)))
    for bounds in (Bounds(most_bytes=5 << 20), Bounds(free_bytes=5 << 20)):
        ((_, message),) = problems(path, bounds)
        assert "would expand to 8 MiB" in message
    assert len(sources(path)) == 2


def test_a_member_is_bounded_whatever_the_archive_declares(tmp_path: Path) -> None:
    path = archive(tmp_path / "bomb.zip", ("a.csv", bytes(4 << 20)))
    member = Member(path, Bounds(most_bytes=1 << 20), member="a.csv")
    with pytest.raises(UnreadableSource, match="expands to more than"):
        list(member.raw_chunks())


def test_a_broken_archive_is_told(tmp_path: Path) -> None:
    whole = archive(tmp_path / "job.zip", ("a.csv", bytes(range(256)) * 40)).read_bytes()
    (tmp_path / "cut.zip").write_bytes(whole[:-30])
    assert "damaged or cut off" in problems(tmp_path / "cut.zip")[0][1]
    at = whole.index(b"a.csv") + 20
    (tmp_path / "job.zip").write_bytes(whole[:at] + bytes(8) + whole[at + 8 :])
    found = list(sources_of([tmp_path / "job.zip"]))
    with pytest.raises(UnreadableSource, match="damaged"):
        for each in found:
            if isinstance(each, ReadProblem):
                raise UnreadableSource(each.source, each.message, "")
            list(each.raw_chunks())


def test_too_many_files_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = archive(tmp_path / "job.zip", ("a.csv", b"x"), ("b.csv", b"x"))
    monkeypatch.setattr("sweepbook.archive.MOST_MEMBERS", 1)
    assert "more than 1 files" in problems(path)[0][1]


def patched(raw: bytes, at: bytes, behind: int, put: bytes) -> bytes:
    """An archive with some bytes replaced, so many behind each place where these stand."""
    made, start = bytearray(raw), 0
    while (found := raw.find(at, start)) >= 0:
        made[found + behind : found + behind + len(put)] = put
        start = found + 1
    return bytes(made)


def bad_name(raw: bytes) -> bytes:
    """A name that the archive says is UTF-8 (APPNOTE.TXT 6.3.10, section 4.4.4, bit 11)."""
    flagged = patched(patched(raw, b"PK\x03\x04", 7, b"\x08"), b"PK\x01\x02", 9, b"\x08")
    return flagged.replace(b"a.csv", b"\xff.csv")


DAMAGED: dict[str, tuple[int, Callable[[bytes], bytes]]] = {
    "deflated data": (zipfile.ZIP_DEFLATED, lambda raw: patched(raw, b"a.csv", 5, b"\xff" * 9)),
    "bzip2 data": (zipfile.ZIP_BZIP2, lambda raw: patched(raw, b"BZh", 4, b"\xff" * 9)),
    "LZMA data": (zipfile.ZIP_LZMA, lambda raw: patched(raw, b"a.csv", 14, b"\xff" * 9)),
    "a name that is not UTF-8": (zipfile.ZIP_DEFLATED, bad_name),
    "a place behind the end": (
        zipfile.ZIP_DEFLATED,
        lambda raw: patched(raw, b"PK\x01\x02", 42, b"\xff\xff\xff\x7f"),
    ),
}


@pytest.mark.parametrize("kind", DAMAGED)
def test_damage_in_one_archive_is_told_once_and_the_next_file_read(
    kind: str, tmp_path: Path
) -> None:
    method, damage = DAMAGED[kind]
    with zipfile.ZipFile(tmp_path / "a.zip", "w", method) as packed:
        packed.writestr("a.csv", bytes(range(256)) * 9)
    whole = (tmp_path / "a.zip").read_bytes()
    (tmp_path / "a.zip").write_bytes(damage(whole))
    (tmp_path / "b.csv").write_bytes(b"x")
    assert ["damaged" in told for _, told in problems(tmp_path)] == [True]
    assert [of.name for of in sources(tmp_path)] == ["b.csv"]


def test_a_name_from_the_folder_itself_is_not_hidden(tmp_path: Path) -> None:
    path = archive(tmp_path / "job.zip", ("./a.csv", b"x"), ("./.b.csv", b"-"), ("f/./c.csv", b"y"))
    assert [(of.file_name, of.head) for of in sources(path)] == [("a.csv", b"x"), ("c.csv", b"y")]


def test_an_archive_without_files_is_told(tmp_path: Path) -> None:
    found = [
        problems(archive(tmp_path / "a.zip", *files)) for files in ([], [("f/", b"")])
    ]  # fmt: skip
    assert [told for ((_, told),) in found] == [
        "There is no file in this archive. Pack the exports again."
    ] * 2


def test_an_archive_that_unpacks_itself_is_read(tmp_path: Path) -> None:
    """A program stands before the first file (APPNOTE.TXT 6.3.10, section 4.1.9)."""
    raw = archive(tmp_path / "job.zip", ("a.csv", b"x")).read_bytes()
    (tmp_path / "job.exe").write_bytes(b"MZ" + bytes(500) + raw)
    (tmp_path / "other.exe").write_bytes(b"MZ" + bytes(500))
    assert [(of.name, of.head) for of in sources(tmp_path / "job.exe")] == [("job.exe!a.csv", b"x")]
    assert [of.name for of in sources(tmp_path / "other.exe")] == ["other.exe"]


def test_the_directory_of_an_archive_is_read_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened = []
    whole = zipfile.ZipFile

    def counted(path: Path) -> zipfile.ZipFile:
        opened.append(path)
        return whole(path)

    path = archive(tmp_path / "job.zip", *((f"{at}.csv", b"x%d" % at) for at in range(50)))
    monkeypatch.setattr("sweepbook.archive.zipfile.ZipFile", counted)
    assert [of.head for of in sources(path)] == [b"x%d" % at for at in range(50)]
    assert opened == [path]


def test_an_archive_that_changed_is_opened_again(tmp_path: Path) -> None:
    path = archive(tmp_path / "job.zip", ("a.csv", b"old"))
    (before,) = sources(path)
    time.sleep(0.01)
    archive(path, ("a.csv", b"newer"))
    assert [of.head for of in (before, *sources(path))] == [b"newer", b"newer"]
