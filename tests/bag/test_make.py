"""A bag is what BagIt says, by a library that is not ours, and the same whenever it is made."""

import json
import re
import shutil
import subprocess
import sys
import tarfile
import zipfile
from collections.abc import Callable, Iterator
from hashlib import sha256
from pathlib import Path

import bagit
import pytest
import zstandard

from sweepbook import registry
from sweepbook.bag import info, listing, payload, sealing
from sweepbook.book import lock
from sweepbook.book.layout import open_book
from sweepbook.delivery import Delivery
from sweepbook.formats import Format
from tests.cli.conftest import process
from tests.program import DEMO, run

PACKS = ("zip", "tar.zst")


def snapshot(root: Path) -> dict[str, bytes]:
    return {
        file.relative_to(root).as_posix(): file.read_bytes()
        for file in root.rglob("*")
        if file.is_file()
    }


def unpacked(packed: Path, target: Path) -> Path:
    """The bag out of a packed one, by other programs than ours."""
    if packed.suffix == ".zip":
        with zipfile.ZipFile(packed) as archive:
            archive.extractall(target)
    else:
        plain = zstandard.ZstdDecompressor().stream_reader(packed.open("rb"), closefd=True)
        with plain, tarfile.open(fileobj=plain, mode="r|") as stream:
            stream.extractall(target, filter="data")
    (root,) = target.iterdir()
    return root


def test_the_bag_is_valid_by_the_library_of_congress_own_program(made: Path) -> None:
    """bagit, of the Library of Congress, is the reference implementation of RFC 8493."""
    checked = bagit.Bag(str(made))
    checked.validate()
    assert checked.version_info == (1, 0)
    assert checked.info["Source-Organization"] == "Veldt & Daughters"
    assert {"Bagging-Date", "Payload-Oxum", "Bag-Software-Agent"} <= checked.info.keys()


@pytest.mark.skipif(not shutil.which("sha256sum"), reason="no sha256sum on this system")
def test_the_digests_are_checked_as_the_readme_says(made: Path) -> None:
    said = (made / "README.txt").read_text("utf-8")
    for name in ("tagmanifest-sha256.txt", "manifest-sha256.txt"):
        assert f"    sha256sum -c {name}\n" in said
        subprocess.run(["sha256sum", "--quiet", "-c", name], cwd=made, check=True)


def test_all_of_the_book_is_in_it_byte_for_byte(book: Path, made: Path) -> None:
    lying = snapshot(book)
    del lying[".lock"]
    assert snapshot(made / "data" / "book") == lying


def test_what_the_judgements_rest_on_is_in_it(made: Path) -> None:
    audit = json.loads((made / "data/audit.json").read_bytes())
    by = made / "data" / "judged-by"
    digests = audit["digests"]
    for path, digest in digests["limits"].items():
        assert sha256((by / "limits" / f"{path}.json").read_bytes()).hexdigest() == digest
    for name, file in (
        ("catalogue", "rules.json"),
        ("interpretations", "interpretations.json"),
        ("practice", "practice.json"),
    ):
        assert sha256((by / file).read_bytes()).hexdigest() == digests[name]
    assert {record["judgement"] for record in audit["records"]} == {"upheld", "overturned"}
    assert json.loads((made / "data/reconciliation.json").read_bytes())["links"]
    schedule = (made / "data/schedule/schedule.csv").read_bytes()
    assert schedule == (DEMO / "schedule.csv").read_bytes()


