"""Incidents are noted, read by coaches, and struck."""

from tests.actions.conftest import Begin, button
from tests.actions.scored import whole


async def test_incidents_are_noted_read_by_coaches_and_struck(begin: Begin) -> None:
    asking, _ = await whole(begin, 3)
    page = await asking.message("records.incidents")
    assert "Only coaches can read this" in page.text
    form = await asking.form(button(page, "Note an incident").key)
    fields = {"what": "A robot was taken apart", "who": "Two students", "decision": "They rebuilt it together"}
    assert "They rebuilt it together" in (await asking.message(form.key, fields=fields)).text
    fields["what"] = "Was it really taken apart?"
    assert "apart? Who: Two students. Decision" in (await asking.message(form.key, fields=fields)).text
    assert "in a few words" in (await asking.message(form.key, fields={"what": " "})).text
    struck = await asking.message("records.incident-struck", values=("1",))
    assert "(1)" in struck.text
    assert "not in the book" in (await asking.message("records.incident-struck", values=("1",))).text
