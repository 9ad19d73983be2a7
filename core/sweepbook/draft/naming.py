"""How an export names its curves: the words that stand in names, gathered from texts."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from sweepbook.draft import phrases
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.document import PARAMETER
