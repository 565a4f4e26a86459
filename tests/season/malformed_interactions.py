"""Malformed presses, forms and commands for the real bot: whatever a client or an old message sends, all are answered.

Each event is one that the class server would send, about any action there is, with keys, choices, forms and options
that nobody should have sent; then, one time in two, a part of the event itself is gone, of another kind, or huge. Two
sorts: in the first, what an answer needs (id, token, kind) is whole, and an answer must come; in the second, anything
may be broken, and the bot must live.
"""

import asyncio
import copy
import random
import re
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from bot.words.core.custom_ids import ALL_KEYS
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.wire.guild_objects import user_shape
from deploy.rehearsal.wire.interaction_events import COMMAND, COMPONENT, FORM_SENT, Interaction
from deploy.rehearsal.world.state import Message, Person, Room
from tests.bench.judging_school import judge_names, judging_school
from tests.bench.timed_programs import BOT, running

Json = dict[str, Any]
SECRET = "Zq7Zq7"
"""Stands in what people type, and so must never stand in the log."""
ODD: tuple[Any, ...] = (
    "", " ", "x", "-1", "0", "1", "2", "7", "999999", str(2**63), "9" * 400, "1e9999999", "NaN", "\u0661", "None",
    f"{SECRET} https://evil.example \u202e\u200b @everyone", "a" * 5000, "\x00\x1b[2J", "\ud800", "bunting",
    "bunting.bunting", "sock-run.socks", "news", "coach/1",
)  # fmt: skip
BROKEN: tuple[Any, ...] = (None, True, 0, -1, 2**70, 1.5, "", "x", "9" * 50, [], [None], {}, {"id": None}, [[]] * 3)
FIELDS = (
    "squad", "name", "section", "code", "why", "reason", "question", "answer", "what", "days", "text", "value", "typed",
    "measure", "date", "time", "sizes", "weights", "sample", "state", "level-reasons", "deductions", "judge", "key",
)  # fmt: skip
JUDGES = 4
"""Who press beside the coach."""
AT_ONCE = 40
ANSWER_S = 6.0
"""So long the machine may take for the answers to one batch; the three seconds are judged elsewhere."""


