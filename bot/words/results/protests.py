"""Protests: the captain's form, the coaches' register, and what is told."""

from collections.abc import Mapping, Sequence
from typing import Literal

from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.core.typed_reason import SHORTEST_REASON
from bot.rules.results.protests import LONGEST, LONGEST_VERDICT, SHORTEST, in_order, to_pick
from bot.words.core.buttons import BACK, QUESTION, RECORDS
from bot.words.core.choices import PAGE, choice
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.plain_text import cut, escape, quoted
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full
from bot.words.core.who_reads import who_reads
from bot.words.results.take_back_announcement import TAKE_BACK
from storage.records.message import FORM_LABEL, Button, Form, Message, Row, Select, TextField
from storage.records.people import Squad
from storage.records.results import Protest

REGISTER = Button(key=key(ClassKey.PROTESTS), label="Protests")
REFUSALS = {
    ResultReason.PROTEST_CAPTAIN: "Your captain sends questions about the result. Tell your captain what was wrong, or "
    "talk to your coach.",
    ResultReason.PROTEST_EARLY: "No result is announced right now. Once there is one, you can ask about it.",
    ResultReason.PROTEST_OVER: "{why}The days for questions about the result are over. "
    "You can still talk to your coach about it: that is always fine.",
    ResultReason.PROTEST_MANY: "{why}{most} questions of your squad about the result are open. Wait until they are "
    "decided, then ask again.",
    ResultReason.PROTEST_LENGTH: "Say in {least} to {most} letters what was run or added up wrongly, and when.",
    ResultReason.PROTEST_GONE: "That protest is not there any more. Open **Records** again.",
    ResultReason.PROTEST_DECIDED: "Two coaches have settled that one.",
    ResultReason.PROTEST_NO_VERDICT: "Nobody has proposed a decision yet. Press **Uphold** or **Reject**.",
    ResultReason.PROTEST_SECOND: "A second coach must agree, not the one who proposed it. Add one under **People**.",
}
CHANGED = "**This decision was changed after you opened it.** You have agreed to nothing. Please read it again."
_SAID = {"upheld": "upheld", "rejected": "rejected"}


def protest_form(squad: Squad | None = None) -> Form:
    """What was wrong; a coach writes it down for a squad whose captain has no account."""
    text = TextField(
        key="text",
        label="What was run or added up wrongly?",
        hint="Say when and where. What the judges think of your work stays as it is.",
        long=True,
        least=SHORTEST,
        most=LONGEST,
    )
    if squad is not None:
        made = key(ClassKey.PROTEST_FOR_FILED, squad.id)
        return Form(key=made, title=cut(f"Question of {squad.name}", FORM_LABEL), fields=(text,))
    return Form(key=key(ClassKey.PROTESTED), title=QUESTION.label, fields=(text,))


def filed(by_coach: bool = False) -> Message:
    """The protest is in; `by_coach` for a squad whose captain has no account, and so may not see the room."""
    tell = " Please tell the captain, who has no account here." if by_coach else ""
    return Message(
        text=f"The question is in. Two coaches check it and decide. The squad's room will show the answer.{tell} The "
        f"result is not final before that. {who_reads('protest', 'what you wrote')}"
    )


@posted(Sign.RESULT)
def filed_in_room() -> Message:
    """Told in the squad's room, without the words."""
    return Message(
        text="Your squad has asked for a check of its result. Two coaches decide. You will read the answer here."
    )


def to_office(protest_id: int, squad: Squad) -> Message:
    """Told in the office."""
    see = Button(key=key(ClassKey.PROTEST_ONE, protest_id), label="Read and decide", style="main")
    return Message(
        text=f"**{escape(squad.name)}** has a question about its result: a protest. The result is not final before two "
        "coaches decide.",
        rows=((see,),),
    )


