# SPDX-License-Identifier: BSD-3-Clause
"""What including the library costs in compile time, against <Eigen/Dense>."""

from __future__ import annotations

import os
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

# The program of README.md with the headers as they are, compiled at -O2, against a unit that only instantiates what
# most of it consists of: 24 lists of records, each copied, searched and sorted.
MAX_TIMES_LISTS = 7.5
MAX_PROGRAM_BYTES = 1.7e9
LISTS = """
#include <algorithm>
#include <string>
#include <utility>
#include <vector>
template <int> struct Record { std::string name; std::vector<double> row; };
template <int I> std::size_t work(std::size_t n) {
  std::vector<Record<I>> all(n);
  all.push_back({"a", {1.0}});
  std::vector<Record<I>> copy = all;
  std::sort(copy.begin(), copy.end(), [](const auto& a, const auto& b) { return a.name < b.name; });
  const auto at = std::find_if(copy.begin(), copy.end(), [n](const auto& one) { return one.row.size() == n; });
  all.insert(all.end(), copy.begin(), at);
  return all.size();
}
template <int... I> std::size_t all_of(std::size_t n, std::integer_sequence<int, I...>) { return (work<I>(n) + ...); }
int main(int n, char**) {
  return static_cast<int>(all_of(static_cast<std::size_t>(n), std::make_integer_sequence<int, 24>{}));
}
"""


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


def compiled(source: Path) -> tuple[float, float]:
    """Processor seconds and most bytes of memory of compiling it as it is at -O2."""
    command = [str(COMPILER), "-std=c++20", "-O2", "-c", f"-I{SOURCE / 'include'}", f"-I{EIGEN}"]
    process = subprocess.Popen([*command, str(source), "-o", os.devnull])
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    assert process.returncode == 0
    return used.ru_utime, used.ru_maxrss * 1024.0


def test_the_program_of_the_readme_costs_at_most_so_many_times_lists_of_records(tmp_path: Path) -> None:
    lists = tmp_path / "lists.cpp"
    lists.write_text(LISTS, encoding="utf-8")
    before, _ = compiled(lists)
    seconds, peak_bytes = compiled(SOURCE / "tests" / "install" / "bench.cpp")
    after, _ = compiled(lists)
    ratio = seconds / ((before + after) / 2.0)
    assert ratio <= MAX_TIMES_LISTS, f"{ratio:.2f} times 24 lists of records"
    assert peak_bytes <= MAX_PROGRAM_BYTES
