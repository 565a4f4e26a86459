"""Letters: in order, once each, and what becomes of those that do not get through."""

import asyncio
from collections.abc import Awaitable, Callable
from datetime import timedelta
from typing import Any

import pytest
from aiohttp import web

import bot.clerk.retry  # noqa: F401 - registers the button
from bot.clerk.frame import ACTIONS, perform
from bot.words import delivery as words
from storage.records.message import Attachment, Say
from storage.records.request import Request
from storage.tables import judges, squads
from tests.post.town import NEWS, OFFICE, SIGNUP, Town
from tests.post.wire import RESET, SERVER, Json, answer, refusal

SENDING = "POST /channels/N/messages"
MINUTES = timedelta(minutes=10)


def once(*answers: web.Response, route: str = SENDING) -> Callable[[str, str, Json], Awaitable[Any]]:
    """Give these answers to the first requests on a route, and let the server act after that."""
    left = list(answers)

    async def trouble(method: str, path: str, body: Json) -> web.Response | None:
        return left.pop(0) if left and f"{method} {path}" == route else None

    return trouble


async def test_letters_arrive_in_order_in_every_room(place: Town) -> None:
    for number in range(8):
        await place.queue("news", f"news {number}")
        await place.queue("signup", f"signup {number}")
    await place.deliver()
    assert place.wire.texts(NEWS) == [f"news {number}" for number in range(8)]
    assert place.wire.texts(SIGNUP) == [f"signup {number}" for number in range(8)]


async def test_rooms_are_served_side_by_side_but_not_all_at_once(place: Town) -> None:
    ids = [await place.squad(f"s{number}") for number in range(8)]
    await place.deliver()
    for squad_id in ids:
        await place.queue(f"squad/{squad_id}", "hello")
    now = most = 0

    async def count(method: str, path: str, body: Json) -> None:
        nonlocal now, most
        now += 1
        most = max(most, now)
        await asyncio.sleep(0.03)
        now -= 1

    place.wire.before = count
    await place.deliver()
    assert most == 4
    assert place.wire.requests[SENDING] == 8


async def test_one_room_that_hangs_does_not_hold_up_the_others(place: Town) -> None:
    await place.queue("news", "slow")
    other = await place.queue("signup", "quick")
    release = asyncio.Event()

    async def hang(method: str, path: str, body: Json) -> None:
        if body.get("content") == "slow":
            await release.wait()

    place.wire.before = hang
    async with place.post() as opened:
        async with asyncio.timeout(5):
            while (await place.letter(other)).state != "sent":  # noqa: ASYNC110 - the database has no event
                await asyncio.sleep(0.01)
        assert place.wire.texts(NEWS) == []
        release.set()
        await opened.quiet()
    assert place.wire.texts(NEWS) == ["slow"]


async def test_a_letter_carries_its_files_and_its_own_nonce(place: Town) -> None:
    letter_id = await place.queue("news", "see", files=(Attachment(name="a.png", data=b"PNG", alt="A"),))
    await place.deliver()
    (stands,) = place.wire.rooms[NEWS]
    letter = await place.letter(letter_id)
    assert stands["attachments"][0]["filename"] == "a.png"
    assert stands["nonce"] == letter.nonce and len(letter.nonce) <= 25
    assert (letter.state, letter.message_id, letter.room_id) == ("sent", int(stands["id"]), NEWS)


@pytest.mark.parametrize("acted", [False, True], ids=["before the server acted", "after the server acted"])
async def test_a_server_error_never_doubles_and_never_loses(place: Town, acted: bool) -> None:
    place.wire.remembers_nonces = False
    setattr(place.wire, "after" if acted else "before", once(refusal(503, 0), refusal(503, 0)))
    for number in range(3):
        await place.queue("news", f"news {number}", files=(Attachment(name="a.png", data=b"PNG"),))
    await place.queue("signup", "other")
    await place.deliver(within=MINUTES)
    assert place.wire.texts(NEWS) == ["news 0", "news 1", "news 2"]
    assert place.wire.texts(SIGNUP) == ["other"]


@pytest.mark.parametrize("acted", [False, True], ids=["before the server acted", "after the server acted"])
@pytest.mark.parametrize("tells_nonces", [False, True])
async def test_a_reset_connection_never_doubles_and_never_loses(place: Town, acted: bool, tells_nonces: bool) -> None:
    place.wire.remembers_nonces, place.wire.tells_nonces = False, tells_nonces
    setattr(place.wire, "after" if acted else "before", once(RESET, RESET))
    for _ in range(3):
        await place.queue("news", "the very same words")
    await place.deliver(within=MINUTES)
    assert place.wire.texts(NEWS) == ["the very same words"] * 3


async def test_a_look_that_is_put_off_is_still_needed_afterwards(place: Town) -> None:
    place.wire.remembers_nonces = False
    place.wire.after = once(RESET)
    haste = [answer({"message": "slow down"}, 429) for _ in range(2)]
    place.wire.before = once(*haste, route="GET /channels/N/messages")
    await place.queue("news", "hello")
    await place.deliver(within=MINUTES)
    assert place.wire.texts(NEWS) == ["hello"]
    assert place.wire.requests["GET /channels/N/messages"] == 3