@dataclass
class Tally:
    """What became of the events."""

    sent: int = 0
    answered: int = 0
    unanswered: list[Json] = field(default_factory=list)
    broken: int = 0
    faults: Counter[str] = field(default_factory=Counter)
    quoted: int = 0
    rss_mib: list[float] = field(default_factory=list)
    violations: list[str] = field(default_factory=list)
    alive: bool = False

    @property
    def good(self) -> bool:
        """Whether everybody was answered, nothing was our fault, nobody was quoted, and the bot lives."""
        return self.alive and not (self.unanswered or self.faults or self.quoted or self.violations)

    @property
    def growth_mib(self) -> float:
        """How much memory was taken on since a third of the events had been dealt with."""
        return self.rss_mib[-1] - self.rss_mib[len(self.rss_mib) // 3] if self.rss_mib else 0.0

    def __str__(self) -> str:
        return (
            f"{self.sent} events, {self.broken} of them broken: {self.answered} answered, "
            f"{len(self.unanswered)} unanswered, {sum(self.faults.values())} faults {dict(self.faults)}, "
            f"{self.quoted} lines of the log quote people, {len(self.violations)} wrong requests, memory "
            f"{min(self.rss_mib, default=0):.0f} to {max(self.rss_mib, default=0):.0f} MiB "
            f"({self.growth_mib:+.1f} in the last two thirds), {'alive' if self.alive else 'DEAD'}"
        )


class Mutations:
    """Makes events; the same for the same seed."""

    def __init__(self, seed: int, server: ClassServer) -> None:
        self._dice = random.Random(seed)
        self._server = server
        self._keys = sorted(ALL_KEYS)
        world = server.world
        self._people = [world.person(name) for name in ("Ms Holloway", *judge_names(JUDGES))]
        self._people.append(world.add_person("Mallory Pike"))
        self._rooms = [world.room(name) for name in ("signup", "news", "squads", "office")]

    def event(self) -> tuple[Interaction, Json, bool]:
        """One event, its payload, and whether it can be answered at all."""
        dice = self._dice
        person: Person = dice.choice(self._people)
        direct = dice.random() < 0.2
        room: Room = self._server.world.direct_room(person) if direct else dice.choice(self._rooms)
        kind = dice.choice((COMPONENT, COMPONENT, FORM_SENT, COMMAND))
        if direct and kind == COMMAND:
            kind = COMPONENT
        message = self._message(room) if kind == COMPONENT or dice.random() < 0.3 else None
        if kind == COMPONENT and message is None:
            kind = FORM_SENT
        data = {COMPONENT: self._pressed, FORM_SENT: self._form, COMMAND: self._command}[kind]()
        interaction = self._server.interactions.open(kind, person, room, data, None if kind == COMMAND else message)
        interaction.opened_by = _command_of(interaction)
        payload = copy.deepcopy(self._server.interactions.events.create(interaction))
        sort = dice.random()
        if sort < 0.5:
            return interaction, payload, True
        if sort < 0.9:
            for _ in range(dice.randint(1, 3)):
                self._break(payload["data"])
            return interaction, payload, True
        for _ in range(dice.randint(1, 3)):
            self._break(payload)
        return interaction, payload, False

    def _message(self, room: Room) -> Message | None:
        there = [one for one in room.messages.values() if not one.deleted and one.only_for is None]
        return self._dice.choice(there) if there else None

    def _key(self) -> str:
        parts = [str(self._dice.choice(self._keys)), *self._words(self._dice.choice((0, 1, 1, 2, 2, 3, 4, 6)))]
        return ":".join(parts) if self._dice.random() < 0.95 else self._dice.choice(ODD)

    def _words(self, count: int) -> list[str]:
        return [self._dice.choice(ODD) for _ in range(count)]

    def _pressed(self) -> Json:
        data: Json = {"custom_id": self._key(), "component_type": self._dice.choice((2, 2, 3, 5, 8)), "id": 1}
        if data["component_type"] != 2:
            data["values"] = self._words(self._dice.randint(0, 3))
            data["resolved"] = {"users": {}, "members": {}, "channels": {}}
        return data

    def _form(self) -> Json:
        parts: list[Json] = []
        for number, name in enumerate(self._dice.sample(FIELDS, self._dice.randint(0, 5)), start=1):
            part: Json = {"custom_id": name, "id": 10 + number, "type": self._dice.choice((4, 21, 3))}
            part |= {"values": self._words(1)} if part["type"] == 3 else {"value": self._dice.choice(ODD)}
            parts.append({"type": 18, "id": number, "component": part})
        return {"custom_id": self._key(), "components": parts, "resolved": {}}

    def _command(self) -> Json:
        commands = [one for found in self._server.world.commands.values() for one in found]
        command = self._dice.choice(commands)
        options = list(self._options(command.get("options") or []))
        return {"id": command["id"], "name": command["name"], "type": 1, "options": options}

    def _options(self, known: list[Json]) -> Iterator[Json]:
        nested = [one for one in known if one["type"] in (1, 2)]
        if nested:
            one = self._dice.choice(nested)
            yield {"type": one["type"], "name": one["name"], "options": list(self._options(one.get("options") or []))}
            return
        for one in known:
            if self._dice.random() < 0.8:
                value: Any = self._dice.choice(ODD if one["type"] in (3, 6, 7) else (1, -1, 2**53, True, 0.5))
                yield {"type": one["type"], "name": one["name"], "value": value}

    def _break(self, part: Any) -> None:
        """Take away, replace or double something somewhere below."""
        while isinstance(part, dict | list) and part:
            where: Any = self._dice.choice(list(part) if isinstance(part, dict) else range(len(part)))
            below = part[where]
            if isinstance(below, dict | list) and below and self._dice.random() < 0.7:
                part = below
                continue
            if self._dice.random() < 0.4:
                del part[where]
            else:
                part[where] = copy.deepcopy(self._dice.choice((*BROKEN, *ODD)))
            return


async def send_mutated(count: int, seed: int, folder: Path) -> Tally:
    """Send so many malformed events to a bot of its own, in batches, and say what became of them."""
    tally = Tally()
    async with judging_school(folder / "tenbell.db", JUDGES) as server, running(server, BOT, folder) as bot:
        server.machine.watch(bot.pid)
        mutations = Mutations(seed, server)
        await _commands(server)
        while tally.sent < count:
            batch = [mutations.event() for _ in range(min(AT_ONCE, count - tally.sent))]
            for interaction, payload, _ in batch:
                _emit(server, interaction, payload)
            due = [(interaction, payload) for interaction, payload, can in batch if can]
            await server.machine.within(ANSWER_S, _all_answered([one for one, _ in due]))
            tally.sent += len(batch)
            tally.broken += len(batch) - len(due)
            tally.answered += sum(one.answered.is_set() for one, _ in due)
            tally.unanswered += [payload for one, payload in due if not one.answered.is_set()]
            rss = bot.rss_mib()
            tally.rss_mib += [] if rss is None else [rss]
        tally.alive = await _answers(server)
        tally.violations = [str(one) for one in server.request_log.violations]
    log = (folder / "program.log").read_text("utf-8", errors="replace").splitlines()
    tally.faults.update(line.partition("fault ")[2].split(":")[0] for line in log if " fault " in line)
    tally.quoted = sum(SECRET in line or "evil.example" in line for line in log)
    return tally


def _emit(server: ClassServer, interaction: Interaction, payload: Json) -> None:
    interaction.sent = asyncio.get_running_loop().time()
    interaction.answer_until = server.machine.now() + ANSWER_S
    server.gateway.emit("INTERACTION_CREATE", payload)


async def _all_answered(waiting: list[Interaction]) -> None:
    for one in waiting:
        await one.answered.wait()


def _command_of(interaction: Interaction) -> Json:
    """What a form says of the command that opened it."""
    shape: Json = {"id": str(interaction.id), "type": COMMAND, "user": user_shape(interaction.person)}
    return shape | {"authorizing_integration_owners": {}, "name": "office"}


async def _commands(server: ClassServer) -> None:
    for _ in range(200):
        if any(server.world.commands.values()):
            return
        await server.machine.sleep(0.05)
    raise TimeoutError("the bot has not told its commands within 10 seconds")


async def _answers(server: ClassServer) -> bool:
    """Whether an ordinary press is answered."""
    coach, office = server.world.person("Ms Holloway"), server.world.room("office")
    data = {"custom_id": "office", "components": []}
    interaction = server.interactions.open(FORM_SENT, coach, office, data)
    interaction.opened_by = _command_of(interaction)
    server.interactions.send(interaction)
    return await server.machine.within(ANSWER_S, interaction.answered.wait())


def _faults(log: str) -> str:
    """The first fault of each kind, with where it happened."""
    parts = re.split(r"\n(?=\d{4}-)", log)
    kinds = {part.partition(" fault ")[2][:6]: part for part in reversed(parts) if " fault " in part}
    return "\n".join(kinds.values())


def report(count: int, seed: int) -> int:
    """Send so many events and print what became of them; 1 when anything was wrong."""
    with tempfile.TemporaryDirectory() as folder:
        tally = asyncio.run(send_mutated(count, seed, Path(folder)))
        if tally.faults:
            print(_faults((Path(folder) / "program.log").read_text("utf-8", errors="replace")))
    for payload in tally.unanswered[:5]:
        print("unanswered:", payload["type"], payload["data"])
    for wrong in tally.violations:
        print("wrong request:", wrong)
    print(tally)
    return int(not tally.good)
