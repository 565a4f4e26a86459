"""A student who presses a button of the real program, as soon as somebody listens."""

import asyncio

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome, together
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.gateway_sessions import Line
from tests.bench.school import student

BACK_S = 120.0
"""So soon after the network we are back, on a busy machine too."""


async def asks(server: ClassServer) -> Outcome:
    """A student presses a button, once there is one and somebody listens."""
    phone = Phone(server, student(0))
    async with asyncio.timeout(BACK_S):
        while True:
            await server.gateway.identified.wait()
            try:
                panel = phone.with_button("signup", "My squad")
                (outcome,) = await together(phone.press(panel, "My squad"))
                return outcome
            except CastMistake:
                await asyncio.sleep(0.05)


def line_of(server: ClassServer) -> Line:
    return next(session.line for session in server.gateway.sessions.values() if session.line is not None)
