"""The commands `dialect draft` and `dialect try`: what they refuse, and what a trial says."""

import json
import shlex
import zipfile
from pathlib import Path

import pytest

from sweepbook import schemas
from tests import guide
from tests.csv_format.dialects import CURVES
from tests.program import DEMO, run

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, blocks, link, shifted, wide

RAW = ("insertion_loss", "return_loss", "next", "fext")


def tried(folder: Path, text: str, *changes: tuple[str, str]) -> tuple[int, str]:
    """A draft with changes tried on its own file; the output on one line."""
    draft = draft_of(folder, text)
    for old, new in changes:
        assert old in draft, old
        draft = draft.replace(old, new)
    dialect = folder / "mine.toml"
    dialect.write_text(draft, encoding="utf-8")
    result = run("dialect", "try", dialect, folder / "export.csv")
    return result.exit_code, " ".join(result.output.split())


def whole(one: Link) -> str:
    return wide(one, *RAW, "acr_f")


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path) -> None:
    export = tmp_path / "export.csv"
    export.write_text(whole(link("1", 60.0)), encoding="utf-8")
    target = tmp_path / "mine.toml"
    target.write_text("kept", encoding="utf-8")
    result = run("dialect", "draft", export, "-o", target)
    assert result.exit_code == 3
    assert "is there already" in result.output
    assert target.read_text(encoding="utf-8") == "kept"


def test_files_in_an_archive_are_examples_too(tmp_path: Path) -> None:
    one, other = (whole(link(label, 60.0)) for label in ("A-1", "A-2"))
    with zipfile.ZipFile(tmp_path / "job.zip", "w") as packed:
        packed.writestr("1.csv", one)
        packed.writestr("2.csv", other)
    draft = run("dialect", "draft", tmp_path / "job.zip").stdout
    assert "seen: 'A-1', 'A-2'" in draft
    (tmp_path / "job.zip").write_bytes((tmp_path / "job.zip").read_bytes()[:200])
    broken = run("dialect", "draft", tmp_path / "job.zip")
    assert broken.exit_code == 3
    assert "job.zip" in broken.output


def test_a_folder_stands_for_the_files_in_it(tmp_path: Path) -> None:
    folder = tmp_path / "exports"
    (folder / "hall").mkdir(parents=True)
    files = [folder / "a.csv", folder / "hall" / "b.csv"]
    for file, label in zip(files, ("A-1", "A-2"), strict=True):
        file.write_text(whole(link(label, 60.0)), encoding="utf-8")
    (folder / ".hidden").write_text("no export")
    draft = run("dialect", "draft", folder)
    assert draft.exit_code == 0
    assert draft.stdout == run("dialect", "draft", *files).stdout
    dialect = tmp_path / "mine.toml"
    dialect.write_text(draft.stdout, encoding="utf-8")
    by_folder, by_file = (run("dialect", "try", dialect, *of, "--json") for of in ([folder], files))
    assert by_folder.stdout == by_file.stdout
    assert json.loads(by_folder.stdout)["sources"] == ["a.csv", "b.csv"]


@pytest.mark.parametrize("words", [("draft",), ("try", DEMO / "dialects" / "osquary-tolk.toml")])
def test_a_folder_without_files_is_told(tmp_path: Path, words: tuple[str | Path, ...]) -> None:
    (tmp_path / "none").mkdir()
    told = run("dialect", *words, tmp_path / "none")
    assert told.exit_code == 3
    assert "There is no file in" in told.output
    assert "Traceback" not in told.output


def test_a_draft_that_reads_not_all_of_its_examples_says_so(tmp_path: Path) -> None:
    export, target = tmp_path / "export.csv", tmp_path / "mine.toml"
    text = wide(link("1", 60.0), *RAW)
    export.write_text(text, encoding="utf-8")
    told = run("dialect", "draft", export, "-o", target)
    assert "NOT READ" not in told.output
    row = text.splitlines()[-3]
    export.write_text(text.replace(row, row.rsplit(";", 3)[0]), encoding="utf-8")
    target.unlink()
    told = run("dialect", "draft", export, "-o", target)
    said = " ".join(told.output.split())
    assert told.exit_code == 0
    assert (
        "Of its examples it reads 0 tests as it stands, and NOT READ are 1 files or tests" in said
    )
    assert "the first: export.csv, lines 1-" in said
    head = target.read_text(encoding="utf-8").partition("\n\n")[0]
    assert "# Of its examples it reads 0 tests" in head


