"""The brief is released by hand or by itself, or it is told why it cannot go out."""

from datetime import UTC, datetime, timedelta

from tests.actions.conftest import Begin, button
from tests.actions.office_cast import BRIEF, DEADLINE, make_squad, off_until, planned, until


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
    assert [(row.state, row.why) for row in await planned(asking, "brief")] == [("skipped", "not ready")]


async def test_a_brief_that_comes_late_gives_the_whole_window(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await off_until(asking, BRIEF + timedelta(hours=1, seconds=20))
    tryout = await asking.tryout()
    assert tryout.brief_at == BRIEF + timedelta(hours=1)
    assert [row.at for row in await planned(asking, "deadline")] == [DEADLINE + timedelta(hours=1)]


async def test_a_brief_missed_into_the_night_goes_out_in_the_morning(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await off_until(asking, BRIEF + timedelta(hours=8))
    assert (await asking.tryout()).state == "signup"
    await until(asking, BRIEF + timedelta(hours=16))
    assert (await asking.tryout()).brief_at == datetime(2027, 1, 12, 12, 0, tzinfo=UTC)
