"""Builds the LibreOffice extension (.oxt) from the registry."""

from __future__ import annotations

import hashlib
import json
import os
import sys
import zipfile
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape, quoteattr

import gasfuncs
from gasfuncs.definition import Definition, Parameter
from gasfuncs.definition.terms import Choice, Text
from gasfuncs.files import swapped_in
from gasfuncs.hosts.calc.type_library import ANY, ROWS, Method, type_library
from gasfuncs.registry import worksheet_functions

SERVICE = "GASFUNCS"
"""An .ods file stores GASFUNCS.GAS_DENSITY(...): part of the file format, never to be changed."""

IDENTIFIER = "gasfuncs.calc"
MODULE = "gasfuncs_calc"
"""Of the type library: not a name that LibreOffice's Python could import as a package."""

OPENED = f"{IDENTIFIER}.Opened"
"""The job that is run when a document has been opened."""

INTERFACE = "XFunctions"
TIME_LIMIT = 30.0
"""Seconds after which a call is given up, so that the spreadsheet is not held up for longer."""

ABOUT = "Industrial-gas calculations for vacuum heat treating, as functions of Calc."
RUNS_IN = "Python: "
CONTENT = "Functions: "

CALC_ERRORS = {
    "#NULL!": 521, "#DIV/0!": 532, "#VALUE!": 519, "#REF!": 524, "#NAME?": 525, "#NUM!": 503,
    "#N/A": 32767,
}  # fmt: skip

_INSIDE = Path(__file__).parent / "component"


def build(
    path: str | os.PathLike[str], python: str = sys.executable, time_limit: float = TIME_LIMIT
) -> Path:
    """Write the extension, which will run the library in this Python; returns the file."""
    target = Path(path)
    with swapped_in(target) as aside, zipfile.ZipFile(aside, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in _parts(python, time_limit):
            archive.writestr(name, content)
    return target


def _parts(python: str, time_limit: float) -> Iterable[tuple[str, str | bytes]]:
    definitions = list(worksheet_functions().values())
    yield "META-INF/manifest.xml", _MANIFEST
    yield "description.xml", _DESCRIPTION
    yield "description.txt", f"{ABOUT} {CONTENT}{content()} {RUNS_IN}{_plain_letters(python)}"
    yield "gasfuncs.components", _COMPONENTS
    yield "CalcAddIns.xcu", function_texts(definitions)
    yield "Jobs.xcu", _JOBS
    yield "gasfuncs.rdb", _types(definitions)
    yield "settings.json", json.dumps(settings(definitions, python, time_limit), indent=1)
    for file in sorted(_INSIDE.rglob("*.py")):
        yield file.relative_to(_INSIDE).as_posix(), file.read_bytes()


def _plain_letters(path: str) -> str:
    """A path in letters that every console hands on, others as &#228; by their number."""
    return path.encode("ascii", "xmlcharrefreplace").decode()


def content() -> str:
    """What tells add-ins apart: their functions, arguments and texts, and the code inside."""
    told = function_texts(worksheet_functions().values()).encode()
    inside = b"".join(file.read_bytes() for file in sorted(_INSIDE.rglob("*.py")))
    return hashlib.sha256(told + inside).hexdigest()[:12]


def settings(definitions: Iterable[Definition], python: str, time_limit: float) -> dict[str, Any]:
    """What the component inside LibreOffice must know."""
    definitions = list(definitions)
    worker = [python, "-E", "-P", "-m", "gasfuncs.hosts.calc.worker", f"{time_limit:g}"]
    return {
        "service": SERVICE,
        "implementation": f"{IDENTIFIER}.Functions",
        "opened": OPENED,
        "version": gasfuncs.__version__,
        "command": worker,
        "time_limit": time_limit,
        "errors": CALC_ERRORS,
        "functions": [d.name for d in definitions],
        "variadic": [d.name for d in definitions if _variadic(d)],
        "tells": [d.name for d in definitions if _tells(d)],
    }


def _variadic(definition: Definition) -> bool:
    return bool(definition.parameters) and definition.parameters[-1].variadic


def _tells(definition: Definition) -> bool:
    """Whether the answer is a text, which Calc compares only where it comes as such."""
    return isinstance(definition.result, Text | Choice)


def _types(definitions: Iterable[Definition]) -> bytes:
    methods = [
        Method(
            d.name,
            tuple((name, _type_of(p)) for name, p in arguments_of(d)),
            ANY if _tells(d) else ROWS,
        )
        for d in definitions
    ]
    return type_library(MODULE, INTERFACE, methods)


def arguments_of(definition: Definition) -> Iterator[tuple[str, Parameter]]:
    """The arguments in Calc by name.

    Further arguments are so many optional ones: of a list of them Calc hands over single cells,
    never a range.
    """
    for parameter in definition.parameters:
        if parameter.variadic:
            most = max(len(each.parameters) for each in worksheet_functions().values())
            yield from ((f"{parameter.name}{number}", parameter) for number in range(1, most + 1))
        else:
            yield parameter.name, parameter


def _type_of(parameter: Parameter) -> str:
    """Calc shows `any` as optional and rows as required; both take a single cell and a range."""
    return ROWS if parameter.required else ANY


def function_texts(definitions: Iterable[Definition]) -> str:
    """Names, categories and help texts as Calc's function wizard shows them."""
    nodes = "".join(_function_node(definition) for definition in definitions)
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<oor:component-data xmlns:oor="http://openoffice.org/2001/registry" '
        'xmlns:xs="http://www.w3.org/2001/XMLSchema" '
        'oor:name="CalcAddIns" oor:package="org.openoffice.Office">\n'
        f'<node oor:name="AddInInfo"><node oor:name="{SERVICE}" oor:op="replace">'
        f'<node oor:name="AddInFunctions">\n{nodes}</node></node></node>\n'
        "</oor:component-data>\n"
    )


