"""Two people open the same form with a stored text: whoever sends it later reads what stands now, and loses nothing."""

from collections.abc import Awaitable, Callable

import pytest

from storage.records.message import Form, TextField
from tests.actions.conftest import Asking, Begin, button
from tests.actions.plan.test_edit_events import CRITERIA
from tests.actions.questions_cast import ask, two_squads
from tests.actions.scored import whole

Opens = Callable[[Asking], Awaitable[Form]]
ONE, OTHER = "What the first coach has typed into it.", "What the second coach has typed into it."


async def feedback(begin: Begin) -> tuple[Asking, Opens, str]:
    asking, squads = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    return asking, lambda one: one.form(f"feedback.edit:{squads[0]}"), "text"


async def answer(begin: Begin) -> tuple[Asking, Opens, str]:
    asking = await two_squads(begin)
    await ask(asking)
    return asking, lambda one: one.form("rules.answer:1"), "answer"


async def unasked(begin: Begin) -> tuple[Asking, Opens, str]:
    return await two_squads(begin), lambda one: one.form("rules.unasked"), "answer"


async def brief(begin: Begin) -> tuple[Asking, Opens, str]:
    return await begin("drafting"), lambda one: one.form("plan.words"), "brief"


async def event(begin: Begin) -> tuple[Asking, Opens, str]:
    return await begin("drafting"), lambda one: one.form("plan.event", values=("bunting",)), "about"


async def absence(begin: Begin) -> tuple[Asking, Opens, str]:
    asking, squads = await whole(begin, state="judging")
    await asking.ask("table.undone:1:slip")
    return asking, lambda one: one.form(f"table.absence:run.socks:{squads[0]}"), "reason"


async def squad_name(begin: Begin) -> tuple[Asking, Opens, str]:
    asking = await two_squads(begin)
    return asking, lambda one: one.form("people.rename:1"), "squad"


def filled(form: Form, name: str, text: str) -> dict[str, str]:
    """The form as it opened, with one other text, as long as the others are long enough."""
    fields = {one.key: one.value for one in form.fields if isinstance(one, TextField)}
    if any(one.key == "state" for one in form.fields):
        fields["state"] = "absent"
    if "criteria" in fields:
        fields["criteria"] = CRITERIA
    return {key: value or "May we use tape for the wheels?" for key, value in fields.items()} | {name: text}


@pytest.mark.parametrize("scene", [feedback, answer, unasked, brief, event, absence, squad_name])
async def test_the_later_one_reads_what_stands_now_and_gets_back_what_was_typed(
    begin: Begin, scene: Callable[[Begin], Awaitable[tuple[Asking, Opens, str]]]
) -> None:
    asking, opens, name = await scene(begin)
    first, second = await opens(asking), await opens(asking)
    assert first.key == second.key
    await asking.ask(first.key, fields=filled(first, name, ONE))
    for late in (second.key, second.key.rpartition(":")[0]):
        told = await asking.message(late, fields=filled(second, name, OTHER))
        assert "this was changed after you had opened the form" in told.text, "also without what the form opened with"
        assert f"> {ONE}" in told.text and f"> {OTHER}" in told.text
        assert button(told, "Open it as it stands now").style == "main"
    again = await opens(asking)
    assert ONE in [one.value for one in again.fields if isinstance(one, TextField)], "the first one still stands"
    resent = await asking.message(first.key, fields=filled(first, name, ONE))
    assert "was changed after" not in resent.text, "whoever got no answer sends the same once more"
    said = await asking.message(again.key, fields=filled(again, name, OTHER))
    assert "was changed after" not in said.text
    assert OTHER in [one.value for one in (await opens(asking)).fields if isinstance(one, TextField)]


async def test_of_two_decisions_about_a_protest_the_second_is_not_taken_for_the_first(begin: Begin) -> None:
    asking, _ = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    text = {"text": "In our second run the sock on the rim was not counted."}
    await asking.ask("protest.filed", 10_000 + 100, fields=text)
    forms = [await asking.form(f"protests.why:1:{verdict}") for verdict in ("upheld", "rejected")]
    await asking.ask(forms[0].key, fields={"reason": "The photo shows it well"})
    told = await asking.message(forms[1].key, fields={"reason": "The sock lay outside of it"})
    assert "> The photo shows it well" in told.text and "> The sock lay outside of it" in told.text
    async with asking.store.read() as db:
        assert await db.value("SELECT verdict FROM protest") == "upheld"
