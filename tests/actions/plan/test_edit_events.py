"""Events, criteria and practice times made and changed by form, without a file."""

from storage.records.message import TextField
from storage.records.plan_measures import Number, Rubric
from tests.actions.conftest import Begin, button
from tests.actions.plan.test_begin_tryout import in_window
from tests.actions.table_help import labels, press, select

CRITERIA = "Reasons: none | some | all\nFits the theme: no | half | yes\nOne idea: no | half | yes"


async def test_a_new_set_of_events_is_made_by_form(begin: Begin) -> None:
    asking = await begin("drafting")
    shown = await press(asking, await asking.message("plan.panel"), "Events")
    form = await asking.form(button(shown, "New set of events").key)
    events, turns = form.fields
    assert isinstance(events, TextField) and isinstance(turns, TextField)
    assert events.value == "Sock run = count\nBunting = judges\nPaper chain = time"
    typed = {"events": "Bridge = number kg lower\nDebate = judges", "turns": "12:10, 15:40"}
    said = await asking.message(form.key, fields=typed)
    assert "These are the events now: Bridge, Debate." in said.text
    plan = (await asking.tryout()).plan
    assert [event.key for event in plan.events] == ["bridge", "debate"] == list(plan.tie_breaks)
    (mass,) = plan.events[0].measures
    assert isinstance(mass, Number) and (mass.unit, mass.better) == ("kg", "lower")
    assert plan.practice is not None and len(plan.practice.times) == 2


async def test_a_line_that_is_left_as_it_is_keeps_its_event_with_all_it_has(begin: Begin) -> None:
    """A surprise that a coach has set up stays one when another event is added to the list."""
    asking = await begin("drafting")
    before = {event.key: event for event in (await asking.tryout()).plan.events}
    typed = {"events": "Chain = time\nSock run = time\nPaper  chain = time\nBunting = judges, Bridge = count"}
    said = await asking.filled("plan.renew", fields=typed)
    assert "Pick **Chain**, **Sock run** and **Bridge** under **Events**" in said.text
    plan = (await asking.tryout()).plan
    assert [event.key for event in plan.events] == ["event-1", "sock-run", "chain", "bunting", "bridge"]
    assert plan.events[2:4] == (before["chain"], before["bunting"]) and plan.events[2].surprise
    assert plan.tie_breaks == ("bunting", "event-1", "sock-run", "chain", "bridge")
    twice = await asking.filled("plan.renew", fields={"events": "Paper chain = time\npaper chain = judges"})
    assert "Correct it" in labels(twice) and (await asking.tryout()).plan == plan


async def test_everything_wrong_in_the_form_is_said_and_nothing_changes(begin: Begin) -> None:
    asking = await begin("drafting")
    before = (await asking.tryout()).plan
    answer = await asking.filled("plan.renew", fields={"events": "Bridge = magic", "turns": "25:00"})
    assert "I cannot read this event: **Bridge = magic**" in answer.text and "25:00" in answer.text
    assert button(answer, "Correct it").key == "plan.renew"
    overlap = await asking.filled("plan.renew", fields={"events": "Bridge = count", "turns": "12:10, 12:15"})
    assert "before it is over" in overlap.text
    assert (await asking.tryout()).plan == before


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
