"""The command and the sheet, on the demo's book: the list is what the planted faults leave."""

import csv
import json
from importlib.resources import files
from pathlib import Path

from jsonschema import Draft202012Validator
from openpyxl import load_workbook

from tests.program import run

SCHEMA = files("sweepbook_schemas").joinpath("retests-0.schema.json")


def test_the_document_the_table_and_the_sheet_hold_the_same_links(
    demo_book: Path, tmp_path: Path
) -> None:
    result = run("retests", demo_book, "--json", "-o", tmp_path / "list.csv")
    assert result.exit_code == 1
    told = json.loads(result.stdout)
    assert list(Draft202012Validator(json.loads(SCHEMA.read_bytes())).iter_errors(told)) == []
    audit = {
        record["record_id"]: record
        for record in json.loads(run("check", demo_book, "--json").stdout)["records"]
    }
    good = {
        record["label"]
        for record in audit.values()
        if record["recomputed"] == "pass" and record["judgement"] == "upheld"
    }
    rest = {record["label"] for record in audit.values()} - good
    listed = [one["label"] for one in told["retests"]]
    assert set(listed) == rest
    assert all(one["reason"] == audit[one["record_id"]]["reason"] for one in told["retests"])
    with (tmp_path / "list.csv").open(newline="", encoding="utf-8") as stream:
        assert [row["label"] for row in csv.DictReader(stream)] == listed
    assert run("export", demo_book, "--to", "xlsx", "-o", tmp_path / "w.xlsx").exit_code == 0
    sheet = load_workbook(tmp_path / "w.xlsx")["To retest"]
    assert [row[0] for row in sheet.iter_rows(min_row=2, values_only=True)] == listed


def test_the_lines_carry_a_caution_and_the_end_to_look_at(demo_book: Path) -> None:
    text = " ".join(run("retests", demo_book).stdout.split())
    assert "make sure that it carries no service" in text
    assert "near end (K1-P1-03), pairs 3-6/4-5" in text


def test_a_list_without_links_is_clean(demo_book: Path, tmp_path: Path) -> None:
    good = run("show", demo_book, "1A-P1-01", "--json").stdout
    (tmp_path / "good.json").write_text(good, encoding="utf-8")
    result = run("retests", tmp_path / "good.json")
    assert result.exit_code == 0
    assert "0 links" in result.stdout


def test_links_are_listed_by_the_places_of_the_schedule(demo_book: Path, tmp_path: Path) -> None:
    own = tmp_path / "own.csv"
    own.write_text("Label,Building,Floor,Panel\n1A-P1-03,Main House,7,P9\n,,,\n")
    listed = tmp_path / "list.csv"
    result = run("retests", demo_book, "--schedule", own, "-o", listed)
    assert "Main House / 7, P9" in result.stdout
    with listed.open(newline="", encoding="utf-8") as stream:
        rows = {row["label"]: row for row in csv.DictReader(stream)}
    assert (rows["1A-P1-03"]["floor"], rows["1A-P1-03"]["panel"]) == ("7", "P9")
    assert rows["1A-P1-04"]["floor"] == "1"
    options = ("--schedule", own, "--to", "xlsx", "-o", tmp_path / "w.xlsx")
    run("export", demo_book, *options)
    sheet = load_workbook(tmp_path / "w.xlsx")["To retest"]
    places = {row[0]: row[1:3] for row in sheet.iter_rows(min_row=2, values_only=True)}
    assert places["1A-P1-03"] == ("Main House", "7")


def test_panels_of_one_name_in_two_rooms_are_two(demo_book: Path, tmp_path: Path) -> None:
    own = tmp_path / "own.csv"
    rows = "1A-P1-03,Main House,7,TR-7A,P9\n1A-P1-04,Main House,7,TR-7B,P9\n"
    own.write_text(f"Label,Building,Floor,Space,Panel\n{rows}")
    said = run("retests", demo_book, "--schedule", own).stdout
    for room in ("TR-7A", "TR-7B"):
        assert f"Main House / 7, {room}, P9" in said
    run("export", demo_book, "--schedule", own, "--to", "xlsx", "-o", tmp_path / "w.xlsx")
    sheet = load_workbook(tmp_path / "w.xlsx")["To retest"]
    titles = [cell.value for cell in sheet[1]]
    assert titles[:5] == ["Link", "Building", "Floor", "Space", "Cabinet"]
    spaces = {row[0]: row[3] for row in sheet.iter_rows(min_row=2, values_only=True)}
    assert (spaces["1A-P1-03"], spaces["1A-P1-04"]) == ("TR-7A", "TR-7B")
    assert sheet.print_area == f"'To retest'!$A$1:$J${sheet.max_row}"


