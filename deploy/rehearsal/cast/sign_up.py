"""A week of sign-up: squads form on phones, with the usual mishaps."""

from __future__ import annotations

import re
from functools import partial
from zlib import crc32

from deploy.rehearsal.cast.people import Cast, Group
from deploy.rehearsal.cast.press_sequence import Step, walk
from deploy.rehearsal.cast.stage import SIGN_UP, Stage
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Act, CastMistake, Outcome, together
from deploy.rehearsal.wire.forms import Form
from deploy.rehearsal.wire.rendering import Shown

START, JOIN, LOOKING, MINE = "Start a squad", "Join a squad", "I need a squad", "My squad"
SECTION = "Your section"
YOU_ARE_IN = "You are in"


def panel(phone: Phone) -> Shown:
    """The pinned sign-up message as this phone shows it now."""
    for shown in phone.pinned(SIGN_UP):
        if shown.buttons:
            return shown
    raise CastMistake(f"{phone.person.name} sees no sign-up message")


def section_here(form: Form, own: str) -> str:
    """Return a student's own section, or one that the form offers in its place where the coach has named others."""
    offered = form.field(SECTION)
    sections = [] if offered is None else [option.label for option in offered.options]
    return own if own in sections or not sections else sections[crc32(own.encode()) % len(sections)]


def _press_panel(phone: Phone, label: str) -> Act:
    return phone.press(panel(phone), label)


async def play(stage: Stage, cast: Cast) -> None:
    """Let every group found its squad and fill it, let the lonely look, and let a few things go wrong."""
    codes = {}
    for group in cast.groups:
        await stage.wait(minutes=stage.random.randint(10, 120))
        if group is cast.groups[1]:
            await _a_name_twice(stage, cast)
        codes[group.name] = await found(stage, group)
    await _five_thumbs(stage, cast, codes)
    for group in cast.groups:
        await stage.wait(minutes=stage.random.randint(10, 90))
        if group is not cast.brim:
            await _fill(stage, group, codes[group.name])
    await _a_full_squad(stage, cast, codes)
    await _second_thoughts(stage, cast, codes)
    await _captains(stage, cast, codes)
    await _the_lonely(stage, cast, codes)
    for group in cast.groups:
        for name in group.people:
            stage.remember(name, f"a seat in {group.name}", partial(is_in, stage, name, group.name))


async def my_squad(stage: Stage, name: str) -> str:
    """What a student reads under My squad."""
    phone = stage.phone(name)
    return (await stage.do(lambda: phone.press(panel(phone), MINE))).text


async def is_in(stage: Stage, name: str, squad: str) -> bool:
    """Whether a student can still see being in a squad."""
    return f"**{squad}**, section" in await my_squad(stage, name)


async def told_or_so(stage: Stage, outcome: Outcome, told: str, name: str, squad: str) -> None:
    """Take what was told as done; after an answer that never came, it may have been done all the same."""
    if told in outcome.text:
        stage.acknowledged += 1
    elif not (stage.rough and await is_in(stage, name, squad)):
        raise CastMistake(f"{name} was told {outcome.text!r}")


async def found(stage: Stage, group: Group) -> str:
    """Start a squad and return its join code."""
    captain = group.people[0]
    phone = stage.phone(captain)
    form = (await stage.do(lambda: phone.press(panel(phone), START))).opened()
    values = {"Name of your squad": group.name, "Your name": captain, SECTION: section_here(form, group.section)}
    outcome = await stage.do(lambda: phone.fill(form, values))
    await told_or_so(stage, outcome, "you are its captain", captain, group.name)
    text = outcome.text if "captain" in outcome.text else await my_squad(stage, captain)
    codes = re.findall(r"\*\*([A-Z]{5})\*\*", text)
    return str(codes[-1])


async def join_by_code(stage: Stage, name: str, squad: str, code: str) -> None:
    """Join with the code the captain read out."""
    phone = stage.phone(name)
    outcome = await stage.do(lambda: phone.command("/sign-up", {"code": code}, room=SIGN_UP))
    await told_or_so(stage, outcome, YOU_ARE_IN, name, squad)


