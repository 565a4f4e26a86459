"""Kinds of buttons and forms that nobody in the built-in season uses, and where else they are used.

A kind is an action key. Whoever adds one lets somebody of the cast use it (`deploy/rehearsal/cast`), or says here where
it is used; a test of that season asks for it.
"""

IN_A_LARGE_CLASS = frozenset(
    {
        *("brief.release", "earlier.ask", "earlier.erased", "feedback.page", "judging.open", "panels.page"),
        *("results.page", "results.squad-page", "rules.merge-page", "rules.panel-page", "squad.page", "wish.page"),
        *("table.less", "table.off"),
    }
)
"""More of everything than a list holds, five kinds of things to count, and a coach in a hurry."""
IN_ANOTHER_PLAN = frozenset({"practice.draw", "practice.drawn", "surprise.pick"})
"""A lot for the first turns, and two surprises."""
TYPED = frozenset({"find.suggest", "sheets.typed", "table.score", "table.suggest-measure", "table.suggest-squad"})
"""What is typed in a chat or behind a command: no button and no form carries it."""
ON_TWO_CLASS_SERVERS = frozenset({"sheets.switch"})
"""Only a judge of try-outs on two class servers is asked which one is meant; a season has one class server."""
