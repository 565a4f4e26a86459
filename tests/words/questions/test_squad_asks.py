"""The form for a question about the rules says who reads it, and where worries go."""

from bot.words.questions import squad_asks


def test_the_form_says_who_reads_the_question_and_where_worries_go() -> None:
    field = squad_asks.ask_form().fields[0]
    assert field.hint == "Only coaches can read it. If it is answered, everyone reads it, without your name."
    assert field.kind == "text" and (field.least, field.most) == (5, 300)
    assert "No names or private matters" in field.example and "adult you trust" in field.example
