"""What people typed of run sheets on paper: a run counts when two people have typed the same, or one has settled it."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

Json = dict[str, Any]
Part = tuple[int, str]
"""A squad's number, and the event, the measure and the attempt as a sheet calls them."""
HEAD = r"\*\*(\d+) .+?\*\*: (.+?)(?:\n|$)"
ONCE = re.compile(r"^Typed in once\. " + HEAD)
DIFFER = re.compile(r"^\*\*The two entries differ\.\*\* " + HEAD)
THROWN = re.compile(r"^Both entries are thrown away\. " + HEAD)
ON_RECORD = re.compile(r"^(?:Both entries agree|(Settled from the paper)): it is on record\. " + HEAD)


@dataclass
class TypedRunSheets:
    """The run sheets that have been typed in so far, told entry by entry of a transcript."""

    complaints: list[str] = field(default_factory=list)
    _forms: dict[str, Json] = field(default_factory=dict)
    _first: dict[Part, tuple[str, Json]] = field(default_factory=dict)
    _second: dict[Part, Json] = field(default_factory=dict)

    def told(self, entry: Json, text: str) -> Iterator[tuple[Part, Json]]:
        """Take one entry with what can be read in it; gives the part that is on record now, with its values."""
        who = entry["private_to"]
        if entry["kind"] == "form sent":
            self._forms[entry["who"]] = entry["body"]["values"]
        elif who in self._forms and (match := ONCE.match(text)):
            self._first[_part(match[1], match[2])] = who, self._forms.pop(who)
        elif who in self._forms and (match := DIFFER.match(text)):
            part, second = _part(match[1], match[2]), self._forms.pop(who)
            if self._first.get(part) in (None, (who, second)):
                self.complaints.append(f"the entries of {part} do not differ")
            self._second[part] = second
        elif match := THROWN.match(text):
            self._first.pop(_part(match[1], match[2]), None)
        elif who in self._forms and (match := ON_RECORD.match(text)):
            part, values = _part(match[2], match[3]), self._forms.pop(who)
            whole = self._second.pop(part, {}) | values if match[1] else values
            first, said = self._first.pop(part, ("nobody", {}))
            if not match[1] and (first in ("nobody", who) or said != whole):
                self.complaints.append(f"{part} is on record, typed as {said} by {first} and as {whole} by {who}")
            yield part, whole


def _part(number: str, about: str) -> Part:
    return int(number), about
