"""Events and practice times made by form, without a file."""

from storage.records.message import TextField
from storage.records.plan_measures import Number
from tests.actions.conftest import Begin, button
from tests.actions.table_help import labels, press


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
