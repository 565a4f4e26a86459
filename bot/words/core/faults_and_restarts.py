"""What people read when something went wrong on our side."""

from storage.records.message import Button, Message


def fault(code: str) -> Message:
    """Our own mistake; the code stands in the log."""
    return Message(text=f"Something went wrong on my side, and nothing was changed. Tell your coach this code: {code}.")


def form_late(key: str | None) -> Message:
    """A form took so long that the platform would not open it any more; `key` is that of the pressed button."""
    text = "That took me too long, and the form could not open any more."
    if key is None:
        return Message(text=f"{text} Please ask for it once more.")
    return Message(text=f"{text} Please press here.", rows=((Button(key=key, label="Open the form", style="main"),),))


def form_next(key: str | None) -> Message:
    """A form is the answer to a form, which the platform does not allow; `key` is that of the form that was sent."""
    text = "There is one more form to fill."
    if key is None:
        return Message(text=f"{text} Please ask for it once more.")
    return Message(text=f"{text} Please press here.", rows=((Button(key=key, label="Open the form", style="main"),),))


def cannot_save() -> Message:
    """The disk is full or read-only."""
    return Message(text="I cannot save anything right now, so nothing was changed. Tell your coach, then try again.")


def restarting() -> Message:
    """The program is about to end; nothing was done."""
    return Message(text="I am just restarting, so nothing was changed. Please wait a minute, then try once more.")


def cut_short() -> Message:
    """The program is about to end and could not finish; most likely nothing was done."""
    return Message(
        text="I am just restarting and could not finish. Please wait a minute, look whether it was done, and if it was "
        "not, try once more."
    )


def restarting_typed() -> Message:
    """The program is about to end; what was typed was not read."""
    return Message(text="I am just restarting and did not save this. Please send it once more in a minute.")


def command_unread() -> Message:
    """A command or press arrived in such a way that it cannot be carried out."""
    return Message(
        text="I could not carry out this, so nothing was changed. Perhaps a person or channel that you picked is no "
        "longer here. Please try it anew."
    )
