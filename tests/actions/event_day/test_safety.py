"""Safety lines are checked by name before the first run of each day, and a stop stops every start."""

from datetime import timedelta

from storage.records.plan import Event
from storage.tables import helpers
from tests.actions.conftest import Asking, Begin, button, small_plan
from tests.actions.table_help import add_squads, at_squad, labels, press

KEEPER = 801


async def careful(begin: Begin, **more: object) -> Asking:
    """The robot run has a safety line, too."""
    events: list[Event] = list(small_plan().events)
    events[0] = events[0].model_copy(update={"cautions": ("Sleeves back.",), **more})
    asking = await begin("judging", events=tuple(events))
    await add_squads(asking, 2)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, KEEPER, "Mr Lindqvist", "scorekeeper")
    return asking


async def pad_of(asking: Asking, squad: str = "1 Crooked Spoons") -> str:
    pad = await press(asking, await at_squad(asking, "run.socks", squad), "Run pad", who=KEEPER)
    return button(pad, "Start the clock").key


async def check(asking: Asking, start: str) -> None:
    lines = await asking.message(button(await asking.message(start, KEEPER), "Check the safety lines").key, KEEPER)
    assert "- Sleeves back." in lines.text
    assert "Our school's own rules come first" in lines.text
    await asking.ask(button(lines, "Checked by me, Mr Lindqvist").key, KEEPER)


async def test_the_first_run_of_a_day_starts_once_somebody_has_checked_by_name(begin: Begin) -> None:
    asking = await careful(begin)
    start = await pad_of(asking)
    assert "Before **Sock run** starts, somebody checks" in (await asking.message(start, KEEPER)).text
    await check(asking, start)
    assert "**Mr Lindqvist** has checked the safety lines of Sock run" in (await asking.messages_to("office"))[-1]
    assert "Started at" in (await asking.message(start, KEEPER)).text
    second = await pad_of(asking, "2 Muddy Teapots")
    assert "Started at" in (await asking.message(second, KEEPER)).text


async def test_the_next_day_it_is_checked_anew(begin: Begin) -> None:
    asking = await careful(begin)
    start = await pad_of(asking)
    await check(asking, start)
    asking.now += timedelta(days=1)
    assert "before the first run of a day" in (await asking.message(start, KEEPER)).text


async def test_stop_needs_a_reason_stops_every_start_and_a_coach_lets_it_go_on(begin: Begin) -> None:
    asking = await careful(begin)
    start = await pad_of(asking)
    await check(asking, start)
    card = await at_squad(asking, "run.socks", "1 Crooked Spoons")
    assert "STOP: danger" in labels(card)
    form = await asking.form(button(card, "STOP: danger").key, KEEPER)
    assert "in a few words why" in (await asking.message(form.key, KEEPER, fields={"reason": " "})).text
    said = await asking.message(form.key, KEEPER, fields={"reason": "A cable lies across the way."})
    assert "Sock run is stopped" in said.text
    assert "A cable lies across the way." in (await asking.messages_to("office"))[-1]
    assert "is stopped: A cable lies across the way." in (await asking.message(start, KEEPER)).text
    lift = "stop.lift:run"
    assert "Only a coach" in (await asking.message(lift, KEEPER)).text
    assert "goes on" in (await asking.message(lift)).text
    # What was checked before the stop is checked anew.
    assert "again after a stop" in (await asking.message(start, KEEPER)).text
    await check(asking, start)
    assert "Started at" in (await asking.message(start, KEEPER)).text


async def test_typing_a_result_is_never_in_the_way_of_a_check(begin: Begin) -> None:
    asking = await careful(begin)
    assert "Saved" in (await asking.message("table.save:run.socks:1:1:4:0", KEEPER)).text


async def test_an_event_without_safety_lines_has_neither_check_nor_stop(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1)
    card = await at_squad(asking, "run.socks", "1 Crooked Spoons")
    assert "STOP: danger" not in labels(card)
    assert "Started at" in (await press(asking, await press(asking, card, "Run pad"), "Start the clock")).text


async def test_a_secret_event_cannot_be_asked_about(begin: Begin) -> None:
    asking = await careful(begin)
    for key in ("safety.ask:chain", "safety.done:chain", "stop.ask:chain", "stop.done:chain"):
        assert "Paper chain" not in (await asking.message(key, KEEPER, fields={"reason": "because"})).text


async def test_a_start_that_is_refused_leads_to_what_is_missing_and_back_to_the_pad(begin: Begin) -> None:
    asking = await careful(begin, least_present=1)
    start = await pad_of(asking)
    lines = await press(asking, await asking.message(start, KEEPER), "Check the safety lines", who=KEEPER)
    checked = await press(asking, lines, "Checked by me, Mr Lindqvist", who=KEEPER)
    assert labels(checked)[0] == "Back to the pad"
    pad = await press(asking, checked, "Back to the pad", who=KEEPER)
    refused = await press(asking, pad, "Start the clock", who=KEEPER)
    assert "First tick who of the squad is here" in refused.text
    form = await asking.form(button(refused, "Who is here").key, KEEPER)
    card = await asking.message(form.key, KEEPER, fields={"here": "1 2"})
    assert labels(card)[0] == "Run pad"
    assert (
        "Started at"
        in (await press(asking, await press(asking, card, "Run pad", who=KEEPER), "Start the clock", who=KEEPER)).text
    )
