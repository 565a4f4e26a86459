"""After the announcement: the place is offered, answered, or passes on."""

import re
from datetime import timedelta
from zoneinfo import ZoneInfo

import bot.actions.results.announce
import bot.actions.results.feedback
import bot.actions.results.place_offers  # noqa: F401
from bot.actions.core.dispatch import ACTIONS
from bot.actions.core.scheduled_jobs import ring
from storage.records.message import SelectField, TextField
from storage.tables import place_offers, squads, students
from tests.actions.conftest import Asking, Begin, button, select
from tests.actions.scored import whole
from tests.actions.table_help import labels


async def announced(begin: Begin, count: int = 3, **changes: object) -> tuple[Asking, list[int]]:
    asking, squad_ids = await whole(begin, count, **changes)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    return asking, squad_ids


async def offer(asking: Asking, squad: int, days: str = "3") -> str:
    """Offer the place; the key of the offer's button in the squad's room."""
    panel = await asking.message("offer.panel")
    form = await asking.form(select(panel, "Offer the place to …").key, values=(str(squad),))
    await asking.ask(form.key, fields={"what": "a place for all of you", "days": days})
    async with asking.store.read() as db:
        made = await place_offers.offers(db, 1)
    return f"{made[-1].id}"


async def captain_of(asking: Asking, squad: int) -> int:
    async with asking.store.read() as db:
        one = await squads.squad(db, squad)
        assert one is not None and one.captain_id is not None
        student = await students.student(db, one.captain_id)
        assert student is not None and student.platform_id is not None
    return student.platform_id


async def test_the_place_is_offered_in_the_squads_room_and_the_captain_accepts_after_one_question(begin: Begin) -> None:
    asking, ids = await announced(begin)
    panel = await asking.message("offer.panel")
    assert "Next in line: **Crooked Spoons**." in panel.text
    form = await asking.form(select(panel, "Offer the place to …").key, values=(str(ids[0]),))
    assert [type(field) for field in form.fields] == [TextField, SelectField]
    made = await offer(asking, ids[0])
    assert "the place is offered to you" in (await asking.messages_to(f"squad/{ids[0]}"))[-1]
    captain = await captain_of(asking, ids[0])
    question = await asking.message(f"offer.accept:{made}", captain)
    assert question.text.startswith("Accept for **Crooked Spoons**?")
    answer = await asking.message(button(question, "Yes, we accept").key, captain)
    assert answer.text.startswith("You have said yes for your squad. The place is not sure before <t:")
    assert (await asking.messages_to("office"))[-1].startswith("**Crooked Spoons** has accepted the place. **Not final")
    assert "**said yes** to the place. The place is not sure" in (await asking.messages_to(f"squad/{ids[0]}"))[-1]
    assert "has accepted" in (await asking.message("offer.panel")).text
    await ring(asking.store, asking.now + timedelta(days=3))
    assert "**the place is yours.**" in (await asking.messages_to(f"squad/{ids[0]}"))[-1]
    assert (await asking.messages_to("office"))[-1].endswith("1 squad room reads that a place is sure.")


async def test_the_office_leads_to_the_offers_while_another_squad_can_be_asked(begin: Begin) -> None:
    asking, ids = await announced(begin)

    async def main() -> str:
        first = (await asking.message("office")).rows[0]
        assert isinstance(first, tuple)
        return first[0].label

    assert await main() == "Offer the place"
    async with asking.store.read() as db:
        other = await db.value("SELECT id FROM student WHERE squad_id = ? LIMIT 1", ids[1])
    await asking.ask(f"team.offered:open:{other}", fields={"days": "5"})
    assert await main() == "Feedback for squads", "a team of single students needs no squad"
    made = await offer(asking, ids[0])
    await asking.ask(f"offer.declined:{made}", await captain_of(asking, ids[0]))
    assert await main() == "Offer the place"


async def test_only_the_captain_answers_and_only_once(begin: Begin) -> None:
    asking, ids = await announced(begin)
    made = await offer(asking, ids[0])
    captain = await captain_of(asking, ids[0])
    for who in (captain + 1, await captain_of(asking, ids[1]), 4242):
        assert "Only the captain" in (await asking.message(f"offer.accepted:{made}", who)).text
    await asking.ask(f"offer.declined:{made}", captain)
    assert "settled already" in (await asking.message(f"offer.accepted:{made}", captain)).text
    assert len([text for text in await asking.messages_to("office") if text.endswith("declined the place.")]) == 1


async def test_when_a_squad_declines_the_next_in_line_is_the_alternate(begin: Begin) -> None:
    asking, ids = await announced(begin)
    made = await offer(asking, ids[0])
    assert (
        "cannot be offered to **Muddy Teapots** now"
        in (await asking.message(f"offer.made:{ids[1]}", fields={"what": "it", "days": "3"})).text
    )
    await asking.ask(f"offer.declined:{made}", await captain_of(asking, ids[0]))
    panel = await asking.message("offer.panel")
    assert "Next in line: **Muddy Teapots**." in panel.text
    second = await offer(asking, ids[1])
    assert "Next in line" not in (await asking.message("offer.panel")).text
    assert "The class has not read" not in (await asking.message("offer.panel")).text
    await asking.ask(f"offer.accepted:{second}", await captain_of(asking, ids[1]))
    assert "The class has not read that **Muddy Teapots** said yes" in (await asking.message("offer.panel")).text


