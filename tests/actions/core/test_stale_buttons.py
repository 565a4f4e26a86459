"""Buttons, lists and forms from before something went, or of an earlier try-out: they act on nothing else."""

from datetime import timedelta

from bot.actions.core.dispatch import ACTIONS, perform
from bot.rules.squads.names import name_keys
from storage.records.message import Message, Select
from storage.records.plan import Practice
from storage.records.request import Upload
from storage.tables import helpers, place_offers, score_sheets, squads, tryouts
from storage.tables.sql_session import Snapshot, stamp
from tests.actions.conftest import COACH, SERVER, START, Asking, Begin, button, small_plan
from tests.actions.core.test_role_matrix import PEOPLE, asked, scene
from tests.actions.event_day.day_cast import made, slots
from tests.actions.hand_in_cast import handing_in
from tests.actions.judging_cast import ADA, BEN, CY, cast
from tests.actions.office_cast import make_squad
from tests.actions.scored import whole


async def attach(asking: Asking, data: bytes) -> None:
    upload = Upload(name="class.csv", data=data, size=len(data))
    said = await asking.message("class-list.use", uploads={"list": upload})
    assert "The list is in" in said.text


def selects(message: Message) -> list[Select]:
    return [row for row in message.rows if isinstance(row, Select)]


async def names(asking: Asking) -> list[str]:
    async with asking.store.read() as db:
        return [row["name"] for row in await db.rows("SELECT name FROM student ORDER BY id")]


async def test_a_name_that_was_picked_from_an_older_list_makes_nobody_somebody_else(begin: Begin) -> None:
    asking = await begin()
    await attach(asking, b"name,section\nAda B,7-A\nBo C,7-A\n")
    listed = await asking.message("class-list.section", 1, values=("0",))
    (select,) = selects(listed)
    ada = next(one.value for one in select.choices if one.label == "Ada B")
    await attach(asking, b"name,section\nZoe A,7-A\nAda B,7-A\nBo C,7-A\n")
    said = await asking.message(select.key, 1, values=(ada,))
    assert await names(asking) == []
    assert "Zoe" not in said.text


async def test_who_is_let_in_is_the_one_whom_the_coach_has_read_about(begin: Begin) -> None:
    asking = await begin()
    await attach(asking, b"name,section\nAda B,7-A\n")
    await asking.ask("class-list.asked", 5, fields={"name": "Mallory", "section": "7-A"})
    page = await asking.message("class-list.waits:1")
    await asking.ask("class-list.turn-away:1")
    await asking.ask("class-list.asked", 6, fields={"name": "Trudy", "section": "7-A"})
    keys = [one.key for row in page.rows if isinstance(row, tuple) for one in row]
    await asking.ask(next(one for one in keys if one.startswith("class-list.let-in")))
    assert await names(asking) == []


async def test_whoever_signs_up_after_somebody_was_erased_is_not_erased_in_their_place(begin: Begin) -> None:
    asking = await begin()
    await asking.ask("student.enter:list", 1, fields={"name": "Ida Quill", "section": "7-A"})
    sure = await asking.message("people.forget:1")
    yes = next(one for row in sure.rows if isinstance(row, tuple) for one in row if one.style == "danger")
    await asking.ask(yes.key)
    await asking.ask("student.enter:list", 2, fields={"name": "Bo Ferris", "section": "7-A"})
    await asking.ask(yes.key)
    assert await names(asking) == ["Bo Ferris"]


async def test_an_offer_that_was_taken_back_is_not_answered_by_its_old_button(begin: Begin) -> None:
    asking, squad_ids = await whole(begin)
    first = await offer(asking, squad_ids[0], "a place for two")
    await asking.ask("results.taken-back", fields={"reason": "a protest was right"})
    await offer(asking, squad_ids[0], "a place for three")
    await asking.ask(f"offer.accepted:{first}", COACH)
    async with asking.store.read() as db:
        (second,) = await place_offers.offers(db, 1)
    assert (second.what, second.state) == ("a place for three", "open")


