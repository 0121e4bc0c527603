# SPDX-License-Identifier: BSD-3-Clause
"""The code blocks of README.md, and how they are run.

A block marked `sh` or `python` is run; if a block marked `text` follows it under the same heading, that is its exact
output. Blocks marked `console` are the two commands and the installation lines; tests/run itself carries those out.

    python tests/docs/readme.py        runs every block and writes its output into README.md, if it has changed
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
README = ROOT / "README.md"
FENCE = re.compile(r"^```(?P<language>\w+)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class Block:
    """A fenced block: what it is written in, the heading above it, its text and where that text is."""

    language: str
    heading: str
    text: str
    start: int
    expected: Block | None = None


def blocks(markdown: str) -> list[Block]:
    """All fenced blocks, each with the `text` block that follows it under the same heading."""
    headings = [(match.start(), match[1]) for match in re.finditer(r"^#+ (.+)$", markdown, re.MULTILINE)]
    found: list[Block] = []
    for match in reversed(list(FENCE.finditer(markdown))):
        heading = max((h for h in headings if h[0] < match.start()), default=(0, ""))[1]
        after = found[-1] if found else None
        output = after if after and after.language == "text" and after.heading == heading else None
        found.append(Block(match["language"], heading, match["text"], match.start("text"), output))
    return found[::-1]


def run(block: Block) -> str:
    """The output of an `sh` or `python` block, run in a folder that holds a copy of models/.

    The program is the one that FAULTODDS_PROGRAM names, or build/program/faultodds.
    """
    program = Path(os.environ.get("FAULTODDS_PROGRAM", ROOT / "build/program/faultodds"))
    command = {"sh": ["bash", "-euo", "pipefail", "-c", block.text], "python": [sys.executable, "-c", block.text]}
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(ROOT / "models", Path(folder) / "models")
        environment = os.environ | {"PATH": f"{program.parent}{os.pathsep}{os.environ['PATH']}", "NO_COLOR": "1"}
        done = subprocess.run(
            command[block.language],
            cwd=folder,
            env=environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            check=False,
        )
    if done.returncode != 0:
        raise RuntimeError(f"{block.heading}: exit status {done.returncode}\n{block.text}\n{done.stdout}")
    return done.stdout


def updated(markdown: str) -> str:
    """The same document with the output of every block as it is now."""
    for block in reversed(blocks(markdown)):
        if block.language in ("sh", "python"):
            output = run(block)
            if block.expected:
                end = block.expected.start + len(block.expected.text)
                markdown = markdown[: block.expected.start] + output + markdown[end:]
    return markdown


if __name__ == "__main__":
    README.write_text(updated(README.read_text(encoding="utf-8")), encoding="utf-8")
