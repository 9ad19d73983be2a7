"""Filling the workbook: all sheets at once, the summary first of them and written last."""

from typing import TYPE_CHECKING, Any

from sweepbook_plugins.xlsx import summary
from sweepbook_plugins.xlsx.about import write_about
from sweepbook_plugins.xlsx.columns import COLUMNS, dictionary
from sweepbook_plugins.xlsx.filling import fill as fill_tables
from sweepbook_plugins.xlsx.layout import Layout
from sweepbook_plugins.xlsx.styles import Styles
from sweepbook_plugins.xlsx.sweeps import Chosen
from sweepbook_plugins.xlsx.table import MOST_ROWS, Table

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
    begun: list[Layout[Any]] = []

    def begin(layout: Layout[Any]) -> Table[Any]:
        begun.append(layout)
        return Table(workbook, styles, layout, most_rows)

    chosen = Chosen(delivery)
    totals = fill_tables(delivery, begin, chosen.see)
    summary.write_summary(first, styles, delivery, totals)
    chosen.write(workbook, styles)
    columns = Table(workbook, styles, COLUMNS, most_rows)
    columns.add(dictionary(begun))
    columns.close()
    write_about(workbook, styles, delivery)
    delivery.remarks.extend(chosen.remarks())
