"""What errors of the platform and of the network mean, made by the chat library itself."""

import aiohttp
import discord
import pytest

from bot.delivery.error_classification import Meaning, classify
from tests.delivery.server_view import Wire, answer, once, refusal


async def meaning_of(client: discord.Client, wire: Wire, *answers: object) -> tuple[Meaning, bool, float | None]:
    wire.channel(42)
    wire.before = once(*answers)  # type: ignore[arg-type]
    with pytest.raises(Exception) as caught:
        await client.get_partial_messageable(42).send("hello")
    trouble = classify(caught.value, client)
    return trouble.meaning, trouble.doubtful, trouble.wait


@pytest.mark.parametrize(
    ("status", "code", "meaning"),
    [
        (403, 50007, "closed"),
        (403, 50278, "closed"),
        (404, 10003, "gone"),
        (404, 10008, "deleted"),
        (403, 50001, "forbidden"),
        (403, 50013, "forbidden"),
        (403, 77777, "forbidden"),
        (404, 77777, "gone"),
        (400, 50035, "refused"),
        (400, 50083, "asleep"),
        (400, 160005, "asleep"),
        (429, 30046, "worn"),
        (403, 40003, "later"),
        (401, 0, "later"),
        (403, 0, "later"),
        (404, 0, "later"),
        (418, 0, "later"),
        (429, 20028, "later"),
    ],
)
async def test_every_refusal_has_a_meaning_and_none_is_doubtful(
    client: discord.Client, wire: Wire, status: int, code: int, meaning: Meaning
) -> None:
    """Codes: the platform's opcodes and status codes page."""
    assert (await meaning_of(client, wire, refusal(status, code)))[:2] == (meaning, False)


async def test_a_server_error_is_doubtful(client: discord.Client, wire: Wire) -> None:
    assert await meaning_of(client, wire, refusal(503, 0)) == ("later", True, None)


async def test_the_wait_that_the_platform_asks_for_is_read(client: discord.Client, wire: Wire) -> None:
    told = answer({"message": ""}, 429, **{"Retry-After": "12.5"})
    assert await meaning_of(client, wire, told) == ("later", False, 12.5)
    limited = answer({"message": "", "retry_after": 99.0}, 429, Via="1.1 proxy")
    assert await meaning_of(client, wire, limited) == ("later", False, 99.0)


@pytest.mark.parametrize("asked", ["1000000000", "inf", "nan"])
async def test_no_wait_is_longer_than_an_hour(client: discord.Client, wire: Wire, asked: str) -> None:
    told = answer({"message": ""}, 429, **{"Retry-After": asked})
    assert await meaning_of(client, wire, told) == ("later", False, 3600.0)


@pytest.mark.parametrize(
    "error",
    [aiohttp.ClientOSError(), aiohttp.ServerDisconnectedError(), ConnectionResetError(), TimeoutError()],
    ids=lambda error: type(error).__name__,
)
async def test_a_network_that_fails_is_doubtful(client: discord.Client, error: Exception) -> None:
    trouble = classify(error, client)
    assert (trouble.meaning, trouble.doubtful) == ("later", True)


async def test_anything_else_is_our_own_fault_unless_we_are_shutting_down(client: discord.Client) -> None:
    assert classify(KeyError("private words"), client).meaning == "fault"
    assert "private words" not in classify(KeyError("private words"), client).why
    await client.close()
    assert classify(RuntimeError("Session is closed"), client).meaning == "later"
