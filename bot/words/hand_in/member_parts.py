"""The pieces that a squad hands in: whose part is in, a member's own part, and all parts to read."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from bot.rules.core.refusal_reasons import Reason
from bot.rules.hand_in.member_parts import LONGEST, PHOTO_STAYS_AT_FIRST, SHORTEST
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import choice
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.pages import page_line, turning, within
from bot.words.core.photos import TAKEN
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from bot.words.core.who_reads import who_reads
from storage.records.hand_in import Part
from storage.records.message import (
    BUTTON_LABEL,
    FORM_LABEL,
    Attachment,
    Button,
    FileField,
    Form,
    FormField,
    Message,
    RadioField,
    Row,
    TextField,
)
from storage.records.people import Squad, Student
from storage.records.plan import Event

ADD = Button(key=key(ActionKey.HAND_IN_ADD), label="Add my part", style="main")
SEE = Button(key=key(ActionKey.HAND_IN_PARTS, 0), label="See our parts")
READERS = f"-# {who_reads('part', 'the parts')}"
NAMES_LETTERS = 800
"""So many letters of names, of whose part is in and of whose is missing, the room's message holds; of more how many."""
PAGE_LETTERS, PAGE_PHOTOS = 1600, 10
"""So many letters, and photos, of parts stand on one page; a message takes ten files."""

REFUSALS = {
    Reason.NO_HAND_IN: "In this try-out, squads hand in nothing here.",
    Reason.HAND_IN_WHICH: "{why}Your squad hands in more than one piece: {pieces}. Please say which one your part "
    "is for. Nothing was changed.",
    Reason.HAND_IN_NOT_YET: "You can hand in once the brief is out. Everyone gets it <t:{brief}:F>.",
    Reason.HAND_IN_CLOSED: "{why}The deadline has passed, so the hand-in is closed and stays as it is. "
    "If something went wrong, please talk to your coach.",
    Reason.HAND_IN_REASON: "Please write in a sentence or two what your part is, and why: {least} to {most} "
    "characters. "
    "Yours has {length}. Nothing was changed.",
    Reason.HAND_IN_NONE: "There is no part to delete.",
}


def _add(event: Event) -> Button:
    return ADD.model_copy(update={"key": key(ActionKey.HAND_IN_ADD, event.key)})


def _change(event: Event) -> Button:
    return _add(event).model_copy(update={"label": "Change my part", "style": "plain"})


def _see(event: Event) -> Button:
    return SEE.model_copy(update={"key": key(ActionKey.HAND_IN_PARTS, 0, event.key)})


def _back(event: Event) -> Button:
    return Button(key=key(ActionKey.HAND_IN_TAKE_BACK, event.key), label="Delete my part")


def which_piece(events: Sequence[Event], action: ActionKey, *about: object) -> Message:
    """Pick the piece that an action is about."""
    buttons = tuple(
        Button(key=key(action, *about, event.key), label=cut(event.name, BUTTON_LABEL), style="main")
        for event in events
    )
    rows = tuple(buttons[begin : begin + 5] for begin in range(0, len(buttons), 5))
    return Message(text="Squads hand in more than one piece. Which one is it about?", rows=rows)


def named(events: Sequence[Event]) -> str:
    """The pieces by name."""
    return listing([f"**{escape(event.name)}**" for event in events])


@dataclass(frozen=True)
class Shown:
    """One part as it is shown: under which name."""

    name: str
    part: Part


@posted(Sign.PART)
def parts_in_room(
    event: Event, deadline: datetime, members: Sequence[Student], parts: dict[int, Part], opened: bool
) -> Message:
    """What stands in a squad's room: whose part is in, whose is missing, and until when."""
    there = [escape(one.name) for one in members if one.id in parts]
    missing = [escape(one.name) for one in members if one.id not in parts]
    lines = [f"**Hand-in: {escape(event.name)}**"]
    if opened:
        lines.append("Each of you adds a part: what is it, and why? A photo if you like.")
    lines.append(f"In ({len(there)} of {len(members)}): {_names(there) or 'nobody yet'}")
    if missing and opened:
        lines.append(f"Missing: {_names(missing)}")
    elif members and not missing:
        lines.append("Every part is in. Well done!")
    if opened:
        lines.append(f"You can change it until the deadline, {full(deadline)}.")
        lines.append(READERS)
    else:
        lines.append("The hand-in is closed.")
    adding = _add(event) if missing else _change(event)
    return Message(text="\n".join(lines), rows=((adding, _see(event)),) if opened else ((_see(event),),))


def _names(names: Sequence[str]) -> str:
    """As many names as there is room for."""
    shown = list(names)
    while len(listing(shown)) > NAMES_LETTERS:
        shown.pop()
    left = len(names) - len(shown)
    return f"{', '.join(shown)} and {left} more" if left else listing(shown)


def part_form(event: Event, squad: Squad, part: Part | None) -> Form:
    """A member's own part, filled with what was handed in before."""
    return Form(
        key=key(ActionKey.HAND_IN_SAVE, event.key),
        title=cut(f"{event.name}: my part, {squad.name}", FORM_LABEL),
        fields=(why_field("What did you make, and why?", part), *photo_fields(part)),
    )