def register(found: Sequence[Protest], names: Mapping[int, str], without: Sequence[Squad] = ()) -> Message:
    """Every protest with its state; the coach writes for squads `without` an account for their captain."""
    writing: tuple[Row, ...] = ()
    if without:
        squads = tuple(choice(one.id, one.name) for one in without[:PAGE])
        writing = (Select(key=key(ClassKey.PROTEST_FOR), prompt="Write one down for a squad", choices=squads),)
    if not found:
        return Message(text="**Protests**\nThere are none.", rows=(*writing, (RECORDS, BACK)))
    lines = [f"**Protests** ({len(found)})"]
    lines += [
        f"- {full(one.filed_at)}, **{escape(names.get(one.squad_id, '?'))}**: {_state(one)}" for one in in_order(found)
    ]
    choices = tuple(
        choice(one.id, f"{names.get(one.squad_id, '?')}: {one.text}", _state(one)) for one in to_pick(found, PAGE)
    )
    rows: tuple[Row, ...] = (
        Select(key=key(ClassKey.PROTEST_ONE), prompt="Read one", choices=choices),
        *writing,
        (RECORDS, BACK),
    )
    return whole_message("\n".join(lines), rows)


def _state(one: Protest) -> str:
    if one.agreed_at is not None:
        return _SAID[one.verdict or "rejected"]
    return "open" if one.verdict is None else f"open; one coach says: {_SAID[one.verdict]}"


def fingerprint(one: Protest) -> str:
    """What the button to agree carries of the decision that is proposed, so that it agrees to no other one."""
    return shown_stamp(one.verdict, one.reason)


def one_protest(one: Protest, names: Mapping[int, str], mine: bool, changed: bool = False) -> Message:
    """One protest, and what can be done; `mine` for the coach who has proposed the verdict.

    `changed`: somebody agreed to a decision that was another one by then.
    """
    lines = [CHANGED] if changed else []
    lines += [f"**Protest of {escape(names.get(one.squad_id, '?'))}**, {full(one.filed_at)}", quoted(escape(one.text))]
    lines.append(f"It is {_state(one)}.")
    if one.reason:
        lines.append(f"Reason: {escape(one.reason)}")
    buttons: tuple[Button, ...] = ()
    if one.agreed_at is None:
        agree = Button(key=key(ClassKey.PROTEST_AGREED, one.id, fingerprint(one)), label="I agree", style="main")
        buttons = (
            *((agree,) if one.verdict is not None and not mine else ()),
            Button(key=key(ClassKey.PROTEST_WHY, one.id, "upheld"), label="Uphold"),
            Button(key=key(ClassKey.PROTEST_WHY, one.id, "rejected"), label="Reject"),
        )
        lines.append("-# A decision stands once a second coach agrees.")
    return whole_message("\n".join(lines), ((*buttons, REGISTER, BACK),))


def verdict_form(one: Protest, verdict: Literal["upheld", "rejected"]) -> Form:
    """Why."""
    title, hint = "Reject the protest", "The squad reads it. No names, please."
    if verdict == "upheld":
        title, hint = (
            "Uphold the protest",
            "The squad reads it now, everyone with the corrected result. No names, please.",
        )
    reason = TextField(
        key="reason", label="Why?", hint=hint, value=one.reason, least=SHORTEST_REASON, most=LONGEST_VERDICT
    )
    return Form(key=key(ClassKey.PROTEST_PROPOSED, one.id, verdict), title=title, fields=(reason,))


def second_needed(protest_id: int) -> Message:
    """Told in the office: one coach has proposed a verdict."""
    see = Button(key=key(ClassKey.PROTEST_ONE, protest_id), label="Read and agree", style="main")
    return Message(text="A decision about a protest waits for a second coach.", rows=((see,),))


@posted(Sign.RESULT)
def decided_in_room(one: Protest) -> Message:
    """Told in the squad's room."""
    says = "You were right: the result will be corrected." if one.verdict == "upheld" else "The result stands."
    return Message(
        text=f"Thank you for asking. Two coaches have checked your question about the result. **{says}**\n"
        f"Why: {escape(one.reason)}"
    )


def decided(one: Protest, squad: Squad, by_coach: bool) -> Message:
    """Two coaches have decided; `by_coach`: the captain has no account here."""
    reads = f"the room of **{escape(squad.name)}** says why."
    if by_coach:
        reads += " Please tell the captain, who has no account here."
    if one.verdict == "rejected":
        return Message(text=f"Rejected; {reads}", rows=((REGISTER, RECORDS, BACK),))
    return Message(
        text=f"Upheld; {reads} Now take the announcement back, correct what was wrong, and "
        "announce again: the corrected result says that a question was right, without the squad's name. "
        "Places that are offered are taken back with it, and the squads concerned read so.",
        rows=((TAKE_BACK, REGISTER, BACK),),
    )
