"""What is missing for the next step of a try-out, in words: what stands in its way, and what should be known first."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.calendar.step_facts import Lack
from bot.rules.core.refusal_reasons import Reason
from bot.rules.office.readiness import Step
from bot.words.core.buttons import BACK
from bot.words.core.lists_in_text import listing
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.office.server_channels import ROOMS
from storage.records.message import Message

REFUSALS = {
    Reason.STEP_OVER: "That step has been taken already. Open /office to see where the try-out stands.",
}
BEFORE: dict[Step, str] = {
    "open": "Before sign-up can open",
    "brief": "Before the brief goes out",
    "judge": "Before judging begins",
    "settle": "Before judging is closed",
    "announce": "Before the announcement",
    "archive": "Before it is put away",
}
_LACKS = {
    "rooms": "Choose the channels for {rooms}: button **Choose the channels** in the office.",
    "brief_past": "The date of the brief is past (<t:{brief}:F>): set new dates with **Dates**.",
    "signup_past": "Sign-up would be closed already (<t:{closes}:F>): set new dates with **Dates**.",
    "no_squads": "There is no squad yet.",
    "small": "Too small (fewer than {least} members): {squads}. Fill them, wait, let them be small, merge them or take "
    "them out: buttons **People**, **Squads**.",
    "waits": "These still have time to find members: {squads}. I will ask you when it is over.",
    "alone": "Students without a squad: {students}. Button **People**, then **Propose squads**.",
    "suspended": "In a squad, so students only, though they help to run this try-out or may manage this server: "
    "{students}. They can leave their squad; or take the right from them.",
    "no_judges": "There are no judges yet: button **Judges**.",
    "judges_wait": "Judges who have not yet let me write to them: {judges}. Button **Judges**.",
    "window_open": "The deadline comes by itself: <t:{deadline}:F>, <t:{deadline}:R>.",
    "sheets": "{open} of {all} score sheets are not handed in: button **Judges**.",
    "not_announced": "No result has been announced.",
    "protests_open": "Protests that are not settled: {number}. Button **Records**.",
    "protests": "Squads may protest until <t:{until}:F>. The result is final after that.",
}


def lack_lines(lacking: Sequence[Lack]) -> str:
    """What is missing, one line each."""
    return "\n".join(f"- {_lack(lack)}" for lack in lacking)


def worth_knowing(lacking: Sequence[Lack]) -> str:
    """What stands in nobody's way but should be known, under a heading of its own; empty when there is nothing."""
    return f"\n**Worth knowing first**\n{lack_lines(lacking)}" if lacking else ""


def _lack(lack: Lack) -> str:
    return _LACKS[lack.kind].format(**{name: _field(value) for name, value in lack.fields.items()})


def _field(value: object) -> object:
    """Instants as the seconds that the platform counts, names as a list in words."""
    if isinstance(value, datetime):
        return int(value.timestamp())
    if isinstance(value, tuple):
        return listing([ROOMS.get(name, escape(name)) for name in value])
    return value


def not_ready(step: Step, lacking: Sequence[Lack]) -> Message:
    """The step cannot be taken yet, and why."""
    blocking = [lack for lack in lacking if lack.blocks]
    return whole_message(f"**Not yet. {BEFORE[step]}:**\n{lack_lines(blocking)}", ((BACK,),))
