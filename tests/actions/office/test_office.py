"""From nothing to a brief that is out: the office, the set-up, sign-up and its readiness checks."""

from datetime import UTC, datetime

import pytest

from storage.records.message import Button, Message, Open, Replace, Say
from storage.records.request import Room
from storage.tables import tryouts
from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import ROOMS, choose_rooms, make_squad, planned, texts, until

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)  # 15:30 in New York


async def begun(asking: Asking, **fields: str) -> str:
    typed = {"date": "2027-01-11", "time": "15:30", "zone": "America/New_York", "sections": "7-A, 7-B"}
    return (await asking.message("plan.begun", fields=typed | fields)).text


async def test_a_manager_begins_and_is_led_from_step_to_step(nobody: Asking) -> None:
    office = await nobody.message("office")
    assert texts(office) == ["Begin a try-out", "Use a plan file", "Last year's plan"]
    form = await nobody.form(button(office, "Begin a try-out").key)
    assert [field.label for field in form.fields] == ["Date of the brief", "Time of the brief", "Time zone", "Sections"]
    assert "students see nothing yet" in await begun(nobody)
    office = await nobody.message("office")
    assert texts(office)[0] == "Choose the channels"
    assert "Choose the channels for sign-up, news, squads and office" in office.text
    assert "I may do everything I need there" in await choose_rooms(nobody)
    office = await nobody.message("office")
    sure = await nobody.message(button(office, "Open sign-up").key)
    said = sure.text.split("> ")[1].split("\n")[0]
    await nobody.message(button(sure, "Yes, open sign-up").key)
    assert (await nobody.messages_to("news"))[0].startswith(said)
    assert (await nobody.tryout()).state == "signup"
    async with nobody.store.read() as db:
        cards = await db.rows("SELECT key, address, pinned FROM live_message ORDER BY key")
    assert [tuple(row) for row in cards] == [("roster/1", "signup", 0), ("signup", "signup", 1)]
    assert "Release the brief now" in texts(await nobody.message("office"))


async def test_everything_wrong_in_the_first_form_is_said_at_once_and_brought_back(nobody: Asking) -> None:
    typed = {"date": "1/11/27", "time": "25:00", "zone": "New York", "sections": "7-A, 7-A"}
    answer = await nobody.message("plan.begun", fields=typed)
    for part in ("**1/11/27** as a date", "**25:00** as a time", "New York", "7-A"):
        assert part in answer.text
    form = await nobody.form(button(answer, "Correct it").key)
    assert [getattr(field, "value", "") for field in form.fields] == ["1/11/27", "25:00", "New York", "7-A, 7-A"]


async def test_a_brief_in_the_past_is_refused(nobody: Asking) -> None:
    assert "in the past" in await begun(nobody, date="2026-12-01")
    assert texts(await nobody.message("office"))[0] == "Begin a try-out"


async def test_only_who_manages_the_server_begins(nobody: Asking) -> None:
    assert "Only someone who manages this server" in (await nobody.message("plan.begun", 5, fields={})).text
    assert "No try-out is running" in (await nobody.message("office", 5)).text


async def test_a_second_try_out_cannot_begin_beside_the_first(nobody: Asking) -> None:
    await begun(nobody)
    assert "running here already" in await begun(nobody)


async def test_what_i_may_not_do_in_a_channel_is_named_in_plain_words(begin: Begin) -> None:
    asking = await begin("drafting")
    room = Room(id=99, missing=("send_messages", "pin_messages", "create_private_threads"))
    text = (await asking.message("setup.room:signup", values=("99",), rooms=(room,))).text
    assert "allow me to send messages and pin messages. Then pick it again" in text
    assert (await asking.tryout()).rooms["signup"] == ROOMS["signup"]


@pytest.mark.parametrize(
    ("kind", "room", "said"),
    [
        ("office", Room(id=99, seen_by_all=True), "Everyone on this server can read <#99>"),
        ("office", Room(id=51), "must be a channel of its own"),
        ("news", Room(id=53), "must be a channel of its own"),
    ],
)
async def test_what_is_for_the_coach_stays_out_of_the_class(begin: Begin, kind: str, room: Room, said: str) -> None:
    asking = await begin("drafting")
    text = (await asking.message(f"setup.room:{kind}", values=(str(room.id),), rooms=(room,))).text
    assert said in text
    assert (await asking.tryout()).rooms == ROOMS