async def join_from_list(stage: Stage, name: str, section: str, squad: str) -> None:
    """Say who you are, then pick the squad from the list."""
    phone = stage.phone(name)
    outcome = await stage.do(lambda: phone.press(panel(phone), JOIN))
    if outcome.form is not None:
        form = outcome.form
        outcome = await stage.do(lambda: phone.fill(form, {"Your name": name, SECTION: section}))
    listed = outcome.shown()
    outcome = await stage.do(lambda: phone.choose(listed, "Pick your squad", squad))
    await told_or_so(stage, outcome, YOU_ARE_IN, name, squad)


async def _fill(stage: Stage, group: Group, code: str) -> None:
    for number, name in enumerate(group.people[1:]):
        if number == 2 and not stage.rough:
            await _type_code(stage, name, group, code)
        elif number % 2:
            await join_by_code(stage, name, group.name, code)
        else:
            await join_from_list(stage, name, group.section, group.name)


async def _type_code(stage: Stage, name: str, group: Group, code: str) -> None:
    """Say who you are, and type the code into a form instead of picking the squad from the list."""
    phone = stage.phone(name)
    listed = await stage.do(lambda: phone.press(panel(phone), JOIN))
    outcome = await walk(stage, name, listed, {"Your name": name, SECTION: group.section}, "Type a join code")
    outcome = await walk(stage, name, outcome, {"Join code": code})
    await told_or_so(stage, outcome, YOU_ARE_IN, name, group.name)


async def _a_name_twice(stage: Stage, cast: Cast) -> None:
    """The second squad wants the name of the first, written with look-alike letters."""
    first, second = cast.groups[0], cast.groups[1]
    phone = stage.phone(second.people[0])
    opened = await stage.do(lambda: phone.press(panel(phone), START))
    twin = first.name.replace("o", "0")
    values = {"Name of your squad": twin, "Your name": second.people[0], SECTION: second.section}
    await stage.do(lambda: phone.fill(opened.opened(), values), told="Please pick another name")


async def _five_thumbs(stage: Stage, cast: Cast, codes: dict[str, str]) -> None:
    """One seat is left in a squad, and five press at the same moment: exactly one of them gets it."""
    brim = cast.brim
    for name in brim.people[1:-1]:
        await join_by_code(stage, name, brim.name, codes[brim.name])
    others = [group for group in cast.groups if group.section == brim.section and group is not brim]
    rivals = [name for group in others for name in group.people[1:]]
    thumbs = [brim.people[-1], *rivals[:4]]
    await stage.moment()
    options = {"code": codes[brim.name]}
    outcomes = await together(*(stage.phone(name).command("/sign-up", options, room=SIGN_UP) for name in thumbs))
    seated = [name for name, outcome in zip(thumbs, outcomes, strict=True) if YOU_ARE_IN in outcome.text]
    if stage.rough:
        seated = [name for name in thumbs if await is_in(stage, name, brim.name)]
        if not seated:
            await join_by_code(stage, thumbs[0], brim.name, codes[brim.name])
            seated = thumbs[:1]
    if len(seated) != 1:
        raise CastMistake(f"one seat was left and {len(seated)} of five got it")
    stage.acknowledged += 1
    cast.swap(thumbs[0], seated[0])


async def _a_full_squad(stage: Stage, cast: Cast, codes: dict[str, str]) -> None:
    """Somebody comes too late for a squad that is full."""
    seeker = next((name for name, section in cast.lonely.items() if section == cast.brim.section), None)
    if seeker is not None:
        phone = stage.phone(seeker)
        options = {"code": codes[cast.brim.name]}
        await stage.do(lambda: phone.command("/sign-up", options, room=SIGN_UP), told="is full")


async def _second_thoughts(stage: Stage, cast: Cast, codes: dict[str, str]) -> None:
    """Somebody leaves the fullest squad for another one of the section."""
    other = cast.groups[0]
    if other is cast.brim or other.section != cast.brim.section or len(cast.brim.people) <= cast.smallest:
        return
    name = cast.brim.people[-1]
    await _leave(stage, name, cast.brim.name)
    await join_by_code(stage, name, other.name, codes[other.name])
    cast.brim.people.remove(name)
    other.people.append(name)


