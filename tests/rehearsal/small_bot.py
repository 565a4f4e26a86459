"""The smallest process that behaves like the bot towards its surroundings: gateway, clock, log, orderly end."""

from __future__ import annotations

import asyncio
import os
import signal
import sys

import aiohttp

AGENT = {"User-Agent": "DiscordBot (https://example.invalid, 1)"}


async def main() -> int:
    """Connect to gateway and clock and stay until told to end; "fail" as an argument ends at once."""
    if "fail" in sys.argv:
        print("the token is missing")
        return 3
    end = asyncio.Event()
    loop = asyncio.get_running_loop()
    loop.add_signal_handler(signal.SIGTERM, end.set)
    headers = AGENT | {"Authorization": f"Bot {os.environ['TENBELL_TOKEN']}"}
    async with aiohttp.ClientSession(headers=headers) as session:
        async with session.get(f"{os.environ['TENBELL_API']}/gateway") as response:
            address = (await response.json())["url"]
        gateway = await session.ws_connect(f"{address}?v=10&encoding=json")
        data = {"token": os.environ["TENBELL_TOKEN"], "intents": 1, "properties": {}}
        await gateway.send_json({"op": 2, "d": data})
        clock = await session.ws_connect(os.environ["TENBELL_CLOCK"])
        print("up, database", os.environ["TENBELL_DATABASE"], flush=True)

        async def keep_time() -> None:
            async for message in clock:
                await clock.send_json({"settled": message.json()["step"], "next": None})

        task = asyncio.create_task(keep_time())
        await end.wait()
        task.cancel()
        await gateway.close()
        await clock.close()
    print("down", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(asyncio.run(main()))
