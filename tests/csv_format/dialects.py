"""Small dialects that the tests change line by line."""

CURVES = """
schema = "urn:sweepbook:dialect-0"
name = "small-curves"
title = "Small, one column a curve"
format = "csv"
[csv]
layout = "curve-per-column"
[csv.curves]
frequency = "MHz"
name = ["{parameter} {pairs}", "{parameter} {pairs} {end}"]
[fields]
link.label = "Link"
test.limit = "Limit"
test.started = "Date"
test.ambient_c = "Temperature"
test.purpose = "Reason"
test.configuration = "Set-up"
test.near.instrument.calibrated_on = "Calibrated"
results.wire_map.pins = "Wires"
results.wire_map.screen = "Screen"
stated.overall = "Result"
[figures]
value = "{parameter} {pairs}"
worst_margin.margin = "Margin {parameter} {pairs} {end}"
worst_margin.frequency = "At {parameter} {pairs} {end}"
worst_value.value = "Worst {parameter} {pairs} {end}"
verdict = "{parameter} result"
[words.parameters]
insertion_loss = "IL"
return_loss = "RL"
next = "NEXT"
fext = "FEXT"
length = "Length"
propagation_delay = "Delay"
wire_map = "Wires"
[words.ends]
near = "A"
far = "B"
[words.verdicts]
pass = "PASS"
fail = "FAIL"
none = "not judged"
[words.purposes]
initial = "first"
[words.configurations]
channel = "CH"
[words.screens]
open = "broken"
[crosstalk]
first = "disturbing"
between = "/"
far_end = "receiving"
[numbers]
missing = ["--"]
at_least = ">{}"
[wire_map]
open = ["x"]
"""

POINTS = """
schema = "urn:sweepbook:dialect-0"
name = "small-points"
title = "Small, one row a point"
format = "csv"
[csv]
layout = "point-per-row"
delimiter = ";"
[csv.rows]
test = "Test"
[csv.rows.point]
name = { What = "{parameter}", Pair = "{pairs}", End = "{end}" }
frequency = "MHz"
value = "dB"
[[csv.rows.figures]]
name = { What = "{parameter}", Pair = "{pairs}" }
value = "dB"
[csv.rows.property]
key = "What"
value = "Text"
[fields]
link.label = "Link"
stated.overall = "Result"
[words.parameters]
insertion_loss = "IL"
return_loss = "RL"
next = "NEXT"
length = "Length"
[words.ends]
near = "A"
far = "B"
[words.verdicts]
pass = "PASS"
[crosstalk]
first = "disturbing"
between = "/"
[numbers]
missing = ["--"]
"""

CURVE_ROWS = """
schema = "urn:sweepbook:dialect-0"
name = "small-rows"
title = "Small, one row a curve"
format = "csv"
[csv]
layout = "curve-per-row"
delimiter = ";"
[csv.rows]
test = "Test"
[csv.rows.curve]
name = { What = "{parameter}", Pair = "{pairs}", End = "{end}" }
values = "{frequency}"
[fields]
link.label = "Test"
[words.parameters]
insertion_loss = "IL"
"""

FIGURES = """
schema = "urn:sweepbook:dialect-0"
name = "figures"
title = "Small, single figures under a heading"
format = "csv"
[csv]
layout = "sections"
delimiter = ";"
[[csv.sections]]
heading = "[Figures]"
[[csv.sections.rows.figures]]
name = { Pair = "{pairs}" }
value = "{parameter} ({unit})"
[fields]
link.label = "Link"
[words.parameters]
length = "Length"
dc_loop_resistance = "Loop"
"""

LEAST = """
schema = "urn:sweepbook:dialect-0"
name = "least"
title = "Small, as short as can be"
format = "csv"
[csv]
layout = "curve-per-column"
delimiter = ";"
[csv.curves]
frequency = "MHz"
name = "{parameter} {pairs}"
[fields]
link.label = "Link"
[words.parameters]
insertion_loss = "IL"
"""


def changed(dialect: str, old: str, new: str) -> str:
    """A dialect with one text replaced, which must be there."""
    assert dialect.count(old) == 1, f"{old!r} is there {dialect.count(old)} times"
    return dialect.replace(old, new)
