"""Filling the workbook: all sheets at once, the summary first of them and written last."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from sweepbook_plugins.xlsx import summary
from sweepbook_plugins.xlsx.about import write_about
from sweepbook_plugins.xlsx.columns import COLUMNS, dictionary
from sweepbook_plugins.xlsx.filling import fill as fill_tables
from sweepbook_plugins.xlsx.layout import Layout
from sweepbook_plugins.xlsx.margins import MARGINS
from sweepbook_plugins.xlsx.styles import Styles
from sweepbook_plugins.xlsx.sweeps import Chosen
from sweepbook_plugins.xlsx.table import MOST_ROWS, Table
from sweepbook_plugins.xlsx.workbook import OPTION

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery


def fill(workbook: Any, delivery: "Delivery", most_rows: int = MOST_ROWS) -> None:  # noqa: ANN401
    """Write every sheet.

    Args:
        workbook: xlsxwriter's, in constant memory; it ships no types.
        delivery: walked once.
        most_rows: rows of a sheet, the header's included; what is over goes on a further sheet.
    """
    styles = Styles(workbook)
    first = workbook.add_worksheet(summary.NAME)
    tables: dict[Layout, Table] = {}

    def begin(layout: Layout) -> Table:
        tables[layout] = Table(workbook, styles, layout, most_rows)
        return tables[layout]

    asked = tuple(filter(None, delivery.asked.get(OPTION, "").split("\n")))
    chosen = Chosen(asked)
    totals = fill_tables(delivery, begin, asked, chosen.see)
    more = {table.name: table.sheets for table in tables.values() if table.sheets > 1}
    summary.write_summary(first, styles, delivery, totals, more)
    chosen.write(workbook, styles)
    columns = Table(workbook, styles, COLUMNS, most_rows)
    columns.add(dictionary(tables))
    columns.close()
    write_about(workbook, styles, delivery)
    delivery.remarks.extend(chosen.remarks())
    delivery.remarks.extend(_remarks(more))


def _remarks(more: dict[str, int]) -> Iterator[str]:
    """What to know of tables that take more than one sheet."""
    for name, sheets in more.items():
        yield f"{name} has more rows than a sheet takes: {summary.goes_on(name, sheets)}"
        if name == MARGINS.name:
            yield "--margins worst writes a row a parameter and link instead, --margins none none."
