"""The coach's daily digest: who is behind, what was skipped, what is due; silence when there is nothing to say."""

from datetime import UTC, datetime, timedelta

from bot.actions.judging.judges_admin import enrol
from bot.words.office import digest as words
from storage.tables.sql_session import stamp
from tests.actions.conftest import Asking, Begin
from tests.actions.office_cast import BRIEF, DAY, make_squad, off_until, planned, until

RING = datetime(2027, 1, 12, 21, 0, tzinfo=UTC)


async def digests(asking: Asking) -> list[str]:
    return [text for text in await asking.messages_to("office") if text.startswith("**Today**")]


async def test_it_says_who_is_behind_and_what_is_due(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 2, "Muddy Teapots")
    await asking.ask("student.enter:look", 9, fields={"name": "Ada", "section": "7-B"})
    await until(asking, BRIEF - timedelta(minutes=1))
    every = await digests(asking)
    assert "1 student without a squad" in every[0]
    assert any("**Muddy Teapots**: needs 1 more" in text for text in every)
    assert f"the brief goes out: <t:{int(BRIEF.timestamp())}:F>" in every[-1]
    assert "sign-up closes" in every[-1]
    lines = [line for text in every for line in text.split("\n")[1:] if not line.endswith(words.PLACE)]
    assert len(lines) == len(set(lines)), "what was said yesterday is not said again"
    assert len(every) < [row.state for row in await planned(asking, "digest")].count("done")


async def test_it_is_silent_when_nobody_is_behind_and_nothing_is_due(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, BRIEF)
    for who in (1, 2, 3):
        await asking.ask("brief.page:9", who)
    said = len(await digests(asking))
    await until(asking, RING + 7 * DAY)
    assert len(await digests(asking)) == said
    assert {row.why for row in await planned(asking, "digest") if row.at > BRIEF and row.state == "done"} == {
        "nothing to say"
    }


async def test_it_says_what_was_skipped_and_why_once(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, BRIEF)
    for who in (1, 2, 3):
        await asking.ask("brief.page:9", who)
    async with asking.store.write() as db:
        failed = "state = 'failed', why = 'gone', settled_at = ?"
        await db.run(f"UPDATE outbox_message SET {failed} WHERE address = 'squad/1'", stamp(RING))
    await off_until(asking, RING + 3 * DAY + timedelta(minutes=10))
    last = (await digests(asking))[-1]
    assert "a reminder to squads (3 times): it would have come too late" in last
    assert "squad 1, Crooked Spoons (4 times): the room is gone" in last
    assert "the digest" not in last
    said = len(await digests(asking))
    await until(asking, RING + 4 * DAY)
    assert len(await digests(asking)) == said


async def test_while_judging_it_counts_the_sheets_that_are_open(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    async with asking.store.write() as db:
        await enrol(db, (await asking.tryout()).id, 777, "Judge")
    await until(asking, datetime(2027, 1, 23, tzinfo=UTC))
    assert "1 score sheet not handed in" in (await digests(asking))[-1]


async def test_it_has_six_lines_at_most_and_the_rest_comes_the_next_day(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    names = ("Crooked Spoons", "Muddy Teapots", "Sleepy Turnips", "Odd Mittens", "Shy Saucepans", "Quiet Radishes")
    for number, name in enumerate((*names, "Rusty Pancakes")):
        await make_squad(asking, 10 * number + 1, 3, name)
    await until(asking, RING + timedelta(days=1, minutes=1))
    first, second = [text.split("\n") for text in await digests(asking) if "without the brief" in text]
    assert len(first) == 6 and first[-1] == "- and 3 squads more: their rooms say what is still to do"
    assert [line.split("**")[1] for line in second[1:]] == ["Shy Saucepans", "Quiet Radishes", "Rusty Pancakes"]
    assert all(len(text.split("\n")) <= 6 for text in await digests(asking))


def test_that_questions_wait_is_said_each_day_until_none_does() -> None:
    found = words.lines((), 0, 0, (), (), questions=1)
    alone = words.Line("- 1 student without a squad", each_time=False)
    first = words.digest([*found, alone])
    assert first is not None
    again = words.digest([*found, alone], [first.text])
    assert again is not None and again.text.split("\n")[1:] == ["- 1 question about the rules waits: **/questions**"]
    assert words.digest([alone], [first.text]) is None


async def test_in_the_last_days_of_sign_up_students_without_a_squad_are_counted_each_day(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await asking.ask("student.enter:look", 9, fields={"name": "Ada", "section": "7-B"})
    await until(asking, BRIEF - timedelta(days=3, minutes=1))
    said = [text for text in await digests(asking) if "without a squad" in text]
    assert len(said) == 1, "while squads fill up it is said when the number changes"
    await until(asking, BRIEF - timedelta(minutes=1))
    last = [text for text in await digests(asking) if "- 1 student without a squad (button **People**)" in text]
    assert len(last) == 3


async def test_who_came_late_is_named_each_day_until_there_is_a_squad(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 2, "Muddy Teapots")
    await until(asking, BRIEF + timedelta(minutes=1))
    await asking.ask("student.came-late:late", 9, fields={"name": "Wilma", "section": "7-B"})
    await until(asking, RING + timedelta(minutes=1))
    for day in (1, 2, 3):
        await until(asking, RING + day * DAY + timedelta(minutes=1))
        assert "- Came late, no squad yet: Wilma (button **People**)" in (await digests(asking))[-1]
    said = [text for text in await digests(asking) if "Wilma" in text]
    assert len(said) == 5, "on the evening of the brief, and on four days"
    async with asking.store.write() as db:
        await db.run("UPDATE student SET squad_id = 1, looking = 0 WHERE name = 'Wilma'")
    await until(asking, RING + 5 * DAY + timedelta(minutes=1))
    assert [text for text in await digests(asking) if "Wilma" in text] == said


def test_so_many_latecomers_that_their_line_is_cut_are_named_each_day_too() -> None:
    found = words.lines((), 0, 0, (), (), late=["Wilhelmina Featherstonehaugh the Younger"] * 12)
    first = words.digest(found)
    assert first is not None
    assert words.digest(found, [first.text]) == first


def test_several_things_of_a_kind_that_are_due_take_one_line() -> None:
    due = [("day-call", RING + timedelta(minutes=5 * number)) for number in range(29)]
    lines = words.lines((), 0, 0, (), [*due, ("deadline", RING)])
    assert [line.text.partition(": <t:")[0] for line in lines] == [
        "- Soon: the first squads are called to the table", "- Soon: the deadline",
    ]  # fmt: skip
    assert f"<t:{int(RING.timestamp())}:F>" in lines[0].text


async def test_in_the_first_hours_after_the_brief_nobody_is_behind_and_the_next_day_somebody_is(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Muddy Teapots")
    await until(asking, BRIEF + timedelta(hours=6))
    assert not any("without the brief" in text for text in await digests(asking))
    await until(asking, BRIEF + timedelta(hours=30))
    assert any("**Muddy Teapots**: 3 without the brief" in text for text in await digests(asking))


async def test_while_squads_fill_up_nobody_is_behind(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 2, "Muddy Teapots")
    await until(asking, BRIEF - timedelta(days=3, minutes=1))
    assert not any("needs 1 more" in text for text in await digests(asking))
    await until(asking, BRIEF - timedelta(minutes=1))
    assert any("needs 1 more" in text for text in await digests(asking))
