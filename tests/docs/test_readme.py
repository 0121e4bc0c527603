# SPDX-License-Identifier: BSD-3-Clause
"""What README.md shows is what happens."""

import pytest
from readme import README, ROOT, Block, blocks, run

BLOCKS = blocks(README.read_text(encoding="utf-8"))
RUNNABLE = [block for block in BLOCKS if block.language in ("sh", "python")]


@pytest.mark.parametrize("block", RUNNABLE, ids=[f"{block.heading}-{block.language}" for block in RUNNABLE])
def test_block_runs_and_prints_what_the_readme_shows(block: Block) -> None:
    output = run(block)
    if block.expected:
        assert output == block.expected.text


@pytest.mark.parametrize(("language", "file"), [("cmake", "CMakeLists.txt"), ("cpp", "bench.cpp")])
def test_builder_example_is_the_project_that_the_install_test_builds(language: str, file: str) -> None:
    (block,) = [block for block in BLOCKS if block.language == language]
    text = (ROOT / "tests/install" / file).read_text(encoding="utf-8")
    licence, rest = text.split("\n", 1)
    assert licence.endswith("SPDX-License-Identifier: BSD-3-Clause")
    assert block.text == rest


def test_there_is_something_for_each_kind_of_reader() -> None:
    languages = {block.language for block in RUNNABLE}
    assert languages == {"sh", "python"}
    assert any(block.language == "sh" and block.expected for block in RUNNABLE)


def test_the_two_commands_exist() -> None:
    commands = [line for block in BLOCKS if block.language == "console" for line in block.text.splitlines()]
    for script in ("src/setup/try", "tests/run"):
        assert f"bash {script}" in commands
        assert (ROOT / script).is_file()