def test_a_draft_is_written_to_a_new_file(tmp_path: Path) -> None:
    export = tmp_path / "export.csv"
    export.write_text(whole(link("1", 60.0)), encoding="utf-8")
    target = tmp_path / "mine.toml"
    told = run("dialect", "draft", export, "-o", target)
    assert told.exit_code == 0
    assert target.read_text(encoding="utf-8") == run("dialect", "draft", export).stdout
    assert "mine.toml. " in told.output
    assert "Look at its marked lines" in told.output


def test_what_waits_for_a_person_is_told_where_a_draft_is_written(tmp_path: Path) -> None:
    export = tmp_path / "export.csv"
    strange = whole(link("1", 60.0)).replace("Limit;", "Zorbel;")
    export.write_text(strange, encoding="utf-8")
    told = run("dialect", "draft", export, "-o", tmp_path / "mine.toml").output
    head = run("dialect", "draft", export).stdout.partition("\n\n")[0]
    left = head[head.index("# Only you can say") :].replace("\n# ", " ").removeprefix("# ")
    assert left in told


def test_nothing_is_drafted_into_a_book(tmp_path: Path, demo_book: Path) -> None:
    export = DEMO / "exports" / "heron-1A-P1-01.csv"
    result = run("dialect", "draft", export, "-o", demo_book / "mine.toml")
    assert result.exit_code == 3
    assert not (demo_book / "mine.toml").exists()


def test_what_holds_no_table_is_refused(tmp_path: Path) -> None:
    note = tmp_path / "note.txt"
    note.write_text("Dear all,\nthe sweeps follow tomorrow.\n", encoding="utf-8")
    result = run("dialect", "draft", note)
    assert result.exit_code == 3
    assert "No table of sweeps was found in note.txt" in result.output


def test_a_trial_counts_curves_beside_those_the_limit_asks_for(tmp_path: Path) -> None:
    code, said = tried(tmp_path, whole(link("1", 60.0)))
    assert code == 1  # there is no delay, which the limit asks for
    assert "insertion_loss 4 4 1 to 500 " in said
    assert "return_loss 8 8 " in said
    assert "next 12 12 " in said
    assert "fext 24 24 " in said
    assert "Nothing was left over." in said
    assert "Propagation delay: 0 of 4 figures found" in said


def test_a_trial_names_the_lines_that_wait(tmp_path: Path) -> None:
    text = wide(link("1", 60.0), *RAW)
    number = draft_of(tmp_path, text).splitlines().index('first = "TO-BE-SETTLED"') + 1
    code, said = tried(tmp_path, text)
    assert code == 1
    assert f"1. mine.toml, line {number}: Put a word in place of 'TO-BE-SETTLED' behind" in said
    assert "behind `first =`; see the lines above it." in said
    assert "fext 24 24 " in said, "it is tried all the same, as the head of the draft says"
    assert "before you gather by this file" in draft_of(tmp_path, text)


def test_a_trial_shows_missing_curves_with_the_key_to_change(tmp_path: Path) -> None:
    _, said = tried(tmp_path, whole(link("1", 60.0)), ('\nfar = "remote"', '\nfar = "distant"'))
    assert "return_loss 4 8 " in said
    assert "all at the far end" in said
    assert "mine.toml, words.ends: Return loss: 4 of 8 curves found" in said
    assert "words.ends.far: 'distant'" in said


def test_a_trial_offers_fields_for_what_is_left_over(tmp_path: Path) -> None:
    text = whole(link("1", 60.0)).replace("Outcome;", "Operator;op-9\nOutcome;")
    _, said = tried(tmp_path, text, ('\ntest.operator = "Operator"', ""))
    assert "Left over, 1 key in extra: Operator: op-9" in said
    assert (
        "[fields] for line 5 of export.csv: Add test.operator = \"Operator\"; there stands 'op-9'"
    ) in said


