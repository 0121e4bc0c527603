# SPDX-License-Identifier: BSD-3-Clause
"""The package as it is installed: what it needs, what it ships, what it says of itself."""

from __future__ import annotations

import importlib.metadata
import importlib.util
import re
import subprocess
import sys
import textwrap
from pathlib import Path

import faultodds
import pytest

SOURCE = Path(__file__).parents[2]
PACKAGE = Path(faultodds.__file__).parent


def run(script: str) -> str:
    done = subprocess.run([sys.executable, "-c", textwrap.dedent(script)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_version_is_that_of_the_build_file() -> None:
    versions = re.findall(r"VERSION ([0-9.]+)\s+DESCRIPTION", (SOURCE / "CMakeLists.txt").read_text(encoding="utf-8"))
    assert versions == [faultodds.__version__]


def test_build_info_tells_how_it_was_built() -> None:
    info = faultodds.build_info()
    assert info["version"] == faultodds.__version__
    for fact in ("compiler", "cplusplus", "build_type", "assertions", "eigen", "boost", "pybind11"):
        assert info[fact]
    assert int(info["cplusplus"]) >= 202002


def test_it_imports_and_works_without_numpy_pandas_and_matplotlib() -> None:
    out = run(
        """
        import sys
        for name in ("numpy", "pandas", "matplotlib"):
            sys.modules[name] = None
        import faultodds
        model = faultodds.ModelBuilder("m").add_component("pump", prior=0.25).build()
        print(faultodds.Case(faultodds.Solver(model)).posterior("pump"))
        """
    )
    assert out.strip() == "{'sound': 0.75, 'faulty': 0.25}"


def test_importing_it_is_quick_and_pulls_in_no_optional_package() -> None:
    script = """
        import sys, time
        start = time.process_time()
        import faultodds
        print(time.process_time() - start)
        assert not {"numpy", "pandas", "matplotlib"} & set(sys.modules)
        """
    assert min(float(run(script)) for _ in range(3)) < 0.2


def test_types_are_shipped() -> None:
    assert (PACKAGE / "py.typed").exists()
    assert (PACKAGE / "_core.pyi").exists()


def test_the_installed_package_carries_its_licence() -> None:
    try:
        package = importlib.metadata.distribution("faultodds")
    except importlib.metadata.PackageNotFoundError:
        pytest.skip("faultodds was found on the path, not installed")
    assert package.metadata["License-Expression"] == "BSD-3-Clause"
    texts = [file.read_text() for file in package.files or () if file.name == "LICENSE"]
    assert texts == [(SOURCE / "src/setup/LICENSE").read_text(encoding="utf-8")]


@pytest.mark.skipif(importlib.util.find_spec("mypy") is None, reason="mypy is not installed")
def test_the_stub_agrees_with_the_module(tmp_path: Path) -> None:
    # Classes made by pybind11 have a metaclass of its own, and take any arguments in order to refuse them.
    allowed = tmp_path / "allowed.txt"
    classes = "Case|FaultModel|Job|Solver|stopping|time_limit"
    allowed.write_text(f"faultodds\\._core\\.({classes})(\\.__init__)?\n", encoding="utf-8")
    command = [sys.executable, "-m", "mypy.stubtest", "faultodds._core", "--allowlist", str(allowed)]
    command += ["--mypy-config-file", str(SOURCE / "pyproject.toml")]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=SOURCE)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.skipif(importlib.util.find_spec("mypy") is None, reason="mypy is not installed")
def test_a_users_script_passes_strict_types(tmp_path: Path) -> None:
    script = tmp_path / "user.py"
    script.write_text(
        textwrap.dedent(
            """
            import faultodds

            solver = faultodds.Solver(faultodds.read_model("model.json"), order_tries=4)
            case = faultodds.Case(solver)
            case.add_finding("low_power", "present")
            case.add_likelihood("gauge", {"low": 0.2, "good": 0.8})
            worst: float = max(case.posterior("pump").values())
            ranking = faultodds.rank_tests(case, means=faultodds.Means(tools=["multimeter"]), by="gain")
            for test in ranking.tests:
                print(test.test, test.gain_bits / test.cost, [outcome.probability for outcome in test.outcomes])
            for explanation in faultodds.explain(case, count=3):
                print(explanation.probability, [fault.component for fault in explanation.faults])
            try:
                case.take_back("pump")
            except faultodds.UnknownName as error:
                print(error.nearest)
            """
        ),
        encoding="utf-8",
    )
    wrong = tmp_path / "wrong.py"
    wrong.write_text(
        "import faultodds\n\n\ndef f(case: faultodds.Case) -> None:\n    case.add_finding(1, True)\n", encoding="utf-8"
    )
    command = [sys.executable, "-m", "mypy", "--strict", "--config-file=", f"--cache-dir={tmp_path}"]
    right = subprocess.run([*command, str(script)], capture_output=True, text=True, check=False, cwd=tmp_path)
    assert right.returncode == 0, right.stdout
    told = subprocess.run([*command, str(wrong)], capture_output=True, text=True, check=False, cwd=tmp_path)
    assert told.stdout.count("[arg-type]") == 2, told.stdout


def test_everything_public_has_a_docstring() -> None:
    for name in faultodds.__all__:
        thing = getattr(faultodds, name)
        if name == "__version__":
            continue
        assert thing.__doc__, name
        if thing in (faultodds.FaultModel, faultodds.Solver, faultodds.Case):
            for member in (member for member in vars(thing) if not member.startswith("_")):
                assert getattr(thing, member).__doc__, f"{name}.{member}"
