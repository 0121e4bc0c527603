# SPDX-License-Identifier: BSD-3-Clause
"""What including the library costs in compile time, against <Eigen/Dense>."""

from __future__ import annotations

import resource
import shutil
import subprocess
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2]
EIGEN = next((p for p in (Path("/usr/include/eigen3"), Path("/usr/local/include/eigen3")) if p.exists()), None)
COMPILER = shutil.which("c++")
CMAKE = shutil.which("cmake")

pytestmark = pytest.mark.skipif(
    COMPILER is None or CMAKE is None or EIGEN is None, reason="needs a C++ compiler, CMake and Eigen in a usual place"
)

# The declarations alone, which projects see that link the precompiled library; and the headers as they are, with
# all bodies.
MAX_TIMES_EIGEN = {"declarations": 2.0, "headers": 14.0}


@pytest.fixture(scope="module")
def declarations(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("split")
    defines = {"include_dir": SOURCE / "include", "declarations_dir": folder / "declared"}
    script = SOURCE / "src" / "setup" / "cmake" / "split_headers.cmake"
    command = [str(CMAKE), *(f"-D{name}={value}" for name, value in defines.items()), "-P", str(script)]
    subprocess.run(command, check=True, capture_output=True)
    return folder / "declared"


def cpu_seconds(source: Path, include: Path) -> float:
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    command = [str(COMPILER), "-std=c++20", "-O0", "-fsyntax-only", f"-I{include}", f"-I{EIGEN}", str(source)]
    subprocess.run(command, check=True, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def min_ratio(one: Path, other: Path, include: Path) -> float:
    """Least processor times of a few turns each, by turns, so that other work on the machine counts little."""
    turns = [(cpu_seconds(one, include), cpu_seconds(other, include)) for _ in range(3)]
    return min(turn[0] for turn in turns) / min(turn[1] for turn in turns)


@pytest.fixture(scope="module")
def umbrella(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("umbrella") / "ours.cpp"
    file.write_text("#include <faultodds/faultodds.hpp>\nint main() {}\n", encoding="utf-8")
    return file


@pytest.mark.parametrize("way", list(MAX_TIMES_EIGEN))
def test_the_umbrella_header_costs_at_most_so_many_times_eigen(
    way: str, declarations: Path, umbrella: Path, tmp_path: Path
) -> None:
    eigen = tmp_path / "eigen.cpp"
    eigen.write_text("#include <Eigen/Dense>\nint main() {}\n", encoding="utf-8")
    ratio = min_ratio(umbrella, eigen, declarations if way == "declarations" else SOURCE / "include")
    assert ratio <= MAX_TIMES_EIGEN[way], f"{way}: {ratio:.2f} times <Eigen/Dense>"


def test_declarations_include_neither_eigen_nor_boost(declarations: Path, umbrella: Path) -> None:
    command = [str(COMPILER), "-std=c++20", "-M", f"-I{declarations}", str(umbrella)]
    included = subprocess.run(command, check=True, capture_output=True, text=True).stdout.split()
    assert any(file.endswith("faultodds/decision/decision.hpp") for file in included)
    assert not [file for file in included if "/Eigen/" in file or "/boost/" in file]
