"""The coach reads what is kept, where and until when, from the database as it is."""

import csv
import io

from bot.words.privacy.register import TABLES
from storage.tables.kept_data import PERSONAL
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import make_squad


async def test_the_coach_reads_what_is_kept_and_until_when(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    said = await asking.message(button(await asking.message("people.panel"), "What is kept").key)
    assert "60 days after the announcement" in said.text
    assert "**Names**: " in said.text and "students (3)" in said.text
    assert "Not described yet" not in said.text
    (file,) = [one for one in said.files if one.name == "what-is-kept.csv"]
    rows = list(csv.DictReader(io.StringIO(file.data.decode("utf-8-sig"))))
    assert {f"{row['table']}.{row['column']}" for row in rows} == set(PERSONAL)
    assert {row["rows now"] for row in rows if row["column"] == "name" and row["table"] == "student"} == {"3"}


def test_every_table_has_a_name_that_people_know() -> None:
    assert {name.split(".")[0] for name in PERSONAL} == set(TABLES)
