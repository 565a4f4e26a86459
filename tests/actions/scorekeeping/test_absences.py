"""A squad is noted as absent, or excused by a coach with a reason."""

from storage.records.message import RadioField
from tests.actions.conftest import Begin
from tests.actions.table_help import add_squads


async def test_absence_needs_no_attempt_and_excusing_needs_a_coach_and_a_reason(begin: Begin) -> None:
    asking = await begin("judging")
    squads = await add_squads(asking, 1)
    key = f"table.absence:run.socks:{squads[0]}"
    async with asking.store.write() as db:
        await db.run(
            "INSERT INTO officer (tryout_id, platform_id, name, role) VALUES (1, 300, 'Keeper', 'scorekeeper')"
        )
    form = await asking.form(f"table.absence:run.socks:{squads[0]}", 300)
    radio = next(field for field in form.fields if isinstance(field, RadioField))
    assert [choice.label for choice in radio.choices] == ["It takes part", "Absent"]
    refused = await asking.filled(key, 300, fields={"state": "excused", "reason": "ill"})
    assert "Only a coach can excuse" in refused.text
    assert "type a reason" in (await asking.filled(key, fields={"state": "excused"})).text
    assert "is excused from" in (await asking.filled(key, fields={"state": "excused", "reason": "A trip."})).text
    assert "of its mean: A trip.\n" in f"{(await asking.message(f'table.squad:run.socks:{squads[0]}')).text}\n"
    refused = await asking.message(f"table.save:run.socks:{squads[0]}:1:14:0")
    assert "noted as not taking part" in refused.text
    await asking.filled(key, fields={"state": "here"})
    await asking.ask(f"table.save:run.socks:{squads[0]}:1:14:0")
    assert "has an attempt on record" in (await asking.filled(key, fields={"state": "absent"})).text
