"""What `archive verify` names, and that it judges by what lies in the bag."""

import json
import os
import shutil
import stat
import tarfile
import tomllib
import zipfile
from collections.abc import Callable, Iterator
from functools import partial
from hashlib import sha256
from importlib.resources import files
from io import BytesIO
from pathlib import Path
from typing import Any

import bagit
import pytest
import zstandard

from sweepbook import registry, schemas
from sweepbook.bag import unpack
from sweepbook.bag.layout import NotABag
from sweepbook.rules.model import Hit
from sweepbook.source import Bounds
from tests.program import DEMO, DIALECTS, run
from tests.rules.test_catalogue import a_rule

from .conftest import Reseal

Json = dict[str, Any]
LIMIT = "data/judged-by/limits/tia-568.2-d/cat6a/permanent-link.json"


def verified(bag: Path, code: int, *words: str) -> Json:
    result = run("archive", "verify", bag, "--json", *words)
    assert result.exit_code == code, result.output
    document: Json = json.loads(result.stdout)
    assert list(schemas.problems(document, "verification-0.schema.json")) == []
    assert document["fine"] == (code == 0)
    return document


def change(file: Path, edit: Callable[[Any], None]) -> None:
    """Change a JSON file the way somebody with an editor would."""
    document = json.loads(file.read_bytes())
    edit(document)
    file.write_text(json.dumps(document, ensure_ascii=False), "utf-8")


def change_audit(bag: Path, edit: Callable[[Json], None]) -> None:
    """Change each line of the audit document that is a record, or a member of the head."""
    file = bag / "data/audit.json"
    lines = file.read_text("utf-8").split("\n")
    for number, line in enumerate(lines):
        end = "," if line.endswith(",") else ""
        if line.startswith('{"record_id"'):
            entry = json.loads(line.rstrip(","))
            edit(entry)
            lines[number] = json.dumps(entry, ensure_ascii=False) + end
        elif line.startswith(('"tool"', '"options"')):
            entry = json.loads("{" + line.rstrip(",") + "}")
            edit(entry)
            lines[number] = json.dumps(entry, ensure_ascii=False)[1:-1] + end
    file.write_text("\n".join(lines), "utf-8")


def kinds(document: Json) -> set[tuple[str, str]]:
    return {(one["kind"], one["label"]) for one in document["audit"]["differences"]}


def test_a_bag_as_it_was_made_is_fine(made: Path) -> None:
    document = verified(made, 0)
    assert document["audit"]["judgements"] == {
        "upheld": 2, "overturned": 1, "unproven": 0, "unstated": 0,
    }  # fmt: skip
    assert document["bag"]["info"]["Source-Organization"] == "Veldt & Daughters"
    assert document["files"] > 50
    said = " ".join(run("archive", "verify", made).stdout.split())
    assert "nothing changed, missing or extra" in said
    assert "3 tests: 2 upheld, 1 overturned. The same judgements, figures and findings." in said


def test_the_noted_digest_proves_the_lists_that_somebody_wrote_anew(
    bag: Path, made: Path, reseal: Reseal
) -> None:
    noted = sha256((made / "tagmanifest-sha256.txt").read_bytes()).hexdigest()
    document = verified(made, 0, "--digest", noted.upper())
    assert (document["digest"], document["digest_noted"]) == (noted, noted)
    said = " ".join(run("archive", "verify", made, "--digest", noted).stdout.split())
    assert f"Digest of the bag: {noted}, as it was noted." in said
    (bag / "bag-info.txt").write_text("Source-Organization: Somebody Else\n")
    reseal()
    bagit.Bag(str(bag)).validate()
    document = verified(bag, 0)
    assert document["digest"] != noted
    assert document["digest_noted"] is None
    assert "(--digest): only that proves" in " ".join(run("archive", "verify", bag).stdout.split())
    assert verified(bag, 1, "--digest", noted)["digest_noted"] == noted
    result = run("archive", "verify", bag, "--digest", noted)
    assert result.exit_code == 1
    said = " ".join(result.stdout.split())
    assert f"not the bag that was noted: the digest given is {noted}" in said
    assert f"that of this bag is {document['digest']}" in said
    (bag / "tagmanifest-sha256.txt").unlink()
    assert verified(bag, 1, "--digest", noted)["digest"] is None


