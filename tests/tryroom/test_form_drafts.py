"""What stands in an open form is kept with the room, by person and form; files and endless texts are not."""

from dataclasses import replace

from deploy.rehearsal.tryroom.form_drafts import LONGEST, MOST_FORMS, Drafts, draft_of, keep_draft
from deploy.rehearsal.wire.forms import Field, Form


def field(label: str, kind: str = "text") -> Field:
    return Field(label, "", kind, True, "", "", False, 0, 100, (), {}, {})


def form(title: str = "Your squad", person: int = 7) -> Form:
    fields = (field("Name"), field("Photo", "files"))
    return Form(title, "squad.found:1", (), fields, person, 1, None, {}, ())


def test_it_is_there_again_for_the_same_person_and_form_alone() -> None:
    drafts: Drafts = {}
    keep_draft(drafts, form(), {"Name": "Crooked Spoons", "Photo": [{"name": "a.png"}], "Other": "x"})
    again = replace(form(), custom_id="squad.found:2")
    assert draft_of(drafts, again) == {"Name": "Crooked Spoons"}
    assert draft_of(drafts, form(person=8)) == {} == draft_of(drafts, form("Your wish"))
    keep_draft(drafts, again, None)
    assert draft_of(drafts, form()) == {}


def test_what_is_too_long_and_too_much_is_not_kept() -> None:
    drafts: Drafts = {}
    keep_draft(drafts, form(), {"Name": "x" * LONGEST})
    keep_draft(drafts, form(), ["nonsense"])
    assert draft_of(drafts, form()) == {}
    for number in range(MOST_FORMS + 1):
        keep_draft(drafts, form(f"Form {number}"), {"Name": "a"})
    assert draft_of(drafts, form("Form 0")) == {} != draft_of(drafts, form("Form 1"))
