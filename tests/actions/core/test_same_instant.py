"""Several people at the same instant on the same thing: one thing is done, once."""

import asyncio

from bot.actions.core.dispatch import ACTIONS, perform
from bot.words.core.day_action_keys import DayKey
from storage.records.message import Message
from storage.records.request import Request
from storage.tables import helpers
from tests.actions.conftest import COACH, SERVER, Asking, Begin, button
from tests.actions.event_day.test_run_pad import KEEPER, begun
from tests.actions.judging_cast import ADA, cast
from tests.actions.office_cast import make_squad, until
from tests.actions.practice_cast import BRIEF, FIRST, PRACTICE, book, window
from tests.actions.results.test_place_offers import announced, captain_of, offer
from tests.actions.scored import whole
from tests.actions.squads.test_sign_up import code_of, found, join
from tests.actions.table_help import press

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


async def test_the_last_seat_pressed_by_five_at_once_goes_to_exactly_one(begin: Begin) -> None:
    asking = await begin()
    await found(asking, 1, "Crooked Spoons")
    code = await code_of(asking, 1)
    for who in (2, 3, 4):
        await join(asking, who, code)
    answers = await asyncio.gather(*(join(asking, who, code) for who in range(5, 10)))
    assert sum("You are in" in answer for answer in answers) == 1
    assert sum("is full" in answer for answer in answers) == 4


async def test_a_turn_pressed_by_five_at_once_goes_to_exactly_one(begin: Begin) -> None:
    asking = await begin("drafting", practice=PRACTICE)
    await asking.confirm("signup.open")
    for number in range(5):
        await make_squad(asking, 10 * number + 1, 3, f"{'ABCDE'[number]} crew", "7-B")
    await until(asking, BRIEF)
    answers = await asyncio.gather(*(book(asking, 10 * number + 1, FIRST) for number in range(5)))
    assert sum("Booked" in answer for answer in answers) == 1
    assert sum("is taken" in answer for answer in answers) == 4
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM practice_turn") == 1


async def test_two_members_who_press_the_same_turn_book_it_once(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    answers = await asyncio.gather(book(asking, 1, FIRST), book(asking, 2, FIRST))
    assert sorted("has this turn already" in answer for answer in answers) == [False, True]


async def test_ten_taps_at_once_each_delivered_twice_are_ten(begin: Begin) -> None:
    """A bad network: the platform may deliver a press twice, and presses pile up; the number of an id tells them."""
    asking, pad = await begun(begin)
    run, item, way = button(pad, "+1 Sock").key.split(":")[1:]
    action = ACTIONS[DayKey.PAD_TAP]
    requests = [
        Request(id=5_000 + n, at=asking.now, who=KEEPER, name="K", server_id=SERVER, args=(run, item, way))
        for n in range(10)
    ]
    await asyncio.gather(*(perform(asking.store, action, one) for one in [*requests, *reversed(requests)]))
    shown = await press(asking, pad, "Refresh", who=KEEPER)
    assert "Sock **10**" in shown.text