async def test_a_silent_squad_is_reminded_the_coach_is_told_and_only_the_coach_lets_it_lapse(begin: Begin) -> None:
    asking, ids = await announced(begin)
    made = await offer(asking, ids[0], "2")
    async with asking.store.read() as db:
        (open_offer,) = await place_offers.offers(db, 1)
    await ring(asking.store, open_offer.answer_by - timedelta(minutes=1))
    assert "the place is still offered to you" in (await asking.messages_to(f"squad/{ids[0]}"))[-1]
    await ring(asking.store, open_offer.answer_by)
    assert "has not answered the offer in time" in (await asking.messages_to("office"))[-1]
    asking.now = open_offer.answer_by + timedelta(minutes=1)
    panel = await asking.message("offer.panel")
    settle = await asking.message(select(panel, "Note what a squad says").key, values=(made,))
    panel = await asking.message(button(settle, "Let it lapse").key)
    assert "Crooked Spoons did not answer in time" in panel.text and "Next in line: **Muddy Teapots**." in panel.text
    late = await asking.message(f"offer.accepted:{made}", await captain_of(asking, ids[0]))
    assert "settled already" in late.text


async def test_no_offer_lapses_before_the_time_that_the_squad_was_told(begin: Begin) -> None:
    asking, ids = await announced(begin)
    made = await offer(asking, ids[0], "2")
    panel = await asking.message("offer.panel")
    settle = await asking.message(select(panel, "Note what a squad says").key, values=(made,))
    assert "Let it lapse" not in labels(settle)
    refused = (await asking.message(f"offer.lapsed:{made}")).text
    assert re.search(r"was told that the last moment to answer is <t:\d+:F>\.", refused)
    question = await asking.message(f"offer.accept:{made}", await captain_of(asking, ids[0]))
    assert question.text.startswith("Accept for **Crooked Spoons**?")


async def test_a_place_that_is_given_back_goes_to_the_next_in_line(begin: Begin) -> None:
    asking, ids = await announced(begin)
    made = await offer(asking, ids[0])
    assert "settled already" in (await asking.message(f"offer.given-back:{made}")).text
    await asking.ask(f"offer.accepted:{made}", await captain_of(asking, ids[0]))
    panel = await asking.message("offer.panel")
    card = await asking.message(select(panel, "Note what a squad says").key, values=(made,))
    panel = await asking.message(button(card, "They give it back").key)
    assert "Next in line: **Muddy Teapots**." in panel.text and "Crooked Spoons does not take the place" in panel.text
    assert "gives the place back" in (await asking.messages_to(f"squad/{ids[0]}"))[-1]
    assert (await asking.messages_to("office"))[-1] == "**Crooked Spoons** gives the place back."
    await ring(asking.store, asking.now + timedelta(days=8))
    assert not any("the place is yours" in text for text in await asking.messages_to(f"squad/{ids[0]}"))


async def test_the_panel_does_not_say_that_a_squad_can_still_answer_once_its_time_is_over(begin: Begin) -> None:
    asking, ids = await announced(begin)
    await offer(asking, ids[0], "2")
    assert "Crooked Spoons has not answered yet; it can until <t:" in (await asking.message("offer.panel")).text
    asking.now += timedelta(days=5)
    panel = (await asking.message("offer.panel")).text
    assert "Crooked Spoons did not answer until <t:" in panel and "it can until" not in panel


async def test_an_answer_in_time_leaves_nothing_to_remind(begin: Begin) -> None:
    asking, ids = await announced(begin)
    made = await offer(asking, ids[0], "2")
    await asking.ask(f"offer.accepted:{made}", await captain_of(asking, ids[0]))
    before = await asking.messages_to(f"squad/{ids[0]}")
    await ring(asking.store, asking.now + timedelta(days=3))
    after = (await asking.messages_to(f"squad/{ids[0]}"))[len(before) :]
    assert len(after) == 1 and "the place is yours" in after[0]
    assert not any("has not answered" in text for text in await asking.messages_to("office"))


async def test_an_offer_can_be_answered_until_the_evening_of_a_school_day(begin: Begin) -> None:
    asking, ids = await announced(begin)
    asking.now += timedelta(days=(4 - asking.now.weekday()) % 7)  # a Friday
    await offer(asking, ids[0], "1")
    async with asking.store.read() as db:
        (made,) = await place_offers.offers(db, 1)
    assert f"{made.answer_by.astimezone(ZoneInfo('America/New_York')):%a %H:%M}" == "Mon 18:00"


async def test_a_coach_notes_an_answer_given_in_person(begin: Begin) -> None:
    asking, ids = await announced(begin)
    made = await offer(asking, ids[0])
    told = (await asking.message(f"offer.accepted:{made}")).text
    assert told.startswith("**Crooked Spoons** has accepted the place. **Not final** before")


async def test_with_two_places_two_squads_are_asked(begin: Begin) -> None:
    asking, ids = await announced(begin, places=2)
    panel = await asking.message("offer.panel")
    assert "Next in line: **Crooked Spoons** and **Muddy Teapots**." in panel.text
    await offer(asking, ids[1])
    assert "Next in line: **Crooked Spoons**." in (await asking.message("offer.panel")).text


async def test_nothing_is_offered_before_the_announcement_and_only_coaches_offer(begin: Begin) -> None:
    asking, ids = await whole(begin)
    assert "no result is announced right now" in (await asking.message("offer.panel")).text
    assert "no result is announced right now" in (await asking.message("feedback.panel")).text
    answers = {"offer.accept", "offer.decline", "offer.accepted", "offer.declined"}
    for action in (key for key in ACTIONS if key.startswith(("offer.", "feedback.")) and key not in answers):
        assert "Only a coach" in (await asking.message(f"{action}:{ids[0]}", 4242, values=("1",))).text, action


async def test_before_the_announcement_each_later_step_is_refused_in_words_that_fit_it(begin: Begin) -> None:
    asking, _ = await whole(begin)
    for key in ("offer.panel", "feedback.panel", "results.ask-back"):
        assert "no result is announced right now" in (await asking.message(key)).text, key