@pytest.mark.parametrize("digest", ["", "12ab", 63 * "0" + "g", 65 * "0"])
def test_a_digest_that_is_none_is_refused(digest: str, made: Path) -> None:
    result = run("archive", "verify", made, "--digest", digest)
    assert result.exit_code == 3
    assert "is no SHA-256" in result.stderr
    assert "sweepbook archive make" in result.stderr


@pytest.mark.parametrize("pack", ["zip", "tar.zst"])
def test_a_packed_bag_is_verified_as_it_is(pack: str, book: Path, tmp_path: Path) -> None:
    out = tmp_path / f"bag.{pack}"
    assert run("archive", "make", book, out, "--pack", pack).exit_code == 0
    verified(out, 0)
    assert list(tmp_path.iterdir()) == [out]


@pytest.mark.parametrize("other", [False, True])
def test_a_list_that_has_a_file_twice_is_told(bag: Path, other: bool) -> None:
    """With the same digest or another; exactly once is right (RFC 8493, 2.1.3, as recalled)."""
    manifest, tags = bag / "manifest-sha256.txt", bag / "tagmanifest-sha256.txt"
    before = sha256(manifest.read_bytes()).hexdigest()
    lines = manifest.read_text("utf-8").splitlines(keepends=True)
    again = f"{'0' * 64}{lines[0][64:]}" if other else lines[0]
    manifest.write_text("".join([*lines, again]), "utf-8")
    after = sha256(manifest.read_bytes()).hexdigest()
    tags.write_text(tags.read_text("utf-8").replace(before, after), "utf-8")
    twice = lines[0][66:-1]
    faults = {one["path"]: one["message"] for one in verified(bag, 1)["faults"]}
    assert faults.keys() == {manifest.name, *([twice] if other else [])}
    said = f"Line {len(lines) + 1} lists {twice} again, as line 1 does."
    assert faults[manifest.name] == said
    with pytest.raises(bagit.BagError, match="multiple times"):
        bagit.Bag(str(bag)).validate()


def test_of_very_many_files_the_first_of_each_kind_are_named_and_the_others_counted(
    bag: Path,
) -> None:
    for number in range(250):
        (bag / f"data/{number}.txt").write_bytes(b"extra")
    (bag / "README.txt").write_text("changed")
    assert len(verified(bag, 1)["faults"]) == 251
    told = run("archive", "verify", bag).stdout.splitlines()
    assert sum(line.startswith("extra: data/") for line in told) == 100
    assert "extra: 150 more, not listed here; --json lists them all." in told
    assert sum(line.startswith("changed: ") for line in told) == 1
    assert "250 extra" in " ".join(" ".join(told).split())


def test_all_that_is_changed_missing_or_extra_is_named_in_one_run(bag: Path) -> None:
    (bag / "README.txt").write_text("changed")
    (bag / "data/audit.json").write_bytes((bag / "data/audit.json").read_bytes() + b"\n")
    (bag / "data/judged-by/accuracy.json").unlink()
    (bag / "data/extra.txt").write_text("extra")
    (bag / "beside.txt").write_text("extra")
    (bag / "data/link").symlink_to(bag / "README.txt")
    practice = bag / "data/judged-by/practice.json"
    practice.rename(practice.with_name("other.json"))
    document = verified(bag, 1)
    assert {(one["kind"], one["path"]) for one in document["faults"]} == {
        ("changed", "README.txt"),
        ("changed", "data/audit.json"),
        ("missing", "data/judged-by/accuracy.json"),
        ("missing", "data/judged-by/practice.json"),
        ("extra", "data/judged-by/other.json"),
        ("extra", "data/extra.txt"),
        ("extra", "data/link"),
        ("extra", "beside.txt"),
    }
    assert "practice.json" in document["audit_not_repeated"]
    moved = next(one for one in document["faults"] if one["path"].endswith("practice.json"))
    assert "other.json" in moved["message"]
    with pytest.raises(bagit.BagError):
        bagit.Bag(str(bag)).validate()


