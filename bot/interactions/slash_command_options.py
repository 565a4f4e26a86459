"""What can be typed after a slash command: for each kind of options the function that the chat library calls."""

from collections.abc import Callable, Coroutine
from typing import Any

import discord
from discord import app_commands

from bot.interactions.router import InteractionRouter
from bot.rules.core.typed_reason import LONGEST_REASON, SHORTEST_REASON
from bot.rules.hand_in.member_parts import LONGEST, SHORTEST
from bot.rules.squads.find_student_or_squad import LONGEST as LONGEST_SEARCH
from bot.rules.squads.find_student_or_squad import SHORTEST as SHORTEST_SEARCH
from bot.rules.squads.join_and_link_codes import JOIN_CODE_LETTERS, JOIN_CODE_TYPED
from bot.words.core import slash_command_texts as words
from bot.words.core.action_keys import ActionKey, AnyKey
from bot.words.core.class_action_keys import ClassKey

Callback = Callable[..., Coroutine[Any, Any, None]]
Options = Callable[[InteractionRouter, ActionKey], Callback]
Suggested = list[app_commands.Choice[str]]


def nothing(router: InteractionRouter, action: ActionKey) -> Callback:
    """A command without options."""

    async def run(interaction: discord.Interaction) -> None:
        await router.command(interaction, action)

    return run


def join_code(router: InteractionRouter, action: ActionKey) -> Callback:
    """With a join code one joins that squad; without, the action shows the list."""

    @app_commands.describe(**words.JOIN_CODE)
    async def run(
        interaction: discord.Interaction,
        code: app_commands.Range[str, JOIN_CODE_LETTERS, JOIN_CODE_TYPED] | None = None,
    ) -> None:
        if code is None:
            await router.command(interaction, action)
        else:
            await router.command(interaction, ActionKey.SQUAD_JOIN_BY_CODE, code=code)

    return run


def own_part(router: InteractionRouter, action: ActionKey) -> Callback:
    """With a sentence or a photo the part is kept at once; with neither, the action opens the form."""

    @app_commands.describe(**words.OWN_PART)
    async def run(
        interaction: discord.Interaction,
        why: app_commands.Range[str, SHORTEST, LONGEST] | None = None,
        photo: discord.Attachment | None = None,
        piece: app_commands.Range[str, 1, 60] | None = None,
    ) -> None:
        if why is None and photo is None:
            await router.command(interaction, action)
        else:
            fields = {name: str(said) for name, said in (("why", why), ("piece", piece)) if said is not None}
            files = {"photo": photo} if photo else {}
            await router.deal(interaction, ActionKey.HAND_IN_SAVE, fields=fields, files=files)

    return run


def one_squad(router: InteractionRouter, action: ActionKey) -> Callback:
    """A squad, with suggestions."""

    @app_commands.describe(**words.ONE_SQUAD)
    @app_commands.autocomplete(squad=_suggesting(router, ActionKey.TABLE_SUGGEST_SQUAD))
    async def run(interaction: discord.Interaction, squad: app_commands.Range[str, 1, 100]) -> None:
        await router.command(interaction, action, squad=squad)

    return run


def one_of_us(router: InteractionRouter, action: ActionKey) -> Callback:
    """A student or a squad at once, with suggestions; without one, the action shows everyone in short."""

    @app_commands.describe(**words.ONE_OF_US)
    @app_commands.autocomplete(find=_suggesting(router, ClassKey.FIND_SUGGEST))
    async def run(
        interaction: discord.Interaction, find: app_commands.Range[str, SHORTEST_SEARCH, LONGEST_SEARCH] | None = None
    ) -> None:
        if find is None:
            await router.command(interaction, action)
        else:
            await router.command(interaction, ClassKey.FIND, find=find)

    return run


def one_attempt(router: InteractionRouter, action: ActionKey) -> Callback:
    """An attempt in one line."""

    @app_commands.describe(**words.ONE_ATTEMPT)
    @app_commands.autocomplete(
        squad=_suggesting(router, ActionKey.TABLE_SUGGEST_SQUAD),
        measure=_suggesting(router, ActionKey.TABLE_SUGGEST_MEASURE),
    )
    async def run(
        interaction: discord.Interaction,
        squad: app_commands.Range[str, 1, 100],
        measure: app_commands.Range[str, 1, 60],
        value: app_commands.Range[str, 1, 60],
    ) -> None:
        await router.command(interaction, action, squad=squad, measure=measure, value=value)

    return run


def part_of_office(router: InteractionRouter, action: ActionKey) -> Callback:
    """One part of the office at once, if one is chosen."""

    @app_commands.describe(**words.PART_OF_OFFICE)
    @app_commands.choices(
        part=[app_commands.Choice(name=name, value=part.value) for name, part in words.OFFICE_PARTS.items()]
    )
    async def run(interaction: discord.Interaction, part: app_commands.Choice[str] | None = None) -> None:
        await router.command(interaction, ActionKey(part.value) if part else action)

    return run


def plan_file(router: InteractionRouter, action: ActionKey) -> Callback:
    """With a plan file (and after the brief the reason) it is used; without one, the action shows the plan."""

    @app_commands.describe(**words.PLAN_FILE)
    async def run(
        interaction: discord.Interaction,
        file: discord.Attachment | None = None,
        reason: app_commands.Range[str, SHORTEST_REASON, LONGEST_REASON] | None = None,
    ) -> None:
        if file is None:
            await router.command(interaction, action)
        else:
            fields = {} if reason is None else {"reason": str(reason)}
            await router.deal(interaction, ActionKey.PLAN_USE, fields=fields, files={"plan": file})

    return run


def _suggesting(
    router: InteractionRouter, action: AnyKey
) -> Callable[[discord.Interaction, str], Coroutine[Any, Any, Suggested]]:
    async def suggest(interaction: discord.Interaction, typed: str) -> Suggested:
        return await router.suggest(interaction, action, typed)

    return suggest
