"""The least that a Python add-in function can do over a pipe: the yardstick of calc_speed.py."""

# mypy: ignore-errors
# ruff: noqa: ANN001, ANN002, ANN201, ANN204, N802, N816
# LibreOffice names these modules and methods; no type stubs exist for them.

import json
import os
import subprocess

import unohelper
from com.sun.star.lang import Locale, XLocalizable, XServiceInfo, XServiceName
from gasbench import XFunctions

WORKER = """
import json, sys
for line in sys.stdin:
    function, [first, second] = json.loads(line)
    print(json.dumps(first[0][0] + second[0][0]), flush=True)
"""
SERVICES = ("GASBENCH", "com.sun.star.sheet.AddIn")

with open(os.path.join(os.path.dirname(__file__), "python.txt"), encoding="utf-8") as file:
    PYTHON = file.read()


class Functions(unohelper.Base, XFunctions, XServiceInfo, XServiceName, XLocalizable):
    """One function, BENCH_ADD."""

    def __init__(self, _context):
        self.locale = Locale("en", "US", "")
        self.worker = subprocess.Popen(
            [PYTHON, "-I", "-c", WORKER], stdin=subprocess.PIPE, stdout=subprocess.PIPE
        )

    def BENCH_ADD(self, *arguments):
        self.worker.stdin.write(json.dumps(["BENCH_ADD", arguments]).encode() + b"\n")
        self.worker.stdin.flush()
        return ((json.loads(self.worker.stdout.readline()),),)

    def getServiceName(self):
        return SERVICES[0]

    def getImplementationName(self):
        return "gasbench.Functions"

    def supportsService(self, name):
        return name in SERVICES

    def getSupportedServiceNames(self):
        return SERVICES

    def setLocale(self, locale):
        self.locale = locale

    def getLocale(self):
        return self.locale


g_ImplementationHelper = unohelper.ImplementationHelper()
g_ImplementationHelper.addImplementation(Functions, "gasbench.Functions", SERVICES)
