# SPDX-License-Identifier: BSD-3-Clause
"""Print what the tests need from the package index, one on each line: the extra `test` of pyproject.toml."""

import re
import sys
from pathlib import Path

if sys.version_info >= (3, 11):
    import tomllib
else:
    from pip._vendor import tomli as tomllib


def written_out(extras: dict[str, list[str]], name: str) -> list[str]:
    """Return the requirements of an extra, with those of the extras that it names."""
    found: list[str] = []
    for requirement in extras[name]:
        own = re.fullmatch(r"faultodds\[(.*)\]", requirement)
        if own is None:
            found.append(requirement)
        else:
            for other in own[1].split(","):
                found += written_out(extras, other.strip())
    return found


if __name__ == "__main__":
    project = tomllib.loads((Path(__file__).parents[2] / "pyproject.toml").read_text(encoding="utf-8"))
    print("\n".join(written_out(project["project"]["optional-dependencies"], "test")))
