"""The one way in which a rule says no."""

from bot.rules.core.refusal_reasons import AnyReason


class Refusal(Exception):
    """The rules said no; `reason` names the line in the words, `fields` fill it in."""

    def __init__(self, reason: AnyReason, **fields: object) -> None:
        super().__init__(reason)
        self.reason = reason
        self.fields: dict[str, object] = fields
