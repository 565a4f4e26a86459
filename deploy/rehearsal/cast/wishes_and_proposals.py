"""Somebody without a squad says in private with whom to be; the coach has squads proposed, which is answered."""

from __future__ import annotations

from deploy.rehearsal.cast import sign_up
from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, Step, in_office, walk
from deploy.rehearsal.cast.stage import NEWS, Stage
from deploy.rehearsal.phones.user_actions import Outcome

PROPOSE = ("People", "Propose squads", "Look")


async def wishes(stage: Stage, cast: Cast) -> None:
    """Somebody without a squad says in private with whom and with whom not, and needs a squad, and none, and one."""
    name = cast.last_lonely
    await sign_up.at_panel(stage, name, sign_up.LOOKING, "Who I want to be with", Pick("With"))
    await sign_up.at_panel(stage, name, sign_up.LOOKING, "Who I want to be with", Pick("Rather not with"))
    await sign_up.at_panel(stage, name, sign_up.LOOKING, "I don't need a squad")
    await sign_up.at_panel(stage, name, sign_up.LOOKING)


async def proposals(stage: Stage, cast: Cast) -> None:
    """The coach has squads proposed: one student says no to the first proposal, and yes to the second."""
    name = cast.last_lonely
    there = Pick("Propose something else for", (name,))
    for answer in ("No, thank you", "Yes, I agree"):
        made = (await in_office(stage, *PROPOSE)).shown()
        if answer.startswith("No"):
            made = (await walk(stage, COACH, made, there, Pick("Pick a squad"))).shown()
        await walk(stage, COACH, made, "Accept")
        await _my_squad(stage, name, answer)
        if answer.startswith("No"):
            await in_office(stage, "People", "Propose squads", "Drop it")
            await stage.wait(hours=2)


async def _my_squad(stage: Stage, name: str, *steps: Step) -> Outcome:
    phone = stage.phone(name)
    return await walk(stage, name, await stage.do(lambda: phone.command("/my-squad", room=NEWS)), *steps)


ALL = (wishes, proposals)
