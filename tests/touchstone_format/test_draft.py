"""Drafts of dialects for Touchstone: the port map out of the data, the texts out of comments."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest
import skrf

from sweepbook.draft.document import ASSUMED, UNTOLD
from tests.program import run

from .making import BALANCED, SINGLE, losses, model, network, read, single_ended, text, values

KHZ = [1_000, 1_150, 1_300, 10_000, 100_000, 250_000]
SIX = {"format_spec_A": "{:.7f}", "format_spec_B": "{:.7f}"}
IN_TURN_16 = [at for pair in range(8) for at in (pair, 8 + pair)]


@pytest.fixture(scope="module")
def link() -> skrf.Network:
    return model(KHZ)


def draft(*paths: Path) -> str:
    result = run("dialect", "draft", *paths)
    assert result.exit_code == 0, result.output
    return result.stdout


def written(folder: Path, name: str, net: skrf.Network, comments: str = "") -> Path:
    path = folder / name
    head = comments or "! Wenlock port box\n! Link: A-17\n! Limit: Cat 6A PL\n"
    path.write_text(text(net, comments=head, skrf_comment=False, **SIX))
    return path


@pytest.mark.parametrize("order", [list(range(16)), IN_TURN_16])
def test_a_draft_of_single_ended_ports_reads_the_link(
    order: Sequence[int], link: skrf.Network, tmp_path: Path
) -> None:
    path = written(tmp_path, "x.s16p", single_ended(link).subnetwork(list(order)))
    drafted = draft(path)
    assert UNTOLD not in drafted.split("[fields]")[0].split("touchstone", 1)[1]
    document = read(tmp_path, path.name, path.read_text(), drafted).document
    known = read(
        tmp_path, "y.s16p", written(tmp_path, "y.s16p", single_ended(link)).read_text(), SINGLE
    ).document
    assert len(document["results"]["sweeps"]) == 52
    for sweep in document["results"]["sweeps"]:
        name = (sweep["parameter"], sweep["end"], *sweep["pairs"])
        theirs = losses(values(known, *name))
        assert losses(values(document, *name)) == pytest.approx(theirs, abs=1e-2), name


def test_a_draft_of_balanced_ports_reads_the_link(link: skrf.Network, tmp_path: Path) -> None:
    path = written(tmp_path, "x.s8p", link)
    drafted = draft(path)
    assert 'signature = "Wenlock port box"' in drafted
    document = read(tmp_path, path.name, path.read_text(), drafted).document
    known = read(tmp_path, path.name, path.read_text(), BALANCED).document
    assert (
        document["results"]["sweeps"][5]["complex"]["s_parameter"]
        == (known["results"]["sweeps"][5]["complex"]["s_parameter"])
    )
    tried = run("dialect", "try", file(tmp_path, drafted), path)
    assert "note: no propagation delay" in tried.output.replace("\n", " ").lower()
    assert "draft.toml, [touchstone]: Propagation delay" in tried.output.replace("\n ", "")


def file(folder: Path, dialect: str) -> Path:
    path = folder / "draft.toml"
    path.write_text(dialect)
    return path


def test_what_the_data_cannot_tell_is_said(link: skrf.Network, tmp_path: Path) -> None:
    mixed_up = [0, 1, 2, 3, 4, 5, 6, 7]
    mixed_up[0], mixed_up[4], mixed_up[6] = 4, 6, 0
    drafted = draft(written(tmp_path, "x.s8p", link.subnetwork(mixed_up)))
    assert f"{UNTOLD}: which end each port is at" in drafted.replace("\n# ", " ")
    dead = network(link.f / 1e6, np.full((len(KHZ), 8, 8), 1e-3 + 0j), 100.0)
    drafted = draft(written(tmp_path, "x.s8p", dead))
    assert f"{UNTOLD}: the data do not show which of the 8 ports are connected" in drafted


def test_an_impedance_that_balanced_ports_can_hardly_have_is_asked_for(
    link: skrf.Network, tmp_path: Path
) -> None:
    path = written(tmp_path, "x.s8p", link)
    path.write_text(path.read_text().replace("R 100.0", "R 50"))
    drafted = draft(path)
    assert "reference_ohm = 100" in drafted
    assert f"{UNTOLD}: balanced ports, of which the file says 50 ohm" in drafted


def test_the_name_of_the_file_is_the_label_where_no_comment_is(
    link: skrf.Network, tmp_path: Path
) -> None:
    comments = "! Date = 2026-03-04 14:22\n! Operator = op-4\n"
    paths = [written(tmp_path, f"B-{n}.s8p", link, comments) for n in (1, 2)]
    drafted = draft(*paths)
    assert 'separator = "="' in drafted
    assert 'file_name = "{label:characters}"' in drafted
    assert f"{ASSUMED}: no comment reads as a label" in drafted
    document = read(tmp_path, paths[1].name, paths[1].read_text(), drafted).document
    assert document["link"]["label"] == "B-2"
    assert document["test"]["operator"] == "op-4"
    assert document["test"]["started"]["rfc3339"] == "2026-03-04T14:22:00-00:00"


def test_files_that_are_not_of_one_kind_and_files_that_are_broken(
    link: skrf.Network, tmp_path: Path
) -> None:
    one, two = (
        written(tmp_path, "x.s8p", link),
        written(tmp_path, "x.s2p", link.subnetwork([0, 4])),
    )
    result = run("dialect", "draft", one, two)
    assert result.exit_code == 3
    assert "different numbers of ports: x.s8p 8, x.s2p 2" in result.output
    lines = one.read_text().splitlines()
    one.write_text("\n".join(lines[:50]))
    result = run("dialect", "draft", one)
    assert result.exit_code == 3
    assert "the file ends, and the frequency on line" in result.output
    assert "Traceback" not in result.output
