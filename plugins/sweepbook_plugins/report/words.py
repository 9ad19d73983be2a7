"""What the page says of itself, as data."""

from sweepbook import caution

JUDGES = (
    "This page judges data; it does not authorise work and is no acceptance. Local codes, the "
    "contract and licensed practice come first."
)
ON_LINKS = caution.ON_LINKS
ON_TESTERS = caution.ON_TESTERS
CAUTIONS = (
    ("Live circuits", "A link may carry service: know that it carries none before it is opened."),
    ("Remote power", "Power may be fed over the pairs: off at the source before a link is opened."),
    ("Telephone", "Idle lines carry tens of volts and ringing carries more: keep hands off."),
    ("Light", "Never look into a fibre or a port, whatever the plan says that it carries."),
    ("Screens", "Never lift a screen or break a bond to better a result."),
)
JUDGEMENTS = (
    ("upheld", "The sweeps prove what was stated, a pass or a fail."),
    ("overturned", "The sweeps prove the opposite of what was stated."),
    ("unproven", "The sweeps prove neither: something required is missing or too near to tell."),
    ("unstated", "The source stated no verdict; see what the sweeps say."),
)
STATES = {
    "fail": "the sweeps of the last test prove a fail",
    "overturned": "the last test states what its sweeps disprove",
    "unproven": "the last test proves neither pass nor fail",
    "marginal": "a proved pass so near its limit that the quality plan asks for another test",
    "passed": "its tests are proved passes",
    "passed on retest": "an earlier test was none, the last is a proved pass",
    "kept, not judged": "a kind of record that is kept and not judged",
}
LET_STAND = (
    "These would be open by the schedule, had nobody accepted where they stand. One whose last "
    "test is no proved pass has to be tested again all the same."
)
TWO_COUNTS = (
    "The two counts ask different questions. By the schedule a link has failed where its sweeps "
    "prove a fail, an overturned pass among them; and a link whose tests pass has not passed where "
    "it was tested to another limit or configuration than asked for, or is not on the schedule."
)
READING = (
    (
        "Margin",
        "Positive is better than the limit. Each row shows the curve of its parameter that is "
        "nearest to failing; the worst value, the smallest loss or the largest insertion loss, may "
        "lie at another frequency.",
    ),
    (
        "Pairs and ends",
        "Pairs by pins. Crosstalk from the disturbing to the disturbed pair. The end is where the "
        "value was measured; of far-end crosstalk where the disturbed pair is received.",
    ),
    (
        "For information",
        "Points that a rule of the standard leaves out of the verdict; they are drawn dotted.",
    ),
    (
        "Plots",
        "The curve that is worst, or nearest to its limit, stands out in blue; the limit is "
        "dashed; a ring marks the worst margin of it and of each curve that fails. A hole in a "
        "curve is a gap in the sweep. Of each curve the least and the largest value of each of "
        "many steps of the frequency axis are drawn, so every peak is there, and every worst "
        "point; what lies between them in a step is not. Margins rest on all points.",
    ),
    ("Stated", "What the source said itself; it stands beside what was recomputed, unchanged."),
    ("Colours", "A tint or a colour repeats a word or a mark and says nothing of its own."),
)
GRADES = (
    ("A", "A public text shows the limit."),
    ("B", "Recalled, of the standards' usual structure, agreeing with recalled values."),
    ("C", "Recalled and not cross-checked; used within a known interval, or on request."),
)
ALL_READ = "Every test in the sources was read."
NO_SCHEDULE = (
    "No cable schedule was given, so nothing here says whether every link was tested, or to the "
    "limit that was ordered. Below is what the tests themselves name."
)
NO_TABLE = "No test was judged under a limit table."
HINTS = "Where to look first is a hint by common practice: sweeps tell end and pairs, no distance."
