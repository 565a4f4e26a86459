"""The coaches' own book of incidents: its page and its form."""

from collections.abc import Sequence
from functools import partial

from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.incident_book import LONGEST, LONGEST_DECISION, LONGEST_WHO, SHORTEST, in_order
from bot.words.core.buttons import BACK, RECORDS
from bot.words.core.choices import choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import as_sentence
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full
from bot.words.core.who_reads import who_reads
from storage.records.message import Button, Form, Message, TextField
from storage.records.results import Incident

REFUSALS = {
    ResultReason.INCIDENT_EMPTY: "Say in a few words what happened.",
    ResultReason.INCIDENT_GONE: "That incident is not in the book any more.",
}


def book(found: Sequence[Incident], page: int = 0) -> Message:
    """The book of incidents, the newest first."""
    note = Button(key=key(ClassKey.INCIDENT), label="Note an incident", style="main")
    lines = [f"**Book of incidents** ({len(found)})", f"{who_reads('incident')} It is erased with the names."]
    newest_first = in_order(found)
    for one in newest_first:
        who = f" Who: {as_sentence(one.who)}" if one.who else ""
        decision = f" Decision: {as_sentence(one.decision)}" if one.decision else ""
        lines.append(f"- {full(one.happened_at)}: {as_sentence(one.what)}{who}{decision}")
    choices = [choice(one.id, one.what) for one in newest_first]
    turn = partial(key, ClassKey.INCIDENTS)
    listed = list_page(choices, page, "Strike one out of the book", key(ClassKey.INCIDENT_STRUCK), turn)
    return whole_message("\n".join(lines), (*listed.rows, (note, RECORDS, BACK)), foot=listed.line)


def incident_form() -> Form:
    """What, who, and what was decided."""
    return Form(
        key=key(ClassKey.INCIDENT_NOTED),
        title="Note an incident",
        fields=(
            TextField(key="what", label="What happened?", long=True, least=SHORTEST, most=LONGEST),
            TextField(key="who", label="Who was concerned?", most=LONGEST_WHO, required=False),
            TextField(key="decision", label="What was decided?", most=LONGEST_DECISION, required=False),
        ),
    )
