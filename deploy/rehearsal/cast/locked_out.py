"""Locked out by mistake: the bot of the news, so that an answer is held up, and a student of the squad's room."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast.brief_and_build_days import squad_room
from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import in_room, walk
from deploy.rehearsal.cast.questions import ALL, answer_from_class
from deploy.rehearsal.cast.stage import NEWS, OFFICE, Stage, awaited, newest
from deploy.rehearsal.world.permission_bits import SEND_MESSAGES
from deploy.rehearsal.world.state import Overwrite

UNDELIVERED, AGAIN = "I could not deliver a message", "Try again"
BATTERIES = "How are the batteries charged, and who may do it?"
ABOUT_BATTERIES = """Batteries are charged in the workshop and nowhere else, also not in the library.
• Ask the adult in the room before you plug one in, and say which squad it is for.
• Each charger has a colour. Use the one with the colour that is on your battery.
• A battery lies on the tiles while it charges, and nothing lies on top of it.
• Write your squad and the time on the list beside the charger. A full charge takes about 50 minutes.
• Whoever comes next takes a full battery off, puts it into the box of its squad, and writes that on the list.
• A battery that is swollen, warm or smells is not touched: call an adult.
For the event day we charge all of them on the evening before, so every squad begins with a full one."""
PARTS = "Which parts of the workshop may we use for our robot?"
ABOUT_PARTS = """You may use everything in the open boxes on the long shelf, as much as you need for one robot.
• The closed boxes belong to the team. They stay closed until the try-out is over.
• Motors and sensors are counted: two motors and two sensors for each squad. Swap a broken one with the adult.
• Card, tape, string and rubber bands are free. Please do not take the last roll without telling anybody.
• You may bring other things that are not electric and cost nothing. Show them before you build them in.
• Nothing is glued to a motor, a sensor or a battery.
• What you have built may stay on the shelf with the name of your squad on it. Nobody takes parts off another robot.
When somebody has something that another squad needs, talk with each other. If you cannot agree, ask the adult."""


async def held_up(stage: Stage, cast: Cast) -> None:
    """An answer cannot be said in the news; the coach gives the right back and lets the bot try again."""
    world = stage.server.world
    locked = Overwrite(world.bot.id, for_person=True, deny=SEND_MESSAGES)
    world.room(NEWS).overwrites.append(locked)
    await answer_from_class(stage, BATTERIES, ABOUT_BATTERIES)
    told = await awaited(stage, lambda: newest(stage.coach, OFFICE, UNDELIVERED))
    world.room(NEWS).overwrites.remove(locked)
    await stage.wait(minutes=4)
    await walk(stage, COACH, told, AGAIN)
    await awaited(stage, lambda: newest(stage.coach, NEWS, BATTERIES))
    await answer_from_class(stage, PARTS, ABOUT_PARTS)
    await in_room(stage, cast.groups[1].people[1], NEWS, ALL, "Next page")


async def came_back(stage: Stage, cast: Cast) -> None:
    """Somebody leaves the class server by mistake and comes back: only the squad's room is not there any more."""
    group = cast.groups[3 % len(cast.groups)]
    world, phone = stage.server.world, stage.phone(group.people[1])
    phone.person.in_guild = False
    for room in world.rooms.values():
        if room.is_thread:
            room.members.pop(phone.person.id, None)
    await stage.wait(minutes=30)
    phone.person.in_guild = True
    mine = await stage.do(partial(phone.command, "/my-squad", room=NEWS))
    await walk(stage, phone.person.name, mine, "I can't see our room")
    await stage.wait(minutes=1)
    await awaited(stage, lambda: phone.see(squad_room(phone, group.name))[-1])
