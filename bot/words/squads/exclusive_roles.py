"""Why whoever takes part can hold no office, and the other way round."""

from bot.rules.core.refusal_reasons import Reason

HELPS = (
    "You may help to run this try-out, but as long as you are in a squad you act as a student. "
    "**Leave** gives you that back."
)

REFUSALS = {
    Reason.HELPER_CANNOT_COMPETE: "Somebody who judges or helps to run this try-out cannot be in a squad. "
    "If that is a mistake, ask your coach.",
    Reason.MANAGER_CANNOT_COMPETE: "You may manage this class server, so you count as a coach here, and coaches are in "
    "no squad. If you are a student, ask your coach to take that right from you in the class server. Then try again.",
    Reason.COMPETITOR_CANNOT_HELP: "**{person}** is in the squad **{squad}**. Whoever takes part cannot judge, keep "
    "score, type in sheets or coach. Nobody was added.",
}
