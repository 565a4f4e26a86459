"""The container: no root, no token, one volume, the hashed lock."""

import re
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[2] / "deploy" / "container"
INSTALL = "-m pip install --no-cache-dir --require-hashes --only-binary :all: -r deploy/requirements.txt"


def instructions() -> list[tuple[str, str]]:
    """The instructions of the Dockerfile, continued lines joined."""
    text = (FOLDER / "Dockerfile").read_text(encoding="utf-8").replace("\\\n", " ")
    lines = [line.split(maxsplit=1) for line in text.splitlines() if line.strip() and not line.startswith("#")]
    return [(word, " ".join(rest.split())) for word, rest in lines]


def test_the_container_runs_as_nobody_in_particular_and_keeps_one_volume() -> None:
    lines = instructions()
    last_stage = lines[max(index for index, (word, _) in enumerate(lines) if word == "FROM") :]
    users = [rest for word, rest in last_stage if word == "USER"]
    assert len(users) == 1
    assert int(users[0]) > 0
    after = [word for word, _ in last_stage[last_stage.index(("USER", users[0])) :]]
    assert "RUN" not in after
    assert ("VOLUME", "/data") in last_stage
    assert ("ENTRYPOINT", '["tenbell"]') in last_stage
    assert ("CMD", '["run"]') in last_stage


def test_the_container_says_how_it_is_and_can_do_without_a_writable_root() -> None:
    lines = instructions()
    (check,) = [rest for word, rest in lines if word == "HEALTHCHECK"]
    assert check.endswith('CMD ["tenbell", "status"]')
    told = (FOLDER / "Dockerfile").read_text(encoding="utf-8")
    for option in ("--read-only", "--tmpfs /tmp", "--cap-drop ALL", "--security-opt no-new-privileges"):
        assert option in told


def test_the_container_installs_exactly_the_lock() -> None:
    installs = [rest for word, rest in instructions() if word == "RUN" and "pip install" in rest]
    assert [rest.endswith(INSTALL) for rest in installs] == [True, False]
    assert "--no-deps" in installs[1]
    assert "--no-build-isolation" in installs[1]


def test_the_container_is_built_from_named_files_only() -> None:
    lines = (FOLDER / "Dockerfile.dockerignore").read_text(encoding="utf-8").split()
    let_in = {line[1:] for line in lines if line.startswith("!")}
    copied = {name.split("/")[0] for word, rest in instructions() if word == "COPY" for name in rest.split()[:-1]}
    assert lines[0] == "*"
    assert copied - {"--from=build", ""} == let_in


def test_no_file_carries_a_token() -> None:
    for path in FOLDER.iterdir():
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"TENBELL_TOKEN\s*=", text), path.name
        assert not re.search(r"[\w-]{20,}\.[\w-]{5,}\.[\w-]{20,}", text), path.name
