"""The coach reads what is kept, where and until when, from the database as it is."""

import csv
import io

from bot.words.core.number_text import in_words
from bot.words.privacy.kept_data import TABLES
from storage.backup_rotation import WEEKLY
from storage.records.message import Message
from storage.records.scores import Absence
from storage.tables import absences, helpers, squads, students, tryouts
from storage.tables.kept_data import PERSONAL
from tests.actions.conftest import SERVER, START, Begin, button, small_plan
from tests.actions.office_cast import make_squad


async def test_the_coach_reads_what_is_kept_and_until_when(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    said = await asking.message(button(await asking.message("people.panel"), "What is kept").key)
    assert "60 days after the announcement" in said.text
    assert "**Names**: " in said.text and "students (3)" in said.text
    assert "Not described yet" not in said.text
    assert f"Backups forget within {in_words(WEEKLY)} weeks" in said.text
    (file,) = [one for one in said.files if one.name == "what-is-kept.csv"]
    rows = list(csv.DictReader(io.StringIO(file.data.decode("utf-8-sig"))))
    assert {f"{row['table']}.{row['column']}" for row in rows} == set(PERSONAL)
    assert {row["rows now"] for row in rows if row["column"] == "name" and row["table"] == "student"} == {"3"}


def test_every_table_has_a_name_that_people_know() -> None:
    assert {name.split(".")[0] for name in PERSONAL} == set(TABLES)


def rows_of(message: Message) -> list[dict[str, str]]:
    """The lines of the file, but for the answers of the last days, which are of no try-out."""
    (file,) = [one for one in message.files if one.name == "what-is-kept.csv"]
    rows = csv.DictReader(io.StringIO(file.data.decode("utf-8-sig")))
    return [row for row in rows if row["table"] != "processed_interaction"]


async def test_people_of_another_class_server_are_not_counted(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    before = rows_of(await asking.message("privacy.kept"))
    async with asking.store.write() as db:
        other = await tryouts.create(db, SERVER + 1, small_plan(), START)
        await helpers.add_officer(db, other, 903, "Another coach", "coach")
        await students.enter_student(db, other, 901, "A stranger", "7-A")
        squad = await squads.add_squad(db, other, "Muddy Teapots", ("m", "m", "m"), "7-A", "BCDHJ", START)
        await absences.set_absence(db, Absence(squad_id=squad, event="run", excused=True, reason="A fair"))
    assert rows_of(await asking.message("privacy.kept")) == before