def test_a_label_scheme_alone_adds_to_the_places(demo_book: Path, tmp_path: Path) -> None:
    scheme = tmp_path / "scheme.toml"
    template = 'template = "{from_unit:1 digit}A-P1-{from_port}"'
    head = 'schema = "urn:sweepbook:label-scheme-0"\nname = "ours"'
    scheme.write_text(f"{head}\n[[labels]]\n{template}\n")
    result = run("retests", demo_book, "--label-scheme", scheme, "-o", tmp_path / "list.csv")
    with (tmp_path / "list.csv").open(newline="", encoding="utf-8") as stream:
        units = {row["label"]: row["unit"] for row in csv.DictReader(stream)}
    assert (units["1A-P1-03"], units["03-13"]) == ("1", "")
    assert "other labels do not fit it either" in " ".join(result.stderr.split())


def test_where_a_label_scheme_adds_nothing_it_is_told(demo_book: Path, tmp_path: Path) -> None:
    """Of the demo 1A-P1-03 and others are in room TR-1A; the scheme calls it 1A, and has more."""
    scheme = tmp_path / "scheme.toml"
    template = 'template = "{from_floor:1 digit}{wing:1 letter}-P1-{from_port:digits}"'
    ends = '[labels.ends]\nfrom_space = "SPACE"\nfrom_unit = "U7"'
    head = 'schema = "urn:sweepbook:label-scheme-0"\nname = "ours"'
    text = f"{head}\n[[labels]]\n{template}\n{ends}\n"
    scheme.write_text(text.replace("SPACE", "{from_floor}{wing}"))
    said = " ".join(run("retests", demo_book, "--label-scheme", scheme).stderr.split())
    assert "The label scheme ours adds nothing to the place of " in said
    assert "it tells space 1A, where schedule or test name TR-1A." in said
    scheme.write_text(text.replace("SPACE", "TR-{from_floor}{wing}"))
    said = " ".join(run("retests", demo_book, "--label-scheme", scheme).stderr.split())
    assert "adds nothing" not in said


def test_what_the_schedule_leaves_open_besides_is_counted(demo_book: Path, tmp_path: Path) -> None:
    """1A-P1-01 passes as a permanent link of category 6A; a link without a test is made up."""
    own = tmp_path / "own.csv"
    good = run("show", demo_book, "1A-P1-01", "--json").stdout
    (tmp_path / "good.json").write_text(good, encoding="utf-8")
    title = "TIA-568.2-D Category 6A"
    own.write_text(f"Label,Limit\n1A-P1-01,{title} Channel\nX-1,{title} Permanent Link\n")
    options = ("--schedule", own)
    reconciled = json.loads(run("reconcile", tmp_path / "good.json", *options, "--json").stdout)
    states = {one["label"]: one["state"] for one in reconciled["links"]}
    assert states == {"1A-P1-01": "other configuration", "X-1": "untested"}
    said = " ".join(run("retests", tmp_path / "good.json", *options).stdout.split())
    besides = "Open besides, by the schedule: 1 other configuration, 1 untested."
    assert f"0 links. {besides} `sweepbook reconcile` lists them." in said
    told = json.loads(run("retests", tmp_path / "good.json", *options, "--json").stdout)
    assert list(Draft202012Validator(json.loads(SCHEMA.read_bytes())).iter_errors(told)) == []
    rest = [(one["label"], one["state"], one["line"]) for one in told["open_besides"]]
    assert rest == [("1A-P1-01", "other configuration", 2), ("X-1", "untested", 3)]
    plain = json.loads(run("retests", tmp_path / "good.json", "--json").stdout)
    assert plain["open_besides"] is None
    assert "Open besides" not in run("retests", tmp_path / "good.json").stdout
    own.write_text(f"Label,Limit\n1A-P1-01,{title} Permanent Link\n")
    assert "Open besides" not in run("retests", tmp_path / "good.json", *options).stdout
    own.write_text(f"Label,Limit\n1A-P1-03,{title} Channel\n")
    listed = run("show", demo_book, "1A-P1-03", "--json").stdout
    (tmp_path / "good.json").write_text(listed, encoding="utf-8")
    failed = run("retests", tmp_path / "good.json", *options).stdout
    assert "1 link." in failed
    assert "Open besides" not in failed
