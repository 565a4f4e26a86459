"""What the surroundings decide, and what is said when they are wrong."""

from pathlib import Path

import pytest

from bot.settings import BadSetting, read_settings

TOKEN = {"TENBELL_TOKEN": "not-a-real-token"}


def test_a_token_and_nothing_else_is_enough() -> None:
    settings = read_settings(TOKEN)
    assert settings.api is None
    assert settings.database == Path("tenbell.db")


def test_the_token_never_shows_in_what_is_printed() -> None:
    assert "not-a-real-token" not in repr(read_settings(TOKEN))


def test_the_token_may_stand_in_a_file(tmp_path: Path) -> None:
    file = tmp_path / "token"
    file.write_text("from-a-file\n", "utf-8")
    assert read_settings({"TENBELL_TOKEN_FILE": str(file)}).token == "from-a-file"


@pytest.mark.parametrize(
    ("environment", "said"),
    [
        ({}, "No bot token"),
        ({"TENBELL_TOKEN": "two words"}, "spaces"),
        ({"TENBELL_TOKEN_FILE": "/nowhere/at/all"}, "cannot read the token file"),
        (TOKEN | {"TENBELL_API": "http://example.org/api/v10"}, "use https://"),
        (TOKEN | {"TENBELL_API": "ftp://127.0.0.1/"}, "use https://"),
        (TOKEN | {"TENBELL_CLOCK": "ws://example.org/clock"}, "on this machine"),
    ],
)
def test_a_wrong_setting_is_one_clear_sentence(environment: dict[str, str], said: str) -> None:
    with pytest.raises(BadSetting, match=said):
        read_settings(environment)


@pytest.mark.parametrize("host", ["127.0.0.1:8080", "localhost:8080", "[::1]:8080"])
def test_plain_http_is_taken_on_this_machine_only(host: str) -> None:
    assert read_settings(TOKEN | {"TENBELL_API": f"http://{host}/api/v10/"}).api == f"http://{host}/api/v10"
