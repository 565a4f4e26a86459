"""What was typed into a form comes back as far as it fits."""

from bot.words.core.action_keys import ActionKey
from bot.words.plan import form_mistakes


def test_what_was_typed_comes_back_as_far_as_it_fits_a_button() -> None:
    typed = ["2027-01-11", "15:30", "Here", "7-A, " * 40]
    said = form_mistakes.mistakes(["wrong"], typed, ActionKey.PLAN_BEGIN)
    again = said.rows[0]
    assert isinstance(again, tuple) and again[0].key == "plan.begin:2027-01-11:15.30:Here"
    assert said.text.endswith("You wrote:\n> " + ("7-A, " * 40).strip()), "and the rest below"
    assert (
        "You wrote"
        not in form_mistakes.mistakes(["wrong"], [*typed[:3], "7-A, 7-B, 7-C, 7-D"], ActionKey.PLAN_BEGIN).text
    )