def _function_node(definition: Definition) -> str:
    properties = (
        _text("DisplayName", definition.name)
        + _text("Description", definition.summary)
        + '<prop oor:name="Category"><value>Add-In</value></prop>'
        + _text("CompatibilityName", definition.name)
    )
    parameters = "".join(
        f'<node oor:name={quoteattr(name)} oor:op="replace">'
        f"{_text('DisplayName', name)}{_text('Description', p.description)}</node>"
        for name, p in arguments_of(definition)
    )
    return (
        f'<node oor:name="{definition.name}" oor:op="replace">{properties}'
        f'<node oor:name="Parameters">{parameters}</node></node>\n'
    )


def _text(name: str, text: str) -> str:
    return f'<prop oor:name="{name}"><value xml:lang="en">{escape(text)}</value></prop>'


_MANIFEST = """\
<?xml version="1.0" encoding="UTF-8"?>
<manifest:manifest xmlns:manifest="http://openoffice.org/2001/manifest">
 <manifest:file-entry manifest:full-path="gasfuncs.rdb"
  manifest:media-type="application/vnd.sun.star.uno-typelibrary;type=RDB"/>
 <manifest:file-entry manifest:full-path="gasfuncs.components"
  manifest:media-type="application/vnd.sun.star.uno-components"/>
 <manifest:file-entry manifest:full-path="CalcAddIns.xcu"
  manifest:media-type="application/vnd.sun.star.configuration-data"/>
 <manifest:file-entry manifest:full-path="Jobs.xcu"
  manifest:media-type="application/vnd.sun.star.configuration-data"/>
</manifest:manifest>
"""

_DESCRIPTION = f"""\
<?xml version="1.0" encoding="UTF-8"?>
<description xmlns="http://openoffice.org/extensions/description/2006"
 xmlns:xlink="http://www.w3.org/1999/xlink">
 <identifier value="{IDENTIFIER}"/>
 <version value="{gasfuncs.__version__}"/>
 <display-name><name lang="en">gasfuncs</name></display-name>
 <extension-description><src lang="en" xlink:href="description.txt"/></extension-description>
</description>
"""

_COMPONENTS = f"""\
<?xml version="1.0" encoding="UTF-8"?>
<components xmlns="http://openoffice.org/2010/uno-components">
 <component loader="com.sun.star.loader.Python" uri="gasfuncs_component.py">
  <implementation name="{IDENTIFIER}.Functions">
   <service name="{SERVICE}"/>
   <service name="com.sun.star.sheet.AddIn"/>
  </implementation>
 </component>
 <component loader="com.sun.star.loader.Python" uri="gasfuncs_opened.py">
  <implementation name="{OPENED}">
   <service name="com.sun.star.task.Job"/>
  </implementation>
 </component>
</components>
"""

_JOBS = f"""\
<?xml version="1.0" encoding="UTF-8"?>
<oor:component-data xmlns:oor="http://openoffice.org/2001/registry"
 xmlns:xs="http://www.w3.org/2001/XMLSchema" oor:name="Jobs" oor:package="org.openoffice.Office">
 <node oor:name="Jobs">
  <node oor:name="{OPENED}" oor:op="replace">
   <prop oor:name="Service"><value>{OPENED}</value></prop>
   <prop oor:name="Context"><value>com.sun.star.sheet.SpreadsheetDocument</value></prop>
  </node>
 </node>
 <node oor:name="Events">
  <node oor:name="OnLoad" oor:op="fuse">
   <node oor:name="JobList"><node oor:name="{OPENED}" oor:op="replace"/></node>
  </node>
 </node>
</oor:component-data>
"""
