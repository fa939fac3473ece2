"""What the extension is made of, without LibreOffice."""

from __future__ import annotations

import json
import re
import struct
import zipfile
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from gasfuncs.hosts import calc
from gasfuncs.hosts.calc import office
from gasfuncs.hosts.calc.extension import arguments_of
from gasfuncs.hosts.calc.type_library import ANY, ROWS, Method, type_library
from gasfuncs.registry import worksheet_functions

NAME = "{http://openoffice.org/2001/registry}name"


@pytest.fixture(scope="module")
def parts(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    path = calc.build(tmp_path_factory.mktemp("built") / "gasfuncs.oxt", python="/a & b/python")
    with zipfile.ZipFile(path) as file:
        return {name: file.read(name) for name in file.namelist()}


def test_every_part_named_by_the_manifest_is_there(parts: dict[str, bytes]) -> None:
    manifest = ElementTree.fromstring(parts["META-INF/manifest.xml"])
    full_path = "{http://openoffice.org/2001/manifest}full-path"
    assert {entry.attrib[full_path] for entry in manifest} <= parts.keys()
    components = ElementTree.fromstring(parts["gasfuncs.components"])
    assert components[0].attrib["uri"] in parts
    assert not [name for name in parts if "pycache" in name]


def test_names_and_help_texts_are_those_of_the_registry(parts: dict[str, bytes]) -> None:
    root = ElementTree.fromstring(parts["CalcAddIns.xcu"])
    functions = root.find(f".//node[@{NAME}='AddInFunctions']")
    assert functions is not None
    nodes = {node.attrib[NAME]: node for node in functions}
    assert list(nodes) == list(worksheet_functions())
    for name, definition in worksheet_functions().items():
        texts = {prop.attrib[NAME]: prop[0].text for prop in nodes[name].iter("prop")}
        assert texts["CompatibilityName"] == name
        arguments = nodes[name].find(f"node[@{NAME}='Parameters']")
        assert arguments is not None
        told = [each.attrib[NAME] for each in arguments]
        assert told == [name for name, _ in arguments_of(definition)]
        fixed = [p.name for p in definition.parameters if not p.variadic]
        assert told[: len(fixed)] == fixed


def test_the_component_is_told_which_python(parts: dict[str, bytes]) -> None:
    settings: dict[str, Any] = json.loads(parts["settings.json"])
    assert settings["command"][0] == "/a & b/python"
    assert settings["service"] == "GASFUNCS"
    assert {"GAS_CHECK", "GAS_UNCERTAINTY", "GAS_WORKING"} == set(settings["variadic"])
    assert b"/a & b/python" in parts["description.txt"]


def test_a_file_that_cannot_be_built_leaves_nothing_behind(tmp_path: Path) -> None:
    target = tmp_path / "taken"
    target.mkdir()
    with pytest.raises(OSError, match="taken"):
        calc.build(target)
    assert list(tmp_path.iterdir()) == [target]


def test_the_type_library_is_laid_out_as_the_format_says() -> None:
    """Against a reader written from LibreOffice's description of the format (unoidl's README)."""
    data = type_library("m", "XI", [Method("F", (("a", ROWS), ("b", ANY))), Method("G", ())])
    assert data[:8] == b"UNOIDL\xff\0"

    def number(at: int) -> int:
        return int(struct.unpack_from("<I", data, at)[0])

    def entries(at: int, count: int) -> dict[str, int]:
        return {
            data[number(at + 8 * i) : data.index(b"\0", number(at + 8 * i))].decode():
            number(at + 8 * i + 4)
            for i in range(count)
        }  # fmt: skip

    def text(at: int) -> tuple[str, int]:
        if number(at) & 0x80000000:
            return text(number(at) & 0x7FFFFFFF)[0], at + 4
        return data[at + 4 : at + 4 + number(at)].decode(), at + 4 + number(at)

    module = entries(number(8), number(12))["m"]
    assert data[module] == 0
    at = entries(module + 5, number(module + 1))["XI"]
    assert data[at] == 5
    base, at = text(at + 5)
    assert base == "com.sun.star.uno.XInterface"
    assert number(at) == number(at + 4) == 0
    methods, at = number(at + 8), at + 12
    found = []
    for _ in range(methods):
        name, at = text(at)
        answer, at = text(at)
        count, at = number(at), at + 4
        arguments = []
        for _ in range(count):
            assert data[at] == 0
            argument, at = text(at + 1)
            kind, at = text(at)
            arguments.append((argument, kind))
        assert number(at) == 0
        at += 4
        found.append((name, answer, arguments))
    assert found == [("F", ROWS, [("a", ROWS), ("b", ANY)]), ("G", ROWS, [])]


@pytest.mark.parametrize(
    ("said", "version"),
    [
        ("LibreOffice 25.2.3.2 520(Build:2)\n", (25, 2)),
        ("LibreOffice 7.4.7.2 40(Build:2)\n", (7, 4)),
        ("something else", None),
    ],
)
def test_the_version_is_read(
    monkeypatch: pytest.MonkeyPatch, said: str, version: tuple[int, int] | None
) -> None:
    monkeypatch.setattr(office, "_output", lambda _: said)
    assert office.office_version(Path("soffice")) == version


def test_an_older_libreoffice_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(office, "_output", lambda _: "LibreOffice 7.4.7.2")
    sentences = office._version_sentences(Path("/usr/bin/soffice"))
    assert any(re.search(r"7\.4 does not find .*\.xlsx.* 25\.2", each) for each in sentences)


def test_without_libreoffice_status_and_install_say_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(office, "_candidates", lambda: iter([Path("/no/such/soffice")]))
    assert calc.status().sentences[0].startswith("LibreOffice was not found; install")
    with pytest.raises(calc.OfficeError, match="not found"):
        calc.install()