async def test_another_sign_up_channel_takes_the_living_messages_along(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    async with asking.store.write() as db:
        await db.run("UPDATE live_message SET stale = 0")
    await asking.ask("setup.room:signup", values=("99",), rooms=(Room(id=99),))
    async with asking.store.read() as db:
        assert await db.value("SELECT min(stale) FROM live_message") > 0


async def test_the_invite_link_asks_for_exactly_what_is_needed(begin: Begin) -> None:
    asking = await begin("drafting")
    text = (await asking.message("setup.invite", application=12345)).text
    assert "client_id=12345&permissions=2252143411186688&scope=bot+applications.commands" in text
    bits = {10, 11, 14, 15, 16, 36, 38, 51}
    assert sum(1 << bit for bit in bits) == 2252143411186688


async def test_sign_up_does_not_open_without_channels_or_after_its_dates(begin: Begin) -> None:
    asking = await begin("drafting")
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET rooms_json = '{\"signup\": 50}'")
    answer = await asking.message("signup.open")
    assert "Choose the channels for news, squads and office" in answer.text
    assert (await asking.tryout()).state == "drafting"
    asking.now = BRIEF
    for key in ("signup.ask", "signup.open"):
        assert "The date of the brief is past" in (await asking.message(key)).text
    assert texts(await asking.message("office"))[0] == "Choose the channels"


async def test_a_sign_up_that_would_be_closed_already_does_not_open(begin: Begin) -> None:
    asking = await begin("drafting")
    fields = {"date": "2027-01-11", "time": "15:30", "days": "10", "remind": "16:00", "closes": "2027-01-05 08:00"}
    await asking.filled("plan.dates", fields=fields)
    asking.now = datetime(2027, 1, 6, 12, tzinfo=UTC)
    office = await asking.message("office")
    assert "Sign-up would be closed already" in office.text
    assert texts(office)[0] == "Set new dates"


async def test_a_step_is_taken_once(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    assert "taken already" in (await asking.message("signup.open")).text
    assert len(await asking.messages_to("news")) == 1


async def test_the_office_names_what_is_worth_knowing_before_the_brief(begin: Begin) -> None:
    asking = await begin("signup")
    await make_squad(asking, 1, 2, "Muddy Teapots")
    await asking.ask("student.enter:look", 9, fields={"name": "Ada", "section": "7-B"})
    text = (await asking.message("office")).text
    assert "Too small (fewer than 3 members): Muddy Teapots" in text
    assert "Students without a squad: 1" in text
    assert "There are no judges yet" in text
    assert "1 squad with 2 students; 1 without a squad" in text


async def test_the_brief_is_not_released_to_nobody(begin: Begin) -> None:
    asking = await begin("signup")
    for key in ("brief.ask", "brief.release"):
        assert "There is no squad yet" in (await asking.message(key)).text
    assert (await asking.tryout()).state == "signup"


async def test_the_brief_released_by_hand_reads_exactly_as_shown_and_freezes_the_plan(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    sure = await asking.message("brief.ask")
    await asking.message(button(sure, "Yes, release the brief").key)
    tryout = await asking.tryout()
    assert tryout.state == "window" and tryout.brief_at is not None
    assert tryout.brief_at.second == 0 and tryout.plan_sha256 is not None
    news, room = (await asking.messages_to("news"))[-1], (await asking.messages_to(f"squad/{squad}"))[-1]
    assert tryout.plan_sha256 in news
    for line in (*news.split("\n"), *room.replace("<@1>, <@2> and <@3>", "Each of you").split("\n")):
        assert f"> {line}" in sure.text
    assert await asking.pings_to(f"squad/{squad}") == [1, 2, 3] and await asking.pings_to("news") == []
    assert [row.state for row in await planned(asking, "brief")] == ["cancelled"]
    await until(asking, BRIEF)
    assert sum("the brief is out" in text for text in await asking.messages_to("news")) == 1


async def test_the_brief_goes_out_by_itself_to_news_and_every_squad(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    ids = [await make_squad(asking, 10 * n, 3, f"Squad number {n}") for n in (1, 2, 3)]
    await until(asking, BRIEF)
    tryout = await asking.tryout()
    assert (tryout.state, tryout.brief_at) == ("window", BRIEF)
    for to in ("news", *(f"squad/{squad}" for squad in ids)):
        assert sum("the brief is out" in text.lower() for text in await asking.messages_to(to)) == 1
    assert "Sign-up is closed" in (await asking.messages_to("office"))[-1]


async def test_a_brief_that_cannot_go_out_is_told_to_the_coach(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await until(asking, BRIEF)
    assert (await asking.tryout()).state == "signup"
    assert "The brief did not go out" in (await asking.messages_to("office"))[-1]
    assert [(row.state, row.why) for row in await planned(asking, "brief")] == [("skipped", "it was not ready")]


async def test_the_brief_is_turned_page_by_page_and_counts_as_read_once_at_its_last_page(begin: Begin) -> None:
    asking = await begin("drafting", brief="Read me. " * 190)
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    assert "Everyone gets it" in (await asking.message("brief.open", 1)).text
    await until(asking, BRIEF)
    first = await asking.ask("brief.open", 1)
    assert isinstance(first, Say) and first.message.text.startswith("**Quillmere")
    shown, turned = first.message, 0
    while onward := [one for one in buttons(shown) if one.label.startswith("Next page")]:
        assert "Please read on to the last page" in shown.text and onward[0].style == "main"
        assert await read_by(asking) == (0, 0)
        later = await asking.ask(onward[0].key, 1)
        assert isinstance(later, Replace)
        shown, turned = later.message, turned + 1
    assert turned >= 1 and "read on" not in shown.text
    assert await read_by(asking) == (1, 1)
    back = await asking.message(button(shown, f"Back to page {turned}").key, 1)
    await asking.ask(button(back, f"Next page {turned + 1} of {turned + 1}").key, 1)
    assert await read_by(asking) == (1, 1)


def buttons(message: Message) -> list[Button]:
    return [part for row in message.rows if isinstance(row, tuple) for part in row]


async def read_by(asking: Asking) -> tuple[int, int]:
    """How many students have read the brief, and how often that was noted."""
    async with asking.store.read() as db:
        rows = await db.rows("SELECT id, brief_opened_at FROM student WHERE brief_opened_at IS NOT NULL")
        entries = await db.value("SELECT count(*) FROM audit_log WHERE action = 'brief.open'")
    return len(rows), int(entries)


async def test_a_surprise_stands_in_nothing_that_students_can_see(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, datetime(2027, 1, 25, tzinfo=UTC))
    seen = [text for to in ("news", f"squad/{squad}") for text in await asking.messages_to(to)]
    answer = await asking.ask("brief.open", 1)
    assert isinstance(answer, Say)
    seen += [answer.message.text]
    for number in range(5):
        seen.append((await asking.message(f"brief.page:{number}", 1)).text)
    whole = "\n".join(seen)
    for secret in ("Paper chain", "chain", "Teamwork", "Communication", "no jumping"):
        assert secret not in whole
    assert "A surprise" in whole
    assert "Paper chain" in (await asking.message("plan.panel")).text


async def test_the_coach_reads_the_plan_and_gets_it_as_a_file(begin: Begin) -> None:
    asking = await begin("drafting")
    answer = await asking.ask("plan.show")
    assert isinstance(answer, Say) and answer.message.files[0].name == "plan.toml"
    used = await asking.message(
        "plan.use", uploads={"plan": {"name": "plan.toml", "data": answer.message.files[0].data}}
    )
    assert "nothing was changed" in used.text


async def test_the_office_opens_privately_and_turns_in_place(begin: Begin) -> None:
    asking = await begin("signup")
    office = await asking.ask("office")
    assert isinstance(office, Say) and office.private
    assert isinstance(await asking.ask("office.again"), Replace)
    assert not isinstance(await asking.ask("plan.panel"), Open)


async def test_once_all_channels_are_chosen_the_filled_button_opens_sign_up(begin: Begin) -> None:
    asking = await begin("drafting")
    assert button(await asking.message("setup.panel"), "Open sign-up").style == "main"
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET rooms_json = json_remove(rooms_json, '$.news')")
    shown = await asking.message("setup.panel")
    assert "Open sign-up" not in [one.label for row in shown.rows if isinstance(row, tuple) for one in row]


async def test_a_step_is_taken_for_the_plan_that_was_shown_and_for_no_other(begin: Begin) -> None:
    """Another coach may have changed it meanwhile; a button of an older version names no plan."""
    asking = await begin("drafting")
    other = (await asking.tryout()).plan.model_copy(update={"name": "Another name that nobody has read"})
    first = (await asking.tryout()).plan
    shown = button(await asking.message("signup.ask"), "Yes, open sign-up").key
    assert "Yes, open sign-up" in texts(await asking.message("signup.open"))
    for plan, said in ((other, "has changed since you looked"), (first, "Sign-up is open")):
        async with asking.store.write() as db:
            await tryouts.set_plan(db, 1, plan)
        assert said in (await asking.message(shown)).text
    await make_squad(asking, 1, 3, "Crooked Spoons")
    shown = button(await asking.message("brief.ask"), "Yes, release the brief").key
    assert "Yes, release the brief" in texts(await asking.message("brief.release"))
    for plan, said in ((other, "has changed since you looked"), (first, "The brief is out")):
        async with asking.store.write() as db:
            await tryouts.set_plan(db, 1, plan)
        assert said in (await asking.message(shown)).text
