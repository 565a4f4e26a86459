"""Set-up: the channels, what I must be allowed to do there, and how I get onto a class server."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.rules.office.server_channels import PERMISSIONS
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from storage.records.message import Button, Message, RoomSelect
from storage.records.tryout import ROOM_KINDS, RoomKind, Tryout

REFUSALS = {
    Reason.OFFICE_SEEN: "Everyone on this server can read <#{room}>. What I tell the coach there is not for the class: "
    "make a channel that only coaches can see (and me), then pick that one.",
    Reason.OFFICE_SHARED: "The office must be a channel of its own: <#{room}> serves for students as well. "
    "Pick another channel.",
}
ROOMS = {"signup": "sign-up", "news": "news", "squads": "squads", "office": "office"}
"""What each channel is called where a sentence names it."""
CHANNEL_TYPES = (0,)
"""The kinds of channel in the lists to pick from, by the platform's numbers: text channels."""
PLAIN = {
    "view_channel": "see the channel",
    "send_messages": "send messages",
    "embed_links": "embed links",
    "attach_files": "attach files",
    "read_message_history": "read the message history",
    "create_private_threads": "create private threads",
    "send_messages_in_threads": "send messages in threads",
    "pin_messages": "pin messages",
}
_PROMPTS: dict[RoomKind, str] = {
    "signup": "Sign-up: where students press the buttons",
    "news": "News: what the whole class reads",
    "squads": "Squads: their private rooms live here",
    "office": "Office: only coaches see this one",
}


def setup_panel(tryout: Tryout, said: str = "") -> Message:
    """Pick the channels."""
    lines = [f"- {ROOMS[kind]}: {_room(tryout, kind)}" for kind in ROOM_KINDS]
    text = "**Set-up.** Pick a channel for each purpose; sign-up, news and squads may share one.\n" + "\n".join(lines)
    selects = tuple(
        RoomSelect(
            key=key(ActionKey.SETUP_ROOM, kind),
            prompt=_PROMPTS[kind],
            types=CHANNEL_TYPES,
            chosen=tryout.rooms.get(kind),
        )
        for kind in ROOM_KINDS
    )
    # Once every channel is chosen the next step is a press away.
    ready = tryout.state == "drafting" and all(kind in tryout.rooms for kind in ROOM_KINDS)
    onward = (Button(key=key(ActionKey.SIGNUP_ASK), label="Open sign-up", style="main"),) if ready else ()
    buttons = (
        *onward,
        BACK,
        Button(key=key(ActionKey.SETUP_INVITE), label="Invite link"),
        Button(key=key(ActionKey.TRYOUT_ASK_ARCHIVE), label="Stop this try-out", style="danger"),
    )
    return Message(text=f"{text}\n\n{said}" if said else text, rows=(*selects, buttons))


def _room(tryout: Tryout, kind: RoomKind) -> str:
    return f"<#{tryout.rooms[kind]}>" if kind in tryout.rooms else "not chosen yet"


def chosen(kind: RoomKind, room_id: int) -> str:
    """A channel is taken."""
    return f"<#{room_id}> is the channel for {ROOMS[kind]}. I may do everything I need there."


def lacking(kind: RoomKind, room_id: int, missing: Sequence[str]) -> str:
    """A channel cannot be taken, and what must be allowed first."""
    return (
        f"I cannot use <#{room_id}> for {ROOMS[kind]} yet. In that channel's settings, allow me to "
        f"{listing([PLAIN[name] for name in missing])}. Then pick it again."
    )


def invite(application: int) -> Message:
    """The link with which a server's manager adds the bot."""
    link = (
        f"https://discord.com/oauth2/authorize?client_id={application}&permissions={PERMISSIONS}"
        "&scope=bot+applications.commands"
    )
    return Message(
        text=f"With this link, someone who manages a server adds me to it:\n{link}\n"
        f"It asks for: {listing(list(PLAIN.values()))}. Nothing else.",
        rows=((Button(key=key(ActionKey.SETUP_PANEL), label="Set-up"), BACK),),
    )