async def test_a_refusal_for_haste_is_waited_out_by_the_clock(place: Town) -> None:
    place.wire.before = once(answer({"message": "slow down", "retry_after": 40.0}, 429, **{"Retry-After": "40"}))
    letter_id = await place.queue("news", "hello")
    await place.queue("signup", "other")
    await place.deliver()
    letter = await place.letter(letter_id)
    assert letter.state == "queued" and letter.not_before == place.clock.at + timedelta(seconds=40)
    assert place.clock.wish is None, "a post that has stopped wishes nothing"
    assert place.wire.texts(SIGNUP) == ["other"]
    await place.deliver(within=timedelta(seconds=39))
    assert place.wire.texts(NEWS) == []
    await place.deliver(within=timedelta(seconds=41))
    assert place.wire.texts(NEWS) == ["hello"]


async def test_a_short_rate_limit_is_waited_out_by_the_library(place: Town) -> None:
    place.wire.before = once(answer({"message": "", "retry_after": 0.05, "global": True}, 429, Via="1.1 proxy"))
    await place.queue("news", "hello")
    await place.deliver()
    assert place.wire.texts(NEWS) == ["hello"]


async def test_a_long_rate_limit_is_put_off_and_not_slept_out(place: Town) -> None:
    place.wire.before = once(answer({"message": "", "retry_after": 300.0, "global": False}, 429, Via="1.1 proxy"))
    letter_id = await place.queue("news", "hello")
    await place.deliver()
    assert (await place.letter(letter_id)).not_before == place.clock.at + timedelta(seconds=300)
    await place.deliver(within=MINUTES)
    assert place.wire.texts(NEWS) == ["hello"]


async def test_waiting_grows_with_every_try_up_to_five_minutes(place: Town) -> None:
    place.wire.before = once(*[refusal(503, 0) for _ in range(12)])
    letter_id = await place.queue("news", "hello")
    waits = []
    async with place.post() as opened:
        await opened.quiet()
        while (await place.letter(letter_id)).state != "sent":
            assert place.clock.wish is not None
            waits.append((place.clock.wish - place.clock.at).total_seconds())
            place.clock.move(place.clock.wish)
            await opened.quiet()
    assert waits == [1, 2, 4, 8, 16, 32, 64, 128, 256, 300, 300, 300]
    assert place.wire.texts(NEWS) == ["hello"]


@pytest.mark.parametrize(
    ("status", "code", "cause"),
    [(403, 50013, "forbidden"), (403, 50001, "forbidden"), (404, 10003, "gone"), (400, 50035, "refused")],
)
async def test_what_cannot_be_delivered_is_told_once_and_the_rest_goes_on(
    place: Town, status: int, code: int, cause: str
) -> None:
    async def refuse(method: str, path: str, body: Json) -> web.Response | None:
        return refusal(status, code) if body.get("content", "").startswith("bad") else None

    place.wire.before = refuse
    bad = [await place.queue("news", f"bad {number}") for number in range(3)]
    await place.queue("news", "good")
    await place.queue("signup", "other")
    await place.deliver(within=MINUTES)
    assert [(await place.letter(letter_id)).state for letter_id in bad] == ["failed"] * 3
    assert (await place.letter(bad[0])).why == cause
    assert place.wire.texts(NEWS) == ["good"] and place.wire.texts(SIGNUP) == ["other"]
    assert place.told() == [words.trouble(cause, f"the news channel <#{NEWS}>").text]
    assert place.wire.requests[SENDING] == 6, "nothing that was refused is tried again"


async def test_the_coach_is_told_again_when_a_mended_trouble_comes_back(place: Town) -> None:
    place.wire.before = once(refusal(403, 50013))
    await place.queue("news", "one")
    await place.deliver()
    await place.queue("news", "two")
    await place.deliver()
    place.wire.before = once(refusal(403, 50013))
    await place.queue("news", "three")
    await place.deliver()
    assert place.wire.texts(NEWS) == ["two"]
    assert len(place.told()) == 2


async def test_what_failed_is_delivered_in_order_once_the_coach_has_mended_it(place: Town) -> None:
    """The button stands below what the coach was told."""

    async def closed(method: str, path: str, body: Json) -> web.Response | None:
        return refusal(403, 50013) if body.get("content", "").startswith("news") else None

    place.wire.before = closed
    late = await place.queue("news", "news 0", stale_after=place.clock.at + timedelta(minutes=5))
    await place.queue("news", "news 1")
    await place.queue("news", "news 2")
    await place.deliver()
    place.wire.before = None
    place.clock.move(MINUTES)
    (told,) = place.wire.rooms[OFFICE]
    pressed = told["components"][0]["components"][0]["custom_id"]
    request = Request(id=1, at=place.clock.at, who=100, name="Coach", server_id=SERVER, manages_server=True)
    answer = await perform(place.store, ACTIONS[pressed], request)
    assert isinstance(answer, Say) and "2 messages" in answer.message.text
    await place.queue("news", "news 3")
    await place.deliver()
    assert place.wire.texts(NEWS) == ["news 1", "news 2", "news 3"]
    assert (await place.letter(late)).state == "failed"
    refused = await perform(
        place.store, ACTIONS[pressed], request.model_copy(update={"id": 2, "manages_server": False})
    )
    assert isinstance(refused, Say) and "Only a coach" in refused.message.text


