"""What was written where nothing was kept of it is given back, whichever subject refuses it."""

from bot.rules.core.written_given_back import LONG
from storage.records.message import TextField
from tests.actions.conftest import Begin
from tests.actions.hand_in_cast import window

SENTENCE = "May the robot carry *two* socks?"


async def test_a_question_that_comes_too_late_is_not_lost(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    for number in range(3):
        await asking.ask("rules.asked", 1, fields={"question": f"Is rule {number} meant like this?"})
    said = await asking.message("rules.asked", 2, fields={"question": SENTENCE})
    assert "wait for an answer already" in said.text and "carry \\*two\\* socks?" in said.text


async def test_nor_is_an_answer_to_a_question_that_another_coach_has_answered(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await asking.ask("rules.asked", 1, fields={"question": SENTENCE})
    form = await asking.form("rules.answer:1")
    await asking.ask("rules.set-aside:1")
    said = await asking.message(form.key, fields={"question": SENTENCE, "answer": "Yes, two in one go.\nNot three."})
    assert "dealt with already" in said.text and "> Yes, two in one go.\n> Not three." in said.text


async def test_nor_is_a_text_of_the_plan_when_something_else_in_its_form_is_wrong(begin: Begin) -> None:
    asking = await begin("drafting")
    form = await asking.form("plan.event", values=("bunting",))
    typed = {one.key: one.value for one in form.fields if isinstance(one, TextField)}
    assert len(typed["criteria"]) > LONG
    changed = {"cautions": "Nobody stands on a chair to see better.", "name": ""}
    said = await asking.message(form.key, fields={**typed, **changed})
    assert "Nothing was changed yet" in said.text and "> Nobody stands on a chair" in said.text
    assert said.text.count("\n> ") == 1 and not said.files, "what stands in the form when it opens again is not told"
