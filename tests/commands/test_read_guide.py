"""The guide is found by its topics, and by the commands that players look for."""

import pytest
from click.testing import CliRunner

from companion.commands.group import companion


@pytest.mark.parametrize(
    ("word", "heading"), [("stage", "# "), ("import", "# The two weeks"), ("rate", "# The two weeks")]
)
def test_a_topic_or_a_command_opens_its_page(word: str, heading: str) -> None:
    said = CliRunner().invoke(companion, ["guide", word])
    assert said.exit_code == 0, said.output
    assert said.output.startswith(heading)


def test_a_word_that_no_page_is_about_lists_the_topics() -> None:
    said = CliRunner().invoke(companion, ["guide", "sandwich"])
    assert said.exit_code == 2
    assert "prepare" in said.output