async def offer(asking: Asking, squad: int, what: str) -> int:
    """Announce, and offer the place."""
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    await asking.ask(f"offer.made:{squad}", fields={"what": what, "days": "3"})
    async with asking.store.read() as db:
        return (await place_offers.offers(db, 1))[-1].id


async def test_a_form_for_a_sheet_that_was_taken_away_marks_no_other_squad_and_is_given_back(begin: Begin) -> None:
    found = await cast(begin, people=(ADA,))
    await found.open()
    asking, judge = found.asking, await found.judge(ADA)
    last = max(await found.sheets(ADA), key=lambda one: one.id)
    form = await asking.form(f"sheets.mark:{last.id}", ADA, server_id=None)
    async with asking.store.write() as db:
        await score_sheets.drop_untouched(db, last.id)
        late = await squads.add_squad(db, 1, "Late Lemons", name_keys("Late Lemons"), "7-A", "LATE1", asking.now)
        await score_sheets.add_sheets(db, [(judge.id, late, last.event, last.measure, 9)])
    fields = {"level-reasons": "3", "level-theme": "2", "note-sheet": "Well sewn."}
    said = await asking.message(form.key, ADA, server_id=None, fields=fields)
    assert [one.marks for one in await found.sheets(ADA) if one.marks] == []
    assert "no longer yours to mark. You had entered: Written reasons 3 and Fits the theme 2." in said.text
    assert "> Well sewn." in said.text


async def test_nobody_agrees_to_another_squad_than_the_one_that_was_proposed(begin: Begin) -> None:
    asking = await begin()
    spoons = await make_squad(asking, 11, 2, "Crooked Spoons")
    teapots = await make_squad(asking, 21, 2, "Muddy Teapots")
    await asking.ask("student.enter:list", 1, fields={"name": "Ida Quill", "section": "7-A"})
    async with asking.store.read() as db:
        ida = await db.value("SELECT id FROM student WHERE platform_id = 1")
    await asking.ask("proposal.look")
    draft = await asking.message(f"proposal.changed:{ida}", values=(f"squad-{spoons}",))
    await asking.ask(button(draft, "Accept: students may answer").key)
    read = await asking.message("squad.mine", 1)
    assert "a place in **Crooked Spoons**" in read.text
    await asking.ask(f"proposal.changed:{ida}", values=(f"squad-{teapots}",))
    again = await asking.message(button(read, "Yes, I agree").key, 1)
    assert "so your press did nothing" in again.text and "a place in **Muddy Teapots**" in again.text
    assert "You are in **Muddy Teapots**" in (await asking.message(button(again, "Yes, I agree").key, 1)).text


async def test_a_coach_accepts_no_other_proposal_than_the_one_that_was_read(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 11, 2, "Crooked Spoons")
    await asking.ask("people.entered", fields={"name": "Shy One", "section": "7-A"})
    await asking.ask("proposal.look")
    page = await asking.message("proposal.show")
    shy = next(one.value for row in page.rows if isinstance(row, Select) for one in row.choices)
    await asking.ask(f"proposal.changed:{shy}", values=("none",))
    again = await asking.message(button(page, "Accept: students may answer").key)
    assert "Nothing is done yet" in again.text and "only a draft" in again.text
    await asking.ask(f"proposal.changed:{shy}", values=(f"squad-{squad}",))
    page = await asking.message("proposal.show")
    assert "Nobody needs to be asked" in (await asking.message(button(page, "Accept: students may answer").key)).text


async def test_a_wish_is_not_lost_by_a_list_in_which_it_did_not_stand(begin: Begin) -> None:
    asking = await begin()
    for who in range(1, 29):
        await asking.ask("student.enter:list", who, fields={"name": f"Kit {who:02}", "section": "7-A"})
    first = await asking.message("wish.page:0", 1)
    await asking.ask(selects(first)[0].key, 1, values=(selects(first)[0].choices[-1].value,))
    second = await asking.message("wish.page:1", 1)
    await asking.ask("student.enter:list", 50, fields={"name": "Abe", "section": "7-A"})
    said = await asking.message(selects(second)[0].key, 1, values=())
    assert "nothing was set" in said.text and "With: Kit 26" in said.text


