"""Sealed judging: before the close nobody sees a mark, a total or an order."""

import pytest

import bot.actions.judging.judge_reminders  # noqa: F401
from storage.records.message import Message
from storage.tables import tryouts
from tests.actions.conftest import Asking, Begin, button
from tests.actions.scored import BUNTING, preview, record, start_surprise, whole
from tests.actions.table_help import add_judges, add_squads, hand_in

NOT_SHOWN = "Before judging is closed nobody can read totals or an order"


async def owing(begin: Begin, state: str = "judging") -> tuple[Asking, list[int], int]:
    """Three squads; the second judge owes the sheets of the last two squads."""
    asking = await begin(state)
    await start_surprise(asking)
    squads = await add_squads(asking, 3)
    await record(asking, squads, [14, 9, 3], [100, 120, 130])
    first, second = await add_judges(asking, 2)
    for squad in squads:
        for judge in (first, second):
            await hand_in(asking, judge, squad, "chain", "team", {"talk": 3})
        await hand_in(asking, first, squad, "bunting", "bunting", BUNTING)
    await hand_in(asking, second, squads[0], "bunting", "bunting", BUNTING)
    for squad in squads[1:]:
        await hand_in(asking, second, squad, "bunting", "bunting", {})
    return asking, squads, second


def main(message: Message) -> list[str]:
    """The labels of the filled buttons."""
    return [one.label for row in message.rows if isinstance(row, tuple) for one in row if one.style == "main"]


@pytest.mark.parametrize("state", ["window", "judging"])
async def test_no_path_leads_to_marks_totals_or_an_order_before_judging_closes(begin: Begin, state: str) -> None:
    asking, squads = await whole(begin, state="settled")
    order = await preview(asking)
    ranked = [line.split("** ")[1].split(" =")[0] for line in order.text.split("\n") if line[:1].isdigit()]
    assert len(ranked) == 3 and all(float(total) > 0 for total in ranked)
    async with asking.store.write() as db:
        await tryouts.set_state(db, 1, state)  # type: ignore[arg-type]
    paths: list[tuple[str, tuple[str, ...], dict[str, str]]] = [
        ("results.panel", (), {}),
        ("results.page:1", (), {}),
        ("results.firm", (), {}),
        ("results.judges:0", (), {}),
        ("results.squads:0", (), {}),
        ("results.squad", (str(squads[0]),), {}),
        ("results.squad", (), {"squad": "crooked spoons"}),
        (f"results.squad-page:1:{squads[0]}", (), {}),
        ("results.what-if", (), {}),
        ("results.tried", (), {"weights": "Sock run: 50"}),
        ("results.announce", (), {}),
        ("results.announced:0000000000000000", (), {}),
        ("offer.panel", (), {}),
        ("feedback.panel", (), {}),
        ("feedback.squad", (str(squads[0]),), {}),
    ]
    for path, values, fields in paths:
        shown = await asking.message(path, values=values, fields=fields)
        assert not shown.files, path
        assert not any(total in shown.text for total in ranked), (path, shown.text)
        assert "holds it" not in shown.text and "1\\." not in shown.text and "place 1" not in shown.text, path


async def test_while_sealed_the_coach_reads_who_owes_what_and_the_filled_button_reminds(begin: Begin) -> None:
    asking, _, _ = await owing(begin)
    message = await preview(asking)
    assert message.text.split("\n")[0] == "**NOT COMPLETE**: 2 of 3 squads cannot be ranked; judge 2 owes 2 sheets."
    assert NOT_SHOWN in message.text and "coaches included" in message.text
    assert "**Waiting** (2): Muddy Teapots, Sleepy Turnips" in message.text
    assert "Judge 2 (Judge 2) owes Bunting, Bunting: Muddy Teapots, Sleepy Turnips" in message.text
    assert main(message) == ["Remind judge 2"] and "**Next**: press **Remind judge 2**" in message.text
    assert button(message, "Announce").disabled
