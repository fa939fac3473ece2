"""The add-in in a LibreOffice that a user works in: help texts, blanks, failures, installing."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import gasfuncs
from gasfuncs.hosts import calc
from gasfuncs.hosts.calc.extension import arguments_of
from gasfuncs.hosts.calc.refusals import Refusals, latest
from gasfuncs.hosts.status import DRY_RUN
from gasfuncs.registry import worksheet_functions
from tests.calc import office
from tests.calc.test_pipe import ends

pytestmark = office.needs_office

LIMIT = 2.0
NOT_AVAILABLE = "error 32767"


def test_the_function_wizard_shows_every_function_and_its_help() -> None:
    shown = office.played("wizard")
    assert shown.keys() == worksheet_functions().keys()
    for name, definition in worksheet_functions().items():
        assert shown[name]["summary"] == definition.summary
        assert shown[name]["arguments"] == [
            [name, p.description, not p.required] for name, p in arguments_of(definition)
        ]


def same_as_python(name: str, *arguments: Any) -> Callable[[Any], bool]:
    wanted = worksheet_functions()[name](*arguments)
    return lambda shown: math.isclose(shown, wanted, rel_tol=1e-9)


CELLS: dict[str, Any] = {
    # optional arguments: left out, skipped, and a unit
    '=GAS_DENSITY("argon";2;20)': same_as_python("GAS_DENSITY", "argon", 2, 20),
    '=GAS_DENSITY("argon";2;20;)': same_as_python("GAS_DENSITY", "argon", 2, 20),
    '=GAS_DENSITY("argon";"80 psig";20;"lb/ft3")': same_as_python(
        "GAS_DENSITY", "argon", "80 psig", 20, "lb/ft3"
    ),
    # a blank cell is a blank text; for a number it is 0 unless a range or IF makes it a blank
    '=GAS_DENSITY("argon";2;20;Z9)': same_as_python("GAS_DENSITY", "argon", 2, 20),
    '=GAS_EXPANSION("argon";Z9:Z9)': same_as_python("GAS_EXPANSION", "argon"),
    '=GAS_EXPANSION("argon";IF(Z9="";"";Z9))': same_as_python("GAS_EXPANSION", "argon"),
    '=GAS_EXPANSION("argon";Z9)': "error 503".__eq__,
    '=GAS_DENSITY("argon";2;Z9)': same_as_python("GAS_DENSITY", "argon", 2, 0),
    # errors: too few and too many arguments, and one that comes in
    '=GAS_DENSITY("argon";2)': "error 504".__eq__,
    '=GAS_DENSITY("argon";"6 bar";20)': "error 519".__eq__,
    '=GAS_DENSITY("argon";-1;20)': "error 503".__eq__,
    '=GAS_DENSITY("argon";NA();20)': NOT_AVAILABLE.__eq__,
    '=IFERROR(GAS_DENSITY("argon";"6 bar";20);"caught")': "caught".__eq__,
    # inside other formulas
    '=SUM(GAS_DENSITY("argon";{2|3};20))': lambda shown: math.isclose(
        shown, sum(worksheet_functions()["GAS_DENSITY"]("argon", p, 20) for p in (2, 3))
    ),
    '=IF(GAS_DENSITY("argon";2;20)>3;"heavy";"light")': "heavy".__eq__,
    '="is "&GAS_CHECK("GAS_DENSITY";"argon";2;20)': "is ok".__eq__,
    '=GAS_CHECK("GAS_DENSITY";"argon";"6 bar";20)': lambda shown: "bar(a) or bar(g)" in shown,
    '=GAS_CHECK("GAS_DENSITY";"argon";2;20;Z9)': "ok".__eq__,
    # a verdict is compared; several at once are refused, as Calc would compare none of them
    '=IF(GAS_CONFORMS(1;0.05;2)="yes";"signed";"not")': "signed".__eq__,
    "=GAS_CONFORMS({1|3};0.05;2)": "error 519".__eq__,
    # ranges reach a function that is named by its text
    '=GAS_CHECK("GAS_DENSITY";"argon";{1|-2};20)': lambda shown: "row 2: pressure" in shown,
    '=INDEX(GAS_UNCERTAINTY("GAS_CONTENTS";{"";"u 3 %"};"argon";{2|2|2};2;20);5;1)': "sum".__eq__,
    '=INDEX(GAS_UNCERTAINTY("GAS_CONTENTS";{"";"u 3 %"};"argon";2;2;Z9);5;2)': "volume".__eq__,
    '=INDEX(GAS_WORKING("GAS_DENSITY";"argon";2;20);1;1)': "Part".__eq__,
    '=INDEX(GAS_WORKING("GAS_DENSITY";"argon";2;20);3;2)': (
        worksheet_functions()["GAS_DENSITY"].equation.__eq__
    ),
    "=ROWS(GAS_LIST())": float(len(worksheet_functions()) + 1).__eq__,
}  # fmt: skip


def test_cells_show_what_the_functions_answer() -> None:
    shown = dict(zip(CELLS, office.played("cells", *CELLS), strict=True))
    wrong = {formula: shown[formula] for formula in CELLS if not CELLS[formula](shown[formula])}
    assert not wrong


def test_a_worker_killed_costs_no_cell_and_one_hung_a_single_one() -> None:
    profile = office.new_profile("impatient")
    calc.install(profile=profile, time_limit=LIMIT)
    found = office.played("failures", profile=profile)
    assert found["hung"] == NOT_AVAILABLE
    assert found["hung, seconds"] < 2 * LIMIT
    for what, pressure in (
        ("at first", 1),
        ("killed", 2),
        ("after the kill", 3),
        ("after the hang", 5),
    ):
        assert same_as_python("GAS_DENSITY", "argon", pressure, 20)(float(found[what]))
    assert found["restarts"] == 2
    assert found["a native formula"] == "2"
    assert ends(found["worker"], 5)


@pytest.mark.parametrize(
    ("python", "says"),
    [("/no/such/python", "No such file"), ("/usr/bin/python3", "No module named 'gasfuncs'")],
)
def test_a_broken_installation_leaves_the_spreadsheet_usable(python: str, says: str) -> None:
    profile = office.new_profile(python.replace("/", "_"))
    calc.install(python=python, profile=profile)
    found = office.played("broken", profile=profile)
    assert found["cells"] == [NOT_AVAILABLE]
    assert says in found["check"]
    assert f"{python}, does not answer" in found["check"]
    assert found["a native formula"] == "2"


def test_install_status_and_uninstall_say_what_they_did() -> None:
    profile = office.new_profile("to_install")
    assert calc.install(profile=profile, dry_run=True)[0] == DRY_RUN
    before = calc.status(profile)
    assert not before.ready
    assert "not installed" in before.sentences[-1]
    assert sys.executable in " ".join(calc.install(profile=profile))
    assert calc.uninstall(profile, dry_run=True)[0] == DRY_RUN
    after = calc.status(profile)
    assert after.ready, after.sentences
    assert sys.executable in " ".join(after.sentences)
    assert "Took the add-in out" in calc.uninstall(profile)[0]
    assert calc.status(profile) == before
    assert "was not in LibreOffice" in calc.uninstall(profile)[0]


def test_an_extension_manager_that_waits_for_libreoffice_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("gasfuncs.hosts.calc.office.PATIENCE", 0.001)
    with pytest.raises(calc.OfficeError, match="close LibreOffice in all its windows"):
        calc.uninstall(office.new_profile("waiting"))


def test_a_damaged_profile_is_told_and_what_to_do(tmp_path: Path) -> None:
    (tmp_path / "user").mkdir()
    (tmp_path / "user/uno_packages").write_text("no folder")
    status = calc.status(tmp_path)
    assert not status.ready
    assert "unopkg list failed" in status.sentences[-1]
    assert "see that you may write there" in status.sentences[-1]
    with pytest.raises(calc.OfficeError, match="Restart in Safe Mode"):
        calc.install(profile=tmp_path)


def problem(profile: Path) -> str:
    return next(each for each in calc.status(profile).sentences if "gasfuncs install calc" in each)


def test_status_notices_another_version_other_functions_and_a_python_that_does_not_do(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    profile = office.new_profile("outdated")
    calc.install(python="/no/100% süch (x86)/python", profile=profile)
    assert "/no/100% süch (x86)/python, which is gone" in problem(profile)
    calc.install(python="/usr/bin/python3", profile=profile)
    assert "/usr/bin/python3, which lacks gasfuncs" in problem(profile)
    monkeypatch.setattr("gasfuncs.hosts.calc.office.content", lambda: "0123456789ab")
    assert "has other functions than this gasfuncs" in problem(profile)
    monkeypatch.setattr(gasfuncs, "__version__", "99")
    assert "another version than 99" in problem(profile)


def test_the_log_tells_each_refusal_once(tmp_path: Path) -> None:
    file = tmp_path / "logs" / "calc.log"
    refusals = Refusals(file)
    for _ in range(2):
        refusals.tell("GAS_DENSITY", ["argon", "6 bar", None], "pressure: which?")
    refusals.tell("GAS_DENSITY", [[["argon"]], 1.0], "another")
    first, second = latest(9, file)
    assert first.endswith('  GAS_DENSITY("argon", "6 bar", ): pressure: which?')
    assert second.endswith("  GAS_DENSITY(1 rows, 1.0): another")
    Refusals(tmp_path).tell("GAS_DENSITY", [], "a folder is no file")
