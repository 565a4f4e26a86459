"""What a person does, and what comes back to that person."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Generator
from dataclasses import dataclass
from typing import Any

from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.interactions import DEFER, DEFER_UPDATE, OPEN_FORM, SUGGESTIONS, UPDATE
from deploy.rehearsal.wire.forms import Form
from deploy.rehearsal.wire.interaction_events import Interaction
from deploy.rehearsal.wire.rendering import Shown, show
from deploy.rehearsal.world.state import LOADING, Message

PATIENCE_AFTER_DEFER_S = 20.0
QUIET_S = 0.25
"""How long to look for a change after a silent acknowledgement, when no shared clock tells that there is none."""
GRACE_S = 0.02
NO_ANSWER = "No answer came in time."
NEVER_FINISHED = "The answer was promised and never came."


class CastMistake(Exception):
    """The cast tried what no person could do: a label that is not there, a disabled button, a form left empty."""


@dataclass(frozen=True)
class Outcome:
    """What came back to the person who acted.

    `kind` is "private answer", "message", "update", "form", "suggestions", "nothing" (taken silently), or "failure".
    `more` holds further messages this person got from the same act.
    """

    kind: str
    message: Shown | None = None
    form: Form | None = None
    suggestions: tuple[tuple[str, Any], ...] = ()
    more: tuple[Shown, ...] = ()
    ack_ms: float | None = None
    failure: str = ""

    @property
    def failed(self) -> bool:
        """Whether the person saw the act fail."""
        return self.kind == "failure"

    @property
    def text(self) -> str:
        """Everything that can be read in the answer."""
        shown = [*([self.message] if self.message else []), *self.more]
        return "\n".join(message.text for message in shown) or self.failure

    def opened(self) -> Form:
        """Return the form that opened; raises `CastMistake` if something else came back."""
        if self.form is None:
            raise CastMistake(f"no form opened, but {self.kind}: {self.text!r}")
        return self.form

    def shown(self) -> Shown:
        """Return the message that came back; raises `CastMistake` if something else did."""
        if self.message is None:
            raise CastMistake(f"no message came back, but {self.kind}: {self.text!r}")
        return self.message


class Act:
    """One act of a person, prepared but not yet done; `await` it, or do several at one instant with `together`."""

    def __init__(self, server: ClassServer, begin: Callable[[], Interaction]) -> None:
        self._server = server
        self._begin = begin
        self._interaction: Interaction | None = None
        self._times = 1
        self._heard = True

    def __await__(self) -> Generator[Any, None, Outcome]:
        return self._run().__await__()

    def twice(self) -> Act:
        """Let the platform deliver the event twice, with the same identifier, as it may."""
        self._times = 2
        return self

    def begin(self) -> None:
        """Put the event on the gateway now."""
        self._interaction = self._begin()
        self._heard = self._server.gateway.reachable
        payload = self._server.interactions.send(self._interaction, times=self._times)
        self._server.request_log.event("INTERACTION_CREATE", payload)

    async def wait(self) -> None:
        """Wait as a person would: three seconds for the first answer, longer once one was promised."""
        interaction = self._sent()
        left = interaction.answer_until + GRACE_S - self._server.machine.now()
        await self._within(interaction.answered, left if self._heard else 0.0)
        if interaction.response is None:
            self._failed(interaction, NO_ANSWER)
        elif interaction.response == DEFER:
            await self._within(interaction.resolved, PATIENCE_AFTER_DEFER_S)
        elif interaction.response == DEFER_UPDATE and not self._server.clock.ever_connected:
            await self._within(interaction.resolved, QUIET_S)

    def outcome(self) -> Outcome:
        """Return what the person has seen by now."""
        interaction = self._sent()
        if interaction.response is None:
            return Outcome("failure", failure=NO_ANSWER)
        if interaction.response == OPEN_FORM:
            return Outcome("form", form=interaction.form, ack_ms=interaction.ack_ms)
        if interaction.response == SUGGESTIONS:
            found = tuple((choice["name"], choice["value"]) for choice in interaction.suggestions)
            return Outcome("suggestions", suggestions=found, ack_ms=interaction.ack_ms)
        original = interaction.original
        if original is not None and original.flags & LOADING:
            self._failed(interaction, NEVER_FINISHED)
            return Outcome("failure", failure=NEVER_FINISHED, ack_ms=interaction.ack_ms)
        more = tuple(self._show(message) for message in interaction.follow_ups if self._visible(message))
        if interaction.response == DEFER_UPDATE and not interaction.resolved.is_set():
            return Outcome("nothing", more=more, ack_ms=interaction.ack_ms)
        message = self._show(original) if original is not None and not original.deleted else None
        return Outcome(self._kind(interaction), message, more=more, ack_ms=interaction.ack_ms)

    async def _run(self) -> Outcome:
        return (await together(self))[0]

    def _kind(self, interaction: Interaction) -> str:
        if interaction.response in (UPDATE, DEFER_UPDATE):
            return "update"
        original = interaction.original
        return "private answer" if original is not None and original.only_for else "message"

    def _failed(self, interaction: Interaction, reason: str) -> None:
        self._server.transcript.private(interaction.person, interaction.room, "failure", {"text": reason})

    def _visible(self, message: Message) -> bool:
        return not message.deleted and message.only_for in (None, self._sent().person.id)

    def _show(self, message: Message) -> Shown:
        return show(self._server.world, message, self._sent().person.id)

    def _sent(self) -> Interaction:
        if self._interaction is None:
            raise CastMistake("this act was never begun: await it, or give it to together()")
        return self._interaction

    async def _within(self, event: asyncio.Event, seconds: float) -> None:
        await self._server.machine.within(seconds, event.wait())

    async def finish(self) -> None:
        """Let the class server settle after the act, when the bot shares its clock."""
        await self._server.clock.settle_if_shared()


async def together(*acts: Act) -> list[Outcome]:
    """Do all acts at one instant, in the given order, and return what came back to each person."""
    if not acts:
        return []
    for act in acts:
        act.begin()
    for act in acts:
        await act.wait()
    await acts[0].finish()
    return [act.outcome() for act in acts]