def test_a_record_that_was_changed_with_all_lists_made_anew_is_found(
    bag: Path, reseal: Reseal
) -> None:
    file = min(bag.glob("data/book/records/*/*"))

    def better(record: Json) -> None:
        record["results"]["sweeps"][0]["value_db"][0] += 1

    change(file, better)
    reseal()
    bagit.Bag(str(bag)).validate()
    document = verified(bag, 1)
    assert document["faults"] == []
    assert [one["place"] for one in document["book"]] == [
        file.relative_to(bag / "data/book").as_posix()
    ]
    assert {kind for kind, _ in kinds(document)} == {"record"}
    assert (document["audit"]["records"], document["audit"]["lost"]) == (2, 1)
    said = " ".join(run("archive", "verify", bag).stdout.split())
    assert "from the bag alone: 2 of 3 tests: " in said
    assert "; 1 cannot be read. The same judgements" in said
    assert "of those judged" in said
    assert "Not the same judgement" not in said, "nothing that was judged is judged otherwise"


def test_tests_are_judged_by_the_limits_in_the_bag(bag: Path, reseal: Reseal) -> None:
    def tighter(table: Json) -> None:
        for segment in table["parameters"]["insertion_loss"]["segments"]:
            segment["shape"]["parts"][0]["times"] = 0.3

    change(bag / LIMIT, tighter)
    reseal()
    document = verified(bag, 1)
    assert ("judgement", "1A-P1-01") in kinds(document)
    (one,) = [d for d in document["audit"]["differences"] if d["kind"] == "judgement"]
    assert "Judged upheld (stated pass, recomputed pass) when the bag was made" in one["message"]
    assert "Judged overturned (stated pass, recomputed fail) now" in one["message"]
    said = " ".join(run("archive", "verify", bag).stdout.split())
    assert "Not the same judgement: 1 test." in said


def test_tests_are_judged_by_the_readings_that_the_bag_tells_of(bag: Path, reseal: Reseal) -> None:
    """Another threshold of the 3 dB rule in the bag's own file leaves out points that counted."""

    def wider(document: Json) -> None:
        for entry in document["interpretations"]:
            if entry["id"] == "return-loss-below-3-db":
                entry["effect"]["threshold_db"] = 20.0

    change(bag / "data/judged-by/interpretations.json", wider)
    reseal()
    document = verified(bag, 1)
    assert any(kind in ("figure", "judgement") for kind, _ in kinds(document))


@pytest.mark.parametrize(
    ("written", "embellished", "told"),
    [
        ('"judgements":{"upheld":2', '"judgements":{"upheld":3', "summary.judgements.upheld"),
        ('"summary":{"records":3', '"summary":{"records":4', "summary.records was 4 and is 3"),
        ('"accepted":0', '"accepted":1', "summary.accepted was 1 and is 0"),
        ('"decision_rule":"', '"job_rule":"x",\n"decision_rule":"', 'job_rule was "x"'),
        ('"corrections":"', '"corrections":"0', "digests.corrections was"),
        ('"label":"1A-P1-01"', '"label":"1A-P1-77"', 'label was "1A-P1-77"'),
        ('"options":{', '"options":{"withdrawn": "x.csv", ', 'options.withdrawn was "x.csv"'),
    ],
)
def test_any_other_part_of_the_audit_document_is_held_too(
    bag: Path, reseal: Reseal, written: str, embellished: str, told: str
) -> None:
    file = bag / "data/audit.json"
    text = file.read_text("utf-8")
    assert written in text
    file.write_text(text.replace(written, embellished, 1), "utf-8")
    reseal()
    (one,) = verified(bag, 1)["audit"]["differences"]
    assert told in one["message"]
    assert one["kind"] in ("part", "finding")


