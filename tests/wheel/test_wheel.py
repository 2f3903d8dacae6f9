"""The program works from its wheel, installed elsewhere with nothing but what it says it needs."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import venv
import zipfile
from email.parser import Parser
from importlib.metadata import Distribution, distribution
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet

from stanchion import __version__

ROOT = Path(__file__).parents[2]
SHIPPED = {f"stanchion/{path.parent.name}/{path.name}" for path in ROOT.glob("themes/*.toml")} | {
    f"stanchion/{path.parent.name}/{path.name}" for path in ROOT.glob("sample_jobs/*.toml")
}


def run(*command: object, cwd: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "STANCHION", "VIRTUAL"))}
    return subprocess.run(
        [str(part) for part in command],
        cwd=cwd,
        env=kept | environment,
        capture_output=True,
        text=True,
        stdin=subprocess.DEVNULL,
        timeout=120,
        check=False,
    )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from the source distribution as an index would."""
    out = tmp_path_factory.mktemp("dist")
    built = run(sys.executable, "-m", "build", "--no-isolation", "--outdir", out, ROOT, cwd=out)
    assert built.returncode == 0, built.stdout + built.stderr
    (found,) = out.glob("*.whl")
    return found


def needed(name: str) -> dict[str, Distribution]:
    """What a distribution needs at run time, and what that needs, by name."""
    found: dict[str, Distribution] = {}
    waiting = [Requirement(text) for text in distribution(name).requires or ()]
    while waiting:
        requirement = waiting.pop()
        if requirement.name in found or (requirement.marker and not requirement.marker.evaluate({"extra": ""})):
            continue
        found[requirement.name] = distribution(requirement.name)
        waiting += [Requirement(text) for text in found[requirement.name].requires or ()]
        for extra in requirement.extras:
            waiting += [
                inner
                for inner in map(Requirement, found[requirement.name].requires or ())
                if inner.marker and inner.marker.evaluate({"extra": extra})
            ]
    return found


def lend(what: Distribution, site_packages: Path) -> None:
    """Link an installed distribution into another environment: no network is needed, nothing else comes along."""
    tops = {file.parts[0] for file in what.files or () if file.parts[0] not in ("..", "__pycache__")}
    for top in tops:
        link = site_packages / top
        if not link.exists():
            link.symlink_to(Path(str(what.locate_file(top))))


@pytest.fixture(scope="module")
def clean(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of commands of an environment that holds the wheel and what it needs, and no more."""
    place = tmp_path_factory.mktemp("clean")
    venv.create(place, with_pip=False, symlinks=True)
    python = place / "bin" / "python"
    asked = run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=place)
    site_packages = Path(asked.stdout.strip())
    assert site_packages.is_relative_to(place)
    options = ("--no-deps", "--no-index", "--no-compile", "--disable-pip-version-check")
    put_in = run(sys.executable, "-m", "pip", "--python", python, "install", *options, wheel, cwd=place)
    assert put_in.returncode == 0, put_in.stdout + put_in.stderr
    for what in needed("stanchion").values():
        lend(what, site_packages)
    return python.parent


def test_themes_and_sample_jobs_are_in_the_wheel(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = set(archive.namelist())
    assert SHIPPED
    assert SHIPPED - names == set()


def test_the_wheel_holds_the_package_alone(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        tops = {name.partition("/")[0] for name in archive.namelist()}
    assert tops == {"stanchion", f"stanchion-{__version__}.dist-info"}


def test_the_metadata_name_licence_words_to_find_it_by_and_every_python_that_is_tested(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        metadata = Parser().parsestr(archive.read(f"stanchion-{__version__}.dist-info/METADATA").decode())
    assert metadata["License-Expression"] == "MIT"
    assert metadata["Keywords"]
    assert metadata.get_all("Project-URL") is None
    pythons = {f"3.{minor}" for minor in range(30) if f"3.{minor}" in SpecifierSet(metadata["Requires-Python"])}
    named = {line.rpartition(" ")[2] for line in metadata.get_all("Classifier", []) if "Python :: 3." in line}
    assert named == {"3.11", "3.12", "3.13"}
    assert named <= pythons
    readme = (ROOT / "README.md").read_text("utf-8")
    assert all(re.search(rf"(?<![\d.]){re.escape(python)}(?![\d.])", readme) for python in named)


def test_every_package_it_needs_has_a_lowest_and_a_highest_version(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        metadata = Parser().parsestr(archive.read(f"stanchion-{__version__}.dist-info/METADATA").decode())
    needed_to_run = [need for text in metadata.get_all("Requires-Dist", []) if not (need := Requirement(text)).marker]
    assert {need.name for need in needed_to_run} == {"textual", "pint", "tomli-w", "platformdirs"}
    for need in needed_to_run:
        assert {bound.operator for bound in need.specifier} == {">=", "<"}, need


def test_every_file_of_the_package_is_in_the_wheel(wheel: Path) -> None:
    package = ROOT / "src"
    there = {
        path.relative_to(package).as_posix()
        for path in (package / "stanchion").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    with zipfile.ZipFile(wheel) as archive:
        assert there - set(archive.namelist()) == set()


def test_installed_elsewhere_it_is_its_own_copy_that_runs(clean: Path, tmp_path: Path) -> None:
    program = (
        "import stanchion, sys; from stanchion.ui.theme import Themes; from stanchion.store.samples import samples; "
    )
    program += "print(stanchion.__file__, len(Themes(None).names), len(samples()), 'pytest' in sys.modules)"
    ran = run(clean / "python", "-c", program, cwd=tmp_path)
    assert ran.stderr == ""
    where, themes, jobs, _ = ran.stdout.split()
    assert Path(where).is_relative_to(clean.parent)
    assert int(themes) == len(list(ROOT.glob("themes/*.toml")))
    assert int(jobs) == len(list(ROOT.glob("sample_jobs/*.toml")))


def test_installed_elsewhere_it_says_its_version(clean: Path, tmp_path: Path) -> None:
    ran = run(clean / "stanchion", "--version", cwd=tmp_path, STANCHION_HOME=str(tmp_path / "home"))
    assert (ran.returncode, ran.stderr) == (0, "")
    assert __version__ in ran.stdout


def test_installed_elsewhere_it_checks_a_sample_job(clean: Path, tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_bytes((ROOT / "sample_jobs" / "well_set.toml").read_bytes())
    ran = run(clean / "stanchion", "check", "mine.toml", cwd=tmp_path, STANCHION_HOME=str(tmp_path / "home"))
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "12" in ran.stdout  # the installed preload of its fork, mm
