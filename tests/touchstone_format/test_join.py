"""What S-parameters cannot say, a verdict and the wire map, comes from a table beside them."""

from pathlib import Path

from sweepbook import registry
from sweepbook.dialect.load import load
from sweepbook.errors import ReadProblem
from sweepbook.formats import ReadSetting
from sweepbook.judging.assessment import Judgement
from sweepbook.reading import Pipeline
from sweepbook.record import validate
from sweepbook.record.model import Record
from sweepbook_demo.plan import permanent_link
from tests.reading import LIBRARY

from .making import BALANCED, model, text
from .test_model import judged

BESIDE = """
[join]
file = "{}.s8p"
other = "{}.csv"
format = "csv"
[join.csv]
layout = "test-per-row"
rows.test = "Nr"
[[join.csv.rows.figures]]
value = "{parameter} {pairs} ({unit})"
"""
MORE = """
stated.overall = "Outcome"
results.wire_map.pins = "Wires"
[words.verdicts]
pass = "good"
[words.parameters]
length = "Length"
dc_loop_resistance = "Loop"
"""
HEAD = "Nr,Link,Limit,Outcome,Wires"
ROW = "1,A-17,Cat 6A PL,good,1-1 2-2 3-3 4-4 5-5 6-6 7-7 8-8"


def test_a_table_beside_it_makes_a_whole_test(tmp_path: Path) -> None:
    dialect = BALANCED.replace("\n[limits]", f"{MORE}[limits]") + BESIDE
    (tmp_path / "d.toml").write_text(dialect)
    link = model(pieces=permanent_link(42.0))
    digits = {"format_spec_A": "{:.7f}", "format_spec_B": "{:.7f}"}
    (tmp_path / "A-17.s8p").write_text(text(link, comments="", **digits))
    lengths = {"1-2": "42.4", "3-6": "42.9", "4-5": "42.2", "7-8": "42.7"}
    titles = [f"Length {pair} (m)" for pair in lengths] + [f"Loop {pair} (ohm)" for pair in lengths]
    cells = [*lengths.values(), "6.1", "6.2", "6.1", "6.2"]
    table = f"{','.join([HEAD, *titles])}\n{','.join([ROW, *cells])}\n"
    (tmp_path / "A-17.csv").write_text(table)
    loaded = registry.load([])
    chosen = load(tmp_path / "d.toml", loaded.formats)
    setting = ReadSetting(LIBRARY, {chosen.name: chosen}, chosen)
    items = list(Pipeline(loaded, setting).read_all([tmp_path / "A-17.s8p"]))
    assert [item.message for item in items if isinstance(item, ReadProblem)] == []
    (record,) = [item for item in items if isinstance(item, Record)]
    assert validate.problems(record.document) == ()
    (origin,) = record.document["origin"]
    assert [origin["name"], *(one["name"] for one in origin["joined"])] == ["A-17.s8p", "A-17.csv"]
    assessment = judged(record)
    assert assessment.judgement is Judgement.UPHELD, assessment.reason
    assert assessment.stated == "pass"
    assert {margin.parameter for margin in assessment.margins} >= {"acr_f", "psnext"}
