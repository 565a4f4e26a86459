"""Why them? One squad's way from what was recorded to its total."""

from storage.records.message import Select
from tests.actions.conftest import Begin
from tests.actions.scored import whole


async def test_why_them_goes_from_what_was_recorded_to_the_total(begin: Begin) -> None:
    asking, squads = await whole(begin)
    pick = await asking.message("results.squads:0")
    select = next(row for row in pick.rows if isinstance(row, Select))
    assert [choice.label for choice in select.choices] == ["1 Crooked Spoons", "2 Muddy Teapots", "3 Sleepy Turnips"]
    message = await asking.message(select.key, values=(str(squads[1]),))
    assert message.text.startswith("**2 Muddy Teapots**: place 2, total")
    assert "attempt 1: 13 socks x 10 = 130 points" in message.text
    assert "130 points (best), of the best squad's = 92.9 %" in message.text
    assert "judge 2 (Judge 2): Written reasons 3, Fits the theme 2 = 8" in message.text
    total = message.text.split("total ")[1].split("\n")[0]
    assert f"= **{total}**\n-# Rounded for show" in message.text
    assert total in message.files[0].alt
    typed = await asking.message("results.squad", fields={"squad": "muddy teapots"})
    assert typed.text == message.text
