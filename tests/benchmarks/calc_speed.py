"""Speed of the functions in LibreOffice Calc, side by side with the least that a pipe can do.

    python -m tests.benchmarks.calc_speed

In one run of LibreOffice: 10,000 cells that each call a function, 10,000 cells that each call a
trivial Python add-in function through the same kind of pipe, and one array call over 10,000 rows.
The temperature they all depend on changes between rounds, so that no answer comes from a cache.
Ends with 1 where a goal is missed.
"""

# ruff: noqa: T201

from __future__ import annotations

import json
import sys
import tempfile
import zipfile
from pathlib import Path

from gasfuncs.hosts import calc
from gasfuncs.hosts.calc.office import extension_manager, find_office
from gasfuncs.hosts.calc.type_library import ROWS, Method, type_library
from tests.calc.office import new_profile, python_with_uno, run

MOST_TIMES = 2.0
MOST_SECONDS = 0.3


def trivial_add_in(path: Path) -> None:
    """Write the yardstick as an extension."""
    function = Method("BENCH_ADD", (("first", ROWS), ("second", ROWS)))
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("META-INF/manifest.xml", MANIFEST)
        archive.writestr("description.xml", DESCRIPTION)
        archive.writestr("gasbench.components", COMPONENTS)
        archive.writestr("CalcAddIns.xcu", TEXTS)
        archive.writestr("gasbench.rdb", type_library("gasbench", "XFunctions", [function]))
        archive.writestr("python.txt", sys.executable)
        archive.write(Path(__file__).with_name("trivial_component.py"), "trivial_component.py")


MANIFEST = """\
<manifest:manifest xmlns:manifest="http://openoffice.org/2001/manifest">
 <manifest:file-entry manifest:full-path="gasbench.rdb"
  manifest:media-type="application/vnd.sun.star.uno-typelibrary;type=RDB"/>
 <manifest:file-entry manifest:full-path="gasbench.components"
  manifest:media-type="application/vnd.sun.star.uno-components"/>
 <manifest:file-entry manifest:full-path="CalcAddIns.xcu"
  manifest:media-type="application/vnd.sun.star.configuration-data"/>
</manifest:manifest>
"""
DESCRIPTION = """\
<description xmlns="http://openoffice.org/extensions/description/2006">
 <identifier value="gasbench"/><version value="1"/>
</description>
"""
COMPONENTS = """\
<components xmlns="http://openoffice.org/2010/uno-components">
 <component loader="com.sun.star.loader.Python" uri="trivial_component.py">
  <implementation name="gasbench.Functions">
   <service name="GASBENCH"/><service name="com.sun.star.sheet.AddIn"/>
  </implementation>
 </component>
</components>
"""
TEXTS = """\
<oor:component-data xmlns:oor="http://openoffice.org/2001/registry"
 oor:name="CalcAddIns" oor:package="org.openoffice.Office">
 <node oor:name="AddInInfo"><node oor:name="GASBENCH" oor:op="replace">
  <node oor:name="AddInFunctions"><node oor:name="BENCH_ADD" oor:op="replace">
   <prop oor:name="DisplayName"><value xml:lang="en">BENCH_ADD</value></prop>
  </node></node>
 </node></node>
</oor:component-data>
"""


def main() -> int:
    """Measure, print, and judge against the goals."""
    office, python = find_office(), python_with_uno()
    if office is None or python is None:
        print("needs LibreOffice and python3-uno")
        return 0
    profile = new_profile("speed")
    calc.install(profile=profile)
    with tempfile.TemporaryDirectory() as folder:
        yardstick = Path(folder) / "gasbench.oxt"
        trivial_add_in(yardstick)
        extension_manager(office, ["add", "--force", "--suppress-license", str(yardstick)], profile)
    scenarios = Path(__file__).parents[1] / "calc" / "scenarios.py"
    found = json.loads(run([python, str(scenarios), str(office), profile.as_uri(), "speed"], 300))
    trivial = found["BENCH_ADD, 10,000 cells"]
    for what, seconds in found.items():
        times = f"{seconds / trivial:5.2f} times the trivial function" if "cells" in what else ""
        print(f"{what:40}{seconds:8.3f} s  {times}")
    met = (
        all(found[what] <= MOST_TIMES * trivial for what in found if "cells" in what)
        and found["GAS_DENSITY, one array of 10,000 rows"] <= MOST_SECONDS
    )
    print("goals met" if met else f"goals missed: {MOST_TIMES:g} times, {MOST_SECONDS:g} s")
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
