"""Places by sections and a minimum, as the coach, the class and the squads read of them."""

from decimal import Decimal

from storage.records.plan import PlaceGroup
from tests.actions.conftest import Asking, Begin, small_plan
from tests.actions.scored import preview, settle
from tests.actions.table_help import add_squads

GROUPS = (PlaceGroup(sections=("7-A",), places=1), PlaceGroup(sections=("7-B",), places=1))


async def scored(begin: Begin, socks: tuple[int, ...], **changes: object) -> Asking:
    """One counted event of full marks at ten socks; the last squad is of the other section."""
    run = small_plan().events[0]
    measure = run.measures[0].model_copy(update={"scale": "maximum", "maximum": Decimal(100)})
    event = run.model_copy(update={"measures": (measure,)})
    asking = await begin("judging", events=(event,), tie_breaks=(), places=2, place_groups=GROUPS, **changes)
    squads = await add_squads(asking, len(socks))
    async with asking.store.write() as db:
        await db.run("UPDATE squad SET section = '7-B' WHERE id = ?", squads[-1])
    for squad, found in zip(squads, socks, strict=True):
        await asking.ask(f"table.save:run.socks:{squad}:1:{found}:0")
        await asking.ask(f"table.save:run.socks:{squad}:2:0:0")
    await settle(asking)
    return asking


async def test_the_preview_and_the_announcement_name_who_wins_in_which_section(begin: Begin) -> None:
    asking = await scored(begin, (9, 8, 3))
    text = (await preview(asking)).text
    assert "- 1 place for 7-A: **Crooked Spoons**" in text and "- 1 place for 7-B: **Sleepy Turnips**" in text
    assert "it is not worked out how other weights would move them" not in text  # a single event has no other weights
    said = (await asking.message("results.announce")).text
    assert "- 7-A: **Crooked Spoons**" in said and "- 7-B: **Sleepy Turnips**" in said
    assert "Muddy Teapots" not in said


async def test_a_place_that_nobody_reaches_stays_open_and_is_said_to(begin: Begin) -> None:
    asking = await scored(begin, (9, 8, 3), qualify=Decimal(50))
    left = "1 place stays open: no other squad that could win it has 50 points or more."
    text = (await preview(asking)).text
    assert left in text and "- 1 place for 7-B: nobody yet" in text
    said = (await asking.message("results.announce")).text
    assert "The place goes to **Crooked Spoons**." in said and left in said


async def test_nobody_at_all_reaches_the_minimum(begin: Begin) -> None:
    asking = await scored(begin, (4, 3, 2), qualify=Decimal(50))
    said = (await asking.message("results.announce")).text
    assert "2 places stay open: no other squad that could win it has 50 points or more." in said
    assert "go to" not in said and "Congratulations" not in said


async def test_students_read_for_whom_the_places_are_and_what_they_need(begin: Begin) -> None:
    asking = await begin("drafting", places=2, place_groups=GROUPS, qualify=Decimal("12.5"))
    panel = (await asking.message("plan.panel")).text
    assert "1 place for 7-A and 1 place for 7-B" in panel
    assert "A squad needs at least 12.5 points in total to win a place." in panel
    opened = (await asking.message("signup.ask")).text
    assert "These places can be won: 1 place for 7-A and 1 place for 7-B, on the team." in opened
