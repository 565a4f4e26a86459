"""The order is drawn so that anyone can recheck it."""

import re
from hashlib import sha256

from tests.actions.conftest import Begin, button
from tests.actions.event_day.day_cast import KEY, planned
from tests.actions.table_help import NAMES, labels


async def test_the_list_is_published_before_the_key_and_anyone_can_recompute_the_order(begin: Begin) -> None:
    asking = await planned(begin, 6)
    panel = await asking.message("day.panel")
    assert "Nothing is drawn yet" in panel.text
    await asking.message(button(panel, "Publish the list").key)
    (told,) = await asking.messages_to("news")
    pool = re.findall(r"^\d+\. (.+)$", told, re.MULTILINE)
    assert pool == list(NAMES)
    assert "five dice, rolled in front of the class" in told
    drawn = await asking.message("day.drawn", fields={"key": KEY})
    assert "Make the timetable" in labels(drawn)
    news = (await asking.messages_to("news"))[-1]
    # The way of RFC 3797 with SHA-256, written down once more from the published method.
    key, left, order = "1.2.4.4.6./", list(pool), []
    assert f"Key: `{key}`" in news
    for draw in range(len(pool)):
        index = draw.to_bytes(2)
        order.append(left.pop(int.from_bytes(sha256(index + key.encode() + index).digest()) % len(left)))
    assert re.findall(r"^\d+\. (.+)$", news, re.MULTILINE) == order


async def test_the_order_is_drawn_once(begin: Begin) -> None:
    asking = await planned(begin)
    assert "First the order is drawn" in (await asking.message("day.make")).text
    assert "First the order is drawn" in (await asking.message("day.key")).text
    await asking.ask("day.publish")
    assert "published already" in (await asking.message("day.publish")).text
    await asking.ask("day.drawn", fields={"key": KEY})
    assert "drawn already" in (await asking.message("day.drawn", fields={"key": "1"})).text
