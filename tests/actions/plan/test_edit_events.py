"""Texts and criteria of an event changed by form, without a file."""

from storage.records.plan_measures import Rubric
from tests.actions.conftest import Begin
from tests.actions.plan.test_change_plan import in_window
from tests.actions.table_help import labels, select

CRITERIA = "Reasons: none | some | all\nFits the theme: no | half | yes\nOne idea: no | half | yes"


async def test_texts_and_criteria_of_an_event_change_and_keys_stay(begin: Begin) -> None:
    asking = await begin("drafting")
    shown = await asking.message("plan.events")
    form = await asking.form(select(shown).key, values=("bunting",))
    assert [field.label for field in form.fields] == [
        "Name", "What squads do", "Safety, one line each", "What judges look at, one line each"
    ]  # fmt: skip
    fields = {"name": "Flags", "about": "Make flags.", "cautions": "Sit.\n\nStand still.", "criteria": CRITERIA}
    await asking.ask(form.key, fields=fields)
    event = (await asking.tryout()).plan.events[1]
    assert (event.key, event.name, event.about, event.cautions) == (
        "bunting", "Flags", "Make flags.", ("Sit.", "Stand still.")
    )  # fmt: skip
    rubric = event.measures[0]
    assert isinstance(rubric, Rubric)
    assert [(one.key, one.name, int(one.weight)) for one in rubric.criteria] == [
        ("reasons", "Reasons", 2), ("theme", "Fits the theme", 1), ("line-1", "One idea", 1)
    ]  # fmt: skip


async def test_a_line_without_levels_and_an_empty_name_are_told(begin: Begin) -> None:
    asking = await begin("drafting")
    key = (await asking.form("plan.event", values=("bunting",))).key
    answer = await asking.message(key, fields={"name": "Flags", "criteria": "Reasons: none | some"})
    assert "3 to 6 levels with | between them" in answer.text
    empty = await asking.message(key, fields={"name": " ", "criteria": CRITERIA})
    assert "Nothing was changed" in empty.text and "`name` is empty" in empty.text
    assert "no such event" in (await asking.message("plan.event-kept:gone", fields={"name": "x"})).text


async def test_after_the_brief_texts_need_a_reason_and_the_structure_stays(begin: Begin) -> None:
    asking = await in_window(begin)
    shown = await asking.message("plan.events")
    assert labels(shown) == ["Back to the plan"]
    assert "The brief is out" in (await asking.filled("plan.renew", fields={"events": "Bridge = count"})).text
    key = (await asking.form("plan.event", values=("bunting",))).key
    same = "Reasons: 1 | 2 | 3 | 4\nFits the theme: 1 | 2 | 3 | 4"
    more = await asking.message(key, fields={"name": "Flags", "criteria": CRITERIA, "reason": "Too short"})
    assert "events, measures, criteria and their levels must stay" in more.text
    assert "needs a reason" in (await asking.message(key, fields={"name": "Flags", "criteria": same})).text
    sure = await asking.message(key, fields={"name": "Flags", "criteria": same, "reason": "A clearer name"})
    assert "Reason: A clearer name" in sure.text
