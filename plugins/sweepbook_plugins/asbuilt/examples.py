"""Questions of the dictionary about one link, unit or reel: named after what a database holds."""

from dataclasses import replace
from typing import TYPE_CHECKING

from sweepbook.text import natural_key

if TYPE_CHECKING:
    import sqlalchemy as sa

    from sweepbook_plugins.asbuilt.schema import Question, Schema


def fitted(connection: "sa.Connection", schema: "Schema") -> "Schema":
    """Let the questions in the dictionary of a database name what is in it.

    Args:
        connection: in the transaction that wrote the rest.
        schema: with the questions as they come with the program.

    Returns:
        The schema with the questions as the dictionary has them now.
    """
    import sqlalchemy as sa

    questions = tuple(_fitted(connection, one) for one in schema.questions)
    change = sa.text(
        "UPDATE column_dictionary SET meaning = :asks, sql = :sql "
        "WHERE table_name = :question AND column_name = '' AND kind = 'question'"
    )
    rows = [{"question": q.question, "asks": q.asks, "sql": q.sql} for q in questions if q.example]
    if rows:
        connection.execute(change, rows)
    return replace(schema, questions=questions)


def _fitted(connection: "sa.Connection", question: "Question") -> "Question":
    """A question about a name that is there, one that finds something before one that does not."""
    if not question.example:
        return question
    found = {row[0]: int(row[1] or 0) for row in connection.exec_driver_sql(question.examples)}
    finding = {name: count for name, count in found.items() if count} or found
    if not finding or question.example in finding:
        return question
    most = max(finding.values())
    name = min((one for one in finding if finding[one] == most), key=lambda n: (natural_key(n), n))
    quoted = name.replace("'", "''")
    return replace(
        question,
        asks=question.asks.replace(question.example, name),
        sql=question.sql.replace(f"'{question.example}'", f"'{quoted}'"),
    )
