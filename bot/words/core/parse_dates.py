"""What is said of a date or a time of day that cannot be read as it was typed."""

from bot.rules.core.refusal_reasons import Reason

REFUSALS = {
    Reason.TYPED_DATE: "I cannot read **{typed}** as a date. Type year, month and day, such as 2027-01-11.",
    Reason.TYPED_CLOCK: "I cannot read **{typed}** as a time. Type it in 24 hours, such as 15:30.",
    Reason.TYPED_MOMENT: "I cannot read **{typed}** as date and time. Type it like this: 2027-01-11 15:30.",
}
