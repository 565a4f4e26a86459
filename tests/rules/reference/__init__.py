"""Published worked examples and small hand-checkable instances; each file names its source."""

import json
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent


def reference(name: str) -> Any:
    """One example by its id: `input`, `expected`, and where it was printed `published`."""
    return json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))
