"""Two people at the same instant on the same thing, and buttons of an earlier try-out: one thing is done, once."""

import asyncio

from bot.actions.core.dispatch import ACTIONS, perform
from bot.rules.squads.names import name_keys
from storage.records.message import Message
from storage.records.plan import Practice
from storage.tables import helpers, squads, tryouts
from storage.tables.sql_session import Snapshot, stamp
from tests.actions.conftest import COACH, SERVER, START, Asking, Begin, button, small_plan
from tests.actions.core.test_role_matrix import PEOPLE, asked, scene
from tests.actions.hand_in_cast import handing_in
from tests.actions.judging_cast import ADA, cast
from tests.actions.office_cast import make_squad
from tests.actions.results.test_place_offers import announced, captain_of, offer
from tests.actions.scored import whole

SECOND = 101
"""A second coach, or a second scorekeeper."""
Press = tuple[str, int, dict[str, str]]
"""A key, who presses, and what is typed."""
WHOLE = {"reasons": 3, "theme": 2}


async def both(asking: Asking, *presses: Press) -> list[str]:
    """What each of these people is told, who all press at once."""
    told = await asyncio.gather(*(asking.message(key, who, fields=fields) for key, who, fields in presses))
    return [one.text for one in told]


async def with_coach(asking: Asking) -> None:
    async with asking.store.write() as db:
        await helpers.add_officer(db, 1, SECOND, "Ms Holloway", "coach")


async def test_of_two_scorekeepers_on_one_run_the_later_one_reads_what_is_on_record(begin: Begin) -> None:
    asking, ids = await whole(begin, state="judging")
    await with_coach(asking)
    await asking.ask("table.undone:1:slip")
    saves: list[Press] = []
    for who, socks in ((COACH, "3"), (SECOND, "5")):
        form = await asking.form(f"table.form:run.socks:{ids[0]}:1", who)
        read = await asking.message(form.key, who, fields={"item-sock": socks, "deductions": "0"})
        saves.append((button(read, "Save").key, who, {}))
    told = await both(asking, *saves)
    assert sorted(one.startswith("Saved.") for one in told) == [False, True]
    assert any("is on record already" in one for one in told)
    async with asking.store.read() as db:
        sql = "SELECT count(*) FROM attempt WHERE squad_id = ? AND event = 'run' AND undone_at IS NULL"
        assert await db.value(sql, ids[0]) == 1


async def test_two_coaches_who_announce_at_once_announce_once(begin: Begin) -> None:
    asking, ids = await whole(begin)
    await with_coach(asking)
    key = button(await asking.message("results.announce"), "Announce now").key
    told = await both(asking, (key, COACH, {}), (key, SECOND, {}))
    assert sorted("Nothing was said twice" in one for one in told) == [False, True]
    assert len(await asking.messages_to("news")) == 1
    assert len(await asking.messages_to(f"squad/{ids[0]}")) == 1


async def test_a_place_is_not_accepted_and_taken_back_at_once(begin: Begin) -> None:
    asking, ids = await announced(begin, protest_days=0)
    made = await offer(asking, ids[0])
    captain = await captain_of(asking, ids[0])
    answers: list[Press] = [(f"offer.{one}:{made}", captain, {}) for one in ("accepted", "declined")]
    told = await both(asking, *answers, (f"offer.lapsed:{made}", COACH, {}))
    assert sum("settled already" in one for one in told) >= 1
    async with asking.store.read() as db:
        assert await db.value("SELECT state FROM offer") in ("accepted", "declined", "lapsed")
        assert await db.value("SELECT count(*) FROM audit_log WHERE action LIKE 'offer.%'") == 2, "made, and settled"


async def test_a_captain_who_leaves_renames_nothing_at_the_same_instant(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    form = await asking.form("squad.rename", 1)
    leave = button(await asking.message("squad.leave", 1), "Yes, leave").key
    told = await both(asking, (leave, 1, {}), (form.key, 1, {"squad": "Left Feet"}))
    assert "You have left" in told[0] and "not in a squad" in told[1]
    assert "Student 2 (captain)" in (await asking.message("squad.mine", 2)).text


async def test_marks_that_arrive_as_judging_closes_count_or_are_given_back(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    form = await found.asking.form(f"sheets.mark:{sheet.id}", ADA, server_id=None)

    async def save() -> Message:
        return await found.submit(ADA, form, WHOLE)

    told, _ = await asyncio.gather(save(), found.asking.message("judging.closed"))
    now = await found.sheet(ADA, "Crooked Spoons")
    assert (now.state == "submitted") is ("closed" not in told.text)


async def rows_of_first(db: Snapshot) -> dict[str, list[tuple[object, ...]]]:
    """Every row of the first try-out; of a table that says no try-out, all."""
    found = {}
    tables = await db.rows("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    for (table,) in tables:
        columns = {row["name"] for row in await db.rows(f"SELECT name FROM pragma_table_info('{table}')")}
        if table in ("audit_log", "processed_interaction"):
            continue
        ours = "tryout_id = 1" if "tryout_id" in columns else "id = 1" if table == "tryout" else "TRUE"
        found[table] = [tuple(row) for row in await db.rows(f"SELECT * FROM {table} WHERE {ours}")]
    return found


async def test_no_button_of_an_earlier_try_out_changes_or_shows_anything_of_it(nobody: Asking) -> None:
    store = nobody.store
    async with store.write() as db:
        found = await scene(db) | {"at": START}
        await db.run("UPDATE tryout SET state = 'archived', announced_at = ? WHERE id = 1", stamp(START))
        plan = small_plan(practice=Practice(times=("07:50",), minutes=20), **handing_in())  # type: ignore[arg-type]
        second = await tryouts.create(db, SERVER, plan, START)
        await helpers.add_officer(db, second, PEOPLE["coach"], "Coach", "coach")
        await squads.add_squad(db, second, "Quiet Forks", name_keys("Quiet Forks"), "7-A", "CODEX", START)
        await db.run("UPDATE tryout SET state = 'window', brief_at = ? WHERE id = ?", stamp(START), second)
        before = await rows_of_first(db)
    shown = []
    for number, action in enumerate(ACTIONS.values()):
        if action.key.partition(".")[0] == "earlier":
            continue
        request = asked(action, "coach", found, in_server=True).model_copy(update={"id": 10_000 + number})
        answer = await perform(store, action, request)
        text = answer.model_dump_json(exclude={"message": {"files"}})
        shown += [(action.key, name) for name in ("Crooked Spoons", "Muddy Teapots", "swap wheels") if name in text]
    async with store.read() as db:
        after = await rows_of_first(db)
    assert shown == []
    lost = [(table, row) for table, rows in before.items() for row in rows if row not in after[table]]
    assert lost == [] and len(after["squad"]) == len(before["squad"])