async def test_a_yes_is_not_noted_under_another_column(begin: Begin) -> None:
    asking = await begin()
    await attach(asking, b"name,section,form back,photos\nAda B,7-A,no,no\n")
    await asking.ask("class-list.enter", values=("1",))
    page = await asking.message("people.student", values=("1",))
    await attach(asking, b"name,section,photos,form back\nAda B,7-A,no,no\n")
    await asking.ask(selects(page)[-1].key, values=("0",))
    async with asking.store.read() as db:
        assert "true" not in await db.value("SELECT answers_json FROM class_list_entry")


async def test_what_another_coach_has_set_for_a_squad_is_not_undone_by_an_older_list(begin: Begin) -> None:
    found = await cast(begin, people=(ADA, BEN, CY))
    asking = found.asking
    await asking.ask("panels.size:bunting:bunting", values=("2",))
    one, two, three = [str((await found.judge(who)).id) for who in (ADA, BEN, CY)]
    opened = await asking.message("panels.squad:bunting:bunting", values=("1",))
    unstamped = await asking.message("panels.set:bunting:bunting:1", values=(one, two, three))
    assert "nothing was set" in unstamped.text, "a list of an older version does not say what it showed"
    await asking.ask(selects(unstamped)[0].key, values=(one, two, three))
    said = await asking.message(selects(opened)[0].key, values=(one,))
    assert "nothing was set" in said.text
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM panel_seat WHERE squad_id = 1") == 3


async def test_two_coaches_who_see_that_the_day_is_late_move_it_once(begin: Begin) -> None:
    asking = await made(begin)
    forms = [await asking.form("day.later") for _ in range(2)]
    before = [slot.begins_at for slot in await slots(asking)]
    said = [(await asking.message(form.key, fields={"minutes": "10"})).text for form in forms]
    assert "Done." in said[0] and "nothing was moved now" in said[1]
    assert [slot.begins_at - timedelta(minutes=10) for slot in await slots(asking)] == before


async def test_two_coaches_who_swap_the_same_two_squads_do_not_swap_them_back(begin: Begin) -> None:
    asking = await made(begin)
    first, second, *_ = await slots(asking)
    opened = await asking.message(f"day.slot:{first.id}")
    refused = await asking.message(f"day.swap:{first.id}", values=(str(second.id),))
    assert "nothing was moved now" in refused.text, "a list of an older version"
    for _ in range(2):
        await asking.ask(selects(opened)[0].key, values=(str(second.id),))
    now = {slot.id: slot.begins_at for slot in await slots(asking)}
    assert (now[first.id], now[second.id]) == (second.begins_at, first.begins_at)


async def test_nobody_leaves_another_squad_than_the_one_that_was_shown(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    teapots = await make_squad(asking, 11, 3, "Muddy Teapots")
    shown = await asking.message("squad.leave", 2)
    assert "you have not left" in (await asking.message("squad.left", 2)).text, "a button of an older version"
    async with asking.store.read() as db:
        two = await db.value("SELECT id FROM student WHERE platform_id = 2")
    await asking.ask(f"people.placed:{two}", values=(str(teapots),))
    again = await asking.message(button(shown, "Yes, leave").key, 2)
    assert "you have not left" in again.text and "Leave **Muddy Teapots**?" in again.text
    assert "You have left **Muddy Teapots**" in (await asking.message(button(again, "Yes, leave").key, 2)).text


async def test_a_try_out_that_has_gone_on_is_not_put_away_by_an_older_yes(begin: Begin) -> None:
    asking = await begin("drafting")
    shown = await asking.message("tryout.ask-archive")
    assert "Nothing is said to students" in shown.text
    assert "Nothing is said to students" in (await asking.message("tryout.archive")).text, (
        "a button of an older version"
    )
    assert (await asking.tryout()).state == "drafting"
    async with asking.store.write() as db:
        await tryouts.set_state(db, 1, "signup")
    again = await asking.message(button(shown, "Yes, put it away").key)
    assert "has gone on since you looked" in again.text and "has been called off" in again.text
    assert (await asking.tryout()).state == "signup"
    assert "is put away" in (await asking.message(button(again, "Yes, put it away").key)).text


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