@pytest.mark.parametrize(
    ("key", "offered"),
    [
        ("Prop delay 1-2", 'delay: add propagation_delay = "Prop delay" beside "Delay" in [words'),
        ("Length [m] 1-2", 'length: add value = "{parameter} [{unit}] {pairs}" beside "{param'),
        ("Delay", "'Delay' reads as propagation_delay and names no pair"),
    ],
)
def test_a_trial_offers_of_a_figure_only_what_is_not_there(
    key: str, offered: str, tmp_path: Path
) -> None:
    (tmp_path / "d.toml").write_text(CURVES, encoding="utf-8")
    content = f"Link,A\n{key},61.2\nMHz,IL 1-2\n1,1.9\n2,2.7\n"
    (tmp_path / "e.csv").write_text(content, encoding="utf-8")
    said = run("dialect", "try", tmp_path / "d.toml", tmp_path / "e.csv").output
    said = " ".join(said.split())
    assert offered in said
    assert 'add value = "{parameter} {pairs}"' not in said
    assert 'add value = "{parameter}"' not in said


@pytest.mark.parametrize("key", ["IL 1-2/Points", "Wire map A"])
def test_a_trial_offers_no_single_value_of_what_has_none(key: str, tmp_path: Path) -> None:
    (tmp_path / "d.toml").write_text(CURVES, encoding="utf-8")
    content = f"Link,A\n{key},86\nMHz,IL 1-2\n1,1.9\n2,2.7\n"
    (tmp_path / "e.csv").write_text(content, encoding="utf-8")
    said = run("dialect", "try", tmp_path / "d.toml", tmp_path / "e.csv").output
    assert "add value" not in said
    assert "[figures]" not in said


def test_a_trial_tells_what_several_files_share_once(tmp_path: Path) -> None:
    (tmp_path / "d.toml").write_text(CURVES, encoding="utf-8")
    files = [tmp_path / f"{number}.csv" for number in range(3)]
    for file in files:
        file.write_text("Link,A\nDelay,61\nMHz,IL 1-2,XX\n1,1.9,3\n2,2.7,4\n", encoding="utf-8")
    said = " ".join(run("dialect", "try", tmp_path / "d.toml", *files).output.split())
    assert said.count("No curve is known by the title 'XX'") == 1
    assert "0.csv, line 3 and 2 more places: No curve" in said


def test_a_trial_says_what_physics_forbids(tmp_path: Path) -> None:
    text = blocks([link("1", 60.0), link("2", 61.0)])
    _, said = tried(tmp_path, text)
    assert "294 to 294 ns" in said
    assert "any insulation" not in said
    _, said = tried(tmp_path, text, ('\nlength = "ft"', '\nlength = "m"'))
    assert "the speed of light" in said
    assert "units.delay: " in said.partition("Next changes")[2]
    assert "units.length or mine.toml, line" in said
    _, said = tried(tmp_path, text, ('\ndelay = "ns"', '\ndelay = "us"'))
    assert "would be 294000 ns, which no cable has; see units.delay" in said


def test_a_trial_looks_at_the_first_test_of_each_file(tmp_path: Path) -> None:
    exports = [tmp_path / f"{label}.csv" for label in ("A-1", "A 2")]
    for export in exports:
        export.write_text(whole(link(export.stem, 60.0)), encoding="utf-8")
    drafted = run("dialect", "draft", *exports, "-o", tmp_path / "mine.toml").stdout
    advice = drafted.rpartition("then: sweepbook ")[2]
    said = " ".join(run(*shlex.split(advice)).stdout.split())
    assert "reads, in A-1.csv label A-1 " in said
    assert "1 more test with the same curves" in said
    assert "pass A 2.csv" in said


def test_a_test_that_cannot_be_read_is_told_with_its_line(tmp_path: Path) -> None:
    text = whole(link("1", 60.0)).replace("Outcome;PASS", "Outcome;SO-SO")
    code, said = tried(tmp_path, text)
    assert code == 1
    assert "No test of export.csv could be read" in said
    assert "SO-SO" in said


def test_a_dialect_that_fits_leaves_nothing_to_change() -> None:
    export = DEMO / "exports" / "heron-1A-P1-01.csv"
    dialect = DEMO / "dialects" / "brindlewick-heron-5.toml"
    result = run("dialect", "try", dialect, export)
    assert result.exit_code == 0, result.output
    assert "Nothing to change is seen." in result.output
    advice = result.output.rpartition("the numbers: sweepbook ")[2]
    shown = run(*shlex.split(advice))
    assert shown.stdout.startswith("Test of 1A-P1-01\n")


