"""The next step to the result is the filled button under the standings."""

from tests.actions.conftest import Begin
from tests.actions.results.test_hidden_until_close import main
from tests.actions.scored import preview, settle, whole


async def test_when_all_is_in_and_still_sealed_the_filled_button_closes_judging(begin: Begin) -> None:
    asking, _ = await whole(begin, state="judging")
    message = await preview(asking)
    assert message.text.startswith("**Complete**: all 3 squads can be ranked; nothing is missing.")
    assert main(message) == ["Close judging"] and not message.files


async def test_a_missing_attempt_makes_the_table_the_filled_button(begin: Begin) -> None:
    asking, _ = await whole(begin, state="judging")
    await asking.ask("table.undone:1:slip")
    await settle(asking)
    assert main(await preview(asking)) == ["Table"]
