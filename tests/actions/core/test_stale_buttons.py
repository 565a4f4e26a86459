"""Buttons, lists and forms that were opened before something went: they never act on what came in its place."""

from bot.rules.squads.names import name_keys
from storage.records.request import Upload
from storage.tables import judges, offers_and_feedback, squads
from tests.actions.conftest import COACH, Asking, Begin, button
from tests.actions.judging_cast import ADA, cast
from tests.actions.scored import whole


async def attach(asking: Asking, data: bytes) -> None:
    upload = Upload(name="class.csv", data=data, size=len(data))
    said = await asking.message("class-list.use", uploads={"list": upload})
    assert "The list is in" in said.text


async def names(asking: Asking) -> list[str]:
    async with asking.store.read() as db:
        return [row["name"] for row in await db.rows("SELECT name FROM student ORDER BY id")]


async def test_a_name_that_was_picked_from_an_older_list_makes_nobody_somebody_else(begin: Begin) -> None:
    asking = await begin()
    await attach(asking, b"name,section\nAda B,7-A\nBo C,7-A\n")
    listed = await asking.message("class-list.section", 1, values=("0",))
    select = next(row for row in listed.rows if not isinstance(row, tuple))
    ada = next(one.value for one in select.choices if one.label == "Ada B")  # type: ignore[union-attr]
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
        (second,) = await offers_and_feedback.offers(db, 1)
    assert (second.what, second.state) == ("a place for three", "open")


async def offer(asking: Asking, squad: int, what: str) -> int:
    """Announce, and offer the place."""
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    await asking.ask(f"offer.made:{squad}", fields={"what": what, "days": "3"})
    async with asking.store.read() as db:
        return (await offers_and_feedback.offers(db, 1))[-1].id


async def test_a_form_for_a_sheet_that_was_taken_away_marks_no_other_squad_and_is_given_back(begin: Begin) -> None:
    found = await cast(begin, people=(ADA,))
    await found.open()
    asking, judge = found.asking, await found.judge(ADA)
    last = max(await found.sheets(ADA), key=lambda one: one.id)
    form = await asking.form(f"sheets.mark:{last.id}", ADA, server_id=None)
    async with asking.store.write() as db:
        await judges.drop_untouched(db, last.id)
        late = await squads.add_squad(db, 1, "Late Lemons", name_keys("Late Lemons"), "7-A", "LATE1", asking.now)
        await judges.add_sheets(db, [(judge.id, late, last.event, last.measure, 9)])
    fields = {"level-reasons": "3", "level-theme": "2", "note-sheet": "Well sewn."}
    said = await asking.message(form.key, ADA, server_id=None, fields=fields)
    assert [one.marks for one in await found.sheets(ADA) if one.marks] == []
    assert "no longer yours to mark. You had entered: Written reasons 3 and Fits the theme 2." in said.text
    assert "> Well sewn." in said.text