def test_of_a_dialect_that_fits_the_keys_in_extra_are_counted(tmp_path: Path) -> None:
    dialect = (DEMO / "dialects" / "brindlewick-heron-5.toml").read_text(encoding="utf-8")
    export = (DEMO / "exports" / "heron-1A-P1-01.csv").read_text(encoding="utf-8")
    (tmp_path / "d.toml").write_text(dialect, encoding="utf-8")
    for more, said in ((1, "1 key of the export lies"), (2, "2 keys of the export lie")):
        first, _, rest = export.partition("\n")
        lines = "".join(f"drum {at},7{at}\n" for at in range(more))
        (tmp_path / "e.csv").write_text(f"{first}\n{lines}{rest}", encoding="utf-8")
        result = run("dialect", "try", tmp_path / "d.toml", tmp_path / "e.csv")
        assert result.exit_code == 0, result.output
        assert f"All that it asks for is read; {said} in extra." in result.output


def test_a_trial_for_a_program_follows_its_schema_and_looks_at_as_many_tests_as_asked(
    tmp_path: Path,
) -> None:
    content, dialect = guide.blocks("csv")[2], guide.blocks("toml")[2]
    (tmp_path / "hall-2.csv").write_text(content, encoding="utf-8")
    (tmp_path / "d.toml").write_text(dialect, encoding="utf-8")
    asked = ("dialect", "try", tmp_path / "d.toml", tmp_path / "hall-2.csv")
    for count in (1, 2):
        result = run(*asked, "--tests", str(count), "--json")
        document = json.loads(result.stdout)
        assert list(schemas.errors(document, schemas.schema("trial-0.schema.json"))) == []
        assert [one["label"] for one in document["tests"]] == ["A-17", "A-18"][:count]
    first = document["tests"][0]
    rows = {row["parameter"]: row for row in first["parameters"]}
    assert (rows["insertion_loss"]["found"], rows["insertion_loss"]["expected"]) == (2, 4)
    assert first["verdict"] == {"as_stated": "PASS", "read_as": "pass"}
    assert document["changes"] != []
    assert result.exit_code == 1
    lines = run(*asked, "--tests", "2").stdout
    assert "Test 2 that example-sections reads" in lines


def test_of_many_examples_the_first_is_named_and_how_many_there_are(tmp_path: Path) -> None:
    files = []
    for number in range(7):
        files.append(tmp_path / f"link-{number}.csv")
        files[-1].write_text(whole(link(f"A-{number}", 60.0)), encoding="utf-8")
    few = run("dialect", "draft", *files[:2], "-o", tmp_path / "few.toml").output
    assert "link-0.csv" in few
    assert "link-1.csv" in few
    many = run("dialect", "draft", *files, "-o", tmp_path / "many.toml").output
    assert "link-0.csv ... (with the 6 other files)" in many
    assert "link-1.csv" not in many
    for file in files:
        file.write_text("nothing\n", encoding="utf-8")
    none = run("dialect", "draft", *files)
    assert none.exit_code == 3
    assert "link-3.csv and 3 more." in " ".join(none.output.split())


def test_a_draft_is_tried_as_if_it_had_been_named(tmp_path: Path) -> None:
    """By nothing in it but remarks would an export be known that names no column elsewhere."""
    one, kinds = link("A-1", 60.0), {"insertion_loss": "IL", "return_loss": "RL"}
    lines = ["NOTE|Kranich 8 dump", "FIELDS|RUN|Label|Result", "FIELDS|DOT|What|End|Pair|kHz|dB"]
    lines += ["", f"RUN|{one.label}|PASS"]
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in kinds:
            head = f"DOT|{kinds[parameter]}|{end or 'n/a'}|{pairs[0].replace('-', ',')}"
            rows = zip(KHZ, values, strict=True)
            lines += [f"{head}|{khz}|{shifted(value, 2)}" for khz, value in rows]
    export, target = tmp_path / "dump.txt", tmp_path / "mine.toml"
    export.write_text("\n".join([*lines, ""]), encoding="utf-8")
    told = run("dialect", "draft", export, "-o", target)
    assert 'comment = "FIELDS|"' in target.read_text("utf-8")
    assert "NOT READ" not in told.output
    (record,), _ = read(export, target.read_text("utf-8"))
    assert curves(record.document) == written(one, *kinds)
