"""How firm the place is: in words first, then in pictures."""

from tests.actions.conftest import Begin
from tests.actions.scored import whole


async def test_how_firm_it_is_comes_in_words_first_and_then_in_pictures_that_say_the_same(begin: Begin) -> None:
    asking, _ = await whole(begin)
    message = await asking.message("results.firm")
    assert "Without any one of the 2 judges the place stays where it is." in message.text
    assert "**If the same judges were drawn by lot again**" in message.text
    assert [file.name for file in message.files] == ["firm.png"], "one colour all over is no picture"
    alt = message.files[0].alt
    assert alt.startswith("How firm is the place? Complete, Mon 4 Jan 2027. 8 of 9 ways: the same winner.")
    assert "Without one judge: Crooked Spoons (judge 1, judge 2)." in alt