def why_field(label: str, part: Part | None, mine: bool = True) -> TextField:
    """The written reason, filled with what was handed in before; `mine` for a member of the squad."""
    readers = who_reads("part", "it") if mine else who_reads("part", "it").replace("your squad", "the squad")
    return TextField(
        key="why",
        label=label,
        hint=f"A sentence or two. {readers}",
        value=part.reason if part else "",
        long=True,
        least=SHORTEST,
        most=LONGEST,
    )


def photo_fields(part: Part | None) -> tuple[FormField, ...]:
    """A photo, if one likes; where there is one, whether it stays."""
    there = part is not None and part.photo_sha256 is not None
    photo = FileField(
        key="photo",
        label="Another photo" if there else "A photo of it",
        hint=f"If you like. {TAKEN}, without people on it; place and time are taken out of it.",
        required=False,
    )
    if not there:
        return (photo,)
    choices = (
        choice("yes", "Keep the photo", chosen=PHOTO_STAYS_AT_FIRST),
        choice("no", "Take the photo out", chosen=not PHOTO_STAYS_AT_FIRST),
    )
    return (photo, RadioField(key="keep", label="The photo that is there", choices=choices))


def part_saved(
    event: Event, squad: Squad, me: Student, members: Sequence[Student], parts: dict[int, Part], photo: str = ""
) -> Message:
    """A member's part is in, with its photo if there is one; `photo` says why that could not be kept."""
    number = sum(one.id in parts for one in members)
    mine = parts.get(me.id)
    pictured = ", with the photo" if mine is not None and mine.photo_sha256 is not None and not photo else ""
    room = "" if squad.room_id is None else f": <#{squad.room_id}>"
    lines = [
        f"Thank you, your part is in{pictured}. That makes {number} of {count(len(members), 'part')} of your squad.",
    ]
    if photo:
        lines.append(f"Your words are saved, but not the photo. {photo}")
    lines.append(f"You can change it until the deadline. Your squad's room shows whose part is in{room}.")
    return Message(text="\n".join(lines), rows=((_see(event), _change(event), _back(event)),))


def sure_to_take_back(event: Event, photo: bool) -> Message:
    """Ask once before a member's part is deleted."""
    see = _see(event)
    what = "your words and your photo are" if photo else "what you wrote is"
    return Message(
        text=f"Delete your part? Then {what} gone. You can add another part until the deadline.",
        rows=((Button(key=key(ActionKey.HAND_IN_TAKEN_BACK, event.key), label="Yes, delete it", style="danger"), see),),
    )


def taken_back(event: Event) -> Message:
    """A member's part is deleted."""
    return Message(
        text="Your part is deleted. You can add another one until the deadline.", rows=((_add(event), _see(event)),)
    )


def paged(parts: Sequence[Shown]) -> list[list[Shown]]:
    """The parts on pages: as many as fit into one message with their photos."""
    found: list[list[Shown]] = [[]]
    for one in parts:
        page = [*found[-1], one]
        letters = sum(len(_block(shown, PAGE_PHOTOS)) + 2 for shown in page)
        photos = sum(shown.part.photo_sha256 is not None for shown in page)
        if found[-1] and (letters > PAGE_LETTERS or photos > PAGE_PHOTOS):
            found.append([one])
        else:
            found[-1] = page
    return found


def _block(shown: Shown, number: int) -> str:
    photo = f" (photo {number})" if shown.part.photo_sha256 is not None else ""
    return f"**{escape(shown.name)}**{photo}\n> {escape(shown.part.reason)}"


@dataclass(frozen=True)
class Reading:
    """Who reads a squad's parts, and what can be done from there."""

    members: int
    """Members of the squad."""
    turn: ActionKey
    """The action that turns the pages."""
    about: tuple[object, ...] = ()
    """What that action is about, besides the page."""
    ways: tuple[Button, ...] = ()


def mine(event: Event, members: int, has_part: bool, opened: bool) -> Reading:
    """A member reads the parts of the own squad."""
    ways = (_change(event), _back(event)) if has_part else (_add(event),)
    return Reading(members, ActionKey.HAND_IN_PARTS, (event.key,), ways if opened else ())


def parts_page(
    event: Event, squad: Squad, parts: Sequence[Shown], photos: dict[int, bytes], reading: Reading, page: int
) -> Message:
    """One page of a squad's parts with their photos (by student id), for who may read them."""
    found = paged(parts)
    page = within(page, len(found))
    head = f"**{escape(event.name)}** of **{escape(squad.name)}**: {len(parts)} of {count(reading.members, 'part')} in"
    blocks: list[str] = [head]
    files: list[Attachment] = []
    for shown in found[page]:
        number = len(files) + 1
        data = photos.get(shown.part.student_id)
        if data is not None:
            files.append(_attachment(shown, number, data))
        blocks.append(_block(shown, number))
    if not parts:
        blocks.append("Nothing has been handed in.")
    turn = turning(reading.turn, page, len(found), *reading.about)
    rows: tuple[Row, ...] = tuple(row for row in (turn, reading.ways) if row)
    return Message(text="\n\n".join(blocks) + page_line(page, len(found)), rows=rows, files=tuple(files))


def _attachment(shown: Shown, number: int, data: bytes) -> Attachment:
    kind = "png" if data.startswith(b"\x89PNG") else "jpg"
    return Attachment(name=f"part-{number}.{kind}", data=data, alt=f"Photo of the part of {shown.name}"[:1024])