@pytest.mark.parametrize("pack", PACKS)
def test_a_packed_bag_is_the_bag_and_the_same_byte_for_byte(
    pack: str, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    packed = []
    for number, second in enumerate(("1767225600", "1767225600", "1767312000")):
        monkeypatch.setenv("SOURCE_DATE_EPOCH", second)
        out = tmp_path / str(number) / f"job.{pack}"
        result = run("archive", "make", book, out, "--pack", pack)
        assert result.exit_code == 0, result.output
        packed.append(out.read_bytes())
    assert packed[0] == packed[1] != packed[2]
    root = unpacked(out, tmp_path / "by hand")
    assert root.name == "job"
    bagit.Bag(str(root)).validate()
    assert bagit.Bag(str(root)).info["Bagging-Date"] == "2026-01-02"


def test_the_folder_is_the_same_byte_for_byte(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1767225600")
    for name in ("one", "two"):
        assert run("archive", "make", book, tmp_path / name).exit_code == 0
    assert snapshot(tmp_path / "one") == snapshot(tmp_path / "two")


def test_a_program_that_is_killed_leaves_no_bag_under_the_name(book: Path, tmp_path: Path) -> None:
    out = tmp_path / "killed"
    going = process("archive", "make", book, out)
    while not any(tmp_path.glob(".sweepbook-*.part/bag/data/book/*")):
        assert going.poll() is None
    going.kill()
    going.wait()
    assert not out.exists()
    assert run("archive", "make", book, out).exit_code == 0
    assert list(tmp_path.glob(".sweepbook-*")) == []


def test_what_fails_on_the_way_leaves_nothing(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(sealing, "seal", full)
    result = run("archive", "make", book, tmp_path / "bag")
    assert result.exit_code == 3
    assert "No space left on device" in result.stderr
    assert list(tmp_path.iterdir()) == []


def _others(tmp_path: Path) -> Iterator[Path]:
    yield tmp_path / "folder"
    (tmp_path / "folder").mkdir()
    (tmp_path / "folder" / "letter.txt").write_text("keep me")
    yield tmp_path / "file"
    (tmp_path / "file").write_text("keep me")


def test_nothing_but_a_bag_is_ever_replaced(book: Path, tmp_path: Path) -> None:
    for other in list(_others(tmp_path)):
        result = run("archive", "make", book, other, "--replace")
        assert result.exit_code == 3
        assert "is no bag of sweepbook; it was left alone" in result.stderr
    assert (tmp_path / "file").read_text() == "keep me"
    assert (tmp_path / "folder/letter.txt").read_text() == "keep me"


@pytest.mark.parametrize("pack", [None, "zip"])
def test_a_bag_is_replaced_only_where_that_is_said(
    pack: str | None, book: Path, tmp_path: Path
) -> None:
    out = tmp_path / (f"bag.{pack}" if pack else "bag")
    words = ("archive", "make", book, out, *(("--pack", pack) if pack else ()))
    result = run(*words, "--info", "Contact-Name=A. Old")
    assert result.exit_code == 0
    (noted,) = re.findall("Digest of the bag: ([0-9a-f]{64})", " ".join(result.stdout.split()))
    result = run(*words, "--info", "Contact-Name=A. New")
    assert result.exit_code == 3
    assert "--replace" in result.stderr
    result = run(*words, "--replace")
    (digest,) = re.findall("bag with the digest ([0-9a-f]{64})", " ".join(result.stdout.split()))
    assert digest == noted
    assert '--info Contact-Name="A. Old"' in " ".join(result.stdout.split())
    result = run(*words, "--replace", "--info", "Contact-Name=A. New")
    assert result.exit_code == 0
    assert "--info Contact-Name" not in result.stdout
    assert [path.name for path in tmp_path.iterdir()] == [out.name]
    root = unpacked(out, tmp_path / "x") if pack else out
    assert bagit.Bag(str(root)).info["Contact-Name"] == "A. New"


def test_no_bag_lies_in_a_book_and_none_is_made_of_a_damaged_one(
    book: Path, tmp_path: Path
) -> None:
    result = run("archive", "make", book, book / "bag")
    assert result.exit_code == 3
    assert "lies in the book" in result.stderr
    damaged = Path(shutil.copytree(book, tmp_path / "damaged"))
    source = min(damaged.glob("sources/*/*/*"))
    source.write_bytes(source.read_bytes() + b" ")
    result = run("archive", "make", damaged, tmp_path / "out")
    assert result.exit_code == 3
    assert source.name in result.stderr
    assert "sweepbook doctor" in result.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("out.zip",), "Add --pack zip"),
        (("out", "--pack", "zip"), "Name it out.zip"),
        (("out", "--info", "Source Organization=X"), "Usual labels are Source-Organization"),
        (("out", "--info", "Box:7=X"), "letters and digits, and hyphens between them"),
        (("out", "--info", "Box\n7=X"), "letters and digits, and hyphens between them"),
        (("out", "--info", "Größe=X"), "letters and digits, and hyphens between them"),
        (("out", "--info", "payload-oxum=1.1"), "Payload-Oxum: the program works this out"),
        (("out", "--info", "Bag-Layout=x"), "Bag-Layout: the program works this out"),
        (("out", "--info", "Contact-Name"), "LABEL=TEXT"),
        (("out", "--info", "Contact-Name= "), "must be one line"),
        (("out", "--info", "Contact-Name=a\nBag-Layout: b"), "must be one line"),
    ],
)
def test_wrong_use_is_told_with_what_to_do(
    words: tuple[str, ...], told: str, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run("archive", "make", book, *words)
    assert result.exit_code == 3
    assert told in " ".join(result.stderr.split())
    assert list(tmp_path.iterdir()) == []


def test_the_job_fills_what_is_not_given() -> None:
    job = {"installer": "Veldt & Daughters", "contract": "C-12", "warranty_number": "W-7"}
    given = [("External-Identifier", "Other 1")]
    raw = info.whole(given, info.of_job(job), "East wing", [("Bagging-Date", "2026-01-01")])
    assert raw.decode().splitlines()[:4] == [
        "Source-Organization: Veldt & Daughters",
        "External-Description: East wing",
        "External-Identifier: Other 1",
        "Bagging-Date: 2026-01-01",
    ]
    alone = info.whole([], info.of_job(job), "East wing", []).decode()
    assert "External-Identifier: C-12\nExternal-Identifier: W-7\n" in alone


def test_a_label_of_ones_own_is_taken(book: Path, tmp_path: Path) -> None:
    """RFC 8493, 2.2.2: bag-info.txt may have other labels than the reserved ones."""
    words = ("--info", "Accession-Number=77", "--info", "contact-name=A. New")
    out = tmp_path / "bag"
    assert run("archive", "make", book, out, *words).exit_code == 0
    bagit.Bag(str(out)).validate()
    said = bagit.Bag(str(out)).info
    assert (said["Accession-Number"], said["Contact-Name"]) == ("77", "A. New")
    assert run("archive", "verify", out).exit_code == 0


def test_names_of_people_are_told_of_and_stay_behind_where_asked_for(
    book: Path, tmp_path: Path
) -> None:
    own = Path(shutil.copytree(book, tmp_path / "book"))
    (own / "people.csv").write_text("id,name\nK. Veldt,Ines Korbel\n", "utf-8")
    told = {}
    for out, *words in ((tmp_path / "with",), (tmp_path / "without", "--without-people")):
        result = run("archive", "make", own, out, *words)
        assert result.exit_code == 0, result.output
        told[out.name] = " ".join(result.stdout.split())
        bagit.Bag(str(out)).validate()
        assert run("archive", "verify", out).exit_code == 0
    holders = {
        bag: {place for place, raw in snapshot(tmp_path / bag).items() if b"Ines Korbel" in raw}
        for bag in told
    }
    assert holders == {
        "with": {"data/book/people.csv", "data/report.html"},
        "without": set(),
    }
    assert "K. Veldt" not in (tmp_path / "without/data/report.html").read_text("utf-8")
    assert not (tmp_path / "without/data/book/people.csv").exists()
    assert "The bag holds the names of people: data/book/people.csv" in told["with"]
    assert "--without-people" in told["with"]
    assert "The names in people.csv are not in the bag" in told["without"]
    assert "people.csv" in (tmp_path / "with/README.txt").read_text("utf-8")


def test_a_path_is_escaped_as_the_rfc_says() -> None:
    """RFC 8493, 2.1.3: LF, CR and % are percent-encoded, and nothing else is."""
    path = "data/50% of\nit\r, ä.csv"
    raw = listing.written({path: "ab" * 32})
    assert raw == f"{'ab' * 32}  data/50%25 of%0Ait%0D, ä.csv\n".encode()
    (line,) = listing.lines_of(raw, 64)
    assert isinstance(line, listing.Listed)
    assert (line.path, line.plain) == (path, True)


def test_the_job_of_the_project_file_is_in_the_bag(book: Path, tmp_path: Path) -> None:
    own = Path(shutil.copytree(book, tmp_path / "book"))
    (own / "project.toml").write_text(
        'schema = "urn:sweepbook:project-0"\n[job]\nnumber = "J-7"\ncontract = "C-12"\n'
        'site = "Library, east wing"\ninstaller = "Veldt & Daughters"\n'
    )
    assert run("archive", "make", own, tmp_path / "bag").exit_code == 0
    said = bagit.Bag(str(tmp_path / "bag")).info
    assert said["Source-Organization"] == "Veldt & Daughters"
    assert said["External-Identifier"] == "C-12"
    assert said["External-Description"] == "Library, east wing"
    assert said["Internal-Sender-Identifier"] == "J-7"
    assert run("archive", "verify", tmp_path / "bag").exit_code == 0


def _crashing(delivery: Delivery, target: Path) -> None:
    target.write_text("half a page")
    next(iter(delivery.entries))
    raise ZeroDivisionError("of the page")


def _idle(delivery: Delivery, target: Path) -> None:
    target.write_text(delivery.about.title)


@pytest.mark.parametrize("write", [_crashing, _idle])
def test_a_page_that_fails_keeps_no_test_out_of_the_bag(
    write: Callable[[Delivery, Path], None],
    book: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    loaded = registry.load()
    loaded.formats["report"] = Format("report", "a page", write=write)
    monkeypatch.setattr(registry, "load", lambda: loaded)
    result = run("archive", "make", book, tmp_path / "bag")
    assert result.exit_code == 2
    assert "the bag has no page for people" in result.stderr
    assert not (tmp_path / "bag/data/report.html").exists()
    assert len(json.loads((tmp_path / "bag/data/audit.json").read_bytes())["records"]) == 3
    assert run("archive", "verify", tmp_path / "bag").exit_code == 0


def test_a_page_for_people_is_in_the_bag(made: Path) -> None:
    assert "1A-P1-40" in (made / "data/report.html").read_text("utf-8")


def test_a_packing_whose_library_is_missing_is_told_before_the_work(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "zstandard", None)
    result = run("archive", "make", book, tmp_path / "bag.tar.zst", "--pack", "tar.zst")
    assert result.exit_code == 3
    assert "pip install zstandard" in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_the_book_is_copied_while_nobody_writes_to_it(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = Path(shutil.copytree(book, tmp_path / "book"))
    monkeypatch.setattr(lock, "_POLL_S", 0.01)
    held = lock.held(own / ".lock")
    held.__enter__()
    waited = []

    def let_go() -> None:
        assert not (tmp_path / "bag").exists()
        waited.append(True)
        held.__exit__(None, None, None)

    payload.copy_book(open_book(own), tmp_path / "bag", on_wait=let_go)
    assert waited == [True]
    assert snapshot(tmp_path / "bag/data/book").keys() == snapshot(own).keys() - {".lock"}