def test_what_is_not_repeated_is_said_to_rest_on_the_digest() -> None:
    said = " ".join(run("archive", "verify", "--help").stdout.split())
    assert "Only the audit document and the reconciliation are made anew" in said
    assert "rest on the digest" in said


def test_rules_and_practice_figures_are_those_of_the_bag(bag: Path, reseal: Reseal) -> None:
    def milder(document: Json) -> None:
        for rule in document["rules"]:
            if rule["severity"] == "error":
                rule["severity"] = "note"

    change(bag / "data/judged-by/rules.json", milder)

    def hasty(document: Json) -> None:
        document["figures"]["field_reference_days"]["value"] = 0.0001

    change(bag / "data/judged-by/practice.json", hasty)
    reseal()
    document = verified(bag, 1)
    told = " ".join(one["message"] for one in document["audit"]["differences"])
    assert "(error) at" in told
    assert "(note) at" in told
    assert {kind for kind, _ in kinds(document)} == {"finding", "part"}
    assert "digests.catalogue was" in told
    assert "digests.practice was" in told
    assert any("then and not now" in one["message"] for one in document["audit"]["differences"])
    assert any("now and not then" in one["message"] for one in document["audit"]["differences"])


def test_the_error_terms_of_a_tester_are_those_of_the_bag(tmp_path: Path) -> None:
    """Tests that declare no accuracy: what the terms make of it is how far a pass is marginal."""
    book, out = tmp_path / "book", tmp_path / "bag"
    assert run("gather", book, DEMO / "exports/tolk-annexe-3.csv.gz", *DIALECTS).exit_code == 0
    assert run("archive", "make", book, out, "--accuracy", "worst-case").exit_code == 0
    assert verified(out, 0)["audit"]["differences"] == []

    def coarse(document: Json) -> None:
        document["constants_db"]["tracking"] += 3.0

    change(out / "data/judged-by/accuracy.json", coarse)
    document = verified(out, 1)
    assert {("figure", "03-11"), ("figure", "03-12")} <= kinds(document)
    (said,) = [d["message"] for d in document["audit"]["differences"] if d["label"] == "03-11"]
    assert "The marginal was return loss 4-5 at the far end: margin 2.56 dB" in said
    assert document["audit"]["remarks"] == []
    (out / "data/judged-by/accuracy.json").write_text('{"lines": {}, "constants_db": {}}')
    assert "accuracy.json holds no error terms" in verified(out, 1)["audit_not_repeated"]


def test_a_vocabulary_that_this_version_does_not_know_is_told(bag: Path, reseal: Reseal) -> None:
    shutil.copy(bag / "data/judged-by/vocabulary-1.json", bag / "data/judged-by/vocabulary-9.json")
    reseal()
    (remark,) = verified(bag, 0)["audit"]["remarks"]
    assert "vocabulary-9.json" in remark


def test_other_words_of_another_version_are_told_and_are_no_difference(
    bag: Path, reseal: Reseal
) -> None:
    def older(entry: Json) -> None:
        if "tool" in entry:
            entry["tool"]["version"] = "0.0.9"
        if "reason" in entry:
            entry["reason"] = f"It was said otherwise. {entry['reason']}"

    change_audit(bag, older)
    reseal()
    document = verified(bag, 0)
    assert {kind for kind, _ in kinds(document)} == {"words"}
    (remark,) = document["audit"]["remarks"]
    assert remark.startswith("Sweepbook 0.0.9 made the audit")
    said = " ".join(run("archive", "verify", bag).stdout.split())
    assert "The reason of 3 tests has other words." in said


def test_figures_that_differ_are_told_to_the_curve(bag: Path, reseal: Reseal) -> None:
    def embellish(entry: Json) -> None:
        for margin in entry.get("margins", [])[:1]:
            margin["worst_margin_db"] += 0.01

    change_audit(bag, embellish)
    reseal()
    document = verified(bag, 1)
    assert {kind for kind, _ in kinds(document)} == {"figure"}
    assert all("worst_margin_db was" in d["message"] for d in document["audit"]["differences"])


