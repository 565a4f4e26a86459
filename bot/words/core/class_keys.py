"""What can be asked for about the class as a whole and by its students: the class list, and what follows from it.

As in `action_keys`, none of the strings is changed or given a new meaning.
"""

from bot.words.core.action_keys import AnyKey


class ClassKey(AnyKey):
    """The first part of a custom id, like an `ActionKey`."""

    CLOSE_DAYS = "days.close"
    DAYS_CLOSED = "days.closed"
    MORE_TIME = "time.more"
    TIME_GIVEN = "time.given"

    COACH_FILLED = "coach-squad.filled"
    COACH_FOUND = "coach-squad.found"
    COACH_FOUNDED = "coach-squad.founded"
    PRINT_SQUAD = "coach-squad.print"

    CORRECT_ASK = "correct.ask"
    CORRECT_DETAILS = "correct.details"
    JOIN_PICK = "join.pick"
    JOIN_SURE = "join.sure"
    JOINED = "join.done"
    UNDO = "correct.undo"

    KEPT = "privacy.kept"

    PROPOSAL = "proposal.show"
    PROPOSAL_ACCEPTED = "proposal.accepted"
    PROPOSAL_ALL = "proposal.all"
    PROPOSAL_CHANGED = "proposal.changed"
    PROPOSAL_DROPPED = "proposal.dropped"
    PROPOSAL_MINE = "proposal.mine"
    PROPOSAL_NO = "proposal.no"
    PROPOSAL_STUDENT = "proposal.student"
    PROPOSAL_YES = "proposal.yes"
    PROPOSE = "proposal.look"
    WISHES = "wish.show"
    WISHES_PAGE = "wish.page"
    WISH_NOT = "wish.not"
    WISH_WITH = "wish.with"

    DROPOUT = "leaver.ask"
    DROPPED_OUT = "leaver.gone"
    MERGE_ASK = "merge.ask"
    MERGE_PICK = "merge.pick"
    MERGE_WHY = "merge.why"
    MERGED = "merge.done"

    LINKED = "link.linked"
    LINK_ASK = "link.ask"
    LINK_CODE = "link.code"

    LIST_ANSWERS = "class-list.answers"
    LIST_ASK_REMOVE = "class-list.ask-remove"
    LIST_ASKED = "class-list.asked"
    LIST_ENTER = "class-list.enter"
    LIST_FILE = "class-list.file"
    LIST_FORMS = "class-list.forms"
    LIST_LET_IN = "class-list.let-in"
    LIST_LINK = "class-list.link"
    LIST_ME = "class-list.me"
    LIST_NAMES = "class-list.names"
    LIST_NOT_HERE = "class-list.not-here"
    LIST_PANEL = "class-list.panel"
    LIST_REMOVED = "class-list.removed"
    LIST_SAME = "class-list.same"
    LIST_SECTION = "class-list.section"
    LIST_STRANGER = "class-list.stranger"
    LIST_TURN_AWAY = "class-list.turn-away"
    LIST_USE = "class-list.use"
    LIST_WAITING = "class-list.waiting"
    LIST_WAITS = "class-list.waits"
