"""Questions about the rules: asked by a squad, answered to everyone at once, in one place, with the question."""

from datetime import timedelta

import pytest

from bot.actions.core.dispatch import ACTIONS, perform
from bot.words.core.action_keys import ActionKey
from storage.records.message import Say
from storage.records.request import Request
from storage.records.tryout import State
from storage.tables import audit_log
from tests.actions.conftest import COACH, SERVER, Begin, button
from tests.actions.office.test_office_roles import HELPER, JUDGE, KEEPER, class_of, state_of
from tests.actions.office_cast import make_squad, texts, until
from tests.actions.questions_cast import (
    AGAIN,
    WHEELS,
    YES,
    answered,
    ask,
    card,
    in_state,
    placed,
    two_squads,
)


async def test_a_question_reaches_the_coach_and_its_answer_everyone(begin: Begin) -> None:
    asking = await two_squads(begin)
    form = await asking.form("rules.ask", 1)
    assert form.title == "Ask about the rules"
    told = await asking.message(form.key, 1, fields={"question": WHEELS})
    assert "Your coach has the question" in told.text and WHEELS not in told.text
    assert (await placed(asking))["question/1"] == ("office", 0)
    office = await card(asking, "question/1")
    assert office is not None and all(part in office.text for part in (WHEELS, "Crooked Spoons", "Student 1"))
    assert texts(office) == ["Answer", "Merge with an earlier answer", "Set aside"]
    written = await asking.form(button(office, "Answer").key)
    assert [getattr(field, "value", "") for field in written.fields] == [WHEELS, ""]
    sure = await asking.message(written.key, fields={"question": "May wheels be swapped?", "answer": YES})
    assert await asking.messages_to("news") == []
    await asking.message(button(sure, "Publish").key)
    (said,) = await asking.messages_to("news")
    assert said == f"💬 **Rules question 1**\n> May wheels be swapped?\n{YES}"
    assert said in sure.text
    said = said.removeprefix("💬 ")
    assert (await placed(asking))["rules"] == ("news", 1)
    pinned = await card(asking, "rules")
    assert pinned is not None and said in pinned.text
    assert said in (await asking.message(button(pinned, "All answers").key, 12)).text
    settled = await card(asking, "question/1")
    assert settled is not None and "Rules question 1" in settled.text and settled.rows == ()
    assert await asking.messages_to("squad/1") == await asking.messages_to("squad/2") == []


async def test_nobody_but_the_coach_learns_who_asked(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking)
    await answered(asking)
    pinned = await card(asking, "rules")
    opened = await asking.message("rules.answers", 12)
    for text in (*await asking.messages_to("news"), str(pinned), opened.text):
        assert "Crooked" not in text and "Student" not in text


async def test_a_squad_has_at_most_three_questions_waiting(begin: Begin) -> None:
    asking = await two_squads(begin)
    for number in range(3):
        assert f"{number + 1} question" in (await ask(asking, f"Question number {number}?", who=1 + number % 2)).text
    assert "wait for an answer already" in (await asking.message("rules.ask", 2)).text
    assert "wait for an answer already" in (await ask(asking, "One more, please?", 2)).text
    assert "1 question of your squad waits" in (await ask(asking, who=11)).text
    await answered(asking)
    assert "3 questions of your squad wait" in (await ask(asking, "One more, please?", 2)).text


async def test_the_same_words_wait_once_and_the_same_event_acts_once(begin: Begin) -> None:
    asking = await two_squads(begin)
    fields = {"question": WHEELS}
    request = Request(id=5, at=asking.now, who=1, name="Person 1", server_id=SERVER, fields=fields)
    answers = [await perform(asking.store, ACTIONS[ActionKey.RULES_ASKED], request) for _ in range(2)]
    assert answers[0] == answers[1]
    assert "asked just that already" in (await ask(asking, WHEELS.upper(), 2)).text
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM rules_question") == 1


@pytest.mark.parametrize("state", ["window", "judging"])
async def test_questions_are_taken_until_judging_closes(begin: Begin, state: State) -> None:
    asking = await two_squads(begin)
    await in_state(asking, state)
    assert "Your coach has the question" in (await ask(asking)).text


async def test_before_the_brief_and_after_judging_the_answer_says_why_not(begin: Begin) -> None:
    asking = await two_squads(begin)
    await in_state(asking, "signup")
    assert "begin with the brief" in (await asking.message("rules.ask", 1)).text
    await in_state(asking, "settled")
    assert "Judging is closed" in (await ask(asking)).text
    await in_state(asking, "drafting")
    assert "begin with the brief" in (await asking.filled("rules.unasked", fields={})).text


async def test_who_is_in_no_squad_asks_the_coach_in_person_and_reads_all_answers(begin: Begin) -> None:
    asking = await two_squads(begin)
    for who in (99, COACH):
        assert "Only members of a squad" in (await asking.message("rules.ask", who)).text
    await ask(asking)
    await answered(asking)
    assert "Rules question 1" in (await asking.message("rules.answers", 99)).text


async def test_only_the_coach_answers(begin: Begin) -> None:
    asking = await two_squads(begin)
    await class_of(asking)
    await ask(asking)
    open_to_all = {"rules.ask", "rules.asked", "rules.answers", "rules.page"}
    mine = {key for key in ACTIONS if key.startswith("rules.")}
    assert open_to_all < mine and len(mine) > 15
    before = await state_of(asking)
    for key in sorted(mine - open_to_all):
        for who in (1, JUDGE, KEEPER):
            answer = await asking.ask(f"{key}:1:1", who, values=("1",), fields={"question": WHEELS, "answer": "No."})
            assert isinstance(answer, Say) and answer.message.text.startswith("Only a coach"), key
    assert await state_of(asking) == before
    assert "1 question waits" in (await asking.message("rules.panel", HELPER)).text


async def test_the_office_and_the_digest_count_what_waits(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, (await asking.tryout()).plan.calendar.brief.astimezone())
    await until(asking, asking.now + timedelta(hours=30))
    assert "about the rules" not in (await asking.message("office")).text
    await ask(asking)
    await ask(asking, AGAIN)
    office = await asking.message("office")
    assert "2 questions about the rules wait" in office.text
    panel = await asking.message(button(office, "Rules questions").key)
    assert "2 questions wait" in panel.text
    await until(asking, asking.now + timedelta(days=1))
    digests = [text for text in await asking.messages_to("office") if text.startswith("**Today**")]
    assert "2 questions about the rules wait" in digests[-1]


async def test_the_trail_holds_ids_only(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking)
    await ask(asking, AGAIN, 11)
    await ask(asking, "Who is the best squad?", 11)
    await answered(asking)
    await asking.ask("rules.merged:2:1")
    await asking.ask("rules.set-aside:3")
    async with asking.store.read() as db:
        entries = [entry for entry in await audit_log.entries(db) if entry.action.startswith("rules.")]
    assert [(entry.action, entry.details) for entry in entries] == [
        ("rules.ask", {"question": 1, "squad": 1}),
        ("rules.ask", {"question": 2, "squad": 2}),
        ("rules.ask", {"question": 3, "squad": 2}),
        ("rules.draft", {"question": 1, "number": None}),
        ("rules.publish", {"number": 1, "version": 1}),
        ("rules.merge", {"question": 2, "number": 1}),
        ("rules.set-aside", {"question": 3}),
    ]


async def test_judges_are_told_of_no_question(begin: Begin) -> None:
    asking = await two_squads(begin)
    await class_of(asking)
    await ask(asking)
    await answered(asking)
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM outbox_message WHERE address GLOB 'judge/*'") == 0