async def test_trouble_with_the_office_itself_tells_nobody_and_never_goes_round(place: Town) -> None:
    del place.wire.rooms[OFFICE]
    letter_id = await place.queue("office", "hello")
    await place.deliver(within=MINUTES)
    assert (await place.letter(letter_id)).state == "failed"
    assert place.wire.requests[SENDING] == 1


async def test_a_mistake_of_ours_is_tried_a_few_times_then_told_with_its_code(
    place: Town, caplog: pytest.LogCaptureFixture
) -> None:
    async def nonsense(method: str, path: str, body: Json) -> web.Response | None:
        return answer({"no": "message"}) if body.get("content") == "private words" else None

    place.wire.before = nonsense
    letter_id = await place.queue("news", "private words")
    await place.queue("signup", "other")
    await place.deliver(within=MINUTES)
    letter = await place.letter(letter_id)
    assert letter.state == "failed" and letter.why.startswith("fault ")
    assert place.wire.requests[SENDING] == 5 + 1 + 1
    (told,) = place.told()
    assert letter.why.removeprefix("fault ") in told
    assert "private words" not in caplog.text


async def test_a_letter_that_is_too_late_is_skipped_with_the_reason(place: Town) -> None:
    late = await place.queue("news", "late", stale_after=place.clock.at + timedelta(minutes=30))
    good = await place.queue("news", "good", stale_after=place.clock.at + timedelta(hours=3))
    place.clock.move(timedelta(hours=2))
    await place.deliver()
    assert ((await place.letter(late)).state, (await place.letter(late)).why) == ("skipped", "too-late")
    assert (await place.letter(good)).state == "sent"
    assert place.wire.texts(NEWS) == ["good"]


async def test_a_letter_to_a_squad_waits_for_its_room_and_withers_there(place: Town) -> None:
    squad_id = await place.squad("Mud Larks")
    async with place.store.write() as db:
        await db.run("UPDATE tryout SET rooms_json = '{}'")
    short = await place.queue(f"squad/{squad_id}", "short", stale_after=place.clock.at + timedelta(minutes=5))
    await place.queue(f"squad/{squad_id}", "long")
    await place.deliver(within=MINUTES)
    place.clock.move(MINUTES)
    await place.deliver()
    assert (await place.letter(short)).why == "too-late"
    async with place.store.write() as db:
        await db.run("""UPDATE tryout SET rooms_json = '{"squads": 52}'""")
    await place.deliver()
    assert place.wire.texts(await place.room_id(squad_id)) == ["long"]


async def test_letters_to_those_who_left_are_skipped(place: Town) -> None:
    squad_id, judge_id = await place.squad("Mud Larks"), await place.judge(70)
    letters = [await place.queue(to, "hello") for to in (f"squad/{squad_id}", f"judge/{judge_id}", "nobody/7")]
    async with place.store.write() as db:
        await squads.withdraw(db, squad_id)
        await judges.remove(db, judge_id)
    await place.deliver()
    assert [(await place.letter(one)).why for one in letters] == ["withdrawn", "removed", "nowhere"]


async def test_judges_are_written_to_only_once_they_asked_for_it(place: Town) -> None:
    judge_id = await place.judge(70, agreed=False)
    await place.queue(f"judge/{judge_id}", "hello")
    await place.deliver(within=MINUTES)
    assert place.wire.requests["POST /users/@me/channels"] == 0
    async with place.store.write() as db:
        await judges.opt_in(db, judge_id, "Judge", place.clock.at)
    await place.deliver()
    assert place.wire.texts(place.wire.directs[70]) == ["hello"]


async def test_stopping_finishes_what_is_being_sent(place: Town) -> None:
    letter_id = await place.queue("news", "one")
    await place.queue("news", "two")
    arrived = asyncio.Event()

    async def slow(method: str, path: str, body: Json) -> None:
        arrived.set()
        await asyncio.sleep(0.3)

    place.wire.before = slow
    async with place.post():
        await arrived.wait()
    assert (await place.letter(letter_id)).state == "sent"
    assert place.wire.texts(NEWS) == ["one"], "the next one stays in the outbox"


async def test_a_disk_that_cannot_be_written_for_a_while_stops_nothing_for_good(place: Town) -> None:
    await place.queue("news", "hello")
    await place.store._writer.execute("PRAGMA query_only = ON")
    async with place.post() as opened:
        await opened.quiet()
        assert place.wire.texts(NEWS) == []
        await place.store._writer.execute("PRAGMA query_only = OFF")
        await place.settle(opened, MINUTES)
    assert place.wire.texts(NEWS) == ["hello"]