def test_rules_that_this_version_does_not_have_are_named(bag: Path, reseal: Reseal) -> None:
    def foreign(document: Json) -> None:
        document["rules"].append({**document["rules"][0], "id": "ZZZ001", "check": "not_here"})

    change(bag / "data/judged-by/rules.json", foreign)
    reseal()
    assert "ZZZ001" in verified(bag, 0)["audit"]["remarks"][0]


def test_rules_of_a_plugin_are_told_of_where_it_is_missing(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def red(_case: object) -> Iterator[Hit]:
        yield Hit("$.link.cable", {"colour": "red"})

    loaded = registry.load()
    loaded.rules.append(a_rule("RED001", red))
    with monkeypatch.context() as patched:
        patched.setattr(registry, "load", lambda: loaded)
        out = tmp_path / "bag"
        assert run("archive", "make", book, out, "--rule", "RED", "--rule", "VRD").exit_code == 0
        assert verified(out, 0)["audit"]["remarks"] == []
    (kept,) = json.loads((out / "data/judged-by/contributed-rules.json").read_bytes())["rules"]
    assert (kept["id"], kept["why"]) == ("RED001", "The owner has a taste of his own.")
    (remark,) = verified(out, 0)["audit"]["remarks"]
    assert "RED001" in remark


def test_a_table_that_cannot_be_used_hinders_the_tests_under_it_alone(bag: Path) -> None:
    (bag / LIMIT).write_text("{}")
    document = verified(bag, 1)
    assert document["audit"]["records"] == 3
    assert document["audit"]["remarks"][0].startswith(f"{LIMIT} is no usable limit table")
    assert "judgement" in {kind for kind, _ in kinds(document)}
    unused = bag / "data/judged-by/limits/iso-11801-1-2017/class-f/channel.json"
    shutil.copy(
        Path(str(files("sweepbook_schemas"))) / LIMIT.partition("judged-by/")[2], bag / LIMIT
    )
    unused.write_text("{}")
    document = verified(bag, 1)
    assert document["audit"]["same"]


def test_what_was_asked_for_is_asked_for_again(book: Path, tmp_path: Path) -> None:
    """Own limits in the book, another limit, decided readings and a project: all out of the bag."""
    own = Path(shutil.copytree(book, tmp_path / "book"))
    (own / "limits").mkdir()
    contract = {
        "schema": "urn:sweepbook:limits-0",
        "path": "east-wing/permanent-link",
        "title": "East wing, permanent link",
        "document": "East wing, works contract",
        "edition": "1",
        "published_year": 2024,
        "based_on": "tia-568.2-d/cat6a/permanent-link",
        "adjustments": [
            {"parameters": ["next"], "tighter_by": 1, "unit": "dB", "source": "contract"}
        ],
        "sources": {"contract": "Appendix C"},
    }
    (own / "limits/contract.json").write_text(json.dumps(contract), "utf-8")
    (own / "project.toml").write_text(
        'schema = "urn:sweepbook:project-0"\n[practice]\nfield_reference_days = 2\n'
        '[rules]\nleave_out = ["SWP"]\n'
    )
    out = tmp_path / "bag"
    asked = (
        "--against", "east-wing/permanent-link", "--interpretation", "next-below-4-db-either=on",
        "--without-rule", "note", "--accuracy", "worst-case",
    )  # fmt: skip
    assert run("archive", "make", own, out, *asked).exit_code == 0
    shutil.rmtree(own)
    assert tomllib.loads((out / "data/judged-by/project.toml").read_text())["practice"]
    head = json.loads((out / "data/audit.json").read_bytes())
    assert head["options"]["rules_left_out"] == "SWP, note"
    assert {record["limit"]["path"] for record in head["records"]} == {contract["path"]}
    assert verified(out, 0)["audit"]["records"] == 3


def test_what_the_job_means_by_a_spelling_is_meant_in_the_bag_too(
    book: Path, tmp_path: Path
) -> None:
    own = Path(shutil.copytree(book, tmp_path / "book"))
    meant = '"TIA-568.2-D Category 6A Permanent Link" = "tia-568.2-d/cat6/permanent-link"'
    (own / "project.toml").write_text(
        f'schema = "urn:sweepbook:project-0"\n[job]\nmarginal_pass = "retest"\n'
        f'[places.building]\n"Main House" = "House A"\n[limits]\n{meant}\n',
        encoding="utf-8",
    )
    under = {
        one["limit"]["path"] for one in json.loads(run("check", own, "--json").stdout)["records"]
    }
    assert under == {"tia-568.2-d/cat6/permanent-link"}
    run("archive", "make", own, tmp_path / "bag")
    verified = run("archive", "verify", tmp_path / "bag")
    assert verified.exit_code == 0, verified.output


def test_a_pipe_is_no_bag_and_is_not_waited_for(book: Path, tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    result = run("archive", "verify", tmp_path / "pipe")
    assert result.exit_code == 3
    assert "it is no regular file" in result.stderr
    result = run("archive", "make", book, tmp_path / "pipe", "--replace")
    assert result.exit_code == 3
    assert "is no bag of sweepbook" in result.stderr


def test_a_folder_that_is_no_bag_is_refused(tmp_path: Path) -> None:
    (tmp_path / "data").mkdir()
    for place in (tmp_path, tmp_path / "file.zip", tmp_path / "file"):
        if place != tmp_path:
            place.write_bytes(b"PK\x03\x04 no archive" if place.suffix else b"text")
        result = run("archive", "verify", place)
        assert result.exit_code == 3
        assert "sweepbook archive make" in result.stderr or "Copy it again" in result.stderr


def test_a_bag_of_somebody_else_is_held_against_its_lists(tmp_path: Path) -> None:
    (tmp_path / "theirs").mkdir()
    (tmp_path / "theirs/a%.txt").write_text("a")
    bagit.make_bag(str(tmp_path / "theirs"), checksums=["md5", "sha512"])
    document = verified(tmp_path / "theirs", 1)
    assert document["faults"] == []
    assert "no bag of sweepbook" in document["audit_not_repeated"]
    (tmp_path / "theirs/data/a%.txt").write_text("b")
    (fault,) = verified(tmp_path / "theirs", 1)["faults"]
    assert (fault["kind"], fault["path"]) == ("changed", "data/a%.txt")


def test_a_newer_layout_is_not_guessed_at(bag: Path) -> None:
    file = bag / "bag-info.txt"
    file.write_text(file.read_text("utf-8").replace("bag-1", "bag-2"), "utf-8")
    lists = bag / "tagmanifest-sha256.txt"
    lists.unlink()
    bagit.Bag(str(bag)).save()
    document = verified(bag, 1)
    assert document["audit"] is None
    assert "urn:sweepbook:bag-2" in document["audit_not_repeated"]
    assert "or a newer one" in document["audit_not_repeated"]


def _zip(path: Path, entries: dict[str, bytes], **of: int) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in entries.items():
            info = zipfile.ZipInfo(name)
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = of.get("attributes", 0)
            archive.writestr(info, data)
    return path


def _tar(path: Path, *entries: tarfile.TarInfo) -> Path:
    plain = BytesIO()
    with tarfile.open(fileobj=plain, mode="w") as archive:
        for entry in entries:
            archive.addfile(entry, BytesIO(b"x" * entry.size))
    path.write_bytes(zstandard.ZstdCompressor().compress(plain.getvalue()))
    return path


@pytest.mark.parametrize("name", ["../out", "a/../../out", "/out", "a\\..\\..\\out", "C:/out"])
def test_no_file_climbs_out_of_a_packed_bag(name: str, tmp_path: Path) -> None:
    target = tmp_path / "in" / "here"
    target.mkdir(parents=True)
    entry = tarfile.TarInfo(name)
    entry.size = 1
    for packed in (_zip(tmp_path / "a.zip", {name: b"x"}), _tar(tmp_path / "a.tar.zst", entry)):
        with pytest.raises(NotABag, match="leads out"):
            unpack.unpack(packed, target)
    assert list(target.rglob("*")) == []


def test_links_and_twins_are_not_unpacked(tmp_path: Path) -> None:
    link = tarfile.TarInfo("bag/link")
    link.type, link.linkname = tarfile.SYMTYPE, "/etc"
    twin = tarfile.TarInfo("bag/a")
    attributes = (stat.S_IFLNK | 0o777) << 16
    for number, packed in enumerate(
        (
            _tar(tmp_path / "link.tar.zst", link),
            _tar(tmp_path / "twin.tar.zst", twin, twin),
            _zip(tmp_path / "link.zip", {"bag/link": b"/etc"}, attributes=attributes),
            _zip(tmp_path / "two.zip", {"bag/a": b"", "other/b": b""}),
        )
    ):
        target = tmp_path / str(number)
        target.mkdir()
        with pytest.raises(NotABag):
            unpack.unpack(packed, target)


def test_a_file_that_the_disk_does_not_take_is_told(tmp_path: Path) -> None:
    packed = _zip(tmp_path / "long.zip", {f"bag/{'n' * 300}": b"x"})
    (tmp_path / "here").mkdir()
    with pytest.raises(NotABag, match=r"cannot be unpacked: .* TMPDIR"):
        unpack.unpack(packed, tmp_path / "here")


def test_what_expands_without_end_is_not_unpacked(tmp_path: Path) -> None:
    bounds = Bounds(most_bytes=1 << 20)
    large = tarfile.TarInfo("bag/a")
    large.size = 2 << 20
    for packed in (
        _zip(tmp_path / "a.zip", {"bag/a": bytes(2 << 20)}),
        _tar(tmp_path / "a.tar.zst", large),
    ):
        target = tmp_path / packed.suffix
        target.mkdir()
        with pytest.raises(NotABag, match="expand"):
            unpack.unpack(packed, target, bounds)


@pytest.mark.parametrize("pack", ["zip", "tar.zst"])
def test_a_packed_bag_that_is_trusted_may_expand_as_far_as_is_said(
    pack: str, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As one above 4 GiB would, for which this one of 2.4 MB stands."""
    out = tmp_path / f"bag.{pack}"
    words = ("archive", "make", book, out, "--pack", pack)
    assert run(*words).exit_code == 0
    monkeypatch.setattr(unpack, "Bounds", partial(Bounds, most_bytes=1 << 20))
    result = run("archive", "verify", out)
    assert result.exit_code == 3
    assert "--unpack-up-to" in result.stderr
    result = run("archive", "verify", out, "--unpack-up-to", "0.001")
    assert result.exit_code == 3
    assert "expand" in result.stderr
    monkeypatch.undo()
    verified(out, 0, "--unpack-up-to", "0.01")
    assert run("archive", "verify", out, "--unpack-up-to", "0").exit_code == 3
    monkeypatch.setattr(unpack, "Bounds", partial(Bounds, most_bytes=2 << 20))
    assert run(*words, "--replace").exit_code == 0


def test_a_bit_of_a_packed_file_is_found_and_the_file_named(book: Path, tmp_path: Path) -> None:
    out = tmp_path / "bag.zip"
    assert run("archive", "make", book, out, "--pack", "zip").exit_code == 0
    raw = bytearray(out.read_bytes())
    with zipfile.ZipFile(out) as archive:
        info = archive.getinfo("bag/data/judged-by/rules.json")
    raw[info.header_offset + 200] ^= 4
    out.write_bytes(raw)
    (fault,) = verified(out, 1)["faults"]
    assert (fault["kind"], fault["path"]) == ("changed", "data/judged-by/rules.json")