async def _leave(stage: Stage, name: str, squad: str) -> None:
    phone = stage.phone(name)
    mine = await stage.do(lambda: phone.press(panel(phone), MINE))
    asked = await stage.do(lambda: phone.press(mine.shown(), "Leave"))
    outcome = await stage.do(lambda: phone.press(asked.shown(), "Yes, leave"))
    if "You have left" in outcome.text:
        stage.acknowledged += 1
    elif not stage.rough or await is_in(stage, name, squad):
        raise CastMistake(f"{name} was told {outcome.text!r}")


async def _captains(stage: Stage, cast: Cast, codes: dict[str, str]) -> None:
    """A captain hands over, one renames the squad, one removes a member by mistake, one leaves and comes back."""
    hands_over, renames, removes, leaves = (cast.groups[number % len(cast.groups)] for number in (3, 4, 6, 7))
    phone = stage.phone(hands_over.people[0])
    mine = await stage.do(lambda: phone.press(panel(phone), MINE))
    asked = await stage.do(lambda: phone.press(mine.shown(), "Make someone captain"))
    await stage.do(lambda: phone.choose(asked.shown(), "Pick a member", hands_over.people[1]))

    captain = stage.phone(renames.people[0])
    mine = await stage.do(lambda: captain.press(panel(captain), MINE))
    opened = await stage.do(lambda: captain.press(mine.shown(), "Rename"))
    name = f"{renames.name} Two"
    await stage.do(lambda: captain.fill(opened.opened(), {"New name": name}), told=f"now called **{name}**")
    codes[name] = codes.pop(renames.name)
    renames.name = name

    strict = stage.phone(removes.people[0])
    mine = await stage.do(lambda: strict.press(panel(strict), MINE))
    asked = await stage.do(lambda: strict.press(mine.shown(), "Remove a member"))
    sure = await stage.do(lambda: strict.choose(asked.shown(), "Pick a member", removes.people[-1]))
    await stage.do(lambda: strict.press(sure.shown(), "Yes, remove"))
    await join_by_code(stage, removes.people[-1], removes.name, codes[removes.name])

    await _leave(stage, leaves.people[0], leaves.name)
    await join_by_code(stage, leaves.people[0], leaves.name, codes[leaves.name])


async def _the_lonely(stage: Stage, cast: Cast, codes: dict[str, str]) -> None:
    """Those without friends in mind say so on the board; captains with a free seat give them the code."""
    for name, section in list(cast.lonely.items()):
        if name == cast.late:
            continue
        phone = stage.phone(name)
        outcome = await stage.do(partial(_press_panel, phone, LOOKING))
        if outcome.form is not None:
            form, values = outcome.form, {"Your name": name, SECTION: section}
            outcome = await stage.do(partial(phone.fill, form, values))
        await stage.wait(hours=stage.random.randint(1, 5))
        free = [one for one in cast.groups if one.section == section and len(one.people) < cast.largest]
        if free and name != cast.last_lonely:
            await join_by_code(stage, name, free[0].name, codes[free[0].name])
            free[0].people.append(name)
            del cast.lonely[name]


async def a_stay(stage: Stage, cast: Cast) -> None:
    """A captain presses Leave, reads what that means, and stays."""
    await at_panel(stage, cast.groups[2 % len(cast.groups)].people[0], MINE, "Leave", "Stay")


async def at_panel(stage: Stage, name: str, label: str, *steps: Step) -> Outcome:
    """Press a button of the sign-up message and walk on."""
    phone = stage.phone(name)
    return await walk(stage, name, await stage.do(lambda: phone.press(panel(phone), label)), *steps)


async def too_late(stage: Stage, cast: Cast, kept: Shown) -> None:
    """Somebody presses an old message that a phone still shows, after sign-up has closed."""
    phone = stage.phone(cast.late)
    closed = await stage.do(lambda: phone.press(kept, JOIN), told="Sign-up is closed")
    opened = await stage.do(lambda: phone.press(closed.shown(), "I came late"))
    values = {"Your name": cast.late, SECTION: cast.lonely[cast.late]}
    await stage.do(lambda: phone.fill(opened.opened(), values), told="I have told your coach")
